"""storystick square as it is typed: what it lists, what it makes of readings, and what it refuses."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Sequence
from fractions import Fraction
from math import hypot
from pathlib import Path
from typing import Any, Final

import click
import pytest
from click.testing import CliRunner, Result
from jobs import GALLERY_JOBS

from storystick.cli import main
from storystick.errors import StorystickError
from storystick.lengths import Units, read_length

CASE: Final = """
title = "Press"
units = "mm"
[stock]
ply = 18
[[cabinet]]
name = "Press"
height = 1200
width = 900
depth = 500
carcass = "ply"
openings = ["equal", { opening = 500, name = "shelf" }]
[[rectangle]]
name = "door"
width = 300
height = 400
"""
INCH: Final = 'title = "Gate"\nunits = "inch"\n[stock]\nply = "3/4"\n[[stick]]\npart = "ply"\nopenings = ["13"]\n'
GATE: Final = INCH + '[[rectangle]]\nname = "gate"\nwidth = "48"\nheight = "96"\n'
NAMES: Final = ["Press case, outside", "Press case, inside", "Press opening 1", "Press shelf", "door"]


def square(job: Path, *words: str) -> Result:
    return CliRunner().invoke(main, ["square", str(job), *words])


def listed(job: Path, *words: str) -> dict[str, Any]:
    result = square(job, *words, "--format", "json")
    assert result.exit_code == 0, result.output
    listing: dict[str, Any] = json.loads(result.stdout)
    return listing


def measured(*lengths: object) -> list[str]:
    return ["--measured", *map(str, lengths)]


@pytest.fixture
def press(tmp_path: Path) -> Path:
    path = tmp_path / "press.toml"
    path.write_text(CASE, encoding="utf-8")
    return path


@pytest.fixture
def gate(tmp_path: Path) -> Path:
    path = tmp_path / "gate.toml"
    path.write_text(GATE, encoding="utf-8")
    return path


def test_every_rectangle_has_its_diagonal_as_a_readable_length_and_as_a_number(press: Path) -> None:
    listing = listed(press)
    assert (listing["title"], listing["units"], len(listing["digest"])) == ("Press", "mm", 6)
    assert [each["name"] for each in listing["diagonals"]] == NAMES
    for each in listing["diagonals"]:
        assert each["diagonal_mm"] == pytest.approx(hypot(each["width_mm"], each["height_mm"]), abs=1e-9)
        assert abs(float(read_length(each["diagonal"], Units.MM)) - each["diagonal_mm"]) <= 0.05
        assert all(
            float(read_length(each[key], Units.MM)) == each[f"{key}_mm"] for key in ("width", "height", "tolerance")
        )
    outside, door = listing["diagonals"][0], listing["diagonals"][-1]
    assert [outside[key] for key in ("diagonal", "diagonal_label", "tolerance")] == ["1500", "1500", "0.8"]
    assert (door["diagonal"], door["diagonal_mm"]) == ("500", 500.0)
    assert listing["measured"] == listing["together"] == []


def test_shop_says_what_counts_as_square_and_otherwise_size_does(press: Path, tmp_path: Path) -> None:
    press.write_text(CASE.replace("height = 1200", "height = 2250"), encoding="utf-8")
    assert [each["tolerance"] for each in listed(press)["diagonals"]] == ["1.6", "1.6", "0.8", "0.8", "0.8"]
    shop = tmp_path / "own.toml"
    shop.write_text('units = "mm"\n[square]\ntolerance = 1.2\n', encoding="utf-8")
    assert {each["tolerance"] for each in listed(press, "--shop", str(shop))["diagonals"]} == {"1.2"}
    assert "as the shop file says" in " ".join(square(press, "--shop", str(shop)).stdout.split())


def test_rack_is_exact_and_says_which_way_the_top_must_move(press: Path) -> None:
    (each,) = listed(press, *measured("Press case, outside", 1503, 1499))["measured"]
    rack = Fraction(1503**2 - 1499**2, 4 * 900)
    assert read_length(each["rack"], Units.MM) == rack
    assert each["rack_mm"] == float(rack)
    assert (each["move_top"], each["longer"], each["within_tolerance"], each["sure"]) == ("left", "rising", False, True)
    assert each["angle_degrees"] == pytest.approx(0.159, abs=5e-4)
    (other,) = listed(press, *measured("Press case, outside", 1499, 1503))["measured"]
    assert (other["rack_mm"], other["move_top"]) == (-each["rack_mm"], "right")


def test_what_counts_as_square_is_not_moved(press: Path) -> None:
    (each,) = listed(press, *measured("Press case, outside", 1500.5, 1500))["measured"]
    assert (each["move_top"], each["within_tolerance"], each["longer"]) == ("none", True, "rising")
    assert each["rack_mm"] > 0


def test_text_says_how_to_push_and_asks_for_the_sides(gate: Path) -> None:
    text = " ".join(square(gate, *measured("gate", "107 3/8", "107 1/4")).stdout.split())
    assert "gate: rising 107 3/8, falling 107 1/4" in text
    assert "The rising diagonal is longer, by 1/8: the top stands 9/64 scant too far right (0.08°)" in text
    assert (
        "Move the top 9/64 scant to the left: set the left ends of the clamps lower and their right ends higher" in text
    )
    assert "until both read 107 5/16 full." in text
    assert "Opposite sides must be equal too: measure all four and give --sides." in text


def test_measured_rectangles_are_answered_first_and_the_table_comes_after(press: Path) -> None:
    text = square(press, *measured("Press shelf", 1000, 998)).stdout
    answer, push, table = (text.index(words) for words in ("rising 1000", "Move the top", "may differ"))
    assert answer < push < table
    assert text.splitlines()[2].startswith("Press shelf: rising 1000, falling 998")


def test_no_line_is_longer_than_96_characters(press: Path) -> None:
    long = "a cupboard for everything that has no other place in the whole of the upper corridor"[:80]
    press.write_text(CASE.replace('"door"', f'"{long}"').replace('"Press"', f'"{long[:60]}"'), encoding="utf-8")
    for words in ([], measured(long, 501, 499)):
        assert max(map(len, square(press, *words).stdout.splitlines())) <= 96


def test_openings_in_a_row_that_are_alike_are_one_line_of_the_table(press: Path) -> None:
    press.write_text(CASE.replace('"equal", { opening = 500, name = "shelf" }', ", ".join(["'equal'"] * 30)), "utf-8")
    text = square(press).stdout
    assert "Press opening 1–30 " in text
    assert "opening 2" not in text
    assert len(listed(press)["diagonals"]) == 33


def test_outside_of_a_case_with_toe_notches_is_measured_at_the_back_edges(press: Path) -> None:
    """In front its lower corners are cut away; its sizes and its name are as ever."""
    press.write_text(CASE.replace("[[rectangle]]", "toe = { height = 90, recess = 60 }\n[[rectangle]]"), "utf-8")
    outside, *others = listed(press)["diagonals"]
    assert (outside["name"], outside["at"], outside["diagonal"]) == (NAMES[0], "back edges", "1500")
    assert {each["at"] for each in others} == {""}
    text = " ".join(square(press).stdout.split())
    assert "Press case, outside, at the" in text
    assert "Where toe notches cut away the lower front corners" in text
    press.write_text(CASE, "utf-8")
    assert "toe notches" not in square(press).stdout


@pytest.mark.parametrize("name", ["Press case, outside, at the back edges", "Press case, outside"])
def test_a_rectangle_is_called_as_the_table_prints_it_or_by_its_name_alone(press: Path, name: str) -> None:
    press.write_text(CASE.replace("[[rectangle]]", "toe = { height = 90, recess = 60 }\n[[rectangle]]"), "utf-8")
    (each,) = listed(press, *measured(name, 1500, 1500))["measured"]
    assert each["name"] == "Press case, outside"


@pytest.mark.parametrize("line", ["Press opening 1–30", "Press opening 1-30", "Press opening 1, 2"])
def test_a_line_of_several_rectangles_is_told_from_one_of_them(press: Path, line: str) -> None:
    press.write_text(CASE.replace('"equal", { opening = 500, name = "shelf" }', ", ".join(["'equal'"] * 30)), "utf-8")
    assert faults_of(press, *measured(line, 500, 500)) == [
        f'--measured, name: "{line}" is several rectangles; name one of them, as in "Press opening 1".'
    ]


def test_a_line_of_several_frame_openings_is_told_from_one_of_them(press: Path) -> None:
    frame = 'frame = { stock = "ply", stile = 40, top = 40, bottom = 40, rail = 30 }\n'
    equal = CASE.replace('{ opening = 500, name = "shelf" }', '"equal"').replace(
        "[[rectangle]]", f"{frame}[[rectangle]]"
    )
    press.write_text(equal.replace("bottom = 40", "bottom = 40, align = 'centre'"), "utf-8")
    assert "Press opening 1 and 2, frame" in square(press).stdout
    assert faults_of(press, *measured("Press opening 1 and 2, frame", 500, 500)) == [
        '--measured, name: "Press opening 1 and 2, frame" is several rectangles; name one of them, as in '
        '"Press opening 1, frame".'
    ]


def test_reading_error_of_the_shop_is_stated_and_gone_by(press: Path, tmp_path: Path) -> None:
    shop = tmp_path / "own.toml"
    shop.write_text('units = "mm"\n[square]\nreading_error = 3\n', encoding="utf-8")
    words = [*measured("door", 500, 500), "--sides", "door", "303", "297", "400", "400"]
    (each,) = listed(press, *words)["measured"]
    assert (each["sides_agree"], each["reading_error"]) == (False, "0.5")
    (each,) = listed(press, *words, "--shop", str(shop))["measured"]
    assert (each["sides_agree"], each["reading_error"]) == (True, "3")
    text = " ".join(square(press, *words, "--shop", str(shop)).stdout.split())
    assert "Each reading is taken to be off by up to 3 (as the shop file says)" in text


def test_mistaken_reading_is_named_and_nothing_is_pushed_for_it(press: Path) -> None:
    """Square, but for one diagonal of the shelf that was read ten too long: 864 by 500 has 998.2."""
    words = [
        *measured("Press case, outside", 1500, 1500),
        *measured("Press case, inside", 1450, 1450),
        *measured("Press shelf", 1008, 998),
    ]
    text = " ".join(square(press, *words).stdout.split())
    assert "! The rising reading of Press shelf is the suspect" in text
    assert "Move the top" not in text
    assert "cut wrong" not in text
    (together,) = listed(press, *words)["together"]
    suspect = together["suspect"]
    assert (suspect["name"], suspect["reading"]) == ("Press shelf", "rising")
    assert suspect["should_mm"] == pytest.approx(998.2, abs=0.5)
    assert together["agree"] == NAMES[:2]


def test_readings_come_from_a_spreadsheet_with_or_without_sides(press: Path, tmp_path: Path) -> None:
    sheet = tmp_path / "read.csv"
    sheet.write_text(
        "name;rising;falling;bottom;top;left;right\ndoor;501;499;300;300;400;400\nPress shelf;1000;999;;;;\n",
        encoding="utf-8",
    )
    shelf, door = listed(press, "--readings", str(sheet))["measured"]
    assert (shelf["name"], shelf["sides_agree"], door["name"], door["sides_agree"]) == (
        "Press shelf",
        None,
        "door",
        True,
    )
    assert [each["corner"] for each in door["corners"]] == ["lower left", "lower right", "upper right", "upper left"]
    assert door["corners"][2]["x_mm"] - 300 == pytest.approx(door["rack_mm"], abs=0.05)
    assert "corners" not in shelf
    words = ("--sides", "door", "300", "300", "400", "400")
    assert listed(press, *measured("door", 501, 499), *words)["measured"] == [door]


def test_trapezoid_with_equal_diagonals_is_found_by_its_sides(press: Path) -> None:
    words = [*measured("door", 500, 500), "--sides", "door", "303", "297", "400", "400"]
    (each,) = listed(press, *words)["measured"]
    assert (each["within_tolerance"], each["sides_agree"]) == (True, False)
    text = " ".join(square(press, *words).stdout.split())
    assert "The diagonals are equal, but the sides do not agree." in text
    assert "Of bottom and top, bottom is longer by 6: it is no rectangle" in text


def test_six_readings_that_do_not_fit_are_said_so_without_a_culprit(press: Path) -> None:
    words = [*measured("door", 506, 500), "--sides", "door", "300", "300", "400", "400"]
    (each,) = listed(press, *words)["measured"]
    assert each["unfit_mm"] > 0.25
    said = " ".join(each["fit"])
    assert "can show that one is wrong, but not which" in said
    assert {one["of"] for one in each["corrections"]} == {"bottom", "top", "left", "right", "rising", "falling"}


def test_diagonals_that_are_both_too_long_are_said_so(gate: Path) -> None:
    (each,) = listed(gate, *measured("gate", "107 9/16", "107 9/16"))["measured"]
    assert each["findings"] == [
        "Both diagonals together are 15/64 scant longer than sides of 48 and 96 allow: it is larger than in the job, "
        "or a reading is wrong."
    ]


def test_reading_more_coarsely_than_allowed_leaves_it_unsure(gate: Path) -> None:
    (each,) = listed(gate, *measured("gate", "107 3/8", "107 5/16"), "--read-to", "1/16")["measured"]
    assert (each["within_tolerance"], each["sure"]) == (True, False)
    assert "read finer" in each["findings"][0]


def test_rest_of_the_case_is_expected_to_lean_with_what_was_measured(press: Path) -> None:
    (together,) = listed(press, *measured("Press case, outside", 1503, 1497))["together"]
    assert (together["name"], together["agree"]) == ("Press case", ["Press case, outside"])
    assert [each["name"] for each in together["expected"]] == NAMES[1:4]
    assert all(each["rising_mm"] > each["falling_mm"] for each in together["expected"])


def test_swapped_diagonals_are_found_from_the_others(press: Path) -> None:
    """A lean of 5 in 1000: 4·w·h·sin of it is what the squares differ by, measured here to half a millimetre."""
    words = [
        *measured("Press case, outside", 1501.8, 1498.2),
        *measured("Press case, inside", "1451.4", "1447.9"),
        *measured("Press shelf", 997, 999.5),
    ]
    (together,) = listed(press, *words)["together"]
    assert (together["disagree"], together["swapped"]) == (["Press shelf"], ["Press shelf"])
    said = " ".join(square(press, *words).stdout.split())
    assert "! Rising and falling of Press shelf look swapped: changed over, they agree with the others." in said


def test_csv_has_a_row_for_each_rectangle_and_says_the_same_as_json(press: Path) -> None:
    words = measured("Press shelf", 1000, 998)
    rows = list(csv.DictReader(io.StringIO(square(press, *words, "--format", "csv").stdout)))
    listing = listed(press, *words)
    assert [row["name"] for row in rows] == NAMES
    for row, each in zip(rows, listing["diagonals"], strict=True):
        assert {key: row[key] for key in each} == {key: str(value) for key, value in each.items()}
    (each,) = listing["measured"]
    assert [rows[3][key] for key in ("rack", "move_top", "within_tolerance")] == [each["rack"], "left", "False"]
    assert [row["rack"] for row in rows].count("") == 4
    assert [bool(row["expected_rising"]) for row in rows] == [True, True, True, False, False]


def test_job_without_rectangles_says_so(tmp_path: Path) -> None:
    path = tmp_path / "stick.toml"
    path.write_text(INCH, encoding="utf-8")
    assert "no cabinet and no [[rectangle]]" in square(path).stdout
    assert listed(path)["diagonals"] == []
    assert square(path, "--format", "csv").stdout == "name\n"


@pytest.mark.parametrize("job", GALLERY_JOBS, ids=lambda path: path.stem)
def test_names_of_the_gallerys_rectangles_are_their_own(job: Path) -> None:
    names = [each["name"] for each in listed(job)["diagonals"]]
    assert len(set(names)) == len(names)


WORDS: Final[dict[str, tuple[Sequence[str], str]]] = {
    "unknown name": (
        measured("dor", 500, 500),
        '--measured, name: "dor" is not a rectangle of this job; try "door"; or list them all with '
        "storystick square JOB.",
    ),
    "name like no other": (
        measured("xyz", 500, 500),
        '--measured, name: "xyz" is not a rectangle of this job; list them all with storystick square JOB.',
    ),
    "diagonal too short": (
        measured("door", 100, 500),
        "--measured: door: a rising diagonal of 100 is impossible: with sides of 300 and 400 it lies between 100 and "
        "700; look at its unit, and at which rectangle was measured.",
    ),
    "diagonal too long": (
        measured("door", 500, 701),
        "--measured: door: a falling diagonal of 701 is impossible: with sides of 300 and 400 it lies between 100 and "
        "700; look at its unit, and at which rectangle was measured.",
    ),
    "diagonals of a larger one": (
        measured("door", 540, 540),
        "--measured: door: the diagonals together are 40 longer than sides of 300 and 400 allow; look at the readings, "
        "and at which rectangle was measured.",
    ),
    "diagonals of a smaller one": (
        measured("door", 460, 460),
        "--measured: door: the diagonals together are 40 shorter than sides of 300 and 400 allow; look at the "
        "readings, and at which rectangle was measured.",
    ),
    "a lean that needs no rule": (
        measured("door", "572.5", "415.5"),
        "--measured: door: its top would stand 129.3 scant aside, more than a quarter of its height; look at the "
        "readings, and at which rectangle was measured.",
    ),
    "sides of another": (
        [*measured("door", 500, 500), "--sides", "door", "300", "300", "430", "430"],
        "--measured: door: its height measures 430, and is 400 in the job; look at the readings, and at which "
        "rectangle was measured.",
    ),
    "sides that close no triangle": (
        [*measured("door", 701, 500), "--sides", "door", "300", "300", "400", "400"],
        "--measured: door: bottom, right and rising close no triangle: 300, 400, 701; measure these three again.",
    ),
    "sides without diagonals": (
        ["--sides", "door", "300", "300", "400", "400"],
        '--sides: the sides of "door" are given without its diagonals; give both diagonals.',
    ),
    "sides twice": (
        [*measured("door", 500, 500), *2 * ["--sides", "door", "300", "300", "400", "400"]],
        '--sides: the sides of "door" are given twice; keep one of them.',
    ),
    "measured twice": (
        [*measured("door", 500, 500), *measured("door", 500, 500)],
        '--measured: "door" is measured already; keep the reading that is right.',
    ),
    "a reading that is no length": (
        measured("door", "5oo", 500),
        '--measured, rising: "5oo" is not a length; write it like 18.3, 23/32, 5 1/2, 2\' 3 1/2", 18.3 mm or 1 in.',
    ),
    "a reading of very many digits": (
        measured("door", "500." + 40 * "3", 500),
        f'--measured, rising: "500.{40 * "3"}" has more digits than anything that is measured; round it.',
    ),
    "a reading of nothing": (
        measured("door", 0, 500),
        '--measured, rising: "0" is not a size: a size is more than 0.',
    ),
    "read too coarsely": (
        ["--read-to", "20"],
        '--read-to: "20" is too coarse to tell anything of a diagonal; look at its unit.',
    ),
    "no such file": (
        ["--readings", "nowhere.csv"],
        "nowhere.csv: there is no such file; look at its name and folder.",
    ),
}


@pytest.mark.parametrize(("words", "message"), WORDS.values(), ids=WORDS)
def test_words_at_fault_are_told(press: Path, words: Sequence[str], message: str) -> None:
    assert faults_of(press, *words) == [message]
    result = square(press, *words)
    assert (result.exit_code, result.stdout) == (1, "")


def faults_of(job: Path, *words: str) -> list[str]:
    """The sentences of the faults that the command ends with."""
    with pytest.raises(click.ClickException) as caught:
        main.main(["square", str(job), *words], standalone_mode=False)
    cause = caught.value.__cause__
    assert isinstance(cause, StorystickError)
    return list(map(str, cause.faults))


SHEETS: Final[dict[str, tuple[str, list[str]]]] = {
    "missing openings": (
        "name,rising,falling\nPress shelf,999,\nPress shlf,999,999\ndoor,500,500\n",
        [
            "read.csv, line 2, falling: a length is missing: the text is empty; write it like 18.3, 23/32, 5 1/2, "
            "2' 3 1/2\", 18.3 mm or 1 in.",
            'read.csv, line 3, name: "Press shlf" is not a rectangle of this job; try "Press shelf"; or list them '
            "all with storystick square JOB.",
        ],
    ),
    "no name": (
        "name,rising,falling\n,999,999\n",
        ["read.csv, line 2, name: the text is empty; write a name, or leave the key out."],
    ),
    "a side left out": (
        "name,rising,falling,bottom,top,left,right\ndoor,500,500,300,300,400,\n",
        ["read.csv, line 2: right not given; give all four sides, or none."],
    ),
    "columns left out": (
        "name,rising\ndoor,500\n",
        [
            "read.csv, line 1: the column falling is missing; write falling over the column of the diagonals from "
            "upper left to lower right."
        ],
    ),
    "an unknown column": (
        "name,rising,faling\ndoor,500,500\n",
        [
            'read.csv, line 1: "faling" is not a column known here; try "falling"; allowed here: name, rising, '
            "falling, bottom, top, left, right."
        ],
    ),
    "a row twice": (
        "name,rising,falling\ndoor,500,500\ndoor,500,500\n",
        ['read.csv, line 3: "door" is measured already; keep the reading that is right.'],
    ),
    "no rows": (
        "name,rising,falling\n",
        ["read.csv: the file holds no readings; give one in each row below the headings."],
    ),
    "two impossible rows": (
        "name,rising,falling\ndoor,50,500\nPress shelf,5,5\n",
        [
            "read.csv, line 2: door: a rising diagonal of 50 is impossible: with sides of 300 and 400 it lies between "
            "100 and 700; look at its unit, and at which rectangle was measured.",
            "read.csv, line 3: Press shelf: a rising diagonal of 5 is impossible: with sides of 864 and 500 it lies "
            "between 364 and 1364; look at its unit, and at which rectangle was measured.",
        ],
    ),
}


@pytest.mark.parametrize(("text", "messages"), SHEETS.values(), ids=SHEETS)
def test_faults_of_a_spreadsheet_are_told_all_at_once(press: Path, text: str, messages: list[str]) -> None:
    sheet = press.parent / "read.csv"
    sheet.write_text(text, encoding="utf-8")
    assert faults_of(press, "--readings", str(sheet)) == messages


def test_rectangle_with_the_name_of_a_cabinets_own_is_a_fault_of_the_job(press: Path) -> None:
    press.write_text(CASE.replace('"door"', '"Press shelf"'), encoding="utf-8")
    assert faults_of(press) == [
        'press.toml: 2 rectangles are called "Press shelf", with those that follow from cabinets; give a cabinet, an '
        "opening or a [[rectangle]] another name."
    ]


@pytest.mark.parametrize(
    "words", [("--measured", "door", "500"), ("--sides", "door"), ("--format", "xml"), ("--push",)]
)
def test_wrong_command_line_is_told_with_status_2(press: Path, words: tuple[str, ...]) -> None:
    assert square(press, *words).exit_code == 2


SASHES: Final = """
title = "Sashes"
units = "inch"
[[rectangle]]
name = "upper sash"
width = "30"
height = "40"
[[rectangle]]
name = "lower sash"
width = "24"
height = "36"
"""


@pytest.fixture
def sashes(tmp_path: Path) -> Path:
    path = tmp_path / "sashes.toml"
    path.write_text(SASHES, encoding="utf-8")
    return path


def test_a_job_of_rectangles_alone_is_squared(sashes: Path) -> None:
    upper, lower = listed(sashes, "--measured", "upper sash", "50 1/8", "50")["diagonals"]
    assert (upper["diagonal"], lower["diagonal_label"]) == ("50", "43 17/64 full")
    assert listed(sashes, "--measured", "upper sash", "50 1/8", "50")["measured"][0]["move_top"] == "left"


@pytest.mark.parametrize("command", ["check", "marks", "pages", "parts", "setups"])
def test_a_job_of_rectangles_alone_is_read_by_every_listing(sashes: Path, command: str) -> None:
    result = CliRunner().invoke(main, [command, str(sashes)])
    assert result.exit_code == 0, result.output
    assert "Sashes" in result.stdout


def test_check_counts_the_rectangles_of_a_job(sashes: Path) -> None:
    assert "0 sticks, 2 rectangles, 0 sheets of Letter" in CliRunner().invoke(main, ["check", str(sashes)]).stdout


def test_a_job_of_rectangles_alone_is_printed_and_proved(sashes: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    printed = CliRunner().invoke(main, ["print", str(sashes), "--output", str(out)])
    assert printed.exit_code == 0, printed.output
    assert {path.name for path in out.iterdir()} == {"job-sheet.pdf", "square.pdf", "print-record.json"}
    for file in ("job-sheet.pdf", "square.pdf"):
        assert CliRunner().invoke(main, ["verify", str(out / file)]).stdout.startswith("true")
    assert listed(out / "square.pdf")["diagonals"] == listed(sashes)["diagonals"]


def test_a_step_coarser_than_the_tolerance_rounds_no_difference_to_nothing(sashes: Path) -> None:
    """At 1/8 in, 1/32 in would be lettered 0, and a reading of 43 5/16 in as 43 3/8."""
    sashes.write_text(SASHES.replace('units = "inch"', 'units = "inch"\nround_to = "1/8"'), encoding="utf-8")
    text = " ".join(square(sashes, "--measured", "lower sash", "43 5/16", "43 1/4").stdout.split())
    assert "lower sash 24 36 43 1/4 full 1/32 1/32 scant" in text
    assert "rising 43 5/16, falling 43 1/4" in text
    assert "longer, by 1/16: the top stands 1/16 scant too far right" in text
    assert "Read to 1/32, the difference is known to 1/32 only" in text
    assert listed(sashes)["diagonals"][1]["tolerance_rack"] == "1/32"


def test_a_rectangle_whose_name_cannot_be_printed_is_a_fault_with_its_place(sashes: Path) -> None:
    sashes.write_text(SASHES.replace("upper sash", "漢"), encoding="utf-8")
    result = CliRunner().invoke(main, ["print", str(sashes)])
    assert result.exit_code == 1
    assert 'rectangles "漢" has letters that cannot be printed' in " ".join(result.output.split())
