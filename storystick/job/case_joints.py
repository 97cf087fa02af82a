"""The joints of a case's parts that are cut at the saw and with a router: in grooves, in rabbets, or butted.

A joint counts from the outside of a side, so that left and right sides are images of each other.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import ClassVar

from storystick.job.keys import key, table
from storystick.job.kinds import DISTANCE, SIZE, choice, word_or
from storystick.job.usual_joint import Grooved, NarrowGroove, Square, UsualJoint, bottom_gap_key, fit_key, stop_key


@table("A tongue on the part, in a groove that is narrower than the part.")
class Tongue(NarrowGroove):
    """A tongue on the part in a groove narrower than the part.

    ``width`` and ``depth`` are the groove's; ``set`` is from the part's datum-side face to the groove's near edge,
    None for a centred tongue; the tongue is shorter than the groove is deep by ``bottom_gap``, and thinner than it is
    wide by ``fit``.
    """

    word: ClassVar[str] = "tongued"
    is_sawn: ClassVar[bool] = True

    name: str
    width: Fraction = key(SIZE, "how wide the groove is", "1/4")
    depth: Fraction = key(SIZE, "how deep the groove is", "1/4")
    set: Fraction | None = key(
        word_or("centre", None, DISTANCE),
        "where the groove lies: in the middle, or how far from the lower or left face, or from the outside of a side",
        "7/32",
        default=None,
        otherwise="centre",
    )
    bottom_gap: Fraction = bottom_gap_key("the tongue is this much shorter than the groove is deep")
    fit: Fraction = fit_key("how much wider the groove is than the tongue")
    stop: Fraction = stop_key("groove")

    def enters(self, thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        near, far = self.groove(thickness)
        return near + self.fit / 2, far - self.fit / 2

    def groove(self, thickness: Fraction, /) -> tuple[Fraction, Fraction]:
        near = (thickness - self.width) / 2 if self.set is None else self.set
        return near, near + self.width


@table("A groove as wide as the whole part.")
class Housing(Grooved):
    """A groove as wide as the whole part and ``fit``, ``depth`` deep; the part stops short of its bottom by
    ``bottom_gap``."""

    word: ClassVar[str] = "housed"

    name: str
    depth: Fraction = key(SIZE, "how deep the groove is", "1/4")
    bottom_gap: Fraction = bottom_gap_key("the part stops this much short of the bottom of the groove")
    fit: Fraction = fit_key("how much wider the groove is than the part")
    stop: Fraction = stop_key("groove")

    def enters(self, thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        return Fraction(0), thickness

    def groove(self, thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        return -self.fit / 2, thickness + self.fit / 2


@table("A housing for the part's end, which is rabbeted on one face and so thinner: a dado and rabbet.")
class RabbetedHousing(NarrowGroove):
    """A groove narrower than the part, whose end is rabbeted on one face and goes in with the rest.

    Its one ``shoulder`` is on the low face (the lower or left one, or the outside of a side) or on the high one; where
    None is given, toward the end of a case, and else on the low one. There it makes the rabbeted corner: the
    groove lies away from that end.
    """

    word: ClassVar[str] = "rabbeted"
    is_sawn: ClassVar[bool] = True

    name: str
    width: Fraction = key(SIZE, "how wide the groove is", "3/8")
    depth: Fraction = key(SIZE, "how deep the groove is", "1/4")
    shoulder_high: bool | None = key(
        choice({"lower": False, "upper": True}),
        "which face is rabbeted: the lower (left, or the outside of a side), or the upper one",
        "upper",
        name="shoulder",
        default=None,
        otherwise="the outside of a bottom, a top or a side, which keeps the groove from the end; else the lower one",
    )
    bottom_gap: Fraction = bottom_gap_key("what goes in is this much shorter than the groove is deep")
    fit: Fraction = fit_key("how much wider the groove is than what goes in")
    stop: Fraction = stop_key("groove")

    def enters(self, thickness: Fraction, /) -> tuple[Fraction, Fraction]:
        near, far = self.groove(thickness)
        # The whole face goes in at the one side: only the wall at the shoulder has the other half of the play in it.
        return (max(near, Fraction(0)), far - self.fit / 2) if self.shoulder_high else (near + self.fit / 2, thickness)

    def at_top(self) -> RabbetedHousing:
        return replace(self, shoulder_high=True) if self.shoulder_high is None else self

    def groove(self, thickness: Fraction, /) -> tuple[Fraction, Fraction]:
        half = self.fit / 2
        near = -half if self.shoulder_high else thickness + half - self.width
        return near, near + self.width


@table("A rabbet at the very end of the other part, as wide as the whole part that lies in it.")
class Rabbet(UsualJoint):
    """A rabbet ``depth`` deep at the very end of the other part, as wide as the whole part that lies in it.

    It has one wall only, so it needs no play.
    """

    at_end_only: ClassVar[bool] = True
    word: ClassVar[str] = "let into a rabbet"
    fit: ClassVar[Fraction] = Fraction(0)

    name: str
    depth: Fraction = key(SIZE, "how deep the rabbet is", "3/8")

    @property
    def entry(self) -> Fraction:
        return self.depth

    def enters(self, thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        return Fraction(0), thickness

    def groove(self, thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        return self.enters(thickness)


@table("The part ends square on the face of the other; nothing is cut.")
class Butt(Square):
    """The part ends square on the face of the other; nothing is cut."""

    word: ClassVar[str] = "let in"

    name: str
