"""Backs of boards, in frames and in parts: against a row of blocks, and against sections sawn by the settings."""

from __future__ import annotations

import itertools
from fractions import Fraction
from typing import Final

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from jobs import read, read_well

from storystick.errors import StorystickError
from storystick.job.back_makes import BoardJoint, Boards
from storystick.job.shop import Shop
from storystick.job.tools import Saw
from storystick.layout.cabinets.back_making import board_sizes
from storystick.layout.cabinets.build import lay_out_cabinet
from storystick.layout.cabinets.pieces import CabinetLayout, Role
from storystick.layout.cabinets.sticks import cabinet_sticks
from storystick.layout.cabinets.working import works_of
from storystick.layout.cabinets.works import Surface, WorkKind, width_of
from storystick.tooling.saw import saw_cuts

HEAD: Final = """
title = "Back"
units = "mm"
stock = {{ ply = 18, pine = 12, thin = 6 }}

[[cabinet]]
name = "Case"
height = {height}
width = {width}
depth = 300
carcass = "ply"
openings = ["equal", "equal", "equal"]
back = {{ {back} }}
"""


def laid(back: str, width: int = 800, height: int = 1200) -> CabinetLayout:
    job = read_well(HEAD.format(back=back, width=width, height=height))
    return lay_out_cabinet(job.cabinets[0], job.figures)


mm = st.integers


@given(mm(200, 2400), mm(30, 200), mm(3, 14), mm(0, 12), st.sampled_from(BoardJoint))
def test_the_fewest_boards_that_may_be_fill_the_room(
    room: int, width: int, lap: int, gap: int, joint: BoardJoint
) -> None:
    assume(width > 2 * lap and gap < lap)
    make = Boards(Fraction(width), Fraction(lap), Fraction(1), Fraction(gap), joint)
    sizes = board_sizes(make, Fraction(room))
    # Laid down one after another: half a gap, a board, a gap, ..., a board, half a gap.
    at = Fraction(gap, 2)
    for _ in range(sizes.count):
        at += sizes.face + gap
    assert at - Fraction(gap, 2) == room
    assert sizes.face > 0
    laps = lap if sizes.count > 1 else 0
    assert sizes.face + laps <= width
    # One board fewer would have to be wider than may be.
    if sizes.count > 1:
        fewer = Fraction(room, sizes.count - 1) - gap
        assert fewer + (lap if sizes.count > 2 else 0) > width


@given(mm(400, 1600), mm(60, 200), st.sampled_from(["tongue", "shiplap"]), st.booleans())
def test_what_stands_out_of_a_board_enters_the_next_with_room_in_every_season(
    width: int, most: int, joint: str, flat: bool
) -> None:
    """Each board moves from its middle: by Equation 13-2 its edges go half of what it gains."""
    cut = "flat" if flat else "quarter"
    wood = f'wood = {{ species = "oak, red", cut = "{cut}", made_at = 8, driest = 6, dampest = 12 }}'
    layout = laid(
        f'stock = "pine", laid_on = true, boards = {{ width = {most}, lap = 10, joint = "{joint}", {wood} }}', width
    )
    boards = layout.of(Role.BACK_BOARD)
    # Table 13-5 of the Wood Handbook, red oak: 0.00369 tangential, 0.00158 radial (shared/wood_shrinkage.toml).
    moves = Fraction(369 if flat else 158, 100_000)
    for low, high in itertools.pairwise(boards):
        gap = high.x.start - low.x.end
        gains = {moisture: (low.x.size + high.x.size) / 2 * moves * (moisture - 8) for moisture in (6, 12)}
        assert gap - gains[12] == 0  # they just meet
        assert 0 < gap - gains[6] < low.edge_tongue  # and stay in each other


@pytest.mark.parametrize("joint", ["tongue", "shiplap"])
def test_every_joint_of_boards_is_a_tongue_or_lap_and_room_for_it(joint: str) -> None:
    layout = laid(f'stock = "pine", laid_on = true, boards = {{ width = 100, joint = "{joint}" }}')
    boards = layout.of(Role.BACK_BOARD)
    for low, high in itertools.pairwise(boards):
        (out,) = (work for work in works_of(layout, low) if work.on is Surface.HIGH)
        (room,) = (work for work in works_of(layout, high) if work.on is Surface.LOW)
        assert out.other is high
        assert room.other is low
        assert out.thick
        if joint == "tongue":
            assert room.kind is WorkKind.EDGE_GROOVE
            assert (room.across, room.depth) == (out.thick, out.depth + 1)
        else:
            # The half at the back of one, and what is left at the front of the other, are all of the thickness.
            assert room.kind is WorkKind.RABBET
            assert room.thick
            assert room.thick.end == out.thick.start == 6
            assert room.across.size == out.depth
        assert out.across.end == width_of(low) == low.x.size + low.edge_tongue
    assert not [work for work in works_of(layout, boards[0]) if work.on is Surface.LOW]
    assert not [work for work in works_of(layout, boards[-1]) if work.on is Surface.HIGH]


def test_one_setting_of_the_saw_serves_all_boards() -> None:
    layout = laid('stock = "pine", laid_on = true, boards = { width = 100, joint = "tongue", lap = 6 }')
    job = read_well(HEAD.format(back='stock = "pine", laid_on = true', width=800, height=1200))
    cuts = saw_cuts([layout], Shop(saws=(Saw("bench", Fraction(3)),)), job.figures)
    grooves = [cut for cut in cuts if cut.work == "edge groove"]
    # 4 wide in the middle of 12, 3 at a pass: from 4 to 7, then to 8; 6 and 1 to spare deep.
    assert [(cut.fence_near, cut.fence_far, cut.height) for cut in grooves] == [(4, 7, 7), (5, 8, 7)]
    tongues = [cut for cut in cuts if cut.work == "edge tongue"]
    assert [(cut.fence_near, cut.fence_far, cut.height) for cut in tongues] == [(3, 6, 4), (0, 3, 4)]


def test_boards_have_a_strip_of_where_each_begins_and_is_fastened() -> None:
    layout = laid('stock = "pine", rabbet_width = 12, rabbet_depth = 10, boards = { width = 100 }')
    (stick,) = (stick for stick in cabinet_sticks(layout, 1) if stick.name == "Case back")
    boards = layout.of(Role.BACK_BOARD)
    left = layout.back.x.start if layout.back else None
    assert left is not None
    assert [point.at + left for point in stick.points[::2]] == [board.x.start for board in boards]
    assert [point.at + left for point in stick.points[1::2]] == [(each.x.start + each.x.end) / 2 for each in boards]


FAULTS: Final = {
    'stock = "pine", groove_depth = 6, groove_inset = 12, boards = { width = 100 }': (
        "a back in grooves is one sheet, which the case shuts in; leave boards out, or give the back a rabbet"
    ),
    'stock = "pine", laid_on = true, boards = { width = 100 }, parts = 2': (
        "boards and parts stand in one table; a back is made in one way: give one of them"
    ),
    'stock = "pine", laid_on = true, boards = { width = 12, lap = 6 }': (
        "boards 12 wide leave nothing between laps of 6; make the width more than 12"
    ),
    'stock = "pine", laid_on = true, boards = { width = 100, lap = 6, gap = 6 }': (
        "a gap of 6 is open right through, since the lap is 6; make it less than the lap"
    ),
    'stock = "pine", laid_on = true, parts = 2, parted_at = "shelf 9"': (
        '"shelf 9" is not a shelf that reaches the back from side to side; name one of "shelf 1", "shelf 2"'
    ),
    'stock = "pine", laid_on = true, parted_at = "shelf 1"': (
        "parted_at says where, but the back is in one part; add parts = 2"
    ),
    'stock = "pine", laid_on = true, framed = { stile = 400, rail = 60, panel = "thin" }': (
        "the stiles of the back come to 800 together, of 800; make them narrower"
    ),
    'stock = "pine", laid_on = true, framed = { stile = 60, rail = 60, panel = "pine" }': (
        "the panels of the back are 12 thick, more than half of its frame's 12"
    ),
    'stock = "pine", laid_on = true, framed = { stile = 60, rail = 60, panel = "thin", groove_depth = 30 }': (
        "grooves 30 deep leave too little of a member 60 wide; make groove_depth less than half of that"
    ),
    'stock = "pine", laid_on = true, framed = { stile = 60, rail = 60, panel = "thin", groove_depth = 2, '
    'bottom_gap = 0, wood = { species = "oak, red", cut = "flat", made_at = 8, driest = 6, dampest = 12 } }': (
        "at 6 % the panels of the back are"
    ),
    'stock = "pine", laid_on = true, boards = { width = 180, lap = 2, '
    'wood = { species = "oak, red", cut = "flat", made_at = 8, driest = 6, dampest = 12 } }': (
        "at 6 % the boards of the back stand"
    ),
    'stock = "pine", laid_on = true, boards = { width = 180, '
    'wood = { species = "balsa", cut = "flat", made_at = 8, driest = 6, dampest = 12 } }': (
        'back, boards, wood, species: "balsa" is not a species whose movement is known here'
    ),
}


@pytest.mark.parametrize("back", FAULTS)
def test_what_cannot_be_made_is_a_fault_with_its_cure(back: str) -> None:
    assert FAULTS[back] in " ".join(told(back))


def told(back: str) -> list[str]:
    """What reading and laying out find."""
    job, faults = read(HEAD.format(back=back, width=800, height=1200))
    if faults:
        return [str(fault) for fault in faults]
    with pytest.raises(StorystickError) as caught:
        lay_out_cabinet(job.cabinets[0], job.figures)
    return [str(caught.value)]


def test_boards_with_less_gap_than_they_swell_are_warned_of() -> None:
    wood = 'wood = { species = "oak, red", cut = "flat", made_at = 8, driest = 6, dampest = 12 }'
    layout = laid(f'stock = "pine", laid_on = true, boards = {{ width = 150, gap = 1, {wood} }}')
    assert [warning for warning in layout.warnings if "the boards of the back swell by" in warning]
    assert not laid('stock = "pine", laid_on = true, boards = { width = 150, gap = 1 }').warnings
