"""Board templates in a print: which are printed, under which names, and again from the print alone."""

from __future__ import annotations

import json
from io import BytesIO
from pathlib import Path

import pypdf
import pytest
from click.testing import CliRunner, Result

from storystick.cli import main

CHEST = """
title = "Chest"
units = "mm"
stock = { ply = 18 }
joint = { shelf = { kind = "housing", depth = 6 } }
[[cabinet]]
name = "Chest"
height = 700
width = 600
depth = 400
carcass = "ply"
joint = "shelf"
openings = [200, "equal"]
"""
JIG = """
[[template]]
name = "Jig"
width = 150
height = 100
holes = { at = [30, 30], diameter = 5 }
"""
JIG_ALONE = 'title = "Jig"\nunits = "mm"\n' + JIG


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, list(map(str, words)), catch_exceptions=False)


def printed(text: str, folder: Path, *words: str) -> dict[str, bytes]:
    (folder / "chest.toml").write_text(text, encoding="utf-8")
    result = run("print", folder / "chest.toml", "-o", folder / "out", *words)
    assert result.exit_code == 0, result.output
    return {path.name: path.read_bytes() for path in sorted((folder / "out").iterdir())}


def boards_in(files: dict[str, bytes]) -> list[str]:
    return [name for name in files if name.startswith("template")]


def test_template_of_the_job_is_printed_in_tiles_and_in_one_piece(tmp_path: Path) -> None:
    files = printed(CHEST + JIG, tmp_path)
    assert boards_in(files) == ["template-jig.svg", "templates.pdf"]
    assert {"strips.pdf", "job-sheet.pdf"} < set(files)


def test_files_are_called_by_what_the_job_and_the_shop_file_call_what_is_in_them(tmp_path: Path) -> None:
    (tmp_path / "shop.toml").write_text(
        'units = "mm"\nrouter.plunge.base_diameter = 150\nbit.six.diameter = 6\nbar.A = {router="plunge", bit="six"}',
        encoding="utf-8",
    )
    # A groove of 18 mm by a bit of 6 takes passes with shims of 12 and 6.
    files = printed(CHEST + JIG, tmp_path, "--shop", str(tmp_path / "shop.toml"), "--with", "bars")
    for_tools = [name for name in files if name.startswith(("bar", "shim"))]
    assert for_tools == ["bar-a.svg", "bars.pdf", "shim-12.svg", "shim-6.svg"]
    assert boards_in(files) == ["template-jig.svg", "templates.pdf"]
    bars, templates = (
        "".join(page.extract_text() for page in pypdf.PdfReader(BytesIO(files[name])).pages)
        for name in ("bars.pdf", "templates.pdf")
    )
    assert "Bar A" in bars
    assert "Jig" in templates
    assert "Jig" not in bars
    assert "Bar A" not in templates


def test_board_of_a_cabinet_is_printed_for_the_asking(tmp_path: Path) -> None:
    files = printed(CHEST + JIG, tmp_path, "--board", "Chest left side", "--board", "Chest shelf 1, upper face")
    assert boards_in(files) == [
        "template-chest-left-side.svg",
        "template-chest-shelf-1-upper-face.svg",
        "template-jig.svg",
        "templates.pdf",
    ]


def test_board_that_the_job_has_already_is_printed_once(tmp_path: Path) -> None:
    text = CHEST + '[[template]]\nboard = "Chest left side"\n'
    files = printed(text, tmp_path, "--board", "Chest left side")
    assert boards_in(files) == ["template-chest-left-side.svg", "templates.pdf"]


def test_board_called_like_a_template_of_the_job_is_printed_beside_it(tmp_path: Path) -> None:
    text = CHEST + JIG.replace('"Jig"', '"Chest left side"')
    files = printed(text, tmp_path, "--board", "Chest left side")
    assert boards_in(files) == ["template-chest-left-side-2.svg", "template-chest-left-side.svg", "templates.pdf"]
    assert run("verify", tmp_path / "out" / "templates.pdf").exit_code == 0


@pytest.mark.parametrize(
    ("asked", "boards"), [((), []), (("--board", "Chest top"), ["template-chest-top.svg", "templates.pdf"])]
)
def test_only_leaves_templates_out_but_for_those_asked_for(
    asked: tuple[str, ...], boards: list[str], tmp_path: Path
) -> None:
    assert boards_in(printed(CHEST + JIG, tmp_path, "--only", "Chest side", *asked)) == boards


@pytest.mark.parametrize(("form", "boards"), [("pdf", ["templates.pdf"]), ("svg", ["template-jig.svg"])])
def test_format_says_which_files_are_written(form: str, boards: list[str], tmp_path: Path) -> None:
    assert boards_in(printed(JIG_ALONE, tmp_path, "--format", form)) == boards


def test_unknown_board_is_a_fault_and_nothing_is_written(tmp_path: Path) -> None:
    (tmp_path / "chest.toml").write_text(CHEST, encoding="utf-8")
    result = run("print", tmp_path / "chest.toml", "-o", tmp_path / "out", "--board", "Chest lefts side")
    assert result.exit_code == 1
    assert 'Try "Chest left side"' in result.output
    assert not (tmp_path / "out").exists()


def test_print_can_be_laid_out_again_from_any_of_its_files(tmp_path: Path) -> None:
    files = printed(CHEST + JIG, tmp_path, "--board", "Chest left side", "--only", "Chest side", "--paper", "A3")
    again = tmp_path / "again"
    assert run("print", tmp_path / "out" / "templates.pdf", "-o", again).exit_code == 0
    assert {path.name: path.read_bytes() for path in again.iterdir() if path.name in files} == files


def test_printed_boards_are_proved_against_the_job_inside(tmp_path: Path) -> None:
    printed(CHEST, tmp_path, "--board", "Chest left side")
    assert run("verify", tmp_path / "out" / "templates.pdf").exit_code == 0


def test_same_job_gives_the_same_bytes(tmp_path: Path) -> None:
    assert printed(JIG_ALONE, tmp_path) == printed(JIG_ALONE, tmp_path)


def test_boards_of_an_earlier_print_are_told(tmp_path: Path) -> None:
    printed(CHEST + JIG, tmp_path)
    # The names that these files had before.
    for name in ("boards.pdf", "board-jig.svg"):
        (tmp_path / "out" / name).write_bytes(b"")
    (tmp_path / "chest.toml").write_text(CHEST, encoding="utf-8")
    result = run("print", tmp_path / "chest.toml", "-o", tmp_path / "out")
    told = [Path(line.rpartition(": ")[2]).name for line in result.stderr.splitlines() if "earlier print" in line]
    assert told == ["board-jig.svg", "boards.pdf", "template-jig.svg", "templates.pdf"]


def test_job_of_templates_alone_has_no_strips(tmp_path: Path) -> None:
    files = printed(JIG_ALONE, tmp_path)
    assert list(files) == ["job-sheet.pdf", "print-record.json", "template-jig.svg", "templates.pdf"]
    sheet = pypdf.PdfReader(tmp_path / "out" / "job-sheet.pdf")
    words = " ".join(page.extract_text() for page in sheet.pages)
    assert "none" in words
    assert "Board templates" in words
    assert "datum, 0" not in words


def test_listings_of_templates_alone_are_empty_but_well_formed(tmp_path: Path) -> None:
    job = tmp_path / "jig.toml"
    job.write_text(JIG_ALONE, encoding="utf-8")
    checked = run("check", job).stdout
    assert checked.endswith("0 sticks, 1 board template, 1 sheet of A4.\n")
    for command in ("marks", "pages", "parts", "setups"):
        for form in ("text", "json", "csv"):
            result = run(command, job, "--format", form)
            assert result.exit_code == 0, result.output
            if form == "json":
                json.loads(result.stdout)


@pytest.mark.parametrize(("width", "fits"), [("2500", True), ("99000", False)])
def test_template_of_more_sheets_than_anybody_glues_is_a_fault(width: str, fits: bool, tmp_path: Path) -> None:
    job = tmp_path / "jig.toml"
    jig = JIG.replace("150", width).replace("100", "1250")
    job.write_text(f'title = "Jig"\nunits = "mm"\npaper = "A4"\n{jig}', encoding="utf-8")
    checked = run("check", job)
    said = " ".join(checked.stderr.split())
    assert checked.exit_code == (0 if fits else 1)
    assert ("sheets of A4, and 500 is the most that anybody glues together" in said) is not fits
    assert ('template "Jig"' in said) is not fits
