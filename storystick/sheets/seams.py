"""Where to cut a strip into tiles: clear of every mark, and in as few tiles as that allows.

From any start, the best cut is the farthest one within reach that keeps clear: a chain of such cuts is never behind
any other chain, so it needs the fewest tiles. The cuts are then drawn back to round stations where that costs nothing.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

CLEARANCE: Final = Fraction(3)
"""A seam keeps at least this far from every mark, in mm, wherever any cut allows it."""


@dataclass(frozen=True, slots=True)
class Seam:
    """A cut at station ``at``; ``clearance`` is how far the nearest mark is. Both in mm."""

    at: Fraction
    clearance: Fraction

    @property
    def keeps_clear(self) -> bool:
        return self.clearance >= CLEARANCE


@dataclass(frozen=True, slots=True)
class Reach:
    """How long tiles may be, in mm: the ``last`` needs no tab, so it may be longer than the ``others``.

    ``shortest`` is what a tile should have to be held and glued well.
    """

    others: Fraction
    last: Fraction
    shortest: Fraction


def cut(marks: Sequence[Fraction], reach: Reach, grid: Fraction) -> tuple[Seam, ...]:
    """The seams of a strip whose rising ``marks`` begin with 0 and end with its length, in mm.

    They are as few as the clearance allows. Among cuts that need no more tiles, seams lie on multiples of ``grid``,
    and the last tile is not shorter than it should be, where that can be.
    """
    fewest = _chain(marks, reach, Fraction(0))
    rounded = _chain(marks, reach, grid)
    stations = rounded if len(rounded) == len(fewest) and _least_clear(marks, rounded) >= CLEARANCE else fewest
    stations = _with_room_at_the_end(marks, stations, reach, grid)
    return tuple(Seam(station, _clearance(marks, station)) for station in stations)


def _chain(marks: Sequence[Fraction], reach: Reach, grid: Fraction) -> list[Fraction]:
    """Cuts from the datum on, each the farthest that the one before allows."""
    stations: list[Fraction] = []
    start = marks[0]
    while marks[-1] - start > reach.last:
        start = _farthest(marks, start, start + reach.others, grid)
        stations.append(start)
    return stations


def _farthest(marks: Sequence[Fraction], start: Fraction, limit: Fraction, grid: Fraction) -> Fraction:
    """The farthest clear station after ``start`` and up to ``limit``; where none is clear, the roomiest."""
    for near, far in _gaps_down_from(marks, limit):
        low, high = near + CLEARANCE, min(far - CLEARANCE, limit)
        station = high // grid * grid if grid else high
        if high <= start:
            break
        if max(low, start) < station or low == station > start:
            return station
        if max(low, start) < high or low == high > start:
            return high
    return _roomiest(marks, start, limit)


def _gaps_down_from(marks: Sequence[Fraction], limit: Fraction) -> list[tuple[Fraction, Fraction]]:
    """The gaps between marks that begin below ``limit``, the farthest first."""
    last = bisect_left(marks, limit)
    return [(marks[place - 1], marks[place]) for place in range(last, 0, -1)]


def _roomiest(marks: Sequence[Fraction], start: Fraction, limit: Fraction) -> Fraction:
    """The station with the most room about it in the farther half of what can be reached, the farthest of equals."""
    earliest = (start + limit) / 2
    middles = [(near + far) / 2 for near, far in _gaps_down_from(marks, limit)]
    reachable = [middle for middle in middles if earliest <= middle <= limit]
    return max([*reachable, limit], key=lambda station: (_clearance(marks, station), station))


def _with_room_at_the_end(
    marks: Sequence[Fraction], stations: list[Fraction], reach: Reach, grid: Fraction
) -> list[Fraction]:
    """The cuts with the last one drawn back, if that leaves the last tile long enough to hold."""
    if not stations or marks[-1] - stations[-1] >= reach.shortest:
        return stations
    *kept, last = stations
    start = kept[-1] if kept else marks[0]
    earlier = _farthest(marks, start, marks[-1] - reach.shortest, grid)
    if earlier - start < reach.shortest or marks[-1] - earlier > reach.last:
        return stations
    return [*kept, earlier] if _clearance(marks, earlier) >= min(CLEARANCE, _clearance(marks, last)) else stations


def _least_clear(marks: Sequence[Fraction], stations: Sequence[Fraction]) -> Fraction:
    return min((_clearance(marks, station) for station in stations), default=CLEARANCE)


def _clearance(marks: Sequence[Fraction], station: Fraction) -> Fraction:
    """How far the nearest mark is from a station."""
    place = bisect_right(marks, station)
    return min(abs(mark - station) for mark in marks[max(place - 1, 0) : place + 1])
