"""Cabinets that are made several times, grids of equal openings, and cabinets that are like another."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path

import pytest
from click.testing import CliRunner
from jobs import read, read_well

from storystick.cli.parts import command as parts_command
from storystick.cutting.parts import cutting_list
from storystick.drawing.shapes import Text
from storystick.gluing.plan import plan_glue_up
from storystick.gluing.stages import shared_stages
from storystick.laying_out import lay_out
from storystick.layout.alike import kinds_of, lettered_sticks
from storystick.layout.cabinets.pieces import Role
from storystick.sheets.pages.cabinets import drawing_blocks
from storystick.sheets.pages.cutting import cutting_blocks
from storystick.sheets.pages.flow import Room
from storystick.sheets.pages.square import square_blocks
from storystick.squaring.rectangles import alike_bodies, bodies_of

BASE = """
units = "mm"
stock = { ply = 18, thin = 6, frame = 20 }
[[cabinet]]
name = "Base"
height = 720
width = 600
depth = 560
carcass = "ply"
openings = [140, "equal"]
"""


def test_cabinet_made_twice_is_listed_once_with_twice_as_many_parts() -> None:
    once, twice = (_parts(BASE + more) for more in ("", "count = 2\n"))
    assert {name: 2 * count for name, count in once.items()} == twice


def _parts(text: str) -> dict[str, int]:
    job = read_well(text)
    parts = cutting_list(lay_out(job).cabinets, job.figures)
    assert all(sum(part.hands) == part.count for part in parts if part.hands)
    return {part.name: part.count for part in parts}


def test_cabinet_made_three_times_is_struck_glued_and_squared_once_with_its_number() -> None:
    layout = lay_out(read_well(BASE + "count = 3\n"))
    assert len(layout.cabinets) == 1
    assert [each.serves_words for each in lettered_sticks(layout)] == ["3 × Base side"]
    (shared,) = shared_stages(plan_glue_up(layout, None))
    (body,) = alike_bodies(bodies_of(layout))
    assert shared.cabinets == body.names == ("Base (1)", "Base (2)", "Base (3)")
    assert shared.kinds == body.kinds == ("3 × Base",)


@pytest.mark.parametrize("width", [180.0, 188.0, 260.0])
def test_made_three_times_the_page_of_squares_names_every_rectangle_whole_and_the_kind_once(width: float) -> None:
    layout = lay_out(read_well(BASE + "count = 3\n"))
    blocks = square_blocks(bodies_of(layout), layout.job, Room(width, 250.0))
    words = [shape.text for block in blocks for shape in block.shapes if isinstance(shape, Text)]
    (body,) = alike_bodies(bodies_of(layout))
    assert words.count("3 × Base") == 1
    assert not [word for word in words if "…" in word]
    assert all(row.told in " ".join(words) for row in body.rows)


def test_made_three_times_its_drawing_is_titled_by_that_and_no_more() -> None:
    layout = lay_out(read_well(BASE + "count = 3\n"))
    page = next(drawing_blocks(layout.cabinets, layout.job, Room(182.0, 260.0)))
    words = [shape.text for shape in page.shapes if isinstance(shape, Text)]
    assert "3 × Base" in words
    assert not [word for word in words if "alike" in word]


def test_cabinets_alike_but_for_their_number_are_of_one_kind() -> None:
    layout = lay_out(read_well(BASE + '[[cabinet]]\nname = "Other"\nlike = "Base"\ncount = 4\n'))
    assert [[each.cabinet.count for each in kind] for kind in kinds_of(layout.cabinets)] == [[1, 4]]


def test_made_twice_stands_twice_in_a_run_and_no_more() -> None:
    run = (
        'count = 2\n[run]\nlength = 1900\norder = [{ cabinet = "Base" }, { filler = "equal" }, { cabinet = "Base" }]\n'
    )
    layout = lay_out(read_well(BASE + run))
    wall = layout.sticks[-1]
    assert [(span.name, span.start, span.end) for span in wall.spans] == [
        ("Base", 0, 600),
        ("filler 1", 600, 1300),
        ("Base", 1300, 1900),
    ]
    _, faults = read(BASE + run.replace('{ filler = "equal" }', '{ cabinet = "Base" }'))
    assert faults == [
        'job.toml, run 1, order[3], cabinet: "Base" stands in a run 2 times, as often as it is made; '
        "put another there, or give it count = 3."
    ]


def test_grid_has_as_many_equal_openings_each_way_as_it_says() -> None:
    """Worked out by hand: 5 columns in 600 - 2 × 18 less 4 × 18 are 492 / 5; 6 rows in 684 - 5 × 18 are 594 / 6."""
    text = BASE.replace('openings = [140, "equal"]', "rows = 6\ncolumns = 5")
    (layout,) = lay_out(read_well(text)).cabinets
    assert {(bay.x.size, bay.z.size) for bay in layout.bays} == {(Fraction(492, 5), 99)}
    assert len(layout.bays) == 30
    assert (len(layout.of(Role.SHELF)), len(layout.of(Role.DIVIDER))) == (5, 24)


def test_columns_have_the_same_openings_each() -> None:
    (layout,) = lay_out(read_well(BASE + "columns = 3\n")).cabinets
    assert [(bay.column, bay.level) for bay in layout.bays] == [(c, level) for c in (1, 2, 3) for level in (1, 2)]
    assert [bay.z.size for bay in layout.bays if bay.level == 1] == [140, 140, 140]


def test_row_has_a_number_of_equal_columns_too() -> None:
    text = BASE.replace('openings = [140, "equal"]', "")
    (layout,) = lay_out(read_well(text + "[[cabinet.row]]\nheight = 200\ncolumns = 2\n[[cabinet.row]]\n")).cabinets
    assert [(bay.row, bay.column) for bay in layout.bays] == [(1, 1), (1, 2), (2, 1)]


LIKE = BASE + "toe = { height = 100, recess = 50 }\ncount = 2\n"
WIDE = '[[cabinet]]\nname = "Wide"\nlike = "Base"\n'


def test_cabinet_like_another_says_only_what_differs_and_is_made_once() -> None:
    said = LIKE.replace('name = "Base"', 'name = "Wide"').replace("width = 600", "width = 900").replace("count = 2", "")
    like = read_well(LIKE + WIDE + "width = 900\n").cabinets[-1]
    whole = read_well(LIKE + said.partition("[[cabinet]]")[2].join(("[[cabinet]]", ""))).cabinets[-1]
    assert like == whole
    assert (like.width, like.height, like.count) == (900, 720, 1)


@pytest.mark.parametrize(
    ("change", "gone"),
    [
        ("columns = 3", "openings"),
        ("plinth = { height = 90, recess = 40 }", "toe"),
    ],
)
def test_what_stands_in_the_place_of_another_key_takes_its_place(change: str, gone: str) -> None:
    cabinet = read_well(LIKE + WIDE + change + "\n").cabinets[-1]
    assert gone in LIKE
    rows = [[len(column.compartments) for column in row.columns] for row in cabinet.rows]
    assert rows == ([[1, 1, 1]] if gone == "openings" else [[2]])
    assert type(cabinet.base).__name__ == ("Toe" if gone == "openings" else "Plinth")


def test_like_one_that_is_like_a_third_and_one_that_comes_later() -> None:
    chain = '[[cabinet]]\nname = "A"\nlike = "B"\ndepth = 300\n[[cabinet]]\nname = "B"\nlike = "Base"\nheight = 900\n'
    cabinet = read_well(BASE + chain).cabinets[1]
    assert (cabinet.name, cabinet.height, cabinet.width, cabinet.depth) == ("A", 900, 600, 300)


BAD_LIKES = {
    BASE + '[[cabinet]]\nlike = "Bse"\n': [
        'cabinet 2, like: "Bse" is not another cabinet of this job; try "Base"; allowed here: Base.'
    ],
    BASE + '[[cabinet]]\nname = "Own"\nlike = "Own"\n': [
        'cabinet 2 ("Own"), like: "Own" is like this cabinet itself; let one of them say all its keys.'
    ],
    # What is wrong with the other is told where it is written, and what is the cabinet's own beside it.
    BASE.replace("width = 600", "width = 0") + '[[cabinet]]\nlike = "Base"\ndepth = "x"\n': [
        'cabinet 1 ("Base"), width: 0 is not a size: a size is more than 0.',
        'cabinet 2, depth: "x" is not a length; write it like 18.3, 23/32, 5 1/2, 2\' 3 1/2", 18.3 mm or 1 in.',
    ],
    BASE.replace('openings = [140, "equal"]', "rows = 2\n[[cabinet.row]]\n"): [
        'cabinet 1 ("Base"): rows stands beside row; leave it out, or leave the rows out for a grid of equal ones.'
    ],
    BASE.replace('openings = [140, "equal"]', "columns = 2\n[[cabinet.column]]\n"): [
        'cabinet 1 ("Base"): columns stands beside column; give the number alone, or each column a table of its own.'
    ],
    BASE + "quantity = 2\n": ['cabinet 1 ("Base"): "quantity" is not a key here; try "count"; allowed here: '],
}


@pytest.mark.parametrize(("text", "messages"), BAD_LIKES.items(), ids=range(len(BAD_LIKES)))
def test_every_fault_of_numbers_and_likeness_is_told(text: str, messages: list[str]) -> None:
    _, faults = read(text)
    assert len(faults) == len(messages)
    assert all(fault.startswith(f"job.toml, {message}") for fault, message in zip(faults, messages, strict=True))


def test_listing_counts_all_that_are_made(tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_text(BASE + "count = 2\n", encoding="utf-8")
    listed = json.loads(CliRunner().invoke(parts_command, [str(job), "--format", "json"]).stdout)
    assert [(part["name"], part["cabinet"], part["count"], part["hands"]) for part in listed["parts"][:2]] == [
        ("side", "Base", 4, {"left": 2, "right": 2}),
        ("bottom", "Base", 2, None),
    ]
    assert "\n2 × Base\n" in CliRunner().invoke(parts_command, [str(job)]).stdout


def test_openings_that_a_grid_repeats_are_counted_on_and_others_keep_their_names() -> None:
    named = 'columns = 2\nopenings = [{ opening = 140, name = "seed" }, { graduated = 2, step = 10, name = "drawer" }]'
    (layout,) = lay_out(read_well(BASE.replace('openings = [140, "equal"]', named))).cabinets
    assert [bay.name for bay in layout.bays] == ["seed 1", "drawer 1", "drawer 2", "seed 2", "drawer 3", "drawer 4"]
    (alone,) = lay_out(read_well(BASE.replace('openings = [140, "equal"]', named.partition("\n")[2]))).cabinets
    assert [bay.name for bay in alone.bays] == ["seed", "drawer 1", "drawer 2"]


def test_row_that_says_no_height_is_as_high_as_what_it_holds() -> None:
    """By hand: 90 + 80 + 70 and two shelves of 18 mm make the lower row; the upper one has the rest of 684 - 18."""
    rows = "[[cabinet.row]]\ncolumns = 2\nopenings = [{ graduated = 3, step = 10, first = 90 }]\n[[cabinet.row]]\n"
    (layout,) = lay_out(read_well(BASE.replace('openings = [140, "equal"]\n', "") + rows)).cabinets
    lower = 90 + 80 + 70 + 2 * 18
    assert [bay.z.size for bay in layout.bays] == [90, 80, 70, 90, 80, 70, 684 - 18 - lower]


@pytest.mark.parametrize("width", range(150, 191, 4))
def test_no_name_on_the_cutting_list_is_shortened_where_a_wider_column_has_room_for_it(width: int) -> None:
    other = '[[cabinet]]\nname = "{0}"\nlike = "Base"\nwidth = {1}\n'
    toe = "toe = { height = 100.33, recess = 50, board = 'ply' }\n"
    text = BASE + toe + "".join(other.format(*each) for each in (("Drawers 800", 800), ("Sink 900", 900)))
    job = read_well(text)
    blocks = cutting_blocks(cutting_list(lay_out(job).cabinets, job.figures), job.figures, width)
    words = [shape.text for block in blocks for shape in block.shapes if isinstance(shape, Text)]
    assert "side" in words
    assert not [word for word in words[2:] if "…" in word]
