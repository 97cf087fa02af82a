"""Lettering of strips, measured on the drawn shapes: its heights, and each figure at its own mark or left out."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise, product
from math import hypot
from pathlib import Path
from typing import Final

import pypdf
import pytest
from click.testing import CliRunner
from hypothesis import given
from lettering_boxes import Said, TextBox, colliding, said, text_boxes
from strategies import jobs

from storystick.cli import main
from storystick.drawing.built_up import BuiltUp
from storystick.drawing.shapes import Area, Line, Text
from storystick.drawing.strip import StripPiece, draw_strip, strips_of
from storystick.drawing.strip_lanes import BESIDE_BOTTOM, BESIDE_TOP, GROOVE_BOTTOM, GROOVE_TOP, MARK_TOP, StripLanes
from storystick.drawing.strip_lifting import Lifted, Rank, Upward, lift
from storystick.drawing.window import Window
from storystick.job.job import Job
from storystick.laying_out import lay_out, load
from storystick.layout.stations import SpanKind, StickLayout
from storystick.sheets.seams import CUT_MM, REGISTER_ARM_MM
from storystick.sheets.strips import plan_strips

GALLERY: Final = sorted(
    path for path in (Path(__file__).parents[1] / "gallery").glob("*/*.toml") if path.stem == path.parent.name
)
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


def stands_at(box: TextBox, x: float, y: float) -> bool:
    """Whether lettering stands over the end of a leader, or close beside it."""
    over = -0.4 < box.bottom - y < 2.2 and box.left - 1.2 <= x <= box.right + 1.2
    return over or (box.bottom < y < box.top + 0.6 and max(box.left - x, x - box.right) <= 2.6)


def leaders(piece: StripPiece) -> list[Leader]:
    """Every leader: a line from above a mark, or from the end of such a line, that ends just below words."""
    lines = [shape for shape in piece.shapes if isinstance(shape, Line) and shape.y2 > max(shape.y1, MARK_TOP)]
    above = {(line.x1, line.y1): line for line in lines}
    lines = [line for line in lines if 0 < line.y1 <= BESIDE_TOP + 0.4]
    boxes = [figure.box for figure in said(piece.shapes)]
    found = []
    for line in lines:
        if any((other.x2, other.y2) == (line.x1, line.y1) for other in lines):
            continue
        top = above.get((line.x2, line.y2), line)
        words = tuple(box for box in boxes if stands_at(box, top.x2, top.y2))
        found.append(Leader(line.x1, (top.x2, top.y2), words))
    return found


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
        bold = [figure for figure in said(piece.shapes) if figure.bold and figure.text in belongs]
        for leader in leaders(piece):
            lean = leader.end[0] - leader.foot
            assert abs(lean) <= FARTHEST_MM + ROUNDING_MM
            assert leader.texts
            figures = [figure.text for figure in bold if any(box[:4] == figure.box[:4] for box in leader.texts)]
            if any(abs(place - leader.foot) <= ROUNDING_MM for figure in figures for place in belongs[figure]):
                for away in (piece.window.x(mark) - leader.foot for mark in layout.marks):
                    assert abs(away) <= ROUNDING_MM or 2 * abs(lean) <= abs(away - lean) + ROUNDING_MM


def mark_lines(layout: StickLayout, piece: StripPiece) -> list[tuple[float, float, float]]:
    """Every mark that is drawn, by its x, and from where to where its edge or its line runs upward."""
    x = piece.window.x
    parts = [(x(edge), 0.0, MARK_TOP) for placed in layout.parts for edge in (placed.span.start, placed.span.end)]
    lines = [(x(at), 0.0, MARK_TOP) for at in (*layout.bare_edges, *(point.at for point in layout.points))]
    grooves = [(x(edge), GROOVE_BOTTOM, GROOVE_TOP) for span in layout.grooves for edge in (span.start, span.end)]
    members = [(x(edge), BESIDE_BOTTOM, BESIDE_TOP) for span in layout.beside for edge in (span.start, span.end)]
    return [*parts, *lines, *grooves, *members]


def apart(box: TextBox, mark: tuple[float, float, float]) -> float:
    x, low, high = mark
    return hypot(max(box.left - x, x - box.right, 0.0), max(low - box.top, box.bottom - high, 0.0))


def check_beside(job: Job) -> None:
    """A station beside its edge is at least twice as far from any other mark."""
    for layout, piece in pieces(job):
        belongs, marks = figures_at(layout, piece, job), mark_lines(layout, piece)
        for figure in stations_beside(layout, piece, job):
            own, *rest = sorted((apart(figure.box, mark), mark[0]) for mark in marks)
            assert any(abs(own[1] - place) < ROUNDING_MM for place in belongs[figure.text])
            assert own[0] >= BESIDE_MM - 0.1, "the outline of a figure comes nearer than its advance"
            for other, x in rest:
                assert abs(x - own[1]) < ROUNDING_MM or 2 * own[0] <= other + ROUNDING_MM


def stations_beside(layout: StickLayout, piece: StripPiece, job: Job) -> list[Said]:
    """Those at the foot, and beside the members of a face frame."""
    belongs = figures_at(layout, piece, job)
    bold = [figure for figure in said(piece.shapes) if figure.bold and figure.text in belongs and not figure.upward]
    at_foot = [figure for figure in bold if figure.box.bottom < MARK_TOP]
    # A little lower: round figures go below their line.
    members = [figure for figure in bold if layout.beside and 0 <= figure.box.bottom - BESIDE_BOTTOM + 0.2 < 0.4]
    return [*at_foot, *members]


def check_heights(job: Job) -> None:
    """Capitals of 2.5 mm and more, of stations 3.5 and more, at the foot 5: but for fractions, one rank smaller."""
    for layout, piece in pieces(job):
        belongs = figures_at(layout, piece, job)
        lettering = said(piece.shapes)
        assert min(figure.height for figure in lettering) >= 2.5 - ROUNDING_MM
        small = [figure.text for figure in lettering if figure.bold and figure.height < 3.5 - ROUNDING_MM]
        assert all(re.fullmatch("[0-9]+/[0-9]+( full| scant)?", text) for text in small)
        for figure in lettering:
            if figure.bold and figure.text in belongs and figure.box.bottom < MARK_TOP:
                assert figure.height >= (3.5 if re.match("[0-9]+/", figure.text) else 5.0) - ROUNDING_MM


def check_no_name_beside_a_figure(job: Job) -> None:
    """No word but full and scant stands in one line with a figure, up to the head of the tile."""
    for layout, piece in pieces(job):
        head = min(text.y for text in piece.shapes if isinstance(text, Text) and job.digest in text.text)
        level = [figure for figure in said(piece.shapes) if figure.box.top < head and not figure.upward]
        words = {*(span.name for span in layout.spans), *(point.words for point in layout.points)}
        names = [figure for figure in level if figure.text in words and abs(figure.height - 2.5) < ROUNDING_MM]
        is_figure = re.compile("[0-9./; ]+( full| scant)?").fullmatch
        figures = [figure for figure in level if figure not in names and is_figure(figure.text)]
        for name, figure in product(names, figures):
            shared = min(name.box.top, figure.box.top) - max(name.box.bottom, figure.box.bottom)
            near = max(name.box.left - figure.box.right, figure.box.left - name.box.right) < 10
            assert name == figure or not near or shared < 0.6 * (name.box.top - name.box.bottom)


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


CHECKS: Final = (
    check_lifted,
    check_beside,
    check_heights,
    check_no_name_beside_a_figure,
    check_no_leader_through_words,
    check_off_cut_lines,
)
each_check = pytest.mark.parametrize("check", CHECKS)


@each_check
@pytest.mark.parametrize("pitch", PITCHES)
def test_close_marks_have_their_figures_at_themselves(check: Callable[[Job], None], pitch: int, tmp_path: Path) -> None:
    check(loaded(close_job(pitch), tmp_path))


@each_check
def test_marks_of_a_framed_case_have_their_figures_at_themselves(check: Callable[[Job], None], tmp_path: Path) -> None:
    check(loaded(FRAMED, tmp_path))


@pytest.mark.parametrize("path", GALLERY, ids=lambda path: path.stem)
def test_strips_of_the_gallery_are_lettered_by_rank_each_figure_at_its_own_mark(path: Path) -> None:
    job = load(path).job
    for check in CHECKS:
        check(job)
    for _, piece in pieces(job):
        assert colliding(text_boxes(piece.shapes)) == []


@given(jobs())
def test_figures_of_any_job_are_at_their_own_marks(job: Job) -> None:
    check_lifted(job)
    check_beside(job)
    check_heights(job)
    check_no_name_beside_a_figure(job)


@given(jobs())
def test_words_of_any_job_keep_off_leaders_and_off_what_is_cut_along(job: Job) -> None:
    check_no_leader_through_words(job)
    check_off_cut_lines(job)


def test_height_of_every_front_stands_in_its_band_and_its_name_above(tmp_path: Path) -> None:
    whole = FRAMED.replace("[[cabinet.row]]", 'fronts = { kind = "inset" }\n[[cabinet.row]]', 1)
    whole = whole.replace("[{ opening", '[{ front = "door", opening').replace(
        '["equal", "equal"', '[{ opening = "equal", front = "drawer" }, "equal"'
    )
    job = loaded(whole, tmp_path)
    strips = [strip for strip in strips_of(lay_out(job)) if "front" in strip.layout.stick.name]
    assert strips
    for strip in strips:
        (piece,) = draw_strip(strip).pieces
        lettering = said(piece.shapes)
        for part in strip.layout.parts:
            left, right = piece.window.stretch(part.span.start, part.span.end) or (0.0, 0.0)
            within = [word for word in lettering if left < word.box.left and word.box.right < right]
            (height,) = [word for word in within if word.text == job.figures(part.span.size) and not word.bold]
            assert 0 < height.box.bottom < height.box.top < MARK_TOP
            assert height.height == pytest.approx(3.5)
            assert [word for word in within if word.text == part.span.name and word.box.bottom > MARK_TOP]


def test_edges_of_a_face_frame_have_their_stations_beside_its_members(tmp_path: Path) -> None:
    """By hand: the bottom rail ends at 50, the top rail begins at 860; both bound openings of the frame."""
    job = loaded(FRAMED, tmp_path)
    strip = next(strip for strip in strips_of(lay_out(job)) if strip.layout.beside and "side" in strip.layout.name)
    (piece,) = draw_strip(strip).pieces
    found = {figure.text: figure for figure in stations_beside(strip.layout, piece, job)}
    for text, x, side in (("50", 50.0, 1), ("860", 860.0, -1)):
        box = found[text].box
        assert BESIDE_BOTTOM - 0.1 < box.bottom < BESIDE_TOP
        assert (box.left - x if side > 0 else x - box.right) == pytest.approx(BESIDE_MM, abs=0.01)


def test_part_that_is_long_is_crossed_at_its_ends_alone(tmp_path: Path) -> None:
    """And at a seam: two lines over a yard look parallel, and like edges."""
    text = 'units = "mm"\nstock = { long = 700 }\n[[stick]]\nname = "S"\n'
    text += 'order = [{ part = "long" }, { opening = 300 }]\n'
    (strip,) = strips_of(lay_out(loaded(text, tmp_path)))
    for piece in draw_strip(strip, [Fraction(250)]).pieces:
        end = min(piece.window.x(Fraction(700)), piece.window.width)
        crosses = [shape.extent for shape in piece.shapes if isinstance(shape, Area) and len(shape.points) == 4]
        assert crosses
        assert all(cross.right <= MARK_TOP + ROUNDING_MM or cross.left >= end - MARK_TOP for cross in crosses)


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
    32: {"names"},
    10: {"sizes", "names", "figures"},
    5: {"sizes", "names", "figures"},
    2: {"sizes", "names", "figures"},
}
"""Figures take 3.9 mm a line upright, and keep off the register marks of a seam; names go where two would touch."""


@pytest.mark.parametrize("pitch", PITCHES)
def test_what_is_left_out_is_said_on_the_sheet_and_by_print(pitch: int, tmp_path: Path) -> None:
    told, sheets = said_by(pitch, tmp_path)
    found = re.findall(r"([0-9]+) (size|name|figure)", " ".join(re.findall("strip A with no room for [^;]*", told)))
    kinds = {f"{kind}s" for _, kind in found}
    assert kinds == set(LEFT_OUT[pitch])
    assert "left out for want of room:" in sheets or not kinds
    assert told.count("strip A with no room for") == bool(kinds), "both hands leave the same out, and it is said once"


def test_print_of_strips_in_one_piece_says_what_is_left_out_too(tmp_path: Path) -> None:
    told, _ = said_by(5, tmp_path, "--format", "svg")
    assert "strip A with no room for" in told


def test_every_part_of_close_ones_keeps_the_same_edge(tmp_path: Path) -> None:
    """At a pitch of 5 mm every other figure has room: that of each part's far edge, but for the first and the last."""
    job = loaded(close_job(5), tmp_path)
    layout = lay_out(job).sticks[0]
    strip = next(strip for strip in strips_of(lay_out(job)) if strip.layout == layout)
    (piece,) = draw_strip(strip).pieces
    texts = {figure.text for figure in said(piece.shapes) if figure.bold and figure.upward}
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


def test_lifted_figures_step_aside_in_a_row_while_they_can() -> None:
    """Both may step 18 aside, and side by side their middles need about 12 of room."""
    window = Window(Fraction(0), Fraction(400), Fraction(400))
    labels = [
        Lifted(x, x - 18.0, x + 18.0, BuiltUp(figure, 3.5, bold=True), MARK_TOP, Rank.FIGURE)
        for x, figure in ((300.0, "300"), (305.0, "305"))
    ]
    lifted = lift(labels, window)
    boxes = text_boxes(lifted.draw(StripLanes(lifted.fan_mm, lifted.height_mm)))
    assert [box.text for box in sorted(boxes)] == ["300", "305"]
    assert colliding(boxes) == []


def test_fractions_of_close_marks_stay_in_line_before_any_is_left_out() -> None:
    """Built up, a figure that reads upward takes 5.75 mm; in one line 3.5. These are 5 mm apart."""
    window = Window(Fraction(0), Fraction(400), Fraction(400))
    labels = [
        Lifted(x, x, x, BuiltUp("17 61/64 full", 3.5, bold=True), MARK_TOP, Rank.FIGURE) for x in (100.0, 105.0, 110.0)
    ]
    lifted = lift(labels, window)
    assert not lifted.left_out
    assert {label.figure.in_line for label, _ in lifted.labels} == {True}
    assert not any(label.figure.in_line for label, _ in lift(labels[::2], window).labels)


def test_stations_stand_at_the_foot_beside_their_edges_in_the_openings_that_they_bound(tmp_path: Path) -> None:
    """Each opening of 300, from 18 and from 336 on, has two: at its left and at its right, 1.2 within it."""
    text = 'units = "mm"\nstock = { ply = 18 }\n[[stick]]\nname = "Side"\npart = "ply"\nopenings = [300, 300]\n'
    job = loaded(text, tmp_path)
    (strip,) = strips_of(lay_out(job))
    (piece,) = draw_strip(strip).pieces
    found = {figure.text: figure.box for figure in stations_beside(strip.layout, piece, job)}
    assert found.keys() == {"18", "318", "336", "636"}
    inward = (found["18"].left - 18, 318 - found["318"].right, found["336"].left - 336, 636 - found["636"].right)
    assert inward == pytest.approx((BESIDE_MM,) * 4)
    assert all(5.0 <= box.top - box.bottom <= 5.3 for box in found.values()), "round figures stand out a little"
    assert piece.height_mm < 34


def test_tile_is_as_high_as_it_needs_and_neighbours_have_their_register_marks_at_one_height(tmp_path: Path) -> None:
    text = """
        units = "mm"
        stock = { ply = 18 }
        [[stick]]
        name = "Side"
        order = [{ part = "ply" }, { opening = 300 }, { part = "ply" }, { part = "ply" }, { opening = 200 }]
        """
    (strip,) = strips_of(lay_out(loaded(text, tmp_path)))
    drawing = draw_strip(strip, [Fraction(200)])
    low, high = (piece.height_mm for piece in drawing.pieces)
    assert low < 34 < 37 < high, "two parts side by side: the edge between them has no opening to stand in"
    assert all(height + REGISTER_ARM_MM < low for height in drawing.register_mm)


def test_names_of_bars_hang_on_their_leaders_clear_of_the_names_of_openings() -> None:
    """In one line and close they read as one: "bar A: bottom left drawer 1"."""
    job = load(GALLERY[0]).job
    assert job.title == "Bead maker's chest"
    for layout, piece in pieces(job):
        names = {span.name for span in layout.spans if span.kind is SpanKind.OPENING}
        boxes = text_boxes(piece.shapes)
        lines = [shape.x1 for shape in piece.shapes if isinstance(shape, Line) and shape.x1 == shape.x2]
        for bar in (box for box in boxes if box.text.startswith("bar ")):
            assert min(min(abs(x - bar.left), abs(x - bar.right)) for x in lines) <= 1.0
            for name in (box for box in boxes if box.text in names and abs(box.bottom - bar.bottom) < 1):
                assert max(name.left - bar.right, bar.left - name.right) >= 4


def test_names_are_told_from_the_lines_of_the_head() -> None:
    """So much more white stands between them than between the two lines of the head."""
    for path in GALLERY:
        job = load(path).job
        for layout, piece in pieces(job):
            texts = [shape for shape in piece.shapes if isinstance(shape, Text) and not shape.upward]
            head = min(text.y for text in texts if job.digest in text.text)
            names = [t.y for t in texts if t.text in {span.name for span in layout.spans} and t.y < head]
            assert all(head - y >= 3.45 + 1.2 for y in names)


def test_figures_that_read_upward_are_not_read_with_those_of_the_next_one() -> None:
    """Numerator, bar, denominator are 0.75 apart; the next figure is farther."""
    close = [Lifted(x, x - 9, x + 9, BuiltUp("46 13/16", 3.5, bold=True), 12.0, Rank.FIGURE) for x in (50.0, 50.5)]
    form = Upward()
    first, second = close
    clear = form.pitch(first, second) - (first.figure.above_mm + first.figure.below_mm)
    assert clear >= 1.0 - ROUNDING_MM
