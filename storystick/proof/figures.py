"""What a page is made of, in mm: marks, words and others; x to the right, y up, from the lower left corner."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple, TypeAlias

Point: TypeAlias = tuple[float, float]


class Bounds(NamedTuple):
    """An upright rectangle, by its edges in mm."""

    left: float
    bottom: float
    right: float
    top: float

    def grown(self, by: float) -> Bounds:
        return Bounds(self.left - by, self.bottom - by, self.right + by, self.top + by)

    def holds(self, other: Bounds) -> bool:
        """Whether the other lies inside."""
        return (
            self.left <= other.left
            and self.bottom <= other.bottom
            and other.right <= self.right
            and other.top <= self.top
        )

    def touches(self, other: Bounds) -> bool:
        across = self.left <= other.right and other.left <= self.right
        return across and self.bottom <= other.top and other.bottom <= self.top


def around(points: Iterable[Point]) -> Bounds:
    """The rectangle that holds all of some points."""
    xs, ys = zip(*points, strict=True)
    return Bounds(min(xs), min(ys), max(xs), max(ys))


@dataclass(frozen=True, slots=True)
class Mark:
    """A filled polygon by its corners, or a line by its points.

    Marks of one ``kind`` can be taken for one another: it says number of corners, colour, dashes and caps. ``width`` is
    the line's, 0 for an area. What another thing cuts off, even in part, or lets shine through, is of no kind of ours.
    """

    points: tuple[Point, ...]
    kind: tuple[object, ...]
    width: float = 0.0

    @property
    def bounds(self) -> Bounds:
        return around(self.points)

    @property
    def middle(self) -> Point:
        left, bottom, right, top = self.bounds
        return (left + right) / 2, (bottom + top) / 2


@dataclass(frozen=True, slots=True)
class Word:
    """Letters without a space between them: where each stands on its baseline, and the room of all."""

    text: str
    starts: tuple[Point, ...]
    bounds: Bounds


@dataclass(frozen=True, slots=True)
class PageContent:
    """A page as it is looked at: its size, its marks and words in the order of drawing.

    ``others`` are the places of pictures, of shades, and of what lies on the page without being drawn plainly;
    ``notes`` those of annotations.
    """

    width_mm: float
    height_mm: float
    marks: tuple[Mark, ...]
    words: tuple[Word, ...]
    others: tuple[Bounds, ...] = ()
    notes: tuple[Bounds, ...] = ()
