"""The picture of page 1: walls and cabinets from the front and sticks, with their strips' letters; or templates."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import ceil
from typing import Final, TypeAlias

from storystick.drawing.lettering import NAME_MM, shortened
from storystick.drawing.overviews import LARGE, SMALL, BoardsView, Sizes, StickOverview, arrange_boards, overview_of
from storystick.drawing.rings import radius_of, ring
from storystick.drawing.shapes import Shape, Text, moved
from storystick.drawing.standing import Lettered
from storystick.drawing.strip import Strip
from storystick.drawing.wall import walls_of
from storystick.drawing.wall_view import FrontView, arrange_front
from storystick.layout.stations import Layout
from storystick.sheets.pages.flow import TEXT_PT, Block, stacked
from storystick.sheets.strips import StripSheets

_NAME_LINE_MM: Final = 5.6
_RING_ROOM_MM: Final = 12.0
_BETWEEN_MM: Final = 8.0
_MOST_ACROSS: Final = 4
LEAST_STICK_MM: Final = SMALL.row_mm + _NAME_LINE_MM
"""What a stick takes in one row with its name."""

_STICKS_SHARE: Final = 0.4
"""So much of the picture's height is for sticks of the job's own where there are cabinets too."""


_Sticks: TypeAlias = tuple[tuple[Strip, StickOverview], ...]


@dataclass(frozen=True, slots=True)
class FirstPicture:
    """What is shown, arranged for a box and drawn when it is asked for; ``front`` is None for a job of sticks alone.

    The sticks stand so many ``across``, and for so many there is no room. ``boards`` are shown of a job that has
    nothing else.
    """

    front: FrontView | None
    sticks: tuple[tuple[Strip, StickOverview], ...]
    across: int
    left_out: int
    boards: BoardsView | None = None

    @property
    def scale(self) -> float:
        """Of the front; 0 without one."""
        return self.front.scale if self.front else 0.0

    def block(self) -> Block:
        """It drawn, the sticks below the front."""
        front = [Block(self.front.height_mm, self.front.shapes)] if self.front else []
        boards = [Block(self.boards.height_mm, tuple(self.boards.draw()))] if self.boards else []
        return stacked([*front, *_in_rows(self.sticks, self.across), *boards])


def arrange_picture(layout: Layout, plan: StripSheets, width_mm: float, height_mm: float) -> FirstPicture:
    """The walls, the cabinets and the sticks that have strips, as large as they go into a box."""
    strips = [cut_strip.strip for cut_strip in plan.things]
    in_front = bool(layout.cabinets or layout.job.runs)
    own = {stick.name for stick in layout.job.sticks}
    each_once = list({strip.letter: strip for strip in strips if strip.layout.name in own}.values())
    sticks, across = _sticks(each_once, width_mm, height_mm * (_STICKS_SHARE if in_front else 1.0))
    left_out = len(each_once) - len(sticks)
    if not in_front:
        alone = layout.boards and not each_once
        boards = arrange_boards(layout.boards, layout.job.figures, width_mm, height_mm) if alone else None
        return FirstPicture(None, _grown(sticks, across, height_mm), across, left_out, boards)
    lettered = [Lettered(strip.letter, face) for strip in strips for face in strip.faces]
    walls = walls_of(layout, {strip.layout.name: strip.letter for strip in strips})
    used = sum(block.height_mm for block in _in_rows(sticks, across))
    return FirstPicture(arrange_front(layout, lettered, walls, width_mm, height_mm - used), sticks, across, left_out)


def _sticks(strips: Sequence[Strip], width_mm: float, height_mm: float) -> tuple[_Sticks, int]:
    """As many as there is room for, and how many of them stand side by side.

    They are large where all of them have room so with all their words, and side by side where there are many.
    """
    down = max(1, int(height_mm / LEAST_STICK_MM))
    across = min(_MOST_ACROSS, max(1, ceil(len(strips) / down)))
    shown = strips[: int(height_mm / LEAST_STICK_MM) * across]
    each_mm = height_mm / max(1, ceil(len(shown) / across)) - _NAME_LINE_MM
    room = (width_mm + _BETWEEN_MM) / across - _BETWEEN_MM - _RING_ROOM_MM - 0.5

    def drawn(sizes: Sizes) -> tuple[StickOverview, ...]:
        return tuple(overview_of(strip.layout, strip.job.figures, room, each_mm, sizes) for strip in shown)

    large = drawn(LARGE)
    fits = all(not view.cut_short and view.height_mm <= each_mm for view in large)
    return tuple(zip(shown, large if fits else drawn(SMALL), strict=True)), across


def _grown(sticks: _Sticks, across: int, height_mm: float) -> _Sticks:
    """The same, their bands so much higher as the height allows, none of them more than half as high again."""
    rows = [sticks[first : first + across] for first in range(0, len(sticks), across)]
    if not rows:
        return sticks
    spare = height_mm - sum(block.height_mm for block in _in_rows(sticks, across))
    bands = sum(max(len(view.rows) for _, view in row) for row in rows)

    def taller(view: StickOverview) -> StickOverview:
        band = view.sizes.band_mm
        more = max(0.0, min(spare / bands, band / 2))
        return replace(view, sizes=replace(view.sizes, band_mm=band + more))

    return tuple((strip, taller(view)) for strip, view in sticks)


def _in_rows(sticks: Sequence[tuple[Strip, StickOverview]], across: int) -> Iterator[Block]:
    for first in range(0, len(sticks), across):
        blocks = [_stick_block(strip, view) for strip, view in sticks[first : first + across]]
        pitch = sticks[first][1].width_mm + _RING_ROOM_MM + 0.5 + _BETWEEN_MM
        shapes = (shape for place, block in enumerate(blocks) for shape in moved(block.shapes, place * pitch, 0.0))
        yield Block(max(block.height_mm for block in blocks), tuple(shapes))


def _stick_block(strip: Strip, view: StickOverview) -> Block:
    """A stick with its letter before it and its name above it."""
    room = view.width_mm
    name = f"{strip.layout.name}, left and right" if strip.layout.stick.pair else strip.layout.name
    shapes: tuple[Shape, ...] = (
        *ring(strip.letter, radius_of(strip.letter) + 0.3, -_NAME_LINE_MM - view.sizes.band_mm / 2).draw(),
        Text(_RING_ROOM_MM, -NAME_MM - 0.6, shortened(name, TEXT_PT, room, bold=True), TEXT_PT, bold=True),
        *moved(view.draw(), _RING_ROOM_MM, -_NAME_LINE_MM),
    )
    return Block(_NAME_LINE_MM + view.height_mm, shapes)
