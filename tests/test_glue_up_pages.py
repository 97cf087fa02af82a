"""The glue-up as it is listed and printed: keys, a sketch of each stage, boxes to tick, no stage parted by a page."""

from __future__ import annotations

import csv
import io
import json
import os
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from math import hypot
from pathlib import Path
from typing import Any, Final

import pytest
from built_cabinets import built_jobs
from click.testing import CliRunner, Result
from drawn_cabinets import ALL, CHEST, HEAD, TOWER, each_cabinet, made
from hypothesis import given
from jobs import GALLERY_JOBS, read_well
from lettering_boxes import colliding, text_boxes

import storystick
from storystick.cli import main
from storystick.drawing.lettering import STATION_MM, points_of, wrapped
from storystick.drawing.shapes import Box, Line, Shape, Text, extent
from storystick.drawing.stage_sketch import draw_stage
from storystick.gluing.plan import plan_glue_up, stages_of
from storystick.gluing.stages import Stage, shared_stages
from storystick.job.job import Job
from storystick.job.shop import Clamp, Glue, Shop
from storystick.layout.cabinets.pieces import CabinetLayout
from storystick.layout.stations import Layout
from storystick.sheets.pages.flow import Block, Room, paginate, paragraph, stacked
from storystick.sheets.pages.glue_up import glue_up_blocks, stage_blocks
from storystick.wording import plain, unbroken

WIDTH: Final = 185.0
ROOM: Final = Room(WIDTH, 240.0)
GLUE: Final = Glue("usual", Fraction(10), Fraction(20))
CABINET_JOBS: Final = [path for path in GALLERY_JOBS if "[[cabinet]]" in path.read_text(encoding="utf-8")]
SHOP: Final = 'units = "mm"\n[glue.usual]\nopen = 10\nclosed = 20\n[glue.slow]\nopen = 100\nclosed = 200\n'


def words(shapes: tuple[Shape, ...]) -> str:
    return plain(" ".join(shape.text for shape in shapes if isinstance(shape, Text)))


def blocks_of(layout: CabinetLayout, job: Job, glue: Glue | None) -> tuple[list[Block], tuple[Stage, ...]]:
    stages = stages_of(layout, glue)
    return list(glue_up_blocks(Layout(job, (), (layout,)), stages, glue, ROOM)), stages


def assert_stages_are_whole(blocks: list[Block], stages: tuple[Stage, ...]) -> None:
    pages = [words(page) for page in paginate(blocks, ROOM.height_mm)]
    for number, stage in enumerate(stages, start=1):
        title = f"{number} of {len(stages)}: {stage.name}"
        (page,) = (page for page in pages if title in page)
        own = page.partition(title)[2].partition(f"{number + 1} of {len(stages)}: ")[0]
        held = f"Fasten {stage.pins} pins" if stage.pins else f"Clamp {stage.clamps} clamps"
        assert (f"Clamps {stage.clamps} clamps" if number == 1 else held) in own
        assert number == 1 or ("Spread" in own) is stage.glued
        assert ("Unclamp" in own) is stage.in_clamps
        assert ("Twist look for it" in own) is stage.twist


@each_cabinet
@pytest.mark.parametrize("glue", [None, GLUE], ids=["no glue", "glue"])
def test_no_stage_runs_over_its_page(text: str, glue: Glue | None) -> None:
    blocks, stages = blocks_of(*made(text), glue)
    assert max(block.height_mm for block in blocks) <= ROOM.height_mm
    assert_stages_are_whole(blocks, stages)


@given(built_jobs())
def test_no_stage_of_any_cabinet_runs_over_its_page(built: tuple[CabinetLayout, Job]) -> None:
    for glue in (None, GLUE):
        blocks, stages = blocks_of(*built, glue)
        assert_stages_are_whole(blocks, stages)


def stage_of(stage: Stage, job: Job, cabinets: Sequence[str] = ("Case",)) -> Block:
    """All of a stage as one block."""
    return stacked(list(stage_blocks(stage, f"2 of 3: {stage.name}", cabinets, job, ROOM)))


@given(built_jobs())
def test_letters_are_high_enough_and_apart_and_within_the_width(built: tuple[CabinetLayout, Job]) -> None:
    layout, job = built
    for stage in stages_of(layout, GLUE):
        block = stage_of(stage, job)
        texts = [shape for shape in block.shapes if isinstance(shape, Text)]
        assert min(text.size_pt for text in texts) >= points_of(2.5) - 1e-9
        found = text_boxes(block.shapes)
        assert colliding(found) == []
        assert all(box.left >= -0.01 and box.right <= WIDTH + 0.01 for box in found)
        assert all(-block.height_mm <= box.bottom and box.top <= 0 for box in found)


def test_stage_with_too_many_joints_to_name_counts_them() -> None:
    columns = "".join(f"[[cabinet.column]]\nopenings = {['equal'] * (2 + place % 3)}\n" for place in range(60))
    layout, job = made(CHEST.replace("1000", "9000").replace("frame =", "#") + columns)
    long = max(stages_of(layout), key=lambda stage: len(stage.joints))
    block = stage_of(long, job)
    assert block.height_mm <= ROOM.height_mm
    assert f"Spread both faces of {len(long.joints)} joints, part by part" in words(block.shapes)


def ticks(shapes: tuple[Shape, ...]) -> int:
    """How many small squares of four lines there are."""
    level = [s for s in shapes if isinstance(s, Line) and s.y1 == s.y2 and abs(s.x2 - s.x1) == pytest.approx(3.6)]
    return len(level) // 2


def test_each_step_has_a_box_to_tick() -> None:
    layout, job = made(ALL["twelve openings"])
    dry, *glued = stages_of(layout)
    assert ticks(stage_of(dry, job).shapes) == 4
    for stage in glued:
        block = stage_of(stage, job)
        assert ticks(block.shapes) == 5 + stage.in_clamps + stage.twist
        found = words(block.shapes)
        steps = ["Start at ___", "Spread", "Place", "Fasten" if stage.pins else "Clamp", "Check"]
        steps += ["Twist"] if stage.twist else []
        steps += ["Unclamp"] if stage.in_clamps else []
        places = [found.index(word) for word in steps]
        assert places == sorted(places)


def test_stage_says_when_the_clamps_come_off() -> None:
    layout, job = made(ALL["small box"])
    stays = replace(GLUE, clamp_time=Fraction(90))
    assert "Unclamp after 1 h 30 min, at ___ : ___" in words(stage_of(stages_of(layout, stays)[1], job).shapes)
    assert "Unclamp when the glue's label says" in words(stage_of(stages_of(layout, GLUE)[1], job).shapes)


def test_back_after_painting_is_laid_in_dry_and_spreads_no_glue() -> None:
    text = CHEST.replace("rabbet_depth = 9", "rabbet_depth = 9, after_painting = true") + "openings = ['equal']"
    layout, job = made(text)
    stages = stages_of(layout, GLUE)
    (case,) = (stage for stage in stages if stage.dry_back)
    assert "Back lay the back in dry" in words(stage_of(case, job).shapes)
    back = words(stage_of(stages[-1], job).shapes)
    assert "No glue screws or pins hold it" in back
    assert "Spread" not in back
    assert "to spread" not in back


def test_stage_that_takes_more_clamps_than_the_shop_owns_says_so() -> None:
    layout, job = made(ALL["small box"])
    shop = Shop(clamps=(Clamp("short", Fraction(150), 9),))
    block = stage_of(stages_of(layout)[1], replace(job, shop=shop))
    assert "The shop is short of clamps: get or borrow 4 more clamps that open to 180" in words(block.shapes)


def test_outside_of_a_case_with_toe_notches_says_at_which_edges() -> None:
    layout, job = made(ALL["bookcase with a toe space"])
    assert "case, outside, at the back edges" in words(stage_of(stages_of(layout)[1], job).shapes)


def test_diagonals_stand_in_the_largest_figures_with_two_boxes_to_write_in() -> None:
    layout, job = made(ALL["small box"])
    stage = stages_of(layout)[1]
    block = stage_of(stage, job)
    figures = [s.text for s in block.shapes if isinstance(s, Text) and s.size_pt == points_of(STATION_MM)]
    assert [float(figure) for figure in figures] == [
        round(hypot(each.width, each.height), 1) for each in stage.rectangles
    ]
    sides = [s for s in block.shapes if isinstance(s, Line) and s.y1 == s.y2 and 15.0 < abs(s.x2 - s.x1) < 20.0]
    assert len(sides) == 2 * 2 * len(figures)
    assert words(block.shapes).count("apart at most") == 2


def test_clock_says_when_it_must_be_closed_by_the_glue_or_by_the_estimate() -> None:
    layout, job = made(ALL["small box"])
    without, with_glue = (words(stage_of(stages_of(layout, glue)[1], job).shapes) for glue in (None, GLUE))
    assert "closed by ___ : ___ (+6 min), 4 to spread" in without
    assert "spread by ___ : ___ (+10 min), closed by ___ : ___ (+20 min), about 6 min, 4 to spread" in with_glue


def test_slower_glue_is_asked_for_once_before_the_stages() -> None:
    blocks, _ = blocks_of(*made(TOWER), GLUE)
    found = [words(block.shapes) for block in blocks]
    text = " ".join(found)
    assert text.count("slower glue") == 1
    assert "A slower glue is needed: one with at least 41 min open and 82 min closed is enough." in text
    first_stage = next(place for place, each in enumerate(found) if ": dry run" in each)
    assert next(place for place, each in enumerate(found) if "slower glue" in each) < first_stage


@pytest.mark.parametrize("path", CABINET_JOBS, ids=[path.stem for path in CABINET_JOBS])
def test_gallery_prints_every_stage_once_for_all_alike_and_every_caution_once(path: Path) -> None:
    layout = storystick.load(path)
    stages = plan_glue_up(layout, None)
    text = words(tuple(shape for block in glue_up_blocks(layout, stages, None, ROOM) for shape in block.shapes))
    sets = list(shared_stages(stages))
    assert text.count(": dry run") == len(sets)
    for shared in sets:
        alike = f" ({len(shared.cabinets)} alike)" if len(shared.kinds) > 1 else ""
        assert f"{'; '.join(shared.kinds)}{alike} 1 of {len(shared.stages)}: " in text
    for caution in ("Two people lift", "clamps can slip", "Pare squeeze-out", "to the wall", "EN 14749"):
        assert text.count(caution) == 1


def test_a_chest_of_seven_stages_is_glued_up_on_three_pages() -> None:
    layout = storystick.load(next(path for path in CABINET_JOBS if path.stem == "bead-chest"))
    stages = plan_glue_up(layout, None)
    letter = Room(188.0, 248.0)
    assert len(stages) == 7
    assert len(paginate(list(glue_up_blocks(layout, stages, None, letter)), letter.height_mm)) == 3


def alike_job(*names: str) -> Layout:
    boxes = (ALL["small box"].replace("[[cabinet]]", f'[[cabinet]]\nname = "{name}"') for name in names)
    return storystick.lay_out(read_well(HEAD + "".join(boxes)))


def said(stage: Stage) -> tuple[object, ...]:
    joints = [(joint.words, joint.length, joint.place) for joint in stage.joints]
    return stage.name, joints, stage.minutes, stage.needs, [(line.held, line.length, line.jaws) for line in stage.lines]


def test_cabinets_that_are_alike_but_for_their_names_are_gathered() -> None:
    layout = storystick.load(next(path for path in CABINET_JOBS if path.stem == "boot-room"))
    stages = plan_glue_up(layout, GLUE)
    found = [shared.cabinets for shared in shared_stages(stages)]
    assert found == [("Coats left", "Coats right"), ("Drawers left", "Drawers right"), ("Bench",)]
    for shared in shared_stages(stages):
        for cabinet in shared.cabinets:
            own = [stage for stage in stages if stage.cabinet == cabinet]
            assert list(map(said, own)) == list(map(said, shared.stages))


def test_however_many_are_alike_they_share_their_stages_and_have_a_row_each() -> None:
    names = [f"box {number}" for number in range(1, 71)]
    layout = alike_job(*names)
    stages = plan_glue_up(layout, GLUE)
    blocks = list(glue_up_blocks(layout, stages, GLUE, ROOM))
    found = [shape.text for page in paginate(blocks, ROOM.height_mm) for shape in page if isinstance(shape, Text)]
    (shared,) = shared_stages(stages)
    assert sum(": dry run" in text for text in found) == 1
    assert all(found.count(name) == len(shared.stages) for name in names)


def test_each_of_several_alike_has_its_own_box_clock_and_diagonals() -> None:
    layout = alike_job("left box", "right box")
    (shared,) = shared_stages(plan_glue_up(layout, GLUE))
    (stage,) = shared.stages[1:]
    block = stage_of(stage, layout.job, shared.cabinets)
    assert ticks(block.shapes) == 7 + 2  # the steps, and a box each
    level = [s for s in block.shapes if isinstance(s, Line) and s.y1 == s.y2 and 14.0 < abs(s.x2 - s.x1) < 20.0]
    assert len(level) == 2 * 2 * (3 + 2 * len(stage.rectangles))
    found = words(block.shapes)
    assert "___" not in found
    assert found.count("left box") == found.count("right box") == 1
    assert "case, outside" in found


@given(built_jobs())
def test_stages_of_cabinets_that_are_alike_are_whole(built: tuple[CabinetLayout, Job]) -> None:
    layout, job = built
    names = ["A first one, with a name as long as any", "second", "third"]
    cabinets = tuple(replace(layout, cabinet=replace(layout.cabinet, name=name)) for name in names)
    stages = [stage for cabinet in cabinets for stage in stages_of(cabinet, GLUE)]
    blocks = list(glue_up_blocks(Layout(job, (), cabinets), stages, GLUE, ROOM))
    assert max(block.height_mm for block in blocks) <= ROOM.height_mm
    for page in paginate(blocks, ROOM.height_mm):
        found = text_boxes(page)
        assert colliding(found) == []
        assert all(box.left >= -0.01 and box.right <= WIDTH + 0.01 for box in found)
        assert all(box.bottom >= -ROOM.height_mm for box in found)


def boxes(shapes: tuple[Shape, ...]) -> list[Box]:
    return [shape for shape in shapes if isinstance(shape, Box)]


@given(built_jobs())
def test_sketch_keeps_to_its_room_and_shows_every_part_of_its_stage(built: tuple[CabinetLayout, Job]) -> None:
    layout, _ = built
    dry, *glued = stages_of(layout)
    assert {box.grey for box in boxes(draw_stage(dry, 50.0, 42.0))} == {1.0}
    for stage in glued:
        assert stage.closing
        shapes = draw_stage(stage, 50.0, 42.0)
        reach = extent(shapes)
        assert reach.left >= -3.0
        assert reach.right <= 53.0
        assert -43.0 <= reach.bottom <= reach.top <= 0.01
        found = boxes(shapes)
        assert len(found) == len(stage.closing.pieces)
        dark = sum(box.grey < 0.5 for box in found)
        alone = [assembly for assembly in stage.closing.assemblies if len(assembly) == 1]
        assert dark >= len(alone)
        assert dark > 0


def test_sketch_draws_apart_what_is_brought_together() -> None:
    """A box whose four parts close from side to side: its bottom ends clear of both sides, in the middle between."""
    layout, _ = made(ALL["small box"])
    stage = stages_of(layout)[1]
    left, *_, right = sorted(boxes(draw_stage(stage, 50.0, 42.0)), key=lambda box: box.x + box.width / 2)
    level = [box for box in boxes(draw_stage(stage, 50.0, 42.0)) if box.width > box.height]
    assert len(level) == 2
    for box in level:
        gaps = (box.x - left.x - left.width, right.x - box.x - box.width)
        assert min(gaps) > 1.0
        assert gaps[0] == pytest.approx(gaps[1])


def test_paragraph_takes_a_size_and_blocks_can_be_stacked() -> None:
    small, large = (paragraph("a", 50.0, size_pt=size)[0] for size in (9.0, 18.0))
    assert large.height_mm == pytest.approx(2 * small.height_mm)
    whole = stacked([small, large])
    assert whole.height_mm == pytest.approx(3 * small.height_mm)
    lower = whole.shapes[1]
    assert isinstance(lower, Text)
    assert lower.y < -small.height_mm


def test_figure_is_never_parted_by_the_end_of_a_line() -> None:
    text = f"apart {unbroken('3 51/64 full')} here"
    for room in range(5, 60):
        for line in wrapped(text, 14.0, float(room)):
            assert "51/64" not in plain(line) or "3 51/64" in plain(line)


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(main, [str(argument) for argument in arguments])


@pytest.fixture
def job(tmp_path: Path) -> Path:
    (tmp_path / "shop.toml").write_text(SHOP, encoding="utf-8")
    path = tmp_path / "chest.toml"
    path.write_text(HEAD + ALL["twelve openings"], encoding="utf-8")
    return path


def listed(job: Path, *options: str) -> dict[str, Any]:
    result = run("glueup", job, "--format", "json", *options)
    assert result.exit_code == 0, result.output
    found: dict[str, Any] = json.loads(result.output)
    return found


def test_json_has_the_keys_that_other_programs_rely_on(job: Path) -> None:
    found = listed(job)
    assert list(found) == ["title", "units", "digest", "glue", "slower_glue", "totals", "stages", "notes"]
    assert found["glue"] == {"name": "usual", "open": 10.0, "closed": 20.0, "clamp_time": None}
    (total,) = found["totals"]
    assert list(total) == ["cabinet", "work_minutes", "times_in_clamps", "clamp_minutes", "minutes", "count"]
    assert total["work_minutes"] == pytest.approx(sum(stage["minutes"] for stage in found["stages"]))
    for stage in found["stages"]:
        assert list(stage) == [
            *("cabinet", "name", "joins", "glued_length", "glued_length_mm", "clamps", "cauls", "pins", "screws"),
            *("jaws", "jaws_mm", "lines", "spread_minutes", "minutes", "clamp_minutes", "check", "twist", "dry_back"),
            *("glued", "diagonals", "fits", "slower_glue", "needs", "short_of"),
        ]
        assert all(isinstance(text, str) for text in (stage["name"], stage["check"], *stage["joins"]))
        assert all(isinstance(stage[key], int) for key in ("clamps", "cauls", "pins"))
        assert isinstance(stage["minutes"], float)
        for line in stage["lines"]:
            keys = [
                "joins",
                "length",
                "length_mm",
                "clamps",
                "cauls",
                "pins",
                "screws",
                "spacing",
                "spacing_mm",
                "bowed",
            ]
            assert list(line) == [*keys, "set", "jaws", "jaws_mm", "notched", "blocks"]
        for diagonal in stage["diagonals"]:
            assert list(diagonal) == ["name", "at", "diagonal", "diagonal_mm", "diagonal_label"]
    assert "\N{NO-BREAK SPACE}" not in json.dumps(found, ensure_ascii=False)


def test_json_says_what_each_stage_joins_and_whether_it_fits(job: Path) -> None:
    dry, *stages = listed(job)["stages"]
    assert (dry["joins"], dry["fits"], dry["glued_length_mm"]) == ([], None, 0.0)
    joins = [text for stage in stages for text in stage["joins"]]
    assert len(joins) == len(set(joins))
    assert "divider 1 to bottom" in joins
    assert {stage["fits"] for stage in stages} == {True, False, None}
    assert all(bool(stage["slower_glue"]) is (stage["fits"] is False) for stage in stages)


def test_glue_that_is_named_is_kept_to(job: Path) -> None:
    slow = listed(job, "--glue", "slow")
    assert slow["glue"]["name"] == "slow"
    assert all(stage["fits"] is not False for stage in slow["stages"])
    assert len(slow["stages"]) < len(listed(job)["stages"])


def test_csv_says_the_same_as_json(job: Path) -> None:
    rows = list(csv.DictReader(io.StringIO(run("glueup", job, "--format", "csv").output)))
    stages = listed(job)["stages"]
    assert [row["name"] for row in rows] == [stage["name"] for stage in stages]
    for row, stage in zip(rows, stages, strict=True):
        assert row["joins"] == "; ".join(stage["joins"])
        assert float(row["minutes"]) == stage["minutes"]
        assert int(row["clamps"]) == stage["clamps"]
        assert row["fits"] == ("" if stage["fits"] is None else str(stage["fits"]))


def test_text_has_every_stage_with_its_clamps_and_its_check(job: Path) -> None:
    text = run("glueup", job).output
    for number, stage in enumerate(listed(job)["stages"], start=1):
        assert f"{number}. {stage['name']}" in text
        clamps = f"clamps  {stage['clamps']} clamps"
        assert (f"pins    {stage['pins']} pins or screws" if stage["pins"] else clamps) in text
    assert " ".join(text.split()).count("slower glue is needed") == 1
    assert max(map(len, text.splitlines())) <= 96
    assert "\N{NO-BREAK SPACE}" not in text


def test_text_says_how_long_the_clamps_stay_on_where_there_are_any(job: Path) -> None:
    (job.parent / "shop.toml").write_text(SHOP + "[glue.stays]\nopen = 600\nclosed = 900\nclamp_time = 45\n")
    text = " ".join(run("glueup", job, "--glue", "stays").output.split())
    clamped = [stage for stage in listed(job, "--glue", "stays")["stages"] if stage["clamp_minutes"]]
    assert text.count("; the clamps stay on for 45 min") == len(clamped) > 0


def test_without_a_glue_the_times_stand_alone(job: Path) -> None:
    (job.parent / "shop.toml").unlink()
    found = listed(job)
    assert found["glue"] is None
    assert {stage["fits"] for stage in found["stages"]} == {None}
    assert "compare the minutes of every stage with the open and closed" in found["notes"][0]


def test_pace_and_cauls_of_the_shop_are_used(job: Path) -> None:
    before = listed(job, "--glue", "slow")["stages"][-1]
    shop = SHOP + "[glue_up]\njoint_minutes = 2\nclamp_minutes = 1\nstiff_caul = 160\n"
    (job.parent / "shop.toml").write_text(shop, encoding="utf-8")
    after = listed(job, "--glue", "slow")["stages"][-1]
    assert after["spread_minutes"] == 2 * before["spread_minutes"]
    assert after["clamps"] < before["clamps"]
    assert after["minutes"] == after["spread_minutes"] + after["clamps"]


def test_pace_at_pins_is_the_shop_s(job: Path) -> None:
    shop = SHOP + "[glue_up]\npin_minutes = 0.5\n"
    (job.parent / "shop.toml").write_text(shop, encoding="utf-8")
    (back,) = (stage for stage in listed(job, "--glue", "slow")["stages"] if stage["pins"])
    assert back["minutes"] == back["spread_minutes"] + back["pins"] / 2


def test_job_without_cabinets_is_a_fault(tmp_path: Path) -> None:
    path = tmp_path / "stick.toml"
    path.write_text('units = "mm"\nstock = { ply = 18 }\n[[stick]]\npart = "ply"\nopenings = [300]\n', encoding="utf-8")
    result = run("glueup", path)
    assert result.exit_code == 1
    assert "no cabinet to glue up" in result.output


def test_glue_that_the_shop_does_not_have_is_a_fault(job: Path) -> None:
    result = run("glueup", job, "--glue", "hide")
    assert result.exit_code == 1
    assert 'the shop has no glue "hide"' in result.output
    assert "usual, slow" in result.output


@pytest.mark.parametrize("seed", ["1", "2", "3"])
def test_sketches_are_the_same_in_another_process(seed: str) -> None:
    layout, _ = made(CHEST)
    program = "from test_glue_up_pages import CHEST, draw_stage, made, stages_of;"
    program += "print([draw_stage(stage, 50.0, 42.0) for stage in stages_of(made(CHEST)[0])])"
    settings = {**os.environ, "PYTHONHASHSEED": seed}
    theirs = subprocess.run(
        [sys.executable, "-c", program], cwd=Path(__file__).parent, env=settings, capture_output=True, check=True
    )
    assert theirs.stdout.decode().strip() == str([draw_stage(stage, 50.0, 42.0) for stage in stages_of(layout)])
