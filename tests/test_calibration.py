"""The test sheet of a printer, read back, and the correction that its measured rules give."""

from __future__ import annotations

import re
import subprocess
import sys
import tomllib
from collections.abc import Callable
from fractions import Fraction
from math import hypot, sqrt
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

import pypdf
import pytest
from click.testing import CliRunner, Result
from hypothesis import given
from hypothesis import strategies as st
from jobs import read_well
from lettering_boxes import colliding, text_boxes
from readback import Ink, Stroke, pdf_by_pdfium, pdf_by_pypdf

from storystick.calibration import RuleReading, factor_text, units_of_paper, within_text
from storystick.cli import main
from storystick.drawing.shapes import Box
from storystick.job.kinds import NUMBER, Scope
from storystick.job.papers import PAPERS, Margins, read_sides, roll_paper
from storystick.job.shop import Printer, read_shop
from storystick.job.sources import Source
from storystick.lengths import INCH_MM, Units, write_exact
from storystick.sheets.bare_sheet import BareSheet, Correction
from storystick.sheets.calibration import CalibrationSheet, calibration_document, calibration_sheet

INCH: Final = float(INCH_MM)
READERS: Final = [pdf_by_pypdf, pdf_by_pdfium]

# The longest in whole inches or centimetres beside two margins (3/8 in, 10 mm) and the check bars (8 mm), or above
# them (12 mm), less 1 mm for the end lines; no rule is longer than 36 in or 1 m.
SHEETS: Final = {
    "--paper Letter": ("in", 9, 7),
    "--paper Legal": ("in", 12, 7),
    "--paper Tabloid": ("in", 15, 9),
    "--paper A4": ("mm", 260, 170),
    "--paper A3": ("mm", 390, 260),
    "--paper A2": ("mm", 560, 380),
    "--roll 24in": ("in", 36, 22),
    "--roll 61cm": ("mm", 970, 570),
    "--roll 1118mm": ("mm", 970, 1000),
}
IN_MM: Final = {"in": INCH, "mm": 1.0}


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder to work in, and an empty settings folder of its own."""
    for variable in ("XDG_CONFIG_HOME", "APPDATA", "HOME"):
        monkeypatch.setenv(variable, str(tmp_path / "settings"))
    (tmp_path / "work").mkdir()
    monkeypatch.chdir(tmp_path / "work")
    return tmp_path / "work"


def invoke(*words: str) -> Result:
    return CliRunner().invoke(main, ["calibrate", *words], catch_exceptions=False)


def run(*words: str) -> str:
    result = invoke(*words)
    assert result.exit_code == 0, result.output
    return result.output


def faults(*words: str) -> str:
    result = invoke(*words)
    assert result.exit_code == 1, result.output
    return " ".join(result.output.split())


def printed(options: str, read: Callable[[bytes], Ink]) -> Ink:
    run(*options.split())
    return read(Path("calibration.pdf").read_bytes())


def end_lines(ink: Ink, axis: int) -> list[float]:
    """Where the end lines stand of the rule along an axis: hairlines of 12 mm across it."""

    def is_end_line(stroke: Stroke) -> bool:
        across = abs(stroke.end[1 - axis] - stroke.start[1 - axis])
        return (
            stroke.width == pytest.approx(0.1, abs=1e-3)
            and across == pytest.approx(12.0, abs=1e-3)
            and stroke.start[axis] == pytest.approx(stroke.end[axis], abs=1e-6)
        )

    return sorted(stroke.start[axis] for stroke in ink.strokes if is_end_line(stroke))


@pytest.mark.parametrize("read", READERS)
@pytest.mark.parametrize("options", SHEETS)
def test_end_lines_are_exactly_as_far_apart_as_the_sheet_says(options: str, read: Callable[[bytes], Ink]) -> None:
    ink = printed(options, read)
    unit, *lengths = SHEETS[options]
    for axis, length in enumerate(lengths):
        near, far = end_lines(ink, axis)
        assert far - near == pytest.approx(length * IN_MM[unit], abs=1e-3)
    words = words_of(printed(options, pdf_by_pdfium))
    for name, length in zip(("ALONG", "ACROSS"), lengths, strict=True):
        (line,) = (text for text in words if text.startswith(f"{name}, the "))
        assert line.endswith(f": {length} {unit} between the middles of the end lines")


def words_of(ink: Ink) -> list[str]:
    return [label.text.strip() for label in ink.labels]


@pytest.mark.parametrize("options", SHEETS)
def test_along_is_the_way_of_the_long_side_or_of_the_roll(options: str) -> None:
    ink = printed(options, pdf_by_pdfium)
    along, across = ("roll’s length", "roll’s width") if "roll" in options else ("long side", "short side")
    (level,) = (label for label in ink.labels if label.text.startswith(f"ALONG, the {along}"))
    (upright,) = (label for label in ink.labels if label.text.startswith(f"ACROSS, the {across}"))
    assert (level.upward, upright.upward) == (False, True)
    assert "roll" in options or ink.width > ink.height


@pytest.mark.parametrize("read", READERS)
@pytest.mark.parametrize("options", SHEETS)
def test_square_is_square_and_says_its_diagonals(options: str, read: Callable[[bytes], Ink]) -> None:
    """The ends of the diagonals run inward from the corners at half a right angle: 12 mm each way."""
    ink = printed(options, read)
    stubs = [
        stroke
        for stroke in ink.strokes
        if {round(abs(stroke.end[axis] - stroke.start[axis]), 3) for axis in (0, 1)} == {12.0}
    ]
    corners = sorted(stroke.start for stroke in stubs)
    assert len(corners) == 4
    (left, low), (_, high), (right, _), _ = corners
    side = right - left
    assert high - low == pytest.approx(side, abs=1e-3)
    diagonals = [hypot(right - left, high - low), hypot(corners[1][0] - corners[2][0], corners[1][1] - corners[2][1])]
    assert diagonals == pytest.approx([side * sqrt(2)] * 2, abs=1e-3)
    words = " ".join(words_of(printed(options, pdf_by_pdfium)))
    units, step = (Units.INCH, INCH_MM / 64) if SHEETS[options][0] == "in" else (Units.MM, Fraction(1, 10))
    nearest = round(Fraction(diagonals[0]) / step) * step
    drift = "full" if diagonals[0] > nearest else "scant"
    assert f"Both diagonals should be {write_exact(nearest, units)} {units.sign} {drift}, and alike" in words
    assert "that cannot be corrected" in words


@pytest.mark.parametrize("options", SHEETS)
def test_everything_on_the_sheet_can_be_read(options: str) -> None:
    sheet = sheet_of(options)
    (page,) = calibration_document(sheet).pages
    boxes = text_boxes(page.shapes)
    assert colliding(boxes) == []
    margin = float(sheet.bare.margins.left)
    for box in boxes:
        assert margin - 1e-6 <= box.left
        assert margin - 1e-6 <= box.bottom
        assert box.right <= page.width_mm - margin + 1e-6
        assert box.top <= page.height_mm - margin + 1e-6
        assert "…" not in box.text.replace('"… ', "")


def sheet_of(options: str) -> CalibrationSheet:
    kind, value = options.split()
    if kind == "--paper":
        return calibration_sheet(PAPERS[value], units_of_paper(PAPERS[value]))
    widths = {
        "24in": (24 * INCH_MM, Units.INCH),
        "61cm": (Fraction(610), Units.MM),
        "1118mm": (Fraction(1118), Units.MM),
    }
    width, units = widths[value]
    return calibration_sheet(roll_paper(width, f"{value} roll"), units)


@pytest.mark.parametrize(
    ("options", "command"),
    [
        ("--paper A3", '--paper A3 --printer NAME --along "… mm" --across "… mm"'),
        ("--roll 24in", '--roll "24 in" --printer NAME --along "… in" --across "… in"'),
        ("--paper Letter --printer office", '--paper Letter --printer office --along "… in" --across "… in"'),
    ],
)
def test_sheet_bears_the_command_to_type_afterwards(options: str, command: str) -> None:
    ink = printed(options, pdf_by_pdfium)
    assert f"storystick calibrate {command}" in words_of(ink)
    for box in ("measured along", "measured across", "printer", "paper kind", "date"):
        assert box in words_of(ink)


def test_sheet_asks_for_no_scaling_and_says_that_it_is_not_corrected() -> None:
    ink = printed("--paper A4", pdf_by_pdfium)
    assert pypdf.PdfReader("calibration.pdf").trailer["/Root"]["/ViewerPreferences"]["/PrintScaling"] == "/None"  # type: ignore[index]
    assert any("not corrected" in label.text and "no fit to page" in label.text for label in ink.labels)


def test_sheet_is_for_the_usual_paper_of_the_shop(here: Path) -> None:
    assert printed("-o .", pdf_by_pypdf).width == pytest.approx(11 * INCH, abs=1e-3)
    (here / "shop.toml").write_text('units = "mm"\n', encoding="utf-8")
    assert printed("-o .", pdf_by_pypdf).width == pytest.approx(297, abs=1e-3)


@pytest.mark.parametrize(("width", "wanted"), [("610", 610.0), ("24 in", 24 * INCH), ("2 ft", 24 * INCH)])
def test_width_of_a_roll_may_say_its_unit(width: str, wanted: float, here: Path) -> None:
    (here / "shop.toml").write_text('units = "mm"\n', encoding="utf-8")
    run("--roll", width)
    ink = pdf_by_pdfium((here / "calibration.pdf").read_bytes())
    assert ink.height == pytest.approx(wanted, abs=1e-3)
    unit = "mm" if width == "610" else "in"
    assert any(f"{unit} between the middles" in label.text for label in ink.labels)


def test_roll_too_narrow_for_the_sheet_is_a_fault(here: Path) -> None:
    assert "150 mm of paper is too narrow for the test sheet" in faults("--roll", "150 mm")
    assert list(here.iterdir()) == []


# What was measured, and the key's value, by hand: 9 / (9 1/64) = 576/577; 1/64 in 9 1/64 in is 1/577.
def test_correction_is_nominal_over_measured_and_as_sure_as_it_was_read(here: Path) -> None:
    said = run("--printer", "office", "--along", "9 1/64", "--across", "7", "--date", "2026-02-03")
    (file,) = here.parent.rglob("shop.toml")
    assert file == here.parent / "settings" / "storystick" / "shop.toml"
    text = file.read_text(encoding="utf-8")
    assert text.startswith("#")
    assert tomllib.loads(text) == {
        "units": "inch",
        "printer": {
            "office": {
                "along": "576/577",
                "across": "1",
                "along_within": "1/577",
                "across_within": "1/448",
                "paper": "Letter",
                "date": "2026-02-03",
            }
        },
    }
    # 1000 mm / 577 is 1.733 mm, and 2400 mm / 577 is 4.159 mm.
    for wanted in (
        "99.827 % (576/577)",
        "the printer is true across",
        str(file),
        "storystick print JOB --printer office",
        "1 m can still be out along by 5/64 in (1.8 mm), one of 2.4 m by 11/64 in (4.2 mm)",
    ):
        assert wanted in said


def test_shop_file_beside_comes_before_the_one_in_the_settings_and_a_named_one_before_both(here: Path) -> None:
    measured = ("--paper", "A4", "--printer", "office", "--along", "260.5", "--across", "170")
    (here / "shop.toml").write_text("# mine\n", encoding="utf-8")
    run(*measured)
    assert printers_of(here / "shop.toml")[0].along == Fraction(520, 521)
    run(*measured, "--shop", "other.toml")
    assert printers_of(here / "other.toml")[0].along == Fraction(520, 521)
    assert (here / "other.toml").read_text(encoding="utf-8").splitlines()[1] == 'units = "mm"'
    assert not (here.parent / "settings").exists()


def printers_of(path: Path) -> tuple[Printer, ...]:
    shop, found = read_shop(Source(path.name, path.read_bytes()))
    assert found == ()
    return shop.printers


NEW_KEYS: Final = [
    'along = "520/521"',
    'across = "1"',
    'along_within = "1/521"',
    'across_within = "1/340"',
    'paper = "A4"',
    'date = "2026-02-03"',
]


def calibrated(text: str, here: Path, name: str = "office") -> str:
    (here / "shop.toml").write_bytes(text.encode())
    date = ("--date", "2026-02-03")
    run("--paper", "A4", "--printer", name, "--along", "260.5 mm", "--across", "170 mm", *date)
    return (here / "shop.toml").read_bytes().decode()


@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize(
    "text",
    [
        '# hi\nunits = "inch" # c\n\n[bit.half]\ndiameter = "1/2"  # x\n# end\n',
        "# mine\n",
        '[printer.a]\nalong = 1.01 # mine\n\n# on saws\n[saw.a]\nkerf = "1/8"\n[printer.b]\nacross = 1\n# tail\n',
        'printer.a.along = 1\n[bit.half]\ndiameter = "1/2"\n',
        "\ufeff[saw.cabinet]\nkerf = '1/8'\n",
    ],
)
def test_new_printer_is_added_at_the_end_and_all_else_stays_byte_for_byte(text: str, end: str, here: Path) -> None:
    before = text.replace("\n", end)
    added = "".join(f"{line}{end}" for line in ("", "[printer.office]", *NEW_KEYS))
    assert calibrated(before, here) == before + added


def test_file_without_a_last_line_end_is_given_one(here: Path) -> None:
    assert calibrated('units = "mm"', here).startswith('units = "mm"\n\n[printer.office]\n')


@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_printer_of_the_same_name_is_changed_where_it_stands(end: str, here: Path) -> None:
    lines = [
        "# the shop",
        "[printer.office] # upstairs",
        "# measured by Jo",
        'across =   "1.01"   # hot day',
        'paper = "Letter"',
        "",
        "# about bits",
        "[bit.half]",
        'diameter = "1/2"',
        "[printer.garage]",
        "along = 1.002",
    ]
    after = calibrated(end.join(lines) + end, here)
    changed = [
        *lines[:3],
        'across =   "1"   # hot day',
        'paper = "A4"',
        *NEW_KEYS[:1],
        *NEW_KEYS[2:4],
        NEW_KEYS[5],
        *lines[5:],
    ]
    assert after == end.join(changed) + end


def test_calibrating_again_changes_the_figures_alone(here: Path) -> None:
    once = calibrated("# mine\n", here)
    run("--paper", "A4", "--printer", "office", "--along", "259.5", "--across", "170", "--date", "2026-03-04")
    again = (here / "shop.toml").read_text(encoding="utf-8")
    expected = once.replace("520/521", "520/519").replace("1/521", "1/519").replace("2026-02-03", "2026-03-04")
    assert again == expected


@pytest.mark.parametrize(
    "text",
    [
        "printer = { garage = { along = 1 } }\n",
        "printer = { office = { along = 1.01 } } # one line\n",
        "[printer]\noffice = { along = 1.01, date = 'once' }\n",
        "printer.office.along = 1.01 # dotted\n[saw.cabinet]\nkerf = 0.125\n",
        "[printer.' office ']\nalong = 1.01\n",
        "[printer.office]\n# nothing yet\n",
    ],
)
def test_other_ways_to_write_the_table_are_served_too(text: str, here: Path) -> None:
    calibrated(text, here)
    (office,) = (printer for printer in printers_of(here / "shop.toml") if printer.name == "office")
    shares = (Fraction(1, 521), Fraction(1, 340))
    assert office == Printer("office", Fraction(520, 521), Fraction(1), *shares, "A4", "2026-02-03")


def test_table_without_keys_is_filled_before_the_comments_that_follow_it(here: Path) -> None:
    saw = '\n# for ripping\n[saw.cabinet]\nkerf = "1/8"\n'
    after = calibrated(f"[printer.office] # upstairs\n{saw}", here)
    assert after == "".join(f"{line}\n" for line in ("[printer.office] # upstairs", *NEW_KEYS)) + saw


STORING: Final = ("--paper", "A4", "--printer", "office", "--along", "260", "--across", "170")


def test_link_stays_a_link_and_is_called_as_it_was_given(here: Path) -> None:
    (here / "real.txt").write_text("# mine\n", encoding="utf-8")
    (here / "shop.toml").symlink_to("real.txt")
    assert "in shop.toml" in run(*STORING)
    assert (here / "shop.toml").is_symlink()
    assert "[printer.office]" in (here / "real.txt").read_text(encoding="utf-8")


def test_link_to_itself_is_a_fault(here: Path) -> None:
    (here / "loop.toml").symlink_to("loop.toml")
    assert "nothing was written: " in faults(*STORING, "--shop", "loop.toml")
    assert [path.name for path in here.iterdir()] == ["loop.toml"]


def test_file_that_is_read_only_is_left_alone(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (here / "shop.toml").write_text("# mine\n", encoding="utf-8")
    # The system's own answer, which is another for those who may write everything.
    monkeypatch.setattr("os.access", lambda path, _: Path(path).name != "shop.toml")
    assert "the file is read-only" in faults(*STORING)
    assert (here / "shop.toml").read_text(encoding="utf-8") == "# mine\n"


def test_file_in_a_folder_that_may_not_be_looked_into_is_a_fault(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def forbidden(_: Path) -> bool:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "exists", forbidden)
    assert "shop.toml the file cannot be reached" in faults(*STORING, "--shop", str(here / "shop.toml"))


@pytest.mark.parametrize("name", ['the "big" one', "a\\b", "$HOME `date`"])
def test_said_command_and_key_give_the_name_back(name: str) -> None:
    said = run(*STORING[:2], "--printer", name, *STORING[4:])
    (argument, key) = re.findall(r"print JOB (--printer .*), or (printer = .*) in the job", said)[0]
    assert tomllib.loads(key) == {"printer": name}
    shell = subprocess.run(["/bin/sh", "-c", f"printf %s {argument}"], capture_output=True, text=True, check=True)
    assert shell.stdout == f"--printer{name}"


def test_name_that_cannot_be_printed_is_a_fault_from_the_start(here: Path) -> None:
    for words in (("--printer", "漢字"), (*STORING[:2], "--printer", "漢字", *STORING[4:])):
        assert '--printer "漢字" has letters that cannot be printed' in faults(*words)
    assert list(here.iterdir()) == []


def test_empty_width_of_a_roll_is_a_fault(here: Path) -> None:
    assert "--roll a length is missing" in faults("--roll", "")
    assert list(here.iterdir()) == []


@pytest.mark.parametrize("name", ["HP 4000", 'the "big" one', "a.b", "Büro"])
def test_any_name_can_be_stored(name: str, here: Path) -> None:
    calibrated("", here, name)
    assert [printer.name for printer in printers_of(here / "shop.toml")] == [name]


def test_file_with_faults_is_reported_and_left_alone(here: Path) -> None:
    bad = '[saw.cabinet]\nkerf = "wide"\ncolour = "red"\n'
    (here / "shop.toml").write_text(bad, encoding="utf-8")
    words = faults("--paper", "A4", "--printer", "office", "--along", "260", "--across", "170")
    assert '"wide" is not a length' in words
    assert '"colour" is not a key here' in words
    assert (here / "shop.toml").read_text(encoding="utf-8") == bad


def test_file_that_would_not_read_back_is_not_written(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (here / "shop.toml").write_text("# mine\n", encoding="utf-8")
    monkeypatch.setattr("storystick.calibration._section", lambda *_: "[printer.office]\nalong = 'two'\n")
    words = faults("--paper", "A4", "--printer", "office", "--along", "260", "--across", "170")
    assert "the file is laid out in a way that the correction cannot be added to" in words
    assert (here / "shop.toml").read_text(encoding="utf-8") == "# mine\n"


def test_shop_file_has_the_name_of_one(here: Path) -> None:
    words = faults("--paper", "A4", "--printer", "a", "--along", "260", "--across", "170", "--shop", "shop.txt")
    assert "a shop file has a name that ends in .toml" in words
    assert list(here.iterdir()) == []


@pytest.mark.parametrize(
    ("paper", "along", "across", "said"),
    [
        ("Letter", "8 3/4", "6 1/2", ["--across 6 1/2 in on a rule of 7 in is 92.9 %"]),
        ("Letter", "8 1/2", "6 5/8", ["--along 8 1/2 in on a rule of 9 in is 94.4 %", "--across 6 5/8 in", "margins"]),
        (
            "A4",
            "244.6",
            "160",
            ["is 94.1 %", "A4 that is fitted to Letter comes out at 94.1 %", "or actual size"],
        ),
        ("A3", "275", "183.5", ["is 70.5 %", "A3 that is fitted to A4 comes out at 70.7 %"]),
        ("Letter", "228.5", "178", ["228 1/2 in is far from", "228.5 mm would be near it", '"178 mm"']),
        ("A4", "10 1/4", "170", ['"10.25 in"']),
        ("A4", "26", "17", ['"26 cm"', '"17 cm"']),
        ("A4", "170", "260", ["--along and --across each length is near that of the other rule"]),
        ("A4", "26x", "160", ["--along", "is not a length", "--across 160 mm on a rule of 170 mm is 94.1 %"]),
    ],
)
def test_measure_that_no_printer_gives_is_refused_with_its_cause(
    paper: str, along: str, across: str, said: list[str], here: Path
) -> None:
    words = faults("--paper", paper, "--printer", "office", "--along", along, "--across", across)
    for wanted in said:
        assert wanted in words
    assert list(here.iterdir()) == []
    assert not (here.parent / "settings").exists()


# 260 mm is 1.03 times 252.43 mm, and 0.97 times 268.04 mm.
@pytest.mark.parametrize(("along", "stored"), [("252.5", True), ("252.4", False), ("268", True), ("268.1", False)])
def test_three_per_cent_of_correction_is_the_most(along: str, stored: bool, here: Path) -> None:
    result = invoke("--paper", "A4", "--printer", "office", "--along", along, "--across", "170", "--shop", "s.toml")
    assert (result.exit_code == 0) is stored
    assert (here / "s.toml").exists() is stored


def test_print_that_looks_fitted_to_the_page_is_stored_with_a_warning() -> None:
    measured = ("--paper", "Letter", "--printer", "office")
    assert "Letter that is fitted to A4 comes out at 97.3 %" in run(*measured, "--along", "8.756", "--across", "6.811")
    assert "fit-to-page" not in run(*measured, "--along", "8 31/32", "--across", "7")


def test_finer_division_makes_it_surer_and_a_reading_between_divisions_does_not(here: Path) -> None:
    measured = ("--paper", "A4", "--printer", "office", "--along", "260.3", "--across", "170", "--shop", "s.toml")
    assert "It lies between divisions of 0.5 mm" in run(*measured)
    assert printers_of(here / "s.toml")[0].along_within == Fraction(5, 2603)
    assert "between divisions" not in run(*measured, "--read-to", "0.1")
    assert printers_of(here / "s.toml")[0].along_within == Fraction(1, 2603)
    assert "too coarse" in faults(*measured, "--read-to", "1 cm")


def test_fraction_too_long_for_the_shop_file_is_stored_to_nine_decimals_and_said(here: Path) -> None:
    said = run("--paper", "A4", "--printer", "a", "--along", "259.1234567891", "--across", "170", "--shop", "s.toml")
    assert "the nearest that a shop file holds" in said
    (printer,) = printers_of(here / "s.toml")
    assert abs(printer.along - Fraction(260) / Fraction("259.1234567891")) <= Fraction(1, 2 * 10**9)
    assert printer.along_within is not None
    assert printer.along_within >= Fraction(1, 2) / Fraction("259.1234567891")


@given(st.fractions(min_value=Fraction("0.97"), max_value=Fraction("1.03")))
def test_text_of_a_factor_reads_back_to_it_or_to_the_nearest(factor: Fraction) -> None:
    scope = Scope(Units.MM)
    read = NUMBER.read(factor_text(factor), scope)
    short = max(factor.numerator, factor.denominator) < 10**9
    assert read == factor if short else abs(read - factor) <= Fraction(1, 2 * 10**9)
    share = abs(factor - 1) + Fraction(1, 10**6)
    assert 0 <= NUMBER.read(within_text(share), scope) - share < Fraction(1, 10**9)


@pytest.mark.parametrize(
    "words",
    [
        ["--printer", "a", "--along", "9"],
        ["--printer", "a", "--across", "7"],
        ["--along", "9", "--across", "7"],
        ["--paper", "A4", "--roll", "610"],
        ["--read-to", "1/64"],
        ["--date", "2026-02-03"],
        ["--printer", "a", "--along", "9", "--across", "7", "--date", "3 May"],
        ["--printer", "a", "--along", "9", "--across", "7", "-o", "out"],
        ["--paper", "A7"],
    ],
)
def test_what_does_not_go_together_is_a_wrong_command_line(words: list[str], here: Path) -> None:
    assert invoke(*words).exit_code == 2
    assert list(here.iterdir()) == []


def test_help_loads_no_library_that_only_the_work_needs() -> None:
    program = (
        "import sys\nfrom storystick.cli import main\n"
        "try:\n    main(['calibrate', '--help'])\nexcept SystemExit:\n    pass\n"
        "print(sorted({'reportlab', 'pypdf', 'tomlkit'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout.rstrip().endswith("[]")


SCALES: Final = st.fractions(min_value=Fraction("0.975"), max_value=Fraction("1.025"), max_denominator=10_000)
HALF_DIVISIONS: Final = st.integers(min_value=-9, max_value=9).map(lambda tenths: Fraction(tenths, 20))


@given(st.tuples(SCALES, SCALES), st.tuples(HALF_DIVISIONS, HALF_DIVISIONS), st.sampled_from(["Letter", "A4", "A3"]))
def test_after_calibrating_a_print_comes_out_full_size_within_what_could_be_read(
    scales: tuple[Fraction, Fraction], slips: tuple[Fraction, Fraction], paper: str
) -> None:
    """A printer that draws everything so many times as long, and an eye that is out by up to half a division and a
    rounding to the nearest one: together less than a division."""
    sheet = calibration_sheet(PAPERS[paper], units_of_paper(PAPERS[paper]))
    read_to = INCH_MM / 64 if sheet.units is Units.INCH else Fraction(1, 2)
    readings = [
        round((nominal * scale) / read_to + slip) * read_to
        for nominal, scale, slip in zip((sheet.along, sheet.across), scales, slips, strict=True)
    ]
    with TemporaryDirectory() as folder:
        shop = Path(folder) / "shop.toml"
        along, across = (f"{reading} mm" for reading in readings)
        run("--paper", paper, "--printer", "p", "--along", along, "--across", across, "--shop", str(shop))
        (printer,) = printers_of(shop)
    assert printer.along_within is not None
    assert printer.across_within is not None
    drawn_width, drawn_height = drawn(printer)
    length = Fraction(200)
    assert abs(drawn_width * scales[0] - length) <= printer.along_within * length
    assert abs(drawn_height * scales[1] - length) <= printer.across_within * length
    assert RuleReading(sheet.along, readings[0], read_to).factor == printer.along


def drawn(printer: Printer) -> tuple[Fraction, Fraction]:
    """How large a square of 200 mm is in the file of a sheet for the printer."""
    correction = Correction(printer.along, printer.across, printer.name)
    bare = BareSheet(Fraction(297), Fraction(210), Margins(*[Fraction(10)] * 4), correction)
    (box,) = bare.page([Box(10.0, 5.0, 200.0, 200.0)], "sheet").shapes
    assert isinstance(box, Box)
    return Fraction(box.width), Fraction(box.height)


def test_paper_of_any_size_is_calibrated_by_its_sides(here: Path) -> None:
    """The sheet says how to type them again; the printer keeps the name that a job's own paper of that size has."""
    run("--paper", "13 x 19 in")
    text = "".join(page.extract_text() for page in pypdf.PdfReader(here / "calibration.pdf").pages)
    assert '--paper "13 x 19 in"' in text
    sheet = calibration_sheet(read_sides("13 x 19 in", Units.INCH), Units.INCH)
    along, across = (str(length / INCH_MM) for length in (sheet.along, sheet.across))
    run("--paper", "19x13 in", "--printer", "office", "--along", along, "--across", across)
    shop = next(here.parent.rglob("shop.toml"))
    assert 'paper = "13 x 19 in"' in shop.read_text(encoding="utf-8")
    job = read_well('units = "inch"\npaper = { width = 13, height = 19 }\n[[rectangle]]\nwidth = 9\nheight = 9\n')
    assert job.paper.name == "13 x 19 in"


@pytest.mark.parametrize(
    ("paper", "said"),
    [("3 x", "a length is missing"), ("2 x 3 in", "too narrow"), ("300 x 6000 mm", "longer than 5080 mm")],
)
def test_paper_that_no_test_sheet_fits_is_a_fault(paper: str, said: str) -> None:
    assert said in faults("--paper", paper)


def test_paper_that_is_neither_named_nor_two_sides_is_a_wrong_command_line() -> None:
    result = invoke("--paper", "foolscap")
    assert result.exit_code == 2
    assert "nor two sides as in '13 x 19 in'" in result.output
