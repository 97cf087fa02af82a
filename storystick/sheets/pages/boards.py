"""The job sheet's chapter of board templates: how they are joined, and which tile is where."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from storystick.drawing.board import draw_board, whole_pane
from storystick.drawing.lettering import text_width_mm
from storystick.drawing.shapes import Anchor, Box, Line, Shape, Text, moved, scaled
from storystick.job.job import Job
from storystick.sheets.boards import BoardSheets, CutBoard
from storystick.sheets.pages.flow import TEXT_PT, Block, Room, heading, paragraph, side_by_side
from storystick.sheets.pages.trust import upward_percent
from storystick.sheets.print_choices import TEMPLATES_FILE
from storystick.wording import counted

_HOW: Final = (
    "Tiles are named as on a map: A, B, C from the left, 1, 2, 3 from below. Cut each along the thin line at its left "
    "and its lower edge, and leave it its tabs at the right and above.",
    "Lay the lowest row first, from the left, along a straightedge: each tile on the tab of the one before, so that "
    "the parts of the register marks make one cross. Then each row above on the tabs of the one below. The station "
    "that two tiles print at their seam must be the same.",
    "Before any glue, check with a tape: the width and the height over all, and both diagonals, which must be as said "
    "here. Where seams have lost something, let the tape decide, not the tabs. Water-based glue makes paper grow: "
    "use spray adhesive, dry adhesive film or double-sided tape.",
    "The edge of a filled band is the edge of the groove or rabbet. Fine lines are struck at their middle; a hole’s "
    "centre is where its cross meets. A groove is drawn as deep into the cabinet as the part that enters it: it may "
    "run on to the back edge where that does not show.",
    "A face is drawn as it is looked at: the words at its edges say which way it lies in the cabinet.",
)
_MAP_WIDTH_MM: Final = 80.0
_MAP_HEIGHT_MM: Final = 100.0
_SEAM_MM: Final = 0.3
_DASH: Final = (1.5, 1.0)
_NAME_PT: Final = TEXT_PT


def board_blocks(plan: BoardSheets, tiled: bool, room: Room) -> Iterator[Block]:
    """The chapter; the map and the list of tiles only where they are ``tiled`` in the print."""
    width = room.width_mm
    yield heading("Board templates", width)
    yield from side_by_side(_HOW, width, numbered=True)
    if words := _printer_words(plan.job) if tiled else "":
        yield from paragraph(words, width)
    for board in plan.things:
        yield from _one_board(board, plan, tiled, width)


def _printer_words(job: Job) -> str:
    """How far tiles are right in both directions, where the printer's test sheet tells; empty where it does not."""
    printer = job.printer
    if printer is None or printer.along_within is None or printer.across_within is None:
        return ""
    along, across = map(upward_percent, (printer.along_within, printer.across_within))
    return (
        f"Printer {printer.name} was measured: tiles are right within {along} along the sheet’s long side and within "
        f"{across} across it, before their seams."
    )


def _one_board(board: CutBoard, plan: BoardSheets, tiled: bool, width: float) -> Iterator[Block]:
    job, layout = plan.job, board.board
    yield heading(", ".join(filter(None, (layout.name, layout.face))), width)
    sizes = f"{job.figures(layout.width)} wide and {job.figures(layout.height)} high"
    tiles = (
        f"{counted(len(board.tiles), 'tile')}, {board.columns} × {board.rows}, in {TEMPLATES_FILE}. " if tiled else ""
    )
    diagonal = job.figures.of_root(layout.width**2 + layout.height**2)
    words = paragraph(f"{tiles}{sizes}; both diagonals of that box {diagonal}.", width)
    yield from (replace(block, keeps_next=True) for block in words)
    yield _map(board, tiled)
    for warning in plan.warnings_of(board) if tiled else ():
        yield from paragraph(warning, width, indent_mm=6.0, sign="!")


def _map(board: CutBoard, tiled: bool) -> Block:
    """The board reduced, with its seams and the names of its tiles."""
    layout = board.board
    scale = min(_MAP_WIDTH_MM / float(layout.width), _MAP_HEIGHT_MM / float(layout.height))
    reduced = scaled(draw_board(whole_pane(layout)), scale, scale)
    seams = _seam_lines(board, scale) if tiled else ()
    height = float(layout.height) * scale
    shapes = moved((*reduced, *seams), 2.0, -height - 1.0)
    return Block(height + 5.0, shapes)


def _seam_lines(board: CutBoard, scale: float) -> Iterator[Shape]:
    width, height = (float(size) * scale for size in (board.board.width, board.board.height))
    for seam in board.seams_x:
        yield Line(float(seam.at) * scale, -1.0, float(seam.at) * scale, height + 1.0, _SEAM_MM, _DASH)
    for seam in board.seams_y:
        yield Line(-1.0, float(seam.at) * scale, width + 1.0, float(seam.at) * scale, _SEAM_MM, _DASH)
    for tile in board.tiles:
        x = float(tile.pane.x.start + tile.pane.x.end) / 2 * scale
        y = float(tile.pane.y.start + tile.pane.y.end) / 2 * scale
        around = text_width_mm(tile.pane.name, _NAME_PT, bold=True) + 1.6
        yield Box(x - around / 2, y - 2.0, around, 4.0, 1.0)
        yield Text(x, y - 1.2, tile.pane.name, _NAME_PT, Anchor.MIDDLE, bold=True)
