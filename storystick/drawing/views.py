"""A cabinet at a glance, reduced: from the front, in plan and in section. Not for measuring."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import Final

from storystick.drawing.dimensions import (
    Extent,
    Measure,
    extent,
    measure_at_right,
    measures_at_left,
    measures_below,
)
from storystick.drawing.shapes import Box, Line, Shape
from storystick.job.cabinet import GrooveBack, RabbetBack, Toe
from storystick.job.model import Job
from storystick.layout.cabinets.model import FRAME_ROLES, Axis, Bay, CabinetLayout, Piece, Range, Role

CUT_GREY: Final = 0.72
SEEN_GREY: Final = 0.93
_BEHIND_GREY: Final = 0.82
_OUTLINE_MM: Final = 0.22
_FLOOR_MM: Final = 0.4
_WHITE: Final = 1.0


@dataclass(frozen=True)
class View:
    """A reduced picture in mm: the cabinet's upper left corner is at 0, 0, and it goes down from there.

    ``notes`` are what found no room in it.
    """

    shapes: tuple[Shape, ...]
    notes: tuple[str, ...] = ()

    @cached_property
    def extent(self) -> Extent:
        """How far it reaches, with its figures."""
        return extent(self.shapes)


@dataclass(frozen=True, slots=True)
class Projection:
    """From a cabinet's stations to mm on paper: ``across`` from the left, ``up`` below ``top``."""

    across: Axis
    up: Axis
    top: Fraction
    scale: float

    def x(self, station: Fraction) -> float:
        return float(station) * self.scale

    def y(self, station: Fraction) -> float:
        return float(station - self.top) * self.scale

    def piece(self, piece: Piece, grey: float) -> Iterator[Shape]:
        """A piece filled with its outline."""
        return self.rectangle(piece.along(self.across), piece.along(self.up), grey)

    def rectangle(self, across: Range, up: Range, grey: float) -> Iterator[Shape]:
        left, right, bottom, top = self.x(across.start), self.x(across.end), self.y(up.start), self.y(up.end)
        yield Box(left, bottom, right - left, top - bottom, grey)
        yield from outline(left, bottom, right, top, _OUTLINE_MM)

    def measure_x(self, length: Range, job: Job) -> Measure:
        return Measure(self.x(length.start), self.x(length.end), job.label(length.size))

    def measure_y(self, length: Range, job: Job) -> Measure:
        return Measure(self.y(length.start), self.y(length.end), job.label(length.size))

    def dimensions(self, across: Iterable[Range], up: Iterable[Range], overall: Range, job: Job) -> Iterator[Shape]:
        """Chains of dimensions below and at the left, the overall sizes outside them."""
        left, right = self.x(overall.start), self.x(overall.end)
        floor = self.y(Fraction(0))
        chain = tuple(measures_below([self.measure_x(length, job) for length in across], floor))
        yield from chain
        below = min((extent(chain).bottom, floor)) if chain else floor
        yield from measures_below([self.measure_x(overall, job)], below)
        yield from measures_at_left([self.measure_y(length, job) for length in up], left)
        yield from measure_at_right(self.measure_y(Range(Fraction(0), self.top), job), right)


def outline(left: float, bottom: float, right: float, top: float, width_mm: float) -> Iterator[Shape]:
    """The four sides of a rectangle."""
    for y in (bottom, top):
        yield Line(left, y, right, y, width_mm)
    for x in (left, right):
        yield Line(x, bottom, x, top, width_mm)


def draw_plan(layout: CabinetLayout, job: Job, scale: float) -> View:
    """Looking down through the middle of the row with the most columns, the front below."""
    row = widest_row(layout)
    cut = _middle(Range(min(bay.z.start for bay in row), max(bay.z.end for bay in row)))
    paper = Projection(Axis.X, Axis.Y, layout.cabinet.depth, scale)
    pieces = [piece for piece in layout.pieces if piece.axis is Axis.Z and _holds(piece.z, cut)]
    columns = list({bay.column: bay.x for bay in row}.values())
    overall = Range(Fraction(0), layout.cabinet.width)
    shapes = (
        *_cut(pieces, layout, paper),
        *paper.dimensions(columns, [_inside_depth(layout)], overall, job),
    )
    return View(shapes)


def draw_side_section(layout: CabinetLayout, job: Job, scale: float) -> View:
    """Cut through the column with the most openings and seen from the right, the front at the left."""
    cut = _middle(fullest_column(layout)[0].x)
    paper = Projection(Axis.Y, Axis.Z, layout.cabinet.height, scale)
    level = [piece for piece in layout.pieces if piece.axis is Axis.X or piece.role is Role.BACK]
    heights = [bay.z for bay in layout.bays if _holds(bay.x, cut)]
    overall = Range(Fraction(0), layout.cabinet.depth)
    shapes = (
        *_side_beyond(layout, paper),
        *_cut([piece for piece in level if _holds(piece.x, cut)], layout, paper),
        *_floor(paper, overall),
        *paper.dimensions([_inside_depth(layout)], [*_under(layout), *heights], overall, job),
    )
    return View(shapes)


def widest_row(layout: CabinetLayout) -> list[Bay]:
    """The openings of the first row that has the most columns."""
    columns = max(bay.column for bay in layout.bays)
    row = next(bay.row for bay in layout.bays if bay.column == columns)
    return [bay for bay in layout.bays if bay.row == row]


def fullest_column(layout: CabinetLayout) -> list[Bay]:
    """The openings of the first column that has the most."""
    most = max(layout.bays, key=lambda bay: bay.level)
    return [bay for bay in layout.bays if (bay.row, bay.column) == (most.row, most.column)]


def _cut(pieces: Iterable[Piece], layout: CabinetLayout, paper: Projection) -> Iterator[Shape]:
    """Pieces in section, the back last, lying in what is cut for it."""
    backs = []
    for piece in pieces:
        if piece.role is Role.BACK:
            backs.append(piece)
        else:
            yield from paper.piece(piece, CUT_GREY)
    for back in backs:
        yield from _recess(back, layout, paper)
        yield from paper.piece(back, CUT_GREY)


def _recess(back: Piece, layout: CabinetLayout, paper: Projection) -> Iterator[Shape]:
    """What is cut away behind a back in a rabbet that is wider than the back is thick."""
    behind = layout.case_y.end
    if not isinstance(layout.cabinet.back, RabbetBack) or back.y.end >= behind:
        return
    room = {Axis.X: back.x, Axis.Y: Range(back.y.end, behind), Axis.Z: back.z}
    yield from paper.rectangle(room[paper.across], room[paper.up], _WHITE)


def _side_beyond(layout: CabinetLayout, paper: Projection) -> Iterator[Shape]:
    """The far side's outline, cut back over a toe space."""
    side, base = layout.of(Role.SIDE)[0], layout.cabinet.base
    yield from paper.rectangle(side.y, side.z, _WHITE)
    if isinstance(base, Toe):
        notch = (Range(side.y.start, side.y.start + base.recess), Range(side.z.start, side.z.start + base.height))
        left, right, bottom, top = (
            *(paper.x(notch[0].start), paper.x(notch[0].end)),
            *(paper.y(notch[1].start), paper.y(notch[1].end)),
        )
        yield Box(left - _OUTLINE_MM, bottom - _OUTLINE_MM, right - left + _OUTLINE_MM, top - bottom, _WHITE)
        yield Line(left, top, right, top, _OUTLINE_MM)
        yield Line(right, top, right, bottom, _OUTLINE_MM)


def _floor(paper: Projection, overall: Range) -> Iterator[Shape]:
    floor = paper.y(Fraction(0))
    yield Line(paper.x(overall.start), floor, paper.x(overall.end), floor, _FLOOR_MM)


def _under(layout: CabinetLayout) -> Iterator[Range]:
    """The height of the toe space or the base."""
    if layout.cabinet.base:
        yield Range(Fraction(0), layout.cabinet.base.height)


def _inside_depth(layout: CabinetLayout) -> Range:
    """What is clear from the front edge of the case to the back."""
    inset = isinstance(layout.cabinet.back, RabbetBack | GrooveBack)
    end = layout.of(Role.BACK)[0].y.start if inset else layout.case_y.end
    return Range(layout.case_y.start, end)


def _middle(length: Range) -> Fraction:
    return (length.start + length.end) / 2


def _holds(length: Range, station: Fraction) -> bool:
    return length.start < station < length.end
