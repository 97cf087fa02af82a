"""The set-up pages: a page a machine, its operations in working order, handwork among them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from storystick.drawing.cut_pictures import (
    PICTURE_HEIGHT_MM,
    PICTURE_WIDTH_MM,
    draw_cut,
    draw_guided_cut,
    draw_router_cut,
)
from storystick.drawing.lettering import POINT_MM, shortened, text_width_mm, wrapped
from storystick.drawing.shapes import Anchor, Line, Shape, Text, moved
from storystick.job.job import Job
from storystick.job.shop import Shop
from storystick.lengths import Figures
from storystick.sheets.pages.flow import TEXT_PT, Block, Room, heading, paragraph
from storystick.tooling.cautions import ROUTER_CAUTIONS, SAW_CAUTIONS
from storystick.tooling.guided import BY_HAND, BY_HAND_TITLE, GUIDED, GUIDED_CAUTIONS, GUIDED_TITLE, GuidedCut
from storystick.tooling.settings import (
    Settings,
    groove_warnings,
    router_figures,
    router_operations,
    saw_choices,
    saw_figures,
    saw_words,
    straightedge_row,
)
from storystick.tooling.setups import Bar, GrooveSetup, SawCut
from storystick.wording import capital, small

FIGURE_PT: Final = 13.0
NAME_PT: Final = 11.0
_LEADING: Final = 1.35
_GAP_MM: Final = 4.0
_TOP_MM: Final = 1.5
_LEFT: Final = PICTURE_WIDTH_MM + _GAP_MM
_ROW_MM: Final = 6.4
_BOLD: Final = 0.85
"""Bold words take more room than they are measured by when they are broken into lines."""

_RULE_MM: Final = 0.15


def setup_blocks(settings: Settings, job: Job, room: Room) -> Iterator[Block]:
    """All pages of a job's set-ups, and below them what its tools lack."""
    width = room.width_mm
    yield from machine_blocks(settings.grooves_by_bar, settings.saw, settings.bars, job, width)
    yield from guided_blocks(settings.guided, settings.by_hand, job.figures, width)
    for finding in (*settings.findings, *settings.saw_findings):
        yield from paragraph(finding, width, indent_mm=6.0, sign="!")


def machine_blocks(
    setups: Sequence[GrooveSetup], cuts: Sequence[SawCut], bars: Sequence[Bar], job: Job, width: float
) -> Iterator[Block]:
    """A page for the router and a page for the saw, as far as there is work for them.

    ``setups`` and ``cuts`` are in working order; ``bars`` are listed above the router's work.
    """
    if setups:
        yield from _router_blocks(setups, bars, job.figures, width)
    if cuts:
        yield from _saw_blocks(cuts, job.shop, job.figures, width)


def _router_blocks(
    setups: Sequence[GrooveSetup], bars: Sequence[Bar], figures: Figures, width: float
) -> Iterator[Block]:
    yield replace(heading("Set-up: router against a straightedge", width), starts_page=True)
    used = {setup.bar for setup in setups}
    for bar in bars:
        if bar in used:
            yield _figure_row(f"Bar {bar.name}", _bar_figure(bar, figures), width)
    yield from cautions_block(ROUTER_CAUTIONS, width)
    for number, group in enumerate(router_operations(setup for setup in setups if setup.bar), start=1):
        yield from _router_operation(number, group, figures, width)
    for warning in groove_warnings(setups):
        yield from paragraph(warning, width, indent_mm=6.0, sign="!")


def _bar_figure(bar: Bar, figures: Figures) -> str:
    words = "as proved" if bar.measured is not None else "as computed"
    return f"{figures(bar.used)} {words}, to the far edge {figures(bar.used + bar.diameter)}"


def _router_operation(number: int, group: Sequence[GrooveSetup], figures: Figures, width: float) -> Iterator[Block]:
    """What is the same for some grooves beside its picture, and below it the straightedge's place for each."""
    setup = group[0]
    bar = setup.bar.name if setup.bar else ""
    bold = list(router_figures(setup, figures))
    words = ["Straightedge from the datum of each stick:"]
    operation = operation_block(f"{number}. Bar {bar}", bold, words, draw_router_cut(setup, figures), width)
    yield replace(operation, keeps_next=True)
    for groove in group:
        yield _figure_row(*straightedge_row(groove, figures), width, _LEFT)
    yield Block(_GAP_MM, ())


def _saw_blocks(cuts: Sequence[SawCut], shop: Shop | None, figures: Figures, width: float) -> Iterator[Block]:
    yield replace(heading("Set-up: table saw", width), starts_page=True)
    for name, kerf in dict.fromkeys((cut.saw, cut.kerf) for cut in cuts):
        yield _figure_row(f"Saw {name}", f"kerf {figures(kerf)}", width)
    yield Block(1.0, ())
    for choice in saw_choices(cuts, shop):
        yield from paragraph(choice, width)
    yield from cautions_block(SAW_CAUTIONS, width)
    for number, (cut, words) in enumerate(zip(cuts, saw_words(cuts), strict=True), start=1):
        yield _saw_operation(number, cut, words, figures, width)


def _saw_operation(number: int, cut: SawCut, words: Sequence[str], figures: Figures, width: float) -> Block:
    title = f"{number}. {capital(cut.cut)}"
    large = list(saw_figures(cut, figures))
    operation = operation_block(title, large, [f"{cut.part}.", *words], draw_cut(cut, figures), width)
    height = operation.height_mm + 1.0
    return Block(height, (*operation.shapes, Line(0.0, -height, width, -height, _RULE_MM)))


def operation_block(
    title: str, figures: Sequence[str], words: Sequence[str], picture: Sequence[Shape], width: float
) -> Block:
    """A picture with its title, its figures and its words to the right of it."""
    room = width - _LEFT
    lines = [(title, NAME_PT, True)]
    lines += [(line, FIGURE_PT, True) for figure in figures for line in wrapped(figure, FIGURE_PT, room * _BOLD)]
    lines += [(line, TEXT_PT, False) for text in words for line in wrapped(text, TEXT_PT, room)]
    texts, used = [], _TOP_MM
    for text, size_pt, bold in lines:
        pitch = size_pt * POINT_MM * _LEADING
        used += pitch
        texts.append(Text(_LEFT, -used + pitch / 4, shortened(text, size_pt, room, bold), size_pt, bold=bold))
    height = max(used, _TOP_MM + PICTURE_HEIGHT_MM if picture else 0.0) + 1.0
    return Block(height, (*moved(picture, 0.0, -_TOP_MM), *texts))


def _figure_row(name: str, figure: str, width: float, left: float = 0.0) -> Block:
    """A name with its large figure at the right."""
    room = width - left - text_width_mm(figure, FIGURE_PT, bold=True) - _GAP_MM
    base = -_ROW_MM + 1.6
    texts = (
        Text(left, base, shortened(name, NAME_PT, room), NAME_PT),
        Text(width, base, figure, FIGURE_PT, Anchor.END, bold=True),
    )
    return Block(_ROW_MM, (*texts, Line(left, -_ROW_MM, width, -_ROW_MM, _RULE_MM)))


def cautions_block(cautions: Sequence[str], width: float) -> Iterator[Block]:
    """All of them together, on one page."""
    yield heading("Take care first", width)
    blocks = [block for caution in cautions for block in paragraph(caution, width, indent_mm=6.0, sign="!")]
    yield from (replace(block, keeps_next=True) for block in blocks[:-1])
    yield blocks[-1]


def guided_blocks(cuts: Sequence[GuidedCut], by_hand: Sequence[str], figures: Figures, width: float) -> Iterator[Block]:
    """A page for the router's edge guide, and below it or on its own what is done by hand; nothing for neither."""
    if cuts:
        yield replace(heading(f"Set-up: {small(GUIDED_TITLE)}", width), starts_page=True)
        yield from cautions_block(GUIDED_CAUTIONS, width)
        yield from paragraph(GUIDED, width)
    for number, cut in enumerate(cuts, start=1):
        yield operation_block(f"{number}. {cut.title}", cut.figures(figures), (), draw_guided_cut(cut, figures), width)
    if by_hand:
        yield heading(BY_HAND_TITLE, width)
        yield from paragraph(BY_HAND, width)
        for words in by_hand:
            yield from paragraph(words, width, indent_mm=6.0, sign="•")
