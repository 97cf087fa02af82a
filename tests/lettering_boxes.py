"""Where the ink of lettering stands, from the outlines of the printed fonts."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from itertools import combinations
from typing import Final, NamedTuple

from fontTools.ttLib import TTFont

from storystick.drawing.lettering import POINT_MM, font_file, text_width_mm
from storystick.drawing.shapes import Anchor, Shape, Text

_ACCENT_MM: Final = 0.1
"""So far an accent on a capital may come into the line above, in mm."""


class TextBox(NamedTuple):
    """The room that a text takes, in mm: its advance width, and as high and low as its outlines go."""

    left: float
    bottom: float
    right: float
    top: float
    text: str

    def meets(self, left: float, bottom: float, right: float, top: float) -> bool:
        """Whether it comes into a rectangle by more than an accent does."""
        across = min(self.right, right) - max(self.left, left)
        upward = min(self.top, top) - max(self.bottom, bottom)
        return across > 1e-6 and upward > _ACCENT_MM


def text_boxes(shapes: Iterable[Shape]) -> list[TextBox]:
    return [_text_box(shape) for shape in shapes if isinstance(shape, Text) and shape.text]


def colliding(boxes: Iterable[TextBox]) -> list[tuple[TextBox, TextBox]]:
    """The pairs that stand in each other's room."""
    return [(one, other) for one, other in combinations(boxes, 2) if one.meets(*other[:4])]


def _text_box(text: Text) -> TextBox:
    width = text_width_mm(text.text, text.size_pt, text.bold)
    before = {Anchor.START: 0.0, Anchor.MIDDLE: width / 2, Anchor.END: width}[text.anchor]
    em = text.size_pt * POINT_MM
    outlines = _outlines(text.bold)
    low = min(outlines[character][0] for character in text.text) * em
    high = max(outlines[character][1] for character in text.text) * em
    if text.upward:
        return TextBox(text.x - high, text.y - before, text.x - low, text.y - before + width, text.text)
    return TextBox(text.x - before, text.y + low, text.x - before + width, text.y + high, text.text)


@cache
def _outlines(bold: bool) -> dict[str, tuple[float, float]]:
    """How far below and above its baseline each character's outline goes, in ems."""
    with font_file(bold).open("rb") as stream, TTFont(stream) as font:
        em, glyphs = font["head"].unitsPerEm, font["glyf"]
        outlines = {}
        for code, name in font.getBestCmap().items():
            glyph = glyphs[name]
            outlines[chr(code)] = (getattr(glyph, "yMin", 0) / em, getattr(glyph, "yMax", 0) / em)
        return outlines
