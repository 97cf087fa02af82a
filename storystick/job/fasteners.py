"""Joints that are not cut from one groove: what is bored or slotted into both parts, and how far apart.

The part ends square on the board: its length is without entry. Each kind is a :class:`Butted` of its own, with the face
of a joint and of :class:`Fastener`: those that are glued, and those that draw the joint together.

Where nothing else is said, sizes and distances are common practice, no source; ``shared/fasteners.toml`` has those that
general references give. All lengths are exact, in mm.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from math import ceil
from typing import Any, ClassVar, Protocol, cast

from storystick.errors import Fault
from storystick.job.keys import Here, key
from storystick.job.kinds import SIZE, Kind, by_units
from storystick.job.usual_joint import Square
from storystick.lengths import Figures, Label


class Tool(Enum):
    """What makes its holes or slots; the word is the one at the head of its settings."""

    DRILL = "drill"
    BISCUIT_JOINER = "biscuit joiner"
    MORTISER = "slot mortiser or router"
    POCKET_JIG = "pocket-hole jig"


@dataclass(frozen=True, slots=True)
class Bore:
    """A hole or a slot, ``along`` the joint's line and ``across`` it, both its diameter where it is round."""

    along: Fraction
    across: Fraction
    depth: Fraction

    @property
    def is_round(self) -> bool:
        return self.along == self.across


class Fastener(Protocol):
    """What the layout asks of fasteners. ``part`` is how thick the part is, ``board`` how thick what it ends on is."""

    tool: ClassVar[Tool]
    draws: ClassVar[bool]
    """Whether they pull the joint together, so that it needs no clamp."""
    from_outside: ClassVar[bool]
    """Whether they are driven through the board, from its other face."""

    @property
    def name(self) -> str:
        """The name that the job gave it."""

    @property
    def word(self) -> str:
        """What they are, several of them: "dowels"."""

    @property
    def clear(self) -> Fraction:
        """How near to an edge a centre may lie."""

    @property
    def behind(self) -> Fraction:
        """What stays of the board behind them where they say no depth; 0 where their depth is always the same."""

    def places(self, line: Fraction, /) -> tuple[Fraction, ...]:
        """The centres along a line so long, from its start; none where it is too short for one."""

    def driven(self, part: Fraction, board: Fraction, /) -> Fraction:
        """How deep they go into the board, square to its face."""

    def in_board(self, part: Fraction, board: Fraction, /) -> Bore | None:
        """What is bored into the face of the board; None for nothing."""

    def in_end(self, part: Fraction, board: Fraction, /) -> Bore | None:
        """What is bored into the end of the part; None where that is not bored from its end."""

    def sizes(self, part: Fraction, label: Label, /) -> str:
        """Their sizes as they are bought."""

    def faults(self, part: Fraction, board: Fraction, figures: Figures, /) -> Iterator[Fault]:
        """Why they cannot join a part to a board."""


def spaced(line: Fraction, first: Fraction, pitch: Fraction, clear: Fraction) -> tuple[Fraction, ...]:
    """Centres along a line: the outer ones ``first`` from its ends, or a quarter of a short one, the others evenly.

    They are at most ``pitch`` apart. Where a quarter is nearer to an edge than ``clear``, there is one in the middle;
    none where even that is too near.
    """
    start = min(first, line / 4)
    if start < clear:
        return (line / 2,) if line / 2 >= clear else ()
    gaps = max(1, ceil((line - 2 * start) / pitch))
    return tuple(start + (line - 2 * start) * gap / gaps for gap in range(gaps + 1))


def size_key(words: str, inch: str, mm: str, kind: Kind[Fraction] = SIZE) -> Any:
    """A length, and what it is in a job in inches and in one in mm; written "1/4" or "2"."""
    return key(kind, words, inch, usual=by_units(inch, mm))


def first_key() -> Any:
    """The field of the distance from an edge to the first centre."""
    return size_key("from an edge to the first centre; on a short line a quarter of it", "2", "50")


def pitch_key(inch: str, mm: str) -> Any:
    """The field of the distance from centre to centre."""
    return size_key("from centre to centre, at most", inch, mm)


class Butted(Square):
    """What all of them have in common: the part ends on the face of the board, and nothing of it goes in."""

    __slots__ = ()
    first: Fraction
    pitch: Fraction

    for_frame: ClassVar[bool] = True
    draws: ClassVar[bool] = False
    from_outside: ClassVar[bool] = False

    @property
    def fasteners(self) -> Fastener:
        return cast(Fastener, self)

    @property
    def clear(self) -> Fraction:
        raise NotImplementedError

    @property
    def behind(self) -> Fraction:
        return Fraction(0)

    def places(self, line: Fraction, /) -> tuple[Fraction, ...]:
        return spaced(line, self.first, self.pitch, self.clear)

    def check(self, here: Here) -> None:
        """Whether they keep clear of edges and, set out evenly, of each other."""
        figures = Figures.usual(here.scope.units)
        for name, given, least in (("first", self.first, self.clear), ("pitch", self.pitch, 4 * self.clear)):
            if given < least:
                what = f"{figures(given)} is too little for such {cast(Fastener, self).word}"
                raise Fault(what, f"make it {figures.at_least(least)} or more", name)


def too_deep(what: str, depth: Fraction, board: Fraction, figures: Figures) -> Iterator[Fault]:
    """What is bored or driven so deep comes out of the board."""
    if depth >= board:
        yield Fault(
            f"{what} would come out at the other face: {figures(depth)} deep, in a board {figures(board)} thick",
            "make its depth or length less",
        )


def too_thick(what: str, across: Fraction, part: Fraction, figures: Figures) -> Iterator[Fault]:
    """More than two thirds of a part's thickness leave too little beside it: common practice, no source."""
    if across > part * 2 / 3:
        yield Fault(
            f"{what} is {figures(across)} thick, in a part {figures(part)} thick",
            f"make it {figures.at_most(part * 2 / 3)} or less, or the part thicker",
        )
