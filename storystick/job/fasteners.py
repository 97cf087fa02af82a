"""Joints that are not cut from one groove: what is bored or slotted into both parts, and how far apart.

The part ends square on the board: its length is without entry. Each kind is a class of its own with the face of a joint
and of :class:`Fastener`; to add one, write its class here and name it in :data:`FASTENER_KINDS`.

Where nothing else is said, sizes and distances are common practice, no source; ``shared/fasteners.toml`` has those that
general references give. All lengths are exact, in mm.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from math import ceil
from typing import Any, ClassVar, Final, Protocol, cast

from storystick.errors import Fault, as_written
from storystick.job.keys import Here, key, table
from storystick.job.kinds import DISTANCE, NAME, SIZE, Kind, Scope
from storystick.job.usual_joint import UsualJoint
from storystick.lengths import INCH_MM, Figures, Label, Units


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


def _usual(inch: str, mm: str) -> Callable[[Scope], Fraction]:
    """A length by the units of the job."""
    sizes = {Units.INCH: sum(map(Fraction, inch.split())) * INCH_MM, Units.MM: Fraction(mm)}
    return lambda scope: sizes[scope.units]


def _size(words: str, inch: str, mm: str, kind: Kind[Fraction] = SIZE) -> Any:
    """A length, and what it is in a job in inches and in one in mm; written "1/4" or "2"."""
    return key(kind, words, inch, usual=_usual(inch, mm), otherwise=f"{inch} in, or {mm} mm")


def _first() -> Any:
    return _size("from an edge to the first centre; at most a quarter of a short line", "2", "50")


def _pitch(inch: str, mm: str) -> Any:
    return _size("from centre to centre at most", inch, mm)


def _depth(what: str) -> Any:
    words = f"how deep the {what} in the face is"
    otherwise = "half of the length, but behind stays"
    return key(SIZE, words, "1/2", name="depth", usual=lambda _: None, otherwise=otherwise)


def _behind() -> Any:
    return _size("what stays of the board behind it, where no depth is given", "1/4", "6")


def _gap() -> Any:
    return _size("how much deeper each is than it goes in, for glue", "1/16", "1", DISTANCE)


class _Butted(UsualJoint):
    """What all of them have in common: the part ends on the face of the board, and nothing of it goes in."""

    __slots__ = ()
    first: Fraction
    pitch: Fraction

    for_frame: ClassVar[bool] = True
    fit: ClassVar[Fraction] = Fraction(0)
    depth: ClassVar[Fraction] = Fraction(0)
    entry: ClassVar[Fraction] = Fraction(0)
    draws: ClassVar[bool] = False
    from_outside: ClassVar[bool] = False

    def reach(self, _across: Fraction, /) -> Fraction:
        return Fraction(0)

    def enters(self, _thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        return None

    def groove(self, _thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        return None

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


def _half(length: Fraction, gap: Fraction, depth: Fraction | None, behind: Fraction, board: Fraction) -> Fraction:
    """How deep the hole in the face is: as given, or for half of the length and the gap, less in a thin board."""
    return min(length / 2 + gap, board - behind) if depth is None else depth


def _too_deep(what: str, depth: Fraction, board: Fraction, figures: Figures) -> Iterator[Fault]:
    if depth >= board:
        yield Fault(
            f"{what} would come out at the other face: {figures(depth)} deep, in a board {figures(board)} thick",
            "make its depth or length less",
        )


def _too_thick(what: str, across: Fraction, part: Fraction, figures: Figures) -> Iterator[Fault]:
    """More than two thirds of a part's thickness leave too little beside it: common practice, no source."""
    if across > part * 2 / 3:
        yield Fault(
            f"{what} is {figures(across)} thick, in a part {figures(part)} thick",
            f"make it {figures.at_most(part * 2 / 3)} or less, or the part thicker",
        )


def _no_end(what: str, depth: Fraction) -> Iterator[Fault]:
    if depth <= 0:
        yield Fault(f"nothing of {what} is left for the end of the part", "make it longer, or less deep in the face")


@table("Dowels between the end of the part and the face of the other.")
class Dowels(_Butted):
    """Dowels of a ``diameter``, ``length`` long: two thirds of a dowel in the part and a third in a thin board.

    ``hole_depth`` is that of the hole in the face, None for half of the length, or less in a thin board; each hole
    is ``bottom_gap`` deeper than the dowel goes in.
    """

    tool: ClassVar[Tool] = Tool.DRILL
    word: ClassVar[str] = "dowels"

    name: str
    diameter: Fraction = _size("the dowel's diameter", "5/16", "8")
    length: Fraction = _size("how long the dowel is", "1 1/2", "40")
    first: Fraction = _first()
    pitch: Fraction = _pitch("5", "125")
    hole_depth: Fraction | None = _depth("hole")
    behind: Fraction = _behind()
    bottom_gap: Fraction = _gap()

    @property
    def clear(self) -> Fraction:
        return self.diameter

    def driven(self, part: Fraction, board: Fraction, /) -> Fraction:
        return self.in_board(part, board).depth

    def in_board(self, _part: Fraction, board: Fraction, /) -> Bore:
        depth = _half(self.length, self.bottom_gap, self.hole_depth, self.behind, board)
        return Bore(self.diameter, self.diameter, depth)

    def in_end(self, part: Fraction, board: Fraction, /) -> Bore:
        depth = self.length + 2 * self.bottom_gap - self.driven(part, board)
        return Bore(self.diameter, self.diameter, depth)

    def sizes(self, _part: Fraction, label: Label, /) -> str:
        return f"{label(self.diameter)} × {label(self.length)}"

    def faults(self, part: Fraction, board: Fraction, figures: Figures, /) -> Iterator[Fault]:
        yield from _too_deep("the hole for a dowel", self.driven(part, board), board, figures)
        yield from _too_thick("a dowel", self.diameter, part, figures)
        yield from _no_end("a dowel", self.in_end(part, board).depth)


@table("Loose tenons in mortises in the end of the part and in the face of the other.")
class LooseTenons(_Butted):
    """Loose tenons ``thickness`` by ``width`` along the joint's line, ``length`` long; else as :class:`Dowels`."""

    tool: ClassVar[Tool] = Tool.MORTISER
    word: ClassVar[str] = "loose tenons"

    name: str
    thickness: Fraction = _size("how thick the tenon is", "1/4", "6")
    width: Fraction = _size("how wide the tenon is, along the joint", "3/4", "20")
    length: Fraction = _size("how long the tenon is", "1 1/2", "40")
    first: Fraction = _first()
    pitch: Fraction = _pitch("6", "150")
    hole_depth: Fraction | None = _depth("mortise")
    behind: Fraction = _behind()
    bottom_gap: Fraction = _gap()

    @property
    def clear(self) -> Fraction:
        return self.width / 2 + self.thickness

    def driven(self, part: Fraction, board: Fraction, /) -> Fraction:
        return self.in_board(part, board).depth

    def in_board(self, _part: Fraction, board: Fraction, /) -> Bore:
        depth = _half(self.length, self.bottom_gap, self.hole_depth, self.behind, board)
        return Bore(self.width, self.thickness, depth)

    def in_end(self, part: Fraction, board: Fraction, /) -> Bore:
        return Bore(self.width, self.thickness, self.length + 2 * self.bottom_gap - self.driven(part, board))

    def sizes(self, _part: Fraction, label: Label, /) -> str:
        return f"{label(self.thickness)} × {label(self.width)} × {label(self.length)}"

    def faults(self, part: Fraction, board: Fraction, figures: Figures, /) -> Iterator[Fault]:
        yield from _too_deep("the mortise for a loose tenon", self.driven(part, board), board, figures)
        yield from _too_thick("a loose tenon", self.thickness, part, figures)
        yield from _no_end("a loose tenon", self.in_end(part, board).depth)


@dataclass(frozen=True, slots=True)
class BiscuitSize:
    """A standard size of biscuits, in mm: what the machine cuts for it, ``slot`` long with a cutter of 100 mm."""

    number: int
    length: Fraction
    width: Fraction
    slot: Fraction
    depth: Fraction


_KERF: Final = Fraction(4)
"""All sizes are for a slot so thick: ``shared/fasteners.toml``."""

BISCUIT_SIZES: Final[Mapping[int, BiscuitSize]] = {
    number: BiscuitSize(number, Fraction(length), Fraction(width), Fraction(slot), Fraction(depth))
    for number, length, width, slot, depth in (
        (0, 47, 15, 55, "8"),
        (10, 53, 19, 60, "10"),
        (20, 56, 23, 66, "12.3"),
    )
}
"""Length and width as in ``shared/fasteners.toml``; slots and their depth are common practice, no source."""


def _read_biscuit(value: object, _: Scope) -> BiscuitSize:
    if isinstance(value, bool) or not isinstance(value, int) or value not in BISCUIT_SIZES:
        raise Fault(f"{as_written(value)} is not a standard size", "write 0, 10 or 20, without quotes")
    return BISCUIT_SIZES[value]


_BISCUIT: Final = Kind(
    _read_biscuit, BISCUIT_SIZES[20], "0, 10 or 20", "a standard size", {"enum": list(BISCUIT_SIZES)}
)


@table("Biscuits between the end of the part and the face of the other.")
class Biscuits(_Butted):
    """Biscuits of a standard size, half in the part and half in the board."""

    tool: ClassVar[Tool] = Tool.BISCUIT_JOINER
    word: ClassVar[str] = "biscuits"

    name: str
    first: Fraction = _first()
    pitch: Fraction = _pitch("6", "150")
    size: BiscuitSize = key(
        _BISCUIT, "the standard size of the biscuits", 20, default=BISCUIT_SIZES[20], otherwise="20"
    )

    @property
    def clear(self) -> Fraction:
        return self.size.slot / 2 + _KERF

    def driven(self, _part: Fraction, _board: Fraction, /) -> Fraction:
        return self.size.depth

    def in_board(self, _part: Fraction, _board: Fraction, /) -> Bore:
        return Bore(self.size.slot, _KERF, self.size.depth)

    def in_end(self, _part: Fraction, _board: Fraction, /) -> Bore:
        return Bore(self.size.slot, _KERF, self.size.depth)

    def sizes(self, _part: Fraction, _label: Label, /) -> str:
        return f"no. {self.size.number}"

    def faults(self, part: Fraction, board: Fraction, figures: Figures, /) -> Iterator[Fault]:
        if self.size.depth >= board:
            yield Fault(
                f"the slot for a biscuit no. {self.size.number} would come out at the other face: "
                f"{figures(self.size.depth)} deep, in a board {figures(board)} thick",
                "take a smaller size, or screws",
            )
        yield from _too_thick("a biscuit", _KERF, part, figures)


_SCREW_LENGTHS: Final = {
    Units.INCH: tuple(Fraction(length) * INCH_MM for length in ("1", "5/4", "3/2", "2", "5/2")),
    Units.MM: tuple(map(Fraction, (25, 32, 38, 50, 63))),
}
"""What pocket screws are sold in: common practice, no source."""

_GRIP: Final = INCH_MM * 9 / 16
"""How far a pocket screw goes into the board at most, where no length is given: 1 1/4 in for 3/4 in, 32 mm for 18 mm
are common practice, no source."""


@table("Pocket screws, from a face of the part through its end into the face of the other.")
class PocketScrews(_Butted):
    """Pocket screws; ``length`` holds those to choose from, by the part's thickness.

    Their heads sit about as far from the part's end as that is thick (common practice, no source), so what is longer
    goes into the board. The jig's manual governs.
    """

    tool: ClassVar[Tool] = Tool.POCKET_JIG
    word: ClassVar[str] = "pocket screws"
    draws: ClassVar[bool] = True

    name: str
    length: tuple[Fraction, ...] = key(
        SIZE.made(lambda length: (length,), (Fraction(1),)),
        "how long the screws are",
        "1 1/4",
        usual=lambda scope: _SCREW_LENGTHS[scope.units],
        otherwise="by the part's thickness: 32 mm for 18 mm, 1 1/4 in for 3/4 in",
    )
    first: Fraction = _first()
    pitch: Fraction = _pitch("6", "150")

    @property
    def clear(self) -> Fraction:
        """A pocket is 3/8 in wide: common practice, no source."""
        return INCH_MM * 3 / 8

    def length_for(self, part: Fraction, /) -> Fraction:
        """The longest that fits a part of this thickness, or the shortest of all."""
        return max((length for length in self.length if length <= part + _GRIP), default=min(self.length))

    def driven(self, part: Fraction, _board: Fraction, /) -> Fraction:
        return self.length_for(part) - part

    def in_board(self, _part: Fraction, _board: Fraction, /) -> None:
        return None

    def in_end(self, _part: Fraction, _board: Fraction, /) -> None:
        return None

    def sizes(self, part: Fraction, label: Label, /) -> str:
        return f"{label(self.length_for(part))} long"

    def faults(self, part: Fraction, board: Fraction, figures: Figures, /) -> Iterator[Fault]:
        yield from _too_deep("the point of a pocket screw", self.driven(part, board), board, figures)
        if self.driven(part, board) <= 0:
            yield Fault(
                f"a pocket screw {figures(self.length_for(part))} long stays in a part {figures(part)} thick",
                f"make its length {figures.at_least(part + _GRIP / 2)} or more",
            )


@table("Screws through the other into the end of the part: wood screws, or confirmat screws.")
class Screws(_Butted):
    """Screws ``length`` long, through a hole as wide as ``clearance`` in the board, in a ``pilot`` hole in the end.

    Their usual holes are those of a No. 8 wood screw: ``shared/fasteners.toml``.
    """

    tool: ClassVar[Tool] = Tool.DRILL
    draws: ClassVar[bool] = True
    from_outside: ClassVar[bool] = True

    name: str
    length: Fraction = _size("how long the screw is", "2", "50")
    clearance: Fraction = _size("the hole through the outer part", "11/64", "4.5")
    pilot: Fraction = _size("the hole in the end of the part", "7/64", "3")
    first: Fraction = _first()
    pitch: Fraction = _pitch("6", "150")
    word: str = key(
        NAME,
        "what they are, several of them",
        "confirmat screws",
        name="called",
        default="wood screws",
        otherwise="wood screws",
    )

    def check(self, here: Here) -> None:
        _Butted.check(self, here)
        if self.pilot > self.clearance:
            raise Fault("the pilot hole is wider than the clearance hole", "exchange them", "pilot")

    @property
    def clear(self) -> Fraction:
        return 2 * self.clearance

    def driven(self, _part: Fraction, board: Fraction, /) -> Fraction:
        return board

    def in_board(self, _part: Fraction, board: Fraction, /) -> Bore:
        return Bore(self.clearance, self.clearance, board)

    def in_end(self, _part: Fraction, board: Fraction, /) -> Bore:
        return Bore(self.pilot, self.pilot, self.length - board)

    def sizes(self, _part: Fraction, label: Label, /) -> str:
        return f"{label(self.length)} long"

    def faults(self, part: Fraction, board: Fraction, figures: Figures, /) -> Iterator[Fault]:
        if self.length <= board:
            yield Fault(
                f"a screw {figures(self.length)} long does not reach out of a board {figures(board)} thick",
                f"make its length {figures.at_least(board * 2)} or more",
            )
        yield from _too_thick("a screw's hole", self.clearance, part, figures)


FASTENER_KINDS: Final[Mapping[str, type[Any]]] = {
    "dowels": Dowels,
    "biscuits": Biscuits,
    "loose tenons": LooseTenons,
    "pocket screws": PocketScrews,
    "screws": Screws,
}
