"""A printer's correction: everything on a sheet is drawn its factors times, so that it comes out full size."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from readback import Ink, pdf_by_pdfium, pdf_by_pypdf

from storystick.cli import main

JOB = """
title = "Print drawers"
units = "mm"
printer = "office"
stock = { ply = 18.3 }
[[stick]]
name = "Side"
part = "ply"
openings = [120, 130, 140, 150, 160]
pair = true
"""
ALONG, ACROSS = Fraction("1.0123"), Fraction(197, 200)
SHOP = f'units = "mm"\n[printer.office]\nalong = "{float(ALONG)}"\nacross = "{ACROSS}"\n'
THICKNESS = Fraction("18.3")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "drawers.toml").write_text(JOB, encoding="utf-8")
    (tmp_path / "shop.toml").write_text(SHOP, encoding="utf-8")
    return tmp_path


def run(*words: str) -> str:
    result = CliRunner().invoke(main, list(words), catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return result.stdout


def edges() -> list[Fraction]:
    """Where parts start and end, added up here anew."""
    at, found = Fraction(0), []
    for opening in (120, 130, 140, 150, 160, 0):
        found += [at, at + THICKNESS]
        at += THICKNESS + opening
    return found


@pytest.mark.parametrize("read", [pdf_by_pypdf, pdf_by_pdfium])
def test_every_part_is_drawn_at_its_corrected_place(read: Any, folder: Path) -> None:
    run("print", str(folder / "drawers.toml"), "-o", str(folder / "out"))
    listing = json.loads(run("pages", str(folder / "drawers.toml"), "--format", "json"))
    data = (folder / "out" / "strips.pdf").read_bytes()
    found = 0
    for sheet in listing["sheets"]:
        ink: Ink = read(data, sheet["page"] - 1)
        assert (ink.width, ink.height) == pytest.approx((sheet["width_mm"], sheet["height_mm"]), abs=1e-3)
        for tile in sheet["tiles"]:
            assert (tile["scale_x"], tile["scale_y"]) == (float(ALONG), float(ACROSS))
            for edge in edges():
                if tile["start_mm"] < edge < tile["end_mm"]:
                    x = tile["x_mm"] + tile["direction"] * (float(edge) - tile["start_mm"]) * float(ALONG)
                    near = [
                        min(abs(box.left - x), abs(box.right - x))
                        for box in ink.boxes
                        if abs(box.bottom - tile["y_mm"]) < 1e-3
                    ]
                    assert min(near) < 0.001
                    found += 1
    assert found == 2 * len(edges()) - 4  # the outermost edges lie on the ends of the strips


def test_check_bars_come_out_true(folder: Path) -> None:
    run("print", str(folder / "drawers.toml"), "-o", str(folder / "out"))
    ink = pdf_by_pypdf((folder / "out" / "strips.pdf").read_bytes())
    level = max(box.right - box.left for box in ink.boxes if box.top - box.bottom < 0.45)
    upright = max(box.top - box.bottom for box in ink.boxes if box.right - box.left < 0.45)
    assert level / float(ALONG) == pytest.approx(round(level / float(ALONG) / 10) * 10, abs=1e-3)
    assert upright / float(ACROSS) == pytest.approx(round(upright / float(ACROSS) / 10) * 10, abs=1e-3)


def test_sheets_say_what_they_are_drawn_with(folder: Path) -> None:
    run("print", str(folder / "drawers.toml"), "-o", str(folder / "out"))
    ink = pdf_by_pdfium((folder / "out" / "strips.pdf").read_bytes())
    assert any("for office: × 1.01230 level, × 0.98500 upright" in label.text for label in ink.labels)


def test_a_strip_in_one_piece_is_for_other_machines_and_stays_as_it_is(folder: Path) -> None:
    run("print", str(folder / "drawers.toml"), "-o", str(folder / "out"))
    corrected = (folder / "out" / "strip-side-left-hand.svg").read_text(encoding="utf-8")
    plain = JOB.replace('printer = "office"\n', "")
    (folder / "drawers.toml").write_text(plain, encoding="utf-8")
    run("print", str(folder / "drawers.toml"), "-o", str(folder / "plain"))
    uncorrected = (folder / "plain" / "strip-side-left-hand.svg").read_text(encoding="utf-8")

    def boxes(text: str) -> list[str]:
        return [line for line in text.split("<") if line.startswith("rect")]

    assert boxes(corrected) == boxes(uncorrected) != []


def test_printer_that_the_shop_does_not_have_is_a_fault(folder: Path) -> None:
    result = CliRunner().invoke(main, ["print", str(folder / "drawers.toml"), "--printer", "ofice"])
    assert result.exit_code == 1
    assert '"ofice" is not a printer of the shop file. Try "office"' in " ".join(result.output.split())


def test_printer_whose_name_cannot_be_printed_is_told_at_its_place(folder: Path) -> None:
    (folder / "shop.toml").write_text(f'{SHOP}\n[printer."漢字"]\nalong = 1\n', encoding="utf-8")
    result = CliRunner().invoke(main, ["print", str(folder / "drawers.toml"), "--printer", "漢字"])
    assert result.exit_code == 1
    assert '- drawers.toml, printer\n   "漢字" has letters that cannot be printed' in result.output


@pytest.mark.parametrize("option", ["--printer", "--roll"])
def test_option_that_is_empty_is_a_fault_and_not_left_out(option: str, folder: Path) -> None:
    result = CliRunner().invoke(main, ["pages", str(folder / "drawers.toml"), option, ""])
    assert result.exit_code == 1
    assert f"- {option}\n" in result.output


def test_correction_that_was_measured_on_another_paper_is_pointed_at(folder: Path) -> None:
    (folder / "shop.toml").write_text(SHOP + 'paper = "Letter"\n', encoding="utf-8")
    words = ["print", str(folder / "drawers.toml"), "-o", str(folder / "out")]
    result = CliRunner().invoke(main, words)
    assert "its correction was measured on Letter, and this is for A4" in " ".join(result.stderr.split())
    assert CliRunner().invoke(main, [*words, "--paper", "Letter"]).stderr == ""


ATTIC = 'units = "mm"\n[printer.attic]\nalong = "1.01"\nacross = "0.99"\n'


def test_printer_of_the_command_line_wins_where_the_shop_lacks_the_jobs_own(folder: Path) -> None:
    """The strips are those of the same job that asks for that printer itself, and so are those printed again."""
    job, strips = folder / "drawers.toml", folder / "out" / "strips.pdf"
    (folder / "shop.toml").write_text(ATTIC, encoding="utf-8")
    assert '"office" is not a printer of the shop file' in CliRunner().invoke(main, ["print", str(job)]).output
    run("print", str(job), "--printer", "attic", "-o", str(folder / "out"))
    listed = run("pages", str(job), "--printer", "attic", "--format", "json")
    assert json.loads(listed)["sheets"][0]["tiles"][0]["scale_x"] == 1.01
    assert run("pages", str(strips), "--format", "json") == listed
    assert run("verify", str(strips)).startswith("true: ")
    run("print", str(strips), "-o", str(folder / "again"))
    assert (folder / "again" / "strips.pdf").read_bytes() == strips.read_bytes()


def test_printer_of_the_command_line_wins_over_the_one_of_a_print_that_another_shop_lacks(folder: Path) -> None:
    run("print", str(folder / "drawers.toml"), "-o", str(folder / "out"))
    (folder / "attic.toml").write_text(ATTIC, encoding="utf-8")
    words = ["pages", str(folder / "out" / "strips.pdf"), "--shop", str(folder / "attic.toml"), "--format", "json"]
    refused = CliRunner().invoke(main, words)
    assert "strips.pdf, storystick-print.json, printer" in " ".join(refused.output.split())
    listing = json.loads(run(*words, "--printer", "attic"))
    assert listing["sheets"][0]["tiles"][0]["scale_y"] == 0.99
