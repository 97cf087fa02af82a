"""Reading the sticks of a job, each with the points that are marked on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final, TypeVar

from storystick.errors import Fault, as_written
from storystick.job.model import Centre, Datum, Holes, Stick, default_stick_name, stick_place
from storystick.job.openings import Scope, read_items
from storystick.job.tables import NAME, YES_NO, Table, choice, distance, read_list, read_name, size, whole
from storystick.lengths import Units

_MOST_HOLES: Final = 1000
_UNNAMED: Final = ""

P = TypeVar("P", Holes, Centre)


def read_sticks(job: Table, scope: Scope) -> tuple[Stick, ...]:
    """The sticks in which nothing is at fault; the faults of the others are kept in ``job``."""
    if not job.has("stick"):
        job.fault("the job has no stick", "add a [[stick]] table")
    sticks: list[Stick] = []
    numbers: dict[str, int] = {}
    for number, value in enumerate(job.get("stick", _read_tables, ()), 1):
        with job.at(_place(number, value)):
            sticks.append(_read_stick(number, numbers, Table(value), scope))
    return tuple(sticks)


def _read_tables(value: object) -> Sequence[object]:
    if isinstance(value, dict):
        raise Fault("the table stands alone", "write its heading with two brackets at each side: [[stick]]")
    return read_list(value)


def _place(number: int, value: object) -> str:
    """As :attr:`Stick.place`, as far as the stick has a name that can be read."""
    try:
        return stick_place(number, read_name(Table(value)["name"]))
    except (Fault, KeyError):
        return stick_place(number, default_stick_name(number))


def _read_stick(number: int, numbers: dict[str, int], table: Table, scope: Scope) -> Stick:
    stick = Stick(
        number=number,
        name=_read_own_name(number, numbers, table),
        datum=table.get("datum", choice({datum.value: datum for datum in Datum}), Datum.BOTTOM),
        length=table.get("length", size(scope.units), None),
        pair=table.get("pair", YES_NO, False),
        items=read_items(table, scope),
        points=_read_points(table, scope.units),
    )
    table.close()
    return stick


def _read_own_name(number: int, numbers: dict[str, int], table: Table) -> str:
    """The stick's name, which no other may have; ``numbers`` are the sticks before it by name."""
    name = table.get("name", NAME, default_stick_name(number))
    first = numbers.setdefault(name, number)
    if first != number:
        table.fault(f"{as_written(name)} is already the name of stick {first}", "give each its own", "name")
    return name


def _read_points(table: Table, units: Units) -> tuple[Holes | Centre, ...]:
    holes = table.one_or_each("holes", lambda value: _read_holes(Table(value), units))
    centres = table.one_or_each("centre", lambda value: _read_centre(value, units))
    return _with_names(holes, "holes") + _with_names(centres, "centre")


def _read_holes(table: Table, units: Units) -> Holes:
    count = table.need("count", whole(1, _MOST_HOLES))
    if count > 1:
        table.require("pitch", size(units).example)
    holes = Holes(
        first=table.need("first", distance(units)),
        pitch=table.get("pitch", size(units), Fraction(0 if count == 1 else 1)),
        count=count,
        name=table.get("name", NAME, _UNNAMED),
    )
    table.close()
    return holes


def _read_centre(value: object, units: Units) -> Centre:
    if not isinstance(value, dict):
        return Centre(distance(units)(value), _UNNAMED)
    table = Table(value)
    centre = Centre(table.need("at", distance(units)), table.get("name", NAME, _UNNAMED))
    table.close()
    return centre


def _with_names(points: Sequence[P], word: str) -> tuple[P, ...]:
    """The points, those without a name called after their key, and counted where there are several."""
    names = [word] if len(points) == 1 else [f"{word} {number}" for number, _ in enumerate(points, 1)]
    return tuple(point if point.name else replace(point, name=name) for point, name in zip(points, names, strict=True))
