"""What check says of a job: what a print would say, and how much paper it takes, with nothing drawn that is right."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from jobs import GALLERY_JOBS, PLY, read_well
from pypdf import PdfReader

from storystick import lay_out, load
from storystick.cli import main
from storystick.printing import check_print

CABINET = """
title = "Press"
units = "mm"
stock = { ply = 18, front = 20, box = 12 }
[[cabinet]]
name = "Press"
height = 900
width = 600
depth = 400
carcass = "ply"
fronts = { kind = "inset", stock = "front", reveal = 2 }
drawers = { stock = "box", side = 5, top = 6, back = 25 }
openings = ["equal", { opening = "equal", name = "sheets" }]
"""


def run(*words: object) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words], catch_exceptions=False)


@pytest.fixture
def nothing_can_be_drawn(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_arguments: object, **_named: object) -> Iterator[object]:
        raise AssertionError("something is drawn")

    for place in (
        "storystick.drawing.strip.draw_bands",
        "storystick.drawing.strip.draw_scale",
        "storystick.sheets.pages.cabinets.drawing_blocks",
        "storystick.sheets.pages.flow.paginate",
        "storystick.sheets.pages.glue_up.glue_up_blocks",
        "storystick.sheets.tile_plan.TilePlan.pages",
    ):
        monkeypatch.setattr(place, refuse)


@pytest.mark.usefixtures("nothing_can_be_drawn")
@pytest.mark.parametrize("job", GALLERY_JOBS, ids=lambda path: path.stem)
def test_check_draws_nothing_of_a_job_that_is_right(job: Path) -> None:
    checked = run("check", job)
    assert (checked.exit_code, "no faults" in checked.stdout) == (0, True)


@pytest.mark.parametrize("name", ["tea-shelves", "choir-bookcase"])
def test_planned_sheets_are_as_many_as_are_drawn(name: str) -> None:
    (job,) = (path for path in GALLERY_JOBS if path.stem == name)
    layout = load(job)
    planned = check_print(layout)
    drawn = {file: plan.document for file, plan in planned.items()}
    sheets = {file: len(document.pages) for file, document in drawn.items() if planned[file].sheets}
    assert sheets == {file: plan.sheets for file, plan in planned.items() if plan.sheets}
    assert "strips.pdf" in sheets


@pytest.mark.parametrize("name", ["bead-chest", "tea-shelves", "choir-bookcase"])
def test_as_many_sheets_are_told_as_are_printed_of_strips_rods_square_sticks_and_templates(
    name: str, tmp_path: Path
) -> None:
    (job,) = (path for path in GALLERY_JOBS if path.stem == name)
    run("print", job, "-o", tmp_path / "out", "--format", "pdf")
    of_words = {"job-sheet.pdf", "square.pdf"}
    tiled = [path for path in (tmp_path / "out").glob("*.pdf") if path.name not in of_words]
    count = sum(len(PdfReader(path).pages) for path in tiled)
    assert f" {count} sheets of " in " ".join(run("check", job).stdout.split())


@pytest.mark.parametrize("word", ["ply", "front", "box", "sheets"])
def test_check_tells_of_letters_that_a_print_would_stop_at_and_of_no_others(word: str, tmp_path: Path) -> None:
    """Whether the name of a material is printed at all is known only by printing."""
    job = tmp_path / "press.toml"
    job.write_text(
        CABINET.replace(word, "漆").replace("stock = { ", 'stock = { "漆x" = 1, ').replace(" 漆 =", ' "漆" =')
    )
    checked, printed = run("check", job), run("print", job, "-o", tmp_path / "out")
    assert (checked.exit_code, checked.stderr) == (printed.exit_code, printed.stderr)


def test_holes_that_fall_into_parts_are_warned_of_and_those_at_an_edge_are_not() -> None:
    """From 64 by 32: the ninth is at 320 in the shelf from 318 to 336, the sixteenth at 544 in that from 536 to 554."""
    stick = f'{PLY}[[stick]]\nname = "Side"\npart = "ply"\nopenings = [300, 200, 100]\n'
    holes = 'holes = {{ first = {}, pitch = 32, count = 18, name = "pins" }}\n'
    found = lay_out(read_well(stick + holes.format(64))).warnings
    assert found == (
        "Side: hole 9 of pins, at 320, falls into part 2, from 318 to 336",
        "Side: hole 16 of pins, at 544, falls into part 3, from 536 to 554",
    )
    assert lay_out(read_well(stick + 'holes = { first = 18, pitch = 300, count = 2, name = "pins" }\n')).warnings == ()
