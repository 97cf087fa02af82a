"""What is squared by its diagonals: every rectangle of a job, with what its diagonals may differ by.

Exact, in mm.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import chain
from typing import Final

from storystick.errors import Fault, as_written
from storystick.job.job import Job, Rectangle
from storystick.job.shop import Shop
from storystick.layout.cabinets.backs_and_bases import base_of
from storystick.layout.cabinets.pieces import CabinetLayout, Range, Role
from storystick.layout.stations import Layout
from storystick.lengths import INCH_MM, Figures, Units

LONGEST_OF_A_CASE: Final = {Units.INCH: 80 * INCH_MM, Units.MM: Fraction(2000)}
"""Up to this diagonal the smaller difference is usual, beyond it the larger one, in mm."""

_USUAL: Final = {Units.INCH: (INCH_MM / 32, INCH_MM / 16), Units.MM: (Fraction(4, 5), Fraction(8, 5))}


def tolerance_of(rectangle: Rectangle, shop: Shop | None, units: Units) -> Fraction:
    """What the shop says, else 1/32 in (0.8 mm) for a diagonal up to 80 in (2 m) and 1/16 in (1.6 mm) beyond.

    These are common practice, no source.
    """
    if shop and shop.square.tolerance is not None:
        return shop.square.tolerance
    small, large = _USUAL[units]
    return small if rectangle.diagonal_squared <= LONGEST_OF_A_CASE[units] ** 2 else large


def write_limit(limit: Fraction, figures: Figures) -> str:
    """A difference (mm) that may be so large, for a person: never more than it is, and at least three fourths of it."""
    figures = figures.fine
    while 4 * (limit // figures.step) * figures.step < 3 * limit:
        figures = Figures(figures.units, figures.step / 2)
    return figures.at_most(limit)


def differ_words(rectangle: Rectangle, job: Job) -> str:
    """By how much the diagonals of a rectangle may differ."""
    return write_limit(tolerance_of(rectangle, job.shop, job.units), job.figures)


BACK_EDGES: Final = "back edges"


def case_rectangles(layout: CabinetLayout) -> Iterator[Rectangle]:
    """The case outside and inside, and every opening of it.

    Sides with a toe notch have no lower corner in front: the outside is measured at the back edges, where it has all
    four. Inside and openings begin above the notch, and have theirs in front as well.
    """
    name, (left, right) = layout.cabinet.name, layout.sides
    upright = Range.over(piece.z for piece in (left, right, layout.bottom, layout.top))
    base = base_of(layout.cabinet)
    notched = any(True for side in layout.sides for _ in base.notches(layout, side))
    yield Rectangle(f"{name} case, outside", layout.case.x.size, upright.size, BACK_EDGES if notched else "")
    inside = Range(left.x.end, right.x.start), Range(layout.bottom.z.end, layout.top.z.start)
    yield _rectangle(f"{name} case, inside", *inside)
    for bay in layout.bays:
        yield _rectangle(f"{name} {bay.name}", bay.x, bay.z)


def frame_rectangles(layout: CabinetLayout) -> Iterator[Rectangle]:
    """The face frame and every opening of it; none without a frame."""
    name = layout.cabinet.name
    if stiles := layout.of(Role.STILE):
        outside = Range.over(stile.x for stile in stiles), Range.over(stile.z for stile in stiles)
        yield _rectangle(f"{name} face frame", *outside)
        for bay in layout.bays:
            yield _rectangle(f"{name} {bay.name}, frame", bay.frame_x, bay.frame_z)


def _rectangle(name: str, width: Range, height: Range) -> Rectangle:
    return Rectangle(name, width.size, height.size)


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
    """Every rectangle of the job, in working order, each with a name of its own."""
    job = layout.job
    named: list[tuple[str, Iterable[Rectangle]]] = []
    for cabinet in layout.cabinets:
        name = cabinet.cabinet.name
        named += [(f"{name} case", case_rectangles(cabinet)), (f"{name} face frame", frame_rectangles(cabinet))]
    named += [(rectangle.name, (rectangle,)) for rectangle in job.rectangles]
    bodies = (
        Body(name, tuple(Target(each, tolerance_of(each, job.shop, job.units)) for each in rectangles))
        for name, rectangles in named
    )
    return tuple(body for body in bodies if body.targets)


def rectangles_of(layout: Layout) -> tuple[Rectangle, ...]:
    return tuple(target.rectangle for target in targets_in(bodies_of(layout)))


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
