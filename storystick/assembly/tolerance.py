"""How much the two diagonals of a rectangle may differ by, in mm, and how finely differences are said."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from storystick.job.model import Job
from storystick.job.rectangles import Rectangle
from storystick.job.shop import Shop
from storystick.lengths import DEFAULT_STEP, INCH_MM, Figures, Units

LONGEST_OF_A_CASE: Final = {Units.INCH: 80 * INCH_MM, Units.MM: Fraction(2000)}
"""Up to this diagonal the smaller difference is usual, beyond it the larger one, in mm."""

_USUAL: Final = {Units.INCH: (INCH_MM / 32, INCH_MM / 16), Units.MM: (Fraction(4, 5), Fraction(8, 5))}


def tolerance_of(rectangle: Rectangle, shop: Shop | None, units: Units) -> Fraction:
    """What the shop says, else 1/32 in (0.8 mm) for a diagonal up to 80 in (2 m) and 1/16 in (1.6 mm) beyond.

    These are common practice, no source.
    """
    if shop and shop.square is not None:
        return shop.square
    small, large = _USUAL[units]
    return small if rectangle.diagonal_squared <= LONGEST_OF_A_CASE[units] ** 2 else large


def reading_figures(job: Job) -> Figures:
    """How what is measured is said: a job's own step may be as coarse as what readings differ by."""
    return Figures(job.units, min(job.round_to, DEFAULT_STEP[job.units]))


def write_limit(limit: Fraction, job: Job) -> str:
    """A difference (mm) that may be so large, for a person: never more than it is, and at least three fourths of it."""
    figures = reading_figures(job)
    while 4 * (limit // figures.step) * figures.step < 3 * limit:
        figures = Figures(figures.units, figures.step / 2)
    return figures.at_most(limit)


def differ_words(rectangle: Rectangle, job: Job) -> str:
    """By how much the diagonals of a rectangle may differ."""
    return write_limit(tolerance_of(rectangle, job.shop, job.units), job)
