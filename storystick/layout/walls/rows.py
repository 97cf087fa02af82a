"""What follows along a wall as rows of labels: for the list of marks and for the page that is read at the fixing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from storystick.layout.cabinets.pieces import CabinetLayout
from storystick.layout.runs import RunLayout
from storystick.layout.stations import Layout
from storystick.layout.walls.behind import behind_cabinets
from storystick.layout.walls.floor import gaps_under
from storystick.layout.walls.tops import tops_of
from storystick.lengths import Figures

BEHIND_HEADINGS = ("on the back of", "comes", "from the left", "from the right", "up")
"""The left and the right edge of the back as they are seen from the front of the cabinet, and its lower edge."""

FLOOR_HEADINGS = ("over the floor", "open at left", "at right", "at most")

TOP_HEADINGS = ("countertop", "from", "to", "length", "depth", "thick")


def behind_rows(run: RunLayout, cabinets: Iterable[CabinetLayout], figures: Figures) -> Iterator[tuple[str, ...]]:
    """Features of a wall on the backs of the cabinets before them, under :data:`BEHIND_HEADINGS`."""
    for found in behind_cabinets(run, cabinets):
        yield found.name(figures), found.feature.name, *map(figures, (found.left, found.right, found.up))


def floor_rows(run: RunLayout, figures: Figures) -> Iterator[tuple[str, ...]]:
    """What is open under each that stands on the floor, under :data:`FLOOR_HEADINGS`."""
    for gap in gaps_under(run):
        yield gap.placed.span.name, *map(figures, (*gap.from_left(run), gap.most))


def top_rows(run: RunLayout, runs: Sequence[RunLayout], figures: Figures) -> Iterator[tuple[str, ...]]:
    """The stretches of a run's countertop, under :data:`TOP_HEADINGS`."""
    for top in tops_of(run, runs):
        sizes = (top.x.start, top.x.end, top.length, top.depth, top.stock.thickness)
        yield f"{top.stock.name}: {top.near.value}; {top.far.value}", *map(figures, sizes)


@dataclass(frozen=True, slots=True)
class WallTable:
    """What follows along the ``wall`` of that name, under ``headings``; the last ``right`` columns are figures."""

    wall: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    right: int


def wall_tables(layout: Layout) -> Iterator[WallTable]:
    """The tables of each wall, those that have rows."""
    figures = layout.job.figures
    for run in layout.runs:
        for headings, rows, right in (
            (BEHIND_HEADINGS, behind_rows(run, layout.cabinets, figures), 3),
            (FLOOR_HEADINGS, floor_rows(run, figures), 3),
            (TOP_HEADINGS, top_rows(run, layout.runs, figures), 5),
        ):
            if found := tuple(rows):
                yield WallTable(run.run.name, headings, found, right)
