"""The chapter of the job sheet on square sticks: how they are measured, folded and glued, and where their tiles are."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from storystick.job.sticks import SquareStick
from storystick.lengths import Figures
from storystick.sheets.pages.flow import Block, Room, heading, paragraph, side_by_side
from storystick.sheets.print_choices import SQUARE_STICKS_FILE
from storystick.sheets.square_sticks import SquareSheets
from storystick.wording import counted

_STEPS: Final = (
    "Measure round the stick with a strip of the paper that the sheets are printed on: wrap it tightly, prick through "
    "where it meets itself, and lay it flat to measure. That is the girth to give; what the paper takes at the corners "
    "is then in it. The stick must be square, and its edges sharp.",
    "Score every fold, the dashed level lines, lightly before cutting out: with a bone folder or the back of a knife, "
    "against a straightedge on the ticks beyond both ends. Fold with the ink outside. Cut and join the tiles as those "
    "of a strip: each seam runs through all faces.",
    "Glue the lap first, its fold on an edge of the stick, then face after face round the stick. With four faces, the "
    "first comes down over the lap, its lower edge on the lap’s fold. With fewer, the lap ends on the next side.",
    "The lower edge of every face, with the words upright, lies on an edge of the stick: there the marks touch the "
    "work. All faces have the datum at the same end.",
)


def square_stick_blocks(plan: SquareSheets, room: Room) -> Iterator[Block]:
    """What there is to know of all square sticks of a job, in a width of mm."""
    width = room.width_mm
    job = plan.job
    yield heading("Square sticks", width)
    for stick in plan.things:
        yield from paragraph(_describe(stick.square, job.figures), width)
    yield from side_by_side(_STEPS, width, numbered=True)
    for warning in plan.warnings:
        yield from paragraph(warning, width, indent_mm=6.0, sign="!")
    yield from paragraph(f"They are on {plan.paper_words} in {SQUARE_STICKS_FILE}.", width)


def _describe(square: SquareStick, figures: Figures) -> str:
    faces = ", then ".join(square.faces)
    sides = f"each {figures(square.side)} wide, {figures(square.girth)} round the stick"
    return f"{square.name}: {counted(len(square.faces), 'face')} from the lowest up, {faces}; {sides}."
