"""Where the four corners are, from four measured sides and two diagonals. Floats, in mm.

Four points in a plane have five lengths of their own, so the sixth is a check: the six fit one condition, which says
that the four points lie in one plane (their Cayley-Menger determinant is nothing). They are corrected so that they do,
with the least sum of squared corrections; this is the adjustment of conditioned observations, after Gauss.

Least squares needs roots, so this is done in floats; the rack needs none and is exact.
"""

from __future__ import annotations

from itertools import combinations
from math import dist, sqrt
from typing import Final, NamedTuple

from storystick.errors import Fault
from storystick.squaring.readings import Reading

_MOST_ROUNDS: Final = 60
_SETTLED_MM: Final = 1e-10

Corner = tuple[float, float]


class Corners(NamedTuple):
    """The corners, in mm from the lower left one, x along the bottom to the right and y up."""

    lower_left: Corner
    lower_right: Corner
    upper_right: Corner
    upper_left: Corner


class Six(NamedTuple):
    """One number for each distance between two corners."""

    bottom: float
    rising: float
    left: float
    right: float
    falling: float
    top: float


class Quadrilateral(NamedTuple):
    """The shape that is nearest to what was measured.

    ``corrections`` make the readings fit. ``alone`` says by how much each would have to be corrected if all the others
    were right. ``unfit`` is the least that all of the readings must be off by, one or the other way, to fit.
    """

    corners: Corners
    corrections: Six
    alone: Six
    unfit: float


def six_of(reading: Reading) -> Six:
    """The six distances of a reading that has its sides.

    Raises:
        ValueError: it has no sides.
    """
    if reading.sides is None:
        raise ValueError(f"{reading.name} was measured without its sides")
    return Six(**{name: float(length) for name, length in reading.lengths.items()})


def shape_of(reading: Reading) -> Quadrilateral | None:
    """Where the corners of a reading are, None where its sides were not measured.

    Raises:
        Fault: no shape is near it.
    """
    return nearest_shape(six_of(reading)) if reading.sides else None


def nearest_shape(measured: Six) -> Quadrilateral:
    """The shape whose six distances are nearest to the measured ones, by the sum of squared corrections.

    Raises:
        Fault: no shape is near them.
    """
    found, unfit, slope = measured, 0.0, measured
    for number in range(_MOST_ROUNDS):
        corners = _place(found)
        slope = _slope(corners)
        gap = dist(corners.upper_left, corners.upper_right) - found.top
        misfit = gap + sum(each * (true - now) for each, true, now in zip(slope, measured, found, strict=True))
        scale = -misfit / sum(each * each for each in slope)
        better = Six(*(true + scale * each for true, each in zip(measured, slope, strict=True)))
        moved = max(abs(new - old) for new, old in zip(better, found, strict=True))
        found, unfit = better, abs(misfit) / sum(map(abs, slope))
        # The first round starts from readings that no shape has, so that its slope is not yet the shape's.
        if number and moved < _SETTLED_MM:
            corrections = Six(*(new - read for new, read in zip(found, measured, strict=True)))
            alone = Six(*(-misfit / each for each in slope))
            return Quadrilateral(_place(found), corrections, alone, unfit)
    raise _no_shape()


def _place(six: Six) -> Corners:
    """The corners by all distances but the top, the upper ones above the bottom."""
    upper_right = _above(six.bottom, six.rising, six.right)
    upper_left = _above(six.bottom, six.left, six.falling)
    return Corners((0.0, 0.0), (six.bottom, 0.0), upper_right, upper_left)


def _above(base: float, from_left: float, from_right: float) -> Corner:
    """The point above a base on the x axis, by its distances from the base's ends."""
    across = (base**2 + from_left**2 - from_right**2) / (2 * base)
    height_squared = from_left**2 - across**2
    if height_squared <= 0:
        raise _no_shape()
    return across, sqrt(height_squared)


def _no_shape() -> Fault:
    return Fault("no four-sided shape has these sides and diagonals", "measure all six again")


def _slope(corners: Corners) -> Six:
    """How much the gap at the top, computed less measured, grows with each of the six distances.

    Four points in a plane are bound by numbers a with Σ a = 0 and Σ a·p = 0, which are the areas of the triangles
    without each, in turn with their signs. Then Σ aᵢ·aⱼ·dᵢⱼ² = 0 over all pairs, and small changes of the distances
    keep to a plane where Σ aᵢ·aⱼ·dᵢⱼ·Δdᵢⱼ = 0.
    """
    areas = [(-1) ** place * _area(*(corners[:place] + corners[place + 1 :])) for place in range(4)]
    # Pairs of corners, in the order that they are named in, come in the order of the six distances.
    pulls = [areas[i] * areas[j] * dist(corners[i], corners[j]) for i, j in combinations(range(4), 2)]
    if not all(pulls):
        raise _no_shape()
    return Six(*(-pull / pulls[-1] for pull in pulls))


def _area(a: Corner, b: Corner, c: Corner) -> float:
    return ((b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1])) / 2
