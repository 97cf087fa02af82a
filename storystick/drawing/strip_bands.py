"""The ink that is struck from (parts, grooves, points), and the scale along a strip's upper edge."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor
from typing import Final

from storystick.drawing.lettering import text_width_mm
from storystick.drawing.placing_words import Lane, gaps
from storystick.drawing.shapes import BAND_GREY, EDGE_MM, FINE_MM, Anchor, Area, Box, Line, Rect, Shape, Text
from storystick.drawing.strip_lanes import (
    BESIDE_BOTTOM,
    BESIDE_TOP,
    FLAG_MM,
    GROOVE_BOTTOM,
    GROOVE_TOP,
    MARK_TOP,
    POINTER_TOP,
    TICK_TOP,
    WORDS_PT,
    StripLanes,
)
from storystick.drawing.window import REGISTER_FROM_EDGE_MM, SEAM_KEEP_MM, TAB_MM, WORDS_KEEP_MM, Window
from storystick.layout.stations import PlacedPart, PointKind, Span, SpanKind, StickLayout
from storystick.lengths import INCH_MM, Figures, Units, write_exact

STRAIGHTEDGE_DASH_MM: Final = (1.6, 0.8)
_CROSS_MM: Final = 0.5
_POINTER_MM: Final = 0.9
_FLAG_TOP: Final = MARK_TOP - 0.4


def draw_bands(layout: StickLayout, window: Window) -> Iterator[Shape]:
    """The parts, grooves and points of a window, and the ends of the strip where no part stands there."""
    for span in layout.spans:
        if span.kind is SpanKind.PART:
            yield from draw_band(span, window, 0.0, MARK_TOP, crossed_from=0.0)
    for groove in layout.grooves:
        if stretch := window.stretch(groove.start, groove.end):
            yield Rect(stretch[0], GROOVE_BOTTOM, stretch[1], GROOVE_TOP).filled()
    for member in layout.beside:  # Its name will stand in the band, instead of a cross.
        yield from draw_band(member, window, BESIDE_BOTTOM, BESIDE_TOP)
    for station in layout.bare_edges:
        if window.shows(station):
            yield Line(window.x(station), 0.0, window.x(station), MARK_TOP)
            yield _pointer(window.x(station), GROOVE_BOTTOM)
    for point in layout.points:
        if window.shows(point.at):
            yield from POINT_SIGNS[point.kind].draw(window.x(point.at), point.toward * window.direction)


def draw_band(
    span: Span,
    window: Window,
    bottom: float,
    top: float,
    crossed_from: float | None = None,
    edge_mm: float = EDGE_MM,
) -> Iterator[Shape]:
    """A grey band, crossed from a height up to its top; its own ends, where they show, are black inside the exact edge.

    All of it is filled shapes whose outer edges are the span's, so no stroke spreads over them.
    """
    stretch = window.stretch(span.start, span.end)
    if stretch is None:
        return
    left, right = stretch
    yield Rect(left, bottom, right, top).filled(BAND_GREY)
    if crossed_from is not None:
        whole = sorted((window.x(span.start), window.x(span.end)))
        yield from _cross(whole, left, right, crossed_from, top)
    edge = min(edge_mm, (right - left) / 2)
    for station in (span.start, span.end):
        if window.start <= station <= window.end:
            x = window.x(station)
            yield Box(x if x == left else x - edge, bottom, edge, top - bottom)


def _cross(whole: Sequence[float], left: float, right: float, bottom: float, top: float) -> Iterator[Shape]:
    """The two diagonals of a band that runs over ``whole``, as far as they lie between ``left`` and ``right``.

    A band so thin that its ends are one float has none.
    """
    if whole[0] == whole[1]:
        return

    def rise(x: float) -> float:
        return (top - bottom - _CROSS_MM) * (x - whole[0]) / (whole[1] - whole[0])

    low, high = bottom + rise(left), bottom + rise(right)
    yield Area(((left, low), (right, high), (right, high + _CROSS_MM), (left, low + _CROSS_MM)))
    low, high = top - rise(left), top - rise(right)
    yield Area(((left, low), (right, high), (right, high - _CROSS_MM), (left, low - _CROSS_MM)))


def _pointer(x: float, top: float) -> Shape:
    """A filled arrowhead standing on the line at ``x``, its tip on the line."""
    tip = top - (POINTER_TOP - TICK_TOP)
    return Area(((x, tip), (x + _POINTER_MM, top), (x - _POINTER_MM, top)))


def _hole_sign(x: float, _: int) -> Iterator[Shape]:
    yield Line(x, 0.0, x, TICK_TOP)
    yield _pointer(x, POINTER_TOP)


def _centre_sign(x: float, _: int) -> Iterator[Shape]:
    """An open arrowhead, so that a centre is not taken for a hole."""
    yield Line(x, 0.0, x, TICK_TOP)
    for side in (-_POINTER_MM, _POINTER_MM):
        yield Line(x, TICK_TOP, x + side, POINTER_TOP, FINE_MM)


def _feature_sign(x: float, _: int) -> Iterator[Shape]:
    """A cross-bar, for what is there already and is not struck on the work."""
    yield Line(x, 0.0, x, TICK_TOP)
    yield Line(x - _POINTER_MM, TICK_TOP, x + _POINTER_MM, TICK_TOP, FINE_MM)
    yield Line(x, TICK_TOP, x, POINTER_TOP, FINE_MM)


def _straightedge_sign(x: float, toward: int) -> Iterator[Shape]:
    """A dashed line as high as a part, with a flag that points to its groove, away from the straightedge."""
    yield Line(x, 0.0, x, MARK_TOP, FINE_MM, STRAIGHTEDGE_DASH_MM)
    yield Area(((x, _FLAG_TOP), (x, _FLAG_TOP - 2 * _POINTER_MM), (x + toward * FLAG_MM, _FLAG_TOP - _POINTER_MM)))


@dataclass(frozen=True, slots=True)
class PointSign:
    """How a point is drawn, by its x and toward its groove, and what the job sheet says its look means."""

    draw: Callable[[float, int], Iterator[Shape]]
    look: str
    meaning: str


POINT_SIGNS: Final = {
    PointKind.HOLE: PointSign(
        _hole_sign, "filled arrowhead on a fine line", "a hole's centre, or a line between two openings"
    ),
    PointKind.CENTRE: PointSign(_centre_sign, "open arrowhead on a fine line", "a centre"),
    PointKind.FEATURE: PointSign(
        _feature_sign, "cross-bar on a fine line", "a feature of the wall, or a height above the floor"
    ),
    PointKind.STRAIGHTEDGE: PointSign(
        _straightedge_sign,
        "dashed line with a flag",
        "a straightedge's line, named with its bar; the flag points to the groove",
    ),
}


_TICKS_MM: Final = (1.2, 1.9, 2.6)
_DATUM_KEEP_MM: Final = 1.6


@dataclass(frozen=True, slots=True)
class _Graduation:
    """A scale's finest step in mm, and after how many steps a longer tick and a number come."""

    step: Fraction
    longer: int
    numbered: int


_GRADUATIONS: Final = {
    Units.INCH: _Graduation(INCH_MM / 4, 2, 4),
    Units.MM: _Graduation(Fraction(5), 2, 10),
}


def draw_scale(window: Window, lanes: StripLanes, figures: Figures) -> Iterator[Shape]:
    """Ticks at round stations; numbers where neither a seam's station nor the end of the strip is in their way."""
    lane = Lane()
    if window.start == 0:
        lane.take(*sorted((window.x(window.start), window.x(window.start) + window.direction * _DATUM_KEEP_MM)))
    for seam in window.seams:
        yield _seam_station(seam, window, lanes, figures, lane)
    scale = _GRADUATIONS[figures.units]
    for count in range(ceil(window.start / scale.step), floor(window.end / scale.step) + 1):
        station = count * scale.step
        x = window.x(station)
        length = _TICKS_MM[(count % scale.longer == 0) + (count % scale.numbered == 0)]
        yield Line(x, lanes.height_mm, x, lanes.height_mm - length, FINE_MM)
        if count % scale.numbered == 0:
            yield from _number(x, write_exact(station, figures.units), window, lanes, lane)


def _seam_station(seam: Fraction, window: Window, lanes: StripLanes, figures: Figures, lane: Lane) -> Shape:
    x = window.x(seam)
    inward = 1 if x == 0 else -1
    figure = figures(seam)
    width = text_width_mm(figure, WORDS_PT, bold=True)
    near = x + inward * WORDS_KEEP_MM
    lane.take(*sorted((x, near + inward * width)))
    anchor = Anchor.START if inward > 0 else Anchor.END
    return Text(near, lanes.scale_bottom + 0.8, figure, WORDS_PT, anchor, bold=True)


def _number(x: float, figure: str, window: Window, lanes: StripLanes, lane: Lane) -> Iterator[Shape]:
    half = text_width_mm(figure, WORDS_PT) / 2
    fits = half <= x - WORDS_KEEP_MM and half <= window.width - WORDS_KEEP_MM - x
    if fits and lane.is_free(x - half, x + half):
        lane.take(x - half, x + half)
        yield Text(x, lanes.scale_bottom + 0.8, figure, WORDS_PT, Anchor.MIDDLE)


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
