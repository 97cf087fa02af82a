"""A part seen on the face that a stopped cut is made in, with the edge that the guide runs on below. Not to scale."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Final, TypeAlias

from storystick.drawing.sections_of_cuts import PICTURE_WIDTH_MM
from storystick.drawing.shapes import Anchor, Box, Line, Shape, Text
from storystick.tooling.guided import GuidedCut

Label: TypeAlias = Callable[[Fraction], str]

_PART_MM: Final = 13.0
_LONG_MM: Final = PICTURE_WIDTH_MM - 2.0
_CUT_MM: Final = 2.6
_EDGE_MM: Final = 3.2
_END_MM: Final = 7.0
_GUIDE_MM: Final = 1.6
_FIGURE_PT: Final = 8.5
_WOOD: Final = 0.86
_IRON: Final = 0.6
_LIFT_MM: Final = 1.4


def draw_guided_cut(cut: GuidedCut, label: Label) -> tuple[Shape, ...]:
    """The part light with its cut black, the guide grey; a line and a figure where the cut starts and where it ends.

    It begins at 0, 0 and goes down; the end that figures count from is at the left.
    """
    bottom = -_PART_MM - 4.0
    start = _END_MM if cut.stops[0] else 0.0
    end = _LONG_MM - (_END_MM if cut.stops[1] else 0.0)
    low = bottom + (_EDGE_MM if cut.near else 0.0)
    figures = ((start, cut.low, Anchor.START), (end, cut.high, Anchor.END))
    return (
        Box(0.0, bottom, _LONG_MM, _PART_MM, _WOOD),
        Box(start, low, end - start, _CUT_MM),
        Box(0.0, bottom - _GUIDE_MM, _LONG_MM, _GUIDE_MM, _IRON),
        *(Line(x, bottom, x, bottom + _PART_MM + _LIFT_MM / 2) for x, _, _ in figures),
        *(Text(x, bottom + _PART_MM + _LIFT_MM, label(at), _FIGURE_PT, anchor) for x, at, anchor in figures),
    )
