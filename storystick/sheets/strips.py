"""Strips onto sheets, each cut where no mark is; and a strip in one piece on a page of its own."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import Final, TypeAlias

from storystick.drawing.lettering import check_letters
from storystick.drawing.shapes import Line, Shape, moved
from storystick.drawing.strip import Strip, StripDrawing, StripPiece, draw_strip
from storystick.drawing.strip_lanes import GROOVE_TOP
from storystick.drawing.strip_lifting import LeftOut
from storystick.drawing.strip_wrap import TICK_MM, fold_ticks
from storystick.drawing.window import TAB_MM, Window
from storystick.errors import Fault, FaultCollector
from storystick.job.job import Job
from storystick.lengths import INCH_MM, Units, write_figure
from storystick.sheets.document import Page, whole_page
from storystick.sheets.frame import SheetFrame, level_frame
from storystick.sheets.packing import (
    ROUNDING_MM,
    Block,
    FilledSheet,
    SettledTile,
    left_of,
    place_tiles,
    tile_row,
    width_of,
)
from storystick.sheets.seams import CUT_MM, OUTSIDE_MM, Reach, Seam, cut, draw_joints
from storystick.wording import counted, listed

SHORTEST_TILE_MM: Final = Fraction(100)
"""A tile that is shorter is hard to hold straight, and has no room for the words that tell it from others."""

CROP_MM: Final = 0.9
BLEED_MM: Final = 1.0
"""What may stand out beyond a tile: crop ticks, outlines, half an arrowhead."""

SEAM_GRID: Final = {Units.INCH: INCH_MM / 8, Units.MM: Fraction(1)}
"""Seams lie on these, in mm, where that costs nothing: stations that a tape shows."""


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
    def gluing_place(self) -> tuple[int, int, int]:
        """What tiles are sorted by for gluing: their stick, the left hand before the right, and their number."""
        return self.strip.layout.stick.number, -self.window.direction, self.window.number

    @property
    def left_mm(self) -> float:
        return left_of(self.window, _tick_mm(self.strip))

    @property
    def width_mm(self) -> float:
        return width_of(self.window, _tick_mm(self.strip), self.piece.right_mm)

    @property
    def wrap_mm(self) -> float:
        return self.drawing.wrap_mm

    @property
    def below_mm(self) -> float:
        """What is folded over lies below the marking edge."""
        return self.wrap_mm

    @property
    def height_mm(self) -> float:
        """How high it is on the paper: above the marking edge, and what is folded over below it."""
        return self.drawing.height_mm + self.wrap_mm


PlacedTile: TypeAlias = SettledTile[Tile]
Sheet: TypeAlias = FilledSheet[Tile]


@dataclass(frozen=True, slots=True)
class CutStrip:
    """A strip with the seams that it is cut at, and its drawing in pieces."""

    strip: Strip
    seams: tuple[Seam, ...]
    drawing: StripDrawing

    @property
    def tiles(self) -> tuple[Tile, ...]:
        return tuple(Tile(self.drawing, piece) for piece in self.drawing.pieces)


@dataclass(frozen=True, slots=True)
class StripSheets:
    """All strips of a job, in the order of the job, and the sheets that their tiles are on."""

    job: Job
    strips: tuple[CutStrip, ...]
    sheets: tuple[Sheet, ...]

    @property
    def paper_words(self) -> str:
        """How many sheets of which paper, and off a roll how long each is to be cut."""
        words = f"{counted(len(self.sheets), 'sheet')} of {self.job.paper.name}"
        if not self.job.paper.roll:
            return words
        counts = Counter(self.job.label(sheet.frame.page_width) for sheet in self.sheets)
        shown = ((length, f"{count} × " if count > 1 else "") for length, count in counts.items())
        return f"{words}, cut {listed([f'{times}{length} {self.job.units.sign}' for length, times in shown])} long"

    @property
    def remarks(self) -> tuple[str, ...]:
        """Which strips have more labels than room."""
        return left_out_remarks(cut_strip.drawing for cut_strip in self.strips)

    def in_gluing_order(self) -> list[tuple[Sheet, PlacedTile]]:
        """Every tile with its sheet: strip by strip, each from its datum."""
        placed = [(sheet, tile) for sheet in self.sheets for tile in sheet.tiles]
        return sorted(placed, key=lambda pair: pair[1].tile.gluing_place)

    def tile_rows(self) -> list[tuple[str, ...]]:
        """Strip, tile, sheet, and the stations from and to of every tile in the order of gluing, as labels."""
        return [
            tile_row(placed.tile.strip.name, placed.tile.window, sheet, self.job)
            for sheet, placed in self.in_gluing_order()
        ]


def left_out_remarks(drawings: Iterable[StripDrawing]) -> tuple[str, ...]:
    """What to say of strips that have more labels than room."""
    return tuple(
        f"{drawing.strip.name}: it {drawing.left_out.sentence}; read them on the job sheet"
        for drawing in drawings
        if drawing.left_out
    )


def plan_strips(strips: Sequence[Strip], job: Job) -> StripSheets:
    """Cut strips and place their tiles on the job's paper.

    Raises:
        StorystickError: the paper is too small for them, or the font lacks a sign of a name.
    """
    frame = level_frame(job)
    cut_strips = _cut_all(strips, frame, job)
    blocks = [Block(tile, tile.width_mm, tile.height_mm) for cut_strip in cut_strips for tile in cut_strip.tiles]
    width, height = frame.free_width - 2 * BLEED_MM, frame.free_height - 2 * BLEED_MM
    _check_room(width, height, blocks, job)
    return StripSheets(job, cut_strips, place_tiles(blocks, frame, frame.free_height, job, BLEED_MM))


def _tick_mm(strip: Strip) -> float:
    return TICK_MM if strip.wrap else 0.0


def _cut_all(strips: Sequence[Strip], frame: SheetFrame, job: Job) -> tuple[CutStrip, ...]:
    """Every strip cut and drawn; what cannot be lettered is told for all at once."""
    reaches = {tick_mm: reach_on(frame, job, tick_mm) for tick_mm in {_tick_mm(strip) for strip in strips}}
    collector = FaultCollector()
    with collector.at("title"):
        check_letters(job.title)
    with collector.at("printer"):
        check_letters(job.printer.name if job.printer else "")
    cut_strips = []
    found: dict[int, tuple[Seam, ...]] = {}
    for strip in strips:
        with collector.at(strip.layout.stick.place):
            check_letters(*strip.words)
            # Both hands of a stick are cut at the same stations.
            seams = found.get(id(strip.layout)) or _cut(strip, reaches[_tick_mm(strip)], job)
            found[id(strip.layout)] = seams
            cut_strips.append(CutStrip(strip, seams, draw_strip(strip, [seam.at for seam in seams])))
    collector.raise_any()
    return tuple(cut_strips)


def strip_pages(plan: StripSheets, what: str = "strips") -> tuple[Page, ...]:
    """The sheets as pages that say ``what`` they are, with an outline entry where each strip begins."""
    return tuple(_page(sheet, plan, what) for sheet in plan.sheets)


def reach_on(frame: SheetFrame, job: Job, tick_mm: float) -> Reach:
    """How long tiles may be on a sheet, that have ``tick_mm`` beyond their ends where no tab is.

    Raises:
        Fault: the paper is too small for any.
    """
    width = frame.free_length - 2 * Fraction(BLEED_MM) - Fraction(tick_mm)
    others = width - Fraction(TAB_MM)
    if others < SHORTEST_TILE_MM:
        shown = max(others, Fraction(0)) // job.round_to * job.round_to
        raise paper_too_small(job, f"{write_figure(shown, job.units)} for the length of a tile")
    return Reach(others, width - Fraction(tick_mm), SHORTEST_TILE_MM)


def _cut(strip: Strip, reach: Reach, job: Job) -> tuple[Seam, ...]:
    parts = [(placed.span.start, placed.span.end) for placed in strip.layout.parts]
    return cut(strip.layout.marks, reach, SEAM_GRID[job.units], parts)


def _check_room(width: float, height: float, blocks: Sequence[Block[Tile]], job: Job) -> None:
    """Whether every tile fits on a sheet. One too short for its words has them beside it, and may be wide with them."""
    highest = max(blocks, key=lambda block: block.height)
    with_wrap, narrower = (" with its wrap", ", or a narrower wrap") if highest.item.wrap_mm else ("", "")
    for size, room, wanted, cure in (
        (highest.height, height, f"that a strip is high{with_wrap}", narrower),
        (max(block.width for block in blocks), width, "that a tile is long with the words beside it", ""),
    ):
        if size > room + ROUNDING_MM:
            shown = ceil(Fraction(size) / job.round_to) * job.round_to
            raise paper_too_small(job, f"less than the {write_figure(shown, job.units)} {wanted}", cure)


def paper_too_small(job: Job, leaves: str, other_cure: str = "") -> Fault:
    """The fault of a paper that ``leaves`` too little room."""
    return Fault(
        f"paper {job.paper.name} less its margins and check bars leaves {leaves}",
        f"choose a larger paper or smaller margins{other_cure}",
        where="paper",
    )


def _page(sheet: Sheet, plan: StripSheets, what: str) -> Page:
    shapes = (shape for placed in sheet.tiles for shape in _draw_tile(placed))
    left_out = sum((placed.tile.piece.left_out for placed in sheet.tiles), LeftOut())
    words = [f"{what}, sheet {sheet.number} of {len(plan.sheets)}"]
    words += [f"left out for want of room: {left_out.words}"] if left_out else []
    return sheet.frame.page(
        (*shapes, *sheet.frame.furniture(plan.job, " · ".join(words))),
        label=f"{what} {sheet.number}",
        bookmarks=tuple(placed.tile.strip.name for placed in sheet.tiles if placed.tile.window.number == 1),
    )


def _draw_tile(placed: PlacedTile) -> Iterator[Shape]:
    tile = placed.tile
    window, top, bottom = tile.window, tile.drawing.height_mm, 0.0 - tile.wrap_mm
    joints = draw_joints(window, tile.drawing.register_mm, bottom, top, (0.0, top))
    shapes = (*tile.piece.shapes, *cutting_lines(window, top, bottom), *joints)
    yield from moved(shapes, placed.left_mm, placed.y_mm)


def cutting_lines(window: Window, top: float, bottom: float = 0.0) -> Iterator[Shape]:
    """The outline of a window from ``bottom`` to ``top``, and beyond its ends the ticks of a fold where it has one."""
    yield from _outline(window, top, bottom)
    if bottom:
        yield from fold_ticks(window, 0.0)


def _outline(window: Window, top: float, bottom: float) -> Iterator[Shape]:
    """The thin line to cut along: just outside the strip, and at its ends only where no ink is that is struck from."""
    left, right = 0.0, window.width
    for y in (bottom - OUTSIDE_MM, top + OUTSIDE_MM):
        yield Line(left, y, right, y, CUT_MM)
    for station in (window.start, window.end):
        x = window.x(station)
        if station in (0, window.length):
            yield Line(x, GROOVE_TOP, x, top + CROP_MM, CUT_MM)
            yield Line(x, bottom - OUTSIDE_MM, x, bottom - CROP_MM, CUT_MM)
        elif station == window.start:
            yield Line(x, bottom - OUTSIDE_MM, x, top + OUTSIDE_MM, CUT_MM)


def one_piece(strip: Strip) -> Page:
    """A strip whole, with x = 0 at its left end and y = 0 at its marking edge, and some room around it."""
    drawing = draw_strip(strip)
    (piece,) = drawing.pieces
    bottom = 0.0 - drawing.wrap_mm
    shapes = (*piece.shapes, *cutting_lines(piece.window, drawing.height_mm, bottom))
    return whole_page(shapes, strip.name, piece.right_mm, drawing.height_mm - bottom, bottom)
