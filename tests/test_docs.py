"""What the README and the gallery say is so."""

from __future__ import annotations

import re
from pathlib import Path

import click
import file_tree
import pytest
from jobs import GALLERY_JOBS

import storystick
from storystick.cli import main
from storystick.tooling.settings import settings_of

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
GUIDE = (ROOT / "shared" / "job-files.md").read_text(encoding="utf-8")


def blocks(language: str, page: str = GUIDE) -> list[str]:
    return re.findall(rf"```{language}\n(.*?)```", page, re.DOTALL)


@pytest.mark.parametrize("text", [text for text in blocks("toml") + blocks("toml", README) if "title" in text])
def test_jobs_in_the_readme_load_and_fit(text: str, tmp_path: Path) -> None:
    (tmp_path / "press.toml").write_text(text, encoding="utf-8")
    layout = storystick.load(tmp_path / "press.toml")
    assert layout.sticks
    assert storystick.print_job(layout, tmp_path / "out")


def test_python_in_the_readme_runs(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "press.toml").write_text(blocks("toml")[1], encoding="utf-8")
    (example,) = blocks("python", README)
    exec(compile(example, "README", "exec"), {})
    assert "Press side part part 1 0.0 18.25625" in capsys.readouterr().out
    assert (tmp_path / "press-print" / "strips.pdf").read_bytes().startswith(b"%PDF")


def test_readme_has_a_line_for_every_command() -> None:
    described = set(re.findall(r"^\| `storystick (\w+)", README, re.MULTILINE))
    assert described == set(main.list_commands(click.Context(main)))


@pytest.mark.parametrize("name", main.list_commands(click.Context(main)))
def test_every_command_has_help_with_an_example(name: str) -> None:
    command = main.get_command(click.Context(main), name)
    assert command is not None
    assert command.help is not None
    assert f"Example: storystick {name}" in command.help


@pytest.mark.parametrize("page", ["README.md", "gallery/README.md", "shared/job-files.md", "shared/on-paper.md"])
def test_files_that_a_readme_points_to_are_there(page: str) -> None:
    targets = re.findall(r"\]\(([^)#:]+)\)", (ROOT / page).read_text(encoding="utf-8"))
    assert targets or page == "shared/on-paper.md"
    assert [target for target in targets if not (ROOT / page).parent.joinpath(target).exists()] == []


@pytest.mark.parametrize("job", GALLERY_JOBS, ids=lambda path: path.stem)
def test_gallery_jobs_load_and_have_pictures(job: Path) -> None:
    assert storystick.load(job).sticks
    assert list(job.parent.glob("strips-*.png"))
    assert list(job.parent.glob("job-sheet-*.png"))


def test_shop_file_in_the_guide_serves_a_job_of_the_guide(tmp_path: Path) -> None:
    tools, assembly = (text for text in blocks("toml") if "title" not in text)
    shop = tools + assembly.removeprefix('units = "inch"\n')
    (tmp_path / "shop.toml").write_text(shop, encoding="utf-8")
    (tmp_path / "press.toml").write_text(blocks("toml")[0], encoding="utf-8")
    layout = storystick.load(tmp_path / "press.toml")
    settings = settings_of(layout)
    assert layout.job.shop
    assert [glue.name for glue in layout.job.shop.glues] == ["white"]
    assert [bar.name for bar in settings.bars] == ["A"]
    assert settings.saw


def test_tree_of_files_is_that_of_the_modules() -> None:
    page = file_tree.PAGE.read_text(encoding="utf-8")
    assert page == file_tree.with_tree(page), "write it anew: python tests/file_tree.py"
    lines = file_tree.file_tree().splitlines()
    assert not [line for line in lines if line.strip().endswith(".py")], "a module says nothing of itself"
