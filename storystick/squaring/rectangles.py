"""What is squared by its diagonals: every rectangle of a job, with what its diagonals may differ by.

Exact, in mm.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import chain
from typing import Final

from storystick.errors import Fault, as_written
from storystick.job.job import Job, Rectangle
from storystick.job.shop import Shop
from storystick.layout.cabinets.bases import base_of
from storystick.layout.cabinets.holes import case_holes, frame_holes
from storystick.layout.cabinets.pieces import OUTER_ROLES, CabinetLayout, Range, Role
from storystick.layout.stations import Layout
from storystick.lengths import INCH_MM, Figures, Units
from storystick.wording import by_number

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
UNEVEN_FEET: Final = "back edges, from a mark on the longer side level with the foot of the other"


def case_rectangles(layout: CabinetLayout) -> Iterator[Rectangle]:
    """The case outside and inside, and every opening of it; those with nothing between them are one.

    Sides with a toe notch have no lower corner in front: the outside is measured at the back edges, where it has all
    four; where one side ends above the other, from that height up. Inside and openings begin above the notch, and have
    theirs in front as well.
    """
    name, (left, right) = layout.cabinet.name, layout.sides
    # The corners of a case whose top overhangs are where it ends on the sides.
    cornered = [piece for piece in layout.of(*OUTER_ROLES) if _within(piece.x, layout.case.x)]
    upright = Range.over(piece.z for piece in cornered)
    base = base_of(layout.cabinet)
    notched = any(True for side in layout.sides for _ in base.notches(layout, side))
    where = BACK_EDGES if notched else ""
    if left.z.start != right.z.start:
        upright, where = Range(max(left.z.start, right.z.start), upright.end), UNEVEN_FEET
    yield Rectangle(f"{name} case, outside", layout.case.x.size, upright.size, where)
    inside = Range(left.x.end, right.x.start), layout.case.inside_z
    yield _rectangle(f"{name} case, inside", *inside)
    for hole in case_holes(layout.bays):
        yield _rectangle(f"{name} {hole.name}", hole.x, hole.z)


def _within(one: Range, other: Range) -> bool:
    return other.start <= one.start and one.end <= other.end


def frame_rectangles(layout: CabinetLayout) -> Iterator[Rectangle]:
    """The face frame and every opening of it; none without a frame."""
    name = layout.cabinet.name
    if stiles := layout.of(Role.STILE):
        outside = Range.over(stile.x for stile in stiles), Range.over(stile.z for stile in stiles)
        yield _rectangle(f"{name} face frame", *outside)
        for hole in frame_holes(layout.bays):
            yield _rectangle(f"{name} {hole.name}, frame", hole.x, hole.z)


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
    """What leans as one: the case of a cabinet, its face frame until that is on the case, or a rectangle by itself.

    Of ``targets`` the first so many are the ``whole`` of it, the others openings. ``cabinet`` is empty for a rectangle
    by itself; ``each`` are all that are made of it, and ``told`` is what they are called together.
    """

    name: str
    targets: tuple[Target, ...]
    cabinet: str = ""
    whole: int = 1
    each: tuple[str, ...] = ()
    told: str = ""


def bodies_of(layout: Layout) -> tuple[Body, ...]:
    """Every rectangle of the job, in working order, each with a name of its own."""
    job = layout.job

    def body(name: str, rectangles: Iterable[Rectangle], cabinet: str = "", whole: int = 1) -> Body:
        targets = (Target(each, tolerance_of(each, job.shop, job.units)) for each in rectangles)
        return Body(name, tuple(targets), cabinet, whole)

    found: list[Body] = []
    for cabinet in layout.cabinets:
        name = cabinet.cabinet.name
        own = (
            body(f"{name} case", case_rectangles(cabinet), name, whole=2),
            body(f"{name} face frame", frame_rectangles(cabinet), name),
        )
        found += (replace(each, each=cabinet.cabinet.each, told=cabinet.cabinet.told) for each in own)
    found += (body(rectangle.name, (rectangle,)) for rectangle in job.rectangles)
    return tuple(each for each in found if each.targets)


@dataclass(frozen=True, slots=True)
class AlikeTargets:
    """Rectangles of one size: how they are told together, and one of them."""

    told: str
    target: Target


@dataclass(frozen=True, slots=True)
class AlikeBodies:
    """What is worth measuring of cabinets that are alike, by their ``names``; of rectangles by themselves, with none.

    ``kinds`` are what those that are made of one cabinet are called together.

    That is the case, the face frame, and the openings of the frame, or of the case where there is none: those of one
    size in one row.
    """

    names: tuple[str, ...]
    rows: tuple[AlikeTargets, ...]
    kinds: tuple[str, ...] = ()


def alike_bodies(bodies: Sequence[Body]) -> Iterator[AlikeBodies]:
    """The cabinets in their order, those together that differ by their names alone; last the other rectangles."""
    alike: dict[tuple[AlikeTargets, ...], list[Body]] = {}
    for cabinet in dict.fromkeys(body.cabinet for body in bodies if body.cabinet):
        own = [body for body in bodies if body.cabinet == cabinet]
        alike.setdefault(tuple(_worth(own)), []).append(own[0])
    for rows, found in alike.items():
        names = tuple(name for body in found for name in body.each)
        yield AlikeBodies(names, rows, tuple(body.told for body in found))
    if others := [target for body in bodies if not body.cabinet for target in body.targets]:
        yield AlikeBodies((), tuple(_gathered(others, "")))


def _worth(bodies: Sequence[Body]) -> Iterator[AlikeTargets]:
    """What is worth measuring of a cabinet: its bodies as wholes, and the openings of the last of them.

    An opening as large as the inside of its case is that inside, which is told once.
    """
    prefix = f"{bodies[0].cabinet} "
    for body in bodies:
        yield from _gathered(body.targets[: body.whole], prefix)
    last = bodies[-1]
    wholes = {_size(target) for target in last.targets[: last.whole]}
    yield from _gathered((target for target in last.targets[last.whole :] if _size(target) not in wholes), prefix)


def _size(target: Target) -> tuple[Fraction, Fraction]:
    return target.rectangle.width, target.rectangle.height


def _gathered(targets: Iterable[Target], prefix: str) -> Iterator[AlikeTargets]:
    """A row for each size, without what all names begin with."""
    sizes: dict[tuple[object, ...], list[Target]] = {}
    for target in targets:
        each = target.rectangle
        sizes.setdefault((each.width, each.height, each.edges, target.differ), []).append(target)
    for own in sizes.values():
        told = by_number(target.rectangle.told.removeprefix(prefix) for target in own)
        yield AlikeTargets("; ".join(told), replace(own[0], rectangle=replace(own[0].rectangle, name="")))


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
