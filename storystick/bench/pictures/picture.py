"""A picture on the page: shapes of the drawing stage, and over them places to click that lead to what says them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from storystick.bench.places import Steps, write_pointer
from storystick.drawing.shapes import Rect, Shape, extent
from storystick.sheets.document import Page
from storystick.writers.svg import Link, picture

_AROUND_MM: Final = 2.0


@dataclass(frozen=True, slots=True)
class Place:
    """A rectangle of a picture, in mm, which leads to a place in the file; ``label`` says what is there."""

    rect: Rect
    at: Steps
    label: str

    @property
    def link(self) -> Link:
        """It as the page wants it."""
        return Link(self.rect, {"class": "place", "data-at": write_pointer(self.at), "aria-label": self.label})


@dataclass(frozen=True, slots=True)
class Picture:
    """Something drawn, under a ``title``; ``notes`` are what found no room in it.

    ``at`` is what the whole of it is a picture of, and ``letter`` that of a strip.
    """

    title: str
    shapes: tuple[Shape, ...]
    places: tuple[Place, ...] = ()
    notes: tuple[str, ...] = ()
    at: Steps = ()
    letter: str = ""

    @property
    def reach(self) -> Rect:
        """What it takes, in mm, with a little room round it."""
        reaches = (extent(self.shapes), *(place.rect for place in self.places))
        lefts, bottoms, rights, tops = zip(*reaches, strict=True)
        return Rect(min(lefts), min(bottoms), max(rights), max(tops)).wider(_AROUND_MM)

    @property
    def in_order(self) -> tuple[Place, ...]:
        """Its places as they are read: from the top, and from the left."""
        return tuple(sorted(self.places, key=lambda place: (-round(place.rect.top, 1), place.rect.left)))

    def svg(self) -> str:
        """For inside the page."""
        reach = self.reach
        page = Page(
            reach.right - reach.left,
            reach.top - reach.bottom,
            self.shapes,
            label=self.title,
            left_mm=reach.left,
            bottom_mm=reach.bottom,
        )
        return picture(page, self.title, [place.link for place in self.in_order])
