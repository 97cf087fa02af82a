"""Rolls of paper: strips side by side across the roll, each in one piece as far as a sheet may be long."""

from __future__ import annotations

import json
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from click.testing import CliRunner
from lettering_boxes import colliding, text_boxes
from readback import pdf_by_pypdf

from storystick import lay_out, load
from storystick.cli import main
from storystick.drawing.strip import strips_of
from storystick.job.papers import PAPERS, roll_paper
from storystick.sheets.pages.figures import draw_sheet_map
from storystick.sheets.strips import plan_strips

LONGEST_MM = 5080.0
"""200 in: PDF Reference 1.6, implementation notes."""


def job(*lengths: float) -> str:
    sticks = "".join(
        f'[[stick]]\nname = "Wall {number}"\npart = "ply"\nopenings = [{length - 36}]\n'
        for number, length in enumerate(lengths, start=1)
    )
    return f'title = "Walls"\nunits = "mm"\nstock = {{ ply = 18 }}\n{sticks}'


def sheets_of(text: str, folder: Path, *options: str) -> list[dict]:
    (folder / "walls.toml").write_text(text, encoding="utf-8")
    words = ["pages", str(folder / "walls.toml"), "--format", "json", *options]
    result = CliRunner().invoke(main, words, catch_exceptions=False)
    assert result.exit_code == 0, result.output
    listing = json.loads(result.stdout)
    assert listing["paper"] == "610 mm roll"
    return listing["sheets"]


def test_strips_lie_side_by_side_on_a_sheet_that_is_cut_as_long_as_they_are(tmp_path: Path) -> None:
    (sheet,) = sheets_of(job(2400, 2380, 2000, 900), tmp_path, "--roll", "610")
    assert sheet["height_mm"] == 610
    assert 2400 < sheet["width_mm"] < 2500
    assert [tile["of"] for tile in sheet["tiles"]] == [1, 1, 1, 1]


def test_a_strip_is_in_one_piece_up_to_the_longest_sheet(tmp_path: Path) -> None:
    (sheet,) = sheets_of(job(5000), tmp_path, "--roll", "61 cm")
    assert sheet["width_mm"] <= LONGEST_MM
    assert [tile["of"] for tile in sheet["tiles"]] == [1]


@pytest.mark.parametrize(("length", "pieces"), [(5200, 2), (9900, 2), (10200, 3)])
def test_a_longer_one_is_in_as_few_pieces_as_that_allows(length: int, pieces: int, tmp_path: Path) -> None:
    sheets = sheets_of(job(length), tmp_path, "--roll", "610")
    tiles = [tile for sheet in sheets for tile in sheet["tiles"]]
    assert len(tiles) == tiles[0]["of"] == pieces
    assert max(sheet["width_mm"] for sheet in sheets) <= LONGEST_MM


def test_ink_of_a_long_sheet_ends_where_the_strip_does(tmp_path: Path) -> None:
    (sheet,) = sheets_of(job(4800), tmp_path, "--roll", "610")
    words = ["print", str(tmp_path / "walls.toml"), "--roll", "610", "-o", str(tmp_path / "out")]
    assert CliRunner().invoke(main, words, catch_exceptions=False).exit_code == 0
    ink = pdf_by_pypdf((tmp_path / "out" / "strips.pdf").read_bytes())
    (tile,) = sheet["tiles"]
    edges = sorted(edge for box in ink.boxes if abs(box.bottom - tile["y_mm"]) < 1e-3 for edge in (box.left, box.right))
    assert edges[0] == pytest.approx(tile["x_mm"], abs=1e-3)
    assert edges[-1] == pytest.approx(tile["x_mm"] + 4800, abs=1e-3)


def test_a_job_may_say_its_roll_itself(tmp_path: Path) -> None:
    (sheet,) = sheets_of(job(2400).replace("stock =", "paper = { roll = 610 }\nstock ="), tmp_path)
    assert sheet["height_mm"] == 610


def test_paper_and_roll_together_are_a_wrong_command_line(tmp_path: Path) -> None:
    (tmp_path / "walls.toml").write_text(job(2400), encoding="utf-8")
    words = ["print", str(tmp_path / "walls.toml"), "--roll", "610", "--paper", "A3"]
    assert CliRunner().invoke(main, words).exit_code == 2


def test_sheets_of_one_length_are_told_together(tmp_path: Path) -> None:
    lengths = [4800] * 32 + [2000] * 4
    *long, short = [sheet["width_mm"] for sheet in sheets_of(job(*lengths), tmp_path, "--roll", "610")]
    assert long == [long[0]] * 2 != [short] * 2
    words = ["pages", str(tmp_path / "walls.toml"), "--roll", "610"]
    first = CliRunner().invoke(main, words, catch_exceptions=False).stdout.splitlines()[0]
    assert first.endswith(f"3 sheets of 610 mm roll, cut 2 × {long[0]:g} mm and {short:g} mm long")


def test_no_word_of_the_map_of_a_long_sheet_stands_on_another(tmp_path: Path) -> None:
    (tmp_path / "walls.toml").write_text(job(*[4800] * 8), encoding="utf-8")
    read = replace(load(tmp_path / "walls.toml").job, paper=roll_paper(Fraction(610), "610 mm roll"))
    (sheet,) = plan_strips(strips_of(lay_out(read)), read).sheets
    boxes = text_boxes(draw_sheet_map(sheet, 1, 80.0))
    assert [box.text for box in boxes] == ["sheet 1 of 1"]
    # On a sheet as high as its tiles are there is room for their names.
    low = replace(read, paper=PAPERS["A4"])
    first, *_ = plan_strips(strips_of(lay_out(low)), low).sheets
    named = text_boxes(draw_sheet_map(first, 1, 80.0))
    assert {"A 1", "A 2"} & {box.text for box in named}
    assert colliding(named) == []
