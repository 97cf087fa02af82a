"""Runs along a wall into sticks, one of the wall and one of heights above the floor; then whether they fit."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate, pairwise
from typing import Final

from storystick.errors import Fault, FaultCollector
from storystick.job.job import Job
from storystick.job.openings import Fixed, Opening, Part, Stock
from storystick.job.runs import EndPanel, Feature, FeatureRow, PieceKind, Run, RunItem, RunPiece
from storystick.job.sticks import Datum, Stick
from storystick.layout.solving import solve_items
from storystick.layout.stations import PlacedPart, Point, PointKind, Span, SpanKind, StickLayout
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
            points.extend(feature_points(feature, run.length, figures))
    collector.raise_any()
    solved = solve_items([Opening(item.size) for item in run.order], run.length, figures)
    edges = pairwise(accumulate((row.size for row in solved), initial=Fraction(0)))
    spans = tuple(
        Span(_span_kind(named.item), named.name, start, end)
        for named, (start, end) in zip(standing_in(run), edges, strict=True)
    )
    parts = tuple(
        PlacedPart(_part(item, span), span, None)
        for item, span in zip(run.order, spans, strict=True)
        if span.kind is SpanKind.PART
    )
    return StickLayout(Stick(number, run.name, run.datum, ()), spans, parts, tuple(points))


def _span_kind(item: RunItem) -> SpanKind:
    is_gap = isinstance(item, RunPiece) and item.kind is PieceKind.GAP
    return SpanKind.OPENING if is_gap else SpanKind.PART


def _part(item: RunItem, span: Span) -> Part:
    """A part as wide as its span; but for a panel, the word for what it is stands for its stock."""
    return Part(item.stock if isinstance(item, EndPanel) else Stock(item.word, span.size), span.name)


def feature_points(feature: Feature | FeatureRow, length: Fraction, figures: Figures) -> Iterator[Point]:
    """Where a feature, or each of a row, is on a wall of a ``length`` in mm.

    Raises:
        Fault: one lies beyond the wall, or a row has too many.
    """
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


@dataclass(frozen=True, slots=True)
class NamedItem:
    """An item of a run, by its own name or by its kind and number."""

    item: RunItem
    name: str

    @property
    def said(self) -> str:
        """What it is called in a sentence."""
        return f'{self.item.word} "{self.name}"' if self.item.name else self.name

    @property
    def fixed(self) -> Fraction | None:
        """Its given size in mm; None where it takes what is left."""
        return self.item.size.size if isinstance(self.item.size, Fixed) else None


def standing_in(run: Run) -> Iterator[NamedItem]:
    """All that stands in the run; what has no name is counted: filler 1, filler 2."""
    numbers: Counter[str] = Counter()
    for item in run.order:
        numbers[item.word] += 1
        yield NamedItem(item, item.name or f"{item.word} {numbers[item.word]}")


def check_fit(run: Run, figures: Figures) -> None:
    """Whether the run comes to the length of its wall, with some of it left for what takes what is left.

    Raises:
        Fault: it does not; ``figures`` says the lengths.
    """
    standing = tuple(standing_in(run))
    takers = [named for named in standing if named.fixed is None]
    total = sum((named.fixed for named in standing if named.fixed is not None), Fraction(0))
    over = total - run.length
    comes, apart, wall = figures(total), figures.apart(abs(over)), figures(run.length)
    if takers and over >= 0:
        too_much = f"{apart} more than" if over else "all of"
        what = f"no room is left for {_joined(takers)}: the rest comes to {comes}, {too_much} the wall of {wall}"
        raise Fault(what, _who_gives(standing, over, lambda most: f"less than {figures.at_most(most)}", figures))
    if not takers and over > 0:
        what = f"the run comes to {comes}, {apart} more than the wall of {wall}"
        raise Fault(what, _who_gives(standing, over, lambda width: _exactly(width, figures), figures))
    if not takers and over < 0:
        what = f"the run comes to {comes}, {apart} less than the wall of {wall}"
        raise Fault(what, _who_takes(standing, -over, figures))


def _who_takes(standing: Sequence[NamedItem], left: Fraction, figures: Figures) -> str:
    """The widest filler, with the width that takes up what is left."""
    for filler, size in _fillers(standing)[:1]:
        return f"{filler.said} could take it up: make it {_exactly(size + left, figures)}"
    return 'add { filler = "equal" } where it may take that up'


def _exactly(width: Fraction, figures: Figures) -> str:
    """A width for the filler that decides: its figure where that says all of it, else the word that always fits."""
    return f'{figures(width)}, or "equal"' if figures.is_said(width) else '"equal"'


def _who_gives(standing: Sequence[NamedItem], over: Fraction, said: Callable[[Fraction], str], figures: Figures) -> str:
    """The filler that has ``over`` to give and something left, or as many of them as have it together.

    ``said`` writes what the filler is to be made.
    """
    fillers = _fillers(standing)
    for filler, size in fillers:
        if size > over:
            given = figures.apart(over) if over else "some"
            return f"{filler.said} could give {given}: make it {said(size - over)}"
    if sum(size for _, size in fillers) > over:
        return f"{_joined([filler for filler, _ in fillers])} could give it between them"
    return "no filler could give so much: make cabinets, panels or gaps narrower"


def _fillers(standing: Sequence[NamedItem]) -> list[tuple[NamedItem, Fraction]]:
    """The fillers of a given size, the widest first, and after them the scribes."""
    found = [
        (named, named.fixed, named.item.kind is PieceKind.SCRIBE)
        for named in standing
        if named.fixed is not None and isinstance(named.item, RunPiece) and named.item.kind is not PieceKind.GAP
    ]
    # A scribe is cut to the wall by hand, so it is asked last to give or take.
    return [(named, size) for named, size, _ in sorted(found, key=lambda found: (found[2], -found[1]))]


def _joined(things: Sequence[NamedItem]) -> str:
    *others, last = (named.said for named in things)
    return f"{', '.join(others)} and {last}" if others else last
