"""How tiles are joined: register marks at their seams, and the tab that the next tile is laid on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from storystick.drawing.lanes import TAB_MM
from storystick.drawing.lettering import text_width_mm
from storystick.drawing.shapes import Anchor, Line, Shape, Text
from storystick.drawing.window import Window

CUT_MM: Final = 0.12
"""The width of a line that is cut along."""

OUTSIDE_MM: Final = 0.15
"""So far outside what is cut out its outline runs."""

REGISTER_ARM_MM: Final = 2.6
"""How far a register mark reaches from its middle."""

REGISTER_MM: Final = 0.2
"""The width of its lines."""

TAB_DASH: Final = (1.5, 1.0)
"""Of the seam that a tab begins at, in mm: dash and gap."""

_TAB_PT: Final = 8.0
_LETTERS_MM: Final = 2.8
"""How high a line of these is with what stands above and below it, of which is below:"""

_FEET_MM: Final = 0.7
_BESIDE_MARK_MM: Final = 0.4


def draw_joints(
    window: Window, heights: Sequence[float], bottom: float, top: float, words: tuple[float, float] | None = None
) -> Iterator[Shape]:
    """Register marks at ``heights`` of the window's seams, and its tab from ``bottom`` to ``top``; origin at its left.

    Where the tile begins, only the half of a cross that is left when it is cut there is drawn. The tab's words stand
    between two heights, those of the tab where no others are given, and there between two register marks.
    """
    for seam in window.seams:
        x, onward = window.x(seam), window.direction * REGISTER_ARM_MM
        back = x - onward if seam == window.end else x
        for y in heights:
            yield Line(back, y, x + onward, y, REGISTER_MM)
            yield Line(x, y - REGISTER_ARM_MM, x, y + REGISTER_ARM_MM, REGISTER_MM)
    if window.has_tab:
        yield from _tab(window, bottom, top)
        yield from _tab_words(window, *_widest_between(heights, *(words or (bottom, top))))


def _tab(window: Window, bottom: float, top: float) -> Iterator[Shape]:
    seam = window.x(window.end)
    outward = window.direction
    edge = seam + outward * TAB_MM
    yield Line(seam, bottom, seam, top, CUT_MM, TAB_DASH)
    for y in (bottom - OUTSIDE_MM, top + OUTSIDE_MM):
        yield Line(seam, y, edge, y, CUT_MM)
    yield Line(edge, bottom - OUTSIDE_MM, edge, top + OUTSIDE_MM, CUT_MM)


def _widest_between(heights: Sequence[float], bottom: float, top: float) -> tuple[float, float]:
    """The largest room from ``bottom`` to ``top`` that no register mark reaches into."""
    arms = REGISTER_ARM_MM + _BESIDE_MARK_MM
    marks = sorted(height for height in heights if bottom < height < top)
    lows, highs = [bottom, *(mark + arms for mark in marks)], [*(mark - arms for mark in marks), top]
    return max(zip(lows, highs, strict=True), key=lambda room: room[1] - room[0])


def _tab_words(window: Window, bottom: float, top: float) -> Iterator[Text]:
    """Which tile goes on the tab, in its middle: as far from where it is cut as from the seam."""
    following = f"tile {window.number + 1}"
    choices = (f"{following} goes here", f"{following} here", following)
    words = next((text for text in choices if text_width_mm(text, _TAB_PT) <= top - bottom), "")
    if words:
        baseline = window.x(window.end) + window.direction * TAB_MM / 2 + _LETTERS_MM / 2 - _FEET_MM
        yield Text(baseline, (bottom + top) / 2, words, _TAB_PT, Anchor.MIDDLE, upward=True)
