"""Runs along a wall into sticks: one of the wall, and one of the heights above the floor's high point."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import accumulate, pairwise
from typing import Final

from storystick.errors import Fault, FaultCollector
from storystick.job.model import Datum, Job, Opening, Part, Stick, Stock
from storystick.job.run import EndPanel, Feature, FeatureRow, Piece, PieceKind, Run, RunItem
from storystick.layout.model import PlacedPart, Point, PointKind, Span, SpanKind, StickLayout
from storystick.layout.run_fit import check_fit, standing_in
from storystick.layout.solving import solve_items
from storystick.lengths import Figures

_MOST_IN_A_ROW: Final = 1000


def run_sticks(job: Job, first_number: int) -> tuple[StickLayout, ...]:
    """The sticks of all runs of a job, numbered from ``first_number``.

    Raises:
        Faults: what does not fit, for all runs at once.
    """
    collector = FaultCollector()
    sticks: list[StickLayout] = []
    for run in job.runs:
        with collector.at(run.place):
            sticks.extend(lay_out_run(run, job.figures, first_number + len(sticks)))
    collector.raise_any()
    return tuple(sticks)


def lay_out_run(run: Run, figures: Figures, first_number: int = 1) -> tuple[StickLayout, ...]:
    """The stick of the wall, and after it that of the heights where there are any.

    Raises:
        Faults: it does not fit, or a feature lies beyond the wall; ``figures`` says the lengths.
    """
    wall = _lay_out_wall(run, figures, first_number)
    return (wall, _lay_out_heights(run, first_number + 1)) if run.heights else (wall,)


def _lay_out_wall(run: Run, figures: Figures, number: int) -> StickLayout:
    collector = FaultCollector()
    with collector.at():
        check_fit(run, figures)
    points: list[Point] = []
    for feature in run.features:
        with collector.at():
            points.extend(_points(feature, run.length, figures))
    collector.raise_any()
    solved = solve_items([Opening(item.size) for item in run.order], run.length, figures)
    edges = pairwise(accumulate((row.size for row in solved), initial=Fraction(0)))
    spans = tuple(
        Span(_span_kind(one.item), one.name, start, end)
        for one, (start, end) in zip(standing_in(run), edges, strict=True)
    )
    parts = tuple(
        PlacedPart(_part(item, span), span, None)
        for item, span in zip(run.order, spans, strict=True)
        if span.kind is SpanKind.PART
    )
    return StickLayout(Stick(number, run.name, run.datum, ()), spans, parts, tuple(points))


def _span_kind(item: RunItem) -> SpanKind:
    is_gap = isinstance(item, Piece) and item.kind is PieceKind.GAP
    return SpanKind.OPENING if is_gap else SpanKind.PART


def _part(item: RunItem, span: Span) -> Part:
    """A part as wide as its span; but for a panel, the word for what it is stands for its stock."""
    return Part(item.stock if isinstance(item, EndPanel) else Stock(item.word, span.size), span.name)


def _points(feature: Feature | FeatureRow, length: Fraction, figures: Figures) -> Iterator[Point]:
    match feature:
        case Feature(at=at, name=name):
            _check_within(name, at, length, figures)
            yield Point(PointKind.FEATURE, name, at)
        case FeatureRow(first=first, pitch=pitch, name=name):
            for place in range(_count(feature, length, figures)):
                yield Point(PointKind.FEATURE, f"{name} {place + 1}", first + pitch * place)


def _count(row: FeatureRow, length: Fraction, figures: Figures) -> int:
    _check_within(row.name, row.first, length, figures)
    until = length if row.until is None else row.until
    wall = figures(length)
    if until > length:
        what = f'"{row.name}" goes on until {figures(until)}, beyond the wall of {wall}'
        raise Fault(what, "leave until out: the row then goes on to the end of the wall")
    count = (until - row.first) // row.pitch + 1
    if count > _MOST_IN_A_ROW:
        what = f'"{row.name}" at a pitch of {figures(row.pitch)} comes to {count} marks'
        raise Fault(f"{what}; at most {_MOST_IN_A_ROW} are allowed", "make the pitch more or until less")
    return count


def _check_within(name: str, at: Fraction, length: Fraction, figures: Figures) -> None:
    if at > length:
        what = f'"{name}" at {figures(at)} lies beyond the wall of {figures(length)}'
        raise Fault(what, "move it nearer the datum")


def _lay_out_heights(run: Run, number: int) -> StickLayout:
    """Every height a point, and an opening up to each from the one below it."""
    heights = sorted(run.heights, key=lambda height: height.at)
    names = {height.at: f"to {height.name}" for height in reversed(heights)}
    edges = pairwise((Fraction(0), *sorted(names)))
    spans = tuple(Span(SpanKind.OPENING, names[high], low, high) for low, high in edges)
    points = tuple(Point(PointKind.FEATURE, height.name, height.at) for height in heights)
    return StickLayout(Stick(number, f"{run.name} heights", Datum.BOTTOM, ()), spans, (), points)
