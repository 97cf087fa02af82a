"""The cutting list: every piece of case, back, base and frame, then adjustable shelves, fronts and drawer boxes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from storystick.cutting.drawers import behind_front, box_parts, drawer_boxes, inner_back
from storystick.cutting.fronts import Front, Season, fronts_of
from storystick.cutting.gathering import LEFT, RIGHT, Blank, gather
from storystick.cutting.model import CutPart, Hands
from storystick.cutting.movement import percent
from storystick.cutting.notes import Label, edging_note, features_of, notes_of
from storystick.errors import Fault, FaultCollector
from storystick.job.cabinet import Adjustable, Fit, FrontKind
from storystick.layout.cabinets.model import FRAME_ROLES, Axis, Bay, CabinetLayout, Piece, Role
from storystick.lengths import Units, write_figure

INCLUDED: Final = (
    "Sizes are finished, and hold the tongues, tenons and what is housed. Edging stands apart, and the bottoms of "
    "drawers are left to the shop."
)
"""What the sizes hold, for a person who cuts by the list."""

_HANDED: Final = frozenset({Role.SIDE, Role.STILE})


def cutting_list(layouts: Sequence[CabinetLayout], units: Units, label: Label) -> tuple[CutPart, ...]:
    """The parts of all cabinets, those of a cabinet that are alike gathered.

    ``label`` writes the lengths in notes.

    Raises:
        Faults: fronts, boxes and shelves that have no room, for all cabinets at once; figures are in ``units``.
    """
    collector = FaultCollector()
    parts: list[CutPart] = []
    for layout in layouts:
        with collector.at(layout.cabinet.place):
            parts.extend(_parts_of(layout, units, label))
    collector.raise_any()
    return tuple(parts)


def _parts_of(layout: CabinetLayout, units: Units, label: Label) -> list[CutPart]:
    collector = FaultCollector()
    blanks = [_piece_blank(piece, layout, label) for piece in layout.pieces]
    for bay in layout.bays:
        with collector.at():
            blanks.extend(_adjustable_blanks(layout, bay, units, label))
    with collector.at():
        blanks.extend(_front_blank(front, layout, label) for front in fronts_of(layout, units))
    with collector.at():
        blanks.extend(blank for box in drawer_boxes(layout, units) for blank in box_parts(box, label))
    collector.raise_any()
    return gather(layout.cabinet.name, blanks)


def _piece_blank(piece: Piece, layout: CabinetLayout, label: Label) -> Blank:
    return Blank(
        name=piece.name,
        role=piece.role.value,
        stock=piece.stock.name,
        length=piece.length,
        width=_width(piece),
        thickness=piece.stock.thickness,
        hands=_hand(piece),
        notes=notes_of(piece, layout, label),
        features=features_of(piece, layout),
    )


def _width(piece: Piece) -> Fraction:
    """Into the depth for what the case is made of; over the face for frame, base and back."""
    if piece.role in FRAME_ROLES or piece.role in {Role.BACK, Role.PLINTH}:
        return (piece.x if piece.axis is Axis.Z else piece.z).size
    return piece.y.size + piece.front_tongue


def _hand(piece: Piece) -> Hands | None:
    if piece.role not in _HANDED:
        return None
    return LEFT if piece.name.startswith("left") else RIGHT


def _adjustable_blanks(layout: CabinetLayout, bay: Bay, units: Units, label: Label) -> Iterator[Blank]:
    """The adjustable shelves of an opening, as deep as the case inside, behind a front that reaches into it."""
    rule = bay.compartment.adjustable
    if rule is None:
        return
    edging = layout.cabinet.edging
    front = max(layout.case_y.start, behind_front(layout, bay) + edging)
    length, depth = bay.x.size - rule.play, inner_back(layout) - front
    _check_shelf(bay, rule, front - layout.case_y.start, depth, units)
    stock = layout.cabinet.shelves.stock
    yield Blank(
        name=f"adjustable shelf: {bay.name}",
        role="adjustable shelf",
        stock=stock.name,
        length=length,
        width=depth,
        thickness=stock.thickness,
        count=rule.count,
        notes=(edging_note(edging, label),) if edging else (),
    )


def _check_shelf(bay: Bay, rule: Adjustable, front: Fraction, depth: Fraction, units: Units) -> None:
    if rule.play >= bay.x.size:
        raise Fault(
            f'the adjustable shelves of opening "{bay.name}" come to nothing: it is {write_figure(bay.x.size, units)} '
            f"wide, and their play is {write_figure(rule.play, units)}",
            "make the play less",
        )
    if depth <= 0:
        raise Fault(
            f'the adjustable shelves of opening "{bay.name}" have no depth: {write_figure(depth, units)} is left '
            "behind its front",
            "make the front thinner or the cabinet deeper",
        )
    if rule.front <= front:
        raise Fault(
            f'the adjustable shelves of opening "{bay.name}" begin {write_figure(front, units)} from the front, behind '
            f"what closes it, and their front row of holes is at {write_figure(rule.front, units)}",
            "make front more",
        )


def _front_blank(front: Front, layout: CabinetLayout, label: Label) -> Blank:
    """A front, its length with the grain: a drawer front's across the cabinet, a door's upward."""
    drawer = front.kind is FrontKind.DRAWER
    role = "drawer front" if drawer else "door"
    return Blank(
        name=f"{role}: {front.bay}",
        role=role,
        stock=front.stock.name,
        length=front.width if drawer else front.height,
        width=front.height if drawer else front.width,
        thickness=front.stock.thickness,
        count=front.count,
        hands=Hands(1, 1) if front.kind is FrontKind.PAIR else None,
        notes=tuple(_season_notes(front.season, layout, label)) if front.season else (),
    )


def _season_notes(season: Season, layout: CabinetLayout, label: Label) -> Iterator[str]:
    fronts, wood = layout.cabinet.fronts, season.wood
    word = "lap" if fronts and fronts.fit is Fit.OVERLAY else "reveal"
    yield f"{wood.species}, {wood.cut.value}-sawn, cut to width at {percent(wood.made_at)} moisture"
    at_ends = f"{label(season.driest)} at {percent(wood.driest)}, {label(season.dampest)} at {percent(wood.dampest)}"
    yield f"{word} across the grain {label(season.made)} when made, {at_ends}"
