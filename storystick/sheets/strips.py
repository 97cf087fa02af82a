"""Strips onto sheets: where each is cut, which tile lies where, and the tabs and register marks to join them by."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import Final

from storystick.drawing.lanes import GROOVE_BOTTOM, TAB_MM
from storystick.drawing.shapes import Anchor, Line, Shape, Text, moved
from storystick.drawing.strip import Strip, StripDrawing, StripPiece, draw_strip
from storystick.drawing.window import Window
from storystick.errors import Fault
from storystick.job.model import Job
from storystick.job.papers import Paper
from storystick.lengths import INCH_MM, Units, write_figure
from storystick.sheets.document import Page
from storystick.sheets.frame import SheetFrame
from storystick.sheets.packing import Block, Placed, pack
from storystick.sheets.seams import Reach, Seam, cut

STRIPS_FILE: Final = "strips.pdf"
SHORTEST_TILE_MM: Final = Fraction(90)
_CUT_MM: Final = 0.12
_OUTSIDE_MM: Final = 0.15
_CROP_MM: Final = 1.2
_CROSS_ARM_MM: Final = 2.6
_REGISTER_MM: Final = 0.2
_DASH: Final = (1.5, 1.0)
_TAB_PT: Final = 8.0
_SEAM_GRID: Final = {Units.INCH: INCH_MM / 8, Units.MM: Fraction(1)}


@dataclass(frozen=True, slots=True)
class Tile:
    """A piece of a strip, with what is needed to cut and join it."""

    drawing: StripDrawing
    piece: StripPiece

    @property
    def strip(self) -> Strip:
        return self.drawing.strip

    @property
    def window(self) -> Window:
        return self.piece.window

    @property
    def left_mm(self) -> float:
        """How far the window's left lies from the left of what is printed: the tab of a right hand stands there."""
        return TAB_MM if self.window.has_tab and self.window.direction < 0 else 0.0

    @property
    def width_mm(self) -> float:
        tab_right = TAB_MM if self.window.has_tab and self.window.direction > 0 else 0.0
        return self.left_mm + max(self.window.width + tab_right, self.piece.right_mm)


@dataclass(frozen=True, slots=True)
class PlacedTile:
    """A tile on a sheet: its start's ``x_mm`` and its marking edge's ``y_mm``, origin at the sheet's lower left."""

    tile: Tile
    x_mm: float
    y_mm: float
    scale_x: float = 1.0
    scale_y: float = 1.0


@dataclass(frozen=True, slots=True)
class Sheet:
    """A printed sheet with its tiles; ``number`` counts from 1 and is its page in ``file``."""

    number: int
    frame: SheetFrame
    tiles: tuple[PlacedTile, ...]
    file: str = STRIPS_FILE


@dataclass(frozen=True, slots=True)
class StripSheets:
    """All strips of a job on their sheets, and the seams that each strip is cut at."""

    job: Job
    paper: Paper
    sheets: tuple[Sheet, ...]
    seams: tuple[tuple[Strip, tuple[Seam, ...]], ...]

    def in_gluing_order(self) -> list[tuple[Sheet, PlacedTile]]:
        """Every tile with its sheet: strip by strip, each from its datum."""
        order = {id(strip): place for place, (strip, _) in enumerate(self.seams)}
        placed = [(sheet, tile) for sheet in self.sheets for tile in sheet.tiles]
        return sorted(placed, key=lambda pair: (order[id(pair[1].tile.strip)], pair[1].tile.window.number))


def plan_strips(strips: Iterable[Strip], job: Job) -> StripSheets:
    """Cut strips and place their tiles on the job's paper.

    Raises:
        Fault: the paper is too small for them.
    """
    frame = SheetFrame(float(job.paper.long_side), float(job.paper.short_side), job.margins)
    reach = _reach(frame, job)
    cuts = tuple((strip, _cut(strip, reach, job)) for strip in strips)
    drawings = [draw_strip(strip, [seam.at for seam in seams]) for strip, seams in cuts]
    tiles = [Tile(drawing, piece) for drawing in drawings for piece in drawing.pieces]
    blocks = [Block(tile, tile.width_mm, tile.drawing.height_mm) for tile in tiles]
    _check_room(frame, blocks, job)
    packed = pack(blocks, frame.free_width, frame.free_height)
    sheets = (Sheet(number, frame, _settle(placed, frame)) for number, placed in enumerate(packed, start=1))
    return StripSheets(job, job.paper, tuple(sheets), cuts)


def strip_pages(plan: StripSheets) -> tuple[Page, ...]:
    """The sheets as pages, with an outline entry where each strip begins."""
    return tuple(_page(sheet, plan) for sheet in plan.sheets)


def _reach(frame: SheetFrame, job: Job) -> Reach:
    width = Fraction(frame.free_width).limit_denominator(10**6)
    others = width - Fraction(TAB_MM)
    if others < SHORTEST_TILE_MM:
        shown = max(others, Fraction(0)) // job.round_to * job.round_to
        raise _too_small(job, f"{write_figure(shown, job.units)} for the length of a tile")
    return Reach(others, width, SHORTEST_TILE_MM)


def _cut(strip: Strip, reach: Reach, job: Job) -> tuple[Seam, ...]:
    parts = [(placed.span.start, placed.span.end) for placed in strip.layout.parts]
    return cut(strip.layout.marks, reach, _SEAM_GRID[job.units], parts)


def _check_room(frame: SheetFrame, blocks: Sequence[Block[Tile]], job: Job) -> None:
    """Whether every tile fits on a sheet. One too short for its words has them beside it, and may be wide with them."""
    for size, room, wanted in (
        (max(block.height for block in blocks), frame.free_height, "that a strip is high"),
        (max(block.width for block in blocks), frame.free_width, "that a tile is long with the words beside it"),
    ):
        if size > room:
            shown = ceil(Fraction(size) / job.round_to) * job.round_to
            raise _too_small(job, f"less than the {write_figure(shown, job.units)} {wanted}")


def _too_small(job: Job, leaves: str) -> Fault:
    return Fault(
        f"paper {job.paper.name} less its margins and check bars leaves {leaves}",
        "choose a larger paper or smaller margins",
        where="paper",
    )


def _settle(placed: Iterable[Placed[Tile]], frame: SheetFrame) -> tuple[PlacedTile, ...]:
    """Tiles placed in the free area, as stations on the sheet."""
    return tuple(
        PlacedTile(
            at.item,
            frame.left + at.x + at.item.left_mm + at.item.window.x(at.item.window.start),
            frame.free_bottom + at.y,
        )
        for at in placed
    )


def _page(sheet: Sheet, plan: StripSheets) -> Page:
    shapes = (shape for placed in sheet.tiles for shape in _draw_tile(placed))
    what = f"strips, sheet {sheet.number} of {len(plan.sheets)}"
    return Page(
        sheet.frame.width_mm,
        sheet.frame.height_mm,
        (*shapes, *sheet.frame.furniture(plan.job, what)),
        label=f"strips {sheet.number}",
        bookmarks=tuple(placed.tile.strip.name for placed in sheet.tiles if placed.tile.window.number == 1),
    )


def _draw_tile(placed: PlacedTile) -> Iterator[Shape]:
    tile = placed.tile
    left = placed.x_mm - tile.window.x(tile.window.start)
    yield from moved(
        (*tile.piece.shapes, *outline(tile.window, tile.drawing.height_mm), *_joints(tile)), left, placed.y_mm
    )


def outline(window: Window, top: float) -> Iterator[Shape]:
    """The thin line to cut along, just outside the strip, so that it never touches the ink that is struck from."""
    left, right = 0.0, window.width
    for y in (-_OUTSIDE_MM, top + _OUTSIDE_MM):
        yield Line(left, y, right, y, _CUT_MM)
    for station in (window.start, window.end):
        x = window.x(station)
        if station in (0, window.length):
            yield Line(x, GROOVE_BOTTOM, x, top + _CROP_MM, _CUT_MM)
            yield Line(x, -_OUTSIDE_MM, x, -_CROP_MM, _CUT_MM)
        elif station == window.start:
            yield Line(x, -_OUTSIDE_MM, x, top + _OUTSIDE_MM, _CUT_MM)


def _joints(tile: Tile) -> Iterator[Shape]:
    """Register marks at the tile's seams, and the tab that the next tile is laid on.

    Where the tile begins, only the half of a cross that is left when it is cut there is drawn.
    """
    for seam in tile.window.seams:
        x, onward = tile.window.x(seam), tile.window.direction * _CROSS_ARM_MM
        back = x - onward if seam == tile.window.end else x
        for y in tile.drawing.register_mm:
            yield Line(back, y, x + onward, y, _REGISTER_MM)
            yield Line(x, y - _CROSS_ARM_MM, x, y + _CROSS_ARM_MM, _REGISTER_MM)
    if tile.window.has_tab:
        yield from _tab(tile)


def _tab(tile: Tile) -> Iterator[Shape]:
    seam = tile.window.x(tile.window.end)
    outward = tile.window.direction
    edge, top = seam + outward * TAB_MM, tile.drawing.height_mm
    yield Line(seam, 0.0, seam, top, _CUT_MM, _DASH)
    for y in (-_OUTSIDE_MM, top + _OUTSIDE_MM):
        yield Line(seam, y, edge, y, _CUT_MM)
    yield Line(edge, -_OUTSIDE_MM, edge, top + _OUTSIDE_MM, _CUT_MM)
    words = f"tile {tile.window.number + 1} goes here"
    baseline = seam + outward * (TAB_MM / 2 + 1.2) + 1.0
    yield Text(baseline, top / 2, words, _TAB_PT, Anchor.MIDDLE, upward=True)
