"""Dimension lines of pictures that are not to scale, with their figures. All in mm on paper."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from storystick.drawing.lettering import CAPITAL_MM, WORDS_PT, text_width_mm
from storystick.drawing.placing_words import spread
from storystick.drawing.shapes import Anchor, Line, Shape, Text

_FINE_MM: Final = 0.13
_OFF_MM: Final = 2.6
_CLEAR_MM: Final = 0.7
_TICK_MM: Final = 0.55
_TO_FIGURE_MM: Final = 1.0
_ABREAST_MM: Final = 3.0
_BESIDE_MM: Final = 0.3


@dataclass(frozen=True, slots=True)
class Measure:
    """A length as it is drawn, from ``start`` to ``end`` in mm, with its figure."""

    start: float
    end: float
    figure: str

    @property
    def middle(self) -> float:
        return (self.start + self.end) / 2

    @property
    def holds_figure(self) -> bool:
        return text_width_mm(self.figure, WORDS_PT) + 1.0 <= self.end - self.start


def measures_below(measures: Sequence[Measure], edge: float) -> Iterator[Shape]:
    """Dimension lines side by side under ``edge``; figures that are wider than their lengths all stand upward."""
    level = edge - _OFF_MM
    for measure in measures:
        yield from level_line(measure.start, measure.end, level, edge - _CLEAR_MM, level - _CLEAR_MM)
    if len(measures) == 1 or all(measure.holds_figure for measure in measures):
        baseline = level - _TO_FIGURE_MM - CAPITAL_MM
        yield from (Text(measure.middle, baseline, measure.figure, WORDS_PT, Anchor.MIDDLE) for measure in measures)
        return
    for measure, x in _abreast(measures):
        place = (x + CAPITAL_MM / 2, level - _TO_FIGURE_MM)
        yield Text(*place, measure.figure, WORDS_PT, Anchor.END, upward=True)


def measures_at_left(measures: Sequence[Measure], edge: float) -> Iterator[Shape]:
    """Dimension lines one above another to the left of ``edge``, their figures level."""
    plumb = edge - _OFF_MM
    for measure in measures:
        yield from upright_line(measure.start, measure.end, plumb, edge - _CLEAR_MM, plumb - _CLEAR_MM)
    for measure, y in _abreast(measures):
        place = (plumb - _TO_FIGURE_MM, y - CAPITAL_MM / 2)
        yield Text(*place, measure.figure, WORDS_PT, Anchor.END)


def measure_at_right(measure: Measure, edge: float) -> Iterator[Shape]:
    """A dimension line to the right of ``edge``, its figure upward where it is long enough."""
    plumb = edge + _OFF_MM
    yield from upright_line(measure.start, measure.end, plumb, edge + _CLEAR_MM, plumb + _CLEAR_MM)
    beside = plumb + _TO_FIGURE_MM
    if measure.holds_figure:
        place = (beside + CAPITAL_MM, measure.middle)
        yield Text(*place, measure.figure, WORDS_PT, Anchor.MIDDLE, upward=True)
    else:
        yield Text(beside, measure.middle - CAPITAL_MM / 2, measure.figure, WORDS_PT)


def level_line(start: float, end: float, level: float, near: float, far: float) -> Iterator[Line]:
    """A dimension line at a height, with extension lines at both ends from ``near`` what is measured to ``far`` off."""
    yield Line(start, level, end, level, _FINE_MM)
    for x in (start, end):
        yield Line(x, near, x, far, _FINE_MM)
        yield _tick(x, level)


def upright_line(start: float, end: float, plumb: float, near: float, far: float) -> Iterator[Line]:
    """The same upright at ``plumb``, with level extension lines."""
    yield Line(plumb, start, plumb, end, _FINE_MM)
    for y in (start, end):
        yield Line(near, y, far, y, _FINE_MM)
        yield _tick(plumb, y)


def _abreast(measures: Sequence[Measure]) -> Iterator[tuple[Measure, float]]:
    """Where figures beside each other stand, each as near to its middle as can be; none where they have no room."""
    if not measures:
        return
    room = max(0.0, _ABREAST_MM - measures[-1].end + measures[0].start) / 2
    low, high = measures[0].start - room, measures[-1].end + room
    middles = [measure.middle for measure in measures]
    places = spread(middles, [_ABREAST_MM] * len(measures), _BESIDE_MM, low, high)
    yield from zip(measures, places or (), strict=False)


def _tick(x: float, y: float) -> Line:
    return Line(x - _TICK_MM, y - _TICK_MM, x + _TICK_MM, y + _TICK_MM, 2 * _FINE_MM)
