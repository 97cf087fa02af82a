"""Dimension lines of reduced drawings, with their figures. All in mm on paper."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from storystick.drawing.lettering import NAME_MM, WORDS_PT, text_width_mm
from storystick.drawing.placing_words import spread
from storystick.drawing.shapes import NARROW_MM, WIDE_MM, Anchor, Line, Shape, Text

_TICK_MM: Final = 0.8
_OFF_MM: Final = 3.5
_CLEAR_MM: Final = 0.8
_TO_FIGURE_MM: Final = 1.1
_BESIDE_MM: Final = 0.9
_BEYOND_MM: Final = 3.0


@dataclass(frozen=True, slots=True)
class Measure:
    """A length as it is drawn, from ``start`` to ``end`` in mm, with its figure.

    ``rank`` says which figures are left out first where they have no room: 0 is kept longest.
    """

    start: float
    end: float
    figure: str
    rank: int = 0

    @property
    def middle(self) -> float:
        return (self.start + self.end) / 2

    @property
    def holds_figure(self) -> bool:
        return text_width_mm(self.figure, WORDS_PT) + 1.0 <= self.end - self.start

    @property
    def width_mm(self) -> float:
        """How much of a level chain its figure takes: it stands upward where it is longer than what it measures."""
        return text_width_mm(self.figure, WORDS_PT) if self.holds_figure else NAME_MM


def level_chain(measures: Sequence[Measure], edge: float, above: bool = False, band: float = 0.0) -> Iterator[Shape]:
    """Dimension lines side by side under ``edge``, or ``above`` it; a figure that is too wide stands upward.

    ``band`` more is left before the lines. Nothing is drawn where no figure has room.
    """
    out = 1.0 if above else -1.0
    level = edge + out * (band + _OFF_MM)
    placed = list(_placed(measures, [measure.width_mm for measure in measures]))
    for measure in measures if placed else ():
        yield from level_line(measure.start, measure.end, level, edge + out * _CLEAR_MM, level + out * _CLEAR_MM)
    for measure, x in placed:
        near = level + out * _TO_FIGURE_MM
        if measure.holds_figure:
            yield Text(x, near if above else near - NAME_MM, measure.figure, WORDS_PT, Anchor.MIDDLE)
        else:
            anchor = Anchor.START if above else Anchor.END
            yield Text(x + NAME_MM / 2, near, measure.figure, WORDS_PT, anchor, upward=True)


def upright_chain(measures: Sequence[Measure], edge: float, right: bool = False, band: float = 0.0) -> Iterator[Shape]:
    """Dimension lines one above another to the left of ``edge``, or ``right`` of it, their figures level."""
    out = 1.0 if right else -1.0
    plumb = edge + out * (band + _OFF_MM)
    placed = list(_placed(measures, [NAME_MM] * len(measures)))
    for measure in measures if placed else ():
        yield from upright_line(measure.start, measure.end, plumb, edge + out * _CLEAR_MM, plumb + out * _CLEAR_MM)
    for measure, y in placed:
        anchor = Anchor.START if right else Anchor.END
        yield Text(plumb + out * (_TO_FIGURE_MM + 0.5), y - NAME_MM / 2, measure.figure, WORDS_PT, anchor)


def upright_measure(measure: Measure, edge: float, right: bool = False, band: float = 0.0) -> Iterator[Shape]:
    """A single dimension line beside ``edge``, its figure upward where it is long enough."""
    if not measure.holds_figure:
        yield from upright_chain([measure], edge, right, band)
        return
    out = 1.0 if right else -1.0
    plumb = edge + out * (band + _OFF_MM)
    yield from upright_line(measure.start, measure.end, plumb, edge + out * _CLEAR_MM, plumb + out * _CLEAR_MM)
    x = plumb + out * _TO_FIGURE_MM + (NAME_MM if right else 0.0)
    yield Text(x, measure.middle, measure.figure, WORDS_PT, Anchor.MIDDLE, upward=True)


def level_line(start: float, end: float, level: float, near: float, far: float) -> Iterator[Line]:
    """A dimension line at a height, with extension lines at both ends from ``near`` what is measured to ``far`` off."""
    yield Line(start, level, end, level, NARROW_MM)
    for x in (start, end):
        yield Line(x, near, x, far, NARROW_MM)
        yield _tick(x, level)


def upright_line(start: float, end: float, plumb: float, near: float, far: float) -> Iterator[Line]:
    """The same upright at ``plumb``, with level extension lines."""
    yield Line(plumb, start, plumb, end, NARROW_MM)
    for y in (start, end):
        yield Line(near, y, far, y, NARROW_MM)
        yield _tick(plumb, y)


def _placed(measures: Sequence[Measure], sizes: Sequence[float]) -> Iterator[tuple[Measure, float]]:
    """Where figures beside each other stand, each as near to its middle as can be.

    Those of the highest ranks are left out where all have no room near their lengths, at last all.
    """
    for most in sorted({measure.rank for measure in measures}, reverse=True):
        kept = [(measure, size) for measure, size in zip(measures, sizes, strict=True) if measure.rank <= most]
        low, high = measures[0].start - _BEYOND_MM, measures[-1].end + _BEYOND_MM
        middles = [measure.middle for measure, _ in kept]
        places = spread(middles, [size for _, size in kept], _BESIDE_MM, low, high)
        if places and all(map(_is_near, (measure for measure, _ in kept), places)):
            yield from zip((measure for measure, _ in kept), places, strict=True)
            return


def _is_near(measure: Measure, place: float) -> bool:
    """Whether a figure stands so near its length that it is read for no other."""
    return abs(place - measure.middle) <= (measure.end - measure.start) / 2 + _BEYOND_MM


def _tick(x: float, y: float) -> Line:
    return Line(x - _TICK_MM, y - _TICK_MM, x + _TICK_MM, y + _TICK_MM, WIDE_MM)
