"""The set-up page of cuts that stop, and of what is sawn away by hand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from storystick.drawing.guided_cut import draw_guided_cut
from storystick.job.model import Job
from storystick.sheets.flow import Block, heading, paragraph
from storystick.sheets.setup_blocks import cautions_block, operation_block
from storystick.tooling.guided import BY_HAND, BY_HAND_TITLE, GUIDED, GUIDED_CAUTIONS, GUIDED_TITLE, GuidedCut
from storystick.wording import small


def guided_blocks(cuts: Sequence[GuidedCut], by_hand: Sequence[str], job: Job, width: float) -> Iterator[Block]:
    """A page for the router's edge guide, and below it or on its own what is done by hand; nothing for neither."""
    if cuts:
        yield replace(heading(f"Set-up: {small(GUIDED_TITLE)}", width), starts_page=True)
        yield from cautions_block(GUIDED_CAUTIONS, width)
        yield from paragraph(GUIDED, width)
    for number, cut in enumerate(cuts, start=1):
        figures = cut.figures(job.figures)
        yield operation_block(f"{number}. {cut.title}", figures, (), draw_guided_cut(cut, job.figures), width)
    if by_hand:
        yield heading(BY_HAND_TITLE, width)
        yield from paragraph(BY_HAND, width)
        for words in by_hand:
            yield from paragraph(words, width, indent_mm=6.0, sign="•")
