"""The picture of a stick as shapes, with no writer in sight."""

from __future__ import annotations

import json
from dataclasses import astuple, replace
from fractions import Fraction
from pathlib import Path
from typing import Any, Final

import pytest
from click.testing import CliRunner
from hypothesis import given
from jobs import read_well
from lettering_boxes import colliding, said, text_boxes
from strategies import jobs

from storystick import load, print_job
from storystick.cli import main
from storystick.drawing.lettering import points_of
from storystick.drawing.shapes import Area, Box, Line, Shape, Text
from storystick.drawing.strip import Strip, StripPiece, draw_strip, strips_of
from storystick.drawing.strip_bands import draw_bands
from storystick.drawing.strip_lanes import MARK_TOP
from storystick.drawing.window import Window
from storystick.job.case_joints import Housing
from storystick.job.job import Job
from storystick.job.openings import Fixed, Item, Opening, Part, Stock
from storystick.job.papers import PAPERS, Margins
from storystick.job.sources import Source
from storystick.job.sticks import Centre, Datum, Hand, Holes, Stick
from storystick.laying_out import lay_out
from storystick.layout.stations import StickLayout
from storystick.layout.sticks import lay_out_stick
from storystick.lengths import INCH_MM, Figures, Units, read_length
from storystick.sheets.strips import plan_strips

MM: Final = Figures.usual(Units.MM)

TEN: Final = Fraction(10)
RAIL: Final = Part(Stock("ply", TEN), "rail")
LET_IN: Final = Part(Stock("ply", TEN), "shelf", Housing(name="shelf", depth=Fraction(4)))


def opening(size: int, name: str = "gap") -> Opening:
    return Opening(Fixed(Fraction(size)), name)


def job(*items: Item, points: tuple[Holes | Centre, ...] = (), pair: bool = False) -> Job:
    stick = Stick(1, "Side", Datum.BOTTOM, items, pair=pair, points=points)
    margins = Margins(TEN, TEN, TEN, TEN)
    return Job("Job", Units.MM, PAPERS["A4"], margins, Fraction(1, 10), (stick,), (Source("job.toml", b""),))


def layout(*items: Item, points: tuple[Holes | Centre, ...] = ()) -> StickLayout:
    return lay_out_stick(Stick(1, "Side", Datum.BOTTOM, items, points=points), MM)


def whole(stick: StickLayout, hand: Hand | None = None) -> Window:
    return Window(Fraction(0), stick.length, stick.length, hand)


def rounded(value: Any) -> Any:
    """Without what the last bits of a float make of it."""
    if isinstance(value, tuple):
        return tuple(map(rounded, value))
    return round(value, 9) if isinstance(value, float) else value


def drawn(shapes: Any) -> list[tuple[type[Shape], Any]]:
    return [(type(shape), rounded(astuple(shape))) for shape in shapes]


def test_bands_of_a_tiny_strip_are_these_shapes() -> None:
    stick = layout(LET_IN, opening(20), RAIL)
    assert drawn(draw_bands(stick, whole(stick))) == drawn(
        [
            Box(0.0, 0.0, 10.0, 12.0, 0.86),
            Area(((0.0, 0.0), (10.0, 11.5), (10.0, 12.0), (0.0, 0.5))),
            Area(((0.0, 12.0), (10.0, 0.5), (10.0, 0.0), (0.0, 11.5))),
            Box(0.0, 0.0, 0.35, 12.0),
            Box(9.65, 0.0, 0.35, 12.0),
            Box(30.0, 0.0, 10.0, 12.0, 0.86),
            Area(((30.0, 0.0), (40.0, 11.5), (40.0, 12.0), (30.0, 0.5))),
            Area(((30.0, 12.0), (40.0, 0.5), (40.0, 0.0), (30.0, 11.5))),
            Box(30.0, 0.0, 0.35, 12.0),
            Box(39.65, 0.0, 0.35, 12.0),
            Box(0.0, 12.6, 10.0, 3.0),
        ]
    )


def test_band_that_a_seam_divides_is_black_only_at_its_own_edges() -> None:
    stick = layout(opening(20), RAIL)
    window = Window(Fraction(0), Fraction(25), Fraction(30), None, 1, 2)
    boxes = [shape for shape in draw_bands(stick, window) if isinstance(shape, Box)]
    assert drawn(boxes) == drawn([Box(20.0, 0.0, 5.0, 12.0, 0.86), Box(20.0, 0.0, 0.35, 12.0)])


def test_band_whose_ends_fall_on_one_float_is_drawn_without_a_cross() -> None:
    # 1e-17 mm from 100 mm on is less than floats can tell from 100.
    sliver = Part(Stock("foil", Fraction(1, 10**17)), "foil")
    stick = layout(opening(100), sliver, opening(50))
    shapes = list(draw_bands(stick, whole(stick)))
    assert not [shape for shape in shapes if isinstance(shape, Area) and len(shape.points) == 4]
    assert Box(100.0, 0.0, 0.0, 12.0, 0.86) in shapes


def test_positions_with_no_thickness_are_fine_lines_with_pointers_whose_tips_are_on_them() -> None:
    holes, centre = Holes(Fraction(5), TEN, 1, "pin"), Centre(Fraction(15), "pull")
    stick = layout(opening(20), opening(20), points=(holes, centre))
    shapes = list(draw_bands(stick, whole(stick)))
    *lines, one_side, other_side = [shape for shape in shapes if isinstance(shape, Line)]
    tips = [min(shape.points, key=lambda point: point[1]) for shape in shapes if isinstance(shape, Area)]
    assert [(line.x1, line.x2) for line in lines] == [(x, x) for x in (0.0, 20.0, 40.0, 5.0, 15.0)]
    assert {line.width_mm for line in lines} == {0.18}
    assert [x for x, _ in tips] == [0.0, 20.0, 40.0, 5.0]
    # A centre's arrowhead is open: two strokes that meet on the line.
    assert one_side.x1 == other_side.x1 == 15.0


def test_right_hand_is_the_left_one_mirrored_to_the_last_digit() -> None:
    length = Fraction(100)
    left, right = (Window(Fraction(0), length, length, hand) for hand in Hand)
    for part in range(301):
        station = Fraction(part, 3)
        assert left.x(station) == float(station)
        assert right.x(station) == float(length - station)


@given(jobs(most_sticks=1))
def test_bands_of_both_hands_mirror_each_other(job: Job) -> None:
    (stick,) = lay_out(job).sticks
    width = float(stick.length)
    left, right = (
        [shape for shape in draw_bands(stick, whole(stick, hand)) if isinstance(shape, Box)] for hand in Hand
    )
    mirrored = sorted((width - box.x - box.width, width - box.x, box.y, box.grey) for box in left)
    found = sorted((box.x, box.x + box.width, box.y, box.grey) for box in right)
    assert len(mirrored) == len(found)
    for one, other in zip(sorted(mirrored, key=rounded), sorted(found, key=rounded), strict=True):
        assert one == pytest.approx(other, abs=1e-9)


def lettered(strip: Strip) -> list[str]:
    return [text.text for text in draw_strip(strip).pieces[0].shapes if isinstance(text, Text)]


def arrows(piece: StripPiece) -> list[tuple[str, str]]:
    """Every arrow of the head from left to right: which way it points, and the words right of it, upper line first."""
    found = []
    for shape in piece.shapes:
        if isinstance(shape, Area) and len(shape.points) == 7:
            left, bottom, right, top = shape.extent
            (tip,) = [y for x, y in shape.points if abs(x - (left + right) / 2) < 1e-9]
            words = [box for box in text_boxes(piece.shapes) if 0 < box.left - right < 1.5 and bottom < box.top < top]
            lines = " ".join(box.text for box in sorted(words, key=lambda box: -box.bottom))
            found.append((left, "up" if tip == top else "down", lines))
    return [(way, lines) for _, way, lines in sorted(found)]


def test_both_hands_say_which_they_are_and_which_edge_goes_to_the_front() -> None:
    left, right = strips_of(lay_out(job(RAIL, opening(400), RAIL, pair=True)))
    assert "A · LEFT" in lettered(left)
    assert "A · RIGHT" in lettered(right)
    for strip in (left, right):
        assert arrows(draw_strip(strip).pieces[0]) == [("up", "FRONT")]
        assert {"0", "DATUM", "bottom"} <= set(lettered(strip))


def test_stick_without_a_pair_has_one_strip_and_no_hand() -> None:
    (strip,) = strips_of(lay_out(job(RAIL, opening(400), RAIL)))
    assert strip.hand is None
    assert "A" in lettered(strip)
    assert arrows(draw_strip(strip).pieces[0]) == []


def test_letter_hand_and_number_of_every_tile_stand_at_one_place_and_the_arrow_is_seen_from_afar() -> None:
    """In capitals of 5 mm, 26 mm from the tile's left; the arrow is 8 mm long and more."""
    (left, right) = strips_of(lay_out(job(RAIL, opening(400), RAIL, opening(300), RAIL, pair=True)))
    for strip in (left, right):
        pieces = draw_strip(strip, [Fraction(200), Fraction(450)]).pieces
        for number, piece in enumerate(pieces, 1):
            assert strip.hand
            title = next(shape for shape in piece.shapes if isinstance(shape, Text) and " of 3" in shape.text)
            assert title.text == f"A · {strip.hand.value.upper()} · {number} of 3"
            assert title.x == 26.0
            assert title.bold
            assert title.size_pt == points_of(5.0)
            (arrow,) = [shape for shape in piece.shapes if isinstance(shape, Area) and len(shape.points) == 7]
            assert arrow.extent.top - arrow.extent.bottom >= 8
            assert arrows(piece) == [("up", "FRONT")]


DIVIDED: Final = """
title = "Wall"
units = "mm"
stock = { ply = 18 }
[[cabinet]]
name = "Wall"
height = 700
width = 900
depth = 300
carcass = "ply"
[[cabinet.row]]
height = "equal"
[[cabinet.row.column]]
width = "equal"
openings = [200, "equal"]
[[cabinet.row.column]]
width = "equal"
openings = [{ opening = 200, adjustable = { shelves = 1, first = 96, front = 37, back = 60 } }, "equal"]
"""


def test_only_strips_of_a_pair_have_a_hand_and_those_of_one_face_lie_as_the_side_that_looks_their_way(
    tmp_path: Path,
) -> None:
    (tmp_path / "wall.toml").write_text(DIVIDED, encoding="utf-8")
    layout = load(tmp_path / "wall.toml")
    # Seen from inside, a right side is the mirror image of a left one, and has its front along the strip's upper edge
    # as that has; a divider's left face looks the way of the right side, its right face the way of the left one. A top
    # is seen from below, its front nearest: the left end is at the right then.
    # What serves faces of both hands has an arrow for each.
    both = [("down", "FRONT upper face"), ("up", "FRONT lower face")]
    lies = {
        "Wall left side": (1, [("up", "FRONT")]),
        "Wall right side": (-1, [("up", "FRONT")]),
        "Wall divider 1, left face": (-1, [("up", "FRONT")]),
        "Wall divider 1, right face": (1, [("up", "FRONT")]),
        "Wall bottom, upper face": (1, both),
        "Wall right side depth": (1, [("up", "TOP right face"), ("down", "TOP right side depth")]),
    }
    found = {}
    for strip in strips_of(layout):
        (piece,) = draw_strip(strip).pieces
        assert not {"LEFT", "RIGHT"} & set(lettered(strip))
        assert "hand" not in strip.name
        assert strip.hand is None
        found[strip.name] = (piece.window.direction, arrows(piece))
    assert found == lies


BORED: Final = """
units = "mm"
stock = { ply = 18 }
[[cabinet]]
name = "Wall"
height = 700
width = 900
carcass = "ply"
column = [
  { openings = [{ opening = "equal", adjustable = { shelves = 1, first = 96, front = 37, back = 60 } }] },
  { openings = [{ opening = "equal", adjustable = { shelves = 1, first = 96, front = 37, back = 60 } }] },
]
"""


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("depth", [200, 290, 396, 432, 520])
def test_the_depth_of_a_divider_that_is_bored_on_both_faces_fits_on_usual_paper(depth: int, paper: str) -> None:
    laid_out = lay_out(read_well(f'paper = "{paper}"{BORED}'.replace("width", f"depth = {depth}\nwidth")))
    told = {cut.strip.serves_words: cut for cut in plan_strips(strips_of(laid_out), laid_out.job).things}
    assert "Wall divider 1, both faces" in told
    for tile in told["Wall divider 1 depth, both faces"].tiles:
        assert arrows(tile.piece) == [("up", "TOP right face"), ("down", "TOP left face")]
        assert colliding(text_boxes(tile.piece.shapes)) == []


def test_pages_of_sticks_without_a_pair_have_no_hand_though_some_run_to_the_left(tmp_path: Path) -> None:
    (tmp_path / "wall.toml").write_text(DIVIDED, encoding="utf-8")
    shown = CliRunner().invoke(main, ["pages", str(tmp_path / "wall.toml"), "--format", "json"]).stdout
    tiles = [tile for sheet in json.loads(shown)["sheets"] for tile in sheet["tiles"]]
    assert {tile["hand"] for tile in tiles} == {None}
    assert {tile["direction"] for tile in tiles} == {1, -1}
    print_job(layout := load(tmp_path / "wall.toml"), tmp_path / "out")
    assert [path.name for path in (tmp_path / "out").glob("strip-*hand*")] == []
    assert len(list((tmp_path / "out").glob("strip-*.svg"))) == len(strips_of(layout))


def test_every_part_and_opening_is_named_with_its_figures() -> None:
    (strip,) = strips_of(lay_out(job(LET_IN, opening(300, "tins"), RAIL, opening(30, "a narrow one"), RAIL)))
    words = lettered(strip)
    for wanted in (
        "shelf",
        "tins",
        "300",
        "rail",
        "a narrow one",
        "30",
        "10",
        "310",
        "320",
        "350",
        "360",
        "END",
        "top",
    ):
        assert wanted in words


def _pieces(job: Job) -> list[tuple[Strip, StripPiece, float]]:
    """Every tile of a job on its paper, with the height of its strip."""
    layout = lay_out(job)
    return [
        (placed.tile.strip, placed.tile.piece, placed.tile.drawing.height_mm)
        for _, placed in plan_strips(strips_of(layout), job).in_gluing_order()
    ]


@given(jobs())
def test_labels_keep_out_of_one_another(job: Job) -> None:
    for _, piece, _ in _pieces(job):
        assert colliding(text_boxes(piece.shapes)) == []


@given(jobs())
def test_labels_keep_off_everything_that_is_struck_from(job: Job) -> None:
    for _, piece, _ in _pieces(job):
        boxes = text_boxes(piece.shapes)
        for shape in piece.shapes:
            if isinstance(shape, Box) and shape.grey:
                # What stands in a band, its part's own width or its name, stands well inside it.
                edges = tuple(shape.extent)
                assert all(
                    box.left - 0.7 >= shape.x and box.right + 0.7 <= shape.x + shape.width
                    for box in boxes
                    if box.meets(*edges)
                )
                continue
            if isinstance(shape, Box):
                edges = tuple(shape.extent)
            elif isinstance(shape, Line):
                (left, right), (low, high) = sorted((shape.x1, shape.x2)), sorted((shape.y1, shape.y2))
                half = shape.width_mm / 2
                edges = (left - half, low - half, right + half, high + half)
            else:
                continue
            assert [box for box in boxes if box.meets(*edges)] == []


@given(jobs())
def test_labels_stay_inside_their_piece_and_no_seam_cuts_one(job: Job) -> None:
    """Only the last tile of a strip may be too short for its words, which then stand beside it."""
    for _, piece, height in _pieces(job):
        right = piece.right_mm if piece.window.number == piece.window.of else piece.window.width
        for box in text_boxes(piece.shapes):
            assert box.left >= 0
            assert box.right <= right + 1e-6
            assert box.bottom >= 0
            assert box.top <= height


@given(jobs())
def test_tiles_put_together_give_every_part_once_at_its_place(job: Job) -> None:
    found: dict[str, list[tuple[float, float]]] = {}
    wanted: dict[str, list[tuple[float, float]]] = {}
    for strip, piece, _ in _pieces(job):
        window = piece.window
        found.setdefault(strip.name, []).extend(_grey_stretches(piece))
        wanted.setdefault(strip.name, []).extend(
            (float(max(placed.span.start, window.start)), float(min(placed.span.end, window.end)))
            for placed in strip.layout.parts
            if placed.span.end > window.start and placed.span.start < window.end
        )
    for name, stretches in wanted.items():
        assert sorted(found[name]) == [pytest.approx(stretch, abs=1e-9) for stretch in sorted(stretches)]


def _grey_stretches(piece: StripPiece) -> list[tuple[float, float]]:
    """From where to where, in mm from the datum, the bands of a piece run."""
    return [
        _stations(piece, shape.x, shape.x + shape.width)
        for shape in piece.shapes
        if isinstance(shape, Box) and shape.height == MARK_TOP and shape.grey
    ]


def _stations(piece: StripPiece, left: float, right: float) -> tuple[float, float]:
    start, end = float(piece.window.start), float(piece.window.end)
    return (start + left, start + right) if piece.window.direction > 0 else (end - right, end - left)


@given(jobs())
def test_tiles_put_together_give_every_edge_and_point_once(job: Job) -> None:
    found: dict[str, list[Fraction]] = {}
    layouts: dict[str, StickLayout] = {}
    for strip, piece, _ in _pieces(job):
        layouts[strip.name] = strip.layout
        found.setdefault(strip.name, []).extend(filter(piece.window.shows, strip.layout.marks))
    assert found == {name: list(stick.marks) for name, stick in layouts.items()}


@given(jobs(most_sticks=1))
def test_no_ink_of_a_band_is_beyond_its_edges(job: Job) -> None:
    for strip, piece, _ in _pieces(job):
        bands = [piece.window.stretch(placed.span.start, placed.span.end) for placed in strip.layout.parts]
        shown = [band for band in bands if band]
        for shape in draw_bands(strip.layout, piece.window):
            if isinstance(shape, Line) or (isinstance(shape, Area) and len(shape.points) == 3):
                continue
            xs = [shape.x, shape.x + shape.width] if isinstance(shape, Box) else [x for x, _ in shape.points]
            assert any(left - 1e-9 <= min(xs) and max(xs) <= right + 1e-9 for left, right in shown)


@pytest.mark.parametrize("seam", ["9 1/2", "10"])
def test_no_number_of_the_scale_stands_over_the_station_of_a_seam(seam: str) -> None:
    """They would be read together: "9 1/2 10"."""
    inches = replace(job(RAIL, opening(400), RAIL), units=Units.INCH, round_to=INCH_MM / 64)
    (strip,) = strips_of(lay_out(inches))
    at = read_length(seam, Units.INCH)
    for piece in draw_strip(strip, [at]).pieces:
        lettering = said(piece.shapes)
        (station,) = [figure for figure in lettering if figure.text == seam and figure.height == pytest.approx(3.5)]
        assert station.height == pytest.approx(3.5)
        over = [figure for figure in lettering if figure.box.bottom > station.box.top - 1 and figure is not station]
        assert over
        for figure in over:
            assert figure.box.left >= station.box.right + 1 or figure.box.right <= station.box.left - 1
