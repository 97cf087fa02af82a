"""A cabinet's case, and its bands, columns and openings solved."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import islice, pairwise, zip_longest
from typing import Final

from storystick.errors import Fault, FaultCollector, Where, placed_in
from storystick.job.cabinets import Cabinet
from storystick.job.compartments import Compartment
from storystick.job.fronts import FrontKind
from storystick.job.keys import default_name, numbered_place
from storystick.job.openings import EQUAL, Fixed, Opening, Share
from storystick.job.rows import CabinetColumn, CabinetRow
from storystick.layout.cabinets.backs import back_of
from storystick.layout.cabinets.bases import base_of
from storystick.layout.cabinets.between import (
    Boundary,
    Standing,
    between_bands,
    between_openings,
    boundaries,
    dividers_of,
    shelf_behind,
    standing_above,
)
from storystick.layout.cabinets.closings import kind_of
from storystick.layout.cabinets.cover import Cover, end_levels
from storystick.layout.cabinets.measures import Gap, Measure, Place, count_of, measure_of
from storystick.layout.cabinets.pieces import Case, Range
from storystick.lengths import Figures, Units

_THICKEST: Final = Fraction(254, 10) * 4
"""A part thicker than 4 in was hardly meant in inches (common practice, no source)."""


def outline_case(cabinet: Cabinet, figures: Figures) -> Case:
    """Work out a cabinet's case.

    Raises:
        Fault: its parts leave nothing of an overall size; ``figures`` says the lengths.
    """
    frame, back, base = cabinet.frame, back_of(cabinet), base_of(cabinet)
    # What a frame stands out beyond the sides is within the overall width.
    left, right = (frame.proud_left, frame.proud_right) if frame else (Fraction(0), Fraction(0))
    front = frame.stock.thickness if frame else cabinet.edging_of_sides[0]
    x = _range("width", left, cabinet.width - right, cabinet.width, figures)
    y = _range("depth", front, cabinet.depth - back.behind, cabinet.depth, figures)
    side = cabinet.sides.thickness
    inside_x = _range("width", x.start + side, x.end - side, cabinet.width, figures, side)
    foot = base.foot + base.toe
    bottom, top = end_levels(cabinet, foot, figures)
    box_z, inside_z = (
        _range("height", start, end, cabinet.height, figures) for start, end in zip(bottom, reversed(top), strict=True)
    )
    inner_y = _range("depth", y.start, y.end - back.taken, cabinet.depth, figures)
    # A rabbet is cut in the sides alone, so a top and a bottom between them have to stop before the back.
    end_y = inner_y if back.stops_ends else y
    z = Range(base.foot, cabinet.height)
    foot = inside_z.start if cabinet.bottom.reaches_front else foot
    head = inside_z.end if cabinet.top.reaches_front else cabinet.height
    return Case(x, y, z, inside_x, inside_z, box_z, foot, head, inner_y, end_y)


def _range(
    word: str, start: Fraction, end: Fraction, overall: Fraction, figures: Figures, thick: Fraction = Fraction(0)
) -> Range:
    """Of a case from ``start`` to ``end``; ``thick`` is the part at either end."""
    if end <= start:
        what, cure = (
            f"{word} {figures(overall)} is taken up by the parts",
            f"make the {word} more, or the parts thinner",
        )
        if figures.units is Units.INCH and thick > _THICKEST:
            what += f", {figures(thick)} in thick"
            cure = 'write a thickness in mm with its unit, such as "18.3 mm"'
        raise Fault(f"{what}: nothing is left inside", cure, Where.unsaid(word))
    return Range(start, end)


@dataclass(frozen=True, slots=True, eq=False)
class Cell:
    """An opening in its column, with the name it was given, if any: itself, and equal to no other.

    ``z`` is as the case leaves it clear, ``measured`` as the cabinet's sizes are measured.
    """

    z: Range
    name: str | None
    compartment: Compartment
    measured: Range


@dataclass(frozen=True, slots=True)
class Stack:
    """A column of openings between two uprights, and what stands between them from the bottom up."""

    x: Range
    cells: tuple[Cell, ...]
    between: tuple[Boundary, ...]


@dataclass(frozen=True, slots=True)
class SolvedBand:
    """A band across the case: its stacks from the left, and the dividers between them.

    ``front`` is the one front over all of it, None without one.
    """

    z: Range
    stacks: tuple[Stack, ...]
    dividers: tuple[Range, ...]
    front: FrontKind | None = None


@dataclass(frozen=True, slots=True)
class Grid:
    """A case's bands from the bottom up, and what stands between them."""

    bands: tuple[SolvedBand, ...]
    between: tuple[Boundary, ...]


def solve_grid(cover: Cover, figures: Figures) -> Grid:
    """Give every band, column and opening its place.

    Raises:
        StorystickError: something has no room, told for all bands and columns at once.
    """
    cabinet, collector = cover.cabinet, FaultCollector()
    with collector.at():
        measure = measure_of(cover, figures)
        across, up = measure.whole()
        standing, solver = between_bands(cabinet), _Solver(cabinet, measure, across)
        heights = _divide(solver.heights(), [each.gap(measure) for each in standing], up, measure)
        _check_rails(cabinet, standing)
    collector.raise_any()
    bands = []
    for number, (row, z) in enumerate(zip(cabinet.rows, heights, strict=True), start=1):
        with collector.at(_row_place(row, number) if len(cabinet.rows) > 1 else Where.unsaid(*row.steps)):
            bands.append(solver.band(row, z))
    collector.raise_any()
    return Grid(tuple(bands), boundaries(standing, [z.clear for z in heights]))


@dataclass(frozen=True, slots=True)
class _Solver:
    """Solves the bands of one cabinet, each in its place; ``across`` is what their columns share."""

    cabinet: Cabinet
    measure: Measure
    across: Place

    def band(self, row: CabinetRow, z: Place) -> SolvedBand:
        measure, across = (self.measure.of_case(), _as_clear(self.across)) if row.front else (self.measure, self.across)
        gaps = [measure.upright(dividers_of(self.cabinet, row).stock.thickness)] * (len(row.columns) - 1)
        widths = _divide([column.width for column in row.columns], gaps, across, measure)
        collector = FaultCollector()
        stacks = []
        for number, (column, x) in enumerate(zip(row.columns, widths, strict=True), start=1):
            with collector.at(Where(f"column {number}" if len(row.columns) > 1 else "", column.steps)):
                stacks.append(self.stack(row, column, x.clear, z))
        collector.raise_any()
        dividers = (Range(low.clear.end, high.clear.start) for low, high in pairwise(widths))
        return SolvedBand(z.clear, tuple(stacks), tuple(dividers), row.front)

    def stack(self, row: CabinetRow, column: CabinetColumn, x: Range, z: Place) -> Stack:
        front = row.front or column.front
        # Behind one front nothing is seen of the parts between the openings: their sizes are those of the case.
        measure, z = (self.measure.of_case(), _as_clear(z)) if front else (self.measure, z)
        inside, above = self.standing(row, column)
        if column.compartments[-1].above:
            what = "something is to stand above the highest opening of a column"
            place = Where.unsaid("openings", len(column.compartments) - 1, "above")
            raise Fault(what, "give the above to its row, where another row is over that, or leave it out", place)
        items = [compartment.item for compartment in column.compartments]
        gaps = [each.gap(measure) for each in above]
        with placed_in(Where.unsaid("openings")):
            openings = iter(measure.divide(items, gaps, [inside.gap(measure)] * len(items), z))
        cells: list[Cell] = []
        standing: list[Standing] = []
        for compartment, over in zip(column.compartments, [*above, inside], strict=True):
            places = list(islice(openings, count_of(compartment.item)))
            own = inside
            if compartment.inside:
                own = shelf_behind(self.cabinet, row, front or kind_of(self.cabinet, compartment))
                places = self.inside(compartment, own, places[0][0])
            cells += (Cell(place.clear, name, compartment, place.measured) for place, name in places)
            standing += [*[own] * (len(places) - 1), over]
        return Stack(x, tuple(cells), boundaries(standing[:-1], [cell.z for cell in cells]))

    def standing(self, row: CabinetRow, column: CabinetColumn) -> tuple[Standing, list[Standing]]:
        """What stands inside the groups of a column, and above each of its openings or groups but the highest."""
        front = row.front or column.front
        inside = between_openings(self.cabinet, row, column)
        above = [standing_above(self.cabinet, row, column, compartment) for compartment in column.compartments[:-1]]
        if front:
            inside, *above = (each.set_behind(front, self.cabinet) for each in (inside, *above))
        return inside, above

    def heights(self) -> list[Fixed | Share]:
        """How high each band is said to be; one that says nothing is as high as openings that share nothing."""
        return [row.height or self.come_to(row) for row in self.cabinet.rows]

    def come_to(self, row: CabinetRow) -> Fixed | Share:
        # Behind one front sizes are of the case, and say nothing of what is seen.
        for column in () if row.front else row.columns:
            inside, above = self.standing(row, column)
            items = [compartment.item for compartment in column.compartments]
            gaps, within = [each.gap(self.measure) for each in above], [inside.gap(self.measure)] * len(items)
            if not column.front and (size := self.measure.come_to(items, gaps, within)):
                return Fixed(size)
        return EQUAL

    def inside(self, compartment: Compartment, shelf: Standing, whole: Place) -> list[tuple[Place, str | None]]:
        """The openings between the fixed shelves behind one front."""
        measure, name = self.measure.of_case(), compartment.item.name
        gaps = [shelf.gap(measure)] * (len(compartment.inside) - 1)
        places = _divide(compartment.inside, gaps, _as_clear(whole), measure)
        return [(place, f"{name} {number}" if name else None) for number, place in enumerate(places, start=1)]


def _as_clear(place: Place) -> Place:
    return Place(place.clear, place.clear)


def _divide(sizes: Sequence[Fixed | Share], gaps: Sequence[Gap], within: Place, measure: Measure) -> list[Place]:
    """The places of bands or columns over a stretch, with a gap between each two."""
    items = [Opening(size) for size in sizes]
    return [place for place, _ in measure.divide(items, gaps, [], within)]


def _row_place(row: CabinetRow, number: int) -> Where:
    return Where(numbered_place("row", number, row.name or default_name("row", number)), row.steps)


def _check_rails(cabinet: Cabinet, above: Sequence[Standing]) -> None:
    """Whether each row with a rail of its own has one over it, by what stands above each but the highest."""
    for number, (row, over) in enumerate(zip_longest(cabinet.rows, above), start=1):
        if row.rail is None:
            continue
        where = _row_place(row, number).holding(Where.of("rail"))
        if cabinet.frame is None:
            raise Fault("the cabinet has no face frame, so there is no rail over the row", "leave it out", where)
        if over is None:
            raise Fault("over the highest row lies the top rail", "say its width by top of the frame", where)
        if not over.has_rail:
            raise Fault("nothing stands above the row, and no rail before it", "leave it out", where)
