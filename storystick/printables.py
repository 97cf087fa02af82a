"""What there is to print, a row a kind: each is planned from the layout and from what was asked of the print.

A page of words is a chapter of the job sheet: ``(room) -> blocks``, made by binding all but the room. A new
kind of sheet or page is a function here with its row in ``KINDS``, and a module in ``sheets``.
:mod:`storystick.printing` loads this only where there is more to print than strips.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from typing import Final, TypeAlias

from storystick.cutting.parts import cutting_list
from storystick.drawing.lettering import check_letters
from storystick.errors import placed_in
from storystick.gluing.plan import glue_for, plan_glue_up
from storystick.layout.boards import board_called
from storystick.layout.stations import Layout
from storystick.sheets.bars import Wanted, plan_templates, template_of, template_page
from storystick.sheets.boards import board_page, plan_boards
from storystick.sheets.pages.boards import board_blocks
from storystick.sheets.pages.cabinets import cabinet_blocks, cutting_blocks, views_page
from storystick.sheets.pages.flow import Block, Room
from storystick.sheets.pages.glue_up import glue_up_blocks
from storystick.sheets.pages.setups import setup_blocks
from storystick.sheets.pages.square import rod_blocks, square_blocks
from storystick.sheets.pages.square_sticks import square_stick_blocks
from storystick.sheets.planned import Picture, Printable
from storystick.sheets.print_choices import BARS_FILE, RODS_FILE, SQUARE_STICKS_FILE, TEMPLATES_FILE, Choices
from storystick.sheets.rods import rod_strips
from storystick.sheets.square_sticks import plan_square_sticks, square_stick_page
from storystick.sheets.strips import RODS, one_piece, plan_strips
from storystick.squaring.rectangles import bodies_of, rectangles_of, targets_in
from storystick.squaring.rods import rods_for
from storystick.tooling.bars import bars_wanted, shims_of
from storystick.tooling.settings import settings_of

Kind: TypeAlias = Callable[[Layout, Choices], Printable]
"""Plans what there is to print of one kind; empty for a job with nothing of it.

Raises a StorystickError where it does not fit on the paper, or the font lacks a sign of a name."""


def cabinets(layout: Layout, _choices: Choices) -> Printable:
    """The views of a job's cabinets, and their cutting list."""
    if not layout.cabinets:
        return Printable()
    job = layout.job

    def views(room: Room) -> Iterator[Block]:
        for cabinet in layout.cabinets:
            yield from cabinet_blocks(cabinet, job.figures, room.width_mm)

    def parts(room: Room) -> Iterator[Block]:
        yield from cutting_blocks(cutting_list(layout.cabinets, job.figures), job.figures, room.width_mm)

    pictures = tuple(
        Picture("cabinet", cabinet.cabinet.name, "Reduced views", partial(views_page, cabinet, job.figures))
        for cabinet in layout.cabinets
    )
    return Printable((views, parts), pictures=pictures)


def tools(layout: Layout, _choices: Choices) -> Printable:
    """The set-up pages of a job's tools, and templates of the bars and shims that its grooves want."""
    job = layout.job
    if job.shop is None:
        return Printable()
    settings = settings_of(layout)
    bars, shims = bars_wanted(job.shop, settings.grooves), shims_of(settings.grooves)
    plan = plan_templates(bars, shims, job)
    wanted: tuple[Wanted, ...] = (*bars, *shims)
    templates = ((own, template_of(own, job.figures)) for own in wanted)
    pictures = (
        Picture(own.kind, own.name, f"Full-size {own.kind}", partial(template_page, bar_or_shim, job.figures))
        for bar_or_shim, own in templates
    )
    return Printable(
        (partial(setup_blocks, settings, job),),
        BARS_FILE,
        len(plan.sheets),
        plan.pages,
        tuple(pictures),
    )


def glue_up(layout: Layout, _choices: Choices) -> Printable:
    """The pages of the glue-up, by the shop's first glue."""
    if not layout.cabinets:
        return Printable()
    glue = glue_for(layout.job, None)
    # Planned only when it is drawn: it takes longer than all other plans, and always fits.
    return Printable((lambda room: glue_up_blocks(layout, plan_glue_up(layout, glue), glue, room),))


def square_sticks(layout: Layout, _choices: Choices) -> Printable:
    """The square sticks of a job, in tiles and in one piece each, and how to fold them."""
    if not layout.job.square_sticks:
        return Printable()
    plan = plan_square_sticks(layout)
    pictures = tuple(
        Picture("square stick", square.name, "Full-size square stick", partial(square_stick_page, square, layout))
        for square in layout.job.square_sticks
    )
    return Printable(
        (partial(square_stick_blocks, plan),),
        SQUARE_STICKS_FILE,
        len(plan.sheets),
        plan.pages,
        pictures,
    )


def square(layout: Layout, _choices: Choices) -> Printable:
    """The diagonals by which cabinets and rectangles are squared."""
    bodies = bodies_of(layout)
    with placed_in("rectangles"):
        check_letters(*(target.name for target in targets_in(bodies)))
    return Printable((partial(square_blocks, bodies, layout.job),)) if bodies else Printable()


def rods(layout: Layout, choices: Choices) -> Printable:
    """Which pinch rod serves which diagonal, and with a shop the strips to glue on them."""
    job, rectangles = layout.job, rectangles_of(layout)
    if not rectangles:
        return Printable()
    planned = rods_for(rectangles, job.shop, job.units)
    strips = rod_strips(planned, job) if job.shop else ()
    plan = plan_strips(strips, job, RODS) if strips else None
    chapters = (partial(rod_blocks, planned, plan, choices.formats.tiled, job),)
    if plan is None:
        return Printable(chapters)
    pictures = tuple(
        Picture("rod", rod.name, "Full-size strip of a pinch rod", partial(one_piece, strip))
        for rod, strip in zip(planned.rods, strips, strict=True)
    )
    return Printable(chapters, RODS_FILE, len(plan.sheets), plan.pages, pictures, plan.remarks)


def boards(layout: Layout, choices: Choices) -> Printable:
    """Board templates: those of cabinets that are asked for, and the job's own unless only some sticks are printed.

    Raises also where a name is asked for that no board has.
    """
    with placed_in("--board"):
        named = [board_called(name, layout.cabinets) for name in choices.boards]
    wanted = tuple(dict.fromkeys((*(() if choices.only else layout.boards), *named)))
    if not wanted:
        return Printable()
    plan = plan_boards(wanted, layout.job)
    pictures = tuple(
        Picture("template", board.name, "Full-size board template", partial(board_page, board, layout.job))
        for board in wanted
    )
    return Printable(
        (partial(board_blocks, plan, choices.formats.tiled),),
        TEMPLATES_FILE,
        len(plan.sheets),
        plan.pages,
        pictures,
        plan.remarks,
    )


KINDS: Final[tuple[Kind, ...]] = (cabinets, tools, glue_up, square_sticks, square, rods, boards)
"""In the order of their chapters and files."""


def printables(layout: Layout, choices: Choices) -> tuple[Printable, ...]:
    """All that there is to print beside the strips; with sticks that were asked for by name, only boards are."""
    return tuple(kind(layout, choices) for kind in ((boards,) if choices.only else KINDS))
