"""The head of a tile: its letter, hand and number at one fixed place, which edge is the front, and words as they fit.

Both ends of the tile stand beside it in the same lane: the datum, the far end, or the station of a seam.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import TYPE_CHECKING, Final

from storystick.drawing.built_up import BuiltUp
from storystick.drawing.lettering import NAME_MM, SIZE_MM, STATION_MM, WORDS_PT, points_of, shortened, text_width_mm
from storystick.drawing.shapes import Anchor, Area, Box, Shape, Text
from storystick.drawing.strip_lanes import StripLanes
from storystick.drawing.strip_lifting import LeftOut
from storystick.drawing.window import SEAM_KEEP_MM, TAB_MM, WORDS_KEEP_MM, Window
from storystick.job.sticks import Datum, Stick
from storystick.lengths import Figures

if TYPE_CHECKING:
    from storystick.drawing.strip import Strip

HEAD_X: Final = 26.0
"""Where the head begins on every tile that is long enough, from its left."""

_FLAG_MM: Final = 1.4
_TIP_MM: Final = 3.4
_GAP_MM: Final = 2.2
_CLOSE_MM: Final = 1.0
_LEAST_NAME_MM: Final = 8.0
_LONGEST_BESIDE_MM: Final = 40.0
_LARGE_BASELINE: Final = 1.1
_UPPER_BASELINE: Final = 4.25
_LOWER_BASELINE: Final = 0.8
_FIGURE_BOTTOM: Final = 0.6
_ARROW_MM: Final = 8.2
_ARROW_WIDE_MM: Final = 5.2
_ARROW_STEM_MM: Final = 2.0
_ARROW_HEAD_MM: Final = 4.2
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
class _End:
    """What stands at one end of a tile: a figure, and two short words one above the other beside it.

    ``inward`` is 1 at the left end and -1 at the right one; ``keep`` is how far its figure stays off the end.
    """

    x: float
    inward: int
    figure: BuiltUp
    keep: float
    words: tuple[str, ...] = ()
    has_flag: bool = False

    @property
    def width(self) -> float:
        words = max((text_width_mm(word, WORDS_PT) for word in self.words), default=-_CLOSE_MM) + _CLOSE_MM
        return self.keep + self.figure.width_mm + words

    @property
    def stretch(self) -> tuple[float, float]:
        """From where to where it stands along the tile."""
        left, right = sorted((self.x, self.x + self.inward * self.width))
        return left, right

    def draw(self, lanes: StripLanes) -> Iterator[Shape]:
        bottom, anchor = lanes.head_bottom, Anchor.START if self.inward > 0 else Anchor.END
        near = self.x + self.inward * self.keep
        if self.has_flag:
            yield from self._flag(lanes)
        low = _LARGE_BASELINE if self.has_flag else _FIGURE_BOTTOM + self.figure.below_mm
        yield from self.figure.shapes(near, bottom + low, anchor)
        beyond = near + self.inward * (self.figure.width_mm + _CLOSE_MM)
        for word, baseline in zip(self.words, (_UPPER_BASELINE, _LOWER_BASELINE), strict=False):
            yield Text(beyond, bottom + baseline, word, WORDS_PT, anchor)

    def _flag(self, lanes: StripLanes) -> Iterator[Shape]:
        """A black bar whose outer edge is at zero, and an arrow against it."""
        bottom, inner = lanes.head_bottom, self.x + self.inward * _FLAG_MM
        yield Box(min(self.x, inner), bottom, _FLAG_MM, lanes.height_mm - bottom)
        base, middle = self.x + self.inward * (_FLAG_MM + _TIP_MM), bottom + _LARGE_BASELINE + STATION_MM / 2
        yield Area(((inner, middle), (base, middle + 1.7), (base, middle - 1.7)))


def _ends(window: Window, stick: Stick, figures: Figures) -> tuple[_End, _End]:
    """The left end of a window and the right one; only those of the strip are struck by, and bold."""
    near = figures(window.start)
    if window.start == 0:
        keep = _FLAG_MM + _TIP_MM + _CLOSE_MM
        first = _End(0.0, 1, BuiltUp("0", STATION_MM, bold=True), keep, ("DATUM", stick.datum.value), has_flag=True)
    else:
        first = _End(0.0, 1, BuiltUp(near, SIZE_MM), SEAM_KEEP_MM)
    is_far = window.end == window.length
    words, keep = (("END", stick.datum.far_end.value), WORDS_KEEP_MM) if is_far else ((), SEAM_KEEP_MM)
    last = _End(0.0, -1, BuiltUp(figures(window.end), SIZE_MM, bold=is_far), keep, words)
    left, right = (first, last) if window.direction > 0 else (last, first)
    return replace(left, x=0.0, inward=1), replace(right, x=window.width, inward=-1)


@dataclass(frozen=True, slots=True)
class _Front:
    """An arrow to the edge that is the front, or whatever the word says; ``beside`` says for which faces."""

    word: str
    is_up: bool
    beside: str = ""

    @property
    def lines(self) -> tuple[str, ...]:
        return (self.word, self.beside) if self.beside else (self.word,)

    @property
    def size_pt(self) -> float:
        return points_of(NAME_MM if self.beside else SIZE_MM)

    @property
    def width(self) -> float:
        return _ARROW_WIDE_MM + _CLOSE_MM + max(text_width_mm(line, self.size_pt) for line in self.lines)

    def draw(self, x: float, bottom: float) -> Iterator[Shape]:
        yield _arrow(x + _ARROW_WIDE_MM / 2, bottom, self.is_up)
        beyond = x + _ARROW_WIDE_MM + _CLOSE_MM
        baselines = (
            (_UPPER_BASELINE, _LOWER_BASELINE) if self.beside else (_LARGE_BASELINE + (STATION_MM - SIZE_MM) / 2,)
        )
        for line, baseline in zip(self.lines, baselines, strict=True):
            yield Text(beyond, bottom + baseline, line, self.size_pt)


def _arrow(x: float, bottom: float, is_up: bool) -> Area:
    """Filled, its stem and its head about the middle ``x``."""
    stem, wide = _ARROW_STEM_MM / 2, _ARROW_WIDE_MM / 2
    neck = _ARROW_MM - _ARROW_HEAD_MM
    outline = ((-stem, 0.0), (stem, 0.0), (stem, neck), (wide, neck), (0.0, _ARROW_MM), (-wide, neck), (-stem, neck))
    return Area(tuple((x + dx, bottom + (y if is_up else _ARROW_MM - y)) for dx, y in outline))


def _fronts(strip: Strip, window: Window) -> tuple[_Front, ...]:
    """Which way the tile lies: of one that serves both hands, which way for which faces; none for one of no hand."""
    stick = strip.layout.stick
    word, sign = (stick.edge_words or _EDGE_WORDS[stick.datum]).rsplit(" ", 1)
    is_up = sign == "▲"
    if strip.fronts:
        return tuple(_Front(word, is_up is as_left, faces) for faces, as_left in strip.fronts)
    # A face of a square stick may run another way than the strip of its stick does, and is then laid like no hand.
    own_way = window.laid and (stick.pair or stick.laid is window.laid)
    return (_Front(word, is_up),) if own_way else ()


@dataclass(frozen=True, slots=True)
class Head:
    """The head of a tile as it fits: its title from ``x``, then the arrows, then two lines of words.

    ``beyond`` is where the arrow of this index goes on, and all after it, that the tile has no room for.
    """

    ends: tuple[_End, ...]
    x: float
    title: str
    title_mm: float
    fronts: tuple[_Front, ...]
    lines: tuple[str, str]
    extra: tuple[BuiltUp, ...] = ()
    beyond: tuple[int, float] | None = None

    @property
    def arrows_x(self) -> Iterator[float]:
        """Where each arrow begins, and at last the lines."""
        title = text_width_mm(self.title, points_of(self.title_mm), bold=True)
        x = self.x + title + (_GAP_MM if title else 0.0)
        for figure in self.extra:
            x += figure.width_mm + _GAP_MM
        onward = dict([self.beyond] if self.beyond else ())
        for index, front in enumerate(self.fronts):
            x = onward.get(index, x)
            yield x
            x += front.width + _GAP_MM
        yield onward.get(len(self.fronts), x)

    @property
    def right_mm(self) -> float:
        """How far right it reaches."""
        return max(self.lines_right, *(end.stretch[1] for end in self.ends), 0.0)

    @property
    def lines_right(self) -> float:
        *_, x = self.arrows_x
        return x + max(text_width_mm(line, WORDS_PT) for line in self.lines)

    @property
    def over_scale(self) -> Iterator[tuple[float, float]]:
        """Where no number of the scale may stand: above a seam's station, and where an arrow stands out."""
        yield from (end.stretch for end in self.ends if not end.has_flag)
        for x, _ in zip(self.arrows_x, self.fronts, strict=False):
            yield x, x + _ARROW_WIDE_MM

    def draw(self, lanes: StripLanes) -> Iterator[Shape]:
        bottom = lanes.head_bottom
        for end in self.ends:
            yield from end.draw(lanes)
        if self.title:
            rise = (STATION_MM - self.title_mm) / 2
            yield Text(self.x, bottom + _LARGE_BASELINE + rise, self.title, points_of(self.title_mm), bold=True)
        *starts, words_x = self.arrows_x
        for front, x in zip(self.fronts, starts, strict=True):
            yield from front.draw(x, bottom)
        before = words_x - sum(front.width + _GAP_MM for front in self.fronts)
        for figure in self.extra:
            before -= figure.width_mm + _GAP_MM
            yield from figure.shapes(before, bottom + _FIGURE_BOTTOM + figure.below_mm)
        for line, baseline in zip(self.lines, (_UPPER_BASELINE, _LOWER_BASELINE), strict=True):
            if line:
                yield Text(words_x, bottom + baseline, line, WORDS_PT)


def write_head(strip: Strip, window: Window, left_out: LeftOut) -> Head:
    """Choose what fits a window, the less needed words left out where it is short; beside it where it is too short.

    The words say among others which labels are ``left_out`` of it.

    Raises:
        Fault: the font has no sign for one of their characters.
    """
    ends, title, fronts = (
        _ends(window, strip.layout.stick, strip.job.figures),
        _title(strip, window),
        _fronts(strip, window),
    )
    for both, height in product((ends, tuple(replace(end, words=()) for end in ends)), (STATION_MM, SIZE_MM)):
        left, right = both
        for x in (HEAD_X, left.width + _GAP_MM):
            head = Head(both, x, title, height, fronts, ("", strip.job.digest))
            room = window.width - right.width - _GAP_MM
            if left.width + _GAP_MM <= x + 1e-9 and head.lines_right + _LEAST_NAME_MM <= room:
                *_, words_x = head.arrows_x
                return replace(head, lines=_lines(strip, room - words_x, left_out))
    return _beyond(strip, window, ends, title, fronts)


def _beyond(strip: Strip, window: Window, ends: tuple[_End, _End], title: str, fronts: tuple[_Front, ...]) -> Head:
    """The head of a window too short for it: what the window cannot hold stands to the right of it."""
    edge = window.width + (TAB_MM if window.has_tab and window.direction > 0 else 0.0)
    lines = (shortened(strip.layout.name, WORDS_PT, _LONGEST_BESIDE_MM), strip.job.digest)
    bare = [replace(end, words=()) for end in ends]
    if sum(end.width for end in bare) + _GAP_MM <= window.width:
        return _partly_beyond(Head(tuple(bare), bare[0].width + _GAP_MM, title, SIZE_MM, fronts, lines), edge + _GAP_MM)
    datum = tuple(end for end in bare if end.has_flag and end.width <= window.width)
    others = tuple(end.figure for end in bare if end not in datum)
    return Head(datum, edge + _GAP_MM, title, SIZE_MM, fronts, lines, others)


def _partly_beyond(head: Head, beyond: float) -> Head:
    """A head between its two ends as far as there is room, and the rest of it from ``beyond``."""
    room = head.ends[1].stretch[0]
    *starts, words_x = head.arrows_x
    inside = sum(end <= room for end in (*starts[1:], words_x)) if starts else 0
    title_ends = starts[0] if starts else words_x
    return replace(head, beyond=(inside, beyond)) if title_ends <= room else replace(head, x=beyond)


def _title(strip: Strip, window: Window) -> str:
    """Letter, hand and number: what tells a cut tile from all others of the job."""
    hand = strip.hand.value.upper() if strip.hand else ""
    tile = f"{window.number} of {window.of}" if window.of > 1 else ""
    return _BETWEEN.join(filter(None, (strip.letter, hand, tile)))


def _lines(strip: Strip, room: float, left_out: LeftOut) -> tuple[str, str]:
    """Whom it serves, or the strip's name; and below that the version of the job, its title, and what is left out."""
    serves = f"serves {strip.serves_words}"
    name = strip.serves_words or strip.layout.name
    is_whole = name != strip.layout.name and text_width_mm(serves, WORDS_PT) <= room
    upper = serves if is_whole else shortened(name, WORDS_PT, room)
    without = f"without {left_out.words}" if left_out else ""
    return upper, _joined([strip.job.digest], [without, strip.job.title], room)


def _joined(words: Sequence[str], others: Sequence[str], room: float) -> str:
    """The words and as many of the others as fit, in their order."""
    line = _BETWEEN.join(words)
    for other in filter(None, others):
        if text_width_mm(longer := f"{line}{_BETWEEN}{other}", WORDS_PT) <= room:
            line = longer
    return line
