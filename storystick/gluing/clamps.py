"""Clamps and cauls where bars can pass, and what fastens a back or a plinth instead. All lengths in mm.

A bar does not go through a panel. Across a case it passes before the front edges and behind the back ones, so that
bowed cauls have to carry the pressure over the panel; round an edge that is free it may stand anywhere.

``tests/test_glue_up.py`` judges clamps from what the parts are: where a bar passes, and that nothing but parts,
tongues and said blocks lies between two jaws.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial
from math import ceil
from typing import Final, NamedTuple

from storystick.gluing.joints import GluedJoint, Held
from storystick.job.shop import Clamp, GlueUp
from storystick.layout.cabinets.pieces import BACK_ROLES, FRAME_ROLES, Axis, Ending, Piece, Range
from storystick.lengths import INCH_MM

FEWEST: Final = 2
"""Clamps on a line at least, one near each end; on a rail of a frame one above and one below, so that it stays flat.
Common practice, no source."""

PIN_SPACING: Final = 6 * INCH_MM
"""Pins or screws are so far apart at most, along the middle of the lap: common practice, no source."""

_ACROSS: Final = {Axis.X: Axis.Z, Axis.Z: Axis.X, Axis.Y: Axis.X}
"""Along which direction lines lie beside each other that are pressed in this one."""


@dataclass(frozen=True, slots=True)
class EmptyPlace:
    """Where a line meets no part, ``between`` two parts: a block ``length`` long takes the push there."""

    length: Fraction
    between: tuple[Piece, Piece]


class _Holders(NamedTuple):
    """What every line of a kind has, whatever its length."""

    clamps: int = 0
    cauls: int = 0
    pins: int = 0


_HOLDERS: Final = {
    Held.MIDDLE: _Holders(pins=1),
    Held.FRONT: _Holders(clamps=1, cauls=2),
    Held.REAR: _Holders(clamps=1, cauls=2),
    Held.EDGES: _Holders(clamps=FEWEST, cauls=2),
    Held.BOWED: _Holders(clamps=FEWEST, cauls=1),
    Held.LAPPED: _Holders(clamps=1),
}

_IN_PLACE: Final = (Held.GROOVE, Held.SLOT, Held.SOCKET, Held.RUBBED)
"""What is held by what it is in, or by its glue as soon as that grabs, without clamps."""

_ALONE: Final = (Held.STIFF, Held.PINNED, Held.MIDDLE, Held.LAPPED)
"""What is held joint by joint, whatever lies in line with it."""


@dataclass(frozen=True, slots=True)
class ClampLine:
    """Joints in one line, ``length`` long, that the same clamps press through ``through`` mm of wood.

    What is fastened has ``pins`` (or screws) instead, and neither clamps nor cauls; so has what is drawn home by the
    ``screws`` of its joints. ``jaws`` is how far the clamps
    open for it, cauls and free tongues counted in; ``notched`` are the parts whose free tongues a jaw comes over, so
    that the caul there is notched, and where it is ``framed`` they are tenons of a face frame; ``empty`` are the places
    where it meets nothing.
    """

    joints: tuple[GluedJoint, ...]
    length: Fraction
    through: Fraction
    held: Held
    clamps: int = 0
    cauls: int = 0
    pins: int = 0
    screws: int = 0
    jaws: Fraction = Fraction(0)
    notched: tuple[Piece, ...] = ()
    empty: tuple[EmptyPlace, ...] = ()
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


def clamp_lines(joints: Iterable[GluedJoint], pace: GlueUp) -> tuple[ClampLine, ...]:
    """The lines along which joints that are closed together are pressed, not yet set out between the parts.

    Pieces in one line from side to side are pressed by the same clamps, at both ends of each, and so are those that
    lie so little aside that there is no room for clamps of their own; what is laid on has a line along every outer
    part under it, and one from edge to edge over those between.
    """
    lines: list[list[GluedJoint]] = []
    for joint in joints:
        if joint.held in _IN_PLACE:
            continue
        own = next((line for line in lines if _in_line(line[0], joint)), None)
        if own is None:
            lines.append([joint])
        else:
            own.append(joint)
    return tuple(_line(own, pace) for own in lines)


def _in_line(one: GluedJoint, other: GluedJoint) -> bool:
    """Whether two joints are pressed by the same clamps."""
    if one.held is not other.held or one.held in _ALONE:
        return False
    return (one.axis, one.runs) == (other.axis, other.runs) and one.place.overlaps(other.place)


def _line(joints: Sequence[GluedJoint], pace: GlueUp) -> ClampLine:
    """The thinnest part that the line ends on decides, and its longest joint."""
    length, through = max(joint.length for joint in joints), min(joint.through for joint in joints)
    held = joints[0].held
    line = partial(ClampLine, tuple(joints), length, through)
    if held is Held.DRAWN:
        return line(held, screws=sum(len(joint.row.centres) for joint in joints if joint.row))
    if held is Held.PINNED:
        return line(held, pins=max(FEWEST, ceil(length / PIN_SPACING)))
    if holders := _HOLDERS.get(held):
        return line(held, clamps=holders.clamps, cauls=holders.cauls, pins=holders.pins)
    caul, cauls = (pace.stiff_caul, 1) if held is Held.STIFF else (pace.caul, 2)
    # Pressure spreads at 45 degrees to either side through part and caul, and has to meet between two clamps: common
    # practice, no source.
    served = length / (2 * (through + caul))
    if held is Held.FACES and 2 * served > 1:
        held = Held.SPACED
    return line(held, clamps=max(FEWEST, ceil(served)), cauls=cauls)


def set_out(line: ClampLine, pieces: Iterable[Piece], pace: GlueUp) -> ClampLine:
    """The line between the ``pieces`` that are there by then: how far its jaws open, and what it needs besides."""
    if line.pins or line.held is Held.DRAWN:
        return line
    joint = line.joints[0]
    # A back takes no push from side to side; but what is laid on the front is clamped over it.
    there = [piece for piece in pieces if piece.role not in BACK_ROLES or joint.laid or joint.piece.role in BACK_ROLES]
    if line.held is Held.STIFF:
        return replace(line, jaws=_extent(there, Axis.Y) + pace.stiff_caul + pace.caul)
    if line.held is Held.BOWED:
        whole = _extent(there, joint.runs or Axis.X)
        return replace(line, length=whole, jaws=_extent(there, Axis.Y) + 2 * pace.caul)
    if line.held is Held.LAPPED:
        return replace(line, jaws=joint.through + 2 * pace.caul)
    return _set_out_between(line, there, pace)


def _set_out_between(line: ClampLine, there: Sequence[Piece], pace: GlueUp) -> ClampLine:
    """A line from one outer part to another, over the free tongues of either."""
    axis, place = line.joints[0].axis, line.joints[0].place
    met = [piece for piece in there if piece.along(_ACROSS[axis]).overlaps(place)]
    met.sort(key=lambda piece: piece.along(axis).start)
    first, last = met[0], max(met, key=lambda piece: piece.along(axis).end)
    free = [
        (piece, ending)
        for piece, ending in ((first, first.low), (last, last.high))
        if piece.axis is axis and ending.on not in there and ending.beyond
    ]
    return replace(
        line,
        jaws=_extent(met, axis) + sum((ending.beyond for _, ending in free), Fraction(0)) + 2 * pace.caul,
        notched=tuple(piece for piece, ending in free if _has_shoulder(piece, ending)),
        empty=tuple(_empty_places(met, axis)),
        framed=first.role in FRAME_ROLES,
    )


def _empty_places(met: Sequence[Piece], axis: Axis) -> Iterator[EmptyPlace]:
    """Each place along a line where no part lies, from the low end of what it meets."""
    reached = met[0]
    for piece in met[1:]:
        gap = piece.along(axis).start - reached.along(axis).end
        if gap > 0:
            yield EmptyPlace(gap, (reached, piece))
        if piece.along(axis).end > reached.along(axis).end:
            reached = piece


def _has_shoulder(piece: Piece, ending: Ending) -> bool:
    """Whether what is free there is a tongue or a tenon, and not the whole part."""
    enters = piece.entering(ending.joint)
    return enters is None or enters.size < piece.stock.thickness


def _extent(pieces: Iterable[Piece], axis: Axis) -> Fraction:
    """How far it is from the first to the last of the pieces."""
    return Range.over(piece.along(axis) for piece in pieces).size


class ClampSet(NamedTuple):
    """So many clamps that open to ``jaws`` mm or more."""

    clamps: int
    jaws: Fraction


def needed(stages: Iterable[Sequence[ClampLine]]) -> tuple[ClampSet, ...]:
    """The clamps that serve all the stages, one after another, given the lines of each; the widest first."""
    found: list[ClampSet] = []
    by_stage = [[line for line in lines if line.clamps] for lines in stages]
    for jaws in sorted({line.jaws for lines in by_stage for line in lines}, reverse=True):
        most = max(sum(line.clamps for line in lines if line.jaws >= jaws) for lines in by_stage)
        if (more := most - sum(need.clamps for need in found)) > 0:
            found.append(ClampSet(more, jaws))
    return tuple(found)


def lacking(needs: Sequence[ClampSet], clamps: Sequence[Clamp]) -> tuple[ClampSet, ...]:
    """Which clamps of what is needed, the widest first, are not among the shop's; none where it names no clamps.

    Long clamps serve for short ones: at every opening of the jaws as many have to be there as are needed from it up.
    """
    found: list[ClampSet] = []
    wanted = 0
    for need in needs if clamps else ():
        wanted += need.clamps
        owned = sum(clamp.count for clamp in clamps if clamp.opens >= need.jaws)
        missing = wanted - owned - sum(lack.clamps for lack in found)
        if missing > 0:
            found.append(ClampSet(missing, need.jaws))
    return tuple(found)
