"""A strip in one piece, on a page of its own: read by eye, by programs and by machines, and never corrected."""

from __future__ import annotations

from typing import Final

from storystick.drawing.strip import Strip, draw_strip
from storystick.sheets.document import Page
from storystick.sheets.strips import cutting_lines

_AROUND_MM: Final = 10.0


def one_piece(strip: Strip) -> Page:
    """A strip whole, with x = 0 at its left end and y = 0 at its marking edge, and some room around it."""
    drawing = draw_strip(strip)
    (piece,) = drawing.pieces
    return Page(
        piece.right_mm + 2 * _AROUND_MM,
        drawing.height_mm + drawing.wrap_mm + 2 * _AROUND_MM,
        (*piece.shapes, *cutting_lines(piece.window, drawing.height_mm, 0.0 - drawing.wrap_mm)),
        label=strip.name,
        left_mm=-_AROUND_MM,
        bottom_mm=-_AROUND_MM - drawing.wrap_mm,
    )
