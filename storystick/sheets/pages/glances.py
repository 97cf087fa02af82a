"""Sticks and sheets at a glance, reduced to the width of a page. Not for measuring."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from storystick.drawing.lettering import shortened, text_width_mm
from storystick.drawing.shapes import Anchor, Area, Box, Line, Rect, Shape, Text, outline
from storystick.job.job import Job
from storystick.layout.stations import Span, SpanKind, StickLayout
from storystick.sheets.strips import PlacedStripTile, StripSheet

BAND_MM: Final = 10.0
STICK_HEIGHT_MM: Final = BAND_MM + 5.0
_TEXT_PT: Final = 8.0
_LINE_MM: Final = 0.15


def draw_stick_overview(layout: StickLayout, job: Job, width_mm: float) -> Iterator[Shape]:
    """A stick reduced to ``width_mm``, its datum at the left, from y = 0 down to ``-STICK_HEIGHT_MM``."""
    scale = width_mm / float(layout.length)
    top, bottom = 0.0, -BAND_MM
    for span in layout.spans:
        left, right = float(span.start) * scale, float(span.end) * scale
        if span.kind is SpanKind.PART:
            yield Box(left, bottom, right - left, BAND_MM, 0.55)
        else:
            yield from _opening(span, job, left, right)
    for point in layout.points:
        yield Line(float(point.at) * scale, bottom, float(point.at) * scale, bottom + 1.4, _LINE_MM)
    for y in (top, bottom):
        yield Line(0.0, y, width_mm, y, _LINE_MM)
    for x in (0.0, width_mm):
        yield Line(x, top, x, bottom, _LINE_MM)
    yield Area(((0.0, bottom - 0.4), (2.2, bottom - 2.0), (2.2, bottom - 3.6), (0.0, bottom - 3.6)))
    yield Text(3.0, bottom - 3.4, f"0 datum, {layout.stick.datum.value}", _TEXT_PT)
    overall = f"{job.label(layout.length)} over all, {layout.stick.datum.far_end.value}"
    yield Text(width_mm, bottom - 3.4, overall, _TEXT_PT, Anchor.END)


def _opening(span: Span, job: Job, left: float, right: float) -> Iterator[Shape]:
    """Its name and size, as far as they fit between its parts."""
    room, middle = right - left - 1.0, (left + right) / 2
    size = job.label(span.size)
    yield Line(left, 0.0, left, -BAND_MM, _LINE_MM)
    if text_width_mm(size, _TEXT_PT, bold=True) <= room:
        yield Text(middle, -BAND_MM / 2 - 3.0, size, _TEXT_PT, Anchor.MIDDLE, bold=True)
        yield Text(middle, -BAND_MM / 2 + 1.2, shortened(span.name, _TEXT_PT, room), _TEXT_PT, Anchor.MIDDLE)


_TITLE_MM: Final = 4.6
_WORDS_MM: Final = 2.9
"""A tile that is drawn less high, as on a long sheet off a roll, has no room for a line of words."""


def draw_sheet_map(sheet: StripSheet, of: int, width_mm: float) -> Iterator[Shape]:
    """A sheet reduced to ``width_mm``, from y = 0 down, its number above the picture."""
    scale = width_mm / sheet.bare.width_mm
    floor = -sheet_map_height(sheet, width_mm)
    yield Text(0.0, -3.4, f"sheet {sheet.number} of {of}", _TEXT_PT, bold=True)
    yield from outline(Rect(0.0, floor, width_mm, floor + sheet.bare.height_mm * scale), _LINE_MM)
    for placed in sheet.tiles:
        yield from _tile(placed, floor, scale)


def sheet_map_height(sheet: StripSheet, width_mm: float) -> float:
    """How high the map is with its title, in mm."""
    return sheet.bare.height_mm * width_mm / sheet.bare.width_mm + _TITLE_MM


def _tile(placed: PlacedStripTile, floor: float, scale: float) -> Iterator[Shape]:
    left, bottom = placed.left_mm * scale, floor + (placed.y_mm - placed.tile.wrap_mm) * scale
    width, height = placed.tile.window.width * scale, placed.tile.height_mm * scale
    yield from outline(Rect(left, bottom, left + width, bottom + height), _LINE_MM)
    if height < _WORDS_MM:
        return
    words = shortened(f"{placed.tile.strip.name} {placed.tile.window.number}", _TEXT_PT, width - 1.0)
    yield Text(left + width / 2, bottom + height / 2 - 1.0, words, _TEXT_PT, Anchor.MIDDLE)
