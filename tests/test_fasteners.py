"""Fasteners against published figures, and as bodies in cabinets at random: in both parts, inside both, out of the way.

The bodies are worked out from the blocks of the pieces and from the keys that the job gives, not from the rows that the
layout makes.
"""

from __future__ import annotations

import re
import tomllib
from fractions import Fraction
from itertools import combinations, pairwise
from math import ceil, sqrt
from pathlib import Path
from typing import Any, Final, NamedTuple

import pytest
from bodies import Box, back_cut, block
from hypothesis import given
from hypothesis import strategies as st
from jobs import FIGURES, only_stick, read, read_well

from storystick.cutting.fastened import hardware_of
from storystick.cutting.parts import cutting_list
from storystick.cutting.totals import edging_lengths
from storystick.drawing.shapes import Text
from storystick.errors import StorystickError
from storystick.gluing.joints import case_joints
from storystick.gluing.plan import stages_of
from storystick.job.fasteners import spaced
from storystick.job.glued_fasteners import BISCUIT_SIZES, Biscuits, Dowels, LooseTenons
from storystick.job.joints import Joint
from storystick.job.screws import PocketScrews, Screws
from storystick.layout.boards import board_faces, lay_out_face
from storystick.layout.cabinets.build import lay_out_cabinet
from storystick.layout.cabinets.fastener_marks import centres_along
from storystick.layout.cabinets.fastening import rows_on
from storystick.layout.cabinets.pieces import Axis, CabinetLayout, Piece, Role
from storystick.layout.cabinets.sticks import cabinet_sticks
from storystick.layout.sticks import lay_out_stick
from storystick.lengths import INCH_MM, Figures, Units
from storystick.sheets.pages.cutting import cutting_blocks

PUBLISHED: Final[dict[str, Any]] = tomllib.loads(
    (Path(__file__).parent.parent / "shared" / "fasteners.toml").read_text("utf-8")
)
INCH: Final = Figures(Units.INCH, INCH_MM / 64)
KINDS: Final = ("dowels", "biscuits", "loose tenons", "pocket screws", "screws")


def joint_of(kind: str, units: str = "inch", more: str = "") -> Any:
    """A joint as a job has it that says nothing but its kind, and ``more``."""
    text = f"units = '{units}'\n[stock]\nply = 1\n[joint.one]\nkind = '{kind}'\n{more}\n{BOX}"
    return read_well(text).cabinets[0].shelves.joint


BOX: Final = """
[[cabinet]]
name = "Case"
height = 30
width = 20
depth = 15
carcass = "ply"
joint = "one"
"""


def inches(text: str) -> Fraction:
    return sum(map(Fraction, text.split()), Fraction(0)) * INCH_MM


# Published figures.


def test_biscuits_are_of_the_standard_sizes() -> None:
    for row in PUBLISHED["biscuits"]["sizes"]:
        size = BISCUIT_SIZES[row["number"]]
        assert size.width == Fraction(row["width"])
        assert size.length == Fraction(row["length"]) if "length" in row else size.length <= Fraction(row["longest"])
    biscuits: Biscuits = joint_of("biscuits")
    assert biscuits.in_end(inches("3/4"), inches("3/4")).across == Fraction(PUBLISHED["biscuits"]["kerf"])


@pytest.mark.parametrize("size", BISCUIT_SIZES.values(), ids=str)
def test_a_slot_holds_its_biscuit_and_is_what_a_cutter_of_100_mm_leaves(size: Any) -> None:
    """By the circle: a cutter of radius 50 in so deep leaves a chord of twice the root of 50² − (50 − depth)²."""
    chord = 2 * sqrt(50**2 - (50 - float(size.depth)) ** 2)
    assert abs(chord - float(size.slot)) < 1
    assert size.slot > size.length
    assert size.depth >= size.width / 2


@pytest.mark.parametrize(
    ("units", "thick"), [("inch", inches("3/4")), ("inch", inches("23/32")), ("mm", Fraction(18)), ("mm", Fraction(19))]
)
def test_a_usual_dowel_is_from_a_third_to_half_of_a_board(units: str, thick: Fraction) -> None:
    dowels: Dowels = joint_of("dowels", units)
    least, most = (Fraction(PUBLISHED["dowel_thickness"][key]) for key in ("least", "most"))
    assert thick * least <= dowels.diameter <= thick * most
    assert dowels.in_board(thick, thick).across == dowels.diameter


def test_a_dowel_in_thick_parts_is_half_in_each_and_each_hole_a_sixteenth_deeper() -> None:
    dowels: Dowels = joint_of("dowels")
    deeper = inches(PUBLISHED["dowel_hole"]["deeper"])
    for bore in (dowels.in_board(inches("3/4"), inches("3")), dowels.in_end(inches("3/4"), inches("3"))):
        assert bore.depth == dowels.length / 2 + deeper


@pytest.mark.parametrize("depth", [6, 8, 11, 12, 16, 18, 21, 24, 30])
def test_panels_have_as_many_dowels_as_is_advised(depth: int) -> None:
    found = PUBLISHED["dowels_in_cases"]
    places = joint_of("dowels").places(depth * INCH_MM)
    assert len(places) >= depth // int(found["every"]) + 1
    assert places[0] >= inches(found["first_least"])
    assert all(high - low <= inches(PUBLISHED["dowel_pitch"]["pitch"]) for low, high in pairwise(places))


def test_usual_screws_have_the_holes_of_a_number_8() -> None:
    screws: Screws = joint_of("screws")
    published = PUBLISHED["wood_screw_8"]
    assert (screws.pilot, screws.clearance) == (inches(published["pilot"]), inches(published["clearance"]))


@pytest.mark.parametrize("rail", ["1 1/2", "2", "3"])
def test_two_pocket_screws_hold_a_rail(rail: str) -> None:
    assert len(joint_of("pocket screws").places(inches(rail))) == PUBLISHED["pocket_screws"]["in_each_end"]


@pytest.mark.parametrize(
    ("units", "thick", "length"),
    [("inch", "1/2", "1"), ("inch", "23/32", "1 1/4"), ("inch", "3/4", "1 1/4"), ("inch", "1", "1 1/2")],
)
def test_pocket_screws_by_the_thickness(units: str, thick: str, length: str) -> None:
    """Common practice, no source."""
    screws: PocketScrews = joint_of("pocket screws", units)
    assert screws.length_for(inches(thick)) == inches(length)


# The rule of distances, worked out by hand: first, pitch, clear, line.


@pytest.mark.parametrize(
    ("line", "first", "pitch", "clear", "places"),
    [
        (300, 50, 125, 8, (50, 150, 250)),
        (225, 50, 125, 8, (50, 175)),
        (226, 50, 125, 8, (50, 113, 176)),
        (100, 50, 125, 8, (25, 75)),  # a quarter of a short line
        (32, 50, 125, 8, (8, 24)),
        (31, 50, 125, 8, (Fraction(31, 2),)),  # a quarter is too near to an edge: one in the middle
        (16, 50, 125, 8, (8,)),
        (15, 50, 125, 8, ()),
    ],
)
def test_centres_along_a_line(line: int, first: int, pitch: int, clear: int, places: tuple[Fraction, ...]) -> None:
    assert spaced(Fraction(line), Fraction(first), Fraction(pitch), Fraction(clear)) == places


@given(st.fractions(1, 2000, max_denominator=64), st.sampled_from(KINDS))
def test_centres_keep_from_edges_and_apart_and_no_farther_than_the_pitch(line: Fraction, kind: str) -> None:
    joint = joint_of(kind, "mm" if line > 1000 else "inch")
    places = joint.places(line)
    assert places == tuple(line - place for place in reversed(places)), "the same from either edge"
    assert all(joint.clear <= place <= line - joint.clear for place in places)
    gaps = [high - low for low, high in pairwise(places)]
    assert all(2 * joint.clear <= gap <= joint.pitch for gap in gaps)
    assert len(set(gaps)) <= 1
    assert bool(places) is (line >= 2 * joint.clear)
    if len(places) > 2:
        assert len(places) == ceil((line - 2 * places[0]) / joint.pitch) + 1


# Bodies in cabinets at random.

_CASE: Final = """
title = "Case"
units = "mm"
stock = {{ ply = {thick}, thin = 6 }}
[joint.one]
kind = "{kind}"
[joint.two]
kind = "{other}"
[[cabinet]]
name = "Case"
height = {height}
width = {width}
depth = {depth}
carcass = "ply"
joint = "one"
shelves = {{ joint = "two" }}
{back}
{front}
"""
_BACKS: Final = (
    "",
    'back = { stock = "thin", rabbet_width = 12, rabbet_depth = 9 }',
    'back = { stock = "thin", groove_depth = 6, groove_inset = 12 }',
    'back = { stock = "thin", laid_on = true }',
)
_FRONTS: Final = ("", "edging = 8", 'frame = { stock = "ply", stile = 40, top = 40, bottom = 40, rail = 40 }')


@st.composite
def fastened_cabinets(draw: st.DrawFn) -> CabinetLayout:
    """Two bands; two columns below, whose shelves lie opposite each other or not."""
    text = _CASE.format(
        kind=draw(st.sampled_from(KINDS)),
        other=draw(st.sampled_from(("dowels", "loose tenons", "pocket screws"))),
        thick=draw(st.sampled_from([18, 19, 22])),
        height=draw(st.integers(700, 2200)),
        width=draw(st.integers(500, 1800)),
        depth=draw(st.integers(200, 650)),
        back=draw(st.sampled_from(_BACKS)),
        front=draw(st.sampled_from(_FRONTS)),
    )
    text += "[[cabinet.row]]\nheight = 'equal'\n"
    for count in draw(st.lists(st.integers(1, 3), min_size=1, max_size=3)):
        text += f"[[cabinet.row.column]]\nwidth = 'equal'\nopenings = {['equal'] * count}\n"
    # Dividers of one band only: screws into them can be driven from above and from below.
    text += "[[cabinet.row]]\nheight = 'equal'\n"
    job = read_well(text)
    return lay_out_cabinet(job.cabinets[0], job.figures)


class Body(NamedTuple):
    """A fastener as the block that it takes in the board and in the piece, and the centre that was struck for it."""

    piece: Piece
    board: Piece
    joint: Joint
    board_box: Box
    piece_box: Box
    y: Fraction


def deep(joint: Any, board: Fraction) -> tuple[Fraction, Fraction]:
    """How deep it is in the face and in the end, worked out from the joint's keys alone."""
    match joint:
        case (
            Dowels(length=length, hole_depth=None, behind=behind, bottom_gap=gap)
            | LooseTenons(length=length, hole_depth=None, behind=behind, bottom_gap=gap)
        ):
            face = min(length / 2 + gap, board - behind)
            return face, length + 2 * gap - face
        case Biscuits(size=size):
            return size.depth, size.depth
        case Screws(length=length):
            return board, length - board
    raise AssertionError(joint)


def thick_and_long(joint: Any, in_board: bool) -> tuple[Fraction, Fraction]:
    """What it takes of a part's thickness, and along the line."""
    match joint:
        case Dowels(diameter=diameter):
            return diameter, diameter
        case LooseTenons(thickness=thickness, width=width):
            return thickness, width
        case Biscuits(size=size):
            return Fraction(4), size.slot
        case Screws(pilot=pilot, clearance=clearance):
            return (clearance, clearance) if in_board else (pilot, pilot)
    raise AssertionError(joint)


def bodies_of(layout: CabinetLayout) -> list[Body]:
    """From the crosses on the board templates: each cross is turned into the cabinet, and bored there."""
    found = []
    for face in board_faces([layout]):
        board, sheet = face.piece, lay_out_face(face)
        for hole in sheet.holes:
            along = (hole.at.y if board.axis is Axis.Z else hole.at.x) + board.low_end
            across = sheet.x_station(hole.at.x) if board.axis is Axis.Z else sheet.y_station(hole.at.y)
            name = hole.row.partition(", ")[2]
            piece, joint = ends_there(layout, name, board, face.high)
            found.append(body_at(piece, joint, board, face.high, along, across + board.y.start - board.front_tongue))
    return found


def ends_there(layout: CabinetLayout, name: str, board: Piece, high: bool) -> tuple[Piece, Joint]:
    """The piece of a name that meets a face of the board."""
    for piece in layout.pieces:
        for ending, low in ((piece.low, True), (piece.high, False)):
            if piece.name == name and ending.on is board and low is high and ending.joint:
                return piece, ending.joint
    raise AssertionError(f"{name} does not end on {board.name}")


def body_at(piece: Piece, joint: Joint, board: Piece, high: bool, along: Fraction, y: Fraction) -> Body:
    boards, part = block(board), block(piece)
    face = boards.along(piece.axis)[1 if high else 0]
    thick_of_board = boards.along(piece.axis)[1] - boards.along(piece.axis)[0]
    in_board, in_piece = deep(joint, thick_of_board)
    sign = -1 if high else 1
    boxes = []
    for depth, way, into in ((in_board, sign, True), (in_piece, -sign, False)):
        thick, long = thick_and_long(joint, into)
        reach = tuple(sorted((face, face + way * depth)))
        beside = (along - thick / 2, along + thick / 2)
        depths = (y - long / 2, y + long / 2)
        boxes.append(Box(reach, depths, beside) if piece.axis is Axis.X else Box(beside, depths, reach))
    assert part.along(board.axis)[0] + part.along(board.axis)[1] == 2 * along, "in the middle of the piece's thickness"
    return Body(piece, board, joint, boxes[0], boxes[1], y)


def lies_in(box: Box, whole: Box) -> bool:
    return all(low >= start and high <= end for (low, high), (start, end) in zip(box, whole, strict=True))


@given(fastened_cabinets())
def test_every_fastener_lies_in_both_pieces_and_in_no_other(layout: CabinetLayout) -> None:
    bodies = bodies_of(layout)
    wanted = [
        (piece, on, ending.joint)
        for piece in layout.pieces
        for ending in (piece.low, piece.high)
        for on in ending.ons
        if ending.joint and ending.joint.fasteners and not isinstance(ending.joint, PocketScrews)
    ]
    assert {(body.piece, body.board) for body in bodies} == {(piece, on) for piece, on, _ in wanted}
    for body in bodies:
        assert lies_in(body.board_box, block(body.board))
        assert lies_in(body.piece_box, block(body.piece))
        if not isinstance(body.joint, Screws):
            board_face = block(body.board).along(body.piece.axis)
            reach = body.board_box.along(body.piece.axis)
            assert reach[1] - reach[0] < board_face[1] - board_face[0], "it does not come out at the other face"
        if (cut := back_cut(body.board, layout)) is not None:
            assert body.board_box.common(cut) is None, "it keeps clear of the back"
    for one, other in combinations(bodies, 2):
        assert one.board_box.common(other.board_box) is None
        assert one.piece_box.common(other.piece_box) is None
        assert one.piece_box.common(other.board_box) is None


@given(fastened_cabinets())
def test_strips_have_the_crosses_of_the_templates(layout: CabinetLayout) -> None:
    sticks = {stick.name: stick for stick in cabinet_sticks(layout, 1)}
    for side in layout.sides:
        strip = sticks.get("Case side") or sticks[f"Case {side.name}"]
        depth = sticks.get("Case side depth") or sticks[f"Case {side.name} depth"]
        bodies = [body for body in bodies_of(layout) if body.board is side]
        middles = {sum(block(body.piece).z) / 2 - side.low_end for body in bodies}
        assert middles == {point.at for point in strip.points if point.kind.value == "centre"}
        across = {body.y - side.y.start + side.front_tongue for body in bodies}
        assert across == {point.at for point in depth.points if point.kind.value == "centre"}


@given(fastened_cabinets())
def test_hardware_is_a_fastener_for_every_cross_and_pocket(layout: CabinetLayout) -> None:
    counted = sum(each.count for each in hardware_of([layout], INCH))
    pockets = 0
    for piece in layout.pieces:
        for ending in (piece.low, piece.high):
            if ending.on and isinstance(ending.joint, PocketScrews):
                edging = layout.case.y.start - layout.finished_front
                end = min(piece.y.end, ending.on.y.end, layout.inner_back)
                pockets += len(ending.joint.places(end - max(piece.y.start, ending.on.y.start) + edging))
    assert counted == len(bodies_of(layout)) + pockets


def test_a_plain_stick_has_the_middle_of_every_part_that_is_bored() -> None:
    for kind, wanted in (("dowels", [9, 327, 645]), ("screws", [9, 327, 645]), ("pocket screws", [])):
        stick = only_stick(
            f"units = 'mm'\nstock = {{ ply = 18 }}\n[joint.one]\nkind = '{kind}'\n"
            "[[stick]]\npart = 'ply'\njoint = 'one'\nopenings = [300, 300]\n"
        )
        assert [point.at for point in lay_out_stick(stick, FIGURES[Units.MM]).points] == wanted


def test_the_rails_of_a_web_frame_tell_of_its_dowels() -> None:
    job = read_well(case("dowels", more="between = 'web frame'"))
    parts = {part.role: part for part in cutting_list([lay_out_cabinet(job.cabinets[0], job.figures)], job.figures)}
    told = "of the frame, once it is glued up: 3 dowels 8 × 40 at each end, 50, 150 and 250 from the front edge"
    assert any(note.startswith(told) for note in parts["web frame rail"].notes)


# Gluing up.


@given(fastened_cabinets())
def test_what_screws_draw_together_has_no_clamps_and_all_else_has(layout: CabinetLayout) -> None:
    drawn = {(joint.piece, joint.on) for joint in case_joints(layout) if joint.row and joint.row.fastener.draws}
    for stage in stages_of(layout)[1:]:
        for line in stage.lines:
            if {(joint.piece, joint.on) for joint in line.joints} & drawn:
                assert (line.clamps, line.cauls, line.pins) == (0, 0, 0)
                assert line.screws == sum(len(joint.row.centres) for joint in line.joints if joint.row)
            else:
                assert line.screws == 0
                assert line.clamps or line.pins


def case(kind: str, more: str = "", joint: str = "", openings: str = "['equal', 'equal']") -> str:
    return (
        f"title = 'Case'\nunits = 'mm'\nstock = {{ ply = 18 }}\n[joint.one]\nkind = '{kind}'\n{joint}\n"
        f"[[cabinet]]\nname = 'Case'\nheight = 900\nwidth = 600\ndepth = 300\ncarcass = 'ply'\njoint = 'one'\n{more}\n"
        + (f"openings = {openings}\n" if openings else "")
    )


def test_a_case_of_screws_is_glued_without_clamps_and_at_leisure() -> None:
    job = read_well(case("screws"))
    layout = lay_out_cabinet(job.cabinets[0], job.figures)
    (dry, whole) = stages_of(layout)
    assert (dry.clamps, whole.clamps, whole.screws, whole.fastened_by) == (0, 0, 18, "screws")
    assert whole.fits is None
    dowelled = read_well(case("dowels"))
    (_, clamped) = stages_of(lay_out_cabinet(dowelled.cabinets[0], dowelled.figures))
    assert (clamped.clamps, clamped.screws) == (6, 0)


# Faults.

_TWO: Final = "\n".join("[[cabinet.column]]\nwidth = 'equal'\nopenings = ['equal', 'equal']" for _ in range(2))


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (case("dowels", joint="depth = 18"), r"the hole for a dowel would come out at the other face: 18 deep"),
        (case("dowels", joint="diameter = 13"), r"a dowel is 13 thick, in a part 18 thick"),
        (case("dowels", joint="length = 10\ndepth = 14"), r"nothing of a dowel is left for the end of the part"),
        (case("screws", joint="length = 18"), r"a screw 18 long does not reach out of a board 18 thick"),
        (case("pocket screws", joint="length = 18"), r"a pocket screw 18 long stays in a part 18 thick"),
        (case("pocket screws", joint="length = 38"), r"the point of a pocket screw would come out at the other face"),
        (case("loose tenons", joint="thickness = 13"), r"a loose tenon is 13 thick, in a part 18 thick"),
        (case("dowels", joint="first = 7"), r"first.*7 is too little for such dowels"),
        (case("biscuits", joint="pitch = 100"), r"pitch.*100 is too little for such biscuits"),
        (case("biscuits", joint="size = 5"), r"5 is not a standard size"),
        (case("screws", joint="pilot = 6"), r"the pilot hole is wider than the clearance hole"),
        (
            case("biscuits", more=_TWO, openings=""),
            r'the biscuits of "shelf 1" would open into the biscuits of "shelf 2"',
        ),
        (
            case("screws", more=_TWO, openings=""),
            r'the wood screws through "divider 1" into "shelf 1" cannot be driven',
        ),
    ],
)
def test_what_cannot_be_is_told(text: str, told: str) -> None:
    job, faults = read(text)
    if not faults:
        with pytest.raises(StorystickError) as raised:
            lay_out_cabinet(job.cabinets[0], job.figures)
        faults = [fault.what for fault in raised.value.faults]
    assert any(re.search(told, fault) for fault in faults), faults


def test_dowels_opposite_each_other_stand_aside() -> None:
    """Two shelves at one height on a divider of 18: 12 and 12 deep would meet, so those at its right go 16 back."""
    job = read_well(case("dowels", more=_TWO, openings=""))
    layout = lay_out_cabinet(job.cabinets[0], job.figures)
    (divider,) = layout.of(Role.DIVIDER)
    crosses = {
        body.piece.name: [b.y for b in bodies_of(layout) if b.piece is body.piece and b.board is divider]
        for body in bodies_of(layout)
        if body.board is divider
    }
    assert crosses == {"shelf 1": [50, 150, 250], "shelf 2": [66, 166, 266]}


def test_two_stretchers_share_a_mark_and_the_list_counts_holes_and_tells_edging() -> None:
    """A side 300 deep takes 3 dowels each for the bottom and the shelf (50, 150, 250), and 2 for each stretcher: 10."""
    text = case("dowels", more="edging = 2\ntop = { place = 'stretchers', width = 100 }")
    job = read_well(text)
    layout = lay_out_cabinet(job.cabinets[0], job.figures)
    rows = rows_on(layout, layout.sides[0])
    points = list(centres_along(rows))
    assert [point.name for point in points if "stretcher" in point.name] == ["dowels, front stretcher, back stretcher"]
    assert len({point.at for point in points}) == len(points)
    parts = cutting_list((layout,), job.figures)
    shapes = [shape for block in cutting_blocks(parts, job.figures, 182.0) for shape in block.shapes]
    page = [shape.text for shape in shapes if isinstance(shape, Text)]
    assert any("bored for dowels 10×" in words for words in page)
    (edge,) = edging_lengths(parts)
    assert f"edging 2 thick: {job.figures(edge.length)} long" in page
