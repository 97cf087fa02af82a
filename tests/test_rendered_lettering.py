"""Lettering measured on rendered sheets: heights from the dots of the picture, places from another reader's glyphs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

import numpy as np
import pytest
from click.testing import CliRunner
from numpy.typing import NDArray
from pypdfium2 import raw
from readback import POINT_MM, pdfium

from storystick.cli import main
from storystick.drawing.strip import strips_of
from storystick.drawing.strip_lanes import MARK_TOP
from storystick.laying_out import lay_out, load
from storystick.layout.stations import StickLayout
from storystick.sheets.strips import plan_strips

GALLERY: Final = Path(__file__).parents[1] / "gallery"
JOBS: Final = ("bead-chest", "tea-shelves")
DPI: Final = 300
DOT_MM: Final = 25.4 / DPI
KEPT_MM: Final = 2.0
NEAR_MM: Final = 2.5
"""The pieces of one figure are no farther apart."""

BOLD: Final = 700


@dataclass(frozen=True)
class Glyph:
    """One printed character, by the box of its outline in mm from the lower left corner of the sheet."""

    sign: str
    left: float
    bottom: float
    right: float
    top: float
    bold: bool
    upward: bool


@dataclass(frozen=True)
class Tile:
    layout: StickLayout
    left: float
    bottom: float
    width: float
    height: float
    wrap: float
    marks: tuple[tuple[float, str], ...]


@dataclass(frozen=True)
class Sheet:
    grey: NDArray[Any]
    glyphs: tuple[Glyph, ...]
    tiles: tuple[Tile, ...]

    def inked_mm(self, glyph: Glyph) -> float:
        """How high the ink of a glyph is in the picture, or how wide where it reads upward."""
        rows = self.grey.shape[0]
        left, right = round((glyph.left - 0.1) / DOT_MM), round((glyph.right + 0.1) / DOT_MM)
        top, bottom = rows - round((glyph.top + 0.1) / DOT_MM), rows - round((glyph.bottom - 0.1) / DOT_MM)
        ink = 1 - self.grey[top:bottom, left:right] / 255
        return float(ink.max(axis=0 if glyph.upward else 1).sum()) * DOT_MM


@pytest.fixture(scope="module", params=JOBS)
def sheets(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> list[Sheet]:
    path, out = GALLERY / request.param / f"{request.param}.toml", tmp_path_factory.mktemp("out")
    result = CliRunner().invoke(main, ["print", str(path), "-o", str(out), "--format", "pdf"])
    assert result.exit_code == 0, result.output
    job = load(path).job
    plan = plan_strips(strips_of(lay_out(job)), job)
    found = []
    with pdfium((out / "strips.pdf").read_bytes()) as document:
        assert len(document) == len(plan.sheets)
        for page, sheet in zip(document, plan.sheets, strict=True):
            grey = page.render(scale=DPI / 72, grayscale=True).to_numpy().squeeze()
            tiles = tuple(_tile(placed, job.figures) for placed in sheet.tiles)
            found.append(Sheet(grey, tuple(_glyphs(page.get_textpage())), tiles))
    return found


def _tile(placed: Any, figures: Any) -> Tile:
    window, layout = placed.tile.window, placed.tile.strip.layout
    edges = {edge for part in layout.parts for edge in (part.span.start, part.span.end)}
    at_foot = edges.union(layout.bare_edges, (point.at for point in layout.points))
    marks = tuple((placed.left_mm + window.x(mark), figures(mark)) for mark in at_foot if window.shows(mark))
    return Tile(layout, placed.left_mm, placed.y_mm, window.width, placed.tile.height_mm, placed.tile.wrap_mm, marks)


def _glyphs(text: Any) -> Iterator[Glyph]:
    for index in range(text.count_chars()):
        sign = chr(raw.FPDFText_GetUnicode(text, index))
        if sign.strip() and sign.isprintable():
            left, bottom, right, top = (value * POINT_MM for value in text.get_charbox(index))
            upward = abs(raw.FPDFText_GetCharAngle(text, index)) > 0.1
            yield Glyph(sign, left, bottom, right, top, raw.FPDFText_GetFontWeight(text, index) >= BOLD, upward)


def test_no_capital_and_no_figure_is_below_two_and_a_half_mm(sheets: list[Sheet]) -> None:
    for sheet in sheets:
        tall = [glyph for glyph in sheet.glyphs if glyph.sign.isdigit() or glyph.sign in "ABCDEFHLMNRT"]
        assert len(tall) > 40
        assert min(map(sheet.inked_mm, tall)) >= 2.5 - DOT_MM


def test_stations_are_the_largest_figures_and_stand_at_their_own_edges(sheets: list[Sheet]) -> None:
    """Whole figures of 5 mm, fractions of 3.5 mm; twice as near to the mark that they say as to any other."""
    counted = 0
    for sheet in sheets:
        for tile in sheet.tiles:
            for figure in (found for found in _at_foot(sheet, tile) if any(glyph.bold for glyph in found)):
                left, right = min(glyph.left for glyph in figure), max(glyph.right for glyph in figure)
                own, *rest = sorted((max(left - x, x - right, 0.0), said) for x, said in tile.marks)
                assert sorted(glyph.sign for glyph in figure if glyph.bold) == sorted(
                    sign for sign in own[1] if sign in "0123456789."
                )
                assert all(2 * own[0] <= other for other, _ in rest), (own, rest[:2])
                heights = [sheet.inked_mm(glyph) for glyph in figure if glyph.bold and glyph.sign != "."]
                assert min(heights) >= 3.5 - DOT_MM
                assert max(heights) >= (3.5 if "/" in own[1].split()[0] else 5.0) - DOT_MM
                counted += 1
    assert counted >= 20


def _at_foot(sheet: Sheet, tile: Tile) -> Iterator[list[Glyph]]:
    """The bold figures below the top of the marks, each with all its signs, and with "full" or "scant"."""
    inside = [
        glyph
        for glyph in sheet.glyphs
        if (glyph.bold or glyph.sign.isalpha())
        and not glyph.upward
        and tile.left <= glyph.left <= tile.left + tile.width
        and tile.bottom <= glyph.bottom <= glyph.top <= tile.bottom + MARK_TOP
    ]
    figure: list[Glyph] = []
    for glyph in sorted(inside, key=lambda glyph: glyph.left):
        if figure and glyph.left - max(other.right for other in figure) > NEAR_MM:
            yield figure
            figure = []
        figure.append(glyph)
    if figure:
        yield figure


def test_no_two_glyphs_overlap(sheets: list[Sheet]) -> None:
    for sheet in sheets:
        left, bottom, right, top = np.array([(g.left, g.bottom, g.right, g.top) for g in sheet.glyphs]).T
        across = np.minimum.outer(right, right) - np.maximum.outer(left, left)
        upward = np.minimum.outer(top, top) - np.maximum.outer(bottom, bottom)
        meets = np.triu((across > 0.1) & (upward > 0.1), 1)
        assert [(sheet.glyphs[one], sheet.glyphs[other]) for one, other in np.argwhere(meets)] == []


def test_no_glyph_on_a_tile_is_within_two_mm_of_what_is_cut_along(sheets: list[Sheet]) -> None:
    for sheet in sheets:
        for tile in sheet.tiles:
            for glyph in sheet.glyphs:
                low = tile.bottom - tile.wrap
                x, y = (glyph.left + glyph.right) / 2 - tile.left, (glyph.bottom + glyph.top) / 2 - low
                if 0 < x < tile.width and 0 < y < tile.height:
                    sides = (glyph.left - tile.left, tile.left + tile.width - glyph.right, glyph.bottom - low)
                    assert min(*sides, low + tile.height - glyph.top) >= KEPT_MM - 0.1, glyph
