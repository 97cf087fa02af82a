"""The stretch of a strip or a bar that is drawn in one piece: here stations become floats, once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Final

from storystick.job.sticks import Hand

WORDS_KEEP_MM: Final = 2.0
"""Nothing that is read stands nearer to a line that is cut along: a knife goes astray by less."""

SEAM_KEEP_MM: Final = 3.2
"""Beside a seam, this much is kept clear of words for the register marks."""

REGISTER_FROM_EDGE_MM: Final = 3.2
"""So far from the edge that is marked by, a register mark is centred: its arms stay inside the strip."""

TAB_MM: Final = 7.0
"""Beyond its end, a piece has this much paper for the next one to be laid on: room for a cross and a line of words."""


@dataclass(frozen=True, slots=True)
class Window:
    """Stations ``start`` to ``end`` (mm) of a strip ``length`` mm long, drawn from x = 0 at the left.

    ``laid`` as a left hand (or None) it runs from the datum to the right, as a right one from the datum to the left.
    ``number`` of ``of`` counts the pieces of the strip from the datum.
    """

    start: Fraction
    end: Fraction
    length: Fraction
    laid: Hand | None = None
    number: int = 1
    of: int = 1

    def __post_init__(self) -> None:
        if not 0 <= self.start < self.end <= self.length:
            raise ValueError(f"window {self.start} to {self.end} of a strip of {self.length} mm")

    @property
    def direction(self) -> int:
        """1 where stations rise to the right, -1 where they rise to the left."""
        return -1 if self.laid is Hand.RIGHT else 1

    @property
    def width(self) -> float:
        return float(self.end - self.start)

    @property
    def words_limits(self) -> tuple[float, float]:
        """From where to where words may stand: off the lines that are cut along, and at a seam off register marks."""
        keeps = dict.fromkeys(map(self.x, self.seams), SEAM_KEEP_MM)
        return keeps.get(0.0, WORDS_KEEP_MM), self.width - keeps.get(self.width, WORDS_KEEP_MM)

    @property
    def has_tab(self) -> bool:
        """Every piece but the last has a tab beyond its end, for the next one to be laid on."""
        return self.number < self.of

    def x(self, station: Fraction) -> float:
        """Where a station lies, in mm from the window's left."""
        return float(station - self.start if self.direction > 0 else self.end - station)

    def stretch(self, start: Fraction, end: Fraction) -> tuple[float, float] | None:
        """Left and right of what shows of the stations ``start`` to ``end``; None where nothing does."""
        start, end = max(start, self.start), min(end, self.end)
        if start >= end:
            return None
        left, right = sorted((self.x(start), self.x(end)))
        return left, right

    def shows(self, station: Fraction) -> bool:
        """Whether a mark here is this window's: one on a seam belongs to the window that it starts."""
        return self.start <= station < self.end or station == self.end == self.length

    @property
    def seams(self) -> tuple[Fraction, ...]:
        """The stations where this window meets a neighbour."""
        return tuple(edge for edge in (self.start, self.end) if 0 < edge < self.length)


def windows_between(seams: Sequence[Fraction], length: Fraction, laid: Hand | None = None) -> tuple[Window, ...]:
    """A ``length`` in mm cut at ``seams``: rising stations from the datum, strictly inside it."""
    edges = (Fraction(0), *seams, length)
    return tuple(
        Window(start, end, length, laid, number, len(edges) - 1)
        for number, (start, end) in enumerate(pairwise(edges), start=1)
    )
