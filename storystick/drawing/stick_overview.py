"""A stick reduced: its parts and openings with their names and sizes, to be looked at and not measured.

It is drawn in one row, or in several where its openings have no room for their words in one.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Final

from storystick.drawing.lettering import NAME_MM, points_of, shortened, text_width_mm
from storystick.drawing.shapes import Anchor, Area, Box, Line, Shape, Text, moved
from storystick.layout.stations import PointKind, Span, SpanKind, StickLayout
from storystick.lengths import Figures

BAND_MM: Final = 13.0
ROW_MM: Final = BAND_MM + 7.5
"""A row with the words below it and room to the next."""

_WORDS_PT: Final = points_of(NAME_MM)
_OUTLINE_MM: Final = 0.5
_EDGE_MM: Final = 0.25
_PART_GREY: Final = 0.55
_GROOVE_MM: Final = 2.0
_TICK_MM: Final = 1.8
_PITCH_MM: Final = 4.6
_AROUND_MM: Final = 1.6
_FOOT_BASELINE_MM: Final = BAND_MM + 4.0
_LEAST_LETTERS: Final = 3


@dataclass(frozen=True, slots=True)
class StickOverview:
    """A stick from its datum in rows ``width_mm`` wide or less, which meet at ``breaks``: stations where spans end."""

    layout: StickLayout
    figures: Figures
    width_mm: float
    breaks: tuple[Fraction, ...] = ()

    @property
    def rows(self) -> list[tuple[Fraction, Fraction]]:
        return list(pairwise((Fraction(0), *self.breaks, self.layout.length)))

    @property
    def scale(self) -> float:
        return self.width_mm / float(max(end - start for start, end in self.rows))

    @property
    def height_mm(self) -> float:
        return ROW_MM * len(self.rows)

    @property
    def cut_short(self) -> int:
        """How many openings do not show their name and size in full; a size that is not shown counts as all names."""
        openings = [span for span in self.layout.spans if span.kind is SpanKind.OPENING]
        sizes = sum(not self._holds(span, self.figures(span.size), bold=True) for span in openings)
        return sizes * (len(openings) + 1) + sum(not self._holds(span, span.name) for span in openings)

    def _holds(self, span: Span, words: str, bold: bool = False) -> bool:
        return text_width_mm(words, _WORDS_PT, bold) <= float(span.size) * self.scale - _AROUND_MM

    def draw(self) -> Iterator[Shape]:
        """From y = 0 down, its datum at the left of the first row."""
        for number, (start, end) in enumerate(self.rows):
            yield from moved(self._row(start, end), 0.0, -number * ROW_MM)

    def _row(self, start: Fraction, end: Fraction) -> Iterator[Shape]:
        def x(station: Fraction) -> float:
            return float(station - start) * self.scale

        for span in self.layout.spans:
            if start <= span.start < end:
                yield from self._span(span, x(span.start), x(span.end))
        for groove in self.layout.grooves:
            if start <= groove.start < end:
                yield Box(x(groove.start), -_GROOVE_MM, float(groove.size) * self.scale, _GROOVE_MM)
        for point in self.layout.points:
            if start <= point.at <= end and point.kind is not PointKind.STRAIGHTEDGE:
                yield Line(x(point.at), -BAND_MM, x(point.at), _TICK_MM - BAND_MM, _EDGE_MM)
        for y in (0.0, -BAND_MM):
            yield Line(-_OUTLINE_MM / 2, y, x(end) + _OUTLINE_MM / 2, y, _OUTLINE_MM)
        for station in (start, end):
            wide = _OUTLINE_MM if station in (0, self.layout.length) else _EDGE_MM
            yield Line(x(station), 0.0, x(station), -BAND_MM, wide)
        yield from self._foot(start, end, x(end))

    def _span(self, span: Span, left: float, right: float) -> Iterator[Shape]:
        if span.kind is SpanKind.PART:
            yield Box(left, -BAND_MM, right - left, BAND_MM, _PART_GREY)
            return
        yield Line(left, 0.0, left, -BAND_MM, _EDGE_MM)
        middle, size = (left + right) / 2, self.figures(span.size)
        baseline = -BAND_MM / 2 - NAME_MM / 2
        if not self._holds(span, size, bold=True):
            upward = text_width_mm(size, _WORDS_PT, bold=True) <= BAND_MM - _TICK_MM - _GROOVE_MM
            if upward and right - left >= NAME_MM + _AROUND_MM:
                yield Text(middle + NAME_MM / 2, -BAND_MM / 2, size, _WORDS_PT, Anchor.MIDDLE, bold=True, upward=True)
            return
        name = shortened(span.name, _WORDS_PT, right - left - _AROUND_MM)
        if name == span.name or len(name) > _LEAST_LETTERS:
            yield Text(middle, baseline + _PITCH_MM / 2, name, _WORDS_PT, Anchor.MIDDLE)
            baseline -= _PITCH_MM / 2
        yield Text(middle, baseline, size, _WORDS_PT, Anchor.MIDDLE, bold=True)

    def _foot(self, start: Fraction, end: Fraction, right: float) -> Iterator[Shape]:
        """The stations of both ends of a row, with the words for the ends of the stick."""
        datum = self.layout.stick.datum
        near = f"0 {datum.value}" if not start else self.figures(start)
        far = self.figures(end) if end < self.layout.length else f"{self.figures(end)} {datum.far_end.value}"
        if not start:
            yield Area(((0.0, -BAND_MM), (1.6, -_FOOT_BASELINE_MM), (0.0, -_FOOT_BASELINE_MM)))
        room = right - 2.6 - text_width_mm(near, _WORDS_PT, bold=True) - _AROUND_MM
        yield Text(2.6 if not start else 0.0, -_FOOT_BASELINE_MM, near, _WORDS_PT, bold=True)
        if text_width_mm(far, _WORDS_PT, bold=True) <= room:
            yield Text(right, -_FOOT_BASELINE_MM, far, _WORDS_PT, Anchor.END, bold=True)


def overview_of(layout: StickLayout, figures: Figures, width_mm: float, most_rows: int) -> StickOverview:
    """The stick in as few rows, of ``most_rows`` at most, as show the most of its words."""
    choices = (StickOverview(layout, figures, width_mm, _breaks(layout, count)) for count in range(1, most_rows + 1))
    return min(choices, key=lambda view: view.cut_short)


def _breaks(layout: StickLayout, rows: int) -> tuple[Fraction, ...]:
    """Where spans end, as near as can be to where so many rows of one length would."""
    ends = [span.end for span in layout.spans[:-1]]
    wanted = (layout.length * row / rows for row in range(1, rows))
    return tuple(sorted({min(ends, key=lambda end: abs(end - at)) for at in wanted})) if ends else ()
