"""Tiles of any kind onto sheets: how much room one takes, where it comes to lie, and how long its sheet is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Generic, Protocol, TypeVar

from storystick.drawing.lanes import TAB_MM
from storystick.drawing.window import Window
from storystick.job.model import Job
from storystick.sheets.frame import SheetFrame, cut_off
from storystick.sheets.packing import Block, Placed, fit


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


T = TypeVar("T", bound=AnyTile)


@dataclass(frozen=True, slots=True)
class SettledTile(Generic[T]):
    """A tile on a sheet, origin at the sheet's lower left, in mm as they come out on the paper.

    ``left_mm`` is the left of its window, ``y_mm`` the place of y = 0 of its drawing: of a strip, the marking edge.
    """

    tile: T
    left_mm: float
    y_mm: float

    @property
    def x_mm(self) -> float:
        """Where the tile's first station lies: the left of a window that runs to the right, else its right."""
        return self.left_mm + self.tile.window.x(self.tile.window.start)


@dataclass(frozen=True, slots=True)
class FilledSheet(Generic[T]):
    """A printed sheet with its tiles; ``number`` counts from 1 and is its page in the file."""

    number: int
    frame: SheetFrame
    tiles: tuple[SettledTile[T], ...]


def place_tiles(
    blocks: Sequence[Block[T]], frame: SheetFrame, height_mm: float, job: Job, around_mm: float = 0.0
) -> tuple[FilledSheet[T], ...]:
    """Tiles, each of which has been found to fit, on as few sheets as are found.

    Of their free area they fill ``height_mm`` at most. ``around_mm`` is what may stand out beyond a tile and
    keeps off the margins too.
    """
    packed = fit(blocks, frame.free_width - 2 * around_mm, height_mm - 2 * around_mm, job.paper.roll)
    return tuple(
        FilledSheet(number, _as_long_as_needed(frame, placed, job, around_mm), _settle(placed, frame, around_mm))
        for number, placed in enumerate(packed, start=1)
    )


def _as_long_as_needed(frame: SheetFrame, placed: Sequence[Placed[T]], job: Job, around_mm: float) -> SheetFrame:
    used = max(at.x + at.item.width_mm for at in placed) + 2 * around_mm
    return cut_off(frame, used, job.units) if job.paper.roll else frame


def _settle(placed: Sequence[Placed[T]], frame: SheetFrame, around_mm: float) -> tuple[SettledTile[T], ...]:
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


def tile_row(name: str, window: Window, sheet: FilledSheet[T], job: Job) -> tuple[str, ...]:
    """What a tile is of, its number, its sheet, and the stations that it runs from and to, as labels."""
    stations = (job.label(station) for station in (window.start, window.end))
    return (name, f"{window.number} of {window.of}", str(sheet.number), *stations)
