"""A strip: the printed picture of a stick, drawn whole or in the pieces that sheets of paper can hold.

Seen with the text upright, the marking edge is the lower one, at y = 0. From there up: the bands of the parts, the
grooves, the labels that found no room among the bands, a line of words, and a running scale along the upper edge.
A wrapped strip runs on below the marking edge, where it is folded.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import partial
from itertools import pairwise

from storystick.drawing.bands import draw_bands
from storystick.drawing.headline import Headline, draw_headline, write_headline
from storystick.drawing.labels import PlacedLabels, draw_labels, place_labels
from storystick.drawing.lanes import StripLanes
from storystick.drawing.left_out import LeftOut
from storystick.drawing.scale import draw_scale
from storystick.drawing.shapes import Shape
from storystick.drawing.window import Window
from storystick.drawing.wrap import draw_wrap, wrap_register_heights
from storystick.job.model import Hand, Job
from storystick.layout.model import Layout, StickLayout


@dataclass(frozen=True, slots=True)
class Strip:
    """One strip to draw: a stick's layout, the hand that it is laid as, and the job's words.

    ``wrap`` is how far it runs on below its marking edge, in mm.
    """

    layout: StickLayout
    laid: Hand | None
    job: Job
    wrap: Fraction = Fraction(0)

    @property
    def hand(self) -> Hand | None:
        """Which of a pair it is; None for a stick with no pair, however that is laid."""
        return self.laid if self.layout.stick.pair else None

    @property
    def name(self) -> str:
        """The strip's name among all strips of the job."""
        return f"{self.layout.name}, {self.hand.value} hand" if self.hand else self.layout.name

    @property
    def words(self) -> tuple[str, ...]:
        """Every name that is lettered on it, each once."""
        spans = (span.name for span in (*self.layout.spans, *self.layout.beside))
        return tuple(dict.fromkeys((self.layout.name, *spans, *(point.words for point in self.layout.points))))


@dataclass(frozen=True, slots=True)
class StripPiece:
    """What there is of one window, from x = 0 at its left; it is drawn when it is asked for.

    ``right_mm`` is how far right its lettering reaches; ``left_out`` counts the labels that found no room.
    """

    window: Window
    draw: Callable[[], Iterable[Shape]] = field(repr=False, compare=False)
    right_mm: float
    left_out: LeftOut

    @property
    def shapes(self) -> tuple[Shape, ...]:
        return tuple(self.draw())


@dataclass(frozen=True, slots=True)
class StripDrawing:
    """A strip in its pieces, in order from the datum; all are ``height_mm`` high, so that they meet at the seams.

    ``wrap_mm`` is what lies below the marking edge besides.
    ``register_mm`` are the heights at which the pieces are free for register marks at their seams.
    """

    strip: Strip
    height_mm: float
    register_mm: tuple[float, ...]
    pieces: tuple[StripPiece, ...]
    wrap_mm: float = 0.0

    @property
    def left_out(self) -> LeftOut:
        """The labels that found no room on any of the pieces."""
        return sum((piece.left_out for piece in self.pieces), LeftOut())


def strips_of(layout: Layout) -> tuple[Strip, ...]:
    """Every strip that a layout asks for: one a stick, or one of each hand."""
    return tuple(
        Strip(stick, laid, layout.job, layout.job.wrap if stick.stick.wrap is None else stick.stick.wrap)
        for stick in layout.sticks
        for laid in ((Hand.LEFT, Hand.RIGHT) if stick.stick.pair else (stick.stick.laid,))
    )


def draw_strip(strip: Strip, seams: Sequence[Fraction] = ()) -> StripDrawing:
    """Draw a strip, cut at ``seams``: rising stations in mm, strictly inside its length.

    Raises:
        Fault: the font has no sign for a character of a name.
    """
    edges = (Fraction(0), *seams, strip.layout.length)
    windows = [
        Window(start, end, strip.layout.length, strip.laid, number, len(edges) - 1)
        for number, (start, end) in enumerate(pairwise(edges), start=1)
    ]
    return draw_windows(strip, windows)


def draw_windows(strip: Strip, windows: Sequence[Window]) -> StripDrawing:
    """Draw what a strip has in each of some windows.

    Raises:
        Fault: the font has no sign for a character of a name.
    """
    wrap_mm = float(strip.wrap)
    labelled = [place_labels(strip.layout, window, strip.job) for window in windows]
    headlines = [
        write_headline(strip.layout.stick, window, strip.job, labels.left_out)
        for window, labels in zip(windows, labelled, strict=True)
    ]
    lanes = StripLanes(
        max(labels.lifted.fan_mm for labels in labelled),
        max(labels.lifted.height_mm for labels in labelled),
        bool(strip.layout.beside),
    )
    pieces = (
        StripPiece(
            window,
            partial(_drawn, strip, window, lanes, labels, headline),
            max(window.width, headline.right_mm),
            labels.left_out,
        )
        for window, labels, headline in zip(windows, labelled, headlines, strict=True)
    )
    register_mm = (*lanes.register_heights, *wrap_register_heights(wrap_mm))
    return StripDrawing(strip, lanes.height_mm, register_mm, tuple(pieces), wrap_mm)


def _drawn(
    strip: Strip, window: Window, lanes: StripLanes, labels: PlacedLabels, headline: Headline
) -> Iterator[Shape]:
    yield from draw_bands(strip.layout, window)
    yield from draw_labels(labels, lanes)
    yield from draw_headline(headline, lanes)
    yield from draw_scale(window, lanes, strip.job)
    yield from draw_wrap(strip.layout, window, float(strip.wrap))
