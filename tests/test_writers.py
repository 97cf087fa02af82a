"""What the writers write, read back by libraries that did not write it."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from typing import Any, Final
from xml.etree import ElementTree

import numpy as np
import pikepdf
import pypdf
import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st
from pypdfium2 import raw
from readback import POINT_MM, READERS, Reader, pdf_by_pdfium, pdf_by_pypdf, pdfium, svg_by_xml
from svgwrite import Drawing

from storystick.cli import main
from storystick.drawing.lettering import text_width_mm
from storystick.drawing.shapes import Anchor, Area, Box, Line, Shape, Text
from storystick.errors import Fault, StorystickError
from storystick.sheets.document import Attachment, Document, Page
from storystick.writers import writer_for

TOLERANCE_MM: Final = 1e-4

# Letter landscape: 11 in by 8 1/2 in.
PAGE: Final = Page(279.4, 215.9, (), "1", left_mm=-12.7, bottom_mm=-9.525)

BOX: Final = Box(18.25625, 20.0, 203.2, 6.35, grey=0.6)
AREA: Final = Area(((0.0, 30.0), (10.0, 30.0), (5.0, 37.0)))
SOLID: Final = Line(0.396875, 50.0, 0.396875, 62.7, width_mm=0.18)
DASHED: Final = Line(0.0, 70.0, 250.0, 75.0, width_mm=0.35, dash_mm=(3.0, 1.0, 0.5, 1.0))

LETTERS: Final = "Ωρολόγιο Полка ½ Höhe"
MARKUP: Final = "<a & \"b\" 'c'>"
TEXTS: Final = (
    Text(100.0, 100.0, LETTERS, 9.0),
    Text(100.0, 110.0, MARKUP, 9.0, Anchor.MIDDLE),
    Text(100.0, 120.0, "(13 7/32)\\", 8.0, Anchor.END, bold=True),
    Text(200.0, 100.0, "upward", 8.0, Anchor.MIDDLE, upward=True),
)

ATTACHMENTS: Final = (
    Attachment("b.toml", b"title = 'b'\r\n"),
    Attachment("aΩ.toml", bytes(range(256))),
    Attachment("é.csv", b""),
)
WHOLE: Final = Document(
    "Chest Ω <1>",
    "Strips of “Chest”, digest 3f9a1c",
    (
        replace(PAGE, shapes=(BOX, AREA, SOLID, DASHED, *TEXTS), bookmarks=("Chest side, left hand", "Seite Ω")),
        replace(PAGE, label="Strip 2"),
        Page(210.0, 297.0, (BOX,), "Ω-3", ("Chest side, right hand",)),
    ),
    ATTACHMENTS,
)

FIRST_PAGE: Final = replace(WHOLE, pages=WHOLE.pages[:1])

each_reader = pytest.mark.parametrize(("ending", "read"), READERS.values(), ids=READERS)


def written(ending: str, *shapes: Shape, page: Page = PAGE) -> bytes:
    return writer_for(ending)(Document("Title", "Subject", (replace(page, shapes=shapes),)))


def on_page(x: float, y: float) -> Any:
    return pytest.approx((x + 12.7, y + 9.525), abs=TOLERANCE_MM)


@each_reader
def test_page_has_its_size(ending: str, read: Reader) -> None:
    ink = read(written(ending), 0)
    assert (ink.width, ink.height) == pytest.approx((279.4, 215.9), abs=TOLERANCE_MM)


@each_reader
def test_box_has_its_edges_where_they_belong(ending: str, read: Reader) -> None:
    (box,) = read(written(ending, BOX), 0).boxes
    assert (box.left, box.bottom) == on_page(18.25625, 20.0)
    assert (box.right, box.top) == on_page(221.45625, 26.35)
    assert box.grey == pytest.approx(0.6, abs=0.5 / 255)


@each_reader
def test_area_has_its_corners_where_they_belong(ending: str, read: Reader) -> None:
    (area,) = read(written(ending, AREA), 0).areas
    assert sorted(area) == [on_page(*point) for point in sorted(AREA.points)]


@each_reader
def test_line_has_its_ends_and_its_width(ending: str, read: Reader) -> None:
    (stroke,) = read(written(ending, SOLID), 0).strokes
    assert (stroke.start, stroke.end) == (on_page(0.396875, 50.0), on_page(0.396875, 62.7))
    assert stroke.width == pytest.approx(0.18, abs=1e-6)
    assert not stroke.dash


@each_reader
def test_dashes_keep_to_their_line(ending: str, read: Reader) -> None:
    dashed, solid = read(written(ending, DASHED, SOLID), 0).strokes
    assert dashed.dash == pytest.approx(DASHED.dash_mm, abs=1e-6)
    assert not solid.dash


@pytest.mark.parametrize(("ending", "read"), [(".pdf", pdf_by_pdfium), (".svg", svg_by_xml)])
def test_texts_start_where_their_anchors_say(ending: str, read: Reader) -> None:
    starts, middle, end, upward = read(written(ending, BOX, *TEXTS), 0).labels
    assert [label.text for label in (starts, middle, end, upward)] == [text.text for text in TEXTS]
    assert starts.start == on_page(100.0, 100.0)
    assert middle.start == on_page(100.0 - text_width_mm(MARKUP, 9.0) / 2, 110.0)
    assert end.start == on_page(100.0 - text_width_mm(TEXTS[2].text, 8.0, bold=True), 120.0)
    assert upward.start == on_page(200.0, 100.0 - text_width_mm("upward", 8.0) / 2)
    assert [label.upward for label in (starts, middle, end, upward)] == [False, False, False, True]
    assert {label.grey for label in (starts, middle, end, upward)} == {0.0}
    assert starts.size == pytest.approx(9 * POINT_MM, abs=1e-6)


# No side of a sheet is longer than 5080 mm; the point, 127/360 mm, then has to be written to a ten-thousandth.
@pytest.mark.parametrize(("ending", "read"), [(".pdf", pdf_by_pypdf), (".svg", svg_by_xml)])
@given(start=st.floats(0.0, 5000.0), width=st.floats(1 / 64, 80.0))
def test_box_keeps_its_edges_on_the_longest_sheet(ending: str, read: Reader, start: float, width: float) -> None:
    ink = read(written(ending, Box(start, 0.0, width, 10.0), page=Page(5080.0, 17.123456, (), "1")), 0)
    assert (ink.width, ink.height) == pytest.approx((5080.0, 17.123456), abs=1e-6)
    assert (ink.boxes[0].left, ink.boxes[0].right) == pytest.approx((start, start + width), abs=1e-6)


@pytest.mark.parametrize("ending", [".pdf", ".svg"])
def test_same_document_gives_same_bytes_on_another_day_in_another_process(ending: str) -> None:
    ours = writer_for(ending)(FIRST_PAGE)
    program = "import sys, time; time.time = lambda: 4e9; from test_writers import FIRST_PAGE, writer_for;"
    program += f"sys.stdout.buffer.write(writer_for({ending!r})(FIRST_PAGE))"
    settings = {**os.environ, "PYTHONHASHSEED": "4711", "TZ": "Asia/Tokyo"}
    theirs = subprocess.run(
        [sys.executable, "-c", program], cwd=Path(__file__).parent, env=settings, capture_output=True, check=True
    )
    assert ours == writer_for(ending)(FIRST_PAGE) == theirs.stdout


@pytest.mark.parametrize("ending", [".pdf", ".svg"])
def test_character_that_the_font_lacks_is_a_fault(ending: str) -> None:
    with pytest.raises(StorystickError, match="漆"):
        written(ending, Text(0.0, 0.0, "漆", 9.0))


def test_unknown_ending_is_a_fault() -> None:
    with pytest.raises(Fault) as caught:
        writer_for(".dxf")
    assert str(caught.value) == 'no file can be written that ends in ".dxf"; the endings are .pdf, .svg.'


@pytest.mark.parametrize("then", ["goes on", "fails"])
def test_ctrl_c_ends_a_print_quietly_whatever_the_library_makes_of_it(
    then: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def careless(_document: Document) -> bytes:
        try:
            signal.raise_signal(signal.SIGINT)
        except:  # noqa: E722 as some libraries have it
            if then == "fails":
                raise TypeError("this is not a number") from None
        return b""

    monkeypatch.setattr("storystick.writers.svg.render", careless)
    ended = CliRunner().invoke(main, ["demo", "-o", str(tmp_path / "out")], catch_exceptions=False)
    assert (ended.exit_code, ended.stderr.strip(), ended.stdout) == (1, "Aborted!", "")
    assert list(tmp_path.iterdir()) == []
    assert signal.getsignal(signal.SIGINT) is signal.default_int_handler


def test_error_of_a_library_is_still_an_error(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(_document: Document) -> bytes:
        raise TypeError("this is not a number")

    monkeypatch.setattr("storystick.writers.svg.render", broken)
    with pytest.raises(TypeError, match="not a number"):
        writer_for(".svg")(FIRST_PAGE)


def test_choosing_a_writer_loads_only_its_library() -> None:
    program = "import sys, storystick.writers as w; before = set(sys.modules); w.writer_for('.svg');"
    program += "print({'reportlab', 'svgwrite'} & before, {'reportlab', 'svgwrite'} & set(sys.modules))"
    seen = subprocess.run([sys.executable, "-c", program], capture_output=True, check=True, text=True).stdout
    assert seen == "set() {'svgwrite'}\n"


@pytest.fixture(scope="module")
def whole_pdf() -> bytes:
    return writer_for(".pdf")(WHOLE)


def test_pdf_is_valid(whole_pdf: bytes) -> None:
    with pikepdf.open(BytesIO(whole_pdf)) as pdf:
        assert pdf.check_pdf_syntax() == []


def test_pdf_asks_for_full_size_on_one_side(whole_pdf: bytes) -> None:
    with pdfium(whole_pdf) as pdf:
        # Seen with pypdfium2: 0 is no scaling, 1 the program's own choice; for duplex, 1 is simplex.
        assert raw.FPDF_VIEWERREF_GetPrintScaling(pdf.raw) == 0
        assert raw.FPDF_VIEWERREF_GetDuplex(pdf.raw) == 1
    with pikepdf.open(BytesIO(whole_pdf)) as pdf:
        preferences = pdf.Root.ViewerPreferences
        assert (str(preferences.PrintScaling), str(preferences.Duplex)) == ("/None", "/Simplex")


def test_pdf_embeds_every_font(whole_pdf: bytes) -> None:
    with pikepdf.open(BytesIO(whole_pdf)) as pdf:
        fonts = [font for page in pdf.pages for font in page.Resources.Font.values()]
        assert fonts
        assert all("/FontFile2" in font.FontDescriptor for font in fonts)


def test_pdf_text_can_be_searched(whole_pdf: bytes) -> None:
    text = pypdf.PdfReader(BytesIO(whole_pdf)).pages[0].extract_text()
    assert all(wanted.text in text for wanted in TEXTS)


def test_pdf_names_itself(whole_pdf: bytes) -> None:
    metadata = pypdf.PdfReader(BytesIO(whole_pdf)).metadata
    assert metadata is not None
    assert (metadata.title, metadata.subject, metadata.creator) == (WHOLE.title, WHOLE.subject, "storystick")


def test_pdf_pages_have_labels(whole_pdf: bytes) -> None:
    assert pypdf.PdfReader(BytesIO(whole_pdf)).page_labels == ["1", "Strip 2", "Ω-3"]


def test_pdf_outline_leads_to_the_pages(whole_pdf: bytes) -> None:
    source = pypdf.PdfReader(BytesIO(whole_pdf))
    entries = [(entry.title, source.get_destination_page_number(entry)) for entry in source.outline]
    assert entries == [("Chest side, left hand", 0), ("Seite Ω", 0), ("Chest side, right hand", 2)]
    assert source.page_mode == "/UseOutlines"


def test_pdf_without_bookmarks_opens_without_an_outline() -> None:
    source = pypdf.PdfReader(BytesIO(written(".pdf", BOX)))
    assert (source.outline, source.page_mode) == ([], "/UseNone")


def test_pdf_carries_its_attachments(whole_pdf: bytes) -> None:
    expected = {file.name: file.data for file in ATTACHMENTS}
    assert {name: data[0] for name, data in pypdf.PdfReader(BytesIO(whole_pdf)).attachments.items()} == expected
    with pikepdf.open(BytesIO(whole_pdf)) as pdf:
        assert {name: spec.get_file().read_bytes() for name, spec in pdf.attachments.items()} == expected
        assert {spec.filename: spec.get_file().size for spec in pdf.attachments.values()} == {
            name: len(data) for name, data in expected.items()
        }


@pytest.mark.parametrize("left", [20.0, 20.02, 18.25625])
def test_pdf_ink_starts_and_ends_within_a_printer_dot(left: float) -> None:
    # The page is a whole number of dots each way, so that nothing is stretched to fit them.
    dot = 25.4 / 600
    with pdfium(written(".pdf", Box(left, 10.0, 50.8, 6.35), page=Page(101.6, 25.4, (), "1"))) as pdf:
        dark = pdf[0].render(scale=600 / 72).to_numpy()[:, :, 0] < 128
    columns, rows = np.flatnonzero(dark.any(axis=0)), np.flatnonzero(dark.any(axis=1))
    assert (columns[0] * dot, (columns[-1] + 1) * dot) == pytest.approx((left, left + 50.8), abs=dot)
    # An image counts its rows from the top.
    assert (rows[0] * dot, (rows[-1] + 1) * dot) == pytest.approx((25.4 - 16.35, 15.4), abs=dot)


def test_svg_user_unit_is_the_mm_and_x_is_the_drawing_s() -> None:
    root = ElementTree.fromstring(written(".svg", BOX))
    assert (root.attrib["width"], root.attrib["height"]) == ("279.4mm", "215.9mm")
    assert root.attrib["viewBox"].split(",") == ["-12.7", str(0.0 - (215.9 - 9.525)), "279.4", "215.9"]
    (rect,) = root.iter("{http://www.w3.org/2000/svg}rect")
    assert float(rect.attrib["x"]) == 18.25625


def test_svg_is_the_same_whether_the_library_checks_every_value_or_not(monkeypatch: pytest.MonkeyPatch) -> None:
    checked: list[bool] = []

    def checking(debug: bool = True, **options: Any) -> Drawing:
        checked.append(debug)
        return Drawing(debug=True, **options)

    # Places as small, as large and as long as floats are written.
    odd = Line(1e-17, -0.0, 12345678.9, 1 / 3, 1e-5)
    document = replace(WHOLE, pages=(replace(PAGE, shapes=(*WHOLE.pages[0].shapes, odd)),))
    plain = writer_for(".svg")(document)
    monkeypatch.setattr("storystick.writers.svg.Drawing", checking)
    with_checks = writer_for(".svg")(document)
    assert checked == [False]
    assert plain == with_checks


def test_svg_says_what_it_is() -> None:
    root = ElementTree.fromstring(writer_for(".svg")(FIRST_PAGE))
    assert [(child.tag.rpartition("}")[2], child.text) for child in root[:2]] == [
        ("title", WHOLE.title),
        ("desc", WHOLE.subject),
    ]


def test_svg_text_keeps_its_room_in_any_font() -> None:
    root = ElementTree.fromstring(written(".svg", TEXTS[2]))
    (text,) = root.iter("{http://www.w3.org/2000/svg}text")
    assert float(text.attrib["textLength"]) == text_width_mm(TEXTS[2].text, 8.0, bold=True)
    assert (text.attrib["lengthAdjust"], text.attrib["font-weight"]) == ("spacingAndGlyphs", "bold")


def test_svg_holds_exactly_one_page() -> None:
    with pytest.raises(ValueError, match="one page, not 3"):
        writer_for(".svg")(WHOLE)
