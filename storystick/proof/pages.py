"""The pages of a PDF as they are looked at: boxes, turns, labels, and the ink on them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Final

from pypdf import PdfReader
from pypdf.generic import ArrayObject, DictionaryObject, PdfObject, StreamObject

from storystick.drawing.lettering import POINT_MM
from storystick.errors import Fault, placed_in
from storystick.proof.content import LARGEST_CONTENT, PageReader
from storystick.proof.figures import Bounds, Drawn
from storystick.proof.matrices import Matrix, quarter_turns
from storystick.proof.objects import (
    COSTLY,
    DAMAGED,
    decoded,
    dictionary,
    entry,
    items,
    leaves,
    number_of,
    reading,
    too_large,
)

MOST_PAGES: Final = 2000
"""No file of more pages is read."""

LARGEST_TOGETHER: Final = 64 * 2**20
"""The contents of all pages hold no more bytes than this once unpacked."""

_MOST_NODES: Final = 10_000
_HANDED_DOWN: Final = ("/MediaBox", "/CropBox", "/Rotate", "/Resources")
"""What a page has from the nodes above it where it says nothing (ISO 32000-1, table 30)."""


@dataclass(frozen=True, slots=True)
class ReadPage:
    """A page of a file. ``drawn`` is the page as it is looked at; ``unturned`` the same without its ``turn``.

    ``media`` and ``crop`` are in mm, ``unit`` is the size of the page's unit in points, ``turn`` in degrees clockwise.
    """

    label: str | None
    media: Bounds
    crop: Bounds
    unit: float
    turn: int
    drawn: Drawn
    unturned: Drawn = field(repr=False)


def page_count(reader: PdfReader) -> int:
    """How many pages the file has; none of them is read for that.

    Raises:
        StorystickError: the file is damaged, or has more pages than are allowed.
    """
    with reading():
        return sum(1 for _ in _page_nodes(entry(dictionary(reader.trailer.get("/Root")), "/Pages")))


def read_pages(reader: PdfReader) -> tuple[ReadPage, ...]:
    """Every page of the file.

    Raises:
        StorystickError: the file is damaged, has no page, or holds more than is allowed.
    """
    with reading():
        root = dictionary(reader.trailer.get("/Root"))
        nodes = list(_page_nodes(entry(root, "/Pages")))
        if not nodes:
            raise Fault("the file has no pages", "use the file as it was printed")
        labels = _labels(root)
        drawer, room = PageReader(reader), LARGEST_TOGETHER
        pages = []
        for index, node in enumerate(nodes):
            with placed_in(f"page {index + 1}"):
                data = _content(node, min(room, LARGEST_CONTENT))
                room -= len(data)
                pages.append(_read_page(node, data, labels.get(index), drawer))
        return tuple(pages)


def _page_nodes(root: PdfObject | None) -> Iterator[DictionaryObject]:
    """The pages in their order, each with what is handed down to it."""
    waiting: list[tuple[object, dict[str, PdfObject | None]]] = [(root, {})]
    seen = pages = 0
    while waiting:
        reference, above = waiting.pop()
        node = dictionary(reference)
        seen += 1
        if seen > _MOST_NODES:
            raise COSTLY
        own = above | {key: entry(node, key) for key in _HANDED_DOWN if key in node}
        if isinstance(kids := entry(node, "/Kids"), ArrayObject):
            waiting.extend((kid, own) for kid in reversed(kids))
        elif node:
            pages += 1
            if pages > MOST_PAGES:
                raise Fault(f"the file has more than {MOST_PAGES} pages, the most that is allowed", "divide it")
            whole = DictionaryObject(node)
            whole.update({key: value for key, value in own.items() if value is not None})
            yield whole


def _labels(root: DictionaryObject) -> dict[int, str]:
    """What is written in front of the number in a page's label, for the pages where a range of labels begins."""
    found = leaves(entry(root, "/PageLabels"), "/Nums")
    ranges = {int(number_of(number)): dictionary(value) for number, value in found}
    return {number: str(entry(value, "/P") or "") for number, value in ranges.items() if "/S" not in value}


def _content(page: DictionaryObject, most: int) -> bytes:
    """All of a page's streams, one after another, as if they were one (ISO 32000-1, table 30)."""
    contents = entry(page, "/Contents")
    streams = items(contents) if isinstance(contents, ArrayObject) else [contents]
    parts: list[bytes] = []
    for stream in streams:
        if isinstance(found := stream.get_object() if isinstance(stream, PdfObject) else None, StreamObject):
            parts.append(decoded(found, most, "the content of the page"))
            most -= len(parts[-1]) + 1
            if most < 0:
                raise too_large("the content of the page", LARGEST_CONTENT)
    return b"\n".join(parts)


def _read_page(page: DictionaryObject, data: bytes, label: str | None, drawer: PageReader) -> ReadPage:
    unit = number_of(entry(page, "/UserUnit"), 1)
    turn = int(number_of(entry(page, "/Rotate"), 0))
    media = _box(entry(page, "/MediaBox"))
    crop = _box(entry(page, "/CropBox")).common(media) if "/CropBox" in page else media
    to_mm = unit * POINT_MM
    width, height = (crop.right - crop.left) * to_mm, (crop.top - crop.bottom) * to_mm
    if turn % 90 or not (0 < width < 1e6 and 0 < height < 1e6):
        raise DAMAGED
    place = Matrix(to_mm, 0, 0, to_mm, -crop.left * to_mm, -crop.bottom * to_mm)
    turned = place.then(quarter_turns(turn, width, height))
    size = (height, width) if turn % 180 else (width, height)
    resources = dictionary(entry(page, "/Resources"))
    drawn = _with_notes(drawer.draw(data, resources, turned, size), page, turned)
    unturned = drawn
    if turn % 360:
        unturned = _with_notes(drawer.draw(data, resources, place, (width, height)), page, place)
    media_mm, crop_mm = (Bounds(*(edge * to_mm for edge in box)) for box in (media, crop))
    return ReadPage(label, media_mm, crop_mm, unit, turn % 360, drawn, unturned)


def _with_notes(drawn: Drawn, page: DictionaryObject, place: Matrix) -> Drawn:
    """The page with its annotations; one that does not say where it lies may lie anywhere."""
    whole = Bounds(0.0, 0.0, drawn.width_mm, drawn.height_mm)
    boxes = [items(entry(dictionary(note), "/Rect")) for note in items(entry(page, "/Annots"))]
    placed = (place.around(Bounds(*map(number_of, box))) if len(box) == 4 else whole for box in boxes)
    return replace(drawn, notes=tuple(placed))


def _box(value: PdfObject | None) -> Bounds:
    numbers = list(map(number_of, items(value)))
    if len(numbers) != 4:
        raise DAMAGED
    xs, ys = sorted(numbers[::2]), sorted(numbers[1::2])
    return Bounds(xs[0], ys[0], xs[1], ys[1])
