"""The job sheet: page 1, a drawing to hang up, what is to be minded along a wall, and what is printed with it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from storystick.job.job import Job
from storystick.job.runs import Feature, FeatureRow, Run
from storystick.layout.runs import lay_out_run
from storystick.layout.stations import Layout
from storystick.lengths import Figures
from storystick.sheets.document import Page
from storystick.sheets.pages.first_page import first_page
from storystick.sheets.pages.flow import Block, Chapter, Column, Room, heading, paragraph, table, titled, words_pages
from storystick.sheets.strips import StripSheets

RUN_CAUTIONS: Final = (
    "Find cables and pipes before anything is fixed: look on both sides of the wall, use a detector over every place "
    "that takes a screw, and mark what is found. No mark on these strips says that a place is free of them.",
    "Electricity, gas, water and drains, and the clear space that appliances need, are as your local code asks, and "
    "are moved or joined by a licensed trade.",
    "Fix tall units, wall units and units with drawers to studs or to sound masonry, with fixings made for that wall "
    "and load. A tall unit, or one with drawers, can tip over where it only stands.",
    "Level every cabinet from the high point of the floor, and shim up from there: all heights are from that point. "
    "Find it with a level along the whole run, before the first cabinet is set.",
    "Measure the wall at the floor, at the counter and at the top of the wall units, and try the corners for square. "
    "The run is right for the length in the job file only: give it the least of them.",
)


def run_cautions(job: Job) -> tuple[str, ...]:
    """What to take care of in fixing the job's runs; nothing for a job without any."""
    return (*RUN_CAUTIONS, *_floor_words(job)) if job.runs else ()


def _floor_words(job: Job) -> Iterator[str]:
    for run in job.runs:
        if run.floor_fall:
            fall = job.figures(run.floor_fall)
            yield (
                f"The floor of {run.name} falls {fall} below its high point. Where it is lowest, bases and end panels "
                f"need {fall} more to be scribed or shimmed."
            )


_THINGS: Final = (Column("along the wall", 3), *(Column(word, right=True) for word in ("from", "to", "width")))
_FEATURES: Final = (
    Column("on the wall", 3),
    Column("at", right=True),
    Column("every", right=True),
    Column("to", right=True),
)
_HEIGHTS: Final = (Column("above the floor", 3), Column("at", right=True))


def run_blocks(job: Job, width: float) -> Iterator[Block]:
    """For the fixing of a job's runs: where everything stands along each wall, and the cautions; else nothing."""
    for run in job.runs:
        yield from titled(f"{run.name}, from the {run.datum.value} end", list(_figures(run, job, width)), width)
    cautions = run_cautions(job)
    if cautions:
        yield heading("Before anything is fixed", width)
    for number, line in enumerate(cautions, start=1):
        yield from paragraph(line, width, indent_mm=6.0, sign=f"{number}.")


def _figures(run: Run, job: Job, width: float) -> Iterator[Block]:
    """The tables of a wall: what stands along it, what is on it, and its heights."""
    figures = job.figures
    along, *_ = lay_out_run(run, figures)
    things = [(span.name, *map(figures, (span.start, span.end, span.size))) for span in along.spans]
    yield from table(_THINGS, things, width)
    if run.features:
        yield from table(_FEATURES, [_feature_row(feature, run, figures) for feature in run.features], width)
    if run.heights:
        heights = sorted(run.heights, key=lambda height: height.at)
        yield from table(_HEIGHTS, [(height.name, figures(height.at)) for height in heights], width)


def _feature_row(feature: Feature | FeatureRow, run: Run, figures: Figures) -> tuple[str, ...]:
    """A row of features is told by its first one, its pitch, and how far it goes."""
    match feature:
        case Feature():
            return feature.name, figures(feature.at), "", ""
        case FeatureRow():
            last = run.length if feature.until is None else feature.until
            return feature.name, figures(feature.first), figures(feature.pitch), figures(last)


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
        yield from run_blocks(plan.job, room.width_mm)

    return words_pages(plan.job, "job sheet", (first, along, *chapters))
