"""Square sticks: each face at its exact place on one sheet, and the folds between them exactly a side apart."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Any, Final

import jsonschema
import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st
from jobs import read, read_well
from lettering_boxes import colliding, text_boxes
from pypdf import PdfReader
from readback import Ink, Stroke, pdf_by_pdfium, pdf_by_pypdf, svg_by_xml
from strategies import jobs

from storystick.cli import main
from storystick.drawing.shapes import Box, Line, Text
from storystick.drawing.square_stick import draw_square_stick, square_faces, white_above_fold
from storystick.drawing.window import Window
from storystick.job.job import Job
from storystick.job.sticks import Hand, SquareStick
from storystick.laying_out import lay_out, load
from storystick.sheets.bare_sheet import correction_of
from storystick.sheets.square_sticks import SquareSheets, SquareTile, plan_square_sticks
from storystick.sheets.tiles import PlacedTile

INCH_MM: Final = Fraction(254, 10)
TOLERANCE_MM: Final = 0.001
BAND_MM: Final = 12.0
LAP_MM: Final = 8.0
AROUND_MM: Final = 10.0
SCHEMA: Final = json.loads((Path(__file__).parent.parent / "shared" / "job.schema.json").read_text("utf-8"))
ALONG, ACROSS = Fraction("1.0123"), Fraction(197, 200)
SHOP: Final = f'units = "mm"\n[printer.office]\nalong = "{float(ALONG)}"\nacross = "{ACROSS}"\n'


@dataclass(frozen=True)
class Face:
    """A face in mm from its datum, worked out here from the figures of the job."""

    name: str
    parts: tuple[tuple[Fraction, Fraction], ...]
    lines: tuple[Fraction, ...]
    length: Fraction


@dataclass(frozen=True)
class Given:
    """A job with one square stick, ``side`` mm wide, and what its faces must be."""

    text: str
    side: Fraction
    faces: tuple[Face, ...]
    direction: int

    @property
    def length(self) -> Fraction:
        return max(face.length for face in self.faces)


def face(name: str, *sizes: Fraction, starts_with_part: bool = True, lines: tuple[Fraction, ...] = ()) -> Face:
    """A face whose parts and openings take turns; where an end is bare there is a fine line."""
    at, parts, is_part = Fraction(0), [], starts_with_part
    for size in sizes:
        if is_part:
            parts.append((at, at + size))
        at, is_part = at + size, not is_part
    bare = ([] if starts_with_part else [Fraction(0)]) + ([at] if is_part else [])
    return Face(name, tuple(parts), tuple(sorted((*lines, *bare))), at)


PLY: Final = Fraction(23, 32) * INCH_MM
FRAME: Final = Fraction(3, 4) * INCH_MM
BAY: Final = (36 * INCH_MM - 8 * INCH_MM - 4 * PLY) / 2
DOOR: Final = (30 * INCH_MM - 3 * FRAME) / 2
IN_INCHES: Final = Given(
    """
    title = "Square"
    units = "inch"
    wrap = "3/4"
    [stock]
    ply = "23/32"
    frame = "3/4"
    [[stick]]
    name = "Side"
    length = 36
    pair = true
    order = [
      { part = "ply" }, { opening = 8 }, { part = "ply" }, { opening = "equal" }, { part = "ply" },
      { opening = "equal" }, { part = "ply" },
    ]
    holes = { first = 12, pitch = "1 1/4", count = 6, name = "pins" }
    [[stick]]
    name = "Widths"
    datum = "left"
    length = 30
    part = "frame"
    openings = ["equal", "equal"]
    [[stick]]
    name = "Depth"
    datum = "front"
    length = 18
    pair = true
    order = [{ opening = "equal" }, { part = "ply" }]
    centre = 3
    [[square_stick]]
    name = "Chest stick"
    side = "1 1/2"
    faces = ["Side", "Widths", "Depth"]
    """,
    Fraction(3, 2) * INCH_MM,
    (
        face(
            "Side",
            PLY,
            8 * INCH_MM,
            PLY,
            BAY,
            PLY,
            BAY,
            PLY,
            lines=tuple((12 + Fraction(5, 4) * n) * INCH_MM for n in range(6)),
        ),
        face("Widths", FRAME, DOOR, FRAME, DOOR, FRAME),
        face("Depth", 18 * INCH_MM - PLY, PLY, starts_with_part=False, lines=(3 * INCH_MM,)),
    ),
    1,
)
BIRCH: Final = Fraction("18.3")
THIRD: Final = (700 - 4 * BIRCH) / 3
IN_MM: Final = Given(
    """
    title = "Square"
    units = "mm"
    [stock]
    birch = 18.3
    [joint.shelf]
    kind = "housing"
    depth = 6
    [[stick]]
    name = "Side"
    length = 700
    pair = true
    part = "birch"
    joint = "shelf"
    openings = ["equal", "equal", "equal"]
    [[stick]]
    name = "Widths"
    part = "birch"
    openings = [30, 210, 190]
    [[stick]]
    name = "Short"
    part = "birch"
    openings = [25]
    [[square_stick]]
    girth = 151
    hand = "right"
    faces = ["Widths", "Side", "Short", "Side"]
    """,
    Fraction(151, 4),
    (
        face("Widths", BIRCH, Fraction(30), BIRCH, Fraction(210), BIRCH, Fraction(190), BIRCH),
        face("Side", BIRCH, THIRD, BIRCH, THIRD, BIRCH, THIRD, BIRCH),
        face("Short", BIRCH, Fraction(25), BIRCH),
        face("Side", BIRCH, THIRD, BIRCH, THIRD, BIRCH, THIRD, BIRCH),
    ),
    -1,
)

each_job = pytest.mark.parametrize("given_job", [IN_INCHES, IN_MM], ids=["inch", "mm"])
each_reader = pytest.mark.parametrize("reader", [pdf_by_pypdf, pdf_by_pdfium], ids=["pypdf", "pdfium"])
each_printer = pytest.mark.parametrize("printer", [None, "office"], ids=["true", "corrected"])


@dataclass(frozen=True)
class Seen:
    """A tile with the ink of its page, which is brought back to full size here from what it is drawn times."""

    placed: PlacedTile[SquareTile]
    ink: Ink
    side: float
    faces: int

    @property
    def ends(self) -> tuple[float, float]:
        return self.placed.left_mm, self.placed.left_mm + self.placed.tile.window.width

    def station(self, x: float) -> float:
        """What station lies at ``x``: they rise from the datum at the left, or at the right for a right hand."""
        window = self.placed.tile.window
        along = x - self.placed.left_mm
        return float(window.start) + along if window.direction > 0 else float(window.end) - along

    def edge(self, number: int) -> float:
        """The height of a face's marking edge, the first face being 0; after the last one, of the lap's fold."""
        return self.placed.y_mm + number * self.side

    def on_it(self, *xs: float) -> bool:
        low, high = self.ends
        return all(low - TOLERANCE_MM <= x <= high + TOLERANCE_MM for x in xs)

    def bands(self, number: int) -> list[tuple[float, float]]:
        """From which to which station grey bands stand on a face's marking edge."""
        return [
            (min(stations), max(stations))
            for box in self.ink.boxes
            if box.grey > 0.5 and abs(box.bottom - self.edge(number)) < TOLERANCE_MM and self.on_it(box.left, box.right)
            for stations in [(self.station(box.left), self.station(box.right))]
        ]

    def lines(self, number: int) -> list[float]:
        """The stations of fine upright lines that stand on a face's marking edge."""
        return [
            self.station(stroke.start[0])
            for stroke in self.strokes
            if stroke.start[0] == stroke.end[0]
            and stroke.width == pytest.approx(0.18, abs=1e-4)
            and abs(min(stroke.start[1], stroke.end[1]) - self.edge(number)) < TOLERANCE_MM
        ]

    @property
    def strokes(self) -> list[Stroke]:
        """Those at the tile's height on the sheet, where it lies alone across."""
        low, high = self.placed.y_mm - 1, self.edge(self.faces) + LAP_MM + 1
        return [stroke for stroke in self.ink.strokes if all(low < y < high for _, y in (stroke.start, stroke.end))]


def true_size(ink: Ink, across: float, up: float) -> Ink:
    """The ink as it comes out of a printer that draws everything so many times too small."""
    boxes = [
        box._replace(left=box.left / across, right=box.right / across, bottom=box.bottom / up, top=box.top / up)
        for box in ink.boxes
    ]
    strokes = [
        stroke._replace(
            start=(stroke.start[0] / across, stroke.start[1] / up), end=(stroke.end[0] / across, stroke.end[1] / up)
        )
        for stroke in ink.strokes
    ]
    return Ink(ink.width / across, ink.height / up, boxes, ink.areas, strokes, ink.labels)


def run(*words: str) -> str:
    result = CliRunner().invoke(main, list(words), catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return result.stdout


Printing = Callable[[Given, str | None], Path]


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> Printing:
    @cache
    def print_it(given_job: Given, printer: str | None) -> Path:
        folder = tmp_path_factory.mktemp("square")
        named = f'printer = "{printer}"\n' if printer else ""
        (folder / "job.toml").write_text(named + given_job.text, encoding="utf-8")
        (folder / "shop.toml").write_text(SHOP, encoding="utf-8")
        run("print", str(folder / "job.toml"), "-o", str(folder / "out"))
        return folder

    return print_it


def plan_of(folder: Path) -> SquareSheets:
    return plan_square_sticks(load(folder / "job.toml"))


def tiles_of(given_job: Given, folder: Path, reader: Any) -> list[Seen]:
    """Every tile, from the datum on."""
    plan = plan_of(folder)
    data = (folder / "out" / "square-sticks.pdf").read_bytes()
    correction = correction_of(plan.job)
    across, up = float(correction.to_right), float(correction.upward)
    assert (across, up) == ((float(ALONG), float(ACROSS)) if plan.job.printer else (1.0, 1.0))
    inks = {sheet.number: true_size(reader(data, sheet.number - 1), across, up) for sheet in plan.sheets}
    seen = [
        Seen(placed, inks[sheet.number], float(given_job.side), len(given_job.faces))
        for sheet in plan.sheets
        for placed in sheet.tiles
    ]
    return sorted(seen, key=lambda tile: tile.placed.tile.window.number)


def joined(stretches: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Stretches of stations, those that meet at a seam made one."""
    found: list[tuple[float, float]] = []
    for low, high in sorted(stretches):
        if found and abs(low - found[-1][1]) < TOLERANCE_MM:
            found[-1] = found[-1][0], high
        else:
            found.append((low, high))
    return found


def whole(given_job: Given, folder: Path) -> Seen:
    """The square stick in one piece, as if it were a tile of a sheet."""
    plan = plan_of(folder)
    (square,) = plan.job.square_sticks
    drawing = draw_square_stick(square_faces(square, lay_out(plan.job)))
    (window,) = drawing.windows
    name = "-".join(square.name.lower().split())
    ink = svg_by_xml((folder / "out" / f"square-stick-{name}.svg").read_bytes())
    tile = plan.things[0].tiles[0].__class__(drawing, window)
    return Seen(PlacedTile(tile, AROUND_MM, AROUND_MM), ink, float(given_job.side), len(given_job.faces))


def assert_faces(tiles: list[Seen], given_job: Given) -> None:
    """Joined by their stations, the tiles have every part and fine line of every face once, at its exact place."""
    for number, wanted in enumerate(given_job.faces):
        bands = joined([band for tile in tiles for band in tile.bands(number)])
        parts = [(float(start), float(end)) for start, end in wanted.parts]
        assert bands == [pytest.approx(part, abs=TOLERANCE_MM) for part in parts]
        lines = sorted(line for tile in tiles for line in tile.lines(number))
        assert lines == [pytest.approx(float(line), abs=TOLERANCE_MM) for line in wanted.lines]


def dashed(tile: Seen) -> list[Stroke]:
    """The level dashed strokes of a tile."""
    return [stroke for stroke in tile.strokes if stroke.dash and stroke.start[1] == stroke.end[1]]


@each_job
@each_reader
@each_printer
def test_every_mark_of_every_face_is_at_its_place_when_the_tiles_are_joined(
    given_job: Given, reader: Any, printer: str | None, printed: Printing
) -> None:
    tiles = tiles_of(given_job, printed(given_job, printer), reader)
    assert len(tiles) > 2
    stations = [(tile.placed.tile.window.start, tile.placed.tile.window.end) for tile in tiles]
    assert stations[0][0] == 0
    assert stations[-1][1] == given_job.length
    assert all(one[1] == other[0] for one, other in pairwise(stations))
    assert_faces(tiles, given_job)


@each_job
def test_every_mark_in_one_piece_is_at_its_place(given_job: Given, printed: Printing) -> None:
    tile = whole(given_job, printed(given_job, None))
    assert_faces([tile], given_job)
    assert {round(stroke.start[1] - AROUND_MM, 9) for stroke in dashed(tile)} == {
        round(float(given_job.side * number), 9) for number in range(1, len(given_job.faces) + 1)
    }
    assert list(crossing(tile, given_job)) == []


@each_job
@each_printer
def test_folds_are_exactly_a_side_apart(given_job: Given, printer: str | None, printed: Printing) -> None:
    for tile in tiles_of(given_job, printed(given_job, printer), pdf_by_pypdf):
        heights = sorted({round((stroke.start[1] - tile.placed.y_mm) * 1e6) / 1e6 for stroke in dashed(tile)})
        wanted = [float(given_job.side) * number for number in range(1, len(given_job.faces) + 1)]
        assert heights == pytest.approx(wanted, abs=2e-6)
        for number in range(1, len(given_job.faces) + 1):
            ticks = [
                stroke
                for stroke in tile.strokes
                if abs(stroke.start[1] - tile.edge(number)) + abs(stroke.end[1] - tile.edge(number)) < 1e-5
                and not tile.on_it(stroke.start[0], stroke.end[0])
            ]
            assert len(ticks) == 2


def crossing(tile: Seen, given_job: Given) -> Iterator[Stroke]:
    """Strokes that lie over an edge of a band of some face, other than fine lines of that face's own."""
    window = tile.placed.tile.window
    # Where a seam divides a part, its band ends on the tile without an edge.
    seams = [float(end) if end in window.seams else -1.0 for end in (window.start, window.end)]
    for number in range(len(given_job.faces)):
        edges = [edge for band in tile.bands(number) for edge in band if min(abs(edge - seam) for seam in seams) > 0.01]
        low, high = tile.edge(number), tile.edge(number) + BAND_MM
        own = tile.lines(number)
        for stroke in tile.strokes:
            (x1, y1), (x2, y2), half = stroke.start, stroke.end, stroke.width / 2
            upright = x1 == x2
            if upright and any(abs(tile.station(x1) - line) < TOLERANCE_MM for line in own):
                continue
            bottom, top = min(y1, y2) - (0 if upright else half), max(y1, y2) + (0 if upright else half)
            stations = sorted((tile.station(x1), tile.station(x2)))
            left, right = stations[0] - (half if upright else 0), stations[1] + (half if upright else 0)
            beside = top < low + TOLERANCE_MM or bottom > high - TOLERANCE_MM
            if not beside and any(left < edge < right for edge in edges):
                yield stroke


@each_job
@each_printer
def test_no_stroke_crosses_an_edge_of_a_band(given_job: Given, printer: str | None, printed: Printing) -> None:
    for tile in tiles_of(given_job, printed(given_job, printer), pdf_by_pypdf):
        assert list(crossing(tile, given_job)) == []
        for stroke in dashed(tile):
            for number in range(1, len(given_job.faces)):
                if abs(stroke.start[1] - tile.edge(number)) < TOLERANCE_MM:
                    low, high = sorted((tile.station(stroke.start[0]), tile.station(stroke.end[0])))
                    assert all(high <= start - 0.5 or low >= end + 0.5 for start, end in tile.bands(number))


@each_job
def test_register_marks_of_every_face_and_the_lap_meet_at_every_seam(given_job: Given, printed: Printing) -> None:
    tiles = tiles_of(given_job, printed(given_job, None), pdf_by_pypdf)

    def marks(tile: Seen, seam: float) -> list[float]:
        return sorted(
            stroke.start[1] - tile.placed.y_mm
            for stroke in tile.strokes
            if stroke.width == pytest.approx(0.2, abs=1e-4)
            and stroke.start[1] == stroke.end[1]
            and min(abs(tile.station(x) - seam) for x in (stroke.start[0], stroke.end[0])) < 2.7
        )

    for one, other in pairwise(tiles):
        seam = float(one.placed.tile.window.end)
        assert marks(one, seam) == pytest.approx(marks(other, seam), abs=1e-5)
        for number in range(len(given_job.faces)):
            low = number * float(given_job.side)
            assert len([height for height in marks(one, seam) if low < height < low + float(given_job.side)]) == 2
        assert marks(one, seam)[-1] > len(given_job.faces) * float(given_job.side)


@each_job
def test_seams_keep_clear_of_the_marks_of_all_faces(given_job: Given, printed: Printing) -> None:
    (stick,) = plan_of(printed(given_job, None)).things
    assert stick.seams
    for seam in stick.seams:
        for each in given_job.faces:
            marks = {*(edge for part in each.parts for edge in part), *each.lines, each.length}
            assert min(abs(mark - seam.at) for mark in marks) >= 3


@each_job
def test_all_faces_have_the_datum_at_one_end_and_say_their_hand_only_where_they_have_one(
    given_job: Given, printed: Printing
) -> None:
    tile = whole(given_job, printed(given_job, None))
    zeros = [label for label in tile.ink.labels if label.text == "0"]
    assert len(zeros) == len(given_job.faces)
    middle = float(given_job.length) / 2
    assert all((label.start[0] < middle) is (given_job.direction > 0) for label in zeros)
    hand = "LEFT" if given_job.direction > 0 else "RIGHT"
    beside = {name: words_beside(tile.ink, name) for name in ("Side", "Widths")}
    assert any(hand in text for text in beside["Side"])
    assert beside["Widths"]
    assert not any("LEFT" in text or "RIGHT" in text for text in beside["Widths"])


def words_beside(ink: Ink, name: str) -> list[str]:
    """What stands in the head that says the name, or in the other line of that."""
    rows = [label.start[1] for label in ink.labels if label.text == name]
    return [label.text for label in ink.labels if any(abs(label.start[1] - row) < 4 for row in rows)]


def square(text: str, faces: str, more: str = "side = 40") -> str:
    return f'{text}[[square_stick]]\nname = "Stick"\n{more}\nfaces = {faces}\n'


STICKS: Final = """
units = "mm"
stock = { ply = 18 }
[[stick]]
name = "Chest side"
part = "ply"
openings = [100]
pair = true
[[stick]]
name = "Widths"
part = "ply"
openings = [120, 20]
"""


@pytest.mark.parametrize(
    ("faces", "more", "sentence"),
    [
        (
            '["Chest side"]',
            "side = 40\ngirth = 160",
            'job.toml, square_stick 1 ("Stick"): both side and girth are given; '
            "give one of them: the width of a side, or the distance round the stick.",
        ),
        (
            '["Chest side"]',
            "",
            'job.toml, square_stick 1 ("Stick"): neither side nor girth is given; '
            "give one of them: the width of a side, or the distance round the stick.",
        ),
        (
            '["Widths", "Widths", "Widths", "Widths", "Widths"]',
            "side = 40",
            'job.toml, square_stick 1 ("Stick"), faces: 5 faces are given; a square stick has 4; '
            "leave some out, or add another stick.",
        ),
        (
            "[]",
            "side = 40",
            'job.toml, square_stick 1 ("Stick"), faces: the list is empty; '
            "give at least one entry, or leave the key out.",
        ),
        (
            '["Widths"]',
            'side = 40\nhand = "both"',
            'job.toml, square_stick 1 ("Stick"), hand: "both" is not a word known here; allowed here: left, right.',
        ),
        (
            '["Widths"]',
            "side = 0",
            'job.toml, square_stick 1 ("Stick"), side: 0 is not a size: a size is more than 0.',
        ),
    ],
)
def test_a_square_stick_that_cannot_be_read_is_a_fault(faces: str, more: str, sentence: str) -> None:
    _, faults = read(square(STICKS, faces, more))
    assert faults == [sentence]


def test_face_that_no_stick_is_called_by_is_a_fault_of_check_with_the_nearest_name(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text(square(STICKS, '["Widths", "Chest sides"]'), encoding="utf-8")
    result = CliRunner().invoke(main, ["check", str(tmp_path / "job.toml")])
    assert result.exit_code == 1
    words = " ".join(result.output.split())
    assert 'job.toml, square_stick 1 ("Stick"), faces[2] "Chest sides" is not a stick of this job' in words
    assert 'Try "Chest side"; allowed here: Chest side, Widths' in words


def test_stick_with_a_fault_is_not_told_again_as_an_unknown_face(tmp_path: Path) -> None:
    text = square(STICKS.replace("openings = [100]", "openings = [-100]"), '["Chest side"]')
    (tmp_path / "job.toml").write_text(text, encoding="utf-8")
    result = CliRunner().invoke(main, ["check", str(tmp_path / "job.toml")])
    assert "-100" in result.output
    assert "a fault to mend" in result.output


@pytest.mark.parametrize(
    ("hand", "white"), [(Hand.LEFT, [(18.8, 117.2), (136.8, 200)]), (Hand.RIGHT, [(82.8, 181.2), (0, 63.2)])]
)
def test_fold_below_a_shorter_face_is_dashed_beyond_its_end_too(hand: Hand, white: list[tuple[float, float]]) -> None:
    """A face of 136 in a window of 200, its opening from 18 to 118: 0.8 is kept off each edge."""
    stick, *_ = lay_out(read_well(STICKS)).sticks
    window = Window(Fraction(0), Fraction(200), Fraction(200), hand)
    found = white_above_fold(stick, window)
    assert [pytest.approx(stretch) for stretch in found] == white


@each_job
def test_what_the_lap_says_stands_on_the_lap(given_job: Given, printed: Printing) -> None:
    for tile in plan_of(printed(given_job, None)).sheets[0].tiles:
        drawing = tile.tile.drawing
        (words,) = (box for box in text_boxes(drawing.shapes(tile.tile.window)) if box.text.startswith("GLUE LAP"))
        lap = float(given_job.side) * len(given_job.faces)
        assert lap < words.bottom < words.top < lap + LAP_MM


def test_sticks_of_a_cabinet_can_be_faces() -> None:
    text = 'units = "mm"\nstock = { ply = 18 }\n[[cabinet]]\nname = "Chest"\nheight = 700\nwidth = 500\ndepth = 300\n'
    names = [stick.name for stick in lay_out(read_well(text + 'carcass = "ply"\nopenings = [200, "equal"]\n')).sticks]
    faces = json.dumps(names[:2])
    layout = lay_out(read_well(square(text + 'carcass = "ply"\nopenings = [200, "equal"]\n', faces)))
    (stick,) = plan_square_sticks(layout).things
    assert [strip.layout.name for strip in stick.drawing.faces.strips] == names[:2]


@pytest.mark.parametrize(("side", "fits"), [("26.7", True), ("26.6", False)])
def test_side_may_be_as_narrow_as_the_strips_are_high(side: str, fits: bool, tmp_path: Path) -> None:
    """A strip of plain parts and openings is 15.9 + 3.6 + 7.2 = 26.7 mm high without its scale."""
    text = square(STICKS.replace("openings = [120, 20]", "openings = [100, 70]"), '["Widths"]', f"side = {side}")
    (tmp_path / "job.toml").write_text(text, encoding="utf-8")
    result = CliRunner().invoke(main, ["check", str(tmp_path / "job.toml")])
    words = " ".join(result.output.split())
    assert (result.exit_code == 0) is fits
    if not fits:
        assert 'faces[1] "Widths" is 26.7 high, but a side of the stick is 26.6.' in words
        assert "Make the side at least 26.7, a girth of 106.8." in words


def test_paper_that_does_not_hold_all_faces_is_a_fault(tmp_path: Path) -> None:
    faces = '["Widths", "Widths", "Widths", "Widths"]'
    (tmp_path / "job.toml").write_text(square(STICKS, faces, "girth = 200"), encoding="utf-8")
    result = CliRunner().invoke(main, ["check", str(tmp_path / "job.toml")])
    words = " ".join(result.output.split())
    assert result.exit_code == 1
    assert "leaves less than the 208" in words
    assert "or fewer faces" in words
    run("print", str(tmp_path / "job.toml"), "-o", str(tmp_path / "out"), "--paper", "A3")


def test_only_some_sticks_leave_square_sticks_out_and_the_old_ones_are_told(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text(square(STICKS, '["Widths"]'), encoding="utf-8")
    job, out = str(tmp_path / "job.toml"), str(tmp_path / "out")
    run("print", job, "-o", out)
    assert {path.name for path in (tmp_path / "out").glob("square-stick*")} == {
        "square-sticks.pdf",
        "square-stick-stick.svg",
    }
    result = CliRunner().invoke(main, ["print", job, "-o", out, "--only", "Widths"])
    for name in ("square-sticks.pdf", "square-stick-stick.svg"):
        assert f"still there from an earlier print: {tmp_path / 'out' / name}" in result.output


@pytest.mark.parametrize(("form", "files"), [("pdf", {"square-sticks.pdf"}), ("svg", {"square-stick-stick.svg"})])
def test_each_format_has_its_own_files(form: str, files: set[str], tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text(square(STICKS, '["Widths"]'), encoding="utf-8")
    run("print", str(tmp_path / "job.toml"), "-o", str(tmp_path / "out"), "--format", form)
    assert {path.name for path in (tmp_path / "out").glob("square-stick*")} == files


def test_listing_of_tiles_is_of_strips_alone(tmp_path: Path) -> None:
    listings = []
    for text in (STICKS, square(STICKS, '["Widths"]')):
        (tmp_path / "job.toml").write_text(text, encoding="utf-8")
        listings.append(json.loads(run("pages", str(tmp_path / "job.toml"), "--format", "json"))["sheets"])
    assert listings[0] == listings[1]


def test_sheets_carry_their_job_and_say_its_digest(printed: Printing) -> None:
    folder = printed(IN_INCHES, None)
    reader = PdfReader(folder / "out" / "square-sticks.pdf", strict=True)
    assert reader.attachments["job.toml"] == [(folder / "job.toml").read_bytes()]
    digest = load(folder / "job.toml").job.digest
    assert all(digest in page.extract_text() for page in reader.pages)
    assert [entry["/Title"] for entry in reader.outline] == ["Square sticks", "Chest stick"]


def test_job_sheet_says_how_a_square_stick_is_measured_folded_and_glued(printed: Printing) -> None:
    reader = PdfReader(printed(IN_MM, None) / "out" / "job-sheet.pdf")
    words = " ".join(" ".join(page.extract_text() for page in reader.pages).split())
    for wanted in (
        "square stick 1: 4 faces from the lowest up, Widths, then Side, then Short, then Side",
        "each 37.8 scant wide, 151 round the stick",
        "Measure round the stick with a strip of the paper",
        "Glue the lap first",
    ):
        assert wanted in words


def test_a_roll_holds_a_square_stick_on_one_sheet_as_long_as_it_needs(tmp_path: Path) -> None:
    text = "paper = { roll = 24 }\n" + IN_INCHES.text
    (tmp_path / "job.toml").write_text(text, encoding="utf-8")
    (sheet,) = plan_of(tmp_path).sheets
    assert len(sheet.tiles) == 1
    assert 36 < sheet.bare.page_width / INCH_MM < 40


def test_schema_knows_square_sticks() -> None:
    validator = jsonschema.Draft202012Validator(SCHEMA)
    stick = {"name": "Side", "part": "ply", "openings": [100]}
    good = {"side": "1 1/2", "faces": ["Side"], "hand": "left", "name": "Stick"}

    def valid(**keys: object) -> bool:
        return validator.is_valid({"units": "mm", "stick": [stick], "square_stick": [keys]})

    assert valid(**good)
    assert valid(girth=160, faces=["Side"] * 4)
    assert not valid(**good, girth=160)
    assert not valid(faces=["Side"])
    assert not valid(side=40, faces=["Side"] * 5)
    assert not valid(side=40)


def with_square_stick() -> st.SearchStrategy[Job]:
    """Any job, and a square stick with as many faces as may be, wide enough for any strip."""

    def add(job: Job, hand: Hand) -> Job:
        faces = tuple(stick.name for stick in lay_out(job).sticks)[:4]
        made = SquareStick(1, "Stick", Fraction(400), faces, hand)
        return Job(**{**{name: getattr(job, name) for name in job.__dataclass_fields__}, "square_sticks": (made,)})

    return st.builds(add, jobs(), st.sampled_from(Hand))


@given(with_square_stick())
def test_folds_of_any_square_stick_keep_off_bands_and_words_off_each_other(job: Job) -> None:
    layout = lay_out(job)
    (made,) = job.square_sticks
    drawing = draw_square_stick(square_faces(made, layout))
    (window,) = drawing.windows
    shapes = list(drawing.shapes(window))
    for number, fold in enumerate(drawing.folds_mm):
        assert fold == 100.0 * (number + 1)
        bands = [shape for shape in shapes if isinstance(shape, Box) and shape.grey and shape.y == fold]
        for shape in shapes:
            if isinstance(shape, Line) and shape.y1 == shape.y2 == fold and shape.dash_mm:
                assert all(shape.x2 < band.x or shape.x1 > band.x + band.width for band in bands)
    assert colliding(text_boxes(shape for shape in shapes if isinstance(shape, Text))) == []
