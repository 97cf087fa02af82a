"""Good job files, and what they read to."""

from __future__ import annotations

import json
import re
import tomllib
from fractions import Fraction
from inspect import signature
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from jobs import FROM_SHEET, MM, ORDER, PLAIN, PLY, STICK, only_stick, read, read_well

from storystick.job.case_joints import Butt, Housing, Rabbet, Tongue
from storystick.job.job import Job
from storystick.job.joints import JOINT_KINDS, Joint
from storystick.job.openings import Fixed, Graduated, Item, Opening, Part, RatioRule, Share, StepRule, Stock
from storystick.job.papers import PAPERS, Margins, custom_paper
from storystick.job.reading import read_job, read_sources
from storystick.job.sources import Source
from storystick.job.sticks import Centre, Datum, Holes, Stick
from storystick.lengths import INCH_MM, Units

SCHEMA: dict[str, Any] = json.loads((Path(__file__).parent.parent / "shared" / "job.schema.json").read_text("utf-8"))

ply = Stock("ply", Fraction(18))
shelf = Housing(name="shelf", depth=Fraction(6))


def opening(size: int | str, name: str | None = None) -> Opening:
    return Opening(Fixed(Fraction(size)), name)


def share(shares: int | str, name: str | None = None) -> Opening:
    return Opening(Share(Fraction(shares)), name)


WHOLE_JOB = """
title = "Herbarium chest"
units = "inch"
paper = "tabloid"
margins = { left = "1/2", bottom = 0 }
round_to = "1/32"
[stock]
ply = "23/32"
frame = "3/4"
[joint.shelf]
kind = "tongue"
width = "1/4"
depth = "1/4"
bottom_gap = "1/64"
[[stick]]
name = "Chest side"
datum = "top"
length = 36
pair = true
order = [
  { part = "ply", name = "top", joint = "shelf" },
  { graduated = 4, step = "1/2", between = "ply", joint = "shelf", name = "drawer" },
  { part = "frame" },
]
[[stick]]
part = "ply"
openings = [13, 12.5]
"""


def test_a_whole_job_reads_to_its_model() -> None:
    joint = Tongue(name="shelf", width=INCH_MM / 4, depth=INCH_MM / 4, set=None, bottom_gap=INCH_MM / 64)
    inch_ply, frame = Stock("ply", INCH_MM * 23 / 32), Stock("frame", INCH_MM * 3 / 4)
    drawers = Graduated(4, StepRule(INCH_MM / 2), None, Part(inch_ply, joint=joint), "drawer")
    chest = (Part(inch_ply, "top", joint), drawers, Part(frame))
    bookcase = (
        Part(inch_ply),
        Opening(Fixed(13 * INCH_MM)),
        Part(inch_ply),
        Opening(Fixed(INCH_MM * 25 / 2)),
        Part(inch_ply),
    )
    assert read_well(WHOLE_JOB) == Job(
        title="Herbarium chest",
        units=Units.INCH,
        paper=PAPERS["Tabloid"],
        margins=Margins(INCH_MM / 2, INCH_MM * 3 / 8, INCH_MM * 3 / 8, Fraction(0)),
        round_to=INCH_MM / 32,
        sticks=(
            Stick(1, "Chest side", Datum.TOP, chest, 36 * INCH_MM, pair=True),
            Stick(2, "stick 2", Datum.BOTTOM, bookcase),
        ),
        sources=(Source("job.toml", WHOLE_JOB.encode()),),
    )


@pytest.mark.parametrize(
    ("units", "paper", "margin", "step"),
    [
        ("mm", "A4", Fraction(10), Fraction(1, 10)),
        ("inch", "Letter", INCH_MM * 3 / 8, INCH_MM / 64),
    ],
)
def test_what_a_job_leaves_out_follows_from_its_units(units: str, paper: str, margin: Fraction, step: Fraction) -> None:
    job = read_well(PLAIN.replace('"mm"', f'"{units}"'))
    assert (job.title, job.paper, job.round_to) == ("job", PAPERS[paper], step)
    assert job.margins == Margins(margin, margin, margin, margin)


OWN_SHEET = "paper = { width = 600, height = '1 m' }\nmargins = 5\nround_to = 0.5\n" + PLAIN


def test_paper_may_be_any_sheet_and_one_margin_may_hold_for_all_sides() -> None:
    job = read_well(OWN_SHEET)
    assert job.paper == custom_paper(Fraction(600), Fraction(1000), "600 x 1000 mm")
    assert job.margins == Margins(*[Fraction(5)] * 4)
    assert job.round_to == Fraction(1, 2)


GOOD_JOINTS: dict[str, Joint] = {
    "kind = 'butt'": Butt(name="j"),
    "kind = 'housing'\ndepth = 6": Housing(name="j", depth=Fraction(6)),
    "kind = 'housing'\ndepth = 6\nfit = 0.2": Housing(name="j", depth=Fraction(6), fit=Fraction(1, 5)),
    "kind = 'tongue'\nwidth = 6\ndepth = 6\nfit = 0.2": Tongue(
        name="j", width=Fraction(6), depth=Fraction(6), fit=Fraction(1, 5)
    ),
    "kind = 'housing'\ndepth = 6\nbottom_gap = 0.5": Housing(name="j", depth=Fraction(6), bottom_gap=Fraction(1, 2)),
    "kind = 'rabbet'\ndepth = 9": Rabbet(name="j", depth=Fraction(9)),
    "kind = 'tongue'\nwidth = 6\ndepth = 7": Tongue(name="j", width=Fraction(6), depth=Fraction(7)),
    "kind = 'tongue'\nwidth = 6\ndepth = 7\nset = 'centre'": Tongue(name="j", width=Fraction(6), depth=Fraction(7)),
    "kind = 'tongue'\nwidth = 6\ndepth = 7\nset = 0": Tongue(
        name="j", width=Fraction(6), depth=Fraction(7), set=Fraction(0)
    ),
}


def joint_job(keys: str) -> str:
    return f"{PLY}[joint.j]\n{keys}\n[[stick]]\norder = [{{ part = 'ply', joint = 'j' }}]"


@pytest.mark.parametrize("keys", GOOD_JOINTS)
def test_a_joint_reads_to_its_kind(keys: str) -> None:
    assert only_stick(joint_job(keys)).items == (Part(ply, joint=GOOD_JOINTS[keys]),)


GROUP = Graduated(3, RatioRule(Fraction(6, 5)), None, Part(ply))
GOOD_OPENINGS: dict[str, list[Item]] = {
    "[300, '1/2', '1 in']": [opening(300), opening("1/2"), opening("25.4")],
    "[0.1]": [opening("1/10")],
    "['equal', ' Equal ']": [share(1), share(1)],
    "[{ share = 2 }, { share = 1.5, name = 'pens' }, { share = '3/2' }, { share = '1 1/2' }]": [
        share(2), share("3/2", "pens"), share("3/2"), share("3/2")
    ],
    "[{ opening = 80, name = 'press' }, { opening = 'equal' }, { opening = { share = 2 } }]": [
        opening(80, "press"), share(1), share(2)
    ],
    "[{ graduated = 3, ratio = '6/5' }, { graduated = 3, ratio = 1.2 }]": [GROUP, GROUP],
    "[{ graduated = 2, step = 10, first = 90, name = 'd', between = 'ply' }]": [
        Graduated(2, StepRule(Fraction(10)), Fraction(90), Part(ply), "d")
    ],
}  # fmt: skip


@pytest.mark.parametrize("written", GOOD_OPENINGS)
def test_openings_stand_between_parts_and_have_one_at_both_ends(written: str) -> None:
    items = only_stick(STICK + f"openings = {written}").items
    assert list(items[1::2]) == GOOD_OPENINGS[written]
    assert set(items[::2]) == {Part(ply)}
    assert len(items) % 2 == 1


def test_a_group_among_openings_takes_the_part_and_joint_of_its_stick() -> None:
    text = ORDER.replace("order = ", 'part = "ply"\njoint = "shelf"\nopenings = [{ graduated = 2, step = 9 }]')
    outer, group, _ = only_stick(text).items
    assert outer == Part(ply, joint=shelf)
    assert group == Graduated(2, StepRule(Fraction(9)), None, Part(ply, joint=shelf))


GOOD_ORDERS: dict[str, list[Item]] = {
    "[{ part = 'ply', name = 'top', joint = 'shelf' }, { part = 'ply' }]": [Part(ply, "top", shelf), Part(ply)],
    "[{ opening = 8 }, { opening = 'equal' }, { share = 2 }]": [opening(8), share(1), share(2)],
    "[{ graduated = 2, step = 5 }]": [Graduated(2, StepRule(Fraction(5)))],
    "[{ graduated = 2, step = 5, between = 'ply', joint = 'shelf' }]": [
        Graduated(2, StepRule(Fraction(5)), None, Part(ply, joint=shelf))
    ],
}


@pytest.mark.parametrize("written", GOOD_ORDERS)
def test_an_order_is_taken_as_it_stands(written: str) -> None:
    assert list(only_stick(ORDER + written).items) == GOOD_ORDERS[written]


GOOD_POINTS: dict[str, list[Holes | Centre]] = {
    "holes = { first = 96, pitch = 32, count = 10 }": [Holes(Fraction(96), Fraction(32), 10, "holes")],
    "holes = { first = 0, count = 1, name = 'pin' }": [Holes(Fraction(0), Fraction(0), 1, "pin")],
    "holes = [{ first = 1, count = 1 }, { first = 2, count = 1 }]": [
        Holes(Fraction(1), Fraction(0), 1, "holes 1"), Holes(Fraction(2), Fraction(0), 1, "holes 2")
    ],
    "centre = '1 in'": [Centre(INCH_MM, "centre")],
    "centre = { at = 20, name = 'pull' }": [Centre(Fraction(20), "pull")],
    "centre = [0, { at = 20 }]": [Centre(Fraction(0), "centre 1"), Centre(Fraction(20), "centre 2")],
}  # fmt: skip


@pytest.mark.parametrize("written", GOOD_POINTS)
def test_holes_and_centres_are_counted_where_they_have_no_names(written: str) -> None:
    assert list(only_stick(PLAIN + written).points) == GOOD_POINTS[written]


@pytest.mark.parametrize(
    "sheet",
    [
        "name,size\npens,80\n,equal\n",
        "\ufeffSize;Name\r\n80;pens\r\nEqual;\r\n",
        "\n size \tNAME\n\n80\tpens\n\t\nequal",
        'size,,name,\n"80",,"pens",\nequal\n',
    ],
)
def test_openings_come_from_a_spreadsheet_by_its_header(sheet: str) -> None:
    assert only_stick(FROM_SHEET, drawers=sheet).items[1::2] == (opening(80, "pens"), share(1))


def test_a_job_carries_the_files_that_it_was_read_from(tmp_path: Path) -> None:
    (tmp_path / "chest.toml").write_text(FROM_SHEET, encoding="utf-8")
    (tmp_path / "drawers.csv").write_text("size\n80\n", encoding="utf-8")
    job, faults = read_job(tmp_path / "chest.toml")
    assert faults == ()
    assert [source.name for source in job.sources] == ["chest.toml", "drawers.csv"]
    assert read_sources(job.sources) == (job, ())


def test_a_job_carries_only_the_files_that_it_names() -> None:
    assert [source.name for source in read_well(PLAIN, other="size\n80\n").sources] == ["job.toml"]


def test_a_byte_order_mark_is_no_fault() -> None:
    assert read_well("\ufeff" + PLAIN).sticks == read_well(PLAIN).sticks


def test_a_title_that_is_left_out_is_the_name_of_the_file() -> None:
    job, _ = read_sources([Source(f"wall\tunit.{'x' * 200}.toml", PLAIN.encode())])
    assert job.title == f"wall unit.{'x' * 70}"


def schema_faults(text: str) -> list[str]:
    validator = jsonschema.Draft202012Validator(SCHEMA)
    return [fault.message for fault in validator.iter_errors(tomllib.loads(text))]


GOOD_JOBS = [
    WHOLE_JOB,
    FROM_SHEET,
    OWN_SHEET,
    *(joint_job(keys) for keys in GOOD_JOINTS),
    *(STICK + f"openings = {written}" for written in GOOD_OPENINGS),
    *(ORDER + written for written in GOOD_ORDERS),
    *(PLAIN + written for written in GOOD_POINTS),
]


@pytest.mark.parametrize("text", GOOD_JOBS, ids=range(len(GOOD_JOBS)))
def test_a_job_that_reads_well_keeps_to_the_schema(text: str) -> None:
    assert schema_faults(text) == []


@pytest.mark.parametrize(
    "text",
    [
        PLAIN.replace(MM, ""),
        "titel = 'x'\n" + PLAIN,
        "title = ' '\n" + PLAIN,
        "paper = 'A44'\n" + PLAIN,
        "margins = -1\n" + PLAIN,
        PLAIN + "order = [{ part = 'ply' }]",
        PLY + "[[stick]]\nname = 'bare'",
        STICK + "openings = [{ share = 2, step = 1 }]",
        STICK + "openings = [{ graduated = 3 }]",
        STICK + "openings = '../drawers.csv'",
        ORDER + "[8]",
        PLAIN + "holes = { first = 0, count = 2 }",
        joint_job("kind = 'butt'\ndepth = 3"),
    ],
)
def test_a_job_of_the_wrong_shape_keeps_to_neither_schema_nor_reader(text: str) -> None:
    assert schema_faults(text)
    assert read(text)[1]


_KEYS = {"hole_depth": "depth", "mortise": "depth", "word": "called", "shoulder_high": "shoulder"}
"""Keys that are not called as the field that they fill: a joint's depth is that of its groove."""


def test_the_schema_knows_the_keys_of_joints_and_papers() -> None:
    kinds = {name[6:]: shape["properties"] for name, shape in SCHEMA["$defs"].items() if name.startswith("joint.")}
    for kind, build in JOINT_KINDS.items():
        fields = {_KEYS.get(field, field) for field in signature(build).parameters}
        assert set(kinds.pop(kind)) - {"kind"} == fields - {"name", "units"}
    assert kinds == {}
    for name in PAPERS:
        assert re.search(SCHEMA["properties"]["paper"]["oneOf"][0]["pattern"], name.upper())
