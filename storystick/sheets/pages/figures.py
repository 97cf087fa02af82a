"""Figures to look up, printed when they are asked for: every mark of every strip, the tiles, how far to trust them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from storystick.drawing.shapes import moved
from storystick.layout.stations import StickLayout, mark_rows
from storystick.lengths import Figures
from storystick.sheets.pages.flow import Block, Column, Room, heading, table, titled
from storystick.sheets.pages.trust import trust_blocks
from storystick.sheets.strips import StripSheets
from storystick.sheets.tile_map import draw_sheet_map, sheet_map_height

_MAPS_ACROSS: Final = 3
_GAP_MM: Final = 6.0
_MARKS: Final = (
    Column("kind", 2),
    Column("name", 4),
    Column("from", right=True),
    Column("to", right=True),
    Column("size", right=True),
)


def figure_blocks(plan: StripSheets, tiled: bool, room: Room) -> Iterator[Block]:
    """The marks strip by strip; where they are ``tiled``, also which tile is where, and how far to trust it."""
    for stick in dict.fromkeys(cut_strip.strip.layout for cut_strip in plan.things):
        yield from _marks(stick, plan.job.figures, room.width_mm)
    if tiled:
        yield heading("Which tile is on which sheet", room.width_mm)
        yield from _map(plan, room.width_mm)
        yield from trust_blocks(plan, room)


def _marks(stick: StickLayout, figures: Figures, width: float) -> list[Block]:
    hands = "a left and a right strip from the same figures" if stick.stick.pair else "one strip"
    return titled(f"{stick.name}: {hands}", table(_MARKS, mark_rows(stick, figures), width), width)


def _map(plan: StripSheets, width: float) -> Iterator[Block]:
    """Every sheet reduced, three in a row and so twelve to a page."""
    pitch = (width + _GAP_MM) / _MAPS_ACROSS
    for first in range(0, len(plan.sheets), _MAPS_ACROSS):
        row = plan.sheets[first : first + _MAPS_ACROSS]
        maps = (draw_sheet_map(sheet, len(plan.sheets), pitch - _GAP_MM) for sheet in row)
        shapes = (shape for place, drawn in enumerate(maps) for shape in moved(drawn, place * pitch, 0.0))
        height = max(sheet_map_height(sheet, pitch - _GAP_MM) for sheet in row)
        yield Block(height + 4.0, tuple(shapes))
