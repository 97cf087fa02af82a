"""What is cut already, held against a changed job: no part is called good of which wood is gone that is wanted.

Each case is worked out by hand from the two jobs: what stands of the old part, and what the new one leaves standing.
"""

from __future__ import annotations

from pathlib import Path
from typing import Final

import pytest
from test_compare import CASE, STICK, compared

from storystick.starting import STARTS

HOUSED: Final = (
    CASE.replace('kind = "tongue" ', 'kind = "housing"')
    .replace("bottom_gap", "# bottom_gap")
    .replace('width = "1/4"\ndepth = "1/4"', 'depth = "15/64"')
)
DOWELS: Final = """
title = "Case"
units = "mm"
[stock]
ply = 18
[joint.case]
kind = "dowels"
diameter = 8
depth = 10
[[cabinet]]
name = "Case"
height = 720
width = 600
depth = 400
carcass = "ply"
joint = "case"
toe = { height = 100, recess = 50, board = "ply" }
openings = ["equal", "equal"]
"""
FRAMED: Final = (
    STARTS["cabinet"]
    .text({"name": "Case", "holds": "nothing", "openings": "2", "rail_ends": "plain"})
    .replace('stock = "frame"', 'stock = "frame"\ntenon = "1/2"')
)
TWO: Final = DOWELS + DOWELS.partition("[[cabinet]]")[2].replace("720", "500").replace('"Case"', '"Low"').join(
    ("[[cabinet]]", "")
)


def swap(text: str, *pairs: tuple[str, str]) -> str:
    for old, new in pairs:
        assert old in text
        text = text.replace(old, new)
    return text


def judged(folder: Path, old: str, new: str, cut: str) -> tuple[str, str]:
    found = compared(folder, old, new, "--cut", cut)["cut"]
    assert len(found) == 1
    return found[0]["verdict"], "; ".join(found[0]["why"])


CASES: Final = {
    "a thicker tongue is wanted": (CASE, ('width = "1/4"\n', 'width = "5/16"\n'), "shelf 1", "spoiled", "tongue"),
    "a thinner tongue can be made of it": (
        CASE,
        ('width = "1/4"\n', 'width = "3/16"\n'),
        "shelf 1",
        "to_work",
        "tongue",
    ),
    "its groove is too wide then": (CASE, ('width = "1/4"\n', 'width = "3/16"\n'), "left side", "spoiled", "groove"),
    "a tongue elsewhere in the thickness": (
        CASE,
        ('width = "1/4"\n', 'width = "1/4"\nset = "3/16"\n'),
        "shelf 1",
        "spoiled",
        "low or outer face lies from 0 to 15/64, 15/64 deep; the job now has it from 0 to 15/64, 3/16 deep",
    ),
    "shorter tongues come off both ends": (
        CASE,
        ('depth = "1/4"\n', 'depth = "3/16"\n'),
        "shelf 1",
        "cut_down",
        "cut 1/8 off its length, to 28 29/32, 1/16 at the end that its marks are counted from and 1/16 at the other",
    ),
    "its groove is too deep then": (
        CASE,
        ('depth = "1/4"\n', 'depth = "3/16"\n'),
        "left side",
        "spoiled",
        "from 15/64 to 31/64, 1/4 deep; the job now has it from 15/64 to 31/64, 3/16 deep",
    ),
    "a deeper groove is worked deeper": (
        CASE,
        ('depth = "1/4"\n', 'depth = "5/16"\n'),
        "left side",
        "to_work",
        "groove",
    ),
    "smaller dowels": (DOWELS, ("diameter = 8", "diameter = 6"), "left side", "spoiled", "holes"),
    "larger dowels": (DOWELS, ("diameter = 8", "diameter = 10"), "left side", "to_work", "holes"),
    "other dowels in its ends": (DOWELS, ("diameter = 8", "diameter = 10"), "shelf 1", "look", "dowels 10"),
    "holes less deep": (DOWELS, ("depth = 10", "depth = 9"), "left side", "spoiled", "10 deep"),
    "a smaller toe space": (DOWELS, ("height = 100", "height = 90"), "left side", "spoiled", "notch"),
    "a larger toe space": (DOWELS, ("recess = 50", "recess = 60"), "left side", "look", "notch"),
    "an edging that is new": (
        DOWELS,
        ('carcass = "ply"', 'carcass = "ply"\nedging = 1'),
        "left side",
        "cut_down",
        "the cutting list says of it now",
    ),
    "a groove off by less than a label says": (
        HOUSED,
        ('ply = "23/32"', 'ply = "0.7205"'),
        "shelf 1",
        "look",
        "measure it",
    ),
    "a stick's groove off by less than a label says": (
        STICK,
        ('"13"', '"13 1/512"'),
        "Side",
        "look",
        "under 1/64",
    ),
    "a stick's groove that is too deep": (STICK, ('depth = "1/4"', 'depth = "3/16"'), "Side", "spoiled", "1/4 deep"),
    "a stick's groove that is not deep enough": (
        STICK,
        ('depth = "1/4"', 'depth = "5/16"'),
        "Side",
        "to_work",
        "groove",
    ),
    "a stick that counts from its other end": (
        STICK,
        ('part = "ply"\njoint', 'datum = "top"\npart = "ply"\njoint'),
        "Side",
        "spoiled",
        "groove",
    ),
    "narrower stiles": (
        FRAMED,
        ('stile = "1 1/2"', 'stile = "1 1/4"'),
        "left stile",
        "cut_down",
        "its edges are worked",
    ),
    "wider stiles": (FRAMED, ('stile = "1 1/2"', 'stile = "1 3/4"'), "left stile", "spoiled", "too narrow"),
    "a longer tenon": (FRAMED, ('tenon = "1/2"', 'tenon = "5/8"'), "top rail", "spoiled", "too short"),
    "no tenon any more": (FRAMED, ('tenon = "1/2"\n', ""), "top rail", "cut_down", "1/2 at the end"),
}


@pytest.mark.parametrize("case", CASES)
def test_what_is_gone_of_a_part_decides_what_becomes_of_it(tmp_path: Path, case: str) -> None:
    old, change, cut, verdict, why = CASES[case]
    found, said = judged(tmp_path, old, swap(old, change), cut)
    assert (found, why in said) == (verdict, True), said


def test_a_housed_end_wants_the_thickness_that_a_tongue_has_lost(tmp_path: Path) -> None:
    assert judged(tmp_path, CASE, HOUSED, "shelf 1")[0] == "spoiled"
    assert judged(tmp_path, HOUSED, CASE, "shelf 1")[0] == "look"


def test_a_cabinet_that_is_renamed_and_moved_keeps_what_is_cut_of_it(tmp_path: Path) -> None:
    head, case, low = TWO.split("[[cabinet]]")
    moved = "[[cabinet]]".join((head, low, swap(case, ('"Case"', '"Tall"'))))
    comparison = compared(tmp_path, TWO, moved, "--cut", "Case")
    assert {each["verdict"] for each in comparison["cut"]} == {"good"}
    assert {part["change"] for part in comparison["parts"]} == {"renamed"}


def test_more_and_fewer_of_a_part_are_told(tmp_path: Path) -> None:
    two = swap(DOWELS, ("depth = 400", "depth = 400\ncount = 2"))
    assert judged(tmp_path, two, DOWELS, "left side") == ("good", "only 1 of 2 are wanted")
    assert judged(tmp_path, DOWELS, two, "left side") == ("good", "1 more of it to be cut")
