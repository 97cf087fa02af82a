"""What is printed without being asked, what is when it is asked for, and how that is kept."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner
from jobs import PLAIN, SEED_DRAWERS, read_well

from storystick.cli import main
from storystick.drawing.shapes import Text
from storystick.errors import StorystickError
from storystick.job.job import Hands, PrintName
from storystick.laying_out import lay_out, load
from storystick.printables import KINDS, names_printed, with_names
from storystick.printing import planned_files
from storystick.prints import load_print
from storystick.sheets.print_choices import ALL, Choices

GALLERY = Path(__file__).parent.parent / "gallery"
CHEST = GALLERY / "bead-chest" / "bead-chest.toml"
GLUE = "\n[glue.wood]\nopen = 10\nclosed = 15\nclamp_time = 45\n"


def printed(job: Path, folder: Path, *options: str) -> set[str]:
    result = CliRunner().invoke(main, ["print", str(job), "-o", str(folder), "--format", "pdf", *options])
    assert result.exit_code == 0, result.output
    return {path.name for path in folder.glob("*.pdf")}


@pytest.fixture
def chest(tmp_path: Path) -> Path:
    shutil.copytree(CHEST.parent, tmp_path / "chest")
    return tmp_path / "chest" / CHEST.name


def test_every_name_has_its_row() -> None:
    assert set(KINDS) == set(PrintName)


def test_plain_sticks_print_strips_and_a_first_page() -> None:
    layout = lay_out(read_well(PLAIN))
    assert names_printed(layout, ALL) == (PrintName.STRIPS,)
    assert [name for name in planned_files(layout) if name.endswith(".pdf")] == ["job-sheet.pdf", "strips.pdf"]


def test_a_chest_prints_what_its_shop_has_use_for(chest: Path, tmp_path: Path) -> None:
    """The shop has rods and no glue; a bar is used for many jobs and is not printed with each."""
    assert printed(chest, tmp_path / "out") == {"job-sheet.pdf", "strips.pdf", "square.pdf", "rods.pdf"}


def test_a_shop_with_a_glue_prints_the_glue_up(chest: Path, tmp_path: Path) -> None:
    shop = chest.with_name("shop.toml")
    shop.write_text(shop.read_text(encoding="utf-8") + GLUE, encoding="utf-8")
    assert "glue-up.pdf" in printed(chest, tmp_path / "out")


def test_what_is_asked_for_is_printed_and_what_is_left_out_is_not(chest: Path, tmp_path: Path) -> None:
    found = printed(chest, tmp_path / "out", "--with", "figures", "--with", "bars", "--without", "rods")
    assert found == {"job-sheet.pdf", "strips.pdf", "square.pdf", "figures.pdf", "bars.pdf"}


def test_a_job_can_say_what_is_printed(chest: Path, tmp_path: Path) -> None:
    chest.write_text('print = ["strips", "glue-up"]\n' + chest.read_text(encoding="utf-8"), encoding="utf-8")
    assert printed(chest, tmp_path / "out") == {"job-sheet.pdf", "strips.pdf", "glue-up.pdf"}
    (tmp_path / "more").mkdir()
    assert "figures.pdf" in printed(chest, tmp_path / "more", "--with", "figures")


def test_bars_are_printed_when_the_shop_file_is_another_than_that_of_the_last_print(
    chest: Path, tmp_path: Path
) -> None:
    out = tmp_path / "out"
    assert "bars.pdf" not in printed(chest, out)
    assert "bars.pdf" not in printed(chest, out)
    shop = chest.with_name("shop.toml")
    shop.write_text(shop.read_text(encoding="utf-8") + "# a new blade\n", encoding="utf-8")
    assert "bars.pdf" in printed(chest, out)


def test_a_print_is_printed_again_with_what_was_asked_of_it(chest: Path, tmp_path: Path) -> None:
    first = printed(chest, tmp_path / "out", "--with", "figures", "--without", "square", "--hands", "one")
    again = printed(tmp_path / "out" / "strips.pdf", tmp_path / "again")
    assert again == first
    assert load_print(tmp_path / "again" / "strips.pdf").layout.job.hands is Hands.ONE
    for name in sorted(first):
        assert (tmp_path / "out" / name).read_bytes() == (tmp_path / "again" / name).read_bytes()


def test_of_some_sticks_only_their_strips_are_printed() -> None:
    layout = load(CHEST)
    assert names_printed(layout, Choices(only=("Chest side",))) == (PrintName.STRIPS,)
    named = Choices(only=("Chest side",), boards=("Chest left side",))
    assert names_printed(layout, named) == (PrintName.STRIPS, PrintName.TEMPLATES)


@pytest.mark.parametrize(
    ("added", "left_out", "said"),
    [
        ([PrintName.GLUE_UP, PrintName.BARS], [], ["as glue-up", "as bars"]),
        ([PrintName.STRIPS], [PrintName.STRIPS], ["asked for and left out"]),
    ],
)
def test_what_a_job_has_not_is_told_all_at_once(
    added: list[PrintName], left_out: list[PrintName], said: list[str]
) -> None:
    with pytest.raises(StorystickError) as error:
        with_names(lay_out(read_well(SEED_DRAWERS)), ALL, added, left_out)
    faults = [str(fault) for fault in error.value.faults]
    assert len(faults) == len(said)
    assert all(words in fault for words, fault in zip(said, faults, strict=True))


def test_one_hand_halves_the_strips_of_a_pair(tmp_path: Path) -> None:
    job = tmp_path / "seed.toml"
    job.write_text(SEED_DRAWERS, encoding="utf-8")
    result = CliRunner().invoke(main, ["pages", str(job), "--format", "csv", "--hands", "one"])
    assert "left" in result.output
    assert "right" not in result.output


def test_an_unknown_name_to_print_is_a_fault_of_the_job(tmp_path: Path) -> None:
    job = tmp_path / "seed.toml"
    job.write_text('print = ["strip"]\n' + SEED_DRAWERS, encoding="utf-8")
    result = CliRunner().invoke(main, ["check", str(job)])
    assert result.exit_code == 1
    assert '"strips"' in result.output


def test_what_does_not_fit_is_told_of_the_job_and_not_of_the_option_that_asks_for_it(tmp_path: Path) -> None:
    job = tmp_path / "seeds.toml"
    square = '[[square_stick]]\nname = "Stick"\nside = 20\nfaces = ["Side"]\n'
    job.write_text(f'print = ["strips"]\n{SEED_DRAWERS}{square}', encoding="utf-8")
    told = CliRunner().invoke(main, ["print", str(job), "-o", str(tmp_path / "out"), "--with", "square-sticks"])
    assert told.exit_code == 1
    assert 'seeds.toml, square_stick 1 ("Stick"), faces[1]' in told.stderr
    assert "--with" not in told.stderr


@pytest.mark.parametrize("glue", ["", GLUE])
@pytest.mark.parametrize("option", ["--with", "--without"])
def test_tipping_over_is_said_once_whatever_is_printed(chest: Path, glue: str, option: str) -> None:
    """On page 1, or with more to it in a glue-up that is printed."""
    shop = chest.with_name("shop.toml")
    shop.write_text(shop.read_text(encoding="utf-8") + glue, encoding="utf-8")
    layout = load(chest)
    added, left_out = ([PrintName.GLUE_UP], []) if option == "--with" else ([], [PrintName.GLUE_UP])
    choices = with_names(layout, ALL, added, left_out)
    words = [
        " ".join(shape.text for shape in page.shapes if isinstance(shape, Text))
        for name, planned in planned_files(layout, choices).items()
        if name in {"job-sheet.pdf", "glue-up.pdf"}
        for page in planned.document.pages
    ]
    assert sum(said.count("Fix tall cabinets and those with drawers") for said in words) == 1
