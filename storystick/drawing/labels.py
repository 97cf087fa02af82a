"""The words and figures on a strip: beside their marks where there is room, else lifted into rows with a leader."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import groupby
from typing import Final

from storystick.drawing.bands import FINE_MM, bare_lines
from storystick.drawing.lanes import (
    GROOVE_TOP,
    MARK_TOP,
    NAME_BASELINE,
    NAME_PT,
    NUMBER_BASELINE,
    NUMBER_PT,
    POINTER_TOP,
    ROW_PT,
    SEAM_KEEP_MM,
    SIZE_PT,
    StripLanes,
)
from storystick.drawing.lettering import shortened, text_width_mm
from storystick.drawing.rows import GAP_MM, Lane, Rows
from storystick.drawing.shapes import Area, Line, Shape, Text
from storystick.drawing.window import Window
from storystick.job.model import Job
from storystick.layout.model import Point, Span, SpanKind, StickLayout

_BESIDE_MM: Final = GAP_MM + 0.01
_SPACE_MM: Final = 1.6
_LONGEST_NAME_MM: Final = 60.0
_FIGURE_MM: Final = 28.0
_ARROW_MM: Final = 1.8
_DIMENSION_Y: Final = NAME_BASELINE + 1.3


@dataclass(frozen=True, slots=True)
class _Wording:
    """A label's name in the regular face, then its figure in the bold one; either may be empty."""

    name: str
    figure: str
    name_pt: float = ROW_PT
    figure_pt: float = ROW_PT

    @property
    def gap(self) -> float:
        return _SPACE_MM if self.name and self.figure else 0.0

    @property
    def name_width(self) -> float:
        return text_width_mm(self.name, self.name_pt)

    @property
    def width(self) -> float:
        return self.name_width + self.gap + text_width_mm(self.figure, self.figure_pt, bold=True)

    def texts(self, left: float, baseline: float) -> Iterator[Text]:
        if self.name:
            yield Text(left, baseline, self.name, self.name_pt)
        if self.figure:
            yield Text(left + self.name_width + self.gap, baseline, self.figure, self.figure_pt, bold=True)


@dataclass(frozen=True, slots=True)
class _Lifted:
    """A label for the rows: over ``x``, with its leader coming up from ``foot``."""

    x: float
    wording: _Wording
    foot: float


@dataclass(slots=True)
class PlacedLabels:
    """All labels of a window with their places; ``rows`` is how many rows they need."""

    shapes: list[Shape] = field(default_factory=list)
    lifted: list[tuple[_Lifted, int, float]] = field(default_factory=list)
    stack: Rows = field(default_factory=lambda: Rows(0.0))

    @property
    def rows(self) -> int:
        return len(self.stack.lanes)

    @property
    def right_mm(self) -> float:
        """How far right the lettering reaches."""
        return max((left + label.wording.width for label, _, left in self.lifted), default=0.0)


def place_labels(layout: StickLayout, window: Window, job: Job) -> PlacedLabels:
    """Find a place for every label of a window.

    Raises:
        Fault: the font has no sign for a character of a name.
    """
    placed = PlacedLabels(stack=Rows(window.width))
    labelled_points = _points_to_name(layout.points, window)
    names, numbers = _occupied_lanes(layout, window, labelled_points)
    lifted = [
        *_edge_numbers(layout, window, job, numbers, placed.shapes),
        *_opening_labels(layout, window, job, names, placed.shapes),
        *_part_names(layout, window),
        *_point_labels(labelled_points, window, job),
    ]
    for label in sorted(lifted, key=lambda label: label.x):
        row, left = placed.stack.place(label.x, label.wording.width)
        placed.lifted.append((label, row, left))
    return placed


def draw_labels(placed: PlacedLabels, lanes: StripLanes) -> Iterator[Shape]:
    """The shapes of all labels; a leader leaves out the rows where other lettering stands in its way."""
    yield from placed.shapes
    for label, row, left in placed.lifted:
        yield from label.wording.texts(left, lanes.row_baseline(row))
        bottom = lanes.row_bottom(0)
        if label.foot < GROOVE_TOP:
            yield Line(label.x, label.foot, label.x, bottom, FINE_MM)
        for crossed in placed.stack.rows_open_at(label.x, row):
            yield Line(label.x, lanes.row_bottom(crossed), label.x, lanes.row_bottom(crossed + 1), FINE_MM)


def _occupied_lanes(layout: StickLayout, window: Window, named: Iterable[Point]) -> tuple[Lane, Lane]:
    """The lanes for names and for numbers among the bands, with what stands in each already taken."""
    names, numbers = Lane(), Lane()
    for placed in layout.parts:
        if stretch := window.stretch(placed.span.start, placed.span.end):
            names.take(*stretch)
            numbers.take(*stretch)
    for station in filter(window.shows, bare_lines(layout)):
        names.take(window.x(station) - 1, window.x(station) + 1)
        numbers.take(window.x(station), window.x(station))
    for point in filter(lambda point: window.shows(point.at), layout.points):
        numbers.take(window.x(point.at) - 1, window.x(point.at) + 1)
    for point in named:
        names.take(window.x(point.at), window.x(point.at))
    for seam in window.seams:
        numbers.take(window.x(seam) - SEAM_KEEP_MM, window.x(seam) + SEAM_KEEP_MM)
    return names, numbers


def _edge_numbers(layout: StickLayout, window: Window, job: Job, lane: Lane, shapes: list[Shape]) -> Iterator[_Lifted]:
    """The station of every edge, written beside it in the opening it bounds; those with no room there are lifted.

    The ends of the stick are left to the headline.
    """
    openings = {span.start: 1 for span in layout.spans if span.kind is SpanKind.OPENING}
    openings |= {span.end: -1 for span in layout.spans if span.kind is SpanKind.OPENING}
    for edge in sorted({span.end for span in layout.spans}):
        if not window.shows(edge) or edge == layout.length:
            continue
        figure = job.label(edge)
        wording = _Wording("", figure, figure_pt=NUMBER_PT)
        x, side = window.x(edge), openings.get(edge, 0) * window.direction
        left = x + _BESIDE_MM if side > 0 else x - _BESIDE_MM - wording.width
        fits = left >= 0 and left + wording.width <= window.width
        if side and fits and lane.is_free(left, left + wording.width):
            lane.take(left, left + wording.width)
            shapes.extend(wording.texts(left, NUMBER_BASELINE))
        else:
            yield _Lifted(x, _Wording("", figure), MARK_TOP)


def _opening_labels(
    layout: StickLayout, window: Window, job: Job, lane: Lane, shapes: list[Shape]
) -> Iterator[_Lifted]:
    """Every opening's name and clear size, between arrows where they fit into it; else lifted."""
    for span in layout.spans:
        stretch = window.stretch(span.start, span.end)
        if span.kind is not SpanKind.OPENING or stretch is None:
            continue
        left, right = stretch
        name = shortened(span.name, NAME_PT, _name_room(window))
        wording = _Wording(name, job.label(span.size), NAME_PT, SIZE_PT)
        start = (left + right - wording.width) / 2
        if start - _BESIDE_MM >= left and lane.is_free(start, start + wording.width):
            lane.take(start, start + wording.width)
            shapes.extend(wording.texts(start, NAME_BASELINE))
            shapes.extend(_arrows(span, window, start - 1, start + wording.width + 1))
        elif window.shows((span.start + span.end) / 2):
            yield _Lifted((left + right) / 2, _Wording(wording.name, wording.figure), MARK_TOP)


def _arrows(span: Span, window: Window, left: float, right: float) -> Iterator[Shape]:
    """From the words at ``left`` to ``right`` out to the opening's own ends, as far as they show."""
    low, high = sorted((window.x(span.start), window.x(span.end)))
    for tip, words, away in ((low, left, 1), (high, right, -1)):
        shown = 0.0 <= tip <= window.width
        end = min(max(tip, 0.0), window.width)
        if (words - end) * away < 2 * _ARROW_MM:
            continue
        if shown:
            base = tip + away * _ARROW_MM
            yield Area(((tip, _DIMENSION_Y), (base, _DIMENSION_Y + 0.6), (base, _DIMENSION_Y - 0.6)))
            end = base
        yield Line(end, _DIMENSION_Y, words, _DIMENSION_Y, FINE_MM)


def _part_names(layout: StickLayout, window: Window) -> Iterator[_Lifted]:
    for placed in layout.parts:
        middle = (placed.span.start + placed.span.end) / 2
        if window.shows(middle):
            yield _Lifted(window.x(middle), _Wording(_short(placed.span.name, window), ""), GROOVE_TOP)


def _point_labels(points: Iterable[Point], window: Window, job: Job) -> Iterator[_Lifted]:
    for point in points:
        figure = job.label(point.at)
        yield _Lifted(window.x(point.at), _Wording(_short(point.name, window), figure), POINTER_TOP)


def _points_to_name(points: Iterable[Point], window: Window) -> list[Point]:
    """The single points, and of every row of holes the first and the last that show."""
    shown = [point for point in points if window.shows(point.at)]
    rows = [list(row) for _, row in groupby(shown, key=lambda point: (point.kind, point.name.rpartition(" ")[0]))]
    return [point for row in rows for point in dict.fromkeys((row[0], row[-1]))]


def _short(name: str, window: Window) -> str:
    return shortened(name, ROW_PT, _name_room(window))


def _name_room(window: Window) -> float:
    """How long a name may be: what runs out of a window would be cut at its seam, or pasted over on its tab."""
    return min(_LONGEST_NAME_MM, window.width - _FIGURE_MM) if window.of > 1 else _LONGEST_NAME_MM
