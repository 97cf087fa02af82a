"""The glue-up: what to know first, then about three stages a page, each with its sketch and boxes to tick and fill."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate
from math import ceil
from typing import Final

from storystick.drawing.built_up import BuiltUp
from storystick.drawing.lettering import POINT_MM, SIZE_MM, STATION_MM, shortened
from storystick.drawing.shapes import Line, Shape, Text, moved
from storystick.drawing.stage_sketch import draw_stage
from storystick.gluing.cautions import GLUE_CAUTIONS, remarks, tip_over_words
from storystick.gluing.clamp_words import holder_words, lack_words, line_words
from storystick.gluing.instructions import (
    DRY_BACK,
    TWIST,
    duration,
    grouped,
    looked_at,
    placing,
    spread_out,
    total_words,
)
from storystick.gluing.order import Closing
from storystick.gluing.stages import Stage, by_cabinet, shared_stages
from storystick.job.job import Job, Rectangle
from storystick.job.shop import Glue
from storystick.layout.stations import Layout
from storystick.sheets.pages.flow import (
    HEADING_PT,
    NOTHING,
    PITCH_MM,
    TEXT_PT,
    TITLE_PT,
    Block,
    Room,
    heading,
    kept_rows,
    lines_of,
    paragraph,
    side_by_side,
    stacked,
    write_box,
)
from storystick.squaring.rectangles import differ_words
from storystick.wording import capital, counted, kinds_alike, unbroken

_SKETCH_MM: Final = 48.0
_SKETCH_HIGH_MM: Final = 42.0
_LEFT_MM: Final = _SKETCH_MM + 4.0
_LEAD_MM: Final = 23.0
"""From the box to tick to the words of a step: its first word stands between."""

_BOX_MM: Final = 3.6
_GAP_MM: Final = 2.0
_TITLE_PITCH_MM: Final = HEADING_PT * POINT_MM * 1.3
_STAGE_RULE_MM: Final = 0.5
_CELL_MM: Final = 18.0
_CELL_HIGH_MM: Final = 7.4
_CELL_GAP_MM: Final = 1.5
_GROUP_GAP_MM: Final = 4.0
_NAME_MM: Final = 36.0
"""So much of a row is left for the cabinet's name."""

_TOLD_MM: Final = 36.0
_CHECK: Final = "Check"
_BLANK: Final = "___ : ___"
_DRY_STEPS: Final = (
    ("Try", "put the whole cabinet together without glue, in the order of these stages, and time it"),
    ("At hand", "all parts, cauls and clamps, glue, brush, mallet, tape and a square"),
)


def glue_up_blocks(layout: Layout, stages: Sequence[Stage], glue: Glue | None, room: Room) -> Iterator[Block]:
    """What to know first, and the stages of every cabinet, alike ones once; none is parted by a page."""
    width, figures = room.width_mm, layout.job.figures
    yield heading("Glue-up", width, TITLE_PT)
    yield from side_by_side((*remarks(stages, layout.cabinets, glue), *totals(stages)), width)
    yield heading("Take care first", width)
    yield from side_by_side((*GLUE_CAUTIONS, *tip_over_words(layout.cabinets, figures)), width, sign="!")
    for shared in shared_stages(stages):
        yield _cabinets(kinds_alike(shared.kinds, len(shared.cabinets)), width)
        for number, stage in enumerate(shared.stages, start=1):
            title = f"{number} of {len(shared.stages)}: {stage.name}"
            yield from stage_blocks(stage, title, shared.cabinets, layout.job, room)


def totals(stages: Sequence[Stage]) -> Iterator[str]:
    """How long every cabinet takes, those that take as long together."""
    alike: dict[str, list[str]] = {}
    for own in by_cabinet(stages):
        alike.setdefault(total_words(own), []).append(own.layout.cabinet.told)
    for words, cabinets in alike.items():
        yield f"{'; '.join(cabinets)}: {words}."


def _cabinets(words: str, width: float) -> Block:
    """Which cabinets are alike, and how many they are, in a heading that is kept with the first stage."""
    lines = lines_of(words, HEADING_PT, width, bold=True)
    blocks = [Block(2 * _GAP_MM, ()), *(_title_line(line) for line in lines)]
    return replace(stacked(blocks), keeps_next=True)


def _title_line(words: str) -> Block:
    return Block(_TITLE_PITCH_MM, (Text(0.0, 1.6 - _TITLE_PITCH_MM, words, HEADING_PT, bold=True),))


def stage_blocks(stage: Stage, title: str, cabinets: Sequence[str], job: Job, room: Room) -> Iterator[Block]:
    """A stage of a cabinet in one block; of several, with a row for each of them below it to tick and to write in.

    It counts its joints where a page has no room to name them.
    """
    header, rows = _rows(stage, cabinets, job, room.width_mm) if len(cabinets) > 1 else (NOTHING, [])
    least = header.height_mm + sum(row.height_mm for row in rows[:2])
    whole = _stage(stage, title, job, room.width_mm, alone=not rows)
    if whole.height_mm + least > room.height_mm:
        whole = _stage(stage, title, job, room.width_mm, alone=not rows, counted_only=True)
    yield replace(whole, keeps_next=bool(rows))
    yield from (header, *kept_rows(rows, header)) if rows else ()
    yield Block(_GAP_MM, ())


def _stage(stage: Stage, title: str, job: Job, width: float, alone: bool, counted_only: bool = False) -> Block:
    """Title, sketch, and the steps beside it, with room to write where it is ``alone``, without others alike."""
    head = [Block(_GAP_MM, (Line(0.0, -_GAP_MM / 2, width, -_GAP_MM / 2, _STAGE_RULE_MM),))]
    head += [_title_line(line) for line in lines_of(title, HEADING_PT, width, bold=True)]
    room = width - _LEFT_MM
    lack = lack_words(stage, job)
    body = paragraph(f"{capital(lack)}.", room, _BOX_MM + _GAP_MM, "!") if lack else []
    for lead, words in stage_steps(stage, job, alone, counted_only):
        body += _ticked(lead, words, room)
        if alone and lead == _CHECK:
            body += [_diagonal(each, job, room) for each in spread_out(stage.rectangles)]
    beside, sketch = stacked(body), draw_stage(stage, _SKETCH_MM, _SKETCH_HIGH_MM)
    head.append(Block(_GAP_MM / 2, ()))
    both = Block(max(beside.height_mm, _SKETCH_HIGH_MM), (*sketch, *moved(beside.shapes, _LEFT_MM, 0.0)))
    return stacked([*head, both])


def stage_steps(stage: Stage, job: Job, alone: bool, counted_only: bool = False) -> list[tuple[str, str]]:
    """What is done, each step by its first word and the rest; ``counted_only`` where its joints are too many to name.

    What the clamps need stands below them, a line for those that are set alike.
    """
    steps = _glued_steps(stage, stage.closing, alone, counted_only) if stage.closing else list(_DRY_STEPS)
    steps += [("Back", DRY_BACK)] if stage.dry_back else []
    lead = "Fasten" if stage.is_fastened else "Clamp" if stage.closing else "Clamps"
    steps += [(lead, holder_words(stage, job.units)), *(("", line) for line in line_words(stage.lines, job.figures))]
    steps += [(_CHECK, _check_words(stage))]
    steps += [("Twist", f"look for it {TWIST}")] if stage.twist else []
    if stage.in_clamps:
        stay = f"after {duration(stage.clamp_time)}" if stage.clamp_time else "when the glue's label says"
        steps += [("Unclamp", f"{stay}, at {_BLANK}" if alone else stay)]
    return steps


def _glued_steps(stage: Stage, closing: Closing, alone: bool, counted_only: bool) -> list[tuple[str, str]]:
    joints = ", part by part" if counted_only else f": {'; '.join(grouped(stage.joints))}"
    spread = ("Spread", f"both faces of {counted(len(stage.joints), 'joint')}{joints}")
    placed = f"all {len(closing.pieces)} parts in their order" if counted_only else placing(closing, stage.layout)
    return [
        ("Start", _clock(stage, alone)),
        spread if stage.glued else ("No glue", "screws or pins hold it"),
        ("Place", placed),
    ]


def _clock(stage: Stage, alone: bool) -> str:
    """When it begins and by when it must be closed, with room to write where it is ``alone``, and what it takes."""
    minutes, spread = f"{ceil(stage.minutes)} min", f"{ceil(stage.spread)} to spread" if stage.glued else ""
    if not alone:
        return ", ".join(filter(None, (f"about {minutes}", spread)))
    ends = ", ".join([_BLANK, *(f"{word} {_BLANK} (+{allowed:g} min)" for word, allowed in limits(stage))])
    about = f"about {minutes}" if stage.glue and stage.glued else ""
    return f"at {ends}" + "".join(f", {words}" for words in (about, spread) if words)


def limits(stage: Stage) -> Iterator[tuple[str, float]]:
    """Until when what must be done, in minutes from the start: by the glue's times, or by what the stage takes."""
    glue = stage.glue if stage.glued else None
    if glue:
        yield "spread by", float(glue.open)
    yield "closed by", float(glue.closed) if glue else ceil(stage.minutes)


def _check_words(stage: Stage) -> str:
    if words := looked_at(stage):
        return words
    if not stage.rectangles:
        return "a square in every corner, and look along the edges"
    return f"both diagonals {stage.moment}"


def _told(rectangle: Rectangle, job: Job, room: float) -> list[str]:
    """A rectangle's name, and below it how far its diagonals may be apart."""
    return [*lines_of(rectangle.told, TEXT_PT, room), *lines_of(apart_words(rectangle, job), TEXT_PT, room)]


def apart_words(rectangle: Rectangle, job: Job) -> str:
    """By how much its diagonals may differ."""
    return f"{unbroken(differ_words(rectangle, job))} apart at most"


def _diagonal(rectangle: Rectangle, job: Job, width: float) -> Block:
    """What both diagonals of a rectangle should be, and two boxes to write them in."""
    lines = _told(rectangle, job, _TOLD_MM)
    boxes = width - 2 * _CELL_MM - _CELL_GAP_MM
    figure = _fitting(job.figures.of_root(rectangle.diagonal_squared), boxes - _LEAD_MM - _TOLD_MM - 2 * _GAP_MM)
    high = max(figure.above_mm + figure.below_mm + 1.0, _CELL_HIGH_MM + 1.2, len(lines) * PITCH_MM + 1.0)
    first = -high / 2 + PITCH_MM * len(lines) / 2 - PITCH_MM * 0.72
    shapes: list[Shape] = [Text(_LEAD_MM, first - place * PITCH_MM, line, TEXT_PT) for place, line in enumerate(lines)]
    shapes += figure.shapes(_LEAD_MM + _TOLD_MM + _GAP_MM, -high / 2 - figure.height_mm / 2)
    for left in (boxes, width - _CELL_MM):
        shapes += write_box(left, (_CELL_HIGH_MM - high) / 2, _CELL_MM, _CELL_HIGH_MM)
    return Block(high, tuple(shapes))


def _ticked(lead: str, words: str, width: float) -> Iterator[Block]:
    """A step of the work: a box to tick, its first word, and the rest; what has no first word goes with the last."""
    first, *others = paragraph(words, width, _LEAD_MM)
    if lead:
        low = -PITCH_MM + 0.12 * TEXT_PT - 0.3
        shown = Text(_BOX_MM + _GAP_MM, low + 0.3, lead, TEXT_PT, bold=True)
        first = replace(first, shapes=(*write_box(0.0, low + _BOX_MM, _BOX_MM, _BOX_MM), shown, *first.shapes))
    yield from (first, *others)


@dataclass(frozen=True, slots=True)
class _Field:
    """Boxes to write in side by side: what stands above them, and the figure that is to be found."""

    lines: tuple[str, ...]
    figure: str = ""
    cells: int = 1


def _fields(stage: Stage, job: Job, cell: float) -> Iterator[_Field]:
    """The clock, by the glue's times or by what the stage takes, and every diagonal."""
    if stage.closing:
        yield _Field(("start",))
        yield from (_Field((word, f"+{minutes:g} min")) for word, minutes in limits(stage))
    for each in spread_out(stage.rectangles):
        lines = tuple(_told(each, job, 2 * cell + _CELL_GAP_MM))
        yield _Field(lines, job.figures.of_root(each.diagonal_squared), cells=2)


def _rows(stage: Stage, cabinets: Sequence[str], job: Job, width: float) -> tuple[Block, list[Block]]:
    """The head of the boxes to write in, and a row of them for each cabinet."""
    plain = list(_fields(stage, job, _CELL_MM))
    cells = sum(field.cells for field in plain)
    between = sum((field.cells - 1) * _CELL_GAP_MM for field in plain) + len(plain) * _GROUP_GAP_MM
    cell = min(_CELL_MM, (width - _NAME_MM - between) / max(cells, 1))
    fields = list(_fields(stage, job, cell))
    spans = [field.cells * (cell + _CELL_GAP_MM) - _CELL_GAP_MM for field in fields]
    lefts = list(accumulate((span + _GROUP_GAP_MM for span in spans), initial=width - cells * cell - between))[:-1]
    lefts = [left + _GROUP_GAP_MM for left in lefts]
    return _head(fields, lefts, spans), [_row(name, fields, lefts, cell, width) for name in cabinets]


def _head(fields: Sequence[_Field], lefts: Sequence[float], spans: Sequence[float]) -> Block:
    """What stands above the boxes: the diagonal largest, right above those that it is written into."""
    shapes: list[Shape] = []
    high = 1.0
    for field, left, span in zip(fields, lefts, spans, strict=True):
        base = 1.2
        if field.figure:
            figure = _fitting(field.figure, span)
            base += figure.below_mm
            shapes += figure.shapes(left, base)
            base += figure.above_mm + 1.4
        for line in reversed(field.lines):
            shapes.append(Text(left, base + 0.4, line, TEXT_PT))
            base += PITCH_MM
        high = max(high, base)
    return Block(high, moved(shapes, 0.0, -high), keeps_next=True)


def _fitting(figure: str, room: float) -> BuiltUp:
    large = BuiltUp(figure, STATION_MM, bold=True)
    return large if large.width_mm <= room else BuiltUp(figure, SIZE_MM, bold=True)


def _row(name: str, fields: Sequence[_Field], lefts: Sequence[float], cell: float, width: float) -> Block:
    high = _CELL_HIGH_MM + 1.2
    room = (lefts[0] if lefts else width) - _BOX_MM - 2 * _GAP_MM
    base = -_CELL_HIGH_MM / 2 - 1.3
    shapes: list[Shape] = [
        *write_box(0.0, base + _BOX_MM - 0.5, _BOX_MM, _BOX_MM),
        Text(_BOX_MM + _GAP_MM, base, shortened(name, TEXT_PT, room), TEXT_PT),
    ]
    for field, left in zip(fields, lefts, strict=True):
        for place in range(field.cells):
            shapes += write_box(left + place * (cell + _CELL_GAP_MM), 0.0, cell, _CELL_HIGH_MM)
    return Block(high, tuple(shapes))
