"""Square sticks onto sheets: all faces of one in a tile, one above another.

A square stick is asked for by its girth: paper takes up room at the corners, and a strip of that paper measures it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, TypeAlias

from storystick.drawing.lettering import check_letters
from storystick.drawing.shapes import Line, Rect, Shape
from storystick.drawing.square_stick import SquareFaces, SquareStickDrawing, draw_square_stick, square_faces
from storystick.drawing.strip_bands import TICK_MM
from storystick.drawing.strip_lanes import BESIDE_TOP, GROOVE_TOP
from storystick.drawing.window import Window
from storystick.errors import Fault, FaultCollector, as_written
from storystick.job.job import Job
from storystick.job.kinds import entry_place
from storystick.job.sticks import SIDES, SquareStick
from storystick.layout.stations import Layout
from storystick.lengths import Figures, write_figure
from storystick.sheets.bare_sheet import level_sheet
from storystick.sheets.document import Page, whole_page
from storystick.sheets.seams import CUT_MM, OUTSIDE_MM, Reach, Seam, cut, cutting_outline, draw_joints
from storystick.sheets.stacking import ROUNDING_MM
from storystick.sheets.tile_plan import Lacking, TileKind, TilePlan, from_datum
from storystick.sheets.tiles import (
    BLEED_MM,
    CROP_MM,
    at_least,
    check_room,
    grids_of,
    number_of,
    place_tiles,
    printed_width,
    reach_left,
    reach_on,
)

_BEFORE_FOLD_MM: Final = 0.4


@dataclass(frozen=True, slots=True)
class SquareTile:
    """A piece of a square stick, with what is needed to cut and join it."""

    drawing: SquareStickDrawing
    window: Window

    @property
    def square(self) -> SquareStick:
        return self.drawing.faces.square

    @property
    def number(self) -> str:
        return number_of(self.window)

    @property
    def mapped_as(self) -> str:
        return f"{self.square.name} {self.window.number}"

    @property
    def stations(self) -> tuple[Fraction, ...]:
        return self.window.start, self.window.end

    @property
    def left_mm(self) -> float:
        return reach_left(self.window, TICK_MM)

    @property
    def below_mm(self) -> float:
        """The first face's marking edge is its lower edge."""
        return 0.0

    @property
    def width_mm(self) -> float:
        return printed_width(self.window, TICK_MM, self.drawing.right_mm(self.window))

    @property
    def height_mm(self) -> float:
        return self.drawing.height_mm

    def draw(self) -> Iterator[Shape]:
        """Its shapes, cutting lines and joints; x = 0 at the window's left, y = 0 at the first face's marking edge."""
        drawing, window = self.drawing, self.window
        yield from drawing.shapes(window)
        yield from cutting_outline(window, 0.0, drawing.height_mm, self._outer_end)
        yield from draw_joints(window, drawing.register_mm, 0.0, drawing.height_mm, (0.0, drawing.folds_mm[0]))

    def _outer_end(self, x: float, station: Fraction) -> Iterator[Shape]:
        """A line to cut along where no ink is that is struck from: above the bands of every face, and on the lap."""
        drawing = self.drawing
        yield Line(x, -OUTSIDE_MM, x, -CROP_MM, CUT_MM)
        for edge, fold, strip in zip(drawing.lower_edges_mm, drawing.folds_mm, drawing.faces.strips, strict=True):
            bands_top = BESIDE_TOP if strip.layout.beside else GROOVE_TOP
            ends_before = strip.layout.length < station
            yield Line(x, edge + (_BEFORE_FOLD_MM if ends_before else bands_top), x, fold - _BEFORE_FOLD_MM, CUT_MM)
        yield Line(x, drawing.folds_mm[-1], x, drawing.height_mm + CROP_MM, CUT_MM)


@dataclass(frozen=True, slots=True)
class CutSquareStick:
    """A square stick with the seams that it is cut at, through all of its faces, and its drawing."""

    seams: tuple[Seam, ...]
    drawing: SquareStickDrawing
    tiles: tuple[SquareTile, ...]

    @property
    def square(self) -> SquareStick:
        return self.drawing.faces.square

    @property
    def name(self) -> str:
        return self.square.name

    @property
    def heading(self) -> str:
        return self.square.name

    def placed_seams(self, figures: Figures) -> Iterator[tuple[Seam, str]]:
        return from_datum(self.seams, figures)

    @property
    def lacking(self) -> tuple[Lacking, ...]:
        """The faces with more labels than room."""
        return tuple(
            Lacking(f"{face.strip.layout.name} on {self.name} {face.left_out.sentence}", self.name, face.left_out.words)
            for face in self.drawing.drawings
            if face.left_out
        )


SquareSheets: TypeAlias = TilePlan[CutSquareStick, SquareTile]
SQUARE_STICKS: Final[TileKind[SquareTile]] = TileKind("square sticks", "square sticks", "Square sticks")


def plan_square_sticks(layout: Layout) -> SquareSheets:
    """Cut the square sticks of a job through all their faces, and place their tiles on its paper.

    Raises:
        StorystickError: a face does not fit on its side, the paper is too small, or the font lacks a sign of a name.
    """
    job, bare = layout.job, level_sheet(layout.job)
    sticks = _cut_all(layout, reach_on(bare, job, TICK_MM))
    tiles = [tile for stick in sticks for tile in stick.tiles]
    for tile in tiles:
        place, width, height = tile.square.place, bare.free_width - 2 * BLEED_MM, bare.free_height - 2 * BLEED_MM
        check_room(tile.height_mm, height, job, f"that {place} is high with its lap", ", or fewer faces")
        check_room(tile.width_mm, width, job, f"that {place} is long with the words beside it")
    return TilePlan(job, SQUARE_STICKS, sticks, place_tiles(tiles, bare, job, BLEED_MM))


def square_stick_page(square: SquareStick, layout: Layout) -> Page:
    """A square stick whole, with x = 0 at its left end and y = 0 at its first marking edge, and some room around it."""
    drawing = draw_square_stick(square_faces(square, layout))
    (window,) = drawing.windows
    cut = Rect(0.0, 0.0, window.width, drawing.height_mm).traced()
    return whole_page(drawing.shapes(window), square.name, drawing.right_mm(window), drawing.height_mm, cut=[cut])


def _cut_all(layout: Layout, reach: Reach) -> tuple[CutSquareStick, ...]:
    """Every square stick cut and drawn; what does not fit is told for all at once."""
    collector = FaultCollector()
    sticks = []
    for square in layout.job.square_sticks:
        with collector.at(square.place):
            sticks.append(_cut(square_faces(square, layout), reach, layout.job))
    collector.raise_any()
    return tuple(sticks)


def _cut(faces: SquareFaces, reach: Reach, job: Job) -> CutSquareStick:
    check_letters(faces.square.name, *(words for strip in faces.strips for words in strip.words))
    seams = cut(faces.marks, reach, grids_of(job.units), faces.parts)
    drawing = draw_square_stick(faces, [seam.at for seam in seams])
    _check_height(drawing, job)
    _check_height(draw_square_stick(faces), job)
    return CutSquareStick(seams, drawing, tuple(SquareTile(drawing, window) for window in drawing.windows))


def _check_height(drawing: SquareStickDrawing, job: Job) -> None:
    """Whether every face is high enough for its strip."""
    least = max(Fraction(face.height_mm) for face in drawing.drawings)
    girth = at_least(least, job.figures, SIDES)
    high_enough = drawing.side_mm + ROUNDING_MM
    collector = FaultCollector()
    for number, face in enumerate(drawing.drawings):
        with collector.at(entry_place("faces", number)):
            if face.height_mm > high_enough:
                name, side = as_written(face.strip.layout.name), write_figure(drawing.faces.square.side, job.units)
                what = f"{name} is {at_least(face.height_mm, job.figures)} high, but a side of the stick is {side}"
                raise Fault(what, f"make the side at least {at_least(least, job.figures)}, a girth of {girth}")
    collector.raise_any()
