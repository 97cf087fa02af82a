"""Changes of a job's text: only what was asked for differs, and what tomlkit and tomllib read of it is the same."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
import tomlkit
from jobs import GALLERY_JOBS

from storystick.bench.declared import best_table, entry_of, named_in
from storystick.bench.editing.changes import Change, changed
from storystick.bench.places import Steps, read_pointer
from storystick.errors import Fault
from storystick.job.key_reference import as_toml
from storystick.job.keys import Key
from storystick.job.reading import JOB_FILE

JOB = """\
# A press for linen.
title = "Press"  # as on the drawing
units = "inch"

# measured
[stock]
ply = "23/32"   # three sheets
back = "1/4"

# how shelves are let in
[joint.shelf]
kind = "housing"
depth = "1/4"   # deep

# the one in the hall
[[cabinet]]
name = "Press"
height = "72"
width = "40"
depth = "22"
carcass = "ply"
joint = "shelf"
top = "ply"
through = "both"            # half laps
frame = { stock = "ply", stile = "1 1/2", top = "2", bottom = { width = "2", edge = "flush" } }
edging = "1/8"

[[cabinet.row]]
height = "8"
openings = [
  "8",
  # by the door
  { opening = "equal", front = "door" }, # hinged
  { share = 2, name = "top" }
]

# upstairs
[[cabinet.row]]
[[cabinet.row.column]]
openings = ["equal", "3 1/2"]
[[cabinet.row.column]]
width = "equal"

[[cabinet]]
like = "Press"
count = 2

# the wall
[run]
length = "200"
order = [{ filler = "equal" }, { cabinet = "Press" }]
"""


def edited(text: str, *changes: tuple[str, str, str]) -> str:
    after = changed(text, [Change(kind, read_pointer(at), value) for kind, at, value in changes])
    assert tomlkit.parse(after).unwrap() == tomllib.loads(after)
    return after


def lines_changed(before: str, after: str) -> tuple[list[str], list[str]]:
    """Lines that went and lines that came."""
    gone, come = before.splitlines(), after.splitlines()
    for line in list(gone):
        if line in come:
            come.remove(line)
            gone.remove(line)
    return gone, come


SET = {
    "a number as text, as the file has them": ("/cabinet/0/height", "80", ['height = "72"'], ['height = "80"']),
    "a fraction of a person": ("/cabinet/0/height", '5-1/2"', ['height = "72"'], ['height = "5-1/2\\""']),
    "a sign": ("/stock/back", " ½ ", ['back = "1/4"'], ['back = "½"']),
    "a whole number": ("/cabinet/1/count", "3", ["count = 2"], ["count = 3"]),
    "no whole number is left for the reader to tell": ("/cabinet/1/count", "x", ["count = 2"], ['count = "x"']),
    "a number that was a number": ("/cabinet/0/row/0/openings/2/share", "3/2", [], []),
    "a new stock": ("/stock/oak", "7/8", [], ['oak = "7/8"']),
    "yes": ("/cabinet/0/frame/to_floor", "true", [], []),
    "an entry of a list on one line": (
        "/cabinet/0/row/1/column/0/openings/1",
        "4",
        ['openings = ["equal", "3 1/2"]'],
        ['openings = ["equal", "4"]'],
    ),
    "an entry of a list on several lines": ("/cabinet/0/row/0/openings/0", "9", ['  "8",'], ['  "9",']),
    "a key beside a plain value": (
        "/cabinet/0/row/0/openings/0/front",
        "none",
        ['  "8",'],
        ['  { opening = "8", front = "none" },'],
    ),
    "a plain value's own key": ("/cabinet/0/row/0/openings/0/opening", "9", ['  "8",'], ['  "9",']),
    "a share in the place of a size": ("/cabinet/0/row/0/openings/0/share", "2", ['  "8",'], ["  { share = 2 },"]),
    "another form keeps what fits": (
        "/cabinet/0/row/0/openings/1/share",
        "2",
        ['  { opening = "equal", front = "door" }, # hinged'],
        ['  { front = "door", share = 2 }, # hinged'],
    ),
    "one of two equal stiles": (
        "/cabinet/0/frame/stile/right",
        "2",
        ['stile = "1 1/2"'],
        ['stile = { left = "1 1/2", right = "2" }'],
    ),
    "an end's joint": ("/cabinet/0/top/joint", "shelf", ['top = "ply"'], ['top = { stock = "ply", joint = "shelf" }']),
    "a table on the way": ("/cabinet/0/toe/height", "4", [], ['toe = { height = "4" }']),
    "what shuts openings inside one that nobody wrote": (
        "/cabinet/0/row/1/column/1/openings/0/front",
        "pair",
        [],
        ['openings = [{ opening = "equal", front = "pair" }]'],
    ),
    "a run that stands alone": ("/run/0/length", "150", ['length = "200"'], ['length = "150"']),
    "the same without a number": ("/run/order/0/filler", "3", ['{ filler = "equal" }'], ['{ filler = "3" }']),
    "a joint below its heading": ("/joint/pin/kind", "butt", [], ["", "[joint.pin]", 'kind = "butt"']),
    "a heading in its place": ("/rectangle/0/width", "30", [], ["", "[[rectangle]]", 'width = "30"']),
    "the comment behind it stays": ("/stock/ply", "3/4", ['ply = "23/32" '], ['ply = "3/4" ']),
}


@pytest.mark.parametrize(("at", "typed", "gone", "come"), SET.values(), ids=SET)
def test_set_changes_the_line_that_was_asked_for(at: str, typed: str, gone: list[str], come: list[str]) -> None:
    after = edited(JOB, ("set", at, typed))
    was, is_now = lines_changed(JOB, after)
    assert all(any(part in line for line in was) for part in gone)
    assert all(any(part == line or (part and part in line) for line in is_now) for part in come), is_now
    assert len(was) <= 1
    assert comments(JOB) == comments(after)


def comments(text: str) -> list[str]:
    return sorted(line[line.index("#") :] for line in text.splitlines() if "#" in line)


def test_what_is_emptied_goes_and_its_comment_stays() -> None:
    after = edited(JOB, ("set", "/cabinet/0/through", ""))
    assert lines_changed(JOB, after) == (['through = "both"            # half laps'], ["# half laps"])


def test_a_table_becomes_plain_again_where_only_that_is_left() -> None:
    longer = edited(JOB, ("set", "/cabinet/0/frame/top/edge", "flush"))
    assert 'top = { width = "2", edge = "flush" }, bottom' in longer
    assert edited(longer, ("set", "/cabinet/0/frame/top/edge", "")) == JOB


def test_an_opening_whose_size_is_emptied_is_equal_to_the_others() -> None:
    after = edited(JOB, ("set", "/cabinet/0/row/0/openings/0", ""), ("set", "/cabinet/0/row/0/openings/1/opening", ""))
    assert lines_changed(JOB, after) == (['  "8",'], ['  "equal",'])


def test_a_joint_of_another_kind_has_its_keys_only() -> None:
    text = JOB.replace('kind = "housing"', 'kind = "housing"\nfront_stop = "1/2"')
    after = edited(text, ("set", "/joint/shelf/kind", "butt"))
    assert tomllib.loads(after)["joint"]["shelf"] == {"kind": "butt"}
    assert "# deep" in after


def test_a_named_table_may_be_called_by_figures() -> None:
    after = edited(
        JOB, ("set", "/joint/3/kind", "butt"), ("set", "/joint/3/kind", "dowels"), ("set", "/stock/18", "18 mm")
    )
    assert tomllib.loads(after)["joint"]["3"] == {"kind": "dowels"}
    assert tomllib.loads(after)["stock"]["18"] == "18 mm"


def test_removed_tables_take_the_comments_above_them_along_and_no_others() -> None:
    after = edited(JOB, ("remove", "/cabinet/0", ""))
    assert after == JOB[: JOB.index("# the one")] + JOB[JOB.index('[[cabinet]]\nlike = "Press"') :]
    after = edited(JOB, ("remove", "/cabinet/0/row/1", ""))
    assert after == JOB[: JOB.index("# upstairs")] + JOB[JOB.index('[[cabinet]]\nlike = "Press"') :]
    after = edited(JOB, ("remove", "/joint/shelf", ""))
    assert after == JOB[: JOB.index("# how")] + JOB[JOB.index("# the one") :]


def test_an_entry_of_a_list_goes_with_its_line() -> None:
    after = edited(JOB, ("remove", "/cabinet/0/row/0/openings/1", ""))
    assert "# hinged" not in after
    assert tomllib.loads(after)["cabinet"][0]["row"][0]["openings"] == ["8", {"share": 2, "name": "top"}]


def test_a_list_in_which_nothing_is_left_goes() -> None:
    after = edited(JOB, *[("remove", "/cabinet/0/row/1/column/0/openings/0", "")] * 2)
    assert tomllib.loads(after)["cabinet"][0]["row"][1]["column"] == [{}, {"width": "equal"}]


def test_keys_and_texts_of_any_signs_are_written_so_that_they_can_be_read() -> None:
    after = edited(
        JOB, ("raw", "/cabinet/0/back", '{ "a b" = 1, "ü" = "\\u007f" }'), ("rename", "/joint/shelf", "a.b c")
    )
    said = tomllib.loads(after)
    assert said["cabinet"][0]["back"] == {"a b": 1, "ü": "\x7f"}
    assert said["joint"] == {"a.b c": {"kind": "housing", "depth": "1/4"}}


def test_raw_is_a_value_as_it_is_written() -> None:
    after = edited(JOB, ("raw", "/cabinet/0/back", '{ stock = "back" }'), ("raw", "/cabinet/0/edging", ""))
    assert lines_changed(JOB, after) == (['edging = "1/8"'], ['back = { stock = "back" }'])


REFUSED = {
    "a table": ("set", "/joint", "5", "a table stands there; change what stands in it."),
    "no such entry": ("set", "/cabinet/5/height", "5", "there is no entry 6 in a list of 2; add one first."),
    "an empty entry": (
        "set",
        "/run/order/0",
        "",
        "an entry of a list cannot be empty; give it something, or take it out.",
    ),
    "two values": ("raw", "/title", "1\nb = 2", "more than one value is written there"),
    "no kind": ("bend", "/title", "", '"bend" is no change; load the page again.'),
    "below a plain value": ("set", "/title/x", "1", '"Press" stands where "x" was to be said; take it out first.'),
}


@pytest.mark.parametrize(("kind", "at", "value", "words"), REFUSED.values(), ids=REFUSED)
def test_what_cannot_be_is_refused_in_plain_words(kind: str, at: str, value: str, words: str) -> None:
    with pytest.raises(Fault) as refused:
        edited(JOB, (kind, at, value))
    assert str(refused.value).startswith(words)
    assert edited(JOB, ("set", "/title", "Press")) == JOB


def test_lines_end_as_the_others_do() -> None:
    text = JOB.replace("\n", "\r\n").removesuffix("\r\n")
    after = edited(
        text, ("set", "/run/0/datum", "left"), ("set", "/joint/pin/kind", "butt"), ("set", "/stock/oak", "1")
    )
    assert after.count("\n") == after.count("\r\n")
    assert tomllib.loads(after)["run"]["datum"] == "left"


def declared_tables(document: Mapping[str, Any]) -> Iterator[tuple[Steps, Mapping[str, Key]]]:
    """Every table of a job with its declared keys."""
    yield (), JOB_FILE
    for word, value in document.items():
        yield from _below(JOB_FILE[word].kind, (word,), value)


def _below(shape: object, steps: Steps, value: object) -> Iterator[tuple[Steps, Mapping[str, Key]]]:
    match value:
        case dict() if named := named_in(shape):
            for name, each in value.items():
                yield from _below(named, (*steps, name), each)
        case dict() if of := best_table(shape, value):
            yield steps, of.keys
            for name, each in value.items():
                yield from _below(of.keys[name].kind, (*steps, name), each)
        case list():
            for number, each in enumerate(value):
                yield from _below(entry_of(shape), (*steps, number), each)


def said_briefly(value: object) -> object:
    """The same, with openings that have a size alone by that."""
    match value:
        case {"opening": size} if len(value) == 1:
            return size
        case dict():
            return {name: said_briefly(each) for name, each in value.items()}
        case list():
            return [said_briefly(each) for each in value]
    return value


@pytest.mark.parametrize("job", GALLERY_JOBS, ids=lambda path: path.stem)
def test_every_declared_key_is_set_to_its_example_and_unset(job: Path) -> None:
    text = job.read_text()
    document = tomllib.loads(text)
    tried = 0
    for steps, keys in declared_tables(document):
        table: Any = document
        for step in steps:
            table = table[step]
        for name, key in keys.items():
            if name in table or key.example in ({}, []):
                continue
            at = (*steps, name)
            plain = not isinstance(key.example, dict | list)
            example = str(key.example).lower() if isinstance(key.example, bool) else str(key.example)
            change = Change("set", at, example) if plain else Change("raw", at, as_toml(key.example))
            after = changed(text, [change])
            assert without(tomllib.loads(after), at) == said_briefly(document), at
            assert comments(text) == comments(after)
            again = changed(after, [Change("set", at, "")])
            assert said_briefly(tomllib.loads(again)) == said_briefly(document), at
            assert comments(text) == comments(again)
            tried += 1
    assert tried > 10


def without(document: Any, at: Steps) -> object:
    """A document without what stands at a place."""
    table = document
    for step in at[:-1]:
        table = table[step]
    del table[at[-1]]
    return said_briefly(document)


LIKE = """\
units = "inch"

[stock]
ply = "3/4"

[[cabinet]]
name = "A"
height = "30"
width = "20"
depth = "12"
carcass = "ply"
openings = ["8", { opening = "equal", name = "upper" }]
top = { place = "over", overhang = "1" }

[[cabinet]]
name = "B"
like = "A"
width = "24"
"""


def test_what_is_changed_inside_of_something_taken_over_is_taken_over_first() -> None:
    after = edited(LIKE, ("set", "/cabinet/1/openings/1/front", "none"), ("set", "/cabinet/1/top/overhang", "2"))
    own = tomllib.loads(after)["cabinet"][1]
    assert own["openings"] == ["8", {"opening": "equal", "name": "upper", "front": "none"}]
    assert own["top"] == {"place": "over", "overhang": "2"}
    assert tomllib.loads(edited(LIKE, ("row", "/cabinet/1", "")))["cabinet"][1]["row"] == [
        {"openings": ["8", {"opening": "equal", "name": "upper"}]},
        {"height": "9 1/2"},
    ]


def test_a_value_of_its_own_is_set_beside_what_is_taken_over() -> None:
    assert lines_changed(LIKE, edited(LIKE, ("set", "/cabinet/1/depth", "14"))) == ([], ['depth = "14"'])


def test_more_of_a_plain_value_says_first_what_stands_there_now() -> None:
    text = 'units = "inch"\n[[cabinet]]\nframe = { stock = "ply", stile = "2" }\n'
    after = edited(text, ("set", "/cabinet/0/frame/stile", "3"), ("more", "/cabinet/0/frame/stile", '{ left = "2" }'))
    assert tomllib.loads(after)["cabinet"][0]["frame"]["stile"] == {"left": "3", "right": "3"}
    edging = edited(JOB, ("more", "/cabinet/1/edging", '{ thickness = "1/8" }'))
    assert tomllib.loads(edging)["cabinet"][1]["edging"] == {"thickness": "1/8"}
