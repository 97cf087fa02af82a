"""Strips for pinch rods, printed and read back: every band at its diagonal, whatever paper and printer it is for."""

from __future__ import annotations

import json
from dataclasses import dataclass
from decimal import Decimal, localcontext
from fractions import Fraction
from io import BytesIO
from itertools import pairwise
from pathlib import Path
from typing import Any, Final

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st
from jobs import GALLERY_JOBS
from lettering_boxes import colliding, text_boxes
from pypdf import PdfReader
from readback import Ink, Reader, Rect, pdf_by_pdfium, pdf_by_pypdf, svg_by_svgelements, svg_by_xml

from storystick.cli import main
from storystick.drawing.strip import Strip, draw_strip
from storystick.job.job import Rectangle
from storystick.job.shop import Rod, Shop, Squaring
from storystick.laying_out import load
from storystick.layout.stations import SpanKind
from storystick.lengths import Units
from storystick.sheets.pages.rods import point_degrees
from storystick.sheets.rods import bands_of, rod_stick, rod_strips
from storystick.sheets.strips import plan_strips
from storystick.squaring.rectangles import rectangles_of
from storystick.squaring.rods import rods_for

TOLERANCE_MM: Final = 0.001
AROUND_MM: Final = 10.0
BAND_MM: Final = 12.0
INCH: Final = Decimal("25.4")
BEAD_CHEST: Final = next(path for path in GALLERY_JOBS if path.stem == "bead-chest")
SHOP: Final = 'units = "mm"\n[square]\ntolerance = 1\n[rod.a]\nclosed = 300\nopen = 700\n'
RECTANGLES: Final = (("lid", 240, 320), ("tray", 300, 400), ("tray 2", 400, 300), ("box", 280, 370))
PLAIN_STICK: Final = '[stock]\nply = 18\n[[stick]]\npart = "ply"\nopenings = [300]\n'
PRINTER: Final = '[printer.office]\nalong = "1.0123"\nacross = "0.985"\n'


def job_text(*head: str) -> str:
    tables = (f'[[rectangle]]\nname = "{name}"\nwidth = {wide}\nheight = {high}' for name, wide, high in RECTANGLES)
    return "\n".join(['title = "Boxes"', 'units = "mm"', *head, PLAIN_STICK, *tables])


def root(square: int | Decimal) -> Decimal:
    with localcontext() as context:
        context.prec = 50
        return Decimal(square).sqrt()


@dataclass(frozen=True)
class Wanted:
    """A rod with its bands in mm from where it is closed, worked out here with 50 digits."""

    closed: Decimal
    half: Decimal
    diagonals: tuple[Decimal, ...]

    @property
    def bands(self) -> list[list[float]]:
        return [[float(d - self.half - self.closed), float(d + self.half - self.closed)] for d in self.diagonals]


BOXES: Final = Wanted(Decimal(300), Decimal("0.5"), (Decimal(400), root(280**2 + 370**2), Decimal(500)))
"""Two trays of one diagonal share its band."""


def printed(folder: Path, text: str, *options: str, shop: str | None = SHOP) -> dict[str, bytes]:
    (folder / "boxes.toml").write_text(text, encoding="utf-8")
    if shop is not None:
        (folder / "shop.toml").write_text(shop, encoding="utf-8")
    return print_all(folder / "boxes.toml", folder / "out", *options)


def print_all(job: Path, out: Path, *options: str) -> dict[str, bytes]:
    result = CliRunner().invoke(main, ["print", str(job), "--output", str(out), *options])
    assert result.exit_code == 0, result.output
    return {path.name: path.read_bytes() for path in out.iterdir()}


def bands(ink: Ink) -> list[Rect]:
    """The grey bands of all strips of a page, each strip's from left to right, the upper strip first."""
    found = (box for box in ink.boxes if 0.5 < box.grey < 0.99 and abs(box.top - box.bottom - BAND_MM) < TOLERANCE_MM)
    return sorted(found, key=lambda box: (-round(box.bottom), box.left))


pdf_readers = pytest.mark.parametrize("read", [pdf_by_pypdf, pdf_by_pdfium])


@pdf_readers
def test_bands_of_a_rod_lie_at_its_diagonals(read: Reader, tmp_path: Path) -> None:
    ink = read(printed(tmp_path, job_text('paper = "A3"'))["rods.pdf"], 0)
    zero = zero_of(ink)
    assert [[box.left - zero, box.right - zero] for box in bands(ink)] == approximately(BOXES.bands)


def zero_of(ink: Ink) -> float:
    """The outer edge of the black bar that stands at zero, 1.4 mm wide."""
    (flag,) = (box for box in ink.boxes if box.grey < 0.01 and abs(box.right - box.left - 1.4) < TOLERANCE_MM)
    return flag.left


def approximately(stretches: list[list[float]]) -> list[Any]:
    return [pytest.approx(stretch, abs=TOLERANCE_MM) for stretch in stretches]


@pytest.mark.parametrize("read", [svg_by_xml, svg_by_svgelements])
def test_bands_of_a_rod_in_one_piece_lie_at_its_diagonals(read: Reader, tmp_path: Path) -> None:
    ink = read(printed(tmp_path, job_text())["rod-a.svg"], 0)
    found = [[box.left - AROUND_MM, box.right - AROUND_MM] for box in bands(ink)]
    assert found == approximately(BOXES.bands)


@pdf_readers
def test_rods_come_out_full_size_from_a_printer_with_a_correction(read: Reader, tmp_path: Path) -> None:
    text = job_text('paper = "A3"', 'printer = "office"')
    (tmp_path / "boxes.toml").write_text(text, encoding="utf-8")
    ink = read(printed(tmp_path, text, shop=SHOP + PRINTER)["rods.pdf"], 0)
    along = 1.0123
    first, *_, last = (box for box in ink.boxes if 0.5 < box.grey < 0.99)
    assert (last.right - first.left) / along == pytest.approx(BOXES.bands[-1][1] - BOXES.bands[0][0], abs=TOLERANCE_MM)


@pdf_readers
def test_rods_on_a_roll_are_in_one_tile(read: Reader, tmp_path: Path) -> None:
    ink = read(printed(tmp_path, job_text(), "--roll", "610 mm")["rods.pdf"], 0)
    zero = zero_of(ink)
    assert [[box.left - zero, box.right - zero] for box in bands(ink)] == approximately(BOXES.bands)


CHEST_RODS: Final = {"Rod short": 14 * INCH, "Rod long": 30 * INCH}
"""What its rods close to, in mm."""


@pdf_readers
def test_bead_chest_s_bands_lie_where_its_own_openings_put_them(read: Reader, tmp_path: Path) -> None:
    """Its shop has rods of 14 to 24 and 30 to 56 in; 1/32 in is its tolerance. Each tile as the plan places it."""
    data = print_all(BEAD_CHEST, tmp_path / "out")["rods.pdf"]
    layout = load(BEAD_CHEST)
    job = layout.job
    squares = {rectangle.diagonal_squared for rectangle in rectangles_of(layout)}
    diagonals = sorted(root(Decimal(square.numerator) / square.denominator) for square in squares)
    plan = plan_strips(rod_strips(rods_for(rectangles_of(layout), job.shop, job.units), job), job)
    assert len(plan.sheets) == len(PdfReader(BytesIO(data)).pages)
    expected: dict[int, list[list[float]]] = {sheet.number: [] for sheet in plan.sheets}
    for sheet, placed in plan.in_gluing_order():
        closed = CHEST_RODS[placed.tile.strip.layout.name]
        low, high = float(placed.tile.window.start), float(placed.tile.window.end)
        served = [d for d in diagonals if (d < 24 * INCH) == (closed == 14 * INCH)]
        here = Wanted(closed, INCH / 64, tuple(d for d in served if low < float(d - closed) < high)).bands
        expected[sheet.number] += [[placed.left_mm + edge - low for edge in band] for band in here]
    for number, wanted in expected.items():
        found = [[box.left, box.right] for box in bands(read(data, number - 1))]
        assert sorted(found) == approximately(sorted(wanted))
    assert sum(map(len, expected.values())) == len(diagonals)


def test_a_printed_file_of_rods_is_proved(tmp_path: Path) -> None:
    print_all(BEAD_CHEST, tmp_path / "out")
    result = CliRunner().invoke(main, ["verify", str(tmp_path / "out" / "rods.pdf")])
    assert result.exit_code == 0, result.output
    assert result.output.startswith("true")


lengths: Final = st.integers(400, 20000).map(lambda count: Fraction(count, 4))


@given(st.lists(st.tuples(lengths, lengths), min_size=1, max_size=10), st.sampled_from([Fraction(1), Fraction(25)]))
def test_a_strip_runs_on_from_zero_and_has_every_target_in_one_of_its_bands(
    sides: list[tuple[Fraction, Fraction]], tolerance: Fraction
) -> None:
    job = load(BEAD_CHEST).job
    rectangles = [Rectangle(f"opening {number}", *pair) for number, pair in enumerate(sides, start=1)]
    shop = Shop(rods=(Rod("own", Fraction(300), Fraction(3000)),), square=Squaring(tolerance))
    for number, rod in enumerate(rods_for(rectangles, shop, Units.MM).rods, start=1):
        stick = rod_stick(rod, number, job)
        assert [span.start for span in stick.spans] == [0, *(span.end for span in stick.spans[:-1])]
        assert stick.length <= rod.open - rod.closed
        kinds = [span.kind for span in stick.spans]
        assert all(one is not other for one, other in pairwise(kinds))
        assert [target for band in bands_of(rod) for target in band.targets] == list(rod.targets)
        parts = [span for span in stick.spans if span.kind is SpanKind.PART]
        for band, part in zip(bands_of(rod), parts, strict=True):
            middles = [target.diagonal - rod.closed for target in band.targets]
            assert part.start <= min(middles) - tolerance / 2 + Fraction(1, 10**14)
            assert part.end == max(middles) + tolerance / 2
        assert colliding(text_boxes(draw_strip(Strip(stick, None, job)).pieces[0].shapes)) == []


def bands_for(
    closed: str, *sides: tuple[int | str, int | str], tolerance: str = "1"
) -> list[tuple[Fraction, Fraction]]:
    rectangles = [Rectangle(f"r{number}", Fraction(a), Fraction(b)) for number, (a, b) in enumerate(sides)]
    shop = Shop(rods=(Rod("own", Fraction(closed), Fraction(1000)),), square=Squaring(Fraction(tolerance)))
    (rod,) = rods_for(rectangles, shop, Units.MM).rods
    return [(band.start, band.end) for band in bands_of(rod)]


def test_bands_that_overlap_or_touch_are_one() -> None:
    # 500, 500.5 and 501 exactly, each half a millimetre to both sides; then 505.
    sides = ((300, 400), ("300.3", "400.4"), ("300.6", "400.8"), (303, 404))
    assert bands_for("400", *sides) == [(Fraction("99.5"), Fraction("101.5")), (Fraction("104.5"), Fraction("105.5"))]
    assert bands_for("400", sides[0], sides[2]) == [(Fraction("99.5"), Fraction("101.5"))]


def test_a_band_may_begin_where_the_rod_is_closed() -> None:
    assert bands_for("499.5", (300, 400)) == [(Fraction(0), Fraction(1))]


def test_a_band_says_its_letter_and_its_diagonal_and_nothing_else(tmp_path: Path) -> None:
    ink = svg_by_xml(printed(tmp_path, job_text())["rod-a.svg"])
    top = max(y for _, y in ink.cuts[0])
    labels = {label.text for label in ink.labels if label.start[1] < top}
    head = {label for label in labels if "Rod a" in label} | {"0", "DATUM", "left", "END", "right"}
    scale = {str(number) for number in range(0, 400, 10)}
    digest = {label for label in labels if label.startswith(load(tmp_path / "boxes.toml").job.digest)}
    assert labels - head - digest - scale == {"A:", "400", "B:", "464", "full", "C:", "500"}


def test_nothing_on_the_strips_of_bead_chest_is_cut_short(tmp_path: Path) -> None:
    files = print_all(BEAD_CHEST, tmp_path / "out")
    labels = [label.text for name in ("rod-short.svg", "rod-long.svg") for label in svg_by_xml(files[name]).labels]
    assert {f"{letter}:" for letter in "ABCDEFGH"} <= set(labels)
    assert not [label for label in labels if "…" in label]


def test_bands_drawn_as_one_say_every_letter_and_every_diagonal(tmp_path: Path) -> None:
    text = job_text() + '\n[[rectangle]]\nname = "near"\nwidth = 240.3\nheight = 320.4\n'
    labels = {label.text for label in svg_by_xml(printed(tmp_path, text)["rod-a.svg"]).labels}
    assert {"A,", "B:", "400", ";", "400.5", "C:", "D:"} <= labels


def words_of(data: bytes) -> str:
    return " ".join(" ".join(page.extract_text().split()) for page in PdfReader(BytesIO(data)).pages)


def test_page_says_which_rod_serves_what(tmp_path: Path) -> None:
    words = words_of(printed(tmp_path, job_text())["square.pdf"])
    assert "Pinch rods" in words
    assert "The strip on a rod" in words
    assert "Making a rod" not in words
    for row in ("lid 400 100 0.5", "tray; tray 2 500 200 0.5"):
        assert row in words


def test_without_a_shop_the_page_says_what_to_make_and_no_strips_are_printed(tmp_path: Path) -> None:
    files = printed(tmp_path, job_text(), "--with", "rods", shop=None)
    assert not [name for name in files if name.startswith("rod")]
    words = words_of(files["square.pdf"])
    assert "Making a rod" in words
    # 400 less 0.8 is 399.2: sticks of 390 mm, which open to 780 less 6 in, 627.6 mm.
    assert "new 390 mm 390 19 full 152.4 627.6" in words


def test_a_job_with_nothing_to_square_has_no_chapter_of_rods(tmp_path: Path) -> None:
    files = printed(tmp_path, f'units = "mm"\n{PLAIN_STICK}')
    assert "rods.pdf" not in files
    assert "Pinch rods" not in words_of(files["job-sheet.pdf"])


@pytest.mark.parametrize(("formats", "wanted"), [("pdf", {"rods.pdf"}), ("svg", {"rod-a.svg"})])
def test_rods_are_printed_in_the_formats_asked_for(formats: str, wanted: set[str], tmp_path: Path) -> None:
    files = printed(tmp_path, job_text(), "--format", formats)
    assert {name for name in files if name.startswith("rod")} == wanted
    assert ("in rods.pdf" in words_of(files["square.pdf"])) == (formats == "pdf")


def test_rods_of_an_earlier_print_are_pointed_at(tmp_path: Path) -> None:
    printed(tmp_path, job_text())
    (tmp_path / "shop.toml").unlink()
    result = CliRunner().invoke(main, ["print", str(tmp_path / "boxes.toml"), "--output", str(tmp_path / "out")])
    assert "rods.pdf" in result.output
    assert "rod-a.svg" in result.output


def test_a_diagonal_too_short_for_any_rod_is_said(tmp_path: Path) -> None:
    till = '[[rectangle]]\nname = "till"\nwidth = 60\nheight = 80\n'
    words = words_of(printed(tmp_path, f'units = "mm"\n{PLAIN_STICK}{till}')["square.pdf"])
    assert "Too short for a rod, measured with a rule: till, 100." in words


def test_points_are_no_blunter_than_the_flattest_corner_or_45_degrees() -> None:
    def degrees(*sides: tuple[int, int]) -> int:
        (rod,) = rods_for([Rectangle(f"{a} {b}", Fraction(a), Fraction(b)) for a, b in sides], None, Units.MM).rods
        return point_degrees(rod)

    # The diagonal of 300 by 400 is 36.9 degrees from the long side, that of 100 by 500 is 11.3.
    assert degrees((400, 400)) == 45
    assert degrees((400, 400), (300, 400)) == 36
    assert degrees((400, 400), (100, 500)) == 11


def test_square_lists_the_rods_with_what_they_serve(tmp_path: Path) -> None:
    printed(tmp_path, job_text())
    result = CliRunner().invoke(main, ["square", str(tmp_path / "boxes.toml"), "--format", "json"])
    assert json.loads(result.stdout)["rods"] == [
        {
            "name": "a",
            "closed": "300",
            "closed_mm": 300.0,
            "open": "700",
            "open_mm": 700.0,
            "serves": ["lid", "box", "tray", "tray 2"],
            "to_make": False,
        }
    ]
    text = CliRunner().invoke(main, ["square", str(tmp_path / "boxes.toml")]).output
    assert "a, 300 to 700: lid; box; tray; tray 2." in text


def test_a_name_that_cannot_be_printed_is_a_fault(tmp_path: Path) -> None:
    (tmp_path / "boxes.toml").write_text(job_text().replace('"lid"', '"漢"'), encoding="utf-8")
    (tmp_path / "shop.toml").write_text(SHOP, encoding="utf-8")
    result = CliRunner().invoke(main, ["print", str(tmp_path / "boxes.toml"), "--output", str(tmp_path / "out")])
    assert result.exit_code == 1
    assert '"漢" has letters that cannot be printed' in " ".join(result.output.split())
    assert not (tmp_path / "out").exists()


def test_a_print_of_some_sticks_only_has_no_rods(tmp_path: Path) -> None:
    files = printed(tmp_path, job_text(), "--only", "stick 1")
    assert not [name for name in files if name.startswith("rod")]
    assert "Pinch rods" not in words_of(files["job-sheet.pdf"])


def test_a_rod_whose_name_cannot_be_printed_is_a_fault(tmp_path: Path) -> None:
    (tmp_path / "boxes.toml").write_text(job_text(), encoding="utf-8")
    (tmp_path / "shop.toml").write_text(SHOP.replace("rod.a", 'rod."漢"'), encoding="utf-8")
    result = CliRunner().invoke(main, ["print", str(tmp_path / "boxes.toml"), "--output", str(tmp_path / "out")])
    assert result.exit_code == 1
    assert 'pinch rods "漢" has letters that cannot be printed' in " ".join(result.output.split())
