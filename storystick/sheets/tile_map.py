"""A sheet reduced, to see which tile lies where on it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, TypeVar

from storystick.drawing.lettering import WORDS_PT, shortened
from storystick.drawing.shapes import NARROW_MM, Anchor, Rect, Shape, Text, outline
from storystick.sheets.tiles import AnyTile, PlacedTile, Sheet

T = TypeVar("T", bound=AnyTile)

_TITLE_MM: Final = 5.2
_TITLE_BASELINE_MM: Final = 3.8
_WORDS_MM: Final = 3.4
"""A tile that is drawn less high, as on a long sheet off a roll, has no room for a line of words."""


def draw_sheet_map(sheet: Sheet[T], of: int, width_mm: float) -> Iterator[Shape]:
    """A sheet reduced to ``width_mm``, from y = 0 down, its number above the picture."""
    scale = width_mm / sheet.bare.width_mm
    floor = -sheet_map_height(sheet, width_mm)
    yield Text(0.0, -_TITLE_BASELINE_MM, f"sheet {sheet.number} of {of}", WORDS_PT, bold=True)
    yield from outline(Rect(0.0, floor, width_mm, floor + sheet.bare.height_mm * scale), NARROW_MM)
    for placed in sheet.tiles:
        yield from _tile(placed, floor, scale)


def sheet_map_height(sheet: Sheet[T], width_mm: float) -> float:
    """How high the map is with its title, in mm."""
    return sheet.bare.height_mm * width_mm / sheet.bare.width_mm + _TITLE_MM


def _tile(placed: PlacedTile[T], floor: float, scale: float) -> Iterator[Shape]:
    tile = placed.tile
    left, bottom = (placed.left_mm - tile.left_mm) * scale, floor + (placed.y_mm - tile.below_mm) * scale
    width, height = tile.width_mm * scale, tile.height_mm * scale
    yield from outline(Rect(left, bottom, left + width, bottom + height), NARROW_MM)
    if height >= _WORDS_MM:
        words = shortened(tile.mapped_as, WORDS_PT, width - 1.0)
        yield Text(left + width / 2, bottom + height / 2 - 1.2, words, WORDS_PT, Anchor.MIDDLE)
