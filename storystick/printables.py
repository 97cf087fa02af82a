"""What there is to print, a row a kind: when it is printed without being asked for, and how it is planned.

A new kind is a name in :mod:`storystick.job.job`, a function here with its row in ``KINDS``, and a module in
``sheets``. A page of words is a chapter, ``(room) -> blocks``, and says which file it stands in. What only some kinds
need is loaded by their own functions: a print of plain sticks need not wait for it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING, Final

from storystick.drawing.lettering import check_letters
from storystick.drawing.strip import Strip, strips_of
from storystick.errors import Fault, FaultCollector, Where, placed_in
from storystick.job.job import PrintName
from storystick.layout.stations import Layout
from storystick.sheets.planned import Picture, Printable
from storystick.sheets.print_choices import (
    BARS_FILE,
    FIGURES_FILE,
    GLUE_UP_FILE,
    RODS_FILE,
    SQUARE_FILE,
    SQUARE_STICKS_FILE,
    STRIPS_FILE,
    TEMPLATES_FILE,
    Choices,
)
from storystick.sheets.strips import RODS, STRIPS, StripSheets, one_piece, plan_strips
from storystick.sheets.tile_plan import TilePlan

if TYPE_CHECKING:
    from storystick.sheets.pages.flow import Block, Room


@dataclass(frozen=True, slots=True)
class PrintKind:
    """Something to print: whether it is ``usual`` for a job, and its plan, empty for a job with nothing of it.

    ``plan`` raises a StorystickError where it does not fit on the paper, or the font lacks a sign of a name. It is
    given the plan of the strips, which several kinds speak of.
    """

    usual: Callable[[Layout], object]
    plan: Callable[[Layout, Choices, StripSheets], Printable]


def choose_strips(layout: Layout, only: Sequence[str] = ()) -> tuple[Strip, ...]:
    """The strips of a layout, or those that serve a stick named in ``only``.

    Raises:
        Fault: a name that no stick with a strip has.
    """
    strips = strips_of(layout)
    names = list(dict.fromkeys(name for strip in strips for name in strip.serves))
    for name in only:
        if name not in names:
            raise Fault(f'there is no stick "{name}"', f"the sticks are {', '.join(names)}", where=Where("--only"))
    return tuple(strip for strip in strips if not only or not set(only).isdisjoint(strip.serves))


def plan_print(layout: Layout, only: Sequence[str] = ()) -> StripSheets:
    """Which tile of which strip goes on which sheet.

    Raises:
        StorystickError: the paper is too small, a name cannot be printed, or ``only`` names no stick.
    """
    with placed_in(Where.in_file(layout.job.file_name)):
        strips = choose_strips(layout, only)
        return plan_strips(strips, layout.job) if strips else TilePlan(layout.job, STRIPS, (), ())


def _strips(_layout: Layout, _choices: Choices, strips: StripSheets) -> Printable:
    """The strips of a job."""
    pictures = (
        Picture("strip", cut.strip.name, "Full-size strip", partial(one_piece, cut.strip)) for cut in strips.things
    )
    return Printable((), STRIPS_FILE, strips, tuple(pictures), "Full-size strips")


def _drawings(layout: Layout, _choices: Choices, _strips: StripSheets) -> Printable:
    """The elevations of a job's walls and the views of its cabinets."""
    if not layout.cabinets and not layout.runs:
        return Printable()
    from storystick.sheets.pages.cabinets import drawing_blocks, views_page
    from storystick.sheets.pages.walls import wall_blocks, wall_page

    job = layout.job

    def views(room: Room) -> Iterator[Block]:
        yield from wall_blocks(layout, room)
        yield from drawing_blocks(layout.cabinets, job, room, layout.runs)

    pictures = tuple(
        Picture("cabinet", cabinet.cabinet.name, "Reduced views", partial(views_page, cabinet, job, layout.runs))
        for cabinet in layout.cabinets
    )
    walls = tuple(Picture("wall", run.run.name, "Elevation", partial(wall_page, run, layout)) for run in layout.runs)
    return Printable((views,), pictures=(*walls, *pictures))


def _parts(layout: Layout, _choices: Choices, _strips: StripSheets) -> Printable:
    """The cutting list."""
    if not layout.cabinets:
        return Printable()
    from storystick.cutting.fastened import hardware_of
    from storystick.cutting.run_parts import all_parts
    from storystick.sheets.pages.cutting import cutting_blocks

    figures = layout.job.figures

    def parts(room: Room) -> Iterator[Block]:
        hardware = hardware_of(layout.cabinets, figures)
        yield from cutting_blocks(
            all_parts(layout, figures),
            figures,
            room.width_mm,
            hardware,
        )

    return Printable((parts,))


def _set_ups(layout: Layout, _choices: Choices, _strips: StripSheets) -> Printable:
    """The set-up pages of a job's tools."""
    if layout.job.shop is None:
        return Printable()
    from storystick.sheets.pages.setups import setup_blocks
    from storystick.tooling.settings import settings_of

    # Worked out only when it is drawn, as the glue-up is.
    return Printable((lambda room: setup_blocks(settings_of(layout), layout.job, room),))


def _bars(layout: Layout, _choices: Choices, _strips: StripSheets) -> Printable:
    """Templates of the bars and shims that a job's grooves want."""
    job = layout.job
    if job.shop is None:
        return Printable()
    from storystick.sheets.bars import Wanted, plan_templates, template_of, template_page
    from storystick.tooling.bars import bars_wanted, shims_of
    from storystick.tooling.settings import settings_of

    grooves = settings_of(layout).grooves
    bars, shims = bars_wanted(job.shop, grooves), shims_of(grooves)
    plan = plan_templates(bars, shims, job)
    wanted: tuple[Wanted, ...] = (*bars, *shims)
    templates = ((own, template_of(own, job.figures)) for own in wanted)
    pictures = (
        Picture(own.kind, own.name, f"Full-size {own.kind}", partial(template_page, bar_or_shim, job.figures))
        for bar_or_shim, own in templates
    )
    return Printable((), BARS_FILE, plan, tuple(pictures))


def _glue_up(layout: Layout, _choices: Choices, _strips: StripSheets) -> Printable:
    """The pages of the glue-up, by the shop's first glue."""
    if not layout.cabinets:
        return Printable()
    from storystick.gluing.plan import glue_for, plan_glue_up
    from storystick.sheets.pages.glue_up import glue_up_blocks

    glue = glue_for(layout.job, None)
    # Planned only when it is drawn: it takes longer than all other plans, and always fits.
    return Printable(
        (lambda room: glue_up_blocks(layout, plan_glue_up(layout, glue), glue, room),), words_file=GLUE_UP_FILE
    )


def _square_sticks(layout: Layout, _choices: Choices, _strips: StripSheets) -> Printable:
    """The square sticks of a job, in tiles and in one piece each, and how to fold them."""
    if not layout.job.square_sticks:
        return Printable()
    from storystick.sheets.pages.square_sticks import square_stick_blocks
    from storystick.sheets.square_sticks import plan_square_sticks, square_stick_page

    plan = plan_square_sticks(layout)
    pictures = tuple(
        Picture("square stick", square.name, "Full-size square stick", partial(square_stick_page, square, layout))
        for square in layout.job.square_sticks
    )
    return Printable((partial(square_stick_blocks, plan),), SQUARE_STICKS_FILE, plan, pictures)


def _square(layout: Layout, _choices: Choices, _strips: StripSheets) -> Printable:
    """The diagonals by which cabinets and rectangles are squared."""
    if not layout.cabinets and not layout.job.rectangles:
        return Printable()
    from storystick.sheets.pages.square import square_blocks
    from storystick.squaring.rectangles import bodies_of, targets_in

    bodies = bodies_of(layout)
    with placed_in(Where("rectangles", ("rectangle",))):
        check_letters(*(target.name for target in targets_in(bodies)))
    if not bodies:
        return Printable()
    return Printable((partial(square_blocks, bodies, layout.job),), words_file=SQUARE_FILE)


def _rods(layout: Layout, choices: Choices, _strips: StripSheets) -> Printable:
    """Which pinch rod serves which diagonal, and with a shop the strips to glue on them."""
    if not layout.cabinets and not layout.job.rectangles:
        return Printable()
    from storystick.sheets.pages.rods import rod_blocks
    from storystick.sheets.rods import rod_strips
    from storystick.squaring.rectangles import rectangles_of
    from storystick.squaring.rods import rods_for

    job, rectangles = layout.job, rectangles_of(layout)
    if not rectangles:
        return Printable()
    planned = rods_for(rectangles, job.shop, job.units)
    strips = rod_strips(planned, job) if job.shop else ()
    plan = plan_strips(strips, job, RODS) if strips else None
    chapters = (partial(rod_blocks, planned, plan, choices.formats.tiled, job),)
    if plan is None:
        return Printable(chapters, words_file=SQUARE_FILE)
    pictures = tuple(
        Picture("rod", rod.name, "Full-size strip of a pinch rod", partial(one_piece, strip))
        for rod, strip in zip(planned.rods, strips, strict=True)
    )
    return Printable(chapters, RODS_FILE, plan, pictures, words_file=SQUARE_FILE)


def _templates(layout: Layout, choices: Choices, _strips: StripSheets) -> Printable:
    """Board templates: those of cabinets that are asked for, and the job's own unless only some sticks are printed.

    Raises also where a name is asked for that no board has.
    """
    from storystick.layout.boards import board_called
    from storystick.sheets.boards import board_page, plan_boards
    from storystick.sheets.pages.boards import board_blocks

    with placed_in(Where("--board")):
        named = [board_called(name, layout.cabinets) for name in choices.boards]
    wanted = tuple(dict.fromkeys((*(() if choices.only else layout.boards), *named)))
    if not wanted:
        return Printable()
    plan = plan_boards(wanted, layout.job)
    pictures = tuple(
        Picture("template", board.name, "Full-size board template", partial(board_page, board, layout.job))
        for board in wanted
    )
    return Printable((partial(board_blocks, plan, choices.formats.tiled),), TEMPLATES_FILE, plan, pictures)


def _figures(_layout: Layout, choices: Choices, strips: StripSheets) -> Printable:
    """Every mark, the map of the tiles, and how far to trust them."""
    from storystick.sheets.pages.figures import figure_blocks

    chapter = partial(figure_blocks, strips, bool(strips.sheets) and choices.formats.tiled)
    return Printable((chapter,) if strips.things else (), words_file=FIGURES_FILE)


def _never(_layout: Layout) -> bool:
    return False


def _has_cabinets(layout: Layout) -> object:
    return layout.cabinets


def _has_rods(layout: Layout) -> object:
    return layout.job.shop and layout.job.shop.rods


KINDS: Final[Mapping[PrintName, PrintKind]] = {
    PrintName.STRIPS: PrintKind(lambda _: True, _strips),
    PrintName.DRAWINGS: PrintKind(lambda layout: layout.cabinets or layout.runs, _drawings),
    PrintName.PARTS: PrintKind(_has_cabinets, _parts),
    PrintName.SET_UPS: PrintKind(lambda layout: layout.job.shop, _set_ups),
    PrintName.BARS: PrintKind(_never, _bars),
    PrintName.TEMPLATES: PrintKind(lambda layout: layout.boards, _templates),
    PrintName.SQUARE_STICKS: PrintKind(lambda layout: layout.job.square_sticks, _square_sticks),
    PrintName.GLUE_UP: PrintKind(lambda layout: layout.job.shop and layout.job.shop.glues, _glue_up),
    PrintName.SQUARE: PrintKind(lambda layout: layout.job.rectangles or _has_rods(layout), _square),
    PrintName.RODS: PrintKind(_has_rods, _rods),
    PrintName.FIGURES: PrintKind(_never, _figures),
}
"""In the order of their chapters and files."""


def usual_names(layout: Layout) -> tuple[PrintName, ...]:
    """What a job prints that does not say it, and what it prints that does."""
    if layout.job.printed is not None:
        return layout.job.printed
    return tuple(name for name, kind in KINDS.items() if kind.usual(layout))


def names_printed(layout: Layout, choices: Choices) -> tuple[PrintName, ...]:
    """What is printed, in the order of ``KINDS``: what is asked for, or where nothing is what is usual.

    Of a job of which only some sticks are wanted that is no more than their strips; a board that is named is printed
    in any case.
    """
    usual = (PrintName.STRIPS,) if choices.only else usual_names(layout)
    asked = usual if choices.names is None else choices.names
    return tuple(name for name in KINDS if name in asked or (name is PrintName.TEMPLATES and choices.boards))


def with_names(layout: Layout, choices: Choices, added: Sequence[PrintName], left_out: Sequence[PrintName]) -> Choices:
    """The choices with kinds ``added`` to what is printed, and others ``left_out``; the same where there are neither.

    Raises:
        Faults: what was added is none of this job, or is left out too.
    """
    if not added and not left_out:
        return choices
    _check_names(layout, choices, added, left_out)
    names = {*names_printed(layout, choices), *added} - set(left_out)
    return replace(choices, names=tuple(name for name in KINDS if name in names))


def has_any(layout: Layout, choices: Choices, name: PrintName, strips: StripSheets | None = None) -> bool:
    """Whether a job has anything to print of a kind; its ``strips`` are planned for it where they are not given.

    Raises:
        StorystickError: as its plan.
    """
    strips = strips or plan_print(layout)
    with placed_in(Where.in_file(layout.job.file_name)):
        return not KINDS[name].plan(layout, choices, strips).is_empty


def _check_names(layout: Layout, choices: Choices, added: Sequence[PrintName], left_out: Sequence[PrintName]) -> None:
    collector = FaultCollector()
    strips = plan_print(layout) if added else None
    for name in added:
        # What does not fit is no fault of the option.
        has_some = name in left_out or name is PrintName.STRIPS or has_any(layout, choices, name, strips)
        with collector.at(Where("--with")):
            if name in left_out:
                raise Fault(f"{name.value} is asked for and left out", "leave one of the two out")
            if not has_some:
                raise Fault(f"this job has nothing to print as {name.value}", _MISSING.get(name, "leave it out"))
    collector.raise_any()


_CABINET: Final = "it follows from a [[cabinet]]"
_SHOP: Final = "it follows from a shop file"
_MISSING: Final = {
    PrintName.DRAWINGS: _CABINET,
    PrintName.PARTS: _CABINET,
    PrintName.GLUE_UP: _CABINET,
    PrintName.SET_UPS: _SHOP,
    PrintName.BARS: f"{_SHOP}, and from joints that are cut with its router",
    PrintName.TEMPLATES: "name a board with --board, or in a [[template]]",
    PrintName.SQUARE_STICKS: "it follows from a [[square_stick]]",
    PrintName.SQUARE: "it follows from a [[cabinet]] or a [[rectangle]]",
    PrintName.RODS: "it follows from a [[cabinet]] or a [[rectangle]]",
}


def printables(layout: Layout, choices: Choices, strips: StripSheets) -> tuple[Printable, ...]:
    """All that is to be printed, planned."""
    return tuple(KINDS[name].plan(layout, choices, strips) for name in names_printed(layout, choices))
