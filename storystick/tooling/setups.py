"""How a tool is set, exact, in mm: grooves and cuts, and their parts in the words of whoever stands at the machine."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from typing import Final, NamedTuple

from storystick.job.tools import Purpose
from storystick.layout.cabinets.pieces import FRAME_ROLES, Piece
from storystick.layout.cabinets.works import Surface, surface_words
from storystick.layout.stations import Face
from storystick.tooling.cautions import Caution
from storystick.wording import by_number


@dataclass(frozen=True, slots=True)
class Bar:
    """A spacer bar: as wide as from a router's base edge to the near edge of the cut.

    ``near`` is that width as computed from base and bit, and ``far`` the same to the far edge of the cut; ``measured``
    is what trial cuts proved instead of ``near``, and is used once it is there.
    """

    name: str
    router: str
    edge: str
    bit: str
    diameter: Fraction
    near: Fraction
    measured: Fraction | None = None

    @property
    def used(self) -> Fraction:
        """The width that settings are worked out with."""
        return self.near if self.measured is None else self.measured

    @property
    def far(self) -> Fraction:
        return self.near + self.diameter


class Side(Enum):
    """Where the straightedge lies, seen from the groove."""

    DATUM = "datum side"
    FAR = "far side"


@dataclass(frozen=True, slots=True)
class GrooveSetup:
    """How one groove of a stick is cut with a router against a straightedge.

    ``straightedge`` is the station of the line that the straightedge is clamped to, None where no router and bit serve
    or where it would lie off the board.
    ``shims`` are the strips between straightedge and base, one a pass, the widest first and the last 0. ``depths`` are
    the bit's depths, pass by pass, the last the groove's own. ``is_rabbet`` is for a rabbet at the end of the board.
    ``stopped`` is from where to where it runs, from the front edge, where it does not run right across the board.
    ``face`` is that of a cabinet's board which the stick is for.
    """

    stick: str
    name: str
    start: Fraction
    end: Fraction
    depth: Fraction
    bar: Bar | None = None
    side: Side | None = None
    straightedge: Fraction | None = None
    shims: tuple[Fraction, ...] = ()
    depths: tuple[Fraction, ...] = ()
    warnings: tuple[str, ...] = ()
    is_rabbet: bool = False
    stopped: tuple[Fraction, Fraction] | None = None
    face: Face | None = None

    @property
    def width(self) -> Fraction:
        return self.end - self.start

    @property
    def board(self) -> str:
        """The stick less which face of its board it is for."""
        return f"{self.face.cabinet} {self.face.board}" if self.face else self.stick


class Posture(Enum):
    """How a part goes over the saw."""

    FLAT = "flat"
    STANDING = "standing"


@dataclass(frozen=True, slots=True)
class Removed:
    """A rectangle of a part's section at the saw, in mm from the fence and above the table."""

    left: Fraction
    bottom: Fraction
    right: Fraction
    top: Fraction


@dataclass(frozen=True, slots=True)
class SawCut:
    """One cut at the table saw.

    ``height`` is the blade's above the table; ``fence_near`` and ``fence_far`` are from the fence to the near and
    the far side of the blade, a kerf apart. ``down`` is what lies on the table and ``against`` what runs on the fence.
    A ``fence_near`` below 0 lets the blade into a facing on the fence, by so much. ``passes`` is how often it is run,
    the part drawn away from the fence each time, by a kerf or less, until its end is reached. ``purpose`` is what
    kind of work it is, and ``why`` says why it is done with this saw, of those that the shop has.

    ``work`` is what the cuts of one ``operation`` make together: those of one number belong to it, in their order.
    ``step`` is what this one is of it, such as "pass 1 of 2"; empty where it is all of it.

    For its picture: how the part goes over the saw and how thick it is, what earlier cuts of the same joint took
    (``gone``), and the ``waste`` that this one frees.
    """

    part: str
    work: str
    step: str
    saw: str
    height: Fraction
    fence_near: Fraction
    fence_far: Fraction
    down: str
    against: str
    check: str
    posture: Posture
    thickness: Fraction
    cautions: tuple[Caution, ...] = ()
    passes: int = 1
    gone: tuple[Removed, ...] = ()
    waste: Removed | None = None
    purpose: Purpose = Purpose.GROOVES
    why: str = ""
    operation: int = 0

    @property
    def cut(self) -> str:
        """What is cut, and which step of it this is."""
        return ", ".join(filter(None, (self.work, self.step)))

    @property
    def setting(self) -> tuple[object, ...]:
        """How the saw is set and what is seen of the cut: alike for all parts that are cut so."""
        how = (self.saw, self.height, self.fence_near, self.fence_far, self.posture, self.passes)
        return (self.work, self.step, *how, self.thickness, self.gone, self.waste)

    @property
    def lies(self) -> str:
        """How the part lies, in a sentence or two."""
        return f"On the table: {self.down}. On the fence: {self.against}."

    @property
    def kerf(self) -> Fraction:
        return self.fence_far - self.fence_near

    @property
    def caution(self) -> str:
        """All that is to be minded at this cut."""
        return " ".join(map(str, self.cautions))


INSIDE: Final = "inside face"
OUTSIDE: Final = "outside face"
"""What both of a pair have, whichever of them it is."""


class Faces(NamedTuple):
    """The faces of a part: the one toward the datum, lower or left, and the one opposite."""

    low: str
    high: str


def faces_of(piece: Piece) -> Faces:
    """The faces of a part; a side's are its outside and its inside, a frame's member's its front and its back."""
    if piece.role in FRAME_ROLES:
        return Faces("front face", "back face")
    return Faces(surface_words(piece, Surface.LOW), surface_words(piece, Surface.HIGH))


def names_of(pieces: Iterable[Piece]) -> str:
    """The parts by their cabinets, those that have the same ones together, with what their names share said once."""
    cabinets: dict[str, list[Piece]] = {}
    for piece in pieces:
        cabinets.setdefault(piece.cabinet.name, []).append(piece)
    alike: dict[str, list[str]] = {}
    for own in cabinets.values():
        alike.setdefault(_joined(own), []).append(own[0].cabinet.name)
    return "; ".join(_of_cabinets(names, joined) for joined, names in alike.items())


def _of_cabinets(names: Sequence[str], parts: str) -> str:
    return f"{names[0]} {parts}" if len(names) == 1 else f"{', '.join(by_number(names))}: {parts}"


def _joined(pieces: Sequence[Piece]) -> str:
    """ "shelf 1", "shelf 2" as "shelf 1, 2", "left side", "right side" as "both sides"."""
    hands = Counter(piece.role for piece in pieces if piece.hand)
    names = (f"both {piece.role.value}s" if hands[piece.role] == 2 else piece.name for piece in pieces)
    return ", ".join(by_number(names))
