"""Runs along a wall into sticks: of the wall, of the wall units over it, and of heights above the floor."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import accumulate, pairwise, product

from storystick.errors import Fault, FaultCollector, Where
from storystick.job.job import Job
from storystick.job.openings import Opening, Part, Stock
from storystick.job.runs import EndPanel, Run, Uppers
from storystick.job.sticks import Datum, Stick
from storystick.layout.cabinets.pieces import Range
from storystick.layout.solving import solve_items
from storystick.layout.stations import PlacedPart, Point, PointKind, Span, SpanKind, StickLayout
from storystick.layout.walls.corners import CornerRoom, Row, Stander, meetings, order_with_corners
from storystick.layout.walls.features import feature_points, heights_on
from storystick.layout.walls.fit import check_fit, named
from storystick.lengths import Figures


@dataclass(frozen=True, slots=True)
class Placed:
    """What stands or hangs along a wall: its ``span`` along it, and ``z``, from where to where it reaches above the
    high point of the floor; None for a gap or a corner. ``upper`` is whether it hangs."""

    item: Stander
    span: Span
    z: Range | None
    upper: bool = False

    @property
    def x(self) -> Range:
        """From the datum."""
        return Range(self.span.start, self.span.end)


@dataclass(frozen=True)
class RunLayout:
    """A run, solved: ``along`` is the stick of its wall, ``hung`` that of its wall units, ``heights`` of heights.

    ``standing`` and ``hanging`` are in order from the datum, with what corners take at its ends. ``warnings`` are
    sentences about what can be built but should be looked at.
    """

    run: Run
    along: StickLayout
    hung: StickLayout | None
    heights: StickLayout | None
    standing: tuple[Placed, ...]
    hanging: tuple[Placed, ...] = ()
    warnings: tuple[str, ...] = ()

    @property
    def sticks(self) -> tuple[StickLayout, ...]:
        return tuple(stick for stick in (self.along, self.hung, self.heights) if stick)

    @cached_property
    def placed(self) -> tuple[Placed, ...]:
        return (*self.standing, *self.hanging)

    @property
    def length(self) -> Fraction:
        return self.run.length

    @property
    def left_is_datum(self) -> bool:
        return self.run.datum is Datum.LEFT

    def from_left(self, x: Range) -> Range:
        """A range along the wall as it is seen: from its left end, in mm."""
        if self.left_is_datum:
            return x
        return Range(self.length - x.end, self.length - x.start)


def lay_out_runs(job: Job, first_number: int = 1) -> tuple[RunLayout, ...]:
    """All runs of a job, laid out against each other where they make corners; their sticks are numbered in a row.

    Raises:
        Faults: what does not fit, for all runs at once.
    """
    collector = FaultCollector()
    found: list[RunLayout] = []
    for run in job.runs:
        with collector.at(run.place):
            number = first_number + sum(len(each.sticks) for each in found)
            found.append(_lay_out(run, job.runs, job.figures, number))
    collector.raise_any()
    return tuple(found)


def _lay_out(run: Run, runs: Sequence[Run], figures: Figures, number: int) -> RunLayout:
    collector = FaultCollector()
    points: list[Point] = []
    order: tuple[Stander, ...] = ()
    above: tuple[Stander, ...] = ()
    with collector.at():
        order = order_with_corners(run, run, list(meetings(runs, False)), figures)
        check_fit(order, run.length, figures)
    with collector.at("uppers"):
        if run.uppers:
            above = order_with_corners(run, run.uppers, list(meetings(runs, True)), figures)
            check_fit(above, run.length, figures, order)
    for entry, feature in enumerate(run.features):
        with collector.at(Where.unsaid("features", entry)):
            points.extend(feature_points(feature, run.length, figures, run.datum))
    for entry, point in enumerate(run.floor):
        with collector.at(Where("floor", ("floor", entry))):
            if point.at > run.length:
                what = f"a place at {figures(point.at)} lies beyond the wall of {figures(run.length)}"
                raise Fault(what, "move it nearer the datum")
    collector.raise_any()
    along = _row_stick(Stick(number, run.name, run.datum, ()), order, run.length, tuple(points), figures)
    hung = None
    if above:
        stick = Stick(number + 1, f"{run.name}, wall units", run.datum, ())
        hung = _row_stick(stick, above, run.length, (), figures, order)
    levels = heights_on(run)
    heights = _lay_out_heights(run, levels, number + (2 if hung else 1)) if levels else None
    hanging = tuple(_placed(run.uppers, above, hung)) if run.uppers and hung else ()
    laid_out = RunLayout(run, along, hung, heights, tuple(_placed(run, order, along)), hanging)
    _check_apart(laid_out, figures)
    return laid_out


def _row_stick(
    stick: Stick,
    order: Sequence[Stander],
    length: Fraction,
    points: tuple[Point, ...],
    figures: Figures,
    after: Sequence[Stander] = (),
) -> StickLayout:
    """What stands or hangs in a row, end to end from the datum; its names are counted on ``after`` those."""
    solved = solve_items([Opening(item.size) for item in order], length, figures)
    edges = pairwise(accumulate((row.size for row in solved), initial=Fraction(0)))
    spans = tuple(
        Span(_span_kind(each.item), each.name, start, end)
        for each, (start, end) in zip(named(order, after), edges, strict=True)
    )
    parts = tuple(
        PlacedPart(_part(item, span), span, None)
        for item, span in zip(order, spans, strict=True)
        if span.kind is SpanKind.PART
    )
    return StickLayout(stick, spans, parts, points)


def _span_kind(item: Stander) -> SpanKind:
    return SpanKind.OPENING if item.is_gap else SpanKind.PART


def _part(item: Stander, span: Span) -> Part:
    """A part as wide as its span; but for a panel, the word for what it is stands for its stock."""
    return Part(item.stock if isinstance(item, EndPanel) else Stock(item.word, span.size), span.name)


def _lay_out_heights(run: Run, levels: Sequence[tuple[str, Fraction]], number: int) -> StickLayout:
    """Every height a point, and an opening up to each from the one below it."""
    names = {at: f"to {name}" for name, at in reversed(levels)}
    edges = pairwise((Fraction(0), *sorted(names)))
    spans = tuple(Span(SpanKind.OPENING, names[high], low, high) for low, high in edges)
    points = tuple(Point(PointKind.FEATURE, name, at) for name, at in levels)
    return StickLayout(Stick(number, f"{run.name} heights", Datum.BOTTOM, ()), spans, (), points)


def _placed(row: Row, order: Sequence[Stander], stick: StickLayout) -> Iterator[Placed]:
    """What is in a row with its height; what has none of its own is as high as the higher of the cabinets nearest."""
    heights = [item.cabinet.height if item.cabinet else Fraction(0) for item in order]
    for number, (item, span) in enumerate(zip(order, stick.spans, strict=True)):
        high = heights[number] or _beside(heights, number)
        has_height = high and span.kind is SpanKind.PART and not isinstance(item, CornerRoom)
        yield Placed(item, span, _reach(row, high) if has_height else None, isinstance(row, Uppers))


def _beside(heights: Sequence[Fraction], number: int) -> Fraction:
    """The nearest height beside a place that has none, the larger of two as near; 0 where there is none at all."""
    near = (max(heights[max(number - apart, 0) : number + apart + 1]) for apart in range(1, len(heights)))
    return next(filter(None, near), Fraction(0))


def _reach(row: Row, height: Fraction) -> Range:
    """From where to where something so high reaches: up from the floor or the underside, or down from the top."""
    if isinstance(row, Uppers) and row.top is not None:
        return Range(row.top - height, row.top)
    foot = (row.bottom or Fraction(0)) if isinstance(row, Uppers) else Fraction(0)
    return Range(foot, foot + height)


def _check_apart(laid_out: RunLayout, figures: Figures) -> None:
    """That nothing hangs where something stands.

    Raises:
        Faults: all that does.
    """
    collector = FaultCollector()
    for above, below in product(laid_out.hanging, laid_out.standing):
        if above.z and below.z and above.x.overlaps(below.x) and above.z.overlaps(below.z):
            with collector.at("uppers"):
                what = (
                    f'"{above.span.name}" hangs from {figures(above.z.start)} up, where "{below.span.name}" stands '
                    f"{figures(below.z.end)} high"
                )
                raise Fault(what, "hang it beside or over that, with a gap in their order over what is so high")
    collector.raise_any()
