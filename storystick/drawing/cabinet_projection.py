"""A cabinet projected in one direction, reduced, with its dimensions. Not for measuring."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import Final

from storystick.drawing.dimensions import Measure, measure_at_right, measures_at_left, measures_below
from storystick.drawing.shapes import Line, Rect, Shape, extent, outline
from storystick.layout.cabinets.pieces import Axis, Piece, Range
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
