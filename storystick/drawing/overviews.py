"""Sticks and board templates reduced, for page 1: with their names and sizes, to be looked at and not measured."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import pairwise
from typing import Final

from storystick.drawing.built_up import BuiltUp
from storystick.drawing.lettering import NAME_MM, SIZE_MM, STATION_MM, WORDS_PT, points_of, shortened, text_width_mm
from storystick.drawing.shapes import NARROW_MM, WIDE_MM, Anchor, Area, Box, Line, Rect, Shape, Text, moved
from storystick.layout.board import BoardLayout
from storystick.layout.stations import PointKind, Span, SpanKind, StickLayout
from storystick.lengths import Figures
from storystick.outline import Spot, circle_spots

_PART_GREY: Final = 0.55
_GROOVE_MM: Final = 2.0
_TICK_MM: Final = 1.8
_AROUND_MM: Final = 1.6
_APART_MM: Final = 1.4
_FOOT_MM: Final = 4.0
_BELOW_STICK_MM: Final = 7.5
"""The room below a row for its stations, and to the next row."""

_LEAST_LETTERS: Final = 3
_MOST_ROWS: Final = 4


@dataclass(frozen=True, slots=True)
class Sizes:
    """How large a stick is drawn: its band, and the capitals of the sizes and the names in it, in mm."""

    band_mm: float
    size_mm: float
    name_mm: float

    @property
    def row_mm(self) -> float:
        """A row with what stands below it."""
        return self.band_mm + _BELOW_STICK_MM


LARGE: Final = Sizes(26.0, STATION_MM, SIZE_MM)
SMALL: Final = Sizes(14.0, NAME_MM, NAME_MM)


@dataclass(frozen=True)
class StickOverview:
    """A stick from its datum in rows ``width_mm`` wide or less, which meet at ``breaks``: stations where spans end."""

    layout: StickLayout
    figures: Figures
    width_mm: float
    sizes: Sizes = SMALL
    breaks: tuple[Fraction, ...] = ()

    @cached_property
    def rows(self) -> list[tuple[Fraction, Fraction]]:
        return list(pairwise((Fraction(0), *self.breaks, self.layout.length)))

    @cached_property
    def scale(self) -> float:
        return self.width_mm / float(max(end - start for start, end in self.rows))

    @property
    def height_mm(self) -> float:
        return self.sizes.row_mm * len(self.rows)

    @property
    def cut_short(self) -> int:
        """How many openings do not show their name and size in full; a size that is not shown counts as all names."""
        openings = [span for span in self.layout.spans if span.kind is SpanKind.OPENING]
        sizes = sum(self._size(span).width_mm > self._room(span) for span in openings)
        return sizes * (len(openings) + 1) + sum(self._name_mm(span.name) > self._room(span) for span in openings)

    def _size(self, span: Span) -> BuiltUp:
        return BuiltUp(self.figures(span.size), self.sizes.size_mm, bold=True)

    def _name_mm(self, name: str) -> float:
        return text_width_mm(name, points_of(self.sizes.name_mm))

    def _room(self, span: Span) -> float:
        return float(span.size) * self.scale - _AROUND_MM

    def places(self) -> Iterator[tuple[Span, Rect]]:
        """Every part and opening in order, and where it is drawn."""
        for number, (start, end) in enumerate(self.rows):
            top = -number * self.sizes.row_mm
            for span in self.layout.spans:
                if start <= span.start < end:
                    left, right = (float(station - start) * self.scale for station in (span.start, span.end))
                    yield span, Rect(left, top - self.sizes.band_mm, right, top)

    def draw(self) -> Iterator[Shape]:
        """From y = 0 down, its datum at the left of the first row."""
        for number, (start, end) in enumerate(self.rows):
            yield from moved(self._row(start, end), 0.0, -number * self.sizes.row_mm)

    def _row(self, start: Fraction, end: Fraction) -> Iterator[Shape]:
        def x(station: Fraction) -> float:
            return float(station - start) * self.scale

        band = self.sizes.band_mm
        for span in self.layout.spans:
            if start <= span.start < end:
                yield from self._span(span, x(span.start), x(span.end))
        for groove in self.layout.grooves:
            if start <= groove.start < end:
                yield Box(x(groove.start), -_GROOVE_MM, float(groove.size) * self.scale, _GROOVE_MM)
        for point in self.layout.points:
            if start <= point.at <= end and point.kind is not PointKind.STRAIGHTEDGE:
                yield Line(x(point.at), -band, x(point.at), _TICK_MM - band, NARROW_MM)
        for y in (0.0, -band):
            yield Line(-WIDE_MM / 2, y, x(end) + WIDE_MM / 2, y, WIDE_MM)
        for station in (start, end):
            wide = WIDE_MM if station in (0, self.layout.length) else NARROW_MM
            yield Line(x(station), 0.0, x(station), -band, wide)
        yield from self._foot(start, end, x(end))

    def _span(self, span: Span, left: float, right: float) -> Iterator[Shape]:
        band = self.sizes.band_mm
        if span.kind is SpanKind.PART:
            yield Box(left, -band, right - left, band, _PART_GREY)
            return
        yield Line(left, 0.0, left, -band, NARROW_MM)
        middle, size, room = (left + right) / 2, self._size(span), self._room(span)
        if size.width_mm > room:
            high = size.above_mm + size.below_mm
            if size.width_mm <= band - _TICK_MM - _GROOVE_MM and high <= room:
                yield from size.shapes(middle + high / 2 - size.below_mm, -band / 2, Anchor.MIDDLE, upward=True)
            return
        name = shortened(span.name, points_of(self.sizes.name_mm), room)
        named = name == span.name or len(name) > _LEAST_LETTERS
        above = self.sizes.name_mm + _APART_MM if named else 0.0
        top = (size.above_mm + size.below_mm + above - band) / 2
        if named:
            yield Text(middle, top - self.sizes.name_mm, name, points_of(self.sizes.name_mm), Anchor.MIDDLE)
        yield from size.shapes(middle, top - above - size.above_mm, Anchor.MIDDLE)

    def _foot(self, start: Fraction, end: Fraction, right: float) -> Iterator[Shape]:
        """The stations of both ends of a row, with the words for the ends of the stick."""
        datum = self.layout.stick.datum
        near = f"0 {datum.value}" if not start else self.figures(start)
        far = self.figures(end) if end < self.layout.length else f"{self.figures(end)} {datum.far_end.value}"
        band, baseline = self.sizes.band_mm, -self.sizes.band_mm - _FOOT_MM
        if not start:
            yield Area(((0.0, -band), (1.6, baseline), (0.0, baseline)))
        room = right - 2.6 - text_width_mm(near, WORDS_PT, bold=True) - _AROUND_MM
        yield Text(2.6 if not start else 0.0, baseline, near, WORDS_PT, bold=True)
        if text_width_mm(far, WORDS_PT, bold=True) <= room:
            yield Text(right, baseline, far, WORDS_PT, Anchor.END, bold=True)


def overview_of(
    layout: StickLayout, figures: Figures, width_mm: float, height_mm: float, sizes: Sizes = SMALL
) -> StickOverview:
    """The stick in as few rows, of those that the height holds, as show the most of its words; at least in one."""
    most = min(_MOST_ROWS, max(1, int(height_mm / sizes.row_mm)))
    choices = (StickOverview(layout, figures, width_mm, sizes, _breaks(layout, rows)) for rows in range(1, most + 1))
    return min(choices, key=lambda view: view.cut_short)


def _breaks(layout: StickLayout, rows: int) -> tuple[Fraction, ...]:
    """Where spans end, as near as can be to where so many rows of one length would."""
    ends = [span.end for span in layout.spans[:-1]]
    wanted = (layout.length * row / rows for row in range(1, rows))
    return tuple(sorted({min(ends, key=lambda end: abs(end - at)) for at in wanted})) if ends else ()


_PITCH_MM: Final = 4.2
_BELOW_BOARD_MM: Final = 11.0
"""The room for the name and the size below a board."""

_GAP_MM: Final = 8.0
_LARGEST: Final = 1 / 2
_LEAST: Final = 1e-4
_SHRINKING: Final = 0.95
_LEAST_WIDTH_MM: Final = 30.0


@dataclass(frozen=True, slots=True)
class BoardsView:
    """Boards in rows, at ``scale`` mm on paper a mm."""

    rows: tuple[tuple[BoardLayout, ...], ...]
    scale: float
    figures: Figures

    @property
    def height_mm(self) -> float:
        return sum(_row_mm(row, self.scale) for row in self.rows)

    def draw(self) -> Iterator[Shape]:
        """From 0, 0 at the upper left corner down."""
        top = 0.0
        for row in self.rows:
            left, foot = 0.0, top - _row_mm(row, self.scale) + _BELOW_BOARD_MM
            for board in row:
                yield from self._board(board, left, foot)
                left += _width_mm(board, self.scale, self.figures) + _GAP_MM
            top -= _row_mm(row, self.scale)

    def _board(self, board: BoardLayout, left: float, foot: float) -> Iterator[Shape]:
        """One from its lower left corner, its name and size below its middle."""
        room = _width_mm(board, self.scale, self.figures)
        x = left + (room - float(board.width) * self.scale) / 2
        yield from self._path(board.outline.spots, x, foot, WIDE_MM)
        for cut_out in board.cut_outs:
            spots = circle_spots(cut_out.centre, cut_out.diameter / 2)
            yield from self._path(spots, x, foot, NARROW_MM)
        for number, words in enumerate((board.name, _size(board, self.figures)), start=1):
            line = shortened(words, WORDS_PT, room + _GAP_MM - 2.0)
            yield Text(left + room / 2, foot - number * _PITCH_MM, line, WORDS_PT, Anchor.MIDDLE)

    def _path(self, spots: Iterable[Spot], x: float, y: float, width_mm: float) -> Iterator[Shape]:
        places = [(x + float(right) * self.scale, y + float(up) * self.scale) for right, up in spots]
        for start, end in pairwise(places):
            yield Line(*start, *end, width_mm)


def arrange_boards(boards: Sequence[BoardLayout], figures: Figures, width_mm: float, height_mm: float) -> BoardsView:
    """The boards in their order, as large as they go into a box."""
    scale = _LARGEST
    while True:
        view = BoardsView(tuple(_rows(boards, scale, width_mm, figures)), scale, figures)
        widest = max((_width_mm(board, scale, figures) for board in boards), default=0.0)
        if (view.height_mm <= height_mm and widest <= width_mm) or scale < _LEAST:
            return view
        scale *= _SHRINKING


def _rows(
    boards: Iterable[BoardLayout], scale: float, width_mm: float, figures: Figures
) -> Iterator[tuple[BoardLayout, ...]]:
    taken: list[BoardLayout] = []
    for board in boards:
        used = sum(_width_mm(each, scale, figures) + _GAP_MM for each in (*taken, board)) - _GAP_MM
        if taken and used > width_mm:
            yield tuple(taken)
            taken = []
        taken.append(board)
    if taken:
        yield tuple(taken)


def _size(board: BoardLayout, figures: Figures) -> str:
    return f"{figures(board.width)} × {figures(board.height)}"


def _width_mm(board: BoardLayout, scale: float, figures: Figures) -> float:
    """What a board takes across, with its size, and with its name as far as that is not long."""
    name = min(text_width_mm(board.name, WORDS_PT), _LEAST_WIDTH_MM)
    return max(float(board.width) * scale, name, text_width_mm(_size(board, figures), WORDS_PT))


def _row_mm(row: Iterable[BoardLayout], scale: float) -> float:
    return max(float(board.height) for board in row) * scale + _BELOW_BOARD_MM
