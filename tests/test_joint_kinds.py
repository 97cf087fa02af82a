"""Joints that stop, slide, lap or have tenons: against geometry of their own, and what cannot be made so."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

import pytest
from bodies import Box, block, front_tongues
from drawn_cabinets import made
from hypothesis import assume, given
from hypothesis import strategies as st
from jobs import FIGURES
from sawing import Rect, Section

from storystick.errors import StorystickError
from storystick.gluing.clamp_words import holder_words
from storystick.gluing.instructions import placing
from storystick.gluing.joints import Held
from storystick.gluing.plan import stages_of
from storystick.job.dovetails import SlidingDovetail, slope_of
from storystick.job.frame_joints import MortiseAndTenon
from storystick.job.shop import Shop
from storystick.job.tools import BaseEdge, Bit, Router, Saw
from storystick.layout.cabinets.pieces import FRAME_ROLES, Axis, CabinetLayout, Piece, Role
from storystick.layout.cabinets.sticks import cabinet_sticks
from storystick.layout.cabinets.working import works_of
from storystick.layout.cabinets.works import Surface, Work, WorkKind
from storystick.layout.stations import StickLayout
from storystick.lengths import INCH_MM, Units
from storystick.sheets.pages.cabinets import construction_words
from storystick.tooling.grooves import groove_setups
from storystick.tooling.guided import guided_cuts
from storystick.tooling.handwork import hand_sections
from storystick.tooling.mortises import mortise_cuts
from storystick.tooling.saw import gather_work
from storystick.tooling.setups import faces_of
from storystick.tooling.tongues import CornerWork

MM: Final = FIGURES[Units.MM]
HEAD: Final = """
title = "Case"
units = "mm"
stock = { ply = 18, thin = 6, oak = 20 }
joint.case = { kind = "tongue", width = 6, depth = 6 }
joint.low = { kind = "tongue", width = 6, depth = 5, set = 4 }
joint.tail = { kind = "sliding dovetail", width = 12, depth = 8, angle = 14, bottom_gap = "0.5" }
joint.stopped_tail = { kind = "sliding dovetail", width = 12, depth = 8, stop = 15 }
joint.wide_tail = { kind = "sliding dovetail", width = 19, depth = 6 }
joint.under = { kind = "rabbeted housing", width = 8, depth = 8, bottom_gap = 1 }
joint.over = { kind = "rabbeted housing", width = 8, depth = 8, shoulder = "upper" }
joint.stopped = { kind = "housing", depth = 6, stop = 10 }
joint.lap = { kind = "half lap" }
joint.tenon = { kind = "mortise and tenon", length = 25 }
joint.deep = { kind = "mortise and tenon", length = 55 }
joint.back = { kind = "mortise and tenon", length = 20, start = 12, thickness = 6 }
joint.full = { kind = "mortise and tenon", length = 20, haunch_width = 40 }
[joint.set]
kind = "mortise and tenon"
length = 20
depth = 24
thickness = 6
start = 5
shoulder = 3
haunch_width = 12
[[cabinet]]
name = "Case"
height = 900
width = 600
depth = 300
carcass = "ply"
"""
FRAME: Final = 'frame = { stock = "oak", stile = 50, top = 40, bottom = 40, rail = 36, mid_stile = 30'
THREE: Final = 'openings = ["equal", "equal", "equal"]\n'


def framed(more: str, openings: str = THREE) -> CabinetLayout:
    return made(f'joint = "case"\n{FRAME}, {more} }}\n{openings}', HEAD)[0]


def piece_of(layout: CabinetLayout, name: str) -> Piece:
    return next(piece for piece in layout.pieces if piece.name == name)


def kinds_of(layout: CabinetLayout, name: str, kind: WorkKind) -> list[Work]:
    return [work for work in works_of(layout, piece_of(layout, name)) if work.kind is kind]


def in_cabinet(work: Work) -> Box:
    """A mortise or a haunching as a block in the cabinet, from the edge that it is cut into."""
    board = work.board
    start = board.low_end
    along = (start + work.along.start, start + work.along.end)
    edge = board.across.end if work.on is Surface.HIGH else board.across.start
    into = (edge - work.depth, edge) if work.on is Surface.HIGH else (edge, edge + work.depth)
    depth = (board.y.start + work.across.start, board.y.start + work.across.end)
    return Box(into, depth, along) if board.axis is Axis.Z else Box(along, depth, into)


def tenons(layout: CabinetLayout) -> list[tuple[Piece, Box]]:
    """Those of a 20 mm frame joined by "set": 20 long, 6 thick and 5 from the front face, 3 in from each edge, but 12
    from an edge that lies at the end of the other member."""
    found = []
    for piece in layout.of(*FRAME_ROLES):
        start, end = block(piece).along(piece.axis)
        low, high = (piece.across.start, piece.across.end)
        for on, reach in ((piece.low.on, (start - 20, start)), (piece.high.on, (end, end + 20))):
            if on is None:
                continue
            first, last = on.low_end, on.low_end + on.length
            width = (low + max(3, 12 - (low - first)), high - max(3, 12 - (last - high)))
            depth = (Fraction(5), Fraction(11))
            found.append((on, Box(width, depth, reach) if piece.axis is Axis.Z else Box(reach, depth, width)))
    return found


@st.composite
def frames(draw: st.DrawFn) -> CabinetLayout:
    """Frames whose rails and mid stiles lie anywhere, with a groove behind for the case or without."""
    rail, mid, top = draw(st.integers(30, 60)), draw(st.integers(50, 70)), draw(st.integers(30, 90))
    case = draw(st.sampled_from(["", ', joint = "low"']))
    columns = draw(st.lists(st.integers(1, 3), min_size=1, max_size=2))
    frame = f'frame = {{ stock = "oak", stile = {draw(st.integers(45, 80))}, top = {top}, bottom = 45, rail = {rail}'
    text = f'joint = "case"\n{frame}, mid_stile = {mid}, joints = "set"{case} }}\n'
    text += f'through = "{draw(st.sampled_from(["shelves", "dividers"]))}"\n'
    text += "".join(f"[[cabinet.column]]\nopenings = {['equal'] * count}\n" for count in columns)
    return made(text, HEAD)[0]


@given(frames())
def test_every_tenon_stands_in_a_mortise_that_leaves_wood_round_it(layout: CabinetLayout) -> None:
    mortises = [work for each in layout.of(*FRAME_ROLES) for work in works_of(layout, each)]
    mortises = [work for work in mortises if work.kind is WorkKind.MORTISE]
    blocks = {id(work): in_cabinet(work) for work in mortises}
    wanted = tenons(layout)
    assert len(wanted) == len(mortises) >= 4
    for on, box in wanted:
        (home,) = [w for w in mortises if w.board is on and blocks[id(w)].common(box) == box]
        into = blocks[id(home)].along(Axis.X if on.axis is Axis.Z else Axis.Z)
        assert into[1] - into[0] == 24
        assert 0 < home.along.start < home.along.end < on.length
        # No other tenon, and no tongue of the case behind, stands in the mortise.
        assert [other for _, other in wanted if blocks[id(home)].common(other)] == [box]
    for piece in layout.pieces:
        if piece.role not in FRAME_ROLES:
            for _, tongue in front_tongues(piece, layout):
                assert not [box for _, box in wanted if box.common(tongue)]


@given(frames())
def test_what_is_cut_back_of_a_tenon_and_the_tenon_are_all_of_its_end(layout: CabinetLayout) -> None:
    for piece in layout.of(Role.RAIL, Role.MID_STILE):
        for end in (Surface.LOW_END, Surface.HIGH_END):
            works = [work for work in works_of(layout, piece) if work.on is end]
            edges = sorted((work.across.start, work.across.end) for work in works)
            assert [edge[0] for edge in edges] == [0, *(edge[1] for edge in edges[:-1])]
            assert edges[-1][1] == piece.across.size
            (tenon,) = (work for work in works if work.kind is WorkKind.TONGUE)
            assert {work.depth for work in works if work is not tenon} <= {20, 14}


def test_usual_tenon_is_a_third_of_the_stock_and_its_haunch_a_third_of_the_rail() -> None:
    """Both by the notes that ``frame_joints`` names. A 20 mm stock gives 6.67, the nearest of 6 and 8 is 6; a rail of
    40 gives 13.3, the nearest even figure 14; the mortise is 25 + 3 deep."""
    layout = framed('joints = "tenon"')
    top = next(work for work in kinds_of(layout, "left stile", WorkKind.MORTISE) if work.other.name == "top rail")
    assert (top.across.start, top.across.end, top.depth) == (7, 13, 28)
    assert (top.along.start, top.along.end) == (860, 886)
    (haunching,) = (w for w in kinds_of(layout, "left stile", WorkKind.HAUNCHING) if w.other.name == "top rail")
    assert (haunching.along.start, haunching.along.end, haunching.depth) == (886, 900, 6)
    inch = MortiseAndTenon("inch", INCH_MM)
    assert [
        inch.groove(thick * INCH_MM)[1] - inch.groove(thick * INCH_MM)[0] for thick in (Fraction(3, 4), Fraction(1))
    ] == [
        INCH_MM / 4,
        INCH_MM * 5 / 16,
    ]
    assert inch.depth == INCH_MM * 9 / 8


def test_tenons_are_sawn_and_leave_what_the_mortise_takes() -> None:
    layout = framed('joints = "set"')
    rail = piece_of(layout, "top rail")
    (work,) = (
        own for own, pieces in gather_work([layout], MM).items() if rail in pieces and isinstance(own, CornerWork)
    )
    assert work.work == "tenon"
    section = Section(Fraction(20), Fraction(60))
    for cut in work.cuts("rail", Saw("saw", Fraction(3)), MM):
        section.saw(cut, faces_of(rail))
    zero = Fraction(0)
    assert section.has_lost(
        [Rect(zero, zero, Fraction(20), Fraction(5)), Rect(zero, Fraction(11), Fraction(20), Fraction(20))]
    )


def test_mortises_are_set_from_the_front_face_and_marked_on_the_stile() -> None:
    layout = framed('joints = "set"')
    shop = Shop(routers=(Router("r", (BaseEdge("base", Fraction(60)),), True),), bits=(Bit("six", Fraction(6)),))
    cut = next(cut for cut in mortise_cuts([layout], shop, MM) if cut.name == "top rail")
    assert (cut.against, cut.near, cut.settings, cut.depth) == ("front face", 5, (5,), 24)
    assert (cut.low, cut.high, cut.datum) == (863, 888, "lower end")
    assert not guided_cuts([layout], shop, MM)


def test_half_lap_shares_the_thickness_and_crosses_the_whole_member() -> None:
    layout = framed('joints = "lap"')
    laps = kinds_of(layout, "left stile", WorkKind.LAP)
    assert {(lap.on, lap.depth, lap.across.start, lap.across.end) for lap in laps} == {(Surface.BACK, 10, 0, 50)}
    rail = piece_of(layout, "top rail")
    assert (rail.length, rail.shoulder_length) == (600, 500)
    for end in kinds_of(layout, "top rail", WorkKind.TONGUE):
        assert end.thick
        assert (end.depth, end.thick.start, end.thick.end) == (50, 10, 20)
    stage = next(stage for stage in stages_of(layout) if stage.name.startswith("face frame:"))
    assert stage.closing
    assert {joint.axis for joint in stage.closing.joints} == {Axis.Y}
    assert stage.clamps == len(stage.closing.joints) == 8


def test_dovetail_leans_as_a_table_of_tangents_says() -> None:
    """tan 7, 8 and 14 degrees to five places in any table of tangents: 0.12278, 0.14054, 0.24933."""
    for angle, tangent in ((7, "0.12278"), (8, "0.14054"), (14, "0.24933")):
        assert abs(slope_of(Fraction(angle)) - Fraction(tangent)) < Fraction(1, 10**5)


@given(st.integers(8, 16), st.integers(3, 9), st.integers(5, 15), st.sampled_from([0, 1]), st.integers(18, 30))
def test_tail_that_the_router_table_leaves_fills_its_socket_but_for_gap_and_fit(
    width: int, depth: int, angle: int, gap: int, thick: int
) -> None:
    joint = SlidingDovetail("tail", Fraction(width), Fraction(depth), Fraction(angle), Fraction(gap), Fraction(1, 5))
    assume(joint.mouth > 1)
    near, far = joint.enters(Fraction(thick))
    length = joint.entry
    out = (thick - joint.neck) / 2
    slope = slope_of(Fraction(angle))
    # The bit stands up from the table, its tip at the shoulder: at a height above the table it takes so much of a face.
    for tenth in range(11):
        height = length * tenth / 10
        left = thick - 2 * (out - slope * (length - height))
        into = length - height
        socket = joint.mouth + 2 * slope * into
        assert socket - left == Fraction(1, 5)
    assert far - near == thick - 2 * (out - slope * length)


def tailed(joint: str, more: str = "") -> CabinetLayout:
    return made(f'joint = "case"\nshelves = {{ joint = "{joint}" }}\n{more}{THREE}', HEAD)[0]


def test_shelf_slides_into_a_made_case_and_no_clamp_presses_it() -> None:
    back = 'back = { stock = "thin", rabbet_width = 8, rabbet_depth = 9 }\n'
    layout = tailed("stopped_tail", back)
    case, shelves, *_ = (stage for stage in stages_of(layout) if stage.closing)
    assert case.closing
    assert shelves.closing
    assert not {joint.piece.role for joint in case.closing.joints} & {Role.SHELF}
    assert {joint.held for joint in shelves.closing.joints} == {Held.SOCKET}
    assert "slide shelf 1, 2 in from the back" in placing(shelves.closing, layout)
    assert holder_words(shelves, Units.MM) == "none: what slides in is held by its sockets"
    assert shelves.clamps == 0


def test_shelf_of_a_case_with_a_back_in_grooves_slides_in_from_the_front() -> None:
    layout = tailed("tail", 'back = { stock = "thin", groove_depth = 6, groove_inset = 12 }\n')
    last = [stage for stage in stages_of(layout) if stage.closing][-1]
    assert last.closing
    assert "slide shelf 1, 2 in from the front" in placing(last.closing, layout)


def test_only_a_dovetail_bit_of_its_angle_cuts_a_socket_and_the_saw_none_of_it() -> None:
    layout = tailed("tail")
    router = Router("r", (BaseEdge("base", Fraction(60)),), True)
    straight, tail = Bit("twelve", Fraction(12)), Bit("tail", Fraction(12), angle=Fraction(14))
    sticks = made_sticks(layout)
    bars = {
        bits: {setup.name: setup.bar and setup.bar.bit for setup in groove_setups(sticks, Shop((router,), bits), MM)}
        for bits in ((straight,), (tail,), (straight, tail))
    }
    assert bars[(straight,)]["shelf 1"] is None
    assert bars[(tail,)] == {"bottom": None, "top": None, "shelf 1": "tail", "shelf 2": "tail"}
    assert bars[(straight, tail)]["shelf 1"] == "tail"
    sawn = {piece.name for pieces in gather_work([layout], MM).values() for piece in pieces}
    assert sawn == {"bottom", "top"}
    (section,) = hand_sections([layout], MM)
    # 12 - 2 x 0.5 x tan 14 = 11.75 at the end; 12 - 2 x 8 x tan 14 = 8.01 at the shoulder; (18 - 8.01) / 2 = 4.99.
    assert (
        "its tip 5 scant out of the fence; the tail is then 11.8 scant thick at its end and 8 full" in section.rows[0]
    )


def made_sticks(layout: CabinetLayout) -> list[StickLayout]:
    return [stick for stick in cabinet_sticks(layout, 1) if stick.name == "Case side"]


def test_rabbeted_housing_is_one_notch_and_keeps_the_groove_from_the_end() -> None:
    """In an 18 mm part with 8 of it let in, one notch 10 deep; the bottom's groove is 10 to 18 from the end."""
    text = 'joint = "case"\nbottom = { joint = "under" }\ntop = { joint = "over" }\n' + THREE
    layout = made(text, HEAD)[0]
    (bottom,) = (w for w in kinds_of(layout, "left side", WorkKind.GROOVE) if w.other.name == "bottom")
    (top,) = (w for w in kinds_of(layout, "left side", WorkKind.GROOVE) if w.other.name == "top")
    assert (bottom.along.start, bottom.along.end, top.along.start, top.along.end) == (10, 18, 882, 890)
    found = {pieces[0].name: work for work, pieces in gather_work([layout], MM).items() if isinstance(work, CornerWork)}
    (notch,) = found["bottom"].notches
    assert (notch.face, notch.along, notch.deep) == ("lower face", 7, 10)
    (notch,) = found["top"].notches
    assert (notch.face, notch.along, notch.deep) == ("upper face", 8, 10)


def test_part_that_lies_behind_the_stop_keeps_its_corners() -> None:
    layout = made('joint = "stopped"\nshelves = { setback = 25 }\n' + THREE, HEAD)[0]
    (groove,) = (w for w in kinds_of(layout, "left side", WorkKind.GROOVE) if w.other.name == "shelf 1")
    assert (groove.across.start, groove.stops) == (25, (True, False))
    assert not kinds_of(layout, "shelf 1", WorkKind.CUT_BACK)
    assert kinds_of(layout, "bottom", WorkKind.CUT_BACK)


def test_stopped_housing_is_marked_in_the_depth_and_the_shelf_loses_its_corner() -> None:
    layout = tailed("stopped", "edging = 2\n")
    (groove,) = (w for w in kinds_of(layout, "left side", WorkKind.GROOVE) if w.other.name == "shelf 1")
    # 10 from the finished front, of which the edging is 2.
    assert (groove.across.start, groove.stops) == (8, (True, False))
    corner = kinds_of(layout, "shelf 1", WorkKind.CUT_BACK)
    assert {(cut.on, cut.depth, cut.across.start, cut.across.end) for cut in corner} == {
        (Surface.LOW_END, 6, 0, 8),
        (Surface.HIGH_END, 6, 0, 8),
    }


def test_drawing_sheet_says_what_the_drawing_does_not_show() -> None:
    words = list(construction_words(tailed("stopped"), MM))
    assert "The grooves for shelf 1, 2 stop 10 before the front edge." in words
    assert "Rails and mid stiles are half lapped." in list(construction_words(framed('joints = "lap"'), MM))


FAULTS: Final = {
    "a tail wider than its part": (
        'shelves = { joint = "wide_tail" }\n' + THREE,
        '"shelf 1" is 18 thick, but its joint',
    ),
    "a shelf that has no way in": (
        'shelves = { joint = "stopped_tail" }\nback = { stock = "thin", groove_depth = 6, groove_inset = 12 }\n'
        + THREE,
        '"shelf 1" slides in from the back, since its sockets stop in front, but the back is in grooves',
    ),
    "a groove that stops behind its part": (
        'joint = "stopped"\ndepth = 9\n' + THREE,
        "stops 10 before the front edge",
    ),
    "a mortise through its stile": (
        f'{FRAME}, joints = "deep" }}\n{THREE}',
        'the mortise for "bottom rail" is 58 deep, but',
    ),
    "a tenon in the groove for the case": (
        f'{FRAME}, joints = "back", joint = "case" }}\n{THREE}',
        "what joins the members of the frame reaches 18 from its front face, and the groove for the case leaves 14",
    ),
    "laps in the groove for the case": (
        f'{FRAME}, joints = "lap", joint = "case" }}\n{THREE}',
        "reaches 20 from its front",
    ),
    "a haunch as wide as its rail": (
        f'{FRAME}, joints = "full" }}\n{THREE}',
        '"bottom rail" is 40 wide, and haunch and shoulders leave no tenon of it in "left stile"',
    ),
    "a frame that slides": (f'{FRAME}, joint = "tail" }}\n{THREE}', "the frame's joint slides in along its groove"),
    "two laps at one place": (
        f'{FRAME}, joints = "lap" }}\n[[cabinet.row]]\ncolumn = [{{}}, {{}}]\n[[cabinet.row]]\ncolumn = [{{}}, {{}}]\n',
        'both lap "rail at shelf 1" at the same place',
    ),
}


@pytest.mark.parametrize(("text", "message"), FAULTS.values(), ids=FAULTS)
def test_what_cannot_be_joined_so_is_told(text: str, message: str) -> None:
    head = HEAD.replace("depth = 300\n", "") if "\ndepth" in text else HEAD
    joint = "" if text.startswith("joint") else 'joint = "case"\n'
    with pytest.raises(StorystickError) as raised:
        made(joint + text, head)
    assert message in str(raised.value)
