"""Adding, moving, another like it, other names: what tomlkit alone would spoil of a text's look stays."""

from __future__ import annotations

import tomllib

import pytest
from jobs import GALLERY_JOBS
from test_editing import JOB, comments, edited, lines_changed

from storystick.errors import Fault
from storystick.job.sources import Source
from storystick.laying_out import load_sources

BOOT_ROOM = next(path for path in GALLERY_JOBS if path.stem == "boot-room").read_text()
KITCHEN = next(path for path in GALLERY_JOBS if path.stem == "canal-kitchen").read_text()
CABINET = '{ name = "Low", height = "20", width = "20", depth = "12", carcass = "ply" }'


def test_a_cabinet_is_added_before_the_tables_that_follow_cabinets() -> None:
    after = edited(JOB, ("add", "/cabinet", CABINET))
    assert '\ncount = 2\n\n[[cabinet]]\nname = "Low"\nheight = "20"\n' in after
    assert 'carcass = "ply"\n\n# the wall\n[run]\n' in after
    assert comments(after) == comments(JOB)


def test_a_row_is_added_with_its_columns_below_headings_of_their_own() -> None:
    row = '{ height = "9", column = [{ width = "8" }, {}] }'
    after = edited(JOB, ("insert", "/cabinet/0/row/1", row))
    rows = tomllib.loads(after)["cabinet"][0]["row"]
    assert [one.get("height") for one in rows] == ["8", "9", None]
    assert '[[cabinet.row]]\nheight = "9"\n\n[[cabinet.row.column]]\nwidth = "8"\n\n[[cabinet.row.column]]\n' in after
    assert "# upstairs\n[[cabinet.row]]\n[[cabinet.row.column]]" in after


def test_a_second_run_makes_the_first_one_of_several() -> None:
    after = edited(JOB, ("add", "/run", '{ length = "90", order = [{ filler = "equal" }] }'))
    assert "# the wall\n[[run]]\n" in after
    assert [run["length"] for run in tomllib.loads(after)["run"]] == ["200", "90"]


def test_entries_are_put_where_they_are_wanted() -> None:
    after = edited(
        JOB,
        ("insert", "/cabinet/0/row/0/openings/1", '"5"'),
        ("add", "/cabinet/0/row/0/openings", ""),
        ("insert", "/run/0/order/0", '{ filler = "1" }'),
        ("add", "/cabinet/1/cleats", '{ at = "top" }'),
    )
    said = tomllib.loads(after)
    sizes = [one if isinstance(one, str) else one.get("opening") for one in said["cabinet"][0]["row"][0]["openings"]]
    assert sizes == ["8", "5", "equal", None, "equal"]
    assert 'order = [{ filler = "1" }, { filler = "equal" }, { cabinet = "Press" }]' in after
    assert said["cabinet"][1]["cleats"] == [{"at": "top"}]
    assert comments(after) == comments(JOB)


def test_a_thing_that_stood_without_brackets_has_company() -> None:
    text = JOB.replace('top = "ply"', 'top = "ply"\nnailers = { width = "4", at = "top" }')
    after = edited(text, ("add", "/cabinet/0/nailers", '{ width = "3", at = "bottom" }'))
    assert 'nailers = [{ width = "4", at = "top" }, { width = "3", at = "bottom" }]' in after


def test_a_new_stock_or_joint_has_a_name_of_its_own() -> None:
    after = edited(
        JOB, ("add", "/stock", '"1/2"'), ("add", "/stock", '"1/2"'), ("add", "/joint/pin", '{ kind = "butt" }')
    )
    said = tomllib.loads(after)
    assert list(said["stock"]) == ["ply", "back", "stock", "stock-2"]
    assert list(said["joint"]) == ["shelf", "pin"]


def test_cabinets_change_places_with_the_comments_above_them() -> None:
    after = edited(JOB, ("move", "/cabinet/1", "up"))
    assert '# deep\n\n[[cabinet]]\nlike = "Press"\ncount = 2\n\n# the one in the hall\n[[cabinet]]\nname' in after
    assert edited(after, ("move", "/cabinet/0", "down")) == JOB


def test_rows_entries_and_stocks_change_places() -> None:
    assert edited(JOB, ("move", "/cabinet/0/row/0", "down"), ("move", "/cabinet/0/row/1", "up")).split() == JOB.split()
    assert 'order = [{ cabinet = "Press" }, { filler = "equal" }]' in edited(JOB, ("move", "/run/0/order/1", "up"))
    assert '[stock]\nback = "1/4"\nply = "23/32"   # three sheets\n' in edited(JOB, ("move", "/stock/back", "up"))


@pytest.mark.parametrize(("at", "way"), [("/cabinet/0", "up"), ("/stock/back", "down")])
def test_what_is_at_an_end_goes_no_further(at: str, way: str) -> None:
    with pytest.raises(Fault, match=r"it is the (first|last) already; move another"):
        edited(JOB, ("move", at, way))


def test_another_like_it_stands_behind_it_under_a_new_name() -> None:
    after = edited(
        BOOT_ROOM,
        ("duplicate", "/cabinet/2", ""),
        ("duplicate", "/joint/shelf", ""),
        ("duplicate", "/run/0/order/0", ""),
    )
    said, before = tomllib.loads(after), tomllib.loads(BOOT_ROOM)
    assert said["cabinet"][3] == before["cabinet"][2] | {"name": "Bench 2"}
    assert [one for number, one in enumerate(said["cabinet"]) if number != 3] == before["cabinet"]
    assert said["joint"] == {"shelf": before["joint"]["shelf"], "shelf-2": before["joint"]["shelf"]}
    assert said["run"]["order"][:2] == [before["run"]["order"][0]] * 2


@pytest.mark.parametrize(
    ("text", "at", "name", "count"),
    [
        (BOOT_ROOM, "/stock/ply", "birch ply", 9),
        (BOOT_ROOM, "/joint/shelf", "slot", 6),
        (BOOT_ROOM, "/cabinet/2/name", "Seat", 2),
        (KITCHEN, "/cabinet/0", "Base", 5),
        (KITCHEN, "/cabinet/0/name", "", 0),
        (JOB, "/joint/shelf", "3", 2),
    ],
)
def test_all_that_refers_to_a_thing_follows_its_name(text: str, at: str, name: str, count: int) -> None:
    after = edited(text, ("rename", at, name))
    if name:
        assert after.count(f'"{name}"') + after.count(f".{name}]") == count
    if text != JOB:
        load_sources([Source("job.toml", after.encode())])


def test_faces_and_boards_follow_the_name_of_their_cabinet() -> None:
    text = JOB + (
        '\n[[cabinet]]\nname = "Press left"\n\n[[square_stick]]\nside = "1"\n'
        'faces = ["Press left side", "Press left left side", "Press width"]\n'
        '\n[[template]]\nboard = "Press left side"\n'
    )
    said = tomllib.loads(edited(text, ("rename", "/cabinet/0", "Hall")))
    assert said["square_stick"][0]["faces"] == ["Press left side", "Press left left side", "Hall width"]
    text = text.replace('name = "Press left"', 'name = "Low"')
    said = tomllib.loads(edited(text, ("rename", "/cabinet/0", "Hall")))
    assert said["square_stick"][0]["faces"] == ["Hall left side", "Hall left left side", "Hall width"]
    assert said["template"][0]["board"] == "Hall left side"


@pytest.mark.parametrize(("at", "name"), [("/stock/ply", "back"), ("/cabinet/1/name", "Press")])
def test_a_name_that_another_has_is_refused(at: str, name: str) -> None:
    with pytest.raises(Fault, match="is already the name of"):
        edited(JOB, ("rename", at, name))


def test_a_new_name_keeps_the_comment_and_the_place() -> None:
    after = edited(JOB, ("rename", "/stock/ply", "birch"))
    assert ('ply = "23/32"   # three sheets', 'birch = "23/32"   # three sheets') in zip(
        *lines_changed(JOB, after), strict=True
    )


@pytest.mark.parametrize(
    ("kind", "at", "words"),
    [
        ("insert", "", "there is no list to put it in"),
        ("insert", "/title", "there is no list to put it in"),
        ("duplicate", "/title", "only one of these can stand there"),
        ("duplicate", "/cabinet/9", "nothing stands there"),
        ("move", "", "nothing there can be moved"),
        ("add", "/title", "nothing is said of what is to be added"),
    ],
)
def test_what_cannot_be_arranged_is_refused_in_plain_words(kind: str, at: str, words: str) -> None:
    with pytest.raises(Fault, match=words):
        edited(JOB, (kind, at, ""))


def test_a_new_stock_from_the_field_that_names_it_is_named_there() -> None:
    said = tomllib.loads(edited(JOB, ("new", "/cabinet/0/carcass", '"3/4"')))
    assert said["cabinet"][0]["carcass"] == "stock 1"
    assert said["stock"]["stock 1"] == "3/4"
    with pytest.raises(Fault, match="nothing is named there"):
        edited(JOB, ("new", "/cabinet/0/height", '"3/4"'))


UNNAMED = """\
units = "inch"
stock = { ply = "3/4" }

[[cabinet]]
height = "20"
width = "20"
depth = "12"
carcass = "ply"

[[cabinet]]
height = "30"
width = "30"
depth = "12"
carcass = "ply"

[[template]]
board = "cabinet 2 left side"

[run]
length = "100"
order = [{ cabinet = "cabinet 1" }, { filler = "equal" }, { cabinet = "cabinet 2" }]
"""


def in_order(text: str) -> list[str]:
    return [each["cabinet"] for each in tomllib.loads(text)["run"]["order"] if "cabinet" in each]


def test_what_is_named_by_its_number_is_meant_still_when_it_is_moved_or_others_go() -> None:
    moved = edited(UNNAMED, ("move", "/cabinet/0", "down"))
    assert in_order(moved) == ["cabinet 2", "cabinet 1"]
    assert tomllib.loads(moved)["template"][0]["board"] == "cabinet 1 left side"
    assert edited(moved, ("move", "/cabinet/0", "down")) == UNNAMED
    away = edited(UNNAMED, ("remove", "/cabinet/0", ""))
    assert in_order(away) == ["cabinet 1, taken away", "cabinet 1"]
    assert in_order(edited(UNNAMED, ("remove", "/cabinet/1", ""))) == ["cabinet 1", "cabinet 2"]
    between = edited(UNNAMED, ("duplicate", "/cabinet/0", ""))
    assert in_order(between) == ["cabinet 1", "cabinet 3"]
