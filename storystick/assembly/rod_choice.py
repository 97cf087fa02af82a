"""Choosing rods for diagonals, which are given by their squares (mm²) and rising: everything is decided exactly."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import Final

from storystick.assembly.roots import root
from storystick.job.shop import RodStock
from storystick.lengths import INCH_MM, Units

ROUND: Final = {Units.INCH: INCH_MM / 2, Units.MM: Fraction(10)}
"""Sticks of new rods are cut to multiples of this, in mm."""


@dataclass(frozen=True, slots=True)
class Reach:
    """From a rod's ``closed`` length to its ``open`` one; it must reach ``room`` beyond a diagonal both ways. In mm."""

    closed: Fraction
    open: Fraction
    room: Fraction

    def serves(self, square: Fraction) -> bool:
        shortest, longest = self.closed + self.room, self.open - self.room
        return longest > 0 and shortest**2 <= square <= longest**2


@dataclass(frozen=True, slots=True)
class _Sharing:
    """Rods by name with the run of diagonals that each is given, from a place in their order to another.

    ``closed`` is the sum of the rods' closed lengths, one for each diagonal: the more, the less they are opened.
    """

    runs: tuple[tuple[str, int, int], ...] = ()
    closed: Fraction = Fraction(0)


def shared_out(squares: Sequence[Fraction], rods: Mapping[str, Reach]) -> dict[str, tuple[Fraction, ...]]:
    """Which of some rods serves which diagonals: as few rods as can serve all that any of them serves, and of the
    choices that are as few, the one that opens them least altogether. By rising reach; every rod needs the same room.

    A rod that is opened less has more of its sticks side by side, so it stays straighter, and its points nearer to one
    line.

    In a choice of fewest rods none reaches past another at both ends, or the other could be left out. So in the order
    of their reach each has a run of the diagonals, and every way to part these into runs is weighed, from the longest
    diagonal on: the best for the rest never depends on what was given before it. To give one rod two runs is never
    best, since it serves all between them.
    """
    served = [square for square in squares if any(reach.serves(square) for reach in rods.values())]
    best = {len(served): _Sharing()}
    runs = {name: (start, stop) for name, reach in rods.items() for start, stop in _run_of(reach, served)}
    for start in reversed(range(len(served))):
        stops = {name: stop for name, (first, stop) in runs.items() if first <= start < stop}
        # Fewer diagonals never want more rods, so only what leaves the fewest rods to take can be best.
        fewest = min(len(best[stop].runs) for stop in stops.values())
        choices = (
            _Sharing(((name, start, end), *best[end].runs), best[end].closed + rods[name].closed * (end - start))
            for name, stop in stops.items()
            for end in range(start + 1, stop + 1)
            if len(best[end].runs) == fewest
        )
        best[start] = max(choices, key=lambda sharing: sharing.closed)
    return {name: tuple(served[start:stop]) for name, start, stop in best[0].runs}


def _run_of(reach: Reach, squares: Sequence[Fraction]) -> Iterator[tuple[int, int]]:
    """From which place of the rising diagonals to before which other a rod serves them; nothing if it serves none."""
    places = [place for place, square in enumerate(squares) if reach.serves(square)]
    if places:
        yield places[0], places[-1] + 1


def rods_to_make(
    squares: Sequence[Fraction], stock: RodStock, tolerance: Fraction, units: Units
) -> list[tuple[Reach, tuple[Fraction, ...]]]:
    """The fewest rods of round length that serve some diagonals, each with its own; too short ones are left out.

    A rod of two sticks, each L long, closes to L and opens to 2 L less the least overlap (geometry). L is at least the
    tolerance below the shortest diagonal that it serves.

    The longest L that the shortest diagonal allows opens farthest. Whatever rods serve all, one of them serves the
    shortest, with that L or less; with that L in its place it serves no fewer of them, since all are longer. So that L
    belongs to a choice of fewest rods, and so on with the diagonals that are left.
    """
    shortest = shortest_stick(stock, tolerance, units)
    left = [square for square in squares if _length_for(square, tolerance, units) >= shortest]
    made = []
    while left:
        length = _length_for(left[0], tolerance, units)
        reach = Reach(length, 2 * length - stock.overlap, tolerance / 2)
        run = tuple(square for square in left if reach.serves(square))
        made.append((reach, run))
        left = left[len(run) :]
    return made


def shortest_stick(stock: RodStock, tolerance: Fraction, units: Units) -> Fraction:
    """The shortest round length of a stick, in mm, that makes a rod: it serves any diagonal that it is the longest for.

    That may be longer by as much as the next round length and the tolerance, and half the tolerance is its band.
    """
    step = ROUND[units]
    return ceil((stock.overlap + step + tolerance * 3 / 2) / step) * step


def _length_for(square: Fraction, tolerance: Fraction, units: Units) -> Fraction:
    """The longest round length that is ``tolerance`` or more below a diagonal; 0 or less where there is none."""
    step = ROUND[units]
    steps = (root(square) - tolerance) // step
    # The root may be the least bit short of a whole number of steps that is reached.
    return (steps + (((steps + 1) * step + tolerance) ** 2 <= square)) * step
