"""A page of shapes as an SVG, full size.

The user unit is the mm: x is the drawing's own, and y is turned over, since SVG counts it downwards.
"""

from __future__ import annotations

from collections.abc import Callable
from io import StringIO
from typing import Any, Final

from svgwrite import Drawing

from storystick.drawing.lettering import FAMILY, POINT_MM
from storystick.drawing.shapes import Area, Box, Line, Shape, Text
from storystick.sheets.document import Document, Page

_FONTS: Final = f"{FAMILY}, DejaVu Sans, Verdana, sans-serif"


def render(document: Document) -> bytes:
    """The SVG file of a document with one page; its attachments, bookmarks and label stay behind.

    Raises:
        Fault: a text has a character that the font lacks.
        ValueError: there is not exactly one page.
    """
    if len(document.pages) != 1:
        raise ValueError(f"an SVG holds one page, not {len(document.pages)}")
    (page,) = document.pages
    drawing = _sheet(page)
    drawing.set_desc(document.title, document.subject)
    for shape in page.shapes:
        _DRAW[type(shape)](shape, drawing)
    text = StringIO()
    drawing.write(text)
    return text.getvalue().encode()


def _sheet(page: Page) -> Drawing:
    drawing = Drawing(
        debug=False,  # Else the library checks every value that it is given, and takes three times as long.
        size=(f"{page.width_mm}mm", f"{page.height_mm}mm"),
        font_family=_FONTS,
        shape_rendering="geometricPrecision",
    )
    drawing.viewbox(page.left_mm, _down(page.bottom_mm + page.height_mm), page.width_mm, page.height_mm)
    # A browser cuts each side to 1/64 of its pixel; what the shorter side loses would else shrink the longer one too.
    drawing.stretch()
    return drawing


def _line(shape: Line, drawing: Drawing) -> None:
    dash = {"stroke_dasharray": " ".join(map(str, shape.dash_mm))} if shape.dash_mm else {}
    start, end = (shape.x1, _down(shape.y1)), (shape.x2, _down(shape.y2))
    drawing.add(drawing.line(start, end, stroke="black", stroke_width=shape.width_mm, **dash))


def _box(shape: Box, drawing: Drawing) -> None:
    corner = (shape.x, _down(shape.y + shape.height))
    drawing.add(drawing.rect(corner, (shape.width, shape.height), fill=_colour(shape.grey)))


def _area(shape: Area, drawing: Drawing) -> None:
    points = [(x, _down(y)) for x, y in shape.points]
    drawing.add(drawing.polygon(points, fill=_colour(shape.grey)))


def _text(shape: Text, drawing: Drawing) -> None:
    x, y = shape.x, _down(shape.y)
    look: dict[str, Any] = {"font_weight": "bold"} if shape.bold else {}
    if shape.upward:
        look["transform"] = f"rotate(-90 {x} {y})"
    drawing.add(
        drawing.text(
            shape.text,
            insert=(x, y),
            font_size=shape.size_pt * POINT_MM,
            text_anchor=shape.anchor.value,
            # So that a font put in place of this one cannot make labels overlap.
            textLength=shape.width_mm,
            lengthAdjust="spacingAndGlyphs",
            **look,
        )
    )


_DRAW: Final[dict[type[Shape], Callable[[Any, Drawing], None]]] = {Line: _line, Box: _box, Area: _area, Text: _text}


def _down(y: float) -> float:
    return 0.0 - y


def _colour(grey: float) -> str:
    return f"#{round(255 * grey):02x}" + 2 * f"{round(255 * grey):02x}"
