"""Pinch rods: which of a shop's rods serves which diagonal, which are to be bought, and their rows.

A rod serves a diagonal where its whole band of acceptance lies within the rod's reach. The two diagonals of a rectangle
whose sides are right give twice the square of its proper diagonal when squared and added, however it is racked (the
parallelogram law); so where they differ by the tolerance, each lies half of that from the proper one, and the band is
from half the tolerance below it to half the tolerance above. What that neglects is the tolerance squared over eight
diagonals: less than 0.001 mm for 0.8 mm in 100 mm.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import islice, product, takewhile
from math import ceil
from string import ascii_uppercase
from typing import Final

from storystick.job.job import Rectangle
from storystick.job.shop import RodStock, Shop
from storystick.lengths import INCH_MM, Figures, Units, root, write_exact
from storystick.squaring.rectangles import tolerance_of, write_limit
from storystick.wording import by_number, ranges

ROUND: Final = {Units.INCH: INCH_MM / 2, Units.MM: Fraction(10)}
"""Sticks of new rods are cut to multiples of this, in mm."""


@dataclass(frozen=True, slots=True)
class RodReach:
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


def shared_out(squares: Sequence[Fraction], rods: Mapping[str, RodReach]) -> dict[str, tuple[Fraction, ...]]:
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


def _run_of(reach: RodReach, squares: Sequence[Fraction]) -> Iterator[tuple[int, int]]:
    """From which place of the rising diagonals to before which other a rod serves them; nothing if it serves none."""
    places = [place for place, square in enumerate(squares) if reach.serves(square)]
    if places:
        yield places[0], places[-1] + 1


def rods_to_make(
    squares: Sequence[Fraction], stock: RodStock, tolerance: Fraction, units: Units
) -> list[tuple[RodReach, tuple[Fraction, ...]]]:
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
        reach = RodReach(length, 2 * length - stock.overlap, tolerance / 2)
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


@dataclass(frozen=True, slots=True)
class RodTarget:
    """A diagonal that a rod is set to, by its square (mm²), and every rectangle that has it.

    ``tolerance`` is how much the two diagonals of one of them may differ by, in mm.
    """

    squared: Fraction
    tolerance: Fraction
    rectangles: tuple[Rectangle, ...]

    @property
    def names(self) -> tuple[str, ...]:
        return tuple(rectangle.name for rectangle in self.rectangles)

    @property
    def diagonal(self) -> Fraction:
        """The diagonal in mm, never more than 1e-15 mm too short."""
        return root(self.squared)

    @property
    def band(self) -> tuple[Fraction, Fraction]:
        """The shortest and the longest diagonal that is accepted, in mm."""
        return self.diagonal - self.tolerance / 2, self.diagonal + self.tolerance / 2


@dataclass(frozen=True, slots=True)
class RodUse:
    """A rod with the diagonals that it serves, rising; ``closed`` and ``open`` are its reach, in mm.

    One ``to_make`` is of two sticks as long as it is closed, points included.
    """

    name: str
    closed: Fraction
    open: Fraction
    targets: tuple[RodTarget, ...]
    to_make: bool

    @property
    def serves(self) -> tuple[str, ...]:
        """The rectangles that it is for."""
        return tuple(name for target in self.targets for name in target.names)

    @property
    def letters(self) -> tuple[str, ...]:
        """A letter for each of its targets, as it stands on its strip: A to Z, then AA to ZZ."""
        return tuple(islice((*ascii_uppercase, *map("".join, product(ascii_uppercase, repeat=2))), len(self.targets)))

    @property
    def flattest(self) -> Fraction:
        """The short side over the long one of the flattest rectangle: the tangent of its diagonal's angle."""
        sides = (sorted((each.width, each.height)) for target in self.targets for each in target.rectangles)
        return min(short / long for short, long in sides)


@dataclass(frozen=True, slots=True)
class RodPlan:
    """The rods that a job wants: those of the shop, then those to make, each by rising reach.

    ``too_short`` are diagonals that no rod of the shop's stock can be made for: they are measured with a rule.
    """

    rods: tuple[RodUse, ...]
    too_short: tuple[RodTarget, ...]

    @property
    def to_make(self) -> tuple[RodUse, ...]:
        return tuple(rod for rod in self.rods if rod.to_make)


def rods_for(rectangles: Iterable[Rectangle], shop: Shop | None, units: Units) -> RodPlan:
    """The fewest of the shop's rods that serve every diagonal they can, and the fewest to make for the others.

    The room that a rod needs beyond a diagonal is that of the widest band of them all. New rods have round lengths in
    ``units``.
    """
    targets = targets_of(rectangles, shop, units)
    if not targets:
        return RodPlan((), ())
    by_square = {target.squared: target for target in targets}
    tolerance = max(target.tolerance for target in targets)
    owned = {rod.name: RodReach(rod.closed, rod.open, tolerance / 2) for rod in (shop.rods if shop else ())}
    shared = shared_out(tuple(by_square), owned)
    left = [square for square in by_square if all(square not in squares for squares in shared.values())]
    made = rods_to_make(left, shop.rod_stock if shop else RodStock(), tolerance, units)
    served = [(name, owned[name], squares, False) for name, squares in shared.items()]
    served += [
        (f"new {write_exact(reach.closed, units)} {units.sign}", reach, squares, True) for reach, squares in made
    ]
    rods = tuple(
        RodUse(name, reach.closed, reach.open, tuple(by_square[square] for square in squares), to_make)
        for name, reach, squares, to_make in served
    )
    reached = {target for rod in rods for target in rod.targets}
    return RodPlan(rods, tuple(target for target in targets if target not in reached))


def targets_of(rectangles: Iterable[Rectangle], shop: Shop | None, units: Units) -> tuple[RodTarget, ...]:
    """Every diagonal once, rising, with its rectangles in working order."""
    alike: dict[Fraction, list[Rectangle]] = {}
    for rectangle in rectangles:
        alike.setdefault(rectangle.diagonal_squared, []).append(rectangle)
    return tuple(
        RodTarget(square, tolerance_of(those[0], shop, units), tuple(those)) for square, those in sorted(alike.items())
    )


_FIRST_NUMBER: Final = re.compile(r"(\D* )([1-9][0-9]{0,5})( .*)")


def rectangle_names(names: Iterable[str]) -> str:
    """Names in order, those that differ by a number together, and words that they begin alike with said once."""
    said = _by_first_number(by_number(names))
    shared = len(_shared_words(said))
    if any(name[shared : shared + 1].isdigit() for name in said):
        shared = 0
    return "; ".join([said[0], *(name[shared:] for name in said[1:])])


def _by_first_number(names: Iterable[str]) -> list[str]:
    """Names that differ by their first number alone as one: "Base 1 opening 1" and "Base 2 opening 1"."""
    kinds: dict[tuple[str, str], list[int]] = {}
    for name in names:
        found = _FIRST_NUMBER.fullmatch(name)
        before, number, after = found.groups() if found else (name, "", "")
        kinds.setdefault((before, after), []).extend([int(number)] if number else [])
    return [f"{before}{' and '.join(ranges(each).rsplit(', ', 1))}{after}" for (before, after), each in kinds.items()]


def _shared_words(names: Iterable[str]) -> str:
    """The words that all of two names or more begin with, each with its space after it; never the last of a name."""
    several = [name.split(" ")[:-1] for name in dict.fromkeys(names)]
    alike = takewhile(lambda words: len(set(words)) == 1, zip(*several, strict=False))
    return "".join(f"{words[0]} " for words in alike) if len(several) > 1 else ""


USE_HEADINGS: Final = ("rod", "band", "for", "diagonal", "opened by", "give or take")


def use_rows(plan: RodPlan, figures: Figures) -> Iterator[tuple[str, ...]]:
    """Every diagonal with the rod that serves it, under :data:`USE_HEADINGS`.

    What it may be more or less is half of what the two diagonals may differ by.
    """
    for rod in plan.rods:
        for letter, target in zip(rod.letters, rod.targets, strict=True):
            opened, half = figures(target.diagonal - rod.closed), write_limit(target.tolerance / 2, figures)
            yield rod.name, letter, rectangle_names(target.names), figures.of_root(target.squared), opened, half


def too_short_words(plan: RodPlan, figures: Figures) -> str:
    """The diagonals that no rod can be made for, in a sentence; empty where there is none."""
    said = (f"{rectangle_names(target.names)}, {figures.of_root(target.squared)}" for target in plan.too_short)
    return f"Too short for a rod, measured with a rule: {'; '.join(said)}." if plan.too_short else ""


def rod_words(plan: RodPlan, figures: Figures) -> Iterator[str]:
    """Every rod with its reach and the rectangles that it serves, in a sentence."""
    for rod in plan.rods:
        reach = f"{rod.name}, {figures(rod.closed)} to {figures(rod.open)}"
        making = f", to make of two sticks {figures(rod.closed)} long" if rod.to_make else ""
        yield f"{reach}{making}: {rectangle_names(rod.serves)}."
    yield from filter(None, [too_short_words(plan, figures)])
