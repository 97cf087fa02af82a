"""The stretch of a strip drawn in one piece: where stations become floats, and what lies how high."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby
from typing import Final

from storystick.job.sticks import Hand
from storystick.layout.stations import Point


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


def points_to_name(points: Iterable[Point], window: Window) -> list[Point]:
    """The single points, and of every row of holes the first and the last that show."""
    shown = [point for point in points if window.shows(point.at)]
    single = [point for point in shown if point.row is None]
    rows = [list(row) for name, row in groupby(shown, key=lambda point: point.row) if name is not None]
    return single + [point for row in rows for point in dict.fromkeys((row[0], row[-1]))]


MARK_TOP: Final = 12.0
NUMBER_BASELINE: Final = 2.3
NAME_BASELINE: Final = 7.4
TICK_TOP: Final = 3.2
POINTER_TOP: Final = 5.4
GROOVE_BOTTOM: Final = 12.6
GROOVE_TOP: Final = 15.6

NUMBER_PT: Final = 9.5
SIZE_PT: Final = 11.0
NAME_PT: Final = 9.0
LIFTED_PT: Final = 8.5
WORDS_PT: Final = 8.0
"""Nothing that is read at the bench is smaller than 8 points."""

WORDS_KEEP_MM: Final = 2.0
"""Nothing that is read stands nearer to a line that is cut along: a knife goes astray by less."""

LINE_MM: Final = 3.5
"""What a line of lifted lettering takes, upright or upward."""

SEAM_KEEP_MM: Final = 3.2
"""Beside a seam, this much is kept clear of words for the register marks."""

REGISTER_FROM_EDGE_MM: Final = 3.2
"""So far from the edge that is marked by, a register mark is centred: its arms stay inside the strip."""

TAB_MM: Final = 7.0
"""Beyond its end, a piece has this much paper for the next one to be laid on: room for a cross and a line of words."""

FAN_MM: Final = 3.4
"""What leaders take to lean from their marks to labels that had to step aside."""

FLAG_MM: Final = 1.8
"""How far the flag of a straightedge's line stands out from it."""

BESIDE_BOTTOM: Final = 16.1
BESIDE_TOP: Final = 19.5

_FAN_BOTTOM: Final = {False: 16.0, True: 19.9}
_HEADLINE_MM: Final = 4.4
_SCALE_MM: Final = 5.8


@dataclass(frozen=True, slots=True)
class StripLanes:
    """The lanes of a strip whose leaders lean over ``fan`` mm and whose lifted labels are ``lifted`` mm high.

    ``beside`` says whether a lane for a face frame lies above the one for grooves.
    """

    fan: float
    lifted: float
    beside: bool = False

    @property
    def fan_bottom(self) -> float:
        return _FAN_BOTTOM[self.beside]

    @property
    def lifted_bottom(self) -> float:
        return self.fan_bottom + self.fan

    @property
    def headline_bottom(self) -> float:
        return self.lifted_bottom + max(self.lifted, LINE_MM)

    @property
    def headline_baseline(self) -> float:
        return self.headline_bottom + 1.1

    @property
    def scale_bottom(self) -> float:
        return self.headline_bottom + _HEADLINE_MM

    @property
    def height_mm(self) -> float:
        return self.scale_bottom + _SCALE_MM

    @property
    def register_heights(self) -> tuple[float, float]:
        """Where the register marks sit at a seam: among the bands, and in the headline."""
        return REGISTER_FROM_EDGE_MM, self.headline_bottom + 2.0
