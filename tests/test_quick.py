"""``storystick quick``: marks from the command line alone."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from storystick.cli import main
from storystick.lengths import Units, read_length


def quick(*arguments: str) -> Result:
    return CliRunner().invoke(main, ["quick", *arguments])


def test_marks_are_the_running_sums_of_parts_and_openings() -> None:
    done = quick("--part", "23/32", "8", "7", "6", "5-1/2", "--format", "json")
    assert done.exit_code == 0, done.output
    (stick,) = json.loads(done.stdout)["sticks"]
    part, at, expected = Fraction(23, 32), Fraction(0), []
    for opening in map(Fraction, ("8", "7", "6", "11/2")):
        expected.append((at, at + part))
        at += part + opening
    expected.append((at, at + part))
    inch = read_length("1", Units.INCH)
    parts = [span for span in stick["spans"] if span["kind"] == "part"]
    told = [tuple(read_length(span[end], Units.INCH) / inch for end in ("start", "end")) for span in parts]
    assert told == expected
    assert read_length(stick["length"], Units.INCH) / inch == at + part


def test_units_datum_pair_and_name_are_as_asked() -> None:
    done = quick("--part", "18.3", "--units", "mm", "--datum", "left", "--pair", "--name", "Bay", "100", "200")
    assert "in millimetres" in done.stdout
    assert "Bay: 354.9 from the left, a pair" in done.stdout


def test_csv_has_a_row_a_mark() -> None:
    assert len(quick("--part", "3/4", "8", "7", "--format", "csv").stdout.splitlines()) == 6


def test_print_lies_in_the_folder_with_its_job(tmp_path: Path) -> None:
    folder = tmp_path / "print"
    done = quick("--part", "3/4", "8", "7", "-o", str(folder))
    assert done.exit_code == 0, done.output
    assert (folder / "strips.pdf").read_bytes().startswith(b"%PDF")
    again = CliRunner().invoke(main, ["marks", str(folder / "quick.toml")])
    assert again.stdout == done.stdout


def test_another_job_of_the_same_name_is_not_written_over(tmp_path: Path) -> None:
    assert quick("--part", "3/4", "8", "-o", str(tmp_path)).exit_code == 0
    before = (tmp_path / "quick.toml").read_bytes()
    assert quick("--part", "3/4", "9", "-o", str(tmp_path)).exit_code == 1
    assert (tmp_path / "quick.toml").read_bytes() == before


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("--part", "3/4", "7", "1/2", "6"), "Write 7-1/2 for one"),
        (("--part", "wide", "7"), '"wide" is not a length'),
        (("--part", "3/4", "7x", "8y"), '"7x" is not a length'),
        (("--part", "3/4", "0"), "a size is more than 0"),
    ],
)
def test_what_is_no_length_is_told(arguments: tuple[str, ...], told: str) -> None:
    done = quick(*arguments)
    assert done.exit_code == 1
    assert told in done.stderr


def test_without_openings_or_part_the_command_line_is_wrong() -> None:
    assert quick("--part", "3/4").exit_code == 2
    assert quick("8", "7").exit_code == 2


@pytest.mark.parametrize("empty", [["--part", "3/4", ""], ["--part", "", "8"], ["--part", "3/4", "--name", " ", "8"]])
def test_what_is_empty_is_told_and_nothing_usual_stands_for_it(empty: list[str]) -> None:
    done = quick(*empty)
    assert done.exit_code == 1
    assert "It is empty".casefold() in done.output.casefold()
