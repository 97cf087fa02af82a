"""Solving a cabinet's bands, columns and openings, level by level, in the same way as a stick's."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from storystick.errors import Fault, FaultCollector
from storystick.job.cabinets import Cabinet, CabinetColumn, CabinetRow, Compartment, Through
from storystick.job.openings import Graduated, Item, Opening, Part, Stock
from storystick.layout.cabinets.pieces import Case, Range
from storystick.layout.solving import Solved, solve_items
from storystick.lengths import Figures


@dataclass(frozen=True, slots=True)
class Cell:
    """An opening in its column, with the name it was given, if any."""

    z: Range
    name: str | None
    compartment: Compartment


@dataclass(frozen=True, slots=True)
class Stack:
    """A column of openings between two uprights, and the shelves between them from the bottom up."""

    x: Range
    cells: tuple[Cell, ...]
    shelves: tuple[Range, ...]


@dataclass(frozen=True, slots=True)
class SolvedBand:
    """A band across the case: its stacks from the left, and the dividers between them."""

    z: Range
    stacks: tuple[Stack, ...]
    dividers: tuple[Range, ...]


@dataclass(frozen=True, slots=True)
class Grid:
    """A case's bands from the bottom up, and the shelves between them."""

    bands: tuple[SolvedBand, ...]
    shelves: tuple[Range, ...]


def solve_grid(cabinet: Cabinet, case: Case, figures: Figures) -> Grid:
    """Give every band, column and opening its place.

    Raises:
        StorystickError: something has no room, told for all bands and columns at once.
    """
    collector = FaultCollector()
    with collector.at():
        heights, shelves = _divide(
            [Opening(row.height) for row in cabinet.rows], cabinet.shelves.stock, case.inside_z, figures
        )
    collector.raise_any()
    bands = []
    for number, (row, z) in enumerate(zip(cabinet.rows, heights, strict=True), start=1):
        with collector.at(f"row {number}" if len(cabinet.rows) > 1 else ""):
            bands.append(_solve_band(row, z, cabinet, case, figures))
    collector.raise_any()
    if cabinet.through is Through.DIVIDERS:
        _check_dividers_agree(bands)
    return Grid(tuple(bands), tuple(shelves))


def _solve_band(row: CabinetRow, z: Range, cabinet: Cabinet, case: Case, figures: Figures) -> SolvedBand:
    widths, dividers = _divide(
        [Opening(column.width) for column in row.columns], cabinet.dividers.stock, case.inside_x, figures
    )
    collector = FaultCollector()
    stacks = []
    for number, (column, x) in enumerate(zip(row.columns, widths, strict=True), start=1):
        with collector.at(f"column {number}" if len(row.columns) > 1 else ""):
            stacks.append(_solve_stack(column, x, z, cabinet.shelves.stock, figures))
    collector.raise_any()
    return SolvedBand(z, tuple(stacks), tuple(dividers))


def _solve_stack(column: CabinetColumn, x: Range, z: Range, shelf: Stock, figures: Figures) -> Stack:
    items = [_with_shelves(compartment.item, shelf) for compartment in column.compartments]
    solved = solve_items(_between(items, shelf), z.size, figures)
    openings, shelves = _place(solved, z.start)
    compartments = [compartment for compartment in column.compartments for _ in range(_openings_in(compartment.item))]
    names = [row.name for row in solved if row.part is None]
    cells = (
        Cell(place, name, compartment) for place, name, compartment in zip(openings, names, compartments, strict=True)
    )
    return Stack(x, tuple(cells), tuple(shelves))


def _divide(
    openings: Sequence[Opening], between: Stock, within: Range, figures: Figures
) -> tuple[list[Range], list[Range]]:
    """The places of some openings and of the parts between them, over a range."""
    return _place(solve_items(_between(openings, between), within.size, figures), within.start)


def _between(items: Sequence[Item], stock: Stock) -> list[Item]:
    """The items with a part between each two."""
    spaced = [thing for item in items for thing in (Part(stock), item)]
    return spaced[1:]


def _with_shelves(item: Opening | Graduated, shelf: Stock) -> Opening | Graduated:
    return replace(item, between=Part(shelf)) if isinstance(item, Graduated) else item


def _openings_in(item: Opening | Graduated) -> int:
    return item.count if isinstance(item, Graduated) else 1


def _place(solved: Sequence[Solved], start: Fraction) -> tuple[list[Range], list[Range]]:
    """Openings and parts end to end from ``start``."""
    openings: list[Range] = []
    parts: list[Range] = []
    for row in solved:
        (openings if row.part is None else parts).append(Range(start, start + row.size))
        start += row.size
    return openings, parts


def _check_dividers_agree(bands: Sequence[SolvedBand]) -> None:
    for number, band in enumerate(bands[1:], start=2):
        if band.dividers != bands[0].dividers:
            raise Fault(
                f"dividers run through, but row {number} has other columns than row 1",
                'give every row the same column widths, or leave out through = "dividers"',
            )
