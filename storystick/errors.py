"""The one family of faults that a user can mend; anything else is a bug and keeps its traceback.

A fault's sentence is complete without a full stop: what was read and is allowed, then what to try. The place is added
from inside out as the fault passes up.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import Final

_LONGEST_QUOTE: Final = 80


class StorystickError(Exception):
    """What the user can mend: one fault, or every fault of a file.

    ``faults`` holds them one by one, in the order in which they were found.
    """

    @property
    def faults(self) -> tuple[Fault, ...]:
        raise NotImplementedError


class Fault(StorystickError):
    """One thing to mend: ``where`` it stands, ``what`` was read and is allowed, and the ``cure`` to try.

    Each sentence is complete, without a full stop at its end.
    """

    def __init__(self, what: str, cure: str = "", where: str = "") -> None:
        super().__init__(what, cure, where)
        self.what = what
        self.cure = cure
        self.where = where

    @property
    def faults(self) -> tuple[Fault, ...]:
        return (self,)

    def at(self, where: str) -> Fault:
        """The same fault, with the place that encloses it named in front."""
        return Fault(self.what, self.cure, ", ".join(filter(None, (where, self.where))))

    def __str__(self) -> str:
        place = f"{self.where}: " if self.where else ""
        cure = f"; {self.cure}" if self.cure else ""
        return f"{place}{self.what}{cure}."


class Faults(StorystickError):
    """Every fault of a file at once."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self._faults = tuple(faults)
        super().__init__(self._faults)

    @property
    def faults(self) -> tuple[Fault, ...]:
        return self._faults

    def __str__(self) -> str:
        return "\n".join(map(str, self._faults))


@contextmanager
def placed_in(where: str) -> Iterator[None]:
    """Let every fault raised inside go on with ``where`` in front of its place."""
    try:
        yield
    except StorystickError as error:
        raise Faults(fault.at(where) for fault in error.faults) from None


class FaultCollector:
    """Goes on after a fault, so that a file's faults are reported all at once."""

    def __init__(self) -> None:
        self.faults: list[Fault] = []

    @contextmanager
    def at(self, where: str = "") -> Iterator[None]:
        """Keep any fault raised inside, with ``where`` in front of its place, and go on after the block."""
        try:
            yield
        except StorystickError as error:
            self.faults.extend(fault.at(where) for fault in error.faults)

    def add(self, *faults: Fault) -> None:
        """Keep faults."""
        self.faults.extend(faults)

    def raise_any(self) -> None:
        """Raise :class:`Faults` if anything was kept; what was found in two ways is told once."""
        if self.faults:
            raise Faults(self.each_once())

    def each_once(self) -> tuple[Fault, ...]:
        """What was kept; what was found in two ways is told once."""
        return tuple({str(fault): fault for fault in self.faults}.values())


def as_written(value: object) -> str:
    """A value of a file in the words of a message, short enough to stand in a sentence."""
    match value:
        case str():
            text = " ".join(value.split()) or value[:1]
            return f'"{text}"' if len(text) <= _LONGEST_QUOTE else f'"{text[:_LONGEST_QUOTE]}…"'
        case bool():
            return str(value).lower()
        case dict():
            return "a table"
        case list():
            return "a list"
        case int() if abs(value) > 10**_LONGEST_QUOTE:
            return "a very large number"
    return str(value) if len(str(value)) <= _LONGEST_QUOTE else f"{str(value)[:_LONGEST_QUOTE]}…"
