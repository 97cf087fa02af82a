"""What is on a page, as figures and words in mm: as it was drawn, to lay beside what is read back from a file."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Final, NamedTuple, TypeAlias

from storystick.drawing.lettering import POINT_MM, text_width_mm
from storystick.drawing.shapes import Anchor, Area, Box, Line, Shape, Text, moved
from storystick.sheets.document import Page

Point: TypeAlias = tuple[float, float]
"""x to the right and y up from the page's lower left corner as it is looked at, in mm."""

_USUAL_WIDTH: Final = 0.5
"""What a letter is wide, in the mean of a text, as a share of its size: common practice, no source."""

SHARE_BEFORE: Final = {Anchor.START: 0.0, Anchor.MIDDLE: 0.5, Anchor.END: 1.0}
"""How much of a text lies before its anchor."""


class Bounds(NamedTuple):
    """An upright rectangle, by its edges in mm."""

    left: float
    bottom: float
    right: float
    top: float

    def holds(self, other: Bounds, slack: float) -> bool:
        """Whether the other lies inside, or sticks out by no more than ``slack``."""
        return (
            self.left - slack <= other.left
            and self.bottom - slack <= other.bottom
            and other.right <= self.right + slack
            and other.top <= self.top + slack
        )

    def touches(self, other: Bounds) -> bool:
        across = self.left <= other.right and other.left <= self.right
        return across and self.bottom <= other.top and other.bottom <= self.top

    @property
    def area(self) -> Figure:
        """All of it, filled."""
        return filled(corners(self.left, self.bottom, self.right - self.left, self.top - self.bottom), 0.0)

    def common(self, other: Bounds) -> Bounds:
        """Where both are; upside down where they are apart."""
        low, high = map(max, self[:2], other[:2]), map(min, self[2:], other[2:])
        return Bounds(*low, *high)


@dataclass(frozen=True, slots=True)
class Figure:
    """A filled polygon by its corners, or a straight stroke by its ends; ``width`` is the stroke's, None for a fill.

    ``grey`` is 0 for black and 1 for white; ``cap`` how a stroke ends, 0 for at its ends (ISO 32000-1, table 54).
    """

    points: tuple[Point, ...]
    grey: float
    width: float | None = None
    dashed: bool = False
    cap: int = 0

    @property
    def kind(self) -> tuple[object, ...]:
        """Figures of one kind can be taken for one another."""
        return (self.width is None, len(self.points), round(self.grey, 2), self.dashed, self.cap)

    @property
    def middle(self) -> Point:
        xs, ys = zip(*self.points, strict=True)
        return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2

    @property
    def bounds(self) -> Bounds:
        xs, ys = zip(*self.points, strict=True)
        return Bounds(min(xs), min(ys), max(xs), max(ys))


@dataclass(frozen=True, slots=True)
class Words:
    """Some text, by the start of its baseline in mm, how far and which way its letters rise from there, and run.

    Letters that are as wide as their font has them run as far as they rise.
    """

    text: str
    start: Point
    rise: Point
    run: Point

    @property
    def bounds(self) -> Bounds:
        """About where the letters are."""
        x, y = self.start
        length = len(self.text) * _USUAL_WIDTH
        xs = (x, x + self.rise[0], x + self.run[0] * length, x + self.rise[0] + self.run[0] * length)
        ys = (y, y + self.rise[1], y + self.run[1] * length, y + self.rise[1] + self.run[1] * length)
        return Bounds(min(xs), min(ys), max(xs), max(ys))


@dataclass(frozen=True, slots=True)
class Drawn:
    """A page as it is looked at: its size in mm, and what is on it in the order of drawing.

    ``blots`` are the places of what can be compared with nothing: pictures, curves, and what is cut off in part;
    ``notes`` those of the notes and stamps that lie upon the page.
    """

    width_mm: float
    height_mm: float
    figures: tuple[Figure, ...]
    words: tuple[Words, ...]
    blots: tuple[Bounds, ...] = ()
    notes: tuple[Bounds, ...] = ()


def filled(points: Iterable[Point], grey: float) -> Figure:
    """A filled polygon, each of its corners named once."""
    first, *others = points
    distinct = [first, *(point for before, point in pairwise([first, *others]) if before != point)]
    while len(distinct) > 1 and distinct[-1] == first:
        distinct.pop()
    return Figure(tuple(distinct), grey)


def drawn_page(page: Page) -> Drawn:
    """A page that is laid out, as it should be in the file."""
    shapes = moved(page.shapes, -page.left_mm, -page.bottom_mm)
    figures = tuple(_figure(shape) for shape in shapes if not isinstance(shape, Text))
    words = tuple(_words(shape) for shape in shapes if isinstance(shape, Text) and shape.text.strip())
    return Drawn(page.width_mm, page.height_mm, figures, words)


def _figure(shape: Shape) -> Figure:
    match shape:
        case Line():
            ends = ((shape.x1, shape.y1), (shape.x2, shape.y2))
            return Figure(ends, 0.0, shape.width_mm, bool(shape.dash_mm))
        case Box():
            return filled(corners(shape.x, shape.y, shape.width, shape.height), shape.grey)
        case Area():
            return filled(shape.points, shape.grey)
    raise TypeError(f"{shape!r} has no ink that is struck from")


def corners(x: float, y: float, width: float, height: float) -> Iterator[Point]:
    """The corners of a rectangle in the order in which a PDF draws it (ISO 32000-1, table 59)."""
    yield from ((x, y), (x + width, y), (x + width, y + height), (x, y + height))


def _words(shape: Text) -> Words:
    before = SHARE_BEFORE[shape.anchor] * text_width_mm(shape.text, shape.size_pt, shape.bold)
    size = shape.size_pt * POINT_MM
    if shape.upward:
        return Words(shape.text, (shape.x, shape.y - before), (-size, 0.0), (0.0, size))
    return Words(shape.text, (shape.x - before, shape.y), (0.0, size), (size, 0.0))
