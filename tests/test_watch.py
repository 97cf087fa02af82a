"""``storystick watch``: each saved change is printed, told, and nothing but Ctrl-C ends it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from terminals import Terminal, run

STICK = """title = "Press"
units = "inch"
stock = { ply = "3/4" }
[[stick]]
name = "Side"
part = "ply"
openings = "sizes.csv"
"""
ROUTER = '[router.plunge]\nbase_diameter = "6"\n'


@pytest.fixture
def watched(tmp_path: Path) -> Iterator[Terminal]:
    """A job with a spreadsheet and a shop file, once it is printed for the first time."""
    (tmp_path / "press.toml").write_text(STICK, encoding="utf-8")
    (tmp_path / "sizes.csv").write_text("name,size\nlow,13\nhigh,12\n", encoding="utf-8")
    (tmp_path / "shop.toml").write_text(ROUTER, encoding="utf-8")
    with Terminal(["watch", "press.toml"], tmp_path, NO_COLOR="1") as terminal:
        terminal.until(lambda shown: "files in press-print" in shown)
        yield terminal


def test_each_saved_change_is_printed_and_what_moved_is_told(watched: Terminal, tmp_path: Path) -> None:
    strips = tmp_path / "press-print" / "strips.pdf"
    first = strips.read_bytes()
    (tmp_path / "sizes.csv").write_text("name,size\nlow,12 1/2\nhigh,12\n", encoding="utf-8")
    shown = watched.until(lambda shown: shown.count("files in press-print") == 2)
    assert "Side: 26 3/4 from the bottom, was 27 1/4: 1/2 shorter" in shown
    assert "1/2 down" in shown
    second = strips.read_bytes()
    assert second != first

    (tmp_path / "press.toml").write_text(STICK.replace("[[stick]]", "[[stick]"), encoding="utf-8")
    watched.until(lambda shown: "a fault to mend" in shown and "the last print stands in press-print" in shown)
    assert strips.read_bytes() == second

    # As an editor does that writes beside and renames.
    (tmp_path / "press.new").write_text(STICK.replace('"3/4"', '"7/8"'), encoding="utf-8")
    (tmp_path / "press.new").rename(tmp_path / "press.toml")
    shown = watched.until(lambda shown: shown.count("files in press-print") == 3)
    assert "1/8 up" in shown

    (tmp_path / "shop.toml").write_text(ROUTER.replace("6", "5"), encoding="utf-8")
    watched.until(lambda shown: shown.count("files in press-print") == 4)

    watched.interrupt()
    status, shown = watched.ended()
    assert status == 0
    assert shown.rstrip().endswith("No longer watching.")
    assert "Traceback" not in shown


def test_a_job_that_is_not_there_is_told(tmp_path: Path) -> None:
    done = run(["watch", "nothing.toml"], tmp_path)
    assert done.returncode == 1
    assert "no such file to watch" in done.stderr
