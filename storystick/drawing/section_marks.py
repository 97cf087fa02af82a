"""The marks of planes in an elevation, of the front in other views, and the titles of views. All in mm on paper."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from storystick.drawing.lettering import SIZE_MM, WORDS_PT, points_of
from storystick.drawing.shapes import NARROW_MM, WIDE_MM, Anchor, Area, Line, Rect, Shape, Text

BAND_MM: Final = 6.5
"""What the marks take round an elevation."""

_TITLE_PT: Final = points_of(SIZE_MM)
_CHAIN_MM: Final = (6.0, 1.2, 0.6, 1.2)
_ARROW_MM: Final = 2.0
_OUT_MM: Final = 0.6
_IN_MM: Final = 3.8


def title(words: str, left: float, baseline: float) -> Text:
    return Text(left, baseline, words, _TITLE_PT, bold=True)


def side_mark(x: float, foot: float) -> Iterator[Shape]:
    """The mark of the plane A–A over the elevation, arrows to the left, the way it is looked."""
    low, high = foot - BAND_MM, BAND_MM
    yield Line(x, low + _IN_MM, x, high - _IN_MM, NARROW_MM, _CHAIN_MM)
    for out, inner in ((low + _OUT_MM, low + _IN_MM), (high - _OUT_MM, high - _IN_MM)):
        yield Line(x, out, x, inner, WIDE_MM)
        middle = (out + inner) / 2
        yield from _arrow(x, middle, -1.0, 0.0)
        yield Text(x + 1.2, middle - SIZE_MM / 2, "A", _TITLE_PT, bold=True)


def plan_mark(y: float, right: float) -> Iterator[Shape]:
    """The mark of the plane B–B, arrows downward."""
    low, high = -BAND_MM, right + BAND_MM
    yield Line(low + _IN_MM, y, high - _IN_MM, y, NARROW_MM, _CHAIN_MM)
    for out, inner in ((low + _OUT_MM, low + _IN_MM), (high - _OUT_MM, high - _IN_MM)):
        yield Line(out, y, inner, y, WIDE_MM)
        middle = (out + inner) / 2
        yield from _arrow(middle, y, 0.0, -1.0)
        yield Text(middle, y + 1.2, "B", _TITLE_PT, Anchor.MIDDLE, bold=True)


def _arrow(x: float, y: float, across: float, up: float) -> Iterator[Shape]:
    """An arrow from a place: a shaft and a head, each as long."""
    root = (x + _ARROW_MM * across, y + _ARROW_MM * up)
    half_x, half_y = abs(up) * _ARROW_MM / 3, abs(across) * _ARROW_MM / 3
    yield Line(x, y, *root, WIDE_MM)
    tip = (x + 2 * _ARROW_MM * across, y + 2 * _ARROW_MM * up)
    yield Area((tip, (root[0] - half_x, root[1] - half_y), (root[0] + half_x, root[1] + half_y)))


def front_below(x: float, edge: float) -> Iterator[Shape]:
    """The word FRONT under a plan, between two pointers downward."""
    text = Text(x, edge - 4.0, "FRONT", WORDS_PT, Anchor.MIDDLE, bold=True)
    yield text
    for middle in (text.extent.left - 2.4, text.extent.right + 2.4):
        yield _pointer(Rect(middle - 1.1, edge - 4.0, middle + 1.1, edge - 1.6), down=True)


def front_at_left(edge: float, top: float) -> Iterator[Shape]:
    """The same over the upper left corner of a section, a pointer to the left before it."""
    yield _pointer(Rect(edge, top + 3.6, edge + 2.4, top + 5.8), down=False)
    yield Text(edge + 3.4, top + 3.4, "FRONT", WORDS_PT, bold=True)


def _pointer(within: Rect, down: bool) -> Area:
    left, bottom, right, top = within
    corners = ((left, top), (right, top), ((left + right) / 2, bottom))
    return Area(corners if down else ((right, top), (right, bottom), (left, (bottom + top) / 2)))
