"""The ink of a board template that is struck from: cuts as filled boxes, all else in fine lines.

Every edge of a box is that of its ink: one black area, with a grey one in it where it is wide enough for both. No
stroke runs over a box or along its edge.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from storystick.drawing.pane import BESIDE_BOX_MM, Pane, beside_boxes
from storystick.drawing.shapes import FINE_MM, Box, Line, Shape
from storystick.job.outline import Arc, circle_spots
from storystick.layout.board import Cut, Hole

CROSS_ARM_MM: Final = 2.6
"""How far the cross on the centre of a hole or a cut-out reaches from it."""

_GREY: Final = 0.86
_EDGE_MM: Final = 0.35


def draw_board(pane: Pane) -> Iterator[Shape]:
    """All that a pane shows, without words."""
    boxes = boxes_of(pane)
    for cut in pane.board.cuts:
        yield from _cut(cut, pane)
    for line in _straight_lines(pane):
        yield from beside_boxes(line, boxes)
    yield from curves(pane)
    for hole in pane.board.holes:
        yield from _round(hole, pane)
    for centre in (*(hole.at for hole in pane.board.holes), *(cut_out.centre for cut_out in pane.board.cut_outs)):
        if pane.shows(centre):
            yield from _cross(*pane.at(centre), boxes)


def boxes_of(pane: Pane) -> tuple[Box, ...]:
    """What shows of the cuts."""
    return tuple(box for cut in pane.board.cuts if (box := pane.box(cut)))


def curves(pane: Pane) -> Iterator[Line]:
    """What shows of the outline's arcs and of the cut-outs."""
    for side in pane.board.outline.sides:
        if isinstance(side, Arc):
            yield from pane.strokes(side.spots, FINE_MM)
    for cut_out in pane.board.cut_outs:
        yield from pane.strokes(circle_spots(cut_out.centre, cut_out.diameter / 2), FINE_MM)


def straight_sides(pane: Pane) -> Iterator[Line]:
    """What shows of the outline's straight sides."""
    for side in pane.board.outline.sides:
        if not isinstance(side, Arc):
            yield from pane.strokes(side.spots, FINE_MM)


def fine_lines(pane: Pane) -> Iterator[Line]:
    """What shows of shoulders, and of parts that are not let in."""
    for line in pane.board.lines:
        yield from pane.strokes((line.start, line.end), FINE_MM)


def _straight_lines(pane: Pane) -> Iterator[Line]:
    yield from straight_sides(pane)
    yield from fine_lines(pane)


def _cut(cut: Cut, pane: Pane) -> Iterator[Box]:
    box = pane.box(cut)
    if box is None:
        return
    yield box
    if min(cut.x.size, cut.y.size) <= 3 * _EDGE_MM:
        return
    left, right = (_EDGE_MM * within for within in (cut.x.start >= pane.x.start, cut.x.end <= pane.x.end))
    low, high = (_EDGE_MM * within for within in (cut.y.start >= pane.y.start, cut.y.end <= pane.y.end))
    width, height = box.width - left - right, box.height - low - high
    if width > 0 and height > 0:
        yield Box(box.x + left, box.y + low, width, height, _GREY)


def _round(hole: Hole, pane: Pane) -> Iterator[Line]:
    """A hole itself, where its size is known and some of it shows."""
    if hole.diameter and pane.reaches(hole.at, hole.diameter / 2):
        yield from pane.strokes(circle_spots(hole.at, hole.diameter / 2), FINE_MM)


def _cross(x: float, y: float, boxes: Sequence[Box]) -> Iterator[Line]:
    """A cross on a centre; its arms end before the edges of a box, whether the centre lies in that or beside it."""
    around = [box for box in boxes if box.x < x < box.x + box.width and box.y < y < box.y + box.height]
    left, right, low, high = (
        min([CROSS_ARM_MM, *(room - BESIDE_BOX_MM - _EDGE_MM for room in rooms)])
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
