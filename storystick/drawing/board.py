"""A board template: the rectangle drawn in one piece, the ink that is struck from, stations in words.

Every edge of a box is that of its ink: one black area, with a grey one in it where it is wide enough for both. No
stroke runs over a box or along its edge.

A face is drawn as it is looked at, its stations told from the front as on the sticks: right = look × up.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from string import ascii_uppercase
from typing import Final

from storystick.drawing.placing_words import gaps
from storystick.drawing.shapes import BAND_GREY, EDGE_MM, FINE_MM, Box, Line, Path, Shape
from storystick.layout.board import BoardLayout, Cut, Hole
from storystick.layout.cabinets.pieces import Range
from storystick.lengths import Figures
from storystick.outline import Place, Spot, circle_spots

BESIDE_BOX_MM: Final = 0.3
"""A stroke ends so far before a filled box, so that the box's edge is that of the ink."""


@dataclass(frozen=True, slots=True)
class Pane:
    """What lies within the stations ``x`` and ``y`` of a board, drawn from 0, 0 at its lower left.

    It is in ``column`` of ``columns`` from the left and in ``row`` of ``rows`` from below.
    """

    board: BoardLayout
    x: Range
    y: Range
    column: int = 1
    row: int = 1
    columns: int = 1
    rows: int = 1

    @property
    def name(self) -> str:
        """A letter for its column and a number for its row: A1 is at the lower left."""
        return pane_name(self.column, self.row)

    @property
    def is_whole(self) -> bool:
        return self.columns == self.rows == 1

    @property
    def width(self) -> float:
        return float(self.x.size)

    @property
    def height(self) -> float:
        return float(self.y.size)

    @property
    def has_right_tab(self) -> bool:
        return self.column < self.columns

    @property
    def has_upper_tab(self) -> bool:
        return self.row < self.rows

    def at(self, spot: Spot) -> tuple[float, float]:
        """Where a place lies, in mm from the pane's lower left."""
        return float(spot[0] - self.x.start), float(spot[1] - self.y.start)

    def shows(self, place: Place) -> bool:
        """Whether a mark here is this pane's: one on a seam belongs to the pane that it starts."""
        pairs = ((place.x, self.x, self.board.width), (place.y, self.y, self.board.height))
        return all(stretch.start <= at < stretch.end or at == stretch.end == far for at, stretch, far in pairs)

    def reaches(self, centre: Place, radius: Fraction) -> bool:
        """Whether a circle's box and the pane have anything in common."""
        pairs = ((centre.x, self.x), (centre.y, self.y))
        return all(stretch.start <= at + radius and at - radius <= stretch.end for at, stretch in pairs)

    def box(self, cut: Cut) -> Box | None:
        """What shows of a cut; None where nothing does."""
        left, right = max(cut.x.start, self.x.start), min(cut.x.end, self.x.end)
        low, high = max(cut.y.start, self.y.start), min(cut.y.end, self.y.end)
        if left >= right or low >= high:
            return None
        return Box(*self.at((left, low)), float(right - left), float(high - low))

    def strokes(self, spots: Iterable[Spot], width_mm: float) -> Iterator[Line]:
        """What shows of a way from spot to spot."""
        for start, end in self._chords(spots):
            yield Line(*start, *end, width_mm)

    def paths(self, spots: Sequence[Spot]) -> Iterator[Path]:
        """What shows of a way that ends where it begins: all of it, or each stretch of it, in one stroke."""
        if self.is_whole:
            yield Path(tuple(map(self.at, spots[:-1])))
            return
        stretches: list[list[tuple[float, float]]] = []
        for start, end in self._chords(spots):
            if stretches and stretches[-1][-1] == start:
                stretches[-1].append(end)
            else:
                stretches.append([start, end])
        if len(stretches) > 1 and stretches[-1][-1] == stretches[0][0]:
            stretches[0][:1] = stretches.pop()
        for points in stretches:
            closed = points[0] == points[-1]
            yield Path(tuple(points[:-1] if closed else points), closed=closed)

    def _chords(self, spots: Iterable[Spot]) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
        for start, end in pairwise(spots):
            if ends := _clipped(self.at(start), self.at(end), self.width, self.height):
                yield ends


def whole_pane(board: BoardLayout) -> Pane:
    """A board in one piece."""
    return Pane(board, Range(Fraction(0), board.width), Range(Fraction(0), board.height))


def pane_name(column: int, row: int) -> str:
    """A letter for the column, after Z two letters, and a number for the row."""
    before, last = divmod(column - 1, len(ascii_uppercase))
    return f"{ascii_uppercase[before - 1] if before else ''}{ascii_uppercase[last]}{row}"


def beside_boxes(line: Line, boxes: Iterable[Box]) -> Iterator[Line]:
    """What is left of a level or upright line where it does not run over boxes or along their edges."""
    level = line.y1 == line.y2
    if not level and line.x1 != line.x2:
        yield line
        return
    across = line.y1 if level else line.x1
    start, end = sorted((line.x1, line.x2) if level else (line.y1, line.y2))
    reach = BESIDE_BOX_MM + line.width_mm / 2
    for left, right in gaps(_stretches(boxes, level, across, reach), start, end):
        ends = (left, across, right, across) if level else (across, left, across, right)
        yield Line(*ends, line.width_mm, line.dash_mm)


def _stretches(boxes: Iterable[Box], level: bool, across: float, reach: float) -> Iterator[tuple[float, float]]:
    """From where to where boxes are in the way of a line."""
    for box in boxes:
        low, high = (box.y, box.y + box.height) if level else (box.x, box.x + box.width)
        if low - reach < across < high + reach:
            start, size = (box.x, box.width) if level else (box.y, box.height)
            yield start - BESIDE_BOX_MM, start + size + BESIDE_BOX_MM


def _clipped(
    one: tuple[float, float], other: tuple[float, float], width: float, height: float
) -> tuple[tuple[float, float], tuple[float, float]] | None:
    """What of a stroke lies in a rectangle from 0, 0, its edges among it (Liang and Barsky's way)."""
    run, rise = other[0] - one[0], other[1] - one[1]
    first, last = 0.0, 1.0
    for step, room in ((-run, one[0]), (run, width - one[0]), (-rise, one[1]), (rise, height - one[1])):
        if step == 0:
            if room < 0:
                return None
        elif step < 0:
            first = max(first, room / step)
        else:
            last = min(last, room / step)
    if first >= last:
        return None
    start = one if first == 0 else (one[0] + first * run, one[1] + first * rise)
    end = other if last == 1 else (one[0] + last * run, one[1] + last * rise)
    return start, end


CROSS_ARM_MM: Final = 2.6
"""How far the cross on the centre of a hole or a cut-out reaches from it."""


def draw_board(pane: Pane) -> Iterator[Shape]:
    """All that a pane shows, without words."""
    yield from draw_marks(pane)
    yield from cut_paths(pane)


def draw_marks(pane: Pane) -> Iterator[Shape]:
    """All that a pane shows but for what is cut through, without words."""
    boxes = boxes_of(pane)
    for cut in pane.board.cuts:
        yield from _cut(cut, pane)
    for line in fine_lines(pane):
        yield from beside_boxes(line, boxes)
    for hole in pane.board.holes:
        yield from _round(hole, pane)
    for centre in (*(hole.at for hole in pane.board.holes), *(cut_out.centre for cut_out in pane.board.cut_outs)):
        if pane.shows(centre):
            yield from _cross(*pane.at(centre), boxes)


def cut_paths(pane: Pane) -> Iterator[Path]:
    """What shows of the outline, which runs on past the ends of grooves, and then of the cut-outs."""
    yield from pane.paths(pane.board.outline.spots)
    for cut_out in pane.board.cut_outs:
        yield from pane.paths(circle_spots(cut_out.centre, cut_out.diameter / 2))


def boxes_of(pane: Pane) -> tuple[Box, ...]:
    """What shows of the cuts."""
    return tuple(box for cut in pane.board.cuts if (box := pane.box(cut)))


def fine_lines(pane: Pane) -> Iterator[Line]:
    """What shows of shoulders, and of parts that are not let in."""
    for line in pane.board.lines:
        yield from pane.strokes((line.start, line.end), FINE_MM)


def _cut(cut: Cut, pane: Pane) -> Iterator[Box]:
    box = pane.box(cut)
    if box is None:
        return
    yield box
    if min(cut.x.size, cut.y.size) <= 3 * EDGE_MM:
        return
    left, right = (EDGE_MM * within for within in (cut.x.start >= pane.x.start, cut.x.end <= pane.x.end))
    low, high = (EDGE_MM * within for within in (cut.y.start >= pane.y.start, cut.y.end <= pane.y.end))
    width, height = box.width - left - right, box.height - low - high
    if width > 0 and height > 0:
        yield Box(box.x + left, box.y + low, width, height, BAND_GREY)


def _round(hole: Hole, pane: Pane) -> Iterator[Path]:
    """A hole itself, where its size is known and some of it shows."""
    if hole.diameter and pane.reaches(hole.at, hole.diameter / 2):
        yield from pane.paths(circle_spots(hole.at, hole.diameter / 2))


def _cross(x: float, y: float, boxes: Sequence[Box]) -> Iterator[Line]:
    """A cross on a centre; its arms end before the edges of a box, whether the centre lies in that or beside it."""
    around = [box for box in boxes if box.x < x < box.x + box.width and box.y < y < box.y + box.height]
    left, right, low, high = (
        min([CROSS_ARM_MM, *(room - BESIDE_BOX_MM - EDGE_MM for room in rooms)])
        for rooms in (
            [x - box.x for box in around],
            [box.x + box.width - x for box in around],
            [y - box.y for box in around],
            [box.y + box.height - y for box in around],
        )
    )
    beside = [box for box in boxes if box not in around]
    for line in (Line(x - left, y, x + right, y), Line(x, y - low, x, y + high)):
        yield from beside_boxes(line, beside)


def x_words(board: BoardLayout, x: Fraction, figures: Figures) -> str:
    """A station to the right, with the edge that it is told from."""
    return f"{figures(board.x_station(x))} from {board.x_datum}"


def y_words(board: BoardLayout, y: Fraction, figures: Figures) -> str:
    """A station upward, with the edge that it is told from."""
    return f"{figures(board.y_station(y))} from {board.y_datum}"


def stretch_words(station: Callable[[Fraction], Fraction], stretch: Range, figures: Figures) -> str:
    """A stretch of a board by its ends, as ``station`` tells each from the board's edge, the lower one first."""
    ends = sorted(station(end) for end in (stretch.start, stretch.end))
    return " to ".join(figures(end) for end in ends)
