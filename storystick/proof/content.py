"""The figures and words that a page's content draws, whichever program wrote it (ISO 32000-1, 8 and 9)."""

from __future__ import annotations

from typing import Final

from pypdf import PdfReader
from pypdf.generic import ContentStream, DecodedStreamObject, DictionaryObject, StreamObject

from storystick.proof.figures import Bounds, Drawn
from storystick.proof.fonts import Font, read_font
from storystick.proof.layers import Layers, Showing
from storystick.proof.matrices import Matrix
from storystick.proof.objects import COSTLY, decoded, dictionary, entry, items, name_of, number_of
from storystick.proof.operators import OPERATORS
from storystick.proof.pen import Pen

LARGEST_CONTENT: Final = 8 * 2**20
"""No content of a page is larger once unpacked; the fullest sheet of a roll that we print has a tenth of it."""

_MOST_OPERATIONS: Final = 5_000_000
_DEEPEST: Final = 12


class PageReader:
    """Reads the pages of a file; what all of them may cost together is limited."""

    def __init__(self, reader: PdfReader) -> None:
        self._reader = reader
        self._left = _MOST_OPERATIONS
        self._fonts: dict[int, Font] = {}
        self._layers = Layers(dictionary(reader.trailer.get("/Root")))

    def draw(self, data: bytes, resources: DictionaryObject, place: Matrix, size: tuple[float, float]) -> Drawn:
        """What ``data`` draws on a page of ``size`` mm, to which ``place`` leads from the content's own units."""
        ink = Pen(place, Bounds(0.0, 0.0, *size))
        self._run(data, resources, ink, 0)
        return Drawn(*size, tuple(ink.figures), tuple(ink.words), tuple(ink.blots))

    def _run(self, data: bytes, resources: DictionaryObject, ink: Pen, depth: int) -> None:
        stream = DecodedStreamObject()
        stream.set_data(data)
        for operands, operator in ContentStream(stream, self._reader).operations:
            self._left -= 1
            if self._left < 0 or depth > _DEEPEST:
                raise COSTLY
            if operator == b"Do":
                self._form(dictionary(entry(resources, "/XObject")), operands[0], resources, ink, depth)
            elif operator == b"Tf":
                ink.set_font(self._font(dictionary(entry(resources, "/Font")), operands[0]), operands[1])
            elif operator == b"gs":
                ink.set_from(dictionary(entry(dictionary(entry(resources, "/ExtGState")), operands[0])))
            elif operator == b"BDC":
                ink.begin_marked(showing=self._showing(dictionary(entry(resources, "/Properties")), *operands))
            elif draw := OPERATORS.get(operator):
                draw(ink, operands)

    def _form(self, forms: DictionaryObject, name: str, outer: DictionaryObject, ink: Pen, depth: int) -> None:
        form = entry(forms, name)
        if not isinstance(form, StreamObject):
            return
        outside = ink.begin_form(self._layers.showing(form.raw_get("/OC")) if "/OC" in form else Showing.SHOWN)
        self._object(form, outer, ink, depth)
        ink.end_form(outside)

    def _object(self, form: StreamObject, outer: DictionaryObject, ink: Pen, depth: int) -> None:
        if name_of(entry(form, "/Subtype")) != "/Form":
            ink.picture()
            return
        ink.save()
        if matrix := items(entry(form, "/Matrix")):
            ink.transform(matrix)
        if box := items(entry(form, "/BBox")):
            left, bottom, right, top = map(number_of, box)
            ink.clip_to(Bounds(min(left, right), min(bottom, top), max(left, right), max(bottom, top)))
        resources = dictionary(entry(form, "/Resources")) or outer
        self._run(decoded(form, LARGEST_CONTENT, "what a page draws"), resources, ink, depth + 1)
        ink.restore()

    def _showing(self, properties: DictionaryObject, tag: object, layer: object) -> Showing:
        """Whether a piece of content shows: its layer is named among the properties of the page."""
        if tag != "/OC":
            return Showing.SHOWN
        named = isinstance(layer, str) and layer in properties
        return self._layers.showing(properties.raw_get(layer)) if named else Showing.UNSURE

    def _font(self, fonts: DictionaryObject, name: str) -> Font:
        font = dictionary(entry(fonts, name))
        if id(font) not in self._fonts:
            self._fonts[id(font)] = read_font(font)
        return self._fonts[id(font)]
