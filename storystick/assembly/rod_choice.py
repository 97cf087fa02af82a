"""Choosing rods for diagonals, which are given by their squares (mm²) and rising: everything is decided exactly."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
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
    """Rods with the run of diagonals that each is given; ``closed`` is the sum of their closed lengths, one for each
    diagonal."""

    runs: tuple[tuple[str, tuple[Fraction, ...]], ...] = ()
    closed: Fraction = Fraction(0)

    @property
    def cost(self) -> tuple[int, Fraction]:
        """The number of rods, then what they are opened by: all diagonals together, which are the same for any sharing,
        less the closed lengths."""
        return len(self.runs), -self.closed


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
    best = [_Sharing()]
    for start in reversed(range(len(served))):
        choices = (
            _Sharing(((name, run), *rest.runs), rest.closed + reach.closed * len(run))
            for name, reach in rods.items()
            for run, rest in zip(_runs(served[start:], reach), best, strict=False)
        )
        best.insert(0, min(choices, key=lambda sharing: sharing.cost))
    return dict(best[0].runs)


def _runs(squares: Sequence[Fraction], reach: Reach) -> list[tuple[Fraction, ...]]:
    """The first diagonal, the first two, and so on, as far as a rod serves them all."""
    fails = (place for place, square in enumerate(squares) if not reach.serves(square))
    return [tuple(squares[:end]) for end in range(1, next(fails, len(squares)) + 1)]


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
        run = _runs(left, reach)[-1]
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
