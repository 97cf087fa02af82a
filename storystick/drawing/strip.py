"""A strip: the printed picture of a stick, drawn whole or in the pieces that sheets of paper can hold.

Seen with the text upright, the marking edge is the lower one, at y = 0. From there up: the bands of the parts, the
grooves, the names, the stations that found no room at the foot, the tile's head, and a running scale along the upper
edge.
A wrapped strip runs on below the marking edge, where it is folded.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import partial
from math import ceil, floor, inf
from typing import Final

from storystick.drawing.lettering import WORDS_PT, text_width_mm
from storystick.drawing.placing_words import Lane
from storystick.drawing.shapes import FINE_MM, Anchor, Line, Shape, Text
from storystick.drawing.strip_bands import draw_bands, draw_wrap, wrap_register_heights
from storystick.drawing.strip_head import Head, write_head
from storystick.drawing.strip_labels import PlacedLabels, draw_labels, place_labels
from storystick.drawing.strip_lanes import REGISTER_MM, StripLanes
from storystick.drawing.strip_lifting import LeftOut
from storystick.drawing.window import WORDS_KEEP_MM, Window, windows_between
from storystick.job.job import Hands, Job
from storystick.job.sticks import Hand
from storystick.layout.alike import LetteredStick, lettered_sticks
from storystick.layout.stations import Face, Layout, StickLayout
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


@dataclass(frozen=True, slots=True)
class Strip:
    """One strip to draw: a stick's layout, the hand that it is laid as, and the job's words.

    ``wrap`` is how far it runs on below its marking edge, in mm. ``letter`` is what it is called by on paper,
    ``serves`` are the sticks that it stands for, and ``serves_words`` say them. Of a strip for faces of both hands,
    ``fronts`` are their words and whether it lies there as a left hand does. ``faces`` are where it is laid.
    """

    layout: StickLayout
    laid: Hand | None
    job: Job
    wrap: Fraction = Fraction(0)
    letter: str = ""
    serves: tuple[str, ...] = ()
    serves_words: str = ""
    fronts: tuple[tuple[str, bool], ...] = ()
    faces: tuple[Face, ...] = ()

    @property
    def hand(self) -> Hand | None:
        """Which of a pair it is; None for a stick with no pair, however that is laid."""
        return self.laid if self.layout.stick.pair else None

    @property
    def name(self) -> str:
        """The strip's name among all strips of the job."""
        return f"{self.layout.name}, {self.hand.value} hand" if self.hand else self.layout.name

    @property
    def told(self) -> str:
        """What it is told by: its letter, whom it serves, and its hand."""
        hand = f", {self.hand.value} hand" if self.hand else ""
        return "  ".join(filter(None, (self.letter, f"{self.serves_words or self.layout.name}{hand}")))

    @property
    def words(self) -> tuple[str, ...]:
        """Every name that is lettered on it, each once."""
        spans = (span.name for span in (*self.layout.spans, *self.layout.beside))
        return tuple(dict.fromkeys((self.layout.name, *spans, *(point.words for point in self.layout.points))))


@dataclass(frozen=True, slots=True)
class StripPiece:
    """What there is of one window, from x = 0 at its left, as high as it needs; it is drawn when it is asked for.

    ``right_mm`` is how far right its lettering reaches; ``left_out`` counts the labels that found no room.
    """

    window: Window
    draw: Callable[[], Iterable[Shape]] = field(repr=False, compare=False)
    height_mm: float
    right_mm: float
    left_out: LeftOut

    @property
    def shapes(self) -> tuple[Shape, ...]:
        return tuple(self.draw())


@dataclass(frozen=True, slots=True)
class StripDrawing:
    """A strip in its pieces, in order from the datum, each as high as it needs.

    ``wrap_mm`` is what lies below the marking edge besides.
    ``register_mm`` are the heights at which all pieces are free for register marks, so that they meet at the seams.
    """

    strip: Strip
    register_mm: tuple[float, ...]
    pieces: tuple[StripPiece, ...]
    wrap_mm: float = 0.0

    @property
    def height_mm(self) -> float:
        """That of its highest piece."""
        return max(piece.height_mm for piece in self.pieces)

    @property
    def left_out(self) -> LeftOut:
        """The labels that found no room on any of the pieces."""
        return sum((piece.left_out for piece in self.pieces), LeftOut())


def strips_of(layout: Layout) -> tuple[Strip, ...]:
    """Every strip that a layout asks for: one for sticks that are alike, and of a pair one of each hand.

    Of a pair there is one where the job asks for one hand: the other is struck from the first, face to face.
    """
    hands = (Hand.LEFT,) if layout.job.hands is Hands.ONE else (Hand.LEFT, Hand.RIGHT)
    return tuple(
        _strip_of(lettered, laid, layout.job)
        for lettered in lettered_sticks(layout)
        for laid in (hands if lettered.drawn.stick.pair else (lettered.drawn.stick.laid,))
    )


def _strip_of(lettered: LetteredStick, laid: Hand | None, job: Job) -> Strip:
    own_wrap = lettered.drawn.stick.wrap
    return Strip(
        lettered.drawn,
        laid,
        job,
        job.wrap if own_wrap is None else own_wrap,
        lettered.letter,
        lettered.serves,
        lettered.serves_words,
        lettered.fronts,
        tuple(face for face in lettered.faces if face.laid is laid or not lettered.drawn.stick.pair),
    )


def draw_strip(strip: Strip, seams: Sequence[Fraction] = ()) -> StripDrawing:
    """Draw a strip, cut at ``seams``: rising stations in mm, strictly inside its length.

    Raises:
        Fault: the font has no sign for a character of a name.
    """
    return draw_windows(strip, windows_between(seams, strip.layout.length, strip.laid))


def draw_windows(strip: Strip, windows: Sequence[Window], most_mm: float = inf) -> StripDrawing:
    """Draw what a strip has in each of some windows, without its scale where it would be more than ``most_mm`` high.

    Raises:
        Fault: the font has no sign for a character of a name.
    """
    wrap_mm = float(strip.wrap)
    pieces = tuple(_piece(strip, window, most_mm) for window in windows)
    return StripDrawing(strip, (*REGISTER_MM, *wrap_register_heights(wrap_mm)), pieces, wrap_mm)


def _piece(strip: Strip, window: Window, most_mm: float) -> StripPiece:
    figures = strip.job.figures
    labels = place_labels(strip.layout, window, figures)
    head = write_head(strip, window, labels.left_out)
    lifted = labels.lifted
    lanes = StripLanes(lifted.fan_mm, lifted.height_mm, bool(strip.layout.beside), figures.units is Units.INCH)
    lanes = replace(lanes, has_scale=lanes.height_mm <= most_mm)
    draw = partial(_draw, strip, window, lanes, labels, head)
    return StripPiece(window, draw, lanes.height_mm, max(window.width, head.right_mm), labels.left_out)


def _draw(strip: Strip, window: Window, lanes: StripLanes, labels: PlacedLabels, head: Head) -> Iterator[Shape]:
    yield from draw_bands(strip.layout, window, strip.job.figures)
    yield from draw_labels(labels, lanes)
    yield from head.draw(lanes)
    if lanes.has_scale:
        yield from draw_scale(window, lanes, strip.job.figures, head.over_scale)
    yield from draw_wrap(strip.layout, window, float(strip.wrap))
