"""Hatching: fine lines at 45 degrees over a rectangle, for what is black on white and must not be black."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from storystick.drawing.shapes import Box, Line

_PITCH_MM: Final = 1.0
_LINE_MM: Final = 0.15


def hatched(box: Box) -> Iterator[Line]:
    """Lines rising to the right, within the box."""
    left, bottom, right, top = box.x, box.y, box.x + box.width, box.y + box.height
    start = left - box.height + _PITCH_MM / 2
    count = int((box.width + box.height) / _PITCH_MM)
    for place in range(count):
        foot = start + place * _PITCH_MM
        x1, x2 = max(foot, left), min(foot + box.height, right)
        if x1 < x2:
            yield Line(x1, bottom + x1 - foot, x2, min(bottom + x2 - foot, top), _LINE_MM)
