"""Pages of shapes as a PDF, full size.

The page's origin is its lower left corner, x to the right and y up as in the drawing; the unit is the point.
Lines and areas are written without a transformation, so that their positions can be read from the page as they stand.
"""

from __future__ import annotations

from codecs import BOM_UTF16_BE
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from functools import cache
from typing import Any, Final

from reportlab import rl_config
from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName, PDFStream, PDFString, PDFZCompress
from reportlab.pdfbase.pdfmetrics import registerFont
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from storystick.drawing.lettering import FAMILY, POINT_MM, font_file
from storystick.drawing.shapes import Area, Box, Line, Path, Shape, Text, moved
from storystick.sheets.document import Attachment, Document, Page

_PDF_VERSION: Final = (1, 7)
"""The first to know ``Duplex`` (ISO 32000-1, table 150)."""


def render(document: Document) -> bytes:
    """The PDF file of ``document``; the same document gives the same bytes on any day.

    A box, an area and a line are within 1e-6 mm of their place, the start of a text within 0.002 mm.

    Raises:
        Fault: a text has a character that the font lacks.
    """
    _register_faces()
    canvas = Canvas("", pdfVersion=_PDF_VERSION, pageCompression=1, invariant=1, initialFontName=_face(False))
    _describe(canvas, document)
    for index, page in enumerate(document.pages):
        _add_page(canvas, page, index)
    with _binary_streams():
        data: bytes = canvas.getpdfdata()
    return data


@contextmanager
def _binary_streams() -> Iterator[None]:
    """Compressed streams as they are; the library would spell them in base 85, a quarter longer and slower."""
    usual = rl_config.useA85
    rl_config.useA85 = 0
    try:
        yield
    finally:
        rl_config.useA85 = usual


def _describe(canvas: Canvas, document: Document) -> None:
    canvas.setTitle(document.title)
    canvas.setSubject(document.subject)
    canvas.setAuthor("")
    canvas.setCreator("storystick")
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.setViewerPreference("Duplex", "Simplex")
    if any(page.bookmarks for page in document.pages):
        canvas.showOutline()
    if document.attachments:
        canvas.setCatalogEntry("Names", {"EmbeddedFiles": _name_tree(document.attachments)})


def _add_page(canvas: Canvas, page: Page, index: int) -> None:
    # As text, since the library rounds a number over 1000 to three decimals and one over 10000 to two.
    canvas.setPageSize((_points(page.width_mm), _points(page.height_mm)))
    canvas.addPageLabel(index, prefix=page.label)
    for number, title in enumerate(page.bookmarks):
        key = f"page {index} entry {number}"
        canvas.bookmarkPage(key)
        canvas.addOutlineEntry(title, key)
    for shape in moved(page.shapes, -page.left_mm, -page.bottom_mm):
        _DRAW[type(shape)](shape, canvas)
    canvas.showPage()
    _pack_last_page(canvas)


def _pack_last_page(canvas: Canvas) -> None:
    """Compress what a page draws as soon as it is drawn: the library would keep every page's text to the end."""
    page = canvas._doc.Pages.pages[-1]
    dictionary = PDFDictionary({"Filter": PDFArray([PDFName(PDFZCompress.pdfname)])})
    page.Contents = PDFStream(dictionary, PDFZCompress.encode(page.stream), [])
    page.Contents.__Comment__ = "page stream"
    page.stream = ""


def _line(shape: Line, canvas: Canvas) -> None:
    pen = f"{_points(shape.width_mm)} w [{_points(*shape.dash_mm)}] 0 d"
    canvas.addLiteral(f"{pen} {_points(shape.x1, shape.y1)} m {_points(shape.x2, shape.y2)} l S")


def _box(shape: Box, canvas: Canvas) -> None:
    corner_and_size = _points(shape.x, shape.y, shape.width, shape.height)
    canvas.addLiteral(f"{_decimal(shape.grey)} g {corner_and_size} re f")


def _area(shape: Area, canvas: Canvas) -> None:
    start, *others = (_points(x, y) for x, y in shape.points)
    sides = " ".join(f"{point} l" for point in others)
    canvas.addLiteral(f"{_decimal(shape.grey)} g {start} m {sides} h f")


def _path(shape: Path, canvas: Canvas) -> None:
    start, *others = (_points(x, y) for x, y in shape.points)
    sides = " ".join(f"{point} l" for point in others)
    canvas.addLiteral(f"{_points(shape.width_mm)} w [] 0 d {start} m {sides}{' h' if shape.closed else ''} S")


def _text(shape: Text, canvas: Canvas) -> None:
    before = shape.anchor.share_before * shape.width_mm
    ink = canvas.beginText()
    ink.setFillGray(0)
    ink.setFont(_face(shape.bold), shape.size_pt)
    if shape.upward:
        ink.setTextTransform(0, 1, -1, 0, shape.x / POINT_MM, (shape.y - before) / POINT_MM)
    else:
        ink.setTextOrigin((shape.x - before) / POINT_MM, shape.y / POINT_MM)
    ink.textOut(shape.text)
    canvas.drawText(ink)


_DRAW: Final[dict[type[Shape], Callable[[Any, Canvas], None]]] = {
    Line: _line,
    Box: _box,
    Area: _area,
    Path: _path,
    Text: _text,
}


def _points(*lengths_mm: float) -> str:
    return " ".join(_decimal(length / POINT_MM) for length in lengths_mm)


def _decimal(number: float) -> str:
    return f"{number:.6f}".rstrip("0").rstrip(".")


def _face(bold: bool) -> str:
    return f"{FAMILY} Bold" if bold else FAMILY


@cache
def _register_faces() -> None:
    for bold in (False, True):
        with font_file(bold).open("rb") as stream:
            registerFont(TTFont(_face(bold), stream))


def _name_tree(attachments: Iterable[Attachment]) -> PDFDictionary:
    """The files by name, in the order of the names' bytes, which a reader searches by (ISO 32000-1, 7.9.6)."""
    files = sorted(attachments, key=_name_bytes)
    return PDFDictionary({"Names": PDFArray([part for file in files for part in (_key(file), _file(file))])})


def _name_bytes(attachment: Attachment) -> bytes:
    return BOM_UTF16_BE + attachment.name.encode("utf-16-be")


def _key(attachment: Attachment) -> PDFString:
    return PDFString(_name_bytes(attachment), enc="raw")


def _file(attachment: Attachment) -> PDFDictionary:
    size = PDFDictionary({"Size": len(attachment.data)})
    content = PDFDictionary({"Type": PDFName("EmbeddedFile"), "Params": size})
    stream = PDFStream(content, attachment.data, filters=[PDFZCompress])
    name = PDFString(attachment.name)
    return PDFDictionary(
        {"Type": PDFName("Filespec"), "F": name, "UF": name, "EF": PDFDictionary({"F": stream, "UF": stream})}
    )
