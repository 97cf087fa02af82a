"""A file to write: pages of shapes, and what travels with them. All that a writer is given."""

from __future__ import annotations

from dataclasses import dataclass, field

from storystick.drawing.shapes import Shape


@dataclass(frozen=True, slots=True)
class Page:
    """One page: shapes in mm, on a page whose lower left corner is at ``left_mm``, ``bottom_mm`` of their coordinates.

    ``label`` is the page's own number as printed on it; ``bookmarks`` are the outline entries that lead to it.
    """

    width_mm: float
    height_mm: float
    shapes: tuple[Shape, ...]
    label: str
    bookmarks: tuple[str, ...] = ()
    left_mm: float = 0.0
    bottom_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Attachment:
    """A file carried inside another: its bare name and its bytes."""

    name: str
    data: bytes = field(repr=False)


@dataclass(frozen=True, slots=True)
class Document:
    """The pages of one file. ``subject`` says in a line what it is and of which job."""

    title: str
    subject: str
    pages: tuple[Page, ...]
    attachments: tuple[Attachment, ...] = ()
