"""The fronts that close a cabinet's openings, made to open in the dampest season. Sizes are exact, in mm.

A front of solid wood is as large as allowed at the dampest and made smaller by what it gains until then; the list
says what it leaves open when it is made and when it is driest.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final
from weakref import WeakKeyDictionary

from storystick.cutting.front import Front, Season
from storystick.cutting.front_faults import check_covers, too_high, too_near, too_wide
from storystick.errors import Fault, FaultCollector, Where
from storystick.job.fronts import FrontFit, FrontKind, FrontRule, SolidWood
from storystick.job.reaching import FaceEdge
from storystick.layout.cabinets.closings import Closing, closings_of
from storystick.layout.cabinets.laps import Laps, OpeningLaps, laps_at
from storystick.layout.cabinets.pieces import CabinetLayout, Range
from storystick.layout.movement import change, coefficient_of, size_to_make
from storystick.lengths import Figures

_ACROSS: Final = (FaceEdge.LEFT, FaceEdge.RIGHT)
_UPWARD: Final = (FaceEdge.BOTTOM, FaceEdge.TOP)


def fronts_of(layout: CabinetLayout, figures: Figures) -> tuple[Front, ...]:
    """Every front of a cabinet, from the bottom left.

    Raises:
        Faults: a front comes to nothing, neighbours are too near, or the wood is not known. ``figures`` says lengths.
    """
    rule = layout.cabinet.fronts
    if rule is None:
        return ()
    found = _FOUND.setdefault(layout, {})
    if figures not in found:
        found[figures] = _fronts(layout, rule, figures)
    return found[figures]


_FOUND: Final[WeakKeyDictionary[CabinetLayout, dict[Figures, tuple[Front, ...]]]] = WeakKeyDictionary()
"""Those that have been asked for: their sticks, what they are warned of, the list and the drawings are of the same."""


def _fronts(layout: CabinetLayout, rule: FrontRule, figures: Figures) -> tuple[Front, ...]:
    collector = FaultCollector()
    coefficient = Fraction(0)
    with collector.at(Where.keys("fronts", "wood")):
        coefficient = coefficient_of(rule.wood) if rule.wood else coefficient
    whole = laps_at(layout, Laps(rule.reach, rule.reveal))
    # Across the grain an inset front may keep less at the dampest.
    moving = whole if rule.least == rule.reveal else laps_at(layout, Laps(rule.reach, rule.least))
    fronts = []
    for closing in closings_of(layout):
        if not closing.is_open:
            with collector.at():
                _check_drawer(closing, layout)
                fronts.append(_Maker(rule, closing, whole[closing], moving[closing], coefficient, figures).front())
    collector.add(*too_near(fronts, rule, figures))
    collector.add(*too_wide(fronts, rule, layout, figures), *too_high(fronts, rule, layout, figures))
    collector.raise_any()
    return tuple(fronts)


def _check_drawer(closing: Closing, layout: CabinetLayout) -> None:
    """Whether nothing but a drawer stands behind a drawer's front."""
    for bay in closing.bays:
        if closing.kind is FrontKind.DRAWER and bay.compartment.adjustable:
            what = f'opening "{closing.name}" has adjustable shelves and a drawer'
            raise Fault(what, "leave one of them out", layout.place_of(bay))


@dataclass(frozen=True, slots=True)
class _Maker:
    """Makes one front; ``least`` are its laps across the grain at the dampest."""

    rule: FrontRule
    closing: Closing
    whole: OpeningLaps
    least: OpeningLaps
    coefficient: Fraction
    figures: Figures

    @property
    def kind(self) -> FrontKind:
        return self.closing.kind

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
        across, upward = (self.whole, self.least) if self.kind.lies else (self.least, self.whole)
        return {edge: (across if edge in _ACROSS else upward)[edge] for edge in FaceEdge}

    def front(self) -> Front:
        laps = self.laps
        x = self._covered(self.closing.frame_x, "wide", _ACROSS, self.between)
        z = self._covered(self.closing.frame_z, "high", _UPWARD, Fraction(0))
        height, width = z.size, (x.size - self.between) / self.leaves
        if self.kind.lies:
            height, season = self._made(height, _UPWARD)
        else:
            width, season = self._made(width, _ACROSS)
        return Front(self.closing, self.leaves, height, width, self.rule.stock, x, z, laps, season)

    def _covered(self, opening: Range, way: str, edges: tuple[FaceEdge, FaceEdge], between: Fraction) -> Range:
        """What the leaves cover in one direction, with so much ``between`` them."""
        low, high = (self.laps[edge].lap for edge in edges)
        if opening.size + low + high - between <= 0:
            raise Fault(
                f'a {self.kind.value} has no room in opening "{self.closing.name}": it is '
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
            name = f'the {self.kind.value} over opening "{self.closing.name}"'
            check_covers(
                name, [self.laps[edge] for edge in edges], (most, driest), self.moving, self.rule, self.figures
            )
        return made, season

    @property
    def moving(self) -> int:
        """How many leaves lie side by side across the grain."""
        return 1 if self.kind.lies else self.leaves

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
