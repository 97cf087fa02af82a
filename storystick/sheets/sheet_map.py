"""Sheets at a glance, reduced, with their tiles in place. Not for measuring."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from storystick.drawing.lettering import shortened
from storystick.drawing.shapes import Anchor, Line, Shape, Text
from storystick.sheets.strips import PlacedTile, Sheet

_TEXT_PT: Final = 8.0
_LINE_MM: Final = 0.15
_TITLE_MM: Final = 4.6
_WORDS_MM: Final = 2.9
"""A tile that is drawn less high, as on a long sheet off a roll, has no room for a line of words."""


def draw_sheet_map(sheet: Sheet, of: int, width_mm: float) -> Iterator[Shape]:
    """A sheet reduced to ``width_mm``, from y = 0 down, its number above the picture."""
    scale = width_mm / sheet.frame.width_mm
    floor = -sheet_map_height(sheet, width_mm)
    yield Text(0.0, -3.4, f"sheet {sheet.number} of {of}", _TEXT_PT, bold=True)
    yield from _frame(0.0, floor, width_mm, sheet.frame.height_mm * scale)
    for placed in sheet.tiles:
        yield from _tile(placed, floor, scale)


def sheet_map_height(sheet: Sheet, width_mm: float) -> float:
    """How high the map is with its title, in mm."""
    return sheet.frame.height_mm * width_mm / sheet.frame.width_mm + _TITLE_MM


def _tile(placed: PlacedTile, floor: float, scale: float) -> Iterator[Shape]:
    left, bottom = placed.left_mm * scale, floor + (placed.y_mm - placed.tile.wrap_mm) * scale
    width, height = placed.tile.window.width * scale, placed.tile.height_mm * scale
    yield from _frame(left, bottom, width, height)
    if height < _WORDS_MM:
        return
    words = shortened(f"{placed.tile.strip.name} {placed.tile.window.number}", _TEXT_PT, width - 1.0)
    yield Text(left + width / 2, bottom + height / 2 - 1.0, words, _TEXT_PT, Anchor.MIDDLE)


def _frame(x: float, y: float, width: float, height: float) -> Iterator[Shape]:
    for level in (y, y + height):
        yield Line(x, level, x + width, level, _LINE_MM)
    for side in (x, x + width):
        yield Line(side, y, side, y + height, _LINE_MM)
