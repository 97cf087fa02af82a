"""Where to cut a strip into tiles, clear of every mark and in few tiles, and how they are joined.

From any start, the best cut is the farthest one within reach that keeps clear: a chain of such cuts is never behind
any other chain, so it needs the fewest tiles. Chained back from the far end in the same way, it tells how early each
seam may lie with no tile more; within that play, the seams are put where they are best to work with.

Seams are found before labels are placed, from the marks alone, so that no label is ever cut by one; an opening that a
seam divides says its size on both tiles.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate, pairwise
from typing import Final, TypeAlias

from storystick.drawing.lettering import text_width_mm
from storystick.drawing.shapes import Anchor, Line, Shape, Text
from storystick.drawing.window import TAB_MM, Window
from storystick.lengths import Units

CLEARANCE: Final = Fraction(3)
"""A seam keeps at least this far from every mark, in mm, wherever any cut allows it."""

CLEARANCE_WORDS: Final = {Units.INCH: "1/8 in", Units.MM: f"{CLEARANCE} mm"}
"""The same in words: 1/8 in is the next above 3 mm that a tape shows, so a seam that is nearer is nearer than both."""

Stretch: TypeAlias = tuple[Fraction, Fraction]
"""From one station to another, both in mm."""


@dataclass(frozen=True, slots=True)
class Seam:
    """A cut at station ``at``; ``clearance`` is how far the nearest mark is. Both in mm."""

    at: Fraction
    clearance: Fraction

    @property
    def keeps_clear(self) -> bool:
        return self.clearance >= CLEARANCE


@dataclass(frozen=True, slots=True)
class Reach:
    """How long tiles may be, in mm: the ``last`` needs no tab, so it may be longer than the ``others``.

    ``shortest`` is what the last should have, to be held and glued well.
    """

    others: Fraction
    last: Fraction
    shortest: Fraction


def cut(marks: Sequence[Fraction], reach: Reach, grid: Fraction, parts: Sequence[Stretch] = ()) -> tuple[Seam, ...]:
    """The seams of a strip whose rising ``marks`` begin with 0 and end with its length, in mm.

    They are as few as the clearance allows. Where that costs no tile, the last tile is not shorter than it should be,
    and seams lie outside the ``parts``, which rise and may overlap, and on multiples of ``grid``.
    """
    clear = _clear_stretches(marks, ())
    stations = _fewest(marks, clear, reach)
    if all(_clearance(marks, station) >= CLEARANCE for station in stations):
        stations = _settled(marks[-1], len(stations), clear, _clear_stretches(marks, parts), reach, grid)
    return tuple(Seam(station, _clearance(marks, station)) for station in stations)


def _clear_stretches(marks: Sequence[Fraction], parts: Sequence[Stretch]) -> list[Stretch]:
    """Where a seam keeps clear of the marks and out of the parts, rising."""
    starts = [start for start, _ in parts]
    ends = list(accumulate((end for _, end in parts), max))

    def in_a_part(station: Fraction) -> bool:
        place = bisect_right(starts, station) - 1
        return place >= 0 and station < ends[place]

    gaps = ((near, far) for near, far in pairwise(marks) if far - near >= 2 * CLEARANCE)
    return [(near + CLEARANCE, far - CLEARANCE) for near, far in gaps if not in_a_part(near)]


def _fewest(marks: Sequence[Fraction], clear: Sequence[Stretch], reach: Reach) -> list[Fraction]:
    """Seams from the datum on, each the farthest that the one before allows; the roomiest where none keeps clear."""
    stations: list[Fraction] = []
    start = marks[0]
    while marks[-1] - start > reach.last:
        limit = start + reach.others
        farthest = _farthest(clear, limit)
        start = farthest if farthest is not None and farthest > start else _roomiest(marks, start, limit)
        stations.append(start)
    return stations


def _settled(
    length: Fraction,
    count: int,
    clear: Sequence[Stretch],
    openings: Sequence[Stretch],
    reach: Reach,
    grid: Fraction,
) -> list[Fraction]:
    """``count`` seams, each at the place that is best to work with and leaves the rest to be done."""
    stations: list[Fraction] = []
    start = Fraction(0)
    for earliest in reversed(_earliest(length, count, clear, reach)):
        limit = start + reach.others
        held = min(limit, length - reach.shortest)
        choices = (
            _farthest(openings, held, grid),
            _farthest(clear, held, grid),
            _farthest(clear, held),
            _farthest(clear, limit, grid),
            _farthest(clear, limit),
        )
        least = max(earliest, start + CLEARANCE)
        start = next(station for station in choices if station is not None and station >= least)
        stations.append(start)
    return stations


def _earliest(length: Fraction, count: int, clear: Sequence[Stretch], reach: Reach) -> list[Fraction]:
    """How near the datum each of ``count`` seams may lie, the last seam first."""
    stations: list[Fraction] = []
    least = length - reach.last
    for _ in range(count):
        low, _ = clear[bisect_left(clear, least, key=lambda stretch: stretch[1])]
        stations.append(max(low, least))
        least = stations[-1] - reach.others
    return stations


def _farthest(stretches: Sequence[Stretch], limit: Fraction, grid: Fraction | None = None) -> Fraction | None:
    """The farthest station within the stretches up to ``limit``, on the grid if there is one."""
    # From the last stretch that begins before the limit back: the first that has a station on the grid.
    for place in range(bisect_right(stretches, limit, key=lambda stretch: stretch[0]), 0, -1):
        low, high = stretches[place - 1]
        station = min(high, limit)
        station = station // grid * grid if grid else station
        if station >= low:
            return station
    return None


def _roomiest(marks: Sequence[Fraction], start: Fraction, limit: Fraction) -> Fraction:
    """The station with the most room about it in the farther half of what can be reached, the farthest of equals."""
    earliest = (start + limit) / 2
    middles = ((near + far) / 2 for near, far in pairwise(marks))
    reachable = [middle for middle in middles if earliest <= middle <= limit]
    return max([*reachable, limit], key=lambda station: (_clearance(marks, station), station))


def _clearance(marks: Sequence[Fraction], station: Fraction) -> Fraction:
    """How far the nearest mark is from a station."""
    place = bisect_right(marks, station)
    return min(abs(mark - station) for mark in marks[max(place - 1, 0) : place + 1])


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
