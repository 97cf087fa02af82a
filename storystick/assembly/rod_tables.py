"""Pinch rods as rows of a table, in labels: the same for a listing and for the job sheet."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from storystick.assembly.rod_names import gathered
from storystick.assembly.rods import RodPlan
from storystick.assembly.roots import write_root
from storystick.assembly.tolerance import write_limit
from storystick.job.model import Job

USE_HEADINGS: Final = ("rod", "band", "for", "diagonal", "opened by", "give or take")


def use_rows(plan: RodPlan, job: Job) -> Iterator[tuple[str, ...]]:
    """Every diagonal with the rod that serves it, under :data:`USE_HEADINGS`.

    What it may be more or less is half of what the two diagonals may differ by.
    """
    for rod in plan.rods:
        for letter, target in zip(rod.letters, rod.targets, strict=True):
            diagonal = write_root(target.squared, job.units, job.round_to)
            opened, half = job.label(target.diagonal - rod.closed), write_limit(target.tolerance / 2, job)
            yield rod.name, letter, gathered(target.names), diagonal, opened, half


def too_short_words(plan: RodPlan, job: Job) -> str:
    """The diagonals that no rod can be made for, in a sentence; empty where there is none."""
    said = (
        f"{gathered(target.names)}, {write_root(target.squared, job.units, job.round_to)}" for target in plan.too_short
    )
    return f"Too short for a rod, measured with a rule: {'; '.join(said)}." if plan.too_short else ""


def rod_words(plan: RodPlan, job: Job) -> Iterator[str]:
    """Every rod with its reach and the rectangles that it serves, in a sentence."""
    for rod in plan.rods:
        reach = f"{rod.name}, {job.label(rod.closed)} to {job.label(rod.open)}"
        making = f", to make of two sticks {job.label(rod.closed)} long" if rod.to_make else ""
        yield f"{reach}{making}: {gathered(rod.serves)}."
    yield from filter(None, [too_short_words(plan, job)])
