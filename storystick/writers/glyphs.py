"""Letters as outlines, by fontTools: needed only where these are asked for."""

from __future__ import annotations

from functools import cache
from io import BytesIO
from typing import Any

from storystick.drawing.lettering import POINT_MM, font_file
from storystick.drawing.shapes import Text
from storystick.errors import Fault, Where

try:
    from fontTools.pens.svgPathPen import SVGPathPen
    from fontTools.pens.transformPen import TransformPen
    from fontTools.ttLib import TTFont
except ImportError:
    raise Fault(
        "letters as outlines need fontTools, which is not installed",
        'install it: pip install "storystick[outlines]"',
        where=Where("--text"),
    ) from None


def outlines_of(text: Text) -> str:
    """The letters of a text as the data of an SVG path, in mm, y downwards; kept apart by their advance widths."""
    font, glyphs, names = _font(text.bold)
    size = text.size_pt * POINT_MM / font["head"].unitsPerEm
    pen = SVGPathPen(glyphs)
    along = -text.anchor.share_before * text.width_mm
    for letter in text.text:
        glyph = glyphs[names[ord(letter)]]
        glyph.draw(TransformPen(pen, _placed(text, size, along)))
        along += glyph.width * size
    data: str = pen.getCommands()
    return data


def _placed(text: Text, size: float, along: float) -> tuple[float, float, float, float, float, float]:
    """How a glyph ``along`` mm from a text's anchor gets onto the page: x is turned by the first two, y by the next."""
    if text.upward:
        return 0.0, -size, -size, 0.0, text.x, -text.y - along
    return size, 0.0, 0.0, -size, text.x + along, -text.y


@cache
def _font(bold: bool) -> tuple[Any, Any, dict[int, str]]:
    """A face, its glyphs by name, and their names by character."""
    font = TTFont(BytesIO(font_file(bold).read_bytes()))
    return font, font.getGlyphSet(), font.getBestCmap()
