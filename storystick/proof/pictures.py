"""Two pages drawn by PDFium and compared as pictures: where a person would see that they differ.

A picture is drawn band by band, each dot a byte of grey, 0 black and 255 white. A set of its dots is a whole number
with a bit a dot, the first dot the highest, so that a set is shifted, joined and cut as one number: quick, and without
any other library.
"""

from __future__ import annotations

import ctypes
import re
from collections.abc import Iterator
from typing import Any, Final

from pypdfium2 import PdfPage, raw

from storystick.proof.marks import Bounds

_DOTS_PER_INCH: Final = 200
_DOT_MM: Final = 25.4 / _DOTS_PER_INCH

_REACH: Final = 2
"""Dots that ink may lie aside at most: 0.25 mm. Ghostscript rounds the widths of letters, which took the last ones of
long lines 0.21 mm aside. What is struck from is compared as marks, not here."""

_EXACT_REACH: Final = 1
"""The same where letters were not set anew: PDFium puts small letters and upright boxes on whole dots."""

_LEVELS: Final = (128, 243)
"""Between black and the greys of ours, of which the lightest is 235, and between those and white. How grey a mark is,
and whether something shines through, is told of the mark itself."""

_SLACK: Final = 6
"""Greys that lie so near to a level belong to both sides; saved again, greys differed by up to 4."""

_BAND: Final = 400
_CELL: Final = 20
"""Dots to a side of the places that differences are gathered in: 2.5 mm."""

_MOST_RUNS: Final = 20_000
_SHOWN: Final = (raw.FPDF_ANNOT, raw.FPDF_ANNOT | raw.FPDF_PRINTING)
"""A page as it is looked at, and as it is printed: notes and layers may show on one of them alone."""

_RUNS: Final = re.compile("1+")


def differing_places(one: PdfPage, other: PdfPage, width_mm: float, height_mm: float, exact: bool) -> list[Bounds]:
    """Where two pages of one size differ to the eye, in mm of the page, each place once.

    Where the letters are ``exact``, none was set anew.
    """
    reach = _EXACT_REACH if exact else _REACH
    size = (round(width_mm / _DOT_MM), round(height_mm / _DOT_MM))
    cells: set[tuple[int, int]] = set()
    for top in range(0, size[1], _BAND):
        bands = {tuple(_draw(page, size, top, shown) for page in (one, other)) for shown in _SHOWN}
        for band, band_of_other in bands:
            if band != band_of_other:
                cells.update(_cells(band, band_of_other, size[0] + 2 * _REACH, top, reach))
    return [_place(*cell, height_mm) for cell in sorted(cells)]


def _draw(page: Any, size: tuple[int, int], top: int, shown: int) -> bytes:
    """The rows of a page from ``top`` on, with some above and below that their neighbours have as well.

    Some white is beside, so that the ends of rows do not touch.
    """
    width, rows = size[0] + 2 * _REACH, _BAND + 2 * _REACH
    dots = ctypes.create_string_buffer(width * rows)
    picture = raw.FPDFBitmap_CreateEx(width, rows, raw.FPDFBitmap_Gray, dots, width)
    try:
        raw.FPDFBitmap_FillRect(picture, 0, 0, width, rows, 0xFFFFFFFF)
        raw.FPDF_RenderPageBitmap(picture, page, 0, _REACH - top, *size, 0, shown)
    finally:
        raw.FPDFBitmap_Destroy(picture)
    return dots.raw


def _cells(one: bytes, other: bytes, width: int, top: int, reach: int) -> Iterator[tuple[int, int]]:
    """The cell of every dot that differs, in columns and rows of cells from the upper left of the page."""
    found = _differing(one, other, width, reach)
    differing = f"{found:0{len(one)}b}" if found else ""
    inner = (_REACH * width, (_REACH + _BAND) * width)
    for number, run in enumerate(_RUNS.finditer(differing, *inner)):
        if number > _MOST_RUNS:
            return
        for at in range(*run.span()):
            row, column = divmod(at, width)
            yield column // _CELL, (row + top - _REACH) // _CELL


def _differing(one: bytes, other: bytes, width: int, reach: int) -> int:
    """The dots that are dark in one picture with nothing dark near them in the other, or light with nothing light.

    Only squares of them count, of two by two, or of three by three where letters were set anew: PDFium puts upright
    boxes on whole dots, so that what peeps out between two of them may be a dot wide or not there at all.
    """
    found, everything = 0, (1 << len(one)) - 1
    for level in _LEVELS:
        sides = [(_dark(dots, level - _SLACK), _dark(dots, level + _SLACK)) for dots in (one, other)]
        for (dark, perhaps_dark), (other_dark, other_perhaps) in (sides, sides[::-1]):
            found |= dark & ~_widened(other_perhaps, width, reach)
            found |= (everything ^ perhaps_dark) & ~_widened(everything ^ other_dark, width, reach)
    for step in (1, width):
        for _ in range(reach):
            found &= found >> step
    return found


def _dark(dots: bytes, level: int) -> int:
    """The dots that are darker than a level."""
    return int(dots.translate(bytes(b"10"[grey >= level] for grey in range(256))), 2)


def _widened(dots: int, width: int, reach: int) -> int:
    """The dots, and all within reach of them to every side."""
    for step in (1, width):
        for _ in range(reach):
            dots |= dots << step | dots >> step
    return dots


def _place(column: int, row: int, height_mm: float) -> Bounds:
    left, top = column * _CELL * _DOT_MM, height_mm - row * _CELL * _DOT_MM
    return Bounds(left, top - _CELL * _DOT_MM, left + _CELL * _DOT_MM, top)
