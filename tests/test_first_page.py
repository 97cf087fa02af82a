"""Page 1 of the job sheet: every strip's letter where it is laid, in the key, and clear of all else."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import combinations
from math import dist
from pathlib import Path
from typing import Final, TypeGuard

import pytest
from built_cabinets import built_jobs
from hypothesis import given
from hypothesis import strategies as st
from jobs import GALLERY_JOBS, read_well
from lettering_boxes import TextBox, colliding, text_boxes
from ringed import SeenRing, middle, rings_in
from strategies import jobs

from storystick.drawing.lettering import SIZE_MM, STATION_MM, points_of
from storystick.drawing.overviews import LARGE, SMALL, Sizes, arrange_boards, overview_of
from storystick.drawing.shapes import Box, Line, Rect, Shape, Text, extent
from storystick.drawing.signs import SIGNS, STEP_HEIGHT_MM, STEP_WIDTH_MM, Sign, Step, signs_of, steps_of
from storystick.drawing.standing import Lettered
from storystick.drawing.strip import Strip, strips_of
from storystick.drawing.wall import walls_of
from storystick.drawing.wall_view import FrontView, arrange_front
from storystick.job.job import Job
from storystick.job.papers import DEFAULT_MARGIN
from storystick.laying_out import lay_out, load
from storystick.layout.cabinets.pieces import BACK_ROLES, CabinetLayout
from storystick.layout.stations import Layout
from storystick.sheets.document import Page
from storystick.sheets.pages.first_picture import arrange_picture
from storystick.sheets.pages.job_sheet import job_sheet_pages
from storystick.sheets.print_choices import STRIPS_FILE
from storystick.sheets.strips import StripSheets, plan_strips

GALLERY: Final = {path.stem: path for path in GALLERY_JOBS}
each_job = pytest.mark.parametrize("path", GALLERY.values(), ids=GALLERY.keys())


def front_of(layout: Layout, width: float = 180.0, height: float = 110.0) -> FrontView:
    strips = strips_of(layout)
    lettered = [Lettered(strip.letter, face) for strip in strips for face in strip.faces]
    walls = walls_of(layout, {strip.layout.name: strip.letter for strip in strips})
    return arrange_front(layout, lettered, walls, width, height)


def cabinet_corner(shapes: Iterable[Shape]) -> tuple[float, float]:
    """The lower left corner of the only cabinet of a picture: that of all that is filled."""
    boxes = [shape for shape in shapes if isinstance(shape, Box)]
    return min(box.x for box in boxes), min(box.y for box in boxes)


def feet(view: FrontView, letter: str) -> list[tuple[float, float]]:
    """Where the letter's rings are tied to, in mm of the cabinet, in rising order."""
    left, floor = cabinet_corner(view.shapes)
    tied = [seen.foot for seen in rings_in(view.shapes) if seen.letter == letter and seen.foot]
    return sorted(((x - left) / view.scale, (y - floor) / view.scale) for x, y in tied)


def inches(*figures: str) -> list[pytest.approx]:
    return [pytest.approx(float(sum(map(Fraction, figure.split()))) * 25.4, abs=0.01) for figure in figures]


def test_letters_of_the_bead_chest_are_tied_to_the_faces_that_they_are_for() -> None:
    """By hand: the chest is 38 wide and 34 high, of 23/32 ply with its divider in the middle, stiles 1 1/2 wide."""
    layout = load(GALLERY["bead-chest"])
    letters = {strip.serves_words: strip.letter for strip in strips_of(layout)}
    view = front_of(layout)

    def tied(words: str) -> list[tuple[float, float]]:
        return feet(view, letters[words])

    assert [x for x, _ in tied("Chest side")] == inches("23/32", "37 9/32")
    assert [x for x, _ in tied("Chest stile")] == inches("1 1/2", "36 1/2")
    assert [x for x, _ in tied("Chest divider 1, both faces")] == inches("19")
    assert sorted(y for _, y in tied("Chest bottom, upper face; top, lower face")) == inches("23/32", "33 9/32")


def holds(face_x: tuple[float, float], face_z: tuple[float, float], foot: tuple[float, float]) -> bool:
    near = 0.01
    return face_x[0] - near <= foot[0] <= face_x[1] + near and face_z[0] - near <= foot[1] <= face_z[1] + near


@given(built_jobs())
def test_every_letter_is_tied_to_a_board_that_its_strip_is_struck_on(built: tuple[object, Job]) -> None:
    """The boards are looked for among the cabinet's pieces, by their places."""
    layout = lay_out(built[1])
    view = front_of(layout)
    strips = strips_of(layout)
    assert {seen.letter for seen in rings_in(view.shapes)} == {strip.letter for strip in strips}
    pieces = [
        ((float(p.x.start), float(p.x.end)), (float(p.z.start), float(p.z.end))) for p in layout.cabinets[0].pieces
    ]
    for strip in strips:
        own = {((float(f.x.start), float(f.x.end)), (float(f.z.start), float(f.z.end))) for f in strip.faces}
        others = own - {*pieces, *own_fronts(strip)}
        assert all(is_whole_back(place, layout.cabinets[0]) for place in others)
        for foot in feet(view, strip.letter):
            assert any(
                holds(x, z, foot) for other in strips if other.letter == strip.letter for x, z in faces_of(other)
            )


def faces_of(strip: Strip) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    return [((float(f.x.start), float(f.x.end)), (float(f.z.start), float(f.z.end))) for f in strip.faces]


def is_whole_back(
    place: tuple[tuple[float, float], tuple[float, float]], cabinet: CabinetLayout, room_to_swell: float = 12.0
) -> bool:
    """Whether it is a back of several pieces, which is struck as one: at its edges they have room to swell."""
    boards = cabinet.of(*BACK_ROLES)
    if not boards:
        return False
    edges = (
        (min(board.x.start for board in boards), max(board.x.end for board in boards)),
        (min(board.z.start for board in boards), max(board.z.end for board in boards)),
    )
    return all(
        0 <= float(low) - start <= room_to_swell and 0 <= end - float(high) <= room_to_swell
        for (start, end), (low, high) in zip(place, edges, strict=True)
    )


def own_fronts(strip: Strip) -> set[tuple[tuple[float, float], tuple[float, float]]]:
    """A column of fronts lies on no piece of the case or the frame."""
    return {place for place in faces_of(strip) if "front" in strip.serves_words}


def assert_rings_stand_clear(rings: Sequence[SeenRing], shapes: Iterable[Shape]) -> None:
    """No ring on another, and no words under a ring but its own letter."""
    for one, other in combinations(rings, 2):
        reach = (one.disc.right - one.disc.left + other.disc.right - other.disc.left) / 2
        assert dist(middle(one.disc), middle(other.disc)) >= reach
    boxes = text_boxes(shapes)
    assert colliding(boxes) == []
    for ring in rings:
        assert [box.text for box in boxes if lies_under(box, ring)] == [ring.letter]


def lies_under(box: TextBox, ring: SeenRing) -> bool:
    """Whether the nearest place of a text to the middle of a disc is in the disc."""
    x, y = middle(ring.disc)
    near = (min(max(x, box.left), box.right), min(max(y, box.bottom), box.top))
    return dist(near, (x, y)) < (ring.disc.right - ring.disc.left) / 2


@given(built_jobs(), st.integers(130, 190), st.integers(75, 150))
def test_no_ring_stands_on_another_or_on_words(built: tuple[object, Job], width: int, height: int) -> None:
    view = front_of(lay_out(built[1]), width, height)
    assert_rings_stand_clear(rings_in(view.shapes), view.shapes)
    assert view.height_mm <= height
    assert extent(view.shapes).lies_in(Rect(-0.5, -height, width + 0.5, 0.5))


def first_page(path: Path) -> tuple[Layout, StripSheets, tuple[Page, ...]]:
    layout = load(path)
    plan = plan_strips(strips_of(layout), layout.job)
    return layout, plan, job_sheet_pages(layout, plan, [STRIPS_FILE])


@each_job
def test_a_job_of_the_gallery_has_one_page_and_one_more_for_what_is_fixed_along_a_wall(path: Path) -> None:
    layout, _, pages = first_page(path)
    assert len(pages) == 1 + bool(layout.job.runs)


@each_job
def test_every_letter_is_in_the_picture_and_in_the_key(path: Path) -> None:
    _, plan, (page, *_) = first_page(path)
    letters = {cut_strip.strip.letter for cut_strip in plan.things}
    rings = rings_in(page.shapes)
    assert {ring.letter for ring in rings} == letters
    bare = [shape.text for shape in page.shapes if isinstance(shape, Text) and shape.bold and shape.text in letters]
    assert sorted(bare) == sorted([*(ring.letter for ring in rings), *letters])


@each_job
def test_all_on_page_one_of_the_gallery_is_within_the_margins_and_clear_of_all_else(path: Path) -> None:
    layout, _, (page, *_) = first_page(path)
    margin = float(DEFAULT_MARGIN[layout.job.units]) - 0.3
    free = Rect(margin, margin, page.width_mm - margin, page.height_mm - margin)
    assert all(shape.extent.lies_in(free) for shape in page.shapes)
    assert_rings_stand_clear(rings_in(page.shapes), page.shapes)


WALL: Final = """
title = "Wall"
units = "mm"
stock = { ply = 18 }
joint.shelf = { kind = "housing", depth = 6 }
"""


def cabinet(number: int, width: int) -> str:
    return (
        f'[[cabinet]]\nname = "Case {number}"\nheight = 800\nwidth = {width}\ndepth = 400\ncarcass = "ply"\n'
        'joint = "shelf"\nopenings = [200, "equal"]\n'
    )


def run_of(numbers: Iterable[int], length: int) -> str:
    order = ", ".join(f'{{ cabinet = "Case {number}" }}' for number in numbers)
    return f'[run]\nname = "North"\nlength = {length}\norder = [{order}, {{ filler = "equal" }}]\n'


def laid_out(text: str) -> Layout:
    return lay_out(read_well(WALL + text))


def test_alike_cabinets_along_a_wall_are_all_drawn_and_lettered_once() -> None:
    layout = laid_out("".join(cabinet(number, 500) for number in range(1, 4)) + run_of(range(1, 4), 1600))
    view = front_of(layout)
    (strip, *_) = strips_of(layout)
    assert strip.serves_words.startswith("Case 1–3 side")
    tied = [seen.foot for seen in rings_in(view.shapes) if seen.letter == strip.letter]
    assert len(tied) == 2
    names = [shape.text for shape in view.shapes if isinstance(shape, Text)]
    assert [name for name in names if name.startswith("Case")] == ["Case 1", "Case 2", "Case 3"]


def test_things_along_a_wall_stand_at_their_stations_from_the_left() -> None:
    layout = laid_out(cabinet(1, 500) + cabinet(2, 700) + run_of((1, 2), 1300))
    view = front_of(layout)
    floor = floor_of(view)
    assert (floor.x2 - floor.x1) / view.scale == pytest.approx(1300)
    edges = sorted({round((shape.x - floor.x1) / view.scale, 3) for shape in view.shapes if isinstance(shape, Box)})
    # Left edges of the sides: 0 and 482, then 500 and 1182, then the filler at 1200.
    assert set(edges) >= {0.0, 482.0, 500.0, 1182.0, 1200.0}


def is_level(line: Line) -> bool:
    return line.y1 == line.y2


def floor_of(view: FrontView) -> Line:
    """The longest of the wide level lines."""
    lines = (shape for shape in view.shapes if isinstance(shape, Line) and is_level(shape) and shape.width_mm == 0.5)
    return max(lines, key=lambda line: line.x2 - line.x1)


def test_zero_at_the_right_end_turns_the_wall_round() -> None:
    text = cabinet(1, 500) + cabinet(2, 700) + run_of((1, 2), 1300) + 'datum = "right"\n'
    view = front_of(laid_out(text))
    told = {shape.text: shape.x for shape in view.shapes if isinstance(shape, Text)}
    assert told["Case 2"] < told["Case 1"]


def test_a_long_wall_goes_on_below_and_shows_all_that_stands_there() -> None:
    text = "".join(cabinet(number, 600) for number in range(1, 31)) + run_of(range(1, 31), 18100)
    view = front_of(laid_out(text))
    floors = {round(shape.y1, 3) for shape in view.shapes if isinstance(shape, Line) and shape.width_mm == 0.5}
    assert len(floors) > 1
    assert view.scale > 180 / 18100
    words = " ".join(shape.text for shape in view.shapes if isinstance(shape, Text)).split()
    assert {str(number) for number in range(1, 31)} <= set(words)


def test_cabinets_of_a_kind_that_stand_in_no_run_are_drawn_once() -> None:
    view = front_of(laid_out(cabinet(1, 500) + cabinet(2, 700) + cabinet(3, 500)))
    names = [shape.text for shape in view.shapes if isinstance(shape, Text)]
    assert "Case 1, 3" in names or "Case 1 and 3" in names
    assert "500 wide, 800 high, 400 deep" in names


def test_features_and_heights_of_the_wall_are_at_their_stations() -> None:
    """By hand: jambs at 50 1/4 and 96 3/4, the outlet at 61; heights of 19 1/2, 36 and 84; the wall 145 3/8 long."""
    view = front_of(load(GALLERY["boot-room"]))
    floor = floor_of(view)
    broken = [shape for shape in view.shapes if isinstance(shape, Line) and shape.dash_mm]
    upright = sorted((line.x1 - floor.x1) / view.scale for line in broken if line.x1 == line.x2)
    level = sorted((line.y1 - floor.y1) / view.scale for line in broken if is_level(line))
    assert upright == inches("50 1/4", "61", "96 3/4")
    assert level == inches("19 1/2", "36", "84")


@given(jobs())
def test_only_signs_that_a_job_uses_are_shown(job: Job) -> None:
    sticks = lay_out(job).sticks
    shown = {sign.words for sign in signs_of(sticks)}
    used = {point.kind.value for stick in sticks for point in stick.points}
    assert {"hole", "centre", "feature", "straightedge"} & shown == used
    assert ("groove" in shown) == any(placed.groove for stick in sticks for placed in stick.parts)
    assert ("part" in shown) == any(stick.parts for stick in sticks)


@pytest.mark.parametrize("sign", SIGNS, ids=lambda sign: sign.words)
def test_each_sign_is_drawn_in_its_room(sign: Sign) -> None:
    drawn = extent(sign.draw())
    assert drawn.bottom == pytest.approx(0.0, abs=0.2)
    assert drawn.top <= sign.height_mm + 0.2


@pytest.mark.parametrize("step", steps_of(wrapped=True), ids=lambda step: step.verb)
def test_each_step_is_drawn_in_its_room(step: Step) -> None:
    assert extent(step.draw()).lies_in(Rect(-0.3, -0.3, STEP_WIDTH_MM + 0.3, STEP_HEIGHT_MM + 0.3))


def test_folding_is_a_step_only_where_strips_are_wrapped() -> None:
    assert [step.verb for step in steps_of(wrapped=False)] == ["Print", "Check", "Cut", "Join", "Glue"]
    assert [step.verb for step in steps_of(wrapped=True)] == ["Print", "Check", "Cut", "Fold", "Join", "Glue"]


@given(jobs(), st.integers(10, 150), st.sampled_from([SMALL, LARGE]))
def test_a_stick_in_rows_shows_every_part_once_at_its_station_from_the_start_of_its_row(
    job: Job, height: int, sizes: Sizes
) -> None:
    for stick in lay_out(job).sticks:
        view = overview_of(stick, job.figures, 170.0, height, sizes)
        starts = [start for start, _ in view.rows]
        assert starts[0] == 0
        assert view.rows[-1][1] == stick.length
        assert all(end == start for (_, end), start in zip(view.rows, starts[1:], strict=False))
        drawn = sorted((shape.y, shape.x, shape.width) for shape in view.draw() if is_part(shape, sizes))
        expected = []
        for placed in stick.parts:
            row = max(number for number, start in enumerate(starts) if start <= placed.span.start)
            left = float(placed.span.start - starts[row]) * view.scale
            expected.append((-sizes.band_mm - row * sizes.row_mm, left, float(placed.span.size) * view.scale))
        assert drawn == [pytest.approx(each) for each in sorted(expected)]
        assert colliding(text_boxes(view.draw())) == []


def is_part(shape: Shape, sizes: Sizes) -> TypeGuard[Box]:
    return isinstance(shape, Box) and shape.height == sizes.band_mm


def test_a_stick_has_as_many_rows_as_its_words_ask_for() -> None:
    """Seven bays of a wall, two of them named, are read in two rows and not in one."""
    layout = load(GALLERY["map-room"])
    (stick,) = layout.sticks
    view = overview_of(stick, layout.job.figures, 170.0, 100.0)
    assert len(view.rows) == 2
    words = {shape.text for shape in view.draw() if isinstance(shape, Text)}
    openings = [span for span in stick.spans if span.kind.value == "opening"]
    assert {span.name for span in openings} <= words
    assert len(overview_of(stick, layout.job.figures, 170.0, SMALL.row_mm).rows) == 1


def test_the_only_stick_of_a_job_is_drawn_large_with_its_fractions_built_up(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text(
        'units = "inch"\nstock = { ply = "23/32" }\n[[stick]]\npart = "ply"\nopenings = [6, "7 15/16"]\n'
    )
    (page,) = first_page(tmp_path / "job.toml")[2]
    heights = {shape.text: shape.size_pt for shape in page.shapes if isinstance(shape, Text) and shape.bold}
    assert heights["7"] == points_of(STATION_MM)
    assert (heights["15"], heights["16"]) == (points_of(SIZE_MM), points_of(SIZE_MM))


@each_job
def test_tipping_over_is_said_on_page_one_or_on_the_page_of_the_wall(path: Path) -> None:
    """No job of the gallery names a glue, whose pages would say it."""
    layout, _, pages = first_page(path)
    words = " ".join(shape.text for page in pages for shape in page.shapes if isinstance(shape, Text))
    assert ("local code asks" in words) == bool(layout.cabinets)


def test_hands_are_told_only_where_a_strip_has_one(tmp_path: Path) -> None:
    text = 'units = "mm"\nstock = { ply = 18 }\n[[stick]]\npart = "ply"\nopenings = [150, 300]\n'
    for pair in (False, True):
        (tmp_path / "job.toml").write_text(f"{text}pair = {str(pair).lower()}\n")
        (page,) = first_page(tmp_path / "job.toml")[2]
        words = " ".join(shape.text for shape in page.shapes if isinstance(shape, Text))
        assert ("LEFT and RIGHT" in words) is pair


def test_templates_alone_are_shown_by_their_outlines_to_one_scale(tmp_path: Path) -> None:
    """By hand: two plates, of 200 × 100 and of 100 × 300 with a hole of 40."""
    (tmp_path / "job.toml").write_text(
        'units = "mm"\n[[template]]\nname = "wide"\nwidth = 200\nheight = 100\n'
        '[[template]]\nname = "high"\nwidth = 100\nheight = 300\ncircles = [{ centre = [50, 150], diameter = 40 }]\n'
    )
    layout = load(tmp_path / "job.toml")
    view = arrange_boards(layout.boards, layout.job.figures, 180.0, 120.0)
    wide = [shape for shape in view.draw() if isinstance(shape, Line) and shape.width_mm == 0.5]
    across = {round((line.x2 - line.x1) / view.scale, 3) for line in wide if line.x2 > line.x1}
    upward = {round((line.y2 - line.y1) / view.scale, 3) for line in wide if line.y2 > line.y1}
    assert (across, upward) == ({200.0, 100.0}, {100.0, 300.0})
    hole = extent([shape for shape in view.draw() if isinstance(shape, Line) and shape.width_mm == 0.25])
    assert (hole.right - hole.left) / view.scale == pytest.approx(40, abs=1)
    assert view.height_mm <= 120
    (page,) = first_page(tmp_path / "job.toml")[2]
    assert {"wide", "high", "200 × 100", "100 × 300"} <= {text.text for text in page.shapes if isinstance(text, Text)}
    assert colliding(text_boxes(page.shapes)) == []


@pytest.mark.parametrize("count", [4, 9, 16])
def test_many_sticks_stand_side_by_side_so_that_every_letter_is_shown(tmp_path: Path, count: int) -> None:
    stick = '[[stick]]\nname = "Side {}"\npart = "ply"\nopenings = [{}, 200]\n'
    text = "".join(stick.format(number, 100 + number) for number in range(1, count + 1))
    (tmp_path / "job.toml").write_text(f'units = "mm"\nstock = {{ ply = 18 }}\n{text}')
    _, plan, (page, *_) = first_page(tmp_path / "job.toml")
    rings = rings_in(page.shapes)
    assert sorted(ring.letter for ring in rings) == sorted(each.strip.letter for each in plan.things)
    assert_rings_stand_clear(rings, page.shapes)


def test_what_has_more_words_than_room_is_told_by_its_letter(tmp_path: Path) -> None:
    openings = ", ".join('{ opening = 3, name = "a long name in a low opening" }' for _ in range(60))
    (tmp_path / "job.toml").write_text(
        f'units = "mm"\nstock = {{ ply = 3 }}\n[[stick]]\npart = "ply"\nopenings = [{openings}]\npair = true\n'
    )
    _, plan, (page,) = first_page(tmp_path / "job.toml")
    assert all(cut_strip.lacking for cut_strip in plan.things)
    texts = [shape.text for shape in page.shapes if isinstance(shape, Text)]
    assert "Not all words found room on A: the marks" in " ".join(text for text in texts if text != "!")


def test_the_key_stands_below_a_picture_that_would_be_no_larger_without_it(tmp_path: Path) -> None:
    """Six cabinets along a wall are as wide as the page long before they are high."""
    cabinet = '[[cabinet]]\nname = "Base {0}"\nheight = 860\nwidth = 7{0}0\ndepth = 560\ncarcass = "ply"\n'
    opening = 'joint = "shelf"\nopenings = [{0}10, "equal"]\n'
    order = ", ".join(f'{{ cabinet = "Base {number}" }}' for number in range(1, 7))
    own = "".join((cabinet + opening).format(number) for number in range(1, 7))
    (tmp_path / "job.toml").write_text(f'{WALL}{own}[run]\nname = "Wall"\nlength = 4410\norder = [{order}]\n')
    _, plan, (page, *others) = first_page(tmp_path / "job.toml")
    letters = {cut_strip.strip.letter for cut_strip in plan.things}
    key = {shape.text for shape in page.shapes if isinstance(shape, Text) and shape.bold and shape.x == page_left(page)}
    assert letters <= key
    assert "Key of the strips" not in {
        shape.text for page in others for shape in page.shapes if isinstance(shape, Text)
    }


def page_left(page: Page) -> float:
    """Where the words of a page begin."""
    return min(shape.x for shape in page.shapes if isinstance(shape, Text))


LONG_NAMED: Final = """
shop = "shop.toml"
units = "mm"
wrap = 12
stock = { ply = 18, back = 6 }
joint.housing = { kind = "housing", depth = 5 }
joint.tongue = { kind = "tongue", width = 6, depth = 6 }
"""


def test_signs_beside_a_low_picture_stay_above_the_key(tmp_path: Path) -> None:
    frame = '{ stock = "ply", stile = 40, top = 40, bottom = 40, tenon = 7, joint = "tongue" }'
    cases = (
        f'[[cabinet]]\nname = "{"x" * 60} {number}"\nheight = 970\nwidth = 1114\ndepth = 429\ncarcass = "ply"\n'
        f'joint = "housing"\ntop = {{ place = "{place}" }}\nframe = {frame}\n'
        'openings = ["equal"]\n'
        for number, place in enumerate(["over", "between"], 1)
    )
    (tmp_path / "job.toml").write_text(LONG_NAMED + "".join(cases))
    (tmp_path / "shop.toml").write_text(
        'units = "mm"\nrouter.big.base_diameter = 150\nbit.six.diameter = 6\n'
        'bar.main = { router = "big", bit = "six" }\n'
        "glue.wood = { open = 8, closed = 15 }\n"
    )
    _, _, (page, *_) = first_page(tmp_path / "job.toml")
    boxes = text_boxes(page.shapes)
    assert {"straightedge", "feature"} <= {box.text for box in boxes}
    assert colliding(boxes) == []


def test_sticks_fill_the_room_that_a_page_has_for_them() -> None:
    """What is free above the words is less than a line once the bands have grown by what they may."""
    layout = load(GALLERY["map-room"])
    plan = plan_strips(strips_of(layout), layout.job)
    low, high, highest = (arrange_picture(layout, plan, 180.0, height) for height in (112.0, 120.0, 300.0))
    assert [picture.block().height_mm for picture in (low, high)] == [pytest.approx(112.0), pytest.approx(120.0)]
    (_, view), *_ = highest.sticks
    assert view.sizes.band_mm == 1.5 * LARGE.band_mm
    assert colliding(text_boxes(high.block().shapes)) == []


@pytest.mark.parametrize("width", [120, 160, 190])
@pytest.mark.parametrize("under", [300, 450])
def test_letters_of_what_stands_keep_clear_of_what_hangs_and_of_its_name(width: int, under: int) -> None:
    """Bases with many letters and no room for them, and wall units right over them with their names below."""
    base = """
[[cabinet]]
name = "Base {0}"
height = 860
width = {0}
depth = 560
carcass = "ply"
joint = "held"
openings = [{1}]
"""
    text = "".join(base.format(size, ", ".join(['"equal"'] * number)) for number, size in enumerate((450, 600, 900), 1))
    units = "".join(f'{{ cabinet = "Base {size}" }}, ' for size in (450, 600, 900))
    text += '[[cabinet]]\nname = "Hung"\ncount = 3\nheight = 720\nwidth = 650\ndepth = 300\ncarcass = "ply"\n'
    text += f'[run]\nname = "wall"\nlength = 1950\norder = [{units}]\n'
    hung = '{ cabinet = "Hung" }, ' * 3
    text += f"uppers = {{ bottom = {860 + under}, order = [{hung}] }}\n"
    head = 'units = "mm"\nstock = { ply = 18 }\njoint.held = { kind = "dowels" }\n'
    view = front_of(lay_out(read_well(head + text)), width, 70)
    assert_rings_stand_clear(rings_in(view.shapes), view.shapes)
