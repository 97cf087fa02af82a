"""The pages on squaring by diagonals."""

from __future__ import annotations

from typing import Final

import pytest
from jobs import GALLERY_JOBS, read_well
from lettering_boxes import colliding, text_boxes

import storystick
from storystick.drawing.lettering import points_of
from storystick.drawing.shapes import Line, Shape, Text
from storystick.job.job import PrintName
from storystick.layout.stations import Layout
from storystick.printables import KINDS, plan_print
from storystick.sheets.pages.flow import Room, paginate
from storystick.sheets.pages.square import square_blocks
from storystick.sheets.print_choices import ALL
from storystick.squaring.rectangles import alike_bodies, bodies_of

ROOM: Final = Room(185.0, 250.0)
LONG_NAMES = """
title = "Long"
units = "mm"
[stock]
ply = 18
[[cabinet]]
name = "The press for everything that is white, in the upper corridor"
height = 2250
width = 901.37
depth = 500
carcass = "ply"
openings = ["equal", { opening = 500, name = "the shelf for blankets and all the other large things that are white" }]
[[rectangle]]
name = "door"
width = 300
height = 400
"""


def layouts() -> list[Layout]:
    found = [*map(storystick.load, GALLERY_JOBS), storystick.lay_out(read_well(LONG_NAMES))]
    return [layout for layout in found if layout.cabinets or layout.job.rectangles]


def shapes_of(layout: Layout) -> tuple[Shape, ...]:
    (page,) = paginate([*square_blocks(bodies_of(layout), layout.job, ROOM)], 1e5)
    return page


def large(shapes: tuple[Shape, ...]) -> list[str]:
    """The whole numbers of the large figures."""
    return [s.text for s in shapes if isinstance(s, Text) and s.size_pt == points_of(5.0) and s.text[0].isdigit()]


@pytest.mark.parametrize("layout", layouts(), ids=lambda layout: layout.job.title)
def test_every_size_worth_measuring_has_its_diagonal_in_large_figures_and_nothing_overlaps(layout: Layout) -> None:
    page = shapes_of(layout)
    boxes = text_boxes(page)
    assert colliding(boxes) == []
    assert max(box.right for box in boxes) <= ROOM.width_mm + 1e-6
    figures = layout.job.figures
    rows = [own.target.rectangle for alike in alike_bodies(bodies_of(layout)) for own in alike.rows]
    assert large(page) == [figures.of_root(each.diagonal_squared).split()[0] for each in rows]
    assert min(shape.size_pt for shape in page if isinstance(shape, Text)) >= points_of(2.5) - 1e-9


def test_each_row_has_two_boxes_to_write_in_that_nothing_stands_in() -> None:
    page = shapes_of(storystick.lay_out(read_well(LONG_NAMES)))
    sides = [shape for shape in page if isinstance(shape, Line) and shape.width_mm == 0.25]
    assert len(sides) == 4 * 2 * 5
    boxes = text_boxes(page)
    for place in range(0, len(sides), 4):
        xs = [x for line in sides[place : place + 4] for x in (line.x1, line.x2)]
        ys = [y for line in sides[place : place + 4] for y in (line.y1, line.y2)]
        assert (max(xs) - min(xs)) >= 20.0
        assert (max(ys) - min(ys)) >= 7.0
        assert not any(box.meets(min(xs), min(ys), max(xs), max(ys)) for box in boxes)


def gallery(stem: str) -> Layout:
    return storystick.load(next(path for path in GALLERY_JOBS if path.stem == stem))


def test_openings_of_one_size_are_one_row_and_those_of_the_case_behind_a_frame_are_none() -> None:
    (chest,) = alike_bodies(bodies_of(gallery("bead-chest")))
    told = [own.told for own in chest.rows]
    assert told[:3] == ["case, outside", "case, inside", "face frame"]
    assert told[3:] == [f"left drawer {number}, frame; right drawer {number}, frame" for number in range(1, 5)]


def test_cabinets_that_are_alike_share_their_rows_and_have_two_boxes_each() -> None:
    layout = gallery("boot-room")
    alike = list(alike_bodies(bodies_of(layout)))
    pairs = [("Coats left", "Coats right"), ("Drawers left", "Drawers right")]
    assert [each.names for each in alike] == [*pairs, ("Bench",)]
    page = shapes_of(layout)
    words = [shape.text for shape in page if isinstance(shape, Text)]
    assert "Coats left; Coats right (2 alike)" in words
    sides = [shape for shape in page if isinstance(shape, Line) and shape.width_mm == 0.25]
    assert len(sides) == 4 * 2 * sum(len(each.names) * len(each.rows) for each in alike)
    assert words.count("Coats right") == len(alike[0].rows)


def test_a_chest_is_squared_from_one_page_and_its_rods_from_another() -> None:
    layout = gallery("bead-chest")
    strips = plan_print(layout)
    square, rods = (KINDS[name].plan(layout, ALL, strips).chapters for name in (PrintName.SQUARE, PrintName.RODS))
    letter = Room(188.0, 248.0)
    blocks = [block for chapter in (*square, *rods) for block in chapter(letter)]
    pages = paginate(blocks, letter.height_mm)
    assert len(pages) == 2
    assert "Pinch rods" in [shape.text for shape in pages[1] if isinstance(shape, Text)]


def test_table_that_reaches_another_page_repeats_its_name_and_its_heading() -> None:
    layout = gallery("bead-chest")
    pages = paginate([*square_blocks(bodies_of(layout), layout.job, ROOM)], 190.0)
    assert len(pages) == 2
    words = [shape.text for shape in pages[1] if isinstance(shape, Text)]
    assert words[:5] == ["Chest, continued", "rectangle", "width × height", "apart at most", "diagonal"]


def chapters_of(text: str) -> tuple[object, ...]:
    """The chapters of squaring that a job has."""
    layout = storystick.lay_out(read_well(text))
    return KINDS[PrintName.SQUARE].plan(layout, ALL, plan_print(layout)).chapters


def test_job_with_neither_cabinet_nor_rectangle_has_no_such_chapter() -> None:
    stick = 'title = "Stick"\nunits = "mm"\n[stock]\nply = 18\n[[stick]]\npart = "ply"\nopenings = [300]\n'
    assert chapters_of(stick) == ()
    door = '[[rectangle]]\nname = "door"\nwidth = 300\nheight = 400\n'
    assert len(chapters_of(stick + door)) == 1
