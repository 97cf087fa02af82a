"""The glue-up on a bench sheet: a group a stage, its steps to tick, a clock for the glue and room for the diagonals."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from storystick.bench_sheet.content import Clock, Figure, Group, Room, Row, Section, picture_of
from storystick.drawing.stage_sketch import draw_stage
from storystick.gluing.cautions import GLUE_CAUTIONS, remarks, tip_over_words
from storystick.gluing.clamp_words import lack_words
from storystick.gluing.instructions import spread_out
from storystick.gluing.plan import glue_for, plan_glue_up
from storystick.gluing.stages import Stage, shared_stages
from storystick.job.job import Job, Rectangle
from storystick.layout.stations import Layout
from storystick.sheets.pages.glue_up import apart_words, limits, stage_steps, totals
from storystick.sheets.pages.square import BOXES
from storystick.wording import capital, kinds_alike

_SKETCH_MM: Final = (80.0, 60.0)


def glue_up(layout: Layout) -> Section:
    """Every stage of the cabinets that are alike once, by the shop's first glue."""
    glue = glue_for(layout.job, None)
    stages = plan_glue_up(layout, glue)
    cautions = (*GLUE_CAUTIONS, *tip_over_words(layout.cabinets, layout.job.figures))
    words = (*remarks(stages, layout.cabinets, glue), *totals(stages))
    return Section("glue-up", "Glue-up", tuple(_groups(stages, layout.job)), words, cautions)


def _groups(stages: Sequence[Stage], job: Job) -> Iterator[Group]:
    for shared in shared_stages(stages):
        whose = kinds_alike(shared.kinds, len(shared.cabinets))
        for number, stage in enumerate(shared.stages, start=1):
            yield _stage(stage, f"{whose}, {number} of {len(shared.stages)}: {stage.name}", shared.cabinets, job)


def _stage(stage: Stage, title: str, cabinets: Sequence[str], job: Job) -> Group:
    lack = lack_words(stage, job)
    sketch = draw_stage(stage, *_SKETCH_MM)
    return Group(
        title,
        (*_steps(stage, job), *(_diagonals(each, cabinets, job) for each in spread_out(stage.rectangles))),
        warnings=(f"{capital(lack)}.",) if lack else (),
        picture=picture_of(sketch, f"{stage.name}, as it comes together") if sketch else None,
        rooms=tuple(Room(name, tuple(_clocks(stage))) for name in _each(cabinets)) if stage.closing else (),
    )


def _steps(stage: Stage, job: Job) -> Iterator[Row]:
    """A row for each step that begins with a word of its own; what has none goes with the last."""
    steps: list[tuple[str, list[str]]] = []
    for lead, words in stage_steps(stage, job, alone=False):
        if lead or not steps:
            steps.append((lead, [words]))
        else:
            steps[-1][1].append(words)
    yield from (Row(lead, words=tuple(words)) for lead, words in steps)


def _diagonals(rectangle: Rectangle, cabinets: Sequence[str], job: Job) -> Row:
    figure = Figure("both diagonals", job.figures.of_root(rectangle.diagonal_squared))
    rooms = tuple(Room(name, readings=BOXES) for name in _each(cabinets))
    return Row(rectangle.told, (figure,), (apart_words(rectangle, job),), rooms=rooms)


def _clocks(stage: Stage) -> Iterator[Clock]:
    """When it begins and by when what must be done; and when it is closed and the clamps may come off."""
    yield Clock("start", tuple(limits(stage)))
    if stage.in_clamps:
        yield Clock("closed", (("unclamp at", float(stage.clamp_time)),) if stage.clamp_time else ())


def _each(cabinets: Sequence[str]) -> Sequence[str]:
    """The cabinets that are told apart: none by its name where it is alone."""
    return cabinets if len(cabinets) > 1 else ("",)
