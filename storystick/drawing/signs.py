"""The small drawings of page 1: the signs that the strips of a job use, and the steps from the file to the stick.

A sign is drawn as on a strip, with a word for it. A step lies in a box, y up.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.drawing.lettering import SIZE_MM, points_of
from storystick.drawing.shapes import (
    NARROW_MM,
    WIDE_MM,
    Anchor,
    Area,
    Box,
    Line,
    Rect,
    Shape,
    Text,
    closed,
    moved,
    outline,
)
from storystick.drawing.strip_bands import draw_bands
from storystick.drawing.strip_lanes import BESIDE_BOTTOM, BESIDE_TOP, GROOVE_TOP, MARK_TOP
from storystick.drawing.window import Window
from storystick.job.openings import Part, Stock
from storystick.job.sticks import Datum, Stick
from storystick.layout.stations import PlacedPart, Point, PointKind, Span, SpanKind, StickLayout

SIGN_WIDTH_MM: Final = 9.0

_LENGTH: Final = Fraction(1000)
_MIDDLE: Final = _LENGTH / 2
_HALF: Final = Fraction(3)
_GROOVE: Final = Fraction(3, 2)


@dataclass(frozen=True, slots=True)
class Sign:
    """A sign with its ``words``; ``shows`` tells whether a stick has it.

    It is drawn round x = 0, from y = 0 up to ``height_mm``.
    """

    words: str
    shows: Callable[[StickLayout], bool]
    draw: Callable[[], Iterable[Shape]]
    height_mm: float = MARK_TOP


def signs_of(sticks: Sequence[StickLayout]) -> tuple[Sign, ...]:
    """The signs that some sticks have, in the order in which they are told."""
    return tuple(sign for sign in SIGNS if any(map(sign.shows, sticks)))


def _window() -> Window:
    """A little of a long stick, round its middle."""
    half = Fraction(SIGN_WIDTH_MM) / 2
    return Window(_MIDDLE - half, _MIDDLE + half, _LENGTH)


def _drawn(
    parts: Iterable[PlacedPart] = (), points: Iterable[Point] = (), beside: Iterable[Span] = ()
) -> tuple[Shape, ...]:
    """What strips have there, by the drawing of the strips."""
    placed = tuple(parts)
    spans = tuple(each.span for each in placed) or (Span(SpanKind.OPENING, "", Fraction(0), _LENGTH),)
    return _spans(spans, placed, points, beside)


def _spans(
    spans: Sequence[Span],
    parts: Iterable[PlacedPart] = (),
    points: Iterable[Point] = (),
    beside: Iterable[Span] = (),
) -> tuple[Shape, ...]:
    layout = StickLayout(Stick(1, "sign", Datum.LEFT, ()), tuple(spans), tuple(parts), tuple(points), tuple(beside))
    return moved(draw_bands(layout, _window()), -SIGN_WIDTH_MM / 2, 0.0)


def _part(groove: bool) -> tuple[Shape, ...]:
    span = Span(SpanKind.PART, "", _MIDDLE - _HALF, _MIDDLE + _HALF)
    cut = Span(SpanKind.GROOVE, "", _MIDDLE - _GROOVE, _MIDDLE + _GROOVE) if groove else None
    return _drawn([PlacedPart(Part(Stock("", span.size)), span, cut)])


def _member() -> tuple[Shape, ...]:
    shapes = _drawn(beside=[Span(SpanKind.PART, "", _MIDDLE - _HALF, _MIDDLE + _HALF)])
    return moved(shapes, 0.0, -BESIDE_BOTTOM)


def _point(kind: PointKind) -> Callable[[], tuple[Shape, ...]]:
    return lambda: _drawn(points=[Point(kind, "", _MIDDLE, toward=1)])


def _has(kind: PointKind) -> Callable[[StickLayout], bool]:
    return lambda stick: any(point.kind is kind for point in stick.points)


_FLAG_MM: Final = 1.4
_ARROW_MM: Final = 3.4


def _datum() -> Iterator[Shape]:
    """A black bar whose outer edge is at zero, and an arrow against it."""
    yield Box(-_FLAG_MM, 0.0, _FLAG_MM, MARK_TOP)
    yield Area(((0.0, MARK_TOP / 2), (_ARROW_MM, MARK_TOP / 2 + 1.7), (_ARROW_MM, MARK_TOP / 2 - 1.7)))


def _bare_line() -> tuple[Shape, ...]:
    left = Span(SpanKind.OPENING, "", Fraction(0), _MIDDLE)
    return _spans((left, Span(SpanKind.OPENING, "", _MIDDLE, _LENGTH)))


SIGNS: Final = (
    Sign("datum, 0", lambda _: True, _datum),
    Sign("part", lambda stick: bool(stick.parts), lambda: _part(groove=False)),
    Sign("groove", lambda stick: bool(stick.grooves), lambda: _part(groove=True), GROOVE_TOP),
    Sign("frame", lambda stick: bool(stick.beside), _member, BESIDE_TOP - BESIDE_BOTTOM),
    Sign("line", lambda stick: any(0 < edge < stick.length for edge in stick.bare_edges), _bare_line, GROOVE_TOP),
    Sign("hole", _has(PointKind.HOLE), _point(PointKind.HOLE)),
    Sign("centre", _has(PointKind.CENTRE), _point(PointKind.CENTRE)),
    Sign("feature", _has(PointKind.FEATURE), _point(PointKind.FEATURE)),
    Sign("straightedge", _has(PointKind.STRAIGHTEDGE), _point(PointKind.STRAIGHTEDGE)),
)


STEP_WIDTH_MM: Final = 28.0
STEP_HEIGHT_MM: Final = 17.0

_WHITE: Final = 1.0
_DARK: Final = 0.35
_STEEL: Final = 0.93
_WOOD: Final = 0.8
_PAPER_MM: Final = 1.2


@dataclass(frozen=True, slots=True)
class Step:
    """What is done, its ``verb`` first, and how it is drawn: in 0 to 28 mm by 0 to 17 mm."""

    verb: str
    words: str
    draw: Callable[[], Iterator[Shape]]


def _sheet(left: float, bottom: float, right: float, top: float) -> Iterator[Shape]:
    edges = Rect(left, bottom, right, top)
    yield edges.filled(_WHITE)
    yield from outline(edges, WIDE_MM)


def _strip(edges: Rect, bands: Iterable[float], width: float = 1.6) -> Iterator[Shape]:
    """A tile with bands at some places of its length, as shares."""
    yield edges.filled(_WHITE)
    for share in bands:
        x = edges.left + (edges.right - edges.left) * share
        yield Box(x, edges.bottom, width, (edges.top - edges.bottom) * 0.55, _DARK)
    yield from outline(edges, NARROW_MM)


def _print() -> Iterator[Shape]:
    """A sheet with two tiles, and that it is as large as it says."""
    yield from _sheet(1.0, 0.5, 27.0, 16.5)
    yield from _strip(Rect(3.0, 2.5, 25.0, 5.5), (0.05, 0.4, 0.85))
    yield from _strip(Rect(3.0, 11.5, 25.0, 14.5), (0.1, 0.5, 0.7))
    yield Text(14.0, 8.5 - SIZE_MM / 2, "100 %", points_of(SIZE_MM), Anchor.MIDDLE, bold=True)


def _check() -> Iterator[Shape]:
    """A steel rule along a check bar, end to end."""
    left, right, bar = 3.0, 25.0, 11.0
    yield Box(left, bar, right - left, 0.5)
    for x in (left, right - 0.5):
        yield Box(x, bar, 0.5, 4.0)
    rule = Rect(left, 3.5, 28.0, bar - 1.0)
    yield rule.filled(_STEEL)
    yield from outline(rule, WIDE_MM)
    for tick in range(1, 22):
        x = left + tick * 1.1
        yield Line(x, rule.top, x, rule.top - (2.2 if tick % 5 == 0 else 1.2), NARROW_MM)
    for x in (left, right):
        yield Line(x, 1.0, x, 16.5, NARROW_MM, (1.2, 0.8))


def _knife(x: float, y: float) -> Iterator[Shape]:
    """A knife, its point at a place, its handle up to the right."""
    yield Area(((x, y), (x + 4.2, y + 2.2), (x + 2.6, y + 4.4)), _STEEL)
    yield from closed(((x, y), (x + 4.2, y + 2.2), (x + 2.6, y + 4.4)), NARROW_MM)
    yield Area(((x + 4.2, y + 2.2), (x + 9.4, y + 6.4), (x + 7.6, y + 8.6), (x + 2.6, y + 4.4)), _DARK)


def _cut() -> Iterator[Shape]:
    """A knife along the outline of a tile, which is cut free as far as the knife has come."""
    strip = Rect(2.0, 3.0, 26.0, 8.0)
    yield from _strip(strip, (0.06, 0.35, 0.82))
    yield Line(strip.left, strip.top, 15.0, strip.top, 2 * WIDE_MM)
    yield from _knife(15.0, strip.top)


def _fold() -> Iterator[Shape]:
    """A stick from its end: the strip lies on its face and is folded over its edge."""
    stick, down = Rect(8.0, 1.0, 24.0, 12.0), 7.0
    yield stick.filled(_WOOD)
    yield from outline(stick, NARROW_MM)
    paper = (
        (stick.right, stick.top),
        (stick.right, stick.top + _PAPER_MM),
        (stick.left - _PAPER_MM, stick.top + _PAPER_MM),
        (stick.left - _PAPER_MM, stick.top - down),
        (stick.left, stick.top - down),
        (stick.left, stick.top),
    )
    yield Area(paper, _WHITE)
    yield from closed(paper, NARROW_MM)
    yield Line(stick.left - _PAPER_MM - 3.0, stick.top + 3.4, stick.left, stick.top, NARROW_MM, (1.2, 0.8))
    yield Line(3.0, 13.0, 3.0, 8.0, NARROW_MM)
    yield Area(((3.0, 6.0), (2.2, 8.2), (3.8, 8.2)))


def _join() -> Iterator[Shape]:
    """The next tile on its way to the tab of the one before, half a cross to half a cross."""
    seam, shift, bottom, top = 11.0, 5.0, 3.5, 13.5
    yield from _strip(Rect(1.0, bottom, seam, top), (0.15, 0.6))
    tab = Rect(seam, bottom, seam + 4.0, top)
    yield tab.filled(_WOOD)
    yield from outline(tab, NARROW_MM)
    yield from _strip(Rect(seam + shift, bottom, 27.5, top), (0.5,))
    for y in (bottom + 2.6, top - 2.6):
        yield Line(seam - 2.0, y, seam + 2.0, y, WIDE_MM)
        yield Line(seam, y - 1.6, seam, y + 1.6, WIDE_MM)
        yield Line(seam + shift, y, seam + shift + 2.0, y, WIDE_MM)
        yield Line(seam + shift, y - 1.6, seam + shift, y + 1.6, WIDE_MM)
    yield Line(22.0, 15.6, 14.6, 15.6, NARROW_MM)
    yield Area(((12.8, 15.6), (15.0, 14.8), (15.0, 16.4)))


def _glue() -> Iterator[Shape]:
    """A strip on a stick, its foot on the edge that is struck from."""
    lean, edge, top = 4.0, 5.0, 13.0
    face = ((1.0, edge), (23.0, edge), (23.0 + lean, top), (1.0 + lean, top))
    yield Area(face, _WOOD)
    below = Rect(1.0, 1.0, 23.0, edge)
    yield below.filled(_STEEL)
    yield Area(((23.0, 1.0), (23.0 + lean, top - 4.0), (23.0 + lean, top), (23.0, edge)), _DARK)
    part = 0.65
    paper = ((1.0, edge), (23.0, edge), (23.0 + lean * part, edge + (top - edge) * part))
    yield Area((*paper, (1.0 + lean * part, edge + (top - edge) * part)), _WHITE)
    for x in (3.0, 10.0, 18.0):
        yield Area(((x, edge), (x + 1.6, edge), (x + 1.6 + 1.4, edge + 2.8), (x + 1.4, edge + 2.8)), _DARK)
    yield from closed((*paper, (1.0 + lean * part, edge + (top - edge) * part)), NARROW_MM)
    yield from closed(face, NARROW_MM)
    yield from outline(below, NARROW_MM)
    yield Line(0.0, edge, 24.0, edge, WIDE_MM)
    for x in (7.0, 15.0):
        yield Line(x, 16.8, x, 12.5, NARROW_MM)
        yield Area(((x, 11.0), (x - 0.8, 13.0), (x + 0.8, 13.0)))


PRINT: Final = Step("Print", "at 100 %, one side", _print)
CHECK: Final = Step("Check", "both check bars", _check)
CUT: Final = Step("Cut", "along the outline", _cut)
FOLD: Final = Step("Fold", "along the dashes", _fold)
JOIN: Final = Step("Join", "cross on cross", _join)
GLUE: Final = Step("Glue", "edge on edge", _glue)


def steps_of(wrapped: bool) -> tuple[Step, ...]:
    """The steps in their order; folding only where strips are ``wrapped``."""
    return (PRINT, CHECK, CUT, FOLD, JOIN, GLUE) if wrapped else (PRINT, CHECK, CUT, JOIN, GLUE)
