"""A figure with its fraction built up, numerator over denominator, so that it is read right across a bench.

The fraction's figures are one rank smaller than the whole number, and it stands in the middle of its height; "full"
and "scant" follow as words. ISO 3098 has the heights.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from storystick.drawing.lettering import NAME_MM, SIZE_MM, STATION_MM, WORDS_PT, points_of, text_width_mm
from storystick.drawing.shapes import Anchor, Line, Rect, Shape, Text

RANK_BELOW: Final = {STATION_MM: SIZE_MM, SIZE_MM: NAME_MM, NAME_MM: NAME_MM}
"""The height of a fraction's figures by that of the whole number beside it, in mm; none is below the least."""

_FRACTION: Final = re.compile(r"(-?)([0-9]+)/([0-9]+)")
_NUMBER: Final = re.compile(r"-?[0-9]+(?:\.[0-9]+)?")
_STOP: Final = ";"
_TOKEN: Final = re.compile(r"[^\s;]+|;")
_CLOSE_MM: Final = 0.25
"""Between a fraction's bar and its figures, and how far the bar reaches beyond them."""

_STOP_MM: Final = 0.5
"""So much of a semicolon is below its line."""

_SLASH: Final = 0.14
"""So much of a slash is below its line, by the height of the figures beside it."""

_IN_LINE_APART: Final = 0.55
"""Between a number and a fraction in one line, by their height: "17 61/64" is not to be read as 1761/64."""

_THIN: Final = 0.1
"""The width of a stroke of lettering by its height (ISO 3098, type B)."""


@dataclass(frozen=True, slots=True)
class _Piece:
    """Some shapes of a figure that stand together, from x = 0 on its baseline, and how wide they are, in mm."""

    shapes: tuple[Text | Line, ...]
    width: float
    above: float
    below: float = 0.0


@dataclass(frozen=True, slots=True)
class BuiltUp:
    """What :class:`~storystick.lengths.Figures` says of a length, such as "16 53/64 full", as it is lettered.

    ``height_mm`` is that of its whole number, one of the three ranks; ``bold`` is for stations. Where there is no room
    for two figures one over the other, ``in_line`` leaves the fraction in one line.
    """

    label: str
    height_mm: float
    bold: bool = False
    in_line: bool = False

    def __post_init__(self) -> None:
        if self.height_mm not in RANK_BELOW:
            raise ValueError(f"{self.height_mm} mm is none of the heights {', '.join(map(str, RANK_BELOW))} mm")

    @property
    def width_mm(self) -> float:
        """How long it is, whichever way it reads."""
        return _drawn(self).width

    @property
    def above_mm(self) -> float:
        """How high it goes above its baseline, on which the whole number stands."""
        return _drawn(self).above

    @property
    def below_mm(self) -> float:
        """How deep a fraction goes below that; 0 where it has none."""
        return _drawn(self).below

    def reach(self, x: float, y: float, anchor: Anchor = Anchor.START, upward: bool = False) -> Rect:
        """What it takes where its baseline has its anchor at ``x`` and ``y``."""
        drawn, before = _drawn(self), anchor.share_before * self.width_mm
        if upward:
            return Rect(x - drawn.above, y - before, x + drawn.below, y - before + drawn.width)
        return Rect(x - before, y - drawn.below, x - before + drawn.width, y + drawn.above)

    def shapes(self, x: float, y: float, anchor: Anchor = Anchor.START, upward: bool = False) -> Iterator[Shape]:
        """The same drawn: level, or turned a quarter turn anticlockwise so that it reads from below."""
        before = anchor.share_before * self.width_mm
        for shape in _drawn(self).shapes:
            yield _turned(shape).moved(x, y - before) if upward else shape.moved(x - before, y)


def _turned(shape: Text | Line) -> Text | Line:
    """A quarter turn anticlockwise about the origin."""
    if isinstance(shape, Text):
        return Text(-shape.y, shape.x, shape.text, shape.size_pt, shape.anchor, shape.bold, upward=True)
    return Line(-shape.y1, shape.x1, -shape.y2, shape.x2, shape.width_mm)


@lru_cache(maxsize=4096)
def _drawn(figure: BuiltUp) -> _Piece:
    """The whole figure from x = 0 on its baseline."""
    shapes: list[Text | Line] = []
    width = above = below = 0.0
    space = text_width_mm(" ", WORDS_PT)
    for token in _TOKEN.findall(figure.label):
        apart = _IN_LINE_APART * figure.height_mm if figure.in_line and _FRACTION.fullmatch(token) else space
        left = width + (apart if shapes and token != _STOP else 0.0)
        piece = _piece(token, figure)
        shapes += [shape.moved(left, 0.0) for shape in piece.shapes]
        width, above, below = left + piece.width, max(above, piece.above), max(below, piece.below)
    return _Piece(tuple(shapes), width, above, below)


def _piece(token: str, figure: BuiltUp) -> _Piece:
    fraction = _FRACTION.fullmatch(token)
    if fraction and figure.in_line:
        return _text(token, figure.height_mm, figure.bold)
    if fraction:
        return _fraction(fraction[1], fraction[2], fraction[3], figure)
    if _NUMBER.fullmatch(token):
        return _text(token, figure.height_mm, figure.bold)
    return _text(token, NAME_MM, bold=False)


def _text(text: str, height_mm: float, bold: bool) -> _Piece:
    size = points_of(height_mm)
    if text == _STOP:
        width = text_width_mm(text, size) + _CLOSE_MM
        return _Piece((Text(_CLOSE_MM, 0.0, text, size),), width, height_mm, _STOP_MM)
    below = height_mm * _SLASH if "/" in text else 0.0
    return _Piece((Text(0.0, 0.0, text, size, bold=bold),), text_width_mm(text, size, bold), height_mm, below)


def _fraction(sign: str, over: str, under: str, figure: BuiltUp) -> _Piece:
    """Its bar lies in the middle of the whole number's height."""
    height = RANK_BELOW[figure.height_mm]
    size, bar, middle = points_of(height), height * _THIN, figure.height_mm / 2
    before = text_width_mm(sign, points_of(figure.height_mm), figure.bold)
    widest = max(text_width_mm(part, size, figure.bold) for part in (over, under)) + 2 * _CLOSE_MM
    away = bar / 2 + _CLOSE_MM
    x = before + widest / 2
    shapes = (
        *_text(sign, figure.height_mm, figure.bold).shapes[: len(sign)],
        Text(x, middle + away, over, size, Anchor.MIDDLE, figure.bold),
        Line(before, middle, before + widest, middle, bar),
        Text(x, middle - away - height, under, size, Anchor.MIDDLE, figure.bold),
    )
    return _Piece(shapes, before + widest, middle + away + height, away + height - middle)
