"""Shelves that have to be got in through a face frame: whether they can be tilted in, and what is said if not."""

from __future__ import annotations

from fractions import Fraction
from math import cos, pi, sin
from typing import Final

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storystick.job.sources import Source
from storystick.laying_out import load_sources
from storystick.layout.cabinets.checks import passes

JOB: Final = """
units = "inch"
[stock]
ply = "3/4"
oak = "3/4"
[[cabinet]]
name = "Case"
height = HEIGHT
width = 36
depth = 12
carcass = "ply"
frame = { stock = "oak", stile = STILE, top = "3/4", bottom = "3/4" }
openings = [{ opening = "equal", name = "books", adjustable = SHELVES }]
"""
SHELVES: Final = '{ shelves = 1, first = 2, pitch = 1, front = 2, back = 2, play = "1/8" }'


def warnings(height: str, stile: str) -> tuple[str, ...]:
    text = JOB.replace("HEIGHT", height).replace("STILE", stile).replace("SHELVES", SHELVES)
    return load_sources([Source("job.toml", text.encode())]).warnings


# By hand. The case is 36 - 2 x 3/4 = 34 1/2 wide inside, so the shelf is 34 3/8 long. Stiles of 2 1/2 leave 31 clear
# and the case 6 1/2 - 2 x 3/4 = 5 high: across the corners 31 by 5 has a diagonal of 31.4, less than 34 3/8.
def test_shelf_that_is_longer_than_the_diagonal_of_the_opening_is_a_warning_with_its_figures() -> None:
    (warning,) = warnings('"6 1/2"', '"2 1/2"')
    assert warning.startswith(
        "Case: the adjustable shelves of books cannot be tilted in through the face frame: they are 34 3/8 long and "
        "3/4 thick, and of that thickness 31 by 5 clear lets in "
    )


# By hand. At 45 degrees from the 3-4-5 triangle: a board of length 5 k with no thickness goes through 3 k by 4 k. One
# of 34 3/8 by 3/4, tilted by the angle whose cosine is 4/5, is 34 3/8 x 4/5 + 3/4 x 3/5 = 27.95 wide and
# 34 3/8 x 3/5 + 3/4 x 4/5 = 21.225 high: an opening of 31 by 30 is more than enough.
def test_shelf_that_goes_in_tilted_is_no_warning() -> None:
    assert warnings('"31 1/2"', '"2 1/2"') == ()


def test_shelf_behind_stiles_that_are_flush_inside_is_no_warning() -> None:
    assert warnings('"6 1/2"', '"3/4"') == ()


def test_what_would_do_does() -> None:
    (warning,) = warnings('"6 1/2"', '"2 1/2"')
    clear = warning.partition("let the frame leave ")[2].partition(" clear")[0]
    width = sum(map(Fraction, clear.split()))
    stile = (36 - width) / 2
    assert warnings('"6 1/2"', f'"{stile.numerator}/{stile.denominator}"') == ()
    narrower = stile + Fraction(1, 64)
    assert warnings('"6 1/2"', f'"{narrower.numerator}/{narrower.denominator}"') != ()


SIZES = st.fractions(1, 60, max_denominator=8)


@given(SIZES, SIZES, SIZES, SIZES)
def test_board_passes_just_where_it_does_so_at_some_angle(
    length: Fraction, thickness: Fraction, width: Fraction, height: Fraction
) -> None:
    """Turned in steps of a thousandth of a right angle; what is within half a hundredth of the limit is let be."""
    angles = [pi / 2 * step / 1000 for step in range(1001)]
    spare = max(
        min(
            float(width) - float(length) * cos(angle) - float(thickness) * sin(angle),
            float(height) - float(length) * sin(angle) - float(thickness) * cos(angle),
        )
        for angle in angles
    )
    if abs(spare) > 0.1:
        assert passes(length, thickness, width, height) == (spare > 0)


@pytest.mark.parametrize("sizes", [(10, 1, 10, 1), (1, 10, 10, 1), (14, 2, 12, 12)])
def test_board_that_just_fits_passes(sizes: tuple[int, int, int, int]) -> None:
    """The last across the corners of a square: 14 x cos 45 + 2 x sin 45 = 11.31, less than 12."""
    assert passes(*map(Fraction, sizes))
