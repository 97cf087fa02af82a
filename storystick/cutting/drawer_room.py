"""A drawer box in its opening, and whether it runs into what is fixed in the case beside or behind it. Exact, in mm."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from storystick.errors import Fault
from storystick.job.fronts import DrawerRule
from storystick.job.openings import Stock
from storystick.layout.cabinets.corner_blocks import corner_of
from storystick.layout.cabinets.pieces import FIXED_IN_ROLES, Bay, CabinetLayout, Piece, Range, Role
from storystick.lengths import Figures


@dataclass(frozen=True, slots=True)
class DrawerBox:
    """A drawer box in its opening, outside sizes in mm."""

    bay: Bay
    width: Fraction
    height: Fraction
    depth: Fraction
    stock: Stock

    @property
    def between(self) -> Fraction:
        """The length of its front and back, between the sides."""
        return self.width - 2 * self.stock.thickness


def check_room_of(layout: CabinetLayout, box: DrawerBox, rule: DrawerRule, front: Fraction, figures: Figures) -> None:
    """Whether a box that begins ``front`` behind the cabinet's front has its room.

    Raises:
        Fault: it reaches into something at the back, or beside it; ``figures`` says the lengths.
    """
    if min(box.height, box.depth, box.width) <= 0:
        return
    low = max(box.bay.z.start, box.bay.frame_z.start) + rule.bottom
    left = max(box.bay.x.start, box.bay.frame_x.start) + rule.side
    z = Range(low, low + box.height)
    _check_behind(layout, box, rule, z, figures)
    _check_beside(layout, box, Range(left, left + box.width), Range(front, front + box.depth), z, figures)


def _check_behind(layout: CabinetLayout, box: DrawerBox, rule: DrawerRule, z: Range, figures: Figures) -> None:
    """Whether it reaches into a nailer or a stretcher at the back."""
    bay, end = box.bay, layout.inner_back - rule.back
    for piece in layout.of(Role.NAILER, Role.STRETCHER):
        in_line = piece.front is None and piece.z.overlaps(z) and piece.x.overlaps(bay.x)
        if in_line and piece.y.start < end <= piece.y.end:
            least = figures.at_least(layout.inner_back - piece.y.start)
            what = (
                f'the drawer box of opening "{bay.name}" reaches {figures(end - piece.y.start)} into the {piece.name}'
            )
            raise Fault(what, f"make the back clearance {least} or more, or the {piece.name} narrower")


def _check_beside(layout: CabinetLayout, box: DrawerBox, x: Range, y: Range, z: Range, figures: Figures) -> None:
    """Whether it runs into a cleat or a corner block, all of which hang at the top of an opening."""
    bay = box.bay
    for piece in layout.of(*FIXED_IN_ROLES):
        if piece.z.overlaps(z) and _meets(layout, piece, x, y):
            least = figures.at_least(min(bay.z.end, bay.frame_z.end) - piece.z.start)
            what = f'the drawer box of opening "{bay.name}" runs into the {piece.name}'
            raise Fault(what, f"make the top clearance {least} or more, or leave the {piece.role.value}s out there")


def _meets(layout: CabinetLayout, piece: Piece, x: Range, y: Range) -> bool:
    """Whether a box meets a piece, seen from above; a corner block only before its long edge."""
    if not (piece.x.overlaps(x) and piece.y.overlaps(y)):
        return False
    if piece.role is not Role.CORNER_BLOCK:
        return True
    left, front = corner_of(layout, piece)
    across = x.start - piece.x.start if left else piece.x.end - x.end
    deep = y.start - piece.y.start if front else piece.y.end - y.end
    return max(across, Fraction(0)) + max(deep, Fraction(0)) < piece.x.size
