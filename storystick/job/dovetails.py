"""Sliding dovetails: a tail on the end of a part, in a socket that is wider at its bottom than at the face."""

from __future__ import annotations

from fractions import Fraction
from math import radians, tan
from typing import ClassVar, Final

from storystick.errors import Fault, as_written
from storystick.job.keys import Here, key, table
from storystick.job.kinds import NUMBER_TEXT, SIZE, Kind, Scope, plain_number
from storystick.job.usual_joint import Closes, Grooved, bottom_gap_key, fit_key, stop_key
from storystick.lengths import write_figure

_STEEPEST: Final = 30
_DIGITS: Final = 10**9


def _read_angle(value: object, _: Scope) -> Fraction:
    angle = plain_number(value)
    if angle is None or not 1 <= angle <= _STEEPEST:
        what = f"{as_written(value)} is not an angle from 1 to {_STEEPEST} degrees"
        raise Fault(what, "write what is engraved on the bit, like 14, without a sign")
    return angle


ANGLE: Final = Kind(
    _read_angle,
    Fraction(14),
    "…",
    "an angle in degrees",
    {"oneOf": [{"type": "number", "minimum": 1, "maximum": _STEEPEST}, {"type": "string", **NUMBER_TEXT}]},
)
"""How far the side of a dovetail bit leans from upright, in degrees."""


def slope_of(angle: Fraction) -> Fraction:
    """How far a wall leans, for each unit of depth: the tangent, to nine digits, and exact from there on."""
    return Fraction(tan(radians(float(angle)))).limit_denominator(_DIGITS)


@table("A tail on the end of the part, in a socket that is wider at its bottom, slid in along it.")
class SlidingDovetail(Grooved):
    """A tail on the end of a part, in the middle of its thickness, in a socket into which it slides from an edge.

    The socket is ``width`` wide at its bottom, as the bit is at its tip, and ``depth`` deep; its walls lean by
    ``angle``. The tail is shorter by ``bottom_gap``, and thinner all over by ``fit``. ``stop`` is as in a housing.
    """

    word: ClassVar[str] = "dovetailed"
    closes: ClassVar[Closes] = Closes.SLID

    name: str
    width: Fraction = key(SIZE, "how wide the socket is at its bottom, as the dovetail bit is at its tip", "1/2")
    depth: Fraction = key(SIZE, "how deep the socket is", "3/8")
    angle: Fraction = key(ANGLE, "how far the bit's side leans, in degrees", 14, default=Fraction(14))
    bottom_gap: Fraction = bottom_gap_key("the tail is this much shorter than the socket is deep")
    fit: Fraction = fit_key("how much wider the socket is than the tail")
    stop: Fraction = stop_key("socket")

    def check(self, here: Here) -> None:
        Grooved.check(self, here)
        if self.fit >= self.mouth:
            units = here.scope.units
            width, depth = write_figure(self.width, units), write_figure(self.depth, units)
            what = (
                f"a socket {width} wide and {depth} deep has no mouth left at {as_written(float(self.angle))} degrees"
            )
            raise Fault(what, "make it less deep, or wider", "depth")

    @property
    def slope(self) -> Fraction:
        return slope_of(self.angle)

    @property
    def mouth(self) -> Fraction:
        """How wide the socket is at the face of its board, its narrowest."""
        return self.width - 2 * self.depth * self.slope

    @property
    def neck(self) -> Fraction:
        """How wide the tail is at its shoulder, its narrowest."""
        return self.mouth - self.fit

    @property
    def lean(self) -> Fraction:
        """How much wider each wall makes the socket at its bottom than at its mouth."""
        return self.depth * self.slope

    @property
    def bit_angle(self) -> Fraction:
        return self.angle

    def enters(self, thickness: Fraction, /) -> tuple[Fraction, Fraction]:
        """The tail at its end, its widest."""
        near, far = self.groove(thickness)
        less = self.bottom_gap * self.slope + self.fit / 2
        return near + less, far - less

    def groove(self, thickness: Fraction, /) -> tuple[Fraction, Fraction]:
        """The socket at its bottom, its widest."""
        near = (thickness - self.width) / 2
        return near, near + self.width
