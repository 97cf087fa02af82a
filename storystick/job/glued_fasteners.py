"""Fasteners that are glued into both parts: dowels, loose tenons and biscuits. Exact, in mm.

What has no source is common practice; ``shared/fasteners.toml`` has the figures that general references give.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, ClassVar, Final

from storystick.errors import Fault, as_written
from storystick.job.fasteners import Bore, Butted, Tool, first_key, pitch_key, size_key, too_deep, too_thick
from storystick.job.keys import key, table
from storystick.job.kinds import DISTANCE, SIZE, Kind, Scope
from storystick.lengths import Figures, Label


def _depth(what: str) -> Any:
    words = f"how deep the {what} in the face is"
    otherwise = "half of the length, less where behind would not stay"
    return key(SIZE, words, "1/2", name="depth", usual=lambda _: None, otherwise=otherwise)


def _behind(what: str) -> Any:
    return size_key(f"what stays of the board behind the {what}, where no depth is given", "1/4", "6")


def _gap(what: str) -> Any:
    return size_key(f"how much deeper each {what} is than what goes in, for glue", "1/16", "1", DISTANCE)


def _half(length: Fraction, gap: Fraction, depth: Fraction | None, behind: Fraction, board: Fraction) -> Fraction:
    """How deep the hole in the face is: as given, or for half of the length and the gap, less in a thin board."""
    return min(length / 2 + gap, board - behind) if depth is None else depth


def _no_end(what: str, depth: Fraction) -> Iterator[Fault]:
    if depth <= 0:
        yield Fault(f"nothing of {what} is left for the end of the part", "make it longer, or less deep in the face")


@table("Dowels between the end of the part and the face of the other.")
class Dowels(Butted):
    """Dowels of a ``diameter``, ``length`` long: two thirds of a dowel in the part and a third in a thin board.

    ``hole_depth`` is that of the hole in the face, None for half of the length, or less in a thin board; each hole
    is ``bottom_gap`` deeper than the dowel goes in.
    """

    tool: ClassVar[Tool] = Tool.DRILL
    word: ClassVar[str] = "dowels"

    name: str
    diameter: Fraction = size_key("the dowel's diameter", "5/16", "8")
    length: Fraction = size_key("how long the dowel is", "1 1/2", "40")
    first: Fraction = first_key()
    pitch: Fraction = pitch_key("5", "125")
    hole_depth: Fraction | None = _depth("hole")
    behind: Fraction = _behind("hole")
    bottom_gap: Fraction = _gap("hole")

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
        yield from too_deep("the hole for a dowel", self.driven(part, board), board, figures)
        yield from too_thick("a dowel", self.diameter, part, figures)
        yield from _no_end("a dowel", self.in_end(part, board).depth)


@table("Loose tenons in mortises in the end of the part and in the face of the other.")
class LooseTenons(Butted):
    """Loose tenons ``thickness`` by ``width`` along the joint's line, ``length`` long; else as :class:`Dowels`."""

    tool: ClassVar[Tool] = Tool.MORTISER
    word: ClassVar[str] = "loose tenons"

    name: str
    thickness: Fraction = size_key("how thick the tenon is", "1/4", "6")
    width: Fraction = size_key("how wide the tenon is, along the joint", "3/4", "20")
    length: Fraction = size_key("how long the tenon is", "1 1/2", "40")
    first: Fraction = first_key()
    pitch: Fraction = pitch_key("6", "150")
    hole_depth: Fraction | None = _depth("mortise")
    behind: Fraction = _behind("mortise")
    bottom_gap: Fraction = _gap("mortise")

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
        yield from too_deep("the mortise for a loose tenon", self.driven(part, board), board, figures)
        yield from too_thick("a loose tenon", self.thickness, part, figures)
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
class Biscuits(Butted):
    """Biscuits of a standard size, half in the part and half in the board."""

    tool: ClassVar[Tool] = Tool.BISCUIT_JOINER
    word: ClassVar[str] = "biscuits"

    name: str
    first: Fraction = first_key()
    pitch: Fraction = pitch_key("6", "150")
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
        yield from too_thick("a biscuit", _KERF, part, figures)
