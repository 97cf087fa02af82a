"""Reading the board templates of a job: parts of its cabinets by name, and boards drawn free, with every fault."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final

from storystick.errors import Fault, FaultCollector
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
from storystick.job.outline import Arc, Outline, Place, Side, Straight, rectangle, turn
from storystick.job.tables import NAME, Kind, Table, choice, distance, read_list, size, whole
from storystick.lengths import Units, write_figure

_ZERO: Final = Fraction(0)
_ORIGIN: Final = Place(_ZERO, _ZERO)
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
    sides = {key: table.need(key, size(units)) for key in ("width", "height")}
    table.stop_if_faulty()
    width, height = sides.values()
    box = rectangle(width, height)
    outline = table.get("outline", lambda value: _read_outline(value, width, height, units), box)
    board = FreeBoard(
        number,
        name,
        width,
        height,
        outline,
        grooves=table.one_or_each("grooves", lambda value: _read_groove(Table(value), width, height, units)),
        rabbets=table.one_or_each("rabbets", lambda value: _read_rabbet(Table(value), width, height, units)),
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


def _read_place(value: object, units: Units) -> Place:
    """Two distances: to the right of the lower left corner, and above it."""
    entries = read_list(value)
    if len(entries) != 2:
        raise Fault(
            f"the place has {len(entries)} figures; it has two, to the right and up", 'write it like ["1 1/2", "2"]'
        )
    read = distance(units)
    return Place(read(entries[0]), read(entries[1]))


def _place_kind(units: Units) -> Kind[Place]:
    return Kind(lambda value: _read_place(value, units), _ORIGIN, '["1 1/2", "2"]')


def _read_outline(value: object, width: Fraction, height: Fraction, units: Units) -> Outline:
    entries = read_list(value)
    collector = FaultCollector()
    sides = _read_sides(entries, units, collector)
    collector.raise_any()
    for side in sides:
        with collector.at():
            _check_in_box(side, width, height, units)
    outline = Outline(tuple(sides))
    if outline.crosses_itself:
        collector.add(
            Fault("the outline crosses or touches itself", "give its corners in order, once around the board")
        )
    collector.raise_any()
    return outline


def _read_sides(entries: Sequence[object], units: Units, collector: FaultCollector) -> list[Side]:
    """The sides from corner to corner and back to the first; the faults of each are kept."""
    first, *others = entries
    if isinstance(first, dict):
        raise Fault("the outline begins with an arc", "begin it with a corner, and close it with the arc")
    at = start = _read_place(first, units)
    sides: list[Side] = []
    for number, entry in enumerate(others, 2):
        with collector.at(f"entry {number}"):
            sides.append(_read_side(at, entry, units))
            at = sides[-1].end
    if at != start:
        sides.append(Straight(at, start))
    too_few = len(sides) < 2 or (len(sides) < 3 and not any(isinstance(side, Arc) for side in sides))
    if too_few and not collector.faults:
        collector.add(Fault("the outline encloses nothing", "give three corners or more, or an arc"))
    return sides


def _read_side(start: Place, entry: object, units: Units) -> Side:
    """A straight side to a corner, or an arc."""
    if not isinstance(entry, dict):
        end = _read_place(entry, units)
        if start == end:
            raise Fault(f"{_write(end, units)} is the corner before it again", "leave one of them out")
        return Straight(start, end)
    table = Table(entry)
    kind = _place_kind(units)
    end, through = table.need("arc_to", kind), table.need("through", kind)
    table.close()
    if not turn(start, through, end):
        raise Fault(
            f"the arc to {_write(end, units)} has its three places on a straight line",
            "move the place that it runs through aside, or give the corner alone",
        )
    return Arc(start, through, end)


def _check_in_box(side: Side, width: Fraction, height: Fraction, units: Units) -> None:
    box = f"{write_figure(width, units)} by {write_figure(height, units)}"
    if side.start.x > width or side.start.y > height:
        raise Fault(
            f"the corner at {_write(side.start, units)} lies outside the board of {box}",
            "move it, or make the board larger",
        )
    if side.stands_out(width, height):
        raise Fault(
            f"the arc to {_write(side.end, units)} stands out beyond the board of {box}",
            "make it flatter, or the board larger",
        )


def _read_groove(table: Table, width: Fraction, height: Fraction, units: Units) -> Groove:
    along = table.need("along", _ALONG)
    length, across = (width, height) if along is Along.X else (height, width)
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
    return groove


def _read_rabbet(table: Table, width: Fraction, height: Fraction, units: Units) -> EdgeRabbet:
    edge = table.need("edge", _EDGES)
    rabbet = EdgeRabbet(edge, table.need("width", size(units)), table.get("name", NAME, "rabbet"))
    table.close()
    across = width if edge in (Edge.LEFT, Edge.RIGHT) else height
    if rabbet.width >= across:
        raise Fault(
            f"the rabbet is {write_figure(rabbet.width, units)} wide, and the board is {write_figure(across, units)}",
            "make it narrower",
        )
    return rabbet


def _read_holes(table: Table, outline: Outline, units: Units) -> tuple[BoredHole, ...]:
    """A single hole, or a row of them."""
    if table.has("at") == table.has("first"):
        given = "both at and first" if table.has("at") else "neither at nor first"
        raise Fault(f"the entry has {given}", "give at for one hole, first with pitch and count for a row")
    places = _read_row(table, units) if table.has("first") else (table.need("at", _place_kind(units)),)
    diameter = table.need("diameter", size(units))
    name = table.get("name", NAME, "hole")
    table.close()
    for place in places:
        _check_within(f"the hole at {_write(place, units)}", place, diameter, outline)
    return tuple(BoredHole(place, diameter, name) for place in places)


def _read_row(table: Table, units: Units) -> tuple[Place, ...]:
    first, pitch = table.need("first", _place_kind(units)), table.need("pitch", size(units))
    count, along = table.need("count", whole(1, _MOST_HOLES)), table.need("along", _ALONG)
    table.stop_if_faulty()
    return tuple(_row_places(first, pitch, count, along))


def _row_places(first: Place, pitch: Fraction, count: int, along: Along) -> Iterator[Place]:
    for number in range(count):
        by = pitch * number
        yield Place(first.x + by, first.y) if along is Along.X else Place(first.x, first.y + by)


def _read_circle(table: Table, outline: Outline, units: Units) -> Circle:
    circle = Circle(
        centre=table.need("centre", _place_kind(units)),
        diameter=table.need("diameter", size(units)),
        name=table.get("name", NAME, ""),
    )
    table.close()
    _check_within(f"the circle about {_write(circle.centre, units)}", circle.centre, circle.diameter, outline)
    return circle


def _check_within(what: str, centre: Place, diameter: Fraction, outline: Outline) -> None:
    """That a circle lies within the outline, or at most touches it."""
    if not outline.holds(centre) or outline.nearest_mm(centre) < float(diameter / 2) - _ROUNDING_MM:
        raise Fault(f"{what} reaches outside the outline", "move it inward, or make it smaller")


def _write(place: Place, units: Units) -> str:
    return f"[{write_figure(place.x, units)}, {write_figure(place.y, units)}]"
