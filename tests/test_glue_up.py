"""The glue-up: every joint once, in an order in which the parts can be brought together, clamps enough, and in time."""

from __future__ import annotations

import re
import tomllib
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction
from graphlib import TopologicalSorter
from itertools import chain, pairwise
from math import hypot
from pathlib import Path
from typing import Final

import pytest
from bodies import block
from built_cabinets import built_cabinets
from drawn_cabinets import ALL, BOOKCASE, BOX, CHEST, HEAD, LOW, TOWER, TWELVE, each_cabinet, made
from hypothesis import given
from hypothesis import strategies as st
from jobs import GALLERY_JOBS, read_well

import storystick
from storystick.errors import Fault
from storystick.gluing.cautions import (
    GLUE_CAUTIONS,
    LEAST_HEIGHT,
    LEAST_VOLUME,
    PRESSURE,
    TIMES,
    enclosed_volume,
    large_enough,
    remarks,
    tip_over_words,
)
from storystick.gluing.clamp_words import FEWER, HALF, clamp_words, lack_words, line_words
from storystick.gluing.clamps import FEWEST, ClampLine, ClampSet, clamp_lines, lacking
from storystick.gluing.instructions import TWIST, check_words, checks, grouped, placing, slower_glue_words, total_words
from storystick.gluing.joints import GluedJoint, Held
from storystick.gluing.order import LockedError, closings_of
from storystick.gluing.plan import glue_for, plan_glue_up, stages_of
from storystick.gluing.stages import DRY_RUN, Stage, by_cabinet
from storystick.job.backs import GrooveBack, LaidOnBack, RabbetBack
from storystick.job.shop import Clamp, Glue, GlueUp, Shop
from storystick.layout.cabinets.pieces import (
    BACK_ROLES,
    FRAME_ROLES,
    WEB_ROLES,
    Axis,
    CabinetLayout,
    Piece,
    Range,
    Role,
)
from storystick.lengths import INCH_MM
from storystick.wording import plain

SHARED: Final = Path(__file__).parent.parent / "shared"
QUICK: Final = Glue("quick", Fraction(5), Fraction(10))
USUAL: Final = Glue("usual", Fraction(10), Fraction(20))
SOON_DRY: Final = Glue("soon dry", Fraction(3), Fraction(900))
SLOW: Final = Glue("slow", Fraction(600), Fraction(900))
CASE: Final = (Role.SIDE, Role.TOP, Role.BOTTOM, Role.SHELF, Role.DIVIDER, Role.CASE_RAIL, Role.WEB_FRAME)
GALLERY: Final = [
    pytest.param(cabinet, id=f"{path.stem}: {cabinet.cabinet.name}")
    for path in GALLERY_JOBS
    for cabinet in storystick.load(path).cabinets
]
PLAIN_CASE: Final = """
[[cabinet]]
name = "Pigeonholes"
height = 800
width = 600
depth = 300
carcass = "ply"
joint = "shelf"
"""
DRAWERS: Final = CHEST + "openings = ['equal', 'equal']"
DOZEN: Final = """
[[cabinet]]
name = "Twelve"
height = {height}
width = {width}
depth = {depth}
carcass = "ply"
joint = "shelf"
through = "{through}"
"""


def laps(shelf: Piece, divider: Piece) -> bool:
    return all(shelf.along(axis).overlaps(divider.along(axis)) for axis in Axis)


def pairs_expected(layout: CabinetLayout) -> list[tuple[str, str]]:
    """Which pieces are glued to which, worked out anew: their endings, and what lies on what behind and in front."""
    found = [(piece.name, ending.on.name) for piece in layout.pieces for ending in (piece.low, piece.high) if ending.on]
    # Half-lapped: no board of a case stands in the room of another but there.
    levels, uprights = layout.of(Role.SHELF), layout.of(Role.DIVIDER)
    found += [(shelf.name, divider.name) for shelf in levels for divider in uprights if laps(shelf, divider)]
    if layout.cabinet.frame:
        found += [(member.name, member.covers.name) for member in layout.pieces if member.covers]
    panels = layout.of(Role.BACK_PANEL)
    around = layout.of(Role.BACK_STILE, Role.BACK_RAIL)
    found += [(panel.name, on.name) for panel in panels for on in around if block(on).common(block(panel))]
    for back in layout.of(Role.BACK, Role.BACK_BOARD, Role.BACK_STILE, Role.BACK_RAIL):
        before = [piece for piece in layout.of(*CASE) if piece.x.overlaps(back.x) and piece.z.overlaps(back.z)]
        if back.role is Role.BACK_BOARD:
            # Held at its middle only, so never along what stands upright.
            before = [piece for piece in before if piece.axis is Axis.X]
        match layout.cabinet.back:
            case GrooveBack():
                found += [("back", piece.name) for piece in layout.of(Role.SIDE, Role.TOP, Role.BOTTOM)]
            case RabbetBack():
                found += [(back.name, side.name) for side in before if side.role is Role.SIDE]
                found += [
                    (back.name, piece.name)
                    for piece in before
                    if piece.role is not Role.SIDE and piece.y.end == back.y.start
                ]
            case LaidOnBack():
                found += [(back.name, piece.name) for piece in before if piece.y.end == back.y.start]
    plinth, toe = layout.of(Role.PLINTH), layout.of(Role.TOE_BOARD)
    (bottom,), sides = layout.of(Role.BOTTOM), layout.of(Role.SIDE)
    for board in toe:
        heels = [on for on in (*sides, *toe) if on is not board and board.axis is Axis.X]
        found += [(board.name, on.name) for on in heels if block(on).common(block(board)) or touches(board, on)]
    for piece in (*plinth, *(board for board in toe if board.name not in dict(found))):
        under_bottom = bottom.x.start < piece.x.end and piece.x.start < bottom.x.end
        found += [(piece.name, "bottom" if under_bottom else sides[piece.x.start > bottom.x.start].name)]
    long = ("plinth front", "plinth back")
    found += [(piece.name, rail) for piece in plinth if piece.name.endswith("end") for rail in long]
    return sorted(found)


def touches(board: Piece, behind: Piece) -> bool:
    """Whether one lies on the front edge of another."""
    return board.y.end == behind.y.start and board.x.overlaps(behind.x)


def pairs_of(stages: Iterable[Stage]) -> list[tuple[str, str]]:
    return sorted((joint.piece.name, joint.on.name) for stage in stages for joint in stage.joints)


def assert_can_be_done(layout: CabinetLayout, stages: Sequence[Stage]) -> None:
    """Play the stages through with bodies of pieces that move as one, each stage along one direction."""
    bodies = {piece: frozenset([piece]) for piece in layout.pieces}
    glued: set[tuple[str, str]] = set()
    expected = pairs_expected(layout)
    for stage in stages[1:]:
        assert stage.closing is not None
        before = dict(bodies)
        above: dict[frozenset[Piece], set[frozenset[Piece]]] = {body: set() for body in before.values()}
        for joint in stage.joints:
            assert before[joint.piece] is not before[joint.on], f"{joint.words} is within one body"
            assert stage.closing.axis in ways_to_close(layout, joint), f"{joint.words} cannot be closed that way"
            if stage.closing.axis is joint.axis:
                above[before[joint.high]].add(before[joint.low])
                low, high = (
                    next(body for body in stage.closing.assemblies if name in body) for name in (joint.low, joint.high)
                )
                in_order = stage.closing.assemblies.index(low) < stage.closing.assemblies.index(high)
                assert in_order, f"{joint.words} is placed out of order"
        order = list(TopologicalSorter(above).static_order())  # fails where bodies would have to pass each other
        assert set(stage.closing.pieces) <= set(chain(*order))
        assert_way_in_is_open(layout, stage, before)
        for joint in stage.joints:
            joined = bodies[joint.piece] | bodies[joint.on]
            bodies |= dict.fromkeys(joined, joined)
            glued.add((joint.piece.name, joint.on.name))
        body_of = {piece.name: body for piece, body in bodies.items()}
        for piece, on in expected:
            assert (piece, on) in glued or body_of[piece] is not body_of[on], f"{piece} and {on} meet without glue"
    # A web frame goes into the case as one, which its members are by then.
    assert len({body for piece, body in bodies.items() if piece.part_of is None}) == 1
    for web in layout.of(Role.WEB_FRAME):
        assert len({body for piece, body in bodies.items() if piece.part_of is web}) == 1


def ways_to_close(layout: CabinetLayout, joint: GluedJoint) -> set[Axis]:
    """Lengthwise for what ends on something; in its own plane for a back in grooves; else square to what it is on."""
    piece = joint.piece
    if joint.on in (piece.low.on, piece.high.on):
        return {piece.axis}
    if piece.role is Role.BACK_PANEL:
        return {Axis.X, Axis.Z}
    if piece.role in BACK_ROLES:
        return {Axis.X, Axis.Z} if isinstance(layout.cabinet.back, GrooveBack) else {Axis.Y}
    if piece.role is Role.TOE_BOARD:
        return {Axis.Z} if piece.z.end == joint.on.z.start else {Axis.Y}
    if piece.role is Role.PLINTH:
        return {Axis.Y} if joint.on.role is Role.PLINTH else {Axis.Z}
    return {Axis.Y}


def assert_way_in_is_open(layout: CabinetLayout, stage: Stage, before: dict[Piece, frozenset[Piece]]) -> None:
    """What is let in at both ends, or in grooves all round, is placed before what it is let into is one body."""
    for piece in {joint.piece for joint in stage.joints}:
        takers = [ending.on for ending in (piece.low, piece.high) if ending.on and ending.beyond]
        if piece.role is Role.BACK and isinstance(layout.cabinet.back, GrooveBack):
            takers = [*layout.of(Role.SIDE, Role.TOP, Role.BOTTOM)]
        placed = any(taker in before[piece] for taker in takers)
        if len(takers) > 1 and not placed:
            assert len({before[taker] for taker in takers}) > 1, f"{piece.name} has no way in any more"


@given(built_cabinets())
def test_every_joint_is_glued_once_and_no_part_is_shut_out(layout: CabinetLayout) -> None:
    for glue in (None, QUICK, USUAL):
        stages = stages_of(layout, glue)
        assert pairs_of(stages) == pairs_expected(layout)
        assert_can_be_done(layout, stages)


@pytest.mark.parametrize("layout", GALLERY)
@pytest.mark.parametrize("glue", [None, QUICK, USUAL], ids=["no glue", "quick", "usual"])
def test_gallery_cabinets_can_be_glued_up(layout: CabinetLayout, glue: Glue | None) -> None:
    stages = stages_of(layout, glue)
    assert pairs_of(stages) == pairs_expected(layout)
    assert_can_be_done(layout, stages)


@each_cabinet
def test_cabinets_of_all_kinds_can_be_glued_up(text: str) -> None:
    layout, _ = made(text)
    stages = stages_of(layout, USUAL)
    assert pairs_of(stages) == pairs_expected(layout)
    assert_can_be_done(layout, stages)


def test_parts_that_lock_into_each_other_are_a_bug_that_is_told() -> None:
    """Four boards round a pinwheel: each ends on the next, so that none can be the last."""

    one, other, *_ = made(BOX)[0].pieces
    nine, place = Fraction(9), Range(Fraction(0), Fraction(1))
    ring = [GluedJoint(one, other, Axis.X, on_high, nine, nine, place) for on_high in (True, False)]
    with pytest.raises(LockedError, match=r"left side, right side"):
        closings_of(ring)


def names(stages: Sequence[Stage]) -> list[str]:
    return [stage.name for stage in stages]


def test_stages_of_a_framed_chest_are_in_the_order_of_the_work() -> None:
    text = CHEST + "".join("[[cabinet.column]]\nopenings = ['equal', 'equal']\n" for _ in range(3))
    assert names(stages_of(made(text)[0])) == [
        DRY_RUN,
        "case, 1 of 3: shelf 2 to dividers",
        "case, 2 of 3: dividers to bottom and top",
        "case, 3 of 3: bottom, top and shelves to sides and dividers",
        "back onto the case",
        "face frame, 1 of 3: rail at shelf 2 to mid stiles",
        "face frame, 2 of 3: mid stiles to rails",
        "face frame, 3 of 3: rails to stiles and mid stiles",
        "face frame onto the case",
    ]


def test_plinth_is_made_and_then_takes_the_case() -> None:
    *_, plinth, whole = stages_of(made(LOW)[0])
    assert names([plinth, whole]) == ["plinth: ends to front and back", "case onto the plinth"]
    # A case of 500 with a back of 6 laid on, its plinth 40 behind its front.
    assert [(found.width, found.height) for found in plinth.rectangles] == [(2400, 500 - 6 - 40)]


def stage_with(stages: Sequence[Stage], piece: str) -> Stage:
    return next(stage for stage in stages if any(joint.piece.name == piece for joint in stage.joints))


def test_back_in_grooves_goes_in_with_the_case_and_one_in_rabbets_after_it() -> None:
    grooved = stages_of(made(BOOKCASE)[0])
    assert stage_with(grooved, "back").name.startswith("case: ")
    rabbeted = stages_of(made(CHEST + "openings = ['equal']")[0])
    assert names(rabbeted).index("back onto the case") == 2


def test_top_over_the_sides_goes_on_last_and_a_grooved_back_slides_in_before_it() -> None:
    layout, _ = made(BOOKCASE.replace("edging", 'top = { place = "over" }\nedging'))
    last = stages_of(layout)[-1]
    assert last.closing is not None
    assert last.closing.axis is Axis.Z
    assert {joint.on.name for joint in last.joints if joint.piece.name == "back"} == {
        "left side",
        "right side",
        "bottom",
        "top",
    }
    assert placing(last.closing, layout) == "from below: left side with all that is glued to it, back, top"


def test_only_what_is_fixed_is_glued_and_not_adjustable_shelves_or_fronts() -> None:
    layout, _ = made(BOOKCASE)
    fixed = set(layout.pieces)
    stages = stages_of(layout)
    assert {piece for stage in stages for joint in stage.joints for piece in (joint.piece, joint.on)} == fixed
    assert "Adjustable shelves are not glued." in list(remarks((), [layout], None))


def test_edging_is_held_back_to_the_shoulders_only_where_parts_stand_in_others() -> None:
    housed = " ".join(remarks((), [made(BOOKCASE)[0]], None))
    assert "Glue the edging to each part" in housed
    assert "its edging is held back to the shoulders, as long as the cutting list says" in housed
    bare = '[[cabinet]]\nname = "A"\nheight = 800\nwidth = 600\ndepth = 300\n'
    butted = " ".join(remarks((), [made(bare + 'carcass = "ply"\nedging = 6\n')[0]], None))
    assert "Glue the edging to each part" in butted
    assert "shoulders" not in butted


def test_dry_run_comes_first_glues_nothing_and_wants_all_clamps_at_hand() -> None:
    for text in ALL.values():
        dry, *glued = stages_of(made(text)[0])
        assert (dry.name, dry.joints, dry.fits) == (DRY_RUN, (), None)
        assert dry.clamps == max(stage.clamps for stage in glued)
        assert dry.cauls == max(stage.cauls for stage in glued)


def covered(line: ClampLine, clamps: int, caul: Fraction) -> bool:
    """Whether clamps set evenly, half a space from the ends, press all of a line, each 45 degrees to both sides."""
    spread = line.through + caul
    ends = [
        (line.length * (2 * place + 1) / (2 * clamps) - spread, line.length * (2 * place + 1) / (2 * clamps) + spread)
        for place in range(clamps)
    ]
    reached = Fraction(0)
    for start, end in ends:
        if start > reached:
            return False
        reached = max(reached, end)
    return reached >= line.length


@given(built_cabinets())
def test_clamps_press_every_line_and_one_fewer_would_not(layout: CabinetLayout) -> None:
    pace = GlueUp()
    for stage in stages_of(layout):
        assert stage.clamps >= sum(line.clamps for line in stage.lines)
        for line in stage.lines:
            if line.pins:
                assert (line.clamps, line.cauls) == (0, 0)
                continue
            if reaches_half(line):
                assert (line.clamps, line.cauls) == (1, 2)
                continue
            assert line.clamps >= FEWEST == 2
            if line.bowed:
                assert line.clamps == 2
                continue
            caul = pace.stiff_caul if line.held is Held.STIFF else pace.caul
            assert covered(line, line.clamps, caul)
            assert line.clamps == 2 or not covered(line, line.clamps - 1, caul)


def reaches_half(line: ClampLine) -> bool:
    """Whether parts of a case lie in the front or the back half of all that they end on, so that one bar passes."""
    pairs = [(joint.piece.y, (joint.on.y.start + joint.on.y.end) / 2) for joint in line.joints]
    in_case = all(joint.on.role in CASE and not joint.laid for joint in line.joints)
    return in_case and (all(y.end <= half for y, half in pairs) or all(y.start >= half for y, half in pairs))


def bars_pass(layout: CabinetLayout, line: ClampLine) -> bool:
    """Whether bars can stand where a line's clamps do, judged by what the parts are and not by how it was planned.

    A panel of a case lets none through: there are two, before its front edges and behind its back ones, or one where
    the parts are at one of them only. Members of a frame or a plinth are passed on both faces. What is laid on the case
    is clamped round the free edges of sides, top and bottom; from edge to edge of the whole front over what is between.
    """
    ons = [joint.on for joint in line.joints]
    if line.joints[0].axis is Axis.Y and ons[0].role in CASE:
        outer = {Role.SIDE, Role.TOP, Role.BOTTOM}
        if all(on.role in outer for on in ons):
            return line.held is Held.STIFF
        members = layout.of(*FRAME_ROLES)
        ranges = [member.x if ons[0].axis is Axis.X else member.z for member in members]
        whole = max(each.end for each in ranges) - min(each.start for each in ranges)
        return line.held is Held.BOWED and line.clamps == 2 and line.length >= whole
    if reaches_half(line):
        return line.held in (Held.FRONT, Held.REAR) and line.clamps == 1
    if ons[0].role in CASE:
        return line.held is Held.EDGES and line.clamps == 2
    by_themselves = {*FRAME_ROLES, *WEB_ROLES, Role.BACK_STILE, Role.BACK_RAIL, Role.PLINTH}
    return line.held in (Held.SPACED, Held.FACES) and all(on.role in by_themselves for on in ons)


def assert_presses_on_wood(stage: Stage, line: ClampLine) -> None:
    """Between the jaws of a line lies nothing but parts, free tongues and the blocks that are said."""
    assert stage.closing is not None
    (axis,) = {joint.axis for joint in line.joints}
    across = {Axis.X: Axis.Z, Axis.Z: Axis.X, Axis.Y: Axis.X}[axis]
    place = line.joints[0].place
    alone = all(piece.role in BACK_ROLES for piece in stage.closing.pieces)
    there = [piece for piece in stage.closing.pieces if alone or piece.role not in BACK_ROLES]
    met = [p for p in there if p.along(across).start < place.end and place.start < p.along(across).end]
    for joint in line.joints:
        assert {joint.piece, joint.on} <= set(met)
    steps = sorted({x for piece in met for x in (piece.along(axis).start, piece.along(axis).end)})
    wood = sum(
        (
            high - low
            for low, high in pairwise(steps)
            if any(p.along(axis).start <= low < p.along(axis).end for p in met)
        ),
        Fraction(0),
    )
    ended = [piece for piece in met if piece.axis is axis]
    lows = [piece.low for piece in ended if piece.along(axis).start == steps[0]]
    highs = [piece.high for piece in ended if piece.along(axis).end == steps[-1]]
    tongue_low, tongue_high = (
        max((ending.beyond for ending in ends if ending.on not in there), default=Fraction(0)) for ends in (lows, highs)
    )
    blocks = sum((block.length for block in line.empty), Fraction(0))
    assert wood + blocks + tongue_low + tongue_high + 2 * GlueUp().caul == line.jaws
    assert wood + blocks == steps[-1] - steps[0]


@given(built_cabinets())
def test_no_clamp_stands_where_no_bar_passes_and_none_presses_against_nothing(layout: CabinetLayout) -> None:
    for glue in (None, QUICK, USUAL):
        for stage in stages_of(layout, glue)[1:]:
            for line in stage.lines:
                if line.pins:
                    continue
                assert bars_pass(layout, line)
                assert stage.jaws >= line.jaws
                if not line.joints[0].laid:
                    assert_presses_on_wood(stage, line)


@pytest.mark.parametrize("layout", GALLERY)
def test_gallery_has_no_clamp_where_no_bar_passes_and_none_against_nothing(layout: CabinetLayout) -> None:
    for stage in stages_of(layout, USUAL)[1:]:
        for line in stage.lines:
            if line.clamps:
                assert bars_pass(layout, line)
                if not line.joints[0].laid:
                    assert_presses_on_wood(stage, line)


STAGGERED: Final = (
    PLAIN_CASE + '[[cabinet.column]]\nopenings = [200, "equal"]\n[[cabinet.column]]\nopenings = [400, "equal"]\n'
)


def test_shelf_with_nothing_opposite_has_a_block_in_the_empty_place() -> None:
    layout, job = made(STAGGERED)
    stage = stage_with(stages_of(layout), "shelf 1")
    blocks = {
        line.joints[0].piece.name: [tuple(piece.name for piece in place.between) for place in line.empty]
        for line in stage.lines
    }
    assert blocks == {
        "shelf 1": [("divider 1", "right side")],
        "shelf 2": [("left side", "divider 1")],
        "bottom": [],
        "top": [],
    }
    # 600 wide, two sides and a divider of 18: two openings of 273
    assert {block.length for line in stage.lines for block in line.empty} == {273}
    words = plain("; ".join(line_words(stage.lines, job.figures)))
    assert "blocks of 273, dry, between divider 1 and right side in line with shelf 1" in words
    assert "blocks of 273, dry, between left side and divider 1 in line with shelf 2" in words
    assert any("nothing opposite" in sentence for sentence in remarks([stage], [layout], None))


def test_shelves_that_are_opposite_share_their_clamps_and_need_no_block() -> None:
    layout, _ = made(STAGGERED.replace("400", "200"))
    stage = stage_with(stages_of(layout), "shelf 1")
    assert sorted(len(line.joints) for line in stage.lines) == [2, 2, 4]
    assert not any(line.empty for line in stage.lines)


def test_shelves_a_little_aside_of_each_other_share_their_clamps() -> None:
    """Five millimetres aside there is no room for two pairs of clamps, and the one shelf takes the other's push."""
    layout, _ = made(STAGGERED.replace("400", "205"))
    stage = stage_with(stages_of(layout), "shelf 1")
    assert sorted(len(line.joints) for line in stage.lines) == [2, 2, 4]
    assert not any(line.empty for line in stage.lines)


def test_caul_over_a_free_tongue_is_notched_and_the_jaws_open_over_it() -> None:
    """A stage that has to be cut in two leaves the right ends of top and bottom free, tongues and all."""
    head = HEAD.replace('kind = "housing"', 'kind = "tongue"\nwidth = 6\nbottom_gap = 1')
    layout, job = made(STAGGERED, head)
    stages = stages_of(layout, Glue("quick", Fraction(5), Fraction(8)))
    free = [(stage, line) for stage in stages for line in stage.lines if line.notched]
    assert {piece.name for _, line in free for piece in line.notched} <= {"bottom", "top", "shelf 1", "shelf 2"}
    stage, line = next(
        (stage, line) for stage, line in free if line.joints[0].piece in layout.of(Role.BOTTOM, Role.TOP)
    )
    assert stage.closing is not None
    assert not stage.closing.pieces >= set(layout.sides)
    # the case without one side of 18, with the tongue of 6 less its gap of 1, and a caul of 38.1 at both ends
    assert line.jaws == 600 - 18 + 5 + 2 * GlueUp().caul
    assert "notch the caul over the free tongue of" in plain("; ".join(line_words(stage.lines, job.figures)))


def test_what_takes_no_clamps_asks_for_none_that_open() -> None:
    layout, job = made(DRAWERS)
    assert clamp_words(replace(stages_of(layout)[0], needs=()), job.units) == "0 clamps"


def test_free_tenon_of_a_frame_is_called_a_tenon() -> None:
    layout, job = made(DRAWERS)
    frame = next(stage for stage in stages_of(layout) if stage.name.startswith("face frame"))
    (line, *_) = frame.lines
    assert line.framed
    words = "; ".join(line_words([replace(line, notched=(line.joints[0].piece,))], job.figures))
    assert "notch the caul over the free tenon of bottom rail, so" in plain(words)


def test_housed_end_that_is_free_takes_a_plain_caul() -> None:
    layout, _ = made(STAGGERED)
    for stage in stages_of(layout, Glue("quick", Fraction(5), Fraction(8))):
        assert not any(line.notched for line in stage.lines)


@given(built_cabinets())
def test_every_joint_is_on_one_line_but_for_a_back_that_its_grooves_hold(layout: CabinetLayout) -> None:
    for stage in stages_of(layout, USUAL):
        pressed = [joint for line in stage.lines for joint in line.joints]
        held = [joint for joint in stage.joints if joint.held in (Held.GROOVE, Held.SLOT, Held.SOCKET)]
        assert Counter(map(id, [*pressed, *held])) == Counter(map(id, stage.joints))
        panels = {Role.BACK, Role.BACK_PANEL, Role.WEB_PANEL}
        assert all(joint.piece.role in panels for joint in held if joint.held is Held.GROOVE)


def test_back_is_fastened_with_pins_and_takes_no_clamps() -> None:
    layout, _ = made(DRAWERS)
    back = stage_with(stages_of(layout), "back")
    assert (back.clamps, back.cauls, back.jaws) == (0, 0, 0)
    # 900 high, and 950 between the sides, with the outer ones 152.4 / 2 at most from the ends: 5.9 and 6.2 spaces
    pins = {joint.on.name: line.pins for line in back.lines for joint in line.joints}
    assert pins == {"left side": 6, "right side": 6, "bottom": 7, "top": 7, "shelf 1": 7}
    assert back.pins == 33
    assert back.minutes == Fraction(5 + 1, 2) + Fraction(33, 6)
    assert back.moment == "with one edge fastened, before the others are"


@pytest.mark.parametrize(
    ("back", "at_sides"),
    [("rabbet_width = 12, rabbet_depth = 9", 9), ("laid_on = true", 18)],
    ids=["rabbet", "laid on"],
)
def test_pins_go_in_the_middle_of_the_lap(back: str, at_sides: int) -> None:
    layout, job = made(DRAWERS.replace("rabbet_width = 12, rabbet_depth = 9", back))
    fastened = stage_with(stages_of(layout), "back")
    laps = {joint.on.name: line.lap for line in fastened.lines for joint in line.joints}
    assert laps == {"left side": at_sides, "right side": at_sides, "bottom": 18, "top": 18, "shelf 1": 18}
    assert f"along the middle of a lap of {at_sides}" in plain(" ".join(line_words(fastened.lines, job.figures)))


FASTENED: Final = (
    "back onto the case",
    "back boards onto the case",
    "back, after painting",
    "case onto the plinth",
    "case onto the levelled plinth, in its place",
    "toe board onto the case",
    "toe board under the case",
)


@given(built_cabinets())
def test_pins_are_no_farther_apart_than_six_inches_and_one_fewer_would_be(layout: CabinetLayout) -> None:
    for stage in stages_of(layout):
        assert bool(stage.pins) is (stage.name in FASTENED)
        for line in stage.lines:
            assert line.lap > 0
            assert not line.pins or line.spacing <= 6 * INCH_MM
            assert line.pins <= FEWEST or line.length / (line.pins - 1) > 6 * INCH_MM


def test_pinned_back_never_asks_for_a_slower_glue() -> None:
    layout, _ = made(ALL["twelve openings"])
    back = stage_with(stages_of(layout, QUICK), "back")
    assert back.minutes > QUICK.closed
    assert (back.fits, back.slower_glue) == (None, "")


def test_clamps_on_a_frame_reach_over_a_back_that_is_laid_on() -> None:
    layout, _ = made(DRAWERS.replace("rabbet_width = 12, rabbet_depth = 9", "laid_on = true"))
    (frame,) = (stage for stage in stages_of(layout) if stage.name == "face frame onto the case")
    assert (
        frame.jaws == 400 + GlueUp().caul + GlueUp().stiff_caul
    )  # from the face of the frame to the outside of the back


def test_plinth_is_fastened_where_no_clamp_reaches() -> None:
    layout, _ = made(LOW)
    base = stages_of(layout)[-1]
    assert (base.name, base.clamps) == ("case onto the plinth", 0)
    assert {line.lap for line in base.lines} == {18}
    ends = {joint.on.name for joint in base.joints if joint.piece.name.endswith("end")}
    assert ends == {"left side", "right side"}  # the bottom is between the sides, and an end stands under each
    assert base.closing is not None
    assert placing(base.closing, layout) == "from below: the plinth, the case"
    assert "screws down through the bottom" in " ".join(remarks((), [layout], None))


def test_only_a_face_frame_says_that_fewer_clamps_may_serve() -> None:
    found: dict[str, bool] = {}
    for text in (DRAWERS, LOW):
        layout, job = made(text)
        found |= {stage.name: FEWER in line_words(stage.lines, job.figures) for stage in stages_of(layout)}
    assert {name for name, fewer in found.items() if fewer} == {"face frame onto the case"}


WIDE_RAIL: Final = DRAWERS.replace("top = 40", "top = 288")


def frame_line(layout: CabinetLayout, pace: GlueUp) -> ClampLine:
    """The line of the top rail, where it goes into the stiles: 40 mm of stile to press through."""
    stage = next(stage for stage in stages_of(layout, None, pace) if stage.name.startswith("face frame:"))
    return next(line for line in stage.lines if line.joints[0].piece.name == "top rail")


@pytest.mark.parametrize(("length", "words"), [(308, "about 105 apart"), (41, "13.7 scant apart")])
def test_spacing_is_said_as_the_eye_sets_it_unless_it_is_small(length: int, words: str) -> None:
    layout, job = made(WIDE_RAIL)
    line = replace(frame_line(layout, GlueUp()), clamps=3)
    said, ends = line_words([replace(line, length=Fraction(length))], job.figures)
    assert words in plain(said)
    assert ends == HALF


def test_clamps_from_side_to_side_serve_both_ends_of_every_shelf_in_their_line() -> None:
    layout, _ = made(BOX)
    (case,) = stages_of(layout)[1:]
    assert len(case.joints) == 4
    # two lines, bottom and top, with a clamp at the front and one at the back, and a bowed caul on either side
    assert [(line.clamps, line.cauls, len(line.joints)) for line in case.lines] == [(2, 2, 2)] * 2
    assert (case.clamps, case.cauls) == (4, 4)
    assert case.glued_length == 4 * 300


def test_deep_case_takes_no_more_than_two_clamps_a_line() -> None:
    layout, _ = made(BOX.replace("depth = 300", "depth = 900"))
    assert [line.clamps for line in stages_of(layout)[1].lines] == [2, 2]


def test_clamps_just_as_far_apart_as_they_reach_are_enough() -> None:
    layout, _ = made(WIDE_RAIL)
    assert frame_line(layout, GlueUp(caul=Fraction(32))).clamps == 2  # 288 / (2 · (40 + 32)) = 2
    assert frame_line(layout, GlueUp(caul=Fraction(31))).clamps == 3


def test_thicker_cauls_take_fewer_clamps() -> None:
    layout, _ = made(WIDE_RAIL)
    counts = [frame_line(layout, GlueUp(caul=Fraction(caul))).clamps for caul in (1, 20, 40, 80)]
    assert counts == [4, 3, 2, 2]  # 288 / 82 = 3.5, / 120 = 2.4, / 160 = 1.8


def test_face_frame_is_clamped_along_stiff_cauls() -> None:
    layout, job = made(DRAWERS)
    (frame,) = (s for s in stages_of(layout, None, GlueUp(stiff_caul=Fraction(57))) if "frame onto" in s.name)
    along = {line.joints[0].on.name: line.clamps for line in frame.lines if line.held is Held.STIFF}
    # through 18 of frame: 900 / (2 · (18 + 57)) = 6 on the sides; between the stiles 934 of rail: 6.2
    assert along == {"left side": 6, "right side": 6, "bottom": 7, "top": 7}
    assert "on a stiff caul along it" in plain("; ".join(line_words(frame.lines, job.figures)))


def test_caul_over_the_rails_goes_from_edge_to_edge_of_the_frame() -> None:
    """Between left stile and mid stile no bar passes: rails in one line have one caul, clamped outside both stiles."""
    text = CHEST + "".join("[[cabinet.column]]\nopenings = ['equal', 'equal']\n" for _ in range(3))
    layout, _ = made(text)
    (frame,) = (stage for stage in stages_of(layout) if "frame onto" in stage.name)
    (rails,) = (line for line in frame.lines if line.joints[0].on.role is Role.SHELF)
    assert len(rails.joints) == 3
    assert (rails.length, rails.clamps) == (1000, 2)


@given(built_cabinets())
def test_minutes_are_those_of_joints_and_clamps(layout: CabinetLayout) -> None:
    pace = GlueUp(Fraction(3, 2), Fraction(2, 3), pin_minutes=Fraction(1, 7))
    for stage in stages_of(layout, None, pace):
        places = 1 if stage.name in FASTENED or "onto" in stage.name else len(stage.joints)
        spread = Fraction(3, 4) * (len(stage.joints) + places if stage.joints else 0)
        # What is screwed on without glue is only put in its place.
        assert stage.spread == (spread if stage.glued else 0)
        spread = spread if stage.glued else Fraction(3, 4)
        assert stage.minutes == spread + Fraction(2, 3) * stage.clamps + Fraction(1, 7) * stage.pins
        assert stage.fits is None
        assert stage.slower_glue == ""


@pytest.mark.parametrize("through", ["shelves", "dividers"])
@pytest.mark.parametrize("depth", [300, 400, 500])
def test_case_of_a_dozen_compartments_comes_together_in_about_three_quarters_of_an_hour(
    through: str, depth: int
) -> None:
    """Common practice, no source: one person takes about 45 minutes."""
    head = DOZEN.format(height=900, width=1000, depth=depth, through=through)
    columns = "[[cabinet.column]]\nopenings = ['equal', 'equal', 'equal', 'equal']\n" * 3
    layout, _ = made(head + columns)
    assert len(layout.bays) == 12
    minutes = sum(stage.minutes for stage in stages_of(layout)[1:])
    assert 30 <= minutes <= 60


@given(built_cabinets())
def test_a_stage_fits_its_glue_or_says_which_it_needs(layout: CabinetLayout) -> None:
    for glue in (QUICK, USUAL, SOON_DRY, SLOW):
        for stage in stages_of(layout, glue)[1:]:
            if stage.pins:
                assert (stage.fits, stage.slower_glue) == (None, "")
                continue
            fits = stage.spread <= glue.open and stage.minutes <= glue.closed
            assert stage.fits is fits
            assert bool(stage.slower_glue) is not fits
    assert all(stage.fits is not False for stage in stages_of(layout, SLOW)[1:])


@given(built_cabinets())
def test_slower_glue_is_asked_for_once_and_with_it_every_stage_fits(layout: CabinetLayout) -> None:
    for glue in (QUICK, USUAL, SOON_DRY):
        stages = stages_of(layout, glue)
        words = slower_glue_words(stages, glue)
        assert bool(words) is any(stage.fits is False for stage in stages)
        if words:
            open_time, closed = map(
                int, re.findall(r"at least (\d+) min open and (\d+) min closed is enough", words)[0]
            )
            enough = Glue("enough", Fraction(open_time), Fraction(closed))
            assert slower_glue_words(stages_of(layout, enough), enough) == ""


def test_slower_glue_is_said_once_in_a_whole_listing() -> None:
    layout, _ = made(TOWER)
    stages = stages_of(layout, USUAL)
    words = slower_glue_words(stages, USUAL)
    assert words.startswith("A slower glue is needed: one with at least 41 min open and 82 min closed is enough.")
    assert "cabinet 1, case, 1 of 2" in words
    assert "and 1 other stage" in words
    assert sum("slower glue" in sentence for sentence in remarks(stages, [layout], USUAL)) == 1


STAYS: Final = Glue("stays", Fraction(600), Fraction(900), Fraction(45))


def test_clamps_stay_on_as_long_as_the_glue_needs_and_the_total_counts_it() -> None:
    layout, _ = made(DRAWERS)
    stages = stages_of(layout, STAYS)
    held = [stage.name for stage in stages if stage.clamp_time == 45]
    assert held == ["case: bottom, top and shelf 1 to sides", "face frame: rails to stiles", "face frame onto the case"]
    assert [stage.clamp_time for stage in stages if stage.pins or stage.closing is None] == [0, 0]
    (total,) = by_cabinet(stages)
    assert (total.in_clamps, total.clamped) == (3, 135)
    assert total.minutes == sum(stage.minutes for stage in stages) + 135
    assert total_words(total).endswith("3 times in clamps for 45 min: 3 h 7 min in all")


def test_total_without_a_clamp_time_counts_how_often_clamps_stay_on() -> None:
    layout, _ = made(BOX)
    (total,) = by_cabinet(stages_of(layout, USUAL))
    assert (total.in_clamps, total.clamped, total.minutes) == (1, None, None)
    assert total_words(total) == "about 8 min of work, and once in clamps for as long as the glue's label says"


def test_shop_that_owns_too_few_clamps_is_told_which_and_what_would_do() -> None:
    """The box is 100 wide: two lines of two clamps, 100 + 2 · 38.1 = 176.2 of jaws."""
    layout, job = made(BOX)
    stage = stages_of(layout)[1]
    short, long = (Clamp("short", Fraction(150), 9), Clamp("long", Fraction(200), 3))
    assert lacking(stage.needs, ()) == ()
    assert lacking(stage.needs, (short, long)) == (ClampSet(1, Fraction("176.2")),)
    assert lacking(stage.needs, (replace(long, count=4),)) == ()
    words = plain(lack_words(stage, replace(job, shop=Shop(clamps=(short, long)))))
    assert words == (
        "the shop is short of clamps: get or borrow 1 more clamp that opens to 180, or draw some of the joints home "
        "with screws, where they will not show"
    )


@given(built_cabinets())
def test_clamps_of_the_dry_run_serve_every_stage_and_none_is_for_no_stage(layout: CabinetLayout) -> None:
    dry, *glued = stages_of(layout)
    owned = [Clamp(str(need.jaws), need.jaws, need.clamps) for need in dry.needs]
    assert sum(need.clamps for need in dry.needs) == dry.clamps
    assert all(lacking(stage.needs, owned) == () for stage in glued)
    for place, need in enumerate(dry.needs):
        fewer = [*owned[:place], Clamp("fewer", Fraction(1), 1), *owned[place + 1 :]]
        fewer += [replace(owned[place], count=need.clamps - 1)] if need.clamps > 1 else []
        assert any(lacking(stage.needs, fewer) for stage in glued)


def test_clamps_that_have_to_open_wide_are_told_from_the_others() -> None:
    layout, job = made(DRAWERS)
    dry, *glued = stages_of(layout)
    (frame,) = (stage for stage in glued if "frame onto" in stage.name)
    (case,) = (stage for stage in glued if stage.name.startswith("case"))
    assert (case.clamps, case.jaws > frame.jaws) == (6, True)
    assert dry.needs[0] == ClampSet(6, max(stage.jaws for stage in glued))
    assert f"{dry.clamps} clamps (6 that open to" in plain(clamp_words(dry, job.units))


@pytest.mark.parametrize(
    ("needs", "said"),
    [
        (
            [(4, 2176.2), (8, 1026.2), (16, 527), (14, 476.2)],
            "4 that open to 2180 or more, 8 to 1030, 16 to 530 and 14 to 480",
        ),
        ([(4, 2176.2), (8, 530), (16, 527), (14, 526)], "4 that open to 2180 or more and 38 to 530"),
        # 2 at 1000 with those to 1010 ask for 20 mm of bar too much, 6 at 500 with those to 600 for 600
        (
            [(4, 2000), (3, 1010), (2, 1000), (1, 600), (6, 500)],
            "4 that open to 2000 or more, 5 to 1010, 1 to 600 and 6 to 500",
        ),
        ([(9, 900), (1, 899)], ""),
    ],
)
def test_only_as_many_clamps_as_must_are_long(needs: list[tuple[int, float]], said: str) -> None:
    """Of many kinds those nearest to each other are one class, never all of them the widest."""
    layout, job = made(DRAWERS)
    kinds = tuple(ClampSet(clamps, Fraction(jaws)) for clamps, jaws in needs)
    number = sum(clamps for clamps, _ in needs)
    stage = replace(stages_of(layout)[0], needs=kinds)
    assert plain(clamp_words(stage, job.units)) == f"{number} clamps" + (
        f" ({said})" if said else " that open to 900 or more"
    )


@given(built_cabinets(), st.lists(st.tuples(st.integers(100, 2500), st.integers(1, 30)), min_size=1, max_size=4))
def test_clamps_that_are_lacking_are_just_enough(layout: CabinetLayout, owned: list[tuple[int, int]]) -> None:
    """Clamps are given to the lines one by one, the widest line first, each the shortest clamp that opens to it."""
    shop = [Clamp(str(number), Fraction(opens), count) for number, (opens, count) in enumerate(owned)]
    for stage in stages_of(layout)[1:]:
        lacks = lacking(stage.needs, shop)
        for less in (False, True):
            if less and not lacks:
                continue
            extra = [lack.jaws for lack in lacks for _ in range(lack.clamps)][less:]
            free = sorted([*(clamp.opens for clamp in shop for _ in range(clamp.count)), *extra])
            wanted = sorted((line.jaws for line in stage.lines for _ in range(line.clamps)), reverse=True)
            served = len(wanted) <= len(free) and all(
                opens >= jaws for opens, jaws in zip(reversed(free), wanted, strict=False)
            )
            assert served is not less


def test_back_that_waits_for_the_paint_squares_the_case_dry_and_is_fastened_last() -> None:
    layout, job = made(DRAWERS.replace("rabbet_depth = 9", "rabbet_depth = 9, after_painting = true"))
    stages = stages_of(layout, QUICK)
    assert names(stages)[-1] == "back, after painting"
    assert [stage.name for stage in stages if stage.dry_back] == [
        stage.name for stage in stages if stage.name.startswith("case") and stage.twist
    ]
    back = stages[-1]
    assert (back.glued, back.glued_length, back.spread, back.clamps) == (False, 0, 0, 0)
    assert back.minutes == Fraction(1, 2) + Fraction(back.pins, 6)
    assert pairs_of(stages) == pairs_expected(layout)
    assert_can_be_done(layout, stages)
    (frame,) = (stage for stage in stages if stage.name == "face frame onto the case")
    assert frame.closing is not None
    assert not frame.closing.pieces & set(layout.of(Role.BACK))
    assert any("fastened last" in sentence for sentence in remarks(stages, [layout], None))
    assert not any(stage.dry_back for stage in stages_of(made(DRAWERS)[0]))
    assert "both diagonals of" in check_words(back, job)


def test_twist_is_looked_for_once_in_each_case_frame_and_plinth() -> None:
    for text, made_whole in ((DRAWERS, 2), (LOW, 2), (BOX, 1), (TWELVE, 2)):
        layout, job = made(text)
        stages = stages_of(layout, QUICK)
        said = [
            stage.name.partition(":")[0].partition(",")[0]
            for stage in stages
            if f"twist, {TWIST}" in checks(stage, job)
        ]
        assert len(said) == len(set(said)) == made_whole
        assert all(stage.rectangles and stage.clamps for stage in stages if stage.twist)


def test_outside_of_a_case_with_toe_notches_is_checked_at_its_back_edges() -> None:
    """In front the lower corners are cut away: 90 high and 60 deep."""
    layout, job = made(BOOKCASE)
    stage = stages_of(layout)[1]
    outside, inside = stage.rectangles
    assert (outside.edges, inside.edges) == ("back edges", "")
    assert "case, outside, at the back edges" in check_words(stage, job)
    assert stages_of(made(BOX)[0])[1].rectangles[0].edges == ""
    flush, _ = made(BOOKCASE.replace("recess = 60", "recess = 0"))
    assert stages_of(flush)[1].rectangles[0].edges == ""


@given(built_cabinets())
def test_no_more_stages_than_a_slow_glue_asks_for(layout: CabinetLayout) -> None:
    assert names(stages_of(layout, SLOW)) == names(stages_of(layout, None))


def test_stage_too_long_for_the_glue_is_divided_until_it_fits() -> None:
    layout, _ = made(CHEST.replace("frame =", "#") + "openings = ['equal', 'equal', 'equal', 'equal', 'equal']")
    (whole,) = (stage for stage in stages_of(layout) if stage.name.startswith("case"))
    assert (whole.spread, whole.minutes) == (12, 18)
    divided = [
        stage for stage in stages_of(layout, Glue("brisk", Fraction(10), Fraction(16))) if stage.name.startswith("case")
    ]
    assert len(divided) == 2
    assert [len(stage.joints) for stage in divided] == [6, 6]
    assert all(stage.fits for stage in divided)
    assert {joint.on.name for joint in divided[0].joints} == {"right side"}


def test_side_with_more_shelves_than_the_glue_allows_is_flagged_and_not_divided_in_vain() -> None:
    layout, _ = made(TOWER)
    one, other = stages_of(layout, USUAL)[1:]
    assert (len(one.joints), len(other.joints)) == (41, 41)
    assert other.fits is False
    assert other.slower_glue == "a slower glue is needed: at least 41 min open and 82 min closed"


def test_glue_is_the_one_that_is_named_or_the_first() -> None:
    _, job = made(BOX)
    assert glue_for(job, None) is None
    with pytest.raises(Fault, match='--glue: the shop has no glue "hide"; write it in the shop file'):
        glue_for(job, "hide")
    stocked = replace(job, shop=Shop(glues=(QUICK, SLOW)))
    assert [glue_for(stocked, name) for name in (None, "quick", "slow")] == [QUICK, QUICK, SLOW]
    with pytest.raises(Fault, match='--glue: the shop has no glue "hide"; the glues are quick, slow'):
        glue_for(stocked, "hide")


def test_job_without_cabinets_has_nothing_to_glue_up() -> None:
    layout = storystick.lay_out(
        read_well('units = "mm"\nstock = { ply = 18 }\n[[stick]]\npart = "ply"\nopenings = [300]')
    )
    with pytest.raises(Fault, match=r"no cabinet to glue up; describe one under \[\[cabinet\]\]"):
        plan_glue_up(layout, None)


def test_diagonals_to_check_are_of_what_the_stage_makes_whole() -> None:
    text = CHEST + "".join("[[cabinet.column]]\nopenings = ['equal', 'equal']\n" for _ in range(3))
    layout, job = made(text)
    found = {stage.name.partition(",")[0] + str(len(stage.rectangles)): stage for stage in stages_of(layout)}
    outside = found["face frame onto the case1"].rectangles[0]
    case = (layout.case.x.size, layout.case.z.size)
    assert (outside.width, outside.height) == case
    whole = next(stage for stage in stages_of(layout) if stage.name.startswith("case, 3"))
    inside = whole.rectangles[1]
    assert (inside.width, inside.height) == (case[0] - 36, case[1] - 36)
    words = check_words(whole, job).replace("\N{NO-BREAK SPACE}", " ")
    for rectangle in whole.rectangles:
        assert f"{round(hypot(rectangle.width, rectangle.height), 1):g}" in words
    assert "before the glue grabs" in words


@given(built_cabinets())
def test_every_opening_of_a_body_is_checked_once_until_the_whole_is(layout: CabinetLayout) -> None:
    stages = stages_of(layout, USUAL)
    seen = [each.name for stage in stages[1:] for each in stage.rectangles if "case, outside" not in each.name]
    openings = [name for name in seen if "opening" in name]
    assert len(openings) == len(set(openings))
    whole = {"Case case, outside"} | ({"Case face frame"} if layout.of(*FRAME_ROLES) else set())
    assert whole <= {each.name for stage in stages[1:] for each in stage.rectangles}


def test_joints_are_gathered_by_what_they_are_joined_to() -> None:
    layout, _ = made(BOX)
    assert list(grouped(stages_of(layout)[1].joints)) == ["bottom, top to left side, right side"]


def test_joints_of_a_step_are_in_the_order_of_placing() -> None:
    layout, _ = made(ALL["twelve openings"])
    for stage in stages_of(layout)[1:]:
        assert stage.closing is not None
        rank = {piece: place for place, assembly in enumerate(stage.closing.assemblies) for piece in assembly}
        later = [max(rank[joint.piece], rank[joint.on]) for joint in stage.joints]
        assert later == sorted(later)


def published(name: str) -> list[dict[str, object]]:
    entries: list[dict[str, object]] = tomllib.loads((SHARED / f"{name}.toml").read_text())["published"]
    return entries


def test_sizes_from_which_a_unit_may_tip_are_the_published_ones() -> None:
    rule, europe = published("tip_over")
    assert rule["height_inches"] * INCH_MM == LEAST_HEIGHT  # type: ignore[operator]
    assert Fraction(str(rule["enclosed_cubic_feet"])) * Fraction("304.8") ** 3 == LEAST_VOLUME
    layout, job = made(DRAWERS)
    words = " ".join(tip_over_words([layout], job.figures))
    for key in ("rule", "standard", "made_after", "enclosed_cubic_feet"):
        assert str(rule[key]) in words
    assert f"{rule['height_inches']} in or higher" in words
    assert f"{rule['weight_pounds']} lb or more" in words
    for word in (*rule["out_of_scope"], europe["rule"], europe["applies_to"], *europe["not_covered"]):  # type: ignore[misc]
        assert str(word) in words


def test_volume_is_what_is_clear_behind_drawers_and_doors() -> None:
    layout, job = made(DRAWERS)
    # 1000 - 5 - 9 proud - 2·18; 900 - 3·18; 400 - 18 of frame - 12 of rabbet
    assert enclosed_volume(layout) == 950 * 846 * 370
    assert "Chest (900 mm high, 297 litres (10.5 ft³) enclosed)" in " ".join(tip_over_words([layout], job.figures))


def test_cabinets_of_a_size_are_named_together_where_they_can_tip_over() -> None:
    layout, job = made(DRAWERS)
    two, three = (replace(layout, cabinet=replace(layout.cabinet, name=f"Chest {number}")) for number in (2, 3))
    said = list(tip_over_words([two, three], job.figures))
    (rule,) = (sentence for sentence in said if "16 CFR 1261" in sentence)
    assert rule.startswith("Chest 2, 3 (900 mm high, 297 litres (10.5 ft³) enclosed): in the United States")
    assert enclosed_volume(made(BOX)[0]) == 0


@pytest.mark.parametrize(
    ("height", "width", "large"),
    [("27", "40", True), ("26.99", "40", False), ("27", "9", False)],
    ids=["at the height", "below it", "too little enclosed"],
)
def test_both_sizes_have_to_be_reached(height: str, width: str, large: bool) -> None:
    text = DRAWERS.replace("900", f'"{height} in"').replace("1000", f'"{width} in"')
    layout, job = made(text)
    assert large_enough(layout) is large
    assert ("16 CFR 1261" in " ".join(tip_over_words([layout], job.figures))) is large


def test_pressures_and_terms_are_the_published_ones() -> None:
    pressures, terms = published("glue_up")
    for wood in ("softwood", "hardwood"):
        low, high = pressures[wood]  # type: ignore[misc]
        assert f"{low} to {high} psi ({low * 0.00689476:.1f} to {high * 0.00689476:.1f} N/mm²)" in PRESSURE
    assert str(pressures["glue"]) in PRESSURE
    assert str(pressures["also"]) in PRESSURE
    assert all(str(word) in TIMES for word in terms["keep"])  # type: ignore[attr-defined]


def test_common_practice_is_said_to_be_that() -> None:
    assert "common practice, no source" in PRESSURE
    assert any("gelled" in caution and "common practice, no source" in caution for caution in GLUE_CAUTIONS)


def test_every_joint_has_a_length_and_lines_need_one() -> None:
    stages = stages_of(made(LOW)[0])
    assert all(joint.length > 0 and joint.through > 0 for stage in stages for joint in stage.joints)
    assert clamp_lines((), GlueUp()) == ()
