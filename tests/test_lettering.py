"""Widths of lettering, against a second reader of the same fonts."""

from __future__ import annotations

import json

import pytest
from measure_fonts import FONTS, table
from reportlab.pdfbase.ttfonts import TTFont

from storystick.drawing.lettering import POINT_MM, font_file, text_width_mm
from storystick.drawing.shapes import Text
from storystick.errors import StorystickError

LETTERS = "Story stick 13 23/32 ½ ¼ Ωμέγα Полка Öffnung “×”"


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("text", ["", " ", "i", LETTERS, *LETTERS.split()])
def test_width_agrees_with_another_reader_of_the_font(text: str, bold: bool) -> None:
    with font_file(bold).open("rb") as stream:
        other = TTFont("other reader", stream)
    # The other reader keeps whole thousandths of the size for each character.
    allowed = 0.001 * 9 * POINT_MM * len(text) + 1e-12
    assert text_width_mm(text, 9, bold) == pytest.approx(other.stringWidth(text, 9) * POINT_MM, abs=allowed)


def test_width_grows_with_the_size() -> None:
    assert text_width_mm("shelf", 16) == pytest.approx(2 * text_width_mm("shelf", 8))


def test_bold_is_wider() -> None:
    assert text_width_mm("shelf", 8, bold=True) > text_width_mm("shelf", 8)


@pytest.mark.parametrize("bold", [False, True])
def test_missing_characters_are_a_fault_that_names_them(bold: bool) -> None:
    with pytest.raises(StorystickError) as caught:
        text_width_mm("a漆b棚", 9, bold)
    assert (
        str(caught.value) == '"a漆b棚" has letters that cannot be printed: 棚漆; write it in Latin, Greek or Cyrillic.'
    )


def test_table_of_widths_is_that_of_the_fonts() -> None:
    assert json.loads((FONTS / "advances.json").read_bytes()) == table()


@pytest.mark.parametrize(("across", "up"), [(0.5, 2.0), (2.0, 0.5)])
def test_letters_that_are_scaled_keep_to_the_room_that_they_were_given(across: float, up: float) -> None:
    text = Text(10.0, 20.0, "shelf", 8.0)
    assert text.scaled(across, up) == Text(10.0 * across, 20.0 * up, "shelf", 4.0)
