"""Racks of rectangles from their diagonals, against published figures and geometry worked out elsewhere."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from fractions import Fraction
from itertools import product
from math import radians, sin
from pathlib import Path
from typing import Any, Final

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from jobs import GALLERY_JOBS

import storystick
from storystick.job.job import Rectangle
from storystick.lengths import INCH_MM, Figures, Units, read_length, root
from storystick.squaring.findings import findings
from storystick.squaring.lean import MeasuredBody, lean_of
from storystick.squaring.rack import Move, Racked
from storystick.squaring.readings import Reading, Sides
from storystick.squaring.rectangles import Body, Target, bodies_of, targets_in

SHARED: Final[dict[str, Any]] = tomllib.loads(
    (Path(__file__).parent.parent / "shared" / "diagonals.toml").read_text(encoding="utf-8")
)
FINE: Final = Fraction(1, 10**6)
TO_32: Final = INCH_MM / 32


def mm(text: object, unit: str) -> Fraction:
    """A length with many decimals, too."""
    return read_length(f"{text} {unit}", Units.MM)


def target(width: Fraction, height: Fraction, differ: Fraction = FINE, name: str = "Case") -> Target:
    return Target(Rectangle(name, width, height), differ)


def measured(goal: Target, rising: object, falling: object, read_to: Fraction = FINE) -> Racked:
    """A rectangle with its readings, rounded to what they are ``read_to``."""
    lengths = (round(Fraction(float(length)) / read_to) * read_to for length in (rising, falling))  # type: ignore[arg-type]
    return Racked(goal, Reading(goal.name, *lengths, None, "here"), read_to)


def hinged(width: float, height: float, rack: float) -> tuple[float, float]:
    """Rising and falling of sides that keep their lengths, from the corners of the shape."""
    up = np.sqrt(height**2 - rack**2)
    bottom_left, bottom_right = np.array([0.0, 0.0]), np.array([width, 0.0])
    top_left, top_right = np.array([rack, up]), np.array([width + rack, up])
    return float(np.linalg.norm(top_right - bottom_left)), float(np.linalg.norm(top_left - bottom_right))


@pytest.mark.parametrize("case", SHARED["racked"]["cases"], ids=lambda case: f"{case['width']} by {case['height']}")
def test_published_diagonals_of_a_racked_case_give_its_rack(case: dict[str, str]) -> None:
    goal = target(mm(case["width"], case["unit"]), mm(case["height"], case["unit"]))
    readings = (mm(case[word], case["unit"]) for word in ("rising", "falling"))
    places = mm("0.0001", case["unit"])  # rounded, and so off by half of it
    racked = Racked(goal, Reading("Case", *readings, None, "here"), places, places / 2)
    rack = mm(case["rack"], case["unit"])
    assert abs(racked.rack - rack) <= racked.rack_within
    assert racked.rack_within < rack / 500
    assert racked.move_top is Move.LEFT
    assert sin(radians(racked.angle_degrees)) == pytest.approx(float(rack / goal.rectangle.height), rel=1e-3)


@pytest.mark.parametrize("case", SHARED["square"]["cases"], ids=lambda case: f"{case['width']} by {case['height']}")
def test_diagonals_of_right_rectangles_are_the_published_ones(case: dict[str, str]) -> None:
    rectangle = Rectangle("Case", mm(case["width"], case["unit"]), mm(case["height"], case["unit"]))
    places = mm("0.0001", case["unit"])
    assert round(root(rectangle.diagonal_squared) / places) * places == mm(case["diagonal"], case["unit"])


@pytest.mark.parametrize("case", SHARED["whole"], ids=lambda case: str(case["sides"]))
def test_whole_diagonals_are_whole_without_full_or_scant(case: dict[str, Any]) -> None:
    width, height, diagonal = (mm(side, case["unit"]) for side in case["sides"])
    square = Rectangle("Floor", width, height).diagonal_squared
    units, step = (Units.MM, Fraction(1, 10)) if case["unit"] == "mm" else (Units.INCH, INCH_MM / 64)
    assert read_length(Figures(units, step).of_root(square), units) == diagonal
    assert measured(target(width, height), diagonal, diagonal).rack == 0


def test_plywood_standards_eighth_of_an_inch_is_a_rack_or_a_difference_but_not_both_alike() -> None:
    """The page takes 1/8 in of squareness and 1/8 in between the diagonals as one: they are, to within a fourth."""
    sheet = SHARED["plywood"]
    width, height, eighth = (mm(sheet[key], "in") for key in ("width", "height", "out_of_square"))
    assert mm(sheet["per_foot"], "in") * (height / (12 * INCH_MM)) == eighth
    rising, falling = hinged(48.0, 96.0, 0.125)
    assert rising - falling == pytest.approx(float(sheet["difference_at_that_rack"]), abs=5e-5)
    rack = root(target(width, height, eighth).rack_squared) / INCH_MM
    assert float(rack) == pytest.approx(float(sheet["rack_at_that_difference"]), abs=5e-5)
    assert measured(target(width, height), rising * 25.4, falling * 25.4).rack == pytest.approx(float(eighth), abs=1e-4)


def test_shifting_both_far_corners_one_way_by_the_rack_makes_the_diagonals_equal() -> None:
    """As in the source under [army]: AD goes from near left to far right, BC from near right to far left."""
    assert "BC is short against AD" in SHARED["army"]["source"]
    near_left, near_right = np.array([0.0, 0.0]), np.array([9000.0, 0.0])
    far_left, far_right = np.array([40.0, 6000.0]), np.array([9040.0, 6000.0])
    ad, bc = np.linalg.norm(far_right - near_left), np.linalg.norm(far_left - near_right)
    racked = measured(target(Fraction(9000), Fraction(6000)), ad, bc)
    assert bc < ad
    assert racked.move_top is Move.LEFT
    shift = np.array([float(racked.rack), 0.0])
    after = [np.linalg.norm(far_right - shift - near_left), np.linalg.norm(far_left - shift - near_right)]
    assert after[0] == pytest.approx(after[1], abs=1e-5)


sizes: Final = st.integers(50, 4000).map(Fraction)
shares: Final = st.floats(-0.2, 0.2)


@given(sizes, sizes, shares, st.floats(-0.5, 0.5), st.floats(-0.5, 0.5), st.sampled_from([TO_32, Fraction(1, 2), FINE]))
def test_rack_comes_back_from_its_diagonals_within_what_reading_allows(
    width: Fraction, height: Fraction, share: float, slip: float, other_slip: float, read_to: Fraction
) -> None:
    """Each reading is off by up to half of what it is read to."""
    rack = share * float(height)
    rising, falling = hinged(float(width), float(height), rack)
    slips = (slip * float(read_to), other_slip * float(read_to))
    readings = (Fraction(rising + slips[0]), Fraction(falling + slips[1]))
    racked = Racked(target(width, height), Reading("Case", *readings, None, "here"), read_to)
    assert abs(float(racked.rack) - rack) <= float(racked.rack_within) * 1.001 + 1e-9
    assert abs(float(racked.too_long)) <= float(read_to) / 2 + 1e-9


@given(sizes, sizes, shares, st.integers(-400, 400))
def test_relation_is_exact_for_a_shear_and_for_any_height_of_the_top(
    width: Fraction, height: Fraction, share: float, higher: int
) -> None:
    rack, up = share * float(height), float(height) * (1 + higher / 1000)
    rising = np.hypot(float(width) + rack, up)
    falling = np.hypot(float(width) - rack, up)
    assert float(measured(target(width, height), rising, falling).rack) == pytest.approx(rack, abs=1e-4 * 4000 / 50)


@given(st.lists(st.floats(-30, 30), min_size=8, max_size=8), st.integers(300, 3000), st.integers(300, 3000))
def test_diagonals_of_any_four_sided_shape_give_how_its_middle_lines_stand_to_each_other(
    moves: list[float], width: int, height: int
) -> None:
    corners = np.array([[0, 0], [width, 0], [width, height], [0, height]]) + np.array(moves).reshape(4, 2)
    rising, falling = (np.linalg.norm(corners[i] - corners[j]) for i, j in ((2, 0), (3, 1)))
    across = (corners[1] + corners[2] - corners[0] - corners[3]) / 2
    upward = (corners[2] + corners[3] - corners[0] - corners[1]) / 2
    assert rising**2 - falling**2 == pytest.approx(4 * across @ upward, abs=1e-5)


def gallery_cases() -> Iterator[Target]:
    """Every rectangle of the gallery, and cases of all usual sizes, in inches."""
    for path in GALLERY_JOBS:
        yield from targets_in(bodies_of(storystick.load(path)))
    for width, height in product(range(12, 61), range(6, 97)):
        yield target(width * INCH_MM, height * INCH_MM, TO_32)


def test_case_racked_by_an_eighth_and_read_to_a_32nd_is_always_pushed_the_right_way() -> None:
    tried = 0
    for goal, way in product(gallery_cases(), (1, -1)):
        width, height = float(goal.rectangle.width), float(goal.rectangle.height)
        rising, falling = hinged(width, height, way * 3.175)
        racked = measured(goal, rising, falling, TO_32)
        assert abs(float(racked.rack) - way * 3.175) <= float(racked.rack_within) + 1e-9
        right = {Move.LEFT if way > 0 else Move.RIGHT}
        clear = abs(rising - falling) > float(goal.differ + TO_32)
        assert racked.move_top in (right if clear else right | {Move.NONE})
        assert racked.is_sure or abs(abs(rising - falling) - float(goal.differ)) <= 2 * float(TO_32)
        tried += clear
    assert tried > 6000


def test_difference_that_may_be_on_either_side_of_what_is_allowed_is_not_sure() -> None:
    goal = target(Fraction(600), Fraction(800), Fraction(1))
    read = [measured(goal, 1000 + by, 1000, Fraction(1, 2)) for by in (0.5, 1, 1.5, 2)]
    assert [racked.is_square for racked in read] == [True, True, False, False]
    assert [racked.is_sure for racked in read] == [True, False, False, True]


def test_opposite_sides_that_differ_are_no_rectangle_though_the_diagonals_are_equal() -> None:
    """An isosceles trapezoid."""
    goal = target(Fraction(600), Fraction(800), Fraction(1))
    side = Fraction(np.hypot(5.0, 800.0))
    reading = Reading("Case", Fraction(1000), Fraction(1000), Sides(Fraction(605), Fraction(595), side, side), "here")
    racked = Racked(goal, reading, Fraction(1, 2))
    assert (racked.is_square, racked.sides_agree) == (True, False)


BODY_SIZES: Final = ((900, 2100), (864, 2064), (864, 500), (420, 700), (420, 820))


def body() -> Body:
    return Body(
        "Press case",
        tuple(target(Fraction(w), Fraction(h), Fraction(1, 2), f"part {n}") for n, (w, h) in enumerate(BODY_SIZES)),
    )


def leaning(lean: float, slips: list[float], read_to: Fraction = Fraction(1, 2)) -> tuple[Racked, ...]:
    """The first parts of the body, each leaning alike; every diagonal is off by its slip, a share of the division."""
    found = []
    for place, each in enumerate(body().targets[: len(slips) // 2]):
        width, height = float(each.rectangle.width), float(each.rectangle.height)
        rising, falling = hinged(width, height, lean * height)
        by = [slip * float(read_to) for slip in slips[2 * place : 2 * place + 2]]
        readings = (Fraction(rising + by[0]), Fraction(falling + by[1]))
        found.append(Racked(each, Reading(each.name, *readings, None, "here"), read_to))
    return tuple(found)


@given(st.floats(-0.1, 0.1), st.lists(st.floats(-0.49, 0.49), min_size=10, max_size=10))
def test_one_lean_of_a_case_comes_back_from_all_its_rectangles(lean: float, slips: list[float]) -> None:
    found = lean_of(body(), leaning(lean, slips))
    assert found.lean is not None
    assert found.apart == ()
    assert abs(float(found.lean) - lean) <= float(found.within)


@given(st.floats(-0.1, 0.1), st.lists(st.floats(-0.49, 0.49), min_size=10, max_size=10))
def test_lean_is_the_weighted_least_squares_of_numpy(lean: float, slips: list[float]) -> None:
    measured_parts = leaning(lean, slips)
    unknown = np.array([[4 * float(r.width * r.height)] for r in measured_parts])
    seen = np.array([float(r.reading.rising**2 - r.reading.falling**2) for r in measured_parts])
    spread = np.array([float(r.reading.rising + r.reading.falling) for r in measured_parts])
    (best,), *_ = np.linalg.lstsq(unknown / spread[:, None], seen / spread, rcond=None)
    found = lean_of(body(), measured_parts)
    assert found.lean is not None
    assert float(found.lean) == pytest.approx(best, abs=1e-9)


def test_rectangles_that_were_not_measured_are_expected_to_lean_with_the_others() -> None:
    found = lean_of(body(), leaning(0.004, [0.0] * 4))
    assert [each.target.name for each in found.expected()] == ["part 2", "part 3", "part 4"]
    for each in found.expected():
        width, height = float(each.target.rectangle.width), float(each.target.rectangle.height)
        roots = (float(root(each.rising_squared)), float(root(each.falling_squared)))
        assert roots == pytest.approx(hinged(width, height, 0.004 * height), abs=1e-6)


def changed(lean: float, place: int, change: tuple[float, float] | None) -> MeasuredBody:
    """The lean of a body of which one part reads differently: by so much, or with its diagonals changed over."""
    parts = list(leaning(lean, [0.0] * 10))
    reading = parts[place].reading
    rising, falling = reading.rising, reading.falling
    lengths = (rising + Fraction(change[0]), falling + Fraction(change[1])) if change else (falling, rising)
    parts[place] = Racked(parts[place].target, Reading(reading.name, *lengths, None, "here"), parts[place].read_to)
    return lean_of(body(), tuple(parts))


@pytest.mark.parametrize("place", range(5))
@pytest.mark.parametrize("lean", [0.006, -0.006])
def test_rectangle_that_leans_otherwise_is_named(place: int, lean: float) -> None:
    found = changed(lean, place, (8.0, -8.0))
    assert [racked.target.name for racked in found.apart] == [f"part {place}"]
    assert found.swapped == ()
    assert found.lean is not None
    assert float(found.lean) == pytest.approx(lean, abs=1e-9)


@pytest.mark.parametrize("place", range(5))
@pytest.mark.parametrize("lean", [0.006, -0.006])
def test_swapped_diagonals_are_named(place: int, lean: float) -> None:
    found = changed(lean, place, None)
    assert [racked.target.name for racked in found.swapped] == [f"part {place}"]


def test_two_that_lean_apart_leave_no_one_lean() -> None:
    one, other = leaning(0.006, [0.0] * 4)
    swapped = Reading(other.reading.name, other.reading.falling, other.reading.rising, None, "here")
    found = lean_of(body(), (one, Racked(other.target, swapped, other.read_to)))
    assert (found.lean, found.angle_degrees, found.expected()) == (None, None, ())
    assert len(found.apart) == 2


@pytest.mark.parametrize(("share", "more"), [(Fraction(101, 100), "more"), (Fraction(99, 100), "less")])
def test_rectangle_of_other_sides_is_said_to_be_larger_or_smaller_than_in_the_job(share: Fraction, more: str) -> None:
    """Six, eight and ten hundreds, each a hundredth more or less."""
    width, height, diagonal = (share * size for size in (600, 800, 1000))
    reading = Reading("Case", diagonal, diagonal, Sides(width, width, height, height), "here")
    racked = Racked(target(Fraction(600), Fraction(800), Fraction(1)), reading, Fraction(1, 2))
    said = list(findings(racked, Figures.usual(Units.MM)))
    assert [f"Its {word} is {by} {more} than in the job." for word, by in (("width", 6), ("height", 8))] == [
        words for words in said if words.startswith("Its ")
    ]
