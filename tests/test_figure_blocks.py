"""The figures that are printed when they are asked for."""

from __future__ import annotations

from typing import Final

import pytest
from jobs import GALLERY_JOBS
from lettering_boxes import colliding, text_boxes

import storystick
from storystick.drawing.shapes import Shape, Text
from storystick.drawing.strip import strips_of
from storystick.layout.stations import Layout
from storystick.lengths import write_label
from storystick.sheets.pages.figures import figure_blocks
from storystick.sheets.pages.flow import Room, paginate
from storystick.sheets.strips import plan_strips

ROOM: Final = Room(185.0, 245.0)


def pages_of(layout: Layout, tiled: bool = True) -> list[tuple[Shape, ...]]:
    plan = plan_strips(strips_of(layout), layout.job)
    return paginate([*figure_blocks(plan, tiled, ROOM)], ROOM.height_mm)


def words(page: tuple[Shape, ...]) -> list[str]:
    return [shape.text for shape in page if isinstance(shape, Text)]


@pytest.mark.parametrize("path", GALLERY_JOBS, ids=lambda path: path.stem)
def test_every_mark_is_in_the_tables_in_the_order_of_its_strip(path: object) -> None:
    layout = storystick.load(str(path))
    found = iter([word for page in pages_of(layout) for word in words(page)])
    job = layout.job
    for strip in dict.fromkeys(strip.layout for strip in strips_of(layout)):
        for span in (*strip.spans, *strip.grooves):
            figures = [write_label(length, job.units, job.round_to) for length in (span.start, span.end, span.size)]
            assert all(word in found for word in (span.kind.value, *figures))
        for point in strip.points:
            assert all(word in found for word in (point.kind.value, write_label(point.at, job.units, job.round_to)))


@pytest.mark.parametrize("path", GALLERY_JOBS, ids=lambda path: path.stem)
def test_nothing_overlaps_and_all_keeps_to_the_page(path: object) -> None:
    for page in pages_of(storystick.load(str(path))):
        boxes = text_boxes(page)
        assert colliding(boxes) == []
        assert all(box.left >= -1e-6 and box.right <= ROOM.width_mm + 1e-6 for box in boxes)
        assert all(box.bottom >= -ROOM.height_mm for box in boxes)


def test_twelve_sheets_are_mapped_on_a_page() -> None:
    layout = storystick.load(str(next(path for path in GALLERY_JOBS if path.stem == "bead-chest")))
    sheets = len(plan_strips(strips_of(layout), layout.job).sheets)
    maps = [sum(word.startswith("sheet ") for word in words(page)) for page in pages_of(layout)]
    assert max(maps) == min(12, sheets)
    assert sum(maps) == sheets


def test_strips_that_are_not_in_tiles_have_no_map() -> None:
    layout = storystick.load(str(GALLERY_JOBS[0]))
    found = " ".join(word for page in pages_of(layout, tiled=False) for word in words(page))
    assert "sheet" not in found
    assert "How far to trust it" not in found


def test_tables_of_all_strips_stand_on_one_grid_as_wide_as_the_page() -> None:
    (path,) = (path for path in GALLERY_JOBS if path.stem == "bead-chest")
    pages = pages_of(storystick.load(str(path)), tiled=False)
    heads = [shape for page in pages for shape in page if isinstance(shape, Text) and shape.bold]
    for word in ("name", "from", "to", "size"):
        assert len({round(shape.x, 6) for shape in heads if shape.text == word}) == 1
    assert all(shape.x == pytest.approx(ROOM.width_mm) for shape in heads if shape.text == "size")
