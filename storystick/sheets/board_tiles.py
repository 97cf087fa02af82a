"""A tile of a board template: what is needed to cut it out and to join it at its right and upper edge."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.drawing.board import Pane, beside_boxes, boxes_of, draw_board, pane_name, x_words, y_words
from storystick.drawing.board_words import BoardWords
from storystick.drawing.lettering import WORDS_PT, text_width_mm
from storystick.drawing.shapes import Anchor, Line, Shape, Text
from storystick.drawing.window import TAB_MM
from storystick.job.job import Job
from storystick.layout.board import BoardLayout
from storystick.outline import Place
from storystick.sheets.seams import CLEARANCE, CUT_MM, REGISTER_ARM_MM, REGISTER_MM, TAB_DASH

AROUND_MM: Final = Fraction(3)
"""Room beyond an edge that has no tab: for half a line, and for what is cut along."""

_FROM_END: Final = range(6, 31)
"""How far from the ends of a seam its outermost register marks may stand, in mm."""


@dataclass(frozen=True, slots=True)
class BoardTile:
    """A pane with its words and the register marks that are printed on it too."""

    job: Job
    pane: Pane
    words: BoardWords
    register: tuple[Place, ...]

    @property
    def name(self) -> str:
        return self.pane.board.name

    @property
    def begins(self) -> bool:
        return self.pane.column == self.pane.row == 1

    @property
    def left_mm(self) -> float:
        return float(AROUND_MM)

    @property
    def below_mm(self) -> float:
        return float(AROUND_MM)

    @property
    def width_mm(self) -> float:
        return float(AROUND_MM) + self.pane.width + (TAB_MM if self.pane.has_right_tab else float(AROUND_MM))

    @property
    def height_mm(self) -> float:
        return float(AROUND_MM) + self.pane.height + (TAB_MM if self.pane.has_upper_tab else float(AROUND_MM))

    def draw(self) -> Iterator[Shape]:
        """Its shapes, 0, 0 at the pane's lower left."""
        yield from draw_board(self.pane)
        yield from self.words.shapes
        yield from _cutting_lines(self.pane)
        yield from _tabs(self.pane, self.job)
        for place in self.register:
            yield from _register_mark(place, self.pane)


def register_places(seams_x: Sequence[Fraction], seams_y: Sequence[Fraction], board: BoardLayout) -> tuple[Place, ...]:
    """Where tiles are brought together: wherever seams cross, and near both ends of every seam."""
    crossings = [Place(x, y) for x in seams_x for y in seams_y]
    upright = [_clear([Place(x, y) for y in end], board) for x in seams_x for end in _near_ends(board.height)]
    level = [_clear([Place(x, y) for x in end], board) for y in seams_y for end in _near_ends(board.width)]
    return tuple(dict.fromkeys((*crossings, *upright, *level)))


def _near_ends(length: Fraction) -> tuple[list[Fraction], list[Fraction]]:
    """Stations near both ends of a seam and on it, outward ones first; its middle where it is too short for any."""
    inward = [Fraction(mm) for mm in _FROM_END if mm < length] or [length / 2]
    return inward, [length - mm for mm in inward]


def _clear(places: Sequence[Place], board: BoardLayout) -> Place:
    """The first place that keeps off the marks as a seam does, and out of the cuts; else the first of all."""
    return next((place for place in places if _keeps_clear(place, board)), places[0])


def _keeps_clear(place: Place, board: BoardLayout) -> bool:
    stretches = [
        *((cut.x.start, cut.x.end, cut.y.start, cut.y.end) for cut in board.cuts),
        *((line.start.x, line.end.x, line.start.y, line.end.y) for line in board.lines),
        *((at.x, at.x, at.y, at.y) for at in (*board.outline.corners, *(hole.at for hole in board.holes))),
    ]
    return not any(
        min(left, right) - CLEARANCE < place.x < max(left, right) + CLEARANCE
        and min(low, high) - CLEARANCE < place.y < max(low, high) + CLEARANCE
        for left, right, low, high in stretches
    )


def on_pane(places: Iterable[Place], pane: Pane) -> tuple[Place, ...]:
    """Those that lie within a pane or at its edges."""
    return tuple(
        place for place in places if pane.x.start <= place.x <= pane.x.end and pane.y.start <= place.y <= pane.y.end
    )


def _cutting_lines(pane: Pane) -> Iterator[Line]:
    """Along the seams that the tile begins at; a box that runs over one ends there, and shows where to cut."""
    lines = []
    if pane.column > 1:
        lines.append(Line(0.0, 0.0, 0.0, pane.height, CUT_MM))
    if pane.row > 1:
        lines.append(Line(0.0, 0.0, pane.width, 0.0, CUT_MM))
    for line in lines:
        yield from beside_boxes(line, boxes_of(pane))


def _tabs(pane: Pane, job: Job) -> Iterator[Shape]:
    """Paper beyond the right and the upper seam, for the next tile to be laid on, with the seam's station."""
    width, height = pane.width, pane.height
    boxes = boxes_of(pane)
    if pane.has_right_tab:
        outer = width + TAB_MM
        yield from beside_boxes(Line(width, 0.0, width, height, CUT_MM, TAB_DASH), boxes)
        for line in ((width, 0.0, outer, 0.0), (width, height, outer, height), (outer, 0.0, outer, height)):
            yield Line(*line, CUT_MM)
        words = _tab_words(pane_name(pane.column + 1, pane.row), x_words(pane.board, pane.x.end, job.figures), height)
        yield Text(width + TAB_MM / 2 + 0.7, height / 2, words, WORDS_PT, Anchor.MIDDLE, upward=True)
    if pane.has_upper_tab:
        outer = height + TAB_MM
        yield from beside_boxes(Line(0.0, height, width, height, CUT_MM, TAB_DASH), boxes)
        for line in ((0.0, height, 0.0, outer), (width, height, width, outer), (0.0, outer, width, outer)):
            yield Line(*line, CUT_MM)
        words = _tab_words(pane_name(pane.column, pane.row + 1), y_words(pane.board, pane.y.end, job.figures), width)
        yield Text(width / 2, height + TAB_MM / 2 - 0.7, words, WORDS_PT, Anchor.MIDDLE)


def _tab_words(following: str, station: str, room: float) -> str:
    choices = (f"tile {following} goes here · {station}", f"{following} · {station}", station, following)
    return next((text for text in choices if text_width_mm(text, WORDS_PT) <= room - 2 * REGISTER_ARM_MM), "")


def _register_mark(place: Place, pane: Pane) -> Iterator[Line]:
    """A cross; where the tile begins, only what is left of it when the tile is cut there."""
    x, y = pane.at(place)
    left = x if place.x == pane.x.start else x - REGISTER_ARM_MM
    bottom = y if place.y == pane.y.start else y - REGISTER_ARM_MM
    yield Line(left, y, x + REGISTER_ARM_MM, y, REGISTER_MM)
    yield Line(x, bottom, x, y + REGISTER_ARM_MM, REGISTER_MM)
