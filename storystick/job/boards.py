"""Board templates: parts of cabinets by name, and boards drawn free.."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction
from typing import Final, TypeAlias

from storystick.errors import Fault, FaultCollector
from storystick.job.keys import default_name, numbered_place, read_numbered
from storystick.job.outline import Arc, Outline, Place, Side, Straight, rectangle, turn
from storystick.job.tables import NAME, Kind, Table, choice, distance, read_list, size, whole
from storystick.lengths import Units, write_figure


class Along(Enum):
    """Which way something runs on a board: to the right, or up."""

    X = "x"
    Y = "y"


class BoardEdge(Enum):
    """An edge of a board as its template is read."""

    LEFT = "left"
    RIGHT = "right"
    BOTTOM = "bottom"
    TOP = "top"

    @property
    def is_upright(self) -> bool:
        return self in (BoardEdge.LEFT, BoardEdge.RIGHT)


class Face(Enum):
    """A face of a part that others end on from both sides: of a divider left or right, of a shelf lower or upper."""

    LEFT = "left"
    RIGHT = "right"
    LOWER = "lower"
    UPPER = "upper"


@dataclass(frozen=True, slots=True)
class Groove:
    """A groove ``width`` wide. ``at`` is its near edge; it runs from ``start`` to ``end``."""

    along: Along
    at: Fraction
    width: Fraction
    start: Fraction
    end: Fraction
    name: str

    @property
    def corners(self) -> tuple[Place, Place]:
        """Its lower left one and its upper right one."""
        near, far = Place(self.start, self.at), Place(self.end, self.at + self.width)
        return (near, far) if self.along is Along.X else (Place(near.y, near.x), Place(far.y, far.x))


@dataclass(frozen=True, slots=True)
class EdgeRabbet:
    """A rabbet along the whole of an edge, ``width`` wide on the face."""

    edge: BoardEdge
    width: Fraction
    name: str

    def corners(self, width: Fraction, height: Fraction) -> tuple[Place, Place]:
        """Its lower left one and its upper right one, on a board ``width`` by ``height``."""
        zero = Fraction(0)
        left = width - self.width if self.edge is BoardEdge.RIGHT else zero
        bottom = height - self.width if self.edge is BoardEdge.TOP else zero
        right = self.width if self.edge is BoardEdge.LEFT else width
        top = self.width if self.edge is BoardEdge.BOTTOM else height
        return Place(left, bottom), Place(right, top)


@dataclass(frozen=True, slots=True)
class BoredHole:
    """A hole by its centre. ``row`` is the name that all of its row have."""

    at: Place
    diameter: Fraction
    row: str


@dataclass(frozen=True, slots=True)
class Circle:
    """A round cut-out."""

    centre: Place
    diameter: Fraction
    name: str


@dataclass(frozen=True, slots=True)
class FreeBoard:
    """A board template that the job draws itself, within a box ``width`` by ``height``."""

    number: int
    name: str
    width: Fraction
    height: Fraction
    outline: Outline
    grooves: tuple[Groove, ...] = ()
    rabbets: tuple[EdgeRabbet, ...] = ()
    holes: tuple[BoredHole, ...] = ()
    circles: tuple[Circle, ...] = ()

    @property
    def place(self) -> str:
        """Where a fault in this template stands, in the words of a message."""
        return numbered_place("template", self.number, self.name)


@dataclass(frozen=True, slots=True)
class CabinetBoard:
    """A board template of a cabinet's part: of ``board``, the cabinet's name and the part's, on one ``face`` of it."""

    number: int
    name: str
    board: str
    face: Face | None = None

    @property
    def place(self) -> str:
        """Where a fault in this template stands, in the words of a message."""
        return numbered_place("template", self.number, self.name)


Board: TypeAlias = FreeBoard | CabinetBoard


_ORIGIN: Final = Place(Fraction(0), Fraction(0))
_BOUNDLESS_MM: Final = Fraction(10**9)


@dataclass(frozen=True, slots=True)
class BoardBox:
    """The size of a board, in mm; where that has a fault, so large that no other fault comes of it."""

    width: Fraction
    height: Fraction

    @property
    def has_width(self) -> bool:
        return self.width < _BOUNDLESS_MM

    @property
    def has_height(self) -> bool:
        return self.height < _BOUNDLESS_MM

    def words(self, units: Units) -> str:
        """What is known of it, to come after the word it tells of."""
        sides = (("width", self.width, self.has_width), ("height", self.height, self.has_height))
        known = [f"{word} {write_figure(length, units)}" for word, length, is_known in sides if is_known]
        return f" of {' and '.join(known)}" if known else ""


def read_box(table: Table, units: Units) -> BoardBox:
    """The size of a board; its faults are kept in ``table``."""
    side = replace(size(units), stand_in=_BOUNDLESS_MM)
    return BoardBox(table.need("width", side), table.need("height", side))


def _read_place(value: object, units: Units) -> Place:
    """Two distances: to the right of the lower left corner, and above it."""
    entries = read_list(value)
    if len(entries) != 2:
        raise Fault(
            f"the place has {len(entries)} figures; it has two, to the right and up", 'write it like ["1 1/2", "2"]'
        )
    read = distance(units)
    return Place(read(entries[0]), read(entries[1]))


def place_kind(units: Units) -> Kind[Place]:
    """Places of two distances, from the lower left corner."""
    return Kind(lambda value: _read_place(value, units), _ORIGIN, "[…, …]", "two lengths")


def read_outline(value: object, box: BoardBox, units: Units) -> Outline:
    """An outline from corner to corner, some of them reached by an arc.

    Raises:
        StorystickError: every fault of it.
    """
    entries = read_list(value)
    collector = FaultCollector()
    sides = _read_sides(entries, units, collector)
    collector.raise_any()
    for side in sides:
        with collector.at():
            _check_in_box(side, box, units)
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
            raise Fault(f"{write_place(end, units)} is the corner before it again", "leave one of them out")
        return Straight(start, end)
    table = Table(entry)
    kind = place_kind(units)
    end, through = table.need("arc_to", kind), table.need("through", kind)
    table.close()
    if start == end:
        raise Fault(f"the arc to {write_place(end, units)} ends where it begins", "give two arcs for a full circle")
    if not turn(start, through, end):
        raise Fault(
            f"the arc to {write_place(end, units)} has its three places on a straight line",
            "move the place that it runs through aside, or give the corner alone",
        )
    return Arc(start, through, end)


def _check_in_box(side: Side, box: BoardBox, units: Units) -> None:
    if side.start.x > box.width or side.start.y > box.height:
        raise Fault(
            f"the corner at {write_place(side.start, units)} lies outside the board{box.words(units)}",
            "move it, or make the board larger",
        )
    if side.stands_out(box.width, box.height):
        raise Fault(
            f"the arc to {write_place(side.end, units)} stands out beyond the board{box.words(units)}",
            "make it flatter, or the board larger",
        )


def write_place(place: Place, units: Units) -> str:
    """A place in the words of a message."""
    return f"[{write_figure(place.x, units)}, {write_figure(place.y, units)}]"


_ZERO: Final = Fraction(0)
_MOST_HOLES: Final = 1000
_ALONG: Final = choice({along.value: along for along in Along})
_EDGES: Final = choice({edge.value: edge for edge in BoardEdge})
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
