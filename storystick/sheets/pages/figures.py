"""Figures to look up, printed when they are asked for: every mark of every strip, the tiles, how far to trust them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from storystick.drawing.shapes import moved
from storystick.drawing.strip import Strip
from storystick.layout.stations import mark_rows
from storystick.lengths import Figures
from storystick.sheets.pages.flow import Block, Column, Room, heading, table, titled
from storystick.sheets.pages.trust import trust_blocks
from storystick.sheets.strips import StripSheets
from storystick.sheets.tile_map import draw_sheet_map, sheet_map_height

_MAPS_ACROSS: Final = 3
_MAPS_DOWN: Final = 4
_GAP_MM: Final = 6.0
_BELOW_MM: Final = 3.0
_MARKS: Final = (
    Column("kind", 2),
    Column("name", 4),
    Column("from", right=True),
    Column("to", right=True),
    Column("size", right=True),
)


def figure_blocks(plan: StripSheets, tiled: bool, room: Room) -> Iterator[Block]:
    """The marks strip by strip; where they are ``tiled``, also which tile is where, and how far to trust it."""
    strips = {cut_strip.strip.layout: cut_strip.strip for cut_strip in plan.things}
    for strip in strips.values():
        yield from _marks(strip, plan.job.figures, room.width_mm)
    if tiled:
        yield from _map(plan, room)
        yield from trust_blocks(plan, room)


def _marks(strip: Strip, figures: Figures, width: float) -> list[Block]:
    """The table of a strip, which is one for both of a pair, under its letter and whom it serves."""
    hands = ", left and right" if strip.layout.stick.pair else ""
    title = f"{strip.letter}: {strip.serves_words or strip.layout.name}{hands}"
    return titled(title, table(_MARKS, mark_rows(strip.layout, figures), width), width)


def _map(plan: StripSheets, room: Room) -> Iterator[Block]:
    """Every sheet reduced, twelve to a page and so many of them on one as there are."""
    title = heading("Which tile is on which sheet", room.width_mm)
    yield title
    pitch = (room.width_mm + _GAP_MM) / _MAPS_ACROSS
    most = (room.height_mm - title.height_mm) / _MAPS_DOWN - _BELOW_MM
    # A map's title does not shrink with it: what is left of the height for the sheet itself says how wide it may be.
    titles = sheet_map_height(plan.sheets[0], 0.0)
    shape = max(sheet_map_height(sheet, 1.0) - titles for sheet in plan.sheets)
    width = min(pitch - _GAP_MM, (most - titles) / shape)
    rows = [plan.sheets[first : first + _MAPS_ACROSS] for first in range(0, len(plan.sheets), _MAPS_ACROSS)]
    for number, row in enumerate(rows, start=1):
        maps = (draw_sheet_map(sheet, len(plan.sheets), width) for sheet in row)
        shapes = (shape for place, drawn in enumerate(maps) for shape in moved(drawn, place * pitch, 0.0))
        height = max(sheet_map_height(sheet, width) for sheet in row) + _BELOW_MM
        yield Block(height, tuple(shapes), keeps_next=number % _MAPS_DOWN != 0 and number < len(rows))
