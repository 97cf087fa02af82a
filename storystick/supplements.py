"""What a print holds beyond its strips: chapters of the job sheet, and more files.

:mod:`storystick.printing` loads this only for a job with cabinets, rectangles, a shop, square sticks or board
templates.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from storystick.cutting.parts import cutting_list
from storystick.drawing.lettering import check_letters
from storystick.errors import placed_in
from storystick.gluing.plan import glue_for, plan_glue_up
from storystick.job.job import Job
from storystick.layout.board import BoardLayout
from storystick.layout.boards import board_called
from storystick.layout.cabinets.pieces import CabinetLayout
from storystick.layout.stations import Layout
from storystick.sheets.bars import (
    Wanted,
    plan_templates,
    template_of,
    template_page,
    template_pages,
)
from storystick.sheets.boards import board_page, board_pages, plan_boards
from storystick.sheets.document import Page
from storystick.sheets.pages.boards import board_blocks
from storystick.sheets.pages.cabinets import cabinet_blocks, cutting_blocks, views_page
from storystick.sheets.pages.flow import Block, paragraph
from storystick.sheets.pages.glue_up import glue_up_blocks
from storystick.sheets.pages.job_sheet import Chapter
from storystick.sheets.pages.rods import rod_blocks
from storystick.sheets.pages.setups import guided_blocks, setup_blocks
from storystick.sheets.pages.square import square_blocks
from storystick.sheets.pages.square_sticks import square_stick_blocks
from storystick.sheets.print_record import BARS_FILE, RODS_FILE, SQUARE_STICKS_FILE, TEMPLATES_FILE
from storystick.sheets.rods import rod_strips
from storystick.sheets.square_sticks import (
    plan_square_sticks,
    square_stick_page,
    square_stick_pages,
)
from storystick.sheets.strips import one_piece, plan_strips, strip_pages
from storystick.squaring.rectangles import bodies_of, rectangles_of, targets_in
from storystick.squaring.rods import rods_for
from storystick.tooling.bars import bars_wanted, shims_of
from storystick.tooling.settings import settings_of


@dataclass(frozen=True, slots=True)
class Picture:
    """A page to write as a file of its own, called after its ``kind`` and ``name``, and how it is drawn."""

    kind: str
    name: str
    subject: str
    draw: Callable[[], Page]


@dataclass(frozen=True, slots=True)
class SheetsFile:
    """A file of sheets: how many it has, and how they are drawn."""

    name: str
    sheets: int
    draw: Callable[[], tuple[Page, ...]]


@dataclass(frozen=True, slots=True)
class Supplement:
    """What is added to a print: ``chapters`` of the job sheet, files of ``sheets``, and ``pictures``.

    All is planned, and found to fit on the paper; none of it is drawn before it is asked for. ``remarks``
    say what to look at on the sheets.
    """

    chapters: tuple[Chapter, ...] = ()
    sheets: tuple[SheetsFile, ...] = ()
    pictures: tuple[Picture, ...] = ()
    remarks: tuple[str, ...] = ()


def cabinet_supplement(layout: Layout) -> Supplement:
    """The views of a job's cabinets and their cutting list; empty for a job without cabinets."""
    if not layout.cabinets:
        return Supplement()
    job = layout.job

    def views(width: float) -> Iterator[Block]:
        for cabinet in layout.cabinets:
            yield from cabinet_blocks(cabinet, job, width)

    def parts(width: float) -> Iterator[Block]:
        yield from cutting_blocks(cutting_list(layout.cabinets, job.figures), job, width)

    pictures = tuple(_view(cabinet, layout) for cabinet in layout.cabinets)
    return Supplement((views, parts), pictures=pictures)


def _view(cabinet: CabinetLayout, layout: Layout) -> Picture:
    return Picture("cabinet", cabinet.cabinet.name, "Reduced views", partial(views_page, cabinet, layout.job))


def board_supplement(layout: Layout, own: Sequence[BoardLayout], asked: Sequence[str], tiled: bool) -> Supplement:
    """Board templates: the job's ``own`` that are to be drawn, and those of cabinets that are ``asked`` for by name.

    ``tiled`` says whether their sheets are printed, and so whether the job sheet says which tile is where.

    Raises:
        StorystickError: a name that no board has, or the paper is too small for a tile.
    """
    with placed_in("--board"):
        named = [board_called(name, layout.cabinets) for name in asked]
    boards = tuple(dict.fromkeys((*own, *named)))
    plan = plan_boards(boards, layout.job)
    pictures = tuple(
        Picture("template", board.name, "Full-size board template", partial(board_page, board, layout.job))
        for board in boards
    )
    chapters: tuple[Chapter, ...] = (partial(board_blocks, plan, tiled),) if boards else ()
    sheets = (SheetsFile(TEMPLATES_FILE, len(plan.sheets), partial(board_pages, plan)),) if boards else ()
    return Supplement(chapters, sheets, pictures, plan.remarks)


def tool_supplement(layout: Layout) -> Supplement:
    """The set-up pages of a job's tools, and templates of the bars and shims it wants; empty without a shop.

    Raises:
        Fault: the paper is too small for a template.
    """
    job = layout.job
    if job.shop is None:
        return Supplement()
    settings = settings_of(layout)

    def set_ups(width: float) -> Iterator[Block]:
        yield from setup_blocks(settings.grooves_by_bar, settings.saw, settings.bars, job, width)
        yield from guided_blocks(settings.guided, settings.by_hand, job, width)
        for finding in (*settings.findings, *settings.saw_findings):
            yield from paragraph(finding, width, indent_mm=6.0, sign="!")

    bars, shims = bars_wanted(job.shop, settings.grooves), shims_of(settings.grooves)
    wanted: tuple[Wanted, ...] = (*bars, *shims)
    plan = plan_templates(bars, shims, job)
    pictures = tuple(_template(one, job) for one in wanted)
    sheets = (SheetsFile(BARS_FILE, len(plan.sheets), partial(template_pages, plan)),) if plan.sheets else ()
    return Supplement((set_ups,), sheets, pictures)


def _template(wanted: Wanted, job: Job) -> Picture:
    template = template_of(wanted, job.figures)
    return Picture(template.kind, template.name, f"Full-size {template.kind}", partial(template_page, wanted, job))


def square_supplement(layout: Layout) -> Supplement:
    """The diagonals by which cabinets and rectangles are squared; empty for a job without any.

    Raises:
        Faults: the font has no sign for a character of a rectangle's name.
    """
    bodies = bodies_of(layout)
    with placed_in("rectangles"):
        check_letters(*(target.name for target in targets_in(bodies)))
    return Supplement((partial(square_blocks, bodies, layout.job),)) if bodies else Supplement()


def glue_up_supplement(layout: Layout) -> Supplement:
    """The pages of the glue-up, by the shop's first glue; empty for a job without cabinets."""
    if not layout.cabinets:
        return Supplement()
    glue = glue_for(layout.job, None)
    return Supplement((lambda width: glue_up_blocks(layout, plan_glue_up(layout, glue), glue, width),))


def square_stick_supplement(layout: Layout) -> Supplement:
    """The square sticks of a job, in tiles and in one piece each, and how to fold them; empty for a job without any.

    Raises:
        StorystickError: a face does not fit on its side, or the paper is too small.
    """
    job = layout.job
    if not job.square_sticks:
        return Supplement()
    plan = plan_square_sticks(layout)
    pictures = tuple(
        Picture("square stick", square.name, "Full-size square stick", partial(square_stick_page, square, layout))
        for square in job.square_sticks
    )
    sheets = (SheetsFile(SQUARE_STICKS_FILE, len(plan.sheets), partial(square_stick_pages, plan)),)
    return Supplement((lambda width: square_stick_blocks(plan, width),), sheets, pictures)


def rod_supplement(layout: Layout, tiled: bool) -> Supplement:
    """Which pinch rod serves which diagonal, and with a shop the strips to glue on them; empty for a job without any.

    ``tiled`` says whether their sheets are printed, and so whether the job sheet says which tile is where.

    Raises:
        StorystickError: a name cannot be printed, or the paper is too small for a tile.
    """
    job, rectangles = layout.job, rectangles_of(layout)
    if not rectangles:
        return Supplement()
    rods = rods_for(rectangles, job.shop, job.units)
    strips = rod_strips(rods, job) if job.shop else ()
    plan = plan_strips(strips, job) if strips else None
    pictures = tuple(
        Picture("rod", rod.name, "Full-size strip of a pinch rod", partial(one_piece, strip))
        for rod, strip in zip(rods.rods, strips, strict=False)
    )
    sheets = (SheetsFile(RODS_FILE, len(plan.sheets), partial(strip_pages, plan, "rods")),) if plan else ()
    chapters = (partial(rod_blocks, rods, plan, tiled, job),)
    return Supplement(chapters, sheets, pictures, plan.remarks if plan else ())
