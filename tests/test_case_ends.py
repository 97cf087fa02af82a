"""Stretchers, open ends, overhanging tops and nailers against solid bodies: what stands where, and what is let in."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations
from typing import Final

import pytest
from bodies import Box, block, entry
from hypothesis import given
from hypothesis import strategies as st
from jobs import read_well

from storystick.cutting.parts import check_cutting, cutting_list, drawer_boxes
from storystick.cutting.totals import edging_lengths
from storystick.drawing.cabinet_sheet import CabinetSheet
from storystick.drawing.projection import Scale
from storystick.drawing.shapes import Text
from storystick.errors import Fault, Faults
from storystick.gluing.plan import stages_of
from storystick.job.cases import EndPlace
from storystick.layout.cabinets.build import lay_out_cabinet
from storystick.layout.cabinets.pieces import CASE_ROLES, Axis, CabinetLayout, End, Piece, Role
from storystick.layout.cabinets.working import works_of
from storystick.layout.cabinets.works import CUTS, Surface
from storystick.lengths import Figures, Units
from storystick.sheets.pages.cabinets import construction_words
from storystick.squaring.rectangles import case_rectangles

HEAD: Final = """
title = "Ends"
units = "mm"
stock = { ply = 18, back = 6, frame = 20, rail = 19, solid = 22 }
joint.tongue = { kind = "tongue", width = 6, depth = 6, bottom_gap = 1 }
joint.housing = { kind = "housing", depth = 5 }
joint.butt = { kind = "butt" }
"""
BACKS: Final = (
    "",
    'back = { stock = "back", rabbet_width = 12, rabbet_depth = 9 }',
    'back = { stock = "back", groove_depth = 6, groove_inset = 12 }',
    'back = { stock = "back", groove_depth = 6, groove_inset = 30 }',
    'back = { stock = "back", laid_on = true }',
)
FRAMES: Final = ("", "edging = 5", 'frame = { stock = "frame", stile = 45, top = 40, bottom = 45, joint = "tongue" }')
NAILERS: Final = (
    "",
    'nailers = { stock = "rail", width = 80, at = ["top", "bottom"] }',
    'nailers = { stock = "rail", width = 60, joint = "tongue" }',
)


def laid_out(text: str) -> CabinetLayout:
    job = read_well(HEAD + '[[cabinet]]\nname = "Case"\ncarcass = "ply"\n' + text)
    return lay_out_cabinet(job.cabinets[0], job.figures)


@st.composite
def ended(draw: st.DrawFn) -> CabinetLayout:
    """A case that ends in every way, with every back, with a frame or not, and with nailers."""

    columns = draw(st.integers(1, 3))

    def end(places: tuple[str, ...]) -> str:
        place = draw(st.sampled_from(places))
        front, left, back = (draw(_overhangs) for _ in range(3))
        more = {
            "stretchers": f', width = {draw(st.integers(60, 110))}, turned = "{draw(_turned)}"',
            "over": f", overhang = {{ front = {front}, left = {left}, back = {back} }}",
        }.get(place, "")
        # A divider has no room behind a flat front stretcher where the back one stands on edge.
        more = more.replace('"back"', '"both"') if columns > 1 else more
        return f'{{ place = "{place}", joint = "{draw(_joints)}"{more} }}'

    top, bottom = end(("between", "over", "stretchers", "none")), end(("between", "stretchers", "none"))
    # Behind a stretcher on edge a divider is not as high as a nailer over a flat one.
    nailers = NAILERS[:1] if columns > 1 and '"front"' in top + bottom else NAILERS
    # Something has to stand between the sides.
    top = top.replace('"none", joint', '"between", joint') if '"none", joint' in bottom else top
    lines = [
        f"height = {draw(st.integers(600, 1200))}\nwidth = {draw(st.integers(500, 1200))}",
        f'depth = {draw(st.integers(300, 600))}\njoint = "{draw(_joints)}"',
        f"top = {top}",
        f"bottom = {bottom}",
        *(draw(st.sampled_from(each)) for each in (BACKS, FRAMES, nailers)),
        f"column = [{', '.join(['{}'] * columns)}]",
    ]
    return laid_out("\n".join(lines))


_joints: Final = st.sampled_from(["tongue", "housing", "butt"])
_turned: Final = st.sampled_from(["none", "front", "back", "both"])
_overhangs: Final = st.sampled_from([0, 20])


@given(ended())
def test_no_two_parts_of_the_case_stand_in_one_place_and_none_stands_out(layout: CabinetLayout) -> None:
    """But for what an overhang reaches beyond the overall sizes."""
    cabinet = layout.cabinet
    for one, other in combinations([*layout.of(*CASE_ROLES), *layout.of(Role.STILE, Role.RAIL, Role.MID_STILE)], 2):
        assert block(one).common(block(other)) is None, (one.name, other.name)
    over = cabinet.top.overhang
    room = Box(
        (-over.left, cabinet.width + over.right),
        (-over.front, cabinet.depth + over.back),
        (Fraction(0), cabinet.height),
    )
    for piece in layout.pieces:
        assert block(piece).common(room) == block(piece), piece.name
        if piece.role is not Role.TOP:
            assert block(piece).x[0] >= 0, piece.name
            assert block(piece).x[1] <= cabinet.width, piece.name


@given(ended())
def test_what_stands_on_edge_is_let_into_what_it_ends_on_where_its_tongue_is(layout: CabinetLayout) -> None:
    for piece in (each for each in layout.of(*CASE_ROLES) if each.on_edge):
        for ending, high in ((piece.low, False), (piece.high, True)):
            assert ending.on
            works = [work for work in works_of(layout, ending.on) if work.other is piece]
            (work,) = (each for each in works if each.on is (Surface.LOW if high else Surface.HIGH))
            assert piece.along(Axis.X).end == ending.on.x.start if high else piece.x.start == ending.on.x.end
            front = ending.on.y.start - ending.on.front_tongue
            y, z = block(piece).y, block(piece).z
            wanted = _thick(piece, ending.joint)
            assert (work.across.start + front, work.across.end + front) == (wanted or y)
            start = ending.on.low_end
            assert (work.along.start + start, work.along.end + start) == z
            assert (work.kind in CUTS) is bool(entry(ending.joint))
            assert piece.length >= piece.x.size


def _thick(piece: Piece, joint: object) -> tuple[Fraction, Fraction] | None:
    """Of its thickness the middle 6 mm of a tongue; all of it else."""
    low, high = block(piece).y
    if getattr(joint, "name", "") != "tongue":
        return None
    middle = (low + high) / 2
    return middle - 3, middle + 3


@given(ended())
def test_openings_reach_to_what_closes_the_case_or_to_its_end(layout: CabinetLayout) -> None:
    """In front: behind a stretcher on edge there may be more."""
    rule, top = layout.cabinet.top, max(bay.z.end for bay in layout.bays)
    height = layout.cabinet.height
    takes = {
        EndPlace.BETWEEN: Fraction(18),
        EndPlace.OVER: Fraction(18),
        EndPlace.STRETCHERS: rule.width if rule.turned.front else Fraction(18),
        EndPlace.NONE: Fraction(0),
    }[rule.place]
    assert top == height - takes
    assert len(layout.at_end(End.TOP)) == {EndPlace.STRETCHERS: 2, EndPlace.NONE: 0}.get(rule.place, 1)
    for side in layout.sides:
        assert side.z.end == (height - 18 if rule.place is EndPlace.OVER else height)


@given(ended())
def test_the_back_goes_up_to_the_end_where_no_board_closes_the_case(layout: CabinetLayout) -> None:
    for back in layout.of(Role.BACK):
        if not layout.cabinet.top.is_board:
            assert back.z.end == layout.cabinet.height
        for piece in layout.of(Role.STRETCHER, Role.NAILER):
            assert block(piece).common(block(back)) is None


@given(ended())
def test_every_stretcher_and_nailer_is_glued_once_to_all_that_it_ends_on(layout: CabinetLayout) -> None:
    glued = [(joint.piece.name, joint.on.name) for stage in stages_of(layout) for joint in stage.joints]
    for piece in layout.of(Role.STRETCHER, Role.NAILER):
        ons = [on.name for ending in (piece.low, piece.high) for on in ending.ons]
        assert sorted(on for name, on in glued if name == piece.name) == sorted(ons)
    assert all(rectangle.width > 0 and rectangle.height > 0 for rectangle in case_rectangles(layout))


SIZES: Final = "height = 700\nwidth = 900\ndepth = 400\njoint = 'tongue'\n"


def test_a_nailer_goes_behind_a_back_with_room_where_dividers_stand_and_else_between_them() -> None:
    deep = laid_out(f"{SIZES}{BACKS[3]}\n{NAILERS[2]}\ncolumn = [{{}}, {{}}]")
    (nailer,) = deep.of(Role.NAILER)
    # The back lies from 400 - 30 - 6 = 364 to 370, and the nailer on it.
    assert (nailer.y.start, nailer.y.end, nailer.x.size) == (370, 389, 864)
    shallow = laid_out(f"{SIZES}{BACKS[2]}\n{NAILERS[2]}\ncolumn = [{{}}, {{}}]")
    assert [(each.name, each.x.size) for each in shallow.of(Role.NAILER)] == [
        ("upper nailer 1", 423),
        ("upper nailer 2", 423),
    ]
    alone = laid_out(f"{SIZES}{BACKS[3]}\n{NAILERS[2]}")
    # Before the back, where no divider stands: 364 - 19.
    assert [each.y.start for each in alone.of(Role.NAILER)] == [345]


def test_what_holds_nothing_together_is_told() -> None:
    told = "nothing holds the sides together at the top: give it stretchers or a nailer there, or a face frame"
    open_top = f'{SIZES}top = {{ place = "none" }}\n'
    assert told in laid_out(open_top).warnings
    assert told not in laid_out(open_top + NAILERS[1]).warnings
    assert told not in laid_out(open_top + FRAMES[2]).warnings


def test_a_shelf_where_the_nailer_is_and_stretchers_that_meet_are_faults() -> None:
    with pytest.raises(Fault, match='the upper nailer is 80 wide and runs into "shelf 1" by 18'):
        laid_out(f'{SIZES}{NAILERS[1]}\nopenings = ["equal", 20]')
    with pytest.raises(Faults, match="nothing stands between the sides, so there is no case"):
        laid_out(f'{SIZES}top = {{ place = "none" }}\nbottom = {{ place = "none" }}')
    with pytest.raises(Fault, match='"divider 1" runs into the back stretcher, which stands on edge'):
        laid_out(f'{SIZES}top = {{ place = "stretchers", turned = "back" }}\ncolumn = [{{}}, {{}}]')
    with pytest.raises(Fault, match="the stretchers at the top take 440 of the depth, of which 400 can be had"):
        laid_out(f'{SIZES}top = {{ place = "stretchers", width = 220 }}')


def test_edging_is_as_long_as_the_front_edges_that_get_it() -> None:
    """Two sides of 700, less a toe space of 100; a bottom and a top of 864 between them; none where a nosing stands."""
    plain = laid_out(f"{SIZES}edging = 4\ntoe = {{ height = 100, recess = 50 }}\nopenings = ['equal', 'equal']")
    nosed = laid_out(f"{SIZES}edging = 4\nshelves = {{ nosing = {{ stock = 'rail' }} }}\nopenings = ['equal', 'equal']")
    figures = Figures.usual(Units.MM)
    assert edging_lengths(cutting_list([plain], figures)) == ((4, 2 * 600 + 3 * 864, ""),)
    assert edging_lengths(cutting_list([nosed], figures)) == ((4, 2 * 700 + 2 * 864, ""),)


def test_a_drawer_box_does_not_reach_into_a_nailer() -> None:
    drawers = 'fronts = { kind = "inset", stock = "ply", reveal = 2 }\ndrawers = { stock = "ply", side = 13, top = 10, '
    layout = laid_out(f"{SIZES}{NAILERS[1]}\n{drawers}back = 10 }}")
    with pytest.raises(Faults, match="reaches 9 into the upper nailer"):
        check_cutting(layout, Figures.usual(Units.MM))
    (box,) = drawer_boxes(laid_out(f"{SIZES}{NAILERS[1]}\n{drawers}back = 19 }}"), Figures.usual(Units.MM))
    # Inside 400, less a front of 18 and 19 for the nailer.
    assert box.depth == 363


@pytest.mark.parametrize(("first", "is_met"), [(96, False), (71, False), (64, True), (40, True)])
def test_shelves_are_told_of_a_nailer_only_where_one_on_its_pins_would_meet_it(first: int, is_met: bool) -> None:
    """The nailer stands from 622 to 702: of holes 32 apart the highest are at 594, 601, 626 and 634, shelves 18 thick.

    From 64 the highest is at 82 + 17 × 32 = 626, not above 702 − 64 = 638; from 71 at 89 + 16 × 32 = 601.
    """
    holes = f"{{ shelves = 2, first = {first}, front = 37, back = 60 }}"
    text = f'height = 720\nwidth = 600\ndepth = 320\n{NAILERS[1]}\n{BACKS[2]}\nopenings = [{{ opening = "equal", '
    found = laid_out(f"{text}adjustable = {holes} }}]").warnings
    assert any("where the upper nailer is, 622 to 702 above its foot" in warning for warning in found) is is_met


def test_a_drawing_says_how_wide_stretchers_and_nailers_are_and_keeps_its_words_off_a_countertop() -> None:
    """At 1 : 10 a top of 22 reaches 2.2 mm over the case, and the word FRONT stands over that."""
    cabinet, figures = (
        laid_out(
            'height = 720\nwidth = 600\ndepth = 500\ncountertop = { stock = "solid" }\n'
            'top = { place = "stretchers", turned = "front" }\n'
            'nailers = { stock = "rail", width = 80, at = "bottom" }\n'
        ),
        Figures.usual(Units.MM),
    )
    words = list(construction_words(cabinet, figures))
    assert "Stretchers 18 thick and 100 wide." in words
    assert "Nailers 19 thick and 80 wide." in words
    drawing = CabinetSheet(cabinet, figures).draw(Scale("1 : 10", Fraction(1, 10)))
    places = [shape.y for shape in drawing.shapes if isinstance(shape, Text) and shape.text == "FRONT"]
    assert drawing.section[1] + 2.2 < min(y for y in places if y > drawing.section[1])
