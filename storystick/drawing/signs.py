"""The signs that the strips of a job use, each as it is drawn on a strip, with a word for it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.drawing.shapes import Area, Box, Shape, moved
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
