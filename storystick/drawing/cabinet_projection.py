"""A reduced picture of a cabinet in one direction, with its dimension lines. Not for measuring."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import Final

from storystick.drawing.lettering import CAPITAL_MM, WORDS_PT, text_width_mm
from storystick.drawing.placing_words import spread
from storystick.drawing.shapes import Anchor, Line, Rect, Shape, Text, extent, outline
from storystick.job.job import Job
from storystick.layout.cabinets.pieces import Axis, Piece, Range

FIGURE_PT: Final = WORDS_PT
LINE_PITCH_MM: Final = 3.5
_FINE_MM: Final = 0.13
_AWAY_MM: Final = 2.6
_CLEAR_MM: Final = 0.7
_TICK_MM: Final = 0.55
_TO_FIGURE_MM: Final = 1.0
_ABREAST_MM: Final = 3.0
_BESIDE_MM: Final = 0.3


@dataclass(frozen=True, slots=True)
class Measure:
    """A length as it is drawn, from ``start`` to ``end`` in mm, with its figure."""

    start: float
    end: float
    figure: str

    @property
    def middle(self) -> float:
        return (self.start + self.end) / 2

    @property
    def holds_figure(self) -> bool:
        return _width(self.figure) + 1.0 <= self.end - self.start


def measures_below(measures: Sequence[Measure], edge: float) -> Iterator[Shape]:
    """Dimension lines side by side under ``edge``; figures that are wider than their lengths all stand upward."""
    level = edge - _AWAY_MM
    for measure in measures:
        yield Line(measure.start, level, measure.end, level, _FINE_MM)
        for x in (measure.start, measure.end):
            yield Line(x, edge - _CLEAR_MM, x, level - _CLEAR_MM, _FINE_MM)
            yield _tick(x, level)
    if len(measures) == 1 or all(measure.holds_figure for measure in measures):
        baseline = level - _TO_FIGURE_MM - CAPITAL_MM
        yield from (Text(each.middle, baseline, each.figure, FIGURE_PT, Anchor.MIDDLE) for each in measures)
        return
    for measure, x in _abreast(measures):
        place = (x + CAPITAL_MM / 2, level - _TO_FIGURE_MM)
        yield Text(*place, measure.figure, FIGURE_PT, Anchor.END, upward=True)


def measures_at_left(measures: Sequence[Measure], edge: float) -> Iterator[Shape]:
    """Dimension lines one above another to the left of ``edge``, their figures level."""
    plumb = edge - _AWAY_MM
    for measure in measures:
        yield from _upright(measure, plumb, edge - _CLEAR_MM, plumb - _CLEAR_MM)
    for measure, y in _abreast(measures):
        place = (plumb - _TO_FIGURE_MM, y - CAPITAL_MM / 2)
        yield Text(*place, measure.figure, FIGURE_PT, Anchor.END)


def measure_at_right(measure: Measure, edge: float) -> Iterator[Shape]:
    """A dimension line to the right of ``edge``, its figure upward where it is long enough."""
    plumb = edge + _AWAY_MM
    yield from _upright(measure, plumb, edge + _CLEAR_MM, plumb + _CLEAR_MM)
    beside = plumb + _TO_FIGURE_MM
    if measure.holds_figure:
        place = (beside + CAPITAL_MM, measure.middle)
        yield Text(*place, measure.figure, FIGURE_PT, Anchor.MIDDLE, upward=True)
    else:
        yield Text(beside, measure.middle - CAPITAL_MM / 2, measure.figure, FIGURE_PT)


def _upright(measure: Measure, plumb: float, near: float, far: float) -> Iterator[Shape]:
    yield Line(plumb, measure.start, plumb, measure.end, _FINE_MM)
    for y in (measure.start, measure.end):
        yield Line(near, y, far, y, _FINE_MM)
        yield _tick(plumb, y)


def _abreast(measures: Sequence[Measure]) -> Iterator[tuple[Measure, float]]:
    """Where figures beside each other stand, each as near to its middle as can be; none where they have no room."""
    if not measures:
        return
    room = max(0.0, _ABREAST_MM - measures[-1].end + measures[0].start) / 2
    low, high = measures[0].start - room, measures[-1].end + room
    middles = [measure.middle for measure in measures]
    places = spread(middles, [_ABREAST_MM] * len(measures), _BESIDE_MM, low, high)
    yield from zip(measures, places or (), strict=False)


def _tick(x: float, y: float) -> Shape:
    return Line(x - _TICK_MM, y - _TICK_MM, x + _TICK_MM, y + _TICK_MM, 2 * _FINE_MM)


def _width(figure: str) -> float:
    return text_width_mm(figure, FIGURE_PT)


OUTLINE_MM: Final = 0.22
_FLOOR_MM: Final = 0.4
_OVERHANG_MM: Final = 1.5


@dataclass(frozen=True)
class View:
    """A reduced picture in mm: the cabinet's upper left corner is at 0, 0, and it goes down from there.

    ``notes`` are what found no room in it.
    """

    shapes: tuple[Shape, ...]
    notes: tuple[str, ...] = ()

    @cached_property
    def extent(self) -> Rect:
        """How far it reaches, with its figures."""
        return extent(self.shapes)


@dataclass(frozen=True, slots=True)
class Projection:
    """From a cabinet's stations to mm on paper: ``across`` from the left, ``up`` below ``top``."""

    across: Axis
    up: Axis
    top: Fraction
    scale: float

    def x(self, station: Fraction) -> float:
        return float(station) * self.scale

    def y(self, station: Fraction) -> float:
        return float(station - self.top) * self.scale

    def piece(self, piece: Piece, grey: float) -> Iterator[Shape]:
        """A piece filled with its outline."""
        return self.rectangle(piece.along(self.across), piece.along(self.up), grey)

    def rectangle(self, across: Range, up: Range, grey: float) -> Iterator[Shape]:
        edges = Rect(self.x(across.start), self.y(up.start), self.x(across.end), self.y(up.end))
        yield edges.filled(grey)
        yield from outline(edges, OUTLINE_MM)

    def measure_x(self, length: Range, job: Job) -> Measure:
        return Measure(self.x(length.start), self.x(length.end), job.label(length.size))

    def measure_y(self, length: Range, job: Job) -> Measure:
        return Measure(self.y(length.start), self.y(length.end), job.label(length.size))

    def floor(self, overall: Range) -> Iterator[Shape]:
        """The floor under the cabinet, a little wider than it."""
        level = self.y(Fraction(0))
        ends = (self.x(overall.start) - _OVERHANG_MM, level, self.x(overall.end) + _OVERHANG_MM, level)
        yield Line(*ends, _FLOOR_MM)

    def dimensions(self, across: Iterable[Range], up: Iterable[Range], overall: Range, job: Job) -> Iterator[Shape]:
        """Chains of dimensions below and at the left, the overall sizes outside them."""
        left, right = self.x(overall.start), self.x(overall.end)
        floor = self.y(Fraction(0))
        inner = [self.measure_x(length, job) for length in across if length != overall]
        chain = tuple(measures_below(inner, floor)) if inner else ()
        yield from chain
        below = extent(chain).bottom if chain else floor
        yield from measures_below([self.measure_x(overall, job)], below)
        whole = Range(Fraction(0), self.top)
        yield from measures_at_left([self.measure_y(length, job) for length in up if length != whole], left)
        yield from measure_at_right(self.measure_y(whole, job), right)
