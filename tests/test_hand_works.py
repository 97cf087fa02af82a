"""Stations of grooves, and starts and ends of cuts that stop, as shared/hand_works.toml works them out by hand.

Marks, parts, set-ups and templates are four ways out of the tool: each is read as a person or a program reads it.
"""

from __future__ import annotations

import json
import tomllib
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any, Final, NamedTuple

import pytest
from click.testing import CliRunner

from storystick.cli import main
from storystick.laying_out import load
from storystick.layout.board import BoardLayout, Cut
from storystick.layout.boards import board_called
from storystick.lengths import Units, read_length

ROOT: Final = Path(__file__).parent.parent
BY_HAND: Final[dict[str, Any]] = tomllib.loads((ROOT / "shared" / "hand_works.toml").read_text("utf-8"))
SHOP: Final = """units = "mm"
[router.small]
base_diameter = 120
[bit.six]
diameter = 6
[saw.bench]
kerf = 3
"""

Row = dict[str, Any]
GROOVES: Final = [(job, row) for job, found in BY_HAND.items() for row in found["grooves"]]
STOPS: Final = [(job, row) for job, found in BY_HAND.items() for row in found["stops"]]
each_groove = pytest.mark.parametrize(("job", "row"), GROOVES, ids=[f"{r['template']}, {r['for']}" for _, r in GROOVES])
each_stop = pytest.mark.parametrize(("job", "row"), STOPS, ids=[f"{r['part']}, {r['work']}" for _, r in STOPS])


class Out(NamedTuple):
    """What the tool says of a job."""

    units: Units
    path: Path
    marks: Any
    parts: Any
    setups: Any

    def read(self, text: str) -> Fraction:
        return read_length(text, self.units)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("by_hand")


@cache
def said(job: str, folder: Path) -> Out:
    text = BY_HAND[job]["job"]
    path = folder / f"{job}.toml"
    path.write_text(text if "\n" in text else (ROOT / text).read_text("utf-8"), "utf-8")
    shop = folder / "tools.toml"
    shop.write_text(SHOP, "utf-8")
    out = [listing(command, path, shop) for command in ("marks", "parts", "setups")]
    return Out(Units(out[0]["units"]), path, *out)


def listing(command: str, path: Path, shop: Path) -> Any:
    words = [command, str(path), "--shop", str(shop), "--format", "json"]
    result = CliRunner().invoke(main, words, catch_exceptions=False)
    assert result.exit_code == 0
    return json.loads(result.stdout)


def strip(out: Out, row: Row) -> Any:
    faces = (*out.marks["sticks"], *out.marks["faces"])
    return next(stick for stick in faces if stick["name"] == row["strip"])


def part_works(out: Out, row: Row) -> list[Any]:
    return next(part["works"] for part in out.parts["parts"] if part["name"] == row["part"])


def template(out: Out, row: Row) -> BoardLayout:
    return board_called(row["template"], load(out.path).cabinets)


def upright(row: Row) -> bool:
    return any(word in row["template"] for word in ("side", "divider"))


def along(cut: Cut, row: Row) -> tuple[Fraction, Fraction]:
    stretch = cut.y if upright(row) else cut.x
    return stretch.start, stretch.end


def across(board: BoardLayout, cut: Cut, row: Row) -> list[Fraction]:
    """From the front edge."""
    if upright(row):
        return sorted((board.x_station(cut.x.start), board.x_station(cut.x.end)))
    return sorted((board.y_station(cut.y.start), board.y_station(cut.y.end)))


def test_enough_is_worked_out_and_each_with_its_arithmetic() -> None:
    ends = sum(2 - ("open" in row) for _, row in STOPS) + sum("to" in row for _, row in GROOVES)
    assert len({(job, row["template"], row["for"]) for job, row in GROOVES}) >= 20
    assert ends >= 20
    assert all(len(found["working"]) >= 3 for found in BY_HAND.values())
    assert len(BY_HAND) >= 3


@each_groove
def test_groove_lies_where_it_was_worked_out(job: str, row: Row, folder: Path) -> None:
    out = said(job, folder)
    start, end = out.read(row["start"]), out.read(row["end"])
    to = out.read(row["to"]) if "to" in row else None

    (mark,) = (span for span in strip(out, row)["spans"] if (span["kind"], span["name"]) == ("groove", row["for"]))
    assert (out.read(mark["start"]), out.read(mark["end"])) == (start, end)
    assert (out.read(mark["to"]) if "to" in mark else None) == to

    (work,) = (
        work
        for work in part_works(out, row)
        if work["kind"] in {"groove", "rabbet"} and row["for"] in work["name"].split("/")
    )
    assert (out.read(work["start"]), out.read(work["end"]), work["stops"]) == (start, end, to is not None)

    (setup,) = (one for one in out.setups["grooves"] if (one["stick"], one["name"]) == (row["strip"], row["for"]))
    assert (out.read(setup["start"]), out.read(setup["end"])) == (start, end)
    assert (out.read(setup["to"]) if setup["to"] else None) == to
    assert setup["from"] == ("0" if to else None)

    board = template(out, row)
    (cut,) = (cut for cut in board.cuts if cut.name == row["for"])
    assert along(cut, row) == (start, end)
    if to is not None:
        assert out.read(work["to"]) == to
        assert across(board, cut, row) == [0, to]


@each_stop
def test_cut_starts_and_ends_where_it_was_worked_out(job: str, row: Row, folder: Path) -> None:
    out = said(job, folder)
    start, end = out.read(row["from"]), out.read(row["to"])
    stops = {"starts": start, "ends": end}
    for where, word in (("low", "starts"), ("high", "ends")):
        if row.get("open") == where:
            del stops[word]

    if "strip" in row:
        points = {point["name"]: out.read(point["at"]) for point in strip(out, row)["points"]}
        assert {name: at for name, at in points.items() if row["work"] in name} == {
            f"{row['work']} {word}": at for word, at in stops.items()
        }

    works = [work for work in part_works(out, row) if work["runs"] == "along" and work["kind"] in row["work"]]
    (work,) = (work for work in works if work["kind"] != "tongue" or work["on"] == "front edge")
    assert (out.read(work["from"]), out.read(work["to"]), work["stops"]) == (start, end, True)

    if "lost" in row:
        low, high = row["lost"]
        (words,) = (words for words in out.setups["by_hand"] if is_of(row, words))
        assert f"{low} at its {'lower' if upright(row) else 'left'} end and {high} at its" in words
    else:
        setups = [one for one in out.setups["grooves"] if one["stick"] in setup_names(row)]
        found = {(out.read(one["from"]), out.read(one["to"])) for one in setups if one.get("cut") == row["work"]}
        assert found == {(start, end)}

    if "template" in row:
        assert on_template(template(out, row), row) == (start, end)


def is_of(row: Row, words: str) -> bool:
    """Whether a sentence of what is done by hand is about the part of a row."""
    names = words.partition(": ")[0].partition(" ")[2]
    return row["part"] in names.split(", ")


def setup_names(row: Row) -> set[str]:
    if "template" in row:
        return {row["template"]}
    cabinet, _, name = row["strip"].partition(" ")
    return {row["strip"], f"{cabinet} left {name}", f"{cabinet} right {name}"}


def on_template(board: BoardLayout, row: Row) -> tuple[Fraction, Fraction]:
    if row["work"] != "front tongue":
        (cut,) = (cut for cut in board.cuts if cut.name == "back")
        return along(cut, row)
    (line,) = (line for line in board.lines if line.name.endswith("face frame"))
    return (line.start.y, line.end.y) if upright(row) else (line.start.x, line.end.x)
