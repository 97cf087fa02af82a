"""The title block: fields on one grid, legible, under rules of two widths."""

from __future__ import annotations

import pytest
from lettering_boxes import colliding, text_boxes

from storystick.drawing.lettering import NAME_MM, SIZE_MM, STATION_MM, points_of
from storystick.drawing.shapes import Line, Rect, Shape, Text
from storystick.sheets.pages.title_block import Field, title_block

WIDTH = 180.0
ROWS = (
    (Field("job", "Herbarium chest", 4, STATION_MM), Field("version", "3f9a1c", 2)),
    (
        Field("cabinets", "Base 1, Base 3 (2 alike)", 3, SIZE_MM),
        Field("scale", "1 : 10", 1, SIZE_MM),
        Field("date", "", 2),
    ),
    (Field("a label that is far too long for so narrow a cell as this one is", "x", 1), Field("note", "word " * 90, 5)),
)


def drawn() -> tuple[Shape, ...]:
    return title_block(ROWS, WIDTH).shapes


def test_rules_are_two_to_one_and_the_block_is_as_wide_and_high_as_it_says() -> None:
    block = title_block(ROWS, WIDTH)
    lines = [shape for shape in block.shapes if isinstance(shape, Line)]
    assert {line.width_mm for line in lines} == {0.25, 0.5}
    assert len([line for line in lines if line.width_mm == 0.5]) == 4
    inks = [line.extent for line in lines]
    assert min(ink.left for ink in inks) == pytest.approx(0.0)
    assert max(ink.right for ink in inks) == pytest.approx(WIDTH)
    assert max(ink.top for ink in inks) == pytest.approx(0.0)
    assert min(ink.bottom for ink in inks) == pytest.approx(-block.height_mm)


def test_words_stand_in_their_cells_clear_of_rules_and_of_each_other() -> None:
    shapes = drawn()
    boxes = text_boxes(shapes)
    assert colliding(boxes) == []
    rules = [shape.extent for shape in shapes if isinstance(shape, Line)]
    for box in boxes:
        assert not any(Rect(*box[:4]).meets(rule) for rule in rules), box.text


def test_cells_of_rows_with_as_many_columns_lie_on_one_grid() -> None:
    upright = {line.x1 for line in drawn() if isinstance(line, Line) and line.x1 == line.x2 and line.width_mm == 0.25}
    assert {round(x / (WIDTH / 6), 9) for x in upright} == {1.0, 3.0, 4.0}


def test_lettering_has_the_heights_of_its_ranks() -> None:
    """Measured on the outline of a capital, from the font itself."""
    for height in (NAME_MM, SIZE_MM, STATION_MM):
        (box,) = text_boxes([Text(0.0, 0.0, "H", points_of(height))])
        assert box.top == pytest.approx(height, abs=0.001)
    values = {text.text: text.size_pt for text in drawn() if isinstance(text, Text) and text.bold}
    assert values["Herbarium chest"] == points_of(STATION_MM)
    assert min(values.values()) == points_of(NAME_MM)


def test_long_value_goes_on_below_and_ends_in_an_ellipsis_after_its_third_line() -> None:
    lines = [text for text in drawn() if isinstance(text, Text) and text.text.startswith("word")]
    assert len(lines) == 3
    assert lines[-1].text.endswith("…")


def test_field_without_a_value_has_room_to_be_written_in() -> None:
    block = title_block(((Field("date"),),), 60.0)
    assert [shape.text for shape in block.shapes if isinstance(shape, Text)] == ["date"]
    assert block.height_mm > 9.0


@pytest.mark.parametrize("width", [120.0, 140.0, 168.0, 182.0])
def test_a_word_that_has_no_room_in_its_columns_takes_some_of_others(width: float) -> None:
    values = ("Canal kitchen", "third angle", "millimetres", "3f9a1c", "10 of 12")
    row = [Field("of it", value, columns) for value, columns in zip(values, (9, 4, 3, 3, 3), strict=True)]
    block = title_block([row], width)
    words = " ".join(shape.text for shape in block.shapes if isinstance(shape, Text))
    assert all(word in words for value in values for word in value.split(" "))
    assert "…" not in words
    assert colliding(text_boxes(block.shapes)) == []
    assert max(shape.extent.right for shape in block.shapes) == pytest.approx(width)
