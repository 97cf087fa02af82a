"""What is worked on every board: said once, from where to where, and the same for strips, templates, list and set-ups.

Stations are worked out by hand in the comments.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Final

import pytest
from built_cabinets import piece_called
from drawn_cabinets import ALL, HEAD, each_cabinet, made
from jobs import read_well

from storystick import lay_out
from storystick.errors import Faults
from storystick.layout.boards import board_called
from storystick.layout.cabinets.pieces import CASE_ROLES, FRAME_ROLES, CabinetLayout, Piece, Role
from storystick.layout.cabinets.working import holes_of, works_of
from storystick.layout.cabinets.works import Surface, Work, WorkKind, width_of
from storystick.layout.stations import Layout, PointKind

OFF_CENTRE: Final = HEAD + '[joint.low]\nkind = "tongue"\nwidth = 6\ndepth = 8\nset = 3\nbottom_gap = 1\n'
OVER: Final = """
[[cabinet]]
name = "Case"
height = 900
width = 800
depth = 320
carcass = "ply"
joint = "low"
top = { place = "over" }
bottom = { place = "over" }
"""
FRAMED: Final = 'frame = { stock = "ply", stile = 50, top = 40, bottom = 40, proud = 12, joint = "low", tenon = 8 }\n'
GROOVED: Final = 'back = { stock = "back", groove_depth = 6, groove_inset = 12 }\n'
RABBETED: Final = 'back = { stock = "back", rabbet_width = 10, rabbet_depth = 9 }\n'


def laid_out(text: str) -> Layout:
    return lay_out(read_well(text))


def works(layout: CabinetLayout, board: str, kind: WorkKind, on: Surface | None = None) -> list[Work]:
    found = works_of(layout, piece_called(layout, board))
    return [work for work in found if work.kind is kind and on in {None, work.on}]


def run(work: Work) -> tuple[Fraction, Fraction]:
    return work.run.start, work.run.end


def test_groove_for_a_back_stops_where_the_grooves_of_top_and_bottom_end() -> None:
    """A bookcase 2100 high: its bottom 18 thick on a toe of 90, so the back's groove in it is 90 + 18 - 6 up."""
    layout, _ = made(ALL["bookcase with a toe space"])
    (groove,) = works(layout, "left side", WorkKind.GROOVE, Surface.HIGH)[:1]
    assert groove.other.role is Role.BACK
    assert run(groove) == (102, 2100 - 18 + 6)
    assert groove.stops == (True, True)
    assert (groove.inset, groove.width, groove.depth) == (12, 6, 6)


def test_groove_for_a_back_runs_out_inside_a_joint_and_stops_where_it_would_show() -> None:
    between, _ = made(ALL["bookcase with a toe space"])
    (groove, *_) = works(between, "top", WorkKind.GROOVE)
    assert run(groove) == (0, piece_called(between, "top").length)
    over, _ = made(OVER + GROOVED, OFF_CENTRE)
    (groove, *_) = works(over, "top", WorkKind.GROOVE)
    # The top is 800 long and lies on sides of 18; the back stands 6 deep in them.
    assert run(groove) == (12, 788)
    # The side ends 7 up in the top, and the back 6: that 1 more is inside the joint, so the groove is run out.
    (groove, *_) = works(over, "left side", WorkKind.GROOVE)
    assert (run(groove), groove.is_stopped) == ((0, 864 + 2 * 7), False)


def test_rabbet_stops_over_a_toe_notch_and_at_the_shoulder_under_a_top_laid_over() -> None:
    toe = OVER.replace('bottom = { place = "over" }\n', "toe = { height = 90, recess = 60 }\n") + RABBETED
    layout, _ = made(toe, OFF_CENTRE)
    (rabbet,) = works(layout, "left side", WorkKind.RABBET)
    # From the underside of the bottom at 90 to the shoulder at 900 - 18; the tongue above it is 7 long.
    assert run(rabbet) == (90, 882)
    assert layout.sides[0].length == 882 + 7
    assert rabbet.stops == (True, True)


def test_groove_that_opens_into_a_rabbet_does_not_stop_and_one_that_meets_a_groove_does() -> None:
    shallow = HEAD + '[joint.low]\nkind = "housing"\ndepth = 6\n'
    case = OVER.replace(' place = "over" ', "") + 'openings = ["equal", "equal"]\n'
    rabbeted, _ = made(case + RABBETED, shallow)
    grooved, _ = made(case + GROOVED, shallow)
    for layout, end, stopped in ((rabbeted, 310, False), (grooved, 302, True)):
        (groove,) = (work for work in works(layout, "left side", WorkKind.GROOVE) if work.other.name == "shelf 1")
        assert (run(groove), groove.is_stopped) == ((0, end), stopped)
    # A groove deeper than the rabbet leaves a step in it.
    deep, _ = made(
        case + RABBETED, shallow.replace("depth = 6\n[[", "depth = 10\n[[").replace("depth = 6\n", "depth = 10\n")
    )
    (groove,) = (work for work in works(deep, "left side", WorkKind.GROOVE) if work.other.name == "shelf 1")
    assert (run(groove), groove.is_stopped) == ((0, 310), True)


def test_front_tongue_ends_where_the_member_before_it_does() -> None:
    layout, _ = made(OVER.replace(' place = "over" ', "") + FRAMED, OFF_CENTRE)
    # The cabinet is 800 wide with its frame, the case 776: inside 740, and the bottom 740 + 14 long. Rails run from
    # 50 to 750; the bottom begins at 12 + 18 - 7 = 23.
    (tongue,) = works(layout, "bottom", WorkKind.TONGUE, Surface.FRONT)
    assert piece_called(layout, "bottom").length == 754
    assert (run(tongue), tongue.stops) == ((27, 727), (True, True))


def test_side_under_a_top_is_tongued_no_longer_than_it_is_and_the_stile_grooved_no_farther() -> None:
    """28 1/2 between a top and a bottom of 3/4, with tongues of 1/4 into both; the frame stands 30 high before it."""
    head = 'units = "inch"\n[stock]\nply = "3/4"\n[joint.low]\nkind = "tongue"\nwidth = "1/4"\ndepth = "1/4"\n'
    case = OVER.replace("900", '"30"').replace("800", '"30"').replace("320", '"12"')
    frame = (
        FRAMED.replace("50", '"2"').replace("40", '"2"').replace("proud = 12", 'proud = "1/4"').replace("8", '"1/4"')
    )
    layout, _ = made(case + frame, head)
    inch = Fraction(127, 5)
    side = layout.sides[0]
    (tongue,) = works(layout, "left side", WorkKind.TONGUE, Surface.FRONT)
    assert side.length == 29 * inch
    assert (run(tongue), tongue.is_whole) == ((0, 29 * inch), True)
    (groove,) = works(layout, "left stile", WorkKind.GROOVE)
    assert run(groove) == (inch / 2, Fraction(59, 2) * inch)
    assert groove.stops == (True, True)


@pytest.mark.parametrize("proud", [0, 12, 40])
def test_stile_has_its_groove_from_the_outer_edge_however_proud_the_frame_is(proud: int) -> None:
    """The tongue is 3 from the outside of the side, so that much and what the frame is proud from the outer edge."""
    layout, _ = made(OVER + FRAMED.replace("12", str(proud)), OFF_CENTRE)
    for stile in ("left stile", "right stile"):
        (groove,) = works(layout, stile, WorkKind.GROOVE)
        assert (groove.inset, groove.width) == (proud + 3, 6)


def test_end_tongue_goes_over_the_whole_width_of_its_board() -> None:
    layout, _ = made(OVER.replace(' place = "over" ', "") + 'openings = ["equal", "equal"]\n', OFF_CENTRE)
    tongues = [
        work
        for surface in (Surface.LOW_END, Surface.HIGH_END)
        for work in works(layout, "shelf 1", WorkKind.TONGUE, surface)
    ]
    # Between sides of 18 it is 800 - 36 and two tongues of 8 less their gaps of 1 long: 778.
    assert [run(work) for work in tongues] == [(0, 320), (0, 320)]
    assert [(work.along.start, work.along.end) for work in tongues] == [(0, 7), (771, 778)]


def test_toe_notch_takes_the_front_tongue_with_it() -> None:
    toe = OVER.replace('bottom = { place = "over" }\n', "toe = { height = 90, recess = 60 }\n")
    layout, _ = made(toe + FRAMED, OFF_CENTRE)
    (notch,) = works(layout, "left side", WorkKind.NOTCH)
    assert (notch.along.end, notch.across.end) == (90, 67)
    (tongue,) = works(layout, "left side", WorkKind.TONGUE, Surface.FRONT)
    assert (run(tongue), tongue.is_stopped) == ((90, 889), False)


def mirrored(work: Work) -> tuple[object, ...]:
    """All of a work as it is in a mirror, with low for high and from the other face or edge."""
    swapped = {Surface.LOW: Surface.HIGH, Surface.HIGH: Surface.LOW}
    framed = work.board.role in FRAME_ROLES
    size = width_of(work.board) if framed else work.board.stock.thickness
    across = (size - work.across.end, size - work.across.start) if framed else (work.across.start, work.across.end)
    thick = (size - work.thick.end, size - work.thick.start) if work.thick else None
    return (work.kind, swapped.get(work.on, work.on), work.along, across, work.depth, thick, work.stops)


def plain(work: Work) -> tuple[object, ...]:
    across = (work.across.start, work.across.end)
    thick = (work.thick.start, work.thick.end) if work.thick else None
    return (work.kind, work.on, work.along, across, work.depth, thick, work.stops)


@pytest.mark.parametrize("frame", ["", FRAMED])
@pytest.mark.parametrize("back", ["", GROOVED, RABBETED])
def test_left_and_right_sides_and_stiles_are_images_of_each_other_with_a_joint_off_centre(
    frame: str, back: str
) -> None:
    layout, _ = made(OVER + frame + back, OFF_CENTRE)
    pairs = [("left side", "right side"), ("left stile", "right stile")][: 1 + bool(frame)]
    for left, right in pairs:
        ours = [
            mirrored(work) for work in works_of(layout, piece_called(layout, left)) if work.kind is not WorkKind.MORTISE
        ]
        theirs = [
            plain(work) for work in works_of(layout, piece_called(layout, right)) if work.kind is not WorkKind.MORTISE
        ]
        assert ours == theirs
    top = works(layout, "top", WorkKind.GROOVE, Surface.LOW)
    # Tongues 3 from the outside of sides of 18: grooves at 3 to 9 from both ends of a top of 800, less what is proud.
    length = piece_called(layout, "top").length
    ends = [(work.along.start, work.along.end) for work in top if work.other.role is Role.SIDE]
    assert ends == [(3, 9), (length - 9, length - 3)]


def test_both_sides_under_a_top_are_one_setting_at_the_saw() -> None:
    from storystick.tooling.saw import gather_work

    layout, job = made(OVER, OFF_CENTRE)
    tongues = [pieces for work, pieces in gather_work([layout], job.figures).items() if work.work == "end tongue"]
    assert [[piece.name for piece in pieces] for pieces in tongues] == [["left side", "right side"]]


def test_rows_of_holes_count_from_the_finished_edge() -> None:
    """An edging of 8 takes 8 off the row at 40; behind a frame the row counts from its back, tongues apart."""
    shelves = 'openings = [{ opening = "equal", adjustable = { shelves = 2, first = 96, front = 40, back = 60 } }]\n'
    case = OVER.replace(' place = "over" ', "") + shelves
    edged, _ = made(case.replace("openings", "edging = 8\nopenings"), OFF_CENTRE)
    framed, _ = made(case.replace("openings", FRAMED + "openings"), OFF_CENTRE)
    plain_case, _ = made(case, OFF_CENTRE)
    for layout, front, depth in ((edged, 32, 312), (framed, 47, 309), (plain_case, 40, 320)):
        for side, surface in (("left side", Surface.HIGH), ("right side", Surface.LOW)):
            rows = holes_of(layout, piece_called(layout, side))
            assert [(row.name, row.on, row.across) for row in rows] == [
                ("front", surface, front),
                ("back", surface, depth - 60),
            ]


def test_strips_and_templates_have_the_rows_from_the_finished_edge() -> None:
    layout = laid_out(HEAD + ALL["bookcase with a toe space"])
    (depth,) = (stick for stick in layout.sticks if stick.name == "Bookcase side depth")
    rows = {point.name.rpartition(", ")[2]: point.at for point in depth.points if point.kind is PointKind.CENTRE}
    assert rows == {"front row": 40 - 8, "back row": 312 - 40}
    board = board_called("Bookcase left side", layout.cabinets)
    assert {hole.at.x for hole in board.holes} == {32, 272}


def every_work(layout: CabinetLayout) -> Iterator[tuple[Piece, Work]]:
    for piece in layout.of(*CASE_ROLES, *FRAME_ROLES):
        yield from ((piece, work) for work in works_of(layout, piece))


@each_cabinet
def test_every_work_lies_on_its_board(text: str) -> None:
    layout, _ = made(text)
    found = 0
    for board, work in every_work(layout):
        found += 1
        width = board.stock.thickness if work.kind is WorkKind.MORTISE else width_of(board)
        assert 0 <= work.along.start < work.along.end <= board.length
        assert 0 <= work.across.start < work.across.end <= width or work.kind is WorkKind.LINE
        assert work.board is board
        if work.is_whole:
            assert not work.is_stopped
    assert found > 2
    assert not works_of(layout, replace(layout.sides[0], role=Role.PLINTH))


def test_strips_bear_where_what_runs_along_a_board_starts_and_ends_short_of_it() -> None:
    layout = laid_out(HEAD + ALL["bookcase with a toe space"])
    (side,) = (stick for stick in layout.sticks if stick.name == "Bookcase side")
    struck = [(point.name, point.at) for point in side.points if point.kind is PointKind.FEATURE]
    assert struck == [("groove for the back starts", 102), ("groove for the back ends", 2088)]
    framed = laid_out(OFF_CENTRE + OVER.replace(' place = "over" ', "") + FRAMED)
    (bottom,) = (stick for stick in framed.sticks if stick.name == "Case bottom, upper face")
    struck = [(point.name, point.at) for point in bottom.points if point.kind is PointKind.FEATURE]
    assert struck == [("front tongue starts", 27), ("front tongue ends", 727)]


def test_strip_of_a_side_has_the_members_of_the_frame_beside_it_from_its_own_end() -> None:
    """It stands 7 deep in a bottom of 18, from 11 to 889: rails of 40 at 0 and at 860 end at 29 and begin at 849."""
    layout = laid_out(OFF_CENTRE + OVER + FRAMED)
    (side,) = (stick for stick in layout.sticks if stick.name == "Case side")
    assert [(span.name, span.start, span.end) for span in side.beside] == [
        ("bottom rail", 0, 29),
        ("top rail", 849, 878),
    ]


def test_cuts_from_both_sides_meet_only_where_the_cuts_themselves_lie_at_one_place() -> None:
    """Shelves of 18 at 318 and at 328 overlap by 8; their tongues of 6, 1 from the lower face, are at 319 and 329."""
    joint = HEAD + '[joint.low]\nkind = "tongue"\nwidth = 6\ndepth = 10\nset = 1\n'
    columns = 'column = [{{ openings = [300, "equal"] }}, {{ openings = [{}, "equal"] }}]\n'
    case = OVER.replace(' place = "over" ', "")
    layout, _ = made(case + columns.format(310), joint)
    assert not layout.warnings
    with pytest.raises(Faults, match='meet inside "divider 1": they are 20 deep together, and it is 18 thick'):
        made(case + columns.format(304), joint)


def test_part_that_its_member_of_the_frame_lies_nowhere_before_has_no_tongue() -> None:
    """A bottom rail up to 520 hides the divider, which ends under a shelf at 518 to 536 with a rail of 4 at its top."""
    joints = '[joint.butt]\nkind = "butt"\n[joint.low]\nkind = "tongue"\nwidth = 6\ndepth = 8\n'
    thin = '[joint.thin]\nkind = "tongue"\nwidth = 2\ndepth = 8\nset = 15\n'
    frame = 'frame = { stock = "ply", stile = 50, top = 18, bottom = 520, rail = 4, mid_stile = 30, joint = "thin" }\n'
    rows = 'row = [{ height = 500, column = [{}, {}] }, { height = "equal" }]\n'
    case = OVER.replace(' place = "over" ', "") + 'dividers = { stock = "ply", joint = "butt" }\n'
    layout, _ = made(case + frame + rows, HEAD + joints + thin.replace("depth = 8", "depth = 6"))
    assert not works(layout, "divider 1", WorkKind.TONGUE, Surface.FRONT)
    assert not works(layout, "mid stile at divider 1", WorkKind.GROOVE)


def test_strip_of_the_stiles_is_of_their_inner_edges_where_the_rails_end() -> None:
    layout = laid_out(OFF_CENTRE + OVER + FRAMED)
    (stile,) = (stick for stick in layout.sticks if "stile" in stick.name)
    assert (stile.name, stile.stick.pair) == ("Case stile", True)
    found = [(placed.span.name, placed.span.start, placed.span.end) for placed in stile.parts]
    assert found == [("bottom rail", 0, 40), ("top rail", 860, 900)]


@pytest.mark.parametrize(("depth", "left"), [("14", "4"), ("13.5", None), ("13", None)])
def test_rabbet_that_leaves_less_than_a_quarter_of_a_side_is_a_warning(depth: str, left: str | None) -> None:
    """Of 18, a quarter is 4.5."""
    case = OVER.replace('joint = "low"\n', "") + RABBETED.replace("depth = 9", f"depth = {depth}")
    found = [warning for warning in laid_out(HEAD + case).warnings if "cut for the back" in warning]
    assert found == ([f"Case: what is cut for the back leaves {left} of a side's 18"] if left else [])
