"""Cabinets to draw: framed and frameless, high and low, with few and many openings."""

from __future__ import annotations

from typing import Final

import pytest
from jobs import read_well

from storystick.job.job import Job
from storystick.layout.cabinets.build import lay_out_cabinet
from storystick.layout.cabinets.pieces import CabinetLayout

HEAD: Final = """
title = "Cabinets"
units = "mm"
[stock]
ply = 18
back = 6
front = 20
box = 12
[joint.shelf]
kind = "housing"
depth = 6
"""
CHEST: Final = """
[[cabinet]]
name = "Chest"
height = 900
width = 1000
depth = 400
carcass = "ply"
joint = "shelf"
back = { stock = "back", rabbet_width = 12, rabbet_depth = 9 }
frame = { stock = "ply", stile = 40, top = 40, bottom = 50, rail = 30, mid_stile = 30, proud = { left = 5, right = 9 } }
fronts = { kind = "inset", reveal = 2 }
"""
TWELVE: Final = CHEST + "".join(
    f'[[cabinet.column]]\nwidth = "equal"\nopenings = {["equal"] * count}\n' for count in (6, 3, 3)
)
BOOKCASE: Final = """
[[cabinet]]
name = "Bookcase"
height = 2100
width = 900
depth = 320
carcass = "ply"
joint = "shelf"
back = { stock = "back", groove_depth = 6, groove_inset = 12 }
toe = { height = 90, recess = 60 }
edging = 8
fronts = { kind = "overlay", overlay = 8, reveal = 3 }
openings = [
  { opening = 600, name = "cupboard", front = "pair" },
  { opening = "equal", front = "none", adjustable = { shelves = 3, first = 100, front = 40, back = 40 } },
]
"""
LOW: Final = """
[[cabinet]]
name = "Low board"
height = 450
width = 2400
depth = 500
carcass = "ply"
joint = "shelf"
back = { stock = "back", laid_on = true }
plinth = { height = 60, recess = 40 }
[[cabinet.column]]
width = 300
openings = ["equal", "equal", "equal"]
[[cabinet.column]]
width = "equal"
openings = [{ opening = "equal", name = "record player, amplifier and all that goes with them" }]
[[cabinet.column]]
width = 40
openings = ["equal", "equal"]
"""
DOORS: Final = """
[[cabinet]]
name = "Base"
height = 800
width = 700
depth = 560
carcass = "ply"
joint = "shelf"
back = { stock = "back", groove_depth = 6, groove_inset = 12 }
plinth = { height = 100, recess = 50 }
fronts = { kind = "overlay", overlay = 8, reveal = 2, stock = "front" }
drawers = { stock = "box", side = 13, top = 6, bottom = 10, back = 20 }
[[cabinet.row]]
height = 450
openings = [{ opening = "equal", front = "pair" }]
[[cabinet.row]]
[[cabinet.row.column]]
openings = ["equal"]
[[cabinet.row.column]]
openings = ["equal"]
"""
SINGLE_DOORS: Final = """
[[cabinet]]
name = "Wall"
height = 700
width = 1200
depth = 320
carcass = "ply"
joint = "shelf"
fronts = { kind = "inset", reveal = 2, front = "door" }
column = [
  { openings = [{ opening = "equal", hinge = "left" }] },
  { openings = [{ opening = "equal", hinge = "right" }] },
  { openings = ["equal"] },
]
"""
PLAIN: Final = '[[cabinet]]\ncarcass = "ply"\njoint = "shelf"\n'
TOWER: Final = PLAIN + "height = 2300\nwidth = 300\ndepth = 300\nopenings = [{ graduated = 40, step = 1 }]\n"
BENCH: Final = PLAIN + "height = 300\nwidth = 9000\ndepth = 300\nopenings = ['equal', 'equal']\n"
BOX: Final = PLAIN + "height = 150\nwidth = 100\ndepth = 300\n"
ALL: Final = {
    "twelve openings": TWELVE,
    "bookcase with a toe space": BOOKCASE,
    "low board on a plinth": LOW,
    "base with doors and drawers": DOORS,
    "three doors": SINGLE_DOORS,
    "tower of forty drawers": TOWER,
    "long bench": BENCH,
    "small box": BOX,
}
each_cabinet = pytest.mark.parametrize("text", ALL.values(), ids=ALL.keys())


def made(text: str, job_head: str = HEAD) -> tuple[CabinetLayout, Job]:
    job = read_well(job_head + text)
    return lay_out_cabinet(job.cabinets[0], job.figures), job
