"""Reading the board templates of a job: parts of its cabinets by name, and boards drawn free, with every fault."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Final

from storystick.errors import Fault
from storystick.job.board import (
    Along,
    Board,
    BoredHole,
    CabinetBoard,
    Circle,
    Edge,
    EdgeRabbet,
    Face,
    FreeBoard,
    Groove,
)
from storystick.job.model import default_name
from storystick.job.numbered import read_numbered
from storystick.job.outline import Outline, Place, rectangle
from storystick.job.outlines import BoardBox, place_kind, read_box, read_outline, write_place
from storystick.job.tables import NAME, Table, choice, distance, size, whole
from storystick.lengths import Units, write_figure

_ZERO: Final = Fraction(0)
_MOST_HOLES: Final = 1000
_ALONG: Final = choice({along.value: along for along in Along})
_EDGES: Final = choice({edge.value: edge for edge in Edge})
_FACES: Final = choice({face.value: face for face in Face})
_ROUNDING_MM: Final = 1e-6

WORD: Final = "template"
"""The key of the job file."""


def read_boards(job: Table, units: Units) -> tuple[Board, ...]:
    """The board templates in which nothing is at fault; the faults of the others are kept in ``job``."""
    return read_numbered(job, WORD, lambda number, name, table: _read_board(number, name, table, units))


def _read_board(number: int, name: str, table: Table, units: Units) -> Board:
    if table.has("board"):
        return _read_cabinet_board(number, name, table)
    return _read_free_board(number, name, table, units)


def _read_cabinet_board(number: int, name: str, table: Table) -> CabinetBoard:
    board = table.need("board", NAME)
    face = table.get("face", _FACES, None)
    table.close()
    own = board if name == default_name(WORD, number) else name
    return CabinetBoard(number, own, board, face)


def _read_free_board(number: int, name: str, table: Table, units: Units) -> FreeBoard:
    box = read_box(table, units)
    outline = table.get("outline", lambda value: read_outline(value, box, units), rectangle(box.width, box.height))
    board = FreeBoard(
        number,
        name,
        box.width,
        box.height,
        outline,
        grooves=table.one_or_each("grooves", lambda value: _read_groove(Table(value), box, outline, units)),
        rabbets=table.one_or_each("rabbets", lambda value: _read_rabbet(Table(value), box, outline, units)),
        holes=tuple(
            hole
            for row in table.one_or_each("holes", lambda value: _read_holes(Table(value), outline, units))
            for hole in row
        ),
        circles=table.one_or_each("circles", lambda value: _read_circle(Table(value), outline, units)),
    )
    table.close()
    return _with_names(board)


def _with_names(board: FreeBoard) -> FreeBoard:
    """What has no name is called after what it is, and counted."""
    return replace(
        board,
        grooves=tuple(
            replace(groove, name=groove.name or f"groove {number}") for number, groove in enumerate(board.grooves, 1)
        ),
        circles=tuple(
            replace(circle, name=circle.name or f"cut-out {number}") for number, circle in enumerate(board.circles, 1)
        ),
    )


def _read_groove(table: Table, box: BoardBox, outline: Outline, units: Units) -> Groove:
    along = table.need("along", _ALONG)
    length, across = (box.width, box.height) if along is Along.X else (box.height, box.width)
    groove = Groove(
        along,
        at=table.need("at", distance(units)),
        width=table.need("width", size(units)),
        start=table.get("from", distance(units), _ZERO),
        end=table.get("to", size(units), length),
        name=table.get("name", NAME, ""),
    )
    table.close()
    for far, most, cure in (
        (groove.at + groove.width, across, "move it, or make it narrower"),
        (groove.end, length, "end it at the edge"),
    ):
        if far > most:
            raise Fault(
                f"the groove reaches to {write_figure(far, units)}, beyond the edge at {write_figure(most, units)}",
                cure,
            )
    if groove.start >= groove.end:
        raise Fault(
            f"the groove begins at {write_figure(groove.start, units)} and ends at {write_figure(groove.end, units)}",
            "let it end beyond where it begins",
        )
    if not outline.overlaps(*groove.corners):
        raise Fault(f"the groove at {write_figure(groove.at, units)} lies outside the outline", "move it inward")
    return groove


def _read_rabbet(table: Table, box: BoardBox, outline: Outline, units: Units) -> EdgeRabbet:
    edge = table.need("edge", _EDGES)
    rabbet = EdgeRabbet(edge, table.need("width", size(units)), table.get("name", NAME, "rabbet"))
    table.close()
    across, is_known = (box.width, box.has_width) if edge.is_upright else (box.height, box.has_height)
    if rabbet.width >= across:
        raise Fault(
            f"the rabbet is {write_figure(rabbet.width, units)} wide, and the board is {write_figure(across, units)}",
            "make it narrower",
        )
    if is_known and not outline.overlaps(*rabbet.corners(box.width, box.height)):
        raise Fault(f"the rabbet at the {edge.value} lies outside the outline", "give an edge that the outline reaches")
    return rabbet


def _read_holes(table: Table, outline: Outline, units: Units) -> tuple[BoredHole, ...]:
    """A single hole, or a row of them."""
    if table.has("at") == table.has("first"):
        given = "both at and first" if table.has("at") else "neither at nor first"
        raise Fault(f"the entry has {given}", "give at for one hole, first with pitch and count for a row")
    places = _read_row(table, units) if table.has("first") else (table.need("at", place_kind(units)),)
    diameter = table.need("diameter", size(units))
    name = table.get("name", NAME, "hole")
    table.close()
    for place in places:
        _check_within(f"the hole at {write_place(place, units)}", place, diameter, outline)
    return tuple(BoredHole(place, diameter, name) for place in places)


def _read_row(table: Table, units: Units) -> tuple[Place, ...]:
    first, pitch = table.need("first", place_kind(units)), table.need("pitch", size(units))
    count, along = table.need("count", whole(1, _MOST_HOLES)), table.need("along", _ALONG)
    return tuple(_row_places(first, pitch, count, along))


def _row_places(first: Place, pitch: Fraction, count: int, along: Along) -> Iterator[Place]:
    for number in range(count):
        by = pitch * number
        yield Place(first.x + by, first.y) if along is Along.X else Place(first.x, first.y + by)


def _read_circle(table: Table, outline: Outline, units: Units) -> Circle:
    circle = Circle(
        centre=table.need("centre", place_kind(units)),
        diameter=table.need("diameter", size(units)),
        name=table.get("name", NAME, ""),
    )
    table.close()
    _check_within(f"the circle about {write_place(circle.centre, units)}", circle.centre, circle.diameter, outline)
    return circle


def _check_within(what: str, centre: Place, diameter: Fraction, outline: Outline) -> None:
    """That a circle lies within the outline, or at most touches it."""
    if not outline.holds(centre) or outline.nearest_mm(centre) < float(diameter / 2) - _ROUNDING_MM:
        raise Fault(f"{what} reaches outside the outline", "move it inward, or make it smaller")
