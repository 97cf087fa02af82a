"""The chapter "Square" of the job sheet."""

from __future__ import annotations

import pytest
from jobs import GALLERY_JOBS, read_well
from lettering_boxes import colliding, text_boxes

import storystick
from storystick.drawing.shapes import Line, Text
from storystick.job.print_names import PrintName
from storystick.layout.stations import Layout
from storystick.printables import KINDS, plan_print
from storystick.sheets.pages.flow import Room, paginate
from storystick.sheets.pages.square import square_blocks
from storystick.sheets.print_choices import ALL
from storystick.squaring.rectangles import bodies_of, targets_in

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


@pytest.mark.parametrize("layout", layouts(), ids=lambda layout: layout.job.title)
def test_every_rectangle_has_its_diagonal_in_large_figures_and_nothing_overlaps(layout: Layout) -> None:
    bodies = bodies_of(layout)
    (page,) = paginate([*square_blocks(bodies, layout.job, Room(185.0, 250.0))], 1e5)
    boxes = text_boxes(page)
    assert colliding(boxes) == []
    assert max(box.right for box in boxes) <= 185.0 + 1e-6
    large = [shape.text for shape in page if isinstance(shape, Text) and shape.size_pt == 13.0]
    assert large == [layout.job.figures.of_root(target.rectangle.diagonal_squared) for target in targets_in(bodies)]
    assert min(shape.size_pt for shape in page if isinstance(shape, Text)) >= 8.0


def test_each_row_has_two_boxes_to_write_in_that_nothing_stands_in() -> None:
    layout = storystick.lay_out(read_well(LONG_NAMES))
    (page,) = paginate([*square_blocks(bodies_of(layout), layout.job, Room(185.0, 250.0))], 1e5)
    sides = [shape for shape in page if isinstance(shape, Line) and shape.width_mm == 0.25]
    assert len(sides) == 4 * 2 * 5
    boxes = text_boxes(page)
    for place in range(0, len(sides), 4):
        xs = [x for line in sides[place : place + 4] for x in (line.x1, line.x2)]
        ys = [y for line in sides[place : place + 4] for y in (line.y1, line.y2)]
        assert (max(xs) - min(xs)) >= 20.0
        assert (max(ys) - min(ys)) >= 7.0
        assert not any(box.meets(min(xs), min(ys), max(xs), max(ys)) for box in boxes)


def test_table_that_reaches_another_page_repeats_its_heading() -> None:
    layout = storystick.load(GALLERY_JOBS[0])
    pages = paginate([*square_blocks(bodies_of(layout), layout.job, Room(185.0, 250.0))], 140.0)
    assert len(pages) > 2
    assert all("diagonal" in [shape.text for shape in page if isinstance(shape, Text)] for page in pages[1:])


def chapters_of(text: str) -> tuple[object, ...]:
    """The chapters of squaring that a job has."""
    layout = storystick.lay_out(read_well(text))
    return KINDS[PrintName.SQUARE].plan(layout, ALL, plan_print(layout)).chapters


def test_job_with_neither_cabinet_nor_rectangle_has_no_such_chapter() -> None:
    stick = 'title = "Stick"\nunits = "mm"\n[stock]\nply = 18\n[[stick]]\npart = "ply"\nopenings = [300]\n'
    assert chapters_of(stick) == ()
    door = '[[rectangle]]\nname = "door"\nwidth = 300\nheight = 400\n'
    assert len(chapters_of(stick + door)) == 1
