"""The cutting list on paper: by stock, all cabinets together, nothing lost and every word legible."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from typing import Final

import pytest
from drawn_cabinets import BOOKCASE, DOORS, HEAD, TWELVE, each_cabinet
from jobs import GALLERY_JOBS, read_well
from lettering_boxes import colliding, text_boxes

from storystick.cutting.part import CutPart, HandCounts
from storystick.cutting.parts import cutting_list
from storystick.cutting.totals import by_stock
from storystick.drawing.lettering import NAME_MM, points_of
from storystick.drawing.shapes import Anchor, Shape, Text
from storystick.job.job import Job
from storystick.layout.cabinets.build import lay_out_cabinet
from storystick.sheets.pages.cutting import cutting_blocks
from storystick.sheets.pages.flow import paginate

WIDTH: Final = 188.0
HEIGHT: Final = 248.0
BASES: Final = "".join(DOORS.replace('"Base"', f'"Base {number}"') for number in (1, 2, 3))
SIX: Final = BASES + TWELVE + BOOKCASE + BOOKCASE.replace('"Bookcase"', '"Press"')


def parts_of(job: Job) -> tuple[CutPart, ...]:
    return cutting_list([lay_out_cabinet(cabinet, job.figures) for cabinet in job.cabinets], job.figures)


def pages(job: Job, height: float = HEIGHT) -> list[tuple[Shape, ...]]:
    return paginate(list(cutting_blocks(parts_of(job), job.figures, WIDTH)), height)


def said(page: tuple[Shape, ...]) -> list[str]:
    return [box.text for box in text_boxes(page)]


@pytest.mark.parametrize("text", [SIX, BASES, TWELVE], ids=["six", "bases", "one"])
def test_rows_by_stock_hold_every_part_once_and_the_whole_area(text: str) -> None:
    job = read_well(HEAD + text)
    parts = parts_of(job)
    stocks = by_stock(parts)
    counted: Counter[tuple[object, ...]] = Counter()
    for stock in stocks:
        for row in stock.rows:
            counted[stock.stock, stock.thickness, row.length, row.width] += row.count
            assert row.hands is None or sum(row.hands) == row.count
    expected: Counter[tuple[object, ...]] = Counter()
    for part in parts:
        expected[part.stock, part.thickness, part.length, part.width] += part.count
    assert counted == expected


def test_cabinets_that_are_alike_share_their_rows_the_widest_first() -> None:
    stocks = {stock.stock: stock for stock in by_stock(parts_of(read_well(HEAD + BASES)))}
    rows = stocks["ply"].rows
    assert [(-row.width, -row.length) for row in rows] == sorted((-row.width, -row.length) for row in rows)
    assert {row.cabinets for row in rows} == {("Base 1–3",)}
    (side,) = (row for row in rows if row.names == ("side",))
    assert (side.count, side.hands) == (6, HandCounts(3, 3))
    (door,) = (row for row in stocks["front"].rows if row.hands)
    assert door.names == ("door: opening 1",)
    assert door.count == 6


def test_pieces_worked_at_other_places_stand_apart() -> None:
    """Of one size, with as many grooves in each: their shelves are at other heights."""
    low, high = (
        BOOKCASE.replace('"Bookcase"', f'"{name}"').replace("opening = 600", f"opening = {opening}")
        for name, opening in (("Low", 600), ("High", 700))
    )
    sides = [row for row in by_stock(parts_of(read_well(HEAD + low + high)))[0].rows if row.names == ("side",)]
    assert [(row.cabinets, row.count) for row in sides] == [(("Low",), 2), (("High",), 2)]


def test_notes_that_all_parts_of_a_stock_have_are_said_once() -> None:
    parts = [
        CutPart(name, "Case", "rail", 1, "oak", Fraction(length), Fraction(40), Fraction(20), notes=("planed", own))
        for name, length, own in (("rail 1", 300, "tenoned"), ("rail 2", 400, "butted"))
    ]
    (stock,) = by_stock(parts)
    assert stock.notes == ("planed",)
    assert [row.notes for row in stock.rows] == [("butted",), ("tenoned",)]


@each_cabinet
def test_every_word_of_the_list_stands_alone_in_its_width(text: str) -> None:
    (page, *_) = pages(read_well(HEAD + text), 1e4)
    boxes = text_boxes(page)
    assert colliding(boxes) == []
    assert min(box.left for box in boxes) >= 0.0
    assert max(box.right for box in boxes) <= WIDTH
    assert min(shape.size_pt for shape in page if isinstance(shape, Text)) >= points_of(NAME_MM)
    assert not [box.text for box in boxes if box.text.endswith("…")]


def test_a_stocks_name_is_never_cut_off_and_is_said_again_where_its_table_goes_on() -> None:
    long = "birch plywood of the second delivery in nine plies"
    job = read_well((HEAD + SIX).replace('"ply"', f'"{long}"').replace("ply = 18", f'"{long}" = 18'))
    for height in (70.0, 90.0, 110.0):
        found = pages(job, height)
        assert len(found) > 2
        first, second, *_ = (" ".join(said(page)) for page in found)
        assert f"{long}, 18 thick" in first
        assert f"{long}, 18 thick, continued" in second


@pytest.mark.parametrize("height", range(120, 250, 5))
def test_no_row_of_a_table_stands_alone_on_a_page(height: int) -> None:
    job = read_well(HEAD + SIX)
    alone = {
        f"{stock.stock}, {job.figures(stock.thickness)} thick"
        for stock in by_stock(parts_of(job))
        if len(stock.rows) == 1
    }
    for page in pages(job, float(height)):
        texts = [shape for shape in page if isinstance(shape, Text)]
        heads = sorted((shape for shape in texts if shape.bold and " thick" in shape.text), key=lambda shape: -shape.y)
        counts = {round(shape.y, 3) for shape in texts if shape.text.isdigit() and shape.anchor is Anchor.END}
        assert heads
        ends = [head.y for head in heads[1:]] + [float("-inf")]
        for head, end in zip(heads, ends, strict=True):
            rows = {y for y in counts if end < y < head.y}
            assert len(rows) > 1 or head.text in alone, head.text


def test_six_cabinets_take_two_pages_and_the_gallerys_chest_one() -> None:
    assert len(pages(read_well(HEAD + SIX))) <= 2
    (chest,) = (path for path in GALLERY_JOBS if path.stem == "bead-chest")
    assert len(pages(read_well(chest.read_text("utf-8")))) == 1


def test_list_ends_with_what_it_takes_of_each_stock() -> None:
    (page,) = pages(read_well(HEAD + TWELVE), 1e4)
    words = said(page)
    end = words[words.index("Altogether, without waste") :]
    # The frame's stiles are 40 wide and as high as the cabinet; of other members so wide there is the top rail, 920.
    assert "ply 40 wide: 2720 long" in end
    assert any(line.startswith("back: ") and "m²" in line and "sq ft" in line for line in end)


def test_job_without_cabinets_has_no_list() -> None:
    assert list(cutting_blocks((), read_well(HEAD + TWELVE).figures, WIDTH)) == []


@pytest.mark.parametrize("width", [120.0, 150.0, 188.0])
def test_names_of_parts_and_stocks_are_whole_however_many_cabinets_have_them(width: float) -> None:
    job = read_well(
        HEAD + "".join(DOORS.replace('"Base"', f'"Base {number}"') for number in range(1, 24, 2)) + TWELVE + BOOKCASE
    )
    drawn = paginate(list(cutting_blocks(parts_of(job), job.figures, width)), 55.0)
    names = [shape.text for page in drawn for shape in page if isinstance(shape, Text) and shape.x == 0.0]
    assert any("continued" in name for name in names)
    assert not [name for name in names if "…" in name or name.isdigit()]
    assert all(colliding(text_boxes(page)) == [] for page in drawn)
