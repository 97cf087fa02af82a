"""A strip in one piece, on a page of its own: read by eye, by programs and by machines, and never corrected."""

from __future__ import annotations

from storystick.drawing.strip import Strip, draw_strip
from storystick.sheets.document import Page, whole_page
from storystick.sheets.strips import cutting_lines


def one_piece(strip: Strip) -> Page:
    """A strip whole, with x = 0 at its left end and y = 0 at its marking edge, and some room around it."""
    drawing = draw_strip(strip)
    (piece,) = drawing.pieces
    bottom = 0.0 - drawing.wrap_mm
    shapes = (*piece.shapes, *cutting_lines(piece.window, drawing.height_mm, bottom))
    return whole_page(shapes, strip.name, piece.right_mm, drawing.height_mm - bottom, bottom)
