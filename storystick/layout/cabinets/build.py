"""From what a job says of a cabinet to every piece and opening in its place."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import count, pairwise

from storystick.job.cabinets import Cabinet
from storystick.job.cases import EndRule
from storystick.job.sticks import Hand
from storystick.layout.cabinets.backs import back_of
from storystick.layout.cabinets.bases import base_of
from storystick.layout.cabinets.case import Grid, outline_case, solve_grid, stands_between
from storystick.layout.cabinets.checks import check_cabinet, warnings_about
from storystick.layout.cabinets.frame import Cover, clear_between, members_of, seen_of
from storystick.layout.cabinets.pieces import (
    Around,
    Bay,
    CabinetLayout,
    Case,
    Ending,
    Piece,
    Range,
    Role,
)
from storystick.layout.cabinets.skeleton import (
    Skeleton,
    both_ends,
    case_piece,
    ending_on,
    level_of,
    make_skeleton,
)
from storystick.lengths import Figures


def lay_out_cabinet(cabinet: Cabinet, figures: Figures) -> CabinetLayout:
    """Work out every piece and opening of a cabinet.

    Raises:
        StorystickError: it cannot be built so; ``figures`` says the lengths.
    """
    case = outline_case(cabinet, figures)
    grid = solve_grid(cabinet, case, figures)
    cover = Cover(cabinet, case)
    builder = _Builder(cabinet, case, cover, grid, figures)
    skeleton = builder.skeleton()
    # Both sides reach as high, so the back may go by either.
    back = back_of(cabinet).pieces(case, skeleton.pieces[0])
    members = members_of(skeleton.pieces, cover, figures)
    frame = (members[piece] for piece in skeleton.pieces) if members else ()
    pieces = (*skeleton.pieces, *back, *base_of(cabinet).pieces(cabinet, case), *frame)
    layout = CabinetLayout(cabinet, pieces, tuple(builder.bays(skeleton, members)), case)
    check_cabinet(layout, figures)
    # What was found of its works stays with it where there is nothing to add.
    warnings = tuple(warnings_about(layout, figures))
    return replace(layout, warnings=warnings) if warnings else layout


@dataclass(frozen=True, slots=True)
class _Builder:
    """Makes the pieces in an order in which those that another ends on come before it."""

    cabinet: Cabinet
    case: Case
    cover: Cover
    grid: Grid
    figures: Figures

    def skeleton(self) -> Skeleton:
        """Sides, bottom, top, shelves and dividers."""
        left, right, bottom, top = self._outer()
        ends = level_of(bottom), level_of(top)
        return make_skeleton(self.cabinet, self.case, self.cover, self.grid, (left, right), ends)

    def _outer(self) -> tuple[Piece, Piece, Piece, Piece]:
        """Both sides, the bottom and the top. What lies over the sides is made before them, since they end on it."""
        rules = {Role.BOTTOM: self.cabinet.bottom, Role.TOP: self.cabinet.top}
        over = {role: self._end(role, rule) for role, rule in rules.items() if not stands_between(rule)}
        left, right = self._sides(over.get(Role.BOTTOM), over.get(Role.TOP))
        bottom, top = (over.get(role) or self._end(role, rule, (left, right)) for role, rule in rules.items())
        return left, right, bottom, top

    def _sides(self, bottom: Piece | None, top: Piece | None) -> tuple[Piece, Piece]:
        """The sides; ``bottom`` and ``top`` are given where they lie over them."""
        case, cabinet = self.case, self.cabinet
        z = Range(bottom.z.end if bottom else case.z.start, top.z.start if top else case.z.end)
        ends = ending_on(bottom, cabinet.bottom.joint), ending_on(top, cabinet.top.joint)

        def side(hand: Hand, x: Range) -> Piece:
            front = self.cover.side(x)
            return case_piece(
                cabinet, Role.SIDE, f"{hand.value} side", cabinet.sides, (x, case.y, z), ends, front, hand
            )

        return (
            side(Hand.LEFT, Range(case.x.start, case.inside_x.start)),
            side(Hand.RIGHT, Range(case.inside_x.end, case.x.end)),
        )

    def _end(self, role: Role, rule: EndRule, sides: tuple[Piece, Piece] | None = None) -> Piece:
        """The bottom or the top, between ``sides`` or over them."""
        case, cabinet = self.case, self.cabinet
        z, front = (
            (case.bottom_z, self.cover.bottom(case.bottom_z))
            if role is Role.BOTTOM
            else (case.top_z, self.cover.top(case.top_z))
        )
        if sides is None:
            return case_piece(cabinet, role, role.value, rule.stock, (case.x, case.y, z), (Ending(), Ending()), front)
        room = case.inside_x, case.end_y, z
        return case_piece(cabinet, role, role.value, rule.stock, room, both_ends(sides, rule.joint), front)

    def bays(self, skeleton: Skeleton, members: Mapping[Piece, Piece]) -> Iterator[Bay]:
        """Every opening, with the opening of the frame before it; ``members`` are the frame's by what each covers."""
        numbers = count(1)
        for row, band in enumerate(self.grid.bands):
            for column, stack in enumerate(band.stacks):
                left, right = skeleton.uprights[row][column : column + 2]
                levels = pairwise(skeleton.floors[row][column])
                for level, (cell, (below, above)) in enumerate(zip(stack.cells, levels, strict=True)):
                    number = next(numbers)
                    name = cell.name or f"opening {number}"
                    around = left, right, below.piece, above.piece
                    yield Bay(
                        own_name=cell.name,
                        number=number,
                        row=row + 1,
                        column=column + 1,
                        level=level + 1,
                        x=stack.x,
                        z=cell.z,
                        frame_x=clear_between(name, seen_of(left).end, seen_of(right).start, self.figures),
                        frame_z=clear_between(name, below.end, above.start, self.figures),
                        around=Around(*around),
                        framed=Around(*(members.get(piece) if piece else None for piece in around)),
                        compartment=cell.compartment,
                    )
