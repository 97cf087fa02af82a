"""A cabinet's case, and its bands, columns and openings solved."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise, zip_longest

from storystick.errors import Fault, FaultCollector
from storystick.job.cabinets import Cabinet, CabinetColumn, CabinetRow, Compartment
from storystick.job.cases import EndPlace, EndRule
from storystick.job.openings import Graduated, Opening, Part
from storystick.layout.cabinets.backs import back_of
from storystick.layout.cabinets.bases import base_of
from storystick.layout.cabinets.between import (
    Boundary,
    between_bands,
    between_openings,
    boundaries,
    standing_above,
)
from storystick.layout.cabinets.frame import end_levels
from storystick.layout.cabinets.pieces import Case, Range
from storystick.layout.solving import solve_items
from storystick.lengths import Figures


def outline_case(cabinet: Cabinet, figures: Figures) -> Case:
    """Work out a cabinet's case.

    Raises:
        Fault: its parts leave nothing of an overall size; ``figures`` says the lengths.
    """
    frame, back, base = cabinet.frame, back_of(cabinet), base_of(cabinet)
    # What a frame stands out beyond the sides is within the overall width.
    left, right = (frame.proud_left, frame.proud_right) if frame else (Fraction(0), Fraction(0))
    front = frame.stock.thickness if frame else cabinet.edging
    x = _range("width", left, cabinet.width - right, cabinet.width, figures)
    y = _range("depth", front, cabinet.depth - back.behind, cabinet.depth, figures)
    side = cabinet.sides.thickness
    inside_x = _range("width", x.start + side, x.end - side, cabinet.width, figures)
    foot = base.foot + base.toe
    bottom_z, top_z = end_levels(cabinet, foot, figures)
    inside_z = _range("height", bottom_z.end, top_z.start, cabinet.height, figures)
    inner_y = _range("depth", y.start, y.end - back.taken, cabinet.depth, figures)
    # A rabbet is cut in the sides alone, so a top and a bottom between them have to stop before the back.
    end_y = inner_y if back.stops_ends else y
    z = Range(base.foot, cabinet.height)
    return Case(x, y, z, inside_x, inside_z, bottom_z, top_z, foot, inner_y, end_y)


def stands_between(rule: EndRule) -> bool:
    """Whether a top or bottom stands between the sides."""
    return rule.place is EndPlace.BETWEEN


def _range(word: str, start: Fraction, end: Fraction, overall: Fraction, figures: Figures) -> Range:
    if end <= start:
        raise Fault(
            f"{word} {figures(overall)} is taken up by the parts: nothing is left inside",
            f"make the {word} more, or the parts thinner",
        )
    return Range(start, end)


@dataclass(frozen=True, slots=True)
class Cell:
    """An opening in its column, with the name it was given, if any."""

    z: Range
    name: str | None
    compartment: Compartment


@dataclass(frozen=True, slots=True)
class Stack:
    """A column of openings between two uprights, and what stands between them from the bottom up."""

    x: Range
    cells: tuple[Cell, ...]
    between: tuple[Boundary, ...]


@dataclass(frozen=True, slots=True)
class SolvedBand:
    """A band across the case: its stacks from the left, and the dividers between them."""

    z: Range
    stacks: tuple[Stack, ...]
    dividers: tuple[Range, ...]


@dataclass(frozen=True, slots=True)
class Grid:
    """A case's bands from the bottom up, and what stands between them."""

    bands: tuple[SolvedBand, ...]
    between: tuple[Boundary, ...]


def solve_grid(cabinet: Cabinet, case: Case, figures: Figures) -> Grid:
    """Give every band, column and opening its place.

    Raises:
        StorystickError: something has no room, told for all bands and columns at once.
    """
    collector = FaultCollector()
    with collector.at():
        standing = between_bands(cabinet)
        heights = _divide(
            [Opening(row.height) for row in cabinet.rows], [each.part for each in standing], case.inside_z, figures
        )
    collector.raise_any()
    bands = []
    for number, (row, z) in enumerate(zip(cabinet.rows, heights, strict=True), start=1):
        with collector.at(f"row {number}" if len(cabinet.rows) > 1 else ""):
            bands.append(_solve_band(row, z, cabinet, case, figures))
    collector.raise_any()
    return Grid(tuple(bands), boundaries(standing, heights))


def _solve_band(row: CabinetRow, z: Range, cabinet: Cabinet, case: Case, figures: Figures) -> SolvedBand:
    divider = Part(cabinet.dividers.stock)
    widths = _divide(
        [Opening(column.width) for column in row.columns], [divider] * (len(row.columns) - 1), case.inside_x, figures
    )
    collector = FaultCollector()
    stacks = []
    for number, (column, x) in enumerate(zip(row.columns, widths, strict=True), start=1):
        with collector.at(f"column {number}" if len(row.columns) > 1 else ""):
            stacks.append(_solve_stack(cabinet, row, column, x, z, figures))
    collector.raise_any()
    return SolvedBand(z, tuple(stacks), tuple(Range(low.end, high.start) for low, high in pairwise(widths)))


def _solve_stack(
    cabinet: Cabinet, row: CabinetRow, column: CabinetColumn, x: Range, z: Range, figures: Figures
) -> Stack:
    inside = between_openings(cabinet, row, column)
    above = [standing_above(cabinet, row, column, compartment) for compartment in column.compartments[:-1]]
    if column.compartments[-1].above:
        what = "something is to stand above the highest opening of a column"
        raise Fault(what, "say it of the row below, or leave it out")
    items = [_with_parts(compartment.item, inside.part) for compartment in column.compartments]
    openings = _place(items, [each.part for each in above], z, figures)
    counts = [_openings_in(compartment.item) for compartment in column.compartments]
    compartments = [
        compartment for compartment, count in zip(column.compartments, counts, strict=True) for _ in range(count)
    ]
    standing = [
        each for count, over in zip(counts, [*above, inside], strict=True) for each in (*[inside] * (count - 1), over)
    ][:-1]
    cells = (Cell(place, name, compartment) for (place, name), compartment in zip(openings, compartments, strict=True))
    return Stack(x, tuple(cells), boundaries(standing, [place for place, _ in openings]))


def _divide(
    openings: Sequence[Opening], between: Sequence[Part | None], within: Range, figures: Figures
) -> list[Range]:
    """The places of some openings over a range, with a part or nothing between each two."""
    return [place for place, _ in _place(openings, between, within, figures)]


def _place(
    items: Sequence[Opening | Graduated], between: Sequence[Part | None], within: Range, figures: Figures
) -> list[tuple[Range, str | None]]:
    """The same with the name that each was given."""
    spaced = [thing for item, part in zip_longest(items, between) for thing in (item, part) if thing]
    places = []
    at = within.start
    for row in solve_items(spaced, within.size, figures):
        if row.part is None:
            places.append((Range(at, at + row.size), row.name))
        at += row.size
    return places


def _with_parts(item: Opening | Graduated, part: Part | None) -> Opening | Graduated:
    return replace(item, between=part) if isinstance(item, Graduated) else item


def _openings_in(item: Opening | Graduated) -> int:
    return item.count if isinstance(item, Graduated) else 1
