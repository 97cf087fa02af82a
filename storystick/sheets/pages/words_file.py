"""A file of words: chapters one after another, on the usual paper for letters, upright."""

from __future__ import annotations

from collections.abc import Sequence

from storystick.drawing.shapes import moved
from storystick.job.job import Job
from storystick.job.papers import DEFAULT_MARGIN, DEFAULT_PAPER, Margins
from storystick.sheets.bare_sheet import BareSheet
from storystick.sheets.document import Page
from storystick.sheets.pages.flow import Chapter, Room, paginate
from storystick.wording import capital


def words_pages(job: Job, what: str, chapters: Sequence[Chapter]) -> tuple[Page, ...]:
    """The pages of ``chapters``, which say at their foot ``what`` they are; none where there is nothing on them."""
    paper, margin = DEFAULT_PAPER[job.units], DEFAULT_MARGIN[job.units]
    bare = BareSheet(paper.short_side, paper.long_side, Margins(margin, margin, margin, margin))
    room = Room(bare.free_width, bare.free_height)
    bodies = paginate([block for chapter in chapters for block in chapter(room)], room.height_mm)
    return tuple(
        bare.page(
            (
                *moved(body, bare.left, bare.free_bottom + bare.free_height),
                *bare.words_line(job, f"{what}, page {number} of {len(bodies)}"),
            ),
            label=f"{what} {number}",
            bookmarks=(capital(what),) if number == 1 else (),
        )
        for number, body in enumerate(bodies, start=1)
    )
