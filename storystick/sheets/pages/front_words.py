"""What a drawing sheet says of fronts: how they lie over their openings, and the signs that they are drawn with."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any, Final

from storystick.job.fronts import FrontKind, FrontRule
from storystick.job.reaching import FaceEdge, Inset, Over, UpToGaps
from storystick.layout.cabinets.closings import closings_of
from storystick.layout.cabinets.pieces import CabinetLayout
from storystick.lengths import Figures
from storystick.wording import by_number, capital, listed


def tell_fronts(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    """How fronts lie over their openings."""
    rule = layout.cabinet.fronts
    if rule is None or all(closing.is_open for closing in closings_of(layout)):
        return
    yield _REACHES[type(rule.reach)](rule, figures)
    if rule.pair_gap is not None:
        yield f"Between the two doors of a pair {figures(rule.pair_gap)}."


def _inset(rule: FrontRule, figures: Figures) -> str:
    thick, reveal = figures(rule.stock.thickness), figures(rule.reveal)
    return f"Inset fronts {thick} thick, reveal {reveal} all round, drawn wider here so that it is seen."


def _over(rule: FrontRule, figures: Figures) -> str:
    reach: Any = rule.reach
    laps = f"{figures(reach.left)} over each edge of the opening"
    if reach.is_by_edge:
        shared = "" if reach.at_shared is None else f", {figures(reach.at_shared)} over what openings share"
        laps = f"over the outer edges by {_by_edge(reach, figures)}{shared}"
    return f"Overlay fronts {figures(rule.stock.thickness)} thick, {laps}, {figures(rule.reveal)} apart."


def _up_to_gaps(rule: FrontRule, figures: Figures) -> str:
    given = {edge.value: getattr(rule.reach, edge.value) for edge in FaceEdge}
    gaps = UpToGaps(**{name: rule.reveal / 2 if gap is None else gap for name, gap in given.items()})
    thick, reveal = figures(rule.stock.thickness), figures(rule.reveal)
    return f"Full overlay fronts {thick} thick, {reveal} apart, inside the outer edges by {_by_edge(gaps, figures)}."


def _by_edge(measures: Any, figures: Figures) -> str:
    """A measure of every edge of the face, or one for all."""
    by_edge = {edge.value: figures(getattr(measures, edge.value)) for edge in FaceEdge}
    if len(set(by_edge.values())) == 1:
        return by_edge["left"]
    return listed([f"{measure} at the {edge}" for edge, measure in by_edge.items()])


_REACHES: Final[Mapping[type, Callable[[FrontRule, Figures], str]]] = {
    Inset: _inset,
    Over: _over,
    UpToGaps: _up_to_gaps,
}


def tell_signs(layout: CabinetLayout, _figures: Figures) -> Iterator[str]:
    """The signs that a cabinet is drawn with."""
    closings = closings_of(layout) if layout.cabinet.fronts else ()
    kinds = {closing.kind for closing in closings}
    doors = [closing for closing in closings if closing.kind is FrontKind.DOOR]
    signs: list[str] = []
    if FrontKind.PAIR in kinds or any(closing.hinge for closing in doors):
        signs.append("two lines that meet are a door, hinged where they meet")
    if FrontKind.DRAWER in kinds:
        others = kinds - {FrontKind.DRAWER, FrontKind.NONE}
        signs.append("a short bar is a drawer" if others else "all fronts are of drawers")
    if FrontKind.FALSE in kinds:
        signs.append("a small cross is a false front, which does not open")
    if any(bay.compartment.adjustable for bay in layout.bays):
        signs.append("broken level lines are adjustable shelves")
    if any(len(closing.bays) > 1 and not closing.is_open for closing in closings):
        signs.append("parts of the case behind a front are broken lines")
    if signs:
        yield f"{capital('; '.join(signs))}."
    unsaid = by_number(closing.name for closing in doors if closing.hinge is None)
    if unsaid:
        yield f"The job does not say at which side a door is hinged: {listed(unsaid)}."
