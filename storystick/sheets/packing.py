"""Which tile goes where: side by side in lanes, lanes on sheets, and how long a sheet of a roll gets.

A sheet is cut straight across between lanes, and each lane is then cut across between its tiles.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from math import inf
from typing import Final, Generic, Protocol, TypeVar

from storystick.drawing.window import TAB_MM, Window
from storystick.job.job import Job
from storystick.sheets.frame import SheetFrame, cut_off

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
        self.runs: list[_Run[T]] = []
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
        self.runs.append(_Run())
        return len(self.runs) - 1


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
    sheets = _FirstFit[_Run[Block[T]]](height)
    for lane in _lanes(blocks, width):
        sheets.add(lane, lane.content[0].height)
    return [list(_stacked(sheet.content, height)) for sheet in sheets.runs]


def _stacked(lanes: Iterable[_Run[Block[T]]], height: float) -> Iterator[Placed[T]]:
    """The blocks of a sheet's lanes, from its top down."""
    top = 0.0
    for lane in lanes:
        yield from _along(lane, top, height)
        top += lane.content[0].height + GAP_MM


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
    lanes = _FirstFit[Block[T]](width)
    for block in sorted(blocks, key=lambda block: (-block.height, -block.width, order[id(block)])):
        lanes.add(block, block.width)
    return sorted(lanes.runs, key=lambda lane: (-lane.content[0].height, order[id(lane.content[0])]))


def _along(lane: _Run[Block[T]], top: float, height: float) -> list[Placed[T]]:
    """The lane's blocks from the left, their upper edges at ``top`` mm below the top of the area."""
    x = 0.0
    placed = []
    for block in lane.content:
        placed.append(Placed(block.item, x, height - top - block.height))
        x += block.width + GAP_MM
    return placed


class AnyTile(Protocol):
    """A piece of something long: what is drawn of its window, and the room that it takes. In mm."""

    @property
    def window(self) -> Window: ...

    @property
    def left_mm(self) -> float:
        """How far the window's left lies from the left of what is printed."""

    @property
    def below_mm(self) -> float:
        """How far it reaches below y = 0 of its drawing."""

    @property
    def width_mm(self) -> float:
        """Of all that is printed."""


AnyT = TypeVar("AnyT", bound=AnyTile)


@dataclass(frozen=True, slots=True)
class SettledTile(Generic[AnyT]):
    """A tile on a sheet, origin at the sheet's lower left, in mm as they come out on the paper.

    ``left_mm`` is the left of its window, ``y_mm`` the place of y = 0 of its drawing: of a strip, the marking edge.
    """

    tile: AnyT
    left_mm: float
    y_mm: float

    @property
    def x_mm(self) -> float:
        """Where the tile's first station lies: the left of a window that runs to the right, else its right."""
        return self.left_mm + self.tile.window.x(self.tile.window.start)


@dataclass(frozen=True, slots=True)
class FilledSheet(Generic[AnyT]):
    """A printed sheet with its tiles; ``number`` counts from 1 and is its page in the file."""

    number: int
    frame: SheetFrame
    tiles: tuple[SettledTile[AnyT], ...]


def place_tiles(
    blocks: Sequence[Block[AnyT]], frame: SheetFrame, height_mm: float, job: Job, around_mm: float = 0.0
) -> tuple[FilledSheet[AnyT], ...]:
    """Tiles, each of which has been found to fit, on as few sheets as are found.

    Of their free area they fill ``height_mm`` at most. ``around_mm`` is what may stand out beyond a tile and
    keeps off the margins too.
    """
    packed = fit(blocks, frame.free_width - 2 * around_mm, height_mm - 2 * around_mm, job.paper.roll)
    return tuple(
        FilledSheet(number, _as_long_as_needed(frame, placed, job, around_mm), _settle(placed, frame, around_mm))
        for number, placed in enumerate(packed, start=1)
    )


def _as_long_as_needed(frame: SheetFrame, placed: Sequence[Placed[AnyT]], job: Job, around_mm: float) -> SheetFrame:
    used = max(at.x + at.item.width_mm for at in placed) + 2 * around_mm
    return cut_off(frame, used, job.units) if job.paper.roll else frame


def _settle(placed: Sequence[Placed[AnyT]], frame: SheetFrame, around_mm: float) -> tuple[SettledTile[AnyT], ...]:
    """Tiles placed in the free area, as they lie on the sheet."""
    left, bottom = frame.left + around_mm, frame.free_bottom + around_mm
    return tuple(SettledTile(at.item, left + at.x + at.item.left_mm, bottom + at.y + at.item.below_mm) for at in placed)


def left_of(window: Window, tick_mm: float) -> float:
    """How far what is printed begins left of a window, in mm: the tab of a right hand stands there."""
    return _beyond(window, tick_mm)[0]


def width_of(window: Window, tick_mm: float, words_to_mm: float) -> float:
    """The width of all that is printed of a window, whose words reach to ``words_to_mm`` from its left. In mm."""
    left, right = _beyond(window, tick_mm)
    return left + max(window.width + right, words_to_mm)


def _beyond(window: Window, tick_mm: float) -> tuple[float, float]:
    """What stands out left and right of a window: a tab at its end where it has one, else the ticks of a fold."""
    ends = tick_mm, TAB_MM if window.has_tab else tick_mm
    return ends if window.direction > 0 else ends[::-1]


def tile_row(name: str, window: Window, sheet: FilledSheet[AnyT], job: Job) -> tuple[str, ...]:
    """What a tile is of, its number, its sheet, and the stations that it runs from and to, as labels."""
    stations = (job.label(station) for station in (window.start, window.end))
    return (name, f"{window.number} of {window.of}", str(sheet.number), *stations)
