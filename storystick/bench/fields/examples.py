"""What a new thing begins with: the examples of the declared keys, in the units and by the names of the file."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any, Final

from storystick.bench.declared import best_table, entry_of, parts
from storystick.bench.fields.shapes import names_one_of
from storystick.errors import StorystickError
from storystick.job.key_reference import as_toml
from storystick.job.keys import Key, TableOf
from storystick.job.kinds import Kind
from storystick.lengths import Units, read_distance

_LENGTHS: Final = ("size", "distance", "clear")
_ONCE: Final = "cabinet"
"""What is made once where nothing else is said, so that it stands in one place."""

_HAS_UNIT: Final = re.compile(r"[a-z]", re.I)
_STEPS_MM: Final = ((1, "1/10"), (20, "1"), (1000, "5"), (100000, "10"))
"""Below so many mm a length is written to such a step: as a person would, who does not think in inches."""


def typed_as(value: object) -> str:
    """A value of a file as a person types it."""
    return value if isinstance(value, str) else as_toml(value)


@dataclass(frozen=True, slots=True)
class Usual:
    """The ``units`` of a file and the names that it has, by their words."""

    units: Units
    named: Mapping[str, list[str]]

    def first_without(self, said: object) -> Usual:
        """What is usual, where cabinets that a list says already come after those that it does not."""
        entries = said if isinstance(said, list) else []
        taken = [each.get(_ONCE) for each in entries if isinstance(each, dict)]
        names = sorted(self.named.get(_ONCE, []), key=lambda name: name in taken)
        return replace(self, named={**self.named, _ONCE: names})

    def example(self, key: Key) -> str:
        """An example of a plain value; empty where a table or a list is the example, or one of the file's names."""
        value = self.adapted(key.example, key.kind)
        is_name = any(map(names_one_of, parts(key.kind)))
        return "" if isinstance(value, dict | list) or is_name else typed_as(value)

    def begin(self, key: Key) -> object:
        """What a key begins with."""
        return self.adapted(key.example, key.kind)

    def begin_table(self, of: TableOf[Any]) -> dict[str, object]:
        """What a table begins with: the keys that it needs."""
        return {name: self.begin(key) for name, key in of.keys.items() if key.is_needed}

    def adapted(self, value: object, shape: object) -> object:
        """An example, with lengths in the units of the file and with names that it has."""
        match value:
            case dict() if of := best_table(shape, value):
                return {name: self.adapted(said, of.keys[name].kind) for name, said in value.items() if name in of.keys}
            case list():
                return [self.adapted(each, entry_of(shape)) for each in value]
            case str():
                return self._plain(value, [part for part in parts(shape) if isinstance(part, Kind)])
        return value

    def _plain(self, value: str, kinds: list[Kind[Any]]) -> str:
        for word in filter(None, map(names_one_of, kinds)):
            names = self.named.get(word, [])
            return value if value in names or not names else names[0]
        if any(kind.called in _LENGTHS or kind.names for kind in kinds):
            return self._length(value)
        return value

    def _length(self, value: str) -> str:
        if self.units is Units.INCH or _HAS_UNIT.search(value):
            return value
        try:
            size = read_distance(value, Units.INCH)
        except StorystickError:
            return value
        return _in_mm(size)

    def free_name(self, word: str) -> str:
        """A name that nothing has yet."""
        taken = set(self.named.get(word, ()))
        numbers = (number for number in range(1, len(taken) + 2))
        return next(name for number in numbers if (name := f"{word} {number}") not in taken)


def _in_mm(size: Fraction) -> str:
    step = next(Fraction(step) for most, step in _STEPS_MM if size < most)
    rounded = round(size / step) * step
    return str(rounded.numerator) if rounded.denominator == 1 else str(float(rounded))
