"""What follows along walls, for the list of marks: features on backs of cabinets, and what is open over the floor."""

from __future__ import annotations

import click

from storystick.cli.listing import echo_table, echo_words, twins
from storystick.layout.runs import RunLayout
from storystick.layout.stations import Layout
from storystick.layout.walls.behind import behind_cabinets
from storystick.layout.walls.floor import gaps_under
from storystick.layout.walls.rows import BEHIND_HEADINGS, FLOOR_HEADINGS, behind_rows, floor_rows


def echo_walls(layout: Layout) -> None:
    """The tables of each wall that has any."""
    figures = layout.job.figures
    for run in layout.runs:
        for headings, rows in (
            (BEHIND_HEADINGS, behind_rows(run, layout.cabinets, figures)),
            (FLOOR_HEADINGS, floor_rows(run, figures)),
        ):
            if found := list(rows):
                click.echo()
                echo_words(f"{run.run.name}:")
                echo_table(headings, found, right=3)


def wall_records(layout: Layout) -> dict[str, object]:
    """The walls of which something follows, under "runs"; nothing where there is none."""
    runs = [record for run in layout.runs if (record := _record(run, layout))]
    return {"runs": runs} if runs else {}


def _record(run: RunLayout, layout: Layout) -> dict[str, object]:
    """What follows along a wall beside its sticks; empty where nothing does.

    ``behind``: features on the back of the cabinet before them, from its left and right edge as seen from the front
    and from its lower edge. ``floor``: what is open under each that stands on the floor.
    """
    units = layout.job.units
    behind = [
        {"cabinet": found.placed.span.name, "name": found.feature.name}
        | twins(units, left=found.left, right=found.right, up=found.up)
        for found in behind_cabinets(run, layout.cabinets)
    ]
    floor = [
        {"name": gap.placed.span.name} | twins(units, left=left, right=right, most=gap.most)
        for gap in gaps_under(run)
        for left, right in [gap.from_left(run)]
    ]
    return {"name": run.run.name, "behind": behind, "floor": floor} if behind or floor else {}
