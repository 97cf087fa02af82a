"""Fasteners that draw a joint together, so that it needs no clamp: pocket screws, wood screws and confirmat screws.

What has no source is common practice; ``shared/fasteners.toml`` has the figures that general references give. All
lengths are exact, in mm.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import ClassVar, Final

from storystick.errors import Fault
from storystick.job.fasteners import Bore, Butted, Tool, first_key, pitch_key, size_key, too_deep, too_thick
from storystick.job.keys import Here, key, table
from storystick.job.kinds import NAME, SIZE
from storystick.lengths import INCH_MM, Figures, Label, Units

_SCREW_LENGTHS: Final = {
    Units.INCH: tuple(Fraction(length) * INCH_MM for length in ("1", "5/4", "3/2", "2", "5/2")),
    Units.MM: tuple(map(Fraction, (25, 32, 38, 50, 63))),
}
"""What pocket screws are sold in: common practice, no source."""

_GRIP: Final = INCH_MM * 9 / 16
"""How far a pocket screw goes into the board at most, where no length is given: 1 1/4 in for 3/4 in, 32 mm for 18 mm
are common practice, no source."""


@table("Pocket screws, from a face of the part through its end into the face of the other.")
class PocketScrews(Butted):
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
    first: Fraction = first_key()
    pitch: Fraction = pitch_key("6", "150")

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
        yield from too_deep("the point of a pocket screw", self.driven(part, board), board, figures)
        if self.driven(part, board) <= 0:
            yield Fault(
                f"a pocket screw {figures(self.length_for(part))} long stays in a part {figures(part)} thick",
                f"make its length {figures.at_least(part + _GRIP / 2)} or more",
            )


@table("Screws through the other into the end of the part: wood screws, or confirmat screws.")
class Screws(Butted):
    """Screws ``length`` long, through a hole as wide as ``clearance`` in the board, in a ``pilot`` hole in the end.

    Their usual holes are those of a No. 8 wood screw: ``shared/fasteners.toml``.
    """

    tool: ClassVar[Tool] = Tool.DRILL
    draws: ClassVar[bool] = True
    from_outside: ClassVar[bool] = True

    name: str
    length: Fraction = size_key("how long the screw is", "2", "50")
    clearance: Fraction = size_key("the hole through the outer part", "11/64", "4.5")
    pilot: Fraction = size_key("the hole in the end of the part", "7/64", "3")
    first: Fraction = first_key()
    pitch: Fraction = pitch_key("6", "150")
    word: str = key(
        NAME,
        "what they are called, in the plural",
        "confirmat screws",
        name="called",
        default="wood screws",
        otherwise="wood screws",
    )

    def check(self, here: Here) -> None:
        Butted.check(self, here)
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
        yield from too_thick("a screw's hole", self.clearance, part, figures)
