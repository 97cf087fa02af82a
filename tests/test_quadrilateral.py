"""Corners from four sides and two diagonals."""

from __future__ import annotations

from itertools import combinations
from typing import Final

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from storystick.errors import Fault
from storystick.squaring.corners import Six, nearest_shape

PAIRS: Final = list(combinations(range(4), 2))

moves: Final = st.lists(st.floats(-20, 20), min_size=8, max_size=8)
sizes: Final = st.integers(300, 2500)


def shape(width: int, height: int, by: list[float]) -> NDArray[np.float64]:
    """A rectangle with its corners moved, from the lower left one round to the upper left."""
    return np.array([[0, 0], [width, 0], [width, height], [0, height]]) + np.array(by).reshape(4, 2)


def six_of(corners: NDArray[np.float64]) -> Six:
    return Six(*(float(np.linalg.norm(corners[i] - corners[j])) for i, j in PAIRS))


def laid_along_the_bottom(corners: NDArray[np.float64]) -> NDArray[np.float64]:
    """The same shape with its lower left corner at 0, 0 and its bottom along x."""
    along = (corners[1] - corners[0]) / np.linalg.norm(corners[1] - corners[0])
    turn = np.array([along, [-along[1], along[0]]])
    turned: NDArray[np.float64] = (corners - corners[0]) @ turn.T
    return turned


def cayley_menger(six: Six) -> float:
    """The determinant that is nothing for four points in a plane, of distances as shares of the longest."""
    matrix = np.ones((5, 5)) - np.eye(5)
    for (i, j), length in zip(PAIRS, six, strict=True):
        matrix[i, j] = matrix[j, i] = (length / max(six)) ** 2
    return float(np.linalg.det(matrix))


def least_squares_by_corners(six: Six, start: NDArray[np.float64]) -> NDArray[np.float64]:
    """The distances of the nearest shape, found another way: by moving its corners, after Gauss and Newton."""
    corners = start.copy()
    for _ in range(40):
        rows = np.zeros((6, 8))
        for row, (i, j) in enumerate(PAIRS):
            toward = (corners[i] - corners[j]) / np.linalg.norm(corners[i] - corners[j])
            rows[row, 2 * i : 2 * i + 2], rows[row, 2 * j : 2 * j + 2] = toward, -toward
        corners = corners + np.linalg.lstsq(rows, np.array(six) - np.array(six_of(corners)), rcond=None)[0].reshape(
            4, 2
        )
    return np.array(six_of(corners))


@given(sizes, sizes, moves)
def test_exact_distances_give_the_corners_back(width: int, height: int, by: list[float]) -> None:
    corners = shape(width, height, by)
    fitted = nearest_shape(six_of(corners))
    assert np.allclose(np.array(fitted.corners), laid_along_the_bottom(corners), atol=1e-6)
    assert max(map(abs, fitted.corrections)) < 1e-6
    assert fitted.unfit < 1e-6


@given(sizes, sizes, moves, st.lists(st.floats(-2, 2), min_size=6, max_size=6))
def test_corrections_are_the_least_that_make_a_plane_shape(
    width: int, height: int, by: list[float], slips: list[float]
) -> None:
    corners = shape(width, height, by)
    read = Six(*(length + slip for length, slip in zip(six_of(corners), slips, strict=True)))
    fitted = nearest_shape(read)
    true = Six(*(length + more for length, more in zip(read, fitted.corrections, strict=True)))
    assert abs(cayley_menger(true)) < 1e-9
    assert np.allclose(six_of(np.array(fitted.corners)), true, atol=1e-6)
    assert np.allclose(true, least_squares_by_corners(read, corners), atol=1e-5)
    assert sum(x**2 for x in fitted.corrections) <= sum(slip**2 for slip in slips) + 1e-9


@given(sizes, sizes, moves, st.sampled_from(Six._fields), st.sampled_from([-6.0, 6.0]))
def test_one_slip_shows_and_is_told_by_what_that_reading_alone_should_be(
    width: int, height: int, by: list[float], name: str, slip: float
) -> None:
    true = six_of(shape(width, height, by))
    fitted = nearest_shape(true._replace(**{name: getattr(true, name) + slip}))
    assert fitted.unfit > 0.25  # half a division of 0.5 mm
    assert getattr(fitted.alone, name) == pytest.approx(-slip, rel=0.1)


@given(sizes, sizes, moves, st.lists(st.floats(-0.25, 0.25), min_size=6, max_size=6))
def test_rounding_alone_never_looks_like_a_slip(width: int, height: int, by: list[float], slips: list[float]) -> None:
    true = six_of(shape(width, height, by))
    assert nearest_shape(Six(*(a + b for a, b in zip(true, slips, strict=True)))).unfit <= 0.2501


def test_distances_of_no_shape_are_a_fault() -> None:
    with pytest.raises(Fault) as caught:
        nearest_shape(Six(100.0, 300.0, 100.0, 100.0, 300.0, 100.0))
    assert str(caught.value) == "no four-sided shape has these sides and diagonals; measure all six again."
