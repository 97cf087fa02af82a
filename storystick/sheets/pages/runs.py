"""For the fixing of runs: where everything stands along each wall, what the floor asks, and what is to be minded."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from storystick.job.features import Feature, FeatureRow, WallOpening
from storystick.job.job import Job
from storystick.layout.runs import RunLayout
from storystick.layout.stations import Layout, StickLayout
from storystick.layout.walls.rows import (
    BEHIND_HEADINGS,
    FLOOR_HEADINGS,
    TOP_HEADINGS,
    behind_rows,
    floor_rows,
    top_rows,
)
from storystick.lengths import Figures
from storystick.sheets.pages.flow import Block, Column, heading, paragraph, table, tables_beside, titled

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


_FROM_TO: Final = tuple(Column(word, right=True) for word in ("from", "to", "width"))
_THINGS: Final = (Column("along the wall", 3), *_FROM_TO)
_HUNG: Final = (Column("wall units", 3), *_FROM_TO)
_FEATURES: Final = (
    Column("on the wall", 3),
    Column("at", right=True),
    Column("every", right=True),
    Column("to", right=True),
)
_HEIGHTS: Final = (Column("above the high point of the floor", 3), Column("at", right=True))
_FLOOR: Final = (Column(FLOOR_HEADINGS[0], 3), *(Column(word, right=True) for word in FLOOR_HEADINGS[1:]))
_BEHIND: Final = (
    *(Column(word, 2) for word in BEHIND_HEADINGS[:2]),
    *(Column(w, right=True) for w in BEHIND_HEADINGS[2:]),
)
_TOPS: Final = (Column(TOP_HEADINGS[0], 3), *(Column(word, right=True) for word in TOP_HEADINGS[1:]))
_BACK_WORDS: Final = (
    "On a back, left and right are its edges as you look into the cabinet from the front: who works on it from behind "
    "measures from the right. Up is from its lower edge. All are to the middle."
)
_FLOOR_WORDS: Final = (
    "Every cabinet is levelled from the high point. What is open under it is shimmed under both ends; what is to close "
    "it (toe boards, panels, fillers, scribes, sides that show) is cut as much longer as it says at most, and scribed."
)


def run_blocks(layout: Layout, width: float) -> Iterator[Block]:
    """For the fixing of a job's runs: where everything stands along each wall, and the cautions; else nothing."""
    job = layout.job
    for run in layout.runs:
        name = f"{run.run.name}, from the {run.run.datum.value} end"
        yield from titled(name, list(_tables(run, layout, job.figures, width)), width)
    cautions = run_cautions(job)
    if cautions:
        yield heading("Before anything is fixed", width)
    for number, line in enumerate(cautions, start=1):
        yield from paragraph(line, width, indent_mm=6.0, sign=f"{number}.")


def _tables(run: RunLayout, layout: Layout, figures: Figures, width: float) -> Iterator[Block]:
    """The tables of a wall: what stands and hangs along it, what is on it, its heights, and what follows from these."""
    standing, hanging = (_along(stick, figures) for stick in (run.along, run.hung))
    yield from tables_beside((_THINGS, standing), (_HUNG, hanging), width)
    features = [_feature_row(feature, run, figures) for feature in run.run.features]
    levels = [(point.name, figures(point.at)) for point in run.heights.points] if run.heights else []
    yield from tables_beside((_FEATURES, features), (_HEIGHTS, levels), width)
    yield from _table(_FLOOR, floor_rows(run, figures), width, _FLOOR_WORDS)
    yield from _table(_TOPS, top_rows(run, layout.runs, figures), width)
    yield from _table(_BEHIND, behind_rows(run, layout.cabinets, figures), width, _BACK_WORDS)


def _along(stick: StickLayout | None, figures: Figures) -> list[tuple[str, ...]]:
    spans = stick.spans if stick else ()
    return [(span.name, *map(figures, (span.start, span.end, span.size))) for span in spans]


def _table(
    columns: Sequence[Column], rows: Iterable[tuple[str, ...]], width: float, words: str = ""
) -> Iterator[Block]:
    """A table with words below it; nothing without rows."""
    found = list(rows)
    if found:
        yield from table(columns, found, width)
        yield from paragraph(words, width) if words else ()


def _feature_row(feature: Feature | FeatureRow | WallOpening, run: RunLayout, figures: Figures) -> tuple[str, ...]:
    """A row of features is told by its first one, its pitch, and how far it goes; an opening by its edges."""
    match feature:
        case Feature():
            return feature.name, figures(feature.at), "", ""
        case FeatureRow():
            last = run.length if feature.until is None else feature.until
            return feature.name, figures(feature.first), figures(feature.pitch), figures(last)
        case WallOpening():
            return feature.name, figures(feature.start), "", figures(feature.end)
