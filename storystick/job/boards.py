"""Board templates: parts of cabinets by name, and boards drawn free. Exact, in mm, from a board's lower left corner."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction
from typing import Any, Final, TypeAlias

from storystick.errors import Fault, Where
from storystick.job.keys import (
    Here,
    Key,
    TableOf,
    counted,
    default_name,
    each,
    inner,
    key,
    list_of,
    numbered_place,
    own_name,
    table,
    table_of,
)
from storystick.job.kinds import DISTANCE, NAME, SIZE, whole, word_of
from storystick.job.outlines import BOUNDLESS_MM, OUTLINE, PLACE, BoardBox, write_place
from storystick.lengths import write_figure
from storystick.outline import Outline, Place, rectangle

WORD: Final = "template"
"""The key of the job file."""

_MOST_HOLES: Final = 1000
_ROUNDING_MM: Final = 1e-6


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


@table("A groove, with or across the board.")
class Groove:
    """A groove ``width`` wide. ``at`` is its near edge; it runs from ``start`` to ``end``."""

    along: Along = key(word_of(Along), "which way it runs: x to the right, y up", "x")
    at: Fraction = key(DISTANCE, "from the board's left or lower edge to its near edge", "1")
    width: Fraction = key(SIZE, "how wide it is", "23/32")
    start: Fraction = key(
        DISTANCE, "where it begins", "1/2", name="from", usual=lambda _: Fraction(0), otherwise="at the edge"
    )
    end: Fraction = key(SIZE, "where it ends", "4", name="to", usual=lambda _: None, otherwise="at the opposite edge")
    name: str = key(NAME, "what it is called", "shelf", usual=lambda _: "", otherwise="groove, counted")

    @property
    def corners(self) -> tuple[Place, Place]:
        """Its lower left one and its upper right one."""
        near, far = Place(self.start, self.at), Place(self.end, self.at + self.width)
        return (near, far) if self.along is Along.X else (Place(near.y, near.x), Place(far.y, far.x))

    @staticmethod
    def fill(here: Here) -> dict[str, Any]:
        """One that says no end runs to that of the board, whichever way it runs."""
        names = {"along": "along", "at": "at", "width": "width", "start": "from", "end": "to", "name": "name"}
        values = {field: here(name) for field, name in names.items()}
        box: BoardBox = here.scope.usual["box"]
        return {**values, "end": values["end"] or (box.width if values["along"] is Along.X else box.height)}

    def check(self, here: Here) -> None:
        box: BoardBox = here.scope.usual["box"]
        units = here.scope.units
        length, across = (box.width, box.height) if self.along is Along.X else (box.height, box.width)
        for far, most, cure in (
            (self.at + self.width, across, "move it, or make it narrower"),
            (self.end, length, "end it at the edge"),
        ):
            if far > most:
                edge = write_figure(most, units)
                raise Fault(f"the groove reaches to {write_figure(far, units)}, beyond the edge at {edge}", cure)
        if self.start >= self.end:
            start, end = write_figure(self.start, units), write_figure(self.end, units)
            raise Fault(f"the groove begins at {start} and ends at {end}", "let it end beyond where it begins")
        if not here.scope.usual["outline"].overlaps(*self.corners):
            raise Fault(f"the groove at {write_figure(self.at, units)} lies outside the outline", "move it inward")


@table("A rabbet along the whole of an edge.")
class EdgeRabbet:
    """A rabbet along the whole of an edge, ``width`` wide on the face."""

    edge: BoardEdge = key(word_of(BoardEdge), "the edge that it runs along", "left")
    width: Fraction = key(SIZE, "how wide it is on the face", "1/4")
    name: str = key(NAME, "what it is called", "back", usual=lambda _: "rabbet", otherwise="rabbet")

    def corners(self, width: Fraction, height: Fraction) -> tuple[Place, Place]:
        """Its lower left one and its upper right one, on a board ``width`` by ``height``."""
        zero = Fraction(0)
        left = width - self.width if self.edge is BoardEdge.RIGHT else zero
        bottom = height - self.width if self.edge is BoardEdge.TOP else zero
        right = self.width if self.edge is BoardEdge.LEFT else width
        top = self.width if self.edge is BoardEdge.BOTTOM else height
        return Place(left, bottom), Place(right, top)

    def check(self, here: Here) -> None:
        box: BoardBox = here.scope.usual["box"]
        across, is_known = (box.width, box.has_width) if self.edge.is_upright else (box.height, box.has_height)
        if self.width >= across:
            own, board = (write_figure(length, here.scope.units) for length in (self.width, across))
            raise Fault(f"the rabbet is {own} wide, and the board is {board}", "make it narrower")
        if is_known and not here.scope.usual["outline"].overlaps(*self.corners(box.width, box.height)):
            what = f"the rabbet at the {self.edge.value} lies outside the outline"
            raise Fault(what, "give an edge that the outline reaches")


@dataclass(frozen=True, slots=True)
class BoredHole:
    """A hole by its centre. ``row`` is the name that all of its row have."""

    at: Place
    diameter: Fraction
    row: str


def _fill_holes(here: Here) -> dict[str, Any]:
    if len(given := here.given("at", "first")) != 1:
        what = f"the entry has {'both at and' if given else 'neither at nor'} first"
        raise Fault(what, "give at for one hole, first with pitch and count for a row")
    places = tuple(_row_places(here)) if given == ["first"] else (here.need("at"),)
    return {"places": places, "diameter": here("diameter"), "name": here("name")}


def _row_places(here: Here) -> Iterator[Place]:
    first, pitch, count, along = (here.need(name) for name in ("first", "pitch", "count", "along"))
    for number in range(count):
        by = pitch * number
        yield Place(first.x + by, first.y) if along is Along.X else Place(first.x, first.y + by)


def _build_holes(places: Sequence[Place], diameter: Fraction, name: str) -> tuple[BoredHole, ...]:
    return tuple(BoredHole(place, diameter, name) for place in places)


def _check_holes(holes: Sequence[BoredHole], here: Here) -> None:
    for hole in holes:
        _check_within(f"the hole at {write_place(hole.at, here.scope.units)}", hole.at, hole.diameter, here)


def _check_within(what: str, centre: Place, diameter: Fraction, here: Here) -> None:
    """That a circle lies within the outline, or at most touches it."""
    outline: Outline = here.scope.usual["outline"]
    if not outline.holds(centre) or outline.nearest_mm(centre) < float(diameter / 2) - _ROUNDING_MM:
        raise Fault(f"{what} reaches outside the outline", "move it inward, or make it smaller")


_IN_ROW: Final = "for a row only"
_IN_ROW_ALL: Final = ("first", "pitch", "count", "along")
HOLES: Final = TableOf(
    _build_holes,
    "A hole, or a row of holes at one pitch.",
    each(
        at=Key(PLACE, "the middle of a single hole", ["1", "2"], None, otherwise="for a single hole only"),
        first=Key(PLACE, "the middle of the first of a row", ["1", "3"], None, otherwise=_IN_ROW),
        pitch=Key(SIZE, "from a hole to the next", "1 1/4", None, otherwise=_IN_ROW),
        count=Key(whole(1, _MOST_HOLES), "how many there are", 4, None, otherwise=_IN_ROW),
        along=Key(word_of(Along), "which way the row runs: x to the right, y up", "y", None, otherwise=_IN_ROW),
        diameter=Key(SIZE, "how wide each is", "5 mm"),
        name=Key(NAME, "what they are called", "shelf pins", "hole", otherwise="hole"),
    ),
    shape={
        "oneOf": [
            {"required": ["at"], "properties": dict.fromkeys(_IN_ROW_ALL, False)},
            {"required": list(_IN_ROW_ALL), "properties": {"at": False}},
        ]
    },
    check=_check_holes,
    fill=_fill_holes,
)


@table("A round cut-out.")
class Circle:
    """A round cut-out."""

    centre: Place = key(PLACE, "its middle", ["2", "3"])
    diameter: Fraction = key(SIZE, "how wide it is", "2")
    name: str = key(NAME, "what it is called", "cable hole", usual=lambda _: "", otherwise="cut-out, counted")

    def check(self, here: Here) -> None:
        what = f"the circle about {write_place(self.centre, here.scope.units)}"
        _check_within(what, self.centre, self.diameter, here)


_SIDE: Final = replace(SIZE, stand_in=BOUNDLESS_MM)
"""The width or height of a board; where that has a fault, so large that no other fault comes of it."""


@table("A board that is drawn free, within a box.")
class FreeBoard:
    """A board template that the job draws itself, within a box ``width`` by ``height``."""

    number: int
    name: str = own_name(WORD, "Bracket")
    width: Fraction = key(_SIDE, "how wide the board is", "6")
    height: Fraction = key(_SIDE, "how high it is", "9")
    outline: Outline = key(
        OUTLINE,
        "its corners in order, from its lower left corner, and arcs; the last is joined to the first",
        [["0", "0"], ["6", "0"], {"arc_to": ["0", "9"], "through": ["3", "6"]}],
        usual=lambda _: None,
        otherwise="the rectangle",
    )
    grooves: tuple[Groove, ...] = key(
        list_of(inner(Groove), alone=True), "grooves in it", {"along": "x", "at": "1", "width": "23/32"}, default=()
    )
    rabbets: tuple[EdgeRabbet, ...] = key(
        list_of(inner(EdgeRabbet), alone=True), "rabbets along its edges", {"edge": "left", "width": "1/4"}, default=()
    )
    holes: tuple[BoredHole, ...] = key(
        list_of(inner(HOLES), alone=True), "holes in it", {"at": ["1", "2"], "diameter": "5 mm"}, default=()
    )
    circles: tuple[Circle, ...] = key(
        list_of(inner(Circle), alone=True), "round cut-outs", {"centre": ["2", "3"], "diameter": "2"}, default=()
    )

    @property
    def place(self) -> Where:
        """Where a fault in this template stands."""
        return numbered_place(WORD, self.number, self.name)

    @staticmethod
    def fill(here: Here) -> dict[str, Any]:
        """All that is worked on a board has to lie within its outline; what has no name is counted."""
        box = BoardBox(here("width"), here("height"))
        outline = here.where(box=box)("outline") or rectangle(box.width, box.height)
        board = here.where(box=box, outline=outline)
        return {
            "width": box.width,
            "height": box.height,
            "outline": outline,
            "grooves": _counted(board("grooves"), "groove"),
            "rabbets": board("rabbets"),
            "holes": tuple(hole for row in board("holes") for hole in row),
            "circles": _counted(board("circles"), "cut-out"),
        }


def _counted(things: Sequence[Any], word: str) -> tuple[Any, ...]:
    """What has no name is called after what it is, and counted."""
    return tuple(replace(thing, name=thing.name or f"{word} {number}") for number, thing in enumerate(things, 1))


@table("A board of a cabinet, by name.")
class CabinetBoard:
    """A board template of a cabinet's part: of ``board``, the cabinet's name and the part's, on one ``face`` of it."""

    number: int
    name: str = own_name(WORD, "Left side")
    board: str = key(replace(NAME, names="board"), "the cabinet's name and the part's", "Press left side")
    face: Face | None = key(
        word_of(Face),
        "which face of a divider or a shelf it is",
        "left",
        default=None,
        otherwise="not needed for others",
    )

    @property
    def place(self) -> Where:
        """Where a fault in this template stands."""
        return numbered_place(WORD, self.number, self.name)


def _cabinet_board(number: int, name: str, board: str, face: Face | None) -> CabinetBoard:
    """One that was given no name is called as its board is."""
    return CabinetBoard(number, board if name == default_name(WORD, number) else name, board, face)


Board: TypeAlias = FreeBoard | CabinetBoard

CABINET_BOARD: Final = replace(table_of(CabinetBoard), build=_cabinet_board)


BOARDS: Final = counted(WORD, FreeBoard, {"board": CABINET_BOARD}, "tables under [[template]]")
"""The board templates in which nothing is at fault."""
