"""What a drawing of a cabinet says in words beside its figures: how it is put together, and what its signs mean."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any, Final

from storystick.cutting.fronts import front_kind
from storystick.job.cases import GrooveBack, LaidOnBack, Plinth, RabbetBack, Toe
from storystick.job.fronts import FrontFit, FrontKind
from storystick.layout.cabinets.pieces import CabinetLayout, Role
from storystick.lengths import Figures
from storystick.wording import by_number, capital, listed


def construction_words(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    """A sentence for each thing that is not seen, or not well, at the scale of the drawing."""
    for tell in (_frame, _fronts, _boxes, _edging, _back, _base, _covered, _signs):
        yield from tell(layout, figures)


def _frame(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    frame = layout.cabinet.frame
    if frame is None:
        return
    widths: dict[tuple[str, str], None] = {}
    for piece in layout.of(Role.STILE, Role.RAIL, Role.MID_STILE):
        name = piece.name if piece.covers in (layout.top, layout.bottom) else f"{piece.role.value}s"
        widths.setdefault((name, figures(piece.across.size)))
    members = listed([f"{name} {width}" for name, width in widths])
    yield f"Face frame {figures(frame.stock.thickness)} thick: {members} wide."


def _fronts(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    rule = layout.cabinet.fronts
    if rule is None or all(front_kind(layout, bay) is FrontKind.NONE for bay in layout.bays):
        return
    thick, reveal = figures(rule.stock.thickness), figures(rule.reveal)
    if rule.fit is FrontFit.OVERLAY:
        yield f"Overlay fronts {thick} thick, {figures(rule.overlay)} over each edge of the opening, {reveal} apart."
    else:
        yield f"Inset fronts {thick} thick, reveal {reveal} all round, drawn wider here so that it is seen."


def _boxes(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    rule = layout.cabinet.drawers
    if rule and any(front_kind(layout, bay) is FrontKind.DRAWER for bay in layout.bays):
        yield (
            f"Drawer boxes {figures(rule.stock.thickness)} thick, clear by {figures(rule.side)} at each side, "
            f"{figures(rule.top)} above, {figures(rule.bottom)} below and {figures(rule.back)} behind; their bottoms "
            "are left to the shop."
        )


def _edging(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    if layout.cabinet.edging:
        yield f"Solid edging {figures(layout.cabinet.edging)} thick on the front edges, within the depth."


def _back(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    back = layout.cabinet.back
    if back:
        yield f"Back {figures(back.stock.thickness)} thick, {_HELD[type(back)](back, figures)}."


_HELD: Final[Mapping[type, Callable[[Any, Figures], str]]] = {
    RabbetBack: lambda back, figures: f"in rabbets {figures(back.width)} wide and {figures(back.depth)} deep",
    GrooveBack: lambda back, figures: (
        f"in grooves {figures(back.depth)} deep, {figures(back.inset)} from the back edge"
    ),
    LaidOnBack: lambda *_: "laid on the back edges",
}


def _base(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    base = layout.cabinet.base
    if base:
        sizes = f"{figures(base.height)} high, {figures(base.recess)} back from the front of the case"
        yield f"{_BASES[type(base)]} {sizes}."


_BASES: Final[Mapping[type, str]] = {Toe: "Toe space", Plinth: "Base"}


def _covered(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    """What the bottom and the top rail take of the openings behind them, since the fronts are not graduated by that."""
    bottom, top = layout.bottom, layout.top
    if bottom.front is None or top.front is None:
        return
    both = (("bottom", bottom.front.end - bottom.z.end), ("top", top.z.start - top.front.start))
    taken = [f"the {name} rail takes {figures(size)}" for name, size in both if size > 0]
    if taken:
        yield f"{capital(listed(taken))} of the height of the opening next to it."


def _signs(layout: CabinetLayout, _figures: Figures) -> Iterator[str]:
    kinds = {front_kind(layout, bay) for bay in layout.bays} if layout.cabinet.fronts else set()
    signs: list[str] = []
    doors = [bay for bay in layout.bays if front_kind(layout, bay) is FrontKind.DOOR]
    if FrontKind.PAIR in kinds or any(bay.compartment.hinge for bay in doors):
        signs.append("two lines that meet are a door, hinged where they meet")
    if FrontKind.DRAWER in kinds:
        signs.append("a short bar is a drawer" if doors or FrontKind.PAIR in kinds else "all fronts are of drawers")
    if any(bay.compartment.adjustable for bay in layout.bays):
        signs.append("broken level lines are adjustable shelves")
    if signs:
        yield f"{capital('; '.join(signs))}."
    unsaid = by_number(bay.name for bay in doors if bay.compartment.hinge is None) if layout.cabinet.fronts else []
    if unsaid:
        yield f"The job does not say at which side a door is hinged: {listed(unsaid)}."
