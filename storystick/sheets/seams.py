"""Where to cut a strip into tiles, clear of every mark and in few tiles, and how they are joined.

From any start, the best cut is the farthest one within reach that keeps clear: a chain of such cuts is never behind
any other chain, so it needs the fewest tiles. Chained back from the far end in the same way, it tells how early each
seam may lie with no tile more; within that play, the seams are put where they are best to work with.

Seams are found before labels are placed, from the marks alone, so that no label is ever cut by one; an opening that a
seam divides says its size on both tiles.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate, pairwise
from typing import Final, TypeAlias

from storystick.drawing.lettering import WORDS_PT, text_width_mm
from storystick.drawing.shapes import Anchor, Line, Shape, Text
from storystick.drawing.window import TAB_MM, WORDS_KEEP_MM, Window
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


@dataclass(frozen=True, slots=True)
class Grids:
    """What seams should lie on, in mm: the ``coarse`` stations that a tape shows at a glance, else the ``fine`` ones.

    All are multiples from ``zero``, the end of what is cut that a tape is hooked at.
    """

    coarse: Fraction
    fine: Fraction
    zero: Fraction = Fraction(0)


def cut(marks: Sequence[Fraction], reach: Reach, grids: Grids, parts: Sequence[Stretch] = ()) -> tuple[Seam, ...]:
    """The seams of a strip whose rising ``marks`` begin with 0 and end with its length, in mm.

    They are as few as the clearance allows. Where that costs no tile, the last one is not shorter than it should be,
    then as many seams as can be lie outside the ``parts``, which rise and may overlap, and then on the ``grids``.
    """
    clear = _clear_stretches(marks, ())
    stations: Sequence[Fraction] = _fewest(marks, clear, reach)
    if all(_clearance(marks, station) >= CLEARANCE for station in stations):
        settling = _Settling(marks[-1], clear, _clear_stretches(marks, parts), reach, grids)
        stations = settling.best(len(stations))
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


_Cost: TypeAlias = tuple[int, int, int, int]
"""Whether the last tile is too short; how many seams lie in a part, off the fine grid and off the coarse one."""


@dataclass(frozen=True, slots=True)
class _Chain:
    """Seams from the datum on, and what there is against them."""

    cost: _Cost
    stations: tuple[Fraction, ...]

    @property
    def end(self) -> Fraction:
        return self.stations[-1] if self.stations else Fraction(0)


@dataclass(frozen=True, slots=True)
class _Settling:
    """Where seams may lie that keep clear, and where they should: outside the parts, on a grid."""

    length: Fraction
    clear: Sequence[Stretch]
    openings: Sequence[Stretch]
    reach: Reach
    grids: Grids

    def best(self, count: int) -> tuple[Fraction, ...]:
        """``count`` seams with as little against them as can be, all as far on as that allows."""
        earliest = _earliest(self.length, count, self.clear, self.reach)[::-1]
        if nothing_against := self._with_nothing_against(earliest):
            return nothing_against
        chains = [_Chain((0, 0, 0, 0), ())]
        for least in earliest:
            chains = _not_behind(onward for chain in chains for onward in self._onward(chain, least))
        return min(chains, key=lambda chain: (chain.cost, -chain.end)).stations

    def _with_nothing_against(self, earliest: Sequence[Fraction]) -> tuple[Fraction, ...]:
        """The same where every seam can have the best kind of place, as most often; else none."""
        stations = [Fraction(0)]
        for least in earliest:
            limit = min(stations[-1] + self.reach.others, self.length - self.reach.shortest)
            station = _farthest(self.openings, limit, self.grids.coarse, self.grids.zero)
            if station is None or station < least or station <= stations[-1]:
                return ()
            stations.append(station)
        return tuple(stations[1:])

    def _onward(self, chain: _Chain, earliest: Fraction) -> Iterator[_Chain]:
        """The chain with one more seam: of each kind of place the farthest, since that leaves most to the next ones."""
        limit = chain.end + self.reach.others
        for farthest in dict.fromkeys((min(limit, self.length - self.reach.shortest), limit)):
            for in_part, stretches in enumerate((self.openings, self.clear)):
                for off_grid, grid in enumerate((self.grids.coarse, self.grids.fine, None)):
                    station = _farthest(stretches, farthest, grid, self.grids.zero)
                    if station is not None and station >= earliest and station > chain.end:
                        yield self._with(chain, station, (in_part, int(off_grid > 1), int(off_grid > 0)))

    def _with(self, chain: _Chain, station: Fraction, against: tuple[int, int, int]) -> _Chain:
        sliver = int(self.length - station < self.reach.shortest)
        slivers, in_parts, off_fine, off_coarse = map(sum, zip(chain.cost, (sliver, *against), strict=True))
        return _Chain((slivers, in_parts, off_fine, off_coarse), (*chain.stations, station))


def _not_behind(chains: Iterable[_Chain]) -> list[_Chain]:
    """Those that no other is ahead of with as little against it: whatever follows could follow that one too."""
    kept: list[_Chain] = []
    for chain in sorted(chains, key=lambda chain: (chain.cost, -chain.end)):
        if not kept or chain.end > kept[-1].end:
            kept.append(chain)
    return kept


def _earliest(length: Fraction, count: int, clear: Sequence[Stretch], reach: Reach) -> list[Fraction]:
    """How near the datum each of ``count`` seams may lie, the last seam first."""
    stations: list[Fraction] = []
    least = length - reach.last
    for _ in range(count):
        low, _ = clear[bisect_left(clear, least, key=lambda stretch: stretch[1])]
        stations.append(max(low, least))
        least = stations[-1] - reach.others
    return stations


def _farthest(
    stretches: Sequence[Stretch], limit: Fraction, grid: Fraction | None = None, zero: Fraction = Fraction(0)
) -> Fraction | None:
    """The farthest station within the stretches up to ``limit``, on the grid from ``zero`` if there is one."""
    # From the last stretch that begins before the limit back: the first that has a station on the grid.
    for place in range(bisect_right(stretches, limit, key=lambda stretch: stretch[0]), 0, -1):
        low, high = stretches[place - 1]
        station = min(high, limit)
        station = zero + (station - zero) // grid * grid if grid else station
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

_BESIDE_MARK_MM: Final = 0.4
_FEET_MM: Final = 0.85
_ASCENDERS_MM: Final = 2.7


def draw_joints(
    window: Window, heights: Sequence[float], bottom: float, top: float, words: tuple[float, float] | None = None
) -> Iterator[Shape]:
    """Register marks at ``heights`` of the window's seams, and its tab from ``bottom`` to ``top``; origin at its left.

    Where the tile begins, only the half of a cross that is left when it is cut there is drawn. The tab's words stand
    between two heights, those of the tab where no others are given, and there between two register marks.
    """
    for seam in window.seams:
        backward = REGISTER_ARM_MM if seam == window.end else 0.0
        arms = (backward, REGISTER_ARM_MM) if window.direction > 0 else (REGISTER_ARM_MM, backward)
        for y in heights:
            yield from register_mark(window.x(seam), y, arms)
    if window.has_tab:
        yield from _tab(window, bottom, top)
        yield from _tab_words(window, *_widest_between(heights, *(words or (bottom, top))))


def cutting_outline(
    window: Window, bottom: float, top: float, outer_end: Callable[[float, Fraction], Iterable[Shape]]
) -> Iterator[Shape]:
    """The thin line to cut along, just outside the window from ``bottom`` to ``top``, and along the seam it begins at.

    At an end that is no seam is what ``outer_end`` draws there, by its x and its station.
    """
    for y in (bottom - OUTSIDE_MM, top + OUTSIDE_MM):
        yield Line(0.0, y, window.width, y, CUT_MM)
    for station in (window.start, window.end):
        x = window.x(station)
        if station in (0, window.length):
            yield from outer_end(x, station)
        elif station == window.start:
            yield Line(x, bottom - OUTSIDE_MM, x, top + OUTSIDE_MM, CUT_MM)


def register_mark(
    x: float, y: float, across: tuple[float, float], up: tuple[float, float] = (REGISTER_ARM_MM, REGISTER_ARM_MM)
) -> Iterator[Line]:
    """A cross that is laid over its twin, with its middle at ``x``, ``y``, by how far its arms reach left and right and
    down and up: 0 where a tile begins, since what lies beyond is cut away."""
    yield Line(x - across[0], y, x + across[1], y, REGISTER_MM)
    yield Line(x, y - up[0], x, y + up[1], REGISTER_MM)


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
    """Which tile goes on the tab, off where it is cut: there ascenders reach, or the feet of letters."""
    following = f"tile {window.number + 1}"
    choices = (f"{following} goes here", f"{following} here", following)
    words = next((text for text in choices if text_width_mm(text, WORDS_PT) <= top - bottom), "")
    if words:
        from_cut = WORDS_KEEP_MM + (_FEET_MM if window.direction > 0 else _ASCENDERS_MM)
        baseline = window.x(window.end) + window.direction * (TAB_MM - from_cut)
        yield Text(baseline, (bottom + top) / 2, words, WORDS_PT, Anchor.MIDDLE, upward=True)
