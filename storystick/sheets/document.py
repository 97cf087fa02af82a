"""A file to write: pages of shapes, and what travels with them. All that a writer is given."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from typing import Final

from storystick.drawing.shapes import Path, Shape
from storystick.sheets.look import AS_INK, Look

_AROUND_MM: Final = 10.0


@dataclass(frozen=True, slots=True)
class Drawn:
    """Shapes that are drawn each time that somebody goes through them, and kept by nobody."""

    draw: Callable[[], Iterable[Shape]] = field(repr=False)

    def __iter__(self) -> Iterator[Shape]:
        return iter(self.draw())


@dataclass(frozen=True, slots=True)
class Page:
    """One page: shapes in mm, on a page whose lower left corner is at ``left_mm``, ``bottom_mm`` of their coordinates.

    They are gone through any number of times, and may be drawn only then. ``label`` is the page's own number as
    printed on it; ``bookmarks`` are the outline entries that lead to it. ``cut`` is what a machine cuts through: the
    outline first, then what is cut out of it.
    """

    width_mm: float
    height_mm: float
    shapes: tuple[Shape, ...] | Drawn
    label: str
    bookmarks: tuple[str, ...] = ()
    left_mm: float = 0.0
    bottom_mm: float = 0.0
    cut: tuple[Path, ...] = ()


def whole_page(
    shapes: Iterable[Shape],
    label: str,
    width_mm: float,
    height_mm: float,
    bottom_mm: float = 0.0,
    cut: Iterable[Path] = (),
) -> Page:
    """Something whole on a page of its own, its lower left corner at 0, ``bottom_mm``, with some room around it."""
    return Page(
        width_mm + 2 * _AROUND_MM,
        height_mm + 2 * _AROUND_MM,
        tuple(shapes),
        label,
        left_mm=-_AROUND_MM,
        bottom_mm=bottom_mm - _AROUND_MM,
        cut=tuple(cut),
    )


@dataclass(frozen=True, slots=True)
class Attachment:
    """A file carried inside another: its bare name and its bytes."""

    name: str
    data: bytes = field(repr=False)


@dataclass(frozen=True, slots=True)
class Document:
    """The pages of one file. ``subject`` says in a line what it is and of which job, ``look`` how an SVG is drawn."""

    title: str
    subject: str
    pages: tuple[Page, ...]
    attachments: tuple[Attachment, ...] = ()
    look: Look = AS_INK
