"""The handful of shapes that a drawing is made of: all that a writer has to know.

Coordinates are floats in mm, origin at the lower left, x to the right and y up. Ink is black or a grey:
``grey`` is 0 for black and 1 for white.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import pairwise
from typing import Final, NamedTuple, TypeAlias

from storystick.drawing.lettering import POINT_MM, text_width_mm

FINE_MM: Final = 0.18
"""The width of a fine line, which is struck at its middle."""

BAND_GREY: Final = 0.86
EDGE_MM: Final = 0.35
"""A part's band and what is cut into a board are grey, with black edges so wide just inside the exact ones."""

WIDE_MM: Final = 0.5
NARROW_MM: Final = 0.25
"""Widths of lines of a reduced drawing in the ratio 2 : 1 (ISO 128-2): of contours and cut faces, and of all others."""


class Anchor(Enum):
    """Which point of a text's baseline its ``x`` and ``y`` are."""

    START = "start"
    MIDDLE = "middle"
    END = "end"

    @property
    def share_before(self) -> float:
        """How much of a text's width lies before its anchor."""
        return _SHARE_BEFORE[self]


_SHARE_BEFORE: Final = {Anchor.START: 0.0, Anchor.MIDDLE: 0.5, Anchor.END: 1.0}


class Rect(NamedTuple):
    """An upright rectangle by its edges, in mm."""

    left: float
    bottom: float
    right: float
    top: float

    def filled(self, grey: float = 0.0) -> Box:
        return Box(self.left, self.bottom, self.right - self.left, self.top - self.bottom, grey)

    def wider(self, by: float) -> Rect:
        return Rect(self.left - by, self.bottom - by, self.right + by, self.top + by)

    def traced(self, width_mm: float = FINE_MM) -> Path:
        """Its outline as one closed stroke, centred on its edges."""
        corners = ((self.left, self.bottom), (self.right, self.bottom), (self.right, self.top), (self.left, self.top))
        return Path(corners, width_mm)

    def moved(self, dx: float, dy: float) -> Rect:
        return Rect(self.left + dx, self.bottom + dy, self.right + dx, self.top + dy)

    def meets(self, other: Rect) -> bool:
        return (
            self.left < other.right and other.left < self.right and self.bottom < other.top and other.bottom < self.top
        )

    def lies_in(self, other: Rect) -> bool:
        return (
            other.left <= self.left
            and self.right <= other.right
            and other.bottom <= self.bottom
            and self.top <= other.top
        )


@dataclass(frozen=True, slots=True)
class Line:
    """A butt-ended stroke ``width_mm`` wide, centred on its ends; ``dash_mm`` are lengths of ink and gap in turn."""

    x1: float
    y1: float
    x2: float
    y2: float
    width_mm: float = FINE_MM
    dash_mm: tuple[float, ...] = ()

    @property
    def extent(self) -> Rect:
        left, right = sorted((self.x1, self.x2))
        bottom, top = sorted((self.y1, self.y2))
        return Rect(left, bottom, right, top).wider(self.width_mm / 2)

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

    @property
    def extent(self) -> Rect:
        return Rect(self.x, self.y, self.x + self.width, self.y + self.height)

    def moved(self, dx: float, dy: float) -> Box:
        return Box(self.x + dx, self.y + dy, self.width, self.height, self.grey)

    def scaled(self, sx: float, sy: float) -> Box:
        return Box(self.x * sx, self.y * sy, self.width * sx, self.height * sy, self.grey)


@dataclass(frozen=True, slots=True)
class Area:
    """A filled polygon without an outline."""

    points: tuple[tuple[float, float], ...]
    grey: float = 0.0

    @property
    def extent(self) -> Rect:
        xs, ys = zip(*self.points, strict=True)
        return Rect(min(xs), min(ys), max(xs), max(ys))

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

    @property
    def width_mm(self) -> float:
        """How long it is, whichever way it reads."""
        return text_width_mm(self.text, self.size_pt, self.bold)

    @property
    def extent(self) -> Rect:
        """With room for any letter of the font."""
        return self.reach(above_em=0.95, below_em=0.25)

    def reach(self, above_em: float = 0.78, below_em: float = 0.24) -> Rect:
        """What it takes, so much of its size above and below its baseline: of most letters, no accent on a capital."""
        width = self.width_mm
        before = self.anchor.share_before * width
        above, below = above_em * self.size_pt * POINT_MM, below_em * self.size_pt * POINT_MM
        if self.upward:
            return Rect(self.x - above, self.y - before, self.x + below, self.y - before + width)
        return Rect(self.x - before, self.y - below, self.x - before + width, self.y + above)

    def moved(self, dx: float, dy: float) -> Text:
        place = (self.x + dx, self.y + dy)
        return Text(*place, self.text, self.size_pt, self.anchor, self.bold, self.upward)

    def scaled(self, sx: float, sy: float) -> Text:
        """Letters keep their proportions, and are no larger than the room that they were given."""
        size = self.size_pt * min(sx, sy)
        return Text(self.x * sx, self.y * sy, self.text, size, self.anchor, self.bold, self.upward)


@dataclass(frozen=True, slots=True)
class Path:
    """A stroke ``width_mm`` wide from point to point, and from the last back to the first where it is ``closed``.

    It is mitred at its corners, and butt-ended where it is open.
    """

    points: tuple[tuple[float, float], ...]
    width_mm: float = FINE_MM
    closed: bool = True

    @property
    def lines(self) -> Iterator[Line]:
        """The same from point to point."""
        around = (*self.points, self.points[0]) if self.closed else self.points
        return (Line(*start, *end, self.width_mm) for start, end in pairwise(around))

    @property
    def extent(self) -> Rect:
        """Without the tips of its mitres."""
        xs, ys = zip(*self.points, strict=True)
        return Rect(min(xs), min(ys), max(xs), max(ys)).wider(self.width_mm / 2)

    def moved(self, dx: float, dy: float) -> Path:
        return Path(tuple((x + dx, y + dy) for x, y in self.points), self.width_mm, self.closed)

    def scaled(self, sx: float, sy: float) -> Path:
        return Path(tuple((x * sx, y * sy) for x, y in self.points), self.width_mm, self.closed)


Shape: TypeAlias = Line | Box | Area | Path | Text


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


def extent(shapes: Iterable[Shape]) -> Rect:
    """How far the shapes reach, with room for any letter in their texts."""
    lefts, bottoms, rights, tops = zip(*(shape.extent for shape in shapes), strict=True)
    return Rect(min(lefts), min(bottoms), max(rights), max(tops))


def outline(of: Rect, width_mm: float) -> Iterator[Line]:
    """The four sides of a rectangle, strokes centred on its edges."""
    for y in (of.bottom, of.top):
        yield Line(of.left, y, of.right, y, width_mm)
    for x in (of.left, of.right):
        yield Line(x, of.bottom, x, of.top, width_mm)


def closed(corners: Sequence[tuple[float, float]], width_mm: float, dash_mm: tuple[float, ...] = ()) -> Iterator[Line]:
    """The sides of a polygon, from corner to corner and back to the first."""
    for start, end in zip(corners, (*corners[1:], corners[0]), strict=True):
        yield Line(*start, *end, width_mm, dash_mm)
