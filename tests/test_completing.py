"""What the shell offers: jobs, and the names in the job that is typed already."""

from __future__ import annotations

import shlex
from pathlib import Path

import pytest
from terminals import run

from storystick.starting import STARTS


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "chest.toml").write_text(STARTS["cabinet"].text({"name": "Chest"}), encoding="utf-8")
    (tmp_path / "broken.toml").write_text("[[stick]\n", encoding="utf-8")
    (tmp_path / "notes.txt").touch()
    (tmp_path / "older jobs").mkdir()
    (tmp_path / "older jobs" / "press.toml").touch()
    return tmp_path


def offered(folder: Path, line: str, shell: str = "zsh") -> list[str]:
    """What is offered for the last word of a line."""
    settings = {"_STORYSTICK_COMPLETE": f"{shell}_complete", "COMP_WORDS": line}
    closed = line + "'" * (line.count("'") % 2)
    settings["COMP_CWORD"] = str(len(shlex.split(closed)) - (not line.endswith(" ")))
    done = run([], folder, **settings)
    assert (done.returncode, done.stderr) == (0, ""), done.stderr
    lines = done.stdout.splitlines()
    # One line an entry in bash; in zsh a kind, the word and its help.
    return [entry.partition(",")[2] for entry in lines] if shell == "bash" else lines[1::3]


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("storystick marks ", ["broken.toml", "chest.toml", "older jobs/"]),
        ("storystick print c", ["chest.toml"]),
        ("storystick marks older\\ jobs/", ["older jobs/press.toml"]),
        ("storystick print chest.toml --only 'Chest st", ["Chest stile"]),
        ("storystick print chest.toml --board 'Chest left", ["Chest left side"]),
        ("storystick square chest.toml --measured 'Chest case", ["Chest case, outside", "Chest case, inside"]),
        ("storystick compare chest.toml chest.toml --cut 'Chest shelf 1", ["Chest shelf 1"]),
        ("storystick print chest.toml --with templ", ["templates"]),
        ("storystick keys cabinet.fra", None),
        ("storystick print broken.toml --only ", []),
        ("storystick print nothing.toml --only ", []),
    ],
)
def test_names_are_offered_as_they_begin(folder: Path, line: str, expected: list[str] | None) -> None:
    found = offered(folder, line)
    if expected is None:
        assert found[0] == "cabinet.frame"
    else:
        assert found == expected


def test_bash_gets_names_with_spaces_in_quotes(folder: Path) -> None:
    assert offered(folder, "storystick print chest.toml --only 'Chest st", "bash") == ["'Chest stile'"]
