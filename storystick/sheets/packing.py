"""Oblongs of any kind packed onto sheets: side by side in lanes, the lanes one below another.

A sheet is cut straight across between lanes, and each lane is then cut across between its tiles.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil
from typing import Final, Generic, TypeVar

from storystick.sheets.stacking import ROUNDING_MM, Effort, Stack, fewest_stacks, in_order

GAP_MM: Final = 2.0
"""Between neighbouring tiles, and between lanes."""

_NARROWER_BY_MM: Final = 10.0
"""Less paper than this is not worth looking for."""

_STEPS: Final = 100_000
"""What may be spent on one way of filling lanes, and on the order of the sheets: some tenths of a second."""

_STEPS_A_LANE: Final = 300
_NEIGHBOURS: Final = 24

_WORTH_OF_HEIGHT: Final = (1.0, 0.5, 2.0, 8.0)
"""What a tile is worth in a lane is its width times a power of its height: its area, or more for its width or height.

Which of them gives the lowest lanes depends on the tiles, so all are tried."""

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Oblong(Generic[T]):
    """Something to place, ``width`` by ``height`` mm."""

    item: T
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Placed(Generic[T]):
    """An item with the place of its lower left corner, in mm from the lower left of the sheet's free area."""

    item: T
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class _Packing(Generic[T]):
    """Lanes of oblongs, as they follow each other in the job, and the stacks that few sheets hold them in."""

    lanes: Sequence[Sequence[Oblong[T]]]
    stacks: Sequence[Stack]

    def laid(self, height: float) -> list[list[Placed[T]]]:
        """Sheet by sheet, where each oblong lies in a free area so high."""
        heights = [_height(lane) for lane in self.lanes]
        sheets = in_order(heights, self.stacks, height + GAP_MM, Effort(_STEPS))
        return [list(_stacked([self.lanes[place] for place in places], height)) for places in sheets]


def pack(oblongs: Sequence[Oblong[T]], width: float, height: float) -> list[list[Placed[T]]]:
    """Sheet by sheet, where each oblong lies in a free area of ``width`` by ``height`` mm that each fits into.

    There are as few sheets as are found, and these follow the order of the oblongs as far as that allows.
    """
    return _fewest(oblongs, width, height).laid(height)


def fit(oblongs: Sequence[Oblong[T]], width: float, height: float, any_width: bool) -> list[list[Placed[T]]]:
    """As :func:`pack`; where sheets may have ``any_width`` up to that, on as little paper as is found.

    That is the narrowest width at which no more sheets are needed, found by halving.
    """
    packing = _fewest(oblongs, width, height)
    low, high = max((oblong.width for oblong in oblongs), default=width), width
    # No more than halving: whether fewer sheets do is not monotone in the width, so the least is not always found.
    while any_width and high - low > _NARROWER_BY_MM:
        middle = (low + high) / 2
        narrower = _fewest(oblongs, middle, height)
        if len(narrower.stacks) > len(packing.stacks):
            low = middle
        else:
            packing, high = narrower, middle
    return packing.laid(height)


def _fewest(oblongs: Sequence[Oblong[T]], width: float, height: float) -> _Packing[T]:
    """The best of several ways to fill lanes, the one with the lowest lanes first: it has the best chance."""
    room = height + GAP_MM
    ways = {
        tuple(map(_height, lanes)): lanes for lanes in (_lanes(oblongs, width, power) for power in _WORTH_OF_HEIGHT)
    }
    best: _Packing[T] | None = None
    effort = Effort(_STEPS)
    for heights, lanes in sorted(ways.items(), key=lambda way: sum(way[0])):
        # No way of stacking could be better than one that fills every sheet to its edge.
        if best is None or (effort.steps > 0 and ceil(sum(heights) / room - ROUNDING_MM) < len(best.stacks)):
            packing = _Packing(lanes, fewest_stacks(heights, room, effort))
            best = packing if best is None or len(packing.stacks) < len(best.stacks) else best
    assert best
    return best


def _height(lane: Sequence[Oblong[T]]) -> float:
    """How high a lane is with the gap to the next one; rounded, so that lanes alike count as alike."""
    return round(max(oblong.height for oblong in lane) + GAP_MM, 6)


def _lanes(oblongs: Sequence[Oblong[T]], width: float, power: float) -> list[list[Oblong[T]]]:
    """Lanes in the order of their first oblongs, and in each the oblongs in order.

    The highest that has none yet begins a lane, and the others in it are those that are worth most there.
    """
    room = width + GAP_MM + ROUNDING_MM
    sizes = [(oblong.width + GAP_MM, oblong.height) for oblong in oblongs]
    narrowest = min((size[0] for size in sizes), default=0.0)
    left = sorted(range(len(sizes)), key=lambda place: (-sizes[place][1], -sizes[place][0], place))
    alone = [place for place in left if sizes[place][0] + narrowest > room]
    left = [place for place in left if sizes[place][0] + narrowest <= room]
    lanes = [[place] for place in alone]
    while left:
        first, *others = left
        lanes.append([first, *_beside(room - sizes[first][0], others, sizes, power)])
        taken = set(lanes[-1])
        left = [place for place in left if place not in taken]
    return [[oblongs[place] for place in lane] for lane in sorted(map(sorted, lanes))]


def _beside(room: float, places: Sequence[int], sizes: Sequence[tuple[float, float]], power: float) -> tuple[int, ...]:
    """Which of some oblongs are worth most in the rest of a lane, as far as a short search finds it."""
    choices = [place for place in places if sizes[place][0] <= room]
    best, most = tuple[int, ...](), 0.0
    waiting: list[tuple[int, float, float, tuple[int, ...]]] = [(0, room, 0.0, ())]
    for _ in range(_STEPS_A_LANE):
        if not waiting:
            break
        begin, free, value, taken = waiting.pop()
        if value > most:
            best, most = taken, value
        fitting = [at for at in range(begin, min(len(choices), begin + _NEIGHBOURS)) if sizes[choices[at]][0] <= free]
        for at in reversed(fitting):
            across, high = sizes[choices[at]]
            waiting.append((at + 1, free - across, value + across * high**power, (*taken, choices[at])))
    return best


def _stacked(lanes: Sequence[Sequence[Oblong[T]]], height: float) -> Iterator[Placed[T]]:
    """The oblongs of a sheet's lanes, from its top down."""
    top = 0.0
    for lane in lanes:
        x = 0.0
        for oblong in lane:
            yield Placed(oblong.item, x, height - top - oblong.height)
            x += oblong.width + GAP_MM
        top += _height(lane)
