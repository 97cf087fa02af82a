"""What stands on a bench sheet: sections of groups of rows to tick, with figures as labels; no HTML."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from hashlib import sha256
from typing import Final

from storystick.drawing.shapes import Shape, extent
from storystick.sheets.document import Page

_AROUND_MM: Final = 1.0


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure, and the word that says what it is, empty where it says so itself; a ``large`` one is read from afar."""

    words: str
    label: str
    large: bool = True


@dataclass(frozen=True, slots=True)
class Picture:
    """Something to look at, and what it shows in words."""

    page: Page
    words: str


def picture_of(shapes: Sequence[Shape], words: str) -> Picture:
    """Some shapes, just as large as they are."""
    reach = extent(shapes).wider(_AROUND_MM)
    width, height = reach.right - reach.left, reach.top - reach.bottom
    return Picture(Page(width, height, tuple(shapes), "", left_mm=reach.left, bottom_mm=reach.bottom), words)


@dataclass(frozen=True, slots=True)
class Clock:
    """A time to take down, and what follows from it: each by its word and the minutes until then."""

    words: str
    then: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Room:
    """Room to write for one cabinet, none named where there is but one: times, and what is measured by its word."""

    whose: str
    clocks: tuple[Clock, ...] = ()
    readings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Row:
    """Something to do and to tick, ``boxes`` times; ``kind`` is a word before its name. ``rows`` are parts of it.

    A ``quiet`` one is not struck or made itself, but stands between those that are. The ``picture`` is of its cut.
    """

    name: str
    figures: tuple[Figure, ...] = ()
    words: tuple[str, ...] = ()
    kind: str = ""
    boxes: int = 1
    rows: tuple[Row, ...] = ()
    rooms: tuple[Room, ...] = ()
    quiet: bool = False
    picture: Picture | None = None


@dataclass(frozen=True, slots=True)
class Group:
    """Rows that belong together, as of one stick or one stage; ``warnings`` are what to look at in it."""

    title: str
    rows: tuple[Row, ...] = ()
    words: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()
    letter: str = ""
    picture: Picture | None = None
    rooms: tuple[Room, ...] = ()


@dataclass(frozen=True, slots=True)
class Section:
    """All of one kind; ``key`` is what its ticks are kept by, and leads to it in the page."""

    key: str
    title: str
    groups: tuple[Group, ...]
    words: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


def key_in(words: str, before: str) -> str:
    """What something is kept by, after what holds it: it stays when others come and go."""
    return f"k{sha256(f'{before}/{words}'.encode()).hexdigest()[:10]}"


def keyed(rows: Sequence[Row], before: str) -> Iterator[tuple[str, Row]]:
    """Each row with its own key, after that of what holds the rows: its name and figures, or its words.

    So a part that is another size now, or stands where another stood, is not ticked for it.
    """
    seen = Counter[str]()
    for row in rows:
        own = "/".join((row.name, *([each.label for each in row.figures] or row.words)))
        seen[own] += 1
        yield key_in(f"{own}/{seen[own]}", before), row
