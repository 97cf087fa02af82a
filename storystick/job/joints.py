"""The joints by which a part ends on another: what each cuts, and how far the part goes in.

Each kind is a class of its own with the same face, in a module beside this one; the job file's keys are its fields.

A joint counts from the outside of a side, so that left and right sides and stiles are images of each other.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from itertools import starmap
from typing import Any, Final, Protocol

from storystick.job.case_joints import Butt, Housing, Rabbet, RabbetedHousing, Tongue
from storystick.job.dovetails import SlidingDovetail
from storystick.job.fasteners import Fastener
from storystick.job.frame_joints import HalfLap, MortiseAndTenon
from storystick.job.glued_fasteners import Biscuits, Dowels, LooseTenons
from storystick.job.keys import Here, Key, TableOf, by_name, one, table_of
from storystick.job.kinds import Scope, Table, choice
from storystick.job.screws import PocketScrews, Screws
from storystick.job.usual_joint import Closes


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
    def sawn_end(self) -> str:
        """What the saw leaves on an end: "end tongue"."""

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

    def at_top(self) -> Joint:
        """As it joins a top, whose outside is its upper face."""

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


JOINT_KINDS: Final[Mapping[str, type[Any]]] = {
    "tongue": Tongue,
    "housing": Housing,
    "rabbet": Rabbet,
    "butt": Butt,
    "rabbeted housing": RabbetedHousing,
    "sliding dovetail": SlidingDovetail,
    "mortise and tenon": MortiseAndTenon,
    "half lap": HalfLap,
    "dowels": Dowels,
    "biscuits": Biscuits,
    "loose tenons": LooseTenons,
    "pocket screws": PocketScrews,
    "screws": Screws,
}


def _shape(word: str, build: type[Any]) -> TableOf[Joint]:
    """All keys of a joint of one kind."""
    of = table_of(build)
    return replace(of, filled={"kind": one("kind", Key(choice({word: word}), of.words.rstrip("."), word)), **of.filled})


def read_joint(name: str, value: object, scope: Scope) -> Joint:
    """A joint; its keys are those of its kind's class."""
    table = Table(value)
    build = table.need("kind", choice(JOINT_KINDS))
    table.stop_if_faulty()
    here = Here(table, scope, table_of(build).keys)
    values = table_of(build).values(here)
    table.close()
    joint: Joint = build(name=name, **values)
    if check := table_of(build).check:
        check(joint, here)
    return joint


JOINTS: Final = by_name("joint", read_joint, {"oneOf": list(starmap(_shape, JOINT_KINDS.items()))})
"""What stands under [joint]."""
