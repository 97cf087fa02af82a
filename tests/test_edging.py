"""Edging by part and edge: boards with their strips against plain geometry, the list's sums, and what takes none."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations
from typing import Final

import pytest
from bodies import Box, block
from hypothesis import given
from hypothesis import strategies as st
from jobs import read, read_well

from storystick.cutting.parts import cutting_list
from storystick.cutting.totals import edging_lengths
from storystick.errors import StorystickError
from storystick.job.edgings import BoardEdge
from storystick.laying_out import lay_out
from storystick.layout.cabinets.build import lay_out_cabinet
from storystick.layout.cabinets.edging import Strip, strips_of
from storystick.layout.cabinets.pieces import CabinetLayout, Piece, Role
from storystick.lengths import Figures, Units
from storystick.sheets.pages.edging_words import tell_edging

HEAD: Final = """
title = "Edged"
units = "mm"
stock = { ply = 18, front = 20, oak = 4, back = 6, frame = 20 }
joint.housing = { kind = "housing", depth = 5 }
joint.tongue = { kind = "tongue", width = 6, depth = 6 }

[[cabinet]]
name = "Case"
height = 900
width = 800
depth = 400
carcass = "ply"
"""
FIGURES: Final = Figures.usual(Units.MM)
FRONTS: Final = 'fronts = { kind = "overlay", outside = 2, reveal = 3, stock = "front", front = "door" }\n'
FRAME: Final = 'frame = { stock = "frame", stile = 40, top = 40, bottom = 40 }\n'
SHELVES: Final = "adjustable = { shelves = 2, first = 96, front = 37, back = 60 }"
ADJUSTABLE: Final = f'openings = [{{ opening = "equal", {SHELVES} }}]'


def laid_out(text: str) -> CabinetLayout:
    job = read_well(HEAD + text)
    return lay_out_cabinet(job.cabinets[0], job.figures)


def faults_of(text: str) -> list[str]:
    """Of reading a job, or of laying it out where it reads well."""
    job, faults = read(text)
    if faults:
        return faults
    with pytest.raises(StorystickError) as caught:
        lay_out(job)
    return [str(fault) for fault in caught.value.faults]


def strip_box(strip: Strip) -> Box:
    return Box(*((found.start, found.end) for found in (strip.x, strip.y, strip.z)))


def volume(box: Box) -> Fraction:
    x, y, z = (high - low for low, high in box)
    return x * y * z


def around(boxes: list[Box]) -> Box:
    return Box(*((min(low for low, _ in ways), max(high for _, high in ways)) for ways in zip(*boxes, strict=True)))


def _lists(ends: tuple[str, str]) -> st.SearchStrategy[str]:
    named = st.lists(st.sampled_from(["front", "back", *ends]), min_size=1, max_size=4, unique=True).map(str)
    return st.sampled_from(["'all'", "'none'"]) | named


@st.composite
def edged_cabinets(draw: st.DrawFn) -> CabinetLayout:
    """Without a back, so that edges behind are free; joints that lie far enough from the ends for their edging."""
    over = draw(st.booleans())
    overhang = draw(st.integers(6, 30))
    top = f'top = {{ place = "over", overhang = {overhang} }}' if over else ""
    inside = draw(st.sampled_from(["'all'", "'none'", "['front']"]))
    # Side and top of a case whose top lies over are edged alike in front and behind, since one stands under the other.
    sides = draw(st.sampled_from(["'all'", "['front', 'back']", "['front']"]))
    upper = "'all'" if over else draw(st.sampled_from(["'all'", "'none'", "['front']"]))
    edging = f"edging = {{ thickness = {draw(st.integers(1, 5))}, sides = {sides}, top = {upper}, bottom = {inside}, "
    edging += f"shelves = {inside}, dividers = {inside} }}"
    joint = draw(st.sampled_from(["", 'joint = "tongue"']))
    column = "[[cabinet.column]]\nopenings = ['equal', 'equal']\n"
    return laid_out("\n".join([top, joint, edging, column * draw(st.integers(1, 3))]))


@given(edged_cabinets())
def test_board_and_edging_are_whole_and_nothing_takes_the_room_of_another(layout: CabinetLayout) -> None:
    bodies: list[tuple[Piece, Box]] = []
    for piece in layout.pieces:
        own = [block(piece), *map(strip_box, strips_of(piece))]
        assert volume(around(own)) == sum(map(volume, own)), f"{piece.name} with its edging is no plain board"
        bodies += [(piece, box) for box in own]
    for (one, first), (other, second) in combinations(bodies, 2):
        assert first.common(second) is None, f"{one.name} and {other.name}"


@given(edged_cabinets())
def test_overall_sizes_hold_the_edging(layout: CabinetLayout) -> None:
    cabinet, top = layout.cabinet, layout.of(Role.TOP)[0]
    for piece in layout.pieces:
        x, y, z = around([block(piece), *map(strip_box, strips_of(piece))])
        over = cabinet.top.overhang.left if piece is top else Fraction(0)
        assert -over <= x[0]
        assert x[1] <= cabinet.width + over
        assert y[0] >= -over
        assert y[1] <= cabinet.depth + over
        assert z[0] >= 0
        assert z[1] <= cabinet.height
    for side in layout.sides:
        _, y, _ = around([block(side), *map(strip_box, strips_of(side))])
        assert y == (0, cabinet.depth)


@given(edged_cabinets())
def test_the_list_counts_every_strip_that_there_is(layout: CabinetLayout) -> None:
    strips = [strip for piece in layout.pieces for strip in strips_of(piece)]
    # A strip is as long as the longest way of its body, which is as thick as the edging and as wide as the stock.
    found = sum(max(high - low for low, high in strip_box(strip)) for strip in strips)
    told = edging_lengths(cutting_list([layout], FIGURES))
    assert sum(edge.length for edge in told) == found


def test_a_part_without_edging_is_flush_with_the_boards_of_those_with_it() -> None:
    layout = laid_out('joint = "housing"\nedging = { thickness = 4, shelves = "none" }\nopenings = ["equal", "equal"]')
    (shelf,) = layout.of(Role.SHELF)
    assert (shelf.y.start, shelf.edged) == (4, ())
    assert layout.sides[0].y.start == 4
    back = laid_out(
        'edging = { thickness = 4, shelves = "none" }\nshelves = { setback = 30 }\nopenings = ["equal", 300]'
    )
    assert back.of(Role.SHELF)[0].y.start == 30, "told from the finished front"


def test_stock_says_how_thick_and_what_it_is() -> None:
    layout = laid_out('edging = { stock = "oak" }')
    # Two sides, and a top and a bottom of 800 - 36 between them.
    assert edging_lengths(cutting_list([layout], FIGURES)) == ((4, 2 * 900 + 2 * 764, "oak"),)
    assert laid_out('edging = { stock = "oak", thickness = 3 }').sides[0].y.start == 3


def test_adjustable_shelves_behind_a_frame_and_fronts_take_it() -> None:
    """The shelf begins behind the frame of 20 with its edging of 2: 400 - 20 - 2 = 378 less 2 of play."""
    layout = laid_out(f'{FRAME}edging = {{ thickness = 2, shelves = ["front", "left", "right"] }}\n{ADJUSTABLE}')
    assert all(not piece.edged for piece in layout.pieces)
    shelf = next(part for part in cutting_list([layout], FIGURES) if part.role == "adjustable shelf")
    assert (shelf.width, shelf.length) == (376, 764 - 2 - 2 * 2)
    assert shelf.notes[0] == "front, left and right edges take edging 2 thick, not in the sizes: 762 by 378 with it"
    assert [edge.length for edge in shelf.edges] == [762, 376, 376]


def test_a_drawer_front_lies_and_its_ends_are_left_and_right() -> None:
    """800 - 4 by 900 - 4 when edged; its grain runs across, so left and right go on first."""
    layout = laid_out(FRONTS.replace("door", "drawer") + 'edging = { thickness = 3, fronts = "all" }')
    front = next(part for part in cutting_list([layout], FIGURES) if part.role == "drawer front")
    assert (front.length, front.width) == (796 - 6, 896 - 6)
    assert [edge.length for edge in front.edges] == [796, 796, 890, 890]
    some = laid_out(FRONTS + 'edging = { thickness = 3, fronts = ["left", "right"] }')
    door = next(part for part in cutting_list([some], FIGURES) if part.role == "door")
    assert (door.length, door.width) == (896, 796 - 6)


def test_the_front_rail_of_a_web_frame_is_edged_between_the_sides() -> None:
    layout = laid_out('joint = "housing"\nbetween = "web frame"\nedging = 4\nopenings = ["equal", "equal"]')
    front = next(piece for piece in layout.of(Role.WEB_RAIL) if piece.name.startswith("front"))
    assert front.edged == (BoardEdge.FRONT,)
    assert [strip.length for strip in strips_of(front)] == [764]


def test_the_sheet_says_which_edges() -> None:
    layout = laid_out(
        FRONTS + 'edging = { stock = "oak", top = "none", fronts = "all" }\nopenings = ["equal", "equal"]'
    )
    assert list(tell_edging(layout, FIGURES)) == [
        "Edging 4 thick of oak, within the sizes: on the front edges of the sides, bottom and shelves; on all edges of "
        "the fronts."
    ]


BACK: Final = 'back = { stock = "back", laid_on = true }\n'
FAULTS: Final = {
    FRAME + "edging = { thickness = 2, sides = ['front'] }": (
        'cabinet 1 ("Case"), edging, sides: the front edges of the sides lie behind the face frame; leave it out there.'
    ),
    BACK + "edging = { thickness = 2, shelves = ['back'] }\nopenings = ['equal', 'equal']": (
        'cabinet 1 ("Case"), edging, shelves: the back edges of the shelves lie against the back, or before it; leave '
        "it out there."
    ),
    "edging = { thickness = 2, top = ['front', 'left'] }": (
        'cabinet 1 ("Case"), edging, top: the left edge of it lies against the sides; leave it out there.'
    ),
    "joint = 'housing'\nedging = { thickness = 2, sides = ['top'] }": (
        'cabinet 1 ("Case"), edging: the joint of "top" would lie 2 in the edging at the end of "left side"; leave the '
        "edging out there, let the board overhang, or use a joint that lies farther in."
    ),
    "edging = { thickness = 2, sides = ['left'] }": (
        'cabinet 1 ("Case"), edging, sides: "left" is not a word known here; allowed here: front, back, top, bottom.'
    ),
    "edging = { sides = 'all' }": ('cabinet 1 ("Case"), edging: thickness is missing; add thickness = …, a length.'),
    "edging = { thickness = 2, fronts = 'all' }": (
        'cabinet 1 ("Case"), edging, fronts: fronts are to be edged, but the cabinet has none; leave it out, or add '
        "fronts = { … }."
    ),
    FRAME + "edging = 2": (
        'cabinet 1 ("Case"): edging stands beside frame; give edging only to a cabinet without a frame.'
    ),
    FRONTS + "edging = { thickness = 450, fronts = 'all', sides = 'none', top = 'none', bottom = 'none' }": (
        'cabinet 1 ("Case"), edging: the edging leaves nothing of the door of opening "opening 1"; make it thinner, or '
        "the part larger."
    ),
}


@pytest.mark.parametrize(("text", "fault"), FAULTS.items())
def test_what_cannot_be_edged_is_a_fault(text: str, fault: str) -> None:
    assert fault in [told.removeprefix("job.toml, ") for told in faults_of(HEAD + text)]
