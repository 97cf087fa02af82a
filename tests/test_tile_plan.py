"""What all that is cut into tiles has in common: the order of gluing, the pages, the map, and when a sheet is drawn."""

from __future__ import annotations

import tracemalloc
from collections import Counter
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any, Final

import pytest
from lettering_boxes import text_boxes

from storystick import load
from storystick.drawing.shapes import Box, Rect, Shape
from storystick.job.job import PrintName
from storystick.printables import KINDS, plan_print
from storystick.sheets.document import Document, Drawn, Page
from storystick.sheets.pages.figures import draw_sheet_map
from storystick.sheets.print_choices import ALL
from storystick.sheets.strips import StripTile
from storystick.sheets.tile_plan import TilePlan
from storystick.writers import writer_for

GALLERY: Final = Path(__file__).parent.parent / "gallery"
PLANNED: Final = {
    PrintName.STRIPS: "bead-chest",
    PrintName.RODS: "bead-chest",
    PrintName.BARS: "bead-chest",
    PrintName.TEMPLATES: "choir-bookcase",
    PrintName.SQUARE_STICKS: "tea-shelves",
}
"""Each kind that has sheets in tiles, and a job with some of it."""

each_kind = pytest.mark.parametrize("name", PLANNED)


@cache
def plan_of(name: PrintName) -> TilePlan[Any, Any]:
    layout = load(GALLERY / PLANNED[name] / f"{PLANNED[name]}.toml")
    plan = KINDS[name].plan(layout, ALL, plan_print(layout)).plan
    assert plan
    return plan


@each_kind
def test_order_of_gluing_has_every_tile_once_and_those_of_a_thing_together(name: PrintName) -> None:
    plan = plan_of(name)
    wanted = [id(tile) for thing in plan.things for tile in thing.tiles]
    assert [id(at.tile) for _, at in plan.in_gluing_order()] == wanted
    assert all(at in sheet.tiles for sheet, at in plan.in_gluing_order())
    assert Counter(wanted) == Counter(id(at.tile) for sheet in plan.sheets for at in sheet.tiles)
    assert [row[1] for row in plan.tile_rows()] == [tile.number for thing in plan.things for tile in thing.tiles]


@each_kind
def test_every_thing_is_in_the_outline_where_its_first_tile_is(name: PrintName) -> None:
    plan = plan_of(name)
    pages = plan.pages()
    assert [page.label for page in pages] == [f"{plan.kind.label} {number}" for number, _ in enumerate(pages, start=1)]
    for thing in plan.things:
        (page,) = (page for page in pages if thing.heading in page.bookmarks)
        sheet = plan.sheets[pages.index(page)]
        assert any(at.tile is thing.tiles[0] for at in sheet.tiles)


@each_kind
def test_map_of_a_sheet_has_its_tiles_where_they_lie(name: PrintName) -> None:
    """Reduced to a quarter, each outline is a quarter of its tile's, and so far from the sheet's lower left corner."""
    for sheet in plan_of(name).sheets:
        width = sheet.bare.width_mm / 4
        shapes = list(draw_sheet_map(sheet, 9, width))
        boxes = [shape.extent for shape in shapes if not isinstance(shape, Box)]
        floor = min(box.bottom for box in boxes)
        assert f"sheet {sheet.number} of 9" in [box.text for box in text_boxes(shapes)]
        for at in sheet.tiles:
            left, bottom = at.left_mm - at.tile.left_mm, at.y_mm - at.tile.below_mm
            edge = Rect(left, bottom, left + at.tile.width_mm, bottom)
            assert any(
                box.left == pytest.approx(edge.left / 4, abs=0.2)
                and box.right == pytest.approx(edge.right / 4, abs=0.2)
                and box.bottom - floor == pytest.approx(edge.bottom / 4, abs=0.4)
                for box in boxes
            )


def test_sheets_are_drawn_when_they_are_written_and_each_once(monkeypatch: pytest.MonkeyPatch) -> None:
    drawn: list[int] = []
    draw = StripTile.draw

    def counted(tile: StripTile) -> Iterator[Shape]:
        drawn.append(id(tile))
        return draw(tile)

    monkeypatch.setattr(StripTile, "draw", counted)
    plan = plan_of(PrintName.STRIPS)
    document = Document("Strips", "", plan.pages())
    assert drawn == []
    writer_for(".pdf")(document)
    assert drawn == [id(at.tile) for sheet in plan.sheets for at in sheet.tiles]


def test_memory_does_not_grow_by_what_is_drawn_on_each_page() -> None:
    """A page of so many boxes is over 100 kB of drawing; of what is written a tenth of that stays."""

    def peak(pages: int) -> int:
        boxes = Drawn(lambda: (Box(number / 7, number / 11, 1.23, 4.56) for number in range(3000)))
        document = Document("Boxes", "", tuple(Page(300.0, 300.0, boxes, str(number)) for number in range(pages)))
        tracemalloc.start()
        writer_for(".pdf")(document)
        most = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
        return most

    peak(1)
    assert (peak(12) - peak(4)) / 8 < 60_000
