"""Board templates reduced, side by side to one scale: their outlines and cut-outs, with names and sizes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from storystick.drawing.lettering import WORDS_PT, shortened, text_width_mm
from storystick.drawing.shapes import NARROW_MM, WIDE_MM, Anchor, Line, Shape, Text
from storystick.layout.board import BoardLayout
from storystick.lengths import Figures
from storystick.outline import Spot, circle_spots

_PITCH_MM: Final = 4.2
_BELOW_MM: Final = 11.0
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
            left, foot = 0.0, top - _row_mm(row, self.scale) + _BELOW_MM
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
    return max(float(board.height) for board in row) * scale + _BELOW_MM
