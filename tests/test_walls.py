"""Walls against geometry of their own: corners seen from above, floors, backs, countertops, and what is warned of."""

from __future__ import annotations

import json
import tomllib
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from typing import Any, Final

import jsonschema
import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st
from jobs import read, read_well
from strategies import lengths

from storystick.cli import main
from storystick.cutting.run_parts import all_parts
from storystick.drawing.cabinet_sheet import CabinetSheet
from storystick.drawing.projection import STANDARD_SCALES
from storystick.drawing.shapes import WIDE_MM, Box, Line, Rect, Text, extent
from storystick.drawing.wall_sheet import WallSheet
from storystick.errors import Faults
from storystick.job.corners import Corner, CornerKind
from storystick.job.features import FloorPoint
from storystick.job.job import Job
from storystick.job.openings import Share
from storystick.job.runs import CabinetPlace, PieceKind, Run, RunPiece
from storystick.job.sticks import Datum
from storystick.laying_out import lay_out
from storystick.layout.cabinets.pieces import Range
from storystick.layout.runs import Placed, RunLayout, lay_out_runs
from storystick.layout.stations import Layout
from storystick.layout.walls.behind import behind_cabinets
from storystick.layout.walls.floor import falls_at, gaps_under
from storystick.layout.walls.tops import tops_of
from storystick.lengths import Units
from storystick.sheets.pages.cabinets import drawing_blocks
from storystick.sheets.pages.flow import Room
from storystick.sheets.pages.runs import run_blocks
from storystick.sheets.pages.wall_notes import wall_notes
from storystick.sheets.pages.walls import wall_blocks

SCHEMA: Final[dict[str, Any]] = json.loads(
    (Path(__file__).parent.parent / "shared" / "job.schema.json").read_text(encoding="utf-8")
)
STOCK: Final = 'units = "mm"\nstock = { ply = 18, back = 6, front = 19, top = 30 }\n'
EQUAL: Final = Share(Fraction(1))


def cabinet(name: str, width: object, depth: object = 560, height: object = 720, more: str = "") -> str:
    return (
        f'[[cabinet]]\nname = "{name}"\nheight = "{height}"\nwidth = "{width}"\ndepth = "{depth}"\ncarcass = "ply"\n'
        f'openings = ["equal"]\nback = {{ stock = "back", laid_on = true }}\n{more}\n'
    )


OVERLAY: Final = 'fronts = { kind = "overlay", stock = "front", overlay = 16, reveal = 3, front = "door" }'


@dataclass(frozen=True)
class Oblong:
    """What something takes of the floor, seen from above: the corner at 0, 0, one wall along x, the other along y."""

    left: Fraction
    right: Fraction
    near: Fraction
    far: Fraction

    def meets(self, other: Oblong) -> bool:
        across = min(self.right, other.right) > max(self.left, other.left)
        return across and min(self.far, other.far) > max(self.near, other.near)


@st.composite
def corners(draw: st.DrawFn) -> Job:
    """Two walls of some cabinets each that meet in a corner of any kind, at either end, from either datum."""
    kind = draw(st.sampled_from(CornerKind))
    end = draw(st.sampled_from((Datum.LEFT, Datum.RIGHT)))
    rows: list[list[str]] = []
    text = STOCK
    for wall in ("A", "B"):
        depth = draw(lengths(200, 650))
        names = []
        for number in range(draw(st.integers(1, 3))):
            names.append(f"{wall}{number}")
            front = draw(st.sampled_from(("", OVERLAY)))
            text += cabinet(names[-1], f"{draw(lengths(300, 900))} mm", f"{depth} mm", more=front)
        rows.append(names)
    job = read_well(text)
    cabinets = {each.name: each for each in job.cabinets}
    corner = Corner("B", kind, end, draw(lengths(0, 120)), Fraction(40), draw(lengths(0, 200)))
    if kind is CornerKind.DIAGONAL:
        corner = replace(corner, pull=Fraction(0), leg=draw(lengths(700, 1000)), other_leg=draw(lengths(700, 1000)))
    if kind is CornerKind.FILLER:
        corner = replace(corner, pull=Fraction(0))
    runs = []
    for number, (name, names) in enumerate(zip("AB", rows, strict=True), start=1):
        order = [*(CabinetPlace(cabinets[each]) for each in names), RunPiece(PieceKind.FILLER, EQUAL)]
        at_left = (end if name == "A" else corner.other_end) is Datum.LEFT
        datum = draw(st.sampled_from((Datum.LEFT, Datum.RIGHT)))
        if (datum is Datum.LEFT) is not at_left:
            order.reverse()
        runs.append(Run(number, name, Fraction(6000), datum, tuple(order), corners=(corner,) if name == "A" else ()))
    return replace(job, runs=tuple(runs))


def from_corner(placed: Placed, run: RunLayout, end: Datum) -> tuple[Fraction, Fraction]:
    """From where to where something lies along its wall, counted from the end that the corner is at."""
    start, stop = placed.span.start, placed.span.end
    return (start, stop) if run.run.datum is end else (run.run.length - stop, run.run.length - start)


def deep(placed: Placed) -> Fraction:
    """How far it stands out from the wall, by hand: the depth, and 19 for an overlay front."""
    assert isinstance(placed.item, CabinetPlace)
    return placed.item.cabinet.depth + (19 if placed.item.cabinet.fronts else 0)


@given(corners())
def test_no_cabinet_of_one_wall_stands_in_one_of_the_other(job: Job) -> None:
    one, other = lay_out_runs(job)
    (corner,) = one.run.corners
    along_y = [
        Oblong(Fraction(0), deep(placed), *from_corner(placed, one, corner.end))
        for placed in one.standing
        if isinstance(placed.item, CabinetPlace)
    ]
    along_x = [
        Oblong(*from_corner(placed, other, corner.other_end), Fraction(0), deep(placed))
        for placed in other.standing
        if isinstance(placed.item, CabinetPlace)
    ]
    assert len(along_y) + len(along_x) == len(job.cabinets)
    nearest = min(along_y, key=lambda each: each.near), min(along_x, key=lambda each: each.left)
    # Only what is next to the corner is reckoned with: what stands farther off may be deeper, and is not asked here.
    assert not nearest[0].meets(nearest[1])


@given(corners())
def test_a_corner_takes_what_was_asked_and_no_more(job: Job) -> None:
    """The first cabinet of each wall from the corner, by its own sum."""
    one, other = lay_out_runs(job)
    (corner,) = one.run.corners
    first, met = (
        min(from_corner(placed, run, end) for placed in run.standing if isinstance(placed.item, CabinetPlace))[0]
        for run, end in ((one, corner.end), (other, corner.other_end))
    )
    nearest = {
        run.run.name: deep(
            min((p for p in run.standing if isinstance(p.item, CabinetPlace)), key=lambda p: from_corner(p, run, end))
        )
        for run, end in ((one, corner.end), (other, corner.other_end))
    }
    filler = corner.filler
    wanted = {
        CornerKind.BLIND: (nearest["B"] + filler, corner.pull),
        CornerKind.FILLER: (nearest["B"] + filler, nearest["A"] + filler),
        CornerKind.DIAGONAL: (corner.leg, corner.other_leg),
    }[corner.kind]
    assert (first, met) == wanted


def test_a_wall_between_two_others_gives_way_at_one_end_and_is_met_at_the_other() -> None:
    text = STOCK + "".join(cabinet(name, 600) for name in ("West", "North", "East"))
    text += '[[run]]\nname = "w"\nlength = 2000\norder = [{ filler = "equal" }, { cabinet = "West" }]\n'
    text += (
        '[[run]]\nname = "n"\nlength = 3000\norder = [{ cabinet = "North" }, { filler = "equal" }]\n'
        'corner = { with = "w", kind = "blind", filler = 60 }\n'
    )
    text += (
        '[[run]]\nname = "e"\nlength = 2000\norder = [{ cabinet = "East" }, { filler = "equal" }]\n'
        'corner = { with = "n", kind = "filler" }\n'
    )
    west, north, east = lay_out_runs(read_well(text))
    assert [span.end for span in west.along.spans] == [1400, 2000]
    assert [(span.name, span.start) for span in north.along.spans] == [
        ("corner with w", 0),
        ("corner filler", 560),
        ("North", 620),
        ("filler 2", 1220),
        ("corner filler", 3000 - 560 - 50),
        ("corner with e", 3000 - 560),
    ]
    # What is next to the corner in the middle wall is no cabinet but a filler; the cabinet beyond it says the depth.
    assert [span.start for span in east.along.spans] == [0, 560, 610, 1210]


@st.composite
def floors(draw: st.DrawFn) -> tuple[FloorPoint, ...]:
    stations = draw(st.lists(lengths(0, 3000), min_size=1, max_size=5, unique=True))
    falls = [draw(lengths(0, 30)) for _ in stations]
    falls[draw(st.integers(0, len(falls) - 1))] = Fraction(0)
    return tuple(FloorPoint(at, fall) for at, fall in zip(stations, falls, strict=True))


def by_two_points(low: FloorPoint, high: FloorPoint, at: Fraction) -> Fraction:
    """The line through two points in two-point form, cleared of its slope: (y - y1)(x2 - x1) = (y2 - y1)(x - x1)."""
    return (low.falls * (high.at - at) + high.falls * (at - low.at)) / (high.at - low.at)


@given(floors(), lengths(0, 3000))
def test_a_floor_is_straight_between_two_places_and_level_beyond_them(
    floor: tuple[FloorPoint, ...], at: Fraction
) -> None:
    run = Run(1, "wall", Fraction(3000), Datum.LEFT, (RunPiece(PieceKind.FILLER, EQUAL),), floor=floor)
    below = max((point for point in floor if point.at <= at), key=lambda point: point.at, default=None)
    above = min((point for point in floor if point.at >= at), key=lambda point: point.at, default=None)
    if below is None or above is None:
        only = above or below
        assert only is not None
        assert falls_at(run, at) == only.falls
    else:
        assert falls_at(run, at) == (below.falls if below is above else by_two_points(below, above, at))


@given(floors(), lengths(1, 1400), lengths(1, 1400), st.sampled_from((Datum.LEFT, Datum.RIGHT)))
def test_what_is_open_under_a_cabinet_is_the_floor_at_its_ends_and_nowhere_more(
    floor: tuple[FloorPoint, ...], start: Fraction, width: Fraction, datum: Datum
) -> None:
    job = read_well(STOCK + cabinet("Base", "40"))
    base = replace(job.cabinets[0], width=width)
    order = (RunPiece(PieceKind.FILLER, RunPiece(PieceKind.GAP, EQUAL).size), CabinetPlace(base))
    run = Run(1, "wall", start + width, datum, order, floor=tuple(p for p in floor if p.at <= start + width))
    if not run.floor:
        return
    (laid_out,) = lay_out_runs(replace(job, cabinets=(base,), runs=(run,)))
    gap = next(gap for gap in gaps_under(laid_out) if isinstance(gap.placed.item, CabinetPlace))
    ends = falls_at(run, start), falls_at(run, start + width)
    assert gap.from_left(laid_out) == (ends if datum is Datum.LEFT else ends[::-1])
    tried = [falls_at(run, start + width * step / 64) for step in range(65)]
    assert gap.most >= max(tried)
    assert gap.most in {*ends, *(point.falls for point in run.floor)}


@given(lengths(0, 500), lengths(1, 590), lengths(1, 700), st.sampled_from((Datum.LEFT, Datum.RIGHT)), st.booleans())
def test_a_feature_comes_on_the_back_where_it_is_on_the_wall(
    before: Fraction, x: Fraction, height: Fraction, datum: Datum, upper: bool
) -> None:
    """Seen from the room, all in one picture: the wall's left end at 0 and the floor at 0."""
    hung = Fraction(1400) if upper else Fraction(0)
    order = f'[{{ gap = "{before + 1} mm" }}, {{ cabinet = "C" }}, {{ gap = "equal" }}]'
    text = STOCK + cabinet("C", 600) + f'[run]\nlength = 3000\ndatum = "{datum.value}"\n'
    text += (
        f"uppers = {{ bottom = 1400, order = {order} }}\norder = [{{ gap = 'equal' }}]\n"
        if upper
        else f"order = {order}\n"
    )
    # The feature is x from the cabinet's left as it is seen.
    left = before + 1 if datum is Datum.LEFT else 3000 - (before + 1) - 600
    at = left + x if datum is Datum.LEFT else 3000 - (left + x)
    text += f'features = {{ at = "{at} mm", height = "{hung + height} mm", name = "socket" }}\n'
    layout = lay_out(read_well(text))
    (found,) = behind_cabinets(layout.runs[0], layout.cabinets)
    assert (found.left, found.right, found.up) == (x, 600 - x, height)
    outside = x <= 18 or x >= 600 - 18 or height <= 18 or height >= 720 - 18
    assert bool(found.meets) is outside


def test_a_socket_behind_a_shelf_or_two_cabinets_is_warned_of() -> None:
    shelved = cabinet("A", 600).replace('["equal"]', '["351", "equal"]') + cabinet("B", 600)
    text = STOCK + shelved + "[run]\nname = 'w'\nlength = 1200\norder = [{ cabinet = 'A' }, { cabinet = 'B' }]\n"
    text += "features = [{ at = 300, height = 380, across = 60, name = 'socket' }, "
    text += "{ at = 600, height = 100, name = 'pipe' }]\n"
    warnings = [warning for warning in lay_out(read_well(text)).warnings if " comes behind " in warning]
    assert warnings == [
        "w: socket, 300 along the wall and 380 up, comes behind the shelf 1 of A: move one of them, or notch what is "
        "before it",
        "w: pipe, 600 along the wall and 100 up, comes behind the right side of A: move one of them, or notch what is "
        "before it",
        "w: pipe, 600 along the wall and 100 up, comes behind the left side of B: move one of them, or notch what is "
        "before it",
    ]


TWO: Final = STOCK + cabinet("Base", 600) + cabinet("Tall", 600, height=2100) + cabinet("Wall", 600, 300)


def wall(order: str, more: str = "", length: int = 2000) -> str:
    return TWO + f"[run]\nname = 'w'\nlength = {length}\norder = [{order}]\n{more}\n"


WARNED: Final = {
    wall(
        "{ gap = 300 }, { cabinet = 'Base' }, { gap = 'equal' }",
        "features = { from = 700, to = 1500, bottom = 600, top = 2000, name = 'window' }",
    ): 'w: cabinet "Base" stands before window by 200: that goes from 700 to 1500 along the wall and from 600 up',
    wall(
        "{ gap = 'equal' }",
        "features = { from = 700, to = 1500, bottom = 900, name = 'window' }\n"
        "uppers = { top = 2200, order = [{ gap = 700 }, { cabinet = 'Wall' }, { gap = 'equal' }] }",
    ): 'w: cabinet "Wall" hangs before window by 600: that goes from 700 to 1500 along the wall and from 900 up',
    wall("{ filler = 15 }, { cabinet = 'Base' }, { gap = 'equal' }"): (
        "w: filler 1 comes out 15 wide, less than 20: it is hard to fasten and to scribe; make it wider, or give its "
        "width to a cabinet"
    ),
    wall("{ filler = 15 }, { cabinet = 'Base' }, { gap = 'equal' }", "least_filler = 15"): "",
    wall("{ gap = 'equal' }, { cabinet = 'Base' }, { filler = 200, name = 'far' }"): (
        'w: filler "far" comes out 200 wide, more than 150: a wider cabinet, or fillers at both ends, would use the '
        "wall better"
    ),
    wall("{ filler = 30 }, { gap = 'equal' }, { cabinet = 'Base' }, { filler = 200, name = 'far' }"): (
        'w: filler "far" comes out 200 wide, more than 150: a wider cabinet would use the wall better'
    ),
    wall("{ gap = 'equal' }, { cabinet = 'Base' }, { filler = 200 }", "most_filler = 200"): "",
    wall("{ gap = 'equal' }, { cabinet = 'Base' }, { scribe = 8 }"): (
        "w: scribe 1 comes out 8 wide, less than 12: it takes up little of a wall that is out of true; leave it more"
    ),
    wall("{ gap = 'equal' }, { cabinet = 'Base' }, { scribe = 8 }", "least_scribe = 8"): "",
}


@pytest.mark.parametrize(("text", "warning"), WARNED.items(), ids=range(len(WARNED)))
def test_what_should_be_looked_at_is_told(text: str, warning: str) -> None:
    assert lay_out(read_well(text)).warnings == ((warning,) if warning else ())


def test_a_front_against_a_wall_is_warned_of_and_one_behind_a_filler_is_not() -> None:
    """An overlay of 16 over a side of 18 ends 2 from the case's outside."""
    text = STOCK + cabinet("Base", 600, more=OVERLAY) + "[run]\nname = 'w'\nlength = 1000\norder = "
    against = lay_out(read_well(text + "[{ cabinet = 'Base' }, { gap = 'equal' }]"))
    assert against.warnings == (
        'w: the fronts of "Base" come to 2 from the left wall, less than 20: doors and drawers there want room to '
        "open; put a filler between",
    )
    assert lay_out(read_well(text + "[{ filler = 20 }, { cabinet = 'Base' }, { gap = 'equal' }]")).warnings == ()
    assert lay_out(read_well(text + "[{ gap = 5 }, { cabinet = 'Base' }, { gap = 'equal' }]")).warnings == ()


BLIND: Final = """
[[cabinet]]
name = "Blind"
height = 720
width = 1100
depth = 560
carcass = "ply"
fronts = { kind = "overlay", stock = "front", overlay = 9, reveal = 2, front = "door" }
column = [
  { width = 500, openings = ["equal"] },
  { width = "equal", openings = [{ opening = "equal", front = "none" }] },
]
[[run]]
name = "n"
length = 2000
order = [{ filler = "equal" }, { cabinet = "Blind" }]
"""


def blind(corner: str) -> Layout:
    more = '[[run]]\nname = "e"\nlength = 1000\norder = [{ cabinet = "Base" }, { filler = "equal" }]\n'
    text = STOCK + cabinet("Base", 300, more=OVERLAY) + BLIND + more
    return lay_out(
        read_well(text + f'corner = {{ with = "n", kind = "blind", {corner} }}\nleast_filler = 0\nmost_filler = 999\n')
    )


def test_a_blind_cabinets_front_has_to_begin_clear_of_the_other_row() -> None:
    """Its door ends 18 + 500 + 9 = 527 from its left, so it begins 1100 - 527 = 573 from the corner end.

    The other row stands out 560 + 19 = 579: all of that is hidden without a pull, and handles take 40 more.
    """
    (warning,) = (each for each in blind("filler = 60").warnings if each.startswith("e:"))
    assert warning == (
        'e: the front of "opening 1" of "Blind" begins 573 from its end in the corner, of which e hides 579: with room '
        "for handles it has to begin at 619 or beyond"
    )
    assert not [each for each in blind("filler = 60, pull = 46").warnings if each.startswith("e:")]
    assert [each for each in blind("filler = 60, pull = 45").warnings if each.startswith("e:")]
    (narrow,) = (each for each in blind("filler = 30, pull = 60").warnings if each.startswith("e:"))
    assert narrow.endswith("make the filler 40")


@pytest.mark.parametrize(
    ("order", "tops"),
    [
        ("{ cabinet = 'Base' }, { gap = 'equal' }", [(0, 2000)]),
        ("{ cabinet = 'Base' }, { gap = 'equal', countertop = false }", [(0, 610)]),
        (
            "{ gap = 700, countertop = false }, { cabinet = 'Base' }, { gap = 'equal', countertop = false }",
            [(690, 1310)],
        ),
        ("{ filler = 40 }, { cabinet = 'Base' }, { cabinet = 'Tall' }, { gap = 'equal' }", [(0, 640)]),
        ("{ cabinet = 'Tall' }, { gap = 'equal' }", []),
        ("{ cabinet = 'Tall' }, { cabinet = 'Base' }, { filler = 'equal' }", [(600, 2000)]),
    ],
)
def test_a_countertop_goes_over_bases_and_ends_at_what_is_higher(order: str, tops: list[tuple[int, int]]) -> None:
    more = "countertop = { stock = 'top', overhang = 25, end = 10, height = 720 }"
    (run,) = lay_out_runs(read_well(wall(order, more)))
    found = list(tops_of(run, (run,)))
    assert [(top.x.start, top.x.end) for top in found] == tops
    assert all((top.depth, top.z.start, top.z.size) == (585, 720, 30) for top in found)


TOP: Final = "countertop = { stock = 'top', overhang = 25 }"


@given(corners())
def test_tops_of_two_walls_lie_over_their_cabinets_and_not_over_each_other(job: Job) -> None:
    """Seen from above; over a diagonal cabinet both are mitred, so both take the square of the corner."""
    rule = read_well(wall("{ gap = 'equal' }, { cabinet = 'Base' }", TOP)).runs[0].countertop
    runs = lay_out_runs(replace(job, runs=tuple(replace(run, countertop=rule) for run in job.runs)))
    (corner,) = runs[0].run.corners
    oblongs = []
    for run, end in zip(runs, (corner.end, corner.other_end), strict=True):
        (top,) = tops_of(run, runs)
        assert all(placed in top.over for placed in run.standing if isinstance(placed.item, CabinetPlace))
        assert top.depth == 25 + max(deep(each) for each in run.standing if isinstance(each.item, CabinetPlace))
        ends = (top.x.start, top.x.end)
        near, far = ends if run.run.datum is end else (run.length - ends[1], run.length - ends[0])
        along_y = run is runs[0]
        oblongs.append(
            Oblong(Fraction(0), top.depth, near, far) if along_y else Oblong(near, far, Fraction(0), top.depth)
        )
        assert far == 6000
        assert along_y or near == 0
    assert oblongs[0].meets(oblongs[1]) is (corner.kind is CornerKind.DIAGONAL)
    if corner.kind is not CornerKind.DIAGONAL:
        assert oblongs[0].near == oblongs[1].far, "one butts against the front edge of the other"


def test_wall_units_make_corners_of_their_own_depth() -> None:
    """Bases 560 deep and wall units 300 deep meet in a corner closed by fillers of 50."""
    uppers = "uppers = { top = 2100, order = [{ cabinet = '%s' }, { gap = 'equal' }]%s }\n"
    corner = ", corner = { with = 'n', kind = 'filler' }"
    text = TWO + cabinet("Base 2", 600) + cabinet("Wall 2", 600, 330)
    text += "[[run]]\nname = 'n'\nlength = 2000\ndatum = 'right'\norder = [{ cabinet = 'Base' }, { gap = 'equal' }]\n"
    text += uppers % ("Wall", "") + "[[run]]\nname = 'e'\nlength = 2000\n"
    text += "order = [{ cabinet = 'Base 2' }, { gap = 'equal' }]\ncorner = { with = 'n', kind = 'blind' }\n"
    text += uppers % ("Wall 2", corner)
    north, east = lay_out_runs(read_well(text))
    assert north.hung is not None
    assert east.hung is not None
    assert [span.start for span in north.along.spans] == [0, 600]
    assert [span.start for span in east.along.spans] == [0, 560, 610, 1210]
    assert [span.start for span in north.hung.spans] == [0, 330, 380, 980]
    assert [span.start for span in east.hung.spans] == [0, 300, 350, 950]
    assert {placed.z for placed in east.hanging if isinstance(placed.item, CabinetPlace)} == {Range(1380, 2100)}


def test_what_follows_along_a_wall_is_listed_with_where_each_of_several_stands(tmp_path: Path) -> None:
    text = STOCK + cabinet("Base", 600, more="count = 2")
    text += "[run]\nname = 'w'\nlength = 1200\norder = [{ cabinet = 'Base' }, { cabinet = 'Base' }]\n"
    text += "features = [{ at = 900, height = 300, name = 'socket' }]\n"
    text += "floor = [{ at = 0, falls = 0 }, { at = 1200, falls = 12 }]\n"
    text += "countertop = { stock = 'top', overhang = 25 }\n"
    path = tmp_path / "job.toml"
    path.write_text(text, encoding="utf-8")
    lines = CliRunner().invoke(main, ["marks", str(path)]).output.splitlines()
    told = [line.split() for line in lines]
    assert ["Base,", "from", "600", "to", "1200", "socket", "300", "300", "300"] in told
    assert ["Base", "0", "6", "6"] in told
    assert ["Base", "6", "12", "12"] in told
    assert ["top:", "at", "the", "wall;", "at", "the", "wall", "0", "1200", "1200", "585", "30"] in told


CORNER: Final = "[[run]]\nname = 'v'\nlength = 2000\norder = [{ gap = 'equal' }, { cabinet = 'Tall' }]\n"
BAD: Final = {
    wall("{ gap = 'equal' }", "features = { from = 30, to = 20, name = 'window' }"): (
        "features, to: to is not beyond from; give the edge that is nearer the datum as from."
    ),
    wall("{ gap = 'equal' }", "features = { from = 30, to = 50, bottom = 9, top = 9, name = 'window' }"): (
        "features, top: top is not above bottom; give both from the high point of the floor, or leave out top."
    ),
    wall("{ gap = 'equal' }", "features = { at = 30, to = 50, name = 'window' }"): (
        'features: at and to stand in one table; what has two edges is { from = …, to = …, name = "…" }.'
    ),
    wall("{ gap = 'equal' }", "features = { to = 50, name = 'window' }"): (
        "features: from is missing; add from = …, a length."
    ),
    wall("{ gap = 'equal' }", "floor = [{ at = 0, falls = 3 }, { at = 9, falls = 1 }]"): (
        "floor: nowhere does the floor fall 0; take the least off each: all is from the high point."
    ),
    wall("{ gap = 'equal' }", "floor = [{ at = 0, falls = 0 }]\nfloor_fall = 3"): (
        "floor_fall stands beside floor; leave floor_fall out: floor says it place by place."
    ),
    wall("{ gap = 'equal' }", "floor = [{ at = 0, falls = 0 }, { at = 0, falls = 3 }]"): (
        "floor: two places of the floor are at one station; give one of them."
    ),
    wall("{ gap = 'equal' }", "uppers = { order = [{ gap = 'equal' }] }"): (
        "uppers: wall units hang by one level; give bottom or top, one of them."
    ),
    wall("{ gap = 'equal' }", "corner = { with = 'x', kind = 'blind' }"): (
        'corner, with: "x" is not a run of this job; allowed here: w; or add it under [run].'
    ),
    wall("{ gap = 'equal' }", "corner = { with = 'w', kind = 'diagonal', pull = 3 }"): (
        'corner: a corner of kind "diagonal" has no pull; leave it out, or say "blind".'
    ),
    wall("{ gap = 'equal' }", "corner = [{ with = 'w', kind = 'blind' }, { with = 'w', kind = 'filler' }]"): (
        'corner: two corners are at one end; give one at = "left" and the other at = "right".'
    ),
}


@pytest.mark.parametrize(("text", "fault"), BAD.items(), ids=range(len(BAD)))
def test_what_cannot_be_said_of_a_wall_is_told_with_its_place(text: str, fault: str) -> None:
    _, faults = read(text)
    assert any(each.startswith('job.toml, run 1 ("w")') and each.endswith(f" {fault}") for each in faults), faults


UNFIT: Final = {
    wall("{ gap = 'equal' }", "floor = [{ at = 0, falls = 0 }, { at = 2001, falls = 3 }]"): (
        'run 1 ("w"), floor: a place at 2001 lies beyond the wall of 2000; move it nearer the datum.'
    ),
    wall("{ gap = 'equal' }", "features = { from = 300, to = 2001, name = 'door' }"): (
        'run 1 ("w"): "door" at 2001 lies beyond the wall of 2000; move it nearer the datum.'
    ),
    wall(
        "{ cabinet = 'Tall' }, { gap = 'equal' }",
        "uppers = { bottom = 1400, order = [{ gap = 500 }, { cabinet = 'Wall' }, { gap = 'equal' }] }",
    ): (
        'run 1 ("w"), uppers: "Wall" hangs from 1400 up, where "Tall" stands 2100 high; hang it beside or over that, '
        "with a gap in their order over what is so high."
    ),
    wall("{ gap = 'equal' }", "uppers = { bottom = 1400, order = [{ gap = 1500 }, { cabinet = 'Wall' }] }"): (
        'run 1 ("w"), uppers: the run comes to 2100, 100 more than the wall of 2000; no filler could give so much: '
        "make cabinets, panels or gaps narrower."
    ),
    wall("{ gap = 'equal' }", "corner = { with = 'w', kind = 'blind' }"): (
        'run 1 ("w"), corner, with: a run makes no corner with itself; name the run on the other wall.'
    ),
    wall("{ gap = 'equal' }", "corner = { with = 'v', kind = 'filler' }").replace("[run]", "[[run]]") + CORNER: (
        'run 1 ("w"), corner, with: "w" has no cabinet next to the corner; add one, or leave the corner out.'
    ),
    wall("{ cabinet = 'Base' }, { gap = 'equal' }", "corner = { with = 'v', kind = 'diagonal', leg = 560 }").replace(
        "[run]", "[[run]]"
    )
    + CORNER: (
        'run 1 ("w"), corner, leg: a leg of 560 leaves no front: what stands on the other wall is 560 deep; make it '
        "more than 560."
    ),
    wall("{ cabinet = 'Base' }, { gap = 'equal' }", "corner = { with = 'v', kind = 'blind' }", length=1200).replace(
        "[run]", "[[run]]"
    )
    + CORNER: (
        'run 1 ("w"): no room is left for gap 1: the rest comes to 1210, 10 more than the wall of 1200; filler "corner '
        'filler" could give 10: make it less than 40.'
    ),
}


@pytest.mark.parametrize(("text", "fault"), UNFIT.items(), ids=range(len(UNFIT)))
def test_what_does_not_fit_along_a_wall_is_told_with_its_place(text: str, fault: str) -> None:
    with pytest.raises(Faults) as caught:
        lay_out(read_well(text))
    assert fault in str(caught.value).splitlines()


@pytest.mark.parametrize("text", [*UNFIT, *WARNED], ids=range(len(UNFIT) + len(WARNED)))
def test_walls_that_read_well_keep_to_the_schema(text: str) -> None:
    assert not list(jsonschema.Draft202012Validator(SCHEMA).iter_errors(tomllib.loads(text)))


def hand_job(name: str) -> Layout:
    shared = Path(__file__).parent.parent / "shared" / "hand_constructions.toml"
    return lay_out(read_well(tomllib.loads(shared.read_text("utf-8"))[name]["job"]))


def test_a_wall_is_drawn_to_one_scale() -> None:
    """In the hand-worked kitchen, at 1/32: fillers 3 wide from 0, and 34 1/2 high; the wall unit's top at 84."""
    layout = hand_job("kitchen_corner")
    run = layout.runs[0]
    sheet = WallSheet(run, layout.runs, {each.cabinet.name: each for each in layout.cabinets}, layout.job.figures)
    scale = next(scale for scale in STANDARD_SCALES[Units.INCH] if scale.factor == Fraction(1, 32))
    drawing = sheet.draw(scale)
    unit = 25.4 / 32
    (filler,) = (shape for shape in drawing.drawn if isinstance(shape, Box) and 0.8 < shape.grey < 0.9)
    assert (filler.width, filler.height) == (pytest.approx(3 * unit), pytest.approx(34.5 * unit))
    whites = [shape for shape in drawing.drawn if isinstance(shape, Box) and shape.grey == 1.0]
    floor = filler.y
    for left, width, foot, height in ((3, 24, 0, 34.5), (27, 30, 0, 34.5), (75, 42, 0, 34.5), (27, 30, 54, 30)):
        wanted = (left * unit, foot * unit, width * unit, height * unit)
        found = ((box.x - filler.x, box.y - floor, box.width, box.height) for box in whites)
        assert any(each == pytest.approx(wanted) for each in found), (left, foot)
    wide = [shape for shape in drawing.drawn if isinstance(shape, Line) and shape.width_mm == WIDE_MM]
    low, high = (line for line in wide if line.y1 != line.y2 and abs(line.x2 - line.x1) > 30)
    assert (floor - low.y1, floor - low.y2) == (pytest.approx(unit / 2), pytest.approx(0.0, abs=1e-9))
    assert (floor - high.y1, floor - high.y2) == (pytest.approx(0.0, abs=1e-9), pytest.approx(unit * 3 / 4))
    assert low.x2 - filler.x == pytest.approx(48 * unit)


def test_the_sheet_of_a_wall_names_all_that_stands_and_hangs_there_with_its_figures() -> None:
    layout = hand_job("kitchen_corner")
    blocks = list(wall_blocks(layout, Room(190.0, 250.0)))
    pages = [block for block in blocks if block.starts_page]
    assert len(pages) == 2
    words = {shape.text for shape in pages[0].shapes if isinstance(shape, Text)}
    assert words >= {"Drawers", "Sink", "dishwasher", "Blind", "Upper", "outlet", "1/2 low", "high point"}
    assert words >= {"120", "42", "18", "34 1/2", "54"}
    assert {"corner with North wall", "Range base", "24", "30", "60"} <= {
        shape.text for shape in pages[1].shapes if isinstance(shape, Text)
    }
    told = " ".join(shape.text for block in blocks for shape in block.shapes if isinstance(shape, Text))
    for sentence in (
        "21 of its front are hidden",
        "begin 22 1/2 from its end",
        "Countertop 120 × 25 × 1 1/2",
        "35 × 25",
    ):
        assert sentence in told


@pytest.mark.parametrize("size", [(190.0, 250.0), (120.0, 160.0), (260.0, 170.0)])
def test_a_wall_fits_its_page_at_every_size(size: tuple[float, float]) -> None:
    for job in ("kitchen_corner", "diagonal_corner"):
        for block in wall_blocks(hand_job(job), Room(*size)):
            reach = extent(block.shapes)
            assert reach.left >= -0.5
            assert reach.right <= size[0] + 0.5
            assert block.height_mm <= size[1]


def test_a_socket_is_crossed_on_the_drawing_of_the_cabinet_before_it_unless_words_stand_there() -> None:
    """In the hand-worked kitchen: 9 from the left of Drawers, 16 up of 34 1/2, 3 across; drawn at 1/8."""
    layout = hand_job("kitchen_corner")
    drawers = next(each for each in layout.cabinets if each.cabinet.name == "Drawers")
    on_wall = tuple(behind_cabinets(layout.runs[0], [drawers]))
    scale = next(scale for scale in STANDARD_SCALES[Units.INCH] if scale.factor == Fraction(1, 8))
    inch = 25.4 / 8
    plain, crossed = (CabinetSheet(drawers, layout.job.figures, each).draw(scale) for each in ((), on_wall))
    more = [line for line in crossed.drawn if isinstance(line, Line) and line not in plain.drawn]
    left, top = crossed.front
    slanting = [line for line in more if line.x1 != line.x2 and line.y1 != line.y2]
    words = [shape.reach() for shape in plain.drawn if isinstance(shape, Text)]
    x, y = left + 9 * inch, top - (34.5 - 16) * inch
    covered = any(Rect(x, y, x, y).wider(1.5 * inch).meets(place) for place in words)
    assert len(slanting) == (0 if covered else 2)
    moved_up = tuple(replace(each, z=each.z - 8 * Fraction(127, 5)) for each in on_wall)
    free = CabinetSheet(drawers, layout.job.figures, moved_up).draw(scale)
    added = [line for line in free.drawn if isinstance(line, Line) and line not in plain.drawn]
    for line in (line for line in added if line.x1 != line.x2 and line.y1 != line.y2):
        assert ((line.x1 + line.x2) / 2, (line.y1 + line.y2) / 2) == (pytest.approx(x), pytest.approx(y - 8 * inch))
    assert len(added) == 6


@pytest.mark.parametrize(("level", "wanted"), [("top = 2200", (1480, 2200)), ("bottom = 1400", (1400, 2120))])
def test_wall_units_have_fillers_and_levels_of_their_own(level: str, wanted: tuple[int, int]) -> None:
    """No filler of a wall is called as another, and units 720 high hang between two levels."""
    row = "[{ filler = 'equal' }, { cabinet = 'Base' }, { filler = 'equal' }]"
    text = STOCK + cabinet("Base", 600, more="count = 2") + f"[run]\nname = 'w'\nlength = 700\norder = {row}\n"
    layout = lay_out(read_well(f"{text}uppers = {{ {level}, order = {row} }}\n"))
    (run,) = layout.runs
    fillers = [placed.span.name for placed in run.placed if placed.item.word == "filler"]
    assert fillers == ["filler 1", "filler 2", "filler 3", "filler 4"]
    assert run.heights
    found = {point.name: point.at for point in run.heights.points}
    assert (found["wall unit bottom"], found["wall unit top"]) == wanted
    page = list(run_blocks(layout, 182.0))
    rows = [[shape for shape in block.shapes if isinstance(shape, Text)] for block in page]
    (both,) = (texts for texts in rows if {"filler 1", "filler 3"} <= {text.text for text in texts})
    place = {text.text: (text.x, text.y) for text in both}
    assert place["filler 1"][1] == place["filler 3"][1]
    assert place["filler 1"][0] < 91 < place["filler 3"][0]


def test_toe_boards_are_listed_as_wide_as_the_floor_under_their_cabinets_asks() -> None:
    """The floor falls 12 over 1200: by 6 under the first base, by 12 under the second, whose boards are of one row."""
    toe = 'toe = { height = 100, recess = 50, board = "ply" }'
    text = STOCK + cabinet("A", 600, more=toe) + cabinet("B", 600, more=toe)
    order = "[{ cabinet = 'A' }, { cabinet = 'B' }]"
    run = f"[run]\nname = 'w'\nlength = 1200\norder = {order}\n"
    job = read_well(f"{text}{run}floor = [{{ at = 0, falls = 0 }}, {{ at = 1200, falls = 12 }}]\n")
    layout = lay_out(job)
    boards = [part for part in all_parts(layout, job.figures) if part.name == "toe board"]
    assert [part.width for part in boards] == [106, 112]
    assert [part.notes[0].split(":")[0] for part in boards] == [
        f"{more} of the width is for the floor, which falls there" for more in (6, 12)
    ]
    (run_layout,) = layout.runs
    told = [words for words, _ in wall_notes(run_layout, layout)]
    assert not [words for words in told if words.startswith("A toe board along all of it")]
    level = lay_out(read_well(text + run))
    assert [part.width for part in all_parts(level, job.figures) if part.name == "toe board"] == [100, 100]


def test_the_floor_is_drawn_under_what_stands_and_not_under_what_hangs() -> None:
    """A line twice as wide as the others, level, wider than the cabinet, at its foot."""
    text = STOCK + cabinet("Low", 600) + cabinet("High", 500, height=700)
    run = "[run]\nlength = 2000\norder = [{ cabinet = 'Low' }, { gap = 'equal' }]\n"
    layout = lay_out(
        read_well(f"{text}{run}uppers = {{ top = 2200, order = [{{ cabinet = 'High' }}, {{ gap = 'equal' }}] }}\n")
    )
    floors = []
    for page in drawing_blocks(layout.cabinets, layout.job, Room(182.0, 250.0), layout.runs):
        lines = [shape for shape in page.shapes if isinstance(shape, Line) and shape.width_mm == WIDE_MM]
        uprights = [line for line in lines if line.x1 == line.x2]
        foot = min(min(line.y1, line.y2) for line in uprights if abs(line.y1 - line.y2) > 50.0)
        level = [line for line in lines if line.y1 == line.y2 and abs(line.y1 - foot) < 0.5]
        floors.append(len({round(abs(line.x2 - line.x1), 3) for line in level}))
    assert floors[0] == floors[1] + 2
