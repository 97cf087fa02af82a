"""Listings stay readable: names that differ by a number are gathered, and no line is longer than 96 characters."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from storystick.cli import main
from storystick.cli.listing import WIDTH, echo_table
from storystick.wording import by_number, in_order, ranges, whole_figures

BEADS = Path(__file__).parent.parent / "gallery" / "bead-chest" / "bead-chest.toml"
PLY = "Birch plywood, both faces sanded, from the rack behind the door"
MANY = f"""
title = "A press of thirty drawers at its left, with a title nearly as long as any may be"
units = "inch"
[stock]
"{PLY}" = "23/32"
[joint.shelf]
kind = "tongue"
width = "1/4"
depth = "1/8"
[[cabinet]]
name = "Press"
height = 84
width = 48
depth = 16
carcass = "{PLY}"
joint = "shelf"
fronts = {{ kind = "inset" }}
[[cabinet.column]]
openings = {['"equal"'] * 30}
[[cabinet.column]]
openings = {['"equal"'] * 12}
""".replace("""'"equal"'""", '"equal"')


def listing(command: str, job: Path) -> str:
    result = CliRunner().invoke(main, [command, str(job)])
    assert result.exit_code == 0, result.output
    return result.output


@pytest.fixture
def many(tmp_path: Path) -> Path:
    job = tmp_path / "press.toml"
    job.write_text(MANY, encoding="utf-8")
    return job


@pytest.mark.parametrize("command", ["marks", "parts", "setups", "check", "pages"])
def test_no_line_of_a_listing_is_longer_than_96_characters(command: str, many: Path) -> None:
    for job in (many, BEADS):
        assert max(map(len, listing(command, job).splitlines())) <= WIDTH


@pytest.mark.parametrize("command", ["marks", "parts", "setups"])
def test_no_figure_is_broken_by_the_end_of_a_line(command: str, many: Path) -> None:
    """A figure in two lines would be read as 3 and as 51/64."""
    for job in (many, BEADS):
        assert not re.search(r"[0-9]\n *(?:[0-9]+/[0-9]|full|scant)", listing(command, job))


def test_many_openings_are_said_by_the_first_and_the_last(many: Path) -> None:
    text = listing("parts", many)
    assert "opening 1–30" in text
    assert "grooved: bottom, shelf 1–29, top" in text


@pytest.mark.parametrize(
    ("numbers", "said"),
    [([], ""), ([4], "4"), ([2, 1], "1, 2"), ([1, 2, 3], "1–3"), ([1, 2, 4, 5, 6, 9, 9], "1, 2, 4–6, 9")],
)
def test_three_numbers_in_a_row_are_said_by_their_ends(numbers: list[int], said: str) -> None:
    assert ranges(numbers) == said


def test_names_that_differ_by_their_number_are_gathered_where_the_first_of_them_stands() -> None:
    names = ["shelf 1", "top", "shelf 2", "shelf 3", "bay 07", "top"]
    assert by_number(names) == ["shelf 1–3", "top", "bay 07"]
    assert by_number(["opening 1, frame", "opening 2, frame", "opening 2"]) == ["opening 1 and 2, frame", "opening 2"]


def test_names_in_an_order_that_counts_keep_it() -> None:
    names = ["bottom", "shelf 1", "shelf 2", "shelf 3", "shelf 5", "divider 2", "divider 1", "shelf 6"]
    assert in_order(names) == ["bottom", "shelf 1–3, 5", "divider 2", "divider 1", "shelf 6"]


def test_a_figure_is_one_word() -> None:
    assert whole_figures("3 51/64 full of 12 mm").split(" ") == [
        "3\N{NO-BREAK SPACE}51/64\N{NO-BREAK SPACE}full",
        "of",
        "12\N{NO-BREAK SPACE}mm",
    ]


@pytest.mark.parametrize(
    ("text", "whole"),
    [
        ("rail at shelf 1", "rail at shelf~1"),
        ("Press opening 5–7, shelf 2", "Press opening~5–7, shelf~2"),
        ("2 lines of 40, 3 1/2 to 4, panel 3/4, rod 2.5", "2 lines of 40, 3~1/2 to 4, panel 3/4, rod 2.5"),
    ],
)
def test_a_number_stays_with_the_name_that_it_ends(text: str, whole: str) -> None:
    assert whole_figures(text) == whole.replace("~", "\N{NO-BREAK SPACE}")


def test_a_narrowed_column_goes_on_below_and_its_figures_stand_beside_the_first_line(
    capsys: pytest.CaptureFixture[str],
) -> None:
    echo_table(("part", "size"), [("word " * 30, "3 51/64 scant"), ("top", "2")], right=1)
    first, second, last = capsys.readouterr().out.splitlines()[1:]
    assert first.startswith("  word word")
    assert first.endswith("word       3 51/64 scant")
    assert second.split() == ["word"] * (30 - first.count("word"))
    assert (last.split(), len(first)) == (["top", "2"], WIDTH)


def test_rows_that_no_column_has_room_for_are_said_as_sentences(capsys: pytest.CaptureFixture[str]) -> None:
    echo_table(("part", "stock", "cut"), [("a" * 60, "b" * 30, ""), ("c", "", "d" * 20)], right=0)
    assert capsys.readouterr().out.splitlines() == [
        f"  part {'a' * 60}; stock",
        f"    {'b' * 30}",
        f"  part c; cut {'d' * 20}",
    ]
