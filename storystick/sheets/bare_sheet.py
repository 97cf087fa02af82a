"""What a printed sheet carries: the line that says what it is, and where something is measured its check bars.

Lengths are as they come out on the paper; the printer's correction is put on where a sheet becomes a page, nowhere
else. A corrected sheet ends with the page and with the paper: where a printer prints too short, the page of the file
ends first; where it prints too long, the paper does. Both keep the margins.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial
from math import ceil
from typing import Final

from storystick.drawing.lettering import CAPITAL_MM, WORDS_PT, shortened
from storystick.drawing.shapes import Anchor, Box, Line, Shape, Text, scaled
from storystick.job.job import Job
from storystick.job.papers import Margins
from storystick.lengths import INCH_MM, Units, write_exact
from storystick.sheets.document import Drawn, Page

FOOTER_MM: Final = 12.0
COLUMN_MM: Final = 8.0
_END_MM: Final = 0.4
_BAR_MM: Final = 4.0
_LINE_BASELINE_MM: Final = 6.6
_WORDS_RULE_MM: Final = 3.0

CHECK_WORD: Final = "check:"
"""The words of a check bar begin with it."""

_BAR_LENGTHS: Final = {
    Units.INCH: tuple(INCH_MM * inches for inches in (15, 10, 8, 6, 4, 3, 2, 1)),
    Units.MM: tuple(Fraction(mm) for mm in (400, 250, 200, 150, 100, 75, 50, 25)),
}
_STEP: Final = {Units.INCH: INCH_MM, Units.MM: Fraction(10)}
"""Of the ticks of a check bar, and of the lengths that sheets are cut off a roll in; in mm."""

_SHORTEST_OFF_A_ROLL: Final = Fraction(250)
"""A sheet cut off a roll has room for the line at its foot, in mm."""


@dataclass(frozen=True, slots=True)
class Correction:
    """What everything on a sheet is drawn times, to the right and up, to come out full size on a printer.

    ``printer`` is its name, empty where none was measured.
    """

    to_right: Fraction = Fraction(1)
    upward: Fraction = Fraction(1)
    printer: str = ""

    @property
    def turned(self) -> Correction:
        """The same for a sheet that is looked at upright, with its long side going up."""
        return Correction(self.upward, self.to_right, self.printer)


def correction_of(job: Job) -> Correction:
    """That of the job's printer, for a sheet with its long side level: that way, it is fed."""
    printer = job.printer
    return Correction(printer.along, printer.across, printer.name) if printer else Correction()


@dataclass(frozen=True, slots=True)
class BareSheet:
    """A sheet, origin at its lower left corner, less its margins. All lengths are as they come out on the paper.

    The page in the file is ``page_width`` by ``page_height`` mm, as the paper is; on it everything is drawn
    ``correction`` times. What is drawn larger ends with the page, what is drawn smaller, since it comes out larger,
    with the paper.
    The check bars stand along the lower and the right edge; what is left above and beside them is free.
    """

    page_width: Fraction
    page_height: Fraction
    margins: Margins
    correction: Correction = Correction()

    @property
    def width_mm(self) -> float:
        """So much of the width can be printed on."""
        return float(_within_both(self.page_width, self.correction.to_right))

    @property
    def height_mm(self) -> float:
        """So much of the height can be printed on."""
        return float(_within_both(self.page_height, self.correction.upward))

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
    def free_length(self) -> Fraction:
        """How much of the width is free, exactly."""
        return _within_both(self.page_width, self.correction.to_right) - self.beside

    @property
    def beside(self) -> Fraction:
        """How much of the width is not free: margins, and the upright check bar."""
        return self.margins.left + self.margins.right + Fraction(COLUMN_MM)

    @property
    def above_and_below(self) -> Fraction:
        """How much of the height is not free: margins, the level check bar and the line."""
        return self.margins.top + self.margins.bottom + Fraction(FOOTER_MM)

    @property
    def free_width(self) -> float:
        return float(self.free_length)

    @property
    def free_height(self) -> float:
        return self.height_mm - float(self.margins.top) - self.free_bottom

    def page(self, shapes: Sequence[Shape] | Drawn, label: str, bookmarks: tuple[str, ...] = ()) -> Page:
        """The page of the file, on which the shapes are drawn as the correction asks, when it is written."""
        across, up = float(self.correction.to_right), float(self.correction.upward)
        drawn = Drawn(partial(scaled, shapes, across, up))
        return Page(float(self.page_width), float(self.page_height), drawn, label, bookmarks)

    def furniture(self, job: Job, what: str) -> Iterator[Shape]:
        """The check bars, and the line with the job, its digest, ``what`` this sheet is, and how to print it."""
        how = ("print at 100 %", "measure both check bars")
        words = " · ".join(filter(None, (job.digest, what, self._drawn_for(), *how, job.title)))
        yield from self.marked(words, job.units)

    def marked(self, words: str, units: Units) -> Iterator[Shape]:
        """The check bars, and a line of any words."""
        room = self.free_width + COLUMN_MM
        yield Text(self.left, self.bottom + _LINE_BASELINE_MM, shortened(words, WORDS_PT, room), WORDS_PT)
        yield from _level_bar(self.left, self.bottom, self.level_check(units), units)
        right = self.width_mm - float(self.margins.right)
        yield from _upright_bar(right, self.free_bottom, _longest(self.free_height, units), units)

    def words_line(self, job: Job, what: str) -> Iterator[Shape]:
        """The line of a page of words, under a rule: with nothing on it that is measured, it has no check bars."""
        line, width = self.free_bottom - _WORDS_RULE_MM, self.free_width
        words = shortened(" · ".join((job.digest, what, job.title)), WORDS_PT, width)
        yield Line(self.left, line, self.left + width, line)
        yield Text(self.left, line - CAPITAL_MM - 1.0, words, WORDS_PT)

    def level_check(self, units: Units) -> Fraction:
        """The length of the level check bar, in mm."""
        return _longest(self.free_width, units)

    def _drawn_for(self) -> str:
        """Which correction the sheet is drawn with, to five decimals: along a sheet of 5 m that is 0.05 mm."""
        if not self.correction.printer:
            return ""
        level, upright = (f"× {float(factor):.5f}" for factor in (self.correction.to_right, self.correction.upward))
        return f"for {self.correction.printer}: {level} level, {upright} upright"


def level_sheet(job: Job) -> BareSheet:
    """A sheet of the job's paper with its long side level, as strips lie on it."""
    return BareSheet(job.paper.long_side, job.paper.short_side, job.margins, correction_of(job))


def cut_off(bare: BareSheet, used_mm: float, units: Units) -> BareSheet:
    """A sheet cut off a roll: as long as ``used_mm`` of its free width need, to the next whole inch or cm."""
    needed = max(bare.beside + Fraction(used_mm), _SHORTEST_OFF_A_ROLL)
    step = _STEP[units]
    # For a printer that prints too small all is drawn larger, so the page is longer than what comes out.
    length = ceil(needed * max(bare.correction.to_right, Fraction(1)) / step) * step
    return replace(bare, page_width=min(length, bare.page_width))


def _within_both(page: Fraction, factor: Fraction) -> Fraction:
    """What lies within both a page and the paper of its size, when everything on the page is drawn ``factor`` times."""
    return page / max(factor, Fraction(1))


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
    yield Text(x + span / 2, y + 2.0, _bar_words(length, units), WORDS_PT, Anchor.MIDDLE)


def _upright_bar(right: float, y: float, length: Fraction, units: Units) -> Iterator[Shape]:
    """The same upwards from ``y``, its back at ``right``."""
    span = float(length)
    yield Box(right - _BAR_MM, y, _BAR_MM, _END_MM)
    yield Box(right - _BAR_MM, y + span - _END_MM, _BAR_MM, _END_MM)
    yield Box(right - _END_MM, y, _END_MM, span)
    for tick in _ticks(length, units):
        yield Line(right, y + tick, right - 1.4, y + tick)
    yield Text(right - 2.0, y + span / 2, _bar_words(length, units), WORDS_PT, Anchor.MIDDLE, upward=True)


def _ticks(length: Fraction, units: Units) -> Iterator[float]:
    step = _STEP[units]
    return (float(step * count) for count in range(1, int(length / step)))


def _bar_words(length: Fraction, units: Units) -> str:
    return f"{CHECK_WORD} {write_exact(length, units)} {units.sign} over all"
