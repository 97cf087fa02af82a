"""The job sheet: what there is, how to check and glue it, and every mark."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Final

from storystick.drawing.lettering import shortened, text_width_mm
from storystick.drawing.shapes import Anchor, Area, Box, Line, Shape, Text, moved
from storystick.drawing.strip_bands import POINT_SIGNS
from storystick.job.job import Job
from storystick.layout.stations import Span, SpanKind, StickLayout, mark_rows
from storystick.lengths import Figures
from storystick.sheets.document import Page
from storystick.sheets.pages.flow import (
    TITLE_PT,
    Block,
    Chapter,
    Column,
    Room,
    heading,
    paragraph,
    table,
    tile_table,
)
from storystick.sheets.pages.words_file import words_pages
from storystick.sheets.print_choices import STRIPS_FILE
from storystick.sheets.strips import StripSheet, StripSheets
from storystick.sheets.tile_map import draw_sheet_map, sheet_map_height
from storystick.wording import counted

RUN_CAUTIONS: Final = (
    "Find cables and pipes before anything is fixed: look on both sides of the wall, use a detector over every place "
    "that takes a screw, and mark what is found. No mark on these strips says that a place is free of them.",
    "Electricity, gas, water and drains, and the clear space that appliances need, are as your local code asks, and "
    "are moved or joined by a licensed trade.",
    "Fix tall units and wall units to studs or to sound masonry with fixings made for that wall and load. A tall unit "
    "that only stands can tip over.",
    "Level every cabinet from the high point of the floor, and shim up from there: all heights are from that point. "
    "Find it with a level along the whole run, before the first cabinet is set.",
    "Measure the wall at the floor, at the counter and at the top of the wall units, and try the corners for square. "
    "The run is right for the length in the job file only: give it the least of them.",
)


def run_cautions(job: Job) -> tuple[str, ...]:
    """What to take care of in fixing the job's runs; nothing for a job without any."""
    return (*RUN_CAUTIONS, *_floor_words(job)) if job.runs else ()


def _floor_words(job: Job) -> Iterator[str]:
    for run in job.runs:
        if run.floor_fall:
            fall = job.figures(run.floor_fall)
            yield (
                f"The floor of {run.name} falls {fall} below its high point. Where it is lowest, bases and end panels "
                f"need {fall} more to be scribed or shimmed."
            )


_STEPS: Final = (
    "A wrapped strip is folded at its marking edge: lay a straightedge on the ticks beyond both ends, along the dashed "
    "line, and score it lightly with a bone folder or the back of a knife before the tile is cut out. Cut it along the "
    "outline below the fold, not at the fold.",
    "Ink outside, glue down the side with the words first, the scored line exactly on the edge of the stick, then fold "
    "the rest over. The edges of every band must go on over the fold without a step. On the face that is folded "
    "over, bands, grooves and fine lines run down to where the work lies.",
)
_WRAP_SIGNS: Final = (
    ("dashed level line and ticks, FOLD", "where a wrapped strip is folded; never a mark"),
    ("black block inside a band, below the fold", "its groove, at the edge that lies on the work"),
)


def wrap_steps(plan: StripSheets) -> tuple[str, ...]:
    """How wrapped strips are folded and glued; nothing where there are none."""
    return _STEPS if _any_wrapped(plan) else ()


def wrap_signs(plan: StripSheets) -> tuple[tuple[str, str], ...]:
    """The signs that only wrapped strips have, with their meanings."""
    return _WRAP_SIGNS if _any_wrapped(plan) else ()


def _any_wrapped(plan: StripSheets) -> bool:
    return any(cut_strip.drawing.wrap_mm for cut_strip in plan.things)


_MAP_MM: Final = 84.0

_PRINTING: Final = (
    "In the print dialog choose 100 % or “actual size”, never “fit to page” or “shrink”, and print on one side. "
    "The file asks for this, but a viewer may not listen.",
    "Lay a steel rule on the check bars of every sheet of strips or templates, the level one and the upright one. The "
    "outer ends of the bar must be as far apart as its label says. If they are not, do not use the sheet: print again "
    "without scaling. Pages of words, as this one, have none.",
    "The version’s six letters and figures, {digest}, begin the line at the foot of every sheet and stand on every "
    "tile. Never join tiles of two versions.",
)
_GLUING: Final = (
    "Cut along the thin outlines. Straight cuts across the sheet free the lanes, then cut each tile from its lane.",
    "Begin at the datum. Cut the next tile exactly at its first line, and lay it on the tab of the one before, so that "
    "the halves of the register marks meet. The station printed at both sides of the seam must be the same.",
    "Let the tape decide: hook it at the datum and lay each tile so that its seam’s station agrees with the tape. Then "
    "nothing adds up from seam to seam. Check the far end against the tape before any glue.",
    "Use spray adhesive, dry adhesive film or double-sided tape. Water-based glue makes paper grow, most of all across "
    "its grain, and the marks move with it.",
    "The edge of the ink is the mark: strike at the edge of the band, on the side of the band where the cross is. "
    "Fine lines are struck at their middle.",
    "A left and a right strip are struck on the inside faces of their two pieces, a strip of no hand on the face that "
    "it names. FRONT ▲ says that the strip’s upper edge lies toward the front, FRONT ▼ that its marking edge does, "
    "with the words upright.",
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
    ("grey band with a name in it", "a member of the face frame, where it covers the parts"),
    *((sign.look, sign.meaning) for sign in POINT_SIGNS.values()),
    ("black bar and arrow", "the datum: zero is the outer edge of the strip"),
    ("full / scant", "the exact figure is slightly more / slightly less than the label"),
)
_MARK_COLUMNS: Final = (
    Column("kind", 2),
    Column("name", 4),
    Column("from", right=True),
    Column("to", right=True),
    Column("size", right=True),
)


def job_sheet_pages(
    plan: StripSheets,
    files: Sequence[str],
    chapters: Sequence[Chapter] = (),
) -> tuple[Page, ...]:
    """The job sheet's pages, on the usual paper for letters, upright: for what is in ``files`` of this print.

    ``chapters`` stand between what is to be read first and the sticks.
    """

    def first(room: Room) -> Iterator[Block]:
        yield from _first_blocks(plan, files, room.width_mm)

    def last(room: Room) -> Iterator[Block]:
        yield from _strip_blocks(plan, STRIPS_FILE in files, room.width_mm)

    return words_pages(plan.job, "job sheet", (first, *chapters, last))


def _first_blocks(plan: StripSheets, files: Sequence[str], width: float) -> Iterator[Block]:
    """What to read first: what there is, and how to print, cut and glue it."""
    job = plan.job
    yield heading(job.title, width, TITLE_PT)
    yield from paragraph(_summary(plan, files), width)
    for title, lines in (
        ("Print and check", _PRINTING),
        ("Cut, join and glue", (*_GLUING, *wrap_steps(plan)) if plan.things else ()),
        ("Take care", (*_CAUTIONS, *run_cautions(job))),
    ):
        yield from [heading(title, width)] if lines else []
        for number, line in enumerate(lines, start=1):
            yield from paragraph(line.format(digest=job.digest), width, indent_mm=6.0, sign=f"{number}.")
    for warning in plan.warnings if STRIPS_FILE in files else ():
        yield from paragraph(warning, width, indent_mm=6.0, sign="!")
    if plan.things:
        yield heading("The signs on a strip", width)
        yield from table((Column("sign", 2), Column("meaning", 4)), (*_SIGNS, *wrap_signs(plan)), width)


def _strip_blocks(plan: StripSheets, tiled: bool, width: float) -> Iterator[Block]:
    """Every stick with its marks, and where its tiles are."""
    for stick in dict.fromkeys(cut_strip.strip.layout for cut_strip in plan.things):
        yield from _stick_blocks(stick, plan.job.figures, width)
    if tiled:
        yield from _tile_blocks(plan, width)


def _summary(plan: StripSheets, files: Sequence[str]) -> str:
    job = plan.job
    if not plan.things:
        return f"Version {job.digest}. No strips. All figures are in {job.units.plural}."
    tiles = sum(len(sheet.tiles) for sheet in plan.sheets)
    in_tiles = f"{counted(tiles, 'tile')} on {plan.paper_words} in {STRIPS_FILE}"
    in_one = f"one piece each in {', '.join(name for name in files if name != STRIPS_FILE)}"
    forms = [in_tiles] if STRIPS_FILE in files else []
    forms += [in_one] if set(files) != {STRIPS_FILE} else []
    return (
        f"Version {job.digest}. {counted(len(plan.things), 'strip')}: {', and '.join(forms)}. "
        f"All figures are in {job.units.plural}, from each stick’s datum."
    )


def _stick_blocks(stick: StickLayout, figures: Figures, width: float) -> Iterator[Block]:
    words = "a left and a right strip from the same figures, for the inside faces" if stick.stick.pair else "one strip"
    yield heading(f"{stick.name}: {words}", width)
    picture = tuple(draw_stick_overview(stick, figures, width - 3.0))
    yield Block(STICK_HEIGHT_MM + 2.0, picture, keeps_next=True)
    yield from table(_MARK_COLUMNS, mark_rows(stick, figures), width)


def _tile_blocks(plan: StripSheets, width: float) -> Iterator[Block]:
    yield heading("Which tile is where, in the order of gluing", width)
    yield from tile_table("strip", plan.tile_rows(), width)
    yield heading("Map of the sheets", width)
    across = max(1, int(width // _MAP_MM))
    for _, group in groupby(enumerate(plan.sheets), key=lambda pair: pair[0] // across):
        yield _map_row([sheet for _, sheet in group], len(plan.sheets))


def _map_row(sheets: Sequence[StripSheet], of: int) -> Block:
    picture_width = _MAP_MM - 5.0
    shapes = [
        shape
        for column, sheet in enumerate(sheets)
        for shape in moved(draw_sheet_map(sheet, of, picture_width), column * _MAP_MM, 0.0)
    ]
    return Block(max(sheet_map_height(sheet, picture_width) for sheet in sheets) + 4.0, tuple(shapes))


BAND_MM: Final = 10.0
STICK_HEIGHT_MM: Final = BAND_MM + 5.0
_TEXT_PT: Final = 8.0
_LINE_MM: Final = 0.15


def draw_stick_overview(layout: StickLayout, figures: Figures, width_mm: float) -> Iterator[Shape]:
    """A stick reduced to ``width_mm``, its datum at the left, from y = 0 down to ``-STICK_HEIGHT_MM``."""
    scale = width_mm / float(layout.length)
    top, bottom = 0.0, -BAND_MM
    for span in layout.spans:
        left, right = float(span.start) * scale, float(span.end) * scale
        if span.kind is SpanKind.PART:
            yield Box(left, bottom, right - left, BAND_MM, 0.55)
        else:
            yield from _opening(span, figures, left, right)
    for point in layout.points:
        yield Line(float(point.at) * scale, bottom, float(point.at) * scale, bottom + 1.4, _LINE_MM)
    for y in (top, bottom):
        yield Line(0.0, y, width_mm, y, _LINE_MM)
    for x in (0.0, width_mm):
        yield Line(x, top, x, bottom, _LINE_MM)
    yield Area(((0.0, bottom - 0.4), (2.2, bottom - 2.0), (2.2, bottom - 3.6), (0.0, bottom - 3.6)))
    yield Text(3.0, bottom - 3.4, f"0 datum, {layout.stick.datum.value}", _TEXT_PT)
    overall = f"{figures(layout.length)} over all, {layout.stick.datum.far_end.value}"
    yield Text(width_mm, bottom - 3.4, overall, _TEXT_PT, Anchor.END)


def _opening(span: Span, figures: Figures, left: float, right: float) -> Iterator[Shape]:
    """Its name and size, as far as they fit between its parts."""
    room, middle = right - left - 1.0, (left + right) / 2
    size = figures(span.size)
    yield Line(left, 0.0, left, -BAND_MM, _LINE_MM)
    if text_width_mm(size, _TEXT_PT, bold=True) <= room:
        yield Text(middle, -BAND_MM / 2 - 3.0, size, _TEXT_PT, Anchor.MIDDLE, bold=True)
        yield Text(middle, -BAND_MM / 2 + 1.2, shortened(span.name, _TEXT_PT, room), _TEXT_PT, Anchor.MIDDLE)
