"""The fronts that close a cabinet's openings, made to open in the dampest season, and their sticks.

Sizes are exact, in mm. A drawer front's grain runs across the cabinet and a door's upward, so that a drawer front of
solid wood moves in its height and a door in its width.

A front of solid wood is as large as allowed at the dampest and made smaller by what it gains until then; the list
says what it leaves open when it is made and when it is driest.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import islice

from storystick.cutting.movement import change, coefficient_of, size_to_make
from storystick.errors import Fault, FaultCollector
from storystick.job.fronts import FrontFit, FrontKind, FrontRule, SolidWood
from storystick.job.openings import Part, Stock
from storystick.job.sticks import Datum, Stick
from storystick.layout.cabinets.pieces import Bay, CabinetLayout, Range
from storystick.layout.stations import Face, PlacedPart, Span, SpanKind, StickLayout, end_to_end
from storystick.lengths import Figures
from storystick.wording import counted


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

    bay: Bay
    kind: FrontKind
    count: int
    height: Fraction
    width: Fraction
    stock: Stock
    x: Range
    z: Range
    season: Season | None = None

    def covered(self, left: Fraction) -> tuple[Range, Range]:
        """What the leaves cover in ``x`` and in ``z`` when ``left`` is the reveal or the lap at each moving edge.

        They dry alike from both edges of their place.
        """
        lost = abs(left - self.season.dampest) if self.season else Fraction(0)
        if self.kind is FrontKind.DRAWER:
            return self.x, _within(self.z, lost)
        return _within(self.x, lost), self.z

    @property
    def made(self) -> tuple[Range, Range]:
        """What the leaves cover in ``x`` and in ``z`` when they are made."""
        return self.covered(self.season.made) if self.season else (self.x, self.z)

    @property
    def leaves(self) -> tuple[tuple[Range, Range], ...]:
        """What each leaf covers in ``x`` and in ``z`` when it is made, from the left."""
        x, z = self.made
        pitch = (x.size - self.width) / (self.count - 1) if self.count > 1 else Fraction(0)
        lefts = (x.start + number * pitch for number in range(self.count))
        return tuple((Range(left, left + self.width), z) for left in lefts)


def gap(one: tuple[Range, Range], other: tuple[Range, Range]) -> Fraction:
    """How far two fronts stand apart by what they cover in ``x`` and in ``z``; less than 0 where they overlap."""
    return max(
        max(second.start - first.end, first.start - second.end) for first, second in zip(one, other, strict=True)
    )


def _within(place: Range, lost: Fraction) -> Range:
    return Range(place.start + lost, place.end - lost)


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
        return self.rule.overlay if self.rule.fit is FrontFit.OVERLAY else -reveal

    def front(self) -> Front:
        if self.kind is FrontKind.DRAWER and self.bay.compartment.adjustable:
            raise Fault(f'opening "{self.bay.name}" has adjustable shelves and a drawer', "leave one of them out")
        drawer = self.kind is FrontKind.DRAWER
        # The grain of a drawer front runs across, so it moves upward; a door the other way.
        across, upward = (self.rule.reveal, self.least) if drawer else (self.least, self.rule.reveal)
        x = self._covered(self.bay.frame_x, "wide", self.leaves + 1, across)
        z = self._covered(self.bay.frame_z, "high", 2, upward)
        height, width = z.size, (x.size - (self.leaves - 1) * across) / self.leaves
        made, season = self._made(height if drawer else width)
        if drawer:
            height = made
        else:
            width = made
        return Front(self.bay, self.kind, self.leaves, height, width, self.rule.stock, x, z, season)

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
        if self.rule.fit is FrontFit.OVERLAY and at_edges.driest <= 0:
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
        if self.rule.fit is FrontFit.OVERLAY:
            return self.rule.overlay - lost / 2
        # A pair leaves three reveals: one at each edge and one between its leaves.
        return self.least + lost / (self._moving + 1)


def _too_wide(fronts: Sequence[Front], rule: FrontRule, layout: CabinetLayout, figures: Figures) -> Iterator[Fault]:
    """Fronts that stand out beyond the cabinet's sides, where a neighbour or a wall may be."""
    for front in fronts:
        beyond = max(-front.x.start, front.x.end - layout.cabinet.width)
        if beyond > 0:
            yield Fault(
                f'the front of "{front.bay.name}" stands {figures.apart(beyond)} out beyond the side of the cabinet',
                f"make the overlay {figures.at_most(rule.overlay - beyond)} or less",
                "fronts",
            )


def _too_near(fronts: Sequence[Front], rule: FrontRule, figures: Figures) -> Iterator[Fault]:
    """Overlay fronts that would be nearer to each other than the reveal: the nearest two, and how many more."""
    if rule.fit is not FrontFit.OVERLAY:
        return
    near = [
        (gap((fronts[one].x, fronts[one].z), (fronts[other].x, fronts[other].z)), one, other)
        for one, other in _neighbours(fronts, rule.reveal)
    ]
    near = sorted(found for found in near if found[0] < rule.reveal)
    if not near:
        return
    (least, one, other), *more = near
    stand = f"stand only {figures(least)} apart" if least >= 0 else f"lie over each other by {figures.apart(-least)}"
    others = f"; {counted(len(more), 'other pair')} of fronts {'is' if len(more) == 1 else 'are'} too near as well"
    most = rule.overlay - (rule.reveal - least) / 2
    yield Fault(
        f'the fronts of "{fronts[one].bay.name}" and "{fronts[other].bay.name}" would {stand}, where a reveal of '
        f"{figures(rule.reveal)} is wanted{others if more else ''}",
        f"make the overlay {figures.at_most(most)} or less" if most >= 0 else "make the reveal less",
        "fronts",
    )


def _neighbours(fronts: Sequence[Front], near: Fraction) -> Iterator[tuple[int, int]]:
    """Every two fronts of which one begins less than ``near`` above the other's end: no others can be too near."""
    rising = sorted(range(len(fronts)), key=lambda place: (fronts[place].z.start, fronts[place].x.start))
    for step, one in enumerate(rising, start=1):
        for other in islice(rising, step, None):
            if fronts[other].z.start >= fronts[one].z.end + near:
                break
            yield min(one, other), max(one, other)


def front_sticks(layout: CabinetLayout, figures: Figures, first_number: int) -> tuple[StickLayout, ...]:
    """A stick for every column of two or more fronts one above another, numbered from ``first_number``.

    Each front is shown as high as it is made, in the middle of the place that it may fill at the dampest.

    Raises:
        Faults: as :func:`~storystick.cutting.fronts.fronts_of`.
    """
    columns: dict[Range, list[Front]] = {}
    for front in fronts_of(layout, figures):
        columns.setdefault(front.x, []).append(front)
    names = [f"column {fronts[0].bay.column}" for fronts in columns.values()]
    # A door that has its column alone is as high as the list says: nothing is struck for it.
    stacks = [(name, fronts) for name, fronts in zip(names, columns.values(), strict=True) if len(fronts) > 1]
    return tuple(
        _stick(layout, number, name if names.count(name) == 1 else f"row {fronts[0].bay.row}, {name}", fronts, figures)
        for number, (name, fronts) in enumerate(stacks, start=first_number)
    )


def _stick(layout: CabinetLayout, number: int, column: str, fronts: Sequence[Front], figures: Figures) -> StickLayout:
    foot = min(layout.case.foot, *(front.z.start for front in fronts))
    head = max(layout.cabinet.height, *(front.z.end for front in fronts))
    parts = tuple(_placed(front, foot, figures) for front in sorted(fronts, key=lambda front: front.z.start))
    name = f"{layout.cabinet.name} fronts, {column}"
    spans = tuple(end_to_end(parts, head - foot, lambda *_: "gap"))
    place = Face(layout.cabinet.name, "fronts", column, fronts[0].x, Range(foot, head), many=layout.cabinet.count)
    return StickLayout(Stick(number, name, Datum.BOTTOM, ()), spans, parts, (), faces=(place,))


def _placed(front: Front, foot: Fraction, figures: Figures) -> PlacedPart:
    _, z = front.made
    span = Span(SpanKind.PART, front.bay.name, z.start - foot, z.end - foot)
    return PlacedPart(Part(front.stock, front.bay.name), span, None, figures(span.size))
