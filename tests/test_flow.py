"""Blocks on pages: what stays together, what is repeated, how large and how heavy it is."""

from __future__ import annotations

from typing import Final

import pytest
from lettering_boxes import text_boxes

from storystick.drawing.shapes import Line, Shape, Text
from storystick.sheets.pages.flow import (
    HEADING_PT,
    TEXT_PT,
    TITLE_PT,
    Block,
    Column,
    heading,
    paginate,
    paragraph,
    table,
    titled,
)

WIDTH: Final = 180.0
COLUMNS: Final = (Column("part", 1), Column("length", right=True))


def rows(number: int) -> list[tuple[str, str]]:
    return [(f"shelf {place}", f"{place} 1/2") for place in range(1, number + 1)]


def words(page: tuple[Shape, ...]) -> list[str]:
    return [shape.text for shape in page if isinstance(shape, Text)]


@pytest.mark.parametrize(("size_pt", "capital_mm"), [(TEXT_PT, 2.5), (HEADING_PT, 3.5), (TITLE_PT, 5.0)])
@pytest.mark.parametrize("bold", [False, True])
def test_lettering_has_the_heights_of_drawing_standards(size_pt: float, capital_mm: float, bold: bool) -> None:
    """ISO 3098-1:2015, nominal sizes: 2.5, 3.5 and 5 mm. An H is measured in the font itself."""
    (box,) = text_boxes([Text(0.0, 0.0, "H", size_pt, bold=bold)])
    assert box.top == pytest.approx(capital_mm, abs=0.001)


@pytest.mark.parametrize("before_mm", range(0, 60, 3))
@pytest.mark.parametrize("number", [2, 3, 4, 9])
def test_no_row_of_a_table_stands_alone_on_a_page(before_mm: int, number: int) -> None:
    blocks = [Block(float(before_mm) + 0.1, (Line(0.0, 0.0, 1.0, 0.0),)), *table(COLUMNS, rows(number), WIDTH)]
    for page in paginate(blocks, 60.0):
        assert sum(word.startswith("shelf") for word in words(page)) != 1


def test_a_table_goes_on_under_its_name_and_its_head() -> None:
    pages = paginate(titled("Chest", table(COLUMNS, rows(30), WIDTH), WIDTH), 60.0)
    assert len(pages) > 2
    assert words(pages[0])[:3] == ["Chest", "part", "length"]
    assert all(words(page)[:3] == ["Chest, continued", "part", "length"] for page in pages[1:])
    assert [word for page in pages for word in words(page) if word.startswith("shelf")] == [
        name for name, _ in rows(30)
    ]


def test_words_above_a_table_stay_with_its_first_rows() -> None:
    own = titled("Chest", [*paragraph("Sizes.", WIDTH), *table(COLUMNS, rows(30), WIDTH)], WIDTH)
    for before in range(20, 60, 2):
        pages = paginate([Block(float(before), (Line(0.0, 0.0, 1.0, 0.0),)), *own], 60.0)
        (page,) = (page for page in pages if "Sizes." in words(page))
        assert {"Chest", "shelf 1", "shelf 2"} <= set(words(page))


def test_rule_under_a_head_is_twice_as_heavy_as_one_between_rows_or_more() -> None:
    head, *others = (
        shape.width_mm
        for block in table(COLUMNS, rows(3), WIDTH)
        for shape in block.shapes[-1:]
        if isinstance(shape, Line)
    )
    assert head == 0.5
    assert others == [0.18] * 3


def test_what_must_stay_together_and_is_higher_than_a_page_fills_pages_all_the_same() -> None:
    line = Block(10.0, (Line(0.0, 0.0, 1.0, 0.0),), keeps_next=True)
    pages = [len(page) for page in paginate([line] * 25, 100.0)]
    assert (sum(pages), len(pages), max(pages)) == (25, 3, 10)


def test_a_gap_begins_no_page() -> None:
    assert len(paginate([*paragraph("a", WIDTH), Block(50.0, ())], 20.0)) == 1
    assert len(paginate([*paragraph("a", WIDTH), Block(50.0, ()), heading("b", WIDTH)], 20.0)) == 2
