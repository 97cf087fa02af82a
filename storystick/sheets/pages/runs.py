"""What to take care of where runs are fixed along a wall."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from storystick.job.job import Job
from storystick.sheets.pages.flow import Block, heading, paragraph

RUN_CAUTIONS: Final = (
    "Find cables and pipes before anything is fixed: look on both sides of the wall, use a detector over every place "
    "that takes a screw, and mark what is found. No mark on these strips says that a place is free of them.",
    "Electricity, gas, water and drains, and the clear space that appliances need, are as your local code asks, and "
    "are moved or joined by a licensed trade.",
    "Fix tall units and wall units to studs or to sound masonry with fixings made for that wall and load. A tall unit "
    "that only stands can tip over.",
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


def run_blocks(job: Job, width: float) -> Iterator[Block]:
    """The cautions for a job with runs; nothing for any other."""
    cautions = run_cautions(job)
    if cautions:
        yield heading("Along the wall", width)
    for number, line in enumerate(cautions, start=1):
        yield from paragraph(line, width, indent_mm=6.0, sign=f"{number}.")
