"""What is said of how far to trust strips: published tapes, and losses added up here anew."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Final

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jobs import GALLERY_JOBS

import storystick
from storystick.drawing.shapes import Text
from storystick.drawing.strip import strips_of
from storystick.job.job import Job, PrintName
from storystick.job.openings import Fixed, Opening, Part, Stock
from storystick.job.papers import PAPERS, Margins, Paper, roll_paper
from storystick.job.shop import Printer
from storystick.job.sources import Source
from storystick.job.sticks import Datum, Stick
from storystick.laying_out import lay_out
from storystick.lengths import INCH_MM, Units, read_length
from storystick.printing import planned_files
from storystick.sheets.document import Page
from storystick.sheets.pages.flow import Room, paginate
from storystick.sheets.pages.trust import (
    TAPE_CLASSES,
    lost_at_stations,
    lost_joined,
    share_left,
    trust_blocks,
    upward,
    upward_percent,
)
from storystick.sheets.print_choices import FIGURES_FILE, JOB_SHEET_FILE, Choices, Formats
from storystick.sheets.strips import StripSheets, plan_strips

SHARED: Final = Path(__file__).parent.parent / "shared"
TOOLS: Final = tomllib.loads((SHARED / "measuring_tools.toml").read_text(encoding="utf-8"))
PAPER: Final = tomllib.loads((SHARED / "paper_growth.toml").read_text(encoding="utf-8"))
ROWS: Final = [
    (metres, tape, error)
    for table in TOOLS["printed"]
    for metres, row in table["errors"].items()
    for tape, error in row.items()
]
METRE: Final = Fraction(1000)
ROOM: Final = Room(185.0, 240.0)


def job(*lengths: int, units: Units = Units.MM, paper: Paper = PAPERS["A4"], printer: Printer | None = None) -> Job:
    part = Part(Stock("ply", Fraction(18)))
    sticks = tuple(
        Stick(number, f"Stick {number}", Datum.BOTTOM, (part, Opening(Fixed(Fraction(length - 36))), part), pair=True)
        for number, length in enumerate(lengths, start=1)
    )
    margins = Margins(*[Fraction(10)] * 4)
    return Job("Job", units, paper, margins, Fraction(1, 10), sticks, (Source("job.toml", b""),), printer=printer)


def plan_of(job: Job) -> StripSheets:
    return plan_strips(strips_of(lay_out(job)), job)


def lines_of(job: Job) -> list[str]:
    """The chapter's words, less the bold signs beside its paragraphs, which stand between their lines."""
    texts = (shape for block in trust_blocks(plan_of(job), ROOM) for shape in block.shapes if isinstance(shape, Text))
    return [text.text for text in texts if not text.text.endswith(":") or not text.bold]


def words_of(job: Job) -> str:
    return " ".join(lines_of(job))


@pytest.mark.parametrize(("metres", "tape", "error"), ROWS)
def test_every_published_row_of_tapes_is_met(metres: str, tape: str, error: str) -> None:
    assert TAPE_CLASSES[tape].error(int(metres) * METRE) == Fraction(error)


@pytest.mark.parametrize("tape", ["I", "II", "III"])
def test_classes_are_the_published_ones(tape: str) -> None:
    of_class = TAPE_CLASSES[tape]
    assert [of_class.fixed, of_class.a_metre, of_class.hook] == [Fraction(TOOLS[letter][tape]) for letter in "abc"]


def test_a_metre_that_is_begun_counts_whole() -> None:
    row = TOOLS["rounding"]
    assert TAPE_CLASSES[row["class"]].error(Fraction(row["length_m"]) * METRE) == Fraction(row["error"])
    assert TAPE_CLASSES["II"].error(METRE) < TAPE_CLASSES["II"].error(METRE + Fraction(1, 1000))


@pytest.mark.parametrize("row", TOOLS["hooked"], ids=lambda row: f"{row['class']} {row['length_m']} m")
def test_hooked_tape_may_be_out_by_more_than_between_two_marks(row: dict[str, str]) -> None:
    assert TAPE_CLASSES[row["class"]].hooked(Fraction(row["length_m"]) * METRE) == Fraction(row["error"])


def test_two_sides_measured_apart_may_be_out_each_its_own_way_from_the_hook() -> None:
    """By hand: 1.8 m counts as 2, 0.3 + 0.2 x 2 + 0.2 from the hook is 0.9, and twice that 1.8."""
    assert TAPE_CLASSES["II"].between_two(Fraction(1800)) == Fraction("1.8")


def test_sheet_compares_with_a_tape_that_is_hooked_as_it_says_to() -> None:
    words = words_of(job(1800))
    assert f"and by {TOOLS['c']['II']} mm more from its hook" in words
    assert "1.8 mm" in lines_of(job(1800))


# By hand: 4 tiles of 240 mm at 0.2 % lose 1.92 mm and 3 seams of 0.25 mm; one alone loses 0.48 mm and a seam.
@pytest.mark.parametrize(
    ("tiles", "joined", "laid"),
    [(["240"] * 4, "2.67", "0.73"), (["240", "100"], "0.93", "0.73"), (["240"], "0.48", "0.48")],
)
def test_losses_of_tiles_are_those_worked_by_hand(tiles: list[str], joined: str, laid: str) -> None:
    lengths, share = [Fraction(tile) for tile in tiles], Fraction(2, 1000)
    assert lost_joined(lengths, share) == Fraction(joined)
    assert lost_at_stations(lengths, share) == Fraction(laid)


@given(st.fractions(min_value=0, max_value=50, max_denominator=100_000))
def test_amounts_are_never_said_less_than_they_are(amount: Fraction) -> None:
    in_mm = upward(amount, Units.MM)
    assert amount <= read_length(in_mm, Units.MM) < amount + Fraction(1, 10)
    inches, beside = upward(amount, Units.INCH).rstrip(")").split(" (")
    assert amount <= read_length(inches, Units.INCH) < amount + INCH_MM / 64
    assert beside == in_mm


@given(st.fractions(min_value=0, max_value=1, max_denominator=100_000))
def test_shares_are_never_said_less_than_they_are(share: Fraction) -> None:
    said = Fraction(upward_percent(share).removesuffix(" %")) / 100
    assert share <= said < share + Fraction(1, 10_000)


# The level check bar of A4 is 250 mm, of A3 at these margins too, of a wide roll 400 mm; rules are read to 0.5 mm.
@pytest.mark.parametrize(
    ("paper", "share"),
    [(PAPERS["A4"], "1/500"), (PAPERS["A3"], "1/500"), (roll_paper(Fraction(610), "roll"), "1/800")],
)
def test_printer_without_a_test_sheet_is_as_sure_as_its_check_bar_can_be_read(paper: Paper, share: str) -> None:
    assert share_left(plan_of(job(1800, paper=paper))) == Fraction(share)


def test_short_sheet_off_a_roll_has_a_shorter_check_bar() -> None:
    assert share_left(plan_of(job(200, paper=roll_paper(Fraction(610), "roll")))) == Fraction(1, 400)


def test_printer_with_a_test_sheet_is_as_sure_as_that_was_read() -> None:
    measured = Printer("office", Fraction(1), Fraction(1), along_within=Fraction(1, 2000))
    assert share_left(plan_of(job(1800, printer=measured))) == Fraction(1, 2000)
    assert share_left(plan_of(job(1800, printer=replace(measured, along_within=None)))) == Fraction(1, 500)
    words = words_of(job(1800, printer=measured))
    assert "printer office was measured, and strips of it are right within 0.05 %" in words
    assert "1 m can still be out by 0.5 mm, and 2.4 m by 1.2 mm" in words


def test_sheet_says_how_far_strips_of_two_lengths_can_still_be_out() -> None:
    assert "1 m can still be out by 2 mm, and 2.4 m by 4.8 mm" in words_of(job(1800))
    # 1/64 in on the bar of 8 in of Letter is 1/512: 1.953 mm in 1 m, 4.688 mm in 2.4 m.
    inches = job(1800, units=Units.INCH, paper=PAPERS["Letter"])
    assert "1 m can still be out by 5/64 in (2 mm), and 2.4 m by 3/16 in (4.7 mm)" in words_of(inches)


def test_row_of_a_stick_holds_its_tape_its_seams_and_its_longest_tile() -> None:
    plan = plan_of(job(1800))
    seams = [seam.at for seam in plan.things[0].seams]
    longest = max(far - near for near, far in zip([0, *seams], [*seams, 1800], strict=True))
    words = iter(lines_of(job(1800)))
    for wanted in (
        "A",
        "1800",
        str(len(seams) + 1),
        "1.8 mm",
        upward(Fraction(1800, 500) + Fraction(len(seams), 4), Units.MM),
        upward(Fraction(longest) / 500 + Fraction(1, 4), Units.MM),
    ):
        assert wanted in words


def test_strips_of_a_length_share_a_row_and_the_shorter_ones_a_sentence() -> None:
    words = words_of(job(900, 900, 900, 900, *range(300, 500, 10)))
    assert " A, B, C, D 900 " in words
    assert "The other 15 shorter strips lose" in words  # 20 lengths and the one above, less six rows


def test_one_shorter_strip_more_is_spoken_of_alone() -> None:
    assert "The shortest strip loses 1.4 mm by tape" in words_of(job(*range(700, 0, -100)))


def test_most_of_the_shorter_strips_is_said() -> None:
    lengths = (2000, 1900, 1800, 1700, 1600, 1500, 1400, 300)
    assert "The other 2 shorter strips lose 1.8 mm by tape" in words_of(job(*lengths))


@pytest.mark.parametrize("path", GALLERY_JOBS, ids=lambda path: path.stem)
def test_chapter_keeps_to_a_page(path: Path) -> None:
    layout = storystick.load(path)
    plan = plan_strips(strips_of(layout), layout.job)
    blocks = list(trust_blocks(plan, ROOM))
    assert sum(block.height_mm for block in blocks) < 200
    assert len(paginate(blocks, 240.0)) == 1


def test_it_says_that_one_strip_serves_both_sides_and_what_the_shop_usually_gets() -> None:
    words = words_of(job(1800))
    for wanted in (
        "they agree with each other whatever the strip itself loses",
        "1.5 to 3 mm different (common practice, no source)",
        "check the far end against the tape before any glue",
        "The last column leaves out the tape’s own error",
        "strike the same day",
    ):
        assert wanted in words
    assert "1/16 to 1/8 in different" in words_of(job(1800, units=Units.INCH, paper=PAPERS["Letter"]))


def test_growth_of_paper_is_the_published_one() -> None:
    words = words_of(job(1800))
    for way, tail in (("along", "in all along its grain"), ("across", "across it")):
        low, high = PAPER["bond"][way]
        assert f"{low}–{high} % {tail}" in words
    along, across = ([float(share) * 10 for share in PAPER["bond"][way]] for way in ("along", "across"))
    assert f"1 m of strip by {along[0]:g}–{along[1]:g} mm or {across[0]:g}–{across[1]:g} mm" in words
    assert "a paper trade’s source" in words
    assert PAPER["address"].split("/")[0] not in words
    assert PAPER["test_method"]["standard"] in words


@pytest.mark.parametrize(("formats", "said"), [(Formats.PDF, True), (Formats.BOTH, True), (Formats.SVG, False)])
def test_chapter_is_among_the_figures_of_a_print_in_tiles(formats: Formats, said: bool) -> None:
    layout = lay_out(job(1800))
    files = planned_files(layout, Choices(formats=formats, names=(PrintName.STRIPS, PrintName.FIGURES)))
    assert "How far to trust it" not in texts_of(files[JOB_SHEET_FILE].draw())
    assert ("How far to trust it" in texts_of(files[FIGURES_FILE].draw())) is said


def texts_of(pages: Iterable[Page]) -> list[str]:
    return [shape.text for page in pages for shape in page.shapes if isinstance(shape, Text)]
