"""Marks, parts, fasteners, stages and walls of constructions, as shared/hand_constructions.toml works them out by hand.

Each is read from the listings, as a program reads them.
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Final

import pytest
from click.testing import CliRunner

from storystick.cli import main

ROOT: Final = Path(__file__).parent.parent
BY_HAND: Final[dict[str, Any]] = tomllib.loads((ROOT / "shared" / "hand_constructions.toml").read_text("utf-8"))

Row = dict[str, Any]


def rows(kind: str) -> list[Any]:
    return [
        pytest.param(job, row, id=f"{job}, {' '.join(str(value) for value in row.values())}")
        for job, found in BY_HAND.items()
        for row in found.get(kind, ())
    ]


@cache
def listing(job: str, command: str) -> Any:
    with TemporaryDirectory() as folder:
        path = Path(folder) / "job.toml"
        path.write_text(BY_HAND[job]["job"], encoding="utf-8")
        result = CliRunner().invoke(main, [command, str(path), "--format", "json"])
    assert result.exit_code == 0, result.output
    return json.loads(result.stdout)


def marks_on(job: str, strip: str) -> Iterator[tuple[str, str, str, str]]:
    """Of a strip, or of a face that nothing is struck on, which has none."""
    marks = listing(job, "marks")
    stick = next(stick for stick in (*marks["sticks"], *marks["faces"]) if stick["name"] == strip)
    for span in stick["spans"]:
        yield span["kind"], span["name"], span["start"], span["end"]
    for point in stick["points"]:
        yield point["kind"], point["name"], point["at"], ""


@pytest.mark.parametrize(("job", "row"), rows("marks"))
def test_marks_are_where_they_were_worked_out(job: str, row: Row) -> None:
    wanted = row["kind"], row["name"], row["from"], row.get("to", "")
    assert wanted in list(marks_on(job, row["strip"]))


@pytest.mark.parametrize(("job", "row"), rows("parts"))
def test_parts_are_as_large_and_as_many(job: str, row: Row) -> None:
    parts = [part for part in listing(job, "parts")["parts"] if part["name"] == row["part"]]
    (part,) = (part for part in parts if part["cabinet"] == row.get("cabinet", part["cabinet"]))
    assert (part["count"], part["length"], part["width"]) == (row["count"], row["length"], row["width"])
    assert row.get("note", "") in "; ".join(part["notes"])


@pytest.mark.parametrize(("job", "row"), rows("hardware"))
def test_hardware_is_counted(job: str, row: Row) -> None:
    assert row in listing(job, "parts")["hardware"]


@pytest.mark.parametrize(("job", "row"), rows("edging"))
def test_edging_comes_to_what_was_worked_out(job: str, row: Row) -> None:
    found = listing(job, "parts")["edging_lengths"]
    assert any(row.items() <= each.items() and each.get("stock") == row.get("stock") for each in found), found


@pytest.mark.parametrize(("job", "row"), rows("fasteners"))
def test_tools_are_set_for_fasteners(job: str, row: Row) -> None:
    found = listing(job, "setups")["fasteners"]
    assert any(row.items() <= setup.items() for setup in found), found


@pytest.mark.parametrize(
    ("job", "cabinet"), [(job, cabinet) for job, found in BY_HAND.items() for cabinet in found.get("stages", ())]
)
def test_stages_come_in_the_order_of_the_work(job: str, cabinet: str) -> None:
    names = [stage["name"] for stage in listing(job, "glueup")["stages"] if stage["cabinet"] == cabinet]
    for name, wanted in zip(names, BY_HAND[job]["stages"][cabinet], strict=True):
        assert name.startswith(wanted)


@pytest.mark.parametrize(("job", "row"), rows("walls"))
def test_what_follows_along_a_wall_is_as_it_was_worked_out(job: str, row: Row) -> None:
    (wall,) = (wall for wall in listing(job, "marks")["runs"] if wall["name"] == row["wall"])
    wanted = {key: value for key, value in row.items() if key not in ("wall", "of")}
    assert any(wanted.items() <= found.items() for found in wall[row["of"]]), wall[row["of"]]
