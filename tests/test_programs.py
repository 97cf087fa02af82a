"""Checks with programs of the system: left out and said where one is missing, a failure where all were asked for."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import pytest
from engines import ATTACHMENTS, COMPLAINTS, FONTS, LABELS, OUTLINES, PAGE_SIZES, PRINTING
from pictures import RENDERERS, SVG_RENDERERS
from programs import LEFT_OUT, NEEDED, PACKAGES, left_out, run

CI_RUN = (Path(__file__).parent.parent / ".ci" / "run").read_text(encoding="utf-8")
FROM_WHEELS = {"pypdf", "pdfium", "qpdf", "resvg"}


@pytest.fixture
def nothing_installed(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.delenv(NEEDED, raising=False)


@pytest.mark.usefixtures("nothing_installed")
@pytest.mark.parametrize("program", PACKAGES)
def test_check_whose_program_is_missing_is_left_out_and_names_the_package(program: str) -> None:
    with pytest.raises(pytest.skip.Exception, match=f"{program} {LEFT_OUT} {PACKAGES[program]}$"):
        run(program)


@pytest.mark.usefixtures("nothing_installed")
def test_check_whose_program_is_missing_fails_where_all_are_needed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(NEEDED, "1")
    with pytest.raises(pytest.fail.Exception, match="sudo apt-get install ghostscript"):
        run("gs")


def test_what_was_left_out_is_one_line_by_package() -> None:
    reasons = [f"The program {name} {LEFT_OUT} {PACKAGES[name]}" for name in ("pdfinfo", "gs", "pdffonts")]
    said = "left out 3 checks with programs that are not here: ghostscript, poppler-utils"
    assert left_out([*reasons, "another reason"]) == said
    assert left_out(["another reason"]) == ""


@pytest.mark.parametrize(
    "engines",
    [PAGE_SIZES, PRINTING, LABELS, OUTLINES, ATTACHMENTS, FONTS, COMPLAINTS, RENDERERS, SVG_RENDERERS],
    ids=["sizes", "printing", "labels", "outlines", "attachments", "fonts", "complaints", "pages", "strips"],
)
def test_everything_is_also_proved_by_a_library_that_comes_as_a_wheel(engines: Iterable[str]) -> None:
    assert FROM_WHEELS & set(engines)


def test_check_of_every_change_installs_all_and_leaves_nothing_out() -> None:
    (packages,) = (line for line in CI_RUN.splitlines() if line.startswith("system_packages=("))
    assert set(packages.removeprefix("system_packages=(").removesuffix(")").split()) == set(PACKAGES.values())
    assert f"export {NEEDED}=1" in CI_RUN
