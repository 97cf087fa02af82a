"""How an amount that may be lost is said: never less than it is."""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import Final

from storystick.lengths import DEFAULT_STEP, Units, write_exact

EXAMPLES: Final = (Fraction(1000), Fraction(2400))
"""The lengths, in mm, of the strips whose error is said: 1 m, and about that of a sheet of plywood, 2.4 m."""

_TENTH: Final = Fraction(1, 10)


def upward(amount: Fraction, units: Units) -> str:
    """``amount`` (mm), rounded up to 0.1 mm; in an inch job to 1/64 in as well, with the mm beside it."""
    in_mm = f"{write_exact(_up(amount, _TENTH), Units.MM)} mm"
    if units is Units.MM:
        return in_mm
    return f"{write_exact(_up(amount, DEFAULT_STEP[units]), units)} in ({in_mm})"


def upward_percent(share: Fraction) -> str:
    """``share`` in per cent, rounded up to 0.01."""
    return f"{float(_up(share * 100, Fraction(1, 100))):.2f} %"


def _up(amount: Fraction, step: Fraction) -> Fraction:
    return ceil(amount / step) * step
