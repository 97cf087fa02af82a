"""Diagonals and sides as they were measured: from the words of a command line, or from a spreadsheet saved as CSV."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final, NamedTuple

from storystick.errors import Fault, FaultCollector, Where, as_written
from storystick.job.job import Rectangle
from storystick.job.kinds import SIZE, Kind, Scope, Table, read_name
from storystick.job.other_words import nearest
from storystick.job.sources import Source
from storystick.job.spreadsheet import read_rows
from storystick.lengths import INCH_MM, Units, read_size
from storystick.wording import listed

TAPE_READ_TO: Final = {Units.INCH: INCH_MM / 32, Units.MM: Fraction(1, 2)}
"""How finely a tape is read along diagonals where nothing else is said, in mm: common practice, no source."""

_SEVERAL: Final = re.compile(r"(.* [1-9][0-9]{0,5})(?:(?: ?[-–,] ?| and )[1-9][0-9]{0,5})+(\D*)")
_COARSEST: Final = INCH_MM / 2
_FINEST: Final = 10**30
_DIAGONALS: Final = ("rising", "falling")
_NEEDED: Final = {
    "name": "write name over the column of the rectangles' names",
    "rising": "write rising over the column of the diagonals from lower left to upper right",
    "falling": "write falling over the column of the diagonals from upper left to lower right",
}


class Sides(NamedTuple):
    """The four sides as measured, in mm."""

    bottom: Fraction
    top: Fraction
    left: Fraction
    right: Fraction


OPPOSITE: Final = (("bottom", "top"), ("left", "right"))
"""Which sides are alike in a rectangle, by their names."""


@dataclass(frozen=True, slots=True)
class Reading:
    """The diagonals of the rectangle ``name`` as measured, in mm: ``rising`` from lower left to upper right.

    ``sides`` is None where they were not measured; ``place`` is where it was read.
    """

    name: str
    rising: Fraction
    falling: Fraction
    sides: Sides | None
    place: str

    @property
    def lengths(self) -> dict[str, Fraction]:
        """All that was measured of it, by the words of the listing."""
        return {"rising": self.rising, "falling": self.falling, **(self.sides._asdict() if self.sides else {})}


@dataclass(frozen=True, slots=True)
class Told:
    """All that was told of measured rectangles: words of the command line in the order of their options, and a file."""

    measured: Sequence[Sequence[str]] = ()
    sides: Sequence[Sequence[str]] = ()
    file: Source | None = None


def read_read_to(value: object, units: Units) -> Fraction:
    """How finely lengths were read, in mm, as someone writes it."""
    read_to = read_size(value, units)
    if read_to > _COARSEST:
        raise Fault(f"{as_written(value)} is too coarse to tell anything of a diagonal", "look at its unit")
    return read_to


def read_readings(told: Told, units: Units, known: Sequence[Rectangle]) -> tuple[Reading, ...]:
    """The readings in the order in which they were told; ``known`` are the rectangles of the job.

    Raises:
        Faults: everything that cannot be read, or is told twice, at once.
    """
    reader, faults = _Reader(units, known), FaultCollector()
    readings: list[Reading] = []
    sides: dict[str, Sides] = {}
    for name, *lengths in told.measured:
        with faults.at(Where("--measured")):
            row = Table({"name": name, **dict(zip(_DIAGONALS, lengths, strict=True))})
            readings.append(reader.reading(row, "--measured"))
    for name, *lengths in told.sides:
        with faults.at(Where("--sides")):
            row = Table({"name": name, **dict(zip(Sides._fields, lengths, strict=True))})
            found = reader.name(row)
            if found in sides:
                row.fault(f"the sides of {as_written(found)} are given twice", "keep one of them")
            sides[found] = reader.sides(row)
    if told.file:
        with faults.at(Where.in_file(told.file.name)):
            readings += reader.readings(told.file)
    faults.add(*_measured_twice(readings))
    faults.raise_any()
    return _joined(readings, sides)


def read_reading(name: str, lengths: Mapping[str, str], units: Units, known: Sequence[Rectangle]) -> Reading:
    """What was measured of the rectangle called ``name``, its ``lengths`` as they were typed.

    Raises:
        Faults: everything that cannot be read, each with the word of its length in front.
    """
    return _Reader(units, known).reading(Table({"name": name, **lengths}), "")


def _check_digits(length: Fraction, value: object, _: Scope) -> None:
    """What has very many digits was not measured, and what follows from it could not be read back."""
    if length.denominator > _FINEST:
        raise Fault(f"{as_written(value)} has more digits than anything that is measured", "round it")


_MEASURED: Final = SIZE.limited(_check_digits)


@dataclass(frozen=True, slots=True)
class _Reader:
    """Reads what was measured of the rectangles that are ``known``, in ``units`` where it says no other."""

    units: Units
    known: Sequence[Rectangle]

    def readings(self, file: Source) -> tuple[Reading, ...]:
        def read_row(line: int, row: Table) -> Reading:
            return self.reading(row, f"{file.name}, line {line}")

        readings = read_rows(file, (*_NEEDED, *Sides._fields), _NEEDED, read_row)
        if not readings:
            raise Fault("the file holds no readings", "give one in each row below the headings")
        return readings

    def reading(self, row: Table, place: str) -> Reading:
        """One rectangle's readings, all of their faults at once."""
        name = self.name(row)
        rising, falling = (row.need(word, _MEASURED, Scope(self.units)) for word in _DIAGONALS)
        sides = self.sides(row) if any(map(row.has, Sides._fields)) else None
        row.stop_if_faulty()
        return Reading(name, rising, falling, sides, place)

    def sides(self, row: Table) -> Sides:
        if missing := [word for word in Sides._fields if not row.has(word)]:
            row.fault(f"{listed(missing)} not given", "give all four sides, or none")
            row.stop_if_faulty()
        sides = Sides(*(row.need(word, _MEASURED, Scope(self.units)) for word in Sides._fields))
        row.stop_if_faulty()
        return sides

    def name(self, row: Table) -> str:
        """The name of a rectangle, which may be written with its edges, as the listing has it."""
        names = {written: rectangle.name for rectangle in self.known for written in (rectangle.told, rectangle.name)}

        def read(value: object, _: Scope) -> str:
            name = read_name(value)
            if name not in names:
                raise _unknown(name, names)
            return names[name]

        return row.need("name", Kind(read, "", '"…"', "a name"))


def _unknown(name: str, names: Collection[str]) -> Fault:
    """The fault of a name that no rectangle has: a line of the listing may be of several."""
    several = _SEVERAL.fullmatch(name)
    if several and (first := several[1] + several[2]) in names:
        return Fault(f"{as_written(name)} is several rectangles", f'name one of them, as in "{first}"')
    near = nearest(name, names)
    cure = "list them all with storystick square JOB"
    return Fault(f"{as_written(name)} is not a rectangle of this job", f'try "{near}"; or {cure}' if near else cure)


def _measured_twice(readings: Iterable[Reading]) -> Iterator[Fault]:
    first: dict[str, Reading] = {}
    for reading in readings:
        if first.setdefault(reading.name, reading) is not reading:
            what = f"{as_written(reading.name)} is measured already"
            yield Fault(what, "keep the reading that is right", reading.place)


def _joined(readings: Sequence[Reading], sides: Mapping[str, Sides]) -> tuple[Reading, ...]:
    """The readings, with the sides that were told apart from them."""
    faults = FaultCollector()
    by_name = {reading.name: reading for reading in readings}
    for name in sides:
        with faults.at(Where("--sides")):
            if name not in by_name:
                raise Fault(f"the sides of {as_written(name)} are given without its diagonals", "give both diagonals")
            if by_name[name].sides:
                raise Fault(f"the sides of {as_written(name)} are given twice", "keep one of them")
    faults.raise_any()
    return tuple(replace(each, sides=each.sides or sides.get(each.name)) for each in readings)
