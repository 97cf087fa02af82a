"""The words and figures on a strip: beside their marks where there is room, else lifted above them with a leader."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from storystick.drawing.lanes import (
    BESIDE_TOP,
    FAN_MM,
    FLAG_MM,
    GROOVE_TOP,
    LIFTED_PT,
    LINE_MM,
    MARK_TOP,
    NAME_BASELINE,
    NAME_PT,
    NUMBER_BASELINE,
    NUMBER_PT,
    POINTER_TOP,
    SEAM_KEEP_MM,
    SIZE_PT,
    StripLanes,
)
from storystick.drawing.lettering import shortened, text_width_mm
from storystick.drawing.shapes import FINE_MM, Area, Line, Shape, Text
from storystick.drawing.spread import GAP_MM, Lane, spread
from storystick.drawing.window import Window, points_to_name
from storystick.job.model import Job
from storystick.layout.model import Point, PointKind, Span, SpanKind, StickLayout

_SPACE_MM: Final = 1.6
_LONGEST_NAME_MM: Final = 60.0
_LONGEST_UPWARD_NAME_MM: Final = 16.0
_ARROW_MM: Final = 1.8
_DIMENSION_Y: Final = NAME_BASELINE + 1.3
_BASELINE_MM: Final = 0.7
_CAPITAL_MM: Final = 2.2

_LONG_PART_MM: Final = 60.0
_INSET_MM: Final = 0.6
_ROW_GAP_MM: Final = 2.4
_UPWARD_GAP_MM: Final = 0.2
_FARTHEST_MM: Final = 18.0
"""A leader that would have to lean over by more than this makes all labels stand upward instead."""


@dataclass(frozen=True, slots=True)
class _Wording:
    """A label's name in the regular face, then its figure in the bold one; either may be empty."""

    name: str
    figure: str
    name_pt: float = LIFTED_PT
    figure_pt: float = LIFTED_PT

    @property
    def name_width(self) -> float:
        gap = _SPACE_MM if self.name and self.figure else 0.0
        return text_width_mm(self.name, self.name_pt) + gap

    @property
    def width(self) -> float:
        return self.name_width + text_width_mm(self.figure, self.figure_pt, bold=True)

    def texts(self, x: float, y: float, upward: bool = False) -> Iterator[Text]:
        """The label with its beginning at ``x`` and ``y``."""
        if self.name:
            yield Text(x, y, self.name, self.name_pt, upward=upward)
        if self.figure:
            across, up = (0.0, self.name_width) if upward else (self.name_width, 0.0)
            yield Text(x + across, y + up, self.figure, self.figure_pt, bold=True, upward=upward)


@dataclass(frozen=True, slots=True)
class _Lifted:
    """A label that found no room beside its mark at ``x``; its leader comes up from the height ``foot``."""

    x: float
    wording: _Wording
    foot: float

    def standing_upward(self) -> _Lifted:
        name = shortened(self.wording.name, LIFTED_PT, _LONGEST_UPWARD_NAME_MM)
        return _Lifted(self.x, _Wording(name, self.wording.figure), self.foot)


@dataclass(frozen=True, slots=True)
class PlacedLabels:
    """All labels of a window with their places: shapes beside the marks, and lifted labels at their middles.

    ``left_out`` counts the labels for which there was no room at all.
    """

    beside: tuple[Shape, ...]
    lifted: tuple[tuple[_Lifted, float], ...]
    upward: bool
    left_out: int = 0

    @property
    def fan_mm(self) -> float:
        """The height that leaning leaders need."""
        return FAN_MM if any(_lean(label, middle, self.upward) > FINE_MM for label, middle in self.lifted) else 0.0

    @property
    def lifted_mm(self) -> float:
        """The height that the lifted labels need."""
        tallest = max((label.wording.width for label, _ in self.lifted), default=0.0)
        return tallest + 1.0 if self.upward else LINE_MM

    @property
    def right_mm(self) -> float:
        """How far right the lettering reaches."""
        return max((middle + _half(label, self.upward) for label, middle in self.lifted), default=0.0)


def place_labels(layout: StickLayout, window: Window, job: Job) -> PlacedLabels:
    """Find a place for every label of a window.

    Raises:
        Fault: the font has no sign for a character of a name.
    """
    points = points_to_name(layout.points, window)
    names, numbers = _occupied_lanes(layout, window, points)
    found = [
        *_edge_numbers(layout, window, job, numbers, points),
        *_opening_labels(layout, window, job, names),
        *_part_names(layout, window),
        *_point_labels(points, window, job),
    ]
    beside = tuple(label for label in found if not isinstance(label, _Lifted))
    lifted = sorted((label for label in found if isinstance(label, _Lifted)), key=lambda label: label.x)
    return _lift(beside, lifted, window)


def draw_labels(placed: PlacedLabels, lanes: StripLanes) -> Iterator[Shape]:
    """The shapes of all labels, with a leader from each lifted one down to its mark."""
    yield from placed.beside
    for label, middle in placed.lifted:
        if placed.upward:
            yield from label.wording.texts(middle + _CAPITAL_MM / 2, lanes.lifted_bottom + _BASELINE_MM, upward=True)
        else:
            yield from label.wording.texts(middle - label.wording.width / 2, lanes.lifted_bottom + _BASELINE_MM)
        yield from _leader(label, _landing(label, middle, placed.upward), lanes)


def _leader(label: _Lifted, landing: float, lanes: StripLanes) -> Iterator[Shape]:
    """Straight up from the mark, then leaning over to the label if that had to step aside."""
    if label.foot < lanes.fan_bottom and (lanes.fan or label.foot < GROOVE_TOP):
        yield Line(label.x, label.foot, label.x, lanes.fan_bottom, FINE_MM)
    if lanes.fan:
        yield Line(label.x, lanes.fan_bottom, landing, lanes.lifted_bottom, FINE_MM)


def _lift(beside: tuple[Shape, ...], lifted: Sequence[_Lifted], window: Window) -> PlacedLabels:
    """Spread the lifted labels along the window in a row; upward where a row would take them too far aside."""
    row = _spread(lifted, window.width, upward=False)
    if row is not None and all(_lean(label, middle, upward=False) <= _FARTHEST_MM for label, middle in row):
        return PlacedLabels(beside, tuple(row), upward=False)
    upward = [label.standing_upward() for label in lifted]
    for labels in (upward, [label for label in upward if label.wording.figure]):
        if (standing := _spread(labels, window.width, upward=True)) is not None:
            return PlacedLabels(beside, tuple(standing), True, len(lifted) - len(labels))
    return _lift_beyond(beside, lifted, window)


def _lift_beyond(beside: tuple[Shape, ...], lifted: Sequence[_Lifted], window: Window) -> PlacedLabels:
    """The labels of a window too short for them: to the right of a strip in one piece, else left to the job sheet."""
    if window.of == 1:
        room = sum(label.wording.width + _ROW_GAP_MM for label in lifted) + window.width
        return PlacedLabels(beside, tuple(_spread(lifted, room, upward=False) or ()), upward=False)
    fit = int((window.width - 2 * _INSET_MM) // (LINE_MM + _UPWARD_GAP_MM))
    kept = [label.standing_upward() for label in lifted if label.wording.figure][:fit]
    standing = _spread(kept, window.width, upward=True) or []
    return PlacedLabels(beside, tuple(standing), True, len(lifted) - len(standing))


def _spread(labels: Sequence[_Lifted], width: float, upward: bool) -> list[tuple[_Lifted, float]] | None:
    widths = [2 * _half(label, upward) for label in labels]
    gap = _UPWARD_GAP_MM if upward else _ROW_GAP_MM
    middles = spread([label.x for label in labels], widths, gap, _INSET_MM, width - _INSET_MM)
    return None if middles is None else list(zip(labels, middles, strict=True))


def _half(label: _Lifted, upward: bool) -> float:
    return LINE_MM / 2 if upward else label.wording.width / 2


def _landing(label: _Lifted, middle: float, upward: bool) -> float:
    """Where the leader meets its label: straight above its mark if the label is there, else at the label's near end."""
    play = 0.0 if upward else max(label.wording.width / 2 - 1.0, 0.0)
    return min(max(label.x, middle - play), middle + play)


def _lean(label: _Lifted, middle: float, upward: bool) -> float:
    """How far aside a leader leans."""
    return abs(_landing(label, middle, upward) - label.x)


def _occupied_lanes(layout: StickLayout, window: Window, named: Iterable[Point]) -> tuple[Lane, Lane]:
    """The lanes for names and for numbers among the bands, with what stands in each already taken."""
    names, numbers = Lane(), Lane()
    for placed in layout.parts:
        if stretch := window.stretch(placed.span.start, placed.span.end):
            names.take(*stretch)
            numbers.take(*stretch)
    for station in filter(window.shows, layout.bare_edges):
        names.take(window.x(station) - 1, window.x(station) + 1)
        numbers.take(window.x(station), window.x(station))
    for point in filter(lambda point: window.shows(point.at), layout.points):
        numbers.take(window.x(point.at) - 1, window.x(point.at) + 1)
    for point in named:
        flag = FLAG_MM if point.kind is PointKind.STRAIGHTEDGE else 0.0
        names.take(window.x(point.at) - flag, window.x(point.at) + flag)
    for seam in window.seams:
        numbers.take(window.x(seam) - SEAM_KEEP_MM, window.x(seam) + SEAM_KEEP_MM)
    return names, numbers


def _edge_numbers(
    layout: StickLayout, window: Window, job: Job, lane: Lane, named: Iterable[Point]
) -> Iterator[Shape | _Lifted]:
    """The station of every lettered edge, beside it in the opening it bounds; those with no room there are lifted.

    The ends of the stick are left to the headline, and an edge where a named point lies to the label of that.
    """
    said = {layout.length, *(point.at for point in named)}
    openings = {span.start: 1 for span in layout.spans if span.kind is SpanKind.OPENING}
    openings |= {span.end: -1 for span in layout.spans if span.kind is SpanKind.OPENING}
    for edge in layout.lettered_edges:
        if not window.shows(edge) or edge in said:
            continue
        wording = _Wording("", job.label(edge), figure_pt=NUMBER_PT)
        x, side = window.x(edge), openings.get(edge, 0) * window.direction
        left = x + GAP_MM if side > 0 else x - GAP_MM - wording.width
        fits = left >= 0 and left + wording.width <= window.width
        if side and fits and lane.is_free(left, left + wording.width):
            lane.take(left, left + wording.width)
            yield from wording.texts(left, NUMBER_BASELINE)
        else:
            yield _Lifted(x, _Wording("", wording.figure), MARK_TOP)


def _opening_labels(layout: StickLayout, window: Window, job: Job, lane: Lane) -> Iterator[Shape | _Lifted]:
    """Every opening's name and clear size, between arrows where they fit into it; else lifted."""
    for span in layout.spans:
        stretch = window.stretch(span.start, span.end)
        if span.kind is not SpanKind.OPENING or stretch is None:
            continue
        left, right = stretch
        wording = _Wording(shortened(span.name, NAME_PT, _name_room(window)), job.label(span.size), NAME_PT, SIZE_PT)
        start = lane.free_near((left + right - wording.width) / 2, wording.width, left + GAP_MM, right - GAP_MM)
        if start is not None:
            lane.take(start, start + wording.width)
            yield from wording.texts(start, NAME_BASELINE)
            yield from _arrows(span, window, start - 1, start + wording.width + 1)
        elif window.shows((span.start + span.end) / 2):
            yield _Lifted((left + right) / 2, _Wording(wording.name, wording.figure), NAME_BASELINE)


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
    """Every part's name above its middle, and above the middle of what shows where a long part is cut by a seam."""
    for placed in layout.parts:
        middle = (placed.span.start + placed.span.end) / 2
        left, right = window.stretch(placed.span.start, placed.span.end) or (0.0, 0.0)
        if window.shows(middle) or right - left >= _LONG_PART_MM:
            x = window.x(middle) if window.shows(middle) else (left + right) / 2
            yield _Lifted(x, _Wording(_short(placed.span.name, window), placed.figure), BESIDE_TOP)


def _point_labels(points: Iterable[Point], window: Window, job: Job) -> Iterator[_Lifted]:
    for point in points:
        foot = MARK_TOP if point.kind is PointKind.STRAIGHTEDGE else POINTER_TOP
        yield _Lifted(window.x(point.at), _Wording(_short(point.words, window), job.label(point.at)), foot)


def _short(name: str, window: Window) -> str:
    return shortened(name, LIFTED_PT, _name_room(window))


def _name_room(window: Window) -> float:
    """How long a name may be: what runs out of a window would be cut at its seam, or pasted over on its tab."""
    return min(_LONGEST_NAME_MM, window.width / 3) if window.of > 1 else _LONGEST_NAME_MM
