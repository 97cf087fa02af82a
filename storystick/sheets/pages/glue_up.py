"""The glue-up on the job sheet: what to know first, then every stage in large letters, with boxes to tick."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import ceil
from typing import Final

from storystick.drawing.lettering import POINT_MM, shortened, wrapped
from storystick.drawing.shapes import Line, Text
from storystick.gluing.cautions import GLUE_CAUTIONS, remarks, tip_over_words
from storystick.gluing.instructions import (
    DRY_BACK,
    TWIST,
    duration,
    grouped,
    holder_words,
    lack_words,
    line_words,
    placing,
    spread_out,
    total_words,
)
from storystick.gluing.order import Closing
from storystick.gluing.stages import Stage, by_cabinet, shared_stages
from storystick.job.job import Job, Rectangle
from storystick.job.shop import Glue
from storystick.layout.stations import Layout
from storystick.lengths import Units
from storystick.sheets.pages.flow import Block, Room, heading, paragraph, stacked
from storystick.squaring.rectangles import differ_words
from storystick.wording import capital, unbroken

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
_NAME_ROW_MM: Final = 7.5
_BASE_MM: Final = 2.5
"""How far words stand above the lower edge of a row of figures or names."""

_BOLD: Final = 0.85
"""Bold words take more room than they are measured by when they are broken into lines."""

_BLANK: Final = "___ : ___"
_DRY_STEPS: Final = (
    "Put the whole cabinet together without glue, in the order of these pages, and time it",
    "Lay out all parts, cauls and clamps in reach, glue, brush, mallet, tape and a square",
)


def glue_up_blocks(layout: Layout, stages: Sequence[Stage], glue: Glue | None, room: Room) -> Iterator[Block]:
    """A page of what to know first, and the stages of every cabinet from a new page on; none is parted.

    Cabinets that are alike share their pages, as far as these have room to write for all of them.
    """
    width = room.width_mm
    job = layout.job
    yield replace(heading("Glue-up", width), starts_page=True)
    for sentence in remarks(stages, layout.cabinets, glue):
        yield from paragraph(sentence, width)
    yield from _totals(stages, width)
    yield heading("Take care first", width)
    for sentence in (*GLUE_CAUTIONS, *tip_over_words(layout.cabinets, job.figures)):
        yield from paragraph(sentence, width, indent_mm=6.0, sign="!")
    for shared in shared_stages(stages):
        yield from _shared_blocks(shared.cabinets, shared.stages, job, width)


def _totals(stages: Sequence[Stage], width: float) -> Iterator[Block]:
    """How long every cabinet takes, those that take as long together."""
    alike: dict[str, list[str]] = {}
    for own in by_cabinet(stages):
        alike.setdefault(total_words(own), []).append(own.cabinet)
    for words, cabinets in alike.items():
        yield from paragraph(f"{'; '.join(cabinets)}: {words}.", width)


def stage_block(stage: Stage, title: str, cabinets: Sequence[str], job: Job, width: float) -> Block:
    """A stage of ``cabinets`` in one block. Of one cabinet, a page has room for it: it may only count its joints.

    Where there are several, each has its own box to tick, and its own room to write times and diagonals.
    """
    steps = _steps(stage, stage.closing) if stage.closing else _DRY_STEPS
    whole = _stage_block(stage, title, cabinets, steps, job, width)
    if whole.height_mm <= ROOM_MM or stage.closing is None or len(cabinets) > 1:
        return whole
    return _stage_block(stage, title, cabinets, _counted_steps(stage), job, width)


def _shared_blocks(cabinets: Sequence[str], stages: Sequence[Stage], job: Job, width: float) -> Iterator[Block]:
    """The stages of cabinets that are alike, for all of them; for either half, where a page has no room for all."""
    titles = (
        f"{'; '.join(cabinets)}, stage {number} of {len(stages)}: {stage.name}"
        for number, stage in enumerate(stages, start=1)
    )
    blocks = [stage_block(stage, title, cabinets, job, width) for stage, title in zip(stages, titles, strict=True)]
    if len(cabinets) > 1 and max(block.height_mm for block in blocks) > ROOM_MM:
        half = len(cabinets) // 2
        yield from _shared_blocks(cabinets[:half], stages, job, width)
        yield from _shared_blocks(cabinets[half:], stages, job, width)
        return
    yield replace(blocks[0], starts_page=True)
    yield from blocks[1:]


def _stage_block(
    stage: Stage, title: str, cabinets: Sequence[str], steps: Sequence[str], job: Job, width: float
) -> Block:
    blocks = [*_title(title, width), *_clocks(stage, cabinets, width), Block(_GAP_MM, ())]
    if lack := lack_words(stage, job):
        blocks += [*paragraph(f"{capital(lack)}.", width, _INDENT_MM, "!", STEP_PT), Block(_GAP_MM, ())]
    for step in (*steps, *((capital(DRY_BACK),) if stage.dry_back else ())):
        blocks += _ticked(step, width)
    blocks += [*_clamps_on(stage, job, width), *_check(stage, cabinets, job, width)]
    for step in _afterwards(stage):
        blocks += _ticked(step, width)
    return stacked([*blocks, Block(_GAP_MM, ())])


def _afterwards(stage: Stage) -> Iterator[str]:
    """What is done when all is closed and checked."""
    if stage.closing and stage.glued:
        yield "Pare off what is squeezed out, an hour or two later, once it has gelled"
    if stage.in_clamps:
        stay = f"after {duration(stage.clamp_time)}" if stage.clamp_time else "when the glue's label says"
        yield f"Clamps off {stay}, at {_BLANK}"


def _title(title: str, width: float) -> Iterator[Block]:
    """The title in bold under a line across the page."""
    pitch = TITLE_PT * POINT_MM * 1.3
    yield Block(2 * _GAP_MM, (Line(0.0, -_GAP_MM, width, -_GAP_MM, _RULE_MM),))
    for line in wrapped(title, TITLE_PT, width * _BOLD):
        words = shortened(line, TITLE_PT, width, bold=True)
        yield Block(pitch, (Text(0.0, -pitch + 2.0, words, TITLE_PT, bold=True),))


def _clocks(stage: Stage, cabinets: Sequence[str], width: float) -> Iterator[Block]:
    """A box to tick for each of several cabinets, its clock below it, and what the stage takes of them."""
    for cabinet in cabinets:
        if len(cabinets) > 1:
            *named, _ = _ticked(shortened(cabinet, STEP_PT, width - _INDENT_MM), width)
            yield from (Block(_GAP_MM, ()), *named)
        if stage.closing:
            yield _clock(stage, width)
    if stage.closing:
        spread = f", of them {ceil(stage.spread)} to spread" if stage.glued else ""
        compare = " Compare with the glue's label." if stage.glued and not stage.glue else ""
        yield from paragraph(f"Estimated {ceil(stage.minutes)} min{spread}.{compare}", width, size_pt=STEP_PT)


def _clock(stage: Stage, width: float) -> Block:
    """When it began, and by when it must be closed: by the glue's times, or by what the stage takes."""
    glue = stage.glue if stage.glued else None
    words = [f"start {_BLANK}"]
    words += [f"spread by {_BLANK} (+{float(glue.open):g} min)"] if glue else []
    closed = float(glue.closed) if glue else ceil(stage.minutes)
    words += [f"closed by {_BLANK} (+{closed:g} min)"]
    height, column = STEP_PT * POINT_MM * 2.0, width / len(words)
    lefts = [place * column for place in range(len(words))] if not glue else [0.0, width * 0.22, width * 0.61]
    texts = (Text(left, -height + 3.0, text, STEP_PT) for left, text in zip(lefts, words, strict=True))
    return Block(height, tuple(texts))


def _steps(stage: Stage, closing: Closing) -> tuple[str, ...]:
    spread = f"Spread both faces of {len(stage.joints)} joints: {'; '.join(grouped(stage.joints))}"
    return (spread if stage.glued else "No glue: screws or pins hold it", f"Place {placing(closing, stage.layout)}")


def _counted_steps(stage: Stage) -> tuple[str, ...]:
    return (f"Spread both faces of all {len(stage.joints)} joints", "Place the parts in the order of the listing")


def _clamps_on(stage: Stage, job: Job, width: float) -> Iterator[Block]:
    """How many clamps and cauls, or pins, and below that a line for those that are set alike."""
    *blocks, gap = _ticked(_holding(stage, job.units), width)
    yield from blocks
    for line in line_words(stage.lines, job.figures):
        yield from paragraph(line, width, _INDENT_MM, size_pt=STEP_PT)
    yield gap


def _holding(stage: Stage, units: Units) -> str:
    word = "Fasten" if stage.pins else "Clamps on" if stage.closing else "All at hand"
    return f"{word}: {holder_words(stage, units)}"


def _check(stage: Stage, cabinets: Sequence[str], job: Job, width: float) -> Iterator[Block]:
    """The diagonals in large figures, each with room to write what is measured."""
    if stage.rectangles:
        yield from _ticked(f"Check both diagonals {stage.moment}", width)
        for rectangle in spread_out(stage.rectangles):
            yield from _diagonal(rectangle, cabinets, job, width)
        yield Block(_GAP_MM, ())
    else:
        yield from _ticked("Check with a square in every corner, and look along the edges", width)
    if stage.twist:
        yield from _ticked(f"Check twist {TWIST}", width)


def _diagonal(rectangle: Rectangle, cabinets: Sequence[str], job: Job, width: float) -> Iterator[Block]:
    """What a diagonal should be, and room to write both: beside it, or for each of several cabinets below it."""
    differ = unbroken(differ_words(rectangle, job))
    yield from paragraph(f"{rectangle.told}: they differ by {differ} at most", width, _INDENT_MM, size_pt=STEP_PT)
    figure = job.figures.of_root(rectangle.diagonal_squared)
    shown = Text(_INDENT_MM, _BASE_MM - _FIGURE_ROW_MM, figure, FIGURE_PT, bold=True)
    if len(cabinets) == 1:
        yield _measured(shown, _FIGURE_ROW_MM, width)
        return
    yield Block(_FIGURE_ROW_MM, (shown,))
    for cabinet in cabinets:
        words = shortened(cabinet, STEP_PT, width * 0.43 - _INDENT_MM)
        yield _measured(Text(_INDENT_MM, _BASE_MM - _NAME_ROW_MM, words, STEP_PT), _NAME_ROW_MM, width)


def _measured(words: Text, height_mm: float, width: float) -> Block:
    """Words in a row of this height, and room to write both diagonals beside them."""
    base = words.y
    return Block(
        height_mm,
        (
            words,
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
