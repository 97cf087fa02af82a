"""Cabinets of every construction, for hypothesis: written as a job, read and laid out."""

from __future__ import annotations

from typing import Final

from hypothesis import strategies as st
from jobs import read_well

from storystick.job.job import Job
from storystick.layout.cabinets.build import lay_out_cabinet
from storystick.layout.cabinets.pieces import CabinetLayout, Piece

_HEAD: Final = """
title = "Cabinet"
units = "mm"
stock = { ply = 18, back = 6, thick = 22 }
[joint.housing]
kind = "housing"
depth = 5
[joint.tongue]
kind = "tongue"
width = 6
depth = 6
bottom_gap = 1
[joint.stopped]
kind = "housing"
depth = 5
stop = 10
[joint.butt]
kind = "butt"
[joint.dowels]
kind = "dowels"
# Less than half of a divider: a rail has no room for those opposite to stand aside.
depth = 8
[joint.rabbet]
kind = "rabbet"
depth = 9
"""
_BACKS: Final = (
    "",
    'back = { stock = "back", rabbet_width = 12, rabbet_depth = 9 }',
    'back = { stock = "back", groove_depth = 6, groove_inset = 12 }',
    'back = { stock = "back", laid_on = true }',
    'back = { stock = "back", laid_on = true, boards = { width = 90, joint = "shiplap", gap = 3 } }',
)
_FRAMED: Final = (
    'back = { stock = "ply", rabbet_width = 20, rabbet_depth = 9, framed = { stile = 60, rail = 70, panel = "back" } }'
)
_ON_ENDS: Final = 'back = { stock = "ply", rabbet_width = 18, rabbet_depth = 9, boards = { width = 120 } }'
"""A back that wants a bottom and a top that end before it, as those between the sides do."""

_ON_SHELVES: Final = (
    'back = { stock = "back", rabbet_width = 12, rabbet_depth = 9, parts = 2 }',
    'back = { stock = "back", laid_on = true, after_painting = true, parts = 2 }',
)
"""Backs that want a shelf from side to side."""

_FRAMES: Final = (
    "",
    "edging = 8",
    'frame = { stock = "ply", stile = 40, top = 40, bottom = 40, rail = 30, mid_stile = 30 }',
    'frame = { stock = "ply", stile = 40, top = 40, bottom = 40, tenon = 7, joint = "tongue" }',
)
_MOVED: Final = (
    'frame = { stock = "ply", stile = { left = 50, right = 40 }, top = { width = 40, edge = { proud = 5 } }, '
    'bottom = { width = 45, edge = "flush" }, rail = 30, to_floor = true, tenon = 7, joint = "tongue" }'
)
"""A frame by whose edges top and bottom are moved, as only those between the sides can be."""

_BETWEEN: Final = ('"shelf"', '"rail"', '"nothing"', '{ kind = "web frame", width = 40 }')
_BASES: Final = (
    "",
    "plinth = { height = 80, recess = 40 }",
    'plinth = { height = 80, recess = 30, ends = "both", loose = true }',
    'plinth = { height = 80, recess = 10, ends = "right" }',
    "toe = { height = 80, recess = 40 }",
    'toe = { height = 80, recess = 40, board = "ply" }',
    'toe = { height = 80, recess = 40, board = { place = "over" }, ends = "left" }',
    'toe = { height = 80, recess = 40, board = "ply", ends = "both" }',
)


_CLOSED: Final = (
    "",
    'fronts = { kind = "inset", stock = "back", reveal = 2, front = "door" }',
    'fronts = { kind = "inset", stock = "thick", reveal = 2, front = "door" }',
    'fronts = { kind = "overlay", outside = 2, reveal = 3, front = "door" }',
)
"""Fronts that lie before the case, or reach into it as far as its frame or farther."""


def piece_called(layout: CabinetLayout, name: str) -> Piece:
    return next(piece for piece in layout.pieces if piece.name == name)


@st.composite
def built_cabinets(draw: st.DrawFn, added: bool = False) -> CabinetLayout:
    """Top and bottom over or between, shelves or dividers through, every back, base and frame; with ``added`` cleats
    or corner blocks.
    """
    layout, _ = draw(built_jobs(added=added))
    return layout


@st.composite
def built_jobs(draw: st.DrawFn, added: bool = False) -> tuple[CabinetLayout, Job]:
    joint = draw(st.sampled_from(["housing", "butt"] if added else ["housing", "tongue", "stopped", "butt", "dowels"]))
    dividers_through = draw(st.booleans())
    base = draw(st.sampled_from(_BASES))
    top, bottom = draw(_ends(joint)), draw(_ends(joint))
    ends = (top,) if "toe" in base else (top, bottom)
    # A rabbet is at the end of its side, where an end that a frame moves is not; and a base that ends inside the sides
    # carries only a bottom that lies on it.
    movable = "ends" not in base and all("between" in end and "rabbet" not in end for end in ends)
    frames = (*_FRAMES, _MOVED) if movable else _FRAMES
    rows = 1 if dividers_through else draw(st.integers(1, 3))
    backs = [
        *_BACKS,
        _FRAMED,
        *(_ON_SHELVES if rows > 1 else ()),
        *([_ON_ENDS] if all("between" in end for end in ends) else ()),
    ]
    lines = [
        f'[[cabinet]]\nname = "Case"\nheight = {draw(st.integers(900, 2200))}\nwidth = {draw(st.integers(900, 2000))}',
        f"depth = {draw(st.integers(250, 600))}\ncarcass = 'ply'\njoint = '{joint}'",
        f"top = {{ {top} }}",
        f"bottom = {{ {bottom} }}" if "toe" not in base else "",
        "through = 'dividers'" if dividers_through else "",
        *(draw(st.sampled_from(choice)) for choice in (backs, frames)),
        base,
        draw(st.sampled_from(_CLOSED)),
    ]
    if rows == 1:
        # Between bands with other columns a divider ends on what stands there, which not everything carries.
        lines.append(f"between = {draw(st.sampled_from(_BETWEEN))}")
        lines += [draw(_column_with_front(count)) for count in draw(_counts)]
    for _ in range(rows if rows > 1 else 0):
        lines.append("[[cabinet.row]]\nheight = 'equal'" + draw(st.sampled_from(["", "", "\nfront = 'pair'"])))
        lines += [_column("cabinet.row.column", count) for count in draw(_counts)]
    if added:
        lines.insert(2, draw(st.sampled_from(_added(joint, rows, top, base))))
    job = read_well(_HEAD + "\n".join(lines))
    return lay_out_cabinet(job.cabinets[0], job.figures), job


@st.composite
def _column_with_front(draw: st.DrawFn, count: int) -> str:
    """One front over a whole column, or over fixed shelves in its lowest opening; often neither."""
    plain = _column("cabinet.column", count)
    shelved = plain.replace("['equal'", "[{ opening = 'equal', inside = [60, 'equal'] }", 1)
    return draw(st.sampled_from([plain, plain, f"{plain}\nfront = 'pair'", f"{plain}\nfront = 'none'", shelved]))


def _added(joint: str, rows: int, top: str, base: str) -> list[str]:
    """What may be glued into a case of this kind: cleats under what is butted, corner blocks under the top."""
    butted = joint == "butt"
    blocks = ", ".join(['"top"', *(['"plinth"'] if "plinth" in base else [])])
    at = [*(['"shelves"'] if butted and rows > 1 else []), *(['"top"'] if butted and "rabbet" not in top else [])]
    cleats = [f"cleats = {{ width = 25, setback = 10, at = [{', '.join(at)}] }}"] if at else []
    return [f"corner_blocks = {{ size = 50, at = [{blocks}] }}", *cleats]


_counts: Final = st.lists(st.integers(1, 4), min_size=1, max_size=4)


@st.composite
def _ends(draw: st.DrawFn, joint: str) -> str:
    """How a top or a bottom meets the sides."""
    place = draw(st.sampled_from(["between", "over"]))
    return f'place = "{place}", joint = "{draw(st.sampled_from([joint, "rabbet"]))}"'


def _column(table: str, count: int) -> str:
    return f"[[{table}]]\nwidth = 'equal'\nopenings = {['equal'] * count}"
