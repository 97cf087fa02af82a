"""A cabinet in one direction, reduced: how it is projected and dimensioned, its plan and its side section."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import Final

from storystick.drawing.dimensions import Measure, measure_at_right, measures_at_left, measures_below
from storystick.drawing.shapes import Line, Rect, Shape, closed, extent, outline
from storystick.layout.cabinets.pieces import Axis, Bay, CabinetLayout, Piece, Range, Role
from storystick.layout.cabinets.working import cuts_for_back, works_of
from storystick.layout.cabinets.works import WorkKind, front_of
from storystick.lengths import Figures

OUTLINE_MM: Final = 0.22
_FLOOR_MM: Final = 0.4
_OVERHANG_MM: Final = 1.5


@dataclass(frozen=True)
class View:
    """A reduced picture in mm: the cabinet's upper left corner is at 0, 0, and it goes down from there.

    ``notes`` are what found no room in it.
    """

    shapes: tuple[Shape, ...]
    notes: tuple[str, ...] = ()

    @cached_property
    def extent(self) -> Rect:
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
        edges = Rect(self.x(across.start), self.y(up.start), self.x(across.end), self.y(up.end))
        yield edges.filled(grey)
        yield from outline(edges, OUTLINE_MM)

    def measure_x(self, length: Range, figures: Figures) -> Measure:
        return Measure(self.x(length.start), self.x(length.end), figures(length.size))

    def measure_y(self, length: Range, figures: Figures) -> Measure:
        return Measure(self.y(length.start), self.y(length.end), figures(length.size))

    def floor(self, overall: Range) -> Iterator[Shape]:
        """The floor under the cabinet, a little wider than it."""
        level = self.y(Fraction(0))
        ends = (self.x(overall.start) - _OVERHANG_MM, level, self.x(overall.end) + _OVERHANG_MM, level)
        yield Line(*ends, _FLOOR_MM)

    def dimensions(
        self, across: Iterable[Range], up: Iterable[Range], overall: Range, figures: Figures
    ) -> Iterator[Shape]:
        """Chains of dimensions below and at the left, the overall sizes outside them."""
        left, right = self.x(overall.start), self.x(overall.end)
        floor = self.y(Fraction(0))
        inner = [self.measure_x(length, figures) for length in across if length != overall]
        chain = tuple(measures_below(inner, floor)) if inner else ()
        yield from chain
        below = extent(chain).bottom if chain else floor
        yield from measures_below([self.measure_x(overall, figures)], below)
        whole = Range(Fraction(0), self.top)
        yield from measures_at_left([self.measure_y(length, figures) for length in up if length != whole], left)
        yield from measure_at_right(self.measure_y(whole, figures), right)


_CUT_GREY: Final = 0.72
_WHITE: Final = 1.0


def draw_plan(layout: CabinetLayout, figures: Figures, scale: float) -> View:
    """Looking down through the middle of the row with the most columns, the front below."""
    row = widest_row(layout)
    cut = _middle(Range(min(bay.z.start for bay in row), max(bay.z.end for bay in row)))
    paper = Projection(Axis.X, Axis.Y, layout.cabinet.depth, scale)
    pieces = [piece for piece in layout.pieces if piece.axis is Axis.Z and _holds(piece.z, cut)]
    columns = list({bay.column: bay.x for bay in row}.values())
    overall = Range(Fraction(0), layout.cabinet.width)
    shapes = (
        *_cut(pieces, layout, paper),
        *paper.dimensions(columns, [_inside_depth(layout)], overall, figures),
    )
    return View(shapes)


def draw_side_section(layout: CabinetLayout, figures: Figures, scale: float) -> View:
    """Cut through the column with the most openings and seen from the right, the front at the left."""
    cut = _middle(fullest_column(layout)[0].x)
    paper = Projection(Axis.Y, Axis.Z, layout.cabinet.height, scale)
    level = [piece for piece in layout.pieces if piece.axis is Axis.X or piece.role is Role.BACK]
    heights = [bay.z for bay in layout.bays if _holds(bay.x, cut)]
    overall = Range(Fraction(0), layout.cabinet.depth)
    shapes = (
        *_side_beyond(layout, paper),
        *_cut([piece for piece in level if _holds(piece.x, cut)], layout, paper),
        *paper.floor(overall),
        *paper.dimensions([_inside_depth(layout)], [*_under(layout), *heights], overall, figures),
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
            yield from paper.piece(piece, _CUT_GREY)
            yield from _edging(piece, layout, paper)
    for back in backs:
        yield from _recess(back, layout, paper)
        yield from paper.piece(back, _CUT_GREY)


def _edging(piece: Piece, layout: CabinetLayout, paper: Projection) -> Iterator[Shape]:
    """The solid edge before a part of a frameless case."""
    if layout.cabinet.edging and piece.front is not None:
        room = {Axis.X: piece.x, Axis.Y: Range(Fraction(0), layout.cabinet.edging), Axis.Z: piece.z}
        yield from paper.rectangle(room[paper.across], room[paper.up], _CUT_GREY)


def _recess(back: Piece, layout: CabinetLayout, paper: Projection) -> Iterator[Shape]:
    """What is cut away behind a back in a rabbet that is wider than the back is thick."""
    behind = layout.case.y.end
    in_rabbet = any(cut.kind is WorkKind.RABBET for cut in cuts_for_back(layout, layout.sides[0]))
    if in_rabbet and back.y.end < behind:
        room = {Axis.X: back.x, Axis.Y: Range(back.y.end, behind), Axis.Z: back.z}
        yield from paper.rectangle(room[paper.across], room[paper.up], _WHITE)


def _side_beyond(layout: CabinetLayout, paper: Projection) -> Iterator[Shape]:
    """The far side with its edging, cut back over a toe space."""
    side = layout.sides[0]
    front = side.y.start - layout.cabinet.edging
    left, right, foot, top = paper.x(front), paper.x(side.y.end), paper.y(side.z.start), paper.y(side.z.end)
    corners = [(left, top), (right, top), (right, foot), (left, foot)]
    for notch in works_of(layout, side):
        if notch.kind is WorkKind.NOTCH:
            heel, low = paper.x(front_of(side) + notch.across.end), paper.y(side.low_end + notch.along.end)
            corners[-1:] = [(heel, foot), (heel, low), (left, low)]
    yield from closed(corners, OUTLINE_MM)


def _under(layout: CabinetLayout) -> Iterator[Range]:
    """The height of the toe space or the base."""
    if layout.bottom.z.start:
        yield Range(Fraction(0), layout.bottom.z.start)


def _inside_depth(layout: CabinetLayout) -> Range:
    """What is clear from the front edge of the case to the back."""
    return Range(layout.case.y.start, layout.inner_back)


def _middle(length: Range) -> Fraction:
    return (length.start + length.end) / 2


def _holds(length: Range, station: Fraction) -> bool:
    return length.start < station < length.end
