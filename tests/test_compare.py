"""What moved between two jobs: every difference against the marks of both, and what becomes of parts that are cut."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any, Final

import pytest
from click.testing import CliRunner
from jobs import GALLERY_JOBS

from storystick.cli import main
from storystick.lengths import Units, read_length
from storystick.starting import STARTS

STICK: Final = """
title = "Press"
units = "inch"
[stock]
ply = "23/32"
[joint.shelf]
kind = "housing"
depth = "1/4"
[[stick]]
name = "Side"
part = "ply"
joint = "shelf"
openings = ["13", "12", "11"]
holes = { first = "3", pitch = "1 1/4", count = 3, name = "pins" }
"""
CASE: Final = STARTS["cabinet"].text({"name": "Case", "frame": "no", "holds": "nothing", "openings": "3"})
CHEST: Final = STARTS["cabinet"].text({"name": "Chest"})


def run(*arguments: str) -> str:
    done = CliRunner().invoke(main, list(arguments), catch_exceptions=False)
    assert done.exit_code == 0, done.output
    return done.stdout


def written(folder: Path, name: str, text: str) -> str:
    (folder / name).write_text(text, encoding="utf-8")
    return str(folder / name)


def compared(folder: Path, old: str, new: str, *arguments: str) -> Any:
    before, after = written(folder, "old.toml", old), written(folder, "new.toml", new)
    return json.loads(run("compare", before, after, "--format", "json", *arguments))


def text_of(folder: Path, old: str, new: str, *arguments: str) -> str:
    before, after = written(folder, "old.toml", old), written(folder, "new.toml", new)
    return " ".join(run("compare", before, after, *arguments).split())


def stations(folder: Path, name: str) -> dict[tuple[str, str, str], tuple[Fraction, ...]]:
    """By stick, kind and name, where every mark lies, as ``marks`` lists it; what is named twice is left out."""
    listed = json.loads(run("marks", str(folder / name), "--format", "json"))
    units, found, twice = Units(listed["units"]), dict[tuple[str, str, str], tuple[Fraction, ...]](), set()
    for stick in (*listed["sticks"], *listed["faces"]):
        for mark in (*stick["spans"], *stick["points"]):
            key = stick["name"], mark["kind"], mark["name"]
            twice |= {key} & found.keys()
            found[key] = tuple(read_length(mark[end], units) for end in ("start", "end", "at") if end in mark)
    return {key: places for key, places in found.items() if key not in twice and key[1] != "opening"}


def moves(comparison: Any) -> Iterator[tuple[tuple[str, str, str], tuple[Fraction, ...]]]:
    """The same keys, and by how much each is said to move."""
    units = Units(comparison["units"])
    for stick in comparison["sticks"]:
        for mark in stick["marks"]:
            if mark["change"] == "moved":
                ends = [mark[end] for end in ("start_moves", "end_moves") if mark[end] is not None]
                yield (stick["name"], mark["kind"], mark["name"]), tuple(read_length(end, units) for end in ends)


CHANGES: Final = {
    "a thinner ply": (CHEST, CHEST.replace('ply = "23/32"', 'ply = "45/64"')),
    "a wider cabinet": (CHEST, CHEST.replace('width = "30"', 'width = "31 1/3"')),
    "a lower stick": (STICK, STICK.replace('"12"', '"11 7/8"')),
    "other holes": (STICK, STICK.replace('first = "3"', 'first = "3 1/16"')),
    "a deeper joint": (CASE, CASE.replace('depth = "1/4"', 'depth = "3/16"')),
    "a wall in mm": (STARTS["wall"].text({"units": "mm"}), STARTS["wall"].text({"units": "mm", "height": "866.5"})),
}


@pytest.mark.parametrize("change", CHANGES)
def test_every_mark_that_moves_is_told_by_how_much_and_no_other(tmp_path: Path, change: str) -> None:
    comparison = compared(tmp_path, *CHANGES[change])
    before, after = stations(tmp_path, "old.toml"), stations(tmp_path, "new.toml")
    moved = {
        key: tuple(new - old for old, new in zip(before[key], after[key], strict=True))
        for key in before.keys() & after.keys()
        if before[key] != after[key]
    }
    told = dict(moves(comparison))
    assert moved
    assert {key: told.get(key) for key in moved} == moved
    assert not {key for key in told if before.get(key) == after.get(key) and key in before}


@pytest.mark.parametrize("job", GALLERY_JOBS, ids=lambda job: job.stem)
def test_a_job_is_the_same_as_itself(job: Path) -> None:
    assert "Nothing that is struck, cut or set is otherwise." in run("compare", str(job), str(job))
    comparison = json.loads(run("compare", str(job), str(job), "--format", "json"))
    assert [comparison[key] for key in ("sticks", "parts", "setups", "cut")] == [[], [], [], []]


def test_a_printed_job_is_compared_with_its_file(tmp_path: Path) -> None:
    job = written(tmp_path, "case.toml", CASE)
    run("print", job, "-o", str(tmp_path / "print"))
    printed = str(tmp_path / "print" / "strips.pdf")
    assert "Nothing that is struck" in run("compare", printed, job)
    written(tmp_path, "case.toml", CASE.replace('height = "36"', 'height = "35"'))
    assert "Case side: 35 from the bottom, was 36: 1 shorter" in run("compare", printed, job)
    assert "35, was 36" not in run("compare", job, printed)


def test_a_renamed_part_has_not_moved(tmp_path: Path) -> None:
    order = """order = [{ part = "ply", name = "floor" }, { opening = "13" }, { part = "ply", name = "top" }]"""
    old = STICK.partition("part =")[0] + order + "\n"
    comparison = compared(tmp_path, old, old.replace("floor", "plinth rail"))
    (stick,) = comparison["sticks"]
    assert [(mark["change"], mark["was_name"], mark["name"]) for mark in stick["marks"]] == [
        ("renamed", "floor", "plinth rail")
    ]
    assert "plinth rail (was floor) where it was" in text_of(tmp_path, old, old.replace("floor", "plinth rail"))


def test_a_renamed_stick_or_cabinet_has_not_moved(tmp_path: Path) -> None:
    sticks = compared(tmp_path, STICK, STICK.replace('"Side"', '"Gable"'))["sticks"]
    assert [(stick["was_name"], stick["name"], stick["marks"]) for stick in sticks] == [("Side", "Gable", [])]
    cabinet = compared(tmp_path, CASE, CASE.replace('name = "Case"', 'name = "Press"'))
    assert all(not stick["marks"] and stick["change"] == "changed" for stick in cabinet["sticks"])
    assert {part["change"] for part in cabinet["parts"]} == {"renamed"}
    assert cabinet["parts"][0]["was_cabinet"] == "Case"


def test_a_part_that_came_between_leaves_the_others_where_they_are(tmp_path: Path) -> None:
    old = CASE.replace('["equal", "equal", "equal"]', '["10", "12", "equal"]')
    new = CASE.replace('["equal", "equal", "equal"]', '["10", "5", { opening = "6 9/32" }, "equal"]')
    comparison = compared(tmp_path, old, new)
    side = next(stick for stick in comparison["sticks"] if stick["name"] == "Case side")
    told = [(mark["kind"], mark["was_name"], mark["name"], mark["change"]) for mark in side["marks"]]
    assert told == [
        ("part", None, "shelf 2", "came"),
        ("part", "shelf 2", "shelf 3", "renamed"),
        ("groove", None, "shelf 2", "came"),
        ("groove", "shelf 2", "shelf 3", "renamed"),
    ]
    judged = compared(tmp_path, old, new, "--cut", "Case left side")["cut"]
    assert judged == [
        {"name": "Case left side", "verdict": "to_work", "why": ["still to be worked: groove for shelf 2"]}
    ]


def test_parts_that_change_came_and_went_are_told(tmp_path: Path) -> None:
    new = CASE.replace('["equal", "equal", "equal"]', '["equal", "equal"]').replace('width = "30"', 'width = "29 1/2"')
    comparison = compared(tmp_path, CASE, new)
    parts = {part["was_name"] or part["name"]: part for part in comparison["parts"]}
    assert parts["shelf 2"]["change"] == "went"
    assert (parts["shelf 1"]["was_length"], parts["shelf 1"]["length"]) == ("29 1/32", "28 17/32")
    assert "left side" not in parts
    assert "Case shelf 1 1/2 shorter" in text_of(tmp_path, CASE, new)


@pytest.mark.parametrize(
    ("change", "cut", "verdict", "why"),
    [
        (('height = "36"', 'height = "34"'), "Case left side", "spoiled", "the groove for shelf 1"),
        (('height = "36"', 'height = "37"'), "left side", "spoiled", "1 too short: 37 is wanted"),
        (('width = "30"', 'width = "29"'), "shelf 1", "cut_down", "cut 1 off its length, to 28 1/32"),
        (('width = "30"', 'width = "29"'), "left side", "good", ""),
        (('width = "30"', 'width = "30 1/64"'), "shelf 1", "spoiled", "1/64 too short"),
        (('depth = "20"', 'depth = "21"'), "shelf 1", "spoiled", "1 too narrow: 20 3/4 is wanted"),
        (('depth = "20"', 'depth = "19"'), "shelf 1", "cut_down", "rip 1 off its width"),
        (('back = "7/32"', 'back = "1/4"'), "back", "look", "measure it"),
        (('["equal", "equal", "equal"]', '["equal", "equal"]'), "shelf 2", "not_wanted", ""),
    ],
)
def test_what_is_cut_is_good_or_cut_down_or_spoiled(
    tmp_path: Path, change: tuple[str, str], cut: str, verdict: str, why: str
) -> None:
    (judged,) = compared(tmp_path, CASE, CASE.replace(*change), "--cut", cut)["cut"]
    assert judged["verdict"] == verdict
    assert any(why in sentence for sentence in judged["why"]) or not why


def test_a_side_that_gets_shorter_at_its_foot_is_cut_down_there(tmp_path: Path) -> None:
    old = CASE.replace('["equal", "equal", "equal"]', '["12", "10", "equal"]')
    judged = compared(
        tmp_path, old, old.replace('"12"', '"11"').replace('height = "36"', 'height = "35"'), "--cut", "left side"
    )["cut"]
    # All above the lowest opening comes down by 1, so that inch goes off the foot; the bottom's groove goes with it.
    assert judged[0]["verdict"] == "cut_down"
    assert judged[0]["why"] == [
        "cut 1 off its length, to 35, at the end that its marks are counted from",
        "still to be worked: groove for bottom",
    ]


def test_a_board_of_a_plain_stick_is_judged_by_its_grooves(tmp_path: Path) -> None:
    lower = STICK.replace('"12"', '"11"')
    (judged,) = compared(tmp_path, STICK, lower, "--cut", "Side")["cut"]
    assert judged["verdict"] == "spoiled"
    assert judged["why"] == [
        "the groove for part 3 lies from 26 7/16 to 27 5/32; the job now has it from 25 7/16 to 26 5/32, 1 off"
    ]
    shorter = STICK.replace('"11"]', '"10"]')
    (judged,) = compared(tmp_path, STICK, shorter, "--cut", "Side")["cut"]
    assert judged["verdict"] == "cut_down"
    assert judged["why"][1] == "still to be worked: groove for part 4"


def test_a_whole_cabinet_may_be_named_and_what_is_not_there_is_told(tmp_path: Path) -> None:
    names = [judged["name"] for judged in compared(tmp_path, CASE, CASE, "--cut", "Case")["cut"]]
    assert names[:2] == ["Case left side", "Case right side"]
    assert {judged["verdict"] for judged in compared(tmp_path, CASE, CASE, "--cut", "Case")["cut"]} == {"good"}
    arguments = ["compare", str(tmp_path / "old.toml"), str(tmp_path / "new.toml"), "--cut", "left sid"]
    done = CliRunner().invoke(main, arguments)
    assert done.exit_code == 1
    assert 'Try "left side"' in " ".join(done.output.split())


def test_set_ups_that_change_are_told_with_both_settings(tmp_path: Path) -> None:
    shop = '[router.plunge]\nbase_diameter = "6"\n[bit.quarter]\ndiameter = "1/4"\n[saw.table]\nkerf = "1/8"\n'
    written(tmp_path, "shop.toml", shop)
    new = CASE.replace('height = "36"', 'height = "35"')
    settings = {setting["name"]: setting for setting in compared(tmp_path, CASE, new)["setups"]}
    top = settings["Case side: top"]
    assert top["machine"] == "router"
    assert (top["was_set"].split(";")[0], top["set"].split(";")[0]) == ("at 32 41/64", "at 31 41/64")
    assert "Case side: bottom" not in settings
    assert "Set-ups router: Case side" in text_of(tmp_path, CASE, new)


def test_csv_has_a_row_for_each_thing_that_is_otherwise(tmp_path: Path) -> None:
    before = written(tmp_path, "old.toml", CASE)
    after = written(tmp_path, "new.toml", CASE.replace('height = "36"', 'height = "35"'))
    rows = list(csv.DictReader(io.StringIO(run("compare", before, after, "--format", "csv", "--cut", "back"))))
    assert {row["of"] for row in rows} == {"stick", "mark", "part", "cut"}
    top = next(row for row in rows if row["mark"] == "top" and row["kind"] == "part")
    assert (top["start_moves"], top["start_moves_mm"], top["start_moves_in"]) == ("-1", "-25.4", "-1.0")


def test_a_difference_below_the_step_of_labels_is_not_said_to_be_nothing(tmp_path: Path) -> None:
    told = text_of(tmp_path, STICK, STICK.replace('"13"', '"13 1/256"'))
    assert "shelf" not in told.split("moves")[0]
    assert "under 1/64 up" in told
