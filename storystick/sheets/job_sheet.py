"""The job sheet: the first page to read. What there is, how to check and glue it, and every mark in figures."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby
from typing import Final

from storystick.drawing.overview import (
    STICK_HEIGHT_MM,
    MappedTile,
    draw_sheet_map,
    draw_stick_overview,
    sheet_map_height,
)
from storystick.drawing.shapes import Shape, moved
from storystick.job.model import Job
from storystick.job.papers import PAPERS, Paper
from storystick.layout.model import Layout, Point, Span, StickLayout
from storystick.lengths import Units
from storystick.sheets.document import Page
from storystick.sheets.flow import TITLE_PT, Block, Column, heading, paginate, paragraph, table
from storystick.sheets.frame import SheetFrame
from storystick.sheets.seams import CLEARANCE
from storystick.sheets.strips import STRIPS_FILE, PlacedTile, Sheet, StripSheets

_SHEET_PAPER: Final = {Units.INCH: PAPERS["Letter"], Units.MM: PAPERS["A4"]}
_MAP_MM: Final = 84.0

_PRINTING: Final = (
    "In the print dialog choose 100 % or “actual size”, never “fit to page” or “shrink”, and print on one side. "
    "The file asks for this, but a viewer may not listen.",
    "Lay a steel rule on the check bars of every sheet, the level one and the upright one. The outer ends of the bar "
    "must be as far apart as its label says. If they are not, do not use the sheet: print again without scaling.",
    "The six signs beside the job's title are the same on every sheet of one version of a job. Never join tiles whose "
    "signs differ.",
)
_GLUING: Final = (
    "Cut along the thin outlines. Straight cuts across the sheet free the lanes, then cut each tile from its lane.",
    "Begin at the datum. Cut the next tile exactly at its first line, and lay it on the tab of the one before, so that "
    "the halves of the register marks meet. The station printed at both sides of the seam must be the same.",
    "Let the tape decide: hook it at the datum and lay each tile so that its seam's station agrees with the tape. Then "
    "nothing adds up from seam to seam. Check the far end against the tape before any glue.",
    "Use spray adhesive, dry adhesive film or double-sided tape. Water-based glue makes paper grow, most of all across "
    "its grain, and the marks move with it.",
    "The edge of the ink is the mark: strike at the edge of the band, on the side of the band where the cross is. "
    "Fine lines are struck at their middle.",
)
_CAUTIONS: Final = (
    "Measure the stock with calipers before printing: the marks are right for the thicknesses in the job file only.",
    "Strike one part, and try the parts that it takes, before all the others are cut.",
    "Sharp tools, saws and routers: guards on, unplug before changing a cutter, eye, ear and dust protection. The "
    "machine's manual and your local rules stand above this sheet.",
    "Tall cases and drawer cabinets can tip over: fix them to the wall as your local code asks.",
)
_SIGNS: Final = (
    ("grey band with a cross", "a part, from edge to edge"),
    ("black block above a band", "its groove, from edge to edge"),
    ("filled arrowhead on a fine line", "a hole's centre, or a line between two openings"),
    ("open arrowhead on a fine line", "a centre"),
    ("black bar and arrow", "the datum: zero is the outer edge of the strip"),
    ("full / scant", "the exact figure is slightly more / slightly less than the label"),
)
_MARK_COLUMNS: Final = (
    Column("kind", 2),
    Column("name", 4),
    Column("from", 2.4, right=True),
    Column("to", 2.4, right=True),
    Column("size", 2.4, right=True),
)
_TILE_COLUMNS: Final = (
    Column("strip", 5),
    Column("tile", 1.6),
    Column("sheet", 1.2, right=True),
    Column("from", 2.4, right=True),
    Column("to", 2.4, right=True),
)


def job_sheet_pages(layout: Layout, plan: StripSheets) -> tuple[Page, ...]:
    """The job sheet's pages, on the usual paper for letters, upright."""
    job = layout.job
    paper = _SHEET_PAPER[job.units]
    frame = SheetFrame(float(paper.short_side), float(paper.long_side), job.margins)
    width = frame.free_width
    blocks = [
        *_opening_blocks(layout, plan, width),
        *(block for stick in layout.sticks for block in _stick_blocks(stick, job, width)),
        *_tile_blocks(plan, width),
    ]
    bodies = paginate(blocks, frame.free_height)
    return tuple(
        Page(
            frame.width_mm,
            frame.height_mm,
            (
                *moved(body, frame.left, frame.free_bottom + frame.free_height),
                *frame.furniture(job, f"job sheet, page {number} of {len(bodies)}"),
            ),
            label=f"job sheet {number}",
            bookmarks=("Job sheet",) if number == 1 else (),
        )
        for number, body in enumerate(bodies, start=1)
    )


def _opening_blocks(layout: Layout, plan: StripSheets, width: float) -> Iterator[Block]:
    job = layout.job
    yield heading(job.title, width, TITLE_PT)
    yield from paragraph(_summary(layout, plan, job.paper), width)
    for title, lines in (("Print and check", _PRINTING), ("Cut, join and glue", _GLUING), ("Take care", _CAUTIONS)):
        yield heading(title, width)
        for number, line in enumerate(lines, start=1):
            yield from paragraph(line, width, indent_mm=6.0, sign=f"{number}.")
    yield from _seam_warnings(plan, width)
    yield heading("The signs on a strip", width)
    yield from table((Column("sign", 2), Column("meaning", 4)), _SIGNS, width)


def _summary(layout: Layout, plan: StripSheets, paper: Paper) -> str:
    tiles = sum(len(sheet.tiles) for sheet in plan.sheets)
    strips, in_tiles, on_sheets = (
        _counted(len(plan.seams), "strip"),
        _counted(tiles, "tile"),
        _counted(len(plan.sheets), "sheet"),
    )
    return (
        f"Version {layout.job.digest}. {strips} in {in_tiles} on {on_sheets} of {paper.name}, in {STRIPS_FILE}. "
        f"All figures are in {_UNIT_WORDS[layout.job.units]}, from each stick's datum."
    )


def _counted(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"


_UNIT_WORDS: Final = {Units.INCH: "inches", Units.MM: "millimetres"}


def _seam_warnings(plan: StripSheets, width: float) -> Iterator[Block]:
    """The seams that no cut could keep clear of the marks."""
    for strip, seams in plan.seams:
        for seam in seams:
            if not seam.keeps_clear:
                at = plan.job.label(seam.at)
                yield from paragraph(
                    f"The seam of {strip.name} at {at} lies less than {CLEARANCE} mm from a mark: no cut within reach "
                    "keeps clear. Check the marks beside it against the tape.",
                    width,
                    indent_mm=6.0,
                    sign="!",
                )


def _stick_blocks(stick: StickLayout, job: Job, width: float) -> Iterator[Block]:
    words = "a left and a right strip from the same figures, for the inside faces" if stick.stick.pair else "one strip"
    yield heading(f"{stick.stick.name}: {words}", width)
    picture = tuple(draw_stick_overview(stick, job, width - 3.0))
    yield Block(STICK_HEIGHT_MM + 2.0, picture, keeps_next=True)
    rows = [
        *(_span_cells(span, job) for span in (*stick.spans, *stick.grooves)),
        *(_point_cells(point, job) for point in stick.points),
    ]
    yield from table(_MARK_COLUMNS, rows, width)


def _span_cells(span: Span, job: Job) -> tuple[str, ...]:
    figures = (job.label(length) for length in (span.start, span.end, span.size))
    return (span.kind.value, span.name, *figures)


def _point_cells(point: Point, job: Job) -> tuple[str, ...]:
    return (point.kind.value, point.name, job.label(point.at), "", "")


def _tile_blocks(plan: StripSheets, width: float) -> Iterator[Block]:
    yield heading("Which tile is where, in the order of gluing", width)
    rows = (_tile_cells(sheet, placed, plan.job) for sheet, placed in plan.in_gluing_order())
    yield from table(_TILE_COLUMNS, rows, width)
    yield heading("Map of the sheets", width)
    across = max(1, int(width // _MAP_MM))
    for _, group in groupby(enumerate(plan.sheets), key=lambda pair: pair[0] // across):
        yield _map_row([sheet for _, sheet in group], len(plan.sheets))


def _tile_cells(sheet: Sheet, placed: PlacedTile, job: Job) -> tuple[str, ...]:
    window = placed.tile.window
    stations = (job.label(station) for station in (window.start, window.end))
    return (placed.tile.strip.name, f"{window.number} of {window.of}", str(sheet.number), *stations)


def _map_row(sheets: Iterable[Sheet], of: int) -> Block:
    shapes: list[Shape] = []
    height = 0.0
    for column, sheet in enumerate(sheets):
        paper = (sheet.frame.width_mm, sheet.frame.height_mm)
        picture_width = _MAP_MM - 5.0
        height = sheet_map_height(paper, picture_width)
        picture = draw_sheet_map(f"sheet {sheet.number} of {of}", paper, _mapped(sheet), picture_width)
        shapes.extend(moved(picture, column * _MAP_MM, 0.0))
    return Block(height + 4.0, tuple(shapes))


def _mapped(sheet: Sheet) -> list[MappedTile]:
    mapped = []
    for placed in sheet.tiles:
        tile = placed.tile
        left = placed.x_mm - tile.window.x(tile.window.start)
        words = f"{tile.strip.name} {tile.window.number}"
        mapped.append(MappedTile(words, left, placed.y_mm, tile.window.width, tile.drawing.height_mm))
    return mapped
