"""Tables that are like another of their kind, with changes: what one does not say itself is as in that other."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Final

from storystick.errors import Fault, Faults, StorystickError, as_written
from storystick.job.other_words import unknown

LIKE: Final = "like"


@dataclass(frozen=True, slots=True)
class Likeness:
    """The tables of one kind by their ``names``, which may be like each other where they have keys of their ``own``.

    A key is taken over whole, but for those. Of each of ``together`` a table that has one key itself takes over none.
    Faults of what was taken over are ``told`` where it was written.
    """

    word: str
    names: Sequence[str]
    values: Sequence[object]
    own: Collection[str]
    together: Sequence[Collection[str]]
    told: dict[str, frozenset[str]] = field(default_factory=dict)

    def whole(self, number: int, below: tuple[int, ...] = ()) -> object:
        """The table of a number, from 0, with all that it takes over; ``below`` are those that are like it.

        Raises:
            Fault: it is like a table that is not there, or like itself.
        """
        value = self.values[number]
        if not self.own or not isinstance(value, Mapping) or LIKE not in value:
            return value
        name = value[LIKE]
        if not isinstance(name, str) or name.strip() not in self.names:
            others = [each for each in self.names if each != self.names[number]]
            raise unknown(name, f"another {self.word} of this job", others).at(LIKE)
        other = self.names.index(name.strip())
        if other in (number, *below):
            raise Fault(f"{as_written(name)} is like this {self.word} itself", "let one of them say all its keys", LIKE)
        taken = self.whole(other, (number, *below))
        return {**self._taken_over(taken, value), **value} if isinstance(taken, Mapping) else value

    def _taken_over(self, other: Mapping[str, object], value: Mapping[str, object]) -> dict[str, object]:
        kept_out = {LIKE, *self.own}
        for keys in self.together:
            if any(key in value for key in keys):
                kept_out.update(keys)
        return {key: taken for key, taken in other.items() if key not in kept_out}

    @contextmanager
    def reading(self, number: int) -> Iterator[None]:
        """Let those faults pass on that were not told where they were written.

        Raises:
            Faults: the others.
        """
        try:
            yield
        except StorystickError as error:
            before = self._before(number)
            self.told[self.names[number]] = frozenset(map(str, error.faults))
            raise Faults(fault for fault in error.faults if str(fault) not in before) from None

    def _before(self, number: int) -> frozenset[str]:
        value = self.values[number]
        name = value.get(LIKE) if isinstance(value, Mapping) else None
        return self.told.get(name.strip(), frozenset()) if isinstance(name, str) else frozenset()
