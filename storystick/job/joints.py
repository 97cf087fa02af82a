"""The joints by which a part ends on another: what each cuts, and how far the part goes in.

Each kind is a class of its own with the same face. To add one, write its class here and name it in
:data:`JOINT_KINDS`; the job file's keys are the fields of the class.

A joint counts from the outside of a side, so that left and right sides and stiles are images of each other.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from itertools import starmap
from typing import Any, ClassVar, Final, Protocol

from storystick.errors import Fault
from storystick.job.dovetails import SlidingDovetail
from storystick.job.fasteners import FASTENER_KINDS, Fastener
from storystick.job.frame_joints import HalfLap, MortiseAndTenon
from storystick.job.keys import Here, Key, TableOf, by_name, key, one, table, table_of
from storystick.job.kinds import DISTANCE, SIZE, Scope, Table, choice, word_or
from storystick.job.usual_joint import Closes, UsualJoint
from storystick.lengths import INCH_MM, Figures, Units, write_figure

LOOSEST_FIT: Final = INCH_MM / 16
"""No groove is meant to be wider than what goes into it by more, in mm: judgement, no source."""


def _bottom_gap(words: str) -> Any:
    return key(DISTANCE, words, "1/64", default=Fraction(0))


def _fit(words: str) -> Any:
    return key(DISTANCE, words, "1/128", default=Fraction(0))


def _stop() -> Any:
    return key(
        DISTANCE,
        "the groove stops this far before the front edge of the board, and the part's corner is cut back",
        "3/8",
        default=Fraction(0),
        otherwise="it runs through",
    )


class Joint(Protocol):
    """What the layout asks of a joint. All lengths in mm, exact."""

    @property
    def name(self) -> str:
        """The name that the job gave it."""

    @property
    def at_end_only(self) -> bool:
        """Whether it can be cut only at the end of the part that is ended on."""

    @property
    def for_case(self) -> bool:
        """Whether it joins parts of a case."""

    @property
    def for_frame(self) -> bool:
        """Whether it joins the members of a face frame with each other."""

    @property
    def depth(self) -> Fraction:
        """How deep the groove is; 0 where none is cut."""

    @property
    def entry(self) -> Fraction:
        """How far the part goes into the part that it ends on, beyond that part's face."""

    @property
    def fit(self) -> Fraction:
        """How much wider the groove is than what goes into it, half of it at either side."""

    @property
    def word(self) -> str:
        """What is said of an end or edge that goes in: "tongued"."""

    @property
    def is_sawn(self) -> bool:
        """Whether square notches in the faces, as a table saw cuts them, leave what goes in."""

    @property
    def closes(self) -> Closes:
        """How it comes together."""

    @property
    def front_stop(self) -> Fraction:
        """How far before the finished front edge of the board its groove stops; 0 where it runs through."""

    @property
    def bit_angle(self) -> Fraction:
        """How far the side of the router bit leans that cuts its groove, in degrees; 0 for a straight one."""

    @property
    def lean(self) -> Fraction:
        """How much wider each wall makes its groove at the bottom than at the face; ``groove`` is at the bottom."""

    def reach(self, across: Fraction, /) -> Fraction:
        """How far the part goes into one that measures so much across: for most, their entry."""

    @property
    def fasteners(self) -> Fastener | None:
        """What is bored or slotted into both parts where nothing is cut; None for nothing."""

    def enters(self, thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        """What of a part this thick goes in: its near and far edge from the datum-side face; None for nothing.

        The layout sees to it that they lie within the thickness.
        """

    def groove(self, thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        """The near and far edge of the groove, from the datum-side face of a part this thick; None for no groove."""


@table("A tongue on the part, in a groove that is narrower than the part.")
class Tongue(UsualJoint):
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
    bottom_gap: Fraction = _bottom_gap("the tongue is this much shorter than the groove is deep")
    fit: Fraction = _fit("how much wider the groove is than the tongue")
    stop: Fraction = _stop()

    def __post_init__(self) -> None:
        _check_depth(self.depth, self.bottom_gap)
        if self.fit >= self.width:
            raise Fault("fit leaves no tongue: it must be less than width")

    @property
    def entry(self) -> Fraction:
        return self.depth - self.bottom_gap

    @property
    def front_stop(self) -> Fraction:
        return self.stop

    def reach(self, _across: Fraction, /) -> Fraction:
        return self.entry

    def enters(self, thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        near, far = self.groove(thickness)
        return near + self.fit / 2, far - self.fit / 2

    def groove(self, thickness: Fraction, /) -> tuple[Fraction, Fraction]:
        near = (thickness - self.width) / 2 if self.set is None else self.set
        return near, near + self.width


@table("A groove as wide as the whole part.")
class Housing(UsualJoint):
    """A groove as wide as the whole part and ``fit``, ``depth`` deep; the part stops short of its bottom by
    ``bottom_gap``."""

    word: ClassVar[str] = "housed"

    name: str
    depth: Fraction = key(SIZE, "how deep the groove is", "1/4")
    bottom_gap: Fraction = _bottom_gap("the part stops this much short of the bottom of the groove")
    fit: Fraction = _fit("how much wider the groove is than the part")
    stop: Fraction = _stop()

    def __post_init__(self) -> None:
        _check_depth(self.depth, self.bottom_gap)

    @property
    def entry(self) -> Fraction:
        return self.depth - self.bottom_gap

    @property
    def front_stop(self) -> Fraction:
        return self.stop

    def reach(self, _across: Fraction, /) -> Fraction:
        return self.entry

    def enters(self, thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        return Fraction(0), thickness

    def groove(self, thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        return -self.fit / 2, thickness + self.fit / 2


@table("A housing for the part's end, which is rabbeted on one face and so thinner: a dado and rabbet.")
class RabbetedHousing(UsualJoint):
    """A groove narrower than the part, whose end is rabbeted on one face and goes in with the rest.

    Its one ``shoulder`` is on the low face (the lower or left one, or the outside of a side) or on the high one. At an
    end of a case it makes the rabbeted corner: the groove lies away from that end where the shoulder is toward it.
    """

    word: ClassVar[str] = "rabbeted"
    is_sawn: ClassVar[bool] = True

    name: str
    width: Fraction = key(SIZE, "how wide the groove is", "3/8")
    depth: Fraction = key(SIZE, "how deep the groove is", "1/4")
    shoulder_high: bool = key(
        choice({"lower": False, "upper": True}),
        "which face is rabbeted: the lower (left, or the outside of a side), or the upper one",
        "upper",
        name="shoulder",
        default=False,
        otherwise="lower",
    )
    bottom_gap: Fraction = _bottom_gap("what goes in is this much shorter than the groove is deep")
    fit: Fraction = _fit("how much wider the groove is than what goes in")
    stop: Fraction = _stop()

    def __post_init__(self) -> None:
        _check_depth(self.depth, self.bottom_gap)
        if self.fit >= self.width:
            raise Fault("fit leaves nothing to go in: it must be less than width")

    @property
    def entry(self) -> Fraction:
        return self.depth - self.bottom_gap

    @property
    def front_stop(self) -> Fraction:
        return self.stop

    def reach(self, _across: Fraction, /) -> Fraction:
        return self.entry

    def enters(self, thickness: Fraction, /) -> tuple[Fraction, Fraction]:
        near, far = self.groove(thickness)
        # The whole face goes in at the one side: only the wall at the shoulder has the other half of the play in it.
        return (max(near, Fraction(0)), far - self.fit / 2) if self.shoulder_high else (near + self.fit / 2, thickness)

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

    def reach(self, _across: Fraction, /) -> Fraction:
        return self.entry

    def enters(self, thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        return Fraction(0), thickness

    def groove(self, thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        return self.enters(thickness)


@table("The part ends square on the face of the other; nothing is cut.")
class Butt(UsualJoint):
    """The part ends square on the face of the other; nothing is cut."""

    word: ClassVar[str] = "let in"
    fit: ClassVar[Fraction] = Fraction(0)

    name: str

    @property
    def depth(self) -> Fraction:
        return Fraction(0)

    @property
    def entry(self) -> Fraction:
        return Fraction(0)

    def reach(self, _across: Fraction, /) -> Fraction:
        return self.entry

    def enters(self, _thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        return None

    def groove(self, _thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        return None


JOINT_KINDS: Final[Mapping[str, type[Any]]] = {
    "tongue": Tongue,
    "housing": Housing,
    "rabbet": Rabbet,
    "butt": Butt,
    "rabbeted housing": RabbetedHousing,
    "sliding dovetail": SlidingDovetail,
    "mortise and tenon": MortiseAndTenon,
    "half lap": HalfLap,
    **FASTENER_KINDS,
}


def _check_depth(depth: Fraction, bottom_gap: Fraction) -> None:
    if bottom_gap >= depth:
        raise Fault("bottom_gap leaves no tongue: it must be less than depth")


def _shape(word: str, build: type[Any]) -> TableOf[Joint]:
    """All keys of a joint of one kind."""
    of = table_of(build)
    return replace(of, filled={"kind": one("kind", Key(choice({word: word}), of.words, word)), **of.filled})


def read_joint(name: str, value: object, scope: Scope) -> Joint:
    """A joint; its keys are those of its kind's class."""
    table = Table(value)
    build = table.need("kind", choice(JOINT_KINDS))
    table.stop_if_faulty()
    here = Here(table, scope, table_of(build).keys)
    values = table_of(build).values(here)
    table.close()
    _check_gap(values, scope.units)
    _check_fit(values, scope.units)
    joint: Joint = build(name=name, **values)
    if check := table_of(build).check:
        check(joint, here)
    return joint


JOINTS: Final = by_name("joint", read_joint, {"oneOf": list(starmap(_shape, JOINT_KINDS.items()))})
"""What stands under [joint]."""


def _check_gap(figures: Mapping[str, Fraction | None], units: Units) -> None:
    gap, depth = figures.get("bottom_gap"), figures.get("depth")
    if gap is not None and depth is not None and gap >= depth:
        what = f"{write_figure(gap, units)} leaves nothing in a groove {write_figure(depth, units)} deep"
        raise Fault(what, "make it less than depth", "bottom_gap")


def _check_fit(figures: Mapping[str, Fraction | None], units: Units) -> None:
    fit, width = figures.get("fit") or Fraction(0), figures.get("width")
    if fit > LOOSEST_FIT:
        most = f"{Figures.usual(units).at_most(LOOSEST_FIT)} {units.sign}"
        raise Fault(f"{write_figure(fit, units)} is more than {most}, and no fit", "look at its unit", "fit")
    if width is not None and fit >= width:
        what = f"{write_figure(fit, units)} leaves no tongue in a groove {write_figure(width, units)} wide"
        raise Fault(what, "make it less than width", "fit")
