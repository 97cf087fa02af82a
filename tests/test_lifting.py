"""Labels of close marks, measured on the drawn shapes: each at its own mark or left out, and told where it is."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import hypot
from pathlib import Path
from typing import Final

import pypdf
import pytest
from click.testing import CliRunner
from hypothesis import given
from lettering_boxes import TextBox, colliding, text_boxes
from strategies import jobs

from storystick.cli import main
from storystick.drawing.shapes import Line, Text
from storystick.drawing.strip import StripPiece, draw_strip, strips_of
from storystick.drawing.strip_lanes import BESIDE_BOTTOM, BESIDE_TOP, MARK_TOP, NUMBER_BASELINE, StripLanes
from storystick.drawing.strip_lifting import Lifted, Rank, Wording, lift
from storystick.drawing.window import Window
from storystick.job.job import Job
from storystick.laying_out import lay_out, load
from storystick.layout.stations import StickLayout
from storystick.sheets.seams import CUT_MM
from storystick.sheets.strips import plan_strips

KEPT_MM: Final = 2.0
"""Nothing that is read stands nearer to a line that is cut along."""

FARTHEST_MM: Final = 18.0
BESIDE_MM: Final = 1.2
"""A figure beside its edge leaves so much paper between."""

ROUNDING_MM: Final = 1e-6
PITCHES: Final = (32, 10, 5, 2)
THICK: Final = {32: 18, 10: 4, 5: 3, 2: 1}

FRAMED: Final = """
title = "Framed"
units = "mm"
stock = { ply = 18.3, frame = 19 }
joint.s = { kind = "tongue", width = 6, depth = 8 }
[[cabinet]]
name = "Case"
height = 900
width = 700
depth = 400
carcass = "ply"
joint = "s"
frame = { stock = "frame", stile = 40, top = 40, bottom = 50, rail = 40, mid_stile = 40 }
[[cabinet.row]]
height = "equal"
[[cabinet.row.column]]
width = "equal"
openings = ["equal", "equal", "equal", "equal"]
[[cabinet.row.column]]
width = "equal"
openings = [{ opening = "equal", adjustable = { shelves = 2, first = 60, front = 37, back = 60 } }]
"""


def close_job(pitch: int) -> str:
    """Parts ``pitch`` mm apart between two wide openings, and single holes as close on another stick."""
    thick, count = THICK[pitch], min(30, 280 // pitch)
    parts = "".join(
        f'{{ part = "ply", name = "shelf {number}", joint = "s" }}, '
        f'{{ opening = {pitch - thick}, name = "slot {number}" }},'
        for number in range(count)
    )
    holes = ", ".join(
        f'{{ first = {40 + pitch * number}, pitch = 32, count = 1, name = "bolt {number}" }}' for number in range(count)
    )
    return f"""
        title = "Close"
        units = "mm"
        stock = {{ ply = {thick}, end = 18.3 }}
        joint.s = {{ kind = "housing", depth = 1 }}
        [[stick]]
        name = "Side"
        pair = true
        order = [
          {{ part = "end", name = "bottom" }}, {{ opening = 300, name = "blankets" }}, {parts}
          {{ part = "ply", name = "last" }}, {{ opening = 250, name = "books" }}, {{ part = "end", name = "top" }},
        ]
        [[stick]]
        name = "Holes"
        part = "end"
        openings = [200, 300]
        holes = [{holes}]
        """


def loaded(text: str, folder: Path) -> Job:
    (folder / "close.toml").write_text(text, encoding="utf-8")
    return load(folder / "close.toml").job


def pieces(job: Job) -> Iterator[tuple[StickLayout, StripPiece]]:
    """Every tile of a job, and every strip in one piece."""
    strips = strips_of(lay_out(job))
    for _, placed in plan_strips(strips, job).in_gluing_order():
        yield placed.tile.strip.layout, placed.tile.piece
    for strip in strips:
        yield strip.layout, draw_strip(strip).pieces[0]


@dataclass(frozen=True)
class Leader:
    """From the mark at ``foot`` to where it ends, and the lettering that it ends at."""

    foot: float
    end: tuple[float, float]
    texts: tuple[TextBox, ...]


def leaders(piece: StripPiece) -> list[Leader]:
    """Every leader: a line from above a mark, or from the end of such a line, that ends just below words."""
    lines = [shape for shape in piece.shapes if isinstance(shape, Line) and shape.y2 > max(shape.y1, MARK_TOP)]
    lines = [line for line in lines if 0 < line.y1 <= BESIDE_TOP + 0.4]
    above = {(line.x1, line.y1): line for line in lines}
    boxes = text_boxes(piece.shapes)
    found = []
    for line in lines:
        if any((other.x2, other.y2) == (line.x1, line.y1) for other in lines):
            continue
        top = above.get((line.x2, line.y2), line)
        words = tuple(
            box for box in boxes if -0.4 < box.bottom - top.y2 < 1.2 and box.left - 1.2 <= top.x2 <= box.right + 1.2
        )
        found.append(Leader(line.x1, (top.x2, top.y2), words))
    return found


def others(layout: StickLayout, piece: StripPiece, own: float) -> list[float]:
    """How far each other mark lies from one, to either side."""
    places = (piece.window.x(mark) for mark in layout.marks)
    return [place - own for place in places if abs(place - own) > ROUNDING_MM]


def figures_at(layout: StickLayout, piece: StripPiece, job: Job) -> dict[str, list[float]]:
    """Where each figure of an edge or a point belongs, by what it says."""
    found: dict[str, list[float]] = {}
    for mark in layout.marks:
        found.setdefault(job.figures(mark), []).append(piece.window.x(mark))
    return found


def check_lifted(job: Job) -> None:
    """No leader of a figure leans past the next mark, or so far that it is not twice as near to its own."""
    for layout, piece in pieces(job):
        belongs = figures_at(layout, piece, job)
        bold = {text.text for text in piece.shapes if isinstance(text, Text) and text.bold}
        for leader in leaders(piece):
            lean = leader.end[0] - leader.foot
            assert abs(lean) <= FARTHEST_MM + ROUNDING_MM
            assert leader.texts
            figures = [box.text for box in leader.texts if box.text in bold & belongs.keys()]
            if any(abs(place - leader.foot) <= ROUNDING_MM for figure in figures for place in belongs[figure]):
                for away in others(layout, piece, leader.foot):
                    assert 2 * abs(lean) <= abs(away - lean) + ROUNDING_MM


def check_beside(job: Job) -> None:
    """A figure beside its edge is at least twice as far from any other mark."""
    for layout, piece in pieces(job):
        belongs = figures_at(layout, piece, job)
        for text in piece.shapes:
            if isinstance(text, Text) and text.bold and text.y == NUMBER_BASELINE:
                (box,) = text_boxes([text])
                away = sorted((max(box.left - x, x - box.right, 0.0), x) for x in map(piece.window.x, layout.marks))
                own, *rest = away
                assert own[1] in belongs[text.text]
                assert own[0] >= BESIDE_MM - ROUNDING_MM
                assert all(2 * own[0] <= other + ROUNDING_MM for other, x in rest if abs(x - own[1]) > ROUNDING_MM)


def check_no_leader_through_words(job: Job) -> None:
    for _, piece in pieces(job):
        lines = [shape for shape in piece.shapes if isinstance(shape, Line) and shape.y2 > MARK_TOP]
        boxes = text_boxes(piece.shapes)
        for line in (line for line in lines if line.x1 == line.x2):
            assert [box for box in boxes if box.meets(line.x1 - 0.09, line.y1, line.x2 + 0.09, line.y2)] == []


def check_off_cut_lines(job: Job) -> None:
    """Words on the tiles, and on their tabs, keep off every line that is cut along, as they lie on the sheets."""
    plan = plan_strips(strips_of(lay_out(job)), job)
    for sheet, page in zip(plan.sheets, plan.pages(), strict=True):
        cuts = [line for line in page.shapes if isinstance(line, Line) and line.width_mm == CUT_MM and not line.dash_mm]
        boxes = text_boxes(page.shapes)
        for placed in sheet.tiles:
            tile = placed.tile
            left, right, low = (
                placed.left_mm - 9.0,
                placed.left_mm + tile.window.width + 9.0,
                placed.y_mm - tile.wrap_mm,
            )
            within = [box for box in boxes if low <= box.bottom and box.top <= low + tile.height_mm]
            own = [box for box in within if left <= box.left and box.right <= right]
            assert own or tile.piece.right_mm > tile.window.width  # one too short for its words has them beside it
            for box in own:
                assert all(off(box, line) >= KEPT_MM - ROUNDING_MM for line in cuts), box


def off(box: TextBox, line: Line) -> float:
    """How far a level or upright line is from words."""
    (left, right), (low, high) = sorted((line.x1, line.x2)), sorted((line.y1, line.y2))
    return hypot(max(left - box.right, box.left - right, 0.0), max(low - box.top, box.bottom - high, 0.0))


CHECKS: Final = (check_lifted, check_beside, check_no_leader_through_words, check_off_cut_lines)
each_check = pytest.mark.parametrize("check", CHECKS)


@each_check
@pytest.mark.parametrize("pitch", PITCHES)
def test_close_marks_have_their_figures_at_themselves(check: Callable[[Job], None], pitch: int, tmp_path: Path) -> None:
    check(loaded(close_job(pitch), tmp_path))


@each_check
def test_marks_of_a_framed_case_have_their_figures_at_themselves(check: Callable[[Job], None], tmp_path: Path) -> None:
    check(loaded(FRAMED, tmp_path))


@given(jobs())
def test_figures_of_any_job_are_at_their_own_marks(job: Job) -> None:
    check_lifted(job)
    check_beside(job)


@given(jobs())
def test_words_of_any_job_keep_off_leaders_and_off_what_is_cut_along(job: Job) -> None:
    check_no_leader_through_words(job)
    check_off_cut_lines(job)


def test_the_leader_of_a_front_s_name_stands_on_its_band(tmp_path: Path) -> None:
    """Where no face frame has a lane above the bands, it ended in the air over them."""
    whole = FRAMED.replace("[[cabinet.row]]", 'fronts = { kind = "inset" }\n[[cabinet.row]]', 1)
    whole = whole.replace("[{ opening", '[{ front = "door", opening').replace(
        '["equal", "equal"', '[{ opening = "equal", front = "drawer" }, "equal"'
    )
    strips = [strip for strip in strips_of(lay_out(loaded(whole, tmp_path))) if "front" in strip.layout.stick.name]
    assert strips
    for strip in strips:
        (piece,) = draw_strip(strip).pieces
        feet = {
            shape.x1: shape.y1
            for shape in piece.shapes
            if isinstance(shape, Line) and shape.x1 == shape.x2 and shape.y1 < shape.y2
        }
        for part in strip.layout.parts:
            assert feet[piece.window.x((part.span.start + part.span.end) / 2)] == MARK_TOP


def test_names_of_the_face_frame_stand_where_no_leader_passes(tmp_path: Path) -> None:
    job = loaded(FRAMED, tmp_path)
    named = [
        text.text
        for _, piece in pieces(job)
        for text in piece.shapes
        if isinstance(text, Text) and BESIDE_BOTTOM < text.y < BESIDE_TOP
    ]
    assert "rail at shelf 1" in named


def said_by(pitch: int, folder: Path, *words: str) -> tuple[str, str]:
    """What print says, and what stands on its sheets of strips."""
    (folder / "close.toml").write_text(close_job(pitch), encoding="utf-8")
    result = CliRunner().invoke(main, ["print", str(folder / "close.toml"), "-o", str(folder / "out"), *words])
    assert result.exit_code == 0, result.output
    strips = folder / "out" / "strips.pdf"
    pages = pypdf.PdfReader(strips).pages if strips.exists() else []
    return " ".join(result.stderr.split()), "\n".join(page.extract_text() for page in pages)


LEFT_OUT: Final = {
    32: {},
    10: {"sizes", "names"},
    5: {"sizes", "names", "figures"},
    2: {"sizes", "names", "figures"},
}
"""Sizes go first, then names, then figures: upright lettering takes 3.7 mm a line."""


@pytest.mark.parametrize("pitch", PITCHES)
def test_what_is_left_out_is_said_on_the_sheet_and_by_print(pitch: int, tmp_path: Path) -> None:
    told, sheets = said_by(pitch, tmp_path)
    kinds = {kind for kind in ("sizes", "names", "figures") if re.search(rf"Side, left hand has .*[0-9] {kind}", told)}
    assert kinds == set(LEFT_OUT[pitch])
    assert ("left out for want of room:" in sheets) is bool(kinds)
    assert ("Side, right hand has its marks so close" in told) is bool(kinds)


def test_print_of_strips_in_one_piece_says_what_is_left_out_too(tmp_path: Path) -> None:
    told, _ = said_by(5, tmp_path, "--format", "svg")
    assert "Side, left hand has its marks so close that" in told


def test_every_part_of_close_ones_keeps_the_same_edge(tmp_path: Path) -> None:
    """At a pitch of 5 mm every other figure has room: that of each part's far edge, but for the first and the last."""
    job = loaded(close_job(5), tmp_path)
    layout = lay_out(job).sticks[0]
    strip = next(strip for strip in strips_of(lay_out(job)) if strip.layout == layout)
    (piece,) = draw_strip(strip).pieces
    texts = {text.text for text in piece.shapes if isinstance(text, Text) and text.bold and text.upward}
    kept = [placed.span.end for placed in layout.parts if job.figures(placed.span.end) in texts]
    assert len(kept) >= len(layout.parts) - 4
    assert {far - near for near, far in pairwise(kept)} == {5}


def test_both_strips_of_a_pair_leave_the_same_figures_out(tmp_path: Path) -> None:
    left, right, _ = strips_of(lay_out(loaded(close_job(2), tmp_path)))
    lettered = [
        sorted(text.text for text in draw_strip(strip).pieces[0].shapes if isinstance(text, Text) and text.upward)
        for strip in (left, right)
    ]
    assert lettered[0] == lettered[1]


def test_name_of_a_long_part_that_a_seam_cuts_stands_near_its_middle(tmp_path: Path) -> None:
    """Over each tile's share of it, or where its own middle shows: no leader of any leans far."""
    wall = """
        title = "Wall"
        units = "mm"
        stock = { case = 381, filler = 80 }
        [[stick]]
        name = "Wall"
        order = [
          { part = "filler" }, { part = "case", name = "left" }, { part = "case", name = "middle" }, { opening = 50 },
          { part = "case", name = "right" },
        ]
        """
    check_lifted(loaded(wall, tmp_path))


def test_labels_in_a_row_make_room_for_names_that_stand_before_their_figures() -> None:
    """As they do beyond the middle of a strip; both may step 18 aside, and side by side they need about 24."""
    window = Window(Fraction(0), Fraction(400), Fraction(400))
    labels = [
        Lifted(x, x - 18.0, x + 18.0, Wording("shelf", figure), MARK_TOP, Rank.FIGURE)
        for x, figure in ((300.0, "300"), (312.0, "312"))
    ]
    lifted = lift(labels, window)
    boxes = text_boxes(lifted.draw(StripLanes(lifted.fan_mm, lifted.height_mm)))
    assert [box.text for box in sorted(boxes)] == ["shelf", "300", "shelf", "312"]
    assert colliding(boxes) == []


def test_figures_of_edges_stand_beside_them_in_the_openings_that_they_bound(tmp_path: Path) -> None:
    """Each opening of 300, from 18 and from 336 on, has two: at its left and at its right, 1.2 within it."""
    text = 'units = "mm"\nstock = { ply = 18 }\n[[stick]]\nname = "Side"\npart = "ply"\nopenings = [300, 300]\n'
    (strip,) = strips_of(lay_out(loaded(text, tmp_path)))
    (piece,) = draw_strip(strip).pieces
    beside = [text for text in piece.shapes if isinstance(text, Text) and text.y == NUMBER_BASELINE]
    found = {box.text: (box.left, box.right) for box in text_boxes(beside)}
    assert found.keys() == {"18", "318", "336", "636"}
    inward = (found["18"][0] - 18, 318 - found["318"][1], found["336"][0] - 336, 636 - found["636"][1])
    assert inward == pytest.approx((BESIDE_MM,) * 4)
