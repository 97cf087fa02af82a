"""Clamps and cauls by the spread of their pressure, and what fastens a back or a plinth instead. All lengths in mm."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import Final

from storystick.assembly.glued import GluedJoint, Pressing
from storystick.layout.cabinets.model import Axis, Range
from storystick.lengths import INCH_MM

FEWEST: Final = 2
"""Clamps on a line at least, one near each end; on a rail of a frame one above and one below, so that it stays flat.
Common practice, no source."""

PIN_SPACING: Final = 6 * INCH_MM
"""Pins or screws are so far apart at most, along the middle of the lap: common practice, no source."""


@dataclass(frozen=True, slots=True)
class ClampLine:
    """Joints in one line, ``length`` long, that the same clamps press through ``through`` mm of wood.

    What is fastened has ``pins`` (or screws) instead, and neither clamps nor cauls. A ``narrow`` one, half as long as
    one clamp serves or less, has its two clamps on either face and not along it.
    """

    joints: tuple[GluedJoint, ...]
    length: Fraction
    through: Fraction
    clamps: int
    cauls: int
    pins: int = 0
    narrow: bool = False

    @property
    def bowed(self) -> bool:
        """Whether a bowed caul has a clamp at either end, rather than clamps evenly along it."""
        return self.joints[0].pressing is Pressing.BOWED

    @property
    def spacing(self) -> Fraction:
        """From clamp to clamp, or pin to pin; the outer ones are half of it from the ends, unless the caul is bowed."""
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


def clamp_lines(joints: Iterable[GluedJoint], caul: Fraction) -> tuple[ClampLine, ...]:
    """The lines along which joints that are closed together are pressed.

    Pieces in one line from side to side are pressed by the same clamps, at both ends of each; what is laid on has a
    line along every part under it.
    """
    lines: dict[tuple[Axis, Range] | GluedJoint, list[GluedJoint]] = {}
    for joint in joints:
        if joint.pressing is not Pressing.HELD:
            lines.setdefault((joint.axis, joint.place) if joint.pressing is Pressing.ENDS else joint, []).append(joint)
    return tuple(_line(own, caul) for own in lines.values())


def _line(joints: Sequence[GluedJoint], caul: Fraction) -> ClampLine:
    """The thinnest part that the line ends on decides, and its longest joint."""
    length, through = max(joint.length for joint in joints), min(joint.through for joint in joints)
    pressing = joints[0].pressing
    if pressing is Pressing.PINNED:
        return ClampLine(tuple(joints), length, through, 0, 0, max(FEWEST, ceil(length / PIN_SPACING)))
    served = length / reach_of(through, caul)
    clamps = FEWEST if pressing is Pressing.BOWED else max(FEWEST, ceil(served))
    cauls = 2 if pressing is Pressing.ENDS else 1
    return ClampLine(tuple(joints), length, through, clamps, cauls, narrow=2 * served <= 1)
