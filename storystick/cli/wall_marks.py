"""What follows along walls, for the list of marks: features on backs of cabinets, and what is open over the floor."""

from __future__ import annotations

import click

from storystick.cli.listing import echo_table, echo_words, twins
from storystick.layout.runs import RunLayout
from storystick.layout.stations import Layout
from storystick.layout.walls.behind import behind_cabinets
from storystick.layout.walls.floor import gaps_under
from storystick.layout.walls.rows import wall_tables
from storystick.layout.walls.tops import tops_of


def echo_walls(layout: Layout) -> None:
    """The tables of each wall that has any."""
    for table in wall_tables(layout):
        click.echo()
        echo_words(f"{table.wall}:")
        echo_table(table.headings, table.rows, right=table.right)


def wall_records(layout: Layout) -> dict[str, object]:
    """The walls of which something follows, under "runs"; nothing where there is none."""
    runs = [record for run in layout.runs if (record := _record(run, layout))]
    return {"runs": runs} if runs else {}


def _record(run: RunLayout, layout: Layout) -> dict[str, object]:
    """What follows along a wall beside its sticks; empty where nothing does.

    ``behind``: features on the back of the cabinet before them, from its left and right edge as seen from the front
    and from its lower edge; ``start`` is where that stands from the datum. ``floor``: what is open under each that
    stands on the floor. ``countertops``: stretches by their stations, with how their ends nearest the datum and
    farthest from it are.
    """
    units = layout.job.units
    behind = [
        {"cabinet": found.placed.span.name, "name": found.feature.name}
        | twins(units, left=found.left, right=found.right, up=found.up, start=found.placed.span.start)
        for found in behind_cabinets(run, layout.cabinets)
    ]
    floor = [
        {"name": gap.placed.span.name} | twins(units, left=left, right=right, most=gap.most)
        for gap in gaps_under(run)
        for left, right in [gap.from_left(run)]
    ]
    tops = [
        {"stock": top.stock.name, "near": top.near.value, "far": top.far.value, "over": [p.span.name for p in top.over]}
        | twins(units, start=top.x.start, end=top.x.end, length=top.length, depth=top.depth, height=top.z.start)
        for top in tops_of(run, layout.runs)
    ]
    if not behind and not floor and not tops:
        return {}
    return {"name": run.run.name, "behind": behind, "floor": floor, "countertops": tops}
