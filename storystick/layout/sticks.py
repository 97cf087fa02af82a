"""From a stick of the job to its layout: solved, and its spans and points laid end to end from the datum."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from itertools import accumulate, count, pairwise
from typing import TYPE_CHECKING, Final

from storystick.errors import Fault, FaultCollector, Where
from storystick.job.openings import Part
from storystick.job.sticks import Centre, Holes, Stick
from storystick.layout.solving import Solved, solve
from storystick.layout.stations import PlacedPart, Point, PointKind, Span, SpanKind, StickLayout, hole
from storystick.lengths import Figures

if TYPE_CHECKING:
    from storystick.job.joints import Joint


_KEYS: Final = {Centre: "centre", Holes: "holes"}
"""The keys of a stick that its points stand under."""


def lay_out_stick(stick: Stick, figures: Figures) -> StickLayout:
    """Work out every position of one stick.

    Raises:
        StorystickError: it does not fit; ``figures`` says the lengths.
    """
    solved = solve(stick, figures)
    spans = tuple(_spans(solved))
    collector = FaultCollector()
    parts = []
    for row, span in zip(solved, spans, strict=True):
        with collector.at():
            if row.part:
                parts.append(PlacedPart(row.part, span, _groove(row.part, span, spans[-1].end, figures)))
    for mark in stick.points:
        with collector.at(Where.unsaid(_KEYS[type(mark)])):
            _check_within(mark, spans[-1].end, figures)
    collector.raise_any()
    marked = (point for mark in stick.points for point in _points(mark))
    return StickLayout(stick, spans, tuple(parts), (*marked, *_fastened(parts)))


def _fastened(parts: Iterable[PlacedPart]) -> Iterator[Point]:
    """The middle of every part that fasteners hold, where they are bored into what the stick lies on."""
    for placed in parts:
        fastener = placed.part.joint.fasteners if placed.part.joint else None
        if fastener and fastener.in_board(placed.span.size, placed.span.size):
            middle = (placed.span.start + placed.span.end) / 2
            yield Point(PointKind.CENTRE, f"{fastener.word}, {placed.span.name}", middle)


def _spans(solved: tuple[Solved, ...]) -> Iterator[Span]:
    """End to end from 0; what has no name is counted: part 1, part 2, and opening 1, opening 2."""
    edges = accumulate((row.size for row in solved), initial=Fraction(0))
    numbers = {SpanKind.PART: count(1), SpanKind.OPENING: count(1)}
    for row, (start, end) in zip(solved, pairwise(edges), strict=True):
        kind = SpanKind.PART if row.part else SpanKind.OPENING
        number = next(numbers[kind])
        yield Span(kind, row.name or f"{kind.value} {number}", start, end)


def _groove(part: Part, span: Span, length: Fraction, figures: Figures) -> Span | None:
    edges = part.joint.groove(span.size) if part.joint else None
    if part.joint is None or edges is None:
        return None
    if part.joint.at_end_only and span.start != 0 and span.end != length:
        raise Fault(f'part "{span.name}" is in a rabbet, but not at an end of the stick', "give it a housing")
    near, far = edges
    if not enters_within(part.joint, span.size):
        raise Fault(
            f'part "{span.name}" is {figures(span.size)} thick, but joint "{part.joint.name}" wants '
            f"its groove from {figures(near)} to {figures(far)} of that",
            "make the groove narrower, or set it nearer the datum side",
        )
    start, end = max(span.start + near, Fraction(0)), min(span.start + far, length)
    return Span(SpanKind.GROOVE, span.name, start, end)


def _check_within(mark: Holes | Centre, length: Fraction, figures: Figures) -> None:
    *_, last = _points(mark)
    if last.at > length:
        raise Fault(
            f'"{last.name}" at {figures(last.at)} lies beyond the stick\'s length of {figures(length)}',
            "move it nearer the datum" if isinstance(mark, Centre) else "make the holes fewer or nearer",
        )


def _points(mark: Holes | Centre) -> Iterator[Point]:
    match mark:
        case Centre(at=at, name=name):
            yield Point(PointKind.CENTRE, name, at)
        case Holes(first=first, pitch=pitch, count=number, name=name):
            for place in range(number):
                yield hole(name, place + 1, first + pitch * place)


def enters_within(joint: Joint, thickness: Fraction) -> bool:
    """Whether all that a joint lets in of a part this thick lies within the part."""
    edges = joint.enters(thickness)
    return edges is None or (edges[0] >= 0 and edges[1] <= thickness)
