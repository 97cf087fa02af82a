"""What is squared by its diagonals: every rectangle, with what those may differ by, gathered by what leans as one.

Exact, in mm.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import chain

from storystick.assembly.rectangles import case_rectangles, frame_rectangles, rectangles_of
from storystick.assembly.tolerance import tolerance_of
from storystick.errors import Fault, as_written
from storystick.job.rectangles import Rectangle
from storystick.layout.model import Layout


@dataclass(frozen=True, slots=True)
class Target:
    """A rectangle, and by how much its two diagonals may ``differ`` (mm) while it still counts as square."""

    rectangle: Rectangle
    differ: Fraction

    @property
    def name(self) -> str:
        return self.rectangle.name

    @property
    def rack_squared(self) -> Fraction:
        """The square (mm²) of the rack at which the diagonals differ by just so much; never more than its height's.

        The diagonals d₁ and d₂ of a racked rectangle have d₁² − d₂² = 4·w·s and d₁² + d₂² = 2·(w² + h²); with
        t = d₁ − d₂ that is 16·w²·s² = t²·(4·(w² + h²) − t²).
        """
        width, height, square = self.rectangle.width, self.rectangle.height, self.differ**2
        twice = 2 * self.rectangle.diagonal_squared
        if square >= twice:
            return height**2
        return min(square * (2 * twice - square) / (16 * width**2), height**2)


@dataclass(frozen=True, slots=True)
class Body:
    """What leans as one: the case of a cabinet, its face frame until that is on the case, or a rectangle by itself."""

    name: str
    targets: tuple[Target, ...]


def bodies_of(layout: Layout) -> tuple[Body, ...]:
    """Every rectangle of the job, in working order."""

    def body(name: str, rectangles: Iterable[Rectangle]) -> Body:
        job = layout.job
        return Body(name, tuple(Target(each, tolerance_of(each, job.shop, job.units)) for each in rectangles))

    found = [
        each
        for cabinet in layout.cabinets
        for each in (
            body(f"{cabinet.cabinet.name} case", case_rectangles(cabinet)),
            body(f"{cabinet.cabinet.name} face frame", frame_rectangles(cabinet)),
        )
    ]
    found += [body(rectangle.name, (rectangle,)) for rectangle in layout.job.rectangles]
    return tuple(each for each in found if each.targets)


def targets_in(bodies: Iterable[Body]) -> tuple[Target, ...]:
    """The rectangles of some bodies, one after the other."""
    return tuple(chain.from_iterable(body.targets for body in bodies))


def names_used_twice(layout: Layout) -> Iterator[Fault]:
    """The faults of rectangles that share a name: their readings could not be told apart."""
    for name, number in Counter(rectangle.name for rectangle in rectangles_of(layout)).items():
        if number > 1:
            yield Fault(
                f"{number} rectangles are called {as_written(name)}, with those that follow from cabinets",
                "give a cabinet, an opening or a [[rectangle]] another name",
            )
