"""What of a strip runs on below its marking edge, to be folded over the stick's edge until it touches the work.

The fold is the marking edge, y = 0; the outer edge, that lies on the work, is at y = -wrap. A part's band and every
fine line run over both; a groove stands in its part's band as a black block on the outer edge.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from storystick.drawing.bands import BAND_GREY, EDGE_MM, STRAIGHTEDGE_DASH_MM, black_ends, cross
from storystick.drawing.folds import draw_fold, white_stretches
from storystick.drawing.lanes import REGISTER_FROM_EDGE_MM, SEAM_KEEP_MM, WORDS_PT
from storystick.drawing.lettering import text_width_mm
from storystick.drawing.shapes import FINE_MM, Anchor, Box, Line, Shape, Text
from storystick.drawing.window import Window
from storystick.layout.model import PlacedPart, PointKind, StickLayout

_GROOVE_MM: Final = 3.0
_LEAST_CROSS_MM: Final = 2.0
_WORD: Final = "FOLD"
_WORD_BASELINE: Final = -3.4
_WORD_MM: Final = 4.4
_WORDS_APART_MM: Final = 150.0


def draw_wrap(layout: StickLayout, window: Window, wrap_mm: float) -> Iterator[Shape]:
    """What a window has below its marking edge, ``wrap_mm`` high, and its fold."""
    if not wrap_mm:
        return
    for placed in layout.parts:
        yield from _band(placed, window, wrap_mm)
    for station in filter(window.shows, layout.bare_edges):
        yield Line(window.x(station), -wrap_mm, window.x(station), 0.0, FINE_MM)
    for point in layout.points:
        if window.shows(point.at):
            dash = STRAIGHTEDGE_DASH_MM if point.kind is PointKind.STRAIGHTEDGE else ()
            yield Line(window.x(point.at), 0.0, window.x(point.at), -wrap_mm, FINE_MM, dash)
    stretches = white_stretches(layout, window)
    yield from draw_fold(stretches, 0.0)
    if wrap_mm >= _WORD_MM:
        yield from _fold_words(stretches, window)


def wrap_register_heights(wrap_mm: float) -> tuple[float, ...]:
    """Where the register mark of a seam sits below the fold; none where there is no room for one."""
    height = REGISTER_FROM_EDGE_MM - wrap_mm
    return (height,) if height <= -REGISTER_FROM_EDGE_MM else ()


def _band(placed: PlacedPart, window: Window, wrap_mm: float) -> Iterator[Shape]:
    """A part's band, and its groove's block in it; both are filled, so their edges are the edges of their ink."""
    span, groove = placed.span, placed.groove
    stretch = window.stretch(span.start, span.end)
    if stretch is None:
        return
    left, right = stretch
    block = min(_GROOVE_MM, wrap_mm / 2) if groove else 0.0
    yield Box(left, -wrap_mm, right - left, wrap_mm, BAND_GREY)
    if wrap_mm - block >= _LEAST_CROSS_MM:
        whole = sorted((window.x(span.start), window.x(span.end)))
        yield from cross(whole, left, right, block - wrap_mm, 0.0)
    yield from black_ends(span, window, left, right, -wrap_mm, wrap_mm, _edge_beside(placed))
    if groove and (shown := window.stretch(groove.start, groove.end)):
        yield Box(shown[0], -wrap_mm, shown[1] - shown[0], block)


def _edge_beside(placed: PlacedPart) -> float:
    """How wide the black ends of a band are: a groove close to one stays apart from it."""
    if placed.groove is None:
        return EDGE_MM
    shoulders = (placed.groove.start - placed.span.start, placed.span.end - placed.groove.end)
    return min([EDGE_MM, *(float(shoulder) / 2 for shoulder in shoulders if shoulder)])


def _fold_words(stretches: Iterable[tuple[float, float]], window: Window) -> Iterator[Text]:
    """The word below the fold, in the middle of openings that have room for it, not too close to each other."""
    room, nearest = text_width_mm(_WORD, WORDS_PT) + 1.0, 0.0
    for stretch in stretches:
        left, right = max(stretch[0], SEAM_KEEP_MM), min(stretch[1], window.width - SEAM_KEEP_MM)
        middle = (left + right) / 2
        if right - left >= room and middle >= nearest:
            yield Text(middle, _WORD_BASELINE, _WORD, WORDS_PT, Anchor.MIDDLE)
            nearest = middle + _WORDS_APART_MM
