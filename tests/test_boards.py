"""Faces of cabinets' boards: the stations of their sticks, the right way round, as cut."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Final

import numpy as np
import pytest
from jobs import GALLERY_JOBS, read_well

from storystick import load
from storystick.laying_out import lay_out
from storystick.layout.board import BoardLayout, CutKind
from storystick.layout.boards import BoardFace, board_called, board_faces, lay_out_face
from storystick.layout.cabinets.pieces import Axis
from storystick.layout.stations import Layout, PointKind, StickLayout
from storystick.outline import Place

CHEST: Final = """
units = "mm"
stock = { ply = 18, thin = 6, oak = 20 }
[joint.tongue]
kind = "tongue"
width = 6
depth = 8
set = 0
bottom_gap = 1
[joint.housing]
kind = "housing"
depth = 5
[joint.frame]
kind = "tongue"
width = 6
depth = 7
[[cabinet]]
name = "Chest"
height = 1000
width = 800
depth = 420
carcass = "ply"
joint = "tongue"
dividers = { stock = "ply", joint = "housing" }
frame = { stock = "oak", stile = 40, top = 40, bottom = 40, rail = 40, joint = "frame" }
back = { stock = "thin", rabbet_width = 10, rabbet_depth = 9 }
toe = { height = 90, recess = 60 }
[[cabinet.column]]
width = 300
openings = [{ opening = "equal", name = "tall", adjustable = { shelves = 2, first = 100, pitch = 32, front = 40, back = 50 } }]
[[cabinet.column]]
openings = [300, "equal"]
"""  # noqa: E501
IN_CABINET: Final = {
    "LEFT": (-1, 0, 0),
    "RIGHT": (1, 0, 0),
    "FRONT": (0, -1, 0),
    "BACK": (0, 1, 0),
    "BOTTOM": (0, 0, -1),
    "TOP": (0, 0, 1),
}
"""Which way each word points: x to the right, y into the depth, z up, as one stands before a cabinet."""


@cache
def gallery(path: Path) -> Layout:
    return load(path)


@cache
def chest() -> Layout:
    return lay_out(read_well(CHEST))


def layouts() -> list[Layout]:
    return [chest(), *(layout for path in GALLERY_JOBS if (layout := gallery(path)).cabinets)]


FACES: Final = [face for layout in layouts() for face in board_faces(layout.cabinets)]
each_face = pytest.mark.parametrize("face", FACES, ids=lambda face: face.name)


def looked_along(face: BoardFace) -> np.ndarray:
    """The way one looks at a face: against the way out of the wood."""
    out = {Axis.Z: (1, 0, 0), Axis.X: (0, 0, 1)}[face.piece.axis]
    return -np.array(out) if face.high else np.array(out)


@each_face
def test_words_at_the_edges_are_those_of_who_looks_at_the_face(face: BoardFace) -> None:
    edges = lay_out_face(face).edges
    ahead, upward = looked_along(face), np.array(IN_CABINET[edges.top])
    # Right of who looks ahead with the head upward: ahead x upward in a right-handed system. Here z is up, x right and
    # y away from the looker, which is right-handed: x × y = z.
    assert np.array_equal(np.cross([1, 0, 0], [0, 1, 0]), [0, 0, 1])
    rightward = np.cross(ahead, upward)
    assert np.array_equal(rightward, IN_CABINET[edges.right])
    assert np.array_equal(-rightward, IN_CABINET[edges.left])
    assert np.array_equal(-upward, IN_CABINET[edges.bottom])


def test_front_of_a_left_side_is_at_the_left_of_its_inside_face() -> None:
    sides = [board_called(f"Chest {hand} side", chest().cabinets).edges for hand in ("left", "right")]
    assert [(edges.left, edges.right) for edges in sides] == [("FRONT", "BACK"), ("BACK", "FRONT")]


def test_both_sides_are_each_other_s_image_in_a_mirror() -> None:
    left, right = (board_called(f"Chest {hand} side", chest().cabinets) for hand in ("left", "right"))
    assert (left.width, left.height) == (right.width, right.height)

    def mirrored(stations: list[tuple[Fraction, Fraction]]) -> list[tuple[Fraction, Fraction]]:
        return sorted((left.width - end, left.width - start) for start, end in stations)

    back = [(cut.x.start, cut.x.end) for cut in left.cuts if cut.name == "back"]
    assert [(cut.x.start, cut.x.end) for cut in right.cuts if cut.name == "back"] == mirrored(back)
    assert {place.x for place in left.outline.corners} == {left.width - place.x for place in right.outline.corners}


def sticks_of(face: BoardFace) -> list[StickLayout]:
    """The sticks of a face's length: its own, or that of both sides."""
    for layout in layouts():
        if face.layout in layout.cabinets:
            cabinet, piece = face.layout.cabinet.name, face.piece.name
            which = "upper" if face.high else "lower"
            names = {face.name, f"{cabinet} {piece}, {which} face"}
            names |= {f"{cabinet} side"} if piece.endswith("side") else set()
            return [stick for stick in layout.sticks if stick.name in names]
    raise AssertionError(face.name)


def along(face: BoardFace, board: BoardLayout) -> list[tuple[Fraction, Fraction]]:
    """The grooves' edges along the board, without the back's."""
    upright = face.piece.axis is Axis.Z
    return sorted(
        ((cut.y if upright else cut.x).start, (cut.y if upright else cut.x).end)
        for cut in board.cuts
        if cut.name != "back"
    )


@each_face
def test_grooves_and_holes_of_a_face_lie_where_its_stick_has_them(face: BoardFace) -> None:
    board = lay_out_face(face)
    for stick in sticks_of(face):
        assert along(face, board) == [(groove.start, groove.end) for groove in stick.grooves]
        assert stick.length == (board.height if face.piece.axis is Axis.Z else board.width)
        # Fasteners are lines of centres along the stick, and crosses on the board.
        bored = {point.at for point in stick.points if point.kind in (PointKind.HOLE, PointKind.CENTRE)}
        assert {hole.at.y for hole in board.holes} == bored


def test_most_faces_have_such_a_stick() -> None:
    with_stick = [face for face in FACES if sticks_of(face)]
    assert {face.piece.name.split()[-1] for face in with_stick} >= {"side", "top", "bottom"}
    assert sum(len(lay_out_face(face).cuts) for face in with_stick) > 60
    assert sum(len(lay_out_face(face).holes) for face in with_stick) > 200


@pytest.mark.parametrize(
    "face", [face for face in FACES if face.piece.name.endswith("side")], ids=lambda face: face.name
)
def test_rows_of_holes_and_the_back_of_a_side_lie_where_the_stick_of_its_depth_has_them(face: BoardFace) -> None:
    board = lay_out_face(face)
    names = {f"{face.layout.cabinet.name} side depth", f"{face.board} depth"}
    (stick,) = (
        stick
        for layout in layouts()
        if face.layout in layout.cabinets
        for stick in layout.sticks
        if stick.name in names
    )
    assert stick.length == board.width
    assert {board.x_station(hole.at.x) for hole in board.holes} == {
        point.at for point in stick.points if point.kind is PointKind.CENTRE
    }
    back = [tuple(sorted(map(board.x_station, (cut.x.start, cut.x.end)))) for cut in board.cuts if cut.name == "back"]
    assert back == [(groove.start, groove.end) for groove in stick.grooves]


def cuts(board: BoardLayout) -> dict[str, tuple[int | Fraction, ...]]:
    return {cut.name: (cut.x.start, cut.x.end, cut.y.start, cut.y.end) for cut in board.cuts}


def test_divider_of_one_row_has_no_holes_of_an_opening_in_another() -> None:
    """Both dividers stand at the same width; only the upper one is a side of the opening with adjustable shelves."""
    head, _, rest = CHEST.partition("[[cabinet.column]]")
    rows = '[[cabinet.row]]\nheight = 300\n[[cabinet.row.column]]\nwidth = 300\nopenings = ["equal"]\n'
    rows += '[[cabinet.row.column]]\nopenings = ["equal"]\n[[cabinet.row]]\nheight = "equal"\n[[cabinet.column]]'
    layout = lay_out(read_well(head + (rows + rest).replace("[[cabinet.column]]", "[[cabinet.row.column]]")))
    bored = {stick.name for stick in layout.sticks if any(p.kind is PointKind.HOLE for p in stick.points)}
    assert "Chest divider 2, left face" in bored
    assert not any(name.startswith("Chest divider 1") for name in bored)
    for stick in layout.sticks:
        assert all(0 <= point.at <= stick.length for point in stick.points)


def test_left_side_is_drawn_as_it_is_cut() -> None:
    """Worked by hand: 420 deep less a frame of 20, with a tongue of 7 in its groove of 7."""
    board = board_called("Chest left side", chest().cabinets)
    assert (board.width, board.height) == (407, 1000)
    # Shelf and bottom are as deep as the case less the rabbet of 10, and their tongues begin at their lower face.
    assert cuts(board)["bottom"] == (0, 397, 90, 96)
    assert cuts(board)["top"] == (0, 397, 982, 988)
    assert cuts(board)["back"] == (397, 407, 90, 1000)
    assert {cut.kind for cut in board.cuts if cut.name == "back"} == {CutKind.RABBET}
    # The toe notch: 60 from the front edge of the case, and the tongue before it.
    corners = [(67, 0), (407, 0), (407, 1000), (0, 1000), (0, 90), (67, 90)]
    assert board.outline.corners == tuple(Place(Fraction(x), Fraction(y)) for x, y in corners)
    # The shoulder of the front tongue stands along the stile, which begins above the toe space.
    (shoulder,) = board.lines
    assert (shoulder.name, shoulder.start, shoulder.end) == ("shoulder at face frame", (7, 90), (7, 1000))


def test_holes_stand_in_both_rows() -> None:
    board = board_called("Chest left side", chest().cabinets)
    # 40 from the front edge of the case, 7 behind that of the tongue; 50 before the back edge of a case 400 deep.
    assert {hole.at.x for hole in board.holes} == {47, 357}
    # The opening lies from 108 to 982: 874 high, so 21 steps of 32 fit between 100 above and 100 below.
    assert sorted({hole.at.y for hole in board.holes}) == [208 + 32 * step for step in range(22)]
    assert len(board.holes) == 44


def test_board_has_its_own_tongues_and_their_shoulders() -> None:
    cabinets = chest().cabinets
    lower, upper = (board_called(f"Chest shelf 1, {face} face", cabinets) for face in ("lower", "upper"))
    # Between divider 1 and the right side, 446 in the clear, with tongues of 7 at both ends.
    assert (upper.width, upper.height) == (446 + 14, 397)
    ends = [(line.name, line.start.x) for line in upper.lines if line.start.x == line.end.x]
    assert ends == [("shoulder at divider 1", 7), ("shoulder at right side", 453)]
    # The tongue is set on the lower face, which has no shoulder.
    assert [line.name for line in lower.lines if line.start.x == line.end.x] == [
        "enters up to here: divider 1",
        "enters up to here: right side",
    ]
    assert [line.start.y for line in lower.lines if line.start.y == line.end.y] == [390]
    assert [line.start.y for line in upper.lines if line.start.y == line.end.y] == [7]


def test_divider_that_is_housed_goes_in_as_it_is() -> None:
    board = board_called("Chest divider 1, right face", chest().cabinets)
    assert board.height == 982 - 108 + 2 * 5
    level = [(line.name, line.start.y) for line in board.lines if line.is_level]
    assert level == [("enters up to here: bottom", 5), ("enters up to here: top", 879)]
    assert list(cuts(board)) == ["shelf 1"]
    assert not board_called("Chest divider 1, left face", chest().cabinets).cuts


def test_part_that_is_butted_is_shown_by_both_its_edges() -> None:
    text = CHEST.replace('joint = "tongue"\n', "").replace(', joint = "housing"', "")
    board = board_called("Chest left side", lay_out(read_well(text)).cabinets)
    assert [(line.name, line.start.y) for line in board.lines if line.is_level] == [
        ("bottom", 90),
        ("bottom", 108),
        ("top", 982),
    ]
    assert [cut.name for cut in board.cuts] == ["back"]


def test_stations_are_told_from_the_front_and_the_bottom() -> None:
    right = board_called("Chest right side", chest().cabinets)
    assert (right.x_datum, right.y_datum) == ("front", "bottom")
    assert right.x_station(Fraction(407)) == 0
    top = board_called("Chest top", chest().cabinets)
    assert (top.x_datum, top.y_datum) == ("left", "front")
    assert top.y_station(top.height) == 0


def test_marks_hold_every_edge_and_centre_once() -> None:
    board = board_called("Chest left side", chest().cabinets)
    assert list(board.marks_x) == sorted({0, 7, 47, 67, 357, 397, 407})
    assert board.marks_y[0] == 0
    assert board.marks_y[-1] == 1000
    assert {90, 96, 982, 988, 208, 880} <= set(board.marks_y)
