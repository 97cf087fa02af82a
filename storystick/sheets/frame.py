"""What every printed sheet carries: check bars in both directions, and the line that says what it is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.drawing.lettering import shortened
from storystick.drawing.shapes import Anchor, Box, Line, Shape, Text
from storystick.job.model import Job
from storystick.job.papers import Margins
from storystick.lengths import INCH_MM, Units, write_exact

FOOTER_MM: Final = 12.0
COLUMN_MM: Final = 8.0
_TEXT_PT: Final = 8.0
_END_MM: Final = 0.4
_BAR_MM: Final = 4.0
_LINE_BASELINE_MM: Final = 6.6

_BAR_LENGTHS: Final = {
    Units.INCH: tuple(INCH_MM * inches for inches in (15, 10, 8, 6, 4, 3, 2, 1)),
    Units.MM: tuple(Fraction(mm) for mm in (400, 250, 200, 150, 100, 75, 50, 25)),
}
_BAR_STEP: Final = {Units.INCH: INCH_MM, Units.MM: Fraction(10)}


@dataclass(frozen=True, slots=True)
class SheetFrame:
    """A sheet of ``width_mm`` by ``height_mm``, origin at its lower left corner, less its margins.

    The check bars stand along the lower and the right edge; what is left above and beside them is free.
    """

    width_mm: float
    height_mm: float
    margins: Margins

    @property
    def left(self) -> float:
        return float(self.margins.left)

    @property
    def bottom(self) -> float:
        return float(self.margins.bottom)

    @property
    def free_bottom(self) -> float:
        return self.bottom + FOOTER_MM

    @property
    def free_width(self) -> float:
        return self.width_mm - self.left - float(self.margins.right) - COLUMN_MM

    @property
    def free_height(self) -> float:
        return self.height_mm - float(self.margins.top) - self.free_bottom

    def furniture(self, job: Job, what: str) -> Iterator[Shape]:
        """The check bars, and the line with the job, its digest, ``what`` this sheet is, and how to print it."""
        words = f"{job.digest} · {what} · print at 100 %, no fit to page · measure both check bars · {job.title}"
        room = self.free_width + COLUMN_MM
        yield Text(self.left, self.bottom + _LINE_BASELINE_MM, shortened(words, _TEXT_PT, room), _TEXT_PT)
        yield from _level_bar(self.left, self.bottom, _longest(self.free_width, job.units), job.units)
        right = self.width_mm - float(self.margins.right)
        yield from _upright_bar(right, self.free_bottom, _longest(self.free_height, job.units), job.units)


def _longest(room: float, units: Units) -> Fraction:
    """The longest check bar, in mm, that the room holds; the shortest one where it holds none."""
    lengths = _BAR_LENGTHS[units]
    return next((length for length in lengths if length <= room), lengths[-1])


def _level_bar(x: float, y: float, length: Fraction, units: Units) -> Iterator[Shape]:
    """A bar from ``x`` to the right, whose ends' outer edges are exactly ``length`` apart."""
    span = float(length)
    yield Box(x, y, _END_MM, _BAR_MM)
    yield Box(x + span - _END_MM, y, _END_MM, _BAR_MM)
    yield Box(x, y, span, _END_MM)
    for tick in _ticks(length, units):
        yield Line(x + tick, y, x + tick, y + 1.4)
    yield Text(x + span / 2, y + 2.0, _bar_words(length, units), _TEXT_PT, Anchor.MIDDLE)


def _upright_bar(right: float, y: float, length: Fraction, units: Units) -> Iterator[Shape]:
    """The same upwards from ``y``, its back at ``right``."""
    span = float(length)
    yield Box(right - _BAR_MM, y, _BAR_MM, _END_MM)
    yield Box(right - _BAR_MM, y + span - _END_MM, _BAR_MM, _END_MM)
    yield Box(right - _END_MM, y, _END_MM, span)
    for tick in _ticks(length, units):
        yield Line(right, y + tick, right - 1.4, y + tick)
    yield Text(right - 2.0, y + span / 2, _bar_words(length, units), _TEXT_PT, Anchor.MIDDLE, upward=True)


def _ticks(length: Fraction, units: Units) -> Iterator[float]:
    step = _BAR_STEP[units]
    return (float(step * count) for count in range(1, int(length / step)))


def _bar_words(length: Fraction, units: Units) -> str:
    return f"check: {write_exact(length, units)} {units.sign} over all"
