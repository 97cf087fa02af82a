"""Cut faces, hatched or black, and lines that are broken where words stand. All in mm on paper."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import hypot
from typing import Final

from storystick.drawing.lettering import CAPITAL_EM
from storystick.drawing.shapes import NARROW_MM, WIDE_MM, Line, Rect, Shape, Text, outline

_THIN_MM: Final = 1.3
"""A cut face that is thinner is black (ISO 128-3: thin cut areas may be shown entirely black)."""

_PITCH_MM: Final = 1.4
_SHORTEST_MM: Final = 0.3
_CLEAR_MM: Final = 0.15
_CAPITALS: Final = frozenset("0123456789 ×.–ABCDEFGHIKLMNOPRSTUVWXYZ")
_HARDLY_BELOW: Final = _CAPITALS | frozenset("/abcdefhiklmnorstuvwxz")


def cut_face(face: Rect, rising: bool) -> Iterator[Shape]:
    """A cut face, its edges exact: black where it is thin, else hatched at 45°, ``rising`` to the right or falling."""
    if min(face.right - face.left, face.top - face.bottom) < _THIN_MM:
        yield face.filled()
        return
    yield face.filled(1.0)
    yield from hatching(face, rising)
    yield from outline(face, WIDE_MM)


def hatching(face: Rect, rising: bool) -> Iterator[Line]:
    """Lines at 45° from edge to edge, evenly apart, all of a page on one grid."""
    height = face.top - face.bottom
    # A rising line is x - y = c, a falling one x + y = c.
    low, high = (
        (face.left - face.top, face.right - face.bottom) if rising else (face.left + face.bottom, face.right + face.top)
    )
    step = _PITCH_MM * 2**0.5
    first = int(low // step) + 1
    for number in range(first, int(high // step) + 1):
        c = number * step
        start = c + face.bottom if rising else c - face.bottom
        end = start + height if rising else start - height
        line = Line(start, face.bottom, end, face.top, NARROW_MM)
        yield from _within(line, face)


def _within(line: Line, face: Rect) -> Iterator[Line]:
    span = _span_in(line, face)
    if span and span[1] - span[0] > 1e-9:
        yield _stretch(line, *span)


def broken_at_words(shapes: Sequence[Shape]) -> Iterator[Shape]:
    """The shapes, narrow lines interrupted where words stand over them."""
    words = [_reach(shape).wider(_CLEAR_MM) for shape in shapes if isinstance(shape, Text)]
    for shape in shapes:
        if isinstance(shape, Line) and shape.width_mm == NARROW_MM:
            reach = shape.extent
            yield from broken(shape, [place for place in words if place.meets(reach)])
        else:
            yield shape


def _reach(text: Text) -> Rect:
    """What its letters take: figures and capitals stand on the baseline, and a stroke between figures goes below it."""
    if _CAPITALS.issuperset(text.text):
        return text.reach(above_em=CAPITAL_EM, below_em=0.015)
    return text.reach(below_em=0.1 if _HARDLY_BELOW.issuperset(text.text) else 0.24)


def broken(line: Line, places: Iterable[Rect]) -> Iterator[Line]:
    """What is left of a line outside of some places."""
    rest = [(0.0, 1.0)]
    for place in places:
        span = _span_in(line, place)
        if span:
            rest = [piece for start, end in rest for piece in ((start, min(end, span[0])), (max(start, span[1]), end))]
            rest = [(start, end) for start, end in rest if start < end]
    if rest == [(0.0, 1.0)]:
        yield line
        return
    length = hypot(line.x2 - line.x1, line.y2 - line.y1)
    for start, end in rest:
        if (end - start) * length > _SHORTEST_MM:
            yield _stretch(line, start, end)


def _span_in(line: Line, place: Rect) -> tuple[float, float] | None:
    """From which to which share of its length a line lies in a place; None where it does not."""
    start, end = 0.0, 1.0
    for at, run, low, high in (
        (line.x1, line.x2 - line.x1, place.left, place.right),
        (line.y1, line.y2 - line.y1, place.bottom, place.top),
    ):
        if not run:
            if not low <= at <= high:
                return None
            continue
        near, far = sorted(((low - at) / run, (high - at) / run))
        start, end = max(start, near), min(end, far)
    return (start, end) if start < end else None


def _stretch(line: Line, start: float, end: float) -> Line:
    run, rise = line.x2 - line.x1, line.y2 - line.y1
    ends = (line.x1 + start * run, line.y1 + start * rise, line.x1 + end * run, line.y1 + end * rise)
    return Line(*ends, line.width_mm, line.dash_mm)
