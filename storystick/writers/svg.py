"""A page of shapes as an SVG, full size, in layers: what is marked, what is lettered and what is cut through.

The user unit is the mm: x is the drawing's own, and y is turned over, since SVG counts it downwards. A layer is a group
with an id and a title, and with the label by which editors list it; what is cut comes last, as machines cut it last.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from io import StringIO
from itertools import groupby
from typing import Any, Final, NamedTuple

from svgwrite import Drawing
from svgwrite.base import BaseElement
from svgwrite.container import SVG, Group
from svgwrite.extensions import Inkscape

from storystick.drawing.lettering import FAMILY, POINT_MM
from storystick.drawing.shapes import EDGE_MM, Area, Box, Line, Path, Rect, Shape, Text
from storystick.sheets.document import Document, Look, Page, Pen

_FONTS: Final = f"{FAMILY}, DejaVu Sans, Verdana, sans-serif"
_BLACK: Final = "#000000"
_ROUNDING_MM: Final = 1e-6
_PLACES: Final = 2
"""Of what is only looked at, and never struck from."""


def render(document: Document) -> bytes:
    """The SVG file of a document with one page; its attachments, bookmarks and label stay behind.

    Raises:
        Fault: a text has a character that the font lacks, or its letters cannot be made outlines.
        ValueError: there is not exactly one page.
    """
    if len(document.pages) != 1:
        raise ValueError(f"an SVG holds one page, not {len(document.pages)}")
    (page,), look = document.pages, document.look
    drawing = _sheet(page)
    drawing.set_desc(document.title, document.subject)
    for layer in (_marks(page, look, drawing), _letters(page, look, drawing), _cuts(page, look, drawing)):
        if len(layer.elements) > 1:  # More than its title.
            drawing.add(layer)
    text = StringIO()
    drawing.write(text)
    return text.getvalue().encode()


class Link(NamedTuple):
    """A place of a picture that leads somewhere: its rectangle, and what an HTML page is to know of it."""

    rect: Rect
    attributes: Mapping[str, str]


def picture(page: Page, words: str, links: Iterable[Link] = ()) -> str:
    """A page as an element for inside an HTML page, as large as on paper; ``words`` say what is seen.

    It has no ids, so that one page can hold several. What is cut through stays behind. ``links`` lie over all ink.

    Raises:
        Fault: a text has a character that the font lacks.
    """
    drawing, black = Drawing(debug=False, profile="full"), {"fill": _BLACK, "stroke": "none"}
    over = [_link(link, drawing) for link in links]
    drawn = SVG(
        size=(f"{page.width_mm:.{_PLACES}f}mm", f"{page.height_mm:.{_PLACES}f}mm"),
        font_family=_FONTS,
        # Who listens to an img is told of nothing in it.
        role="group" if over else "img",
        debug=False,
        **{"aria-label": words},
    )
    top = _down(page.bottom_mm + page.height_mm)
    drawn.viewbox(*(round(each, _PLACES) for each in (page.left_mm, top, page.width_mm, page.height_mm)))
    marks, letters = drawing.g(**black), drawing.g(**black)
    shapes = list(map(_short, page.shapes))
    for element in _joined([shape for shape in shapes if not isinstance(shape, Text)], drawing):
        marks.add(element)
    for shape in shapes:
        if isinstance(shape, Text):
            letters.add(_text(shape, drawing))
    for each in (marks, letters, *over):
        drawn.add(each)
    text: str = drawn.tostring()
    return text


class _Anchor(Group):  # type: ignore[misc]
    """The library's own opens a new window, and names its target as older files do."""

    elementname = "a"


def _link(link: Link, drawing: Drawing) -> BaseElement:
    left, bottom, right, top = (round(edge, _PLACES) for edge in link.rect)
    found = _Anchor(debug=False, href="#", **link.attributes)
    found.add(drawing.rect((left, _down(top)), (round(right - left, _PLACES), round(top - bottom, _PLACES))))
    return found


def _short(shape: Shape) -> Shape:
    """The shape with figures as short as a screen can show."""
    if isinstance(shape, Area | Path):
        return replace(shape, points=tuple((round(x, _PLACES), round(y, _PLACES)) for x, y in shape.points))
    kind: Any = type(shape)
    sizes = (getattr(shape, name) for name in kind.__match_args__)
    short: Shape = kind(*(round(size, _PLACES) if isinstance(size, float) else size for size in sizes))
    return short


def _joined(shapes: Iterable[Shape], drawing: Drawing) -> Iterator[BaseElement]:
    """Shapes in their order; lines of one look that follow on each other are one element, for each costs a browser."""
    for _, own in groupby(shapes, key=lambda shape: isinstance(shape, Line) and (shape.width_mm, shape.dash_mm)):
        group = list(own)
        lines = [shape for shape in group if isinstance(shape, Line)]
        if not lines:
            yield from (_DRAW[type(shape)](shape, drawing, None) for shape in group)
            continue
        ends = "".join(f"M{line.x1} {_down(line.y1)} L{line.x2} {_down(line.y2)}" for line in lines)
        yield drawing.path(ends, **_lines_of(Pen(_BLACK, lines[0].width_mm)), **_dashed(lines[0].dash_mm))


def _sheet(page: Page) -> Drawing:
    drawing = Drawing(
        debug=False,  # Else the library checks every value that it is given, and takes three times as long.
        profile="full",
        size=(f"{page.width_mm}mm", f"{page.height_mm}mm"),
        font_family=_FONTS,
        shape_rendering="geometricPrecision",
    )
    drawing.viewbox(page.left_mm, _down(page.bottom_mm + page.height_mm), page.width_mm, page.height_mm)
    # A browser cuts each side to 1/64 of its pixel; what the shorter side loses would else shrink the longer one too.
    drawing.stretch()
    return drawing


# The layers.


def _marks(page: Page, look: Look, drawing: Drawing) -> BaseElement:
    """Ink as it is; or all of it as lines of one pen, an area by its outline."""
    shapes = [shape for shape in page.shapes if not isinstance(shape, Text)]
    layer = _layer("mark", drawing, **(_lines_of(look.mark) if look.mark else {"fill": _BLACK, "stroke": "none"}))
    for shape in _bare(shapes) if look.mark else shapes:
        layer.add(_DRAW[type(shape)](shape, drawing, look.mark))
    return layer


def _letters(page: Page, look: Look, drawing: Drawing) -> BaseElement:
    layer = _layer("text", drawing, **(_lines_of(look.text) if look.text else {"fill": _BLACK, "stroke": "none"}))
    draw = _outlines if look.outlines else _text
    for shape in page.shapes:
        if isinstance(shape, Text):
            layer.add(draw(shape, drawing))
    return layer


def _cuts(page: Page, look: Look, drawing: Drawing) -> BaseElement:
    layer = _layer("cut", drawing, **_lines_of(look.cut))
    for number, path in enumerate(page.cut):
        element = _path(path, drawing, look.cut)
        element["id"] = f"cut-out-{number}" if number else "outline"
        layer.add(element)
    return layer


def _layer(name: str, drawing: Drawing, **look: Any) -> BaseElement:
    layer = Inkscape(drawing).layer(name, id=name, **look)
    del drawing.attribs["xmlns:sodipodi"]  # Which nothing here is of.
    layer.set_desc(title=name)
    return layer


def _lines_of(pen: Pen) -> dict[str, Any]:
    return {"fill": "none", "stroke": pen.colour, "stroke_width": pen.width_mm}


def _bare(shapes: Sequence[Shape]) -> Iterator[Shape]:
    """What is left to trace of shapes: a band and its black edges are one thing."""
    boxes = [shape for shape in shapes if isinstance(shape, Box)]
    return (
        shape
        for shape in shapes
        if not (isinstance(shape, Box) and any(_belongs_to(shape, other) for other in boxes if other is not shape))
    )


def _belongs_to(box: Box, other: Box) -> bool:
    """Whether it is the grey of a black box, or the black edge of a grey one."""
    inside = box.extent.lies_in(other.extent.wider(_ROUNDING_MM))
    narrow = min(box.width, box.height) <= EDGE_MM + _ROUNDING_MM
    return inside and bool(box.grey) is not bool(other.grey) and (bool(box.grey) or narrow)


# The shapes.


def _line(shape: Line, drawing: Drawing, pen: Pen | None) -> BaseElement:
    start, end = (shape.x1, _down(shape.y1)), (shape.x2, _down(shape.y2))
    pen = pen or Pen(_BLACK, shape.width_mm)
    return drawing.line(start, end, stroke=pen.colour, stroke_width=pen.width_mm, **_dashed(shape.dash_mm))


def _dashed(dash_mm: Sequence[float]) -> dict[str, str]:
    return {"stroke_dasharray": " ".join(map(str, dash_mm))} if dash_mm else {}


def _box(shape: Box, drawing: Drawing, pen: Pen | None) -> BaseElement:
    corner = (shape.x, _down(shape.y + shape.height))
    return drawing.rect(corner, (shape.width, shape.height), **_filled(shape.grey, pen))


def _area(shape: Area, drawing: Drawing, pen: Pen | None) -> BaseElement:
    points = [(x, _down(y)) for x, y in shape.points]
    return drawing.polygon(points, **_filled(shape.grey, pen))


def _path(shape: Path, drawing: Drawing, pen: Pen | None) -> BaseElement:
    points = " L".join(f"{x} {_down(y)}" for x, y in shape.points)
    return drawing.path(f"M{points}{' Z' if shape.closed else ''}", **_lines_of(pen or Pen(_BLACK, shape.width_mm)))


_DRAW: Final[dict[type[Shape], Callable[[Any, Drawing, Pen | None], BaseElement]]] = {
    Line: _line,
    Box: _box,
    Area: _area,
    Path: _path,
}


def _text(shape: Text, drawing: Drawing) -> BaseElement:
    x, y = shape.x, _down(shape.y)
    look: dict[str, Any] = {"font_weight": "bold"} if shape.bold else {}
    if shape.upward:
        look["transform"] = f"rotate(-90 {x} {y})"
    return drawing.text(
        shape.text,
        insert=(x, y),
        font_size=shape.size_pt * POINT_MM,
        text_anchor=shape.anchor.value,
        # So that a font put in place of this one cannot make labels overlap.
        textLength=shape.width_mm,
        lengthAdjust="spacingAndGlyphs",
        **look,
    )


def _outlines(shape: Text, drawing: Drawing) -> BaseElement:
    """A path with the words as its title."""
    from storystick.writers.glyphs import outlines_of  # needs fontTools, which nothing else does

    path = drawing.path(outlines_of(shape))
    path.set_desc(title=shape.text)
    return path


def _filled(grey: float, pen: Pen | None) -> dict[str, Any]:
    return _lines_of(pen) if pen else {"fill": _grey(grey)}


def _down(y: float) -> float:
    return 0.0 - y


def _grey(grey: float) -> str:
    return f"#{round(255 * grey):02x}" + 2 * f"{round(255 * grey):02x}"
