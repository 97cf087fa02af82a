"""A stick at a glance, reduced to the width of a page. Not for measuring."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from storystick.drawing.lettering import shortened, text_width_mm
from storystick.drawing.shapes import Anchor, Area, Box, Line, Shape, Text
from storystick.job.model import Job
from storystick.layout.model import Span, SpanKind, StickLayout

BAND_MM: Final = 10.0
STICK_HEIGHT_MM: Final = BAND_MM + 5.0
_TEXT_PT: Final = 8.0
_LINE_MM: Final = 0.15


def draw_stick_overview(layout: StickLayout, job: Job, width_mm: float) -> Iterator[Shape]:
    """A stick reduced to ``width_mm``, its datum at the left, from y = 0 down to ``-STICK_HEIGHT_MM``."""
    scale = width_mm / float(layout.length)
    top, bottom = 0.0, -BAND_MM
    for span in layout.spans:
        left, right = float(span.start) * scale, float(span.end) * scale
        if span.kind is SpanKind.PART:
            yield Box(left, bottom, right - left, BAND_MM, 0.55)
        else:
            yield from _opening(span, job, left, right)
    for point in layout.points:
        yield Line(float(point.at) * scale, bottom, float(point.at) * scale, bottom + 1.4, _LINE_MM)
    for y in (top, bottom):
        yield Line(0.0, y, width_mm, y, _LINE_MM)
    for x in (0.0, width_mm):
        yield Line(x, top, x, bottom, _LINE_MM)
    yield Area(((0.0, bottom - 0.4), (2.2, bottom - 2.0), (2.2, bottom - 3.6), (0.0, bottom - 3.6)))
    yield Text(3.0, bottom - 3.4, f"0 datum, {layout.stick.datum.value}", _TEXT_PT)
    overall = f"{job.label(layout.length)} over all, {layout.stick.datum.far_end.value}"
    yield Text(width_mm, bottom - 3.4, overall, _TEXT_PT, Anchor.END)


def _opening(span: Span, job: Job, left: float, right: float) -> Iterator[Shape]:
    """Its name and size, as far as they fit between its parts."""
    room, middle = right - left - 1.0, (left + right) / 2
    size = job.label(span.size)
    yield Line(left, 0.0, left, -BAND_MM, _LINE_MM)
    if text_width_mm(size, _TEXT_PT, bold=True) <= room:
        yield Text(middle, -BAND_MM / 2 - 3.0, size, _TEXT_PT, Anchor.MIDDLE, bold=True)
        yield Text(middle, -BAND_MM / 2 + 1.2, shortened(span.name, _TEXT_PT, room), _TEXT_PT, Anchor.MIDDLE)
