"""What readings that are off can and cannot show: sound cases in their hundreds, parts cut wrong, single slips.

The shapes are made of corners, with seeded chance; nothing of how leans are found is used for it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import cos, sin
from random import Random
from typing import Final

import pytest
from jobs import read_well

from storystick.job.job import Job, Rectangle
from storystick.job.shop import Shop, Squaring
from storystick.squaring.corners import nearest_shape, six_of
from storystick.squaring.findings import error_words, findings, fit_words, lean_words, suspect_words
from storystick.squaring.lean import MeasuredBody, lean_of
from storystick.squaring.rack import Racked
from storystick.squaring.readings import Reading, Sides
from storystick.squaring.rectangles import Body, Target

DIVISION: Final = 0.5
TAPE: Final = 0.25
"""What tape, hook, eye and hand add to the rounding, in mm: as much as half a division again."""

DIFFER: Final = Fraction(4, 5)
JOB: Final = read_well('units = "mm"\n[[rectangle]]\nname = "door"\nwidth = 300\nheight = 400\n')

Corners = list[tuple[float, float]]


@dataclass(frozen=True)
class Made:
    """A rectangle of a case as it stands: lower left, lower right, upper right, upper left."""

    target: Target
    corners: Corners


def standing(width: int, height: int, angle: float, name: str) -> Made:
    """Its sides keep their lengths and lean to the right by the angle, in radians."""
    aside, up = height * sin(angle), height * cos(angle)
    corners = [(0.0, 0.0), (float(width), 0.0), (width + aside, up), (aside, up)]
    return Made(Target(Rectangle(name, Fraction(width), Fraction(height)), DIFFER), corners)


def case(random: Random) -> list[Made]:
    """A case outside and inside, and some openings of it, all leaning alike."""
    width, height, angle = random.randint(500, 1300), random.randint(600, 2200), random.uniform(-0.012, 0.012)
    sizes = [(width, height), (width - 36, height - 36)]
    sizes += [(random.randint(200, width - 36), random.randint(200, height - 60)) for _ in range(random.randint(1, 5))]
    return [standing(*size, angle, f"part {number}") for number, size in enumerate(sizes)]


def read(random: Random, one: tuple[float, float], other: tuple[float, float]) -> Fraction:
    """A length as a tape gives it: off by what it is off by, and then to the nearest division."""
    true = ((one[0] - other[0]) ** 2 + (one[1] - other[1]) ** 2) ** 0.5
    return Fraction(round((true + random.choice([-TAPE, TAPE])) / DIVISION) * DIVISION)


def measured(random: Random, made: Made, with_sides: bool) -> Racked:
    low_left, low_right, up_right, up_left = made.corners
    pairs = ((low_left, low_right), (up_left, up_right), (low_left, up_left), (low_right, up_right))
    sides = Sides(*(read(random, *pair) for pair in pairs)) if with_sides else None
    diagonals = read(random, low_left, up_right), read(random, up_left, low_right)
    return Racked(made.target, Reading(made.target.name, *diagonals, sides, "here"), Fraction(DIVISION))


def body_of(racked: Sequence[Racked]) -> Body:
    return Body("Case", tuple(each.target for each in racked))


def accusations(lean: MeasuredBody) -> Iterator[str]:
    """Every sentence that calls a part, a joint or a reading wrong."""
    yield from (words for words in lean_words(lean) if "wrong" in words or "swapped" in words)
    yield from [suspect_words(lean.suspect, JOB.figures)] if lean.suspect else []
    for racked in lean.measured:
        yield from (words for words in findings(racked, JOB.figures) if "read finer" not in words)
        if racked.reading.sides:
            fitted = nearest_shape(six_of(racked.reading))
            yield from (words for words in fit_words(fitted, racked, JOB.figures) if "do not fit" in words)


def test_sound_cases_are_never_accused_whatever_readings_are_off_by_up_to_a_division() -> None:
    """600 cases, some thousands of rectangles: half a division from rounding, and as much again from the tape."""
    random, rectangles = Random(20), 0
    for number in range(600):
        found = [measured(random, made, with_sides=number % 3 == 0) for made in case(random)]
        lean = lean_of(body_of(found), tuple(found))
        assert list(accusations(lean)) == []
        assert lean.lean is not None
        assert lean.agreeing == lean.measured
        rectangles += len(found)
    assert rectangles > 2500


def test_half_a_division_would_accuse_most_sound_cases() -> None:
    """So the test above tries what it should: with no more than rounding assumed, they are called wrong."""
    random, accused = Random(20), 0
    for _ in range(40):
        found = [replace(measured(random, made, False), off=Fraction(DIVISION / 2)) for made in case(random)]
        accused += any(accusations(lean_of(body_of(found), tuple(found))))
    assert accused >= 10


def out_of_true(made: Made, by: float) -> Made:
    """A shelf that is let in too low at its right end and too high at its left one."""
    low_left, low_right, (x, y), (left_x, left_y) = made.corners
    return replace(made, corners=[low_left, low_right, (x, y - by), (left_x, left_y + by)])


def test_part_that_is_cut_wrong_well_beyond_the_error_is_always_named() -> None:
    random = Random(21)
    for _ in range(300):
        parts = case(random)
        place = random.randrange(2, len(parts))
        rectangle = parts[place].target.rectangle
        share = float(rectangle.height) / float(rectangle.diagonal_squared) ** 0.5
        parts[place] = out_of_true(parts[place], random.choice([-1, 1]) * random.uniform(14, 30) * DIVISION / share)
        found = [measured(random, made, False) for made in parts]
        lean = lean_of(body_of(found), tuple(found))
        assert [racked.target.name for racked in lean.apart] == [f"part {place}"]
        assert any(f"part {place}" in words for words in accusations(lean))


def misread(racked: Racked, of: str, by: Fraction) -> Racked:
    """The same with one of its readings mistaken."""
    reading = racked.reading
    if of in ("rising", "falling"):
        return replace(racked, reading=replace(reading, **{of: getattr(reading, of) + by}))
    assert reading.sides
    sides = reading.sides._replace(**{of: getattr(reading.sides, of) + by})
    return replace(racked, reading=replace(reading, sides=sides))


@pytest.mark.parametrize("with_sides", [False, True], ids=["diagonals", "sides too"])
def test_single_mistaken_reading_among_enough_is_named_with_what_it_should_be(with_sides: bool) -> None:
    random = Random(22)
    words = ["rising", "falling", *(Sides._fields if with_sides else ())]
    for _ in range(200):
        found = [measured(random, made, with_sides) for made in case(random)]
        place, of = random.randrange(len(found)), random.choice(words)
        right = found[place]
        by = Fraction(random.choice([-10, 10, -25, 20, 15]))
        found[place] = misread(right, of, by)
        lean = lean_of(body_of(found), tuple(found))
        assert lean.suspect is not None
        assert (lean.suspect.racked, lean.suspect.of) == (found[place], of)
        sides = right.reading.sides
        true = getattr(right.reading, of) if of in ("rising", "falling") else getattr(sides, of)
        assert abs(lean.suspect.should - true) <= 3
        said = suspect_words(lean.suspect, JOB.figures)
        assert f"The {of} reading of part {place} is the suspect" in said
        assert abs(float(re.findall(r"should read about ([0-9]+(?:\.[0-9])?)", said)[0]) - float(true)) <= 3.05
        assert found[place] not in lean.agreeing
        assert lean.lean is not None


def test_side_alone_of_one_rectangle_is_named_but_a_diagonal_is_not_guessed() -> None:
    """Six readings have one to spare: a side is told by its opposite, either diagonal could be the wrong one."""
    random = Random(23)
    for _ in range(100):
        right = measured(random, case(random)[0], True)
        side = random.choice(Sides._fields)
        lean = lean_of(body_of([right]), (misread(right, side, Fraction(12)),))
        assert lean.suspect is not None
        assert lean.suspect.of == side
        diagonal = misread(right, random.choice(["rising", "falling"]), Fraction(12))
        assert lean_of(body_of([right]), (diagonal,)).suspect is None


def test_two_rectangles_are_enough_to_name_a_diagonal() -> None:
    random = Random(24)
    for _ in range(100):
        one, other = (measured(random, made, False) for made in case(random)[:2])
        lean = lean_of(body_of([one, other]), (one, misread(other, "falling", Fraction(-10))))
        assert lean.suspect is not None
        assert (lean.suspect.racked.target, lean.suspect.of) == (other.target, "falling")
        assert lean.agreeing == (one,)


def test_assumed_error_is_what_the_shop_says_or_a_division_but_no_less_than_rounding() -> None:
    target = Target(Rectangle("door", Fraction(300), Fraction(400)), DIFFER)
    reading = Reading("door", Fraction(500), Fraction(500), None, "here")
    racked = Racked(target, reading, Fraction(1, 2))
    assert racked.error == Fraction(1, 2)
    assert "taken to be off by up to 0.5 (one division; a shop file may say its own" in error_words(racked, JOB.figures)
    own = replace(racked, off=Fraction(3, 10))
    assert own.error == Fraction(3, 10)
    assert "off by up to 0.3 (as the shop file says)" in error_words(own, JOB.figures)
    assert replace(racked, off=Fraction(1, 10)).error == Fraction(1, 4)


def shop_of(error: str) -> Job:
    return replace(JOB, shop=Shop(square=Squaring(reading_error=Fraction(error))))


def test_larger_error_of_the_shop_accuses_later() -> None:
    random = Random(25)
    made = case(random)
    found = [measured(random, each, False) for each in made]
    found[-1] = misread(found[-1], "rising", Fraction(8))
    assert lean_of(body_of(found), tuple(found)).suspect is not None
    off = shop_of("8").shop
    assert off
    easy = tuple(replace(racked, off=off.square.reading_error) for racked in found)
    assert list(accusations(lean_of(body_of(easy), easy))) == []
