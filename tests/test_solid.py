"""Cabinets as solid bodies: what stands in another is cut out of it, and all lies within the overall sizes."""

from __future__ import annotations

from itertools import combinations

from bodies import Box, block
from built_cabinets import built_cabinets
from hypothesis import given

from storystick.job.bases import BoardPlace, Toe
from storystick.layout.cabinets.pieces import BACK_ROLES, OUTER_ROLES, CabinetLayout, Piece, Role


def is_cut_out(one: Piece, other: Piece, shared: Box, layout: CabinetLayout) -> bool:
    """Whether two pieces may share a block: a back in its rabbets or grooves, a toe board over the heel of a side."""
    roles = {one.role, other.role}
    if roles & BACK_ROLES:
        # In its rabbets or grooves, and a panel in those of its frame.
        return bool(roles & OUTER_ROLES) or (Role.BACK_PANEL in roles and roles <= BACK_ROLES)
    base = layout.cabinet.base
    if roles == {Role.TOE_BOARD, Role.SIDE} and isinstance(base, Toe) and base.board:
        board = one if one.role is Role.TOE_BOARD else other
        heel = layout.case.y.start + base.recess + base.board.stock.thickness
        return base.board.place is BoardPlace.OVER and shared.y[1] <= heel and shared.z[1] <= board.z.end
    return False


@given(built_cabinets())
def test_no_two_pieces_take_the_same_room(layout: CabinetLayout) -> None:
    # A web frame is there as a whole: its members lie in it.
    for one, other in combinations([piece for piece in layout.pieces if piece.part_of is None], 2):
        shared = block(one).common(block(other))
        assert shared is None or is_cut_out(one, other, shared, layout), f"{one.name} and {other.name}"


@given(built_cabinets(added=True))
def test_no_cleat_or_corner_block_takes_the_room_of_another_piece(layout: CabinetLayout) -> None:
    for one in layout.of(Role.CLEAT, Role.CORNER_BLOCK):
        for other in layout.pieces:
            if other is not one and other.part_of is None:
                assert block(one).common(block(other)) is None, f"{one.name} and {other.name}"


@given(built_cabinets())
def test_all_lies_within_the_overall_sizes_and_what_stands_on_the_floor_reaches_it(layout: CabinetLayout) -> None:
    cabinet = layout.cabinet
    for piece in layout.pieces:
        for reach, size in zip(block(piece), (cabinet.width, cabinet.depth, cabinet.height), strict=True):
            assert 0 <= reach[0] < reach[1] <= size, piece.name
    assert min(piece.z.start for piece in layout.pieces) == 0
    assert all(piece.z.start == 0 for piece in layout.of(Role.TOE_BOARD, Role.PLINTH))


@given(built_cabinets())
def test_a_side_and_what_stands_back_under_it_carry_each_end(layout: CabinetLayout) -> None:
    """Under every end of the bottom something stands on the floor, from near the front to the back."""
    (bottom,) = layout.of(Role.BOTTOM)
    for x in (layout.case.x.start, layout.case.x.end):
        near = [
            piece
            for piece in layout.pieces
            if piece.z.start == 0 and min(abs(piece.x.start - x), abs(piece.x.end - x)) <= 60
        ]
        long = [piece for piece in near if piece.y.size > bottom.y.size / 2 or piece is bottom]
        assert long, x
