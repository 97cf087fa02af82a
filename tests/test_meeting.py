"""Where constructions meet: cabinets that join several of them in one case."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from typing import Final

import pytest
from built_cabinets import piece_called
from click.testing import CliRunner
from jobs import read_well

from storystick.cli.glueup import command as glue_up_command
from storystick.errors import StorystickError
from storystick.gluing.clamp_words import clamp_words
from storystick.gluing.instructions import placing
from storystick.gluing.joints import Held
from storystick.gluing.plan import stages_of
from storystick.laying_out import lay_out
from storystick.layout.cabinets.pieces import Axis, CabinetLayout
from storystick.lengths import Units

HEAD: Final = """
title = "Meeting"
units = "mm"
stock = { ply = 18, back = 6, frame = 20 }
[joint.tail]
kind = "sliding dovetail"
width = 12
depth = 8
[joint.low]
kind = "housing"
depth = 6
[joint.dowels]
kind = "dowels"
[joint.pockets]
kind = "pocket screws"
[[cabinet]]
name = "Case"
height = 810
width = 1500
depth = 500
carcass = "ply"
"""


def laid_out(text: str, head: str = HEAD) -> CabinetLayout:
    (layout,) = lay_out(read_well(head + text)).cabinets
    return layout


def placed_before(layout: CabinetLayout, name: str) -> list[set[str]]:
    """The names in each assembly of the closing that a piece slides in at."""
    for stage in stages_of(layout)[1:]:
        slid = {joint.piece.name for joint in stage.joints if joint.held is Held.SOCKET}
        if stage.closing and name in slid:
            assert stage.closing.axis is Axis.Y
            return [{piece.name for piece in assembly} for assembly in stage.closing.assemblies]
    raise AssertionError(name)


@pytest.mark.parametrize("joint", ["low", "pockets"])
def test_a_top_in_sockets_slides_onto_a_case_that_is_pressed_home_before(joint: str) -> None:
    """Nothing but the top has to go on along the depth, and a divider that ends on it lets it pass."""
    layout = laid_out(f'joint = "{joint}"\ntop = {{ joint = "tail" }}\ncolumns = 2\nopenings = ["equal", "equal"]\n')
    rest = {piece.name for piece in layout.pieces} - {"top"}
    assert sorted(map(sorted, placed_before(layout, "top"))) == sorted([["top"], sorted(rest)])


def test_butted_nailers_go_in_where_all_else_slides() -> None:
    layout = laid_out('joint = "tail"\nnailers = {}\ncolumns = 3\n')
    joined = {joint.words for stage in stages_of(layout)[1:] for joint in stage.joints}
    assert {"upper nailer 1 to left side", "upper nailer 3 to right side", "top to left side"} <= joined


def test_dowels_hold_what_would_have_to_slide() -> None:
    with pytest.raises(StorystickError) as caught:
        laid_out('joint = "dowels"\ntop = { joint = "tail" }\ncolumns = 2\n')
    assert '"top" and "divider 1" cannot be brought together in any order' in str(caught.value)
    assert "or let nothing slide in" in str(caught.value)


def test_lines_of_screws_have_no_spacing(tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_text(HEAD + 'joint = "pockets"\n')
    ran = CliRunner().invoke(glue_up_command, [str(job), "--format", "json"], catch_exceptions=False)
    lines = [line for stage in json.loads(ran.output)["stages"] for line in stage["lines"]]
    assert lines
    assert all(line["screws"] and line["spacing"] is None for line in lines)


def test_a_single_clamp_opens() -> None:
    layout = laid_out('joint = "tail"\nnailers = {}\ncolumns = 2\n')
    words = [clamp_words(stage, Units.MM) for stage in stages_of(layout)[1:] if stage.clamps == 1]
    assert words
    assert all(word.startswith("1 clamp that opens to") for word in words)


@pytest.mark.parametrize(("depth", "setback", "ends"), [(500, 0, 2), (380, 0, 1), (250, 120, 0), (200, 290, 1)])
def test_divider_ends_on_those_stretchers_that_it_reaches(depth: int, setback: int, ends: int) -> None:
    """Stretchers take 0 to 100 and 400 to 500 of the depth; the divider what is said."""
    layout = laid_out(
        'joint = "low"\ntop = { place = "stretchers" }\ncolumns = 2\n'
        f"dividers = {{ depth = {depth}, setback = {setback} }}\n"
    )
    divider = piece_called(layout, "divider 1")
    reached = {
        piece.name
        for piece in layout.pieces
        if piece.name.endswith("stretcher")
        if max(piece.y.start, Fraction(setback)) < min(piece.y.end, Fraction(setback + depth))
    }
    assert {on.name for on in divider.high.ons} == reached
    assert len(reached) == ends


def test_divider_that_ends_on_nothing_is_told() -> None:
    with pytest.raises(StorystickError, match='"divider 1" ends on nothing above it and below it'):
        laid_out('joint = "low"\ntop = { place = "none" }\nbottom = { place = "none" }\ncolumns = 2\n')


def test_bottom_that_overhangs_in_front_stands_where_stiles_run_to_the_floor() -> None:
    text = (
        'joint = "low"\nplinth = { height = 90, recess = 50 }\n'
        'frame = { stock = "frame", stile = 40, top = 40, bottom = 40, to_floor = true }\n'
    )
    laid_out(text + 'bottom = { place = "over" }\n')
    with pytest.raises(StorystickError, match="the bottom stands where the left stile and the right stile run to the"):
        laid_out(text + 'bottom = { place = "over", overhang = { front = 25 } }\n')


SHELF_AND_RAIL: Final = 'joint = "tail"\nopenings = ["equal", { opening = "equal", above = "rail" }, "equal"]\n'


def test_a_rail_whose_sockets_stop_behind_it_slides_in_from_the_front_and_a_shelf_from_the_back() -> None:
    layout = laid_out(SHELF_AND_RAIL)
    words = " ".join(placing(stage.closing, layout) for stage in stages_of(layout)[1:] if stage.closing)
    assert "slide" in words
    assert "shelf 1 in from the back, and rail 1 in from the front" in words


def test_sockets_that_stop_at_both_edges_let_nothing_in() -> None:
    head = HEAD.replace("depth = 8\n", "depth = 8\nstop = 10\n")
    with pytest.raises(StorystickError) as caught:
        laid_out(SHELF_AND_RAIL, head)
    assert '"rail 1" cannot slide in, since its sockets stop before the front and the back edge' in str(caught.value)
    assert '"shelf 1" cannot' not in str(caught.value)


LAPPING: Final = 'joint = "low"\nfronts = { kind = "overlay", overlay = { outside = 10, top = 22 } }\n'


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('top = { place = "none" }\nnailers = {}\n', "stands 22 beyond the top, where the case is open; make top 0 or"),
        ('countertop = { stock = "ply" }\n', "stands 4 into the countertop; make top 18 or less"),
        ('top = { place = "over", overhang = { front = 25 } }\n', "stands 22 into the top; make top 0 or less"),
    ],
)
def test_fronts_that_reach_above_the_face_need_room_there(text: str, words: str) -> None:
    """Boards are 18 thick; a top that lies over the face leaves none of its edge to be lapped."""
    with pytest.raises(StorystickError, match=words):
        laid_out(LAPPING + text)


def test_fronts_may_lap_the_edge_of_a_top_and_hang_over_one_that_ends_behind_them() -> None:
    laid_out(LAPPING)
    laid_out(LAPPING + 'top = { place = "over" }\n')
    laid_out(LAPPING + 'top = { place = "over", overhang = { left = 25 } }\n')
