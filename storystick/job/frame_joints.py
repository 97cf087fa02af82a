"""The joints of a face frame's members with each other: what is left of a rail's end, and what takes it.

A frame's thickness counts from its front face. What has no source is common practice.
"""

from __future__ import annotations

from fractions import Fraction
from typing import ClassVar, Final

from storystick.errors import Fault
from storystick.job.keys import Here, key, keys, table
from storystick.job.kinds import DISTANCE, SIZE, word_or
from storystick.job.usual_joint import Closes, UsualJoint
from storystick.lengths import INCH_MM, Units, write_figure

_CHISELS: Final = {Units.INCH: INCH_MM / 16, Units.MM: Fraction(2)}
"""From one width of chisel to the next, in mm: common practice, no source."""

_HAUNCHES: Final = {Units.INCH: INCH_MM / 8, Units.MM: Fraction(2)}
"""From one width of haunch to the next, in mm: common practice, no source."""

_DEEPER: Final = {Units.INCH: INCH_MM / 8, Units.MM: Fraction(3)}
"""A mortise is so much deeper than its tenon is long (mm): 1/8 in by the notes of a boatbuilding school on joints."""

_THIRD: Final = Fraction(1, 3)
"""Of the stock for a tenon's thickness, by the same notes; of the rail for a haunch's width, and as long as the tenon
is thick, by a teacher's notes on mortise and tenon joints."""


@table("A tenon on the end of a member of a face frame, in a mortise in the edge of the one that it ends on.")
class MortiseAndTenon(UsualJoint):
    """A stub tenon, ``length`` long, in a mortise ``mortise`` deep whose near wall is ``start`` from the front face.

    ``thickness`` and ``mortise_width`` None are each as the other, or a third of the stock to the nearest chisel. Where
    the member lies at the end of what it ends on, its tenon is cut back over ``haunch_width`` (None for a third of the
    member) to a haunch that is ``haunch`` long (None for as long as the tenon is thick, 0 for none). Each edge of the
    tenon is set in by ``shoulder`` at least.
    """

    for_case: ClassVar[bool] = False
    for_frame: ClassVar[bool] = True
    word: ClassVar[str] = "tenoned"
    sawn_end: ClassVar[str] = "tenon"
    is_sawn: ClassVar[bool] = True

    name: str
    length: Fraction = key(SIZE, "how long the tenon is beyond its shoulder", "1")
    mortise: Fraction | None = key(
        SIZE,
        "how deep the mortise is",
        "1 1/8",
        name="depth",
        default=None,
        otherwise="1/8 in more than the tenon is long, or 3 mm in a job in mm",
    )
    thickness: Fraction | None = key(
        SIZE,
        "how thick the tenon is",
        "1/4",
        default=None,
        otherwise="as the mortise is wide, or a third of the stock to the nearest 1/16 in, or 2 mm in a job in mm",
    )
    mortise_width: Fraction | None = key(
        SIZE, "how wide the mortise is", "1/4", default=None, otherwise="as the tenon is thick"
    )
    start: Fraction | None = key(
        word_or("centre", None, DISTANCE),
        "from the front face to the mortise's near wall",
        "1/4",
        default=None,
        otherwise="centre",
    )
    haunch: Fraction | None = key(
        word_or("none", Fraction(0), DISTANCE),
        "how long the haunch is where a rail lies at the end of a stile; none: only a shoulder there",
        "1/4",
        default=None,
        otherwise="as the tenon is thick",
    )
    haunch_width: Fraction | None = key(
        SIZE,
        "how wide that haunch is",
        "5/8",
        default=None,
        otherwise="a third of the rail to the nearest 1/8 in, or 2 mm in a job in mm",
    )
    shoulder: Fraction = key(
        DISTANCE, "how far each edge of the tenon is set in from the rail's", "1/8", default=Fraction(0)
    )
    units: Units = keys(lambda here: here.scope.units, default=Units.INCH)

    def check(self, here: Here) -> None:
        units = here.scope.units
        if self.depth < self.length:
            what = f"{write_figure(self.depth, units)} does not take a tenon {write_figure(self.length, units)} long"
            raise Fault(what, "make it at least as much as length", "depth")
        if self.thickness and self.mortise_width and self.mortise_width < self.thickness:
            wide, thick = write_figure(self.mortise_width, units), write_figure(self.thickness, units)
            raise Fault(f"{wide} does not take a tenon {thick} thick", "make it at least as much", "mortise_width")
        if self.haunch is not None and self.haunch >= self.length:
            what = f"{write_figure(self.haunch, units)} is no haunch of a tenon {write_figure(self.length, units)} long"
            raise Fault(what, "make it less than length", "haunch")

    @property
    def depth(self) -> Fraction:
        return self.length + _DEEPER[self.units] if self.mortise is None else self.mortise

    @property
    def entry(self) -> Fraction:
        return self.length

    @property
    def fit(self) -> Fraction:
        """How much wider the mortise is than the tenon is thick."""
        return self.mortise_width - self.thickness if self.mortise_width and self.thickness else Fraction(0)

    def enters(self, thickness: Fraction, /) -> tuple[Fraction, Fraction]:
        near, far = self.groove(thickness)
        return near + self.fit / 2, far - self.fit / 2

    def groove(self, thickness: Fraction, /) -> tuple[Fraction, Fraction]:
        width = self.mortise_width or self.thickness or self._third(thickness, _CHISELS[self.units])
        near = (thickness - width) / 2 if self.start is None else self.start
        return near, near + width

    def haunch_length(self, thickness: Fraction) -> Fraction:
        """How long the haunch is in stock this thick; less than the tenon."""
        near, far = self.enters(thickness)
        return min(far - near, self.length / 2) if self.haunch is None else self.haunch

    def cut_back(self, width: Fraction) -> Fraction:
        """How far a tenon is cut back at the end of a stile, on a member this wide."""
        return self._third(width, _HAUNCHES[self.units]) if self.haunch_width is None else self.haunch_width

    @staticmethod
    def _third(whole: Fraction, step: Fraction) -> Fraction:
        """Of the stock or of a member, to the nearest step."""
        return max(round(whole * _THIRD / step), 1) * step


@table("Half of each member of a face frame, one lapped over the other behind.")
class HalfLap(UsualJoint):
    """Each member keeps half of its thickness where they cross: what ends on another lies behind it, as far as that is
    wide, so that the front shows the one run through."""

    for_case: ClassVar[bool] = False
    for_frame: ClassVar[bool] = True
    closes: ClassVar[Closes] = Closes.LAPPED
    word: ClassVar[str] = "half lapped"
    sawn_end: ClassVar[str] = "half lap"
    is_sawn: ClassVar[bool] = True
    fit: ClassVar[Fraction] = Fraction(0)

    name: str

    @property
    def depth(self) -> Fraction:
        return Fraction(0)

    @property
    def entry(self) -> Fraction:
        return Fraction(0)

    def reach(self, across: Fraction, /) -> Fraction:
        return across

    def enters(self, thickness: Fraction, /) -> tuple[Fraction, Fraction]:
        return thickness / 2, thickness

    def groove(self, _thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        return None
