"""Reading the sticks of a job, each with the points that are marked on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final, TypeVar

from storystick.job.model import Centre, Datum, Holes, Stick
from storystick.job.numbered import read_numbered
from storystick.job.openings import Scope, read_items
from storystick.job.tables import NAME, YES_NO, Table, choice, distance, size, whole
from storystick.lengths import Units

_MOST_HOLES: Final = 1000
_UNNAMED: Final = ""
_HOLES: Final = "{ first = …, pitch = …, count = … }"

P = TypeVar("P", Holes, Centre)


def read_sticks(job: Table, scope: Scope) -> tuple[Stick, ...]:
    """The sticks in which nothing is at fault; the faults of the others are kept in ``job``."""
    return read_numbered(job, "stick", lambda number, name, table: _read_stick(number, name, table, scope))


def _read_stick(number: int, name: str, table: Table, scope: Scope) -> Stick:
    stick = Stick(
        number=number,
        name=name,
        datum=table.get("datum", choice({datum.value: datum for datum in Datum}), Datum.BOTTOM),
        length=table.get("length", size(scope.units), None),
        pair=table.get("pair", YES_NO, False),
        items=read_items(table, scope),
        points=_read_points(table, scope.units),
        wrap=table.get("wrap", distance(scope.units), None),
    )
    table.close()
    return stick


def _read_points(table: Table, units: Units) -> tuple[Holes | Centre, ...]:
    holes = table.one_or_each("holes", lambda value: _read_holes(Table(value, form=_HOLES), units))
    centres = table.one_or_each("centre", lambda value: _read_centre(value, units))
    return _with_names(holes, "holes") + _with_names(centres, "centre")


def _read_holes(table: Table, units: Units) -> Holes:
    count = table.need("count", whole(1, _MOST_HOLES))
    if count > 1:
        table.require("pitch", "…", "a length, from the middle of a hole to that of the next")
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
