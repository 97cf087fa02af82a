"""What of a strip runs on below its marking edge, and where its paper is folded over the stick's edge.

The fold is the marking edge, y = 0; the outer edge, that lies on the work, is at y = -wrap. A part's band and every
fine line run over both; a groove stands in its part's band as a black block on the outer edge.

No band is crossed by it, so that it is never in the way of an edge that is struck from.

Nothing above the marking edge moves for a wrap, so whatever reads a strip reads a wrapped one too.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from storystick.drawing.lettering import WORDS_PT, text_width_mm
from storystick.drawing.placing_words import gaps
from storystick.drawing.shapes import EDGE_MM, FINE_MM, Anchor, Box, Line, Shape, Text
from storystick.drawing.strip_bands import STRAIGHTEDGE_DASH_MM, draw_band
from storystick.drawing.window import REGISTER_FROM_EDGE_MM, SEAM_KEEP_MM, TAB_MM, Window
from storystick.layout.stations import PlacedPart, PointKind, SpanKind, StickLayout

TICK_MM: Final = 3.0
"""So far beyond the end of a tile its fold ticks reach."""

_DASH_MM: Final = (2.0, 1.2)
OFF_INK_MM: Final = 0.8
"""A fold keeps so far from whatever is struck from."""


def white_stretches(layout: StickLayout, window: Window) -> list[tuple[float, float]]:
    """From where to where, in mm from the window's left, nothing that is struck from stands on the marking edge."""
    positions = (*layout.bare_edges, *(point.at for point in layout.points))
    lines = sorted(window.x(station) for station in positions if window.start <= station <= window.end)
    openings = (window.stretch(span.start, span.end) for span in layout.spans if span.kind is SpanKind.OPENING)
    white: list[tuple[float, float]] = []
    for left, right in sorted(filter(None, openings)):
        edges = (left, *(x for x in lines if left < x < right), right)
        white += gaps(((x - OFF_INK_MM, x + OFF_INK_MM) for x in edges), left, right)
    return [(left, right) for left, right in white if right - left >= _DASH_MM[0]]


def draw_fold(stretches: Iterable[tuple[float, float]], y: float) -> Iterator[Line]:
    """The fold at the height ``y``, dashed over the stretches."""
    for left, right in stretches:
        yield Line(left, y, right, y, FINE_MM, _DASH_MM)


def fold_ticks(window: Window, y: float) -> Iterator[Line]:
    """The fold beyond both ends of a window: a short tick to lay a straightedge on, or dashes across its tab."""
    for station in (window.start, window.end):
        x, outward = window.x(station), window.direction * (1 if station == window.end else -1)
        near = x + outward * OFF_INK_MM
        if station == window.end and window.has_tab:
            yield Line(near, y, x + outward * (TAB_MM - OFF_INK_MM), y, FINE_MM, _DASH_MM)
        else:
            yield Line(near, y, x + outward * TICK_MM, y, FINE_MM)


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
    block = min(_GROOVE_MM, wrap_mm / 2) if groove else 0.0
    crossed_from = block - wrap_mm if wrap_mm - block >= _LEAST_CROSS_MM else None
    yield from draw_band(span, window, -wrap_mm, 0.0, crossed_from, _edge_beside(placed))
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
