"""The handful of shapes that a drawing is made of: all that a writer has to know.

Coordinates are floats in mm, origin at the lower left, x to the right and y up. Ink is black or a grey:
``grey`` is 0 for black and 1 for white.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum
from typing import Final, TypeAlias

FINE_MM: Final = 0.18
"""The width of a fine line, which is struck at its middle."""


class Anchor(Enum):
    """Which point of a text's baseline its ``x`` and ``y`` are."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True, slots=True)
class Line:
    """A butt-ended stroke ``width_mm`` wide, centred on its ends; ``dash_mm`` are lengths of ink and gap in turn."""

    x1: float
    y1: float
    x2: float
    y2: float
    width_mm: float = FINE_MM
    dash_mm: tuple[float, ...] = ()

    def moved(self, dx: float, dy: float) -> Line:
        ends = (self.x1 + dx, self.y1 + dy, self.x2 + dx, self.y2 + dy)
        return Line(*ends, self.width_mm, self.dash_mm)

    def scaled(self, sx: float, sy: float) -> Line:
        return Line(self.x1 * sx, self.y1 * sy, self.x2 * sx, self.y2 * sy, self.width_mm, self.dash_mm)


@dataclass(frozen=True, slots=True)
class Box:
    """A filled upright rectangle without an outline: its edges are the edges of the ink."""

    x: float
    y: float
    width: float
    height: float
    grey: float = 0.0

    def moved(self, dx: float, dy: float) -> Box:
        return Box(self.x + dx, self.y + dy, self.width, self.height, self.grey)

    def scaled(self, sx: float, sy: float) -> Box:
        return Box(self.x * sx, self.y * sy, self.width * sx, self.height * sy, self.grey)


@dataclass(frozen=True, slots=True)
class Area:
    """A filled polygon without an outline."""

    points: tuple[tuple[float, float], ...]
    grey: float = 0.0

    def moved(self, dx: float, dy: float) -> Area:
        return Area(tuple((x + dx, y + dy) for x, y in self.points), self.grey)

    def scaled(self, sx: float, sy: float) -> Area:
        return Area(tuple((x * sx, y * sy) for x, y in self.points), self.grey)


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text, black. ``upward`` turns it a quarter turn anticlockwise, so that it reads from below."""

    x: float
    y: float
    text: str
    size_pt: float
    anchor: Anchor = Anchor.START
    bold: bool = False
    upward: bool = False

    def moved(self, dx: float, dy: float) -> Text:
        place = (self.x + dx, self.y + dy)
        return Text(*place, self.text, self.size_pt, self.anchor, self.bold, self.upward)

    def scaled(self, sx: float, sy: float) -> Text:
        """Letters keep their proportions, and are no larger than the room that they were given."""
        size = self.size_pt * min(sx, sy)
        return Text(self.x * sx, self.y * sy, self.text, size, self.anchor, self.bold, self.upward)


Shape: TypeAlias = Line | Box | Area | Text


def moved(shapes: Iterable[Shape], dx: float, dy: float) -> tuple[Shape, ...]:
    """The shapes, shifted by ``dx`` and ``dy`` mm."""
    if not dx and not dy:
        return tuple(shapes)
    return tuple(shape.moved(dx, dy) for shape in shapes)


def scaled(shapes: Iterable[Shape], sx: float, sy: float) -> tuple[Shape, ...]:
    """The shapes drawn ``sx`` times as wide and ``sy`` times as high from the origin; strokes keep their width."""
    if sx == sy == 1:
        return tuple(shapes)
    return tuple(shape.scaled(sx, sy) for shape in shapes)
