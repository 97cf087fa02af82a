"""Where the ink of lettering stands, from the outlines of the printed fonts; and figures built up, read as one."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from itertools import combinations, permutations
from typing import Final, NamedTuple

from fontTools.ttLib import TTFont

from storystick.drawing.lettering import CAPITAL_EM, POINT_MM, font_file, text_width_mm
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


class Said(NamedTuple):
    """A figure as a person reads it, such as "16 53/64 full", and the room that it takes.

    ``height`` is that of its whole number, or of its fraction's figures where it has none, in mm.
    """

    text: str
    box: TextBox
    height: float
    bold: bool
    upward: bool


class _Word(NamedTuple):
    """A text along its own line: from ``start`` to ``end``; ``middle`` is how high the middle of its capitals lies."""

    text: str
    start: float
    end: float
    middle: float
    height: float
    boxes: tuple[TextBox, ...]
    bold: bool


_BAR_MM: Final = 0.25
_JOINED_MM: Final = 1.3
"""So far apart are the pieces of one figure at most: a space between words of 2.5 mm, and what a bar stands out."""


def said(shapes: Iterable[Shape]) -> list[Said]:
    """All lettering read as it stands: numerator over denominator a fraction, behind a whole number one with that."""
    texts = [shape for shape in shapes if isinstance(shape, Text) and shape.text]
    return [
        Said(word.text, _around(word), word.height, word.bold, upward)
        for upward in (False, True)
        for word in _joined(_fractions([_word(text) for text in texts if text.upward is upward], upward))
    ]


def _word(text: Text) -> _Word:
    width = text_width_mm(text.text, text.size_pt, text.bold)
    before = {Anchor.START: 0.0, Anchor.MIDDLE: width / 2, Anchor.END: width}[text.anchor]
    along, baseline = (text.y, -text.x) if text.upward else (text.x, text.y)
    height = text.size_pt * POINT_MM * CAPITAL_EM
    place = (along - before, along - before + width, baseline + height / 2)
    return _Word(text.text, *place, height, (_text_box(text),), text.bold)


def _fractions(words: list[_Word], upward: bool) -> list[_Word]:
    """A number right above another of its size with a bar's room between makes a fraction."""
    found, used = [], set()
    numbers = [word for word in words if word.text.isdigit()]
    for over, under in permutations(numbers, 2):
        centred = abs(over.start + over.end - under.start - under.end) < 1e-6
        if centred and over.height == under.height and 0.3 < over.middle - under.middle - over.height < 1.2:
            start, end = min(over.start, under.start), max(over.end, under.end)
            middle, text = (over.middle + under.middle) / 2, f"{over.text}/{under.text}"
            boxes = tuple(_with_bar(box, upward) for box in over.boxes + under.boxes)
            found.append(_Word(text, start, end, middle, over.height, boxes, over.bold))
            used |= {over, under}
    return [*found, *(word for word in words if word not in used)]


def _with_bar(box: TextBox, upward: bool) -> TextBox:
    """A fraction's bar stands out beyond its figures."""
    if upward:
        return box._replace(bottom=box.bottom - _BAR_MM, top=box.top + _BAR_MM)
    return box._replace(left=box.left - _BAR_MM, right=box.right + _BAR_MM)


def _joined(words: list[_Word]) -> list[_Word]:
    """Whole numbers with the fractions behind them, and figures with the words that say full or scant."""
    waiting, lines = sorted(words, key=lambda word: word.start), []
    for word in waiting:
        before = next((line for line in lines if _belongs(word, line)), None)
        if before is None:
            lines.append(word)
        else:
            lines.remove(before)
            text = f"{before.text} {word.text}"
            lines.append(before._replace(text=text, end=word.end, boxes=before.boxes + word.boxes))
    return lines


def _belongs(word: _Word, before: _Word) -> bool:
    if not -1e-6 <= word.start - before.end <= _JOINED_MM:
        return False
    if before.text == "↔" or before.text.endswith(":"):
        return word.text[0].isdigit()
    if not before.text.rpartition(" ")[2][0].isdigit():
        return False
    if "/" in word.text:
        return before.text.isdigit() and abs(word.middle - before.middle) < 1e-6
    heights = (before.height, *(5.0, 3.5, 2.5) * ("/" in before.text))
    return word.text in {"full", "scant"} and any(
        abs(word.middle - word.height / 2 - before.middle + height / 2) < 1e-6 for height in heights
    )


def _around(word: _Word) -> TextBox:
    lefts, bottoms, rights, tops, _ = zip(*word.boxes, strict=True)
    return TextBox(min(lefts), min(bottoms), max(rights), max(tops), word.text)


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
