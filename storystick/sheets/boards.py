"""Board templates onto sheets: where each is cut in both directions, and its tiles, one a sheet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from typing import Final, TypeAlias

from storystick.drawing.board import (
    Pane,
    beside_boxes,
    boxes_of,
    cut_paths,
    draw_board,
    draw_marks,
    pane_name,
    whole_pane,
    x_words,
    y_words,
)
from storystick.drawing.board_words import BoardWords, place_board_words
from storystick.drawing.lettering import WORDS_PT, check_letters, text_width_mm
from storystick.drawing.shapes import Anchor, Line, Shape, Text
from storystick.drawing.window import TAB_MM
from storystick.errors import Fault, FaultCollector, Where
from storystick.job.job import Job
from storystick.layout.board import BoardLayout
from storystick.layout.cabinets.pieces import Range
from storystick.lengths import Figures
from storystick.outline import Place
from storystick.sheets.bare_sheet import BareSheet, correction_of, cut_off, level_sheet
from storystick.sheets.document import Page, whole_page
from storystick.sheets.seams import CLEARANCE, CUT_MM, REGISTER_ARM_MM, TAB_DASH, Seam, Stretch, cut, register_mark
from storystick.sheets.tile_plan import Lacking, TileKind, TilePlan
from storystick.sheets.tiles import (
    SHORTEST_TILE_MM,
    PlacedTile,
    Sheet,
    at_least,
    grids_of,
    paper_too_small,
    reach_within,
)
from storystick.wording import counted

AROUND_MM: Final = Fraction(3)
"""Room beyond an edge that has no tab: for half a line, and for what is cut along."""

_FROM_END: Final = range(6, 31)
"""How far from the ends of a seam its outermost register marks may stand, in mm."""


@dataclass(frozen=True, slots=True)
class BoardTile:
    """A pane with its words and the register marks that are printed on it too."""

    figures: Figures
    pane: Pane
    words: BoardWords
    register: tuple[Place, ...]

    @property
    def number(self) -> str:
        return self.pane.name

    @property
    def mapped_as(self) -> str:
        return f"{self.pane.board.name} {self.pane.name}"

    @property
    def stations(self) -> tuple[Fraction, ...]:
        """Of its left and right, then of its lower and upper edge, each pair rising."""
        pane, board = self.pane, self.pane.board
        across = sorted(board.x_station(end) for end in (pane.x.start, pane.x.end))
        return (*across, *sorted(board.y_station(end) for end in (pane.y.start, pane.y.end)))

    @property
    def left_mm(self) -> float:
        return float(AROUND_MM)

    @property
    def below_mm(self) -> float:
        return float(AROUND_MM)

    @property
    def width_mm(self) -> float:
        return float(AROUND_MM) + self.pane.width + (TAB_MM if self.pane.has_right_tab else float(AROUND_MM))

    @property
    def height_mm(self) -> float:
        return float(AROUND_MM) + self.pane.height + (TAB_MM if self.pane.has_upper_tab else float(AROUND_MM))

    def draw(self) -> Iterator[Shape]:
        """Its shapes, 0, 0 at the pane's lower left."""
        yield from draw_board(self.pane)
        yield from self.words.shapes
        yield from _cutting_lines(self.pane)
        yield from _tabs(self.pane, self.figures)
        for place in self.register:
            yield from _register_mark(place, self.pane)


def register_places(seams_x: Sequence[Fraction], seams_y: Sequence[Fraction], board: BoardLayout) -> tuple[Place, ...]:
    """Where tiles are brought together: wherever seams cross, and near both ends of every seam."""
    crossings = [Place(x, y) for x in seams_x for y in seams_y]
    upright = [_clear([Place(x, y) for y in end], board) for x in seams_x for end in _near_ends(board.height)]
    level = [_clear([Place(x, y) for x in end], board) for y in seams_y for end in _near_ends(board.width)]
    return tuple(dict.fromkeys((*crossings, *upright, *level)))


def _near_ends(length: Fraction) -> tuple[list[Fraction], list[Fraction]]:
    """Stations near both ends of a seam and on it, outward ones first; its middle where it is too short for any."""
    inward = [Fraction(mm) for mm in _FROM_END if mm < length] or [length / 2]
    return inward, [length - mm for mm in inward]


def _clear(places: Sequence[Place], board: BoardLayout) -> Place:
    """The first place that keeps off the marks as a seam does, and out of the cuts; else the first of all."""
    return next((place for place in places if _keeps_clear(place, board)), places[0])


def _keeps_clear(place: Place, board: BoardLayout) -> bool:
    stretches = [
        *((cut.x.start, cut.x.end, cut.y.start, cut.y.end) for cut in board.cuts),
        *((line.start.x, line.end.x, line.start.y, line.end.y) for line in board.lines),
        *((at.x, at.x, at.y, at.y) for at in (*board.outline.corners, *(hole.at for hole in board.holes))),
    ]
    return not any(
        min(left, right) - CLEARANCE < place.x < max(left, right) + CLEARANCE
        and min(low, high) - CLEARANCE < place.y < max(low, high) + CLEARANCE
        for left, right, low, high in stretches
    )


def on_pane(places: Iterable[Place], pane: Pane) -> tuple[Place, ...]:
    """Those that lie within a pane or at its edges."""
    return tuple(
        place for place in places if pane.x.start <= place.x <= pane.x.end and pane.y.start <= place.y <= pane.y.end
    )


def _cutting_lines(pane: Pane) -> Iterator[Line]:
    """Along the seams that the tile begins at; a box that runs over one ends there, and shows where to cut."""
    boxes = boxes_of(pane)
    if pane.column > 1:
        yield from beside_boxes(Line(0.0, 0.0, 0.0, pane.height, CUT_MM), boxes)
    if pane.row > 1:
        yield from beside_boxes(Line(0.0, 0.0, pane.width, 0.0, CUT_MM), boxes)


def _tabs(pane: Pane, figures: Figures) -> Iterator[Shape]:
    """Paper beyond the right and the upper seam, for the next tile to be laid on, with the seam's station."""
    width, height, half = pane.width, pane.height, TAB_MM / 2
    if pane.has_right_tab:
        yield from _tab(Line(width, 0.0, width, height, CUT_MM, TAB_DASH), TAB_MM, 0.0, pane)
        words = _tab_words(pane_name(pane.column + 1, pane.row), x_words(pane.board, pane.x.end, figures), height)
        yield Text(width + half + 0.7, height / 2, words, WORDS_PT, Anchor.MIDDLE, upward=True)
    if pane.has_upper_tab:
        yield from _tab(Line(0.0, height, width, height, CUT_MM, TAB_DASH), 0.0, TAB_MM, pane)
        words = _tab_words(pane_name(pane.column, pane.row + 1), y_words(pane.board, pane.y.end, figures), width)
        yield Text(width / 2, height + half - 1.3, words, WORDS_PT, Anchor.MIDDLE)


def _tab(seam: Line, across: float, up: float, pane: Pane) -> Iterator[Line]:
    """A seam, interrupted by the boxes that run over it, and the outline of the paper ``across`` and ``up`` from it."""
    yield from beside_boxes(seam, boxes_of(pane))
    corners = ((seam.x1, seam.y1), (seam.x2, seam.y2))
    outer = [(x + across, y + up) for x, y in corners]
    for (x1, y1), (x2, y2) in (*zip(corners, outer, strict=True), outer):
        yield Line(x1, y1, x2, y2, CUT_MM)


def _tab_words(following: str, station: str, room: float) -> str:
    choices = (f"tile {following} goes here · {station}", f"{following} · {station}", station, following)
    return next((text for text in choices if text_width_mm(text, WORDS_PT) <= room - 2 * REGISTER_ARM_MM), "")


def _register_mark(place: Place, pane: Pane) -> Iterator[Line]:
    """Without the arms that would reach into the tile before."""
    backward = 0.0 if place.x == pane.x.start else REGISTER_ARM_MM
    downward = 0.0 if place.y == pane.y.start else REGISTER_ARM_MM
    return register_mark(*pane.at(place), (backward, REGISTER_ARM_MM), (downward, REGISTER_ARM_MM))


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
    def name(self) -> str:
        return self.board.name

    @property
    def heading(self) -> str:
        return self.board.name

    def placed_seams(self, figures: Figures) -> Iterator[tuple[Seam, str]]:
        board = self.board
        for seam in self.seams_x:
            yield seam, f"at {figures(board.x_station(seam.at))} from {board.x_datum}"
        for seam in self.seams_y:
            yield seam, f"at {figures(board.y_station(seam.at))} from {board.y_datum}"

    @property
    def lacking(self) -> tuple[Lacking, ...]:
        """What found no room on any tile, word for word, since a template has no list of its marks."""
        sentence = f"{self.name} has no room on its tiles for {counted(len(self.left_out), 'name')}"
        return (
            (Lacking(sentence, self.board.name, counted(len(self.left_out), "name"), self.left_out),)
            if self.left_out
            else ()
        )

    @property
    def left_out(self) -> tuple[str, ...]:
        """The names, with their stations, that no tile has room to say whole."""
        said = {words for tile in self.tiles for words in tile.words.says}
        return tuple(dict.fromkeys(words for tile in self.tiles for words in tile.words.left_out if words not in said))


BoardSheet: TypeAlias = Sheet[BoardTile]
"""One with a single tile."""


def _words_of_tile(sheet: BoardSheet) -> str:
    """Which tile it is, and whether it has words for all that is on it."""
    (placed,) = sheet.tiles
    pane, left_out = placed.tile.pane, len(placed.tile.words.left_out)
    lacking = f" · left out for want of room: {counted(left_out, 'name')}" if left_out else ""
    return f": {pane.board.name}, tile {pane.name}{lacking}"


BoardSheets: TypeAlias = TilePlan[CutBoard, BoardTile]
BOARDS: Final[TileKind[BoardTile]] = TileKind("templates", "templates", "Board templates", more=_words_of_tile)


def plan_boards(boards: Iterable[BoardLayout], job: Job) -> BoardSheets:
    """Cut boards into as few tiles as the job's paper allows, lying or turned, and place each on a sheet.

    Raises:
        StorystickError: the paper is too small for a tile, or the font lacks a sign of a name.
    """
    collector = FaultCollector()
    cut_boards = []
    for board in boards:
        with collector.at(Where(f'template "{board.name}"', ("template",))):
            check_letters(*_names(board))
            cut_boards.append(_cut_board(board, job))
    collector.raise_any()
    placed = [(board, tile) for board in cut_boards for tile in board.tiles]
    sheets = (_sheet(number, board, tile, job) for number, (board, tile) in enumerate(placed, start=1))
    return TilePlan(job, BOARDS, tuple(cut_boards), tuple(sheets))


def board_page(board: BoardLayout, job: Job) -> Page:
    """A board in one piece, its lower left corner at 0, 0, and some room around it."""
    pane = whole_pane(board)
    shapes = (*draw_marks(pane), *place_board_words(pane, job).shapes)
    return whole_page(shapes, board.name, pane.width, pane.height, cut=cut_paths(pane))


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
    # Stations are told from the front where that is at the far end, and a station of 0 is then the whole width.
    grids_x = grids_of(job.units, board.x_station(Fraction(0)))
    grids_y = grids_of(job.units, board.y_station(Fraction(0)))
    for bare in (level_sheet(job), _turned_sheet(job)):
        width, height = bare.free_length, Fraction(bare.free_height)
        # Both ways are tried, since a board that is narrow and high may take half the sheets when these are turned.
        if min(width, height) - AROUND_MM - Fraction(TAB_MM) >= SHORTEST_TILE_MM:
            seams_x = cut(board.marks_x, reach_within(width, AROUND_MM), grids_x, _parts(board, 0))
            seams_y = cut(board.marks_y, reach_within(height, AROUND_MM), grids_y, _parts(board, 1))
            counts.append((len(seams_x) + 1) * (len(seams_y) + 1))
            if counts[-1] <= MOST_TILES:
                ways.append(_cut_at(board, bare, seams_x, seams_y, job))
    if not counts:
        least = at_least(SHORTEST_TILE_MM + AROUND_MM + Fraction(TAB_MM), job.figures)
        raise paper_too_small(job, f"less than {least} for a tile of a board", where="")
    if not ways:
        raise _too_many(min(counts), job)
    return min(ways, key=lambda board: _cost(board, job))


def _cut_at(
    board: BoardLayout, bare: BareSheet, seams_x: tuple[Seam, ...], seams_y: tuple[Seam, ...], job: Job
) -> CutBoard:
    register = register_places([seam.at for seam in seams_x], [seam.at for seam in seams_y], board)
    tiles = (
        BoardTile(job.figures, pane, place_board_words(pane, job), on_pane(register, pane))
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
    # A roll is cut across its length, which goes up here: reckoned as if the sheet lay, and turned back.
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
