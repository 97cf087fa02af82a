"""Gallery cabinets against calculations by hand: written out in shared/hand_calculations.toml."""

from __future__ import annotations

import json
import tomllib
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from storystick.cli import main
from storystick.lengths import Units, read_length

ROOT = Path(__file__).parent.parent
CALCULATIONS: dict[str, Any] = tomllib.loads((ROOT / "shared" / "hand_calculations.toml").read_text("utf-8"))
UNITS = {"bead-chest": Units.INCH, "choir-bookcase": Units.MM, "boot-room": Units.INCH}


def listing(command: str, name: str) -> dict[str, Any]:
    job = ROOT / "gallery" / name / f"{name}.toml"
    result = CliRunner().invoke(main, [command, str(job), "--format", "json"], catch_exceptions=False)
    assert result.exit_code == 0
    found: dict[str, Any] = json.loads(result.stdout)
    return found


@pytest.mark.parametrize("name", CALCULATIONS)
def test_marks_agree_with_the_calculation_by_hand(name: str) -> None:
    units = UNITS[name]
    marks: dict[tuple[str, str], tuple[Fraction, Fraction]] = {}
    for stick in listing("marks", name)["sticks"]:
        spans = [(span["name"], span["start"], span["end"]) for span in stick["spans"] if span["kind"] != "groove"]
        struck = [point for point in stick["points"] if point["kind"] != "straightedge"]
        points = [(point["name"], point["at"], point["at"]) for point in struck]
        for mark, start, end in spans + points:
            marks[stick["name"], mark] = (read_length(start, units), read_length(end, units))
    for stick, mark, start, end in CALCULATIONS[name]["marks"]:
        assert marks[stick, mark] == (read_length(start, units), read_length(end, units)), mark


@pytest.mark.parametrize("name", [name for name in CALCULATIONS if CALCULATIONS[name]["parts"]])
def test_parts_agree_with_the_calculation_by_hand(name: str) -> None:
    units = UNITS[name]
    found = [
        (part["count"], read_length(part["length"], units), read_length(part["width"], units), part["name"])
        for part in listing("parts", name)["parts"]
    ]
    for word, count, length, width in CALCULATIONS[name]["parts"]:
        wanted = (count, read_length(length, units), read_length(width, units))
        assert any(word in part[3] and part[:3] == wanted for part in found), (word, found)
