"""How much room lettering takes, read from the fonts that are printed with."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import Final

from fontTools.ttLib import TTFont

from storystick.errors import Fault

FAMILY: Final = "DejaVu Sans Condensed"
POINT_MM: Final = 25.4 / 72
"""A point in mm: the PDF's unit, 1/72 in (PDF Reference 1.6; ISO 32000-1, 8.3.2.3)."""


def font_file(bold: bool) -> Traversable:
    """The TrueType file of the regular or the bold face."""
    return files("storystick.drawing") / "fonts" / f"DejaVuSansCondensed{'-Bold' if bold else ''}.ttf"


def text_width_mm(text: str, size_pt: float, bold: bool = False) -> float:
    """The advance width of ``text`` in mm.

    Raises:
        Fault: the font has no sign for one of its characters.
    """
    advances = _advances_em(bold)
    try:
        ems = sum(advances[ord(character)] for character in text)
    except KeyError:
        missing = "".join(sorted({c for c in text if ord(c) not in advances}))
        raise Fault(
            f'"{text}" has characters that the printed font lacks: {missing!r}',
            "Latin, Greek and Cyrillic letters can be printed",
        ) from None
    return ems * size_pt * POINT_MM


def shortened(text: str, size_pt: float, room_mm: float, bold: bool = False) -> str:
    """``text``, or as much of it as fits into ``room_mm`` with an ellipsis at its end; empty where nothing fits."""
    if text_width_mm(text, size_pt, bold) <= room_mm:
        return text
    while text and text_width_mm(text + "…", size_pt, bold) > room_mm:
        text = text[:-1].rstrip()
    return text + "…" if text else ""


@cache
def _advances_em(bold: bool) -> dict[int, float]:
    """The advance width of each character, in ems, by its code point."""
    with font_file(bold).open("rb") as stream, TTFont(stream, lazy=True) as font:
        units_per_em: int = font["head"].unitsPerEm
        metrics = font["hmtx"].metrics
        return {code: metrics[glyph][0] / units_per_em for code, glyph in font.getBestCmap().items()}
