"""Keys are declared once: schemas, page and listing come from the declarations, and what they say is so."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Mapping
from fractions import Fraction
from pathlib import Path
from types import SimpleNamespace
from typing import Any, Final

import jsonschema
import pytest
from click.testing import CliRunner
from jobs import GALLERY_JOBS
from mutations import seeds

from storystick.cli import main
from storystick.errors import StorystickError
from storystick.job.case_joints import Butt
from storystick.job.cases import PartRule
from storystick.job.frame_joints import HalfLap
from storystick.job.key_reference import files, left_out_in, reads, schema_of, table_pages
from storystick.job.keys import Key
from storystick.job.kinds import Names, Scope, Table
from storystick.job.openings import Stock
from storystick.job.outlines import BoardBox
from storystick.lengths import INCH_MM, Units, read_length
from storystick.outline import rectangle
from storystick.tooling.bars import BIT_UNDER, LEAST_SHIM
from storystick.tooling.cautions import HIGHEST_ON_END, NARROWEST

SHARED: Final = Path(__file__).parent.parent / "shared"
PAGES: Final = tuple(table_pages())
KEYS: Final = {(page.name, name): key for page in PAGES for name, key in page.keys.items()}
PLY: Final = Stock("ply", INCH_MM * 23 / 32)


def scope(units: Units = Units.INCH) -> Scope:
    """One in which all that examples name is there."""
    stocks = {name: Stock(name, PLY.thickness) for name in ("ply", "frame", "front", "box")}
    named: dict[str, Mapping[str, Any]] = {
        "stock": {**stocks, "back": Stock("back", INCH_MM * 7 / 32)},
        "joint": {"shelf": Butt(name="shelf"), "frame": HalfLap(name="frame")},
        "cabinet": {name: SimpleNamespace(width=Fraction(1)) for name in ("Press", "Wall unit")},
        "run": {"North wall": "North wall"},
        "router": {"plunge": object()},
        "bit": {"half": object()},
    }
    rule = PartRule(PLY)
    box = BoardBox(6 * INCH_MM, 9 * INCH_MM)
    usual = {"rule": rule, "stock": PLY, "shelves": rule, "dividers": rule, "title": "job", "box": box}
    usual["outline"] = rectangle(box.width, box.height)
    return Scope(units, named={word: Names(word, things) for word, things in named.items()}, usual=usual)


@pytest.mark.parametrize("name", files())
def test_what_is_written_from_the_declarations_is_up_to_date(name: str) -> None:
    assert (SHARED / name).read_text(encoding="utf-8") == files()[name]


@pytest.mark.parametrize(("place", "key"), KEYS.items(), ids=map(".".join, KEYS))
def test_every_key_says_what_it_is_and_gives_an_example_that_reads(place: tuple[str, str], key: Key) -> None:
    _, name = place
    assert key.words
    assert not key.words.endswith("."), "the listing puts the full stop"
    assert reads(key).lstrip(", ") == reads(key) != ""
    assert f"| `{name}` | {key.words} |" in (SHARED / "keys.md").read_text(encoding="utf-8")
    table = Table({name: key.example} if key.example not in ({}, []) else {})
    if table.has(name):
        key.kind.take(table, name, None, scope())
    table.close()


@pytest.mark.parametrize("place", [("cabinet", "between"), ("cabinet.row", "above")])
def test_a_key_with_a_word_or_a_table_reads_both(place: tuple[str, str]) -> None:
    assert reads(KEYS[place]) == ('"shelf", "rail", "web frame", "dust panel", "frame rail" or "nothing", or a table')


@pytest.mark.parametrize("key", KEYS.values(), ids=map(".".join, KEYS))
def test_what_stands_for_a_key_that_is_left_out_is_what_its_words_say(key: Key) -> None:
    for units in Units:
        left_out = None if key.is_needed else key.left_out(scope(units))
        if isinstance(left_out, Fraction) and key.otherwise[:1].isdigit():
            inch, _, mm = key.otherwise.removesuffix(" in a job in mm").partition(", or ")
            words = mm if mm and units is Units.MM else inch
            assert left_out == read_length(words, Units.MM)


@pytest.mark.parametrize(
    ("table", "key", "usual"),
    [
        ("sawing", "on_end", HIGHEST_ON_END),
        ("sawing", "narrow", NARROWEST),
        ("routing", "bit_under", BIT_UNDER),
        ("routing", "least_shim", LEAST_SHIM),
    ],
)
def test_what_is_usual_with_tools_is_what_the_words_say(table: str, key: str, usual: dict[Units, Fraction]) -> None:
    inch, mm = KEYS[table, key].otherwise.removesuffix(" in a job in mm").split(", or ")
    assert usual == {Units.INCH: read_length(inch, Units.MM), Units.MM: read_length(mm, Units.MM)}


@pytest.mark.parametrize("path", GALLERY_JOBS, ids=lambda path: path.stem)
def test_every_gallery_job_keeps_to_the_schema(path: Path) -> None:
    assert faults_of("job", path.read_text(encoding="utf-8")) == []


def test_every_job_and_shop_of_the_readme_keeps_to_its_schema() -> None:
    for job in seeds():
        for name, text in job.items():
            if name.endswith(".toml"):
                assert faults_of("job" if "title" in text else "shop", text) == []


def faults_of(file: str, text: str) -> list[str]:
    validator = jsonschema.Draft202012Validator(schema_of(file))
    return [fault.message for fault in validator.iter_errors(tomllib.loads(text))]


@pytest.mark.parametrize("file", ["job", "shop"])
def test_schemas_are_schemas(file: str) -> None:
    jsonschema.Draft202012Validator.check_schema(schema_of(file))


def test_a_name_is_that_of_one_table() -> None:
    names = [page.name for page in PAGES]
    assert sorted(names) == sorted(set(names))


def test_no_line_of_the_listing_is_longer_than_96_characters() -> None:
    done = CliRunner().invoke(main, ["keys"])
    assert done.exit_code == 0
    assert max(map(len, done.output.splitlines())) <= 96


def test_a_table_is_listed_with_those_that_stand_in_it() -> None:
    done = CliRunner().invoke(main, ["keys", "frame", "--format", "json"])
    tables = json.loads(done.output)["tables"]
    assert [table["table"] for table in tables] == [
        "cabinet.frame",
        *(f"cabinet.frame.{inner}" for inner in ("proud", "stile", "top", "top.edge", "tenon")),
    ]
    align = next(key for key in tables[0]["keys"] if key["key"] == "align")
    assert (align["left_out"], align["needed"], align["example"]) == ("top", False, 'align = "centre"')


def test_a_row_of_the_spreadsheet_is_a_key() -> None:
    done = CliRunner().invoke(main, ["keys", "saw", "--format", "csv"])
    assert [line.split(",")[:2] for line in done.output.splitlines()[1:]] == [["saw", "kerf"], ["saw", "for"]]


def test_an_unknown_table_is_a_fault_with_the_nearest() -> None:
    done = CliRunner().invoke(main, ["keys", "frme"])
    assert done.exit_code == 1
    assert "- TABLE\n" in done.output
    assert 'Try "frame"' in done.output


@pytest.mark.parametrize(
    ("heading", "name"), [("[[cabinet]]", "cabinet"), ("[joint.NAME]", "joint"), ("[saw.NAME]", "saw")]
)
def test_a_table_is_found_by_its_heading_too(heading: str, name: str) -> None:
    by_heading, by_name = (CliRunner().invoke(main, ["keys", table]) for table in (heading, name))
    assert by_heading.output == by_name.output
    assert by_heading.exit_code == 0


IN_TABLE: Final = {
    place: key
    for place, key in KEYS.items()
    if key.kind.in_table and place[1] != "tenon"  # a joint, in a table
}


@pytest.mark.parametrize("key", IN_TABLE.values(), ids=map(".".join, IN_TABLE))
def test_a_plain_value_says_the_same_as_a_table_with_the_keys_that_stand_for_it(key: Key) -> None:
    plain = next(each for each in ("ply", "rail", "1/2") if reads_well(key, each))
    in_a_table = dict.fromkeys(key.kind.in_table, plain)
    # In mm, since a top of one board has the width of stretchers too, though it says nothing there.
    assert key.kind.read(in_a_table, scope(Units.MM)) == key.kind.read(plain, scope(Units.MM))


def reads_well(key: Key, value: object) -> bool:
    try:
        key.kind.read(value, scope())
    except StorystickError:
        return False
    return True


@pytest.mark.parametrize(
    ("place", "inch", "mm"),
    [
        (("job", "paper"), "Letter", "A4"),
        (("job", "margins"), "3/8 in", "10 mm"),
        (("job", "round_to"), "1/64 in", "0.1 mm"),
        (("cabinet.countertop", "overhang"), "1 in in front", "25 mm in front"),
        (
            ("cabinet.frame.tenon", "depth"),
            "1/8 in more than the tenon is long",
            "3 mm more than the tenon is long",
        ),
        (
            ("cabinet.frame.tenon", "thickness"),
            "as the mortise is wide, or a third of the stock to the nearest 1/16 in",
            "as the mortise is wide, or a third of the stock to the nearest 2 mm",
        ),
        (("cabinet", "top"), "as carcass and joint say", "as carcass and joint say"),
    ],
)
def test_what_stands_for_a_key_is_told_in_the_units_of_a_job(place: tuple[str, str], inch: str, mm: str) -> None:
    key = KEYS[place]
    assert (left_out_in(key, Units.INCH), left_out_in(key, Units.MM)) == (inch, mm)


@pytest.mark.parametrize("key", KEYS.values(), ids=map(".".join, KEYS))
def test_no_job_is_told_what_stands_for_a_key_in_the_other_units(key: Key) -> None:
    for units in Units:
        assert "a job in mm" not in left_out_in(key, units)
