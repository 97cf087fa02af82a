"""Reading matter on pages: headings, paragraphs, tables and pictures one below another, and files of such pages."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, count
from typing import Final, TypeAlias

from storystick.drawing.lettering import (
    NAME_MM,
    POINT_MM,
    SIZE_MM,
    STATION_MM,
    points_of,
    shortened,
    text_width_mm,
    wrapped,
)
from storystick.drawing.shapes import Anchor, Line, Shape, Text, closed, moved
from storystick.job.job import Job
from storystick.job.papers import DEFAULT_MARGIN, DEFAULT_PAPER, Margins
from storystick.sheets.bare_sheet import BareSheet
from storystick.sheets.document import Page
from storystick.wording import capital, plain, whole_figures

TEXT_PT: Final = points_of(NAME_MM)
HEADING_PT: Final = points_of(SIZE_MM)
TITLE_PT: Final = points_of(STATION_MM)

_LEADING: Final = 1.35
PITCH_MM: Final = TEXT_PT * POINT_MM * _LEADING
"""From one line of reading matter to the next."""

_DESCENT: Final = 0.12
"""How far a line's letters stand above its lower edge, in mm a point."""

_CELL_GAP_MM: Final = 3.0
_FIGURE_GAP_MM: Final = 8.0
"""Before a figure: much wider than a space, so that 20 beside 23/32 is not read as 20 23/32."""

RULE_MM: Final = 0.18
HEAD_RULE_MM: Final = 0.5
"""The rule between two rows of a table, and that under its head."""

_COLUMN_GAP_MM: Final = 8.0
_MOST_BESIDE: Final = 20
"""Tables of more rows than this stand one below another."""
_SIGN_MM: Final = 5.0
_BOX_LINE_MM: Final = 0.25
_ABOVE_RULE_MM: Final = 1.4


@dataclass(frozen=True, slots=True)
class Block:
    """Something ``height_mm`` high, drawn downwards from y = 0 with its left at x = 0.

    ``keeps_next`` holds the next block on the same page; ``header`` is drawn again above a block that begins a page.
    ``starts_page`` puts the block at the head of a page of its own.
    """

    height_mm: float
    shapes: tuple[Shape, ...]
    keeps_next: bool = False
    header: Block | None = None
    starts_page: bool = False


NOTHING: Final = Block(0.0, ())


@dataclass(frozen=True, slots=True)
class Room:
    """What a page has free for blocks, in mm."""

    width_mm: float
    height_mm: float


Chapter: TypeAlias = Callable[[Room], Iterator[Block]]
"""A page of words, or some: its blocks, for the room of a page."""


@dataclass(frozen=True, slots=True)
class Column:
    """A table's column. One of figures stands to the ``right`` and is as wide as they are, so that none is cut short.

    The others have each its ``share`` of the rest, and are broken into lines where they are longer.
    """

    heading: str
    share: float = 0.0
    right: bool = False


def heading(text: str, width_mm: float, size_pt: float = HEADING_PT) -> Block:
    """A bold line with room above it, kept with what follows."""
    # Above a title there is the margin of its page.
    height = size_pt * POINT_MM * (1.6 if size_pt == TITLE_PT else 2.0)
    words = shortened(text, size_pt, width_mm, bold=True)
    return Block(height, (Text(0.0, -height + 1.6, words, size_pt, bold=True),), keeps_next=True)


def paragraph(
    text: str, width_mm: float, indent_mm: float = 0.0, sign: str = "", size_pt: float = TEXT_PT
) -> list[Block]:
    """Text broken into lines; ``sign`` stands to the left of the first one."""
    pitch = size_pt * POINT_MM * _LEADING
    baseline = -pitch + _DESCENT * size_pt
    lines = list(lines_of(text, size_pt, width_mm - indent_mm))
    blocks = [
        Block(pitch, (Text(indent_mm, baseline, line, size_pt),), keeps_next=number < len(lines))
        for number, line in enumerate(lines, start=1)
    ]
    first = blocks[0]
    marked = Block(first.height_mm, (*first.shapes, Text(0.0, baseline, sign, size_pt, bold=True)), first.keeps_next)
    return [marked if sign else first, *blocks[1:], Block(0.8, ())]


def lines_of(text: str, size_pt: float, room_mm: float, bold: bool = False) -> Iterator[str]:
    """The text in lines that fit, none of them broken inside a figure or between a name and its number."""
    return map(plain, wrapped(whole_figures(text), size_pt, room_mm, bold))


def stacked(blocks: Sequence[Block]) -> Block:
    """Blocks one below another as one, which no page parts."""
    tops = accumulate((block.height_mm for block in blocks), initial=0.0)
    shapes = tuple(shape for block, top in zip(blocks, tops, strict=False) for shape in moved(block.shapes, 0.0, -top))
    return Block(sum(block.height_mm for block in blocks), shapes)


def side_by_side(sentences: Iterable[str], width_mm: float, sign: str = "", numbered: bool = False) -> list[Block]:
    """Paragraphs in two columns about alike in height, read down the left one first; no page parts them.

    Each has the ``sign``, or its number.
    """
    column = (width_mm - _COLUMN_GAP_MM) / 2
    indent = _SIGN_MM if sign or numbered else 0.0
    signs = (f"{number}." if numbered else sign for number in count(1))
    own = [stacked(paragraph(words, column, indent, mark)) for words, mark in zip(sentences, signs, strict=False)]
    pairs = [(stacked(own[:place]), stacked(own[place:])) for place in range(1, len(own) + 1)]
    left, right = min(pairs, key=_higher, default=(Block(0.0, ()), Block(0.0, ())))
    shapes = (*left.shapes, *moved(right.shapes, column + _COLUMN_GAP_MM, 0.0))
    return [Block(_higher((left, right)), shapes)] if own else []


def _higher(blocks: Iterable[Block]) -> float:
    """The height of the highest of blocks side by side."""
    return max(block.height_mm for block in blocks)


def write_box(left: float, top: float, width: float, height: float) -> Iterator[Line]:
    """An empty box to tick or to write in."""
    low, right = top - height, left + width
    yield from closed(((left, low), (right, low), (right, top), (left, top)), _BOX_LINE_MM)


def table(
    columns: Sequence[Column], rows: Iterable[Sequence[str]], width_mm: float, widest: Sequence[str] = ()
) -> list[Block]:
    """A table whose head is repeated on every page that it reaches, and that leaves no row alone on one.

    Tables that are to stand on one grid are given the ``widest`` texts of the columns of all of them.
    """
    content = list(rows)
    widths = _column_widths(columns, [*content, *([widest] if widest else [])], width_mm)
    header = _row(columns, [column.heading for column in columns], widths, bold=True)
    return [header, *kept_rows([_row(columns, cells, widths) for cells in content], header), Block(2.0, ())]


def tables_beside(
    left: tuple[Sequence[Column], Sequence[Sequence[str]]],
    right: tuple[Sequence[Column], Sequence[Sequence[str]]],
    width_mm: float,
) -> list[Block]:
    """Two tables beside each other on one page where both have rows, few of them, and all words room; else below."""
    half = (width_mm - _COLUMN_GAP_MM) / 2
    if not all(0 < len(rows) <= _MOST_BESIDE and _all_fit(columns, rows, half) for columns, rows in (left, right)):
        return [block for columns, rows in (left, right) if rows for block in table(columns, rows, width_mm)]
    near, far = (stacked(table(columns, rows, half)) for columns, rows in (left, right))
    shapes = (*near.shapes, *moved(far.shapes, half + _COLUMN_GAP_MM, 0.0))
    return [Block(max(near.height_mm, far.height_mm), shapes)]


def _all_fit(columns: Sequence[Column], rows: Sequence[Sequence[str]], width_mm: float) -> bool:
    """Whether no word of a table would be shortened or broken in so much room."""
    widths = _column_widths(columns, rows, width_mm)
    return all(
        text_width_mm(words, TEXT_PT, bold=True) + _CELL_GAP_MM <= width
        for cells in ([column.heading for column in columns], *rows)
        for words, column, width in zip(cells, columns, widths, strict=True)
        if not column.right
    )


def kept_rows(rows: Sequence[Block], header: Block) -> list[Block]:
    """A table's rows below its ``header``: the first two stay together, and so do the last two."""
    held = {0, len(rows) - 2} if len(rows) > 1 else set()
    return [replace(row, header=header, keeps_next=place in held) for place, row in enumerate(rows)]


def titled(title: str, blocks: Iterable[Block], width_mm: float) -> list[Block]:
    """A heading with what stands below it, kept with its table, which goes on under "title, continued"."""
    again = heading(f"{title}, continued", width_mm)
    own = list(blocks)
    first = next((place for place, block in enumerate(own) if block.header), 0)
    return [
        heading(title, width_mm),
        *(replace(block, keeps_next=True) for block in own[:first]),
        *(replace(block, header=stacked((again, block.header))) if block.header else block for block in own[first:]),
    ]


def _column_widths(columns: Sequence[Column], rows: Sequence[Sequence[str]], width_mm: float) -> list[float]:
    figures = {
        place: max(text_width_mm(text, TEXT_PT, bold=True) for text in (column.heading, *(row[place] for row in rows)))
        for place, column in enumerate(columns)
        if column.right
    }
    # The gap after the last column lies beyond the edge of the page.
    rest = width_mm + _CELL_GAP_MM - sum(width + _FIGURE_GAP_MM for width in figures.values())
    unit = rest / sum(column.share for column in columns)
    return [
        figures[place] + _FIGURE_GAP_MM if place in figures else column.share * unit
        for place, column in enumerate(columns)
    ]


def paginate(blocks: Sequence[Block], height_mm: float) -> list[tuple[Shape, ...]]:
    """The blocks' shapes page by page, each page's first block at y = 0 and the rest below it.

    A block that is higher than a page stands alone on one.
    """
    pages: list[list[Shape]] = [[]]
    used = 0.0
    for place, block in enumerate(blocks):
        # A page is never left empty, so what is too high for any stands alone on one, and a gap begins none.
        full = used + _needed(blocks, place, height_mm) > height_mm
        if used and block.shapes and (block.starts_page or full):
            pages.append([])
            used = 0.0
            if block.header:
                pages[-1].extend(block.header.shapes)
                used = block.header.height_mm
        if used or block.shapes:
            pages[-1].extend(moved(block.shapes, 0.0, -used))
            used += block.height_mm
    return [tuple(page) for page in pages]


def _needed(blocks: Sequence[Block], place: int, most_mm: float) -> float:
    """The height of a block with all that it must not be parted from; alone, where no page has room for all that."""
    own = height = blocks[place].height_mm
    while blocks[place].keeps_next and place + 1 < len(blocks):
        place += 1
        height += blocks[place].height_mm
    return height if height <= most_mm else own


def _row(columns: Sequence[Column], cells: Sequence[str], widths: Sequence[float], bold: bool = False) -> Block:
    lefts = accumulate(widths, initial=0.0)
    texts = [
        text
        for column, cell, left, width in zip(columns, cells, lefts, widths, strict=False)
        for text in _cell(column, cell, left, left + width - _CELL_GAP_MM, bold)
    ]
    height = _ABOVE_RULE_MM - min(text.y for text in texts)
    rule = Line(0.0, -height, sum(widths) - _CELL_GAP_MM, -height, HEAD_RULE_MM if bold else RULE_MM)
    return Block(height, (*texts, rule), keeps_next=bold)


def _cell(column: Column, cell: str, left: float, right: float, bold: bool) -> Iterator[Text]:
    """A figure on one line; words on as many as they need, so that no two parts end up with the same name."""
    baseline = 0.8 - PITCH_MM
    if column.right:
        yield Text(right, baseline, cell, TEXT_PT, Anchor.END, bold)
        return
    for number, line in enumerate(lines_of(cell, TEXT_PT, right - left, bold)):
        yield Text(left, baseline - number * PITCH_MM, line, TEXT_PT, Anchor.START, bold)


def words_pages(job: Job, what: str, chapters: Sequence[Chapter]) -> tuple[Page, ...]:
    """The pages of ``chapters``, which say at their foot ``what`` they are; none where there is nothing on them."""
    paper, margin = DEFAULT_PAPER[job.units], DEFAULT_MARGIN[job.units]
    bare = BareSheet(paper.short_side, paper.long_side, Margins(margin, margin, margin, margin))
    room = Room(bare.free_width, bare.free_height)
    bodies = paginate([block for chapter in chapters for block in chapter(room)], room.height_mm)
    return tuple(
        bare.page(
            (
                *moved(body, bare.left, bare.free_bottom + bare.free_height),
                *bare.words_line(job, f"{what}, page {number} of {len(bodies)}"),
            ),
            label=f"{what} {number}",
            bookmarks=(capital(what),) if number == 1 else (),
        )
        for number, body in enumerate(bodies, start=1)
    )
