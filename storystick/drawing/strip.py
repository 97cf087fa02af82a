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
from typing import Final

from storystick.drawing.lettering import shortened, text_width_mm
from storystick.drawing.shapes import Anchor, Area, Box, Shape, Text
from storystick.drawing.strip_bands import draw_bands, draw_scale, draw_wrap, wrap_register_heights
from storystick.drawing.strip_labels import PlacedLabels, draw_labels, place_labels
from storystick.drawing.strip_lanes import WORDS_PT, StripLanes
from storystick.drawing.strip_lifting import LeftOut
from storystick.drawing.window import SEAM_KEEP_MM, TAB_MM, WORDS_KEEP_MM, Window, windows_between
from storystick.job.job import Job
from storystick.job.print_names import Hands
from storystick.job.sticks import Datum, Hand, Stick
from storystick.layout.alike import LetteredStick, lettered_sticks
from storystick.layout.stations import Face, Layout, StickLayout


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


def draw_windows(strip: Strip, windows: Sequence[Window]) -> StripDrawing:
    """Draw what a strip has in each of some windows.

    Raises:
        Fault: the font has no sign for a character of a name.
    """
    wrap_mm = float(strip.wrap)
    labelled = [place_labels(strip.layout, window, strip.job.figures) for window in windows]
    # All pieces get the height that the fullest needs, so that they meet at their seams.
    lanes = StripLanes(
        max(labels.lifted.fan_mm for labels in labelled),
        max(labels.lifted.height_mm for labels in labelled),
        bool(strip.layout.beside),
    )
    pieces = tuple(_piece(strip, window, lanes, labels) for window, labels in zip(windows, labelled, strict=True))
    register_mm = (*lanes.register_heights, *wrap_register_heights(wrap_mm))
    return StripDrawing(strip, lanes.height_mm, register_mm, pieces, wrap_mm)


def _piece(strip: Strip, window: Window, lanes: StripLanes, labels: PlacedLabels) -> StripPiece:
    headline = _write_headline(strip.layout.stick, window, strip.job, labels.left_out)
    draw = partial(_draw, strip, window, lanes, labels, headline)
    return StripPiece(window, draw, max(window.width, headline.right_mm), labels.left_out)


def _draw(
    strip: Strip, window: Window, lanes: StripLanes, labels: PlacedLabels, headline: _Headline
) -> Iterator[Shape]:
    yield from draw_bands(strip.layout, window)
    yield from draw_labels(labels, lanes)
    yield from _draw_headline(headline, lanes)
    yield from draw_scale(window, lanes, strip.job.figures)
    yield from draw_wrap(strip.layout, window, float(strip.wrap))


_FLAG_MM: Final = 1.4
_ARROW_MM: Final = 3.4
_END_PT: Final = 9.5
_GAP_MM: Final = 2.0
_LEAST_NAME_MM: Final = 8.0
_BETWEEN: Final = " · "

_EDGE_WORDS: Final = {
    Datum.BOTTOM: "FRONT ▲",
    Datum.TOP: "FRONT ▼",
    Datum.LEFT: "FRONT ▼",
    Datum.RIGHT: "FRONT ▲",
    Datum.FRONT: "TOP ▲",
    Datum.BACK: "TOP ▼",
}
"""Which way a strip lies that is one of a pair, by its datum; ▲ is its upper edge, ▼ its marking edge.

Geometry: seen from inside the cabinet, a left side has its front at the left; laid down with the bottom to the left,
its front is the upper edge. The right side is its mirror image. A level piece is seen from above, front nearest.
"""


@dataclass(frozen=True, slots=True)
class _Headline:
    """The line's words as they fit: at the datum and far ends (empty where none shows), and between them.

    ``words_x`` is where the words between begin, from the window's left.
    """

    window: Window
    datum: str
    far: str
    words: str
    words_x: float

    @property
    def right_mm(self) -> float:
        """How far right the words reach; beyond the window only where it is too short for any."""
        datum_right = _datum_room(self.datum) if self.window.direction > 0 else 0.0
        words_right = self.words_x + text_width_mm(self.words, WORDS_PT) if self.words else 0.0
        return max(datum_right, words_right)


def _write_headline(stick: Stick, window: Window, job: Job, left_out: LeftOut) -> _Headline:
    """Choose the words that fit a window, the less needed ones left out where it is short.

    Those say among others which labels are ``left_out`` of it.

    Raises:
        Fault: the font has no sign for one of their characters.
    """
    datum = f"0 DATUM {stick.datum.value}" if window.start == 0 else ""
    far = f"{job.figures(window.length)} {stick.datum.far_end.value}"
    far = far if window.end == window.length else ""
    needed = _needed_words(stick, window, job)
    least = text_width_mm(_BETWEEN.join(["", *needed]), WORDS_PT) + _LEAST_NAME_MM
    for sign in (datum, datum[:1]):
        room = window.width - _datum_room(sign) - _far_room(far)
        if least <= room:
            left = _datum_room(sign) if window.direction > 0 else _far_room(far)
            return _Headline(window, sign, far, _words_that_fit(stick, window, job, room, left_out), left)
    return _beyond(window, datum, far, [stick.name, *needed])


def _beyond(window: Window, datum: str, far: str, words: list[str]) -> _Headline:
    """The line of a window too short for its words: they stand to the right of it, with all that it cannot hold."""
    edge = window.width + (TAB_MM if window.has_tab and window.direction > 0 else 0.0)
    for sign in (datum, datum[:1]):
        if _datum_room(sign) + _far_room(far) <= window.width:
            return _Headline(window, sign, far, _BETWEEN.join(words), edge + _GAP_MM)
    zero = datum[:1]
    if window.direction < 0 and _datum_room(zero) > window.width:
        return _Headline(window, "", "", _BETWEEN.join(filter(None, [zero, far, *words])), edge + _GAP_MM)
    left = max(edge, _datum_room(zero)) + _GAP_MM
    return _Headline(window, zero, "", _BETWEEN.join(filter(None, [far, *words])), left)


def _needed_words(stick: Stick, window: Window, job: Job) -> list[str]:
    """What tells a cut tile from all others, and which way it lies: its hand, number, and version of the job."""
    hand = [f"{window.laid.value.upper()} HAND"] if stick.pair and window.laid else []
    # A face of a square stick may run another way than the strip of its stick does, and is then laid like no hand.
    own_way = window.laid and (stick.pair or stick.laid is window.laid)
    edge = [stick.edge_words or _EDGE_WORDS[stick.datum]] if own_way else []
    tile = [f"tile {window.number} of {window.of}"] if window.of > 1 else []
    return [*hand, *edge, *tile, job.digest]


def _words_that_fit(stick: Stick, window: Window, job: Job, room: float, left_out: LeftOut) -> str:
    """The name and the needed words, and as many others as fit, in reading order."""
    needed = _needed_words(stick, window, job)
    name_room = room - text_width_mm(_BETWEEN.join(["", *needed]), WORDS_PT)
    words = [shortened(stick.name, WORDS_PT, name_room), *needed]
    stations = (job.figures(edge) for edge in (window.start, window.end))
    without = f"without {left_out.words}" if left_out else ""
    others = (without, job.title, " to ".join(stations) if window.of > 1 else "")
    for other in filter(None, others):
        if text_width_mm(_BETWEEN.join([*words, other]), WORDS_PT) <= room:
            words.append(other)
    return _BETWEEN.join(filter(None, words))


def _datum_room(words: str) -> float:
    """What the start of a window takes for its sign, or for the register marks of its seam."""
    if not words:
        return SEAM_KEEP_MM + _GAP_MM
    return _FLAG_MM + _ARROW_MM + text_width_mm(words, _END_PT, bold=True) + _GAP_MM + 1.0


def _far_room(words: str) -> float:
    """The same at its end."""
    return text_width_mm(words, _END_PT, bold=True) + WORDS_KEEP_MM + _GAP_MM if words else SEAM_KEEP_MM + _GAP_MM


def _draw_headline(headline: _Headline, lanes: StripLanes) -> Iterator[Shape]:
    """The words and the signs of both ends."""
    window = headline.window
    if window.start == 0:
        yield from _datum_flag(headline.datum, window, lanes)
    if headline.far:
        anchor = Anchor.END if window.direction > 0 else Anchor.START
        x = window.x(window.end) - window.direction * WORDS_KEEP_MM
        yield Text(x, lanes.headline_baseline, headline.far, _END_PT, anchor, bold=True)
    if headline.words:
        yield Text(headline.words_x, lanes.headline_baseline, headline.words, WORDS_PT)


def _datum_flag(words: str, window: Window, lanes: StripLanes) -> Iterator[Shape]:
    """A black bar whose outer edge is at zero, and against it an arrow and the word for the end if there is one."""
    inward = window.direction
    zero = window.x(window.start)
    bottom = lanes.headline_bottom
    yield Box(min(zero, zero + inward * _FLAG_MM), bottom, _FLAG_MM, lanes.height_mm - bottom)
    if not words:
        return
    tip, base = zero + inward * _FLAG_MM, zero + inward * (_FLAG_MM + _ARROW_MM)
    middle = lanes.headline_baseline + 1.1
    yield Area(((tip, middle), (base, middle + 1.7), (base, middle - 1.7)))
    anchor = Anchor.START if inward > 0 else Anchor.END
    yield Text(base + inward, lanes.headline_baseline, words, _END_PT, anchor, bold=True)
