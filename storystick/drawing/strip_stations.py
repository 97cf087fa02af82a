"""The stations that are struck by: each at the foot beside its own edge, or lifted where it has no room there."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import inf
from typing import Final

from storystick.drawing.built_up import BuiltUp
from storystick.drawing.lettering import SIZE_MM, STATION_MM
from storystick.drawing.placing_words import GAP_MM, Lane
from storystick.drawing.shapes import Shape
from storystick.drawing.strip_lanes import BESIDE_BOTTOM, BESIDE_TOP, FOOT_BOTTOM, MARK_TOP, POINTER_TOP
from storystick.drawing.strip_lifting import FARTHEST_MM, Lifted, Rank
from storystick.drawing.window import Window
from storystick.layout.stations import Point, PointKind, SpanKind, StickLayout
from storystick.lengths import Figures

_APART_MM: Final = 1.2
"""So much more than the clear space round any words is kept between two stations in one line."""


_BEARING_MM: Final = 0.5
"""So much farther from its mark than its advance the ink of a figure may begin."""


@dataclass(frozen=True, slots=True)
class Marks:
    """Some marks of a strip by their x in a window, rising, whether they show there or not."""

    places: tuple[float, ...]

    @classmethod
    def at(cls, stations: Iterable[Fraction], window: Window) -> Marks:
        return cls(tuple(sorted(map(window.x, stations))))

    def reach(self, x: float) -> tuple[float, float]:
        """From where to where the leader of a mark may land.

        A third of the way to the next, and no farther than the next on the other side is away: there it is still
        twice as near to its own mark as to either.
        """
        low, high = self._room(x, x)
        return x - min(low / 3, high, FARTHEST_MM), x + min(high / 3, low, FARTHEST_MM)

    def over(self, x: float, left: float, right: float) -> tuple[float, float]:
        """The same of a label at ``x`` of what lies from ``left`` to ``right``: above that, or close by."""
        low, high = self._room(left, right)
        return max(left - low / 3, x - FARTHEST_MM), min(right + high / 3, x + FARTHEST_MM)

    def _room(self, left: float, right: float) -> tuple[float, float]:
        """How far the next marks are from a stretch."""
        before, after = bisect_left(self.places, left), bisect_right(self.places, right)
        low = left - self.places[before - 1] if before else inf
        return low, self.places[after] - right if after < len(self.places) else inf

    def are_off(self, own: float, left: float, right: float) -> bool:
        """Whether no mark but its own is less than twice as far from a figure as that is."""
        far = 2 * (GAP_MM + _BEARING_MM)
        near = self.places[bisect_left(self.places, left - far) : bisect_right(self.places, right + far)]
        return all(mark == own for mark in near)


@dataclass(frozen=True, slots=True)
class Station:
    """A figure beside the mark at ``x``: from ``left``, ``width`` mm wide."""

    figure: BuiltUp
    left: float
    baseline: float

    @property
    def right(self) -> float:
        return self.left + self.figure.width_mm

    def shapes(self) -> Iterator[Shape]:
        return self.figure.shapes(self.left, self.baseline)


def foot_stations(
    layout: StickLayout, window: Window, figures: Figures, points: Collection[Point], all_marks: Marks
) -> Iterator[Station | Lifted]:
    """Of every lettered edge in the opening that it bounds, and of the named ``points`` on either side.

    The far end of the stick is left to the head. Where points are, their own figure says the edge.
    """
    foot = _Foot.of(layout, window)
    at_points = {point.at for point in points}
    sides = _opening_sides(layout)
    for edge in layout.lettered_edges:
        if window.shows(edge) and edge != layout.length and edge not in at_points:
            yield foot.station(edge, sides.get(edge, ()), figures, MARK_TOP, all_marks)
    for point in (point for point in points if point.at != layout.length):
        top = MARK_TOP if point.kind is PointKind.STRAIGHTEDGE else POINTER_TOP
        yield foot.station(point.at, sides.get(point.at, (1, -1)), figures, top, all_marks)


def _opening_sides(layout: StickLayout) -> dict[Fraction, tuple[int, ...]]:
    """On which sides of an edge an opening lies: -1 towards the datum, which is the first choice, 1 away from it."""
    openings = [span for span in layout.spans if span.kind is SpanKind.OPENING]
    sides: dict[Fraction, tuple[int, ...]] = {span.end: (-1,) for span in openings}
    for span in openings:
        sides[span.start] = (*sides.get(span.start, ()), 1)
    return sides


@dataclass(frozen=True, slots=True)
class _Foot:
    """The lane along the marking edge, with what is struck there already taken."""

    window: Window
    limits: tuple[float, float]
    lane: Lane
    marks: Marks

    @classmethod
    def of(cls, layout: StickLayout, window: Window) -> _Foot:
        lane = Lane()
        shown = (window.stretch(placed.span.start, placed.span.end) for placed in layout.parts)
        for stretch in filter(None, shown):
            lane.take(*stretch)
        lines = [*layout.bare_edges, *(point.at for point in layout.points)]
        for x in (window.x(at) for at in lines if window.shows(at)):
            lane.take(x, x)
        edges = (edge for placed in layout.parts for edge in (placed.span.start, placed.span.end))
        return cls(window, window.words_limits, lane, Marks.at((*lines, *edges), window))

    def station(
        self, at: Fraction, sides: Iterable[int], figures: Figures, top: float, all_marks: Marks
    ) -> Station | Lifted:
        """Beside its mark on the first of the ``sides`` that has room, else lifted from the height ``top``."""
        x, figure = self.window.x(at), BuiltUp(figures(at), STATION_MM, bold=True)
        for side in sides:
            left = _beside(x, side * self.window.direction, figure)
            if _is_inside(self.limits, left, figure) and self._has_room(x, left, left + figure.width_mm):
                self.lane.take(left - _APART_MM, left + figure.width_mm + _APART_MM)
                return Station(figure, left, FOOT_BOTTOM + figure.below_mm)
        return Lifted(x, *all_marks.reach(x), BuiltUp(figure.label, SIZE_MM, bold=True), top, Rank.FIGURE)

    def _has_room(self, x: float, left: float, right: float) -> bool:
        return self.marks.are_off(x, left, right) and self.lane.is_free(left, right)


def member_stations(
    layout: StickLayout, window: Window, figures: Figures, leaders: Iterable[float], all_marks: Marks
) -> Iterator[Station | Lifted]:
    """Of the edges of the face frame's members, outside them, where no leader passes; those told already have none."""
    edges = {edge: side for member in layout.beside for edge, side in ((member.start, -1), (member.end, 1))}
    lane = Lane([(x, x) for x in leaders])
    shown = (window.stretch(member.start, member.end) for member in layout.beside)
    for stretch in filter(None, shown):
        lane.take(*stretch)
    near = Marks.at((*edges, *(edge for groove in layout.grooves for edge in (groove.start, groove.end))), window)
    for edge in sorted(edges.keys() - {0, layout.length, *layout.lettered_edges}):
        if window.shows(edge):
            yield _of_member(edge, edges[edge], window, figures, lane, near, all_marks)


def _of_member(
    edge: Fraction, side: int, window: Window, figures: Figures, lane: Lane, near: Marks, all_marks: Marks
) -> Station | Lifted:
    x, figure = window.x(edge), BuiltUp(figures(edge), SIZE_MM, bold=True)
    left = _beside(x, side * window.direction, figure)
    right = left + figure.width_mm
    if _is_inside(window.words_limits, left, figure) and near.are_off(x, left, right) and lane.is_free(left, right):
        lane.take(left, right)
        return Station(figure, left, BESIDE_BOTTOM + figure.below_mm)
    return Lifted(x, *all_marks.reach(x), figure, BESIDE_TOP, Rank.FIGURE)


def _beside(x: float, side: int, figure: BuiltUp) -> float:
    """The left of a figure on one side of its mark: 1 right of it, -1 left of it."""
    return x + GAP_MM if side > 0 else x - GAP_MM - figure.width_mm


def _is_inside(limits: tuple[float, float], left: float, figure: BuiltUp) -> bool:
    return limits[0] <= left and left + figure.width_mm <= limits[1]
