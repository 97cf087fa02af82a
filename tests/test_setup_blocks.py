"""The set-up pages and their small sections: figures large, words clear of each other, the cutter where it is set."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Final

import pytest
from drawn_cabinets import CHEST, HEAD
from hypothesis import given
from hypothesis import strategies as st
from jobs import FIGURES, read_well
from lettering_boxes import colliding, text_boxes
from test_saw import CABINET_SAW, FINE_SAW, GALLERY, corner_works, cuts_of, kerfs, tongued

import storystick
from storystick.drawing.cut_pictures import PICTURE_HEIGHT_MM, PICTURE_WIDTH_MM, draw_cut, draw_router_cut, hatched
from storystick.drawing.lettering import points_of
from storystick.drawing.shapes import Box, Line, Shape, Text, extent
from storystick.job.job import Job
from storystick.job.shop import Shop
from storystick.job.tools import BaseEdge, Bit, Router, Saw
from storystick.layout.cabinets.pieces import Range, Role
from storystick.layout.stations import Face
from storystick.lengths import INCH_MM, Units
from storystick.sheets.pages.flow import Block, paginate
from storystick.sheets.pages.setups import machine_blocks
from storystick.tooling.bars import bars_of
from storystick.tooling.cautions import ROUTER_CAUTIONS, SAW_CAUTIONS, Caution
from storystick.tooling.grooves import groove_setups
from storystick.tooling.saw import saw_cuts
from storystick.tooling.settings import router_figures, saw_cautions, saw_operations, straightedge_rows
from storystick.tooling.setups import Bar, GrooveSetup, Posture, SawCut, Side, names_of
from storystick.tooling.tongues import Corner, CornerWork, Notch

WIDTH: Final = 190.0
PAGE: Final = 254.0
BITS: Final = (Bit("quarter", INCH_MM / 4), Bit("half", INCH_MM / 2))
SHOP: Final = Shop((Router("plunge", (BaseEdge("base", 3 * INCH_MM),), True),), BITS, saws=(CABINET_SAW,))
SETUP: Final = GrooveSetup(
    *("side", "shelf", Fraction(100), Fraction(118), Fraction(6)),
    bar=Bar("long", "plunge", "base", "bit", Fraction(12), Fraction(70)),
    side=Side.DATUM,
    straightedge=Fraction(30),
    shims=(Fraction(0), Fraction(6)),
    depths=(Fraction(6),),
)


def blocks_of(path: Path) -> tuple[list[Block], Job]:
    job = storystick.load(path).job
    layout = storystick.lay_out(job)
    setups = groove_setups(layout.sticks, SHOP, job.figures)
    cuts = saw_cuts(layout.cabinets, SHOP, job.figures)
    return list(machine_blocks(setups, cuts, bars_of(SHOP), job, WIDTH)), job


def words(shapes: tuple[Shape, ...]) -> str:
    return " ".join(shape.text for shape in shapes if isinstance(shape, Text) and shape.text != "!")


def black(shapes: tuple[Shape, ...]) -> Box:
    (cutter,) = (shape for shape in shapes if isinstance(shape, Box) and shape.grey == 0)
    return cutter


@pytest.mark.parametrize("path", GALLERY, ids=[path.stem for path in GALLERY])
def test_pages_keep_words_apart_and_within_their_width(path: Path) -> None:
    blocks, _ = blocks_of(path)
    for page in paginate(blocks, PAGE):
        found = text_boxes(page)
        assert colliding(found) == []
        assert all(box.left >= -0.01 and box.right <= WIDTH + 0.01 for box in found)


@pytest.mark.parametrize("path", GALLERY, ids=[path.stem for path in GALLERY])
def test_words_for_the_bench_have_capitals_of_2_5_mm_and_figures_to_set_5_mm(path: Path) -> None:
    """A whole number is 5 mm high, a fraction beside it 3.5 mm, built up over a bar."""
    blocks, _ = blocks_of(path)
    texts = [shape for block in blocks for shape in block.shapes if isinstance(shape, Text)]
    assert all(text.size_pt >= points_of(2.5) - 1e-9 for text in texts)
    bars = [line for block in blocks for line in lines(block.shapes) if line.width_mm == pytest.approx(0.35)]
    small = [text for text in texts if text.size_pt == points_of(3.5) and text.text.isdigit()]
    assert len(small) == 2 * len(bars)
    assert not texts or any(text.size_pt == points_of(5.0) for text in texts)


def test_each_machine_has_a_page_of_its_own_with_its_cautions_before_the_work() -> None:
    blocks, _ = blocks_of(next(path for path in GALLERY if path.stem == "bead-chest"))
    pages = [words(page) for page in paginate(blocks, PAGE)]
    router = next(page for page in pages if "router against a straightedge" in page)
    saw = next(page for page in pages if "Set-up: table saw" in page)
    assert router != saw
    assert "2 7 8 as computed, to the far edge 3 1 8" in " ".join(router.split())
    everything = " ".join(pages)
    for caution in (*ROUTER_CAUTIONS, *SAW_CAUTIONS):
        assert caution in everything
    assert router.index(ROUTER_CAUTIONS[-1]) < router.index("1. Bar")
    assert saw.index(SAW_CAUTIONS[-1]) < saw.index("1. End tongue")


def test_chest_is_set_up_on_one_page_at_the_router_and_two_at_the_saw() -> None:
    blocks, _ = blocks_of(next(path for path in GALLERY if path.stem == "bead-chest"))
    pages = [words(page) for page in paginate(blocks, 248.0)]
    assert ["router against" in page for page in pages] == [True, False, False]


def test_cautions_stand_together_on_one_page() -> None:
    blocks, _ = blocks_of(next(path for path in GALLERY if path.stem == "bead-chest"))
    for height in range(150, 260, 7):
        pages = [words(page) for page in paginate(blocks, float(height))]
        assert sum(SAW_CAUTIONS[2][:30] in page and SAW_CAUTIONS[-1][:30] in page for page in pages) == 1


def test_no_work_gives_no_page() -> None:
    _, job = blocks_of(GALLERY[0])
    assert list(machine_blocks((), (), (), job, WIDTH)) == []


def chest_cuts() -> tuple[tuple[SawCut, ...], Job]:
    layout, unit = tongued(CHEST)
    return saw_cuts([layout], SHOP, FIGURES[unit]), replace(storystick.load(GALLERY[0]).job, units=unit)


def test_every_operation_is_one_block_with_all_its_cuts_in_order_and_their_figures() -> None:
    cuts, job = chest_cuts()
    groups = saw_operations(cuts)
    assert [cut for group in groups for operation in group for cut in operation] == list(cuts)
    blocks = list(machine_blocks((), cuts, (), job, WIDTH))
    for number, group in enumerate(groups, start=1):
        title = f"{number}. {group[0][0].work[0].upper()}{group[0][0].work[1:]}"
        (block,) = (block for block in blocks if title in words(block.shapes))
        text = words(block.shapes)
        for operation in group:
            assert f"{operation[0].part}." in text
        assert text.count("near side") == 2 * sum(cut.fence_near > 0 for cut in group[0]) + sum(
            cut.fence_near == 0 for cut in group[0]
        )
        for cut in group[0]:
            for figure in (cut.height, cut.fence_far, abs(cut.fence_near)):
                assert " ".join(re.split("[ /]", job.figures(figure))) in text


def test_operations_for_which_the_saw_is_set_alike_are_one_block_that_names_the_parts_of_each() -> None:
    cuts, _ = chest_cuts()
    twice = [*cuts, *(replace(cut, part="Twin", operation=cut.operation + 100) for cut in cuts)]
    groups = saw_operations(twice)
    assert len(groups) == len(saw_operations(cuts))
    for group in groups:
        parts = [operation[0].part for operation in group]
        assert parts[len(parts) // 2 :] == ["Twin"] * (len(parts) // 2)
        assert "Twin" not in parts[: len(parts) // 2]
    other = [replace(cut, height=cut.height + 1, operation=cut.operation + 100) for cut in cuts]
    assert len(saw_operations([*cuts, *other])) == 2 * len(groups)


def test_caution_for_some_of_the_cuts_or_parts_says_for_which() -> None:
    cuts, _ = chest_cuts()
    first, second = (replace(cuts[0], work="w", step=f"pass {n} of 2", cautions=(), part="A") for n in (1, 2))
    only = Caution("facing", "Screw it on.")
    assert saw_cautions([[first, replace(second, cautions=(only,))]]) == [["Pass 2 of 2: Screw it on."]]
    both = [replace(cut, cautions=(only,)) for cut in (first, second)]
    assert saw_cautions([both, both]) == [["Screw it on."], ["Facing as at 1."]]
    some = Caution("facing", "Screw it on.", parts="shelf 1")
    others = [replace(cut, part="B", cautions=(some,)) for cut in both]
    assert saw_cautions([[*both, *others]]) == [["A; shelf 1: screw it on."]]


def test_grooves_at_one_place_share_a_row() -> None:
    at = replace(SETUP, straightedge=Fraction(30))
    faces = [
        Face("Chest", board, words, Range(Fraction(0), Fraction(1)), Range(Fraction(0), Fraction(1)))
        for board, words in (("divider 1", "left face"), ("divider 1", "right face"), ("divider 2", "left face"))
    ]
    three = [replace(at, face=face, name=f"shelf {number}") for number, face in enumerate(faces, start=1)]
    assert straightedge_rows(three[:2], str) == [("Chest divider 1, left and right face: shelf 1, 2", "30")]
    assert straightedge_rows(three, str) == [
        ("Chest divider 1, left and right face; Chest divider 2, left face: shelf 1–3", "30")
    ]
    # A comma in the name of a plain stick tells no face.
    away = replace(at, stick="side, oak", name="top", straightedge=Fraction(40))
    assert straightedge_rows([at, away], str) == [("side: shelf", "30"), ("side, oak: top", "40")]


@given(work=corner_works(), kerf=kerfs)
def test_picture_of_a_cut_keeps_to_its_room(work: CornerWork, kerf: Fraction) -> None:
    for cut in cuts_of(work, Saw("saw", kerf)):
        shapes = draw_cut(cut)
        found = extent(shapes)
        assert found.left >= -4.0
        assert found.right <= PICTURE_WIDTH_MM + 2.0
        assert found.top <= 0.5
        assert found.bottom >= -PICTURE_HEIGHT_MM
        assert colliding(text_boxes(shapes)) == []
        assert all(line.width_mm > 0 for line in lines(shapes))
        assert all(0.0 <= shape.grey <= 1.0 for shape in shapes if isinstance(shape, Box))


def rabbet_cuts() -> tuple[SawCut, SawCut]:
    notch = Notch("inside face", "outside face", Fraction(10), Fraction(9))
    flat, standing = cuts_of(CornerWork("rabbet", Corner.BACK, Fraction(18), (notch,), ""), FINE_SAW)
    return flat, standing


def test_blade_stands_in_the_picture_as_it_is_set() -> None:
    for cut in rabbet_cuts():
        shapes = draw_cut(cut)
        blade, part = black(shapes), shapes[0]
        assert isinstance(part, Box)
        thick = part.height if cut.posture is Posture.FLAT else part.width
        scale = thick / float(cut.thickness)
        assert blade.width == pytest.approx(float(FINE_SAW.kerf) * scale)
        assert blade.x - part.x == pytest.approx(float(cut.fence_near) * scale)
        assert blade.y + blade.height - part.y == pytest.approx(float(cut.height) * scale)


def test_waste_is_hatched_beside_the_blade_away_from_the_fence() -> None:
    flat, standing = rabbet_cuts()
    assert not any(slope(line) for line in lines(draw_cut(flat)))
    shapes = draw_cut(standing)
    blade = black(shapes)
    hatch = [line for line in lines(shapes) if slope(line)]
    assert hatch
    assert all(line.x1 >= blade.x + blade.width - 1e-9 for line in hatch)


def lines(shapes: tuple[Shape, ...]) -> list[Line]:
    return [shape for shape in shapes if isinstance(shape, Line)]


def slope(line: Line) -> bool:
    """Whether it is a hatching line: fine and slanting."""
    return line.x1 != line.x2 and line.y1 != line.y2 and line.width_mm < 0.2


@pytest.mark.parametrize("place", [0, 1])
def test_dimension_lines_have_a_slanting_tick_across_each_end(place: int) -> None:
    drawn = lines(draw_cut(rabbet_cuts()[place]))
    ticks = [line for line in drawn if line.x1 != line.x2 and line.y1 != line.y2 and not slope(line)]
    assert len(ticks) == 4
    ends = {(round(x, 6), round(y, 6)) for line in drawn for x, y in ((line.x1, line.y1), (line.x2, line.y2))}
    for tick in ticks:
        assert tick.x2 - tick.x1 == pytest.approx(tick.y2 - tick.y1)
        assert (round((tick.x1 + tick.x2) / 2, 6), round((tick.y1 + tick.y2) / 2, 6)) in ends


def test_measured_is_the_far_side_where_the_near_side_is_in_the_fence() -> None:
    flat, _ = rabbet_cuts()
    assert words(draw_cut(flat)) == "near side height"
    inside = replace(flat, fence_near=Fraction(-1), fence_far=Fraction(1))
    assert words(draw_cut(inside)) == "far side height"


@pytest.mark.parametrize("side", Side)
def test_router_has_its_straightedge_on_its_side_and_the_shim_between(side: Side) -> None:
    shapes = draw_router_cut(replace(SETUP, side=side))
    straight = next(shape for shape in shapes if isinstance(shape, Box) and shape.grey == 0.35)
    shim = [line for line in lines(shapes) if slope(line)]
    bit = black(shapes)
    motor = next(shape for shape in shapes if isinstance(shape, Box) and shape.grey == 0.8)
    assert bit.x + bit.width / 2 == pytest.approx(motor.x + motor.width / 2)
    if side is Side.DATUM:
        assert straight.x < min(line.x1 for line in shim) < bit.x
    else:
        assert straight.x > max(line.x2 for line in shim) - 1e-9 > bit.x
    assert extent(shapes).bottom >= -PICTURE_HEIGHT_MM


def test_figures_for_the_router_tell_shims_and_depths_only_where_there_are_several_passes() -> None:
    assert list(router_figures(SETUP, str)) == [
        "groove 18 wide, 6 deep",
        "shims 0 then 6",
        "straightedge on the datum side",
    ]
    deep = replace(SETUP, shims=(Fraction(0),), depths=(Fraction(3), Fraction(6)), side=None)
    assert list(router_figures(deep, str)) == ["groove 18 wide, 6 deep", "bit at 3 then 6"]


def test_router_picture_needs_a_bar_and_shows_a_shim_only_where_there_is_one() -> None:
    assert draw_router_cut(replace(SETUP, bar=None)) == ()
    assert not any(map(slope, lines(draw_router_cut(replace(SETUP, shims=(Fraction(0),))))))


@given(width=st.floats(0.01, 40), height=st.floats(0.01, 40))
def test_hatching_stays_within_its_box_at_45_degrees(width: float, height: float) -> None:
    for line in hatched(Box(3.0, -5.0, width, height)):
        assert 3.0 - 1e-9 <= line.x1 < line.x2 <= 3.0 + width + 1e-9
        assert -5.0 - 1e-9 <= line.y1 <= line.y2 <= -5.0 + height + 1e-9
        assert line.x2 - line.x1 == pytest.approx(line.y2 - line.y1)


def test_hatching_fills_its_box_from_corner_to_corner_a_millimetre_apart() -> None:
    """Lines at 45 degrees run from y - x = -10, the lower right corner, to 6, the upper left one: one every mm."""
    found = sorted(line.y1 - line.x1 for line in hatched(Box(0.0, 0.0, 10.0, 6.0)))
    assert found == pytest.approx([number - 9.5 for number in range(16)])


def test_block_that_starts_a_page_does() -> None:
    one = Block(10.0, (Line(0.0, 0.0, 1.0, 0.0),))
    assert len(paginate([one, one], 100.0)) == 1
    assert len(paginate([one, replace(one, starts_page=True)], 100.0)) == 2
    assert len(paginate([replace(one, starts_page=True), one], 100.0)) == 1


def test_many_places_of_the_straightedge_stand_in_two_columns_and_go_on_under_their_title() -> None:
    _, job = blocks_of(GALLERY[0])
    setups = [replace(SETUP, stick="side", name=f"shelf {n}", straightedge=Fraction(10 * n)) for n in range(1, 31)]
    blocks = list(machine_blocks(setups, (), (), replace(job, units=Units.MM), WIDTH))
    pages = paginate(blocks, 160.0)
    assert len(pages) > 1
    for page in pages[1:]:
        assert words(page).startswith("1. Bar long, straightedge on the datum side, continued")
        assert colliding(text_boxes(page)) == []
    found = [text.text for page in pages for text in page if isinstance(text, Text) and text.text.startswith("side: ")]
    order = [int(name.removeprefix("side: shelf ")) for name in found]
    assert sorted(order) == list(range(1, 31))
    assert order[:4] == [1, 16, 2, 17]


def test_parts_of_cabinets_that_are_cut_alike_are_named_together() -> None:
    own = "".join(CHEST.replace('"Chest"', f'"Unit {number}"') + "openings = ['equal']\n" for number in (1, 2, 3))
    sides = [side for cabinet in storystick.lay_out(read_well(HEAD + own)).cabinets for side in cabinet.of(Role.SIDE)]
    assert names_of(sides) == "Unit 1–3: both sides"
    assert names_of(sides[:2]) == "Unit 1 both sides"
    assert names_of(sides[:3]) == "Unit 1 both sides; Unit 2 left side"
