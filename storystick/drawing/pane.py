"""The rectangle of a board that is drawn in one piece: where its exact places become floats, each once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from string import ascii_uppercase
from typing import Final

from storystick.drawing.shapes import Box, Line
from storystick.job.outline import Place, Spot
from storystick.layout.board import BoardLayout, Cut
from storystick.layout.cabinets.model import Range

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
        for one, other in pairwise(spots):
            ends = _clipped(self.at(one), self.at(other), self.width, self.height)
            if ends:
                yield Line(*ends[0], *ends[1], width_mm)


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
    for left, right in sorted(_stretches(boxes, level, across, reach)):
        if left > start:
            yield _along(line, level, start, min(left, end))
        start = max(start, right)
        if start >= end:
            return
    yield _along(line, level, start, end)


def _stretches(boxes: Iterable[Box], level: bool, across: float, reach: float) -> Iterator[tuple[float, float]]:
    """From where to where boxes are in the way of a line."""
    for box in boxes:
        low, high = (box.y, box.y + box.height) if level else (box.x, box.x + box.width)
        if low - reach < across < high + reach:
            start, size = (box.x, box.width) if level else (box.y, box.height)
            yield start - BESIDE_BOX_MM, start + size + BESIDE_BOX_MM


def _along(line: Line, level: bool, start: float, end: float) -> Line:
    ends = (start, line.y1, end, line.y1) if level else (line.x1, start, line.x1, end)
    return Line(*ends, line.width_mm, line.dash_mm)


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
