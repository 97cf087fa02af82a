"""Cuts that stop: a router's edge guide from where to where, never the saw, and the same in every listing."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from typing import Any, Final

import pytest
from click.testing import CliRunner
from drawn_cabinets import ALL, HEAD, made
from jobs import read_well

from storystick import lay_out
from storystick.cli import main
from storystick.drawing.cut_pictures import draw_guided_cut
from storystick.drawing.shapes import Text
from storystick.job.shop import Shop
from storystick.job.tools import Bit, Saw
from storystick.layout.cabinets.pieces import CASE_ROLES, FRAME_ROLES, CabinetLayout
from storystick.layout.cabinets.working import works_of
from storystick.layout.cabinets.works import WorkKind
from storystick.sheets.pages.flow import Room
from storystick.sheets.pages.setups import by_hand_blocks, guided_blocks, setup_blocks
from storystick.tooling.guided import guided_cuts, guided_rows, tongue_ends
from storystick.tooling.saw import gather_work, saw_cuts
from storystick.tooling.settings import settings_of

SHOP: Final = Shop(bits=(Bit("six", Fraction(6)), Bit("four", Fraction(4))), saws=(Saw("saw", Fraction(3)),))
TONGUE: Final = HEAD + '[joint.low]\nkind = "tongue"\nwidth = 6\ndepth = 8\nset = 3\nbottom_gap = 1\n'
CASE: Final = """
[[cabinet]]
name = "Case"
height = 900
width = 800
depth = 320
carcass = "ply"
joint = "low"
"""
OVER: Final = 'top = { place = "over" }\n'
TOE: Final = "toe = { height = 90, recess = 60 }\n"
GROOVED: Final = 'back = { stock = "back", groove_depth = 6, groove_inset = 12 }\n'
RABBETED: Final = 'back = { stock = "back", rabbet_width = 10, rabbet_depth = 9 }\n'
FRAME: Final = 'frame = { stock = "ply", stile = 50, top = 40, bottom = 40, proud = 12, joint = "low", tenon = 8 }\n'
CABINETS: Final = {
    f"{top} {toe} {back} {frame}".strip(): CASE + top + toe + back + frame
    for top in ("", OVER)
    for toe in ("", TOE)
    for back in ("", GROOVED, RABBETED)
    for frame in ("", FRAME)
}


@pytest.mark.parametrize("text", CABINETS.values(), ids=range(len(CABINETS)))
def test_whatever_runs_along_a_part_and_stops_is_guided_and_whatever_does_not_is_sawn(text: str) -> None:
    layout, job = made(text, TONGUE)
    guided = {name for cut in guided_cuts([layout], SHOP, job.figures) for name in cut.parts}
    sawn = {
        f"Case {piece.name}"
        for work, pieces in gather_work([layout], job.figures).items()
        if work.work in {"back rabbet", "groove for the back", "groove in the back"}
        for piece in pieces
    }
    assert guided == {f"Case {name}" for name in along(layout, stopped=True)}
    assert sawn == {f"Case {name}" for name in along(layout, stopped=False)}


def along(layout: CabinetLayout, stopped: bool) -> set[str]:
    return {
        piece.name
        for piece in layout.of(*CASE_ROLES, *FRAME_ROLES)
        for work in works_of(layout, piece)
        if work.along_board and work.kind is not WorkKind.TONGUE and work.is_stopped is stopped
    }


def test_rabbet_over_a_toe_notch_is_guided_from_where_to_where() -> None:
    """From the bottom's underside at 90 to the top's at 882; the side is 889 long with its tongue in the top."""
    layout, job = made(CASE + OVER + TOE + RABBETED, TONGUE)
    (row,) = guided_rows(guided_cuts([layout], SHOP, job.figures), job.figures)
    assert row == (
        "1. Case both sides: rabbet for the back, 10 wide, 9 deep; from 90 to 882 from the lower end; "
        "bit six, its near side 4 then 0 from the back edge; bit at 3 then 6 then 9."
    )


def test_groove_that_stops_at_one_end_only_says_where_it_runs_out() -> None:
    layout, job = made(CASE + OVER + TOE + GROOVED, TONGUE)
    rows = list(guided_rows(guided_cuts([layout], SHOP, job.figures), job.figures))
    assert rows[0].startswith("1. Case both sides: groove for the back, 6 wide, 6 deep; from 102 to 889 (the end) from")
    assert "2. Case top: groove for the back, 6 wide, 6 deep; from 12 to 788 from the left end" in rows[1]


@pytest.mark.parametrize("bits", [(Bit("two", Fraction(2)),), (Bit("four", Fraction(4)), Bit("two", Fraction(2)))])
def test_passes_of_a_guide_fill_the_groove_and_each_later_one_is_nearer_the_guide(bits: tuple[Bit, ...]) -> None:
    layout, job = made(CASE + TOE + GROOVED, TONGUE)
    (cut, *_) = guided_cuts([layout], Shop(bits=bits), job.figures)
    assert cut.bit
    assert (cut.settings[-1], cut.settings[0] + cut.bit.diameter) == (12, 18)
    assert all(0 < one - other <= cut.bit.diameter for one, other in pairwise(cut.settings))


def test_without_a_bit_that_is_narrow_enough_its_place_is_said_all_the_same() -> None:
    layout, job = made(CASE + TOE + GROOVED, TONGUE)
    (row, *_) = guided_rows(guided_cuts([layout], Shop(), job.figures), job.figures)
    assert row.endswith("; the shop file has no bit; 12 from the back edge to its near edge.")
    (row, *_) = guided_rows(guided_cuts([layout], Shop(bits=(Bit("ten", Fraction(10)),)), job.figures), job.figures)
    assert row.endswith("; no bit of the shop is so narrow; 12 from the back edge to its near edge.")


@pytest.mark.parametrize(("fit", "passes"), [("0", 2), ("0.4", 2), ("1.2", 1)])
def test_joint_s_fit_lets_a_narrower_bit_or_cutter_take_the_groove_at_once(fit: str, passes: int) -> None:
    """A frame's grooves of 6, with a bit or a cutter of 4.8: 1.2 under, which a stated fit of 1.2 lets pass."""
    layout, job = made(CASE + OVER + FRAME, TONGUE + f'fit = "{fit}"\n')
    shop = Shop(bits=(Bit("bit", Fraction("4.8")),), saws=(Saw("saw", Fraction("4.8")),))
    cuts = [cut for cut in guided_cuts([layout], shop, job.figures) if cut.cut == "groove in the back"]
    sawn = [cut for cut in saw_cuts([layout], shop, job.figures) if cut.cut.startswith("groove in the back")]
    assert cuts
    assert sawn
    assert {len(cut.settings) for cut in cuts} == {passes}
    assert any("pass 2 of 2" in cut.cut for cut in sawn) == (passes == 2)
    words = "is 1.2 narrower than the groove: test the fit in scrap, and where it is tight run "
    for row in (*guided_rows(cuts, job.figures), *(cut.check for cut in sawn if cut.check)):
        assert (words in row) == (passes == 1)


def test_front_tongue_is_sawn_whole_and_its_ends_sawn_away_by_hand_with_their_figures() -> None:
    """The bottom begins at 12 + 18 - 7 = 23 and ends at 777; its rail runs from 50 to 750."""
    layout, job = made(CASE + FRAME, TONGUE)
    assert tongue_ends([layout], job.figures) == (
        "Case bottom, top: 27 at its left end and 27 at its right end, 7 deep",
    )
    sawn = [work.work for work, _ in gather_work([layout], job.figures).items()]
    assert "front tongue" in sawn
    over, _ = made(CASE + OVER + FRAME, TONGUE)
    # The top is as long as the case, from 12 to 788.
    assert "Case top: 38 at its left end and 38 at its right end, 7 deep" in tongue_ends([over], job.figures)


def listing(folder: Path, text: str, *words: str) -> str:
    (folder / "case.toml").write_text(text, "utf-8")
    (folder / "shop.toml").write_text(
        'units = "mm"\n[router.plunge]\nbase_diameter = 150\n[bit.six]\ndiameter = 6\n[saw.bench]\nkerf = 3\n', "utf-8"
    )
    result = CliRunner().invoke(
        main, [words[0], str(folder / "case.toml"), "--shop", str(folder / "shop.toml"), *words[1:]]
    )
    assert result.exit_code == 0, result.output
    return result.stdout


def test_json_says_from_where_to_where_a_groove_runs_that_stops(tmp_path: Path) -> None:
    text = TONGUE + CASE + TOE + GROOVED + 'openings = ["equal", "equal"]\n'
    found: dict[str, Any] = json.loads(listing(tmp_path, text, "setups", "--format", "json"))
    grooves = {(groove["stick"], groove["name"]): groove for groove in found["grooves"]}
    # A shelf's groove of 8 is deeper than the back's of 6, and meets it 302 from the front edge.
    shelf = grooves["Case side", "shelf 1"]
    assert (shelf["from"], shelf["to"], shelf["from_mm"], shelf["to_mm"]) == ("0", "302", 0.0, 302.0)
    assert (grooves["Case side", "top"]["from"], grooves["Case side", "top"]["to_mm"]) == (None, None)
    for side in ("Case left side", "Case right side"):
        back = grooves[side, "back"]
        assert (back["start"], back["end"], back["from"], back["to"]) == ("302", "308", "102", "888")
        assert back["guide"] == "back edge"
        assert (back["from_mm"], back["to_mm"], back["guide_settings"]) == (102.0, 888.0, ["12"])
        assert back.keys() >= {"width", "bit", "side", "straightedge", "passes", "shims"}
    assert not any("back" in cut["cut"] and "side" in cut["part"] for cut in found["saw"])


def test_text_and_csv_have_them_too(tmp_path: Path) -> None:
    text = listing(tmp_path, TONGUE + CASE + TOE + GROOVED + FRAME, "setups")
    assert "from 102 to 888 from the lower end" in " ".join(text.split())
    assert "By hand, after the saw" in text
    rows = list(csv.DictReader(io.StringIO(listing(tmp_path, TONGUE + CASE + GROOVED, "setups", "--format", "csv"))))
    (back,) = (row for row in rows if (row["stick"], row["name"]) == ("Case left side", "back"))
    assert (back["from"], back["to"], back["guide_settings"]) == ("12", "888", "12")


def test_shelf_s_groove_that_stops_says_so_at_the_router() -> None:
    text = TONGUE + CASE + GROOVED + 'openings = ["equal", "equal"]\n'
    setups = settings_of(lay_out(read_well(text))).grooves
    warnings = [warning for setup in setups if setup.name == "shelf 1" for warning in setup.warnings]
    assert (
        "It stops: run it from 0 to 302 from the front edge, with a line across the face there, and square its end "
        "with a chisel."
    ) in warnings


def test_page_has_a_picture_and_both_figures_and_nothing_for_nothing() -> None:
    layout, job = made(CASE + OVER + GROOVED, TONGUE)
    cuts = guided_cuts([layout], SHOP, job.figures)
    (_, top) = cuts
    assert [shape.text for shape in draw_guided_cut(top) if isinstance(shape, Text)] == ["from", "to"]
    blocks = [*guided_blocks(cuts, job.figures, 180.0), *by_hand_blocks(("Case bottom: 27 at its left end",), 180.0)]
    words = " ".join(shape.text for block in blocks for shape in block.shapes if isinstance(shape, Text))
    assert "from 12 to 788 from the left end" in words
    assert "27 at its left end" in words
    assert [*guided_blocks((), job.figures, 180.0), *by_hand_blocks((), 180.0)] == []


@pytest.mark.parametrize(("height", "said"), [(1000.0, 1), (120.0, 2)])
def test_page_for_both_of_the_router_s_ways_has_its_cautions_once(height: float, said: int) -> None:
    """Below the grooves along a straightedge where all of it fits on their page, else with all that is to be minded."""
    layout, job = made(CASE + OVER + GROOVED, TONGUE)
    settings = settings_of(lay_out(read_well(TONGUE + CASE + GROOVED + 'openings = ["equal", "equal"]\n')))
    both = replace(settings, guided=guided_cuts([layout], SHOP, job.figures), saw=())
    assert both.grooves_by_bar
    blocks = list(setup_blocks(both, job, Room(180.0, height)))
    words = "".join(shape.text for block in blocks for shape in block.shapes if isinstance(shape, Text))
    assert words.count("Clamp the work down") == said
    assert sum(block.starts_page for block in blocks) == said


def test_cabinet_without_a_back_or_a_frame_has_none() -> None:
    layout, job = made(ALL["long bench"])
    assert guided_cuts([layout], SHOP, job.figures) == ()
    assert tongue_ends([layout], job.figures) == ()
