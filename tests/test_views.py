"""The reduced drawings of a cabinet: everything where it should be, and every word legible."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Final

import pytest
from built_cabinets import piece_called
from drawn_cabinets import BOOKCASE, HEAD, LOW, TWELVE, each_cabinet, made
from lettering_boxes import colliding, text_boxes

from storystick.drawing.cabinet_sections import View, draw_plan, draw_side_section
from storystick.drawing.cabinet_views import draw_elevation, draw_views, front_projection, pieces_in_front
from storystick.drawing.dimensions import Measure, measures_below
from storystick.drawing.shapes import Box, Line, Shape, Text
from storystick.layout.cabinets.pieces import CabinetLayout, Piece, Range, Role
from storystick.lengths import Figures

SCALE: Final = 0.1


def laid_out(text: str, head: str = HEAD) -> tuple[CabinetLayout, Figures]:
    """The only cabinet of a job, and how that says lengths."""
    layout, job = made(text, head)
    return layout, job.figures


def boxes(view: View) -> set[tuple[float, float, float, float]]:
    return {rounded(shape.x, shape.y, shape.width, shape.height) for shape in view.shapes if isinstance(shape, Box)}


def rounded(*numbers: float) -> tuple[float, ...]:
    return tuple(round(number, 6) for number in numbers)


def box_of(across: Range, up: Range, top: Fraction) -> tuple[float, ...]:
    lengths = (across.start, up.start - top, across.size, up.size)
    return rounded(*(float(length) * SCALE for length in lengths))


def words(shapes: tuple[Shape, ...]) -> list[str]:
    return [shape.text for shape in shapes if isinstance(shape, Text)]


def dimension_lines(view: View) -> set[tuple[float, float]]:
    """The left and right of every level line."""
    return {rounded(shape.x1, shape.x2) for shape in view.shapes if isinstance(shape, Line) and shape.y1 == shape.y2}


@each_cabinet
def test_every_piece_seen_from_the_front_is_filled_at_its_place(text: str) -> None:
    layout, figures = laid_out(text)
    drawn = boxes(draw_elevation(layout, figures, SCALE))
    for piece in pieces_in_front(layout):
        assert box_of(piece.x, piece.z, layout.cabinet.height) in drawn


def test_frame_hides_the_case_and_a_frameless_case_shows_its_edges() -> None:
    framed, frameless = (pieces_in_front(laid_out(text)[0]) for text in (TWELVE, BOOKCASE))
    assert {piece.role for piece in framed} == {Role.STILE, Role.RAIL, Role.MID_STILE}
    assert {piece.role for piece in frameless} == {Role.SIDE, Role.BOTTOM, Role.TOP, Role.SHELF}


@each_cabinet
@pytest.mark.parametrize(
    ("draw", "side"),
    [(draw_elevation, "width"), (draw_plan, "width"), (draw_side_section, "depth")],
)
def test_overall_size_is_as_long_as_drawn_and_has_its_figure(
    text: str, draw: Callable[[CabinetLayout, Figures, float], View], side: str
) -> None:
    layout, figures = laid_out(text)
    view = draw(layout, figures, SCALE)
    overall: Fraction = getattr(layout.cabinet, side)
    assert rounded(0.0, float(overall) * SCALE) in dimension_lines(view)
    assert figures(overall) in words(view.shapes)


@each_cabinet
def test_elevation_without_dimensions_has_every_line_of_the_front_and_no_words(text: str) -> None:
    layout, figures = laid_out(text)
    plain, full = (draw_elevation(layout, figures, SCALE, dimensioned) for dimensioned in (False, True))
    assert words(plain.shapes) == []
    assert boxes(plain) == boxes(full)
    edge = front_projection(layout, SCALE)
    assert plain.extent.right == pytest.approx(edge.x(layout.cabinet.width), abs=2.0)


def test_openings_have_their_names_and_the_frames_clear_sizes() -> None:
    layout, figures = laid_out(TWELVE)
    view = draw_elevation(layout, figures, 0.15)
    for bay in layout.bays:
        assert bay.name in words(view.shapes)
        assert f"{figures(bay.frame_x.size)} × {figures(bay.frame_z.size)}" in words(view.shapes)
    assert view.notes == ()


def test_opening_too_small_for_words_has_a_number_and_a_line_in_the_key() -> None:
    layout, figures = laid_out(LOW)
    view = draw_elevation(layout, figures, 0.06)
    assert {"1", "2", "3"} <= set(words(view.shapes))
    assert view.notes[0] == "1–3: 300 × 106"
    assert view.notes[-1] == "5, 6: 40 × 168"


def test_key_keeps_names_that_an_opening_was_given() -> None:
    layout, figures = laid_out(LOW)
    assert draw_elevation(layout, figures, 0.004).notes[1].startswith("4  record player, amplifier and all that")


def test_long_name_is_shortened_to_its_opening() -> None:
    layout, figures = laid_out(LOW)
    name = next(word for word in words(draw_elevation(layout, figures, 0.03).shapes) if word.startswith("record"))
    assert name.endswith("…")


def upright_pieces(layout: CabinetLayout) -> list[Piece]:
    return list(layout.of(Role.SIDE, Role.DIVIDER, Role.BACK, Role.STILE, Role.MID_STILE))


def test_plan_cuts_every_upright_of_its_row() -> None:
    layout, figures = laid_out(TWELVE)
    drawn = boxes(draw_plan(layout, figures, SCALE))
    assert len(upright_pieces(layout)) == 9
    for piece in upright_pieces(layout):
        assert box_of(piece.x, piece.y, layout.cabinet.depth) in drawn


def test_rabbet_deeper_than_its_back_is_open_behind_it() -> None:
    layout, figures = laid_out(TWELVE)
    back = piece_called(layout, "back")
    room = Range(back.y.end, layout.cabinet.depth)
    white = {
        shape for shape in draw_plan(layout, figures, SCALE).shapes if isinstance(shape, Box) and shape.grey == 1.0
    }
    assert {rounded(box.x, box.y, box.width, box.height) for box in white} == {
        box_of(back.x, room, layout.cabinet.depth)
    }


def test_plan_shows_the_clear_widths_and_the_inside_depth() -> None:
    layout, figures = laid_out(TWELVE)
    said = words(draw_plan(layout, figures, SCALE).shapes)
    assert {figures(bay.x.size) for bay in layout.bays} <= set(said)
    assert "370" in said  # 400 less 18 of frame and 12 of rabbet


def test_side_section_cuts_the_fullest_column() -> None:
    layout, figures = laid_out(TWELVE)
    drawn = boxes(draw_side_section(layout, figures, SCALE))
    first = layout.bays[0].x
    cut = [
        piece for piece in layout.of(Role.BOTTOM, Role.TOP, Role.SHELF, Role.RAIL, Role.BACK) if covers(piece, first)
    ]
    assert len(cut) == 2 + 5 + 7 + 1
    for piece in cut:
        assert box_of(piece.y, piece.z, layout.cabinet.height) in drawn


def covers(piece: Piece, across: Range) -> bool:
    middle = (across.start + across.end) / 2
    return piece.x.start < middle < piece.x.end


def test_toe_space_is_cut_out_of_the_side_and_has_its_height() -> None:
    """60 deep from the front edge of the board, as its template has it, and the edging of 8 before that."""
    layout, figures = laid_out(BOOKCASE)
    view = draw_side_section(layout, figures, SCALE)
    lines = [rounded(shape.x1, shape.y1, shape.x2, shape.y2) for shape in view.shapes if isinstance(shape, Line)]
    assert rounded(6.8, -210.0, 6.8, -201.0) in lines
    assert rounded(6.8, -201.0, 0.0, -201.0) in lines
    assert "90" in words(view.shapes)


def test_edging_stands_before_the_case() -> None:
    layout, figures = laid_out(BOOKCASE)
    edge = Range(Fraction(0), Fraction(8))
    assert box_of(edge, layout.top.z, layout.cabinet.height) in boxes(draw_side_section(layout, figures, SCALE))
    assert box_of(layout.sides[0].x, edge, layout.cabinet.depth) in boxes(draw_plan(layout, figures, SCALE))


def test_doors_meet_and_adjustable_shelves_are_broken_lines() -> None:
    layout, figures = laid_out(BOOKCASE)
    lines = [shape for shape in draw_elevation(layout, figures, SCALE).shapes if isinstance(shape, Line)]
    assert len({line.y1 for line in lines if line.dash_mm}) == 3
    assert len([line for line in lines if line.x1 == line.x2 == 45.0]) == 2


def test_overlay_front_is_drawn_over_the_edges_of_its_opening() -> None:
    layout, figures = laid_out(BOOKCASE)
    bay = layout.bays[0]
    left, right = (float(bay.x.start) - 8) * SCALE, (float(bay.x.end) + 8) * SCALE
    low, high = (float(bay.z.start) - 8 - 2100) * SCALE, (float(bay.z.end) + 8 - 2100) * SCALE
    lines = [shape for shape in draw_elevation(layout, figures, SCALE).shapes if isinstance(shape, Line)]
    level = {rounded(line.x1, line.x2, line.y1) for line in lines if line.y1 == line.y2}
    assert {rounded(left, right, low), rounded(left, right, high)} <= level


@each_cabinet
@pytest.mark.parametrize("size", [(190.0, 185.0), (120.0, 120.0), (420.0, 100.0)])
def test_views_stay_in_their_box_and_no_word_stands_in_another(text: str, size: tuple[float, float]) -> None:
    view = draw_views(*laid_out(text), *size)
    assert view.extent.left == pytest.approx(0.0)
    assert view.extent.top == pytest.approx(0.0)
    assert view.extent.right <= size[0]
    assert view.extent.bottom >= -size[1]
    assert colliding(text_boxes(view.shapes)) == []


@each_cabinet
def test_long_figures_with_full_and_scant_fit_too(text: str) -> None:
    uneven = HEAD.replace("ply = 18", "ply = 18.13")
    view = draw_views(*laid_out(text, uneven), 150.0, 150.0)
    assert any("full" in word or "scant" in word for word in words(view.shapes))
    assert colliding(text_boxes(view.shapes)) == []


@each_cabinet
def test_all_words_are_eight_points_or_more(text: str) -> None:
    assert (
        min(shape.size_pt for shape in draw_views(*laid_out(text), 190.0, 185.0).shapes if isinstance(shape, Text)) >= 8
    )


def test_plan_stands_under_the_front_in_one_scale() -> None:
    layout, figures = laid_out(TWELVE)
    view = draw_views(layout, figures, 190.0, 185.0)
    overall = [text for text in view.shapes if isinstance(text, Text) and text.text == figures(layout.cabinet.width)]
    assert len(overall) == 2
    assert overall[0].x == pytest.approx(overall[1].x)


def test_figures_that_are_wider_than_their_lengths_stand_upward_each_at_the_middle_of_its_own() -> None:
    measures = [
        Measure(start, start + 6.0, figure) for start, figure in ((0.0, "1021.5"), (6.0, "998.25"), (12.0, "8"))
    ]
    shapes = tuple(measures_below(measures, 50.0))
    figures = [shape for shape in shapes if isinstance(shape, Text)]
    assert all(text.upward for text in figures)
    for box, measure in zip(text_boxes(figures), measures, strict=True):
        assert box.text == measure.figure
        assert (box.left + box.right) / 2 == pytest.approx(measure.middle, abs=0.15)
        assert box.top < 50.0 - 2.6
