"""Board templates on paper: tiles that together have every mark once at its place, read back and put together."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import pairwise, product
from pathlib import Path
from typing import Any, Final

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from jobs import read_well
from lettering_boxes import colliding, text_boxes
from readback import Ink, Rect, Stroke, pdf_by_pdfium, pdf_by_pypdf, pdfium, svg_by_svgelements, svg_by_xml

from storystick import load
from storystick.drawing.board import draw_board, pane_name
from storystick.drawing.shapes import FINE_MM, Box, Line, Text, extent
from storystick.errors import StorystickError
from storystick.job.job import Job
from storystick.job.papers import PAPERS, custom_paper, roll_paper
from storystick.job.shop import Printer
from storystick.laying_out import lay_out
from storystick.layout.board import BoardLayout, EdgeWords
from storystick.layout.boards import board_called
from storystick.outline import Place
from storystick.sheets.boards import BoardSheet, BoardSheets, board_page, plan_boards
from storystick.sheets.document import Document
from storystick.sheets.pages.boards import board_blocks
from storystick.sheets.pages.flow import Room
from storystick.sheets.seams import CLEARANCE
from storystick.wording import plain
from storystick.writers import writer_for

TOLERANCE_MM: Final = 0.001
DOT_MM: Final = 25.4 / 600
BOOKCASE: Final = Path(__file__).parent.parent / "gallery" / "choir-bookcase" / "choir-bookcase.toml"
FREE: Final = """
units = "inch"
[[template]]
name = "Panel"
width = 24
height = "19 1/3"
outline = [[0, 0], [24, 0], { arc_to = [24, 15], through = ["22", "15/2"] }, [20, "19 1/3"], [0, "19 1/3"]]
grooves = [{ along = "x", at = "7 1/3", width = "23/32", name = "shelf", to = 20 }, { along = "y", at = 13, width = "1/64" }]
rabbets = [{ edge = "left", width = "3/8" }]
holes = [{ first = [3, 1], pitch = "1 3/8", count = 13, along = "y", diameter = "5 mm" }, { at = [17, 3], diameter = "35 mm" }]
circles = [{ centre = [10, 14], diameter = 7, name = "port" }]
"""  # noqa: E501
OFF: Final = Printer("office", Fraction(1003, 1000), Fraction(998, 1000))


@cache
def bookcase(paper: str = "A4") -> tuple[Job, BoardLayout]:
    layout = load(BOOKCASE)
    board = board_called("Bookcase right side", layout.cabinets)
    return replace(layout.job, paper=PAPERS[paper]), board


@cache
def free(paper: str = "Letter") -> tuple[Job, BoardLayout]:
    job = replace(read_well(FREE), paper=PAPERS[paper])
    (board,) = lay_out(job).boards
    return job, board


@cache
def plan_of(name: str) -> BoardSheets:
    job, board = {"bookcase": bookcase, "free": free, "free on A3": lambda: free("A3"), "corrected": free}[name]()
    return plan_boards([board], replace(job, printer=OFF) if name == "corrected" else job)


@cache
def pdf_of(name: str) -> bytes:
    return writer_for(".pdf")(Document("Boards", "", plan_of(name).pages()))


each_plan = pytest.mark.parametrize("name", ["bookcase", "free", "free on A3", "corrected"])
each_reader = pytest.mark.parametrize("reader", [pdf_by_pypdf, pdf_by_pdfium])


class Scene:
    """The ink of all tiles of a board, put where their stations say: mm from the board's lower left corner."""

    def __init__(self, plan: BoardSheets, inks: list[Ink]) -> None:
        self.boxes: list[Rect] = []
        self.strokes: list[Stroke] = []
        for sheet, ink in zip(plan.sheets, inks, strict=True):
            to_board = placing(sheet)
            for box in ink.boxes:
                placed = Rect(*to_board(box.left, box.bottom), *to_board(box.right, box.top), box.grey)
                if box.grey == 0 and lies_on(sheet, placed):
                    self.boxes.append(placed)
            for stroke in ink.strokes:
                if stroke.width == pytest.approx(FINE_MM, abs=1e-4):
                    ends = (to_board(*stroke.start), to_board(*stroke.end))
                    self.strokes.append(Stroke(*ends, stroke.width, stroke.dash))


def placing(sheet: BoardSheet) -> Callable[[float, float], tuple[float, float]]:
    """From a place on the page to one on the board, by the stations at the tile's lower left corner."""
    pane, correction = sheet.tiles[0].tile.pane, sheet.bare.correction

    def to_board(x: float, y: float) -> tuple[float, float]:
        across, up = x / float(correction.to_right), y / float(correction.upward)
        return across - sheet.tiles[0].left_mm + float(pane.x.start), up - sheet.tiles[0].y_mm + float(pane.y.start)

    return to_board


def lies_on(sheet: BoardSheet, box: Rect) -> bool:
    """Whether a box is the tile's own, and not of the sheet's check bars."""
    x, y = sheet.tiles[0].tile.pane.x, sheet.tiles[0].tile.pane.y
    near = TOLERANCE_MM
    across = float(x.start) - near < box.left and box.right < float(x.end) + near
    return across and float(y.start) - near < box.bottom and box.top < float(y.end) + near


@cache
def scene(name: str, reader: Callable[[bytes, int], Ink]) -> Scene:
    plan = plan_of(name)
    return Scene(plan, [reader(pdf_of(name), page) for page in range(len(plan.sheets))])


def covering(scene: Scene, edges: tuple[float, float, float, float]) -> list[Rect]:
    left, right, low, high = edges
    near = TOLERANCE_MM
    return [
        box
        for box in scene.boxes
        if left - near < box.left and box.right < right + near and low - near < box.bottom and box.top < high + near
    ]


@each_plan
@each_reader
def test_every_cut_is_covered_once_from_edge_to_edge(name: str, reader: Callable[[bytes, int], Ink]) -> None:
    board = plan_of(name).things[0].board
    for cut in board.cuts:
        edges = tuple(map(float, (cut.x.start, cut.x.end, cut.y.start, cut.y.end)))
        pieces = covering(scene(name, reader), edges)
        found = (
            min(piece.left for piece in pieces),
            max(piece.right for piece in pieces),
            min(piece.bottom for piece in pieces),
            max(piece.top for piece in pieces),
        )
        assert found == pytest.approx(edges, abs=TOLERANCE_MM)
        area = sum((piece.right - piece.left) * (piece.top - piece.bottom) for piece in pieces)
        assert area == pytest.approx(float(cut.x.size * cut.y.size), rel=1e-4)


def crosses(strokes: list[Stroke]) -> list[tuple[float, float]]:
    """The middles of level strokes that an upright stroke of the same length crosses at its own middle."""

    def middles(axis: int) -> Iterator[tuple[float, float]]:
        for stroke in strokes:
            length = abs(stroke.end[1 - axis] - stroke.start[1 - axis])
            if abs(stroke.end[axis] - stroke.start[axis]) < 1e-6 and 5.1 < length < 5.3:
                yield (stroke.start[0] + stroke.end[0]) / 2, (stroke.start[1] + stroke.end[1]) / 2

    upright = list(middles(0))
    return [one for one in middles(1) if any(np.hypot(*np.subtract(one, other)) < 1e-3 for other in upright)]


@each_plan
@each_reader
def test_every_centre_has_its_cross_on_one_tile_alone(name: str, reader: Callable[[bytes, int], Ink]) -> None:
    board = plan_of(name).things[0].board
    centres = [*(hole.at for hole in board.holes), *(cut_out.centre for cut_out in board.cut_outs)]
    expected = sorted((float(place.x), float(place.y)) for place in centres)
    found = sorted(crosses(scene(name, reader).strokes))
    assert len(found) == len(expected)
    for centre in expected:
        nearest = min(np.hypot(*np.subtract(centre, other)) for other in found)
        assert nearest < TOLERANCE_MM


@each_plan
@each_reader
def test_every_corner_is_the_end_of_a_stroke_or_the_corner_of_a_cut(
    name: str, reader: Callable[[bytes, int], Ink]
) -> None:
    found = scene(name, reader)
    ends = [end for stroke in found.strokes for end in (stroke.start, stroke.end)]
    corners = [(x, y) for box in found.boxes for x in (box.left, box.right) for y in (box.bottom, box.top)]
    for corner in plan_of(name).things[0].board.outline.corners:
        exact = (float(corner.x), float(corner.y))
        nearest = min(np.hypot(*np.subtract(exact, place)) for place in (*ends, *corners))
        # Where a side runs against the edge of a cut, it ends 0.3 mm before it, and the edge is the cut's.
        at_a_cut = any(
            abs(exact[1] - edge) < TOLERANCE_MM and box.left < exact[0] < box.right
            for box in found.boxes
            for edge in (box.bottom, box.top)
        )
        assert nearest < (0.3 if at_a_cut else 0) + TOLERANCE_MM


@pytest.mark.parametrize("name", ["free", "free on A3", "corrected"])
def test_strokes_of_an_arc_keep_to_the_circle_through_its_three_places(name: str) -> None:
    # 24,0 and 22,15/2 and 24,15: the chord is 15 and the rise 2, so the radius is (7.5² + 2²) / (2·2), in inches.
    radius = (7.5**2 + 2**2) / 4
    centre = np.array([22 + radius, 7.5]) * 25.4
    strokes = [
        stroke
        for stroke in scene(name, pdf_by_pypdf).strokes
        if all(abs(np.hypot(*(np.array(end) - centre)) - radius * 25.4) < 0.02 for end in (stroke.start, stroke.end))
    ]
    for stroke in strokes:
        middle = (np.array(stroke.start) + stroke.end) / 2
        assert abs(np.hypot(*(middle - centre)) - radius * 25.4) < 0.01
    length = sum(np.hypot(*np.subtract(stroke.end, stroke.start)) for stroke in strokes)
    assert length == pytest.approx(2 * np.arcsin(7.5 / radius) * radius * 25.4, abs=0.05)


@pytest.mark.parametrize("read", [svg_by_xml, svg_by_svgelements])
@pytest.mark.parametrize("made", [bookcase, free])
def test_svg_has_the_board_in_one_piece(
    read: Callable[[bytes, int], Ink], made: Callable[[], tuple[Job, BoardLayout]]
) -> None:
    job, board = made()
    page = board_page(board, job)
    ink = read(writer_for(".svg")(Document("", "", (page,))), 0)
    left, bottom = -page.left_mm, -page.bottom_mm
    for cut in board.cuts:
        exact = (left + cut.x.start, bottom + cut.y.start, left + cut.x.end, bottom + cut.y.end)
        assert any(np.allclose(box[:4], np.array(exact, float), atol=TOLERANCE_MM) for box in ink.boxes)
    found = crosses(ink.strokes)
    assert len(found) == len(board.holes) + len(board.cut_outs)
    for hole in board.holes:
        exact_place = (left + float(hole.at.x), bottom + float(hole.at.y))
        assert min(np.hypot(*np.subtract(exact_place, place)) for place in found) < TOLERANCE_MM


def test_cross_near_a_groove_ends_before_its_edge() -> None:
    text = 'units = "mm"\n[[template]]\nwidth = 200\nheight = 100\ngrooves = { along = "x", at = 50, width = 5 }\n'
    text += "holes = [{ at = [50, 48], diameter = 3 }, { at = [100, 52], diameter = 3 }]\n"
    job = read_well(text)
    (sheet,) = plan_boards(lay_out(job).boards, job).sheets
    upright = {
        line.x1: sorted((line.y1, line.y2))
        for line in draw_board(sheet.tiles[0].tile.pane)
        if isinstance(line, Line) and line.x1 == line.x2 in (50.0, 100.0)
    }
    # 0.3 mm before the edge, and where the centre is in the groove as far within the black of its edge.
    assert upright[50.0] == pytest.approx([45.4, 49.7])
    assert upright[100.0] == pytest.approx([50.65, 54.35])


# What a rendering shows


def dark_middle(dots: Any, first: int) -> float:
    """The middle, in dots, of the one dark run of a row of dots that begins at ``first``."""
    dark = np.flatnonzero(dots)
    assert dark[-1] - dark[0] + 1 == len(dark), "one line, and nothing else beside it"
    return first + (dark[0] + dark[-1] + 1) / 2


def test_rendered_tiles_put_together_by_their_register_marks_agree_to_a_dot() -> None:
    plan = plan_of("free")
    board = plan.things[0].board
    shelf = next(cut for cut in board.cuts if cut.name == "shelf")
    measured = 0
    with pdfium(pdf_of("free")) as document:
        for sheet, page in zip(plan.sheets, document, strict=True):
            dots = page.render(scale=600 / 72).to_numpy()[:, :, 0] < 128
            pane = sheet.tiles[0].tile.pane
            across, down = sheet.bare.width_mm / dots.shape[1], sheet.bare.height_mm / dots.shape[0]

            def column(x: Fraction, sheet: BoardSheet = sheet, size: float = across) -> int:
                return round((sheet.tiles[0].left_mm + float(x - sheet.tiles[0].tile.pane.x.start)) / size)

            def row(y: Fraction, sheet: BoardSheet = sheet, size: float = down) -> int:
                return round(
                    (sheet.bare.height_mm - sheet.tiles[0].y_mm - float(y - sheet.tiles[0].tile.pane.y.start)) / size
                )

            marks = [
                place for place in sheet.tiles[0].tile.register if pane.x.start < place.x and pane.y.start < place.y
            ]
            for mark in marks:
                # The cross's level arm, 2 mm to the left of its middle, and the edges of the shelf's groove.
                aside = column(mark.x) - round(2 / across)
                top = row(mark.y) - 20
                level = dark_middle(dots[top : top + 40, aside], top)
                for edge in (shelf.y.start, shelf.y.end):
                    inside = pane.y.start < edge < pane.y.end and pane.x.start < 200 < pane.x.end
                    if not inside:
                        continue
                    at = column(pane.x.start + Fraction(9, 2) * 4)
                    first = row(edge) - 15
                    turns = np.flatnonzero(np.diff(dots[first : first + 30, at].astype(int))) + first + 1
                    expected = level - float(edge - mark.y) / down
                    assert min(abs(turns - expected)) <= 1
                    measured += 1
    assert measured >= 2


# Where boards are cut


def least_tiles(marks: tuple[Fraction, ...], others: Fraction, last: Fraction) -> int:
    """The fewest tiles with every seam clear of the marks, by trying all clear stretches one after another."""
    clear = [(a + CLEARANCE, b - CLEARANCE) for a, b in pairwise(marks) if b - a >= 2 * CLEARANCE]
    reached, tiles = Fraction(0), 1
    while marks[-1] - reached > last:
        ends = [min(high, reached + others) for low, high in clear if low <= reached + others]
        assert max(ends, default=reached) > reached
        reached, tiles = max(ends), tiles + 1
    return tiles


@st.composite
def drilled(draw: st.DrawFn) -> BoardLayout:
    """A rectangle with holes, no two stations of them so near that no seam has room."""
    width, height = (draw(st.integers(12, 90)) * 10 for _ in range(2))
    across = draw(st.lists(st.integers(2, width // 10 - 2), max_size=8, unique=True))
    up = draw(st.lists(st.integers(2, height // 10 - 2), max_size=8, unique=True))
    holes = "".join(f"{{ at = [{x * 10}, {y * 10}], diameter = 5 }}, " for x in across for y in up)
    keys = f"holes = [{holes}]\n" if holes else ""
    text = f'units = "mm"\n[[template]]\nname = "drilled"\nwidth = {width}\nheight = {height}\n{keys}'
    return lay_out(read_well(text)).boards[0]


@given(drilled(), st.sampled_from(["A4", "A3", "Letter"]))
def test_tiles_are_as_few_as_can_be_and_have_every_hole_once_and_whole(board: BoardLayout, paper: str) -> None:
    job = replace(bookcase()[0], paper=PAPERS[paper])
    plan = plan_boards([board], job)
    (cut_board,) = plan.things
    assert all(seam.keeps_clear for seam in (*cut_board.seams_x, *cut_board.seams_y))
    found = sorted(
        (line.x1 + 2.6 + float(tile.pane.x.start), line.y1 + float(tile.pane.y.start))
        for tile in cut_board.tiles
        for line in draw_board(tile.pane)
        if isinstance(line, Line) and line.y1 == line.y2 and 5.1 < line.x2 - line.x1 < 5.3
    )
    exact = sorted((float(hole.at.x), float(hole.at.y)) for hole in board.holes)
    assert np.array(found) == pytest.approx(np.array(exact))
    assert len(cut_board.tiles) == min(_least(board, job, long_side) for long_side in (True, False))


def _least(board: BoardLayout, job: Job, level: bool) -> int:
    # 10 mm of margins all round; a foot of 12 and a column of 8 for the check bars; 3 before a tile; a tab of 7.
    width, height = (job.paper.long_side, job.paper.short_side)[:: 1 if level else -1]
    room_x, room_y = width - 20 - 8, height - 20 - 12
    return least_tiles(board.marks_x, room_x - 10, room_x - 6) * least_tiles(board.marks_y, room_y - 10, room_y - 6)


@each_plan
def test_tiles_cover_the_board_once(name: str) -> None:
    (board,) = plan_of(name).things
    assert sum(tile.pane.x.size * tile.pane.y.size for tile in board.tiles) == board.board.width * board.board.height
    names = [tile.pane.name for tile in board.tiles]
    assert names == [pane_name(c, r) for r in range(1, board.rows + 1) for c in range(1, board.columns + 1)]


def test_seam_that_no_cut_keeps_clear_is_told() -> None:
    # Holes 5 apart leave no gap of 6.
    text = 'units = "mm"\n[[template]]\nwidth = 700\nheight = 60\nholes = { first = [10, 30], pitch = 5, count = 137, '
    job = read_well(text + 'along = "x", diameter = 2 }\n')
    plan = plan_boards(lay_out(job).boards, job)
    assert not all(seam.keeps_clear for seam in plan.things[0].seams_x)
    words = " ".join(text for block in board_blocks(plan, True, Room(180.0, 250.0)) for text in words_of(block.shapes))
    assert "less than 3 mm from a mark" in words


def words_of(shapes: Any) -> list[str]:
    return [shape.text for shape in shapes if isinstance(shape, Text)]


def test_sheet_is_turned_where_that_needs_fewer() -> None:
    job = bookcase()[0]

    def tiles_and_level(width: int, height: int) -> tuple[int, bool]:
        text = f'units = "mm"\n[[template]]\nwidth = {width}\nheight = {height}\n'
        (board,) = plan_boards(lay_out(read_well(text)).boards, job).things
        return len(board.tiles), board.bare.page_width > board.bare.page_height

    assert tiles_and_level(250, 150) == (1, True)
    assert tiles_and_level(150, 250) == (1, False)
    assert tiles_and_level(500, 150) == (2, True)
    assert tiles_and_level(150, 500) == (2, False)


def test_roll_is_cut_as_long_as_the_board_needs_either_way() -> None:
    job = replace(bookcase()[0], paper=roll_paper(Fraction(610), "610 mm roll"))
    lengths = []
    for board in (bookcase()[1], board_called("Bookcase top", load(BOOKCASE).cabinets)):
        (sheet,) = plan_boards([board], job).sheets
        lengths.append((sheet.bare.page_width, sheet.bare.page_height))
        assert sheet.tiles[0].y_mm + sheet.tiles[0].tile.pane.height < sheet.bare.height_mm
        assert sheet.tiles[0].left_mm + sheet.tiles[0].tile.pane.width < sheet.bare.width_mm
    assert lengths[0][0] == lengths[1][1] == 610
    assert 2000 < lengths[0][1] < 2070
    assert 880 < lengths[1][0] < 950


def test_long_board_on_a_roll_is_not_longer_than_a_sheet_may_be() -> None:
    text = 'units = "mm"\n[[template]]\nwidth = 400\nheight = 6000\n'
    job = replace(bookcase()[0], paper=roll_paper(Fraction(610), "610 mm roll"))
    plan = plan_boards(lay_out(read_well(text)).boards, job)
    assert len(plan.sheets) == 2
    assert all(max(sheet.bare.page_width, sheet.bare.page_height) <= 5080 for sheet in plan.sheets)


def test_paper_that_is_too_small_is_a_fault() -> None:
    job = replace(bookcase()[0], paper=custom_paper(Fraction(130), Fraction(140), "card"))
    with pytest.raises(StorystickError, match="less than 110 for a tile of a board"):
        plan_boards([bookcase()[1]], job)


# What is on a sheet


@each_plan
def test_words_are_large_enough_apart_and_clear_of_every_edge(name: str) -> None:
    for sheet, page in zip(plan_of(name).sheets, plan_of(name).pages(), strict=True):
        boxes = text_boxes(page.shapes)
        assert not colliding(boxes)
        assert all(box.left > 0 and box.right < page.width_mm for box in boxes)
        assert min(shape.size_pt for shape in page.shapes if isinstance(shape, Text)) >= 8 * 0.997
        black = [shape for shape in draw_board(sheet.tiles[0].tile.pane) if isinstance(shape, Box) and shape.grey == 0]
        for words in text_boxes(sheet.tiles[0].tile.words.shapes):
            for box in black:
                inside = (
                    box.x <= words.left
                    and words.right <= box.x + box.width
                    and box.y <= words.bottom
                    and words.top <= box.y + box.height
                )
                apart = not words.meets(box.x, box.y, box.x + box.width, box.y + box.height)
                assert inside or apart, words.text


@each_plan
def test_no_level_or_upright_stroke_runs_over_a_cut(name: str) -> None:
    for sheet in plan_of(name).sheets:
        shapes = list(sheet.tiles[0].tile.draw())
        cuts = [shape for shape in draw_board(sheet.tiles[0].tile.pane) if isinstance(shape, Box) and shape.grey == 0]
        lines = [
            shape for shape in shapes if isinstance(shape, Line) and (shape.x1 == shape.x2) != (shape.y1 == shape.y2)
        ]
        for line in lines:
            spread = line.width_mm / 2
            level = line.y1 == line.y2
            low_x, high_x = sorted((line.x1, line.x2))
            low_y, high_y = sorted((line.y1, line.y2))
            grown = (
                (low_x, high_x, low_y - spread, high_y + spread)
                if level
                else (low_x - spread, high_x + spread, low_y, high_y)
            )
            for cut in cuts:
                across = min(grown[1], cut.x + cut.width) - max(grown[0], cut.x)
                up = min(grown[3], cut.y + cut.height) - max(grown[2], cut.y)
                inside = (
                    cut.x + 0.3 < grown[0]
                    and grown[1] < cut.x + cut.width - 0.3
                    and cut.y + 0.3 < grown[2]
                    and grown[3] < cut.y + cut.height - 0.3
                )
                assert inside or not (across > 1e-9 and up > 1e-9), (sheet.tiles[0].tile.pane.name, line, cut)


@each_plan
def test_every_tile_says_what_it_is_and_where_it_ends(name: str) -> None:
    plan = plan_of(name)
    (board,) = plan.things
    for number, (sheet, page) in enumerate(zip(plan.sheets, plan.pages(), strict=True), start=1):
        pane = sheet.tiles[0].tile.pane
        words = words_of(page.shapes)
        assert f"tile {pane.name} of {board.columns} × {board.rows} · {plan.job.digest}" in words
        for station, size in ((board.board.x_station, pane.x), (board.board.y_station, pane.y)):
            ends = sorted(map(station, (size.start, size.end)))
            assert any(text.startswith(" to ".join(map(plan.job.figures, ends))) for text in words)
        assert any(
            f"sheet {number} of {len(plan.sheets)}: {board.board.name}, tile {pane.name}" in text for text in words
        )
        tabs = [text for text in words if "goes here" in text]
        assert len(tabs) == pane.has_right_tab + pane.has_upper_tab
        assert page.label == f"templates {number}"
    assert [mark for page in plan.pages() for mark in page.bookmarks] == ["Board templates", board.board.name]


@each_plan
def test_station_of_a_seam_stands_along_it_where_a_tile_begins(name: str) -> None:
    plan = plan_of(name)
    (cut_board,) = plan.things
    board, found = cut_board.board, 0
    for tile in cut_board.tiles:
        pane = tile.pane
        for begins, station, datum, upward in (
            (pane.column > 1, board.x_station(pane.x.start), board.x_datum, True),
            (pane.row > 1, board.y_station(pane.y.start), board.y_datum, False),
        ):
            words = f"{plan.job.figures(station)} from {datum}"
            told = [text for text in tile.words.shapes if isinstance(text, Text) and text.text == words and begins]
            assert all(text.upward is upward and (text.x if upward else text.y) < 8.0 for text in told)
            found += len(told)
    assert found >= len(cut_board.seams_x) + len(cut_board.seams_y)


@each_plan
def test_tile_is_as_large_as_what_is_drawn_of_it(name: str) -> None:
    for sheet in plan_of(name).sheets:
        (placed,) = sheet.tiles
        tile, drawn = placed.tile, extent(shape for shape in placed.tile.draw() if not isinstance(shape, Text))
        beyond = (tile.left_mm + drawn.left, tile.below_mm + drawn.bottom)
        beyond += (tile.width_mm - tile.left_mm - drawn.right, tile.height_mm - tile.below_mm - drawn.top)
        assert all(-0.1 < length <= 3.0 for length in beyond), "but for half a line"


@each_plan
def test_tiles_that_meet_have_the_same_register_marks_at_their_seam(name: str) -> None:
    (board,) = plan_of(name).things
    by_name = {tile.pane.name: tile for tile in board.tiles}
    crossings = [(x.at, y.at) for x in board.seams_x for y in board.seams_y]
    for crossing in crossings:
        assert sum(crossing in tile.register for tile in board.tiles) == 4
    for tile in board.tiles:
        pane = tile.pane
        if pane.has_right_tab:
            other = by_name[pane_name(pane.column + 1, pane.row)]
            seam = pane.x.end
            at_seam = {place for place in tile.register if place.x == seam}
            assert at_seam == {place for place in other.register if place.x == seam}
            outer = pane.row in (1, board.rows)
            assert len(at_seam) >= 2 or (not outer and len(at_seam) == 2)


@pytest.mark.parametrize("height", ["5", "8", "20", "28"])
def test_low_board_with_a_groove_along_it_keeps_its_register_marks(height: str) -> None:
    groove = f'{{ along = "x", at = 1, width = {int(height) - 2}, name = "rail" }}'
    text = f'units = "mm"\n[[template]]\nname = "Lath"\nwidth = 700\nheight = {height}\ngrooves = [{groove}]\n'
    job = replace(read_well(text), paper=PAPERS["A4"])
    (board,) = plan_boards(lay_out(job).boards, job).things
    for tile in board.tiles:
        for seam in {tile.pane.x.start, tile.pane.x.end} - {0, board.board.width}:
            heights = {place.y for place in tile.register if place.x == seam}
            assert heights
            assert all(0 < at < board.board.height for at in heights)
            assert len(heights) == 2 or height == "5"


def test_arrows_beside_the_words_of_the_edges_point_at_them() -> None:
    job, board = bookcase()
    page = board_page(board, job)
    edge_words = {shape.text: shape for shape in page.shapes if isinstance(shape, Text) and shape.text[-1] in "▲▼"}
    assert set(edge_words) == {"BACK ▲", "FRONT ▼", "BOTTOM ▼", "TOP ▲"}
    # Turned a quarter anticlockwise, ▲ points to the left and ▼ to the right.
    assert [words for words, text in edge_words.items() if text.upward] == ["BACK ▲", "FRONT ▼"]
    assert edge_words["BACK ▲"].x < 40
    assert edge_words["FRONT ▼"].x > float(board.width) - 40
    assert edge_words["TOP ▲"].y > float(board.height) - 60
    assert edge_words["BOTTOM ▼"].y < 60


def test_edges_of_the_same_words_are_each_told_at_their_own() -> None:
    job, board = bookcase()
    page = board_page(replace(board, edges=EdgeWords("SIDE", "SIDE", "END", "END")), job)
    texts = [shape for shape in page.shapes if isinstance(shape, Text) and shape.text[-1] in "▲▼"]
    left, right, bottom, top = texts
    assert [text.text for text in texts] == ["SIDE ▲", "SIDE ▼", "END ▼", "END ▲"]
    assert left.x < 40 < float(board.width) - 40 < right.x
    assert bottom.y < 60 < float(board.height) - 60 < top.y


def test_chapter_of_the_job_sheet_says_how_to_check_and_which_tile_is_where() -> None:
    plan = plan_of("free")
    words = " ".join(text for block in board_blocks(plan, True, Room(180.0, 250.0)) for text in words_of(block.shapes))
    # 24 by 19 1/3: the diagonal is √(24² + (58/3)²) = 30.8185, in 64ths 30 13/16 and 0.4 of a 64th.
    assert "both diagonals of that box 30 13/16 full" in words
    for tile in plan.things[0].tiles:
        assert tile.pane.name in words.split()
    assert "straightedge" in words


def test_chapter_says_how_far_tiles_are_right_both_ways_where_the_printer_was_measured() -> None:
    plan = plan_of("free")
    measured = Printer("office", Fraction(1), Fraction(1), Fraction(1, 2000), Fraction(1, 1250))
    for printer, said in ((measured, True), (replace(measured, across_within=None), False), (None, False)):
        words = chapter_of(replace(plan, job=replace(plan.job, printer=printer)))
        assert (
            "tiles are right within 0.05 % along the sheet’s long side and within 0.08 % across it" in words
        ) is said


def chapter_of(plan: BoardSheets) -> str:
    return " ".join(text for block in board_blocks(plan, True, Room(180.0, 250.0)) for text in words_of(block.shapes))


def rows_job(more: str = "") -> Job:
    return read_well(f"""
        title = "Pins"
        units = "mm"
        [[template]]
        name = "Pins"
        width = 150
        height = 240
        holes = [
          {{ first = [37, 40], pitch = 32, count = 6, along = "y", diameter = 5, name = "front pins" }},
          {{ first = [60, 40], pitch = 32, count = 6, along = "y", diameter = 5, name = "middle pins" }},
          {{ first = [83, 40], pitch = 32, count = 6, along = "y", diameter = 5, name = "back pins" }},
          {{ at = [9, 9], diameter = 5, name = "screw" }},
          {more}
        ]
        """)


def test_every_row_of_holes_is_named_and_both_stations_of_its_end_holes_are_told() -> None:
    job = rows_job()
    plan = plan_boards(lay_out(job).boards, job)
    (tile,) = plan.things[0].tiles
    words = [shape.text for shape in tile.words.shapes if isinstance(shape, Text)]
    # The first holes lie 40 mm from the bottom, the last ones 5 × 32 mm farther.
    for name, across in (("front pins", 37), ("middle pins", 60), ("back pins", 83)):
        assert f"{name}, dia. 5: {across} from left" in words
        assert {f"{across}, 40", f"{across}, 200"} <= set(words)
    assert "screw, dia. 5: 9, 9" in words
    # Close to the right of each hole of 5, at its height, since there is room.
    boxes = {box.text: box for box in text_boxes(tile.words.shapes)}
    for text, x, y in (("37, 40", 37, 40), ("83, 200", 83, 200), ("screw, dia. 5: 9, 9", 9, 9)):
        assert x + 2.5 < boxes[text].left < x + 6.0
        assert boxes[text].bottom < y < boxes[text].top
    assert tile.words.left_out == ()
    assert colliding(text_boxes(tile.words.shapes)) == []


def test_words_that_found_no_room_are_told_with_their_stations_and_no_table_is_pointed_to() -> None:
    """Holes 7 mm apart both ways leave none of the inner ones room for words, and there is no stick with a table."""
    close = ", ".join(
        f'{{ first = [95, {60 + 7 * n}], pitch = 7, count = 6, along = "x", diameter = 3, name = "row {n}" }}'
        for n in range(9)
    )
    job = rows_job(f"{close},")
    plan = plan_boards(lay_out(job).boards, job)
    (board,) = plan.things
    assert board.left_out
    told = plain(chapter_of(plan)).replace(" ! ", " ")
    assert "tables of the sticks" not in told
    for words in board.left_out:
        assert words in told
    # The last hole of a row lies 5 × 7 mm from its first.
    said = {text for tile in board.tiles for text in (*tile.words.says, *tile.words.left_out)}
    assert {f"row 4: {x}, 88" for x in (95, 130)} <= said
    (page,) = plan.pages()
    foot = next(text for text in words_of(page.shapes) if text.startswith(f"{job.digest} ·"))
    assert f"left out for want of room: {len(board.left_out)} names" in foot
    assert plan.remarks == (
        f"Pins with no room for {len(board.left_out)} names; read them on the page of the template",
    )


def test_words_of_a_board_keep_off_what_is_cut_along() -> None:
    """2 mm, on the tiles and on their tabs."""
    job, board = free()
    for cut_board in plan_boards([board], job).things:
        for tile in cut_board.tiles:
            pane, shapes = tile.pane, list(tile.draw())
            outer = pane.width + 7.0 * pane.has_right_tab, pane.height + 7.0 * pane.has_upper_tab
            for box in text_boxes(shapes):
                assert min(box.left, box.bottom, outer[0] - box.right, outer[1] - box.top) >= 2.0 - 1e-6


TOE: Final = """
units = "mm"
stock = { ply = 18 }
[[cabinet]]
name = "Toe"
height = 880
width = 600
depth = 560
carcass = "ply"
toe = { height = 100, recess = 75 }
openings = ["equal", "equal"]
"""


def test_words_of_a_notched_board_stand_on_the_wood() -> None:
    """What stands in the toe notch is cut away with it."""
    layout = lay_out(read_well(TOE))
    board = board_called("Toe left side", layout.cabinets)
    assert not board.outline.holds(Place(Fraction(30), Fraction(30)))
    tiles = [tile for cut_board in plan_boards([board], layout.job).things for tile in cut_board.tiles]
    for tile in tiles:
        assert any(isinstance(shape, Text) and shape.text.startswith("tile ") for shape in tile.words.shapes)
        for box in text_boxes(tile.words.shapes):
            for x, y in product((box.left, box.right), (box.bottom, box.top)):
                place = Place(tile.pane.x.start + Fraction(x), tile.pane.y.start + Fraction(y))
                assert board.outline.holds(place), (tile.pane.name, box.text)


def test_cut_at_the_edge_of_a_board_has_its_black_lines_on_all_four_sides() -> None:
    text = 'units = "mm"\n[[template]]\nname = "Edge"\nwidth = 100\nheight = 60\n'
    (board,) = lay_out(read_well(text + 'grooves = [{ along = "y", at = 0, width = 20, name = "edge" }]\n')).boards
    (tile,) = plan_boards([board], rows_job()).things[0].tiles
    black, grey = (shape for shape in draw_board(tile.pane) if isinstance(shape, Box))
    assert (black.x, black.width, black.grey) == (0.0, 20.0, 0.0)
    assert grey.x == pytest.approx((black.width - grey.width) / 2) == pytest.approx(grey.y)
    assert grey.x > 0


@pytest.mark.parametrize("along", ["x", "y"])
def test_seams_lie_beside_a_groove_that_runs_along_them_where_they_can(along: str) -> None:
    """A board twice as long as a sheet holds, its groove of 30 at every place that a seam could have."""
    for at in range(150, 260, 10):
        width, height = (120, 400) if along == "x" else (400, 120)
        groove = f'{{ along = "{along}", at = {at}, width = 30, name = "shelf" }}'
        text = f'units = "mm"\n[[template]]\nname = "Lath"\nwidth = {width}\nheight = {height}\ngrooves = [{groove}]\n'
        job = replace(read_well(text), paper=PAPERS["A4"])
        (cut_board,) = plan_boards(lay_out(job).boards, job).things
        for seam in cut_board.seams_y if along == "x" else cut_board.seams_x:
            assert not at < seam.at < at + 30
