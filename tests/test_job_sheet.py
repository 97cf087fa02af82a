"""The job sheet: one page to hang up, on which nothing is clipped or stands on anything else."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Final

import pytest
from hypothesis import given
from lettering_boxes import colliding, text_boxes
from strategies import jobs

from storystick.drawing.shapes import Rect, Text
from storystick.drawing.strip import strips_of
from storystick.job.job import Job
from storystick.job.openings import Fixed, Item, Opening, Part, Stock
from storystick.job.papers import DEFAULT_MARGIN, PAPERS, Margins
from storystick.job.shop import Printer
from storystick.job.sources import Source
from storystick.job.sticks import Datum, Holes, Stick
from storystick.laying_out import lay_out
from storystick.layout.stations import Layout
from storystick.lengths import Units, write_label
from storystick.sheets.document import Page
from storystick.sheets.pages.flow import Block, heading
from storystick.sheets.pages.job_sheet import job_sheet_pages
from storystick.sheets.print_choices import STRIPS_FILE
from storystick.sheets.strips import StripSheets, plan_strips

TEN: Final = Fraction(10)
RAIL: Final = Part(Stock("ply", Fraction(18)))


def opening(size: int) -> Opening:
    return Opening(Fixed(Fraction(size)))


def job(*items: Item, holes: tuple[Holes, ...] = (), name: str = "Side", title: str = "Job") -> Job:
    stick = Stick(1, name, Datum.BOTTOM, items, pair=True, points=holes)
    margins = Margins(TEN, TEN, TEN, TEN)
    return Job(title, Units.MM, PAPERS["A4"], margins, Fraction(1, 10), (stick,), (Source("job.toml", b""),))


def sheet_of(job: Job) -> tuple[Layout, StripSheets, tuple[Page, ...]]:
    layout = lay_out(job)
    plan = plan_strips(strips_of(layout), job)
    return layout, plan, job_sheet_pages(layout, plan, [STRIPS_FILE])


def words_of(pages: tuple[Page, ...]) -> list[str]:
    texts = (shape.text for page in pages for shape in page.shapes if isinstance(shape, Text))
    return [text for text in texts if text not in "–!"]


def assert_readable(pages: tuple[Page, ...], job: Job) -> None:
    """On every page there is something to read beside its furniture, inside the margins, none of it over another."""
    for page in pages:
        boxes = text_boxes(page.shapes)
        assert len(boxes) > 1  # the line at the foot is one
        assert colliding(boxes) == []
        for box in boxes:
            assert box.left >= float(job.margins.left) - 1e-6
            assert box.right <= page.width_mm - float(job.margins.right) + 1e-6
            assert box.bottom >= float(job.margins.bottom) - 1e-6
            assert box.top <= page.height_mm - float(job.margins.top) + 1e-6


@given(jobs())
def test_a_job_of_sticks_has_one_page_and_that_can_be_read(job: Job) -> None:
    _, _, pages = sheet_of(job)
    assert len(pages) == 1
    assert_readable(pages, job)
    assert_within(pages, job)


def assert_within(pages: tuple[Page, ...], job: Job) -> None:
    """All ink keeps to the usual margins."""
    margin = float(DEFAULT_MARGIN[job.units]) - 0.3
    for page in pages:
        free = Rect(margin, margin, page.width_mm - margin, page.height_mm - margin)
        assert all(shape.extent.lies_in(free) for shape in page.shapes if not isinstance(shape, Text))


@pytest.mark.parametrize("paper", ["A4", "A3"])
def test_pages_of_words_have_no_check_bars_whatever_paper_the_strips_are_on(paper: str) -> None:
    """They would be wrong by a printer's correction, which holds for the strips' paper; nothing here is measured."""
    printer = Printer("office", Fraction("1.02"), Fraction("0.98"), paper="A3")
    given_job = replace(job(RAIL, opening(400), RAIL), paper=PAPERS[paper], printer=printer)
    _, _, pages = sheet_of(given_job)
    assert pages
    for number, page in enumerate(pages, start=1):
        words = words_of((page,))
        assert not [text for text in words if text.startswith("check:")]
        # The line says which version it is, and of what.
        assert f"{given_job.digest} · job sheet, page {number} of {len(pages)} · Job" in words
        assert max(page.width_mm, page.height_mm) == 297


def test_it_says_how_to_print_how_to_glue_and_what_to_take_care_of() -> None:
    _, _, pages = sheet_of(job(RAIL, opening(300), RAIL))
    words = " ".join(words_of(pages))
    for wanted in ("100 %", "check bars", "calipers", "paper grows", "try in it", "edge of the ink"):
        assert wanted in words


def test_seam_that_cannot_keep_clear_is_named_with_its_station() -> None:
    crowded = job(opening(900), holes=(Holes(Fraction(5), Fraction(5), 178, "pins"),))
    _, plan, pages = sheet_of(crowded)
    seams = plan.things[0].seams
    assert seams
    words = " ".join(words_of(pages))
    assert not any(seam.keeps_clear for seam in seams)
    *others, last = (write_label(seam.at, Units.MM, crowded.round_to) for seam in seams)
    assert f"Seams less than 3 mm from a mark: A at {', '.join(others)} and {last}. Check the marks" in words


def test_no_seam_is_named_where_all_keep_clear() -> None:
    _, _, pages = sheet_of(job(RAIL, opening(900), RAIL))
    assert "from a mark" not in " ".join(words_of(pages))


@pytest.mark.parametrize(
    "crowded",
    [
        job(*[RAIL, opening(20)] * 150, title="300 spans"),
        job(RAIL, opening(300), RAIL, title="W" * 80, name="M" * 80),
        job(RAIL, opening(300), RAIL, title="Ωmega " * 13, name="Зал карт " * 8),
        job(opening(5000), holes=(Holes(Fraction(40), Fraction(16), 300, "n" * 76),)),
    ],
    ids=["300 rows", "wide titles", "long words", "300 holes"],
)
def test_crowded_jobs_can_be_read_too(crowded: Job) -> None:
    _, _, pages = sheet_of(crowded)
    assert_readable(pages, crowded)


def test_pages_are_counted_and_the_first_is_in_the_outline() -> None:
    given_job = job(RAIL, opening(900), RAIL)
    layout = lay_out(given_job)
    chapters = [lambda room: heading_blocks(room.width_mm), lambda room: heading_blocks(room.width_mm)]
    pages = job_sheet_pages(layout, plan_strips(strips_of(layout), given_job), [STRIPS_FILE], chapters)
    assert len(pages) == 3
    assert [page.label for page in pages] == [f"job sheet {number}" for number in range(1, len(pages) + 1)]
    assert [page.bookmarks for page in pages] == [("Job sheet",)] + [()] * (len(pages) - 1)
    assert all(f"page {number} of {len(pages)}" in " ".join(words_of((page,))) for number, page in enumerate(pages, 1))


def heading_blocks(width: float) -> Iterator[Block]:
    yield replace(heading("A chapter", width), starts_page=True)


@pytest.mark.parametrize(("units", "size"), [(Units.MM, (210.0, 297.0)), (Units.INCH, (215.9, 279.4))])
def test_it_is_on_the_usual_paper_upright_whatever_the_strips_are_on(units: Units, size: tuple[float, float]) -> None:
    _, _, pages = sheet_of(replace(job(RAIL, opening(300), RAIL), units=units, paper=PAPERS["A2"]))
    assert {(page.width_mm, page.height_mm) for page in pages} == {size}
