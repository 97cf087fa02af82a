"""Openings divided and graduated, rows and columns added: what is there keeps its place, and can be made."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from jobs import GALLERY_JOBS
from test_editing import edited

from storystick.bench.places import Steps, write_pointer
from storystick.errors import Fault
from storystick.job.sources import Source
from storystick.laying_out import load_sources
from storystick.layout.stations import Layout

CASE = """\
units = "inch"

[stock]
ply = "3/4"
face = "3/4"

[[cabinet]]
name = "Case"
height = "40"
width = "24"
depth = "16"
carcass = "ply"
openings = ["8", { opening = "12", name = "deep" }, "equal"]
"""
FRAME = 'frame = { stock = "face", stile = "2", top = "2", bottom = "2", rail = "1 1/2" }\nsizes = "frame"\n'


def laid_out(text: str) -> Layout:
    return load_sources([Source("job.toml", text.encode())])


def levels(text: str) -> list[Fraction]:
    """Where the openings of the first cabinet begin and end, from the floor."""
    bays = laid_out(text).cabinets[0].bays
    return sorted({end for bay in bays for end in (bay.z.start, bay.z.end)})


def openings(text: str) -> list[Any]:
    found: list[Any] = tomllib.loads(text)["cabinet"][0]["openings"]
    return found


@pytest.mark.parametrize("more", ["", FRAME], ids=["case", "frame"])
@pytest.mark.parametrize(("number", "parts"), [(0, 2), (1, 3), (1, 4)])
def test_what_is_split_keeps_its_place_and_so_do_the_others(more: str, number: int, parts: int) -> None:
    text = CASE + more
    after = edited(text, ("split", f"/cabinet/0/openings/{number}", str(parts)))
    assert set(levels(text)) <= set(levels(after))
    assert len(openings(after)) == 3 + parts - 1


def test_two_openings_and_what_stands_between_fill_the_one() -> None:
    # (8 - 3/4) / 2, and behind a frame with rails of 1 1/2 (8 - 1 1/2) / 2.
    assert openings(edited(CASE, ("split", "/cabinet/0/openings/0", "2")))[:2] == ["3 5/8", "3 5/8"]
    assert openings(edited(CASE + FRAME, ("split", "/cabinet/0/openings/0", "2")))[:2] == ["3 1/4", "3 1/4"]


def test_what_is_split_is_called_by_numbers() -> None:
    after = openings(edited(CASE, ("split", "/cabinet/0/openings/1", "2")))
    assert [one["name"] for one in after[1:3]] == ["deep 1", "deep 2"]


def test_shares_are_divided_among_others_that_share() -> None:
    text = CASE.replace('"8"', '"equal"')
    assert openings(edited(text, ("split", "/cabinet/0/openings/0", "2")))[:2] == [{"share": "1/2"}] * 2
    assert openings(edited(CASE, ("split", "/cabinet/0/openings/2", "2")))[2:] == ["equal", "equal"]


def test_the_one_opening_that_nobody_wrote_is_split() -> None:
    text = CASE.replace('openings = ["8", { opening = "12", name = "deep" }, "equal"]\n', "")
    assert openings(edited(text, ("split", "/cabinet/0", "5"))) == ["equal"] * 5
    assert openings(edited(text, ("split", "/cabinet/0/openings/0", "5"))) == ["equal"] * 5


def test_a_group_is_split_into_its_single_openings() -> None:
    text = CASE.replace(
        '["8", { opening = "12", name = "deep" }, "equal"]', '[{ graduated = 4, step = "1", name = "drawer" }]'
    )
    after = edited(text, ("split", "/cabinet/0/openings/0", ""))
    # 40 less five times 3/4, less the steps of 1 + 2 + 3, a quarter of it: 7 9/16 the smallest.
    assert openings(after)[3] == {"opening": "7 9/16", "name": "drawer 4"}
    assert levels(after) == levels(text)


@pytest.mark.parametrize("sizes", ["frame", "fronts"])
def test_a_group_that_is_measured_in_the_frame_or_by_its_fronts_is_split_too(sizes: str) -> None:
    text = CASE.replace('["8", { opening = "12", name = "deep" }, "equal"]', '[{ graduated = 4, step = "1" }]')
    text += (
        FRAME.replace('"frame"\n', f'"{sizes}"\n') + 'fronts = { kind = "inset", stock = "face", reveal = "1/16" }\n'
    )
    after = edited(text, ("split", "/cabinet/0/openings/0", ""))
    # 40 less both rails of 2 and three of 1 1/2, less the steps of 1 + 2 + 3, a quarter of it: 6 3/8 the smallest.
    # A front is 1/16 less above and below.
    smallest = {"frame": "6 3/8", "fronts": "6 1/4"}[sizes]
    assert openings(after)[3] == smallest
    assert levels(after) == levels(text)
    assert len(openings(edited(after, ("split", "/cabinet/0/openings/1", "2")))) == 5


def test_a_group_of_a_plain_stick_is_split_into_its_openings() -> None:
    text = 'units = "inch"\n\n[stock]\nply = "3/4"\n\n[[stick]]\nname = "Side"\npart = "ply"\nlength = "40"\n'
    text += 'openings = [{ graduated = 3, step = "1" }, "8"]\n'
    after = tomllib.loads(edited(text, ("split", "/stick/0/openings/0", "")))["stick"][0]["openings"]
    # 40 less five times 3/4, 8 and the steps of 1 + 2, a third of it: 8 5/12 the smallest.
    assert after == ["10 5/12", "9 5/12", "8 5/12", "8"]


def test_openings_are_graduated_and_even_again() -> None:
    after = edited(CASE, ("graduated", "/cabinet/0/openings/1", ""))
    assert openings(after) == [{"graduated": 3, "step": "1/2"}]
    assert openings(edited(after, ("equal", "/cabinet/0/openings", ""))) == ["equal"] * 3
    assert openings(edited(CASE, ("graduated", "/cabinet/0/openings", "1 1/4"))) == [{"graduated": 3, "step": "1 1/4"}]


def test_a_group_keeps_the_name_and_the_front_that_all_have() -> None:
    rows = ", ".join(f'{{ opening = "equal", name = "drawer {number}", front = "drawer" }}' for number in (1, 2, 3))
    text = CASE.replace('["8", { opening = "12", name = "deep" }, "equal"]', f"[{rows}]")
    text += 'fronts = { kind = "inset" }\n'
    assert openings(edited(text, ("graduated", "/cabinet/0/openings", ""))) == [
        {"graduated": 3, "step": "1/2", "name": "drawer", "front": "drawer"}
    ]


def test_a_row_stands_over_what_the_cabinet_had() -> None:
    cabinet = tomllib.loads(edited(CASE, ("row", "/cabinet/0/openings/0", "")))["cabinet"][0]
    # Of 40, five times 3/4, 8 and 12 leave 17: (17 - 3/4) / 2.
    assert cabinet["row"] == [{"openings": openings(CASE)}, {"height": "8 1/8"}]
    even = CASE.replace('["8", { opening = "12", name = "deep" }, "equal"]', '["equal", "equal"]')
    twice = edited(even, ("row", "/cabinet/0", ""), ("row", "/cabinet/0/row/0/openings/1", ""))
    assert tomllib.loads(twice)["cabinet"][0]["row"] == [{"height": {"share": 2}, "openings": ["equal"] * 2}, {}, {}]


def test_a_row_among_rows_with_heights_takes_half_of_one() -> None:
    text = CASE.replace('openings = ["8", { opening = "12", name = "deep" }, "equal"]\n', "")
    text += '[[cabinet.row]]\nheight = "20"\n\n[[cabinet.row]]\nheight = "17 3/4"\n'
    rows = tomllib.loads(edited(text, ("row", "/cabinet/0/row/0", "")))["cabinet"][0]["row"]
    assert [row["height"] for row in rows] == ["9 5/8", "9 5/8", "17 3/4"]  # (20 - 3/4) / 2


def test_an_opening_is_divided_side_by_side_in_a_row_of_its_own() -> None:
    after = edited(CASE, ("column", "/cabinet/0/openings/1", ""))
    rows = tomllib.loads(after)["cabinet"][0]["row"]
    assert [row["height"] for row in rows] == ["8", "12", "equal"]
    assert rows[1]["column"] == [{"openings": [{"opening": "equal", "name": "deep"}]}, {"openings": ["equal"]}]
    assert levels(after) == levels(CASE)


def test_a_cabinet_is_divided_into_columns_and_has_more_of_them() -> None:
    after = edited(CASE, ("column", "/cabinet/0", ""))
    columns = tomllib.loads(after)["cabinet"][0]["column"]
    assert columns == [{"openings": openings(CASE)}, {"openings": ["8", "12", "equal"]}]
    more = tomllib.loads(edited(after, ("column", "/cabinet/0/column/0/openings/0", "")))["cabinet"][0]["column"]
    assert more == [columns[0], {}, columns[1]]


def test_columns_of_equal_width_and_rows_of_equal_height() -> None:
    text = CASE.replace('openings = ["8", { opening = "12", name = "deep" }, "equal"]\n', "")
    text += '[[cabinet.row]]\nheight = "10"\n[[cabinet.row.column]]\nwidth = "6"\n'
    text += "[[cabinet.row.column]]\n\n[[cabinet.row]]\n"
    after = edited(text, ("equal", "/cabinet/0/row/0/column", ""), ("equal", "/cabinet/0/row/1", ""))
    assert tomllib.loads(after)["cabinet"][0]["row"] == [{"height": "equal", "column": [{}, {}]}, {"height": "equal"}]


def test_counted_rows_and_columns_are_one_more() -> None:
    text = CASE.replace('openings = ["8", { opening = "12", name = "deep" }, "equal"]', "rows = 2\ncolumns = 3")
    said = tomllib.loads(edited(text, ("row", "/cabinet/0/openings/0", ""), ("column", "/cabinet/0", "")))["cabinet"][0]
    assert (said["rows"], said["columns"]) == (3, 4)


def test_openings_of_a_plain_stick() -> None:
    text = 'units = "mm"\n\n[stock]\nply = 18\n\n[[stick]]\npart = "ply"\nopenings = [300, 200]\n'
    after = edited(text, ("split", "/stick/0/openings/0", "2"))
    assert tomllib.loads(after)["stick"][0]["openings"] == [141, 141, 200]
    with pytest.raises(Fault, match="an opening takes what is left, but the stick has no length"):
        edited(text, ("equal", "/stick/0/openings", ""))


REFUSED = {
    "no room": ("split", "/cabinet/0/openings/0", "15", '15 openings have no room in "8"; divide it into fewer.'),
    "no number": ("split", "/cabinet/0/openings/0", "x", '"x" is not a number of openings; give a whole number from 2'),
    "which": ("split", "/cabinet/0", "2", "several openings stand there; choose one of them."),
    "nowhere": ("row", "/stock", "", "there are no openings there; choose an opening of a cabinet or of a stick."),
    "too far": ("split", "/cabinet/0/openings/7", "2", "there are 3 openings; choose one of them."),
    "no such row": ("row", "/cabinet/0/row/7", "", "there is no row 8, but 2 of them; choose one of them."),
    "too steep": (
        "graduated",
        "/cabinet/0/openings",
        "30",
        "that cannot be done here: the last of 3 graduated openings",
    ),
}


@pytest.mark.parametrize(("kind", "at", "value", "words"), REFUSED.values(), ids=REFUSED)
def test_what_cannot_be_is_refused_in_plain_words(kind: str, at: str, value: str, words: str) -> None:
    rows = [("row", "/cabinet/0", "")] if "/row/" in at else []
    with pytest.raises(Fault) as refused:
        edited(CASE, *rows, (kind, at, value))
    assert str(refused.value).startswith(words)


def places_of_openings(document: Any) -> Iterator[Steps]:
    """Every opening of a job, written or not."""
    for word in ("cabinet", "stick"):
        for number, thing in enumerate(document.get(word, ())):
            yield from _in_thing((word, number), thing)


def _in_thing(steps: Steps, thing: Any) -> Iterator[Steps]:
    bands = [(word, number, band) for word in ("row", "column") for number, band in enumerate(thing.get(word, ()))]
    for word, number, band in bands:
        yield from _in_thing((*steps, word, number), band)
    given = thing.get("openings", ["equal"])
    if not bands and isinstance(given, list) and "order" not in thing:
        yield from ((*steps, "openings", number) for number in range(len(given)))


@pytest.mark.parametrize("kind", ["split", "row", "column", "equal", "graduated"])
@pytest.mark.parametrize("job", GALLERY_JOBS, ids=lambda path: path.stem)
def test_every_opening_of_the_gallery_is_divided_or_that_is_refused(job: Path, kind: str) -> None:
    text = job.read_text()
    others = [Source(path.name, path.read_bytes()) for path in job.parent.iterdir() if path.suffix in (".csv", ".toml")]
    others = [source for source in others if source.name != job.name]
    refused = []
    for steps in list(places_of_openings(tomllib.loads(text)))[:3]:
        try:
            after = edited(text, (kind, write_pointer(steps), ""))
        except Fault as fault:
            refused.append(f"{job.stem} {kind} {write_pointer(steps)}: {fault}")
            continue
        assert after != text or kind == "equal"
        load_sources([Source(job.name, after.encode()), *others])
    assert all("; " in fault for fault in refused)


@pytest.mark.parametrize("sizes", ["frame", "fronts"])
def test_a_group_is_split_by_its_sizes_as_they_are_told(sizes: str) -> None:
    text = CASE.replace('["8", { opening = "12", name = "deep" }, "equal"]', '[{ graduated = 4, step = "1" }]')
    text += FRAME.replace('"frame"\n', f'"{sizes}"\n') + 'fronts = { kind = "inset", reveal = "1/16" }\n'
    after = edited(text, ("split", "/cabinet/0/openings/0", ""))
    # 40 less 2 + 2 and three rails of 1 1/2 leaves 31 1/2; less 1 + 2 + 3, a quarter of it is 6 3/8; and fronts that
    # are 1/16 smaller all round are 1/8 less.
    assert openings(after)[3] == {"frame": "6 3/8", "fronts": "6 1/4"}[sizes]
    assert levels(after) == levels(text)


@pytest.mark.parametrize("kind", ["graduated", "row", "column"])
def test_comments_inside_openings_stand_above_what_comes_in_their_place(kind: str) -> None:
    lines = 'openings = [\n  "8",      # for the tins\n  "12",\n  "equal",  # what is left\n]'
    text = CASE.replace('openings = ["8", { opening = "12", name = "deep" }, "equal"]', lines)
    after = edited(text, (kind, "/cabinet/0/openings/1", ""))
    assert after.index("# for the tins") < after.index("# what is left")
