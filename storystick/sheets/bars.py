"""Templates of bars and shims onto sheets, full size, each once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, TypeAlias

from storystick.drawing.bar import Template, bar_template, shim_template
from storystick.drawing.bar_drawing import TemplateDrawing, TemplatePiece, draw_template
from storystick.drawing.lettering import check_letters
from storystick.drawing.shapes import Line, Rect, Shape, moved
from storystick.drawing.window import TAB_MM, Window
from storystick.errors import FaultCollector, Where
from storystick.job.job import Job
from storystick.lengths import Figures
from storystick.sheets.bare_sheet import BareSheet, level_sheet
from storystick.sheets.document import Page, whole_page
from storystick.sheets.pages.flow import Block, paginate, paragraph
from storystick.sheets.seams import CUT_MM, OUTSIDE_MM, Reach, Seam, cut, draw_joints
from storystick.sheets.tile_plan import Lacking, TileKind, TilePlan, from_datum
from storystick.sheets.tiles import (
    check_room,
    grids_of,
    number_of,
    place_tiles,
    reach_on,
)
from storystick.tooling.bars import Shim
from storystick.tooling.setups import Bar

TEMPLATE_CAUTIONS: Final = (
    "Leave the bar a hair wide: saw outside the ink and file down to it. Then prove it: cut a trial groove against it, "
    "measure from the straightedge to the near edge of the groove, and write that width in the shop file as measured.",
    "Clamp the metal on waste wood to saw, file or drill it; never hold it in the hand. Use a file with a handle. "
    "No gloves and no loose sleeves at the drill press. Wear eye protection.",
    "Fresh metal edges are sharp: deburr every edge and the hole before you handle it, and brush the chips away.",
)
"""What whoever makes a bar is to know; said on every sheet of templates."""

_AROUND_MM: Final = 2.0
"""The cutting line keeps so far from what is drawn, so that the edges of the ink stay in sight beside it."""

_LESS: Final = ", check bars and cautions"
_BEFORE_INK_MM: Final = 0.4
_INDENT_MM: Final = 4.0
_CAUTION_MM: Final = 200.0
"""Cautions are no wider: a sheet cut off a roll may be no longer, and a longer line is hard to follow."""

Wanted: TypeAlias = Bar | Shim


@dataclass(frozen=True, slots=True)
class TemplateTile:
    """A piece of a template, with what is needed to cut and join it."""

    drawing: TemplateDrawing
    piece: TemplatePiece

    @property
    def window(self) -> Window:
        return self.piece.window

    @property
    def number(self) -> str:
        return number_of(self.window)

    @property
    def mapped_as(self) -> str:
        return f"{self.drawing.template.title} {self.window.number}"

    @property
    def stations(self) -> tuple[Fraction, ...]:
        return self.window.start, self.window.end

    @property
    def bottom_mm(self) -> float:
        return self.drawing.bottom_mm - _AROUND_MM

    @property
    def below_mm(self) -> float:
        return -self.bottom_mm

    @property
    def top_mm(self) -> float:
        return self.drawing.top_mm + _AROUND_MM

    @property
    def left_mm(self) -> float:
        """How far left of the piece the cutting line runs: along a seam, or outside the end."""
        return 0.0 if self.window.number > 1 else _AROUND_MM

    @property
    def width_mm(self) -> float:
        return self.left_mm + self.window.width + (TAB_MM if self.window.has_tab else _AROUND_MM)

    @property
    def height_mm(self) -> float:
        return self.top_mm - self.bottom_mm

    def draw(self) -> Iterator[Shape]:
        """Its shapes, cutting lines and joints; the ink's left at x = 0 and its lower edge at y = 0."""
        window = self.window
        yield from self.piece.shapes
        yield from self._outline()
        yield from draw_joints(window, self.drawing.register_mm, self.bottom_mm + OUTSIDE_MM, self.top_mm - OUTSIDE_MM)

    def _outline(self) -> Iterator[Shape]:
        window = self.window
        left, right = -self.left_mm, window.width + (0.0 if window.has_tab else _AROUND_MM)
        for y in (self.bottom_mm, self.top_mm):
            yield Line(left, y, right, y, CUT_MM)
        if window.number > 1:
            yield Line(0.0, self.bottom_mm, 0.0, -_BEFORE_INK_MM, CUT_MM)
            yield Line(0.0, float(self.drawing.template.width) + _BEFORE_INK_MM, 0.0, self.top_mm, CUT_MM)
        else:
            yield Line(left, self.bottom_mm, left, self.top_mm, CUT_MM)
        if not window.has_tab:
            yield Line(right, self.bottom_mm, right, self.top_mm, CUT_MM)


@dataclass(frozen=True, slots=True)
class CutTemplate:
    """A template with the seams that it is cut at, and its drawing in pieces."""

    seams: tuple[Seam, ...]
    drawing: TemplateDrawing
    tiles: tuple[TemplateTile, ...]

    @property
    def name(self) -> str:
        return self.drawing.template.title

    @property
    def heading(self) -> str:
        return self.drawing.template.title

    def placed_seams(self, figures: Figures) -> Iterator[tuple[Seam, str]]:
        return from_datum(self.seams, figures)

    @property
    def lacking(self) -> tuple[Lacking, ...]:
        """Nothing: its words step aside until all have room."""
        return ()


def _caution_blocks(bare: BareSheet) -> list[Block]:
    width = min(bare.free_width, _CAUTION_MM)
    return [block for caution in TEMPLATE_CAUTIONS for block in paragraph(caution, width, _INDENT_MM, "!")]


def _cautions_height(bare: BareSheet) -> float:
    return sum(block.height_mm for block in _caution_blocks(bare)) + 1.0


def _cautions(bare: BareSheet) -> tuple[Shape, ...]:
    """The cautions along the upper edge of the free area."""
    (shapes,) = paginate(_caution_blocks(bare), bare.height_mm)
    return moved(shapes, bare.left, bare.free_bottom + bare.free_height)


TemplateSheets: TypeAlias = TilePlan[CutTemplate, TemplateTile]
"""Bars before shims."""

BARS: Final[TileKind[TemplateTile]] = TileKind("bars", "bars and shims", "Bars and shims", beside=_cautions)


def plan_templates(bars: Iterable[Bar], shims: Iterable[Shim], job: Job) -> TemplateSheets:
    """Draw every bar and every width of shim once, and place them on the job's paper.

    Raises:
        StorystickError: the paper is too small for one of them, or the font lacks a sign of a name.
    """
    bare = level_sheet(job)
    wanted: tuple[Wanted, ...] = (*dict.fromkeys(bars), *_each_once(shims))
    templates = [template_of(bar_or_shim, job.figures) for bar_or_shim in wanted]
    _check_words(templates)
    reach = reach_on(bare, job, _AROUND_MM) if templates else None
    cut_templates = tuple(_cut(template, reach, job.figures) for template in templates) if reach else ()
    cautions = _cautions_height(bare)
    tiles = [tile for template in cut_templates for tile in template.tiles]
    for tile in tiles:
        wanted_by = f"that the template of {tile.drawing.template.title} is high"
        check_room(tile.height_mm, bare.free_height - cautions, job, wanted_by, less=_LESS)
    return TilePlan(job, BARS, cut_templates, place_tiles(tiles, bare, job, above_mm=cautions))


def template_page(wanted: Wanted, figures: Figures) -> Page:
    """A template whole, with x = 0 at its left end and y = 0 at its lower edge, and some room around it."""
    drawing = draw_template(template_of(wanted, figures), figures)
    (piece,) = drawing.pieces
    template, width, height = drawing.template, piece.window.width, drawing.top_mm - drawing.bottom_mm
    cut = Rect(0.0, 0.0, width, template.height_mm).traced()
    return whole_page(piece.shapes, template.title, width, height, drawing.bottom_mm, [cut])


def template_of(wanted: Wanted, figures: Figures) -> Template:
    """What is lettered on a bar or a shim, and how large it is."""
    return bar_template(wanted, figures) if isinstance(wanted, Bar) else shim_template(wanted, figures)


def _each_once(shims: Iterable[Shim]) -> Iterator[Shim]:
    """Shims of one width as one, that serves all that any of them does."""
    serves: dict[Fraction, dict[str, None]] = {}
    for shim in shims:
        serves.setdefault(shim.width, {}).update(dict.fromkeys(shim.serves))
    return (Shim(width, tuple(lines)) for width, lines in serves.items())


def _check_words(templates: Iterable[Template]) -> None:
    collector = FaultCollector()
    for template in templates:
        with collector.at(Where(template.title)):
            check_letters(*template.words)
    collector.raise_any()


def _cut(template: Template, reach: Reach, figures: Figures) -> CutTemplate:
    """A template has no marks along its length: each tile is as long as may be, and the last one is short."""
    seams = cut((Fraction(0), template.length), reach, grids_of(figures.units))
    drawing = draw_template(template, figures, [seam.at for seam in seams])
    return CutTemplate(seams, drawing, tuple(TemplateTile(drawing, piece) for piece in drawing.pieces))
