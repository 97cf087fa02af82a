"""Strips onto sheets, each cut where no mark is; and a strip in one piece on a page of its own.

A strip in one piece is for other machines, and read by eye and by programs: it is never corrected for a printer, and
its SVG has the datum end or the far end at x = 0 and the marking edge at y = 0, so that a station is read straight
from the file.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, TypeAlias

from storystick.drawing.lettering import check_letters
from storystick.drawing.shapes import Line, Rect, Shape
from storystick.drawing.strip import Strip, StripDrawing, StripPiece, draw_strip
from storystick.drawing.strip_bands import TICK_MM, fold_ticks
from storystick.drawing.strip_lanes import GROOVE_TOP
from storystick.drawing.strip_lifting import LeftOut
from storystick.drawing.window import WORDS_KEEP_MM, Window
from storystick.errors import FaultCollector
from storystick.job.job import Job
from storystick.lengths import Figures
from storystick.sheets.bare_sheet import BareSheet, level_sheet
from storystick.sheets.document import Page, whole_page
from storystick.sheets.seams import CUT_MM, OUTSIDE_MM, Reach, Seam, cut, cutting_outline, draw_joints
from storystick.sheets.tile_plan import Lacking, TileKind, TilePlan, from_datum
from storystick.sheets.tiles import (
    BLEED_MM,
    CROP_MM,
    PlacedTile,
    Sheet,
    check_room,
    grids_of,
    number_of,
    place_tiles,
    printed_width,
    reach_left,
    reach_on,
)


@dataclass(frozen=True, slots=True)
class StripTile:
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
    def number(self) -> str:
        return number_of(self.window)

    @property
    def mapped_as(self) -> str:
        return f"{self.strip.letter or self.strip.name} {self.window.number}"

    @property
    def stations(self) -> tuple[Fraction, ...]:
        return self.window.start, self.window.end

    @property
    def left_mm(self) -> float:
        return reach_left(self.window, _tick_mm(self.strip))

    @property
    def width_mm(self) -> float:
        return printed_width(self.window, _tick_mm(self.strip), self.piece.right_mm)

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
        return self.piece.height_mm + self.wrap_mm

    def draw(self) -> Iterator[Shape]:
        """Its shapes, cutting lines and joints; x = 0 at the window's left, y = 0 at the marking edge."""
        # 0.0 - x, since -0.0 would be written as such.
        top, bottom = self.piece.height_mm, 0.0 - self.wrap_mm
        yield from self.piece.shapes
        yield from cutting_outline(self.window, bottom, top, lambda x, _: _outer_end(x, bottom, top))
        if self.wrap_mm:
            yield from fold_ticks(self.window, 0.0)
        yield from draw_joints(self.window, self.drawing.register_mm, bottom, top, (0.0, top - WORDS_KEEP_MM))


PlacedStripTile: TypeAlias = PlacedTile[StripTile]
StripSheet: TypeAlias = Sheet[StripTile]


@dataclass(frozen=True, slots=True)
class CutStrip:
    """A strip with the seams that it is cut at, and its drawing in pieces."""

    strip: Strip
    seams: tuple[Seam, ...]
    drawing: StripDrawing
    tiles: tuple[StripTile, ...]

    @property
    def name(self) -> str:
        return self.strip.name

    @property
    def heading(self) -> str:
        return self.strip.told

    def placed_seams(self, figures: Figures) -> Iterator[tuple[Seam, str]]:
        return from_datum(self.seams, figures)

    @property
    def lacking(self) -> tuple[Lacking, ...]:
        return lacking_in(self.drawing)


StripSheets: TypeAlias = TilePlan[CutStrip, StripTile]


def lacking_in(drawing: StripDrawing) -> tuple[Lacking, ...]:
    """What to say of a strip that has more labels than room."""
    strip = drawing.strip
    if not drawing.left_out:
        return ()
    sentence = f"{strip.name} {drawing.left_out.sentence}"
    # A rod's strip has no letter; its bands are told in the table of rods.
    if strip.letter:
        return (Lacking(sentence, f"strip {strip.letter}", drawing.left_out.words),)
    return (Lacking(sentence, strip.name, drawing.left_out.words, elsewhere="the table of rods has them"),)


def _left_out_words(sheet: StripSheet) -> str:
    left_out = sum((placed.tile.piece.left_out for placed in sheet.tiles), LeftOut())
    return f" · left out for want of room: {left_out.words}" if left_out else ""


STRIPS: Final[TileKind[StripTile]] = TileKind("strips", "strips", more=_left_out_words)
RODS: Final[TileKind[StripTile]] = TileKind("rods", "rods", mark="band", more=_left_out_words)


def plan_strips(strips: Sequence[Strip], job: Job, kind: TileKind[StripTile] = STRIPS) -> StripSheets:
    """Cut strips and place their tiles on the job's paper.

    Raises:
        StorystickError: the paper is too small for them, or the font lacks a sign of a name.
    """
    bare = level_sheet(job)
    cut_strips = _cut_all(strips, bare, job)
    tiles = [tile for cut_strip in cut_strips for tile in cut_strip.tiles]
    if tiles:
        _check_room(tiles, bare, job)
    return TilePlan(job, kind, cut_strips, place_tiles(tiles, bare, job, BLEED_MM))


def _tick_mm(strip: Strip) -> float:
    return TICK_MM if strip.wrap else 0.0


def _cut_all(strips: Sequence[Strip], bare: BareSheet, job: Job) -> tuple[CutStrip, ...]:
    """Every strip cut and drawn; what cannot be lettered is told for all at once."""
    reaches = {tick_mm: reach_on(bare, job, tick_mm) for tick_mm in {_tick_mm(strip) for strip in strips}}
    collector = FaultCollector()
    with collector.at("title"):
        check_letters(job.title)
    with collector.at("printer"):
        check_letters(job.printer.name if job.printer else "")
    cut_strips = []
    seams_of: dict[int, tuple[Seam, ...]] = {}
    for strip in strips:
        with collector.at(strip.layout.stick.place):
            check_letters(*strip.words)
            # Both hands of a stick are cut at the same stations.
            seams = seams_of.get(id(strip.layout)) or _cut(strip, reaches[_tick_mm(strip)], job)
            seams_of[id(strip.layout)] = seams
            cut_strips.append(_drawn(strip, seams))
    collector.raise_any()
    return tuple(cut_strips)


def _drawn(strip: Strip, seams: tuple[Seam, ...]) -> CutStrip:
    drawing = draw_strip(strip, [seam.at for seam in seams])
    return CutStrip(strip, seams, drawing, tuple(StripTile(drawing, piece) for piece in drawing.pieces))


def _cut(strip: Strip, reach: Reach, job: Job) -> tuple[Seam, ...]:
    parts = [(placed.span.start, placed.span.end) for placed in strip.layout.parts]
    return cut(strip.layout.marks, reach, grids_of(job.units), parts)


def _check_room(tiles: Sequence[StripTile], bare: BareSheet, job: Job) -> None:
    """Whether every tile fits on a sheet. One too short for its words has them beside it, and may be wide with them."""
    width, height = bare.free_width - 2 * BLEED_MM, bare.free_height - 2 * BLEED_MM
    highest = max(tiles, key=lambda tile: tile.height_mm)
    with_wrap, narrower = (" with its wrap", ", or a narrower wrap") if highest.wrap_mm else ("", "")
    check_room(highest.height_mm, height, job, f"that a strip is high{with_wrap}", narrower)
    widest = max(tile.width_mm for tile in tiles)
    check_room(widest, width, job, "that a tile is long with the words beside it")


def _outer_end(x: float, bottom: float, top: float) -> Iterator[Shape]:
    """Lines to cut along at an end, only where no ink is that is struck from."""
    yield Line(x, GROOVE_TOP, x, top + CROP_MM, CUT_MM)
    yield Line(x, bottom - OUTSIDE_MM, x, bottom - CROP_MM, CUT_MM)


def one_piece(strip: Strip) -> Page:
    """A strip whole, with x = 0 at its left end and y = 0 at its marking edge, and some room around it."""
    drawing = draw_strip(strip)
    (piece,) = drawing.pieces
    top, bottom, window = drawing.height_mm, 0.0 - drawing.wrap_mm, piece.window
    folds = fold_ticks(window, 0.0) if drawing.wrap_mm else ()
    cut = Rect(0.0, bottom, window.width, top).traced()
    return whole_page((*piece.shapes, *folds), strip.name, piece.right_mm, top - bottom, bottom, [cut])
