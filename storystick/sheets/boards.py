"""Board templates onto sheets: where each is cut in both directions, and one tile a sheet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from typing import Final, TypeAlias

from storystick.drawing.board import Pane, draw_board, whole_pane
from storystick.drawing.board_words import place_board_words
from storystick.drawing.lettering import check_letters
from storystick.drawing.window import TAB_MM
from storystick.errors import Fault, FaultCollector
from storystick.job.job import Job
from storystick.layout.board import BoardLayout
from storystick.layout.cabinets.pieces import Range
from storystick.sheets.bare_sheet import BareSheet, correction_of, cut_off, level_sheet
from storystick.sheets.board_tiles import AROUND_MM, BoardTile, on_pane, register_places
from storystick.sheets.document import Page, whole_page
from storystick.sheets.seams import Reach, Seam, Stretch, cut
from storystick.sheets.tiles import (
    SEAM_GRID,
    SHORTEST_TILE_MM,
    PlacedTile,
    Sheet,
    at_least,
    paper_too_small,
    sheet_pages,
)
from storystick.wording import counted

MOST_TILES: Final = 500
"""No template of a board has more: a sheet of plywood on A4 takes some hundred; judgement, no source."""


@dataclass(frozen=True, slots=True)
class CutBoard:
    """A board with its seams from the left and from below, and its tiles, row by row from the lower left."""

    board: BoardLayout
    bare: BareSheet
    seams_x: tuple[Seam, ...]
    seams_y: tuple[Seam, ...]
    tiles: tuple[BoardTile, ...]

    @property
    def columns(self) -> int:
        return len(self.seams_x) + 1

    @property
    def rows(self) -> int:
        return len(self.seams_y) + 1

    @property
    def left_out(self) -> tuple[str, ...]:
        """The names, with their stations, that no tile has room to say whole."""
        said = {words for tile in self.tiles for words in tile.words.says}
        return tuple(dict.fromkeys(words for tile in self.tiles for words in tile.words.left_out if words not in said))


BoardSheet: TypeAlias = Sheet[BoardTile]
"""One with a single tile."""


@dataclass(frozen=True, slots=True)
class BoardSheets:
    """Every board template of a job, and the sheets that their tiles are on."""

    job: Job
    boards: tuple[CutBoard, ...]
    sheets: tuple[BoardSheet, ...]

    @property
    def remarks(self) -> tuple[str, ...]:
        """Which boards have more names than room."""
        return tuple(
            f"{board.board.name}: its tiles have no room for {counted(len(board.left_out), 'name')}; read them on the "
            "job sheet"
            for board in self.boards
            if board.left_out
        )

    def sheets_of(self, board: CutBoard) -> tuple[BoardSheet, ...]:
        """Those of one board, in the order of gluing."""
        return tuple(sheet for sheet in self.sheets if sheet.tiles[0].tile in board.tiles)


def plan_boards(boards: Iterable[BoardLayout], job: Job) -> BoardSheets:
    """Cut boards into as few tiles as the job's paper allows, lying or turned, and place each on a sheet.

    Raises:
        StorystickError: the paper is too small for a tile, or the font lacks a sign of a name.
    """
    collector = FaultCollector()
    cut_boards = []
    for board in boards:
        with collector.at(f'template "{board.name}"'):
            check_letters(*_names(board))
            cut_boards.append(_cut_board(board, job))
    collector.raise_any()
    placed = [(board, tile) for board in cut_boards for tile in board.tiles]
    sheets = (_sheet(number, board, tile, job) for number, (board, tile) in enumerate(placed, start=1))
    return BoardSheets(job, tuple(cut_boards), tuple(sheets))


def board_pages(plan: BoardSheets) -> tuple[Page, ...]:
    """The sheets as pages."""
    return sheet_pages(
        plan.sheets, plan.job, "templates", "board templates", title="Board templates", more=_words_of_tile
    )


def _words_of_tile(sheet: BoardSheet) -> str:
    """Which tile it is, and whether it has words for all that is on it."""
    (placed,) = sheet.tiles
    pane, left_out = placed.tile.pane, len(placed.tile.words.left_out)
    lacking = f" · left out for want of room: {counted(left_out, 'name')}" if left_out else ""
    return f": {pane.board.name}, tile {pane.name}{lacking}"


def board_page(board: BoardLayout, job: Job) -> Page:
    """A board in one piece, its lower left corner at 0, 0, and some room around it."""
    pane = whole_pane(board)
    shapes = (*draw_board(pane), *place_board_words(pane, job).shapes)
    return whole_page(shapes, board.name, pane.width, pane.height)


def _names(board: BoardLayout) -> Iterator[str]:
    yield board.name
    yield from (cut.name for cut in board.cuts)
    yield from (line.name for line in board.lines)
    yield from (cut_out.name for cut_out in board.cut_outs)
    yield from (hole.row for hole in board.holes)


def _turned_sheet(job: Job) -> BareSheet:
    """A sheet of the job's paper with its long side going up."""
    paper = job.paper
    return BareSheet(paper.short_side, paper.long_side, job.margins, correction_of(job).turned)


def _cut_board(board: BoardLayout, job: Job) -> CutBoard:
    """On the sheet that needs fewer tiles, then fewer seams near marks, then off a roll less paper; else level."""
    ways, counts = [], []
    for bare in (level_sheet(job), _turned_sheet(job)):
        width, height = bare.free_length, Fraction(bare.free_height)
        if min(width, height) - AROUND_MM - Fraction(TAB_MM) >= SHORTEST_TILE_MM:
            seams_x = cut(board.marks_x, _reach(width), SEAM_GRID[job.units], _parts(board, 0))
            seams_y = cut(board.marks_y, _reach(height), SEAM_GRID[job.units], _parts(board, 1))
            counts.append((len(seams_x) + 1) * (len(seams_y) + 1))
            if counts[-1] <= MOST_TILES:
                ways.append(_cut_at(board, bare, seams_x, seams_y, job))
    if not counts:
        least = at_least(SHORTEST_TILE_MM + AROUND_MM + Fraction(TAB_MM), job)
        raise paper_too_small(job, f"less than {least} for a tile of a board", where="")
    if not ways:
        raise _too_many(min(counts), job)
    return min(ways, key=lambda board: _cost(board, job))


def _cut_at(
    board: BoardLayout, bare: BareSheet, seams_x: tuple[Seam, ...], seams_y: tuple[Seam, ...], job: Job
) -> CutBoard:
    register = register_places([seam.at for seam in seams_x], [seam.at for seam in seams_y], board)
    tiles = (
        BoardTile(job, pane, place_board_words(pane, job), on_pane(register, pane))
        for pane in _panes(board, seams_x, seams_y)
    )
    return CutBoard(board, bare, seams_x, seams_y, tuple(tiles))


def _panes(board: BoardLayout, seams_x: Sequence[Seam], seams_y: Sequence[Seam]) -> Iterator[Pane]:
    columns, rows = (
        [Range(start, end) for start, end in pairwise((Fraction(0), *(seam.at for seam in seams), length))]
        for seams, length in ((seams_x, board.width), (seams_y, board.height))
    )
    for row, y in enumerate(rows, start=1):
        for column, x in enumerate(columns, start=1):
            yield Pane(board, x, y, column, row, len(columns), len(rows))


def _reach(room: Fraction) -> Reach:
    return Reach(room - AROUND_MM - Fraction(TAB_MM), room - 2 * AROUND_MM, SHORTEST_TILE_MM)


def _parts(board: BoardLayout, axis: int) -> list[Stretch]:
    """What a seam should not run along, where it can be had: narrow cuts that lie across, and cut-outs."""
    cuts = (cut.y if axis else cut.x for cut in board.cuts if cut.along_x == bool(axis))
    rims = (
        (cut_out.centre[axis] - cut_out.diameter / 2, cut_out.centre[axis] + cut_out.diameter / 2)
        for cut_out in board.cut_outs
    )
    return sorted((*((stretch.start, stretch.end) for stretch in cuts), *rims))


def _cost(board: CutBoard, job: Job) -> tuple[int, int, Fraction]:
    near = sum(not seam.keeps_clear for seam in (*board.seams_x, *board.seams_y))
    used = (_on_sheet(board.bare, tile, job) for tile in board.tiles) if job.paper.roll else ()
    return len(board.tiles), near, sum((bare.page_width * bare.page_height for bare in used), Fraction(0))


def _on_sheet(bare: BareSheet, tile: BoardTile, job: Job) -> BareSheet:
    """The sheet of a tile: off a roll as long as the tile needs."""
    if not job.paper.roll:
        return bare
    if bare.page_width >= bare.page_height:
        return cut_off(bare, tile.width_mm, job.units)
    lying = BareSheet(bare.page_height, bare.page_width, bare.margins, bare.correction.turned)
    needed = tile.height_mm + float(bare.above_and_below - lying.beside)
    return replace(bare, page_height=cut_off(lying, needed, job.units).page_width)


def _too_many(tiles: int, job: Job) -> Fault:
    return Fault(
        f"it takes {tiles} sheets of {job.paper.name}, and {MOST_TILES} is the most that anybody glues together",
        "look at the units of its sides, choose a larger paper or a roll, or print no template of it",
    )


def _sheet(number: int, board: CutBoard, tile: BoardTile, job: Job) -> BoardSheet:
    bare = _on_sheet(board.bare, tile, job)
    placed = PlacedTile(tile, bare.left + tile.left_mm, bare.free_bottom + tile.below_mm)
    return Sheet(number, bare, (placed,))
