"""Every glued joint of a cabinet, from which of its pieces end on which, lie against which and let which in.

Adjustable shelves, fronts and drawer boxes are no part of it: they are not glued into the case.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction
from typing import Final

from storystick.layout.cabinets.backs import back_of
from storystick.layout.cabinets.pieces import (
    CASE_ROLES,
    FRAME_ROLES,
    OUTER_ROLES,
    Axis,
    CabinetLayout,
    Piece,
    Range,
    Role,
)


class Pressing(Enum):
    """How a joint is pressed: by clamps from end to end of the piece, which pass a panel of a case only at its front
    and back edges and a member of a frame or plinth on both faces; by clamps along the part that is laid on, or only
    at the ends of a bowed caul, where no clamp reaches its middle; by pins or screws, as a back and a plinth are; or
    by nothing, in a groove that holds it."""

    EDGES = "edges"
    ENDS = "ends"
    ALONG = "along"
    BOWED = "bowed"
    PINNED = "pinned"
    HELD = "held"


@dataclass(frozen=True, slots=True)
class GluedJoint:
    """A piece and what it is glued to, each by its name, and how they come together.

    They are closed along ``axis``, ``on`` lying on the ``piece``'s high side (right, behind, above) or its low one;
    where ``slides`` is not None the joint lets the piece slide in along that direction too. Lengths in mm: ``length``
    is the glue line's, ``through`` the thickness between it and the clamp, and ``place`` is where it lies across: for
    what is fastened, its lap. ``runs`` is the direction of its line, where the piece is laid on.
    """

    piece: str
    on: str
    axis: Axis
    on_high: bool
    length: Fraction
    through: Fraction
    place: Range
    pressing: Pressing = Pressing.ENDS
    slides: Axis | None = None
    runs: Axis | None = None

    @property
    def low(self) -> str:
        """Which of the two lies to the left, in front or below."""
        return self.piece if self.on_high else self.on

    @property
    def high(self) -> str:
        return self.on if self.on_high else self.piece

    @property
    def laid(self) -> bool:
        """Whether the piece is one of a finished part that is laid on another as a whole."""
        return self.pressing in _LAID

    @property
    def words(self) -> str:
        return f"{self.piece} to {self.on}"


_LAID: Final = (Pressing.ALONG, Pressing.BOWED, Pressing.PINNED)


def case_joints(layout: CabinetLayout) -> tuple[GluedJoint, ...]:
    """Those that are closed to make the case, with those of a back in grooves, which only then can go in."""
    return (*_end_joints(layout.of(*CASE_ROLES)), *_grooved_back(layout))


def frame_joints(layout: CabinetLayout) -> tuple[GluedJoint, ...]:
    """Those of the face frame, made by itself."""
    return tuple(_end_joints(layout.of(*FRAME_ROLES)))


def back_joints(layout: CabinetLayout) -> tuple[GluedJoint, ...]:
    """Those of a back in rabbets or laid on: with its sides, and with every back edge that it lies against."""
    if not back_of(layout.cabinet).is_fastened:
        return ()
    return tuple(
        _fastened_joint(back, piece)
        for back in layout.of(Role.BACK)
        for piece in layout.of(*CASE_ROLES)
        if piece.role is Role.SIDE or piece.y.end == back.y.start
        if piece.x.overlaps(back.x) and piece.z.overlaps(back.z)
    )


def front_joints(layout: CabinetLayout) -> tuple[GluedJoint, ...]:
    """Those of the case's front edges with the members of the face frame."""
    return tuple(
        _laid_joint(member, piece) for piece in layout.of(*CASE_ROLES) if (member := layout.before(piece)) is not None
    )


def plinth_joints(layout: CabinetLayout) -> tuple[GluedJoint, ...]:
    """Those of the plinth's ends with its front and back."""
    pieces = layout.of(Role.PLINTH)
    ends = [piece for piece in pieces if piece.axis is Axis.Y]
    long = [piece for piece in pieces if piece.axis is Axis.X]
    return tuple(
        GluedJoint(end.name, rail.name, Axis.Y, rail.y.start >= end.y.end, end.z.size, rail.y.size, end.x)
        for end in ends
        for rail in long
    )


def base_joints(layout: CabinetLayout) -> tuple[GluedJoint, ...]:
    """Those of the plinth with what stands on it: the bottom, or over an end that lies outside it a side."""
    return tuple(_base_joint(piece, layout) for piece in layout.of(Role.PLINTH))


def glued_joints(layout: CabinetLayout) -> tuple[GluedJoint, ...]:
    """Every glued joint of the cabinet, each once."""
    found = (case_joints, back_joints, frame_joints, front_joints, plinth_joints, base_joints)
    return tuple(joint for joints in found for joint in joints(layout))


def _end_joints(pieces: tuple[Piece, ...]) -> Iterator[GluedJoint]:
    """Where pieces end on others: as long as the piece is deep, or a frame's member wide."""
    for piece in pieces:
        framed = piece.role in FRAME_ROLES
        length, pressing = (piece.across.size, Pressing.ENDS) if framed else (piece.y.size, Pressing.EDGES)
        for ending, on_high in ((piece.low, False), (piece.high, True)):
            if ending.on:
                through = ending.on.along(piece.axis).size
                yield GluedJoint(
                    piece.name, ending.on.name, piece.axis, on_high, length, through, piece.across, pressing
                )


def _grooved_back(layout: CabinetLayout) -> Iterator[GluedJoint]:
    """A back in grooves: closed with sides, top and bottom, along whose grooves it slides until the last is on."""
    if back_of(layout.cabinet).is_fastened:
        return
    for back in layout.of(Role.BACK):
        for piece in layout.of(*OUTER_ROLES):
            axis, slides = (Axis.X, Axis.Z) if piece.role is Role.SIDE else (Axis.Z, Axis.X)
            on_high = piece.along(axis).end > back.along(axis).end
            run = back.along(slides)
            yield GluedJoint(
                back.name, piece.name, axis, on_high, run.size, piece.along(axis).size, run, Pressing.HELD, slides
            )


def _laid_joint(laid: Piece, piece: Piece) -> GluedJoint:
    """Something laid on an edge of a piece; clamps reach along the edges of the outermost pieces only."""
    along = piece.along(piece.axis)
    covered = laid.along(piece.axis)
    length = min(along.end, covered.end) - max(along.start, covered.start)
    pressing = Pressing.ALONG if piece.role in OUTER_ROLES else Pressing.BOWED
    on_high = laid.y.start < piece.y.start
    return GluedJoint(
        *(laid.name, piece.name, Axis.Y, on_high, length, laid.y.size, piece.across, pressing), runs=piece.axis
    )


def _fastened_joint(back: Piece, piece: Piece) -> GluedJoint:
    """A back on the back edge of a piece, or in its rabbet, fastened along the middle of where the two lap."""
    joint = _laid_joint(back, piece)
    covered = back.x if piece.axis is Axis.Z else back.z
    lap = Range(max(joint.place.start, covered.start), min(joint.place.end, covered.end))
    return replace(joint, place=lap, pressing=Pressing.PINNED)


def _base_joint(piece: Piece, layout: CabinetLayout) -> GluedJoint:
    """A piece of the plinth, fastened: no clamp reaches it from inside a case with a back."""
    standing = (layout.bottom, *layout.sides)
    on = next(on for on in standing if on.z.start == piece.z.end and on.x.overlaps(piece.x))
    length = piece.along(piece.axis).size
    return GluedJoint(
        *(piece.name, on.name, Axis.Z, True, length, on.z.size),
        piece.y if piece.axis is Axis.X else piece.x,
        Pressing.PINNED,
    )
