"""What PDFium says of a page: every object with the matrix that it is drawn by, every letter, every note.

PDFium keeps a number in single precision: within 0.00003 mm on A3, within 0.0004 mm on a sheet of 5 m.
"""

from __future__ import annotations

import ctypes
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from dataclasses import dataclass, field
from itertools import chain, groupby, pairwise
from typing import Any, Final

from pypdfium2 import PdfDocument, PdfMatrix, PdfPage, raw

from storystick.drawing.lettering import POINT_MM
from storystick.errors import Fault
from storystick.proof.marks import Bounds, Mark, PageContent, Point, Word, around
from storystick.proof.opening import reading

MOST_OBJECTS: Final = 100_000
"""No page with more is compared: of ours, the fullest has a fifth of that."""

_DEEPEST_FORM: Final = 8
_SLACK: Final = 1e-3
"""An edge of what cuts off may lie so far, in points, within what it holds: rounding."""

_WHOLE_PAGE: Final = Bounds(-1e6, -1e6, 1e6, 1e6)
_MOVE_OR_LINE: Final = (raw.FPDF_SEGMENT_MOVETO, raw.FPDF_SEGMENT_LINETO)
_SPACES: Final = " \N{NO-BREAK SPACE}"
_BLACK: Final = (0, 0, 0, 255)


@contextmanager
def pages_of(data: bytes) -> Iterator[Sequence[PdfPage]]:
    """The pages of a file, closed with it at the end of the block.

    Raises:
        Fault: the file or a page of it cannot be read.
    """
    with reading():
        document = PdfDocument(data)
    with closing(document):
        with reading():
            pages = list(document)
        yield pages


def label_of(page: PdfPage, index: int) -> str:
    """What a viewer calls a page."""
    with reading():
        label: str = page.pdf.get_page_label(index)
        return label


def read_page(page: PdfPage, unit: float) -> PageContent:
    """What is on a page whose unit is ``unit`` points.

    Raises:
        Fault: there is more on it than can be compared.
    """
    left, bottom, right, top = page.get_bbox()
    turn = page.get_rotation() // 90
    width, height = (right - left) * unit * POINT_MM, (top - bottom) * unit * POINT_MM
    # A page is turned clockwise by quarters, about its own lower left corner.
    turns = ((), (0, -1, 1, 0, 0, width), (-1, 0, 0, -1, width, height), (0, 1, -1, 0, height))
    place = PdfMatrix().translate(-left, -bottom).scale(unit * POINT_MM, unit * POINT_MM)
    place = place.multiply(PdfMatrix(*turns[turn]))
    found = _Gathered()
    found.add(page, raw.FPDFPage_CountObjects, raw.FPDFPage_GetObject, place)
    size = (height, width) if turn % 2 else (width, height)
    words, notes = tuple(_words(page, place, found.odd)), tuple(_notes(page, place))
    return PageContent(*size, tuple(found.marks), words, tuple(found.others), notes)


@dataclass
class _Gathered:
    """Marks and other things in the order in which they are drawn, those in forms where the form is.

    ``odd`` has the addresses of letters that are not drawn plainly.
    """

    marks: list[Mark] = field(default_factory=list)
    others: list[Bounds] = field(default_factory=list)
    odd: set[int] = field(default_factory=set)
    seen: int = 0

    def add(self, holder: Any, count: Any, get: Any, place: PdfMatrix, depth: int = 0) -> None:
        """All things of a page or a form."""
        for index in range(count(holder)):
            self.seen += 1
            if self.seen > MOST_OBJECTS:
                raise Fault(f"there is too much on the page to be compared: more than {MOST_OBJECTS} things")
            self._add(get(holder, index), place, depth)

    def _add(self, thing: Any, place: PdfMatrix, depth: int) -> None:
        kind, shines = raw.FPDFPageObj_GetType(thing), bool(raw.FPDFPageObj_HasTransparency(thing))
        if kind == raw.FPDF_PAGEOBJ_PATH:
            self.marks.extend(_marks(thing, place, shines))
            return
        if kind == raw.FPDF_PAGEOBJ_FORM and depth < _DEEPEST_FORM:
            within = _matrix(thing).multiply(place)
            self.add(thing, raw.FPDFFormObj_CountObjects, raw.FPDFFormObj_GetObject, within, depth + 1)
        if shines or not _PLAIN.get(kind, _never)(thing):
            self.others.append(Bounds(*place.on_rect(*_bounds(thing))))
            self.odd.add(_address(thing))


def _address(thing: Any) -> int:
    return ctypes.cast(thing, ctypes.c_void_p).value or 0


def _marks(thing: Any, place: PdfMatrix, shines: bool) -> Iterator[Mark]:
    """An area or a line for each part of a path."""
    whole, to_page = not shines and _shows_whole(thing), _matrix(thing).multiply(place)
    look, width = _look(thing, to_page)
    filled = look[0] != raw.FPDF_FILLMODE_NONE
    segments = [raw.FPDFPath_GetPathSegment(thing, index) for index in range(raw.FPDFPath_CountSegments(thing))]
    for points, straight in _parts(segments):
        corners = _distinct(points) if filled else points
        kind = (*look, len(corners), straight, whole)
        yield Mark(tuple(to_page.on_point(*corner) for corner in corners), kind, width)


def _look(thing: Any, to_page: PdfMatrix) -> tuple[tuple[object, ...], float]:
    """How a path is filled or stroked, and the width of its stroke in mm."""
    fill, stroke = ctypes.c_int(), ctypes.c_int()
    raw.FPDFPath_GetDrawMode(thing, fill, stroke)
    areas = _colour(raw.FPDFPageObj_GetFillColor, thing) if fill.value else None
    if not stroke.value:
        return (fill.value, areas), 0.0
    width = ctypes.c_float()
    raw.FPDFPageObj_GetStrokeWidth(thing, width)
    lines, dashed = _colour(raw.FPDFPageObj_GetStrokeColor, thing), raw.FPDFPageObj_GetDashCount(thing) > 0
    stretch = abs(to_page.a * to_page.d - to_page.b * to_page.c) ** 0.5
    return (fill.value, areas, lines, dashed, raw.FPDFPageObj_GetLineCap(thing)), width.value * stretch


def _parts(segments: Sequence[Any]) -> Iterator[tuple[list[Point], bool]]:
    """The parts of a path, each by its points, and whether it has no curve."""
    points: list[Point] = []
    straight = True
    for segment in segments:
        kind = raw.FPDFPathSegment_GetType(segment)
        if kind == raw.FPDF_SEGMENT_MOVETO and points:
            yield points, straight
            points, straight = [], True
        points.append(_point(segment))
        straight = straight and kind in _MOVE_OR_LINE
    if points:
        yield points, straight


def _distinct(points: list[Point]) -> list[Point]:
    """The corners of a polygon, each named once."""
    corners = points[:1] + [point for before, point in pairwise(points) if before != point]
    while len(corners) > 1 and corners[-1] == corners[0]:
        corners.pop()
    return corners


def _shows_whole(thing: Any) -> bool:
    """Whether whatever cuts off is an upright rectangle that holds all of the thing."""
    clip = raw.FPDFPageObj_GetClipPath(thing)
    count = raw.FPDFClipPath_CountPaths(clip) if clip else -1
    if count < 1:
        return count < 0  # 0 paths: it is cut off by letters
    bounds = _bounds(thing)
    return all(_holds(clip, index, bounds) for index in range(count))


def _holds(clip: Any, index: int, bounds: Bounds) -> bool:
    count = raw.FPDFClipPath_CountPathSegments(clip, index)
    parts = list(_parts([raw.FPDFClipPath_GetPathSegment(clip, index, number) for number in range(count)]))
    if len(parts) != 1 or not parts[0][1]:
        return False
    corners = _distinct(parts[0][0])
    upright = all(x == other_x or y == other_y for (x, y), (other_x, other_y) in pairwise([*corners, corners[0]]))
    return upright and len(corners) == len(set(corners)) == 4 and around(corners).grown(_SLACK).holds(bounds)


def _plain_letters(thing: Any) -> bool:
    """Whether letters are black and filled, which all of ours are."""
    mode = raw.FPDFTextObj_GetTextRenderMode(thing)
    return mode == raw.FPDF_TEXTRENDERMODE_FILL and _colour(raw.FPDFPageObj_GetFillColor, thing) == _BLACK


def _never(_: Any) -> bool:
    return False


_PLAIN: Final = {raw.FPDF_PAGEOBJ_TEXT: _plain_letters, raw.FPDF_PAGEOBJ_FORM: _shows_whole}
"""Whether a thing that is no path is drawn as it stands; pictures and shades are none of ours."""


_x, _y = ctypes.c_float(), ctypes.c_float()


def _point(segment: Any) -> Point:
    raw.FPDFPathSegment_GetPoint(segment, _x, _y)
    return _x.value, _y.value


def _matrix(thing: Any) -> PdfMatrix:
    matrix = raw.FS_MATRIX()
    raw.FPDFPageObj_GetMatrix(thing, matrix)
    return PdfMatrix.from_raw(matrix)


def _bounds(thing: Any) -> Bounds:
    edges = [ctypes.c_float() for _ in range(4)]
    if not raw.FPDFPageObj_GetBounds(thing, *edges):
        return _WHOLE_PAGE
    return Bounds(*(edge.value for edge in edges))


def _colour(get: Any, thing: Any) -> tuple[int, ...] | None:
    """Red, green, blue and how much covers, 0 to 255; None for a pattern."""
    parts = [ctypes.c_uint() for _ in range(4)]
    return tuple(part.value for part in parts) if get(thing, *parts) else None


def _words(page: Any, place: PdfMatrix, odd: set[int]) -> Iterator[Word]:
    """The words of a page without the letters of ``odd`` things."""
    text = raw.FPDFText_LoadPage(page)
    try:
        signs = [
            (index, chr(raw.FPDFText_GetUnicode(text, index)))
            for index in range(raw.FPDFText_CountChars(text))
            if not (odd and _address(raw.FPDFText_GetTextObject(text, index)) in odd)
        ]
        for stands, letters in groupby(signs, lambda letter: _stands(text, *letter)):
            if stands:
                indices, word = zip(*letters, strict=True)
                starts, rooms = zip(*(_letter(text, index, place) for index in indices), strict=True)
                yield Word("".join(word), starts, around(chain.from_iterable(rooms)))
    finally:
        raw.FPDFText_ClosePage(text)


def _stands(text: Any, index: int, sign: str) -> bool:
    """Whether a letter is on the page: PDFium puts in spaces and ends of lines."""
    return sign not in _SPACES and raw.FPDFText_IsGenerated(text, index) != 1


_edges = tuple(ctypes.c_double() for _ in range(6))


def _letter(text: Any, index: int, place: PdfMatrix) -> tuple[Point, tuple[Point, Point]]:
    """Where a letter begins on its baseline, and two corners of its room."""
    raw.FPDFText_GetCharOrigin(text, index, *_edges[:2])
    raw.FPDFText_GetCharBox(text, index, *_edges[2:])
    x, y, left, right, bottom, top = (edge.value for edge in _edges)
    return place.on_point(x, y), (place.on_point(left, bottom), place.on_point(right, top))


def _notes(page: Any, place: PdfMatrix) -> Iterator[Bounds]:
    """The places of annotations; one that does not say where it lies may lie anywhere."""
    for index in range(raw.FPDFPage_GetAnnotCount(page)):
        note, box = raw.FPDFPage_GetAnnot(page, index), raw.FS_RECTF()
        placed = bool(note) and bool(raw.FPDFAnnot_GetRect(note, box))
        if note:
            raw.FPDFPage_CloseAnnot(note)
        somewhere = placed and (box.left != box.right or box.bottom != box.top)
        edges = (box.left, box.bottom, box.right, box.top) if somewhere else _WHOLE_PAGE
        yield Bounds(*place.on_rect(*edges))
