"""The letters in rings on a picture, read from its shapes alone."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from math import dist
from typing import NamedTuple

from storystick.drawing.shapes import Area, Line, Rect, Shape, Text


class SeenRing(NamedTuple):
    """A letter in a white disc with a black rim, and the end of the line that ties it to its place, if it has one."""

    letter: str
    disc: Rect
    foot: tuple[float, float] | None


def rings_in(shapes: Iterable[Shape]) -> list[SeenRing]:
    """Every letter that stands in the middle of a white disc, in order."""
    drawn = list(shapes)
    seen = []
    for place, (disc, letter) in enumerate(pairwise(drawn)):
        if isinstance(disc, Area) and disc.grey == 1 and len(disc.points) > 20 and isinstance(letter, Text):
            rim, dot, tie = drawn[place - 1], drawn[place - 2], drawn[place - 3]
            assert isinstance(rim, Area)
            assert rim.grey == 0
            tied = (
                isinstance(tie, Line) and isinstance(dot, Area) and dist((tie.x2, tie.y2), middle(disc.extent)) < 1e-6
            )
            seen.append(SeenRing(letter.text, rim.extent, (tie.x1, tie.y1) if tied else None))
    return seen


def middle(of: Rect) -> tuple[float, float]:
    return (of.left + of.right) / 2, (of.bottom + of.top) / 2
