"""What a new thing begins with: the examples of the declared keys, in the units and by the names of the file."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
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
_RABBET: Final = "rabbet_width"
_HAS_UNIT: Final = re.compile(r"[a-z]", re.I)
_STEPS_MM: Final = ((1, "1/10"), (20, "1"), (1000, "5"), (100000, "10"))
"""Below so many mm a length is written to such a step: as a person would, who does not think in inches."""


def typed_as(value: object) -> str:
    """A value of a file as a person types it."""
    return value if isinstance(value, str) else as_toml(value)


@dataclass(frozen=True, slots=True)
class Usual:
    """The ``units`` of a file and the names that it has, by their words.

    ``stocks`` are the thicknesses of its stocks.
    """

    units: Units
    named: Mapping[str, list[str]]
    stocks: Mapping[str, str] = field(default_factory=dict)

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
                keys = {name: self.adapted(said, of.keys[name].kind) for name, said in value.items() if name in of.keys}
                return self._taking(keys, value) if _RABBET in keys else keys
            case list():
                return self._names(value, entry_of(shape)) or [self.adapted(each, entry_of(shape)) for each in value]
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

    def _names(self, value: Sequence[object], entry: object) -> list[str]:
        """As many different names of the file as an example has."""
        words = (part.names for part in parts(entry) if isinstance(part, Kind) and part.names)
        return [name for word in words for name in self.named.get(word, ())][: len(value)]

    def _taking(self, said: dict[str, object], example: Mapping[str, object]) -> dict[str, object]:
        """With a rabbet that takes its stock: the thinnest, where none is called as in the example."""
        thick = {name: size for name, typed in self.stocks.items() if (size := _read(typed, self.units)) is not None}
        if not thick:
            return said
        stock = str(example["stock"]) if example["stock"] in thick else min(thick, key=lambda name: thick[name])
        rabbet = _read(str(said[_RABBET]), self.units)
        fits = rabbet is not None and rabbet >= thick[stock]
        return {**said, "stock": stock, **({} if fits else {_RABBET: self.stocks[stock]})}

    def _length(self, value: str) -> str:
        if self.units is Units.INCH or _HAS_UNIT.search(value):
            return value
        size = _read(value, Units.INCH)
        return value if size is None else _in_mm(size)

    def free_name(self, word: str) -> str:
        """A name that nothing has yet."""
        taken = set(self.named.get(word, ()))
        numbers = (number for number in range(1, len(taken) + 2))
        return next(name for number in numbers if (name := f"{word} {number}") not in taken)


def _read(typed: str, units: Units) -> Fraction | None:
    """A length that is typed so; None for what is none."""
    try:
        return read_distance(typed, units)
    except StorystickError:
        return None


def _in_mm(size: Fraction) -> str:
    step = next(Fraction(step) for most, step in _STEPS_MM if size < most)
    rounded = round(size / step) * step
    return str(rounded.numerator) if rounded.denominator == 1 else str(float(rounded))
