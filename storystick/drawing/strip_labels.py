"""The words and figures on a strip: beside their marks where there is room, else lifted above them with a leader."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from math import inf
from typing import Final

from storystick.drawing.lettering import shortened, text_width_mm
from storystick.drawing.placing_words import GAP_MM, Lane, gaps
from storystick.drawing.shapes import FINE_MM, Area, Line, Shape, Text
from storystick.drawing.strip_lanes import (
    BESIDE_BOTTOM,
    BESIDE_TOP,
    FLAG_MM,
    GROOVE_TOP,
    LIFTED_PT,
    MARK_TOP,
    NAME_BASELINE,
    NAME_PT,
    NUMBER_BASELINE,
    NUMBER_PT,
    POINTER_TOP,
    SIZE_PT,
    WORDS_PT,
    StripLanes,
)
from storystick.drawing.strip_lifting import FARTHEST_MM, LeftOut, Lifted, LiftedLabels, Rank, Wording, lift
from storystick.drawing.window import SEAM_KEEP_MM, WORDS_KEEP_MM, Window
from storystick.layout.stations import Point, PointKind, Span, SpanKind, StickLayout
from storystick.lengths import Figures

_LONGEST_NAME_MM: Final = 60.0
_ARROW_MM: Final = 1.8
_DIMENSION_Y: Final = NAME_BASELINE + 1.3
_LONG_PART_MM: Final = 60.0
_MEMBER_INSET_MM: Final = 0.75
_LEAST_MEMBER_MM: Final = 5.0


@dataclass(frozen=True, slots=True)
class PlacedLabels:
    """All labels of a window with their places: shapes beside the marks, and labels lifted above them."""

    beside: tuple[Shape, ...]
    lifted: LiftedLabels
    left_out: LeftOut


def place_labels(layout: StickLayout, window: Window, figures: Figures) -> PlacedLabels:
    """Find a place for every label of a window.

    Raises:
        Fault: the font has no sign for a character of a name.
    """
    points = points_to_name(layout.points, window)
    marks = _Marks.of(layout, window)
    names, numbers = _occupied_lanes(layout, window, points)
    labels = [
        *_edge_numbers(layout, window, figures, numbers, points, marks),
        *_opening_labels(layout, window, figures, names, marks),
        *_part_names(layout, window, marks),
        *_point_labels(points, window, figures, marks),
    ]
    lifted = lift((label for label in labels if isinstance(label, Lifted)), window)
    beside = [label for label in labels if not isinstance(label, Lifted)]
    members = list(_member_names(layout, window, [label.x for label, _ in lifted.labels]))
    unnamed = LeftOut(names=sum(name is None for name in members))
    return PlacedLabels((*beside, *filter(None, members)), lifted, lifted.left_out + unnamed)


def draw_labels(placed: PlacedLabels, lanes: StripLanes) -> Iterator[Shape]:
    """The shapes of all labels, with a leader from each lifted one down to its mark."""
    yield from placed.beside
    yield from placed.lifted.draw(lanes)


@dataclass(frozen=True, slots=True)
class _Marks:
    """Every mark of a strip by its x in a window, rising, whether it shows there or not."""

    places: tuple[float, ...]

    @classmethod
    def of(cls, layout: StickLayout, window: Window) -> _Marks:
        return cls(tuple(sorted(window.x(mark) for mark in layout.marks)))

    def reach(self, x: float) -> tuple[float, float]:
        """From where to where the leader of a mark may land.

        A third of the way to the next, and no farther than the next on the other side is away: there it is still
        twice as near to its own mark as to either.
        """
        low, high = self._room(x, x)
        return x - min(low / 3, high, FARTHEST_MM), x + min(high / 3, low, FARTHEST_MM)

    def over(self, x: float, left: float, right: float) -> tuple[float, float]:
        """The same of a name at ``x`` of what lies from ``left`` to ``right``: above that, or close by."""
        low, high = self._room(left, right)
        return max(left - low / 3, x - FARTHEST_MM), min(right + high / 3, x + FARTHEST_MM)

    def _room(self, left: float, right: float) -> tuple[float, float]:
        """How far the next marks are from a stretch."""
        before, after = bisect_left(self.places, left), bisect_right(self.places, right)
        low = left - self.places[before - 1] if before else inf
        return low, self.places[after] - right if after < len(self.places) else inf

    def keep_off(self, own: float, left: float, right: float) -> bool:
        """Whether no mark but its own is less than twice as far from a figure as that is."""
        near = self.places[bisect_left(self.places, left - 2 * GAP_MM) : bisect_right(self.places, right + 2 * GAP_MM)]
        return all(mark == own for mark in near)


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
    layout: StickLayout, window: Window, figures: Figures, lane: Lane, named: Iterable[Point], marks: _Marks
) -> Iterator[Shape | Lifted]:
    """The station of every lettered edge, beside it in the opening it bounds; those with no room there are lifted.

    The ends of the stick are left to the headline, and an edge where a named point lies to the label of that.
    """
    told_elsewhere = {layout.length, *(point.at for point in named)}
    # On which side of an edge its opening lies: 1 away from the datum, -1 towards it, which wins where both do.
    openings = {span.start: 1 for span in layout.spans if span.kind is SpanKind.OPENING}
    openings |= {span.end: -1 for span in layout.spans if span.kind is SpanKind.OPENING}
    for edge in layout.lettered_edges:
        if not window.shows(edge) or edge in told_elsewhere:
            continue
        wording = Wording("", figures(edge), figure_pt=NUMBER_PT)
        x, side = window.x(edge), openings.get(edge, 0) * window.direction
        left = x + GAP_MM if side > 0 else x - GAP_MM - wording.width
        fits = WORDS_KEEP_MM <= left <= window.width - WORDS_KEEP_MM - wording.width
        if side and fits and marks.keep_off(x, left, left + wording.width) and lane.is_free(left, left + wording.width):
            lane.take(left, left + wording.width)
            yield from wording.in_row(left, NUMBER_BASELINE)
        else:
            yield Lifted(x, *marks.reach(x), Wording("", wording.figure), MARK_TOP, Rank.FIGURE)


def _opening_labels(
    layout: StickLayout, window: Window, figures: Figures, lane: Lane, marks: _Marks
) -> Iterator[Shape | Lifted]:
    """Every opening's name and clear size, between arrows where they fit into it; else lifted."""
    for span in layout.spans:
        stretch = window.stretch(span.start, span.end)
        if span.kind is not SpanKind.OPENING or stretch is None:
            continue
        left, right = stretch
        wording = Wording(shortened(span.name, NAME_PT, _name_room(window)), figures(span.size), NAME_PT, SIZE_PT)
        low, high = max(left + GAP_MM, WORDS_KEEP_MM), min(right - GAP_MM, window.width - WORDS_KEEP_MM)
        start = lane.free_near((left + right - wording.width) / 2, wording.width, low, high)
        if start is not None:
            lane.take(start, start + wording.width)
            yield from wording.in_row(start, NAME_BASELINE)
            yield from _arrows(span, window, start - 1, start + wording.width + 1)
        elif window.shows((span.start + span.end) / 2):
            middle, lifted = (left + right) / 2, Wording(wording.name, wording.figure)
            yield Lifted(middle, *marks.over(middle, left, right), lifted, NAME_BASELINE, Rank.SIZE)


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


def _part_names(layout: StickLayout, window: Window, marks: _Marks) -> Iterator[Lifted]:
    """Every part's name above its middle, and above the middle of what shows where a long part is cut by a seam."""
    for placed in layout.parts:
        middle = (placed.span.start + placed.span.end) / 2
        left, right = window.stretch(placed.span.start, placed.span.end) or (0.0, 0.0)
        if window.shows(middle) or right - left >= _LONG_PART_MM:
            x = window.x(middle) if window.shows(middle) else (left + right) / 2
            rank = Rank.FIGURE if placed.figure else Rank.NAME
            wording = Wording(_short(placed.span.name, window), placed.figure)
            yield Lifted(x, *marks.over(x, left, right), wording, _top_at(x, layout, window), rank)


def _top_at(x: float, layout: StickLayout, window: Window) -> float:
    """Where what is drawn of a part ends above, so that a leader stands on it: a frame's lane, a groove, its band."""
    if layout.beside:
        return BESIDE_TOP
    grooves = filter(None, (window.stretch(groove.start, groove.end) for groove in layout.grooves))
    return GROOVE_TOP if any(left <= x <= right for left, right in grooves) else MARK_TOP


def _point_labels(points: Iterable[Point], window: Window, figures: Figures, marks: _Marks) -> Iterator[Lifted]:
    for point in points:
        foot = MARK_TOP if point.kind is PointKind.STRAIGHTEDGE else POINTER_TOP
        x, wording = window.x(point.at), Wording(_short(point.words, window), figures(point.at))
        yield Lifted(x, *marks.reach(x), wording, foot, Rank.FIGURE)


def _member_names(layout: StickLayout, window: Window, leaders: Sequence[float]) -> Iterator[Text | None]:
    """The name of every member of the face frame in its band, where no leader passes; None where it has no room."""
    for member in layout.beside:
        if stretch := window.stretch(member.start, member.end):
            left, right = stretch[0] + _MEMBER_INSET_MM, stretch[1] - _MEMBER_INSET_MM
            low = max(left, WORDS_KEEP_MM)
            yield _name_between(member.name, low, min(right, window.width - WORDS_KEEP_MM), leaders)


def _name_between(name: str, left: float, right: float, leaders: Sequence[float]) -> Text | None:
    """A name nearest the middle of a stretch, whole if it can be, else as much of it as the widest gap holds."""
    lane = Lane([(x, x) for x in leaders])
    width = text_width_mm(name, WORDS_PT)
    start = lane.free_near((left + right - width) / 2, width, left, right)
    if start is not None:
        return Text(start, BESIDE_BOTTOM + 0.7, name, WORDS_PT)
    free = gaps(((x - GAP_MM, x + GAP_MM) for x in leaders), left, right)
    start, end = max(free, key=lambda gap: gap[1] - gap[0], default=(left, left))
    short = shortened(name, WORDS_PT, end - start) if end - start >= _LEAST_MEMBER_MM else ""
    return Text(start, BESIDE_BOTTOM + 0.7, short, WORDS_PT) if short else None


def _short(name: str, window: Window) -> str:
    return shortened(name, LIFTED_PT, _name_room(window))


def _name_room(window: Window) -> float:
    """How long a name may be: what runs out of a window would be cut at its seam, or pasted over on its tab."""
    return min(_LONGEST_NAME_MM, window.width / 3) if window.of > 1 else _LONGEST_NAME_MM


def points_to_name(points: Iterable[Point], window: Window) -> list[Point]:
    """The single points, and of every row of holes the first and the last that show."""
    shown = [point for point in points if window.shows(point.at)]
    single = [point for point in shown if point.row is None]
    rows = [list(row) for name, row in groupby(shown, key=lambda point: point.row) if name is not None]
    return single + [point for row in rows for point in dict.fromkeys((row[0], row[-1]))]
