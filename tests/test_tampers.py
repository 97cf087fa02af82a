"""A print with which something was done: whatever a person could be misled by is false, and nothing else is."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Final

import pytest
from click.testing import CliRunner
from jobs import SEED_DRAWERS
from programs import run
from tampers import TAMPERS, tampered

from storystick.cli import main
from storystick.errors import StorystickError
from storystick.prints import verify_print

JOBS: Final = {
    "stick": SEED_DRAWERS,
    "cabinet": """
title = "Bobbin box"
units = "mm"
[stock]
ply = 12
back = 4
[joint.shelf]
kind = "tongue"
width = 5
depth = 5
[[cabinet]]
name = "Box"
height = 620
width = 181
depth = 90
carcass = "ply"
back = { stock = "back", rabbet_width = 5, rabbet_depth = 6 }
joint = "shelf"
openings = ["equal", "equal"]
""",
}


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], bytes]:
    @cache
    def strips(name: str) -> bytes:
        folder = tmp_path_factory.mktemp(name)
        (folder / "job.toml").write_text(JOBS[name], encoding="utf-8")
        words = ["print", str(folder / "job.toml"), "-o", str(folder / "out"), "--format", "pdf"]
        assert CliRunner().invoke(main, words, catch_exceptions=False).exit_code == 0
        return (folder / "out" / "strips.pdf").read_bytes()

    return strips


def is_true(data: bytes, folder: Path) -> bool:
    """A file that costs too much is refused, and so is not true."""
    (folder / "file.pdf").write_bytes(data)
    try:
        return verify_print(folder / "file.pdf").true
    except StorystickError:
        return False


@pytest.mark.parametrize("tamper", TAMPERS)
def test_tamper_with_a_stick_s_print_is_found(tamper: str, printed: Callable[[str], bytes], tmp_path: Path) -> None:
    assert not is_true(tampered(printed("stick"), TAMPERS[tamper]), tmp_path)


@pytest.mark.parametrize("tamper", list(TAMPERS)[::5])
def test_tamper_with_a_cabinet_s_print_is_found(tamper: str, printed: Callable[[str], bytes], tmp_path: Path) -> None:
    """A fifth of them."""
    assert not is_true(tampered(printed("cabinet"), TAMPERS[tamper]), tmp_path)


def test_print_that_nothing_was_done_to_is_true(printed: Callable[[str], bytes], tmp_path: Path) -> None:
    """Saved again as the tampered ones are: else they could all be false for that alone."""
    for job in JOBS:
        assert is_true(tampered(printed(job), lambda _: None), tmp_path)


UNSEEN: Final = re.compile(
    r"content at 100\.001|shifted by 0\.002|moved by 0\.002|BleedBox|TrimBox|ArtBox|first page twice|blank page|labels|"
    r"asked|scaling|two-sided|print area|cut off at|shown by|one page|copies|script|another job|page turned by 180|"
    r"does not print|only prints|does not say|words written|link|figure in a layer"
)
"""What is not in the picture of the pages as MuPDF shows them, or not at 100 dots an inch."""


@pytest.mark.parametrize("tamper", [name for name in list(TAMPERS)[::5] if not UNSEEN.search(name)])
def test_tamper_is_one_in_the_eyes_of_another_engine(
    tamper: str, printed: Callable[[str], bytes], tmp_path: Path
) -> None:
    """A fifth of those that can be seen: else nothing would have been there to find."""
    pictures = set()
    for name, data in (("as printed", printed("stick")), ("tampered", tampered(printed("stick"), TAMPERS[tamper]))):
        (tmp_path / f"{name}.pdf").write_bytes(data)
        drawn = run("mutool", "draw", "-q", "-r", 100, "-F", "pgm", "-o", "-", tmp_path / f"{name}.pdf").stdout
        pictures.add(hashlib.sha256(drawn).digest())
    assert len(pictures) == 2
