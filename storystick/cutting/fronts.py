"""The fronts that close a cabinet's openings, made to open in the dampest season. Sizes are exact, in mm.

A front of solid wood is as large as allowed at the dampest and made smaller by what it gains until then; the list
says what it leaves open when it is made and when it is driest.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.cutting.front import Front, Season
from storystick.cutting.front_faults import check_covers, too_near, too_wide
from storystick.errors import Fault, FaultCollector
from storystick.job.fronts import FrontFit, FrontKind, FrontRule, SolidWood
from storystick.job.reaching import FaceEdge
from storystick.layout.cabinets.laps import Laps, OpeningLaps, laps_at
from storystick.layout.cabinets.pieces import Bay, CabinetLayout, Range
from storystick.layout.movement import change, coefficient_of, size_to_make
from storystick.lengths import Figures

_ACROSS: Final = (FaceEdge.LEFT, FaceEdge.RIGHT)
_UPWARD: Final = (FaceEdge.BOTTOM, FaceEdge.TOP)


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
    whole = laps_at(layout, Laps(rule.reach, rule.reveal))
    # Across the grain an inset front may keep less at the dampest.
    moving = whole if rule.least == rule.reveal else laps_at(layout, Laps(rule.reach, rule.least))
    fronts = []
    for bay in layout.bays:
        kind = front_kind(layout, bay)
        if kind is not FrontKind.NONE:
            with collector.at():
                fronts.append(_Maker(rule, bay, kind, whole[bay], moving[bay], coefficient, figures).front())
    collector.add(*too_near(fronts, rule, figures), *too_wide(fronts, rule, layout, figures))
    collector.raise_any()
    return tuple(fronts)


@dataclass(frozen=True, slots=True)
class _Maker:
    """Makes the front of one opening; ``least`` are its laps across the grain at the dampest."""

    rule: FrontRule
    bay: Bay
    kind: FrontKind
    whole: OpeningLaps
    least: OpeningLaps
    coefficient: Fraction
    figures: Figures

    @property
    def leaves(self) -> int:
        return 2 if self.kind is FrontKind.PAIR else 1

    @property
    def between(self) -> Fraction:
        """What is between the leaves at the dampest."""
        gap = self.rule.least if self.rule.pair_gap is None else self.rule.pair_gap
        return gap * (self.leaves - 1)

    @property
    def laps(self) -> OpeningLaps:
        # The grain of a drawer front runs across, so it moves upward; a door the other way.
        across, upward = (self.whole, self.least) if self.kind is FrontKind.DRAWER else (self.least, self.whole)
        return {edge: (across if edge in _ACROSS else upward)[edge] for edge in FaceEdge}

    def front(self) -> Front:
        if self.kind is FrontKind.DRAWER and self.bay.compartment.adjustable:
            raise Fault(f'opening "{self.bay.name}" has adjustable shelves and a drawer', "leave one of them out")
        laps = self.laps
        x = self._covered(self.bay.frame_x, "wide", _ACROSS, self.between)
        z = self._covered(self.bay.frame_z, "high", _UPWARD, Fraction(0))
        height, width = z.size, (x.size - self.between) / self.leaves
        if self.kind is FrontKind.DRAWER:
            height, season = self._made(height, _UPWARD)
        else:
            width, season = self._made(width, _ACROSS)
        return Front(self.bay, self.kind, self.leaves, height, width, self.rule.stock, x, z, laps, season)

    def _covered(self, opening: Range, way: str, edges: tuple[FaceEdge, FaceEdge], between: Fraction) -> Range:
        """What the leaves cover in one direction, with so much ``between`` them."""
        low, high = (self.laps[edge].lap for edge in edges)
        if opening.size + low + high - between <= 0:
            raise Fault(
                f'a {self.kind.value} has no room in opening "{self.bay.name}": it is '
                f"{self.figures(opening.size)} {way}, and its reveals take {self.figures(between - low - high)}",
                "make the reveal less or the opening larger",
                "fronts",
            )
        return Range(opening.start - low, opening.end + high)

    def _made(self, most: Fraction, edges: tuple[FaceEdge, FaceEdge]) -> tuple[Fraction, Season | None]:
        """The size across the grain to make, where ``most`` is allowed at the dampest."""
        wood = self.rule.wood
        if wood is None:
            return most, None
        made = size_to_make(most, self.coefficient, wood.made_at, wood.dampest)
        driest = made + change(made, self.coefficient, wood.made_at, wood.driest)
        season = self._season(wood, edges, most - made, most - driest)
        if self.rule.fit is FrontFit.OVERLAY:
            name = f'the {self.kind.value} over opening "{self.bay.name}"'
            check_covers(
                name, [self.laps[edge] for edge in edges], (most, driest), self.moving, self.rule, self.figures
            )
        return made, season

    @property
    def moving(self) -> int:
        """How many leaves lie side by side across the grain."""
        return 1 if self.kind is FrontKind.DRAWER else self.leaves

    def _season(self, wood: SolidWood, edges: tuple[FaceEdge, FaceEdge], made: Fraction, driest: Fraction) -> Season:
        """What is left at the edges where a leaf has lost ``made`` and ``driest``."""
        inset = self.rule.fit is FrontFit.INSET
        # An inset pair leaves three reveals: one at each edge and one between its leaves. Overlaid ones part not.
        shares = self.moving + 1 if inset else 2
        back_made, back_driest = made * self.moving / shares, driest * self.moving / shares
        held = [self.laps[edge].lap for edge in edges if self.laps[edge].width]
        if not held:
            dampest = self.rule.least
            return Season(
                wood, "gap", dampest + 2 * back_made, dampest + 2 * back_driest, dampest, back_made, back_driest
            )
        lap = min(held)
        if inset:
            return Season(wood, "reveal", back_made - lap, back_driest - lap, -lap, back_made, back_driest)
        return Season(wood, "lap", lap - back_made, lap - back_driest, lap, back_made, back_driest)
