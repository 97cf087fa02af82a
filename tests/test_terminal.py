"""What only a terminal gets: how far a print is, and colours where they are wanted."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from large_jobs import many_cabinets
from terminals import Terminal, run

CLEAR = "\r\x1b[2K"
RED, YELLOW = "\x1b[31m", "\x1b[33m"
FAULTY = 'units = "inch"\n[[stick]]\nname = "Side"\npart = "ply"\nopenings = ["8"]\n'


def at_terminal(folder: Path, *arguments: str, **settings: str) -> tuple[int, str]:
    with Terminal(arguments, folder, **settings) as terminal:
        return terminal.ended()


@pytest.fixture
def large(tmp_path: Path) -> Path:
    """A folder with a job that takes longer than a second to print."""
    (tmp_path / "wall.toml").write_text(many_cabinets(12, 12), encoding="utf-8")
    return tmp_path


def test_a_long_print_says_how_far_it_is_and_takes_it_away(large: Path) -> None:
    status, shown = at_terminal(large, "print", "wall.toml")
    assert status == 0
    assert re.search(rf"{re.escape(CLEAR)}\d+ of \d+ files drawn", shown)
    lines = [line.rpartition(CLEAR)[2] for line in shown.split("\n")]
    assert not any("files drawn" in line for line in lines)
    assert "wall-print/strips.pdf" in lines


def test_without_a_terminal_nothing_is_said_of_it(large: Path) -> None:
    done = run(["print", "wall.toml"], large)
    assert done.returncode == 0
    assert "drawn" not in done.stdout + done.stderr
    assert "\x1b" not in done.stdout + done.stderr


def test_what_is_quick_says_nothing_of_its_progress(tmp_path: Path) -> None:
    _, shown = at_terminal(tmp_path, "quick", "--part", "3/4", "8", "7")
    assert CLEAR not in shown


def test_faults_are_red_at_a_terminal_and_say_the_same_without(tmp_path: Path) -> None:
    (tmp_path / "side.toml").write_text(FAULTY, encoding="utf-8")
    _, shown = at_terminal(tmp_path, "check", "side.toml")
    assert f"{RED}storystick: a fault to mend.\x1b[0m" in shown
    plain = run(["check", "side.toml"], tmp_path)
    assert "\x1b" not in plain.stderr
    assert shown.replace(RED, "").replace("\x1b[0m", "").rstrip("\n") == plain.stderr.rstrip("\n")


@pytest.mark.parametrize("settings", [{"NO_COLOR": "1"}, {"TERM": "dumb"}], ids=str)
def test_no_colour_where_none_is_wanted(tmp_path: Path, settings: dict[str, str]) -> None:
    (tmp_path / "side.toml").write_text(FAULTY, encoding="utf-8")
    _, shown = at_terminal(tmp_path, "check", "side.toml", **settings)
    assert "a fault to mend" in shown
    assert "\x1b" not in shown


def test_what_is_to_be_looked_at_is_yellow(tmp_path: Path) -> None:
    job = 'units = "inch"\nstock = { ply = "3/4" }\n[[stick]]\nname = "Side"\npart = "ply"\nopenings = ["8", "8"]\n'
    holes = 'holes = { first = "8 1/4", pitch = "1", count = 2 }\n'
    (tmp_path / "side.toml").write_text(job + holes, encoding="utf-8")
    _, shown = at_terminal(tmp_path, "check", "side.toml")
    assert f"{YELLOW}look at\x1b[0m " in shown
