"""Figures with their fractions built up, measured on their shapes and against the outlines of the fonts."""

from __future__ import annotations

from typing import Final

import pytest
from fontTools.ttLib import TTFont
from lettering_boxes import colliding, text_boxes

from storystick.drawing.built_up import BuiltUp
from storystick.drawing.lettering import (
    CAPITAL_EM,
    NAME_MM,
    POINT_MM,
    SIZE_MM,
    STATION_MM,
    font_file,
    points_of,
)
from storystick.drawing.shapes import Anchor, Line, Text, extent

LABELS: Final = (
    "16 53/64 full",
    "1 15/16",
    "23/32",
    "300",
    "318.3",
    "5 1/2 scant",
    "-1/2",
    "-3 1/4",
    "under 1/64",
    "44 1/2; 50 3/8",
)
HEIGHTS: Final = (NAME_MM, SIZE_MM, STATION_MM)


def texts(figure: BuiltUp) -> dict[str, Text]:
    return {shape.text: shape for shape in figure.shapes(0.0, 0.0) if isinstance(shape, Text)}


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("letter", "HIEZ147")
def test_capitals_and_figures_of_the_fonts_are_as_high_as_is_said(letter: str, bold: bool) -> None:
    """The font's own table says it, and so do the outlines of letters that end level."""
    with font_file(bold).open("rb") as stream, TTFont(stream) as font:
        em, name = font["head"].unitsPerEm, font.getBestCmap()[ord(letter)]
        assert font["glyf"][name].yMax / em == pytest.approx(CAPITAL_EM, abs=1e-3)
        assert getattr(font["OS/2"], "sCapHeight", font["glyf"]["H"].yMax) / em == pytest.approx(CAPITAL_EM, abs=1e-3)


def test_heights_are_those_of_drawing_standards_and_nothing_is_smaller() -> None:
    """ISO 3098: 1,8, 2,5, 3,5, 5 and 7 mm, each the square root of 2 times the one before."""
    assert HEIGHTS == (2.5, 3.5, 5.0)
    assert points_of(5.0) * POINT_MM * CAPITAL_EM == pytest.approx(5.0)


@pytest.mark.parametrize(("height", "of_fraction"), [(STATION_MM, SIZE_MM), (SIZE_MM, NAME_MM), (NAME_MM, NAME_MM)])
def test_numerator_stands_over_a_bar_over_the_denominator_one_rank_smaller(height: float, of_fraction: float) -> None:
    figure = BuiltUp("16 53/64 full", height, bold=True)
    found = texts(figure)
    (bar,) = [shape for shape in figure.shapes(0.0, 0.0) if isinstance(shape, Line)]
    assert found.keys() == {"16", "53", "64", "full"}
    sizes = {text: shape.size_pt * POINT_MM * CAPITAL_EM for text, shape in found.items()}
    assert sizes == pytest.approx({"16": height, "53": of_fraction, "64": of_fraction, "full": NAME_MM})
    assert found["53"].x == found["64"].x
    assert bar.y1 == bar.y2 == height / 2
    assert found["53"].y > bar.y1 > found["64"].y + of_fraction
    assert bar.x1 < found["53"].x < bar.x2
    assert [found[text].bold for text in ("16", "53", "64", "full")] == [True, True, True, False]


@pytest.mark.parametrize("label", LABELS)
@pytest.mark.parametrize("height", HEIGHTS)
@pytest.mark.parametrize("upward", [False, True])
@pytest.mark.parametrize("anchor", list(Anchor))
def test_figure_takes_no_more_room_than_it_says(label: str, height: float, upward: bool, anchor: Anchor) -> None:
    figure = BuiltUp(label, height)
    place = figure.reach(100.0, 50.0, anchor, upward)
    along = (place.top - place.bottom, place.right - place.left)[:: 1 if upward else -1][0]
    assert along == pytest.approx(figure.width_mm)
    round_figures = 0.02 * height / CAPITAL_EM  # A 0 goes so far beyond the height of an H, above and below.
    room = place.wider(round_figures)
    shapes = tuple(figure.shapes(100.0, 50.0, anchor, upward))
    boxes = text_boxes(shapes)
    assert boxes
    assert all(room.left <= box.left and box.right <= room.right for box in boxes)
    assert all(room.bottom <= box.bottom and box.top <= room.top for box in boxes)
    assert colliding(boxes) == []
    bars = [shape for shape in shapes if isinstance(shape, Line)]
    strokes = [bar.extent.wider(-bar.width_mm / 2) for bar in bars]
    assert all(stroke.lies_in(room) for stroke in strokes)
    assert not [box for bar in bars for box in boxes if box.meets(*bar.extent)]


def test_upward_figure_is_the_level_one_turned_a_quarter_anticlockwise() -> None:
    level, turned = (list(BuiltUp("5 1/2", SIZE_MM).shapes(0.0, 0.0, Anchor.START, upward)) for upward in (False, True))
    for one, other in zip(level, turned, strict=True):
        if isinstance(one, Text) and isinstance(other, Text):
            assert (other.x, other.y, other.text, other.upward) == (-one.y, one.x, one.text, True)
        elif isinstance(one, Line) and isinstance(other, Line):
            assert (other.x1, other.y1, other.x2, other.y2) == (-one.y1, one.x1, -one.y2, one.x2)


def test_whole_number_has_nothing_below_its_line_and_is_as_high_as_it_is_told() -> None:
    figure = BuiltUp("300", STATION_MM)
    assert (figure.above_mm, figure.below_mm) == (5.0, 0.0)
    assert extent(figure.shapes(0.0, 0.0)).right == pytest.approx(figure.width_mm)


@pytest.mark.parametrize("label", LABELS)
@pytest.mark.parametrize("height", HEIGHTS)
def test_fraction_in_one_line_takes_no_more_room_than_it_says(label: str, height: float) -> None:
    figure = BuiltUp(label, height, in_line=True)
    # An l goes a little beyond the height of a capital.
    room = figure.reach(0.0, 0.0).wider(0.02 * height / CAPITAL_EM + 0.1)
    boxes = text_boxes(figure.shapes(0.0, 0.0))
    assert all(room.bottom <= box.bottom and box.top <= room.top for box in boxes)
    assert not [shape for shape in figure.shapes(0.0, 0.0) if isinstance(shape, Line)]


def test_height_that_is_no_rank_is_refused() -> None:
    with pytest.raises(ValueError, match="4 mm is none of the heights"):
        BuiltUp("300", 4)


def test_a_fraction_in_line_stands_well_apart_from_its_number() -> None:
    """So far that 17 61/64 is not read as 1761/64: more than half as far as a figure is high."""
    whole, fraction, *_ = (shape for shape in BuiltUp("17 61/64", SIZE_MM, bold=True, in_line=True).shapes(0.0, 0.0))
    assert isinstance(whole, Text)
    assert isinstance(fraction, Text)
    assert (whole.text, fraction.text) == ("17", "61/64")
    assert fraction.x - whole.x - whole.width_mm > SIZE_MM / 2
