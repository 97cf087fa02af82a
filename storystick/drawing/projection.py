"""A cabinet's stations on reduced paper: the projection, the standard scales, and the two widths of its lines."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import pairwise
from typing import Final

from storystick.drawing.dimensions import Measure
from storystick.drawing.shapes import NARROW_MM, WIDE_MM, Line, Rect, Shape, extent, outline
from storystick.layout.cabinets.pieces import Axis, Piece, Range
from storystick.lengths import INCH_MM, Figures, Units, write_exact

HIDDEN_DASH_MM: Final = (1.6, 1.0)
LEAST_CROSS_MM: Final = 1.3
"""Half of the least square by which a feature of a wall is shown."""

_OVERHANG_MM: Final = 1.5


@dataclass(frozen=True, slots=True)
class Scale:
    """A scale of drawings: ``factor`` is a length on paper over the length itself."""

    words: str
    factor: Fraction


def _to_the_foot(inches: Fraction) -> Scale:
    return Scale(f"{write_exact(inches * INCH_MM, Units.INCH)} in = 1 ft", inches / 12)


def _one_to(times: int) -> Scale:
    return Scale(f"1 : {times}", Fraction(1, times))


STANDARD_SCALES: Final[Mapping[Units, Sequence[Scale]]] = {
    # ISO 5455, table 1: 1, 2 and 5 to a power of ten.
    Units.MM: tuple(map(_one_to, (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000))),
    # Inches to the foot, as architects' scales have them: common practice, no source.
    Units.INCH: tuple(
        map(_to_the_foot, (Fraction(3), *(Fraction(n, 64) for n in (96, 64, 48, 32, 24, 16, 12, 8, 6, 4, 2, 1))))
    ),
}
"""The largest first."""


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

    def rect(self, across: Range, up: Range) -> Rect:
        return Rect(self.x(across.start), self.y(up.start), self.x(across.end), self.y(up.end))

    def piece(self, piece: Piece) -> Iterator[Shape]:
        """A piece that is seen: white, with its outline."""
        return seen(self.rect(piece.along(self.across), piece.along(self.up)))

    def measure_x(self, length: Range, figures: Figures, rank: int = 0) -> Measure:
        return Measure(self.x(length.start), self.x(length.end), figures(length.size), rank)

    def measure_y(self, length: Range, figures: Figures, rank: int = 0) -> Measure:
        return Measure(self.y(length.start), self.y(length.end), figures(length.size), rank)

    def chain_x(self, openings: Sequence[Range], overall: Range, figures: Figures) -> list[Measure]:
        """Openings from the left, and what lies before, between and behind them."""
        return [self.measure_x(length, figures, rank) for length, rank in in_turn(openings, overall)]

    def chain_y(
        self, openings: Sequence[Range], foot: Fraction, figures: Figures, head: Fraction | None = None
    ) -> list[Measure]:
        """The same upward, with what lies under the ``foot`` of the case or the frame as a length of its own, and what
        lies over its ``head`` likewise.
        """
        head = self.top if head is None else head
        over = [self.measure_y(Range(head, self.top), figures)] if head < self.top else []
        below = [self.measure_y(Range(Fraction(0), foot), figures)] if foot else []
        parts = in_turn(openings, Range(foot, head))
        return [*below, *(self.measure_y(length, figures, rank) for length, rank in parts), *over]

    def floor(self, overall: Range) -> Iterator[Shape]:
        """The floor under the cabinet, a little wider than it."""
        level = self.y(Fraction(0))
        ends = (self.x(overall.start) - _OVERHANG_MM, level, self.x(overall.end) + _OVERHANG_MM, level)
        yield Line(*ends, WIDE_MM)


def seen(edges: Rect) -> Iterator[Shape]:
    """A face that is seen: white over what lies behind it, with its outline."""
    yield edges.filled(1.0)
    yield from outline(edges, NARROW_MM)


def hidden(edges: Rect) -> Iterator[Line]:
    """A rectangle that is hidden, or that may be there: its outline in broken lines."""
    for side in outline(edges, NARROW_MM):
        yield Line(side.x1, side.y1, side.x2, side.y2, NARROW_MM, HIDDEN_DASH_MM)


def crossed(x: float, y: float, half: float) -> Iterator[Line]:
    """A crossed square round a middle: a socket or a pipe on the wall, whatever stands before it."""
    yield from outline(Rect(x, y, x, y).wider(half), NARROW_MM)
    yield Line(x - half, y - half, x + half, y + half, NARROW_MM)
    yield Line(x - half, y + half, x + half, y - half, NARROW_MM)


def in_turn(openings: Sequence[Range], overall: Range) -> Iterator[tuple[Range, int]]:
    """Openings, rising, and what lies before, between and behind them, each with the rank of its figure.

    A figure that an earlier part has too is left out before others, then those of all parts.
    """
    ends = [overall.start, *(end for opening in openings for end in (opening.start, opening.end)), overall.end]
    told: set[Fraction] = set()
    for place, (start, end) in enumerate(pairwise(ends)):
        if start < end:
            is_opening = place % 2 == 1
            yield Range(start, end), 0 if is_opening else 2 if end - start in told else 1
            told |= set() if is_opening else {end - start}
