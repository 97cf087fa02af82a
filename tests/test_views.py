"""The reduced drawings of a cabinet: everything where it should be, and every word legible."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

import pytest
from built_cabinets import built_jobs, piece_called
from drawn_cabinets import BOOKCASE, CHEST, DOORS, HEAD, LOW, SINGLE_DOORS, TWELVE, each_cabinet, made
from hypothesis import given, settings
from lettering_boxes import colliding, text_boxes

from storystick.cutting.parts import drawer_boxes
from storystick.drawing.cabinet_sections import draw_section
from storystick.drawing.cabinet_sheet import Arrangement, CabinetDrawing, CabinetSheet
from storystick.drawing.cabinet_views import draw_elevation, front_projection, pieces_in_front
from storystick.drawing.cut_faces import broken, cut_face, hatching
from storystick.drawing.dimensions import Measure, level_chain, upright_chain
from storystick.drawing.lettering import NAME_MM, points_of
from storystick.drawing.projection import STANDARD_SCALES, Projection, Scale
from storystick.drawing.shapes import NARROW_MM, WIDE_MM, Area, Box, Line, Rect, Shape, Text, extent, moved
from storystick.job.fronts import FrontKind
from storystick.job.job import Job
from storystick.layout.cabinets.closings import closings_of
from storystick.layout.cabinets.pieces import Axis, CabinetLayout, Range, Role
from storystick.lengths import Figures, Units

SCALE: Final = 0.1
TENTH: Final = Scale("1 : 10", Fraction(1, 10))


def laid_out(text: str, head: str = HEAD) -> tuple[CabinetLayout, Figures]:
    """The only cabinet of a job, and how that says lengths."""
    layout, job = made(text, head)
    return layout, job.figures


def boxes(shapes: tuple[Shape, ...]) -> set[tuple[float, ...]]:
    return {rounded(shape.x, shape.y, shape.width, shape.height) for shape in shapes if isinstance(shape, Box)}


def rounded(*numbers: float) -> tuple[float, ...]:
    return tuple(round(number, 6) for number in numbers)


def box_of(across: Range, up: Range, top: Fraction) -> tuple[float, ...]:
    lengths = (across.start, up.start - top, across.size, up.size)
    return rounded(*(float(length) * SCALE for length in lengths))


def words(shapes: tuple[Shape, ...]) -> list[str]:
    return [shape.text for shape in shapes if isinstance(shape, Text)]


def lines(shapes: tuple[Shape, ...]) -> list[Line]:
    return [shape for shape in shapes if isinstance(shape, Line)]


def section(layout: CabinetLayout, figures: Figures) -> tuple[Shape, ...]:
    """What A–A cuts and what lies beyond it, without words."""
    sheet = CabinetSheet(layout, figures)
    return tuple(
        draw_section(sheet.side, layout, sheet.solids, Projection(Axis.Y, Axis.Z, layout.cabinet.height, SCALE))
    )


def plan(layout: CabinetLayout, figures: Figures) -> tuple[Shape, ...]:
    sheet = CabinetSheet(layout, figures)
    return tuple(
        draw_section(sheet.plan, layout, sheet.solids, Projection(Axis.X, Axis.Y, layout.cabinet.depth, SCALE))
    )


def cut_faces(shapes: tuple[Shape, ...]) -> set[tuple[float, ...]]:
    """What is black, or has the wide outline of a cut face."""
    black = {rounded(*shape.extent) for shape in shapes if isinstance(shape, Box) and shape.grey == 0.0}
    wide = {rounded(line.x1, line.y1, line.x2, line.y2) for line in lines(shapes) if line.width_mm == WIDE_MM}
    white = (shape.extent for shape in shapes if isinstance(shape, Box) and shape.grey == 1.0)
    hatched = {
        rounded(*face)
        for face in white
        if rounded(face.left, face.bottom, face.right, face.bottom) in wide
        and rounded(face.left, face.bottom, face.left, face.top) in wide
    }
    return black | hatched


def rect_of(across: Range, up: Range, top: Fraction) -> tuple[float, ...]:
    lengths = (across.start, up.start - top, across.end, up.end - top)
    return rounded(*(float(length) * SCALE for length in lengths))


@each_cabinet
def test_every_piece_seen_from_the_front_is_drawn_at_its_place(text: str) -> None:
    layout, figures = laid_out(text)
    drawn = boxes(draw_elevation(layout, figures, SCALE).shapes)
    for piece in pieces_in_front(layout):
        assert box_of(piece.x, piece.z, layout.cabinet.height) in drawn


def test_frame_hides_the_case_and_a_frameless_case_shows_its_edges() -> None:
    framed, frameless = (pieces_in_front(laid_out(text)[0]) for text in (TWELVE, BOOKCASE))
    assert {piece.role for piece in framed} == {Role.STILE, Role.RAIL, Role.MID_STILE}
    assert {piece.role for piece in frameless} == {Role.SIDE, Role.BOTTOM, Role.TOP, Role.SHELF}


@each_cabinet
def test_elevation_without_dimensions_has_every_line_of_the_front_and_no_words(text: str) -> None:
    layout, figures = laid_out(text)
    plain, full = (draw_elevation(layout, figures, SCALE, dimensioned) for dimensioned in (False, True))
    assert words(plain.shapes) == []
    assert boxes(plain.shapes) == boxes(full.shapes)
    edge = front_projection(layout, SCALE)
    assert plain.extent.right == pytest.approx(edge.x(layout.cabinet.width), abs=2.0)


def scale_said(scale: Scale, units: Units) -> Fraction:
    """The factor by the words of a scale alone."""
    if units is Units.MM:
        one, times = scale.words.split(" : ")
        return Fraction(int(one), int(times))
    inches = re.fullmatch(r"(.*) in = 1 ft", scale.words)
    assert inches
    return Fraction(sum(map(Fraction, inches[1].split()), Fraction(0)), 12)


@pytest.mark.parametrize("units", Units)
def test_scales_are_standard_and_their_words_say_the_factor(units: Units) -> None:
    """Of mm the series of ISO 5455, table 1: 1, 2 and 5 to powers of ten."""
    scales = STANDARD_SCALES[units]
    assert [scale.factor for scale in scales] == sorted((scale.factor for scale in scales), reverse=True)
    assert all(scale_said(scale, units) == scale.factor for scale in scales)
    usual = (
        {"1 : 1", "1 : 2", "1 : 5", "1 : 10", "1 : 20", "1 : 50"}
        if units is Units.MM
        else {f"{inches} in = 1 ft" for inches in ("3", "1 1/2", "1", "3/4", "1/2", "1/4")}
    )
    assert usual <= {scale.words for scale in scales}


@each_cabinet
@pytest.mark.parametrize("units", Units)
def test_lengths_on_paper_are_the_real_ones_times_the_stated_scale(text: str, units: Units) -> None:
    layout, job = made(text)
    figures = Figures(units, job.round_to)
    drawing = best(layout, figures)
    factor = float(scale_said(drawing.scale, units))
    cabinet = layout.cabinet
    left, top = drawing.front
    floor = [line for line in lines(drawing.shapes) if line.width_mm == WIDE_MM and line.y1 == line.y2]
    foot = top - float(cabinet.height) * factor
    overhang = 1.5
    assert any(
        rounded(line.x1, line.x2, line.y1)
        == rounded(left - overhang, left + float(cabinet.width) * factor + overhang, foot)
        for line in floor
    )
    for at, size in ((drawing.front, cabinet.width), (drawing.section, cabinet.depth)):
        measured = [
            line
            for line in lines(drawing.shapes)
            if line.width_mm == NARROW_MM and rounded(line.x1, line.x2) == rounded(at[0], at[0] + float(size) * factor)
        ]
        assert measured, size


def best(layout: CabinetLayout, figures: Figures, width: float = 190.0, height: float = 215.0) -> CabinetDrawing:
    return next(CabinetSheet(layout, figures).drawings(width, height))


@each_cabinet
def test_views_are_aligned(text: str) -> None:
    layout, figures = laid_out(text)
    drawing = CabinetSheet(layout, figures).draw(TENTH)
    assert drawing.arrangement is Arrangement.RIGHT
    assert drawing.plan[0] == drawing.front[0]
    assert drawing.section[1] == drawing.front[1]
    assert drawing.section[0] > drawing.front[0] + float(layout.cabinet.width) * SCALE
    assert drawing.plan[1] - float(layout.cabinet.depth) * SCALE > drawing.front[1]


def mark_at(drawing: CabinetDrawing, letter: str) -> list[Line]:
    """The wide strokes beside the two letters of a plane's mark."""
    letters = [shape for shape in drawing.shapes if isinstance(shape, Text) and shape.text == letter]
    assert len(letters) == 2
    strokes = [
        line
        for line in lines(drawing.shapes)
        if line.width_mm == WIDE_MM and (line.x1 == line.x2 if letter == "A" else line.y1 == line.y2)
    ]
    return [
        min(strokes, key=lambda line: abs((line.x1 + line.x2) / 2 - text.x) + abs((line.y1 + line.y2) / 2 - text.y))
        for text in letters
    ]


@each_cabinet
def test_section_shows_what_the_mark_in_the_elevation_cuts(text: str) -> None:
    """The station is read off the drawing, and what it cuts from the pieces alone."""
    layout, figures = laid_out(text)
    drawing = CabinetSheet(layout, figures).draw(TENTH)
    (x,) = {round(line.x1, 6) for line in mark_at(drawing, "A")}
    station = (x - drawing.front[0]) / SCALE
    expected = {
        rect_of(piece.y, piece.z, layout.cabinet.height)
        for piece in layout.pieces
        if float(piece.x.start) < station < float(piece.x.end)
    }
    others = {
        rect_of(piece.y, piece.z, layout.cabinet.height)
        for piece in layout.pieces
        if not float(piece.x.start) < station < float(piece.x.end)
    }
    drawn = cut_faces(section(layout, figures))
    assert expected <= drawn
    assert not drawn & (others - expected)


@each_cabinet
def test_plan_shows_what_the_mark_in_the_elevation_cuts(text: str) -> None:
    layout, figures = laid_out(text)
    drawing = CabinetSheet(layout, figures).draw(TENTH)
    (y,) = {round(line.y1, 6) for line in mark_at(drawing, "B")}
    station = float(layout.cabinet.height) + (y - drawing.front[1]) / SCALE
    cut = [piece for piece in layout.pieces if float(piece.z.start) < station < float(piece.z.end)]
    assert {Role.SIDE} <= {piece.role for piece in cut}
    drawn = cut_faces(plan(layout, figures))
    assert {rect_of(piece.x, piece.y, layout.cabinet.depth) for piece in cut} <= drawn


@each_cabinet
def test_planes_cut_no_piece_along_its_length(text: str) -> None:
    layout, figures = laid_out(text)
    sheet = CabinetSheet(layout, figures)
    assert not [
        piece.name
        for piece in layout.pieces
        if piece.axis is Axis.Z and sheet.side.cuts(piece) and piece.role is not Role.BACK
    ]
    assert not [piece.name for piece in layout.pieces if piece.axis is Axis.X and sheet.plan.cuts(piece)]


def test_openings_have_their_names_and_the_frames_clear_sizes() -> None:
    layout, figures = laid_out(TWELVE)
    view = draw_elevation(layout, figures, 0.2)
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


def test_openings_of_a_case_of_thirty_drawers_have_their_numbers() -> None:
    columns = "".join(f"[[cabinet.column]]\nopenings = {['equal'] * 6}\n" for _ in range(5))
    layout, figures = laid_out(CHEST.replace("width = 1000", "width = 1500") + columns)
    drawing = best(layout, figures)
    assert {str(number) for number in range(1, 31)} <= set(words(drawing.shapes))


def test_key_keeps_names_that_an_opening_was_given() -> None:
    layout, figures = laid_out(LOW)
    assert draw_elevation(layout, figures, 0.004).notes[1].startswith("4  record player, amplifier and all that")


def test_long_name_is_shortened_to_its_opening() -> None:
    layout, figures = laid_out(LOW)
    name = next(word for word in words(draw_elevation(layout, figures, 0.03).shapes) if word.startswith("record"))
    assert name.endswith("…")


def test_rabbet_deeper_than_its_back_is_open_behind_it() -> None:
    layout, figures = laid_out(TWELVE)
    back = piece_called(layout, "back")
    room = box_of(back.x, Range(back.y.end, layout.cabinet.depth), layout.cabinet.depth)
    white = (shape for shape in plan(layout, figures) if isinstance(shape, Box) and shape.grey == 1.0)
    assert room in {rounded(box.x, box.y, box.width, box.height) for box in white}


def test_drawing_of_a_framed_cabinet_dimensions_members_clear_sizes_and_depths() -> None:
    layout, figures = laid_out(TWELVE)
    said = words(CabinetSheet(layout, figures).draw(Scale("1 : 5", Fraction(1, 5))).shapes)
    assert {figures(bay.x.size) for bay in layout.bays} <= set(said)
    members = layout.of(Role.STILE, Role.RAIL, Role.MID_STILE)
    assert {figures(piece.across.size) for piece in members} <= set(said)
    assert {"1000", "900", "400"} <= set(said)
    assert "370" in said  # 400 less 18 of frame and 12 of rabbet
    assert said.count("6") == 2  # the back, and what the rabbet is deeper


def test_toe_space_is_cut_out_of_the_side_and_has_its_height_and_recess() -> None:
    """60 deep from the front edge of the board, as its template has it, and the edging of 8 before that."""
    layout, figures = laid_out(BOOKCASE)
    drawn = [rounded(line.x1, line.y1, line.x2, line.y2) for line in lines(section(layout, figures))]
    assert rounded(6.8, -210.0, 6.8, -201.0) in drawn
    said = words(CabinetSheet(layout, figures).draw(TENTH).shapes)
    assert {"90", "60", "8", "18"} <= set(said)


def test_edging_stands_before_the_case() -> None:
    layout, figures = laid_out(BOOKCASE)
    edge = Range(Fraction(0), Fraction(8))
    assert rect_of(edge, layout.of(Role.TOP)[0].z, layout.cabinet.height) in cut_faces(section(layout, figures))
    assert rect_of(layout.sides[0].x, edge, layout.cabinet.depth) in cut_faces(plan(layout, figures))


def test_fronts_and_drawer_boxes_are_cut_in_the_section() -> None:
    layout, figures = laid_out(DOORS)
    drawn = cut_faces(section(layout, figures))
    top = layout.cabinet.height
    # Fronts 20 thick lie over the case: the door of the cupboard below and the drawer's above it.
    for bay in (layout.bays[0], layout.bays[1]):
        z = Range(bay.z.start - 8, bay.z.end + 8)
        assert rect_of(Range(Fraction(-20), Fraction(0)), z, top) in drawn
    (box, *_) = drawer_boxes(layout, figures)
    low = box.bay.z.start + 10
    front = Range(Fraction(0), Fraction(12))
    assert rect_of(front, Range(low, low + box.height), top) in drawn


def test_doors_have_two_lines_to_their_hinges_and_drawers_a_bar() -> None:
    layout, figures = laid_out(DOORS)
    drawn = lines(draw_elevation(layout, figures, 0.2).shapes)
    slanting = [line for line in drawn if line.x1 != line.x2 and line.y1 != line.y2 and line.width_mm == NARROW_MM]
    hinges = {round(line.x1, 3) for line in slanting if max(abs(line.x1 - line.x2), 1) > 5}
    pair = layout.bays[0]
    least, most = (float(pair.x.start) - 8) * 0.2, (float(pair.x.end) + 8) * 0.2
    assert min(hinges) == pytest.approx(least, abs=0.5)
    assert max(line.x1 for line in slanting) == pytest.approx(most, abs=0.5)
    bars = [
        line
        for line in drawn
        if line.width_mm == WIDE_MM and line.y1 == line.y2 and abs(line.x1 - line.x2) == pytest.approx(8.0)
    ]
    assert len(bars) == 2


@pytest.mark.parametrize(("number", "side"), [(0, "left"), (1, "right"), (2, "")])
def test_single_door_shows_the_side_that_the_job_says(number: int, side: str) -> None:
    layout, figures = laid_out(SINGLE_DOORS)
    bay = layout.bays[number]
    paper = front_projection(layout, SCALE)
    left, right = paper.x(bay.x.start), paper.x(bay.x.end)
    drawn = lines(draw_elevation(layout, figures, SCALE, dimensioned=False).shapes)
    slanting = [line for line in drawn if line.x1 != line.x2 and line.y1 != line.y2 and left < line.x1 < right]
    starts = {round(line.x1, 6) for line in slanting}
    assert len(slanting) == (2 if side else 0)
    if side:
        assert starts == {round(left + 0.5 if side == "left" else right - 0.5, 6)}


def test_overlay_front_hides_the_edges_of_its_opening_and_an_inset_one_stands_inside() -> None:
    overlay, inset = (laid_out(text) for text in (BOOKCASE, SINGLE_DOORS))
    dashed = [
        line for line in lines(draw_elevation(*overlay, SCALE, False).shapes) if line.dash_mm and line.x1 == line.x2
    ]
    bay = overlay[0].bays[0]
    assert {rounded(line.x1) for line in dashed} == {rounded(float(edge) * SCALE) for edge in (bay.x.start, bay.x.end)}
    assert not [line for line in lines(draw_elevation(*inset, SCALE, False).shapes) if line.dash_mm]


@each_cabinet
@pytest.mark.parametrize("size", [(190.0, 215.0), (120.0, 140.0)])
def test_drawing_stays_in_its_box_and_no_word_stands_in_another(text: str, size: tuple[float, float]) -> None:
    drawing = best(*laid_out(text), *size)
    reach = extent(drawing.shapes)
    assert rounded(reach.left, reach.top) == (0.0, 0.0)
    assert reach.right <= size[0]
    assert reach.bottom >= -size[1]
    assert colliding(text_boxes(drawing.shapes)) == []


@each_cabinet
def test_no_word_stands_on_a_line_or_a_cut_face(text: str) -> None:
    drawing = best(*laid_out(text))
    ink = [
        shape.extent
        for shape in drawing.shapes
        if isinstance(shape, Line) or (isinstance(shape, Box) and not shape.grey)
    ]
    for box in text_boxes(drawing.shapes):
        slim = Rect(box.left, box.bottom + 0.1, box.right, box.top - 0.1)
        crossing = [one for one in ink if slim.meets(one) and not is_slanting(one)]
        assert not crossing, box.text


def is_slanting(reach: Rect) -> bool:
    """Whether the extent of a line is no thin rectangle."""
    return min(reach.right - reach.left, reach.top - reach.bottom) > 1.0


def is_edge(line: Line, pairs: list[Rect]) -> bool:
    """Whether a line is level or upright, whole, no pull of a drawer, and not where two doors meet."""
    pull = line.width_mm == WIDE_MM and abs(line.x2 - line.x1) < 8.1
    meeting = line.x1 == line.x2 and any(pair.left + 1 < line.x1 < pair.right - 1 for pair in pairs)
    return (line.x1 == line.x2 or line.y1 == line.y2) and not line.dash_mm and not pull and not meeting


@each_cabinet
def test_words_break_no_edge_of_what_is_cut_or_seen(text: str) -> None:
    layout, figures = laid_out(text)
    drawing = CabinetSheet(layout, figures).draw(TENTH)
    drawn = {rounded(line.x1, line.y1, line.x2, line.y2) for line in lines(drawing.shapes)}
    face = draw_elevation(layout, figures, SCALE, dimensioned=False).shapes
    paper = front_projection(layout, SCALE)
    pairs = [
        paper.rect(bay.frame_x, bay.frame_z).moved(*drawing.front)
        for closing in closings_of(layout)
        for bay in closing.bays
        if closing.kind is FrontKind.PAIR
    ]
    views = ((section(layout, figures), drawing.section), (plan(layout, figures), drawing.plan), (face, drawing.front))
    for view, at in views:
        # Signs, pulls and hidden edges give way to words.
        for line in (line for line in lines(moved(view, *at)) if is_edge(line, pairs if view is face else [])):
            assert rounded(line.x1, line.y1, line.x2, line.y2) in drawn


@each_cabinet
def test_long_figures_with_full_and_scant_fit_too(text: str) -> None:
    uneven = HEAD.replace("ply = 18", "ply = 18.13")
    drawing = best(*laid_out(text, uneven))
    assert any("full" in word or "scant" in word for word in words(drawing.shapes))
    assert colliding(text_boxes(drawing.shapes)) == []


@each_cabinet
def test_capitals_are_two_and_a_half_mm_high_or_more_and_lines_have_two_widths(text: str) -> None:
    shapes = best(*laid_out(text)).shapes
    assert min(shape.size_pt for shape in shapes if isinstance(shape, Text)) >= points_of(NAME_MM)
    assert {line.width_mm for line in lines(shapes)} == {0.25, 0.5}


@each_cabinet
def test_plan_and_section_say_where_the_front_is(text: str) -> None:
    drawing = best(*laid_out(text))
    fronts = [shape for shape in drawing.shapes if isinstance(shape, Text) and shape.text == "FRONT"]
    assert len(fronts) == 2
    assert {"Front", "Section A–A", "Plan B–B"} <= set(words(drawing.shapes))
    assert [shape for shape in drawing.shapes if isinstance(shape, Area)]


def test_figures_that_are_wider_than_their_lengths_stand_upward_each_at_the_middle_of_its_own() -> None:
    measures = [
        Measure(start, start + 6.0, figure) for start, figure in ((0.0, "1021.5"), (6.0, "998.25"), (12.0, "8"))
    ]
    figures = [shape for shape in level_chain(measures, 50.0) if isinstance(shape, Text)]
    assert [text.upward for text in figures] == [True, True, False]
    for box, measure in zip(text_boxes(figures), measures, strict=True):
        assert box.text == measure.figure
        assert (box.left + box.right) / 2 == pytest.approx(measure.middle, abs=0.2)
        assert box.top < 50.0 - 3.5


def test_figures_of_the_last_rank_go_first_and_without_room_for_any_no_line_is_drawn() -> None:
    close = [Measure(2.0 * at, 2.0 * at + 2.0, "8", rank=at % 2) for at in range(5)]
    assert [shape.text for shape in upright_chain(close, 0.0) if isinstance(shape, Text)] == ["8", "8", "8"]
    assert list(upright_chain([Measure(0.5 * at, 0.5 * at + 0.5, "8") for at in range(30)], 0.0)) == []


@pytest.mark.parametrize("rising", [True, False])
def test_hatching_lies_within_its_face_at_45_degrees(rising: bool) -> None:
    face = Rect(3.0, -7.0, 5.1, 12.0)
    found = list(hatching(face, rising))
    assert len(found) > 8
    for line in found:
        assert abs(line.x2 - line.x1) == pytest.approx(abs(line.y2 - line.y1))
        assert (line.x2 > line.x1) is rising
        for x, y in ((line.x1, line.y1), (line.x2, line.y2)):
            assert face.left - 1e-9 <= x <= face.right + 1e-9
            assert face.bottom - 1e-9 <= y <= face.top + 1e-9


def test_thin_cut_face_is_black_from_edge_to_edge() -> None:
    assert list(cut_face(Rect(0.0, 0.0, 0.6, 40.0), True)) == [Box(0.0, 0.0, 0.6, 40.0)]


def test_line_is_broken_where_a_place_lies_over_it() -> None:
    line = Line(0.0, 0.0, 10.0, 10.0, NARROW_MM)
    found = list(broken(line, [Rect(4.0, 4.0, 6.0, 6.0), Rect(20.0, 0.0, 30.0, 10.0)]))
    assert [rounded(piece.x1, piece.y1, piece.x2, piece.y2) for piece in found] == [
        rounded(0.0, 0.0, 4.0, 4.0),
        rounded(6.0, 6.0, 10.0, 10.0),
    ]
    assert list(broken(line, [])) == [line]


@settings(max_examples=25, deadline=None)
@given(built_jobs())
def test_every_construction_has_a_drawing_that_can_be_read(built: tuple[CabinetLayout, Job]) -> None:
    layout, job = built
    sheet = CabinetSheet(layout, job.figures)
    drawing = next(sheet.drawings(190.0, 215.0))
    boxes_of_words = text_boxes(drawing.shapes)
    assert colliding(boxes_of_words) == []
    assert extent(drawing.shapes).right <= 190.0
    assert extent(drawing.shapes).bottom >= -215.0
    drawn = cut_faces(section(layout, job.figures))
    for piece in layout.pieces:
        if sheet.side.cuts(piece) and piece.role is not Role.WEB_FRAME:
            assert rect_of(piece.y, piece.z, layout.cabinet.height) in drawn, piece.name
