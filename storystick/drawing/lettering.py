"""How much room lettering takes, read from the fonts that are printed with.

DejaVu Sans Condensed is shipped whole: Latin, Greek and Cyrillic, figures that are hard to misread, narrow, and a
licence that allows it. ``advances.json`` holds its widths, so that no font library is needed here;
``tests/measure_fonts.py`` writes it, and a test compares it with the fonts.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Final

from storystick.errors import Fault, Faults, as_written

FAMILY: Final = "DejaVu Sans Condensed"
POINT_MM: Final = 25.4 / 72
"""A point in mm: the PDF's unit, 1/72 in (PDF Reference 1.6; ISO 32000-1, 8.3.2.3)."""

NAME_MM: Final = 2.5
SIZE_MM: Final = 3.5
STATION_MM: Final = 5.0
"""Heights of capitals by rank, from the row of ISO 3098-1: of names and notes, of sizes, and of what is struck by."""

CAPITAL_EM: Final = 1493 / 2048
"""The height of a capital in both faces, in ems, from the outline of H."""

_FONTS: Final = Path(__file__).parent / "fonts"


def font_file(bold: bool) -> Path:
    """The TrueType file of the regular or the bold face."""
    return _FONTS / f"DejaVuSansCondensed{'-Bold' if bold else ''}.ttf"


def points_of(height_mm: float) -> float:
    """The size in points of lettering whose capitals are ``height_mm`` high."""
    return height_mm / CAPITAL_EM / POINT_MM


CAPITAL_MM: Final = NAME_MM
WORDS_PT: Final = points_of(CAPITAL_MM)
"""Nothing that is printed is smaller; its capitals and figures are ``CAPITAL_MM`` high."""


def text_width_mm(text: str, size_pt: float, bold: bool = False) -> float:
    """The advance width of ``text`` in mm.

    Raises:
        Faults: the font has no sign for one of its characters.
    """
    advances, units_per_em = _advances(bold)
    try:
        return sum(map(advances.__getitem__, text)) / units_per_em * size_pt * POINT_MM
    except KeyError:
        check_letters(text)
        raise


def check_letters(*texts: str) -> None:
    """Whether the font has all the letters of the texts.

    Raises:
        Faults: a fault for each text that has others.
    """
    strange = {text: "".join(sorted(set(text) - _known())) for text in texts}
    faults = [
        Fault(
            f"{as_written(text)} has letters that cannot be printed: {letters}", "write it in Latin, Greek or Cyrillic"
        )
        for text, letters in strange.items()
        if letters
    ]
    if faults:
        raise Faults(faults)


def shortened(text: str, size_pt: float, room_mm: float, bold: bool = False) -> str:
    """``text``, or as much of it as fits into ``room_mm`` with an ellipsis at its end; empty where nothing fits."""
    if text_width_mm(text, size_pt, bold) <= room_mm:
        return text
    while text and text_width_mm(text + "…", size_pt, bold) > room_mm:
        text = text[:-1].rstrip()
    return text + "…" if text else ""


def wrapped(text: str, size_pt: float, room_mm: float, bold: bool = False) -> Iterator[str]:
    """``text`` in lines that fit into ``room_mm``, broken between words; one that is too long ends in an ellipsis.

    A no-break space keeps two words together.
    """
    line = ""
    for word in filter(None, text.split(" ")):
        longer = f"{line} {word}".strip()
        if line and text_width_mm(longer, size_pt, bold) > room_mm:
            yield shortened(line, size_pt, room_mm, bold)
            longer = word
        line = longer
    yield shortened(line, size_pt, room_mm, bold)


@cache
def _known() -> frozenset[str]:
    """What both faces have a sign for."""
    return frozenset(_advances(bold=True)[0].keys() & _advances(bold=False)[0].keys())


@cache
def _advances(bold: bool) -> tuple[dict[str, int], int]:
    """The advance width of each character, and how many of its units an em has."""
    table = json.loads((_FONTS / "advances.json").read_bytes())
    return table["faces"][font_file(bold).name], table["units_per_em"]
