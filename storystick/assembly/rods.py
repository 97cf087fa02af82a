"""Pinch rods: which of a shop's rods serves which diagonal of a job, and which rods are to be made for the others.

A rod serves a diagonal where its whole band of acceptance lies within the rod's reach. The two diagonals of a rectangle
whose sides are right give twice the square of its proper diagonal when squared and added, however it is racked (the
parallelogram law); so where they differ by the tolerance, each lies half of that from the proper one, and the band is
from half the tolerance below it to half the tolerance above. What that neglects is the tolerance squared over eight
diagonals: less than 0.001 mm for 0.8 mm in 100 mm.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from itertools import islice, product
from string import ascii_uppercase

from storystick.assembly.rod_choice import Reach, rods_to_make, shared_out
from storystick.assembly.roots import root
from storystick.assembly.tolerance import tolerance_of
from storystick.job.rectangles import Rectangle
from storystick.job.shop import RodStock, Shop
from storystick.lengths import Units, write_exact


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
    owned = {rod.name: Reach(rod.closed, rod.open, tolerance / 2) for rod in (shop.rods if shop else ())}
    shared = shared_out(tuple(by_square), owned)
    left = [square for square in by_square if all(square not in squares for squares in shared.values())]
    made = rods_to_make(left, shop.rod_stock if shop else RodStock(), tolerance, units)
    served = {
        **{(name, False): (owned[name], squares) for name, squares in shared.items()},
        **{(_new_name(reach, units), True): (reach, squares) for reach, squares in made},
    }
    rods = tuple(
        RodUse(name, reach.closed, reach.open, tuple(by_square[square] for square in squares), to_make)
        for (name, to_make), (reach, squares) in served.items()
    )
    reached = {target.squared for rod in rods for target in rod.targets}
    return RodPlan(rods, tuple(target for target in targets if target.squared not in reached))


def targets_of(rectangles: Iterable[Rectangle], shop: Shop | None, units: Units) -> tuple[RodTarget, ...]:
    """Every diagonal once, rising, with its rectangles in working order."""
    alike: dict[Fraction, list[Rectangle]] = {}
    for rectangle in rectangles:
        alike.setdefault(rectangle.diagonal_squared, []).append(rectangle)
    return tuple(
        RodTarget(square, tolerance_of(those[0], shop, units), tuple(those)) for square, those in sorted(alike.items())
    )


def _new_name(reach: Reach, units: Units) -> str:
    return f"new {write_exact(reach.closed, units)} {units.sign}"
