"""The running scale along a strip's upper edge."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor
from typing import Final

from storystick.drawing.lettering import WORDS_PT, text_width_mm
from storystick.drawing.placing_words import Lane
from storystick.drawing.shapes import FINE_MM, Anchor, Line, Shape, Text
from storystick.drawing.strip_lanes import StripLanes
from storystick.drawing.window import WORDS_KEEP_MM, Window
from storystick.lengths import INCH_MM, Figures, Units, write_exact

_TICKS_MM: Final = (1.0, 1.6, 2.3)
_NUMBER_MM: Final = 0.4
_DATUM_KEEP_MM: Final = 1.6


@dataclass(frozen=True, slots=True)
class _Graduation:
    """A scale's finest step in mm, and after how many steps a longer tick and a number come."""

    step: Fraction
    longer: int
    numbered: int


_GRADUATIONS: Final = {
    Units.INCH: _Graduation(INCH_MM / 4, 2, 4),
    Units.MM: _Graduation(Fraction(5), 2, 10),
}


def draw_scale(
    window: Window, lanes: StripLanes, figures: Figures, taken: Iterable[tuple[float, float]]
) -> Iterator[Shape]:
    """Ticks at round stations; numbers where nothing is in their way.

    ``taken`` are the stretches where something of the head stands that a number would be read together with.
    """
    lane = Lane(list(taken))
    if window.start == 0:
        lane.take(*sorted((window.x(window.start), window.x(window.start) + window.direction * _DATUM_KEEP_MM)))
    scale = _GRADUATIONS[figures.units]
    for count in range(ceil(window.start / scale.step), floor(window.end / scale.step) + 1):
        station = count * scale.step
        x = window.x(station)
        length = _TICKS_MM[(count % scale.longer == 0) + (count % scale.numbered == 0)]
        yield Line(x, lanes.height_mm, x, lanes.height_mm - length, FINE_MM)
        if count % scale.numbered == 0:
            yield from _number(x, write_exact(station, figures.units), window, lanes, lane)


def _number(x: float, figure: str, window: Window, lanes: StripLanes, lane: Lane) -> Iterator[Shape]:
    half = text_width_mm(figure, WORDS_PT) / 2
    fits = half <= x - WORDS_KEEP_MM and half <= window.width - WORDS_KEEP_MM - x
    if fits and lane.is_free(x - half, x + half):
        lane.take(x - half, x + half)
        yield Text(x, lanes.scale_bottom + _NUMBER_MM, figure, WORDS_PT, Anchor.MIDDLE)
