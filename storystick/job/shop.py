"""What a shop has, valid at birth: what outlives a job. Lengths are exact, in mm."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from typing import Final

from storystick.job.model import Source
from storystick.lengths import INCH_MM, Units

BASE_EDGE: Final = "base"
"""The edge of a base that has one only."""

RULE_READ_TO: Final = {Units.INCH: INCH_MM / 64, Units.MM: Fraction(1, 2)}
"""The finest division of a steel rule that is read in the shop, in mm: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Edge:
    """An edge of a router's base that is run against a straightedge, ``to_centre`` mm from the collet's centre."""

    name: str
    to_centre: Fraction

    def takes(self, bit: Bit) -> bool:
        """Whether the base stands out beyond the bit, so that there is room for a bar."""
        return self.to_centre > bit.diameter / 2


@dataclass(frozen=True, slots=True)
class Router:
    """A router. A ``round`` base has one edge all round; a flat one has an edge or more of their own.

    ``turns`` are trial cuts with the base turned by a quarter each, for a base that may be off centre: the distance
    from the straightedge to the near edge of each cut, with the marks 1 to 4 toward the straightedge in turn. Empty
    where they were not made.
    """

    name: str
    edges: tuple[Edge, ...]
    round: bool
    turns: tuple[Fraction, ...] = ()


@dataclass(frozen=True, slots=True)
class Bit:
    """A straight bit. ``pass_depth`` is the most it takes in depth at once, None for half its diameter."""

    name: str
    diameter: Fraction
    pass_depth: Fraction | None = None


@dataclass(frozen=True, slots=True)
class BarRecord:
    """A spacer bar that the shop has or wants, for a router's edge and a bit; ``measured`` is its proved width."""

    name: str
    router: str
    edge: str
    bit: str
    measured: Fraction | None = None


class Purpose(Enum):
    """What a saw can be kept for; the word is the one in the shop file."""

    TONGUES = "tongues"
    RABBETS = "rabbets"
    GROOVES = "grooves"


@dataclass(frozen=True, slots=True)
class Saw:
    """A table saw, or a cutter set that goes on it, with the width of its cut.

    ``purposes`` are what it is for; empty for whatever no other saw is named for.
    """

    name: str
    kerf: Fraction
    purposes: tuple[Purpose, ...] = ()


@dataclass(frozen=True, slots=True)
class Sawing:
    """How a shop saws, in mm; None for what is usual in the job's units.

    Nothing taller or longer than ``on_end`` is stood on its end or edge at the fence. What is narrower than ``narrow``
    is not grooved by itself.
    """

    on_end: Fraction | None = None
    narrow: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Routing:
    """How a shop routs, in mm; None for what is usual in the job's units.

    A bit that is narrower than a groove by no more than ``bit_under`` cuts it at once. No shim is made that is thinner
    than ``least_shim``.
    """

    bit_under: Fraction | None = None
    least_shim: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Rod:
    """A pinch rod, by its shortest and its longest reach."""

    name: str
    closed: Fraction
    open: Fraction


@dataclass(frozen=True, slots=True)
class RodStock:
    """What pinch rods are made of: sticks ``section`` mm square, two of which overlap by ``overlap`` mm or more.

    An overlap of eight sections keeps two sticks straight in one hand: common practice, no source.
    """

    section: Fraction = Fraction(3, 4) * INCH_MM
    overlap: Fraction = 6 * INCH_MM


@dataclass(frozen=True, slots=True)
class Glue:
    """A glue by its assembly times, in minutes from the first spread: parts may lie open so long, and be moved and
    drawn together under clamps so long. Open assembly is counted within the closed one. ``clamp_time`` is how many
    minutes the clamps stay on then; None where the shop does not say."""

    name: str
    open: Fraction
    closed: Fraction
    clamp_time: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Clamp:
    """Clamps of one length: ``count`` of them, whose jaws open to ``opens`` mm."""

    name: str
    opens: Fraction
    count: int


@dataclass(frozen=True, slots=True)
class GlueUp:
    """How a shop glues up: minutes that a glued joint, a clamp and a pin take one person; its cauls' thickness in mm.

    A ``stiff_caul`` is laid along a face frame: a board on edge, so that few clamps serve; its height is common
    practice, no source.

    The minutes are common practice, no source: a minute spreads both faces of a joint and puts it in its place, half a
    minute sets a clamp, ten seconds drive a pin or a screw. What is laid on is put in its place once, so each of its
    edges takes half a joint's minutes and the whole another half. So taken, a case with a dozen compartments comes to
    about 45, which is what one person is said to take for bringing it together under clamps; a test holds it between
    30 and 60.
    """

    joint_minutes: Fraction = Fraction(1)
    clamp_minutes: Fraction = Fraction(1, 2)
    caul: Fraction = Fraction(3, 2) * INCH_MM
    pin_minutes: Fraction = Fraction(1, 6)
    stiff_caul: Fraction = Fraction(7, 2) * INCH_MM


@dataclass(frozen=True, slots=True)
class Printer:
    """A printer's correction: what a length must be drawn times, ``along`` and ``across`` the feed, to come out true.

    Along is the way of a sheet's long side, or of a roll's length. ``along_within`` and ``across_within`` are the
    shares of a length that may still be wrong, from how finely the test sheet could be read; None where that is not
    known. ``paper`` and ``date`` say what it was measured on, and when, in the user's words.
    """

    name: str
    along: Fraction
    across: Fraction
    along_within: Fraction | None = None
    across_within: Fraction | None = None
    paper: str | None = None
    date: str | None = None


@dataclass(frozen=True, slots=True)
class Shop:
    """The shop file: routers, bits, bars, saws, pinch rods, printers, glues and clamps in the order of the file.

    ``square`` is the most that two diagonals may differ by, in mm; None for what is usual at their size.
    ``reading_error`` is what a reading of a tape may be off by, in mm; None for one division of it. ``source`` is
    the file itself, so that it can travel with the job.
    """

    routers: tuple[Router, ...] = ()
    bits: tuple[Bit, ...] = ()
    bars: tuple[BarRecord, ...] = ()
    saws: tuple[Saw, ...] = ()
    rods: tuple[Rod, ...] = ()
    printers: tuple[Printer, ...] = ()
    source: Source | None = None
    square: Fraction | None = None
    rod_stock: RodStock = RodStock()
    glues: tuple[Glue, ...] = ()
    glue_up: GlueUp = GlueUp()
    clamps: tuple[Clamp, ...] = ()
    reading_error: Fraction | None = None
    sawing: Sawing = Sawing()
    routing: Routing = Routing()
