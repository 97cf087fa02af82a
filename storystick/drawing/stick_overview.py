"""A stick reduced: its parts and openings with their names and sizes, to be looked at and not measured."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from storystick.drawing.lettering import NAME_MM, points_of, shortened, text_width_mm
from storystick.drawing.shapes import Anchor, Area, Box, Line, Rect, Shape, Text, outline
from storystick.layout.stations import PointKind, Span, SpanKind, StickLayout
from storystick.lengths import Figures

BAND_MM: Final = 13.0
FOOT_MM: Final = 5.0
STICK_HEIGHT_MM: Final = BAND_MM + FOOT_MM
"""From the upper edge of the stick to the foot of the words below it."""

_WORDS_PT: Final = points_of(NAME_MM)
_OUTLINE_MM: Final = 0.5
_EDGE_MM: Final = 0.25
_PART_GREY: Final = 0.55
_GROOVE_MM: Final = 2.0
_TICK_MM: Final = 1.8
_PITCH_MM: Final = 4.6
_FOOT_BASELINE_MM: Final = BAND_MM + 4.0


def draw_stick_overview(layout: StickLayout, figures: Figures, width_mm: float) -> Iterator[Shape]:
    """A stick reduced to ``width_mm``, its datum at the left, from y = 0 down to ``-STICK_HEIGHT_MM``."""
    scale = width_mm / float(layout.length)
    for span in layout.spans:
        left, right = float(span.start) * scale, float(span.end) * scale
        if span.kind is SpanKind.PART:
            yield Box(left, -BAND_MM, right - left, BAND_MM, _PART_GREY)
        else:
            yield Line(left, 0.0, left, -BAND_MM, _EDGE_MM)
            yield from _opening(span, figures, left, right)
    for groove in layout.grooves:
        yield Box(float(groove.start) * scale, -_GROOVE_MM, float(groove.size) * scale, _GROOVE_MM)
    for point in layout.points:
        if point.kind is not PointKind.STRAIGHTEDGE:
            x = float(point.at) * scale
            yield Line(x, -BAND_MM, x, _TICK_MM - BAND_MM, _EDGE_MM)
    yield from outline(Rect(0.0, -BAND_MM, width_mm, 0.0), _OUTLINE_MM)
    yield from _foot(layout, figures, width_mm)


def _foot(layout: StickLayout, figures: Figures, width_mm: float) -> Iterator[Shape]:
    """The datum with its end of the stick at the left, the length with the other end at the right."""
    datum, overall = f"0 {layout.stick.datum.value}", f"{figures(layout.length)} {layout.stick.datum.far_end.value}"
    yield Area(((0.0, -BAND_MM), (1.6, -_FOOT_BASELINE_MM), (0.0, -_FOOT_BASELINE_MM)))
    yield Text(2.6, -_FOOT_BASELINE_MM, datum, _WORDS_PT, bold=True)
    yield Text(width_mm, -_FOOT_BASELINE_MM, overall, _WORDS_PT, Anchor.END, bold=True)


def _opening(span: Span, figures: Figures, left: float, right: float) -> Iterator[Shape]:
    """Its size, and its name above that, as far as they fit between its parts."""
    room, middle, size = right - left - 1.6, (left + right) / 2, figures(span.size)
    width = text_width_mm(size, _WORDS_PT, bold=True)
    baseline = -BAND_MM / 2 - NAME_MM / 2
    if width > room:
        if width <= BAND_MM - _TICK_MM - _GROOVE_MM and room >= NAME_MM:
            yield Text(middle + NAME_MM / 2, -BAND_MM / 2, size, _WORDS_PT, Anchor.MIDDLE, bold=True, upward=True)
        return
    name = shortened(span.name, _WORDS_PT, room)
    if len(name) > 2:
        yield Text(middle, baseline + _PITCH_MM / 2, name, _WORDS_PT, Anchor.MIDDLE)
        baseline -= _PITCH_MM / 2
    yield Text(middle, baseline, size, _WORDS_PT, Anchor.MIDDLE, bold=True)
