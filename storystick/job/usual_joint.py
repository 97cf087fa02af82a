"""What most joints say of themselves; those that do otherwise say so."""

from __future__ import annotations

from enum import Enum
from fractions import Fraction
from typing import TYPE_CHECKING, Any, ClassVar, Final, Self

from storystick.errors import Fault
from storystick.job.keys import Here, key
from storystick.job.kinds import DISTANCE
from storystick.lengths import INCH_MM, Figures, write_figure

if TYPE_CHECKING:
    from storystick.job.fasteners import Fastener


LOOSEST_FIT: Final = INCH_MM / 16
"""No groove is meant to be wider than what goes into it by more, in mm: judgement, no source."""


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
    sawn_end: ClassVar[str] = "end tongue"

    @property
    def entry(self) -> Fraction:
        """How far the part goes into the part that it ends on."""
        raise NotImplementedError

    def at_top(self) -> Self:
        """As it joins a top, whose outside is its upper face."""
        return self

    def reach(self, _across: Fraction, /) -> Fraction:
        """How far the part goes into one that measures so much across."""
        return self.entry

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


class Grooved(UsualJoint):
    """What goes into a groove, or a socket: shorter than that is deep by ``bottom_gap``, thinner by ``fit``.

    The groove stops ``stop`` before the finished front edge of its board; 0 where it runs through. All in mm.
    """

    __slots__ = ()
    depth: Fraction
    bottom_gap: Fraction
    fit: Fraction
    stop: Fraction

    @property
    def entry(self) -> Fraction:
        return self.depth - self.bottom_gap

    @property
    def front_stop(self) -> Fraction:
        return self.stop

    def check(self, here: Here) -> None:
        """That something goes in, and fits."""
        units = here.scope.units
        if self.bottom_gap >= self.depth:
            gap, depth = write_figure(self.bottom_gap, units), write_figure(self.depth, units)
            raise Fault(f"{gap} leaves nothing in a groove {depth} deep", "make it less than depth", "bottom_gap")
        if self.fit > LOOSEST_FIT:
            most = f"{Figures.usual(units).at_most(LOOSEST_FIT)} {units.sign}"
            raise Fault(f"{write_figure(self.fit, units)} is more than {most}, and no fit", "look at its unit", "fit")


class NarrowGroove(Grooved):
    """A groove that is narrower than the part, by its ``width`` (mm)."""

    __slots__ = ()
    width: Fraction

    def check(self, here: Here) -> None:
        Grooved.check(self, here)
        if self.fit >= self.width:
            units = here.scope.units
            what = (
                f"{write_figure(self.fit, units)} leaves no tongue in a groove {write_figure(self.width, units)} wide"
            )
            raise Fault(what, "make it less than width", "fit")


class Square(UsualJoint):
    """The part ends square on the face of the other: nothing of it goes in, and no groove is cut."""

    __slots__ = ()

    fit: ClassVar[Fraction] = Fraction(0)
    depth: ClassVar[Fraction] = Fraction(0)
    entry: ClassVar[Fraction] = Fraction(0)

    def enters(self, _thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        return None

    def groove(self, _thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        return None


def bottom_gap_key(words: str) -> Any:
    """The field of a gap at the bottom of a groove."""
    return key(DISTANCE, words, "1/64", default=Fraction(0))


def fit_key(words: str) -> Any:
    """The field of the play in a groove."""
    return key(DISTANCE, words, "1/128", default=Fraction(0))


def stop_key(what: str) -> Any:
    """The field of how far ``what`` is cut stops before the front."""
    return key(
        DISTANCE,
        f"the {what} stops this far before the front edge of the board, and the part's corner is cut back",
        "3/8",
        default=Fraction(0),
        otherwise="it runs through",
    )
