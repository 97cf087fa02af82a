"""Reading the openings of a cabinet: bands from the bottom up, columns from the left, and what is fitted in each."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Final, TypeVar

from storystick.errors import Fault, as_written
from storystick.job.cabinet import Adjustable, Column, Compartment, Row
from storystick.job.fronts import FRONT_KIND
from storystick.job.model import Fixed, Graduated, Opening, Share
from storystick.job.openings import (
    Scope,
    choose_form,
    names_file,
    read_clear,
    read_each_opening,
    read_group,
    read_opening_file,
    read_shared,
    read_sized,
)
from storystick.job.tables import MOST_ENTRIES, Table, distance, size, tables, whole
from storystick.lengths import INCH_MM, Units

_EQUAL: Final = Share(Fraction(1))
_ONE_OPENING: Final = (Compartment(Opening(_EQUAL)),)
_MOST_SHELVES: Final = 60
_PITCH_MM: Final = Fraction(32)
_LEAST_PITCH: Final = {Units.INCH: (INCH_MM / 8, "1/8 in"), Units.MM: (Fraction(3), "3 mm")}
"""Holes that are closer run into each other: no pin is thinner; common practice, no source."""

_PLAY: Final = {Units.INCH: INCH_MM / 16, Units.MM: Fraction(2)}
"""What adjustable shelves have to spare, in length and in depth (mm): common practice, no source."""

T = TypeVar("T")


def read_rows(cabinet: Table, scope: Scope) -> tuple[Row, ...]:
    """The bands. Without bands, columns or openings stand in one; with none of the three it is one opening."""
    given = [key for key in ("row", "column", "openings") if cabinet.has(key)]
    if len(given) > 1:
        cabinet.fault(f"{' and '.join(given)} stand side by side", "give one of them, and the others inside it")
        return ()
    if given == ["row"]:
        rows = _each(cabinet, "row", "[[cabinet.row]]", lambda row: _read_row(row, scope))
    else:
        rows = (Row(_EQUAL, _read_columns(cabinet, scope, "[[cabinet.column]]")),)
    count = sum(map(_count, rows))
    if count > MOST_ENTRIES:
        cabinet.fault(f"the cabinet has {count} openings; at most {MOST_ENTRIES} are allowed", "divide it")
    return rows


def _count(row: Row) -> int:
    items = (compartment.item for column in row.columns for compartment in column.compartments)
    return sum(item.count if isinstance(item, Graduated) else 1 for item in items)


def _each(table: Table, key: str, heading: str, read: Callable[[Table], T]) -> tuple[T, ...]:
    things: list[T] = []
    for number, value in enumerate(table.get(key, tables(heading), ()), 1):
        with table.at(f"{key} {number}"):
            things.append(read(Table(value)))
    return tuple(things)


def _read_row(table: Table, scope: Scope) -> Row:
    height = _read_share(table, "height", scope)
    if table.has("column") and table.has("openings"):
        table.fault("column and openings stand side by side", "give openings to each column instead")
    row = Row(height, _read_columns(table, scope, "[[cabinet.row.column]]"))
    table.close()
    return row


def _read_share(table: Table, key: str, scope: Scope) -> Fixed | Share:
    return table.get(key, lambda value: read_clear(value, scope), _EQUAL)


def _read_columns(table: Table, scope: Scope, heading: str) -> tuple[Column, ...]:
    """The columns of a band, or its openings in one column."""
    if table.has("column"):
        return _each(table, "column", heading, lambda column: _read_column(column, scope))
    return (Column(_EQUAL, _read_compartments(table, scope)),)


def _read_column(table: Table, scope: Scope) -> Column:
    column = Column(_read_share(table, "width", scope), _read_compartments(table, scope))
    table.close()
    return column


def _read_compartments(table: Table, scope: Scope) -> tuple[Compartment, ...]:
    if not table.has("openings"):
        return _ONE_OPENING
    if names_file(table):
        return tuple(map(Compartment, read_opening_file(table, scope)))
    return read_each_opening(table, lambda value: _read_compartment(value, scope))


def _read_compartment(value: object, scope: Scope) -> Compartment:
    if not isinstance(value, dict):
        return Compartment(Opening(read_clear(value, scope)))
    table = Table(value)
    compartment = _FORMS[choose_form(table, _FORMS)](table, scope)
    table.close()
    return compartment


def _sized(table: Table, scope: Scope) -> Compartment:
    return _fitted(read_sized(table, scope), table, scope)


def _shared(table: Table, scope: Scope) -> Compartment:
    return _fitted(read_shared(table, scope), table, scope)


def _fitted(opening: Opening, table: Table, scope: Scope) -> Compartment:
    front = table.get("front", FRONT_KIND, None)
    return Compartment(opening, front, table.get("adjustable", lambda value: _read_adjustable(value, scope), None))


def _group(table: Table, scope: Scope) -> Compartment:
    return Compartment(read_group(table, scope), table.get("front", FRONT_KIND, None))


_FORMS: Final[Mapping[str, Callable[[Table, Scope], Compartment]]] = {
    "opening": _sized,
    "share": _shared,
    "graduated": _group,
}


def _read_pitch(value: object, scope: Scope) -> Fraction:
    pitch = size(scope.units)(value)
    least, words = _LEAST_PITCH[scope.units]
    if pitch < least:
        raise Fault(
            f"{as_written(value)} is less than {words}, which the thinnest pin's hole takes",
            "look at its unit; 32 mm is usual",
        )
    return pitch


def _read_adjustable(value: object, scope: Scope) -> Adjustable:
    """Adjustable shelves. Holes 32 mm apart are common practice, without a source to name."""
    table = Table(value, form="{ shelves = …, first = …, front = …, back = … }")
    length = size(scope.units)
    shelves = Adjustable(
        count=table.need("shelves", whole(1, _MOST_SHELVES)),
        pitch=table.get("pitch", lambda value: _read_pitch(value, scope), _PITCH_MM),
        first=table.need("first", length, "from the bottom of the opening to its lowest hole"),
        front=table.need("front", length, "from the finished front edge, edging included, to the front row of holes"),
        back=table.need("back", length, "from the back edge of the case to the back row of holes"),
        play=table.get("play", distance(scope.units), _PLAY[scope.units]),
        depth_play=table.get("depth_play", distance(scope.units), _PLAY[scope.units]),
    )
    table.close()
    return shelves
