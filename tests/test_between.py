"""What stands between two openings, parts that are set back, and dividers that stop: against solid bodies."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations, pairwise, product
from typing import Final

import pytest
from bodies import Box, block, cuts_in, end_tongues
from hypothesis import given
from hypothesis import strategies as st
from jobs import read_well

from storystick.errors import StorystickError
from storystick.gluing.clamps import clamp_lines
from storystick.gluing.joints import Held, case_joints
from storystick.gluing.order import closings_of
from storystick.gluing.plan import stages_of
from storystick.job.shop import GlueUp, Shop
from storystick.layout.cabinets.build import lay_out_cabinet
from storystick.layout.cabinets.holes import case_holes, frame_holes
from storystick.layout.cabinets.pieces import (
    CASE_ROLES,
    FRAME_ROLES,
    UPRIGHT_ROLES,
    WEB_ROLES,
    Axis,
    Bay,
    CabinetLayout,
    Piece,
    Role,
)
from storystick.layout.cabinets.sticks import cabinet_sticks
from storystick.layout.cabinets.working import works_of
from storystick.layout.cabinets.works import CUTS, Surface, WorkKind
from storystick.squaring.rectangles import case_rectangles, frame_rectangles
from storystick.tooling.grooves import groove_setups

HEAD: Final = """
units = "mm"
stock = { ply = 18, thin = 12, back = 6 }
[joint.shelf]
kind = "tongue"
width = 6
depth = 6
bottom_gap = 1
[[cabinet]]
name = "Case"
height = 1000
width = 1200
depth = 500
carcass = "ply"
joint = "shelf"
"""
FRAME: Final = 'frame = { stock = "ply", stile = 40, top = 40, bottom = 40, rail = 30, joint = "shelf" }\n'
KINDS: Final = ("shelf", "rail", "frame rail", "nothing")


def laid_out(more: str) -> CabinetLayout:
    job = read_well(HEAD + more)
    return lay_out_cabinet(job.cabinets[0], job.figures)


@st.composite
def standing(draw: st.DrawFn) -> CabinetLayout:
    """Openings with anything between them, between bands that may have dividers at one place."""
    framed = draw(st.booleans())
    kinds = [kind for kind in KINDS if framed or kind != "frame rail"]
    rows = draw(st.integers(1, 3))
    bands = [draw(_band(kinds, number < rows - 1)) for number in range(rows)]
    return laid_out((FRAME if framed else "") + "".join(bands))


@st.composite
def _band(draw: st.DrawFn, kinds: list[str], below_another: bool) -> str:
    """A band of two columns, its divider 400 from the left: it stands in line with those of the other bands."""
    above = f'above = "{draw(st.sampled_from(kinds))}"\n' if below_another else ""
    text = f'[[cabinet.row]]\nheight = "equal"\nbetween = "{draw(st.sampled_from(kinds))}"\n{above}'
    for width in ("400", "'equal'"):
        count = draw(st.integers(1, 3))
        own = draw(st.sampled_from(kinds))
        first = f'{{ opening = "equal", above = "{own}" }}' if count > 1 else '"equal"'
        openings = ", ".join([first, *["'equal'"] * (count - 1)])
        text += f"[[cabinet.row.column]]\nwidth = {width}\nopenings = [{openings}]\n"
    return text


def bodies_of(piece: Piece) -> list[Box]:
    return [block(piece), *(tongue for tongue, _ in end_tongues(piece))]


@given(standing())
def test_solid_bodies_share_nothing_but_what_is_cut_for_it(layout: CabinetLayout) -> None:
    case = layout.of(*CASE_ROLES)
    for one, other in combinations(case, 2):
        assert block(one).common(block(other)) is None
    for board in case:
        wanted = {(cut.name, cut.along, cut.high, cut.back, cut.depth) for cut in cuts_in(board, layout)}
        worked = {
            (work.other.name, (work.along.start, work.along.end), work.on is Surface.HIGH, work.across.end, work.depth)
            for work in works_of(layout, board)
            if work.kind in CUTS and not work.along_board
        }
        assert worked == wanted


@given(standing())
def test_an_opening_is_bounded_by_what_touches_it_and_is_clear_inside(layout: CabinetLayout) -> None:
    for bay in layout.bays:
        room = Box((bay.x.start, bay.x.end), (layout.case.y.start, layout.inner_back), (bay.z.start, bay.z.end))
        assert all(block(piece).common(room) is None for piece in layout.of(*CASE_ROLES))
        assert [piece for piece in layout.of(*CASE_ROLES) if _is_under(piece, bay)] == [
            piece for piece in (bay.around.below,) if piece
        ]
        before = Box(
            (bay.frame_x.start, bay.frame_x.end), (Fraction(0), Fraction(18)), (bay.frame_z.start, bay.frame_z.end)
        )
        assert all(block(piece).common(before) is None for piece in layout.of(*FRAME_ROLES))


def _is_under(piece: Piece, bay: Bay) -> bool:
    return piece.role not in UPRIGHT_ROLES and piece.z.end == bay.z.start and piece.x.overlaps(bay.x)


@given(standing())
def test_openings_with_nothing_between_are_measured_as_one_hole(layout: CabinetLayout) -> None:
    for holes, rectangles in (
        (case_holes(layout.bays), tuple(case_rectangles(layout))[2:]),
        (frame_holes(layout.bays), tuple(frame_rectangles(layout))[1:]),
    ):
        assert sum(len(hole.bays) for hole in holes) == len(layout.bays)
        for hole in holes:
            for low, high in pairwise(hole.bays):
                assert (low.z.end, low.x) == (high.z.start, high.x)
        if rectangles:
            assert [(hole.x.size, hole.z.size) for hole in holes] == [(each.width, each.height) for each in rectangles]


@given(standing())
def test_strips_call_every_gap_by_its_openings(layout: CabinetLayout) -> None:
    sticks = {stick.name: stick for stick in cabinet_sticks(layout, 1)}
    side = sticks.get("Case side") or sticks["Case left side"]
    named = [span.name for span in side.spans if span.kind.value == "opening"]
    left = [hole for hole in case_holes(layout.bays) if hole.bounds.left is layout.sides[0]]
    assert len(named) == len(left)
    assert all(
        name.startswith(hole.name)
        for name, hole in zip(named, sorted(left, key=lambda hole: hole.z.start), strict=True)
    )


@given(standing())
def test_every_part_is_glued_and_clamps_pass_only_where_edges_are(layout: CabinetLayout) -> None:
    joints = case_joints(layout)
    closings = closings_of(joints)
    assert {piece for closing in closings for piece in closing.pieces} == set(layout.of(*CASE_ROLES))
    for line in clamp_lines(joints, GlueUp()):
        narrow = all(joint.piece.role is Role.CASE_RAIL for joint in line.joints)
        assert (line.held is Held.FRONT) == narrow
        assert line.clamps == (1 if narrow else 2)


def test_a_rail_is_flat_at_the_front_and_its_grooves_stop_behind_it() -> None:
    layout = laid_out(
        'between = "rail"\n'
        'openings = ["equal", { opening = "equal", above = { kind = "rail", width = 60, setback = 20 } }, 200]'
    )
    low, high = layout.of(Role.CASE_RAIL)
    assert (low.name, low.y.start, low.y.end, high.y.start, high.y.end) == ("rail 1", 0, 75, 20, 80)
    left, _ = layout.sides
    runs = [
        (work.across.start, work.across.end, work.stops) for work in works_of(layout, left) if work.other in (low, high)
    ]
    assert runs == [(0, 75, (False, True)), (20, 80, (True, True))]


def test_shelves_and_dividers_are_as_deep_and_as_far_back_as_said() -> None:
    layout = laid_out(
        'shelves = { stock = "thin", setback = 30 }\ndividers = { setback = 30, depth = 400 }\n'
        'between = { kind = "shelf", depth = 400 }\nrow = [{ column = [{}, {}] }, {}]'
    )
    (shelf,), (divider,) = layout.of(Role.SHELF), layout.of(Role.DIVIDER)
    assert (shelf.stock.name, shelf.y.start, shelf.y.end) == ("thin", 30, 430)
    assert (divider.y.start, divider.y.end) == (30, 430)


@st.composite
def crates(draw: st.DrawFn) -> CabinetLayout:
    """Shelves and dividers that run through each other, set back alike or not, with any joint at their ends."""
    rows, columns = draw(st.integers(2, 4)), draw(st.integers(2, 4))
    joint = draw(st.sampled_from(["shelf", "cells"]))
    setback, depth = draw(st.integers(0, 40)), draw(st.integers(300, 450))
    rule = f'{{ stock = "thin", joint = "{joint}", setback = {setback}, depth = {depth} }}'
    text = HEAD.replace("[[cabinet]]", '[joint.cells]\nkind = "housing"\ndepth = 4\n[[cabinet]]')
    job = read_well(text + f"through = 'both'\nrows = {rows}\ncolumns = {columns}\nshelves = {rule}\ndividers = {rule}")
    return lay_out_cabinet(job.cabinets[0], job.figures)


@given(crates())
def test_both_halves_of_a_lap_are_what_shelf_and_divider_share(layout: CabinetLayout) -> None:
    shelves, dividers = layout.of(Role.SHELF), layout.of(Role.DIVIDER)
    assert set(layout.crossings) == set(product(shelves, dividers))
    for shelf, divider in layout.crossings:
        shared = block(shelf).common(block(divider))
        assert shared
        behind, before = (_slot(layout, board, other) for board, other in ((shelf, divider), (divider, shelf)))
        middle = (shared.y[0] + shared.y[1]) / 2
        assert behind == Box(shared.x, (middle, shared.y[1]), shared.z)
        assert before == Box(shared.x, (shared.y[0], middle), shared.z)


def _slot(layout: CabinetLayout, board: Piece, other: Piece) -> Box:
    """What a board loses for another, in the cabinet: right through its thickness."""
    (slot,) = (work for work in works_of(layout, board) if work.kind is WorkKind.SLOT and work.other is other)
    along, deep = ((each.start, each.end) for each in (slot.along, slot.across))
    run = along[0] + board.low_end, along[1] + board.low_end
    assert slot.depth == board.stock.thickness
    depth = deep[0] + board.y.start, deep[1] + board.y.start
    whole = block(board)
    return Box(run, depth, whole.z) if board.role is Role.SHELF else Box(whole.x, depth, run)


@given(crates())
def test_a_crate_is_put_together_from_the_front_before_the_case_closes_round_it(layout: CabinetLayout) -> None:
    crate, *others = closings_of(case_joints(layout))
    assert crate.axis is Axis.Y
    assert crate.pieces == {*layout.of(Role.SHELF), *layout.of(Role.DIVIDER)}
    order = [next(iter(assembly)).role for assembly in crate.assemblies]
    assert order == sorted(order, key=[Role.SHELF, Role.DIVIDER].index)
    assert [closing.axis for closing in others] == [Axis.Z, Axis.X]
    assert clamp_lines(crate.joints, GlueUp()) == ()


def test_slots_of_a_crate_are_struck_once_and_cut_from_one_face() -> None:
    job = read_well(HEAD + 'through = "both"\nrows = 6\ncolumns = 5')
    layout = lay_out_cabinet(job.cabinets[0], job.figures)
    sticks = cabinet_sticks(layout, 1)
    slots = [
        part.groove for stick in sticks for part in stick.parts if part.groove and part.groove.kind.value == "slot"
    ]
    # Both faces of 4 dividers with 5 shelves, and one face of 5 shelves with 4 dividers.
    assert len(slots) == 2 * 4 * 5 + 5 * 4
    setups = groove_setups(sticks, Shop(), job.figures)
    assert sum(setup.depth == 18 for setup in setups) == 4 * 5 + 5 * 4


IMPOSSIBLE: Final = {
    FRAME + 'through = "both"\nrows = 2\ncolumns = 2': "rails and mid stiles would run through each other",
    'between = { kind = "rail", width = 600 }\nopenings = ["equal", "equal"]': "a rail would reach through the back",
    'between = "frame rail"\nopenings = ["equal", "equal"]': "the cabinet has no face frame",
    FRAME.replace("rail = 30, ", "") + 'between = "frame rail"\nopenings = ["equal", "equal"]': (
        "a frame rail has no shelf behind it that would say how wide it is"
    ),
    'between = "rail"\nrow = [{ column = [{}, {}] }, {}]': ('"divider 1" reaches 425 beyond the back edge of "rail 1"'),
    "shelves = { setback = 30 }\nrow = [{ column = [{}, {}] }, {}]": (
        '"divider 1" reaches 30 beyond the front edge of "shelf 1"'
    ),
    'openings = ["equal", { opening = "equal", above = "rail" }]': "something is to stand above the highest opening",
    'row = [{}, { above = "rail" }]': "something is to stand above the highest row",
}


@pytest.mark.parametrize("text", IMPOSSIBLE)
def test_what_cannot_stand_is_a_fault(text: str) -> None:
    with pytest.raises(StorystickError, match=IMPOSSIBLE[text]):
        laid_out(text)


@st.composite
def chests(draw: st.DrawFn) -> CabinetLayout:
    """Web frames and dust panels, under dividers or not, behind a face frame or not."""
    kind = draw(st.sampled_from(["web frame", "dust panel"]))
    framed, columns = draw(st.booleans()), draw(st.integers(1, 3))
    width, groove = draw(st.integers(50, 90)), draw(st.integers(6, 14))
    text = HEAD + (FRAME if framed else "") + 'back = { stock = "back", rabbet_width = 6, rabbet_depth = 9 }\n'
    text += f'between = {{ kind = "{kind}", width = {width}, groove = {groove} }}\n'
    text += (
        f"[[cabinet.row]]\nopenings = ['equal', 'equal']\n[[cabinet.row]]\nheight = 150\ncolumn = {['{}'] * columns}"
    )
    job = read_well(text.replace("'{}'", "{}"))
    return lay_out_cabinet(job.cabinets[0], job.figures)


@given(chests())
def test_members_of_a_web_frame_fill_it_and_enter_each_other_by_their_tongues(layout: CabinetLayout) -> None:
    for web in layout.of(Role.WEB_FRAME):
        own = [piece for piece in layout.of(*WEB_ROLES) if piece.part_of is web]
        solid = [piece for piece in own if piece.role is not Role.WEB_PANEL]
        panels = [piece for piece in own if piece.role is Role.WEB_PANEL]
        for one, other in combinations(solid, 2):
            assert block(one).common(block(other)) is None
        # All of it is members and what is open between them.
        runners = [piece for piece in own if piece.role is Role.RUNNER]
        gaps = [(low.x.end, high.x.start) for low, high in pairwise(runners)]
        area = sum(piece.x.size * piece.y.size for piece in solid) + sum(
            (high - low) * runners[0].y.size for low, high in gaps
        )
        assert area == web.length * (web.y.size + web.front_tongue)
        for divider in layout.of(Role.DIVIDER):
            if divider.low.on is web:
                assert any(runner.x.start <= divider.x.start and divider.x.end <= runner.x.end for runner in runners)
        for panel, (low, high) in zip(panels, gaps, strict=bool(panels)):
            depth = runners[0].low.joint.depth if runners[0].low.joint else Fraction(0)
            assert 0 < low - panel.x.start < depth
            assert 0 < panel.x.end - high < depth
            assert panel.z.start - web.z.start == web.z.end - panel.z.end


@given(chests())
def test_every_edge_of_a_web_frame_that_takes_something_is_grooved_for_it(layout: CabinetLayout) -> None:
    for member in layout.of(Role.WEB_RAIL, Role.RUNNER):
        grooves = [work for work in works_of(layout, member) if work.kind is WorkKind.EDGE_GROOVE]
        panels = [
            piece
            for piece in layout.of(Role.WEB_PANEL)
            if piece.part_of is member.part_of and block(piece).common(block(member))
        ]
        entering = 1 if member.role is Role.WEB_RAIL else len(panels)
        assert len(grooves) == entering
        for groove in grooves:
            assert groove.run.size == member.length
            assert groove.depth > max((runner.low.beyond for runner in layout.of(Role.RUNNER)), default=Fraction(0))
            if panels:
                assert groove.width == panels[0].z.size


@given(chests())
def test_a_web_frame_is_glued_before_the_case_and_measured_by_its_own_diagonals(layout: CabinetLayout) -> None:
    stages = stages_of(layout)[1:]
    webs = layout.of(Role.WEB_FRAME)
    assert [stage.name.partition(":")[0] for stage in stages[: len(webs)]] == [web.name for web in webs]
    for web, stage in zip(webs, stages, strict=False):
        (rectangle,) = stage.rectangles
        assert (rectangle.width, rectangle.height) == (web.length, web.y.size + web.front_tongue)
    later = [stage.closing for stage in stages[len(webs) :] if stage.closing]
    assert not any(piece.role in WEB_ROLES for closing in later for piece in closing.pieces)
