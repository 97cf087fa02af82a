"""A wall with its features and heights, on which a run is drawn: its strips are lines with a letter beside it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import Final

from storystick.drawing.lettering import NAME_MM, SIZE_MM, WORDS_PT, shortened, text_width_mm
from storystick.drawing.placing_words import Lane, spread
from storystick.drawing.rings import radius_of, ring
from storystick.drawing.shapes import NARROW_MM, Anchor, Area, Line, Shape, Text
from storystick.job.features import Feature, FeatureRow, WallOpening
from storystick.job.runs import Run
from storystick.job.sticks import Datum
from storystick.layout.runs import Placed, RunLayout
from storystick.layout.stations import Layout, Span, StickLayout
from storystick.layout.walls.features import feature_points, levels_of
from storystick.lengths import Figures

_PITCH_MM: Final = 4.2
_DASH_MM: Final = (2.4, 1.2)
_TICK_MM: Final = 2.0
_BESIDE_MM: Final = 1.5
_LINE_MM: Final = 6.0
"""The strip's line lies in the middle of so much room."""

_HEIGHTS_MM: Final = 38.0
_MOST_LANES: Final = 3
_FLAG_MM: Final = 2.2


@dataclass(frozen=True)
class Wall:
    """A run's wall, and the letters of its strips; one without a letter is not printed."""

    layout: RunLayout
    letter: str
    hung_letter: str
    heights_letter: str

    @property
    def run(self) -> Run:
        return self.layout.run

    @property
    def heights(self) -> StickLayout | None:
        return self.layout.heights

    @cached_property
    def length(self) -> float:
        return float(self.run.length)

    @cached_property
    def height(self) -> float:
        """Of the highest that stands there or is marked on it, in mm."""
        tops = (placed.z.end for placed in self.layout.placed if placed.z)
        levels = self.heights.lettered_edges if self.heights else ()
        return float(max([*tops, *levels], default=self.run.length / 4))

    @property
    def items(self) -> tuple[Placed, ...]:
        """What stands along it with its place, from the left."""
        standing = self.layout.standing
        return standing if self.run.datum is Datum.LEFT else standing[::-1]

    def left_of(self, span: Span) -> tuple[float, float]:
        """From where to where it reaches from the left end of the wall, in mm."""
        start, end = sorted((self.x(float(span.start)), self.x(float(span.end))))
        return start, end

    def x(self, station: float) -> float:
        """How far a station lies from the left end of the wall, in mm."""
        return station if self.run.datum is Datum.LEFT else self.length - station

    @property
    def left_mm(self) -> float:
        """The room beside the wall for the line of the strip of heights."""
        return _LINE_MM + _BESIDE_MM + radius_of(self.heights_letter) if self.heights_letter else _BESIDE_MM

    @property
    def right_mm(self) -> float:
        """The room beside the wall for the words at its heights."""
        return _HEIGHTS_MM if self.heights else _BESIDE_MM

    @property
    def _lanes(self) -> int:
        return min(_MOST_LANES, len(self.run.features))

    @property
    def above_mm(self) -> float:
        """The room above the wall for its features' names and the line of its strip."""
        lines = sum(2 * radius_of(letter) + _BESIDE_MM for letter in self._along)
        return self._lanes * _PITCH_MM + _TICK_MM + lines

    @property
    def _along(self) -> list[str]:
        """The letters of the strips along the wall, that of what hangs there first."""
        return [letter for letter in (self.hung_letter, self.letter) if letter]

    def draw(self, start: float, end: float, figures: Figures, scale: float, first: bool) -> Iterator[Shape]:
        """What shows from one place to another, in mm from the left of the wall, drawn from the floor at the start.

        Words at the heights stand beside the ``first`` of several stretches only.
        """
        width = (end - start) * scale
        yield from self._levels(width, figures, scale, first)
        yield from self._features(start, end, figures, scale)
        edge = self.height * scale + self._lanes * _PITCH_MM + _TICK_MM
        for letter in self._along:
            y = edge + radius_of(letter)
            yield from _measured(0.0, width, y)
            datum = self.x(0.0)
            if start <= datum <= end:
                yield _flag((datum - start) * scale, y, 1 if self.run.datum is Datum.LEFT else -1)
            yield from ring(letter, width / 2, y, SIZE_MM).draw()
            edge = y + radius_of(letter) + _BESIDE_MM

    def _levels(self, width: float, figures: Figures, scale: float, first: bool) -> Iterator[Shape]:
        """A broken line at every height, with its name and figure beside the wall; the strip at the other side."""
        levels = [(float(at) * scale, name, figures(at)) for name, at in levels_of(self.run)]
        for y, _, _ in levels:
            yield Line(-_BESIDE_MM, y, width + _BESIDE_MM, y, NARROW_MM, _DASH_MM)
        if not first or not self.heights:
            return
        places = spread(
            [y for y, _, _ in levels], [_PITCH_MM] * len(levels), 0.0, 0.0, self.height * scale + 2 * _PITCH_MM
        )
        room = _HEIGHTS_MM - 2 * _BESIDE_MM
        for middle, (_, words, figure) in zip(places or (), levels, strict=False):
            name = shortened(words, WORDS_PT, room - text_width_mm(f" {figure}", WORDS_PT, bold=True))
            y, x = middle - NAME_MM / 2, width + 2 * _BESIDE_MM
            yield Text(x, y, f"{name} ", WORDS_PT)
            yield Text(x + text_width_mm(f"{name} ", WORDS_PT), y, figure, WORDS_PT, bold=True)
        yield from self._heights_strip(self.heights, scale) if self.heights_letter else ()

    def _heights_strip(self, heights: StickLayout, scale: float) -> Iterator[Shape]:
        """The strip of heights as a line with a tick at each of its marks."""
        x, top = -_BESIDE_MM - _LINE_MM / 2, float(heights.length) * scale
        yield Line(x, 0.0, x, top, NARROW_MM)
        for at in (Fraction(0), *heights.lettered_edges):
            y = float(at) * scale
            yield Line(x - 1.0, y, x + 1.0, y, NARROW_MM)
        yield from ring(self.heights_letter, x, top / 2, SIZE_MM).draw()

    def _features(self, start: float, end: float, figures: Figures, scale: float) -> Iterator[Shape]:
        """Each that stands alone a broken line up the wall, each of a row a tick, and their names above."""
        top = self.height * scale
        lanes = [Lane() for _ in range(self._lanes)]
        for feature in self.run.features:
            points = (self.x(float(point.at)) for point in feature_points(feature, self.run.length, figures))
            shown = sorted((x - start) * scale for x in points if start <= x <= end)
            foot = _foot(feature, scale, top)
            for x in shown:
                dash = () if isinstance(feature, FeatureRow) else _DASH_MM
                yield Line(x, foot, x, top + _TICK_MM, NARROW_MM, dash)
            if isinstance(feature, WallOpening) and len(shown) == 2:
                for y in (foot, min(top, float(feature.top or self.run.length) * scale)):
                    yield Line(shown[0], y, shown[1], y, NARROW_MM)
            if shown:
                yield from _name(feature.name, shown[0], top + _TICK_MM, (end - start) * scale, lanes)


def walls_of(layout: Layout, letters: Mapping[str, str]) -> tuple[Wall, ...]:
    """The walls of a layout's runs; ``letters`` are those of strips by the names of their sticks."""
    return tuple(
        Wall(run, *(letters.get(stick.name, "") if stick else "" for stick in (run.along, run.hung, run.heights)))
        for run in layout.runs
    )


def _foot(feature: Feature | FeatureRow | WallOpening, scale: float, top: float) -> float:
    """From how high on the line of a feature runs up the wall; that of a row is a tick above."""
    match feature:
        case Feature(height=height):
            return float(height or 0) * scale
        case WallOpening(bottom=bottom):
            return float(bottom) * scale
    return top


def _name(words: str, x: float, bottom: float, width: float, lanes: list[Lane]) -> Iterator[Text]:
    """A name in the lowest lane that has room for it, from its line to the right, or to the left at the wall's end."""
    long = text_width_mm(words, WORDS_PT)
    anchor, left = (Anchor.START, x) if x + long <= width else (Anchor.END, x - long)
    for number, lane in enumerate(lanes):
        if lane.is_free(left - 1.0, left + long + 1.0):
            lane.take(left - 1.0, left + long + 1.0)
            yield Text(x, bottom + number * _PITCH_MM + 0.6, words, WORDS_PT, anchor)
            return


def _measured(left: float, right: float, y: float) -> Iterator[Line]:
    """A level line with an end at both sides."""
    yield Line(left, y, right, y, NARROW_MM)
    for x in (left, right):
        yield Line(x, y - 1.0, x, y + 1.0, NARROW_MM)


def _flag(x: float, y: float, inward: int) -> Shape:
    """The datum: a black arrow against the zero end."""
    return Area(((x, y), (x + inward * _FLAG_MM, y + 1.0), (x + inward * _FLAG_MM, y - 1.0)))
