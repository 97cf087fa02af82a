"""The glue-up on the job sheet: what to know first, then every stage in large letters, with boxes to tick."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import groupby
from math import ceil
from typing import Final

from storystick.assembly.glue_cautions import GLUE_CAUTIONS, remarks
from storystick.assembly.glue_up import Stage
from storystick.assembly.order import Step
from storystick.assembly.roots import write_root
from storystick.assembly.stage_words import clamping, grouped, placing, spread_out
from storystick.assembly.tip_over import tip_over_words
from storystick.assembly.tolerance import tolerance_of
from storystick.drawing.lettering import POINT_MM, shortened, wrapped
from storystick.drawing.shapes import Line, Text
from storystick.job.model import Job
from storystick.job.rectangles import Rectangle
from storystick.job.shop import Glue
from storystick.layout.cabinets.model import CabinetLayout
from storystick.layout.model import Layout
from storystick.sheets.flow import Block, heading, paragraph, stacked
from storystick.wording import unbroken

STEP_PT: Final = 14.0
TITLE_PT: Final = 17.0
FIGURE_PT: Final = 24.0
ROOM_MM: Final = 238.0
"""So high a stage may be at most: less than what any page of the job sheet has."""

_BOX_MM: Final = 5.0
_INDENT_MM: Final = 9.0
_GAP_MM: Final = 2.5
_BOX_LINE_MM: Final = 0.5
_RULE_MM: Final = 0.3
_FIGURE_ROW_MM: Final = 11.0
_BOLD: Final = 0.85
"""Bold words take more room than they are measured by when they are broken into lines."""

_BLANK: Final = "___ : ___"


def glue_up_blocks(layout: Layout, stages: Sequence[Stage], glue: Glue | None, width: float) -> Iterator[Block]:
    """A page of what to know first, and the stages of every cabinet from a new page on; none is parted."""
    job = layout.job
    yield replace(heading("Glue-up", width), starts_page=True)
    for sentence in remarks(layout.cabinets, glue):
        yield from paragraph(sentence, width)
    yield heading("Take care first", width)
    for sentence in (*GLUE_CAUTIONS, *tip_over_words(layout.cabinets, job)):
        yield from paragraph(sentence, width, indent_mm=6.0, sign="!")
    layouts = {each.cabinet.name: each for each in layout.cabinets}
    for cabinet, group in groupby(stages, key=lambda stage: stage.cabinet):
        own = list(group)
        for number, stage in enumerate(own, start=1):
            title = f"{cabinet}, stage {number} of {len(own)}: {stage.name}"
            block = stage_block(stage, title, layouts[cabinet], job, width)
            yield replace(block, starts_page=number == 1)


def stage_block(stage: Stage, title: str, layout: CabinetLayout, job: Job, width: float) -> Block:
    """A stage in one block that a page has room for; where it would not, its joints are only counted."""
    whole = _stage_block(stage, title, _steps(stage, stage.step, layout) if stage.step else _dry_steps(), job, width)
    if whole.height_mm <= ROOM_MM or stage.step is None:
        return whole
    return _stage_block(stage, title, _counted_steps(stage), job, width)


def _stage_block(stage: Stage, title: str, steps: Sequence[str], job: Job, width: float) -> Block:
    blocks = [*_title(title, width), *(_clock(stage, width) if stage.step else ()), Block(_GAP_MM, ())]
    if stage.slower_glue:
        blocks += [*paragraph(f"Stop: {stage.slower_glue}.", width, _INDENT_MM, "!", STEP_PT), Block(_GAP_MM, ())]
    for step in steps:
        blocks += _ticked(step, width)
    blocks += [*_clamps_on(stage, job, width), *_check(stage, job, width)]
    if stage.step:
        blocks += _ticked("Pare off what is squeezed out, an hour or two later, once it has gelled", width)
    return stacked([*blocks, Block(_GAP_MM, ())])


def _title(title: str, width: float) -> Iterator[Block]:
    """The title in bold under a line across the page."""
    pitch = TITLE_PT * POINT_MM * 1.3
    yield Block(2 * _GAP_MM, (Line(0.0, -_GAP_MM, width, -_GAP_MM, _RULE_MM),))
    for line in wrapped(title, TITLE_PT, width * _BOLD):
        words = shortened(line, TITLE_PT, width, bold=True)
        yield Block(pitch, (Text(0.0, -pitch + 2.0, words, TITLE_PT, bold=True),))


def _clock(stage: Stage, width: float) -> Iterator[Block]:
    """When it began, and by when it must be closed: by the glue's times, or by what the stage takes."""
    glue = stage.glue
    words = [f"start {_BLANK}"]
    words += [f"spread by {_BLANK} (+{float(glue.open):g} min)"] if glue else []
    closed = float(glue.closed) if glue else ceil(stage.minutes)
    words += [f"closed by {_BLANK} (+{closed:g} min)"]
    height, column = STEP_PT * POINT_MM * 2.0, width / len(words)
    lefts = [place * column for place in range(len(words))] if not glue else [0.0, width * 0.22, width * 0.61]
    texts = (Text(left, -height + 3.0, text, STEP_PT) for left, text in zip(lefts, words, strict=True))
    yield Block(height, tuple(texts))
    taken = f"Estimated {ceil(stage.minutes)} min, of them {ceil(stage.spread)} to spread."
    yield from paragraph(taken if glue else f"{taken} Compare with the glue's label.", width, size_pt=STEP_PT)


def _dry_steps() -> tuple[str, ...]:
    return (
        "Put the whole cabinet together without glue, in the order of these pages, and time it",
        "Lay out all parts, cauls and clamps in reach, glue, brush, mallet, tape and a square",
    )


def _steps(stage: Stage, step: Step, layout: CabinetLayout) -> tuple[str, ...]:
    return (
        f"Spread both faces of {len(stage.joints)} joints: {'; '.join(grouped(stage.joints))}",
        f"Place {placing(step, layout)}",
    )


def _counted_steps(stage: Stage) -> tuple[str, ...]:
    return (f"Spread both faces of all {len(stage.joints)} joints", "Place the parts in the order of the listing")


def _clamps_on(stage: Stage, job: Job, width: float) -> Iterator[Block]:
    """How many clamps and cauls, and below that a line for those that are set alike."""
    word = "Clamps on" if stage.step else "All at hand"
    reach = unbroken(job.label(stage.reach))
    *blocks, gap = _ticked(f"{word}: {stage.clamps} clamps that open to {reach} or more, {stage.cauls} cauls", width)
    yield from blocks
    for line in clamping(stage.lines, job.label):
        yield from paragraph(line, width, _INDENT_MM, size_pt=STEP_PT)
    yield gap


def _check(stage: Stage, job: Job, width: float) -> Iterator[Block]:
    """The diagonals in large figures, each with room to write what is measured."""
    if not stage.rectangles:
        yield from _ticked("Check with a square in every corner, and look along the edges", width)
        return
    when = "with the clamps on, before the glue grabs" if stage.step else "under clamps, and every joint home"
    yield from _ticked(f"Check both diagonals {when}", width)
    for rectangle in spread_out(stage.rectangles):
        yield from _diagonal(rectangle, job, width)
    yield Block(_GAP_MM, ())


def _diagonal(rectangle: Rectangle, job: Job, width: float) -> Iterator[Block]:
    differ = unbroken(job.label(tolerance_of(rectangle, job.shop, job.units)))
    yield from paragraph(f"{rectangle.name}: they differ by {differ} at most", width, _INDENT_MM, size_pt=STEP_PT)
    figure = write_root(rectangle.diagonal_squared, job.units, job.round_to)
    base = -_FIGURE_ROW_MM + 2.5
    yield Block(
        _FIGURE_ROW_MM,
        (
            Text(_INDENT_MM, base, figure, FIGURE_PT, bold=True),
            Text(width * 0.45, base, "one", STEP_PT),
            Text(width * 0.72, base, "other", STEP_PT),
            Line(width * 0.52, base - 0.8, width * 0.70, base - 0.8, _RULE_MM),
            Line(width * 0.81, base - 0.8, width * 0.99, base - 0.8, _RULE_MM),
        ),
    )


def _ticked(text: str, width: float) -> Iterator[Block]:
    """A step of the work with a box to tick."""
    blocks = paragraph(text, width, _INDENT_MM, size_pt=STEP_PT)
    top = -1.2
    low = top - _BOX_MM
    sides = (
        Line(0.0, top, _BOX_MM, top, _BOX_LINE_MM),
        Line(0.0, low, _BOX_MM, low, _BOX_LINE_MM),
        Line(0.0, top, 0.0, low, _BOX_LINE_MM),
        Line(_BOX_MM, top, _BOX_MM, low, _BOX_LINE_MM),
    )
    yield replace(blocks[0], shapes=(*blocks[0].shapes, *sides))
    yield from blocks[1:]
    yield Block(_GAP_MM, ())
