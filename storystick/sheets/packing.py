"""Oblongs of any kind packed onto sheets: side by side in lanes, the lanes one below another.

A sheet is cut straight across between lanes, and each lane is then cut across between its tiles.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from math import inf
from typing import Final, Generic, TypeVar

GAP_MM: Final = 2.0
"""Between neighbouring tiles, and between lanes."""

ROUNDING_MM: Final = 1e-6
"""So much more than its room something may seem to take, since floats are rounded."""

_NARROWER_BY_MM: Final = 10.0
"""Less paper than this is not worth looking for."""

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Oblong(Generic[T]):
    """Something to place, ``width`` by ``height`` mm."""

    item: T
    width: float
    height: float


@dataclass(slots=True)
class _Filling(Generic[T]):
    """Things laid one after another, so many mm used with a gap behind each."""

    content: list[T] = field(default_factory=list)
    used: float = 0.0

    def add(self, thing: T, size: float) -> None:
        self.content.append(thing)
        self.used += size + GAP_MM


class _FirstFit(Generic[T]):
    """Runs of one ``room``, begun as they are needed; the first that has room for a thing is found by halving.

    ``_used`` is a tree in a list: below node n are 2n and 2n + 1, each node has the least that is used below it, and
    the leaves are the runs in order.
    """

    def __init__(self, room: float) -> None:
        self.runs: list[_Filling[T]] = []
        self._room = room
        self._used = [inf, inf]

    def add(self, thing: T, size: float) -> None:
        """Lay a thing into the first run that has room for it."""
        place = self._first(size)
        self.runs[place].add(thing, size)
        node = len(self._used) // 2 + place
        self._used[node] = self.runs[place].used
        while node > 1:
            node //= 2
            self._used[node] = min(self._used[2 * node], self._used[2 * node + 1])

    def _first(self, size: float) -> int:
        leaves = len(self._used) // 2
        if not self._fits(1, size):
            return self._begin(leaves)
        node = 1
        while node < leaves:
            node = 2 * node if self._fits(2 * node, size) else 2 * node + 1
        return node - leaves

    def _fits(self, node: int, size: float) -> bool:
        return self._used[node] + size <= self._room + ROUNDING_MM

    def _begin(self, leaves: int) -> int:
        if len(self.runs) == leaves:
            self._used = [inf] * (2 * leaves) + [run.used for run in self.runs] + [inf] * leaves
            for node in range(2 * leaves - 1, 0, -1):
                self._used[node] = min(self._used[2 * node], self._used[2 * node + 1])
        self.runs.append(_Filling())
        return len(self.runs) - 1


@dataclass(frozen=True, slots=True)
class Placed(Generic[T]):
    """An item with the place of its lower left corner, in mm from the lower left of the sheet's free area."""

    item: T
    x: float
    y: float


def pack(oblongs: Sequence[Oblong[T]], width: float, height: float) -> list[list[Placed[T]]]:
    """Sheet by sheet, where each oblong lies in a free area of ``width`` by ``height`` mm that each fits into.

    Blocks that fill most of a lane keep their order; short ones are put into the first lane that has room and is high
    enough: first fit, highest and then longest first.
    """
    sheets = _FirstFit[_Filling[Oblong[T]]](height)
    for lane in _lanes(oblongs, width):
        sheets.add(lane, lane.content[0].height)
    return [list(_stacked(sheet.content, height)) for sheet in sheets.runs]


def _stacked(lanes: Iterable[_Filling[Oblong[T]]], height: float) -> Iterator[Placed[T]]:
    """The oblongs of a sheet's lanes, from its top down."""
    top = 0.0
    for lane in lanes:
        yield from _along(lane, top, height)
        top += lane.content[0].height + GAP_MM


def fit(oblongs: Sequence[Oblong[T]], width: float, height: float, any_width: bool) -> list[list[Placed[T]]]:
    """As :func:`pack`; where sheets may have ``any_width`` up to that, on as little paper as is found.

    That is the narrowest width at which no more sheets are needed, found by halving.
    """
    packed = pack(oblongs, width, height)
    if not any_width or not oblongs:
        return packed
    low, high = max(oblong.width for oblong in oblongs), width
    # No more than halving: whether fewer sheets do is not monotone in the width, so the least is not always found.
    while high - low > _NARROWER_BY_MM:
        middle = (low + high) / 2
        narrower = pack(oblongs, middle, height)
        if len(narrower) > len(packed):
            low = middle
        else:
            packed, high = narrower, middle
    return packed


def _lanes(oblongs: Sequence[Oblong[T]], width: float) -> list[_Filling[Oblong[T]]]:
    """Lanes, each as high as the oblong that begins it; the higher ones first, and those of one height in order."""
    order = {id(oblong): place for place, oblong in enumerate(oblongs)}
    lanes = _FirstFit[Oblong[T]](width)
    for oblong in sorted(oblongs, key=lambda oblong: (-oblong.height, -oblong.width, order[id(oblong)])):
        lanes.add(oblong, oblong.width)
    return sorted(lanes.runs, key=lambda lane: (-lane.content[0].height, order[id(lane.content[0])]))


def _along(lane: _Filling[Oblong[T]], top: float, height: float) -> list[Placed[T]]:
    """The lane's oblongs from the left, their upper edges at ``top`` mm below the top of the area."""
    x = 0.0
    placed = []
    for oblong in lane.content:
        placed.append(Placed(oblong.item, x, height - top - oblong.height))
        x += oblong.width + GAP_MM
    return placed
