"""Board templates of a job: what is read, every fault of them at once, and the geometry of their outlines."""

from __future__ import annotations

import json
import tomllib
from fractions import Fraction
from pathlib import Path
from typing import Any, Final

import jsonschema
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from jobs import MM, read, read_well

from storystick.errors import Faults
from storystick.job.boards import Along, BoardEdge, BoredHole, CabinetBoard, Circle, EdgeRabbet, Face, FreeBoard, Groove
from storystick.job.sources import Source
from storystick.laying_out import load_sources
from storystick.lengths import INCH_MM
from storystick.outline import Arc, Outline, Place, Straight, polygon, rectangle

SCHEMA: Final[dict[str, Any]] = json.loads(
    (Path(__file__).parent.parent / "shared" / "job.schema.json").read_text("utf-8")
)
BRACKET: Final = """
units = "inch"
[[template]]
name = "Bracket"
width = "6"
height = "9"
outline = [["0","0"], ["6","0"], { arc_to = ["6","9"], through = ["7/2","9/2"] }, ["0","9"]]
grooves = [{ along = "x", at = "2", width = "23/32", name = "shelf", from = "0", to = "3" }, { along = "y", at = 1, width = 0.5 }]
rabbets = [{ edge = "left", width = "1/4" }]
holes = [{ at = ["1", "1"], diameter = "5 mm", name = "pin" }, { first = ["1 1/2","2"], pitch = "1 1/4", count = 3, along = "y", diameter = "5 mm" }]
circles = [{ centre = ["2","7"], diameter = "2", name = "cable hole" }]
"""  # noqa: E501
CHEST: Final = """
units = "mm"
stock = { ply = 18 }
[[cabinet]]
name = "Chest"
height = 700
width = 600
depth = 400
carcass = "ply"
[[cabinet.column]]
openings = ["equal"]
[[cabinet.column]]
openings = ["equal", "equal"]
"""


def inches(x: int | str | Fraction, y: int | str | Fraction) -> Place:
    return Place(Fraction(x) * INCH_MM, Fraction(y) * INCH_MM)


def place(x: int | str, y: int | str) -> Place:
    return Place(Fraction(x), Fraction(y))


def board(keys: str, size: str = "width = 100\nheight = 60\n") -> str:
    return f"{MM}[[template]]\n{size}{keys}"


def test_free_board_is_read_with_all_that_is_on_it() -> None:
    corners = [inches(0, 0), inches(6, 0), inches(6, 9), inches(0, 9)]
    outline = Outline(
        (
            Straight(corners[0], corners[1]),
            Arc(corners[1], inches("7/2", "9/2"), corners[2]),
            Straight(corners[2], corners[3]),
            Straight(corners[3], corners[0]),
        )
    )
    inch = INCH_MM
    assert read_well(BRACKET).boards == (
        FreeBoard(
            1,
            "Bracket",
            6 * inch,
            9 * inch,
            outline,
            grooves=(
                Groove(Along.X, 2 * inch, inch * 23 / 32, Fraction(0), 3 * inch, "shelf"),
                Groove(Along.Y, inch, inch / 2, Fraction(0), 9 * inch, "groove 2"),
            ),
            rabbets=(EdgeRabbet(BoardEdge.LEFT, inch / 4, "rabbet"),),
            holes=(
                BoredHole(inches(1, 1), Fraction(5), "pin"),
                *(BoredHole(inches("3/2", 2 + number * Fraction(5, 4)), Fraction(5), "hole") for number in range(3)),
            ),
            circles=(Circle(inches(2, 7), 2 * inch, "cable hole"),),
        ),
    )


def test_board_without_an_outline_is_a_rectangle() -> None:
    (read_board,) = read_well(board("")).boards
    assert isinstance(read_board, FreeBoard)
    assert read_board.name == "template 1"
    assert read_board.outline == rectangle(Fraction(100), Fraction(60))


def test_board_of_a_cabinet_has_the_name_of_the_board_unless_it_has_its_own() -> None:
    text = CHEST + '[[template]]\nboard = "Chest left side"\n[[template]]\nname = "Middle"\nboard = "Chest divider 1"\n'
    assert read_well(text + 'face = "left"\n').boards == (
        CabinetBoard(1, "Chest left side", "Chest left side"),
        CabinetBoard(2, "Middle", "Chest divider 1", Face.LEFT),
    )


BAD_BOARDS: Final[dict[str, list[str]]] = {
    "widht = 3\nwidth = 100\n": [
        "template 1: height is missing; add height = …, a length.",
        'template 1: "widht" is not a key here; try "width"; allowed here: name, board, width, height, outline, '
        "grooves, rabbets, holes, circles.",
    ],
    "width = 'wide'\nheight = 60\noutline = [[0, 0], [900, 0], [900, 70], [0, 60]]\n"
    "grooves = [{ along = 'y', at = 950, width = 5 }, { along = 'x', at = 59, width = 5 }]\n"
    "rabbets = [{ edge = 'right', width = 900 }, { edge = 'top', width = 60 }]\n"
    "holes = { first = [1, 30], pitch = 2, count = 1, along = 'x', diameter = 0 }\n": [
        'template 1, width: "wide" is not a length; write it like 18.3, 23/32, 5 1/2, 2\' 3 1/2", 18.3 mm or 1 in.',
        "template 1, outline: the corner at [900, 70] lies outside the board of height 60; move it, or make the board "
        "larger.",
        "template 1, grooves[2]: the groove reaches to 64, beyond the edge at 60; move it, or make it narrower.",
        "template 1, rabbets[2]: the rabbet is 60 wide, and the board is 60; make it narrower.",
        "template 1, holes, diameter: 0 is not a size: a size is more than 0.",
    ],
    "outline = [[5, 0], [900, 0], { arc_to = [5, 40], through = [0, 9] }]\n"
    "rabbets = { edge = 'right', width = 900 }\nholes = { at = [2, 30], diameter = 5 }\n": [
        "template 1: width is missing; add width = …, a length.",
        "template 1: height is missing; add height = …, a length.",
        "template 1, outline: the arc to [5, 40] stands out beyond the board; make it flatter, or the board larger.",
        "template 1, holes: the hole at [2, 30] reaches outside the outline; move it inward, or make it smaller.",
    ],
    "width = 300\nheight = 300\noutline = [[0, 0], [300, 0], [300, 100], [100, 100], [100, 290], [0, 290]]\n"
    "grooves = [{ along = 'x', at = 200, width = 18, from = 100 }, { along = 'x', at = 200, width = 18 }, "
    "{ along = 'y', at = 282, width = 18, from = 100 }, { along = 'y', at = 282, width = 18, from = 99 }]\n"
    "rabbets = [{ edge = 'top', width = 10 }, { edge = 'top', width = 11 }, { edge = 'right', width = 10 }]\n": [
        "template 1, grooves[1]: the groove at 200 lies outside the outline; move it inward.",
        "template 1, grooves[3]: the groove at 282 lies outside the outline; move it inward.",
        "template 1, rabbets[1]: the rabbet at the top lies outside the outline; give an edge that the outline "
        "reaches.",
    ],
    "width = 100\nheight = 60\noutline = [[50, 0], { arc_to = [50, 0], through = [50, 60] }]\n": [
        "template 1, outline, entry 2: the arc to [50, 0] ends where it begins; give two arcs for a full circle.",
    ],
    "width = 100\nheight = 60\ngroove = 3\n": [
        'template 1: "groove" is not a key here; try "grooves"; allowed here: name, board, width, height, outline, '
        "grooves, rabbets, holes, circles.",
    ],
    board("outline = [[0, 0], [100, 60], [100, 0], [0, 60]]\n", ""): [],
    "width = 100\nheight = 60\noutline = [[0, 0], [100, 60], [100, 0], [0, 60]]\n": [
        "template 1, outline: the outline crosses or touches itself; give its corners in order, once around the board.",
    ],
    "width = 100\nheight = 60\noutline = [[0, 0], [100, 0], [50, 0], [50, 60]]\n": [
        "template 1, outline: the outline crosses or touches itself; give its corners in order, once around the board.",
    ],
    "width = 100\nheight = 60\noutline = [[0, 0], [120, 0], [100, 70], [0, 60]]\n": [
        "template 1, outline: the corner at [120, 0] lies outside the board of width 100 and height 60; move it, or "
        "make the board larger.",
        "template 1, outline: the corner at [100, 70] lies outside the board of width 100 and height 60; move it, or "
        "make the board larger.",
    ],
    "width = 100\nheight = 60\noutline = [[0, 0], { arc_to = [100, 60], through = [50, 30] }, [0, 60]]\n": [
        "template 1, outline, entry 2: the arc to [100, 60] has its three places on a straight line; move the place "
        "that it runs through aside, or give the corner alone.",
    ],
    "width = 100\nheight = 60\noutline = [[0, 0], [90, 0], { arc_to = [90, 60], through = [101, 30] }, [0, 60]]\n": [
        "template 1, outline: the arc to [90, 60] stands out beyond the board of width 100 and height 60; make it "
        "flatter, or the board larger.",
    ],
    "width = 100\nheight = 60\noutline = [[0, 0], [100, 0], [100, 0], [0, 60]]\n": [
        "template 1, outline, entry 3: [100, 0] is the corner before it again; leave one of them out.",
    ],
    "width = 100\nheight = 60\noutline = [[0, 0], [100, 0]]\n": [
        "template 1, outline: the outline encloses nothing; give three corners or more, or an arc.",
    ],
    "width = 100\nheight = 60\noutline = [{ arc_to = [1, 1], through = [1, 0] }, [0, 60]]\n": [
        "template 1, outline: the outline begins with an arc; begin it with a corner, and close it with the arc.",
    ],
    "width = 100\nheight = 60\noutline = [[0, 0, 1], [100, 0]]\n": [
        'template 1, outline: the place has 3 figures; it has two, to the right and up; write it like ["1 1/2", "2"].',
    ],
    "width = 100\nheight = 60\ngrooves = { along = 'x', at = 50, width = 12 }\nrabbets = { edge = 'top', width = 60 }\n"
    "holes = [{ at = [2, 2], diameter = 5 }, { at = [5, 5], first = [1, 1], diameter = 5 }]\n"
    "circles = { centre = [50, 30], diameter = 61 }\n": [
        "template 1, grooves: the groove reaches to 62, beyond the edge at 60; move it, or make it narrower.",
        "template 1, rabbets: the rabbet is 60 wide, and the board is 60; make it narrower.",
        "template 1, holes[1]: the hole at [2, 2] reaches outside the outline; move it inward, or make it smaller.",
        "template 1, holes[2]: the entry has both at and first; give at for one hole, first with pitch and count for a "
        "row.",
        "template 1, circles: the circle about [50, 30] reaches outside the outline; move it inward, or make it "
        "smaller.",
    ],
    "width = 100\nheight = 60\ngrooves = [{ along = 'y', at = 5, width = 5, from = 30, to = 20 }, { along = 'z', at = "
    "0, width = 5 }, { along = 'x', at = 0, width = 5, to = 101 }]\n": [
        "template 1, grooves[1]: the groove begins at 30 and ends at 20; let it end beyond where it begins.",
        'template 1, grooves[2], along: "z" is not a word known here; allowed here: x, y.',
        "template 1, grooves[3]: the groove reaches to 101, beyond the edge at 100; end it at the edge.",
    ],
    "width = 100\nheight = 60\nholes = { first = [50, 30], pitch = 32, count = 3, along = 'x', diameter = 5 }\n": [
        "template 1, holes: the hole at [114, 30] reaches outside the outline; move it inward, or make it smaller.",
    ],
    "width = 100\nheight = 60\nholes = { diameter = 5 }\n": [
        "template 1, holes: the entry has neither at nor first; give at for one hole, first with pitch and count for a "
        "row.",
    ],
    "board = 'Chest left side'\nface = 'front'\n": [
        'template 1, face: "front" is not a word known here; allowed here: left, right, lower, upper.',
    ],
}
BAD_BOARDS.pop(board("outline = [[0, 0], [100, 60], [100, 0], [0, 60]]\n", ""))


@pytest.mark.parametrize("keys", BAD_BOARDS)
def test_every_fault_of_a_template_is_told_at_once(keys: str) -> None:
    _, faults = read(board(keys, ""))
    assert faults == [f"job.toml, {message}" for message in BAD_BOARDS[keys]]


def faults_of(text: str) -> list[str]:
    with pytest.raises(Faults) as raised:
        load_sources([Source("job.toml", text.encode())])
    return [str(fault) for fault in raised.value.faults]


ALL_BOARDS: Final = (
    "Chest left side; Chest right side; Chest bottom; Chest top; Chest divider 1, left face; "
    "Chest divider 1, right face; Chest shelf 1, lower face; Chest shelf 1, upper face"
)


@pytest.mark.parametrize(
    ("keys", "message"),
    [
        (
            "board = 'Chest leftside'",
            '(name), board: "Chest leftside" is not a board of the job\'s cabinets; try "Chest left side"; allowed '
            f"here: {ALL_BOARDS}.",
        ),
        (
            "board = 'Chest divider 1'",
            '(name), face: "Chest divider 1" has two faces, and no face is neither; give face = "left" or '
            'face = "right".',
        ),
        (
            "board = 'Chest shelf 1'\nface = 'left'",
            '(name), face: "Chest shelf 1" has two faces, and face = "left" is neither; give face = "lower" or '
            'face = "upper".',
        ),
        (
            "board = 'Chest top'\nface = 'lower'",
            '(name), face: "Chest top" is worked on its inside face only; leave face out.',
        ),
        (
            "board = 'Chest divider 1, left face'\nface = 'right'",
            '(name), board: "Chest divider 1, left face" and its face do not agree; leave face out.',
        ),
    ],
)
def test_board_that_no_cabinet_has_is_a_fault_with_the_nearest_one(keys: str, message: str) -> None:
    (fault,) = faults_of(f"{CHEST}[[template]]\nname = 'x'\n{keys}\n")
    assert fault == f"job.toml, template 1 {message}".replace("(name)", '("x")')


def test_board_without_any_cabinet_says_what_to_add() -> None:
    (fault,) = faults_of(MM + "[[template]]\nname = 'x'\nboard = 'Chest top'\n")
    assert fault == (
        'job.toml, template 1 ("x"), board: "Chest top" is not a board of the job\'s cabinets; add the cabinet that it '
        "belongs to, or give width and height to draw it free."
    )


@pytest.mark.parametrize("spoilt", [("height = 700", "height = 'tall'"), ("width = 600", "width = 30")])
def test_board_of_a_cabinet_at_fault_is_not_told_to_be_missing(spoilt: tuple[str, str]) -> None:
    faults = faults_of(CHEST.replace(*spoilt) + "[[template]]\nboard = 'Chest left side'\n")
    assert len(faults) == 1
    assert "cabinet 1" in faults[0]


def test_board_is_not_given_before_the_units_are_known() -> None:
    job, faults = read("[[template]]\nwidth = '5 mm'\nheight = 6\n")
    assert job.boards == ()
    assert faults == ['job.toml: units is missing; add units = "inch" or units = "mm".']


GOOD: Final = [
    BRACKET,
    board(""),
    CHEST + "[[template]]\nname = 'Middle'\nboard = 'Chest divider 1'\nface = 'right'\n",
    board("rabbets = { edge = 'top', width = 5 }\ngrooves = { along = 'x', at = 0, width = 5 }\n"),
]
KNOWN_BY_THE_READER_ALONE: Final = (
    "crosses or touches", "lies outside", "straight line", "stands out", "again", "encloses nothing",
    "reaches", "begins at 30", "ends where it begins",
)  # fmt: skip


@pytest.mark.parametrize("text", GOOD)
def test_template_that_reads_well_keeps_to_the_schema(text: str) -> None:
    read_well(text)
    assert jsonschema.Draft202012Validator(SCHEMA).is_valid(tomllib.loads(text))


@pytest.mark.parametrize(
    "keys",
    [
        keys
        for keys, messages in BAD_BOARDS.items()
        if not all(any(words in message for words in KNOWN_BY_THE_READER_ALONE) for message in messages)
    ],
)
def test_template_of_the_wrong_shape_does_not_keep_to_the_schema(keys: str) -> None:
    assert not jsonschema.Draft202012Validator(SCHEMA).is_valid(tomllib.loads(board(keys, "")))


# 3, 4 and 5: whole-numbered points of the circle about 0, 0 with a radius of 5.
ON_CIRCLE: Final = [(5, 0), (4, 3), (3, 4), (0, 5), (-3, 4), (-4, 3), (-5, 0), (-4, -3), (0, -5), (3, -4)]
on_circle: Final = st.permutations(ON_CIRCLE).map(lambda points: points[:3])
coordinates: Final = st.integers(-50, 50)


@given(on_circle, coordinates, coordinates, st.fractions(min_value=Fraction(1, 9), max_value=9, max_denominator=64))
def test_arc_through_points_of_a_known_circle_has_its_centre_and_radius(
    points: list[tuple[int, int]], x: int, y: int, scale: Fraction
) -> None:
    arc = Arc(*(Place(x + scale * a, y + scale * b) for a, b in points))
    assert arc.centre == Place(Fraction(x), Fraction(y))
    assert arc.radius_squared == 25 * scale**2


@given(st.lists(st.tuples(coordinates, coordinates), min_size=3, max_size=3, unique=True))
def test_points_along_an_arc_lie_on_the_circle_and_in_order_from_start_over_through_to_end(
    points: list[tuple[int, int]],
) -> None:
    one, through, end = (np.array(point, float) for point in points)
    if abs(np.linalg.det(np.array([through - one, end - one]))) < 0.5:
        return
    # The circle's centre solves two linear equations: as far from the start as from either other point.
    matrix = 2 * np.array([through - one, end - one])
    right_hand = np.array([through @ through - one @ one, end @ end - one @ one])
    centre = np.linalg.solve(matrix, right_hand)
    radius = float(np.linalg.norm(one - centre))
    spots = np.array(Arc(*(place(*point) for point in points)).spots, float)
    assert spots[0] == pytest.approx(one)
    assert spots[-1] == pytest.approx(end)
    assert np.linalg.norm(spots - centre, axis=1) == pytest.approx(radius, rel=1e-9)
    middles = (spots[1:] + spots[:-1]) / 2
    assert radius - np.linalg.norm(middles - centre, axis=1).min() < 0.01
    steps = np.linalg.norm(np.diff(spots, axis=0), axis=1)
    nearest = np.linalg.norm(spots - through, axis=1).min()
    assert nearest <= steps.max() / 2 + 1e-6
    assert steps == pytest.approx(steps[0], rel=1e-6)


HEAD_OF_A_DISC: Final = """
units = "mm"
[[template]]
name = "Head"
width = 400
height = 200
outline = [[0, 0], [400, 0], { arc_to = [0, 0], through = [200, 200] }]
"""
HALF_DISC: Final = Outline((Straight(place(-5, 0), place(5, 0)), Arc(place(5, 0), place(3, 4), place(-5, 0))))
MOST_OF_A_DISC: Final = Outline((Straight(place(-4, -3), place(4, -3)), Arc(place(4, -3), place(0, 5), place(-4, -3))))
BITTEN: Final = Outline(
    (
        Straight(place(0, 0), place(10, 0)),
        Straight(place(10, 0), place(10, 5)),
        Arc(place(10, 5), place(5, 1), place(0, 5)),
        Straight(place(0, 5), place(0, 0)),
    )
)


@given(st.fractions(-6, 6, max_denominator=16), st.fractions(-6, 6, max_denominator=16))
def test_outline_of_a_disc_cut_by_a_line_holds_what_the_circle_s_equation_says(x: Fraction, y: Fraction) -> None:
    in_disc = x * x + y * y < 25
    if x * x + y * y == 25 or y in (0, -3):
        return
    assert HALF_DISC.holds(Place(x, y)) is (in_disc and y > 0)
    assert MOST_OF_A_DISC.holds(Place(x, y)) is (in_disc and y > -3)
    # By chords, which keep to the arc within a hundredth of a mm and more.
    if abs(x * x + y * y - 25) > Fraction(1, 10):
        spot = (float(x), float(y))
        assert list(HALF_DISC.spots_within([spot])) == ([spot] if in_disc and y > 0 else [])
        assert list(MOST_OF_A_DISC.spots_within([spot])) == ([spot] if in_disc and y > -3 else [])


def test_circle_may_touch_an_arc_from_within_but_not_cross_it() -> None:
    job = HEAD_OF_A_DISC + "holes = [{ at = [200, %s], diameter = 10 }]\n"
    assert read_well(job % "195").boards
    _, faults = read(job % "195.001")
    assert "reaches outside the outline" in faults[0]


def test_distance_from_an_arc_is_along_its_radius_or_to_its_nearer_end() -> None:
    half = HALF_DISC.sides[1]
    assert half.nearest_mm(place(0, 2)) == pytest.approx(3)
    assert half.nearest_mm(place(6, 8)) == pytest.approx(5)
    assert half.nearest_mm(place(0, 0)) == pytest.approx(5)
    assert half.nearest_mm(place(8, -4)) == pytest.approx(5)


@given(st.fractions(Fraction(1, 3), 9, max_denominator=15), st.fractions(Fraction(1, 7), 5, max_denominator=15))
def test_what_an_arc_bites_out_is_outside(x: Fraction, y: Fraction) -> None:
    # The circle through 10,5 and 5,1 and 0,5: its centre is on x = 5, at y where (y - 1)² = 25 + (y - 5)².
    centre_y = Fraction(25 + 25 - 1, 8)
    outside = (x - 5) ** 2 + (y - centre_y) ** 2 < (centre_y - 1) ** 2
    assert BITTEN.holds(Place(x, y)) is (not outside and y < 5)


@pytest.mark.parametrize(
    ("corners", "crosses"),
    [
        ([(0, 0), (4, 0), (4, 4), (0, 4)], False),
        ([(0, 0), (4, 4), (4, 0), (0, 4)], True),
        ([(0, 0), (4, 0), (2, 0), (2, 4)], True),
        ([(0, 0), (4, 0), (4, 4), (2, 0), (0, 4)], True),
        ([(0, 0), (4, 0), (4, 4), (2, 1), (0, 4)], False),
        ([(0, 0), (4, 0), (0, 4)], False),
        ([(0, 0), (4, 0), (4, 4), (4, 2), (0, 4)], True),
        ([(0, 0), (2, 2), (4, 0), (4, 4), (2, 2), (0, 4)], True),
    ],
)
def test_outline_that_crosses_or_touches_itself_is_found_in_any_turn_and_from_any_corner(
    corners: list[tuple[int, int]], crosses: bool
) -> None:
    for turn in range(len(corners)):
        turned = corners[turn:] + corners[:turn]
        for way in (turned, turned[::-1]):
            assert polygon(place(*corner) for corner in way).crosses_itself is crosses


def test_arc_that_runs_into_another_side_crosses() -> None:
    assert not BITTEN.crosses_itself
    deep = Outline((*BITTEN.sides[:2], Arc(place(10, 5), place(5, -1), place(0, 5)), BITTEN.sides[3]))
    assert deep.crosses_itself


L_CORNERS: Final = [(0, 0), (10, 0), (10, 4), (4, 4), (4, 10), (0, 10)]
grid: Final = st.integers(0, 9)
widths: Final = st.integers(1, 5)


@given(grid, grid, widths, widths)
def test_outline_and_a_rectangle_overlap_where_they_have_a_pixel_in_common(
    x: int, y: int, wide: int, high: int
) -> None:
    pixels = np.zeros((16, 16), bool)
    pixels[:4, :10] = pixels[:10, :4] = True
    outline = polygon(place(*corner) for corner in L_CORNERS)
    overlaps = outline.overlaps(place(x, y), place(x + wide, y + high))
    assert overlaps is bool(pixels[y : y + high, x : x + wide].any())


@given(*[st.integers(-8, 6)] * 2, widths, widths)
def test_half_a_disc_and_a_rectangle_overlap_where_a_point_of_it_is_near_enough(
    x: int, y: int, wide: int, high: int
) -> None:
    # The rectangle's point above the diameter that is nearest the centre.
    nearest = min(max(0, x), x + wide), max(0, y)
    overlaps = HALF_DISC.overlaps(place(x, y), place(x + wide, y + high))
    assert overlaps is (y + high > 0 and nearest[0] ** 2 + nearest[1] ** 2 < 25)


@pytest.mark.parametrize(
    ("start", "through", "end", "stands_out"),
    [
        ((90, 20), (100, 30), (90, 40), False),
        ((90, 20), ("100.001", 30), (90, 40), True),
        ((90, 20), (50, 30), (90, 40), False),
        # A circle that leaves the box, but not over the arc; and the rest of it, which does.
        ((80, 1), (50, 55), (20, 1), False),
        ((40, 0), (50, "0.5"), (60, 0), False),
        ((40, 1), (50, 2), (60, 1), False),
        ((40, 1), (50, 0), (60, 1), False),
        ((40, 1), (50, "-0.01"), (60, 1), True),
        ((40, 59), (50, 0), (60, 59), False),
    ],
)
def test_arc_stands_out_of_the_box_only_where_its_own_part_of_the_circle_does(
    start: tuple[Any, Any], through: tuple[Any, Any], end: tuple[Any, Any], stands_out: bool
) -> None:
    arc = Arc(place(*start), place(*through), place(*end))
    spots = np.array(arc.spots, float)
    assert bool((spots < -1e-6).any() or (spots > [100 + 1e-6, 60 + 1e-6]).any()) is stands_out
    assert arc.stands_out(Fraction(100), Fraction(60)) is stands_out
