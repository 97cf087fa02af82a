"""What a job says of a cabinet, valid at birth. Lengths are exact, in mm; nothing here knows a position."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from typing import TypeAlias

from storystick.job.joints import Joint
from storystick.job.model import Fixed, Graduated, Opening, Share, Stock, numbered_place


class Place(Enum):
    """How a top or a bottom meets the sides: between them, or over their ends."""

    BETWEEN = "between"
    OVER = "over"


class Through(Enum):
    """Which parts run through where shelves and dividers cross."""

    SHELVES = "shelves"
    DIVIDERS = "dividers"


@dataclass(frozen=True, slots=True)
class PartRule:
    """What parts of one kind are made of, and how their ends are let into what they end on (None: butted)."""

    stock: Stock
    joint: Joint | None = None


@dataclass(frozen=True, slots=True)
class EndRule:
    """The same for a top or a bottom, with its place at the sides."""

    stock: Stock
    joint: Joint | None = None
    place: Place = Place.BETWEEN


@dataclass(frozen=True, slots=True)
class RabbetBack:
    """A back in a rabbet: ``width`` along the face of the side from its back edge, ``depth`` into its thickness.

    ``after_painting``: it is fitted dry to square the case, and fastened when all is painted.
    """

    stock: Stock
    width: Fraction
    depth: Fraction
    after_painting: bool = False


@dataclass(frozen=True, slots=True)
class GrooveBack:
    """A back in a groove as wide as itself, ``depth`` deep, ``inset`` from the back edge to the groove's near edge.

    It ends ``gap`` short of the bottom of every groove that it stands in.
    """

    stock: Stock
    depth: Fraction
    inset: Fraction
    gap: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class LaidOnBack:
    """A back laid on the back edges of the case, as wide and as high as the case; ``after_painting`` as in a rabbet."""

    stock: Stock
    after_painting: bool = False


Back: TypeAlias = RabbetBack | GrooveBack | LaidOnBack


@dataclass(frozen=True, slots=True)
class Toe:
    """A toe space under the bottom: the sides run to the floor, cut back over ``height`` by ``recess``
    from the front edge of the case.
    """

    height: Fraction
    recess: Fraction


@dataclass(frozen=True, slots=True)
class Plinth:
    """A base that the case stands on, ``height`` high, set back by ``recess`` from the front edge of the case."""

    stock: Stock
    height: Fraction
    recess: Fraction


class Align(Enum):
    """Which edge of a rail agrees with the part behind it."""

    TOP = "top"
    CENTRE = "centre"
    BOTTOM = "bottom"


@dataclass(frozen=True, slots=True)
class FrameRule:
    """A face frame. ``rail`` and ``mid_stile`` None are as wide as the part behind them is thick.

    The frame stands ``proud_left`` and ``proud_right`` beyond the sides. ``joint`` lets the front edges of the case's
    parts into the back of the frame; ``tenon`` is what each end of a rail or mid stile has beyond its shoulder.
    """

    stock: Stock
    stile: Fraction
    top: Fraction
    bottom: Fraction
    rail: Fraction | None = None
    mid_stile: Fraction | None = None
    align: Align = Align.TOP
    proud_left: Fraction = Fraction(0)
    proud_right: Fraction = Fraction(0)
    joint: Joint | None = None
    tenon: Fraction = Fraction(0)


class FrontKind(Enum):
    """What closes an opening."""

    DRAWER = "drawer"
    DOOR = "door"
    PAIR = "pair of doors"
    NONE = "none"


class Fit(Enum):
    """How fronts sit: inside their openings, or over what is round them."""

    INSET = "inset"
    OVERLAY = "overlay"


class Cut(Enum):
    """How a board was sawn: which of the two coefficients its width moves by."""

    FLAT = "flat"
    QUARTER = "quarter"


@dataclass(frozen=True, slots=True)
class SolidWood:
    """Solid-wood fronts: the ``species`` of the Wood Handbook's table, and moisture contents in per cent.

    ``made_at`` is the content when the front is cut to size; ``driest`` and ``dampest`` are the range of a year.
    ``least_reveal`` is what an inset front keeps across its grain at the dampest (mm); None keeps the whole reveal.
    """

    species: str
    cut: Cut
    made_at: Fraction
    driest: Fraction
    dampest: Fraction
    least_reveal: Fraction | None = None


@dataclass(frozen=True, slots=True)
class FrontRule:
    """Fronts. Inset: ``reveal`` all round and between a pair. Overlay: ``overlay`` beyond the opening at each edge,
    and ``reveal`` between neighbours.
    """

    fit: Fit
    stock: Stock
    reveal: Fraction
    overlay: Fraction = Fraction(0)
    kind: FrontKind = FrontKind.DRAWER
    wood: SolidWood | None = None


@dataclass(frozen=True, slots=True)
class DrawerRule:
    """Drawer boxes: ``stock`` of their sides, and the clear space that each leaves in its opening."""

    stock: Stock
    side: Fraction
    top: Fraction
    bottom: Fraction
    back: Fraction


@dataclass(frozen=True, slots=True)
class Adjustable:
    """Adjustable shelves in an opening: how many, on rows of holes ``pitch`` apart.

    The rows stand ``front`` from the finished front edge of the case, its edging included (behind a face frame from the
    back of the frame), and ``back`` from its back edge. The lowest hole is ``first`` above the bottom of the opening,
    and the highest at least as far below its top. Shelves are ``play`` shorter than the opening is wide,
    and ``depth_play`` less deep than the case is inside.
    """

    count: int
    pitch: Fraction
    first: Fraction
    front: Fraction
    back: Fraction
    play: Fraction
    depth_play: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Compartment:
    """An opening of a column, or a graduated group of them, and what it is fitted with.

    ``front`` None is the cabinet's usual kind.
    """

    item: Opening | Graduated
    front: FrontKind | None = None
    adjustable: Adjustable | None = None


@dataclass(frozen=True, slots=True)
class Column:
    """A column of openings, from the bottom up, ``width`` wide in the clear."""

    width: Fixed | Share
    compartments: tuple[Compartment, ...]


@dataclass(frozen=True, slots=True)
class Row:
    """A band across the cabinet, ``height`` high in the clear, its columns from left to right."""

    height: Fixed | Share
    columns: tuple[Column, ...]


@dataclass(frozen=True, slots=True)
class Cabinet:
    """A cabinet by its overall sizes: with its frame, its laid-on back and its base, but without its fronts.

    ``rows`` are bands from the bottom up. ``edging`` is the thickness of the solid edge that a frameless case has on
    its front edges, within the overall depth. ``number`` counts the job's cabinets from 1.
    """

    number: int
    name: str
    height: Fraction
    width: Fraction
    depth: Fraction
    sides: Stock
    top: EndRule
    bottom: EndRule
    shelves: PartRule
    dividers: PartRule
    rows: tuple[Row, ...]
    through: Through = Through.SHELVES
    back: Back | None = None
    base: Toe | Plinth | None = None
    frame: FrameRule | None = None
    edging: Fraction = Fraction(0)
    fronts: FrontRule | None = None
    drawers: DrawerRule | None = None

    @property
    def place(self) -> str:
        """Where a fault in this cabinet stands, in the words of a message."""
        return numbered_place("cabinet", self.number, self.name)
