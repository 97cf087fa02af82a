"""Fronts and drawer boxes: their sizes by hand, what they leave open, and those that have no room."""

from __future__ import annotations

import json
import tomllib
from fractions import Fraction
from pathlib import Path
from typing import Any, Final

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st
from jobs import read_well

from storystick.cutting.front import Front
from storystick.cutting.fronts import fronts_of
from storystick.cutting.parts import cutting_list, drawer_boxes
from storystick.errors import Fault, Faults
from storystick.job.fronts import FrontKind
from storystick.job.sources import Source
from storystick.laying_out import load_sources
from storystick.layout.cabinets.build import lay_out_cabinet
from storystick.layout.cabinets.pieces import FRAME_ROLES, CabinetLayout, Role
from storystick.lengths import INCH_MM, Figures, Units, read_length
from storystick.sheets.pages.front_words import tell_fronts

MM: Final = Figures.usual(Units.MM)

SHARED: Final = Path(__file__).parent.parent / "shared"
TEXTBOOK: Final[dict[str, Any]] = tomllib.loads((SHARED / "textbook_cabinet.toml").read_text(encoding="utf-8"))

HEAD: Final = 'units = "mm"\n[stock]\nply = 18\nframe = 20\nbox = 12\nback = 6\n'
CASE: Final = '[[cabinet]]\nname = "Case"\nheight = 836\nwidth = 636\ndepth = 400\ncarcass = "ply"\n'
BACK: Final = 'back = { stock = "back", rabbet_width = 8, rabbet_depth = 9 }\n'
FRAME: Final = 'frame = { stock = "frame", stile = 40, top = 50, bottom = 30, rail = 30 }\n'
TWO: Final = 'openings = ["equal", "equal"]\n'
DRAWERS: Final = 'drawers = { stock = "box", side = 13, top = 10, bottom = 6, back = 25 }\n'
WOOD: Final = '{ species = "Cherry, black", cut = "flat", made_at = 8, driest = 6, dampest = 12 }'


def laid_out(text: str, ply: Fraction = Fraction(18)) -> CabinetLayout:
    head = HEAD.replace("ply = 18", f'ply = "{ply}"')
    (cabinet,) = read_well(head + text).cabinets
    return lay_out_cabinet(cabinet, MM)


def fronts(text: str) -> tuple[Front, ...]:
    return fronts_of(laid_out(text), MM)


def sizes(text: str) -> list[tuple[Fraction, Fraction]]:
    return [(front.height, front.width) for front in fronts(text)]


def inset(words: str = "") -> str:
    return f'fronts = {{ kind = "inset", stock = "frame", reveal = 2{words} }}\n'


def overlay(overlay: str, words: str = "") -> str:
    return f'fronts = {{ kind = "overlay", stock = "frame", reveal = 3, overlay = {overlay}{words} }}\n'


def test_inset_drawer_fronts_leave_a_reveal_all_round() -> None:
    assert sizes(CASE + inset() + TWO) == [(387, 596), (387, 596)]


def test_inset_fronts_fill_the_openings_of_the_frame() -> None:
    # Frame openings: 636 - 2 x 40 = 556 wide. The shelf's top is at 18 + 391 + 18 = 427, its rail from 397 to 427:
    # the lower opening is 397 - 30 = 367 high, the upper one 836 - 50 - 427 = 359.
    assert sizes(CASE + FRAME + inset() + TWO) == [(363, 552), (355, 552)]


def test_pair_of_doors_has_one_reveal_between() -> None:
    (pair,) = fronts(CASE + inset(', front = "pair"'))
    assert (pair.kind, pair.count) == (FrontKind.PAIR, 2)
    assert (pair.height, pair.width) == (796, (600 - 3 * 2) / Fraction(2))
    # 18 of side, then 2 of reveal, 297 of leaf, 2, 297, 2.
    assert [(x.start, x.end) for x, _ in pair.leaves] == [(20, 317), (319, 616)]


def test_textbook_drawer_is_an_eighth_less_than_its_space() -> None:
    """Foster, Carpentry and Woodwork: the drawers of a tier total 1/8 in less than the space."""
    less = read_length(TEXTBOOK["drawers"]["less_than_space"], Units.INCH)
    layout = laid_out(CASE + 'fronts = { kind = "inset", stock = "frame", grade = "custom" }\n')
    (front,) = fronts_of(layout, MM)
    (bay,) = layout.bays
    assert bay.frame_z.size - front.height == less
    assert bay.frame_x.size - front.width == less


def test_overlay_fronts_reach_beyond_their_openings() -> None:
    assert sizes(CASE + overlay("7.5") + TWO) == [(406, 615), (406, 615)]


def test_overlay_pair_keeps_the_reveal_between_its_doors() -> None:
    (pair,) = fronts(CASE + overlay("15", ', front = "pair"'))
    assert (pair.height, pair.width) == (830, (630 - 3) / Fraction(2))
    (left, height), (right, _) = pair.leaves
    assert (right.start - left.end, right.end - left.start, height.size) == (3, 630, 830)


def test_openings_may_have_their_own_fronts_or_none() -> None:
    openings = 'openings = [{ opening = 200, front = "none" }, { opening = "equal", front = "door" }, "equal"]\n'
    found = fronts(CASE + inset() + openings)
    assert [(front.name, front.kind) for front in found] == [
        ("opening 2", FrontKind.DOOR),
        ("opening 3", FrontKind.DRAWER),
    ]


def test_adjustable_shelves_take_no_drawer_unasked() -> None:
    openings = 'openings = [{ opening = "equal", adjustable = { shelves = 1, first = 50, front = 37, back = 37 } }]\n'
    assert fronts(CASE + inset() + openings) == ()
    (door,) = fronts(CASE + inset(', front = "door"') + openings)
    assert door.kind is FrontKind.DOOR


def test_cabinet_without_fronts_has_none() -> None:
    assert fronts(CASE + TWO) == ()


def test_solid_drawer_front_moves_in_its_height() -> None:
    (front,) = fronts(CASE + inset(f", wood = {WOOD}"))
    assert front.width == 596
    assert front.height == 796 / (1 + Fraction("0.00248") * 4)
    assert front.season is not None
    assert front.season.dampest == 2
    assert front.season.made == 2 + (796 - front.height) / 2
    at_driest = front.height * (1 - Fraction("0.00248") * 2)
    assert front.season.driest == 2 + (796 - at_driest) / 2


def test_solid_door_moves_in_its_width() -> None:
    (pair,) = fronts(CASE + inset(f', front = "pair", wood = {WOOD}'))
    assert pair.height == 796
    assert pair.width == 297 / (1 + Fraction("0.00248") * 4)
    assert pair.season is not None
    assert pair.season.made == (600 - 2 * pair.width) / 3


def test_overlay_that_shrinks_off_its_opening_is_a_fault() -> None:
    with pytest.raises(Faults) as raised:
        fronts(CASE + overlay("1", f", wood = {WOOD}"))
    # 802 / (1 + 4 C) x (1 - 2 C) = 790.1835; and (800 + 2 x 5.982) x the same = 800.0007, but with 5.981 less than 800
    assert str(raised.value) == (
        'fronts: the drawer over opening "opening 1" shrinks to 790.2 scant across its grain and leaves a gap in the '
        "dry season; make the overlay more than 6."
    )
    assert len(fronts(CASE + overlay("5.982", f", wood = {WOOD}"))) == 1
    with pytest.raises(Faults):
        fronts(CASE + overlay("5.981", f", wood = {WOOD}"))


@pytest.mark.parametrize("given", ["1", "3", "5"])
def test_overlay_that_is_asked_for_does_not_depend_on_the_one_that_was_given(given: str) -> None:
    """By hand: a drawer 800 / 2 x (1.00992 / 0.99504 - 1) = 5.982, a pair of doors 600 / 2 x the same = 4.486."""
    for kind, least in (("drawer", "6"), ("pair", "4.5")):
        if Fraction(given) < Fraction(least):
            with pytest.raises(Faults, match=f"make the overlay more than {least}\\."):
                fronts(CASE + overlay(given, f', front = "{kind}", wood = {WOOD}').replace("reveal = 3", "reveal = 0"))


def test_unknown_wood_is_a_fault_of_the_fronts() -> None:
    with pytest.raises(Faults) as raised:
        fronts(CASE + inset(f", wood = {WOOD.replace('Cherry, black', 'Chery, black')}"))
    (fault,) = raised.value.faults
    assert fault.where == "fronts, wood, species"
    assert 'try "Cherry, black"' in fault.cure


def test_fronts_without_room_are_told_for_every_opening_at_once() -> None:
    openings = 'openings = [{ opening = 3, name = "slot" }, { opening = 4, name = "slit" }, "equal"]\n'
    with pytest.raises(Faults) as raised:
        fronts(CASE + inset() + openings)
    assert list(map(str, raised.value.faults)) == [
        f'fronts: a drawer has no room in opening "{name}": it is {size} high, and its reveals take 4; '
        "make the reveal less or the opening larger."
        for name, size in (("slot", 3), ("slit", 4))
    ]


def test_overlay_fronts_nearer_than_the_reveal_are_a_fault() -> None:
    with pytest.raises(Faults) as raised:
        fronts(CASE + overlay("8") + TWO)
    assert str(raised.value) == (
        'fronts: the fronts of "opening 1" and "opening 2" would stand only 2 apart, where a reveal of 3 '
        "is wanted; make the overlay 7.5 or less."
    )


def test_overlay_fronts_over_each_other_are_a_fault() -> None:
    with pytest.raises(Faults, match="would lie over each other by 2, where a reveal of 3 is wanted"):
        fronts(CASE + overlay("10") + TWO)


def test_overlay_fronts_side_by_side_are_held_apart_too() -> None:
    columns = "[[cabinet.column]]\n[[cabinet.column]]\n[[cabinet.column]]\n"
    with pytest.raises(Faults) as raised:
        fronts(CASE + overlay("8") + columns)
    assert str(raised.value) == (
        'fronts: the fronts of "opening 1" and "opening 2" would stand only 2 apart, where a reveal of 3 is wanted; 1 '
        "other pair of fronts is too near as well; make the overlay 7.5 or less."
    )
    assert len(fronts(CASE + overlay("7.5") + columns)) == 3


def test_fronts_over_each_other_are_one_fault_in_order_with_the_overlay_that_serves_all() -> None:
    """A column of two beside one of one, with a board of 18 between all: overlays of 12 lie 6 over each other."""
    columns = '[[cabinet.column]]\nopenings = [200, "equal"]\n[[cabinet.column]]\n'
    with pytest.raises(Faults) as raised:
        fronts(CASE + overlay("12") + columns)
    (fault,) = raised.value.faults
    assert fault.what == (
        'the fronts of "opening 1" and "opening 2" would lie over each other by 6, where a reveal of 3 is wanted; 2 '
        "other pairs of fronts are too near as well"
    )
    assert fault.cure == "make the overlay 7.5 or less"
    assert len(fronts(CASE + overlay("7.5") + columns)) == 3


def test_fronts_too_near_over_what_they_share_are_told_by_that_key() -> None:
    """A board of 18 with 8 over it from both sides leaves 2; (18 - 3) / 2 = 7.5 leaves the 3 that are wanted."""
    with pytest.raises(Faults) as raised:
        fronts(CASE + overlay("{ outside = 10, shared = 8 }") + TWO)
    assert str(raised.value) == (
        'fronts, overlay: the fronts of "opening 1" and "opening 2" would stand only 2 apart, where a reveal of 3 is '
        "wanted; make shared 7.5 or less."
    )
    assert len(fronts(CASE + overlay("{ outside = 10 }") + TWO)) == 2, "what is left out keeps the reveal"


def test_front_out_beyond_a_side_is_told_by_its_edge() -> None:
    table = "{ left = 10, right = 20, bottom = 5, top = 5 }"
    with pytest.raises(Faults) as raised:
        fronts(CASE + overlay(table))
    assert str(raised.value) == (
        'fronts, overlay: the front of "opening 1" stands 2 out beyond the side of the cabinet; make right 18 or less.'
    )


def test_front_that_shrinks_off_its_opening_is_told_by_its_edge() -> None:
    """By hand: 800 + 1 + 17 = 818 at 12 %, at 6 % 818 x 0.99504 / 1.00992 = 805.948: 12.052 lost, 6.026 at each edge.

    With x below it is (817 + x) x 0.0073669 = x, so x = 817 x 0.0073669 / 0.9926331 = 6.0635.
    """
    with pytest.raises(Faults) as raised:
        fronts(CASE + overlay("{ outside = 17, bottom = 1 }", f", wood = {WOOD}"))
    (fault,) = raised.value.faults
    assert (fault.where, fault.cure) == ("fronts, overlay", "make bottom more than 6.1")
    assert len(fronts(CASE + overlay("{ outside = 17, bottom = 6.07 }", f", wood = {WOOD}"))) == 1
    with pytest.raises(Faults):
        fronts(CASE + overlay("{ outside = 17, bottom = 6.06 }", f", wood = {WOOD}"))


def test_solid_fronts_up_to_gaps_that_shrink_off_are_told_to_move_less() -> None:
    """Of boards of 4 with a reveal of 3 only half a millimetre is lapped, which no key says."""
    rule = f'fronts = {{ kind = "overlay", stock = "frame", reveal = 3, outside = 1, wood = {WOOD} }}\n'
    with pytest.raises(Faults) as raised:
        fronts_of(laid_out(CASE + rule + TWO, ply=Fraction(4)), MM)
    assert {fault.cure for fault in raised.value.faults} == {
        "use quarter-sawn wood, a frame and panel or sheet goods, which move less"
    }


def test_solid_fronts_up_to_gaps_keep_them_at_the_dampest() -> None:
    """Two drawers in 836 with 2 at the outside and 3 between: (836 - 4 - 3) / 2 = 414.5 each at 12 %."""
    rule = f'fronts = {{ kind = "overlay", stock = "frame", reveal = 3, outside = 2, wood = {WOOD} }}\n'
    low, high = fronts(CASE + rule + TWO)
    assert [(front.z.start, front.z.end) for front in (low, high)] == [(2, Fraction("416.5")), (Fraction("419.5"), 834)]
    assert low.height == Fraction("414.5") / (1 + Fraction("0.00248") * 4)
    assert low.season is not None
    # The lap over the shelf, (18 - 3) / 2 = 7.5, is less than that over the bottom, 16.
    assert (low.season.word, low.season.dampest) == ("lap", Fraction("7.5"))
    assert low.season.made == Fraction("7.5") - (Fraction("414.5") - low.height) / 2


def test_solid_inset_fronts_with_nothing_between_are_told_by_the_gap_to_each_other() -> None:
    """Three in one hole of 800: reveals of 2 at its ends and between, (800 - 8) / 3 = 264 each at 12 %."""
    low, middle, high = fronts(CASE + inset(f", wood = {WOOD}") + 'between = "nothing"\nopenings = [266, 266, 268]\n')
    assert [front.z.size for front in (low, middle, high)] == [263, 264, 265]
    made = 264 / (1 + Fraction("0.00248") * 4)
    assert middle.height == made
    assert middle.season is not None
    assert low.season is not None
    assert (middle.season.word, middle.season.dampest, middle.season.made) == ("gap", 2, 2 + 264 - made)
    assert (low.season.word, low.season.dampest) == ("reveal", 2)


def test_solid_pair_over_a_column_moves_in_its_width() -> None:
    text = f'fronts = {{ kind = "inset", stock = "frame", reveal = 2, pair_gap = 1, wood = {WOOD} }}\n'
    (pair,) = fronts(CASE + text + '[[cabinet.column]]\nfront = "pair"\nopenings = [200, "equal"]\n')
    assert (pair.height, pair.count) == (796, 2)
    assert pair.width * (1 + Fraction("0.00248") * 4) == Fraction(600 - 2 * 2 - 1, 2)


def test_false_front_is_listed_by_its_name_with_its_grain_across_and_has_no_box() -> None:
    text = CASE + inset() + DRAWERS + 'openings = ["equal", { opening = 120, front = "false", name = "sink" }]\n'
    assert sizes(text)[1] == (116, 596)
    parts = {part.role: part for part in cutting_list((laid_out(text),), MM)}
    assert (parts["false front"].name, parts["false front"].length) == ("false front: sink", 596)
    (box,) = drawer_boxes(laid_out(text), MM)
    assert box.bay.name == "opening 1"


def test_shelves_behind_an_inset_front_begin_where_it_ends() -> None:
    """Behind a front of 20; behind a frame as thick as the front they are not set back; nor where all stays open."""
    opening = '{ opening = "equal", inside = ["equal", "equal"], front = "%s" }'

    def shelf(more: str, front: str = "door") -> tuple[Fraction, Fraction]:
        layout = laid_out(CASE + BACK + more + f"openings = [{opening % front}]\n")
        (found,) = layout.of(Role.SHELF)
        return found.y.start, found.y.end

    assert shelf(inset()) == (20, 392)
    assert shelf(inset() + "edging = 3\n") == (23, 392), "its own edging lies before it, 20 to 23"
    assert shelf(inset() + FRAME) == (20, 392)
    assert shelf(inset() + FRAME.replace('"frame", stile', '"box", stile')) == (20, 392), "a frame of 12"
    assert shelf(inset(), "none") == (0, 392)
    assert shelf(overlay("7.5")) == (0, 392)
    assert shelf(inset() + "shelves = { setback = 50 }\n") == (50, 392), "farther back, if it is said"


def test_frame_has_no_members_before_what_is_behind_one_front() -> None:
    columns = '[[cabinet.column]]\nfront = "pair"\nopenings = [200, "equal"]\n[[cabinet.column]]\n' + TWO
    layout = laid_out(CASE + FRAME + inset() + columns)
    covered = {piece.covers.name for piece in layout.of(*FRAME_ROLES) if piece.covers}
    assert covered == {"left side", "right side", "bottom", "top", "divider 1", "shelf 2"}
    (behind,) = [piece for piece in layout.of(Role.SHELF) if piece.is_behind]
    assert behind.name == "shelf 1"


def test_divider_that_runs_through_a_row_with_one_front_is_a_fault() -> None:
    rows = '[[cabinet.row]]\nfront = "pair"\ncolumns = 2\n[[cabinet.row]]\ncolumns = 2\n'
    with pytest.raises(Fault) as raised:
        laid_out(CASE + inset() + 'through = "dividers"\n' + rows)
    assert str(raised.value).startswith(
        "a divider runs through rows 1 to 2, one of which has one front over all of it; let shelves run through"
    )


def test_drawer_with_adjustable_shelves_is_a_fault() -> None:
    openings = (
        'openings = [{ opening = "equal", front = "drawer", '
        "adjustable = { shelves = 1, first = 50, front = 37, back = 37 } }]\n"
    )
    with pytest.raises(Faults, match='opening "opening 1" has adjustable shelves and a drawer; leave one of them out'):
        fronts(CASE + inset() + openings)


def test_drawer_box_stands_clear_in_its_opening() -> None:
    (box,) = drawer_boxes(laid_out(CASE + BACK + inset() + DRAWERS), MM)
    assert (box.width, box.height) == (600 - 26, 800 - 16)
    assert box.depth == 400 - 8 - 20 - 25, "behind an inset front, to the back in its rabbet"
    assert box.between == 600 - 26 - 24


def test_drawer_box_behind_an_overlay_front_begins_at_the_cabinet_s_front() -> None:
    (box,) = drawer_boxes(laid_out(CASE + BACK + overlay("7") + DRAWERS), MM)
    assert box.depth == 400 - 8 - 25


def test_drawer_box_passes_both_the_frame_and_the_case() -> None:
    lower, upper = drawer_boxes(laid_out(CASE + FRAME + inset() + TWO + DRAWERS), MM)
    assert lower.width == upper.width == 636 - 2 * 40 - 26
    assert lower.height == 367 - 16, "between the bottom rail and the rail before the shelf"
    assert upper.height == 359 - 16
    assert lower.depth == 400 - 20 - 25, "inside the frame's thickness, behind the front"


def test_drawer_box_without_room_is_a_fault_with_its_figures() -> None:
    drawers = DRAWERS.replace("side = 13", "side = 290").replace("back = 25", "back = 380")
    with pytest.raises(Faults) as raised:
        drawer_boxes(laid_out(CASE + inset() + drawers), MM)
    assert list(map(str, raised.value.faults)) == [
        'drawers: the drawer box of opening "opening 1" would be -4 wide between its sides; '
        "make the side clearance less, its stock thinner, or the opening larger.",
        'drawers: the drawer box of opening "opening 1" would be 0 deep; '
        "make the back clearance less, the front thinner, or the opening larger.",
    ]


@given(
    thickness=st.fractions(10, 30, max_denominator=64),
    reveal=st.fractions(0, 5, max_denominator=32),
    kinds=st.lists(st.sampled_from(["drawer", "door", "pair"]), min_size=1, max_size=4),
    framed=st.booleans(),
)
def test_inset_fronts_and_reveals_fill_the_openings_exactly(
    thickness: Fraction, reveal: Fraction, kinds: list[str], framed: bool
) -> None:
    openings = ", ".join(f'{{ opening = "equal", front = "{kind}" }}' for kind in kinds)
    cabinet = CASE + (FRAME if framed else "") + f"openings = [{openings}]\n"
    rule = f'fronts = {{ kind = "inset", stock = "frame", reveal = "{reveal}" }}\n'
    layout = laid_out(cabinet + rule, ply=thickness)
    for bay, front in zip(layout.bays, fronts_of(layout, MM), strict=True):
        leaves = front.count * front.height * front.width
        frame = bay.frame_x.size * bay.frame_z.size
        around = frame - (bay.frame_x.size - 2 * reveal) * (bay.frame_z.size - 2 * reveal)
        between = (front.count - 1) * reveal * front.height
        assert leaves + around + between == frame


WIDE_INCH: Final = """
units = "inch"
[stock]
ply = "3/4"
maple = "3/4"
[[cabinet]]
name = "Case"
height = "25 1/2"
width = 36
depth = 20
carcass = "ply"
fronts = { kind = "inset", stock = "maple", reveal = "REVEAL", wood = WOOD }
"""
FLAT_MAPLE: Final = '{ species = "Maple, sugar", cut = "flat", made_at = 8, driest = 6, dampest = 12 MORE }'


def season_of(reveal: str, wood: str) -> tuple[tuple[str, ...], Front]:
    text = WIDE_INCH.replace("REVEAL", reveal).replace("WOOD", wood.replace("MORE", ""))
    layout = load_sources([Source("job.toml", text.encode())])
    (front,) = fronts_of(layout.cabinets[0], layout.job.figures)
    return layout.warnings, front


# By hand, with 0.00353 a per cent (Wood Handbook, Table 13-5, sugar maple, tangential): the opening is 25 1/2 less
# 2 x 3/4 = 24 high, so the front may be 24 - 2/16 = 23.875 at 12 %. Made at 8 % it is 23.875 / (1 + 4 x 0.00353) =
# 23.5426, which leaves 0.2287 at each edge, 15/64 scant; at 6 % it is 23.5426 x (1 - 2 x 0.00353) = 23.3764 and leaves
# 0.3118, 5/16 scant: five times the 1/16 that was asked for.
def test_front_that_dries_to_many_times_its_reveal_is_a_warning_with_its_figures() -> None:
    warnings, front = season_of("1/16", FLAT_MAPLE)
    assert front.season is not None
    assert abs(float(front.season.made / INCH_MM) - 0.2287) < 0.0001
    assert abs(float(front.season.driest / INCH_MM) - 0.3118) < 0.0001
    assert warnings == (
        "Case: the fronts of opening 1 move so much across their grain that the reveal of 1/16 is 15/64 scant when "
        "they are made and 5/16 scant at 6 %; quarter-sawn wood, a frame and panel or sheet goods move less, and "
        "least_reveal gives up some of the reveal in the damp season",
    )


def test_front_that_moves_little_is_no_warning() -> None:
    assert season_of("1/16", FLAT_MAPLE.replace("flat", "quarter").replace("12", "9"))[0] == ()
    assert season_of("1/8", FLAT_MAPLE)[0] == ()


def overlaid(openings: str, front: str = "drawer", reveal: int = 1) -> tuple[tuple[str, ...], list[str]]:
    """The warnings of a case 836 x 636 with overlays of 8.5 on boards of 18, and the gaps on its fronts' sticks."""
    rule = overlay("8.5", f', front = "{front}", wood = {WOOD}').replace("reveal = 3", f"reveal = {reveal}")
    layout = load_sources([Source("job.toml", (HEAD + CASE + rule + openings).encode())])
    sticks = [stick for stick in layout.sticks if "fronts" in stick.stick.name]
    inner = [span for stick in sticks for span in stick.spans[1:-1] if span.name == "gap"]
    return layout.warnings, [layout.job.figures(span.size) for span in inner]


# By hand, with 0.00248 a per cent (Wood Handbook, Table 13-5, black cherry, tangential): two openings of
# (836 - 3 x 18) / 2 = 391 take fronts of 391 + 2 x 8.5 = 408 at 12 %, 1 apart. Made at 8 % they are
# 408 / (1 + 4 x 0.00248) = 403.992 and stand 1 + 408 - 403.992 = 5.008 apart; at 6 % they are
# 403.992 x (1 - 2 x 0.00248) = 401.989 and stand 7.012 apart, seven times the reveal of 1.
def test_gap_between_overlay_fronts_that_dry_is_told_as_the_fronts_strip_shows_it() -> None:
    warnings, gaps = overlaid(TWO)
    assert gaps == ["5 full"]
    assert warnings == (
        "Case: the gap between the fronts of opening 1, 2 is 1 at 12 %, but 5 full when they are made and 7 full at "
        "6 %, since they move so much across their grain; quarter-sawn wood, a frame and panel or sheet goods move "
        "less",
    )
    assert overlaid(TWO, reveal=0)[0], "an unasked reveal counts as 1/32 in"


# Openings of (836 - 4 x 18) / 3 = 254.667 take 271.667, made 268.998, so 1 + 2.668 = 3.668, and 5.003 at 6 %.
def test_like_gaps_between_overlay_fronts_are_one_warning() -> None:
    warnings, gaps = overlaid('openings = ["equal", "equal", "equal"]\n')
    assert gaps == ["3.7 scant", "3.7 scant"]
    (warning,) = warnings
    assert "the gap between neighbours among the fronts of opening 1–3 is 1 at 12 %, but 3.7 scant when" in warning


# Doors move sideways alone: openings of (636 - 3 x 18) / 2 = 291 take doors of 308, made 304.975: 1 + 3.025 = 4.025.
def test_gap_beside_overlay_doors_is_that_across_their_grain() -> None:
    columns = "[[cabinet.column]]\n[[cabinet.column]]\n"
    (warning,) = overlaid(columns, "door")[0]
    assert "fronts of opening 1, 2 is 1 at 12 %, but 4 full when" in warning
    assert overlaid(columns, "drawer")[0] == ()
    assert overlaid(TWO, "door")[0] == ()
    rows = "[[cabinet.row]]\n[[cabinet.row]]\n"
    assert "fronts of opening 1, 2 is 1 at 12 %, but 5 full when" in overlaid(rows)[0][0]


@pytest.mark.parametrize("front", ["drawer", "door", "pair"])
def test_overlay_front_without_a_neighbour_is_no_warning(front: str) -> None:
    """Nothing is there that its drying could leave a gap to; an open place between two fronts is none either."""
    assert overlaid("", front)[0] == ()
    assert overlaid('openings = ["equal", { opening = 300, front = "none" }, "equal"]\n', front)[0] == ()


def front_strips(text: str) -> list[list[tuple[str, Fraction, Fraction]]]:
    """Of each strip of fronts what stands on it, with its stations."""
    layout = load_sources([Source("job.toml", (HEAD + text).encode())])
    sticks = [stick for stick in layout.sticks if "fronts" in stick.name]
    return [[(span.name, span.start, span.end) for span in stick.spans] for stick in sticks]


def test_strip_of_fronts_goes_from_the_foot_of_the_case_to_its_head() -> None:
    # Openings of 391 from 18 and from 427, each front 7.5 beyond its own.
    assert front_strips(CASE + overlay("7.5") + TWO) == [
        [
            ("gap", 0, Fraction("10.5")),
            ("opening 1", Fraction("10.5"), Fraction("416.5")),
            ("gap", Fraction("416.5"), Fraction("419.5")),
            ("opening 2", Fraction("419.5"), Fraction("825.5")),
            ("gap", Fraction("825.5"), 836),
        ]
    ]


def test_front_that_has_its_column_alone_has_no_strip() -> None:
    assert front_strips(CASE + overlay("18")) == []


def test_front_may_be_made_to_a_least_reveal_of_its_own_at_the_dampest() -> None:
    """It is larger by the same share at both moistures, and along the grain the whole reveal stays."""
    _, whole = season_of("1/16", FLAT_MAPLE)
    _, least = season_of("1/16", FLAT_MAPLE.replace("MORE", ', least_reveal = "1/32"'))
    assert least.season is not None
    assert whole.season is not None
    assert (whole.season.dampest, least.season.dampest) == (INCH_MM / 16, INCH_MM / 32)
    assert least.height / whole.height == Fraction(24 * 16 - 1, 24 * 16 - 2)
    assert least.width == whole.width
    assert least.season.driest < whole.season.driest


def test_least_reveal_between_two_doors_is_that_at_their_edges() -> None:
    (pair,) = fronts(CASE + inset(f', front = "pair", wood = {WOOD[:-1]}, least_reveal = 1 }}'))
    assert pair.width * (1 + Fraction("0.00248") * 4) == Fraction(600 - 3, 2)
    assert pair.height == 796


@pytest.mark.parametrize(
    ("least", "kind", "message"),
    [
        ('"1/8"', "inset", "least_reveal: 1/8 is more than the reveal of 1/16; make it 1/16 or less."),
        ('"1/32"', "overlay", "least_reveal: least_reveal is given to overlay fronts; leave it out."),
    ],
)
def test_least_reveal_that_cannot_be_is_a_fault(least: str, kind: str, message: str) -> None:
    text = WIDE_INCH.replace("REVEAL", "1/16").replace("WOOD", FLAT_MAPLE.replace("MORE", f", least_reveal = {least}"))
    if kind == "overlay":
        text = text.replace('kind = "inset"', 'kind = "overlay", overlay = "1/2"')
    with pytest.raises(Faults) as raised:
        load_sources([Source("job.toml", text.encode())])
    assert str(raised.value) == f'job.toml, cabinet 1 ("Case"), fronts, wood, {message}'


@pytest.mark.parametrize("more", ["", ", least_reveal = 1"])
def test_job_with_solid_fronts_meets_the_schema(more: str) -> None:
    text = CASE + inset(f", wood = {WOOD[:-1]}{more} }}")
    schema = json.loads((SHARED / "job.schema.json").read_text(encoding="utf-8"))
    jsonschema.validate(tomllib.loads(HEAD + text), schema)
    assert read_well(HEAD + text).cabinets


@pytest.mark.parametrize(
    ("rule", "words"),
    [
        ("reveal = 3, overlay = 8", "Overlay fronts 18 thick, 8 over each edge of the opening, 3 apart."),
        (
            "reveal = 3, overlay = { outside = 16, shared = 7.5 }",
            "Overlay fronts 18 thick, over the outer edges by 16, 7.5 over what openings share, 3 apart.",
        ),
        (
            "reveal = 3, overlay = { outside = 16, top = 0 }",
            "Overlay fronts 18 thick, over the outer edges by 16 at the left, 16 at the right, 16 at the bottom and 0 "
            "at the top, 3 apart.",
        ),
        ("reveal = 3, outside = {}", "Full overlay fronts 18 thick, 3 apart, inside the outer edges by 1.5."),
        (
            "reveal = 3, outside = { bottom = 0, left = 2 }",
            "Full overlay fronts 18 thick, 3 apart, inside the outer edges by 2 at the left, 1.5 at the right, 0 at "
            "the bottom and 1.5 at the top.",
        ),
    ],
)
def test_drawing_says_how_overlay_fronts_lie(rule: str, words: str) -> None:
    layout = laid_out(CASE + f'fronts = {{ kind = "overlay", {rule} }}\n')
    assert list(tell_fronts(layout, MM)) == [words]


@pytest.mark.parametrize(
    ("rule", "told"),
    [
        ("overlay = 18", 'the fronts of "A" and "B" touch side by side, where a reveal of 3 is wanted'),
        ("overlay = 17", 'the fronts of "A" and "B" stand 2 apart side by side, where a reveal of 3 is wanted'),
        ("overlay = 16.5", ""),
        ("outside = {}", ""),
    ],
)
def test_fronts_of_cabinets_side_by_side_keep_the_reveal_too(rule: str, told: str) -> None:
    """Sides of 18 with 17 over each leave 1 and 1; half the reveal at each outside leaves all of it."""
    case = CASE.replace('name = "Case"', 'name = "A"') + f'fronts = {{ kind = "overlay", reveal = 3, {rule} }}\n'
    run = '[[run]]\nname = "Wall"\nlength = 1400\norder = [{ filler = "equal", name = "one" }, { cabinet = "A" }, '
    run += '{ cabinet = "B" }, { filler = "equal", name = "two" }]\n'
    text = HEAD + case + '[[cabinet]]\nname = "B"\nlike = "A"\n' + run
    warnings = load_sources([Source("job.toml", text.encode())]).warnings
    found = [warning for warning in warnings if "side by side" in warning]
    assert len(found) == bool(told)
    assert told in "".join(found)
