"""The words and figures of a tile: stations at the foot, sizes in dimension lines, names, and what is lifted.

A name never stands in one line with a figure: the names have a lane of their own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby, product
from math import inf
from typing import Final

from storystick.drawing.built_up import BuiltUp
from storystick.drawing.lettering import NAME_MM, SIZE_MM, WORDS_PT, shortened, text_width_mm
from storystick.drawing.placing_words import GAP_MM, Lane, gaps
from storystick.drawing.shapes import FINE_MM, Anchor, Area, Line, Shape, Text
from storystick.drawing.strip_bands import band_figure
from storystick.drawing.strip_lanes import (
    BESIDE_BOTTOM,
    DIMENSION_Y,
    FEET_MM,
    FLAG_MM,
    GROOVE_TOP,
    MARK_TOP,
    POINTER_TOP,
    SIZE_BOTTOM,
    StripLanes,
)
from storystick.drawing.strip_lifting import LeftOut, Lifted, LiftedLabels, Rank, lift
from storystick.drawing.strip_stations import Marks, Station, foot_stations, member_stations
from storystick.drawing.window import Window
from storystick.layout.stations import Point, PointKind, Span, SpanKind, StickLayout
from storystick.lengths import Figures

_LONGEST_NAME_MM: Final = 60.0
_SHORTER_MM: Final = (24.0, 16.0, 11.0)
_LEAST_NAME_MM: Final = 8.0
_LEAST_NAMED_MM: Final = 5
_OVER_MM: Final = 4.0
_OVER_POINT_MM: Final = 1.0
_ASIDE_MM: Final = 2.5
_APART_MM: Final = (3.9, 1.5)
_FLAG_MM: Final = 0.8
_ARROW_MM: Final = 1.8
_ARROW_HALF_MM: Final = 0.5
_MEMBER_INSET_MM: Final = 0.75
_LEADER_MM: Final = 0.8
_BETWEEN: Final = "↔ "


@dataclass(frozen=True, slots=True)
class PlacedLabels:
    """All labels of a window with their places; ``names`` and ``leaders`` of points stand in the lane of names."""

    beside: tuple[Shape, ...]
    names: tuple[_PlacedName, ...]
    lifted: LiftedLabels
    left_out: LeftOut


def place_labels(layout: StickLayout, window: Window, figures: Figures) -> PlacedLabels:
    """Find a place for every label of a window.

    Raises:
        Fault: the font has no sign for a character of a name.
    """
    points = points_to_name(layout.points, window)
    all_marks = Marks.at(layout.marks, window)
    stations = list(foot_stations(layout, window, figures, points, all_marks))
    leaders = [*(label.x for label in stations if isinstance(label, Lifted)), *(window.x(point.at) for point in points)]
    members = list(member_stations(layout, window, figures, leaders, all_marks))
    sizes = list(_sizes(layout, window, figures, points, all_marks))
    lifted = lift((label for label in (*stations, *members, *sizes) if isinstance(label, Lifted)), window)
    lifted_from = [label.x for label, _ in lifted.labels]
    beside = [label for label in (*stations, *members) if isinstance(label, Station)]
    standing = [(label.left, label.right) for label in members if isinstance(label, Station)]
    names, unnamed = _place_names(layout, window, figures, points, lifted_from, standing)
    in_members = list(_member_names(layout, window, [*lifted_from, *leaders]))
    unnamed += sum(name is None for name in in_members)
    shapes = (
        *(shape for station in beside for shape in station.shapes()),
        *(shape for size in sizes if isinstance(size, _Size) for shape in size.shapes()),
        *filter(None, in_members),
    )
    return PlacedLabels(shapes, names, lifted, lifted.left_out + LeftOut(names=unnamed))


def draw_labels(placed: PlacedLabels, lanes: StripLanes) -> Iterator[Shape]:
    """The shapes of all labels, with a leader from each lifted one down to its mark."""
    yield from placed.beside
    for name in placed.names:
        yield from name.shapes(lanes)
    yield from placed.lifted.draw(lanes)


@dataclass(frozen=True, slots=True)
class _Size:
    """An opening's clear size on its dimension line, in the middle of what shows of it."""

    figure: BuiltUp
    left: float
    line: tuple[Shape, ...]

    def shapes(self) -> Iterator[Shape]:
        yield from self.line
        yield from self.figure.shapes(self.left, SIZE_BOTTOM + self.figure.below_mm)


def _sizes(
    layout: StickLayout, window: Window, figures: Figures, points: Iterable[Point], marks: Marks
) -> Iterator[_Size | Lifted]:
    """Of every opening that shows, as large as it can stand; lifted where even a small figure is too wide.

    A front's height and a rod's diagonal that their own bands are too narrow for are lifted too, with their names.
    """
    lane = Lane()
    for point in points:
        flag = FLAG_MM if point.kind is PointKind.STRAIGHTEDGE else _LEADER_MM - GAP_MM
        lane.take(window.x(point.at) - flag, window.x(point.at) + flag)
    for span in layout.spans:
        stretch = window.stretch(span.start, span.end)
        if span.kind is SpanKind.OPENING and stretch:
            yield from _size(span, stretch, window, figures, lane, marks)
    for placed in layout.parts:
        middle = (placed.span.start + placed.span.end) / 2
        if placed.figure and window.shows(middle) and band_figure(placed, layout, window, figures) is None:
            x, figure = window.x(middle), BuiltUp(f"{placed.span.name}: {placed.figure}", SIZE_MM, bold=True)
            yield Lifted(x, *marks.over(x, x, x), figure, _top_at(x, layout, window), Rank.FIGURE)


def _size(
    span: Span, stretch: tuple[float, float], window: Window, figures: Figures, lane: Lane, marks: Marks
) -> Iterator[_Size | Lifted]:
    left, right = stretch
    limits = window.words_limits
    low, high = max(left + GAP_MM, limits[0]), min(right - GAP_MM, limits[1])
    for height in (SIZE_MM, NAME_MM):
        figure = BuiltUp(figures(span.size), height)
        start = lane.free_near((left + right - figure.width_mm) / 2, figure.width_mm, low, high)
        if start is not None:
            yield _Size(figure, start, tuple(_dimension_line(span, window)))
            return
    if window.shows((span.start + span.end) / 2):
        figure, middle = BuiltUp(_BETWEEN + figures(span.size), NAME_MM), (left + right) / 2
        yield Lifted(middle, *marks.over(middle, left, right), figure, DIMENSION_Y, Rank.SIZE)


def _dimension_line(span: Span, window: Window) -> Iterator[Shape]:
    """From end to end of an opening as far as it shows, with an arrowhead at each end that does."""
    low, high = sorted((window.x(span.start), window.x(span.end)))
    left, right = max(low, 0.0), min(high, window.width)
    has_arrows = high - low >= 3 * _ARROW_MM
    for tip, away in ((low, 1), (high, -1)):
        if has_arrows and 0.0 <= tip <= window.width:
            base = tip + away * _ARROW_MM
            corners = ((base, DIMENSION_Y + _ARROW_HALF_MM), (base, DIMENSION_Y - _ARROW_HALF_MM))
            yield Area(((tip, DIMENSION_Y), *corners))
            left, right = (max(left, base), right) if away > 0 else (left, min(right, base))
    if left < right:
        yield Line(left, DIMENSION_Y, right, DIMENSION_Y, FINE_MM)


def _top_at(x: float, layout: StickLayout, window: Window) -> float:
    """Where what is drawn of a part ends above, so that a leader stands on it: a groove, or its band."""
    grooves = filter(None, (window.stretch(groove.start, groove.end) for groove in layout.grooves))
    return GROOVE_TOP if any(left <= x <= right for left, right in grooves) else MARK_TOP


@dataclass(frozen=True, slots=True)
class _Named:
    """A name that wants to stand with its middle at ``middle``, over the stretch from ``left`` to ``right``.

    A point's has a leader, up from the height ``foot``, and stands rather on the ``side`` of that: 1 right, -1 left.
    One whose figure is lifted stands beside the leader of that.
    """

    name: str
    middle: float
    left: float
    right: float
    foot: float | None = None
    side: int = 0

    def places(self, width: float, beside: bool) -> Iterator[tuple[float, float, float]]:
        """Where a text ``width`` wide would have its left, from where to where it may reach; the best comes first.

        A point's stands beside its own leader, like a flag; a span's over the middle, rather a little over than short.
        """
        middle = self.middle - width / 2
        if self.foot is not None and not beside:
            for side in (self.side, -self.side):
                left = self.middle + _FLAG_MM if side > 0 else self.middle - _FLAG_MM - width
                yield left, left, left + width
        for aside in dict.fromkeys((beside, beside or self.foot is not None)):
            yield middle, *self.reach(width, aside)
        if self.foot is None and not beside:
            yield middle, self.left - _OVER_MM, self.right + _OVER_MM

    def reach(self, width: float, beside: bool) -> tuple[float, float]:
        """From where to where a text ``width`` wide may reach: within its stretch, or some way over that."""
        own = self.right - self.left
        if width <= own - _OVER_MM and not beside:
            return self.left, self.right
        if self.foot is not None or beside:
            over = -_ASIDE_MM if beside else _OVER_POINT_MM
            return self.middle + over - width, self.middle - over + width
        over = min(own / 2, width, _OVER_MM)
        return self.left + over - width, self.right - over + width


@dataclass(frozen=True, slots=True)
class _PlacedName:
    """A name as it is lettered, from ``left``; its leader stands at ``x`` where it has one."""

    text: str
    left: float
    x: float
    foot: float | None

    @property
    def right(self) -> float:
        return self.left + text_width_mm(self.text, WORDS_PT)

    def shapes(self, lanes: StripLanes) -> Iterator[Shape]:
        if self.foot is not None:
            is_below = self.left <= self.x <= self.right
            top = lanes.names_bottom if is_below else lanes.names_baseline + NAME_MM
            yield Line(self.x, self.foot, self.x, top, FINE_MM)
        yield Text(self.left, lanes.names_baseline, self.text, WORDS_PT)


def _place_names(
    layout: StickLayout,
    window: Window,
    figures: Figures,
    points: Sequence[Point],
    leaders: Sequence[float],
    stations: Sequence[tuple[float, float]],
) -> tuple[tuple[_PlacedName, ...], int]:
    """Names over what they name, where neither a leader passes nor a member's station stands; and how many found no
    room. Those of points go first, then those of parts, which have less room than openings."""
    fixed, limits = [*stations, *((x, x) for x in leaders)], window.words_limits
    placed: list[_PlacedName] = []
    unnamed = 0
    for name in (*_points_named(layout, points, window), *_spans_named(layout, window, figures)):
        if found := _place_name(name, fixed, placed, limits, name.middle in leaders):
            placed.append(found)
        else:
            unnamed += 1
    return tuple(placed), unnamed


def _place_name(
    name: _Named,
    fixed: Sequence[tuple[float, float]],
    others: Sequence[_PlacedName],
    limits: tuple[float, float],
    beside: bool,
) -> _PlacedName | None:
    """Whole where it can be, else as much of it as there is room for; None where that is next to nothing.

    It stands well clear of other names where it can, so that no two are read as one.
    """
    lanes = [Lane([*fixed, *((other.left - apart, other.right + apart) for other in others)]) for apart in _APART_MM]
    for room in (inf, *_SHORTER_MM):
        text = shortened(name.name, WORDS_PT, room)
        width = text_width_mm(text, WORDS_PT)
        for lane, (wanted, low, high) in product(lanes, name.places(width, beside)):
            start = lane.free_near(wanted, width, max(low, limits[0]), min(high, limits[1]))
            if start is not None and text:
                return _PlacedName(text, start, name.middle, None if beside else name.foot)
    return None


def _points_named(layout: StickLayout, points: Iterable[Point], window: Window) -> Iterator[_Named]:
    """Points, each on the side of its leader that is away from the middle of its opening, where the name of that is."""
    room = _name_room(window)
    openings = [span for span in layout.spans if span.kind is SpanKind.OPENING]
    shown = [stretch for span in openings if (stretch := window.stretch(span.start, span.end))]
    for point in points:
        x, foot = window.x(point.at), MARK_TOP if point.kind is PointKind.STRAIGHTEDGE else POINTER_TOP
        middles = [(left + right) / 2 for left, right in shown if left <= x <= right]
        side = -1 if middles and x < middles[0] else 1
        yield _Named(shortened(point.words, WORDS_PT, room), x, x, x, foot, side)


def _spans_named(layout: StickLayout, window: Window, figures: Figures) -> Iterator[_Named]:
    """Parts, then openings; one that a seam cuts is named where its middle shows, and wherever much of it does.

    One that is named before its lifted figure is not named again, and a gap that is as good as nothing says no more
    than its size.
    """
    told = {p.span for p in layout.parts if p.figure and band_figure(p, layout, window, figures) is None}
    room = _name_room(window)
    shown = [(span, stretch) for span in layout.spans if (stretch := window.stretch(span.start, span.end))]
    for kind in (SpanKind.PART, SpanKind.OPENING):
        for span, stretch in shown:
            is_gap = kind is SpanKind.OPENING and span.size < _LEAST_NAMED_MM
            if span.kind is not kind or span in told or is_gap:
                continue
            name = shortened(span.name, WORDS_PT, room)
            has_room = stretch[1] - stretch[0] >= text_width_mm(name, WORDS_PT) + 2 * GAP_MM
            if has_room or window.shows((span.start + span.end) / 2):
                yield _Named(name, sum(stretch) / 2, *stretch)


def _member_names(layout: StickLayout, window: Window, leaders: Sequence[float]) -> Iterator[Text | None]:
    """The name of every member of the face frame in its band, where no leader passes; None where it has no room.

    One of which less shows than any name takes is not looked at.
    """
    limits = window.words_limits
    for member in layout.beside:
        if stretch := window.stretch(member.start, member.end):
            left, right = stretch[0] + _MEMBER_INSET_MM, stretch[1] - _MEMBER_INSET_MM
            if right - left < _LEAST_NAME_MM:
                continue
            yield _name_between(member.name, max(left, limits[0]), min(right, limits[1]), leaders)


def _name_between(name: str, left: float, right: float, leaders: Sequence[float]) -> Text | None:
    """A name nearest the middle of a stretch, whole if it can be, else as much of it as the widest gap holds."""
    lane = Lane([(x, x) for x in leaders])
    width, baseline = text_width_mm(name, WORDS_PT), BESIDE_BOTTOM + FEET_MM + 0.2
    start = lane.free_near((left + right - width) / 2, width, left, right)
    if start is not None:
        return Text(start, baseline, name, WORDS_PT)
    free = gaps(((x - GAP_MM, x + GAP_MM) for x in leaders), left, right)
    start, end = max(free, key=lambda gap: gap[1] - gap[0], default=(left, left))
    short = _first_words(name, end - start) if end - start >= _LEAST_NAME_MM else ""
    return Text((start + end) / 2, baseline, short, WORDS_PT, Anchor.MIDDLE) if short else None


def _first_words(name: str, room: float) -> str:
    """What a member is without where it is, else as many whole words as there is room for, or the first's beginning."""
    if " at " in name and text_width_mm(what := name.partition(" at ")[0], WORDS_PT) <= room:
        return what
    words = name.split(" ")
    shorter = (" ".join(words[:count]) + "…" for count in range(len(words) - 1, 0, -1))
    fitting = (text for text in shorter if text_width_mm(text, WORDS_PT) <= room)
    return next(fitting, shortened(name, WORDS_PT, room))


def _name_room(window: Window) -> float:
    """How long a name may be: what runs out of a window would be cut at its seam, or pasted over on its tab."""
    return min(_LONGEST_NAME_MM, window.width / 3) if window.of > 1 else _LONGEST_NAME_MM


def points_to_name(points: Iterable[Point], window: Window) -> list[Point]:
    """The single points, and of every row of holes the first and the last that show."""
    shown = [point for point in points if window.shows(point.at)]
    single = [point for point in shown if point.row is None]
    rows = [list(row) for name, row in groupby(shown, key=lambda point: point.row) if name is not None]
    return single + [point for row in rows for point in dict.fromkeys((row[0], row[-1]))]
