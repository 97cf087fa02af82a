"""The job sheet: page 1, a drawing to hang up, what is to be minded along a wall, and what is printed with it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from storystick.layout.stations import Layout
from storystick.sheets.document import Page
from storystick.sheets.pages.first_page import first_page
from storystick.sheets.pages.flow import Block, Chapter, Room, words_pages
from storystick.sheets.pages.runs import run_blocks
from storystick.sheets.strips import StripSheets


def job_sheet_pages(
    layout: Layout,
    plan: StripSheets,
    files: Sequence[str],
    chapters: Sequence[Chapter] = (),
) -> tuple[Page, ...]:
    """The job sheet's pages, for what is in ``files`` of this print.

    After page 1 comes what has no room on it, then what is to be minded along a wall, then the ``chapters``.
    """

    def first(room: Room) -> Iterator[Block]:
        yield from first_page(layout, plan, files, room)

    def along(room: Room) -> Iterator[Block]:
        yield from run_blocks(layout, room.width_mm)

    return words_pages(plan.job, "job sheet", (first, along, *chapters))
