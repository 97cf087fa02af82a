"""Clamps and cauls where bars can pass, and what fastens a back or a plinth instead. All lengths in mm.

A bar does not go through a panel. Across a case it passes before the front edges and behind the back ones, so that
bowed cauls have to carry the pressure over the panel; round an edge that is free it may stand anywhere.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction
from math import ceil
from typing import Final

from storystick.gluing.joints import GluedJoint, Pressing
from storystick.job.shop import GlueUp
from storystick.layout.cabinets.pieces import FRAME_ROLES, Axis, Ending, Piece, Range, Role
from storystick.lengths import INCH_MM

FEWEST: Final = 2
"""Clamps on a line at least, one near each end; on a rail of a frame one above and one below, so that it stays flat.
Common practice, no source."""

PIN_SPACING: Final = 6 * INCH_MM
"""Pins or screws are so far apart at most, along the middle of the lap: common practice, no source."""

_ACROSS: Final = {Axis.X: Axis.Z, Axis.Z: Axis.X, Axis.Y: Axis.X}
"""Along which direction lines lie beside each other that are pressed in this one."""


class Held(Enum):
    """How the clamps of a line stand: at the front and back edges of a case; one on each face of a narrow member;
    evenly along; evenly along a stiff caul; at the ends of a bowed caul from edge to edge; or pins in their place."""

    EDGES = "edges"
    FACES = "faces"
    SPACED = "spaced"
    STIFF = "stiff caul"
    BOWED = "bowed caul"
    PINNED = "pins"


@dataclass(frozen=True, slots=True)
class Block:
    """What is put into an empty place in a line, ``length`` long, ``between`` two parts, so that it takes the push."""

    length: Fraction
    between: tuple[str, str]


@dataclass(frozen=True, slots=True)
class ClampLine:
    """Joints in one line, ``length`` long, that the same clamps press through ``through`` mm of wood.

    What is fastened has ``pins`` (or screws) instead, and neither clamps nor cauls. ``jaws`` is how far the clamps
    open for it, cauls and free tongues counted in; ``notched`` are the parts whose free tongues a jaw comes over, so
    that the caul there is notched, and where it is ``framed`` they are tenons of a face frame; ``blocks`` fill the
    places where the line meets nothing.
    """

    joints: tuple[GluedJoint, ...]
    length: Fraction
    through: Fraction
    held: Held
    clamps: int
    cauls: int
    pins: int = 0
    jaws: Fraction = Fraction(0)
    notched: tuple[str, ...] = ()
    blocks: tuple[Block, ...] = ()
    framed: bool = False

    @property
    def bowed(self) -> bool:
        """Whether bowed cauls have a clamp at either end, rather than clamps evenly along them."""
        return self.held in (Held.EDGES, Held.BOWED)

    @property
    def spacing(self) -> Fraction:
        """From clamp to clamp, or pin to pin; the outer ones are half of it from the ends, unless a caul is bowed."""
        return self.length / (self.pins or self.clamps)

    @property
    def lap(self) -> Fraction:
        """How wide what is fastened lies on what is under it."""
        return self.joints[0].place.size


def reach_of(through: Fraction, caul: Fraction) -> Fraction:
    """How far apart clamps may be, so that their pressure meets.

    It spreads at 45 degrees to either side through part and caul: common practice, no source.
    """
    return 2 * (through + caul)


def clamp_lines(joints: Iterable[GluedJoint], pace: GlueUp) -> tuple[ClampLine, ...]:
    """The lines along which joints that are closed together are pressed, not yet set out between the parts.

    Pieces in one line from side to side are pressed by the same clamps, at both ends of each, and so are those that
    lie so little aside that there is no room for clamps of their own; what is laid on has a line along every outer
    part under it, and one from edge to edge over those between.
    """
    lines: list[list[GluedJoint]] = []
    for joint in joints:
        if joint.pressing is Pressing.HELD:
            continue
        own = next((line for line in lines if _in_line(line[0], joint)), None)
        if own is None:
            lines.append([joint])
        else:
            own.append(joint)
    return tuple(_line(own, pace) for own in lines)


def set_out(line: ClampLine, pieces: Sequence[Piece], pace: GlueUp) -> ClampLine:
    """The line between the ``pieces`` that are there by then: how far its jaws open, and what it needs besides."""
    if line.held is Held.PINNED:
        return line
    pieces = [piece for piece in pieces if piece.role is not Role.BACK or line.joints[0].laid]
    if line.held is Held.STIFF:
        return replace(line, jaws=_extent(pieces, Axis.Y).size + pace.stiff_caul + pace.caul)
    if line.held is Held.BOWED:
        whole = _extent(pieces, line.joints[0].runs or Axis.X).size
        return replace(line, length=whole, jaws=_extent(pieces, Axis.Y).size + 2 * pace.caul)
    axis, place = line.joints[0].axis, line.joints[0].place
    found = sorted(
        (piece for piece in pieces if piece.along(_ACROSS[axis]).overlaps(place)),
        key=lambda piece: piece.along(axis).start,
    )
    first, last = found[0], max(found, key=lambda piece: piece.along(axis).end)
    tongues = [
        (piece, ending)
        for piece, ending in ((first, first.low), (last, last.high))
        if piece.axis is axis and ending.on not in pieces and ending.beyond
    ]
    free = sum((ending.beyond for _, ending in tongues), Fraction(0))
    return replace(
        line,
        jaws=last.along(axis).end - first.along(axis).start + free + 2 * pace.caul,
        notched=tuple(piece.name for piece, ending in tongues if _has_shoulder(piece, ending)),
        blocks=tuple(_blocks(found, axis)),
        framed=first.role in FRAME_ROLES,
    )


def _blocks(found: Sequence[Piece], axis: Axis) -> Iterator[Block]:
    """One for each place along a line where no part lies."""
    reached = found[0]
    for piece in found[1:]:
        empty = piece.along(axis).start - reached.along(axis).end
        if empty > 0:
            yield Block(empty, (reached.name, piece.name))
        if piece.along(axis).end > reached.along(axis).end:
            reached = piece


def _has_shoulder(piece: Piece, ending: Ending) -> bool:
    """Whether what is free there is a tongue or a tenon, and not the whole part."""
    enters = ending.joint.enters(piece.stock.thickness) if ending.joint else None
    return enters is None or enters[1] - enters[0] < piece.stock.thickness


def _in_line(one: GluedJoint, other: GluedJoint) -> bool:
    """Whether two joints are pressed by the same clamps."""
    if one.pressing is not other.pressing or one.pressing in (Pressing.ALONG, Pressing.PINNED):
        return False
    return (one.axis, one.runs) == (other.axis, other.runs) and one.place.overlaps(other.place)


def _line(joints: Sequence[GluedJoint], pace: GlueUp) -> ClampLine:
    """The thinnest part that the line ends on decides, and its longest joint."""
    length, through = max(joint.length for joint in joints), min(joint.through for joint in joints)
    own, pressing = (tuple(joints), length, through), joints[0].pressing
    if pressing is Pressing.PINNED:
        return ClampLine(*own, Held.PINNED, 0, 0, max(FEWEST, ceil(length / PIN_SPACING)))
    if pressing is Pressing.EDGES:
        return ClampLine(*own, Held.EDGES, FEWEST, 2)
    if pressing is Pressing.BOWED:
        return ClampLine(*own, Held.BOWED, FEWEST, 1)
    stiff = pressing is Pressing.ALONG
    served = length / reach_of(through, pace.stiff_caul if stiff else pace.caul)
    clamps = max(FEWEST, ceil(served))
    if stiff:
        return ClampLine(*own, Held.STIFF, clamps, 1)
    return ClampLine(*own, Held.FACES if 2 * served <= 1 else Held.SPACED, clamps, 2)


def _extent(pieces: Sequence[Piece], axis: Axis) -> Range:
    """From the first to the last of the pieces."""
    ranges = [piece.along(axis) for piece in pieces]
    return Range(min(each.start for each in ranges), max(each.end for each in ranges))
