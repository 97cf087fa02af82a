"""Figures to look up, printed when they are asked for: every mark of every strip, the tiles, how far to trust them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final, TypeVar

from storystick.drawing.lettering import WORDS_PT, shortened, text_width_mm
from storystick.drawing.shapes import NARROW_MM, Anchor, Rect, Shape, Text, moved, outline
from storystick.drawing.strip import Strip
from storystick.layout.stations import mark_rows
from storystick.sheets.pages.flow import Block, Column, Room, heading, table, titled
from storystick.sheets.pages.trust import trust_blocks
from storystick.sheets.strips import StripSheets
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
    rows = {layout: list(mark_rows(layout, plan.job.figures)) for layout in strips}
    columns = zip(*(row for own in rows.values() for row in own), strict=True)
    widest = [max(column, key=lambda text: text_width_mm(text, WORDS_PT)) for column in columns]
    for layout, strip in strips.items():
        yield from _marks(strip, table(_MARKS, rows[layout], room.width_mm, widest), room.width_mm)
    if tiled:
        yield from _map(plan, room)
        yield from trust_blocks(plan, room)


def _marks(strip: Strip, rows: Sequence[Block], width: float) -> list[Block]:
    """The table of a strip, which is one for both of a pair, under its letter and whom it serves."""
    hands = ", left and right" if strip.layout.stick.pair else ""
    title = f"{strip.letter}: {strip.serves_words or strip.layout.name}{hands}"
    return titled(title, rows, width)


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
