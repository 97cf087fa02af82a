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
from storystick.lengths import Units, write_figure

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
            sticks.extend(lay_out_run(run, job.units, first_number + len(sticks)))
    collector.raise_any()
    return tuple(sticks)


def lay_out_run(run: Run, units: Units, first_number: int = 1) -> tuple[StickLayout, ...]:
    """The stick of the wall, and after it that of the heights where there are any.

    Raises:
        Faults: it does not fit, or a feature lies beyond the wall; figures are in ``units``.
    """
    wall = _lay_out_wall(run, units, first_number)
    return (wall, _lay_out_heights(run, first_number + 1)) if run.heights else (wall,)


def _lay_out_wall(run: Run, units: Units, number: int) -> StickLayout:
    collector = FaultCollector()
    with collector.at():
        check_fit(run, units)
    points: list[Point] = []
    for feature in run.features:
        with collector.at():
            points.extend(_points(feature, run.length, units))
    collector.raise_any()
    solved = solve_items([Opening(item.size) for item in run.order], run.length, units)
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


def _points(feature: Feature | FeatureRow, length: Fraction, units: Units) -> Iterator[Point]:
    match feature:
        case Feature(at=at, name=name):
            _check_within(name, at, length, units)
            yield Point(PointKind.FEATURE, name, at)
        case FeatureRow(first=first, pitch=pitch, name=name):
            for place in range(_count(feature, length, units)):
                yield Point(PointKind.FEATURE, f"{name} {place + 1}", first + pitch * place)


def _count(row: FeatureRow, length: Fraction, units: Units) -> int:
    _check_within(row.name, row.first, length, units)
    until = length if row.until is None else row.until
    wall = write_figure(length, units)
    if until > length:
        what = f'"{row.name}" goes on until {write_figure(until, units)}, beyond the wall of {wall}'
        raise Fault(what, "leave until out: the row then goes on to the end of the wall")
    count = (until - row.first) // row.pitch + 1
    if count > _MOST_IN_A_ROW:
        what = f'"{row.name}" at a pitch of {write_figure(row.pitch, units)} comes to {count} marks'
        raise Fault(f"{what}; at most {_MOST_IN_A_ROW} are allowed", "make the pitch more or until less")
    return count


def _check_within(name: str, at: Fraction, length: Fraction, units: Units) -> None:
    if at > length:
        what = f'"{name}" at {write_figure(at, units)} lies beyond the wall of {write_figure(length, units)}'
        raise Fault(what, "move it nearer the datum")


def _lay_out_heights(run: Run, number: int) -> StickLayout:
    """Every height a point, and an opening up to each from the one below it."""
    heights = sorted(run.heights, key=lambda height: height.at)
    names = {height.at: f"to {height.name}" for height in reversed(heights)}
    edges = pairwise((Fraction(0), *sorted(names)))
    spans = tuple(Span(SpanKind.OPENING, names[high], low, high) for low, high in edges)
    points = tuple(Point(PointKind.FEATURE, height.name, height.at) for height in heights)
    return StickLayout(Stick(number, f"{run.name} heights", Datum.BOTTOM, ()), spans, (), points)
