"""Which tile goes where: tiles side by side in lanes, lanes one above another on sheets.

A sheet is cut straight across between lanes, and each lane is then cut across between its tiles.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final, Generic, TypeVar

GAP_MM: Final = 2.0
"""Between neighbouring tiles, and between lanes."""

ROUNDING_MM: Final = 1e-6
"""So much more than its room something may seem to take, since floats are rounded."""

_NARROWER_BY_MM: Final = 10.0
"""Less paper than this is not worth looking for."""

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Block(Generic[T]):
    """Something to place, ``width`` by ``height`` mm."""

    item: T
    width: float
    height: float


@dataclass(slots=True)
class _Run(Generic[T]):
    """Things laid one after another along ``room`` mm."""

    room: float
    content: list[T] = field(default_factory=list)
    used: float = 0.0

    def fits(self, size: float) -> bool:
        return self.used + size <= self.room + ROUNDING_MM

    def add(self, thing: T, size: float) -> None:
        self.content.append(thing)
        self.used += size + GAP_MM


@dataclass(frozen=True, slots=True)
class Placed(Generic[T]):
    """An item with the place of its lower left corner, in mm from the lower left of the sheet's free area."""

    item: T
    x: float
    y: float


def pack(blocks: Sequence[Block[T]], width: float, height: float) -> list[list[Placed[T]]]:
    """Sheet by sheet, where each block lies in a free area of ``width`` by ``height`` mm that each fits into.

    Blocks that fill most of a lane keep their order; short ones are put into the first lane that has room and is high
    enough: first fit, highest and then longest first.
    """
    sheets: list[_Run[tuple[float, _Run[Block[T]]]]] = []
    for lane in _lanes(blocks, width):
        tall = lane.content[0].height
        sheet = next((sheet for sheet in sheets if sheet.fits(tall)), None)
        if sheet is None:
            sheets.append(sheet := _Run(height))
        sheet.add((sheet.used, lane), tall)
    return [[placed for top, lane in sheet.content for placed in _along(lane, top, height)] for sheet in sheets]


def fit(blocks: Sequence[Block[T]], width: float, height: float, any_width: bool) -> list[list[Placed[T]]]:
    """As :func:`pack`; where sheets may have ``any_width`` up to that, on as little paper as is found.

    That is the narrowest width at which no more sheets are needed, found by halving.
    """
    packed = pack(blocks, width, height)
    if not any_width or not blocks:
        return packed
    low, high = max(block.width for block in blocks), width
    while high - low > _NARROWER_BY_MM:
        middle = (low + high) / 2
        narrower = pack(blocks, middle, height)
        if len(narrower) > len(packed):
            low = middle
        else:
            packed, high = narrower, middle
    return packed


def _lanes(blocks: Sequence[Block[T]], width: float) -> list[_Run[Block[T]]]:
    """Lanes, each as high as the block that begins it; the higher ones first, and those of one height in order."""
    order = {id(block): place for place, block in enumerate(blocks)}
    lanes: list[_Run[Block[T]]] = []
    for block in sorted(blocks, key=lambda block: (-block.height, -block.width, order[id(block)])):
        lane = next((lane for lane in lanes if lane.fits(block.width)), None)
        if lane is None:
            lanes.append(lane := _Run(width))
        lane.add(block, block.width)
    return sorted(lanes, key=lambda lane: (-lane.content[0].height, order[id(lane.content[0])]))


def _along(lane: _Run[Block[T]], top: float, height: float) -> list[Placed[T]]:
    """The lane's blocks from the left, their upper edges at ``top`` mm below the top of the area."""
    x = 0.0
    placed = []
    for block in lane.content:
        placed.append(Placed(block.item, x, height - top - block.height))
        x += block.width + GAP_MM
    return placed
