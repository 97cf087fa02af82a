"""What most joints say of themselves; those that do otherwise say so."""

from __future__ import annotations

from enum import Enum
from fractions import Fraction
from typing import TYPE_CHECKING, ClassVar

if TYPE_CHECKING:
    from storystick.job.fasteners import Fastener


class Closes(Enum):
    """How a joint comes together: pressed home along its part, slid in along its groove, or lapped face to face."""

    HOME = "home"
    SLID = "slid"
    LAPPED = "lapped"


class UsualJoint:
    """Joins parts of a case, anywhere along them, pressed home, with a groove that runs through to the front."""

    __slots__ = ()

    at_end_only: ClassVar[bool] = False
    for_case: ClassVar[bool] = True
    for_frame: ClassVar[bool] = False
    is_sawn: ClassVar[bool] = False
    closes: ClassVar[Closes] = Closes.HOME

    @property
    def front_stop(self) -> Fraction:
        """How far before the finished front edge of the board its groove stops."""
        return Fraction(0)

    @property
    def fasteners(self) -> Fastener | None:
        """What is bored or slotted into both parts where nothing is cut."""
        return None

    @property
    def bit_angle(self) -> Fraction:
        """How far the side of the router bit leans that cuts its groove, in degrees; 0 for a straight one."""
        return Fraction(0)

    @property
    def lean(self) -> Fraction:
        """How much wider each wall makes its groove at the bottom than at the face, in mm."""
        return Fraction(0)
