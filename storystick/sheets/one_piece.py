"""What stands above a thing in one piece for cutters and plotters: how to check an import, what the outline is.

All of it lies above the drawing, so that x = 0 and y = 0 stay where they are.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Final

from storystick.drawing.lettering import NAME_MM, WORDS_PT, text_width_mm, wrapped
from storystick.drawing.shapes import Rect, Shape, Text
from storystick.lengths import Figures, Units
from storystick.sheets.document import Page

SQUARE_MM: Final = 50
_LINE_MM: Final = 4.2
_INSET_MM: Final = 3.0
_ABOVE_MM: Final = 4.0

_OUTLINE_WORDS: Final = ("Cut on the outline: finished size,", "kerf not compensated")
_HOW_TO_CHECK: Final = (
    "Measure it after the import, both ways. If it is not {size}, scale the whole drawing until it is."
)


def with_notes(page: Page, figures: Figures, check_square: bool) -> Page:
    """A page of something to cut with words on its outline above it, and a check square; any other as it is."""
    if not page.cut:
        return page
    around, outline = -page.left_mm, page.cut[0].points
    left = min(x for x, _ in outline)
    bottom = page.bottom_mm + page.height_mm - around + _ABOVE_MM
    room = page.width_mm - 2 * around
    words = tuple(_outline_words(left, bottom, room))
    top = bottom + len(words) * _LINE_MM
    square = tuple(_check_square(left, top, figures)) if check_square else ()
    top += SQUARE_MM if check_square else 0.0
    shapes = (*square, *words)
    right = max(room, *(shape.extent.right for shape in shapes))
    return replace(
        page,
        width_mm=max(page.width_mm, right + 2 * around),
        height_mm=top + around - page.bottom_mm,
        shapes=(*page.shapes, *shapes),
    )


def _outline_words(left: float, baseline: float, room: float) -> Iterator[Text]:
    """In one line where there is room, else in two."""
    whole = " ".join(_OUTLINE_WORDS)
    lines = (whole,) if text_width_mm(whole, WORDS_PT) <= room else _OUTLINE_WORDS
    for number, line in enumerate(reversed(lines)):
        yield Text(left, baseline + number * _LINE_MM, line, WORDS_PT)


def _check_square(left: float, bottom: float, figures: Figures) -> Iterator[Shape]:
    """A square with its lower left corner there; its lines are centred on its sides."""
    yield Rect(left, bottom, left + SQUARE_MM, bottom + SQUARE_MM).traced()
    size = f"{SQUARE_MM}\u00a0mm"
    in_units = [f"{figures.units.value}: {figures(Fraction(SQUARE_MM))}"] if figures.units is not Units.MM else []
    how = wrapped(_HOW_TO_CHECK.format(size=size), WORDS_PT, SQUARE_MM - 2 * _INSET_MM)
    x, top = left + _INSET_MM, bottom + SQUARE_MM - _INSET_MM - NAME_MM
    yield Text(x, top, "CHECK SQUARE", WORDS_PT, bold=True)
    for number, line in enumerate([f"{size} each way", *in_units, "", *how], start=1):
        if line:
            yield Text(x, top - number * _LINE_MM, line, WORDS_PT)
