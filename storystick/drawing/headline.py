"""The line of words on a strip: which end is the datum, what it is, which way it lies, which tile of which job."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from storystick.drawing.lanes import SEAM_KEEP_MM, WORDS_PT, StripLanes
from storystick.drawing.lettering import shortened, text_width_mm
from storystick.drawing.shapes import Anchor, Area, Box, Shape, Text
from storystick.drawing.window import Hand, Window
from storystick.job.model import Datum, Job, Stick
from storystick.lengths import write_label

_FLAG_MM: Final = 1.4
_ARROW_MM: Final = 3.4
_DATUM_PT: Final = 9.5
_GAP_MM: Final = 2.0

_UPPER_EDGE: Final = {
    Datum.BOTTOM: "front",
    Datum.TOP: "back",
    Datum.LEFT: "back",
    Datum.RIGHT: "front",
    Datum.FRONT: "top",
    Datum.BACK: "bottom",
}
"""What a strip of a pair has along its upper edge, laid on the inside face of its piece with the text upright.

Geometry: seen from inside the cabinet, a left side has its front at the left; laid down with the bottom to the left,
its front is the upper edge. The right side is its mirror image. A level piece is seen from above, front nearest.
"""


def draw_headline(stick: Stick, window: Window, lanes: StripLanes, job: Job) -> Iterator[Shape]:
    """The words, kept clear of the ends' own signs and of the register marks at seams."""
    left, right = (_room_at(window, edge, stick) for edge in _stations_left_to_right(window))
    room = window.width - left - right
    if window.start == 0:
        yield from _datum_flag(stick, window, lanes)
    if window.end == window.length:
        yield from _far_end(stick, window, lanes)
    words = _words_that_fit(stick, window, job, room)
    if words:
        yield Text(left, lanes.headline_baseline, words, WORDS_PT)


def _stations_left_to_right(window: Window) -> tuple[bool, bool]:
    """Whether the left edge, then the right edge, is the window's start."""
    return (True, False) if window.direction > 0 else (False, True)


def _room_at(window: Window, is_start: bool, stick: Stick) -> float:
    """What the sign at an edge of the window takes, in mm."""
    if is_start and window.start == 0:
        return _ARROW_MM + _FLAG_MM + text_width_mm(_datum_words(stick), _DATUM_PT, bold=True) + 2 * _GAP_MM
    if not is_start and window.end == window.length:
        return text_width_mm(_far_words(stick), WORDS_PT) + 2 * _GAP_MM
    return SEAM_KEEP_MM + _GAP_MM


def _datum_words(stick: Stick) -> str:
    return f"0 DATUM {stick.datum.value}"


def _far_words(stick: Stick) -> str:
    return f"{stick.datum.far_end.value} end"


def _datum_flag(stick: Stick, window: Window, lanes: StripLanes) -> Iterator[Shape]:
    """A black bar whose outer edge is at zero, an arrow against it, and the word for the end."""
    inward = window.direction
    zero = window.x(window.start)
    bottom = lanes.headline_bottom
    yield Box(min(zero, zero + inward * _FLAG_MM), bottom, _FLAG_MM, lanes.height_mm - bottom)
    tip, base = zero + inward * _FLAG_MM, zero + inward * (_FLAG_MM + _ARROW_MM)
    middle = lanes.headline_baseline + 1.1
    yield Area(((tip, middle), (base, middle + 1.7), (base, middle - 1.7)))
    anchor = Anchor.START if inward > 0 else Anchor.END
    yield Text(base + inward, lanes.headline_baseline, _datum_words(stick), _DATUM_PT, anchor, bold=True)


def _far_end(stick: Stick, window: Window, lanes: StripLanes) -> Iterator[Shape]:
    inward = -window.direction
    anchor = Anchor.START if inward > 0 else Anchor.END
    x = window.x(window.end) + inward * _GAP_MM / 2
    yield Text(x, lanes.headline_baseline, _far_words(stick), WORDS_PT, anchor)


def _words_that_fit(stick: Stick, window: Window, job: Job, room: float) -> str:
    """The strip's words in reading order, the less needed ones left out where the window is short."""
    stations = (write_label(edge, job.units, job.round_to) for edge in (window.start, window.end))
    ranked = {
        0: shortened(stick.name, WORDS_PT, max(room, 0.0)),
        1: f"{window.hand.value.upper()} HAND" if window.hand else "",
        3: edge_to_front(stick, window.hand),
        2: f"tile {window.number} of {window.of}" if window.of > 1 else "",
        6: " to ".join(stations) if window.of > 1 else "",
        5: job.title,
        4: job.digest,
    }
    kept: list[int] = []
    for rank in sorted(rank for rank, words in ranked.items() if words):
        if text_width_mm(_joined(ranked, [*kept, rank]), WORDS_PT) <= room:
            kept.append(rank)
    return _joined(ranked, kept)


def _joined(ranked: dict[int, str], kept: list[int]) -> str:
    return "  ·  ".join(words for rank, words in ranked.items() if rank in kept)


def edge_to_front(stick: Stick, hand: Hand | None) -> str:
    """Which edge of a pair's strip goes to the front (or, on a stick from front to back, to the top)."""
    if hand is None:
        return ""
    upper = _UPPER_EDGE[stick.datum]
    if upper in ("front", "top"):
        return f"▲ this edge to the {upper}"
    return f"▼ marking edge to the {'front' if upper == 'back' else 'top'}"
