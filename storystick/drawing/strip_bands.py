"""The ink that is struck from (parts, grooves, points), and the scale along a strip's upper edge."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from storystick.drawing.built_up import BuiltUp
from storystick.drawing.lettering import NAME_MM, SIZE_MM, WORDS_PT, text_width_mm
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
)
from storystick.drawing.window import REGISTER_FROM_EDGE_MM, SEAM_KEEP_MM, TAB_MM, Window
from storystick.layout.stations import PlacedPart, PointKind, Span, SpanKind, StickLayout
from storystick.lengths import Figures

STRAIGHTEDGE_DASH_MM: Final = (1.6, 0.8)
_CROSS_MM: Final = 0.5
_LONG_MM: Final = 60
_INSET_MM: Final = 1.4
_OFF_CROSS_MM: Final = 0.8
_POINTER_MM: Final = 0.9
_FLAG_TOP: Final = MARK_TOP - 0.4


def draw_bands(layout: StickLayout, window: Window, figures: Figures | None = None) -> Iterator[Shape]:
    """The parts, grooves and points of a window, and the ends of the strip where no part stands there.

    Where ``figures`` are given, every band that has room says how wide its part is.
    """
    for placed in layout.bands:
        figure = band_figure(placed, layout, window, figures) if figures else None
        off = (figure.left - _OFF_CROSS_MM, figure.right + _OFF_CROSS_MM) if figure else None
        yield from draw_band(placed.span, window, 0.0, MARK_TOP, crossed_from=0.0, off=off)
        if figure:
            yield from figure.shapes()
    for groove in layout.grooves:
        if stretch := window.stretch(groove.start, groove.end):
            yield Rect(stretch[0], GROOVE_BOTTOM, stretch[1], GROOVE_TOP).filled()
    for member in layout.beside:  # Its name will stand in the band, instead of a cross.
        yield from draw_band(member, window, BESIDE_BOTTOM, BESIDE_TOP)
    for station in layout.bare_edges:
        if window.shows(station):
            yield Line(window.x(station), 0.0, window.x(station), MARK_TOP)
            yield _pointer(window.x(station), GROOVE_BOTTOM)
    spans = (*(placed.span for placed in layout.bands), *layout.grooves)
    edges = {edge for span in spans for edge in (span.start, span.end)}
    for point in layout.points:
        # No stroke crosses the edge of a band: where a feature is at one, that edge is its mark.
        if window.shows(point.at) and not (point.kind is PointKind.FEATURE and point.at in edges):
            yield from POINT_SIGNS[point.kind](window.x(point.at), point.toward * window.direction)


@dataclass(frozen=True, slots=True)
class BandFigure:
    """How wide a part is, in the middle of its band."""

    figure: BuiltUp
    left: float

    @property
    def right(self) -> float:
        return self.left + self.figure.width_mm

    def shapes(self) -> Iterator[Shape]:
        return self.figure.shapes(self.left, (MARK_TOP - self.figure.above_mm + self.figure.below_mm) / 2)


def band_figure(placed: PlacedPart, layout: StickLayout, window: Window, figures: Figures) -> BandFigure | None:
    """The figure of a part's band, as large as it can stand where no point's line is; None where it has no room.

    One that a seam cuts has its figure on both tiles where it is long, else on neither.
    """
    stretch = window.stretch(placed.span.start, placed.span.end)
    if stretch is None or (placed.span.size <= _LONG_MM and stretch[1] - stretch[0] < placed.span.size - 1):
        return None
    limits = window.words_limits
    low, high = max(stretch[0] + _INSET_MM, limits[0]), min(stretch[1] - _INSET_MM, limits[1])
    lane = Lane([(x, x) for x in (window.x(point.at) for point in layout.points)])
    for height, room in ((SIZE_MM, high - low - 2 * _INSET_MM), (NAME_MM, high - low)):
        figure = BuiltUp(placed.figure or figures(placed.span.size), height)
        width, middle = figure.width_mm, (low + high) / 2
        left = lane.free_near(middle - width / 2, width, middle - room / 2, middle + room / 2)
        if left is not None:
            return BandFigure(figure, left)
    return None


def draw_band(
    span: Span,
    window: Window,
    bottom: float,
    top: float,
    crossed_from: float | None = None,
    edge_mm: float = EDGE_MM,
    off: tuple[float, float] | None = None,
) -> Iterator[Shape]:
    """A grey band, crossed from a height up to its top; its own ends, where they show, are black inside the exact edge.

    A long one is crossed at both ends of what shows. No cross comes into the stretch ``off`` it, which has a figure.
    All of it is filled shapes whose outer edges are the span's, so no stroke spreads over them.
    """
    stretch = window.stretch(span.start, span.end)
    if stretch is None:
        return
    left, right = stretch
    yield Rect(left, bottom, right, top).filled(BAND_GREY)
    if crossed_from is not None:
        whole = sorted((window.x(span.start), window.x(span.end)))
        long = min(top - crossed_from, (right - left) / 2)
        crosses = [(left, left + long), (right - long, right)] if span.size > _LONG_MM else [whole]
        for cross in crosses:
            for shown in gaps([off] if off else [], max(left, cross[0]), min(right, cross[1])):
                yield from _cross(cross, *shown, crossed_from, top)
    edge = min(edge_mm, (right - left) / 2)
    for station in (span.start, span.end):
        if window.start <= station <= window.end:
            x = window.x(station)
            yield Box(x if x == left else x - edge, bottom, edge, top - bottom)


def _cross(whole: Sequence[float], left: float, right: float, bottom: float, top: float) -> Iterator[Shape]:
    """The two diagonals of a band that runs over ``whole``, as far as they lie between ``left`` and ``right``.

    A band so thin that its ends are one float has none.
    """
    if whole[0] == whole[1] or left >= right:
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


POINT_SIGNS: Final[Mapping[PointKind, Callable[[float, int], Iterator[Shape]]]] = {
    PointKind.HOLE: _hole_sign,
    PointKind.CENTRE: _centre_sign,
    PointKind.FEATURE: _feature_sign,
    PointKind.STRAIGHTEDGE: _straightedge_sign,
}
"""How a point is drawn, by its x and the way toward its groove: 1 to the right, -1 to the left."""


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
    for placed in layout.bands:
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
