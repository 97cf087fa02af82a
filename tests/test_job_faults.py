"""Bad job files, and every fault of each with its place."""

from __future__ import annotations

import re

import pytest
from jobs import FROM_SHEET, MM, ORDER, PLAIN, PLY, STICK, read

from storystick.job.joints import JOINT_KINDS
from storystick.job.papers import PAPERS

LIKE = "write it like 18.3, 23/32, 5 1/2, 2' 3 1/2\", 18.3 mm or 1 in."
TOP_KEYS = (
    "units, title, paper, margins, round_to, shop, printer, wrap, hands, print, stock, joint, stick, cabinet, run, "
    "template, square_stick, rectangle"
)
STICK_KEYS = "name, datum, length, pair, part, joint, openings, order, holes, centre, wrap"

BAD_JOBS: dict[str, list[str]] = {
    "": [
        ': units is missing; add units = "inch" or units = "mm".',
        ": the job has neither a stick nor a cabinet; add a [[cabinet]] or a [[stick]] table.",
    ],
    PLAIN.replace('"mm"', '"cm"'): [
        ', units: "cm" is not a word known here; try "mm"; allowed here: inch, mm.',
    ],
    "round_to = '1/64'\n" + PLAIN.replace(MM, "") + "length = 'tall'\n": [
        ': units is missing; add units = "inch" or units = "mm".',
        f', stick 1, length: "tall" is not a length; {LIKE}',
    ],
    "titel = 'x'\n" + PLAIN: [
        f': "titel" is not a key here; try "title"; allowed here: {TOP_KEYS}.',
    ],
    "title = ' '\n" + PLAIN: [", title: the text is empty; write a name, or leave the key out."],
    "title = 7\n" + PLAIN: [", title: 7 is not text; put it in quotes."],
    "title = \"a\\nb\"\n" + PLAIN: [
        ', title: "a b" is more than one line of text; write it on one line, without tabs.'
    ],
    f"title = '{'x' * 81}'\n" + PLAIN: [
        f', title: "{"x" * 80}…" has 81 characters; at most 80 are allowed; shorten it.'
    ],
    "paper = 'A44'\n" + PLAIN: [
        f', paper: "A44" is not a paper known here; try "A4"; allowed here: {", ".join(PAPERS)}; '
        "or give its sides, as in { width = 13, height = 19 }, or the width of a roll, as in { roll = 24 }."
    ],
    "paper = { width = 100, hight = 5081 }\n" + PLAIN: [
        ", paper: height is missing; add height = …, a length.",
        ', paper: "hight" is not a key here; try "height"; allowed here: roll, width, height.',
    ],
    "paper = { width = 0, height = 5081 }\n" + PLAIN: [
        ", paper, width: 0 is not a size: a size is more than 0.",
        ", paper, height: 5081 is longer than 5080 mm, the most that a side may be; give a shorter sheet.",
    ],
    "margins = { left = -1 }\n" + PLAIN: [", margins, left: -1 is less than 0, which is not allowed here."],
    "round_to = 0.25\n" + PLAIN: [
        ", round_to: 0.25 is not a step that labels are rounded to; allowed here: 1, 0.5, 0.2, 0.1."
    ],
    "tools = []\nshops = 'shop.toml'\n" + PLAIN: [
        f': "tools" is not a key here; allowed here: {TOP_KEYS}.',
        f': "shops" is not a key here; try "shop"; allowed here: {TOP_KEYS}.',
    ],
    "shop = 'tools'\n" + PLAIN: [
        ', shop: "tools" is not the name of a .toml file; write it like "shop.toml".',
    ],
    "shop = '../shop.toml'\n" + PLAIN: [
        ', shop: "../shop.toml" is in another folder; put the file beside the job and give its bare name.',
    ],
    PLAIN.replace("[[stick]]", "[stick]"): [
        ", stick: the table stands alone; write its heading with two brackets at each side: [[stick]]."
    ],
    MM + "stick = [3]": [", stick 1: 3 is not a table; write it as { key = …, key = … }."],
    MM + "stick = []": [", stick: the list is empty; give at least one entry, or leave the key out."],
    PLAIN.replace("ply = 18", "ply = '3 4'\noak = 0"): [
        f', [stock], ply: "3 4" is not a length; {LIKE}',
        ", [stock], oak: 0 is not a size: a size is more than 0.",
    ],
    PLAIN.replace("[stock]\nply = 18", "stock = 18"): [
        ', stock: 18 is not a table; write it as { key = …, key = … }.'
    ],
    PLAIN.replace("[stock]\nply = 18", ""): [
        ', stick 1, part: "ply" is not a stock of this job; add it under [stock].'
    ],
    PLAIN.replace('"ply"', '"plt"'): [
        ', stick 1, part: "plt" is not a stock of this job; try "ply"; allowed here: ply; or add it under [stock].'
    ],
    ORDER.replace('"housing"', '"house"') + "[{ part = 'ply', joint = 'shelf' }]": [
        ', [joint.shelf], kind: "house" is not a word known here; try "housing"; allowed here: '
        f"{', '.join(JOINT_KINDS)}."
    ],
    ORDER.replace("depth = 6", "depth = 6\nwidth = 3") + "[{ part = 'ply', joint = 'shelf' }]": [
        ', [joint.shelf]: "width" is not a key here; try "depth"; allowed here: kind, depth, bottom_gap, fit, stop.'
    ],
    ORDER.replace("depth = 6", "depth = 6\nfit = 2") + "[{ part = 'ply', joint = 'shelf' }]": [
        ", [joint.shelf], fit: 2 is more than 1.5 mm, and no fit; look at its unit."
    ],
    ORDER.replace('"housing"', '"tongue"\nwidth = 1').replace("depth = 6", "depth = 6\nfit = 1")
    + "[{ part = 'ply', joint = 'shelf' }]": [
        ", [joint.shelf], fit: 1 leaves no tongue in a groove 1 wide; make it less than width."
    ],
    ORDER.replace("depth = 6", "depth = 6\nbottom_gap = 6") + "[{ part = 'ply', joint = 'shelf' }]": [
        ", [joint.shelf], bottom_gap: 6 leaves nothing in a groove 6 deep; make it less than depth."
    ],
    PLY + "[joint.a]\nkind = 'tongue'\nset = 'center'\n[[stick]]\norder = [{ part = 'ply' }]": [
        ", [joint.a]: width is missing; add width = …, a length.",
        ", [joint.a]: depth is missing; add depth = …, a length.",
        ', [joint.a], set: "center" is neither "centre" nor a length; try "centre".',
    ],
    PLY + "[[stick]]\nname = 'Side'\npair = 1\ndatum = 'Top'": [
        ', stick 1 ("Side"), datum: "Top" is not a word known here; try "top"; '
        "allowed here: bottom, top, left, right, front, back.",
        ', stick 1 ("Side"), pair: 1 is neither true nor false; write true or false, without quotes.',
        ', stick 1 ("Side"): the stick has neither openings nor an order; give part and openings, or order.',
    ],
    PLAIN + "order = []": [
        ", stick 1: order stands beside part and openings; give either order, or part and openings."
    ],
    STICK + "opening = [3]": [
        ', stick 1: openings is missing; add openings = […, …], their clear sizes from the datum.',
        f', stick 1: "opening" is not a key here; try "openings"; allowed here: {STICK_KEYS}.',
    ],
    PLY + "[[stick]]\nopenings = [3]": [', stick 1: part is missing; add part = "…", the name of a stock.'],
    PLAIN + "name = 'A'\n[[stick]]\nname = 'A'\npart = 'ply'\nopenings = [3]": [
        ', stick 2 ("A"), name: "A" is already the name of stick 1; give each its own.'
    ],
    STICK + "openings = [0, 'eqaul', { opning = 3 }, { opening = 1, share = 2 }, { opening = { share = 0 } }]": [
        ", stick 1, openings[1]: 0 is not a size: a size is more than 0.",
        ', stick 1, openings[2]: "eqaul" is neither "equal" nor a length; try "equal".',
        ', stick 1, openings[3]: the table has none of the keys opening, share, graduated; try "opening" for "opning".',
        ", stick 1, openings[4]: opening and share stand in one table; keep one of them: opening = … is a clear size, "
        "share = … takes that many parts of what is left, and graduated = … is a group with its own first, step or "
        "ratio.",
        ', stick 1, openings[5], opening, share: 0 is not a number above 0; write it like 2, 1.5 or "3/2", '
        "without a unit.",
    ],
    STICK + "openings = [true, nan, [3], 1979-05-27, '18 mm ply', { share = '2 mm' }]": [
        f", stick 1, openings[1]: true is not a length; {LIKE}",
        f", stick 1, openings[2]: NaN is not a length; {LIKE}",
        f", stick 1, openings[3]: a list is not a length; {LIKE}",
        f", stick 1, openings[4]: 1979-05-27 is not a length; {LIKE}",
        f', stick 1, openings[5]: "18 mm ply" is not a length; {LIKE}',
        ', stick 1, openings[6], share: "2 mm" is not a number above 0; write it like 2, 1.5 or "3/2", '
        "without a unit.",
    ],
    ORDER + "[8, { opening = 'x' }, { name = 'lonely' }, { part = 'ply', joint = 'shelv' }]": [
        ', stick 1, order[1]: 8 is not a table; write it as { part = "…" } or { opening = … }.',
        ', stick 1, order[2], opening: "x" is neither "equal" nor a length; try "equal".',
        ", stick 1, order[3]: the table has none of the keys part, opening, share, graduated; give one of them.",
        ', stick 1, order[4], joint: "shelv" is not a joint of this job; try "shelf"; allowed here: shelf; '
        "or add it under [joint].",
    ],
    ORDER + "[{ graduated = 1, step = 1 }, { graduated = 2.0, step = 0 }, { graduated = 3 }, "
    "{ graduated = 3, step = 1, ratio = 2 }, { graduated = 3, ratio = 1 }, { graduated = 3, ratio = '5/6' }, "
    "{ graduated = 3, step = 1, joint = 'shelf' }]": [
        ", stick 1, order[1], graduated: 1 is not a whole number from 2 to 60; write it like 5.",
        ", stick 1, order[2], graduated: 2.0 is not a whole number from 2 to 60; write it like 5.",
        ", stick 1, order[2], step: 0 is not a size: a size is more than 0.",
        ", stick 1, order[3]: the graduated group has neither step nor ratio; give one of them, "
        'as in step = "1/2" or ratio = "6/5".',
        ", stick 1, order[4]: the graduated group has both step and ratio; give one of them, "
        'as in step = "1/2" or ratio = "6/5".',
        ', stick 1, order[5], ratio: a ratio of 1 makes every opening the same; write "equal" for each opening '
        "instead.",
        ', stick 1, order[6], ratio: "5/6" is not a ratio above 1; turn it over: the opening nearest the datum '
        "is the largest.",
        ", stick 1, order[7]: joint is given without between; name the stock of the parts inside the group "
        "with between.",
    ],
    PLAIN + "holes = [{ first = -1, count = 2 }, { count = 1001 }]\ncentre = [{ atv = 3 }, 'x']": [
        ", stick 1, holes[1]: pitch is missing; add pitch = …, a length, from the middle of a hole to that of "
        "the next.",
        ", stick 1, holes[1], first: -1 is less than 0, which is not allowed here.",
        ", stick 1, holes[2], count: 1001 is not a whole number from 1 to 1000; write it like 4.",
        ", stick 1, holes[2]: first is missing; add first = …, a length.",
        ", stick 1, centre[1]: at is missing; add at = …, a length.",
        ', stick 1, centre[1]: "atv" is not a key here; try "at"; allowed here: at, name.',
        f', stick 1, centre[2]: "x" is not a length; {LIKE}',
    ],
    STICK + f"openings = [{'1,' * 500}]": [
        ", stick 1: the stick has 1001 parts and openings; at most 1000 are allowed; divide it."
    ],
    STICK + f"openings = [{'1,' * 1001}]": [
        ", stick 1, openings: the list has 1001 entries; at most 1000 are allowed; divide it."
    ],
    STICK + "openings = 'drawers'": [
        ', stick 1, openings: "drawers" is neither a list nor a .csv file; write it like ["13", "12"].'
    ],
    STICK + "openings = 13": [
        ', stick 1, openings: 13 is not a list; give each its size, as in ["equal", "equal"] for two.'
    ],
    STICK + "openings = '../drawers.csv'": [
        ', stick 1, openings: "../drawers.csv" is in another folder; put the file beside the job and give '
        "its bare name."
    ],
    FROM_SHEET: [", stick 1, openings, drawers.csv: the file is missing; give it together with the job file."],
}  # fmt: skip


@pytest.mark.parametrize(("text", "messages"), BAD_JOBS.items(), ids=range(len(BAD_JOBS)))
def test_every_fault_of_a_job_is_told_at_once_with_its_place(text: str, messages: list[str]) -> None:
    assert read(text)[1] == [f"job.toml{message}" for message in messages]


BAD_SHEETS: dict[str, list[str]] = {
    "": [", line 1: the column size is missing; write size over the column of the openings."],
    "name\nx": [", line 1: the column size is missing; write size over the column of the openings."],
    "\nsise,hinge\n80,left": [
        ', line 2: "sise" is not a column known here; try "size"; allowed here: name, size.',
        ', line 2: "hinge" is not a column known here; allowed here: name, size.',
    ],
    "size,Size\n80,90": [", line 1: there are 2 columns called size; keep one of them."],
    "size": [": the file holds 0 openings; give 1 to 1000 of them, each in a row."],
    "size\n" + "1\n" * 1001: [": the file holds 1001 openings; give 1 to 1000 of them, each in a row."],
    "name,size\n\nx,\ny,0\nz,'3'\n" + "x" * 81 + ",1\na,1,2": [
        f", line 3, size: a length is missing: the text is empty; {LIKE}",
        ', line 4, size: "0" is not a size: a size is more than 0.',
        f", line 5, size: \"'3'\" is not a length; {LIKE}",
        f', line 6, name: "{"x" * 80}…" has 81 characters; at most 80 are allowed; shorten it.',
        ', line 7: "2" stands under no heading; give its column one, or empty the cell.',
    ],
    "name;size\nx;18,5": [', line 2, size: "18,5" has a decimal comma; write 18.3 for 18,3 and 1200 for 1,200.'],
    'size\n0\n"80\n90': [
        ', line 2, size: "0" is not a size: a size is more than 0.',
        ", line 4: the file is not CSV: unexpected end of data; look for a missing quote.",
    ],
    "size\n" + "9" * 1_000_000: [
        ": the file is larger than 1 MB, the most that is allowed; look whether it is the right file."
    ],
}


@pytest.mark.parametrize(("sheet", "messages"), BAD_SHEETS.items(), ids=range(len(BAD_SHEETS)))
def test_a_fault_of_a_spreadsheet_says_its_line_and_column(sheet: str, messages: list[str]) -> None:
    job, faults = read(FROM_SHEET, drawers=sheet)
    assert job.sticks == ()
    assert faults == [f"job.toml, stick 1, openings, drawers.csv{message}" for message in messages]


def test_a_stick_with_a_fault_is_left_out_and_the_others_are_kept() -> None:
    job, faults = read(PLAIN + "length = 0\n[[stick]]\nname = 'B'\npart = 'ply'\nopenings = [3]")
    assert [stick.name for stick in job.sticks] == ["B"]
    assert len(faults) == 1


def test_a_stick_of_a_faulty_stock_or_joint_is_left_out_without_a_second_fault() -> None:
    for fault in ("ply = 0", "depth = 0", 'kind = "x"', "depth = 6\nbottom_gap = 7"):
        key = fault.split()[0]
        text = re.sub(f"^{key} = .*$", fault, ORDER, flags=re.MULTILINE)
        job, faults = read(text + "[{ part = 'ply', joint = 'shelf' }]")
        assert job.sticks == ()
        assert len(faults) == 1


def test_sizes_are_not_weighed_before_the_units_are_known() -> None:
    text = """
        round_to = "1/64"
        stock.ply = 18
        joint.a = { kind = "housing", depth = "1/4", bottom_gap = "0.5 mm" }
        stick = [{ part = "ply", joint = "a", openings = [300, "equal"], length = "1 in" }]
    """
    job, faults = read(text)
    assert faults == ['job.toml: units is missing; add units = "inch" or units = "mm".']
    assert job.sticks == ()
