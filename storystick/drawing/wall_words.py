"""Words round the elevation of a wall: names in a row over or under it, and heights with their names beside it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final, TypeAlias

from storystick.drawing.lettering import NAME_MM, WORDS_PT, text_width_mm, wrapped
from storystick.drawing.placing_words import spread
from storystick.drawing.shapes import NARROW_MM, Anchor, Line, Shape, Text

_PITCH_MM: Final = 4.2
_APART_MM: Final = 1.6
_MOST_LINES: Final = 3
_LEADER_MM: Final = 3.0
_OUT_MM: Final = 2.0
_LEVEL_APART_MM: Final = 0.9
_FAR_MM: Final = 14.0

Named: TypeAlias = tuple[tuple[float, float], str]
"""From where to where something lies, in mm from the left, and its name."""


def names_in_row(named: Sequence[Named], edge: float, below: bool, room: tuple[float, float]) -> Iterator[Shape]:
    """Names side by side beyond ``edge``, each at the middle of what it is for, with a leader where it had to move.

    ``named`` are the left and right edges of things, rising, with their names. One that is wider than its thing is
    broken between words, or stands upward where even those are too wide; that of a place without a width, only where
    it would have to move far. Where all have no room so, all stand upward.
    """
    for lines in ([_lines(name, right - left) for (left, right), name in named], [None] * len(named)):
        middles = [(left + right) / 2 for (left, right), _ in named]
        low, high = room[0] - _LEADER_MM, room[1] + _LEADER_MM
        places = spread(middles, [_width(own) for own in lines], _APART_MM, low, high)
        if places is not None and all(abs(place - at) <= _FAR_MM for place, at in zip(places, middles, strict=True)):
            for place, middle, own, (_, name) in zip(places, middles, lines, named, strict=True):
                yield from _name(name, own, middle, place, edge, below)
            return


def _lines(name: str, room: float) -> list[str] | None:
    """A name in lines that fit; None where it is to stand upward."""
    if not room:
        return [name]
    if max(text_width_mm(word, WORDS_PT) for word in name.split(" ")) > room - 1.0:
        return None
    lines = list(wrapped(name, WORDS_PT, room - 1.0))
    return lines if len(lines) <= _MOST_LINES else None


def _width(lines: list[str] | None) -> float:
    return max(text_width_mm(line, WORDS_PT) for line in lines) if lines else NAME_MM


def _name(name: str, lines: list[str] | None, middle: float, place: float, edge: float, below: bool) -> Iterator[Shape]:
    out = -1.0 if below else 1.0
    start = edge
    if abs(place - middle) > 0.5:
        yield Line(middle, edge, place, edge + out * _LEADER_MM, NARROW_MM)
        start = edge + out * (_LEADER_MM + 0.5)
    if lines is None:
        yield Text(place + NAME_MM / 2, start, name, WORDS_PT, Anchor.END if below else Anchor.START, upward=True)
        return
    count = len(lines)
    for number, line in enumerate(lines):
        drop = number * _PITCH_MM + NAME_MM if below else -(count - 1 - number) * _PITCH_MM
        yield Text(place, start - drop, line, WORDS_PT, Anchor.MIDDLE)


def beside_levels(levels: Sequence[tuple[float, str, str]], right: float, floor: float) -> Iterator[Shape]:
    """Heights, rising, at the right of a wall: a short line at each with its figure in bold and its name, if any."""
    places = spread(
        [y for y, _, _ in levels], [NAME_MM] * len(levels), _LEVEL_APART_MM, floor - _PITCH_MM, 2 * _PITCH_MM
    )
    for place, (y, name, figure) in zip(places or (), levels, strict=False):
        yield Line(right + 0.6, y, right + _OUT_MM, y, NARROW_MM)
        yield Line(right + _OUT_MM, y, right + 2 * _OUT_MM, place, NARROW_MM)
        x = right + 2 * _OUT_MM + 0.8
        yield Text(x, place - NAME_MM / 2, figure, WORDS_PT, bold=True)
        if name:
            yield Text(x + text_width_mm(f"{figure}  ", WORDS_PT, bold=True), place - NAME_MM / 2, name, WORDS_PT)
