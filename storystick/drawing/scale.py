"""The running scale along a strip's upper edge, from the datum, and the stations of its seams."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor
from typing import Final

from storystick.drawing.lanes import WORDS_KEEP_MM, WORDS_PT, StripLanes
from storystick.drawing.lettering import text_width_mm
from storystick.drawing.shapes import FINE_MM, Anchor, Line, Shape, Text
from storystick.drawing.spread import Lane
from storystick.drawing.window import Window
from storystick.job.model import Job
from storystick.lengths import INCH_MM, Units, write_exact

_TICKS_MM: Final = (1.2, 1.9, 2.6)
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


def draw_scale(window: Window, lanes: StripLanes, job: Job) -> Iterator[Shape]:
    """Ticks at round stations; numbers where neither a seam's station nor the end of the strip is in their way."""
    lane = Lane()
    if window.start == 0:
        lane.take(*sorted((window.x(window.start), window.x(window.start) + window.direction * _DATUM_KEEP_MM)))
    for seam in window.seams:
        yield _seam_station(seam, window, lanes, job, lane)
    scale = _GRADUATIONS[job.units]
    for count in range(ceil(window.start / scale.step), floor(window.end / scale.step) + 1):
        station = count * scale.step
        x = window.x(station)
        length = _TICKS_MM[(count % scale.longer == 0) + (count % scale.numbered == 0)]
        yield Line(x, lanes.height_mm, x, lanes.height_mm - length, FINE_MM)
        if count % scale.numbered == 0:
            yield from _number(x, write_exact(station, job.units), window, lanes, lane)


def _seam_station(seam: Fraction, window: Window, lanes: StripLanes, job: Job, lane: Lane) -> Shape:
    x = window.x(seam)
    inward = 1 if x == 0 else -1
    figure = job.label(seam)
    width = text_width_mm(figure, WORDS_PT, bold=True)
    near = x + inward * WORDS_KEEP_MM
    lane.take(*sorted((x, near + inward * width)))
    anchor = Anchor.START if inward > 0 else Anchor.END
    return Text(near, lanes.scale_bottom + 0.8, figure, WORDS_PT, anchor, bold=True)


def _number(x: float, figure: str, window: Window, lanes: StripLanes, lane: Lane) -> Iterator[Shape]:
    half = text_width_mm(figure, WORDS_PT) / 2
    fits = half <= x - WORDS_KEEP_MM and half <= window.width - WORDS_KEEP_MM - x
    if fits and lane.is_free(x - half, x + half):
        lane.take(x - half, x + half)
        yield Text(x, lanes.scale_bottom + 0.8, figure, WORDS_PT, Anchor.MIDDLE)
