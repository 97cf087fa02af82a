"""Write ``advances.json``: how wide each character of the two faces is, so that a print need not parse the fonts.

Run it after a change of fonts: ``python tests/measure_fonts.py``.
"""

from __future__ import annotations

import json
from pathlib import Path

from fontTools.ttLib import TTFont

FONTS = Path(__file__).parent.parent / "storystick" / "drawing" / "fonts"


def advances(face: Path) -> dict[str, int]:
    """The advance width of every character of a face, in its own units."""
    with TTFont(face) as font:
        widths = font["hmtx"].metrics
        return {chr(code): widths[glyph][0] for code, glyph in sorted(font.getBestCmap().items())}


def table() -> dict[str, object]:
    """The advances of every face here by file name, and the units that an em has in all of them."""
    faces = sorted(FONTS.glob("*.ttf"))
    (units_per_em,) = {TTFont(face)["head"].unitsPerEm for face in faces}
    return {"units_per_em": units_per_em, "faces": {face.name: advances(face) for face in faces}}


if __name__ == "__main__":
    (FONTS / "advances.json").write_text(json.dumps(table(), ensure_ascii=False, separators=(",", ":")), "utf-8")
