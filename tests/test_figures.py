"""How lengths are said to a person: as labels, and as limits that hold when they are followed."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from storystick.lengths import INCH_MM, Figures, Units, read_length

INCHES = Figures(Units.INCH, INCH_MM / 64)
MILLIMETRES = Figures(Units.MM, Fraction(1, 10))
LENGTHS = st.fractions(0, 5000, max_denominator=1000)


def test_a_figure_is_a_label() -> None:
    assert INCHES(Fraction(23, 32) * INCH_MM) == "23/32"
    assert INCHES(Fraction(141, 200) * INCH_MM) == "45/64 full"
    assert MILLIMETRES(Fraction("6.15")) == "6.2 scant"


@given(LENGTHS)
def test_a_limit_that_is_followed_holds(limit: Fraction) -> None:
    for figures in (INCHES, MILLIMETRES):
        most, least = (read_length(text, figures.units) for text in (figures.at_most(limit), figures.at_least(limit)))
        assert most <= limit <= least
        assert least - most <= figures.step
