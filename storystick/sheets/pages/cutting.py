"""The cutting list of a job: a table a stock, what is alike in all cabinets in one row, and how much stock it takes.

All tables of it stand on one grid of columns, closer than others, so that as much of the list as can be is on a page.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final

from storystick.cutting.fastened import Hardware
from storystick.cutting.part import CutPart
from storystick.cutting.parts import INCLUDED
from storystick.cutting.totals import (
    StockList,
    StockRow,
    area_rows,
    areas,
    by_stock,
    edging_lengths,
    edging_words,
    frame_lengths,
    hands_in_words,
)
from storystick.drawing.lettering import NAME_MM, SIZE_MM, WORDS_PT, points_of, shortened, text_width_mm, wrapped
from storystick.drawing.shapes import Anchor, Line, Shape, Text
from storystick.lengths import Figures
from storystick.sheets.pages.flow import HEAD_RULE_MM, RULE_MM, Block, kept_rows, lines_of
from storystick.wording import capital

_STOCK_PT: Final = points_of(SIZE_MM)
_PITCH_MM: Final = 3.8
"""From line to line: not less than 3.5 mm for capitals of 2.5 mm (ISO 3098-1, style B)."""

_ABOVE_MM: Final = 0.8
_BELOW_MM: Final = 1.1
_BEFORE_STOCK_MM: Final = 2.0
_NOTE_MM: Final = 4.0
_GAP_MM: Final = 5.0
_CABINET_MM: Final = (16.0, 19.0, 22.0, 26.0, 31.0, 37.0, 44.0, 52.0)
"""How wide the column of cabinets may be: of these widths, that which makes the list shortest."""

_SPACE_MM: Final = 2.0
_AS_ABOVE: Final = "as above"
SUMS_TITLE: Final = "Altogether, without waste"
_SIZES: Final = ("number", "length", "width")


def cutting_blocks(
    parts: Sequence[CutPart], figures: Figures, width: float, hardware: Sequence[Hardware] = ()
) -> Iterator[Block]:
    """The whole list on pages of its own, ``hardware`` below it; nothing for a job without cabinets."""
    if not parts:
        return
    yield _title(width)
    stocks = by_stock(parts)
    grid = _Grid(stocks, figures, width)
    *others, last = (block for stock in stocks for block in grid.table(stock))
    yield from others
    # The sums never stand on a page of their own.
    yield replace(last, keeps_next=True)
    yield Block(_BEFORE_STOCK_MM, (), keeps_next=True)
    yield _totals(parts, figures, width, hardware)


def _title(width: float) -> Block:
    """The heading of the page, and beside it what the sizes hold."""
    name = Text(0.0, -SIZE_MM, "Cutting list", _STOCK_PT, bold=True)
    left = name.width_mm + _GAP_MM
    words = shortened(INCLUDED, WORDS_PT, width - left)
    return Block(SIZE_MM + _BELOW_MM, (name, Text(left, -SIZE_MM, words, WORDS_PT)), keeps_next=True, starts_page=True)


@dataclass(frozen=True)
class _Grid:
    """The columns of all tables: part, then cabinet and hands where there are any, number, length and width."""

    stocks: Sequence[StockList]
    figures: Figures
    width_mm: float

    @cached_property
    def cells(self) -> dict[StockRow, tuple[str, ...]]:
        """Of each row, what stands in the columns after the first."""
        return {row: self._cells(row) for stock in self.stocks for row in stock.rows}

    def _cells(self, row: StockRow) -> tuple[str, ...]:
        sizes = (self.figures(row.length), self.figures(row.width))
        return (", ".join(row.cabinets), hands_in_words(row.hands), str(row.count), *sizes)

    @cached_property
    def widths(self) -> tuple[float, ...]:
        """Of the columns after the first; none for cabinets where there is but one, for hands where there are none."""
        cabinets, hands, *sizes = zip(*self.cells.values(), strict=True)
        hand = _widest(("hands", *hands)) if any(hands) else 0.0
        figures = [_widest((word, *column)) for word, column in zip(_SIZES, sizes, strict=True)]
        cabinet = self._cabinet_width(hand, figures) if len(set(cabinets)) > 1 else 0.0
        return (cabinet, hand, *figures)

    def _cabinet_width(self, hand: float, figures: Sequence[float]) -> float:
        """As wide as shortens the fewest names, then as makes the list shortest; the rest is for the names of parts."""
        rest = self.width_mm - sum(width + _GAP_MM for width in (hand, *figures) if width)
        widest = _widest(("cabinet", *(cells[0] for cells in self.cells.values())))

        def cost(width: float) -> tuple[int, int]:
            room, reach = rest - width - _GAP_MM, _with_hands(width, hand)
            rows = [
                (_wrapped(", ".join(row.names), room, bold=True), _wrapped(cabinets, width if hands else reach))
                for row, (cabinets, hands, *_) in self.cells.items()
            ]
            short = sum(line.endswith("…") for row in rows for lines in row for line in lines)
            return short, sum(max(map(len, row)) for row in rows)

        return min((min(widest, width) for width in _CABINET_MM), key=cost)

    @cached_property
    def lefts(self) -> tuple[float, ...]:
        """Where each column after the first begins."""
        lefts, right = [], self.width_mm
        for width in reversed(self.widths):
            right -= width
            lefts.append(right)
            right -= _GAP_MM if width else 0.0
        return tuple(reversed(lefts))

    def table(self, stock: StockList) -> Iterator[Block]:
        """Headed by the stock's name, which is said again where the table goes on."""
        yield Block(_BEFORE_STOCK_MM, ())
        head, again = (self._head(stock, more) for more in ("", ", continued"))
        yield head
        before = [(), *(row.notes for row in stock.rows)]
        yield from kept_rows([self._row(*pair) for pair in zip(stock.rows, before, strict=False)], again)

    def _head(self, stock: StockList, more: str) -> Block:
        name = f"{stock.title(self.figures)}{more}"
        words = ("cabinet", "hands" if any(row.hands for row in stock.rows) else "", *_SIZES)
        room = next(left for left, width, word in zip(self.lefts, self.widths, words, strict=True) if width and word)
        low = -_ABOVE_MM - SIZE_MM
        texts = [Text(0.0, low, name, _STOCK_PT, bold=True)]
        if texts[0].width_mm > room - _GAP_MM:
            # It stands in lines of its own, and the words for the columns below it.
            lines = list(wrapped(name, _STOCK_PT, self.width_mm, bold=True))
            texts = [Text(0.0, low - n * 1.6 * SIZE_MM, line, _STOCK_PT, bold=True) for n, line in enumerate(lines)]
            low = texts[-1].y - _PITCH_MM
        texts += self._beside(words, low, bold=True)
        return replace(self._ruled([*texts, *self._note(stock.notes, texts)], HEAD_RULE_MM), keeps_next=True)

    def _row(self, row: StockRow, before: tuple[str, ...]) -> Block:
        """A part; notes that the row ``before`` it says word for word are not said again."""
        first = -_ABOVE_MM - NAME_MM
        cells = self.cells[row]
        # A name may reach over columns that have nothing to say.
        columns = zip(self.lefts, self.widths, cells, strict=True)
        room = next(left for left, width, cell in columns if width and cell) - _GAP_MM
        names = _wrapped(", ".join(row.names), room, bold=True)
        texts = [Text(0.0, first - number * _PITCH_MM, line, WORDS_PT, bold=True) for number, line in enumerate(names)]
        as_above = row.notes and row.notes == before
        beside = texts[-1].width_mm + _SPACE_MM
        if as_above and beside + text_width_mm(_AS_ABOVE, WORDS_PT) <= room:
            texts.append(Text(beside, texts[-1].y, _AS_ABOVE, WORDS_PT))
            return self._ruled([*texts, *self._beside(cells, first)], RULE_MM)
        texts += self._beside(cells, first)
        return self._ruled([*texts, *self._note(row.notes, texts)], RULE_MM)

    def _beside(self, cells: Sequence[str], first: float, bold: bool = False) -> list[Text]:
        """What stands in the columns after the first: words from their left, figures at their right."""
        texts = []
        for place, (cell, left, width) in enumerate(zip(cells, self.lefts, self.widths, strict=True)):
            if place >= len(cells) - len(_SIZES):
                texts.append(Text(left + width, first, cell, WORDS_PT, Anchor.END, bold))
            elif width:
                room = width if place or cells[1] else _with_hands(width, self.widths[1])
                lines = enumerate(_wrapped(cell, room, bold))
                texts += [Text(left, first - number * _PITCH_MM, line, WORDS_PT, bold=bold) for number, line in lines]
        return texts

    def _note(self, notes: Sequence[str], above: Sequence[Text]) -> list[Text]:
        """Lines below what stands above them, as wide as the table."""
        low, words = min(text.y for text in above), capital("; ".join(notes))
        lines = enumerate(_wrapped(words, self.width_mm - _NOTE_MM) if words else (), start=1)
        return [Text(_NOTE_MM, low - number * _PITCH_MM, line, WORDS_PT) for number, line in lines]

    def _ruled(self, texts: Sequence[Text], rule_mm: float) -> Block:
        low = min(text.y for text in texts) - _BELOW_MM
        shapes: tuple[Shape, ...] = (*texts, Line(0.0, low, self.width_mm, low, rule_mm))
        return Block(-low, shapes)


def _with_hands(cabinet: float, hand: float) -> float:
    """How far the names of cabinets reach where there is nothing to say in the column of hands."""
    return cabinet + (hand + _GAP_MM if hand else 0.0)


def _wrapped(words: str, room: float, bold: bool = False) -> list[str]:
    return list(lines_of(words, WORDS_PT, room, bold))


def _widest(words: Sequence[str]) -> float:
    return max(text_width_mm(word, WORDS_PT, bold=True) for word in words)


def sums(parts: Sequence[CutPart], figures: Figures, hardware: Sequence[Hardware]) -> list[str]:
    """The area of each stock, the lengths of face frames and of edging, and fasteners."""
    told = [f"{stock}: {metres} m², {feet} sq ft" for stock, metres, feet in area_rows(areas(parts))]
    told += [f"{each.stock} {figures(each.width)} wide: {figures(each.length)} long" for each in frame_lengths(parts)]
    told += [
        f"edging {edging_words(each, figures)}{'' if each.stock else ' thick'}: {figures(each.length)} long"
        for each in edging_lengths(parts)
    ]
    told += [each.words for each in hardware]
    return told


def _totals(parts: Sequence[CutPart], figures: Figures, width: float, hardware: Sequence[Hardware]) -> Block:
    """What it all comes to, side by side."""
    told = sums(parts, figures, hardware)
    title = Text(0.0, -_ABOVE_MM - NAME_MM, SUMS_TITLE, WORDS_PT, bold=True)
    widest = max(title.width_mm, *(text_width_mm(words, WORDS_PT) for words in told))
    across = max(1, int((width + _GAP_MM) // (widest + _GAP_MM)))
    pitch = (width + _GAP_MM) / across
    texts = [title]
    for place, words in enumerate(told, start=1):
        row, column = divmod(place, across)
        texts.append(Text(column * pitch, title.y - row * _PITCH_MM, shortened(words, WORDS_PT, width), WORDS_PT))
    return Block(-min(text.y for text in texts) + _BELOW_MM, tuple(texts))
