"""Things in one piece for cutters and plotters: layers, pens, outlines to cut and of letters, the check square."""

from __future__ import annotations

import re
import subprocess
import sys
from functools import cache
from io import BytesIO
from itertools import pairwise
from math import hypot
from pathlib import Path
from typing import Any, Final
from xml.etree import ElementTree

import numpy as np
import pytest
import svgelements
from click.testing import CliRunner, Result
from fontTools.pens.basePen import decomposeQuadraticSegment
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.ttLib import TTFont
from jobs import FIGURES, read_well
from lettering_boxes import text_boxes
from pictures import SVG_RENDERERS, svg_by_resvg
from PIL import Image, ImageDraw
from readback import Point, pdf_by_pdfium, pdf_by_pypdf, svg_by_svgelements, svg_by_xml

from storystick.cli import main
from storystick.drawing.lettering import font_file
from storystick.drawing.shapes import Anchor, Rect, Text
from storystick.drawing.shapes import Path as Stroke
from storystick.laying_out import lay_out
from storystick.lengths import Units
from storystick.sheets.boards import plan_boards
from storystick.sheets.document import Document, Look, Page, whole_page, with_notes
from storystick.writers import writer_for

SVG: Final = "{http://www.w3.org/2000/svg}"
LABEL: Final = "{http://www.inkscape.org/namespaces/inkscape}label"
EXACT_MM: Final = 1e-9

SHOP: Final = """
units = "inch"
router.plunge.base_diameter = "5 7/8"
bit.quarter.diameter = "1/4"
bar.A = { router = "plunge", bit = "quarter" }
"""
JOB: Final = """
title = "Wall shelf"
units = "inch"
stock = { ply = "23/32" }
joint.shelf = { kind = "tongue", width = "1/4", depth = "1/4" }
[[stick]]
name = "Side"
pair = true
part = "ply"
joint = "shelf"
openings = ["9 1/3", "8", "6 5/7"]
[[square_stick]]
name = "All"
girth = "7 1/2"
faces = ["Side"]
[[template]]
name = "Notched"
width = 10
height = 6
outline = [[2, 0], [10, 0], { arc_to = [10, 6], through = [9, 3] }, [0, 6], [0, 1], [2, 1]]
grooves = [{ along = "x", at = 4, width = "3/4" }, { along = "y", at = 5, width = "3/4", from = 2, to = 6 }]
rabbets = [{ edge = "top", width = "3/8" }]
circles = [{ centre = [7, 2], diameter = "1 1/2", name = "hand hole" }]
[[template]]
name = "Tiny"
width = "1/2"
height = "3/8"
"""

NOTCHED: Final = ((2.0, 0.0), (10.0, 0.0), (10.0, 6.0), (0.0, 6.0), (0.0, 1.0), (2.0, 1.0))
"""The corners of the notched board, in inches."""


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, list(map(str, words)), catch_exceptions=False)


def printed(folder: Path, *words: str, job: str = JOB) -> dict[str, bytes]:
    (folder / "shop.toml").write_text(SHOP, encoding="utf-8")
    (folder / "job.toml").write_text(job, encoding="utf-8")
    out = folder / "out"
    result = run("print", folder / "job.toml", "--shop", folder / "shop.toml", "-o", out, *words)
    assert result.exit_code == 0, result.output
    return {path.name: path.read_bytes() for path in sorted(out.iterdir())}


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    return printed(tmp_path_factory.mktemp("plain"), "--with", "bars")


def layers(data: bytes) -> dict[str, ElementTree.Element]:
    return {group.attrib["id"]: group for group in ElementTree.fromstring(data).findall(f"{SVG}g")}


def vertices(path: ElementTree.Element) -> list[Point]:
    """The corners of a closed path in the drawing's own coordinates, y up."""
    assert re.fullmatch(r"M[^MZ]*Z", path.attrib["d"]), "one closed path"
    numbers = [float(number) for number in re.findall(r"[-\d.e]+", path.attrib["d"])]
    return [(x, 0.0 - y) for x, y in zip(numbers[::2], numbers[1::2], strict=True)]


def outline(data: bytes) -> list[Point]:
    (path,) = (path for path in layers(data)["cut"].iter(f"{SVG}path") if path.attrib["id"] == "outline")
    return vertices(path)


def inches(*points: tuple[float, float]) -> Any:
    return [pytest.approx((25.4 * x, 25.4 * y), abs=EXACT_MM) for x, y in points]


# What is cut


def test_file_has_a_group_for_what_is_marked_lettered_and_cut(files: dict[str, bytes]) -> None:
    drawn = [name for name in files if name.endswith(".svg")]
    assert len(drawn) == 6
    for name in drawn:
        groups = layers(files[name])
        assert list(groups) == ["mark", "text", "cut"]
        for layer, group in groups.items():
            assert group.attrib[LABEL] == layer
            assert group.attrib[LABEL.replace("label", "groupmode")] == "layer"
            assert group.findtext(f"{SVG}title") == layer
        assert not list(groups["mark"].iter(f"{SVG}text"))
        assert {element.tag for element in groups["text"]} == {f"{SVG}title", f"{SVG}text"}
        assert {element.tag for element in groups["cut"]} == {f"{SVG}title", f"{SVG}path"}


def test_nothing_is_drawn_outside_the_layers(files: dict[str, bytes]) -> None:
    for name, data in files.items():
        if name.endswith(".svg"):
            kinds = {element.tag for element in ElementTree.fromstring(data)}
            assert kinds == {f"{SVG}{kind}" for kind in ("title", "desc", "defs", "g")}, name


@pytest.mark.parametrize("hand", ["left", "right"])
def test_outline_of_a_strip_is_its_length_by_its_height(hand: str, files: dict[str, bytes]) -> None:
    data = files[f"strip-side-{hand}-hand.svg"]
    # Four parts of 23/32 and the openings; the running scale stands along the upper edge.
    length = 4 * 23 / 32 + 9 + 1 / 3 + 8 + 6 + 5 / 7
    corners = outline(data)
    height = corners[2][1]
    assert corners == inches((0, 0), (length, 0), (length, height / 25.4), (0, height / 25.4))
    ticks = [line for line in layers(data)["mark"].iter(f"{SVG}line") if line.attrib["x1"] == line.attrib["x2"]]
    tops = [-float(line.attrib[end]) for line in ticks for end in ("y1", "y2")]
    assert max(tops) == pytest.approx(height, abs=EXACT_MM)


def test_outline_of_a_square_stick_goes_round_all_faces_and_the_lap(files: dict[str, bytes]) -> None:
    length, girth = 4 * 23 / 32 + 9 + 1 / 3 + 8 + 6 + 5 / 7, 7.5
    # One face, a fourth of the girth, and a lap of 8 mm.
    height = girth / 4 + 8 / 25.4
    assert outline(files["square-stick-all.svg"]) == inches((0, 0), (length, 0), (length, height), (0, height))


def test_outline_of_a_bar_is_as_wide_as_it_is_used(files: dict[str, bytes]) -> None:
    # From the edge of the base to that of the bit: half of 5 7/8 less half of 1/4. A usual length is 12 in.
    width = (5 + 7 / 8) / 2 - 1 / 8
    assert outline(files["bar-a.svg"]) == inches((0, 0), (12, 0), (12, width), (0, width))


def test_outline_of_a_board_is_one_path_past_grooves_and_rabbets_and_round_notches(files: dict[str, bytes]) -> None:
    data = files["template-notched.svg"]
    found = outline(data)
    places = [found.index(inches(corner)[0]) for corner in NOTCHED]
    assert places == [0, 1, *range(len(found) - 4, len(found))]
    # The circle through (10, 0), (9, 3) and (10, 6): its centre is on y = 3, at x = 9 + r with (r - 1)^2 + 9 = r^2.
    radius = 5.0
    for before, after in pairwise(found[1 : places[2] + 1]):
        assert hypot(before[0] / 25.4 - 14, before[1] / 25.4 - 3) == pytest.approx(radius, abs=EXACT_MM)
        middle = ((before[0] + after[0]) / 2, (before[1] + after[1]) / 2)
        assert abs(hypot(middle[0] - 14 * 25.4, middle[1] - 3 * 25.4) - radius * 25.4) < 0.006


def test_what_is_cut_out_of_a_board_is_a_closed_path_of_its_own(files: dict[str, bytes]) -> None:
    paths = list(layers(files["template-notched.svg"])["cut"].iter(f"{SVG}path"))
    assert [path.attrib["id"] for path in paths] == ["outline", "cut-out-1"]
    rim = vertices(paths[1])
    assert [hypot(x - 7 * 25.4, y - 2 * 25.4) for x, y in rim] == pytest.approx([0.75 * 25.4] * len(rim), abs=EXACT_MM)
    assert len(rim) > 50


def test_reduced_picture_has_nothing_to_cut_and_no_check_square(tmp_path: Path) -> None:
    case = JOB + '[[cabinet]]\nname="Case"\nheight=20\nwidth=20\ndepth=10\ncarcass="ply"\nopenings=["equal"]\n'
    data = printed(tmp_path, job=case)["cabinet-case.svg"]
    assert list(layers(data)) == ["mark", "text"]
    assert b"CHECK SQUARE" not in data


@pytest.mark.parametrize("read", [pdf_by_pypdf, pdf_by_pdfium])
def test_outline_on_one_sheet_is_one_path_in_the_pdf_too(read: Any, tmp_path: Path) -> None:
    pdf = printed(tmp_path, "--paper", "A3")["templates.pdf"]
    ways = [path for page in (0, 1) for path in read(pdf, page).paths]
    closed = [path for path in ways if path[0] == path[-1]]
    assert len(ways) == len(closed) == 3, "outline and hand hole, and the tiny one"
    left, bottom = (min(point[axis] for point in closed[0]) for axis in (0, 1))
    found = [((x - left) / 25.4, (y - bottom) / 25.4) for x, y in closed[0]]
    for corner in NOTCHED:
        assert min(hypot(x - corner[0], y - corner[1]) for x, y in found) < 1e-5


def test_outline_over_several_sheets_runs_on_past_what_is_cut_into_the_board() -> None:
    big = 'units = "mm"\npaper = "A4"\n[[template]]\nname = "Big"\nwidth = 700\nheight = 500\n'
    big += 'grooves = [{ along = "x", at = 100, width = 18 }]\nrabbets = [{ edge = "left", width = 10 }]\n'
    job = read_well(big)
    (board,) = plan_boards(lay_out(job).boards, job).things
    shown = [[shape for shape in tile.draw() if isinstance(shape, Stroke)] for tile in board.tiles]
    inner = (board.columns - 2) * (board.rows - 2)
    assert len(shown) > 6
    assert sorted(map(len, shown)) == [*[0] * inner, *[1] * (len(shown) - inner)]
    lines = [line for (path, *_) in filter(None, shown) for line in path.lines]
    shown_mm = sum(hypot(line.x2 - line.x1, line.y2 - line.y1) for line in lines)
    assert shown_mm == pytest.approx(2 * (700 + 500), abs=EXACT_MM)


@pytest.mark.parametrize("renderer", SVG_RENDERERS)
def test_outline_holds_paint_in_whatever_draws_it(renderer: str, tmp_path: Path) -> None:
    """A closed line keeps what is poured outside it from what is within."""
    data = printed(tmp_path, "--no-check-square", "--cut-line", "#000000 0.4")["template-tiny.svg"]
    alone = tmp_path / "alone.svg"
    root = ElementTree.fromstring(data)
    for group in root.findall(f"{SVG}g"):
        if group.attrib["id"] != "cut":
            root.remove(group)
    ElementTree.register_namespace("", SVG.strip("{}"))
    alone.write_bytes(ElementTree.tostring(root))
    picture = SVG_RENDERERS[renderer](alone)
    image = Image.fromarray(np.where(picture.grey < 128, 0, 255).astype(np.uint8)).copy()
    ImageDraw.floodfill(image, (0, 0), 100)
    rows, columns = np.nonzero(np.asarray(image) == 255)
    dots = picture.dots_per_mm
    # What stays white is the board of 1/2 by 3/8 in less half a line all around.
    assert (columns.max() + 1 - columns.min()) / dots == pytest.approx(12.7 - 0.4, abs=2 / dots)
    assert (rows.max() + 1 - rows.min()) / dots == pytest.approx(9.525 - 0.4, abs=2 / dots)
    assert columns.min() / dots == pytest.approx(10 + 0.2, abs=1 / dots)


# Pens


def test_lines_are_black_where_nothing_is_asked(files: dict[str, bytes]) -> None:
    text = files["strip-side-left-hand.svg"].decode()
    assert set(re.findall(r'stroke="(.*?)"', text)) == {"#000000", "none"}
    cut = layers(files["strip-side-left-hand.svg"])["cut"]
    assert {(e.attrib["stroke"], e.attrib["stroke-width"], e.attrib["fill"]) for e in cut.iter(f"{SVG}path")} == {
        ("#000000", "0.12", "none")
    }


PENS: Final = {
    "cut": ("--cut-line", "#FF0000 0.1"),
    "mark": ("--mark-line", "#0000ff 0.25 mm"),
    "text": ("--text-line", "#008000 0.2"),
}


def test_each_layer_has_the_pen_that_is_asked_for(tmp_path: Path) -> None:
    asked = [word for words in PENS.values() for word in words]
    pens = {"cut": ("#ff0000", "0.1"), "mark": ("#0000ff", "0.25"), "text": ("#008000", "0.2")}
    data = printed(tmp_path, *asked)["template-notched.svg"]
    for layer, group in layers(data).items():
        for element in group.iter():
            own = element.get("stroke"), element.get("stroke-width"), element.get("fill")
            assert own in {(*pens[layer], "none"), (*pens[layer], None), (None, None, None)}
        assert (group.get("stroke"), group.get("stroke-width"), group.get("fill")) == (*pens[layer], "none")


def test_marks_as_lines_are_those_that_are_struck_and_no_others(tmp_path: Path, files: dict[str, bytes]) -> None:
    """A band is one rectangle with its exact edges, not one for the grey and one for each black edge."""
    lined = printed(tmp_path, "--mark-line", "#000000 0.1")
    ply, edges = 23 / 32, [0.0]
    for opening in (9 + 1 / 3, 8, 6 + 5 / 7):
        edges += [edges[-1] + ply, edges[-1] + ply + opening]
    edges.append(edges[-1] + ply)
    lower = [box for box in rectangles(lined["strip-side-left-hand.svg"]) if abs(box[1]) < EXACT_MM]
    found = sorted(x for left, _, width, _ in lower for x in (left, left + width))
    assert found == [pytest.approx(25.4 * edge, abs=EXACT_MM) for edge in edges]
    # Two grooves and a rabbet, each of them black with grey in it where it is filled.
    assert len(rectangles(files["template-notched.svg"])) == 6
    wanted = [
        pytest.approx([0.0, 4 * 25.4, 254.0, 19.05]),
        pytest.approx([0.0, 5.625 * 25.4, 254.0, 0.375 * 25.4]),
        pytest.approx([5 * 25.4, 2 * 25.4, 19.05, 4 * 25.4]),
    ]
    assert sorted(rectangles(lined["template-notched.svg"])) == wanted


def rectangles(data: bytes) -> list[list[float]]:
    """Left, bottom, width and height of each that is marked, in the drawing's own coordinates."""
    found = []
    for rect in layers(data)["mark"].iter(f"{SVG}rect"):
        x, y, width, height = (float(rect.attrib[name]) for name in ("x", "y", "width", "height"))
        found.append([x, 0.0 - y - height, width, height])
    return found


@pytest.mark.parametrize("pen", ["red 0.1", "#ff0000", "#ff0000 0", "#ff0000 9", "#ff00 0.1", "#ff0000 0.1 in", ""])
def test_pen_that_is_none_is_a_fault(pen: str, tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    result = run("print", tmp_path / "job.toml", "-o", tmp_path / "out", "--mark-line", pen)
    assert result.exit_code == 1
    assert "is not a colour and a width from 0.001 to 5 mm" in " ".join(result.output.split())
    assert "--mark-line" in result.output
    assert not (tmp_path / "out").exists()


def test_print_from_a_pdf_is_drawn_as_it_was(tmp_path: Path) -> None:
    asked = [word for words in PENS.values() for word in words]
    files = printed(tmp_path, *asked, "--text", "outlines", "--no-check-square")
    again = tmp_path / "again"
    assert run("print", tmp_path / "out" / "strips.pdf", "-o", again).exit_code == 0
    drawn = {path.name: path.read_bytes() for path in again.iterdir() if path.suffix == ".svg"}
    assert drawn == {name: data for name, data in files.items() if name.endswith(".svg")}
    assert run("print", tmp_path / "out" / "strips.pdf", "-o", again, "--check-square", "--text", "text").exit_code == 0
    back = (again / "template-tiny.svg").read_text(encoding="utf-8")
    assert "CHECK SQUARE</text>" in back
    assert "#ff0000" in back
    assert run("verify", tmp_path / "out" / "strips.pdf").exit_code == 0


# Letters as outlines

WORDS: Final = (
    Text(10.0, 20.0, "Höhe 13 7/32", 9.0),
    Text(60.0, 30.0, "FRONT ▲", 12.0, Anchor.MIDDLE, bold=True),
    Text(90.0, 50.0, "Полка", 8.0, Anchor.END),
    Text(95.0, 40.0, "upward Ω", 10.0, Anchor.MIDDLE, upward=True),
)


@cache
def face(bold: bool) -> tuple[TTFont, Any]:
    font = TTFont(BytesIO(font_file(bold).read_bytes()))
    return font, font.getGlyphSet()


def expected_points(text: Text) -> list[Point]:
    """Ends of lines and curves and the curves' control points of all letters, by the font's own tables, y up."""
    font, glyphs = face(text.bold)
    scale = text.size_pt * 25.4 / 72 / font["head"].unitsPerEm
    names = [font.getBestCmap()[ord(letter)] for letter in text.text]
    advances = [font["hmtx"][name][0] for name in names]
    along = {Anchor.START: 0.0, Anchor.MIDDLE: -0.5, Anchor.END: -1.0}[text.anchor] * sum(advances)
    points: list[Point] = []
    for name, advance in zip(names, advances, strict=True):
        pen = DecomposingRecordingPen(glyphs)
        glyphs[name].draw(pen)
        for command, operands in pen.value:
            places = (
                [p for pair in decomposeQuadraticSegment(operands) for p in pair] if command == "qCurveTo" else operands
            )
            for x, y in places:
                right, up = (along + x) * scale, y * scale
                points.append((text.x - up, text.y + right) if text.upward else (text.x + right, text.y + up))
        along += advance
    return points


def drawn_points(data: str) -> list[Point]:
    points: list[Point] = []
    for segment in svgelements.Path(data):
        control = [segment.control] if isinstance(segment, svgelements.QuadraticBezier) else []
        if not isinstance(segment, svgelements.Close):
            points += [(point.x, -point.y) for point in (*control, segment.end)]
    return points


def around(points: list[Point]) -> Any:
    return np.array([np.min(points, axis=0), np.max(points, axis=0)])


@pytest.mark.parametrize("text", WORDS, ids=lambda text: text.text)
def test_outlines_of_letters_are_those_of_the_font(text: Text) -> None:
    page = Page(120.0, 80.0, (text,), "1")
    data = writer_for(".svg")(Document("", "", (page,), look=Look(outlines=True)))
    (path,) = layers(data)["text"].iter(f"{SVG}path")
    assert path.findtext(f"{SVG}title") == text.text
    wanted, found = expected_points(text), drawn_points(path.attrib["d"])
    assert np.allclose(around(found), around(wanted), atol=1e-6)
    # A contour may be closed without naming its first point again.
    assert all(min(hypot(x - u, y - v) for u, v in found) < 1e-6 for x, y in wanted)
    assert all(min(hypot(x - u, y - v) for u, v in wanted) < 1e-6 for x, y in found)


def test_outlines_of_letters_need_no_font(tmp_path: Path) -> None:
    """A renderer that is given no fonts draws them, and no text at all."""
    inked = []
    for outlines in (False, True):
        page = Page(120.0, 80.0, WORDS, "1")
        (tmp_path / "page.svg").write_bytes(writer_for(".svg")(Document("", "", (page,), look=Look(outlines=outlines))))
        inked.append((svg_by_resvg(tmp_path / "page.svg").grey < 128).sum())
    assert inked[0] == 0
    assert inked[1] > 1000


def test_letters_as_outlines_without_their_library_are_a_fault(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delitem(sys.modules, "storystick.writers.glyphs", raising=False)
    monkeypatch.setitem(sys.modules, "fontTools.pens.svgPathPen", None)
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    result = run("print", tmp_path / "job.toml", "-o", tmp_path / "out", "--text", "outlines")
    assert result.exit_code == 1
    said = " ".join(result.output.split())
    what = "- --text letters as outlines need fontTools, which is not installed. Install it: pip install"
    assert f'{what} "storystick[outlines]".' in said
    assert not (tmp_path / "out").exists()


def test_library_for_outlines_is_loaded_only_where_they_are_asked_for() -> None:
    program = "import sys; from storystick.writers import writer_for; from storystick.sheets.document import *;"
    program += "from storystick.drawing.shapes import Text; from storystick.sheets.document import Look;"
    program += "page = Page(9.0, 9.0, (Text(0.0, 0.0, 'A', 9.0),), '1'); loaded = lambda: 'fontTools' in sys.modules;"
    program += "writer_for('.svg')(Document('', '', (page,))); print(loaded());"
    program += "writer_for('.svg')(Document('', '', (page,), look=Look(outlines=True))); print(loaded())"
    seen = subprocess.run([sys.executable, "-c", program], capture_output=True, check=True, text=True).stdout
    assert seen.split() == ["False", "True"]


# The check square


@pytest.mark.parametrize("name", ["strip-side-left-hand.svg", "template-tiny.svg", "template-notched.svg", "bar-a.svg"])
def test_check_square_is_50_mm_and_lies_above_all_else(name: str, files: dict[str, bytes]) -> None:
    (square,) = map(vertices, layers(files[name])["mark"].iter(f"{SVG}path"))
    left, bottom = square[0]
    assert square == [
        pytest.approx((left + x, bottom + y), abs=EXACT_MM) for x, y in ((0, 0), (50, 0), (50, 50), (0, 50))
    ]
    assert bottom > max(y for _, y in outline(files[name])) + 5
    assert left == 0


def test_check_square_can_be_left_out_and_moves_nothing(tmp_path: Path, files: dict[str, bytes]) -> None:
    without = printed(tmp_path, "--no-check-square", "--with", "bars")
    for name in ("strip-side-right-hand.svg", "template-notched.svg", "bar-a.svg"):
        kept, bare = layers(files[name]), layers(without[name])
        assert ElementTree.tostring(kept["cut"]) == ElementTree.tostring(bare["cut"])
        gone = [
            e for e in map(ElementTree.tostring, kept["mark"]) if e not in set(map(ElementTree.tostring, bare["mark"]))
        ]
        assert len(gone) == 1
        assert b"path " in gone[0]
        words = [{text.text for text in found["text"].iter(f"{SVG}text")} for found in (kept, bare)]
        assert "CHECK SQUARE" in words[0] - words[1]
        assert "kerf not compensated" in " ".join(map(str, words[1]))
        assert without[name] != files[name]


@pytest.mark.parametrize(("units", "said"), [(Units.MM, set()), (Units.INCH, {"inch: 1 31/32 scant"})])
def test_words_in_the_check_square_say_its_size_and_stay_in_it(units: Units, said: set[str]) -> None:
    page = whole_page([], "", 200.0, 30.0, cut=[Rect(0.0, 0.0, 200.0, 30.0).traced()])
    shapes = with_notes(page, FIGURES[units], True).shapes
    (square,) = (shape.extent for shape in shapes if isinstance(shape, Stroke))
    words = {shape.text for shape in shapes if isinstance(shape, Text)}
    assert {"CHECK SQUARE", "50\u00a0mm each way", *said} <= words
    # 50 mm / 25.4 = 1.9685 in, a little less than 1 31/32 = 1.96875.
    boxes = [box for box in text_boxes(shapes) if box.bottom > square.bottom]
    assert len(boxes) >= 5
    for box in boxes:
        assert square.left + 1 < box.left
        assert box.right < square.right - 1
        assert box.top < square.top - 1
    rows = sorted((box.bottom, box.top) for box in boxes)
    assert all(top < bottom for (_, top), (bottom, _) in pairwise(rows))


@pytest.mark.parametrize("wanted", [(), ("--no-check-square",)])
def test_nothing_reaches_out_of_the_page(wanted: tuple[str, ...], tmp_path: Path) -> None:
    for name, data in printed(tmp_path, *wanted).items():
        if name.endswith(".svg"):
            ink = svg_by_svgelements(data)
            letters = svg_by_xml(data).labels
            points = [
                *(point for path in ink.cuts for point in path),
                *(point for stroke in ink.strokes for point in (stroke.start, stroke.end)),
                *(corner for box in ink.boxes for corner in ((box.left, box.bottom), (box.right, box.top))),
                *(corner for area in ink.areas for corner in area),
                *(label.start for label in letters),
            ]
            low, high = around(points)
            assert (low > 0).all(), name
            assert high[0] < ink.width, name
            assert high[1] < ink.height, name
