"""Cabinets in place: outer sizes kept, parts that agree wherever they meet, and what cannot be built."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Final

import pytest
from built_cabinets import piece_called
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st
from jobs import GALLERY_JOBS

from storystick.cli import main
from storystick.cutting.parts import cutting_list
from storystick.errors import StorystickError
from storystick.job.sources import Source
from storystick.laying_out import load, load_sources
from storystick.layout.cabinets.pieces import Axis, CabinetLayout, End, Role
from storystick.layout.stations import Layout, SpanKind

CHEST: Final = """
title = "Specimen chest"
units = "inch"
stock = {{ ply = "{ply}", frame = "{frame}", back = "{back}" }}
joint.shelf = {{ kind = "tongue", width = "1/4", depth = "1/4", bottom_gap = "1/64" }}
joint.front = {{ kind = "tongue", width = "1/4", depth = "3/16" }}

[[cabinet]]
name = "Chest"
height = "36"
width = "40"
depth = "22"
carcass = "ply"
joint = "shelf"
back = {{ stock = "back", rabbet_width = "3/8", rabbet_depth = "3/8" }}
frame = {{ stock = "frame", stile = "2", top = "1 1/2", bottom = "2", rail = "ply", joint = "front", tenon = "1/4" }}
row = [
  {{ height = "8" }},
  {{ height = "equal", column = [
    {{ width = "equal", openings = ["equal", "equal", "equal"] }},
    {{ width = {{ share = 2 }}, openings = [{{ graduated = 4, ratio = "6/5", name = "drawer" }}] }},
  ] }},
]
"""


def laid_out(text: str) -> Layout:
    return load_sources([Source("chest.toml", text.encode())])


def chest(ply: str = "23/32", frame: str = "3/4", back: str = "1/4") -> Layout:
    return laid_out(CHEST.format(ply=ply, frame=frame, back=back))


def outer(cabinet: CabinetLayout, axis: Axis) -> tuple[Fraction, Fraction]:
    ranges = [piece.along(axis) for piece in cabinet.pieces]
    return min(found.start for found in ranges), max(found.end for found in ranges)


# The least and most that US PS 1 allows a panel of the 23/32 category: 0.688 and 0.750 in; of the 1/4: 0.219 and 0.281.
THICKNESSES: Final = st.tuples(
    st.fractions(min_value=Fraction(688, 1000), max_value=Fraction(3, 4), max_denominator=2000),
    st.fractions(min_value=Fraction(3, 4), max_value=Fraction(1), max_denominator=64),
    st.fractions(min_value=Fraction(219, 1000), max_value=Fraction(281, 1000), max_denominator=2000),
)


@given(THICKNESSES)
def test_outer_sizes_are_kept_exactly_whatever_the_thicknesses(
    thicknesses: tuple[Fraction, Fraction, Fraction],
) -> None:
    (cabinet,) = chest(*map(str, thicknesses)).cabinets
    inch = Fraction(127, 5)
    assert outer(cabinet, Axis.X) == (0, 40 * inch)
    assert outer(cabinet, Axis.Z) == (0, 36 * inch)
    start, end = outer(cabinet, Axis.Y)
    assert start == 0
    assert end == 22 * inch


@given(THICKNESSES)
def test_parts_end_to_end_along_each_stick_sum_to_its_length(thicknesses: tuple[Fraction, Fraction, Fraction]) -> None:
    for stick in chest(*map(str, thicknesses)).sticks:
        assert stick.spans[0].start == 0
        assert all(one.end == other.start for one, other in zip(stick.spans, stick.spans[1:], strict=False))
        assert sum(span.size for span in stick.spans) == stick.length


@given(THICKNESSES)
def test_every_shelf_meets_the_same_height_in_side_divider_and_frame(
    thicknesses: tuple[Fraction, Fraction, Fraction],
) -> None:
    layout = chest(*map(str, thicknesses))
    (cabinet,) = layout.cabinets
    sticks = {stick.name: stick for stick in layout.sticks}
    divider = piece_called(cabinet, "divider 1")
    foot = divider.z.start - divider.low.beyond
    for side, face, stile in (
        ("Chest left side", "Chest divider 1, left face", "Chest left stile"),
        ("Chest right side", "Chest divider 1, right face", "Chest right stile"),
    ):
        heights = {span.name: (span.start, span.end) for span in sticks[side].spans}
        on_divider = [span for span in sticks[face].spans if span.name in heights and span.start > 0]
        assert len([span for span in on_divider if span.kind is SpanKind.PART]) >= 3
        for span in on_divider[1:-1]:
            assert (span.start + foot, span.end + foot) == heights[span.name]
        rails = {span.name.removeprefix("rail at "): (span.start, span.end) for span in sticks[stile].spans}
        shelves = [name for name in heights if name.startswith("shelf")]
        assert all(rails[name] == heights[name] for name in shelves)


def test_one_thickness_moves_every_mark_that_depends_on_it_and_no_overall_size() -> None:
    before, after = chest(ply="23/32"), chest(ply="11/16")
    thinner = Fraction(1, 32) * Fraction(127, 5)
    sides = [next(stick for stick in layout.sticks if stick.name == "Chest left side") for layout in (before, after)]
    assert sides[0].length == sides[1].length
    one, other = ({span.name: span for span in side.spans} for side in sides)
    assert one["bottom"].end - other["bottom"].end == thinner
    assert one["shelf 1"].start - other["shelf 1"].start == thinner
    assert one["shelf 1"].end - other["shelf 1"].end == 2 * thinner
    assert other["top"].start - one["top"].start == thinner
    # Five levels share 36 in with the openings; three of those share what the lower ones leave, so each gains 5/3.
    assert other["opening 2"].size - one["opening 2"].size == Fraction(5, 3) * thinner
    lengths = [layout.cabinets[0].at_end(End.BOTTOM)[0].length for layout in (before, after)]
    assert lengths[1] - lengths[0] == 2 * thinner


def test_rails_are_aligned_as_the_frame_says() -> None:
    text = CHEST.format(ply="23/32", frame="3/4", back="1/4")
    for align, share in (("top", Fraction(1)), ("centre", Fraction(1, 2)), ("bottom", Fraction(0))):
        (cabinet,) = laid_out(text.replace('rail = "ply"', f'rail = "1 1/2", align = "{align}"')).cabinets
        shelf, rail = piece_called(cabinet, "shelf 1"), piece_called(cabinet, "rail at shelf 1")
        more = rail.z.size - shelf.z.size
        assert shelf.z.start - rail.z.start == share * more
        assert rail.z.end - shelf.z.end == (1 - share) * more


def test_frame_stands_proud_of_the_sides_within_the_overall_width() -> None:
    text = CHEST.format(ply="23/32", frame="3/4", back="1/4").replace("tenon", 'proud = "1/4", tenon')
    (cabinet,) = laid_out(text).cabinets
    inch = Fraction(127, 5)
    assert outer(cabinet, Axis.X) == (0, 40 * inch)
    assert cabinet.case.x.start == inch / 4
    assert cabinet.case.x.end == 40 * inch - inch / 4


def test_top_and_bottom_may_lie_over_the_sides() -> None:
    text = CHEST.format(ply="23/32", frame="3/4", back="1/4")
    (cabinet,) = laid_out(text + 'top = { place = "over" }\nbottom = { place = "over" }\n').cabinets
    side, (top,), (bottom,) = cabinet.sides[0], cabinet.at_end(End.TOP), cabinet.at_end(End.BOTTOM)
    assert top.shoulder_length == cabinet.case.x.size
    assert (side.z.start, side.z.end) == (bottom.z.end, top.z.start)
    assert side.length == side.shoulder_length + 2 * Fraction(15, 64) * Fraction(127, 5)


def test_dividers_may_run_through() -> None:
    column = 'column = [{ width = "equal", openings = ["equal", "equal"] }, { width = "equal" }]'
    text = CHEST.format(ply="23/32", frame="3/4", back="1/4")
    start = text.index("row = [")
    text = text[:start] + f'through = "dividers"\nrow = [{{ height = "8", {column} }}, {{ {column} }}]\n'
    (cabinet,) = laid_out(text).cabinets
    (divider,) = cabinet.of(Role.DIVIDER)
    assert divider.z == cabinet.case.inside_z
    assert {shelf.low.on and shelf.low.on.name for shelf in cabinet.of(Role.SHELF)} == {"left side", "divider 1"}
    assert {shelf.high.on and shelf.high.on.name for shelf in cabinet.of(Role.SHELF)} == {"right side", "divider 1"}


SIMPLE: Final = """
title = "Case"
units = "mm"
stock = {{ ply = 18, thin = 6, thick = 12 }}
joint.deep = {{ kind = "housing", depth = 18 }}
joint.half = {{ kind = "housing", depth = 9 }}
joint.six = {{ kind = "housing", depth = 7 }}
joint.wide = {{ kind = "tongue", width = 8, depth = 6 }}
joint.end = {{ kind = "rabbet", depth = 6 }}

[[cabinet]]
name = "Case"
height = 700
width = 600
depth = 300
carcass = "ply"
{more}
"""
TWO_COLUMNS: Final = 'column = [{ openings = ["equal", "equal"] }, { openings = ["equal", "equal"] }]'

IMPOSSIBLE: Final = {
    "openings that come to more than the height": (
        "openings = [400, 400]",
        "parts and openings come to 818, 154 more than length 664; change a size, or let one opening be",
    ),
    "an opening that comes to nothing": (
        'openings = [646, "equal"]',
        "no room is left for the openings that share it: the rest comes to 664 of length 664",
    ),
    "a row too high": (
        'row = [{ height = 650 }, { height = "equal" }]',
        "no room is left for the openings that share it: the rest comes to 668 of length 664",
    ),
    "columns wider than the case": (
        "column = [{ width = 400 }, { width = 200 }]",
        "parts and openings come to 618, 54 more than length 564",
    ),
    "sides thicker than the width": (
        'sides = "wall"',
        "width 600 is taken up by the parts: nothing is left inside; make the width more, or the parts thinner",
    ),
    "a groove deeper than its part": (
        'joint = "deep"',
        'the groove for "bottom" is 18 deep, but "left side" is 18 thick; make the joint\'s depth less',
    ),
    "grooves that meet inside a divider": (
        f'joint = "half"\n{TWO_COLUMNS}',
        'the grooves for "shelf 1" and "shelf 2" meet inside "divider 1": they are 18 deep together',
    ),
    "a groove wider than the part": (
        'joint = "wide"\nshelves = { stock = "thin" }\nopenings = ["equal", "equal"]',
        '"shelf 1" is 6 thick, but its joint wants a groove to 7 of that',
    ),
    "a rabbet away from an end": (
        'shelves = { joint = "end" }\nopenings = ["equal", "equal"]',
        '"shelf 1" is in a rabbet, but not at an end of "left side"; give it a housing',
    ),
    "a back rabbet through the side": (
        'back = { stock = "thin", rabbet_width = 8, rabbet_depth = 18 }',
        "the back's rabbet is 18 deep, but a side is 18 thick; make it less deep",
    ),
    "a back that will not enter its rabbet": (
        'back = { stock = "thick", rabbet_width = 8, rabbet_depth = 9 }',
        "12 thick",
    ),
    "a frame that closes an opening": (
        'frame = { stock = "ply", stile = 40, top = 400, bottom = 400 }',
        'the face frame closes opening "opening 1": its members overlap by 100 there',
    ),
    "stiles that meet": (
        'frame = { stock = "ply", stile = 300, top = 40, bottom = 40 }',
        "the face frame closes",
    ),
    "a rail narrower than its groove": (
        'frame = { stock = "ply", stile = 40, top = 40, bottom = 40, rail = 4, joint = "wide" }\n'
        'openings = ["equal", "equal"]',
        'the member of the frame before "shelf 1" is 4 wide and does not cover the groove for its tongue, '
        "which is 8 wide; make the member wider, or align it otherwise",
    ),
    "a tenon through its stile": (
        'frame = { stock = "ply", stile = 40, top = 40, bottom = 40, tenon = 60 }',
        'the mortise for "bottom rail" is 60 deep, but "left stile" is 40 wide; make the frame\'s tenon less',
    ),
    "tenons that meet in a mid stile": (
        f'frame = {{ stock = "ply", stile = 40, top = 40, bottom = 40, mid_stile = 40, tenon = 20 }}\n{TWO_COLUMNS}',
        'the mortises for "rail at shelf 1" and "rail at shelf 2" meet inside "mid stile at divider 1": they are 40',
    ),
    "a stile that stands beside its side": (
        'frame = { stock = "ply", stile = 20, top = 40, bottom = 40, proud = 30 }',
        "a stile is 20 wide and stands 30 proud, so it does not reach its side",
    ),
    "a toe space under a bottom that lies under the sides": (
        'bottom = { place = "over" }\ntoe = { height = 80, recess = 50 }',
        "the bottom lies under the sides, so there is no toe space",
    ),
    "a plinth set back to the wall": (
        'plinth = { stock = "ply", height = 80, recess = 270 }',
        "the recess of 270 leaves nothing of the depth, of which 264 can be had; make the recess less than 264",
    ),
    "a plinth set back at both ends till nothing is left": (
        'plinth = { height = 80, recess = 285, ends = "both" }',
        "the recess of 285 leaves nothing of the width, of which 282 can be had; make the recess less than 282",
    ),
    "a toe board with a recess told from a frame that is not there": (
        'toe = { height = 80, recess = 50, board = "ply", recess_from = "frame" }',
        'recess_from = "frame", but the cabinet has no face frame; leave it out',
    ),
    "a toe board within the frame": (
        'toe = { height = 80, recess = 10, board = "ply", recess_from = "frame" }\n'
        'frame = { stock = "ply", stile = 40, top = 40, bottom = 40 }',
        "the recess of 10 from the face of the frame ends within the frame, which is 18 thick; make the recess 18 or",
    ),
    "toe boards at both ends that meet": (
        'toe = { height = 80, recess = 285, board = "ply", ends = "both" }',
        "the recess of 285 leaves nothing of the width, of which 282 can be had",
    ),
    "a groove for the back through the top": (
        'top = "thin"\nback = { stock = "thin", groove_depth = 8, groove_inset = 12 }',
        "the back's groove is 8 deep, but the top is 6 thick",
    ),
    "more adjustable shelves than holes": (
        "openings = [{ opening = 664, adjustable = { shelves = 30, first = 96, pitch = 32, front = 37, back = 60 } }]",
        'opening "opening 1" has room for 15 holes in a row, for 30 shelves',
    ),
    "holes before the front": (
        "openings = [{ opening = 664, adjustable = { shelves = 2, first = 96, pitch = 32, front = 250, back = 60 } }]",
        "has its rows of holes at 250 and 240 from the front, where the depth inside is 300",
    ),
    "a frame joined by a rabbet": (
        'frame = { stock = "ply", stile = 40, top = 40, bottom = 40, joint = "end" }',
        "the frame's joint is a rabbet, which is for the end of a part",
    ),
    "a divider between bands that nothing stands between": (
        'between = "nothing"\nrow = [{ column = [{}, {}] }, { column = [{}, {}, {}] }]',
        "a divider of row 1 has nothing to end on above it",
    ),
    "dividers and levels in a ring": (
        'through = "dividers"\nrow = [{ column = [{ width = 100 }, {}] }, { column = [{ width = 100 }, {}, '
        "{ width = 100 }] }, { column = [{}, { width = 100 }] }]",
        "shelves and dividers would end on each other in a ring, so that none of them can be the first",
    ),
}


@pytest.mark.parametrize("name", IMPOSSIBLE)
def test_impossible_cabinet_is_a_fault_with_its_figures(name: str) -> None:
    more, message = IMPOSSIBLE[name]
    text = SIMPLE.format(more=more).replace("thick = 12", "thick = 12, wall = 300")
    with pytest.raises(StorystickError) as caught:
        laid_out(text)
    assert message in str(caught.value)
    assert 'case.toml, cabinet 1 ("Case")' in str(caught.value).replace("chest.toml", "case.toml")


def test_thickness_in_mm_in_a_job_of_inches_is_told_so() -> None:
    job = 'units = "inch"\nstock = { ply = "18.3" }\n[[cabinet]]\nname = "Case"\nheight = 30\nwidth = 21\ndepth = 20\n'
    with pytest.raises(StorystickError) as caught:
        load_sources([Source("job.toml", f'{job}carcass = "ply"\n'.encode())])
    assert 'write a thickness in mm with its unit, such as "18.3 mm".' in str(caught.value)


def test_grooves_that_leave_little_of_a_divider_are_a_warning() -> None:
    (cabinet,) = laid_out(SIMPLE.format(more=f'joint = "six"\n{TWO_COLUMNS}')).cabinets
    assert cabinet.warnings == ("what is cut for shelf 1 and shelf 2 in both sides of divider 1 leaves 4 of 18",)


def test_many_grooves_that_leave_as_little_are_one_warning() -> None:
    columns = f"column = [{{ openings = {['equal'] * 9} }}, {{ openings = {['equal'] * 9} }}]".replace("'", '"')
    (cabinet,) = laid_out(SIMPLE.format(more=f'joint = "six"\n{columns}')).cabinets
    assert cabinet.warnings == ("what is cut for shelf 1–8 and shelf 9–16 in both sides of divider 1 leaves 4 of 18",)


def test_gallery_cabinets_are_laid_out_without_a_warning() -> None:
    for job in GALLERY_JOBS:
        assert load(job).warnings == ()


UNLIKE: Final = (
    'column = [{ openings = [{ opening = "equal", name = "left", adjustable = '
    "{ shelves = 1, first = 96, pitch = 32, front = 37, back = 60 } }] }, "
    '{ openings = [{ opening = "equal", name = "right", adjustable = '
    "{ shelves = 1, first = 130, pitch = 50, front = 50, back = 80 } }] }]"
)


def test_holes_are_struck_only_where_they_are_bored() -> None:
    layout = laid_out(SIMPLE.format(more=UNLIKE))
    depths = {stick.name: [(p.name, p.at) for p in stick.points] for stick in layout.sticks if "depth" in stick.name}
    assert depths == {
        "Case left side depth": [("left, front row", 37), ("left, back row", 240)],
        "Case right side depth": [("right, front row", 50), ("right, back row", 220)],
        "Case divider 1 depth, left face": [("left, front row", 37), ("left, back row", 240)],
        "Case divider 1 depth, right face": [("right, front row", 50), ("right, back row", 220)],
    }
    stiles = laid_out(SIMPLE.format(more='frame = { stock = "ply", stile = 40, top = 40, bottom = 40 }\n' + UNLIKE))
    assert all(not stick.points for stick in stiles.sticks if "stile" in stick.name)


def test_sides_that_are_bored_unlike_are_cut_apart() -> None:
    layout = laid_out(SIMPLE.format(more=UNLIKE))
    names = [part.name for part in cutting_list(layout.cabinets, layout.job.figures)]
    assert names[:2] == ["left side", "right side"]


def test_fronts_are_called_after_their_own_column() -> None:
    columns = 'column = [{ openings = [{ opening = "equal", front = "none" }] }, { openings = ["equal", "equal"] }]'
    layout = laid_out(SIMPLE.format(more='fronts = { kind = "inset", reveal = 2 }\n' + columns))
    assert [stick.name for stick in layout.sticks if "fronts" in stick.name] == ["Case fronts, column 2"]


def test_front_that_stands_out_beyond_the_cabinet_is_a_fault() -> None:
    with pytest.raises(StorystickError, match='the front of "opening 1" stands 22 out beyond the side of the cabinet'):
        laid_out(SIMPLE.format(more='fronts = { kind = "overlay", overlay = 40, reveal = 2 }'))


def test_pins_before_an_inset_door_are_a_fault() -> None:
    shelves = "adjustable = { shelves = 1, first = 96, front = 10, back = 60 }"
    text = f'fronts = {{ kind = "inset", reveal = 2, front = "door" }}\nopenings = [{{ opening = "equal", {shelves} }}]'
    with pytest.raises(StorystickError, match="begin 18 from the front, behind what closes it"):
        laid_out(SIMPLE.format(more=text))


def test_two_sticks_of_one_name_are_a_fault() -> None:
    stick = '\n[[stick]]\nname = "Case side"\npart = "ply"\nopenings = [100]\n'
    with pytest.raises(StorystickError, match='2 sticks are called "Case side"'):
        laid_out(SIMPLE.format(more="") + stick)


def test_check_says_what_should_be_looked_at(tmp_path: Path) -> None:
    (tmp_path / "case.toml").write_text(SIMPLE.format(more=f'joint = "six"\n{TWO_COLUMNS}'))
    result = CliRunner().invoke(main, ["check", str(tmp_path / "case.toml")])
    assert result.exit_code == 0
    assert "look at Case: what is cut for" in result.stderr
