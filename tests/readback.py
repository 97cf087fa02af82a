"""Printed files read back by libraries that did not write them.

Everything is in mm on the page, origin at its lower left corner, x to the right and y up.
A reader is a function from a file's bytes and a page's index to the ink on that page.
"""

from __future__ import annotations

import ctypes
import re
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from io import BytesIO
from itertools import pairwise
from typing import Any, Final, NamedTuple, TypeAlias
from xml.etree import ElementTree

import pypdf
import pypdfium2
import svgelements
from pypdf.generic import ContentStream
from pypdfium2 import raw

POINT_MM: Final = 127 / 360
"""A point in mm: 1/72 in (ISO 32000-1, 8.3.2.3); pint 0.25.3 gives exactly 127/360."""

Point: TypeAlias = tuple[float, float]


class Rect(NamedTuple):
    """A filled upright rectangle, by its edges; ``grey`` is 0 for black and 1 for white."""

    left: float
    bottom: float
    right: float
    top: float
    grey: float


class Stroke(NamedTuple):
    """A straight stroke; ``dash`` are lengths of ink and gap in turn."""

    start: Point
    end: Point
    width: float
    dash: tuple[float, ...]


class Label(NamedTuple):
    """A line of text, by the start of its baseline; ``grey`` is 0 for black and 1 for white."""

    text: str
    start: Point
    size: float
    upward: bool
    grey: float


@dataclass
class Ink:
    """Everything on a page ``width`` by ``height``, each kind in the order in which it was drawn.

    A stroke of several pieces is among ``strokes`` piece by piece, and whole among ``paths``: by its points, and where
    it is closed by the first again. What a machine cuts in an SVG is among ``cuts`` alone, in the same way.
    """

    width: float
    height: float
    boxes: list[Rect] = field(default_factory=list)
    areas: list[tuple[Point, ...]] = field(default_factory=list)
    strokes: list[Stroke] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)
    paths: list[tuple[Point, ...]] = field(default_factory=list)
    cuts: list[tuple[Point, ...]] = field(default_factory=list)

    def fill(self, points: tuple[Point, ...], grey: float) -> None:
        """Add a filled polygon: a box where its corners are those of an upright rectangle."""
        xs, ys = (sorted({point[axis] for point in points}) for axis in (0, 1))
        if len(points) == 4 and len(xs) == len(ys) == 2:
            self.boxes.append(Rect(xs[0], ys[0], xs[1], ys[1], grey))
        else:
            self.areas.append(points)

    def stroke(self, points: Sequence[Point], width: float, dash: tuple[float, ...]) -> None:
        """Add a stroke from point to point, and keep it as a path where it has more than one piece."""
        self.strokes += [Stroke(start, end, width, dash) for start, end in pairwise(points)]
        if len(points) > 2:
            self.paths.append(tuple(points))


Reader: TypeAlias = Callable[[bytes, int], Ink]


def pdf_by_pypdf(data: bytes, page: int = 0) -> Ink:
    """The operands of the page's content as they stand; its labels are left out."""
    source = pypdf.PdfReader(BytesIO(data), strict=True)
    sheet = source.pages[page]
    ink = Ink(*_point(*sheet.mediabox[2:]))
    content = ContentStream(sheet.get_contents(), source)
    grey, width, dash = 0.0, 1.0, _mm()
    path: list[Point] = []
    closed = False
    for operands, operator in content.operations:
        match operator:
            case b"d":
                dash = _mm(*operands[0])
            case b"g":
                grey = float(operands[0])
            case b"w":
                (width,) = _mm(*operands)
            case b"cm":
                assert [float(number) for number in operands] == [1, 0, 0, 1, 0, 0], "something is drawn transformed"
            case b"m":
                path, closed = [_point(*operands)], False
            case b"h":
                closed = True
            case b"l":
                path.append(_point(*operands))
            case b"re":
                path = _corners(*_mm(*operands))
            case b"f":
                ink.fill(tuple(path), grey)
            case b"S":
                ink.stroke([*path, *path[:closed]], width, dash)
    return ink


def _mm(*points: Any) -> tuple[float, ...]:
    return tuple(float(number) * POINT_MM for number in points)


def _point(x: Any, y: Any) -> Point:
    return float(x) * POINT_MM, float(y) * POINT_MM


def _corners(x: float, y: float, width: float, height: float) -> list[Point]:
    return [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]


@contextmanager
def pdfium(data: bytes) -> Iterator[pypdfium2.PdfDocument]:
    """The document, closed at the end of the block."""
    document = pypdfium2.PdfDocument(data)
    try:
        yield document
    finally:
        document.close()


def pdf_by_pdfium(data: bytes, page: int = 0) -> Ink:
    """The page's objects; this library holds a position in single precision, 1e-4 mm up to about 2.9 m."""
    with pdfium(data) as document:
        sheet = document[page]
        ink = Ink(*_point(*sheet.get_size()))
        text = sheet.get_textpage()
        for thing in sheet.get_objects():
            if thing.type == raw.FPDF_PAGEOBJ_TEXT:
                ink.labels.append(_pdfium_label(thing, text))
            else:
                _add_pdfium_path(thing, ink)
    return ink


def _add_pdfium_path(thing: Any, ink: Ink) -> None:
    path = thing.raw
    filled, stroked = ctypes.c_int(), ctypes.c_int()
    raw.FPDFPath_GetDrawMode(path, filled, stroked)
    points = list(_pdfium_points(path))
    if stroked.value:
        ink.stroke(points, *_pdfium_pen(path))
    else:
        closed = points[:-1] if points[0] == points[-1] else points
        ink.fill(tuple(closed), _pdfium_grey(path))


def _pdfium_points(path: Any) -> Iterator[Point]:
    x, y = ctypes.c_float(), ctypes.c_float()
    for index in range(raw.FPDFPath_CountSegments(path)):
        raw.FPDFPathSegment_GetPoint(raw.FPDFPath_GetPathSegment(path, index), x, y)
        yield _point(x.value, y.value)


def _pdfium_pen(path: Any) -> tuple[float, tuple[float, ...]]:
    width = ctypes.c_float()
    raw.FPDFPageObj_GetStrokeWidth(path, width)
    dash = (ctypes.c_float * raw.FPDFPageObj_GetDashCount(path))()
    raw.FPDFPageObj_GetDashArray(path, dash, len(dash))
    return width.value * POINT_MM, _mm(*dash)


def _pdfium_grey(thing: Any) -> float:
    red, green, blue, alpha = (ctypes.c_uint() for _ in range(4))
    raw.FPDFPageObj_GetFillColor(thing, red, green, blue, alpha)
    assert red.value == green.value == blue.value
    return red.value / 255


def _pdfium_label(thing: Any, page_text: Any) -> Label:
    matrix, size = thing.get_matrix(), ctypes.c_float()
    raw.FPDFTextObj_GetFontSize(thing.raw, size)
    length = raw.FPDFTextObj_GetText(thing.raw, page_text.raw, None, 0)
    text = ctypes.create_string_buffer(length)
    raw.FPDFTextObj_GetText(thing.raw, page_text.raw, ctypes.cast(text, ctypes.POINTER(ctypes.c_ushort)), length)
    words = text.raw.decode("utf-16-le").rstrip("\0")
    return Label(words, _point(matrix.e, matrix.f), size.value * POINT_MM, matrix.b > 0, _pdfium_grey(thing.raw))


def svg_by_xml(data: bytes, page: int = 0) -> Ink:
    """The elements' attributes; the header must make the user unit 1 mm."""
    assert page == 0
    root = ElementTree.fromstring(data)
    left, top, width, height = _numbers(root.attrib["viewBox"])
    assert (root.attrib["width"], root.attrib["height"]) == (f"{width}mm", f"{height}mm")
    ink = Ink(width, height)

    def place(x: float, y: float) -> Point:
        # SVG counts y downwards from the top.
        return x - left, top + height - y

    for element in root.iter():
        _add_xml_element(element, place, ink)
    return ink


def _add_xml_element(element: ElementTree.Element, place: Callable[[float, float], Point], ink: Ink) -> None:
    def number(name: str) -> float:
        return float(element.attrib[name])

    match element.tag.rpartition("}")[2]:
        case "rect":
            corners = _corners(*(number(name) for name in ("x", "y", "width", "height")))
            ink.fill(tuple(place(*corner) for corner in corners), _grey(element.attrib["fill"]))
        case "polygon":
            numbers = _numbers(element.attrib["points"])
            ink.fill(tuple(map(place, numbers[::2], numbers[1::2])), _grey(element.attrib["fill"]))
        case "line":
            ends = place(number("x1"), number("y1")), place(number("x2"), number("y2"))
            ink.strokes.append(Stroke(*ends, number("stroke-width"), _numbers(element.get("stroke-dasharray", ""))))
        case "path":
            numbers = [float(number) for number in re.findall(r"[-\d.e]+", element.attrib["d"])]
            points = list(map(place, numbers[::2], numbers[1::2]))
            points += points[: element.attrib["d"].endswith("Z")]
            if _is_cut(element.get("id")):
                ink.cuts.append(tuple(points))
            else:
                ink.stroke(points, number("stroke-width"), ())
        case "text":
            ink.labels.append(_xml_label(element, place(number("x"), number("y"))))


def _is_cut(name: str | None) -> bool:
    return name is not None and name.startswith(("outline", "cut-out"))


def _xml_label(element: ElementTree.Element, place: Point) -> Label:
    share = {"start": 0.0, "middle": 0.5, "end": 1.0}[element.attrib["text-anchor"]]
    before = share * float(element.attrib["textLength"])
    turn, grey = element.get("transform"), _grey(element.get("fill", "#000000"))
    if turn:
        assert turn == f"rotate(-90 {element.attrib['x']} {element.attrib['y']})"
    start = (place[0], place[1] - before) if turn else (place[0] - before, place[1])
    return Label(element.text or "", start, float(element.attrib["font-size"]), bool(turn), grey)


def _numbers(text: str) -> tuple[float, ...]:
    return tuple(float(number) for number in re.split(r"[\s,]+", text) if number)


def _grey(colour: str) -> float:
    red, green, blue = (int(colour[i : i + 2], 16) for i in (1, 3, 5))
    assert red == green == blue
    return red / 255


def svg_by_svgelements(data: bytes, page: int = 0) -> Ink:
    """The shapes after the viewBox's own transformation; labels are left out."""
    assert page == 0
    drawing = svgelements.SVG.parse(BytesIO(data), ppi=25.4)
    # The library takes a mm for 3.7795296 px where CSS has 96/25.4: half a millionth too much.
    scale = 25.4 / 96 * 3.7795296
    ink = Ink(drawing.width / scale, drawing.height / scale)

    def place(point: svgelements.Point) -> Point:
        # SVG counts y downwards from the top.
        return point.x / scale, ink.height - point.y / scale

    for shape in drawing.elements(lambda element: isinstance(element, svgelements.Shape)):
        points = [place(point) for point in svgelements.Path(shape).as_points()]
        if isinstance(shape, svgelements.SimpleLine):
            dash = _numbers(shape.values.get("stroke-dasharray", ""))
            ink.strokes.append(Stroke(points[0], points[-1], shape.stroke_width / scale, dash))
        elif isinstance(shape, svgelements.Path) and _is_cut(shape.id):
            ink.cuts.append(tuple(place(segment.end) for segment in shape))
        elif isinstance(shape, svgelements.Path):
            ink.stroke([place(segment.end) for segment in shape], shape.stroke_width / scale, ())
        else:
            ink.fill(tuple(_distinct(points)), _grey(shape.fill.hex))
    return ink


def _distinct(points: list[Point]) -> list[Point]:
    """The corners of a closed path that names where one side ends and the next starts."""
    around = [points[-1], *points]
    return [point for before, point in pairwise(around) if before != point]


READERS: Final[dict[str, tuple[str, Reader]]] = {
    "PDF by pypdf": (".pdf", pdf_by_pypdf),
    "PDF by pdfium": (".pdf", pdf_by_pdfium),
    "SVG by an XML parser": (".svg", svg_by_xml),
    "SVG by svgelements": (".svg", svg_by_svgelements),
}
"""Every reader, with the file ending that it reads."""
