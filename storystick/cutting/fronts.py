"""The fronts that close a cabinet's openings, made so that they still open in the dampest season.

Sizes are exact, in mm. A drawer front's grain runs across the cabinet and a door's upward, so that a drawer front of
solid wood moves in its height and a door in its width.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import islice
from typing import Final

from storystick.cutting.movement import change, coefficient_of, percent, size_to_make
from storystick.errors import Fault, FaultCollector
from storystick.job.cabinet import Fit, FrontKind, FrontRule, SolidWood
from storystick.job.model import Stock
from storystick.layout.cabinets.model import Bay, CabinetLayout, Range
from storystick.lengths import INCH_MM, Figures
from storystick.wording import by_number, listed

_MANY_TIMES: Final = 4
"""A reveal of more times what was asked is told: judgement, no source."""

_LEAST_ASKED: Final = INCH_MM / 32
"""A reveal is not taken for less than this, the premium grade's gap (shared/gap_grades.toml)."""


@dataclass(frozen=True, slots=True)
class Season:
    """What a solid-wood front leaves at each edge across its grain, in mm: the reveal inset, the lap overlaid.

    At the moisture it is made at, and at the two ends of a year. Where two doors meet, the reveals are all alike.
    """

    wood: SolidWood
    made: Fraction
    driest: Fraction
    dampest: Fraction


@dataclass(frozen=True, slots=True)
class Front:
    """What closes an opening: ``count`` leaves, each ``height`` by ``width`` when it is made.

    ``x`` and ``z`` are what the leaves cover together at the dampest, from the cabinet's left and floor.
    """

    bay: str
    kind: FrontKind
    count: int
    height: Fraction
    width: Fraction
    stock: Stock
    x: Range
    z: Range
    row: int
    column: int
    season: Season | None = None


def front_kind(layout: CabinetLayout, bay: Bay) -> FrontKind:
    """What closes an opening: its own kind of front, or the cabinet's usual one.

    An opening with adjustable shelves that names no front takes the usual door, but no drawer.
    """
    cabinet, compartment = layout.cabinet, bay.compartment
    if compartment.front:
        return compartment.front
    without = FrontKind.DRAWER if cabinet.drawers else FrontKind.NONE
    usual = cabinet.fronts.kind if cabinet.fronts else without
    return FrontKind.NONE if compartment.adjustable and usual is FrontKind.DRAWER else usual


def fronts_of(layout: CabinetLayout, figures: Figures) -> tuple[Front, ...]:
    """Every front of a cabinet, from the bottom left.

    Raises:
        Faults: a front comes to nothing, neighbours are too near, or the wood is not known. ``figures`` says lengths.
    """
    rule = layout.cabinet.fronts
    if rule is None:
        return ()
    collector = FaultCollector()
    coefficient = Fraction(0)
    with collector.at("fronts, wood"):
        coefficient = coefficient_of(rule.wood) if rule.wood else coefficient
    fronts = []
    for bay in layout.bays:
        kind = front_kind(layout, bay)
        if kind is not FrontKind.NONE:
            with collector.at():
                fronts.append(_Maker(rule, bay, kind, coefficient, figures).front())
    collector.add(*_too_near(fronts, rule, figures), *_too_wide(fronts, rule, layout, figures))
    collector.raise_any()
    return tuple(fronts)


@dataclass(frozen=True, slots=True)
class _Maker:
    """Makes the front of one opening."""

    rule: FrontRule
    bay: Bay
    kind: FrontKind
    coefficient: Fraction
    figures: Figures

    @property
    def leaves(self) -> int:
        return 2 if self.kind is FrontKind.PAIR else 1

    @property
    def least(self) -> Fraction:
        """The reveal that is kept across the grain at the dampest."""
        wood = self.rule.wood
        return self.rule.reveal if wood is None or wood.least_reveal is None else wood.least_reveal

    def lap(self, reveal: Fraction) -> Fraction:
        """How far the front reaches beyond its opening at each edge; less than 0 for a reveal."""
        return self.rule.overlay if self.rule.fit is Fit.OVERLAY else -reveal

    def front(self) -> Front:
        if self.kind is FrontKind.DRAWER and self.bay.compartment.adjustable:
            raise Fault(f'opening "{self.bay.name}" has adjustable shelves and a drawer', "leave one of them out")
        drawer = self.kind is FrontKind.DRAWER
        across, upward = (self.rule.reveal, self.least) if drawer else (self.least, self.rule.reveal)
        x = self._covered(self.bay.frame_x, "wide", self.leaves + 1, across)
        z = self._covered(self.bay.frame_z, "high", 2, upward)
        height, width = z.size, (x.size - (self.leaves - 1) * across) / self.leaves
        made, season = self._made(height if drawer else width)
        if drawer:
            height = made
        else:
            width = made
        place = (self.bay.row, self.bay.column)
        return Front(self.bay.name, self.kind, self.leaves, height, width, self.rule.stock, x, z, *place, season)

    def _covered(self, opening: Range, way: str, reveals: int, reveal: Fraction) -> Range:
        """What the leaves cover in one direction, with so many reveals in it where the front is inset."""
        between, lap = (reveals - 2) * reveal, self.lap(reveal)
        if opening.size + 2 * lap - between <= 0:
            taken = self.figures(between - 2 * lap)
            raise Fault(
                f'a {self.kind.value} has no room in opening "{self.bay.name}": it is '
                f"{self.figures(opening.size)} {way}, and its reveals take {taken}",
                "make the reveal less or the opening larger",
                "fronts",
            )
        return Range(opening.start - lap, opening.end + lap)

    def _made(self, most: Fraction) -> tuple[Fraction, Season | None]:
        """The size across the grain to make, where ``most`` is allowed at the dampest."""
        wood = self.rule.wood
        if wood is None:
            return most, None
        made = size_to_make(most, self.coefficient, wood.made_at, wood.dampest)
        driest = made + change(made, self.coefficient, wood.made_at, wood.driest)
        at_edges = Season(wood, *(self._left_at_edges(size, most) for size in (made, driest, most)))
        if self.rule.fit is Fit.OVERLAY and at_edges.driest <= 0:
            raise self._gaping(driest, most)
        return made, at_edges

    def _gaping(self, driest: Fraction, most: Fraction) -> Fault:
        """The fault of an overlay front that no longer covers its opening at the driest."""
        covered = most * self._moving - 2 * self.rule.overlay
        least = covered * (most / driest - 1) / 2
        return Fault(
            f'the {self.kind.value} over opening "{self.bay.name}" shrinks to {self.figures(driest)} across its grain '
            "and leaves a gap in the dry season",
            f"make the overlay more than {self.figures.at_least(least)}",
            "fronts",
        )

    @property
    def _moving(self) -> int:
        """How many leaves lie side by side across the grain."""
        return 1 if self.kind is FrontKind.DRAWER else self.leaves

    def _left_at_edges(self, size: Fraction, most: Fraction) -> Fraction:
        """The reveal or the lap at each edge where a leaf is ``size`` across the grain, ``most`` at the dampest."""
        lost = (most - size) * self._moving
        if self.rule.fit is Fit.OVERLAY:
            return self.rule.overlay - lost / 2
        return self.least + lost / (self._moving + 1)


def season_warnings(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    """Fronts that drying leaves many times the reveal that was asked for, those that are as far out told as one.

    Raises:
        Faults: as :func:`fronts_of`.
    """
    rule = layout.cabinet.fronts
    alike: dict[tuple[str, ...], list[Front]] = {}
    for front in fronts_of(layout, figures):
        season = front.season
        if rule is None or season is None:
            continue
        made, driest = (_gap_beside(left, rule) for left in (season.made, season.driest))
        if driest > _MANY_TIMES * max(rule.reveal, _LEAST_ASKED):
            alike.setdefault((figures(made), figures(driest), percent(season.wood.driest)), []).append(front)
    asked = figures(rule.reveal) if rule else ""
    for (made_as, driest_as, moisture), found in alike.items():
        which = listed(by_number(front.bay for front in found))
        yield (
            f"the fronts of {which} move so much across their grain that the reveal of {asked} is "
            f"{made_as} when they are made and {driest_as} at {moisture}; quarter-sawn wood, a frame and panel or "
            "sheet goods move less, and least_reveal gives up some of the reveal in the damp season"
        )


def _gap_beside(left: Fraction, rule: FrontRule) -> Fraction:
    """The gap at an edge across the grain from what a season leaves there; for an overlay, that to a neighbour."""
    return left if rule.fit is Fit.INSET else rule.reveal + 2 * (rule.overlay - left)


def _too_wide(fronts: Sequence[Front], rule: FrontRule, layout: CabinetLayout, figures: Figures) -> Iterator[Fault]:
    """Fronts that stand out beyond the cabinet's sides, where a neighbour or a wall may be."""
    for front in fronts:
        beyond = max(-front.x.start, front.x.end - layout.cabinet.width)
        if beyond > 0:
            yield Fault(
                f'the front of "{front.bay}" stands {figures.apart(beyond)} out beyond the side of the cabinet',
                f"make the overlay {figures.at_most(rule.overlay - beyond)} or less",
                "fronts",
            )


def _too_near(fronts: Sequence[Front], rule: FrontRule, figures: Figures) -> Iterator[Fault]:
    """Overlay fronts that would be nearer to each other than the reveal."""
    if rule.fit is not Fit.OVERLAY:
        return
    for one, other in _neighbours(fronts, rule.reveal):
        gap = max(_gap(one.x, other.x), _gap(one.z, other.z))
        if gap >= rule.reveal:
            continue
        between = gap + 2 * rule.overlay
        stand = f"{figures(gap)} apart" if gap >= 0 else f"over each other by {figures.apart(-gap)}"
        most = (between - rule.reveal) / 2
        cure = f"make the overlay {figures.at_most(most)} or less" if most >= 0 else "make the reveal less"
        yield Fault(
            f'the fronts of "{one.bay}" and "{other.bay}" stand {stand}, less than the reveal of '
            f"{figures(rule.reveal)}",
            cure,
            "fronts",
        )


def _neighbours(fronts: Sequence[Front], near: Fraction) -> Iterator[tuple[Front, Front]]:
    """Every two fronts of which one begins less than ``near`` above the other's end: no others can be too near."""
    rising = sorted(fronts, key=lambda front: (front.z.start, front.x.start))
    for place, one in enumerate(rising, start=1):
        for other in islice(rising, place, None):
            if other.z.start >= one.z.end + near:
                break
            yield one, other


def _gap(one: Range, other: Range) -> Fraction:
    return max(other.start - one.end, one.start - other.end)
