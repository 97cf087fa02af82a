"""Jobs that print much, of our own devising: a wall of six, a bank of thirty drawers, and any number of cabinets."""

from __future__ import annotations

from typing import Final

_HEAD: Final = """
title = "{title}"
units = "{units}"

[stock]
ply = {ply}
frame = {frame}
back = {back}
front = {front}
box = {box}

[joint.shelf]
kind = "tongue"
width = {tongue}
depth = {tongue}
"""
_INCH: Final = {
    "units": "inch",
    "ply": '"23/32"',
    "frame": '"3/4"',
    "back": '"1/4"',
    "front": '"3/4"',
    "box": '"1/2"',
    "tongue": '"1/4"',
}
_MM: Final = {"units": "mm", "ply": 18.3, "frame": 20, "back": 6, "front": 19, "box": 12, "tongue": 6}
_USUAL: Final = """carcass = "ply"
joint = "shelf"
back = { stock = "back", rabbet_width = "1/4 in", rabbet_depth = "3/8 in" }
"""
_DRAWERS: Final = 'drawers = { stock = "box", side = "1/2 in", top = "1/4 in", bottom = "1/8 in", back = "1 in" }\n'

_FRAME: Final = 'frame = { stock = "frame", stile = "1 1/2", top = "1 1/2", bottom = "1 1/2", rail = "1" }\n'
_FRONTS: Final = 'fronts = { kind = "inset", stock = "front", reveal = "1/16" }\n'
_BASE: Final = """
[[cabinet]]
name = "Base {number}"
height = "34 1/2"
width = "30"
depth = "23 1/4"
toe = {{ height = "4", recess = "3" }}
openings = ["6", "9", {{ opening = "equal" }}]
"""
_SINK: Final = """
[[cabinet]]
name = "Sink"
height = "34 1/2"
width = "36"
depth = "23 1/4"
toe = { height = "4", recess = "3" }
openings = [{ opening = "equal", front = "pair" }, { opening = "5 1/2", front = "none" }]
"""
_SHELVES: Final = '{ shelves = 2, first = "5", pitch = "1 1/4", front = "2", back = "2" }'
_DOORS: Final = """
[[cabinet]]
name = "Doors {number}"
height = "34 1/2"
width = "24"
depth = "23 1/4"
toe = {{ height = "4", recess = "3" }}
openings = [{{ opening = "equal", front = "door", adjustable = {shelves} }}, "5 1/2"]
"""


def wall_of_six() -> str:
    """Six cabinets of three kinds along a wall: three of drawers, one for a sink, and one of doors at either end."""
    kinds = [_DOORS.format(number=1, shelves=_SHELVES), _BASE.format(number=1), _BASE.format(number=2), _SINK]
    kinds += [_BASE.format(number=3), _DOORS.format(number=2, shelves=_SHELVES)]
    names = ("Doors 1", "Base 1", "Base 2", "Sink", "Base 3", "Doors 2")
    order = "\n".join(f'  {{ cabinet = "{name}" }},' for name in names)
    run = f"""
[run]
name = "North wall"
length = "176"
order = [
  {{ filler = "equal" }},
{order}
  {{ filler = "equal" }},
]
features = [{{ at = "88", name = "sink waste" }}]
"""
    cabinets = "".join(kind + _USUAL + _FRAME + _FRONTS + _DRAWERS for kind in kinds)
    return _HEAD.format(title="North wall", **_INCH) + cabinets + run


def thirty_drawers() -> str:
    """A case of five columns of six drawers."""
    column = '\n[[cabinet.column]]\nopenings = ["equal", "equal", "equal", "equal", "equal", "equal"]'
    case = '\n[[cabinet]]\nname = "Bank"\nheight = "36"\nwidth = "60"\ndepth = "18"\n'
    frame = _FRAME.replace("}", ', mid_stile = "1" }')
    return _HEAD.format(title="Thirty drawers", **_INCH) + case + _USUAL + frame + _FRONTS + _DRAWERS + 5 * column


def many_cabinets(number: int, kinds: int) -> str:
    """So many cabinets of so many kinds, each kind with its own width and openings."""
    text = [_HEAD.format(title=f"{number} cabinets", **_MM)]
    for place in range(number):
        kind = place % kinds
        openings = ", ".join(["150"] * (1 + kind % 3) + ['"equal"'])
        text.append(
            f'\n[[cabinet]]\nname = "Unit {place + 1}"\nheight = 870\nwidth = {400 + 50 * kind}\ndepth = 560\n'
            "toe = { height = 100, recess = 60 }\n"
        )
        text.append(_USUAL + 'fronts = { kind = "inset", stock = "front", reveal = 2 }\n' + _DRAWERS)
        text.append(f"openings = [{openings}]\n")
    return "".join(text)
