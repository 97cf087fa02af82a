"""Cabinets of job files: what they read to, and every fault of those that are wrong."""

from __future__ import annotations

import json
import tomllib
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from jobs import PLAIN, read, read_well

from storystick.job.backs import GrooveBack, LaidOnBack, RabbetBack
from storystick.job.bases import BoardPlace, From, Plinth, Toe, ToeBoard
from storystick.job.cabinets import Cabinet, Through
from storystick.job.case_joints import Housing, Rabbet, Tongue
from storystick.job.cases import EndPlace, EndRule, PartRule
from storystick.job.compartments import Adjustable, Compartment
from storystick.job.edgings import Edging
from storystick.job.frames import Align, EndRail, FrameRule, Stiles
from storystick.job.fronts import (
    GAP_GRADES,
    DrawerRule,
    FrontFit,
    FrontKind,
    FrontRule,
    Sawn,
    SolidWood,
)
from storystick.job.openings import Fixed, Graduated, Opening, RatioRule, Share, StepRule, Stock
from storystick.job.reaching import Over, Reach, UpToGaps
from storystick.job.rows import CabinetColumn, CabinetRow
from storystick.job.sticks import Hand
from storystick.lengths import INCH_MM, Units, read_length

SHARED = Path(__file__).parent.parent / "shared"

EQUAL = Share(Fraction(1))
ONE = (Compartment(Opening(EQUAL)),)
ply, thin, frame = Stock("ply", Fraction(18)), Stock("thin", Fraction(6)), Stock("frame", Fraction(20))
shelf, end = Housing(name="shelf", depth=Fraction(6)), Rabbet(name="end", depth=Fraction(9))


def overlaid(reach: Reach, **more: Any) -> FrontRule:
    return FrontRule(FrontFit.OVERLAY, frame, Fraction(3), reach, **more)


STOCKS = """units = "mm"
[stock]
ply = 18
thin = 6
frame = 20
[joint.shelf]
kind = "housing"
depth = 6
[joint.end]
kind = "rabbet"
depth = 9
"""
BARE = STOCKS + "[[cabinet]]\nheight = 900\nwidth = 600\ndepth = 400\n"
BOX = BARE + 'carcass = "ply"\n'
PLAIN_BOX = Cabinet(
    number=1,
    name="cabinet 1",
    height=Fraction(900),
    width=Fraction(600),
    depth=Fraction(400),
    sides=ply,
    top=EndRule(ply),
    bottom=EndRule(ply),
    shelves=PartRule(ply),
    dividers=PartRule(ply),
    rows=(CabinetRow(EQUAL, (CabinetColumn(EQUAL, ONE),)),),
)

CHEST = """
units = "inch"
[stock]
ply   = "23/32"
frame = "3/4"
back  = "1/4"
[joint.shelf]
kind   = "tongue"
width  = "1/4"
depth  = "1/4"
bottom_gap = "1/64"
[[cabinet]]
name = "Chest"
height = "36"
width  = "40"
depth  = "22"
carcass = "ply"
back = { stock = "back", rabbet_width = "1/4", rabbet_depth = "1/2" }
frame = { stock = "frame", stile = "1 1/2", top = "1 1/2", bottom = "2", rail = "ply" }
fronts = { kind = "inset", reveal = "1/16" }
joint = "shelf"
[[cabinet.row]]                      # bands, bottom to top
height = "8"
[[cabinet.row]]
height = "equal"
[[cabinet.row.column]]               # each band left to right
width = "equal"
openings = ["equal", "equal", "equal"]   # bottom to top
[[cabinet.row.column]]
width = "equal"
openings = [{ graduated = 4, ratio = "6/5" }]
"""


def test_what_is_to_spare_is_in_the_job_s_own_units() -> None:
    text = CHEST.replace('rabbet_width = "1/4", rabbet_depth = "1/2"', 'groove_depth = "1/4", groove_inset = "1/2"')
    adjustable = '{ opening = "equal", adjustable = { shelves = 1, first = "2", front = "2", back = "2" } }'
    (cabinet,) = read_well(
        text.replace('openings = ["equal", "equal", "equal"]', f"openings = [{adjustable}]")
    ).cabinets
    assert isinstance(cabinet.back, GrooveBack)
    assert cabinet.back.gap == INCH_MM / 32
    shelves = cabinet.rows[1].columns[0].compartments[0].adjustable
    assert shelves
    assert (shelves.play, shelves.depth_play) == (INCH_MM / 16, INCH_MM / 16)


def test_a_chest_reads_to_its_model() -> None:
    board, front = Stock("ply", INCH_MM * 23 / 32), Stock("frame", INCH_MM * 3 / 4)
    tongue = Tongue(name="shelf", width=INCH_MM / 4, depth=INCH_MM / 4, bottom_gap=INCH_MM / 64)
    thirds = CabinetColumn(EQUAL, 3 * ONE)
    graduated = CabinetColumn(EQUAL, (Compartment(Graduated(4, RatioRule(Fraction(6, 5)))),))
    assert read_well(CHEST).cabinets == (
        Cabinet(
            number=1,
            name="Chest",
            height=36 * INCH_MM,
            width=40 * INCH_MM,
            depth=22 * INCH_MM,
            sides=board,
            top=EndRule(board, tongue, EndPlace.BETWEEN),
            bottom=EndRule(board, tongue, EndPlace.BETWEEN),
            shelves=PartRule(board, tongue),
            dividers=PartRule(board, tongue),
            rows=(CabinetRow(Fixed(8 * INCH_MM), (CabinetColumn(EQUAL, ONE),)), CabinetRow(EQUAL, (thirds, graduated))),
            through=Through.SHELVES,
            back=RabbetBack(Stock("back", INCH_MM / 4), INCH_MM / 4, INCH_MM / 2),
            frame=FrameRule(
                front,
                Stiles(INCH_MM * 3 / 2, INCH_MM * 3 / 2),
                EndRail(INCH_MM * 3 / 2),
                EndRail(2 * INCH_MM),
                align=Align.TOP,
            ),
            fronts=FrontRule(FrontFit.INSET, front, INCH_MM / 16, kind=FrontKind.DRAWER),
        ),
    )


FRAME = FrameRule(frame, Stiles(Fraction(40), Fraction(40)), EndRail(Fraction(30)), EndRail(Fraction(50)))
FRONTS = FrontRule(FrontFit.INSET, ply, GAP_GRADES["custom"])
WOOD = SolidWood("Maple, sugar", Sawn.QUARTER, Fraction(8), Fraction(0), Fraction(25, 2))
frame_of = "frame = {{ stock = 'frame', stile = 40, top = 30, bottom = 50{} }}".format

GOOD_FORMS: dict[str, dict[str, object]] = {
    "": {},
    "joint = 'shelf'": {
        "top": EndRule(ply, shelf),
        "bottom": EndRule(ply, shelf),
        "shelves": PartRule(ply, shelf),
        "dividers": PartRule(ply, shelf),
    },
    "joint = 'shelf'\nsides = 'frame'\ntop = { joint = 'end', place = 'over' }\nbottom = 'thin'\n"
    "shelves = { stock = 'thin' }\ndividers = { joint = 'end' }\nthrough = 'dividers'": {
        "sides": frame,
        "top": EndRule(ply, end, EndPlace.OVER),
        "bottom": EndRule(thin, shelf),
        "shelves": PartRule(thin, shelf),
        "dividers": PartRule(ply, end),
        "through": Through.DIVIDERS,
    },
    "sides = {}\nbottom = { place = 'between' }\nname = 'Box'": {"name": "Box"},
    "sides = { stock = 'thin' }": {"sides": thin},
    "back = { stock = 'thin', rabbet_width = 6, rabbet_depth = 10 }": {
        "back": RabbetBack(thin, Fraction(6), Fraction(10))
    },
    "back = { stock = 'thin', groove_depth = 5, groove_inset = 12 }": {
        "back": GrooveBack(thin, Fraction(5), Fraction(12), Fraction(1))
    },
    "back = { stock = 'thin', groove_depth = 1, groove_inset = 12 }": {
        "back": GrooveBack(thin, Fraction(1), Fraction(12), Fraction(1, 2))
    },
    "back = { stock = 'thin', groove_depth = 5, groove_inset = 12, bottom_gap = 0 }": {
        "back": GrooveBack(thin, Fraction(5), Fraction(12), Fraction(0))
    },
    "back = { stock = 'thin', laid_on = true }": {"back": LaidOnBack(thin)},
    "back = { stock = 'thin', laid_on = true, after_painting = true }": {"back": LaidOnBack(thin, True)},
    "back = { stock = 'thin', rabbet_width = 6, rabbet_depth = 10, after_painting = true }": {
        "back": RabbetBack(thin, Fraction(6), Fraction(10), True)
    },
    "back = { stock = 'thin', groove_depth = 5, groove_inset = 12, after_painting = false }": {
        "back": GrooveBack(thin, Fraction(5), Fraction(12), Fraction(1))
    },
    "back = { laid_on = true }": {"back": LaidOnBack(ply)},
    "toe = { height = 100, recess = 60 }": {"base": Toe(Fraction(100), Fraction(60))},
    "toe = { height = 100, recess = 60, board = 'thin' }": {"base": Toe(Fraction(100), Fraction(60), ToeBoard(thin))},
    "toe = { height = 100, recess = 60, board = { place = 'over' }, ends = 'both', recess_from = 'frame' }": {
        "base": Toe(Fraction(100), Fraction(60), ToeBoard(ply, BoardPlace.OVER), (Hand.LEFT, Hand.RIGHT), From.FRAME)
    },
    "plinth = { height = 80, recess = 20, ends = 'right', recess_from = 'case', loose = true }": {
        "base": Plinth(ply, Fraction(80), Fraction(20), (Hand.RIGHT,), loose=True)
    },
    "plinth = { height = 80, recess = 0 }": {"base": Plinth(ply, Fraction(80), Fraction(0))},
    "plinth = { stock = 'frame', height = 80, recess = 50 }": {"base": Plinth(frame, Fraction(80), Fraction(50))},
    "edging = 6": {"edging": Edging(Fraction(6))},
    frame_of(""): {"frame": FRAME},
    frame_of(", rail = 'ply', mid_stile = 'ply'"): {"frame": FRAME},
    frame_of(", rail = '1 in', mid_stile = 38, align = 'centre', proud = 3, joint = 'shelf', tenon = 25"): {
        "frame": replace(
            FRAME,
            rail=INCH_MM,
            mid_stile=Fraction(38),
            align=Align.CENTRE,
            proud_left=Fraction(3),
            proud_right=Fraction(3),
            joint=shelf,
            tenon=Fraction(25),
        )
    },
    frame_of(", proud = { right = 12 }, align = 'bottom'"): {
        "frame": replace(FRAME, proud_right=Fraction(12), align=Align.BOTTOM)
    },
    "fronts = { kind = 'inset' }": {"fronts": FRONTS},
    frame_of("") + "\nfronts = { kind = 'inset', grade = 'premium' }": {
        "frame": FRAME,
        "fronts": replace(FRONTS, stock=frame, reveal=INCH_MM / 32),
    },
    "fronts = { kind = 'overlay', stock = 'frame', reveal = 3, overlay = 10, front = 'pair' }": {
        "fronts": overlaid(Over.all_round(Fraction(10)), kind=FrontKind.PAIR)
    },
    "fronts = { kind = 'overlay', stock = 'frame', reveal = 3, overlay = { outside = 10, top = 0 }, pair_gap = 2 }": {
        "fronts": overlaid(Over(Fraction(10), Fraction(10), Fraction(10), Fraction(0)), pair_gap=Fraction(2))
    },
    "fronts = { kind = 'overlay', stock = 'frame', reveal = 3, "
    "overlay = { left = 1, right = 2, bottom = 3, top = 4, shared = 5 } }": {
        "fronts": overlaid(Over(*map(Fraction, (1, 2, 3, 4, 5))))
    },
    "fronts = { kind = 'overlay', stock = 'frame', reveal = 3, outside = 1.5 }": {
        "fronts": overlaid(UpToGaps.all_round(Fraction(3, 2)))
    },
    "fronts = { kind = 'overlay', stock = 'frame', reveal = 3, outside = { top = 4, bottom = 0 } }": {
        "fronts": overlaid(UpToGaps(top=Fraction(4), bottom=Fraction(0)))
    },
    "fronts = { kind = 'inset', front = 'door', wood = { species = 'Maple, sugar', cut = 'quarter', made_at = 8, "
    "driest = 0, dampest = 12.5 } }": {"fronts": replace(FRONTS, kind=FrontKind.DOOR, wood=WOOD)},
    "fronts = { kind = 'inset', wood = { species = 'Maple, sugar', cut = 'flat', made_at = '8', driest = '8', "
    "dampest = '12 1/2' } }": {"fronts": replace(FRONTS, wood=replace(WOOD, cut=Sawn.FLAT, driest=Fraction(8)))},
    "[[cabinet.column]]\nopenings = [{ opening = 400, inside = [100, 'equal', { share = 2 }], front = 'door', "
    "hinge = 'left' }, { opening = 'equal', front = 'false' }]\n[[cabinet.column]]\nfront = 'door'\nhinge = 'right'": {
        "rows": (
            CabinetRow(
                EQUAL,
                (
                    CabinetColumn(
                        EQUAL,
                        (
                            Compartment(
                                Opening(Fixed(Fraction(400))),
                                FrontKind.DOOR,
                                hinge=Hand.LEFT,
                                inside=(Fixed(Fraction(100)), EQUAL, Share(Fraction(2))),
                            ),
                            Compartment(Opening(EQUAL), FrontKind.FALSE),
                        ),
                    ),
                    CabinetColumn(EQUAL, ONE, front=FrontKind.DOOR, hinge=Hand.RIGHT),
                ),
            ),
        )
    },
    "[[cabinet.row]]\nfront = 'pair'\ncolumns = 2": {
        "rows": (CabinetRow(None, (CabinetColumn(EQUAL, ONE),) * 2, front=FrontKind.PAIR),)
    },
    "drawers = { stock = 'thin', side = 13, top = 6, back = 20 }": {
        "drawers": DrawerRule(thin, Fraction(13), Fraction(6), Fraction(0), Fraction(20))
    },
    "drawers = { stock = 'thin', side = '1/2', top = 0, bottom = 14, back = 0 }": {
        "drawers": DrawerRule(thin, Fraction(1, 2), Fraction(0), Fraction(14), Fraction(0))
    },
}


@pytest.mark.parametrize("written", GOOD_FORMS)
def test_a_cabinet_reads_to_its_model(written: str) -> None:
    expected = replace(PLAIN_BOX, **GOOD_FORMS[written])  # type: ignore[arg-type]
    assert read_well(BOX + written).cabinets == (expected,)


ALL_NAMED = BARE + "sides = 'ply'\ntop = 'ply'\nbottom = { stock = 'ply' }\nshelves = 'ply'\ndividers = 'ply'\n"


def test_a_carcass_may_be_left_out_where_every_part_names_its_stock() -> None:
    assert read_well(ALL_NAMED).cabinets == (PLAIN_BOX,)


def opening(size: int) -> Compartment:
    return Compartment(Opening(Fixed(Fraction(size))))


ADJUSTABLE = Adjustable(3, Fraction(32), Fraction(96), Fraction(37), Fraction(40), Fraction(2), Fraction(2))
DOOR = Compartment(Opening(Share(Fraction(2)), "press"), FrontKind.DOOR, ADJUSTABLE)
GOOD_ROWS: dict[str, tuple[CabinetRow, ...]] = {
    "openings = [200, 'equal', { opening = 80, name = 'pens', front = 'none' }, { opening = { share = 2 } }]": (
        CabinetRow(EQUAL, (CabinetColumn(EQUAL, (
            opening(200),
            *ONE,
            Compartment(Opening(Fixed(Fraction(80)), "pens"), FrontKind.NONE),
            Compartment(Opening(Share(Fraction(2)))),
        )),)),
    ),
    "openings = [{ share = 2, name = 'press', front = 'door', adjustable = { shelves = 3, first = 96, front = 37, "
    "back = 40 } }]": (CabinetRow(EQUAL, (CabinetColumn(EQUAL, (DOOR,)),)),),
    "openings = [{ opening = 'equal', adjustable = { shelves = 1, pitch = 25, first = 50, front = 30, back = 30, "
    "play = 0, depth_play = 3 } }]": (
        CabinetRow(EQUAL, (CabinetColumn(EQUAL, (
            Compartment(
                Opening(EQUAL),
                adjustable=Adjustable(1, *map(Fraction, (25, 50, 30, 30, 0, 3))),
            ),
        )),)),
    ),
    "openings = [{ graduated = 3, step = 20, first = 200, name = 'drawer', front = 'drawer' }]": (
        CabinetRow(EQUAL, (CabinetColumn(EQUAL, (
            Compartment(Graduated(3, StepRule(Fraction(20)), Fraction(200), None, "drawer"), FrontKind.DRAWER),
        )),)),
    ),
    "[[cabinet.column]]\nwidth = 250\n[[cabinet.column]]\nopenings = [100, 'equal']": (
        CabinetRow(EQUAL, (CabinetColumn(Fixed(Fraction(250)), ONE), CabinetColumn(EQUAL, (opening(100), *ONE)))),
    ),
    "[[cabinet.row]]\n[[cabinet.row]]\nheight = { share = '3/2' }\nopenings = [90]": (
        CabinetRow(None, (CabinetColumn(EQUAL, ONE),)),
        CabinetRow(Share(Fraction(3, 2)), (CabinetColumn(EQUAL, (opening(90),)),)),
    ),
    "[[cabinet.row]]\nheight = 90\n[[cabinet.row.column]]\nwidth = { share = 2 }\n[[cabinet.row.column]]": (
        CabinetRow(Fixed(Fraction(90)), (CabinetColumn(Share(Fraction(2)), ONE), CabinetColumn(EQUAL, ONE))),
    ),
}  # fmt: skip


@pytest.mark.parametrize("written", GOOD_ROWS)
def test_openings_stand_in_columns_and_columns_in_bands(written: str) -> None:
    assert read_well(BOX + written).cabinets == (replace(PLAIN_BOX, rows=GOOD_ROWS[written]),)


FROM_SHEET = BOX + 'openings = "drawers.csv"'


def test_the_openings_of_a_cabinet_may_come_from_a_spreadsheet() -> None:
    job = read_well(FROM_SHEET, drawers="name,size\npens,80\n,equal\n")
    (row,) = job.cabinets[0].rows
    assert row.columns[0].compartments == (Compartment(Opening(Fixed(Fraction(80)), "pens")), *ONE)
    assert [source.name for source in job.sources] == ["job.toml", "drawers.csv"]


def test_cabinets_are_counted_beside_the_sticks() -> None:
    job = read_well(PLAIN + BOX.replace(STOCKS, "") + "[[cabinet]]\nheight = 1\nwidth = 1\ndepth = 1\ncarcass = 'ply'")
    assert [stick.name for stick in job.sticks] == ["stick 1"]
    assert [(cabinet.number, cabinet.name) for cabinet in job.cabinets] == [(1, "cabinet 1"), (2, "cabinet 2")]


def test_reveals_by_grade_are_the_published_gaps() -> None:
    (published,) = tomllib.loads((SHARED / "gap_grades.toml").read_text("utf-8"))["published"]
    assert {grade: read_length(gap, Units.INCH) for grade, gap in published["gaps"].items()} == GAP_GRADES
    assert GAP_GRADES["custom"] == Fraction("1.5875")


LIKE = "write it like 18.3, 23/32, 5 1/2, 2' 3 1/2\", 18.3 mm or 1 in."
KEYS = (
    "name, like, count, height, width, depth, joint, carcass, sides, top, bottom, shelves, dividers, frame, "
    "sizes, between, through, back, nailers, cleats, corner_blocks, countertop, toe, plinth, edging, fronts, "
    "drawers, row, column, openings, rows, columns"
)
BACK_CURE = "give rabbet_width and rabbet_depth, or groove_depth and groove_inset, or laid_on = true."
STOCK_CURE = "allowed here: ply, thin, frame; or add it under [stock]."
MOISTURE = "is not a moisture content from 0 to 30 per cent; write it like 8 or 8.5, without a sign."

BAD_CABINETS: dict[str, list[str]] = {
    STOCKS + "[[cabinet]]\nname = 'Chest'\nhight = 900\n": [
        ' ("Chest"): height is missing; add height = …, a length.',
        ' ("Chest"): width is missing; add width = …, a length.',
        ' ("Chest"): depth is missing; add depth = …, a length.',
        ' ("Chest"): carcass is missing; add carcass = "…", the name of a stock, or a stock for sides, top, bottom, '
        "shelves, dividers.",
        f' ("Chest"): "hight" is not a key here; try "height"; allowed here: {KEYS}.',
    ],
    BARE + "sides = 'ply'\ntop = 'ply'\nbottom = { place = 'over' }\nshelves = 'ply'\ndividers = { joint = 'end' }": [
        ': carcass is missing; add carcass = "…", the name of a stock, or a stock for bottom, dividers.'
    ],
    BARE + "carcass = 'pyl'\n": [f', carcass: "pyl" is not a stock of this job; try "ply"; {STOCK_CURE}'],
    BOX + "joint = 'shelve'\nshelves = 3": [
        ', joint: "shelve" is not a joint of this job; try "shelf"; allowed here: shelf, end; '
        "or add it under [joint].",
        ", shelves: 3 is not the name of a stock; name the stock of the shelves here: how many there are follows "
        "from openings, one less than those.",
    ],
    BOX + "sides = { stock = 'ply', joint = 'end' }\nshelves = { place = 'over' }\ntop = { place = 'on' }": [
        ', sides: "joint" is not a key here; allowed here: stock.',
        ', top, place: "on" is not a word known here; try "none"; allowed here: between, over, stretchers, none.',
        ', shelves: "place" is not a key here; allowed here: stock, joint, depth, setback, nosing.',
    ],
    BOX + "through = 'shelf'": [
        ', through: "shelf" is not a word known here; try "shelves"; allowed here: shelves, dividers, both.'
    ],
    BOX + "back = { stock = 'ply', rabbet_width = 17, rabbet_depth = 10 }": [
        ', back, rabbet_width: a back of "ply", 18 thick, does not enter a rabbet 17 wide; make it 18 or wider.'
    ],
    CHEST.replace('back  = "1/4"', 'back  = "3/8"'): [
        ' ("Chest"), back, rabbet_width: a back of "back", 3/8 thick, does not enter a rabbet 1/4 wide; '
        "make it 3/8 or wider."
    ],
    BOX + "back = { stock = 'thin', rabbet_width = 6, groove_depth = 5, laid_on = true }": [
        ", back: rabbet_width and groove_depth and laid_on stand in one table; a back is held in one way: "
        "give the keys of one."
    ],
    BOX + "back = { stock = 'thin', rabbet_depth = 0 }": [
        ", back: rabbet_width is missing; add rabbet_width = …, a length.",
        ", back, rabbet_depth: 0 is not a size: a size is more than 0.",
    ],
    BOX + "back = { stock = 'thin', groove_depth = 5 }": [
        ", back: groove_inset is missing; add groove_inset = …, a length.",
    ],
    BOX + "back = { stock = 'thin', groove_depth = 5, groove_inset = 12, bottom_gap = 5 }": [
        ", back, bottom_gap: a gap of 5 leaves nothing of the back in a groove 5 deep; make it less than groove_depth."
    ],
    BOX + "back = { stock = 'thin', rabbet_width = 6, rabbet_depth = 5, bottom_gap = 1 }": [
        ", back: rabbet_width and bottom_gap stand in one table; a back is held in one way: give the keys of one."
    ],
    BOX + "back = { stock = 'thin' }": [f", back: nothing says how the back is held; {BACK_CURE}"],
    BOX + "back = { stock = 'thin', groove_depth = 5, groove_inset = 12, after_painting = true }": [
        ", back, after_painting: a back in grooves is shut in by the case, and cannot be fastened after painting; "
        "leave it out, or give the back a rabbet or laid_on = true."
    ],
    BOX + "back = { stock = 'thin', laid_on = true, after_painting = 'yes' }": [
        ', back, after_painting: "yes" is neither true nor false; write true or false, without quotes.'
    ],
    BOX + "back = { stock = 'thin', laid_on = false }": [
        f", back: laid_on = false does not say how the back is held; {BACK_CURE}"
    ],
    ALL_NAMED + "back = { laid_on = true }\nfronts = { kind = 'inset' }": [
        ', back: stock is missing; add stock = "…", the name of a stock.',
        ', fronts: stock is missing; add stock = "…", the name of a stock.',
    ],
    BOX + "toe = { height = 0 }\nplinth = { height = 80, recess = 10 }\n": [
        ": toe stands beside plinth; give one of them."
    ],
    BOX + "toe = { height = 0, recces = 3 }": [
        ", toe, height: 0 is not a size: a size is more than 0.",
        ", toe: recess is missing; add recess = …, how far it stands back from the front edge of the case.",
        ', toe: "recces" is not a key here; try "recess"; allowed here: height, recess, board, ends, recess_from.',
    ],
    BOX + "edging = 6\n" + frame_of(""): [
        ": edging stands beside frame; give edging only to a cabinet without a frame."
    ],
    BOX + "frame = { stile = 40, top = 0, align = 'center', proud = -1 }\nfronts = { kind = 'inset' }": [
        ", frame, proud: -1 is less than 0, which is not allowed here.",
        ', frame: stock is missing; add stock = "…", the name of a stock.',
        ", frame, top: 0 is not a size: a size is more than 0.",
        ", frame: bottom is missing; add bottom = …, a length, or a table.",
        ', frame, align: "center" is not a word known here; try "centre"; allowed here: top, centre, bottom.',
    ],
    BOX + frame_of(", rail = 'plx', mid_stile = 'frame', proud = { up = 3 }"): [
        ', frame, proud: "up" is not a key here; allowed here: left, right.',
        f', frame, rail: "plx" is not a stock of this job; try "ply"; {STOCK_CURE}',
        ', frame, mid_stile: "frame" is not the stock of the dividers behind, "ply"; try "ply", or give a width.',
    ],
    (BOX + frame_of(", rail = '3/4', mid_stile = '3 4'")).replace("thin = 6", "thin = 6\n'3/4' = 18"): [
        ', frame, rail: "3/4" is a length as well as the name of a stock; write the length with its unit, or leave '
        "the key out for a width like the part behind.",
        f', frame, mid_stile: "3 4" is not a length; {LIKE}',
    ],
    BOX + "fronts = { kind = 'flush', overlay = 3, front = 'dor', reveal = 2, grade = 'best' }": [
        ', fronts, kind: "flush" is not a word known here; try "inset"; allowed here: inset, overlay.',
        ", fronts: reveal stands beside grade; give one of them.",
        ', fronts, grade: "best" is not a word known here; allowed here: premium, custom, economy.',
        ', fronts, front: "dor" is not a word known here; try "door"; allowed here: drawer, door, pair, false, none.',
    ],
    BOX + "fronts = { kind = 'overlay' }": [
        ", fronts: overlay is missing; add overlay = …, how far a front lies over each edge of its opening; "
        "or outside = …, full overlay by gaps: how far inside the outside of the face fronts end."
    ],
    BOX + "[[cabinet.column]]\nfront = 'drawer'\nopenings = [100, 200]": [
        ", column 1: one drawer front lies over several openings of a column; give each opening a drawer of its own."
    ],
    BOX + "[[cabinet.column]]\nfront = 'pair'\nhinge = 'left'": [
        ', column 1: hinge stands beside a front other than "door"; leave it out, or write front = "door".'
    ],
    BOX + "[[cabinet.row]]\nhinge = 'left'": [
        ', row 1: hinge is given to a row without a front; leave it out, or write front = "door" for the row.'
    ],
    BOX + "[[cabinet.row]]\nfront = 'pair'\nopenings = [{ opening = 100, front = 'drawer' }, 'equal']": [
        ", row 1: a drawer stands behind the one front of a row: drawers inside are not worked out here; "
        "leave its front out and make the drawer to fit, or give each opening a front of its own."
    ],
    BOX + "[[cabinet.row]]\nfront = 'pair'\nopenings = [{ opening = 100, hinge = 'left' }, 'equal']": [
        ", row 1: an opening has a front or a hinge of its own behind the one front of its row; leave one of them out."
    ],
    BOX + "[[cabinet.row]]\nfront = 'pair'\n[[cabinet.row.column]]\nfront = 'door'": [
        ", row 1: a column has a front of its own behind the one front of its row; leave one of them out."
    ],
    BOX + "openings = [{ opening = 400, inside = [100, 'equal'], front = 'drawer' }, 'equal']": [
        ", openings[1]: inside stands beside a drawer; leave one of them out: a drawer has no fixed shelves behind it."
    ],
    BOX + "openings = [{ opening = 400, inside = [100, 'equal'], front = 'false', hinge = 'left' }, 'equal']": [
        ', openings[1]: hinge stands beside a front other than "door"; leave it out, or write front = "door".'
    ],
    BOX + "openings = [{ opening = 400, inside = ['equal'], "
    "adjustable = { shelves = 1, first = 50, front = 37, back = 37 } }, 'equal']": [
        ", openings[1]: inside stands beside adjustable; give one of them: shelves inside are "
        "fixed, in the case's joint."
    ],
    BOX + "fronts = { kind = 'overlay', overlay = 9, outside = 2 }": [
        ", fronts: overlay stands beside outside; give one of them."
    ],
    BOX + "fronts = { kind = 'overlay', overlay = { left = 9, top = 2, shard = 3 } }": [
        ", fronts, overlay: the table does not say right, bottom; add outside = …, for every edge left out.",
        ', fronts, overlay: "shard" is not a key here; try "shared"; allowed here: outside, left, right, bottom, top, '
        "shared.",
    ],
    BOX + "fronts = { kind = 'inset', outside = 9 }": [
        ', fronts: outside is given to inset fronts; leave it out, or write kind = "overlay".'
    ],
    BOX + "fronts = { kind = 'inset', overlay = 9 }": [
        ', fronts: overlay is given to inset fronts; leave it out, or write kind = "overlay".'
    ],
    BOX + "fronts = { kind = 'inset', wood = { species = 'oak', cut = 'rift', made_at = 31, driest = '6 %' } }": [
        ', fronts, wood, cut: "rift" is not a word known here; allowed here: flat, quarter.',
        f", fronts, wood, made_at: 31 {MOISTURE}",
        f', fronts, wood, driest: "6 %" {MOISTURE}',
        ", fronts, wood: dampest is missing; add dampest = …, a moisture content in per cent.",
    ],
    BOX + "fronts = { kind = 'inset', wood = { species = 'oak', cut = 'flat', made_at = 6, driest = 7.5, "
    "dampest = 12 } }": [
        ", fronts, wood: the moisture contents do not rise: driest 7.5, made_at 6, dampest 12; "
        "let made_at lie between driest and dampest."
    ],
    BOX + "drawers = { stock = 'thin', side = -1, top = 'x' }": [
        ", drawers, side: -1 is less than 0, which is not allowed here.",
        f', drawers, top: "x" is not a length; {LIKE}',
        ", drawers: back is missing; add back = …, the clear space behind a box.",
    ],
    BOX + "openings = [100]\n[[cabinet.row]]\nheight = 'x'": [
        ": row and openings stand side by side; give one of them, and the others inside it."
    ],
    BOX + "[[cabinet.row]]\nopenings = [100]\n[[cabinet.row.column]]\nwidht = 100": [
        ", row 1: column and openings stand side by side; give openings to each column instead.",
        ', row 1, column 1: "widht" is not a key here; try "width"; allowed here: width, openings, between, front, '
        "hinge.",
    ],
    BOX + "[[cabinet.row]]\n[[cabinet.row]]\nheight = 'eqal'\n[[cabinet.row.column]]\n"
    "openings = [0, { front = 'door' }]": [
        ', row 2, height: "eqal" is neither "equal" nor a length; try "equal".',
        ", row 2, column 1, openings[1]: 0 is not a size: a size is more than 0.",
        ", row 2, column 1, openings[2]: the table has none of the keys opening, share, graduated; give one of them.",
    ],
    BOX + "[cabinet.row]\nheight = 100": [
        ", row: the table stands alone; write its heading with two brackets at each side: [[cabinet.row]]."
    ],
    BOX + "[[cabinet.row]]\n[cabinet.row.column]\nwidth = 100": [
        ", row 1, column: the table stands alone; write its heading with two brackets at each side: "
        "[[cabinet.row.column]]."
    ],
    BOX + "openings = [{ graduated = 3, step = 1, between = 'ply' }, { graduated = 3, step = 1, adjustable = {} }]": [
        ', openings[1]: "between" is not a key here; allowed here: opening, share, graduated, step, ratio, first, '
        "name, front, hinge, above.",
        ', openings[2]: "adjustable" is not a key here; allowed here: opening, share, graduated, step, ratio, first, '
        "name, front, hinge, above.",
    ],
    BOX + "openings = [{ opening = 'equal', hinge = 'top' }]": [
        ', openings[1], hinge: "top" is not a word known here; allowed here: left, right.',
    ],
    BOX + "openings = [{ opening = 'equal', front = 'pair', hinge = 'left' }]": [
        ', openings[1]: hinge stands beside a front other than "door"; leave it out, or write front = "door".',
    ],
    BOX + "openings = [{ opening = 300, adjustable = { shelves = 0, pitch = 0, frnt = 37 } }]": [
        ", openings[1], adjustable, shelves: 0 is not a whole number from 1 to 60; write it like 4.",
        ", openings[1], adjustable, pitch: 0 is not a size: a size is more than 0.",
        ", openings[1], adjustable: first is missing; add first = …, from the bottom of the opening to its "
        "lowest hole.",
        ", openings[1], adjustable: front is missing; add front = …, from the finished front edge, edging "
        "included, to the front row of holes.",
        ", openings[1], adjustable: back is missing; add back = …, from the back edge of the case to the back "
        "row of holes.",
        ', openings[1], adjustable: "frnt" is not a key here; try "front"; allowed here: shelves, pitch, first, '
        "front, back, play, depth_play.",
    ],
    BOX + f"openings = [{'{ graduated = 60, step = 1 },' * 17}]": [
        ": the cabinet has 1020 openings; at most 1000 are allowed; divide it."
    ],
    FROM_SHEET: [", openings, drawers.csv: the file is missing; give it together with the job file."],
}  # fmt: skip


@pytest.mark.parametrize(("text", "messages"), BAD_CABINETS.items(), ids=range(len(BAD_CABINETS)))
def test_every_fault_of_a_cabinet_is_told_at_once_with_its_place(text: str, messages: list[str]) -> None:
    job, faults = read(text)
    assert faults == [f"job.toml, cabinet 1{message}" for message in messages]
    assert job.cabinets == ()


@pytest.mark.parametrize(("pitch", "reads"), [("0.01", False), ("2.9", False), ("3", True)])
def test_holes_for_pins_are_not_closer_than_a_pin_is_thick(pitch: str, reads: bool) -> None:
    shelves = f"{{ shelves = 1, pitch = {pitch}, first = 50, front = 30, back = 30 }}"
    _, faults = read(f"{BOX}openings = [{{ opening = 300, adjustable = {shelves} }}]")
    told = f"openings[1], adjustable, pitch: {pitch} is less than 3 mm, which the thinnest pin's hole takes"
    assert [told in fault for fault in faults] == ([] if reads else [True])


BAD_LISTS = {
    BOX.replace("[[cabinet]]", "[cabinet]"): (
        ", cabinet: the table stands alone; write its heading with two brackets at each side: [[cabinet]]."
    ),
    "cabinet = []\n" + PLAIN: ", cabinet: the list is empty; give at least one entry, or leave the key out.",
    'units = "mm"': ": the job has neither a stick nor a cabinet; add a [[cabinet]] or a [[stick]] table.",
    BOX + "name = 'A'\n[[cabinet]]\nname = 'A'\nheight = 1\nwidth = 1\ndepth = 1\ncarcass = 'ply'": (
        ', cabinet 2 ("A"), name: "A" is already the name of cabinet 1; give each its own.'
    ),
}


@pytest.mark.parametrize(("text", "message"), BAD_LISTS.items(), ids=range(len(BAD_LISTS)))
def test_a_fault_of_the_list_of_cabinets_is_told(text: str, message: str) -> None:
    assert read(text)[1] == [f"job.toml{message}"]


def test_a_cabinet_with_a_fault_is_left_out_and_the_others_are_kept() -> None:
    job, faults = read(BOX + "edging = 0\n" + BOX.replace(STOCKS, ""))
    assert [cabinet.number for cabinet in job.cabinets] == [2]
    assert len(faults) == 1


@pytest.mark.parametrize("line", ["ply = 18", "thin = 6", "frame = 20"])
def test_a_cabinet_of_a_faulty_stock_is_left_out_without_a_second_fault(line: str) -> None:
    name = line.split()[0]
    text = BOX + "back = { stock = 'thin', rabbet_width = 6, rabbet_depth = 5 }\n" + frame_of(", rail = 'ply'")
    job, faults = read(text.replace(line, f"{name} = 0") + "\nfronts = { kind = 'inset' }")
    assert faults == [f"job.toml, [stock], {name}: 0 is not a size: a size is more than 0."]
    assert job.cabinets == ()


def test_a_rail_is_not_compared_with_shelves_of_an_unknown_stock() -> None:
    _, faults = read(BOX + "shelves = 'thni'\n" + frame_of(", rail = 'thin'"))
    assert faults == [f'job.toml, cabinet 1, shelves: "thni" is not a stock of this job; try "thin"; {STOCK_CURE}']


def test_a_faulty_stock_is_not_weighed_against_its_rabbet() -> None:
    text = BOX.replace("thin = 6", "thin = 0") + "back = { stock = 'thin', rabbet_width = 0.5, rabbet_depth = 5 }"
    assert read(text)[1] == ["job.toml, [stock], thin: 0 is not a size: a size is more than 0."]


def test_a_cabinet_is_not_given_before_the_units_are_known() -> None:
    text = BOX.replace('units = "mm"', "") + "back = { stock = 'thin', rabbet_width = '4 mm', rabbet_depth = 5 }"
    job, faults = read(text)
    assert faults == ['job.toml: units is missing; add units = "inch" or units = "mm".']
    assert job.cabinets == ()


def keeps_to_schema(text: str) -> bool:
    schema: dict[str, Any] = json.loads((SHARED / "job.schema.json").read_text("utf-8"))
    return jsonschema.Draft202012Validator(schema).is_valid(tomllib.loads(text))


GOOD_CABINETS = [CHEST, ALL_NAMED, FROM_SHEET, *(BOX + written for written in [*GOOD_FORMS, *GOOD_ROWS])]


@pytest.mark.parametrize("text", GOOD_CABINETS, ids=range(len(GOOD_CABINETS)))
def test_a_cabinet_that_reads_well_keeps_to_the_schema(text: str) -> None:
    assert keeps_to_schema(text)


def test_a_job_of_rectangles_alone_keeps_to_the_schema() -> None:
    text = 'units = "mm"\n[[rectangle]]\nname = "hatch"\nwidth = 600\nheight = 400\n'
    assert read(text)[1] == []
    assert keeps_to_schema(text)


KNOWN_BY_THE_READER_ALONE = (
    "is not a stock", "is not a joint", "does not enter", "do not rise", "is a length as well", "has 1020",
    "is not the stock", "the file is missing", "leaves nothing of the back",
    "for bottom, dividers", "back: stock is missing", "lies over several", "behind the one front",
)  # fmt: skip
WRONG_SHAPES = [
    text
    for text, messages in BAD_CABINETS.items()
    if not any(words in message for message in messages for words in KNOWN_BY_THE_READER_ALONE)
]


@pytest.mark.parametrize("text", [*WRONG_SHAPES, *list(BAD_LISTS)[:3]])
def test_a_cabinet_of_the_wrong_shape_does_not_keep_to_the_schema(text: str) -> None:
    assert not keeps_to_schema(text)
