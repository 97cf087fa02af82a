"""The stretch of a strip that is drawn in one piece: where its exact stations become floats, each once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby

from storystick.job.model import Hand
from storystick.layout.model import Point


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
