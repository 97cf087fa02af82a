"""Paper sizes, against what is published."""

from __future__ import annotations

import tomllib
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from reportlab.lib import pagesizes

from storystick.job.papers import DEFAULT_PAPER, LONGEST_SIDE, PAPERS, custom_paper
from storystick.lengths import INCH_MM

SOURCES: dict[str, Any] = tomllib.loads(
    (Path(__file__).parent.parent / "shared" / "papers.toml").read_text(encoding="utf-8")
)
PUBLISHED = {name: sides for source in SOURCES["published"] for name, sides in source["sizes"].items()}


@pytest.mark.parametrize("name", PAPERS)
def test_a_paper_is_as_published(name: str) -> None:
    short_side, long_side = map(Fraction, PUBLISHED[name])
    assert (PAPERS[name].short_side, PAPERS[name].long_side) == (short_side, long_side)


@pytest.mark.parametrize("name", PAPERS)
def test_a_paper_in_points_is_as_in_an_independent_library(name: str) -> None:
    paper = PAPERS[name]
    in_points = [float(side / INCH_MM * 72) for side in (paper.short_side, paper.long_side)]
    assert sorted(getattr(pagesizes, name.upper())) == pytest.approx(in_points, abs=1e-4)


def test_a_paper_is_called_what_it_is_found_by() -> None:
    assert all(paper.name == name for name, paper in PAPERS.items())
    assert all(paper in PAPERS.values() for paper in DEFAULT_PAPER.values())


def test_each_size_of_the_series_is_half_of_the_one_before() -> None:
    for larger, smaller in (("A2", "A3"), ("A3", "A4")):
        assert PAPERS[smaller].long_side == PAPERS[larger].short_side
        assert PAPERS[smaller].short_side == PAPERS[larger].long_side // 2


def test_paper_of_any_two_sides_lies_with_the_longer_one_along() -> None:
    assert custom_paper(Fraction(13), Fraction(19), "x") == custom_paper(Fraction(19), Fraction(13), "x")
    assert custom_paper(Fraction(13), Fraction(19), "x").long_side == 19


def test_the_longest_side_is_the_page_limit_in_points() -> None:
    assert LONGEST_SIDE / INCH_MM * 72 == 14_400
