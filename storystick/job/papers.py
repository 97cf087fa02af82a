"""Paper that a job can name. Sizes are exact, in mm."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.lengths import INCH_MM, Units

LONGEST_SIDE: Final = Fraction(5080)
"""No side of a sheet is longer, in mm: 200 in, or 14,400 points of 1/72 in, the page limit that a widely used
reader keeps (PDF Reference 1.6, implementation notes)."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper, in mm, held with its long side running the way the strips run.

    Of a ``roll``, ``short_side`` is the width; sheets are cut off it as long as they need to be, up to ``long_side``.
    """

    name: str
    long_side: Fraction
    short_side: Fraction
    roll: bool = False


@dataclass(frozen=True, slots=True)
class Margins:
    """What the printer cannot reach, in mm, at each side of a sheet as it is looked at."""

    left: Fraction
    right: Fraction
    top: Fraction
    bottom: Fraction


def custom_paper(width: Fraction, height: Fraction, name: str) -> Paper:
    """Paper of any two sides, in mm."""
    return Paper(name, max(width, height), min(width, height))


def roll_paper(width: Fraction, name: str) -> Paper:
    """A roll of paper ``width`` mm wide."""
    return Paper(name, LONGEST_SIDE, width, roll=True)


def _named(name: str, short_side: str, long_side: str, unit: Fraction = Fraction(1)) -> Paper:
    return custom_paper(Fraction(short_side) * unit, Fraction(long_side) * unit, name)


PAPERS: Final = {
    paper.name: paper
    for paper in (
        # ISO 216, A series.
        _named("A4", "210", "297"),
        _named("A3", "297", "420"),
        _named("A2", "420", "594"),
        # North American sizes, in inches.
        _named("Letter", "8.5", "11", INCH_MM),
        _named("Legal", "8.5", "14", INCH_MM),
        _named("Tabloid", "11", "17", INCH_MM),
    )
}

DEFAULT_PAPER: Final = {Units.INCH: PAPERS["Letter"], Units.MM: PAPERS["A4"]}
DEFAULT_MARGIN: Final = {Units.INCH: Fraction(3, 8) * INCH_MM, Units.MM: Fraction(10)}
