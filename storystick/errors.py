"""The one family of faults that a user can mend; anything else is a bug and keeps its traceback.

A fault's sentence is complete without a full stop: what was read and is allowed, then what to try. The place is added
from inside out as the fault passes up, in words and in steps: no place is ever found again from its words.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import Final, TypeAlias

_LONGEST_QUOTE: Final = 80

Steps: TypeAlias = tuple[str | int, ...]
"""From the outermost table of a file to a place in it: keys, and in lists numbers from 0."""


class Where(str):
    """A place as a message names it, and the ``steps`` that lead to it; none for a place that is in no file.

    The steps begin where the thing that encloses it ends, and in the end with the outermost table of ``file``, which
    is empty as long as that is not known. A place of a file that a file names, a cell of a spreadsheet, has its own
    ``inside``.
    """

    __slots__ = ("file", "inside", "steps")
    steps: Steps
    file: str
    inside: Where | None

    def __new__(cls, words: str = "", steps: Steps = (), file: str = "", inside: Where | None = None) -> Where:
        self = super().__new__(cls, words)
        self.steps, self.file, self.inside = steps, file, inside
        return self

    @classmethod
    def of(cls, where: str) -> Where:
        """The place of a key by its name, or a place as it is."""
        return where if isinstance(where, Where) else cls(where, (where,) if where else ())

    @classmethod
    def keys(cls, *keys: str) -> Where:
        """A key, in the table of a key, and so on from the outer one."""
        return cls(", ".join(keys), keys)

    @classmethod
    def unsaid(cls, *steps: str | int) -> Where:
        """A place that the message does not name."""
        return cls("", steps)

    @classmethod
    def in_file(cls, name: str, *steps: str) -> Where:
        """A file as a whole, or the place of a key in it."""
        return cls(", ".join((name, *steps)), steps, name)

    def holding(self, inner: Where) -> Where:
        """The place that is called ``inner`` here."""
        words = ", ".join(filter(None, (str(self), str(inner))))
        if inner.file:
            return Where(words, self.steps, self.file, inner)
        return Where(words, self.steps + inner.steps, self.file, inner.inside)


class StorystickError(Exception):
    """What the user can mend: one fault, or every fault of a file.

    ``faults`` holds them one by one, in the order in which they were found.
    """

    @property
    def faults(self) -> tuple[Fault, ...]:
        raise NotImplementedError


class Fault(StorystickError):
    """One thing to mend: ``where`` it stands, ``what`` was read and is allowed, and the ``cure`` to try.

    Each sentence is complete, without a full stop at its end. A ``where`` in words alone is a key of the table that is
    read.
    """

    def __init__(self, what: str, cure: str = "", where: str = "") -> None:
        super().__init__(what, cure, where)
        self.what = what
        self.cure = cure
        self.where = Where.of(where)

    @property
    def steps(self) -> Steps:
        """The steps to its place, in its file."""
        return self.where.steps

    @property
    def file(self) -> str:
        """The bare name of the file that it is in, empty where it is in none; for a spreadsheet, the job file."""
        return self.where.file

    @property
    def faults(self) -> tuple[Fault, ...]:
        return (self,)

    def at(self, where: str) -> Fault:
        """The same fault, with the place that encloses it named in front."""
        return Fault(self.what, self.cure, Where.of(where).holding(self.where))

    @property
    def sentence(self) -> str:
        """What is told of it beside its place."""
        return f"{self.what}; {self.cure}." if self.cure else f"{self.what}."

    def __str__(self) -> str:
        return f"{self.where}: {self.sentence}" if self.where else self.sentence


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
