"""What a job says of a board template, valid at birth. Lengths are exact, in mm, from the board's lower left corner."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from typing import TypeAlias

from storystick.job.model import numbered_place
from storystick.job.outline import Outline, Place


class Along(Enum):
    """Which way something runs on a board: to the right, or up."""

    X = "x"
    Y = "y"


class Edge(Enum):
    """An edge of a board as its template is read."""

    LEFT = "left"
    RIGHT = "right"
    BOTTOM = "bottom"
    TOP = "top"

    @property
    def is_upright(self) -> bool:
        return self in (Edge.LEFT, Edge.RIGHT)


class Face(Enum):
    """A face of a part that others end on from both sides: of a divider left or right, of a shelf lower or upper."""

    LEFT = "left"
    RIGHT = "right"
    LOWER = "lower"
    UPPER = "upper"


@dataclass(frozen=True, slots=True)
class Groove:
    """A groove ``width`` wide. ``at`` is its near edge; it runs from ``start`` to ``end``."""

    along: Along
    at: Fraction
    width: Fraction
    start: Fraction
    end: Fraction
    name: str

    @property
    def corners(self) -> tuple[Place, Place]:
        """Its lower left one and its upper right one."""
        near, far = Place(self.start, self.at), Place(self.end, self.at + self.width)
        return (near, far) if self.along is Along.X else (Place(near.y, near.x), Place(far.y, far.x))


@dataclass(frozen=True, slots=True)
class EdgeRabbet:
    """A rabbet along the whole of an edge, ``width`` wide on the face."""

    edge: Edge
    width: Fraction
    name: str

    def corners(self, width: Fraction, height: Fraction) -> tuple[Place, Place]:
        """Its lower left one and its upper right one, on a board ``width`` by ``height``."""
        zero = Fraction(0)
        left = width - self.width if self.edge is Edge.RIGHT else zero
        bottom = height - self.width if self.edge is Edge.TOP else zero
        right = self.width if self.edge is Edge.LEFT else width
        top = self.width if self.edge is Edge.BOTTOM else height
        return Place(left, bottom), Place(right, top)


@dataclass(frozen=True, slots=True)
class BoredHole:
    """A hole by its centre. ``row`` is the name that all of its row have."""

    at: Place
    diameter: Fraction
    row: str


@dataclass(frozen=True, slots=True)
class Circle:
    """A round cut-out."""

    centre: Place
    diameter: Fraction
    name: str


@dataclass(frozen=True, slots=True)
class FreeBoard:
    """A board template that the job draws itself, within a box ``width`` by ``height``."""

    number: int
    name: str
    width: Fraction
    height: Fraction
    outline: Outline
    grooves: tuple[Groove, ...] = ()
    rabbets: tuple[EdgeRabbet, ...] = ()
    holes: tuple[BoredHole, ...] = ()
    circles: tuple[Circle, ...] = ()

    @property
    def place(self) -> str:
        """Where a fault in this template stands, in the words of a message."""
        return numbered_place("template", self.number, self.name)


@dataclass(frozen=True, slots=True)
class CabinetBoard:
    """A board template of a cabinet's part: of ``board``, the cabinet's name and the part's, on one ``face`` of it."""

    number: int
    name: str
    board: str
    face: Face | None = None

    @property
    def place(self) -> str:
        """Where a fault in this template stands, in the words of a message."""
        return numbered_place("template", self.number, self.name)


Board: TypeAlias = FreeBoard | CabinetBoard
