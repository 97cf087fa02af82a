"""Corner blocks and cleats: what they lie against, what is in their way, and when they are glued."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

import pytest
from bodies import block
from built_cabinets import built_cabinets
from hypothesis import given
from jobs import read_well

from storystick.cutting.parts import cutting_list, drawer_boxes
from storystick.errors import Fault, Faults
from storystick.gluing.joints import Held
from storystick.gluing.plan import stages_of
from storystick.layout.cabinets.build import lay_out_cabinet
from storystick.layout.cabinets.corner_blocks import triangle_of
from storystick.layout.cabinets.pieces import UPRIGHT_ROLES, CabinetLayout, Piece, Role
from storystick.lengths import Figures, Units

HEAD: Final = """
title = "Case"
units = "mm"
stock = { ply = 18, back = 6, strip = 20 }
[joint.housing]
kind = "housing"
depth = 6
[[cabinet]]
name = "Case"
height = 800
width = 600
depth = 400
carcass = "ply"
"""
GROOVED: Final = 'back = { stock = "back", groove_depth = 6, groove_inset = 30 }'
DRAWER: Final = 'openings = [{ opening = "equal", front = "drawer" }]\ndrawers = { stock = "ply", side = 10, '


def laid_out(text: str) -> CabinetLayout:
    job = read_well(HEAD + text)
    return lay_out_cabinet(job.cabinets[0], job.figures)


def fault_of(text: str) -> str:
    with pytest.raises((Fault, Faults)) as found:
        laid_out(text)
    return str(found.value)


def faces_met(one: Piece, other: Piece) -> bool:
    """Whether two blocks lie against each other with some of a face."""
    reaches = list(zip(block(one), block(other), strict=True))
    laps = [min(a[1], b[1]) - max(a[0], b[0]) for a, b in reaches]
    return sorted(laps)[0] == 0 and sorted(laps)[1] > 0


@given(built_cabinets(added=True))
def test_a_cleat_is_along_an_upright_and_what_it_carries_lies_on_its_upper_edge(layout: CabinetLayout) -> None:
    for cleat in layout.of(Role.CLEAT):
        met = [piece for piece in layout.pieces if faces_met(cleat, piece)]
        assert any(piece.role in UPRIGHT_ROLES for piece in met), cleat.name
        lying = [piece for piece in met if piece.z.start == cleat.z.end]
        assert [piece.role in (Role.SHELF, Role.TOP) for piece in lying] == [True], cleat.name
        # It stays within what it carries, so that nothing of it is seen from above.
        assert lying[0].y.start + 10 <= cleat.y.start
        assert cleat.y.end <= lying[0].y.end
    for shelf in layout.of(Role.SHELF) if any("shelf" in each.name for each in layout.of(Role.CLEAT)) else ():
        assert len([each for each in layout.of(Role.CLEAT) if each.name.endswith(f" of {shelf.name}")]) == 2


@given(built_cabinets(added=True))
def test_four_corner_blocks_lie_in_each_four_corners(layout: CabinetLayout) -> None:
    blocks = layout.of(Role.CORNER_BLOCK)
    assert len(blocks) % 4 == 0
    for each in blocks:
        met = [piece for piece in layout.pieces if faces_met(each, piece)]
        if "plinth" in each.name:
            # On its two legs, one of them at an end.
            assert len([piece for piece in met if piece.role is Role.PLINTH]) == 2, each.name
        else:
            assert {Role.SIDE, Role.TOP} <= {piece.role for piece in met}, each.name
        corner, across, deep = triangle_of(layout, each)
        area = abs((across[0] - corner[0]) * (deep[1] - corner[1])) / 2
        assert area == each.x.size * each.y.size / 2 == Fraction(50 * 50, 2)
        # Its right angle is nearer to the nearest side than its long edge.
        middle = layout.case.x.start + layout.case.x.size / 2
        assert abs(corner[0] - middle) > abs(across[0] - middle)


@given(built_cabinets(added=True))
def test_each_is_glued_once_in_a_stage_of_its_own_without_clamps(layout: CabinetLayout) -> None:
    stages = stages_of(layout)
    for piece in layout.of(Role.CLEAT, Role.CORNER_BLOCK):
        (stage,) = [stage for stage in stages if any(joint.piece is piece for joint in stage.joints)]
        assert (stage.clamps, stage.rectangles) == (0, ())
        at = stages.index(stage)
        closed = [n for n, each in enumerate(stages) if each.name.startswith("case") and "plinth" not in each.name]
        if piece.role is Role.CLEAT:
            assert at < closed[0]
            assert stage.pins
            assert len([joint for joint in stage.joints if joint.piece is piece]) == 1
        elif "plinth" not in piece.name:
            assert at > closed[-1]
            assert {joint.held for joint in stage.joints} == {Held.RUBBED}


def test_beside_stretchers_they_are_flush_with_the_upper_edge_and_behind_an_inset_front_under_a_top() -> None:
    open_case = laid_out(f'{GROOVED}\ntop = {{ place = "stretchers" }}\ncorner_blocks = {{ size = 60 }}')
    first, _, third, _ = open_case.of(Role.CORNER_BLOCK)
    # Stretchers are 100 wide; the back's inner face is at 400 - 30 - 6 = 364.
    assert (first.z.start, first.z.end, first.y.start) == (782, 800, 100)
    assert (third.y.start, third.y.end) == (204, 264)
    fronts = 'fronts = { kind = "inset", stock = "ply", reveal = 2, front = "door" }'
    inset = laid_out(f"{fronts}\ncorner_blocks = {{ size = 60 }}")
    assert [each.y.start for each in inset.of(Role.CORNER_BLOCK)] == [18, 18, 340, 340]
    cleats = laid_out(f'{fronts}\nopenings = ["equal", "equal"]\ncleats = {{ at = "shelves" }}')
    assert [each.y.start for each in cleats.of(Role.CLEAT)] == [18, 18]


def test_in_an_open_case_they_are_glued_to_the_frame_in_front_and_to_the_back() -> None:
    frame = 'frame = { stock = "ply", stile = 40, top = 50, bottom = 40 }'
    layout = laid_out(f'{GROOVED}\ntop = {{ place = "none" }}\n{frame}\ncorner_blocks = {{}}')
    (stage,) = [stage for stage in stages_of(layout) if stage.name == "corner blocks into the case"]
    assert [joint.words for joint in stage.joints if "block 1" in joint.words or "block 4" in joint.words] == [
        "corner block 1 to left side",
        "corner block 1 to left stile",
        "corner block 1 to top rail",
        "corner block 4 to right side",
        "corner block 4 to back",
    ]


def test_a_cleat_on_the_wall_is_between_the_sides_behind_the_back_and_not_glued() -> None:
    layout = laid_out(f'{GROOVED}\ncleats = {{ stock = "strip", width = 50, at = "wall" }}')
    (cleat,) = layout.of(Role.WALL_CLEAT)
    assert block(cleat) == ((18, 582), (380, 400), (732, 782))
    assert all(joint.piece is not cleat for stage in stages_of(layout) for joint in stage.joints)


def test_two_triangles_come_from_a_square_and_rows_alike_are_one() -> None:
    layout = laid_out('plinth = { height = 80, recess = 30 }\ncorner_blocks = { at = ["top", "plinth"] }')
    rows = [part for part in cutting_list([layout], Figures.usual(Units.MM)) if part.role == "corner block"]
    (row,) = rows
    assert (row.count, row.length, row.width, row.thickness) == (8, 75, 75, 18)
    assert row.notes[0].startswith("a triangle: two from each such square")


BAD: Final = {
    'top = { place = "none" }\ncorner_blocks = {}': "nothing stands before the corner block 1 that it could be glued",
    "corner_blocks = { size = 201 }": "corner blocks with legs of 201 meet each other: 400 lies between",
    'corner_blocks = { at = "plinth" }': "the cabinet has no plinth",
    'plinth = { height = 15, recess = 30 }\ncorner_blocks = { at = "plinth" }': "18 thick are thicker than the plinth",
    'top = { place = "none" }\ncleats = { at = "wall" }': "no top reaches to the wall",
    "corner_blocks = {}\ncolumn = [{ width = 40 }, {}]": 'the corner block 1 runs into "divider 1" by',
    'cleats = { at = "shelves" }': "no fixed shelf stands in the case",
    'joint = "housing"\ncleats = { at = "shelves" }\nopenings = ["equal", "equal"]': '"shelf 1" is let in',
    'top = { joint = "housing" }\ncleats = { at = "top" }': '"top" is let in, so that it needs no cleats',
    'cleats = { at = "shelves" }\nopenings = [30, "equal"]': 'the left cleat of shelf 1 runs into "bottom" by 10',
    'cleats = { at = "top", setback = 400 }': "the left cleat of the top has no length: 400 can be had",
    'cleats = { at = "top" }\nnailers = {}\ncorner_blocks = {}': 'the corner block 1 runs into "left cleat of the top"',
    'cleats = { at = "wall" }\nback = { stock = "back", laid_on = true }': "behind the back there is 0, and the cleat",
    'cleats = { at = "wall" }\nback = { stock = "back", groove_depth = 6, groove_inset = 12 }': (
        "behind the back there is 12, and the cleat on the wall is 18 thick; hold the back in grooves, with "
        "groove_inset 18 or more"
    ),
    f'cleats = {{ at = "wall" }}\n{GROOVED}\nnailers = {{}}\ncolumn = [{{}}, {{}}]': 'runs into "upper nailer"',
}


@pytest.mark.parametrize("text", BAD)
def test_what_cannot_be_is_told(text: str) -> None:
    assert BAD[text] in fault_of(text)


def test_a_drawer_box_meets_no_cleat_and_a_block_only_before_its_long_edge() -> None:
    def box(more: str, clear: str) -> None:
        drawer_boxes(laid_out(f"{DRAWER}bottom = 5, {clear} }}\n{more}"), Figures.usual(Units.MM))

    cleats = 'cleats = { at = "top" }'
    with pytest.raises(Faults, match="runs into the left cleat of the top; make the top clearance 40 or more"):
        box(cleats, "top = 39, back = 5")
    box(cleats, "top = 40, back = 5")
    # In front the box begins at the front edge, 10 beside the side: within legs of 60.
    blocks = "corner_blocks = { size = 60 }"
    with pytest.raises(Faults, match="runs into the corner block 1; make the top clearance 18 or more"):
        box(blocks, "top = 5, back = 100")
    box(blocks, "top = 18, back = 5")


def test_adjustable_shelves_that_would_run_into_a_cleat_are_told() -> None:
    opening = '{ opening = "equal", adjustable = { shelves = 1, first = 22, pitch = 32, front = 40, back = 60 } }'
    layout = laid_out(f'cleats = {{ at = "top" }}\nopenings = [{opening}]')
    # From 18 up: 40, 72, … 744 is the last with 22 over it or more; 744 + 18 > 742, where the cleats begin.
    (told,) = [words for words in layout.warnings if "adjustable" in words]
    assert "cannot stand over 742 from the floor" in told
    assert told.endswith("leave out the holes at 744")
    fewer = laid_out(f'cleats = {{ at = "top" }}\nopenings = [{opening.replace("first = 22", "first = 50")}]')
    assert not [words for words in fewer.warnings if "adjustable" in words]
