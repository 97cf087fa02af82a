"""What cleats and corner blocks have in common: their room in the depth, and that nothing else stands in it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from typing import Final

from storystick.errors import Fault
from storystick.layout.cabinets.closings import closing_of, front_depth
from storystick.layout.cabinets.pieces import BACK_ROLES, FIXED_IN_ROLES, Axis, CabinetLayout, End, Piece, Range, Role
from storystick.lengths import Figures
from storystick.wording import by_number, listed

_AT_FRONT_OR_BACK: Final = (Role.STRETCHER, Role.NAILER)


def closing_panel(layout: CabinetLayout) -> Piece | None:
    """The board that closes a case above; None where it is open, or has stretchers."""
    return next((piece for piece in layout.at_end(End.TOP) if piece.role is Role.TOP), None)


def under_top(layout: CabinetLayout) -> Fraction:
    """The lower face of the board that closes a case above, or the top of a case that none closes."""
    panel = closing_panel(layout)
    return panel.z.start if panel else layout.case.box_z.end


def clear_depth(layout: CabinetLayout, x: Range, z: Range, y: Range) -> tuple[Fraction, Fraction]:
    """What is free of a depth ``y``: behind inset fronts and what stands in front, before what stands at the back."""
    behind = (
        front_depth(layout.cabinet, closing_of(layout, bay).kind)
        for bay in layout.bays
        if bay.x.overlaps(x) and bay.z.overlaps(z)
    )
    start, end = max((y.start, *behind)), y.end
    for piece in layout.of(*_AT_FRONT_OR_BACK):
        if piece.x.overlaps(x) and piece.z.overlaps(z):
            if piece.y.start <= start < piece.y.end:
                start = piece.y.end
            elif piece.y.start < end <= piece.y.end:
                end = piece.y.start
    return start, end


def touching(pieces: Iterable[Piece], added: Piece) -> Iterator[tuple[Piece, Axis, bool]]:
    """Every piece that lies against what is added, along which direction, and whether on its high side."""
    for piece in pieces:
        for axis in Axis:
            others = (each for each in Axis if each is not axis)
            if all(piece.along(each).overlaps(added.along(each)) for each in others):
                if piece.along(axis).start == added.along(axis).end:
                    yield piece, axis, True
                if piece.along(axis).end == added.along(axis).start:
                    yield piece, axis, False


def check_room(
    layout: CabinetLayout, added: Iterable[Piece], key: str, figures: Figures, besides: Iterable[Piece] = ()
) -> None:
    """Whether cleats or blocks stand where something else does, which may be ``besides`` what is laid out.

    Raises:
        Fault: the first that does; ``figures`` says by how much.
    """
    # A back's pieces lie in one room, and a web frame is there as a whole.
    others = [piece for piece in layout.pieces if piece.part_of is None and piece.role not in BACK_ROLES]
    others += [*besides, *([layout.back] if layout.back else [])]
    for piece in added:
        for other in others:
            if all(other.along(axis).overlaps(piece.along(axis)) for axis in Axis):
                raise Fault(
                    f'the {piece.name} runs into "{other.name}" by {figures(least_lap(piece, other))}',
                    "make it narrower or shorter, or leave it out there",
                    key,
                )


def least_lap(one: Piece, other: Piece) -> Fraction:
    """How far two pieces that share room reach into each other, the way in which that is least."""
    ranges = ((one.along(axis), other.along(axis)) for axis in Axis)
    return min(min(a.end, b.end) - max(a.start, b.start) for a, b in ranges)


def fixed_in_the_way(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    """Which adjustable shelves cannot be set everywhere, since a cleat or a corner block is in their way."""
    for bay in layout.bays:
        found = [
            piece
            for piece in layout.of(*FIXED_IN_ROLES)
            if bay.compartment.adjustable and piece.x.overlaps(bay.x) and piece.z.overlaps(bay.z)
        ]
        if not found:
            continue
        low, thick = min(piece.z.start for piece in found), layout.shelf_stock(bay).thickness
        lost = [at for at in bay.hole_heights() if any(_is_over(at, thick, piece) for piece in found)]
        if lost:
            names = listed(by_number(piece.name for piece in found))
            yield (
                f"the adjustable shelves of {bay.name} cannot stand over {figures(low)} from the floor, where {names} "
                f"{'is' if len(found) == 1 else 'are'}: leave out the holes at {listed([figures(at) for at in lost])}"
            )


def _is_over(at: Fraction, thick: Fraction, piece: Piece) -> bool:
    """Whether a shelf on holes at a height would run into what is fixed above it."""
    return at + thick > piece.z.start
