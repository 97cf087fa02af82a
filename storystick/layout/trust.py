"""How far a mark may lie from its figure: what a tape can lose, and what a strip in tiles can. All exact, in mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import Final

SEAM_ERROR: Final = Fraction(1, 4)
"""How far a tile may be laid beside its register marks or its station, in mm: common practice, no source."""

_METRE: Final = Fraction(1000)


@dataclass(frozen=True, slots=True)
class TapeClass:
    """An accuracy class of tapes and rules: ``fixed`` mm, and ``a_metre`` more for each metre that is begun.

    That holds between two of its marks; from a hook or the end of a rule it is ``hook`` mm more.
    OIML R 35-1:2007, clause 4; UK SI 2016/1153, Schedule 1I, paragraph 2.
    """

    fixed: Fraction
    a_metre: Fraction
    hook: Fraction

    def error(self, length: Fraction) -> Fraction:
        """The most that the tape may show wrong, either way, over ``length`` mm, rounded up to a whole metre."""
        return self.fixed + self.a_metre * ceil(length / _METRE)

    def hooked(self, length: Fraction) -> Fraction:
        """The same where the tape is hooked on, or a rule butted, and not read at two marks."""
        return self.error(length) + self.hook

    def between_two(self, length: Fraction) -> Fraction:
        """The most that two sides may differ that are measured apart from the hook: one too long, one too short."""
        return 2 * self.hooked(length)


TAPE_CLASSES: Final = {
    "I": TapeClass(Fraction("0.1"), Fraction("0.1"), Fraction("0.1")),
    "II": TapeClass(Fraction("0.3"), Fraction("0.2"), Fraction("0.2")),
    "III": TapeClass(Fraction("0.6"), Fraction("0.4"), Fraction("0.3")),
}


def lost_joined(tiles: Sequence[Fraction], share: Fraction) -> Fraction:
    """What a strip may lose by its far end where each tile is joined to the one before.

    ``tiles`` are their lengths; ``share`` is that part of a length that the printer may still be wrong by.
    """
    return share * sum(tiles, Fraction(0)) + SEAM_ERROR * (len(tiles) - 1)


def lost_at_stations(tiles: Sequence[Fraction], share: Fraction) -> Fraction:
    """The same where each tile is laid to its own station: nothing adds up, so it is that of the longest tile."""
    return share * max(tiles) + (SEAM_ERROR if len(tiles) > 1 else 0)
