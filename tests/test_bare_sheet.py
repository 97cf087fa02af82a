"""What every sheet carries, and what of a sheet is left."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Final

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lettering_boxes import colliding, text_boxes
from strategies import jobs

from storystick.drawing.shapes import Box, Shape, Text
from storystick.drawing.strip import strips_of
from storystick.errors import Fault
from storystick.job.job import Job
from storystick.job.openings import Fixed, Opening, Part, Stock
from storystick.job.papers import PAPERS, Margins, custom_paper
from storystick.job.sources import Source
from storystick.job.sticks import Datum, Holes, Stick
from storystick.laying_out import lay_out
from storystick.lengths import INCH_MM, Units
from storystick.sheets.bare_sheet import BareSheet, Correction, cut_off
from storystick.sheets.document import Page
from storystick.sheets.strips import plan_strips

SMALL: Final = custom_paper(Fraction(150), Fraction(210), "150 x 210 mm")


def job(units: Units = Units.MM, title: str = "Job") -> Job:
    margins = Margins(Fraction(10), Fraction(11), Fraction(12), Fraction(13))
    return Job(title, units, PAPERS["A4"], margins, Fraction(1, 10), (), (Source("job.toml", b""),))


def furniture(job: Job, width: float, height: float) -> list[Shape]:
    return list(BareSheet(width, height, job.margins).furniture(job, "strips, sheet 1 of 1"))


# Full inches and round mm, each the longest of its row that the sheet has room for.
@pytest.mark.parametrize(
    ("units", "paper", "level", "upright"),
    [
        (Units.MM, (297, 210), Fraction(250), Fraction(150)),
        (Units.MM, (420, 297), Fraction(250), Fraction(250)),
        (Units.MM, (594, 420), Fraction(400), Fraction(250)),
        (Units.MM, (140, 120), Fraction(100), Fraction(75)),
        (Units.INCH, (Fraction("279.4"), Fraction("215.9")), 8 * INCH_MM, 6 * INCH_MM),
        (Units.INCH, (Fraction("431.8"), Fraction("279.4")), 15 * INCH_MM, 8 * INCH_MM),
    ],
)
def test_check_bars_are_as_long_as_they_say_from_end_to_end(
    units: Units, paper: tuple[Fraction, Fraction], level: Fraction, upright: Fraction
) -> None:
    width, height = map(float, paper)
    boxes = [shape for shape in furniture(job(units), width, height) if isinstance(shape, Box)]
    level_bar = [box for box in boxes if box.y == 13.0]
    upright_bar = [box for box in boxes if box not in level_bar]
    left, right = min(box.x for box in level_bar), max(box.x + box.width for box in level_bar)
    assert (left, right - left) == (10.0, pytest.approx(float(level), abs=1e-9))
    low, high = min(box.y for box in upright_bar), max(box.y + box.height for box in upright_bar)
    assert high - low == pytest.approx(float(upright), abs=1e-9)
    words = [shape.text for shape in furniture(job(units), width, height) if isinstance(shape, Text)]
    for length in (level, upright):
        assert f"check: {length / units.in_mm} {'in' if units is Units.INCH else 'mm'} over all" in words


def test_sheet_says_its_job_its_digest_its_number_and_how_to_print_it() -> None:
    words = " ".join(text.text for text in furniture(job(title="Chest"), 297.0, 210.0) if isinstance(text, Text))
    for wanted in (job().digest, "strips, sheet 1 of 1", "print at 100 %", "Chest"):
        assert wanted in words


def test_two_versions_of_a_job_say_different_digests() -> None:
    one, other = (replace(job(), sources=(Source("job.toml", data),)) for data in (b"a", b"b"))
    assert one.digest != other.digest


def test_furniture_keeps_inside_the_margins_and_out_of_the_free_area() -> None:
    bare = BareSheet(297.0, 210.0, job().margins)
    for shape in bare.furniture(job(title="A title as long as anyone will ever write " * 4), "strips"):
        if isinstance(shape, Box):
            right, top = shape.x + shape.width, shape.y + shape.height
            assert shape.x >= 10
            assert shape.y >= 13
            assert right <= 297 - 11 + 1e-9
            assert top <= 210 - 12 + 1e-9
            assert top <= bare.free_bottom or shape.x >= bare.left + bare.free_width
    assert colliding(text_boxes(bare.furniture(job(title="W" * 80), "strips"))) == []


@pytest.mark.parametrize("to_right", ["0.97", "0.985", "1", "1.03"])
@pytest.mark.parametrize("upward", ["0.97", "1.03"])
def test_corrected_sheet_keeps_within_the_margins_of_the_page_and_of_the_paper(to_right: str, upward: str) -> None:
    correction = Correction(Fraction(to_right), Fraction(upward), "office")
    bare = BareSheet(Fraction(420), Fraction(297), job().margins, correction)
    on_paper = list(bare.furniture(job(), "strips"))
    for shapes in (on_paper, bare.page(on_paper, "strips 1").shapes):
        for box in (shape for shape in shapes if isinstance(shape, Box)):
            assert box.x + box.width <= 420 - 11 * min(correction.to_right, 1) + 1e-9
            assert box.y + box.height <= 297 - 12 * min(correction.upward, 1) + 1e-9


@pytest.mark.parametrize("to_right", ["0.97", "1", "1.03"])
def test_sheet_cut_off_a_roll_holds_what_it_was_cut_for(to_right: str) -> None:
    roll = BareSheet(Fraction(5080), Fraction(610), job().margins, Correction(Fraction(to_right)))
    sheet = cut_off(roll, 4000.0, Units.MM)
    assert 4000 <= sheet.free_length < 4010
    assert sheet.page_width % 10 == 0


# A stretch of close holes forces a seam soon after the datum, and so a first tile too short for its words.
@pytest.mark.parametrize("name", ["a", "a long name of a thing that stands there and nowhere else"])
@pytest.mark.parametrize("first", [6, 20, 30, 60, 90])
def test_tile_too_short_for_its_words_keeps_them_off_its_tab(first: int, name: str) -> None:
    rail = Part(Stock("ply", Fraction(18)), name)
    items = (rail, Opening(Fixed(Fraction(first)), name), rail, Opening(Fixed(Fraction(900)), name), rail)
    holes = Holes(Fraction(first + 45), Fraction(5), 90, name)
    stick = Stick(1, "Side", Datum.BOTTOM, items, pair=True, points=(holes,))
    short = replace(job(), sticks=(stick,))
    seams = plan_strips(strips_of(lay_out(short)), short).things[0].seams
    assert float(seams[0].at) < first + 60
    assert_readable(pages_of(short), short)


# Letter is 279.4 mm long: less two margins of 10, the check bar's 8, and 1 at each side for what stands out, 249.4.
@pytest.mark.parametrize(("length", "tiles"), [("249.4", 1), ("249.5", 2)])
def test_strip_as_long_as_the_sheet_has_room_for_is_one_tile(length: str, tiles: int) -> None:
    stick = Stick(1, "Side", Datum.BOTTOM, (Opening(Fixed(Fraction(length))),))
    long = replace(job(), sticks=(stick,), paper=PAPERS["Letter"], margins=Margins(*[Fraction(10)] * 4))
    assert len(plan_strips(strips_of(lay_out(long)), long).things[0].tiles) == tiles


def assert_readable(pages: tuple[Page, ...], job: Job) -> None:
    for page in pages:
        boxes = text_boxes(page.shapes)
        assert boxes
        assert colliding(boxes) == []
        for box in boxes:
            assert box.left >= float(job.margins.left) - 1e-6
            assert box.right <= page.width_mm - float(job.margins.right) + 1e-6
            assert box.bottom >= float(job.margins.bottom) - 1e-6
            assert box.top <= page.height_mm - float(job.margins.top) + 1e-6


def pages_of(job: Job) -> tuple[Page, ...]:
    return plan_strips(strips_of(lay_out(job)), job).pages()


@given(jobs(), st.sampled_from([None, SMALL]))
def test_no_two_texts_of_a_sheet_stand_in_each_other_s_way(job: Job, small: object) -> None:
    try:
        pages = pages_of(replace(job, paper=SMALL) if small else job)
    except Fault:
        return
    assert_readable(pages, job)
