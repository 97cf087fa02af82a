"""Lengths that are square roots, such as diagonals: as near as is asked, decided exactly. All in mm."""

from __future__ import annotations

from fractions import Fraction
from math import isqrt
from typing import Final

from storystick.lengths import Units, write_exact

_FINEST: Final = 10**15


def root(square: Fraction) -> Fraction:
    """The square root of ``square`` (mm²), never more than 1e-15 mm below it.

    Raises:
        ValueError: ``square`` is negative.
    """
    if square < 0:
        raise ValueError(f"{square} has no square root")
    return Fraction(isqrt(square.numerator * _FINEST**2 // square.denominator), _FINEST)


def nearest_root(square: Fraction, step: Fraction) -> Fraction:
    """The multiple of ``step`` (mm) that is nearest the square root of ``square`` (mm²), a tie to the even one."""
    steps = square / step**2
    below = isqrt(steps.numerator // steps.denominator)
    middle = (below + Fraction(1, 2)) ** 2
    return (below + (steps > middle or (steps == middle and below % 2 == 1))) * step


def write_root(square: Fraction, units: Units, step: Fraction) -> str:
    """The square root of ``square`` (mm²) in ``units`` to the nearest ``step`` (mm), for a printed label.

    "full" follows where the exact length is more than the label says, "scant" where it is less.
    """
    rounded = nearest_root(square, step)
    drift = "" if rounded**2 == square else " full" if square > rounded**2 else " scant"
    return write_exact(rounded, units) + drift
