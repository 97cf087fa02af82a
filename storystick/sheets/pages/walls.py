"""The drawing sheet of a wall: its elevation at a standard scale over a title block, with what is to be known of it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import accumulate

from storystick.drawing.lettering import SIZE_MM
from storystick.drawing.shapes import moved
from storystick.drawing.wall_sheet import WallDrawing, WallSheet
from storystick.errors import placed_in
from storystick.job.job import Job
from storystick.layout.runs import RunLayout
from storystick.layout.stations import Layout
from storystick.sheets.document import Page
from storystick.sheets.pages.flow import Block, Room, paragraph, stacked
from storystick.sheets.pages.title_block import Field, title_block
from storystick.sheets.pages.wall_notes import wall_notes
from storystick.wording import capital

_GAP_MM = 4.0
_PAGE = Room(250.0, 180.0)
_AROUND_MM = 10.0


def wall_blocks(layout: Layout, room: Room) -> Iterator[Block]:
    """A page for each wall."""
    for number, run in enumerate(layout.runs, start=1):
        with placed_in(run.run.place):
            yield from _wall_sheet(run, layout, room, f"{number} of {len(layout.runs)}")


def wall_page(run: RunLayout, layout: Layout) -> Page:
    """A wall's drawing sheet on a page of its own; its upper left corner is at 0, 0."""
    sheet = stacked(list(_wall_sheet(run, layout, _PAGE, "1 of 1")))
    return Page(
        _PAGE.width_mm + 2 * _AROUND_MM,
        sheet.height_mm + 2 * _AROUND_MM,
        sheet.shapes,
        label=run.run.name,
        left_mm=-_AROUND_MM,
        bottom_mm=-sheet.height_mm - _AROUND_MM,
    )


def _wall_sheet(run: RunLayout, layout: Layout, room: Room, number: str) -> Iterator[Block]:
    """The elevation over its notes and its title block, in all as high as the room; notes that have none follow."""
    cabinets = {each.cabinet.name: each for each in layout.cabinets}
    sheet = WallSheet(run, layout.runs, cabinets, layout.job.figures)
    notes = [_note(*note, room.width_mm) for note in wall_notes(run, layout)]
    foot = _title(run, None, layout.job, room, number).height_mm + 2 * _GAP_MM
    drawing = sheet.drawing(room.width_mm, room.height_mm - foot)
    spare = room.height_mm - foot - drawing.height_mm
    fitting = sum(height <= spare for height in accumulate(note.height_mm for note in notes))
    yield _page(drawing, stacked(notes[:fitting]), _title(run, drawing, layout.job, room, number), room)
    yield from notes[fitting:]


def _note(words: str, sign: str, width: float) -> Block:
    return stacked(paragraph(words, width, indent_mm=4.0 if sign else 0.0, sign=sign))


def _page(drawing: WallDrawing, below: Block, title: Block, room: Room) -> Block:
    """The drawing in the middle of what its notes and title block leave, and those at the foot."""
    foot = stacked([below, Block(_GAP_MM, ()), title])
    spare = room.height_mm - foot.height_mm - drawing.height_mm
    shapes = (
        *moved(drawing.shapes, (room.width_mm - drawing.width_mm) / 2, -max(0.0, spare / 2)),
        *moved(foot.shapes, 0.0, foot.height_mm - room.height_mm),
    )
    return Block(room.height_mm, shapes, starts_page=True)


def _title(run: RunLayout, drawing: WallDrawing | None, job: Job, room: Room, number: str) -> Block:
    return title_block(
        (
            (
                Field("wall, seen from the room", capital(run.run.name), 10, SIZE_MM),
                Field("length", job.figures(run.length), 5, SIZE_MM),
                Field("scale", drawing.scale.words if drawing else "", 7, SIZE_MM),
            ),
            (
                Field("job", job.title, 10),
                Field("zero at", f"the {run.run.datum.value} end", 5),
                Field("units", job.units.plural, 3),
                Field("version", job.digest, 2),
                Field("drawing", number, 2),
            ),
        ),
        room.width_mm,
    )
