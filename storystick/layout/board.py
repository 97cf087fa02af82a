"""A panel's face: where everything on it lies, exact, in mm from its lower left corner, x to the right and y up."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from typing import Final

from storystick.layout.cabinets.pieces import Range
from storystick.outline import Outline, Place

FRONT: Final = "FRONT"


class CutKind(Enum):
    """What is cut into a face."""

    GROOVE = "groove"
    RABBET = "rabbet"
    SLOT = "slot"


@dataclass(frozen=True, slots=True)
class Cut:
    """A groove or a rabbet, by its edges on the face."""

    kind: CutKind
    name: str
    x: Range
    y: Range

    @property
    def along_x(self) -> bool:
        """Whether it is longer to the right than up."""
        return self.x.size > self.y.size


@dataclass(frozen=True, slots=True)
class FineLine:
    """A level or upright line that something ends at: a shoulder, or the edge of a part that is not let in."""

    name: str
    start: Place
    end: Place

    @property
    def is_level(self) -> bool:
        return self.start.y == self.end.y


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole by its centre; ``row`` is the name that all of its row have, ``diameter`` None is left to the bit."""

    row: str
    at: Place
    diameter: Fraction | None = None


@dataclass(frozen=True, slots=True)
class CutOut:
    """A round cut-out."""

    name: str
    centre: Place
    diameter: Fraction


@dataclass(frozen=True, slots=True)
class EdgeWords:
    """What stands at each edge of a face: which way it lies in the cabinet; empty where it does not matter."""

    left: str = ""
    right: str = ""
    bottom: str = ""
    top: str = ""


@dataclass(frozen=True, slots=True)
class BoardLayout:
    """A board by its name and one of its faces, within a box ``width`` by ``height``."""

    name: str
    width: Fraction
    height: Fraction
    outline: Outline
    face: str = ""
    edges: EdgeWords = EdgeWords()
    cuts: tuple[Cut, ...] = ()
    lines: tuple[FineLine, ...] = ()
    holes: tuple[Hole, ...] = ()
    cut_outs: tuple[CutOut, ...] = ()

    def x_station(self, x: Fraction) -> Fraction:
        """What a place to the right is called: how far it is from the front, where that is at the right."""
        return self.width - x if self.edges.right == FRONT else x

    def y_station(self, y: Fraction) -> Fraction:
        """The same upward."""
        return self.height - y if self.edges.top == FRONT else y

    @property
    def x_datum(self) -> str:
        """The edge that stations to the right are told from."""
        return "front" if FRONT in {self.edges.left, self.edges.right} else "left"

    @property
    def y_datum(self) -> str:
        """The edge that stations upward are told from."""
        return "front" if FRONT in {self.edges.bottom, self.edges.top} else "bottom"

    @property
    def marks_x(self) -> tuple[Fraction, ...]:
        """Every station to the right that something is struck or bored at, each once, rising from 0 to the width."""
        edges = {edge for cut in self.cuts for edge in (cut.x.start, cut.x.end)}
        ends = {place.x for line in self.lines for place in (line.start, line.end)}
        return self._rising(edges | ends | {place.x for place in self._centres} | self._rims(0), self.width)

    @property
    def marks_y(self) -> tuple[Fraction, ...]:
        """The same upward, from 0 to the height."""
        edges = {edge for cut in self.cuts for edge in (cut.y.start, cut.y.end)}
        ends = {place.y for line in self.lines for place in (line.start, line.end)}
        return self._rising(edges | ends | {place.y for place in self._centres} | self._rims(1), self.height)

    @property
    def _centres(self) -> tuple[Place, ...]:
        cut_outs = (cut_out.centre for cut_out in self.cut_outs)
        return (*self.outline.corners, *(hole.at for hole in self.holes), *cut_outs)

    def _rims(self, axis: int) -> set[Fraction]:
        """Where a cut-out reaches farthest along an axis."""
        return {cut_out.centre[axis] + sign * cut_out.diameter / 2 for cut_out in self.cut_outs for sign in (-1, 1)}

    @staticmethod
    def _rising(stations: set[Fraction], length: Fraction) -> tuple[Fraction, ...]:
        return tuple(sorted(stations | {Fraction(0), length}))
