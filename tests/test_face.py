"""What the library shows to its callers: names, with their types, and nothing loaded before it is asked for."""

from __future__ import annotations

import subprocess
import sys
from importlib.resources import files
from pathlib import Path

import pytest

import storystick

CALLER = """
from fractions import Fraction
import storystick

def lowest(layout: storystick.Layout) -> Fraction:
    job: storystick.Job = layout.job
    again: storystick.Layout = storystick.lay_out(job)
    stick: storystick.StickLayout = layout.sticks[0]
    span: storystick.Span = stick.spans[0]
    choices = storystick.Choices(only=(stick.name,), formats=storystick.Formats.PDF)
    storystick.print_job(layout, "out", choices)
    return span.start if span.kind is storystick.SpanKind.PART else span.end

wrong: int = storystick.load("chest.toml")
"""


@pytest.mark.parametrize("name", storystick.__all__)
def test_every_name_of_the_face_is_there_under_that_name(name: str) -> None:
    found = getattr(storystick, name)
    assert name == ("__version__" if isinstance(found, str) else found.__name__)


def test_what_a_caller_handles_does_its_work(tmp_path: Path) -> None:
    """Two shelves of 18 and an opening of 300: 336, by hand; nothing that is no job is taken for one."""
    job = tmp_path / "two.toml"
    job.write_text(
        'units = "mm"\nstock = { ply = 18 }\n[[stick]]\nname = "Side"\npart = "ply"\nopenings = [300]\n',
        encoding="utf-8",
    )
    (stick,) = storystick.load(job).sticks
    assert [(span.kind, span.start, span.end) for span in stick.spans] == [
        (storystick.SpanKind.PART, 0, 18),
        (storystick.SpanKind.OPENING, 18, 318),
        (storystick.SpanKind.PART, 318, 336),
    ]
    with pytest.raises(storystick.StorystickError, match="no such file"):
        storystick.load(tmp_path / "none.toml")


@pytest.mark.parametrize("name", ["Job", "Layout", "Choices", "Span", "StickLayout", "Point", "Units"])
def test_what_a_caller_handles_has_a_name_on_the_face(name: str) -> None:
    assert name in storystick.__all__


def test_a_name_that_is_not_there_is_an_attribute_error() -> None:
    with pytest.raises(AttributeError, match="no attribute 'Layuot'"):
        _ = storystick.Layuot  # type: ignore[attr-defined]


def test_types_are_shown_to_checkers_of_other_code(tmp_path: Path) -> None:
    """PEP 561: the marker lies in the package; a checker that knows it finds the caller's one mistake."""
    assert files("storystick").joinpath("py.typed").is_file()
    caller = tmp_path / "caller.py"
    caller.write_text(CALLER, encoding="utf-8")
    command = [sys.executable, "-m", "mypy", "--strict", "--cache-dir", str(tmp_path / "cache"), str(caller)]
    root = str(Path(storystick.__file__).parent.parent)
    done = subprocess.run(command, capture_output=True, text=True, env={"MYPYPATH": root}, cwd=tmp_path)
    found = [line for line in done.stdout.splitlines() if "caller.py" in line]
    assert len(found) == 1, done.stdout
    assert 'expression has type "Layout", variable has type "int"' in found[0]


def test_the_face_alone_loads_no_stage() -> None:
    program = "import sys, storystick; print([name for name in sys.modules if name.startswith('storystick.')])"
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
