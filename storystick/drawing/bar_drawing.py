"""The template of a bar or a shim, drawn whole or in the pieces that sheets of paper can hold.

Origin at the lower left corner of a piece: x along the template, y across it from 0 to its width. Its ink is exactly as
wide as the bar: filled areas alone, no stroke on their edges. Words stand on it as large as they fit, else beside it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.drawing.bar import Template
from storystick.drawing.lettering import (
    POINT_MM,
    SIZE_MM,
    STATION_MM,
    WORDS_PT,
    points_of,
    shortened,
    text_width_mm,
    wrapped,
)
from storystick.drawing.shapes import EDGE_MM, FINE_MM, Area, Box, Line, Shape, Text
from storystick.drawing.window import Window, windows_between
from storystick.lengths import Figures

_GREY: Final = 0.9
_HOLE_MM: Final = 12.0
"""The hanging hole's centre is so far from the left end."""

_CROSS_ARM_MM: Final = 3.0
_CROSS_MM: Final = 0.1
_REGISTER_OUTSIDE_MM: Final = 4.4
"""Beside a template too narrow for words its register marks stand so far off its edges; else on it."""


@dataclass(frozen=True, slots=True)
class TemplatePiece:
    """What is drawn of one window, from x = 0 at its left."""

    window: Window
    shapes: tuple[Shape, ...]


@dataclass(frozen=True, slots=True)
class TemplateDrawing:
    """A template in its pieces from the left; with their words all reach from ``bottom_mm`` to ``top_mm``.

    ``register_mm`` are the heights at which the pieces are free for register marks at their seams.
    """

    template: Template
    bottom_mm: float
    top_mm: float
    register_mm: tuple[float, float]
    pieces: tuple[TemplatePiece, ...]


def draw_template(template: Template, figures: Figures, seams: Sequence[Fraction] = ()) -> TemplateDrawing:
    """Draw a template, cut at ``seams``: rising stations in mm from its left end, strictly inside its length.

    Raises:
        Faults: the font has no sign for a character of a name.
    """
    windows = windows_between(seams, template.length)
    lettering = _place_words(template, windows, figures)
    pieces = (
        TemplatePiece(window, (*_strip(template, window), *words))
        for window, words in zip(windows, lettering.pieces, strict=True)
    )
    height = template.height_mm
    beside = lettering.bottom_mm < 0
    register = (-_REGISTER_OUTSIDE_MM, height + _REGISTER_OUTSIDE_MM) if beside else (height / 4, height * 3 / 4)
    return TemplateDrawing(template, lettering.bottom_mm, lettering.top_mm, register, tuple(pieces))


def _strip(template: Template, window: Window) -> Iterator[Shape]:
    """One black area, that all its edges are those of, with a grey one in it where it is wide enough for both.

    With one area for both edges, a device that rounds areas to dots cannot round them apart.
    """
    width, height = window.width, template.height_mm
    yield Box(0.0, 0.0, width, height)
    if height > 3 * EDGE_MM:
        left = EDGE_MM if window.start == 0 else 0.0
        right = width - (EDGE_MM if window.end == window.length else 0.0)
        yield Box(left, EDGE_MM, right - left, height - 2 * EDGE_MM, _GREY)
    if template.has_hole and window.number == 1:
        yield from _hole(height / 2)


def _hole(y: float) -> Iterator[Shape]:
    """A fine cross where the punch goes."""
    yield Line(_HOLE_MM - _CROSS_ARM_MM, y, _HOLE_MM + _CROSS_ARM_MM, y, _CROSS_MM)
    yield Line(_HOLE_MM, y - _CROSS_ARM_MM, _HOLE_MM, y + _CROSS_ARM_MM, _CROSS_MM)


_BESIDE_HOLE_MM: Final = 18.0
_INSET_MM: Final = 5.0
_ABOUT_MM: Final = 0.6
_LEADING: Final = 1.36
_BASELINE: Final = 0.32
"""How far above the bottom of its row a baseline lies, in ems."""

_TO_WRITE_MM: Final = 2.5
_PROOF: Final = "proved on ________________ by ________________"
_BETWEEN: Final = " · "
_USES_ROWS: Final = 3
_ARROW_MM: Final = 3.2
_ARROW_HALF_MM: Final = 0.9
_AFTER_ARROW_MM: Final = 2.0
_EDGE_ROW_MM: Final = 5.0
_OFF_INK_MM: Final = 0.9
_COLUMN_GAP_MM: Final = 4.0


@dataclass(frozen=True, slots=True)
class _Lettering:
    """The words of each piece of a template, and how far below and above its lower edge they may reach."""

    bottom_mm: float
    top_mm: float
    pieces: tuple[tuple[Shape, ...], ...]


@dataclass(frozen=True, slots=True)
class _WordsLine:
    """A line of words with ``above_mm`` of room to write in; without words, only room."""

    text: str
    size_pt: float = WORDS_PT
    bold: bool = False
    above_mm: float = 0.0

    @property
    def height_mm(self) -> float:
        return self.size_pt * POINT_MM * _LEADING + self.above_mm

    @property
    def width_mm(self) -> float:
        return text_width_mm(self.text, self.size_pt, self.bold)

    def draw(self, x: float, bottom: float, room: float) -> Text:
        words = shortened(self.text, self.size_pt, room, self.bold)
        return Text(x, bottom + _BASELINE * self.size_pt * POINT_MM, words, self.size_pt, bold=self.bold)


_EDGE_LINE: Final = _WordsLine("", above_mm=_EDGE_ROW_MM - _WordsLine("").height_mm)
"""Room for the words of an edge, which are drawn with their arrow."""


@dataclass(frozen=True, slots=True)
class _Style:
    """Sizes of the words on a template.

    ``stacked``: those of its edges stand above and below, else at the right. ``dense``: in as few rows as there can be.
    """

    title_pt: float
    figures_pt: float
    words_pt: float
    to_write_mm: float
    stacked: bool = False
    dense: bool = False


_TITLE_PT: Final = points_of(STATION_MM)
_FIGURES_PT: Final = points_of(SIZE_MM)
_STYLES: Final = (
    _Style(_TITLE_PT, _FIGURES_PT, WORDS_PT, _TO_WRITE_MM, stacked=True),
    _Style(_FIGURES_PT, _FIGURES_PT, WORDS_PT, _TO_WRITE_MM, stacked=True),
    _Style(_FIGURES_PT, _FIGURES_PT, WORDS_PT, _TO_WRITE_MM),
    _Style(WORDS_PT, WORDS_PT, WORDS_PT, _TO_WRITE_MM),
    _Style(WORDS_PT, WORDS_PT, WORDS_PT, 1.0, dense=True),
)


def _place_words(template: Template, windows: Sequence[Window], figures: Figures) -> _Lettering:
    """The words of a template that is drawn in ``windows``, in the largest style that all of them have room for."""
    height = template.height_mm
    for style in _STYLES:
        placed = [_words_on(template, window, figures, style) for window in windows]
        pieces = [piece for piece in placed if piece is not None]
        if len(pieces) == len(windows):
            return _Lettering(0.0, height, tuple(pieces))
    above = [_rows_above(template, window, figures) for window in windows]
    below = [_rows_below(template, window) for window in windows]
    return _Lettering(
        -_OFF_INK_MM - max(map(_height, below)),
        height + _OFF_INK_MM + max(map(_height, above)),
        tuple(
            (
                *_draw_down(rows_below, -_OFF_INK_MM, window),
                *_draw_up(rows_above, height + _OFF_INK_MM, window),
                *_edges_beside(template),
            )
            for rows_above, rows_below, window in zip(above, below, windows, strict=True)
        ),
    )


def _words_on(template: Template, window: Window, figures: Figures, style: _Style) -> tuple[Shape, ...] | None:
    """The words of a piece on the template itself, None where they do not fit."""
    height = template.height_mm
    left = _BESIDE_HOLE_MM if template.has_hole and window.number == 1 else _INSET_MM
    names_edges = template.edges is not None and (style.stacked or window.number == 1)
    column = _edges_width(template, style.words_pt) if names_edges and not style.stacked else 0.0
    room = window.width - left - _INSET_MM - (column + _COLUMN_GAP_MM if column else 0.0)
    rows = list(_rows_on(template, window, figures, style, room))
    reserved = 2 * (_EDGE_ROW_MM if names_edges and style.stacked else _ABOUT_MM)
    if room <= 0 or _height(rows) + reserved > height or any(row.width_mm > room for row in rows):
        return None
    shapes: list[Shape] = []
    bottom = (height + _height(rows)) / 2
    for row in rows:
        bottom -= row.height_mm
        shapes.append(row.draw(left, bottom, room))
    return (*shapes, *(_edges_on(template, window, style, column) if names_edges else ()))


def _rows_on(template: Template, window: Window, figures: Figures, style: _Style, room: float) -> Iterator[_WordsLine]:
    """What a piece says, from above: the first says everything, the others what they belong to."""
    is_first = window.number == 1
    lines = [*(_uses(template, style.words_pt, room) if is_first else []), *_tile_words(window, figures)]
    if style.dense:
        yield _WordsLine(_title_and_figures(template), style.title_pt, bold=True)
        lines = [_BETWEEN.join(lines)] if lines else []
    else:
        yield _WordsLine(template.title, style.title_pt, bold=True)
        yield _WordsLine(template.figures, style.figures_pt)
    yield from (_WordsLine(line, style.words_pt) for line in lines)
    if is_first:
        yield _WordsLine(_PROOF, style.words_pt, above_mm=style.to_write_mm)


def _title_and_figures(template: Template) -> str:
    return f"{template.title}{_BETWEEN}{template.figures}"


def _tile_words(window: Window, figures: Figures) -> list[str]:
    """Which piece of several it is, from where to where."""
    stations = f"{figures(window.start)} to {figures(window.end)} {figures.units.sign}"
    return [f"tile {window.number} of {window.of}, {stations}"] if window.of > 1 else []


def _uses(template: Template, size_pt: float, room: float) -> list[str]:
    """What it is for, a few lines of it; the job's listing of set-ups has all."""
    lines = [line for use in template.uses for line in wrapped(use, size_pt, room)]
    if len(lines) <= _USES_ROWS:
        return lines
    return [*lines[: _USES_ROWS - 1], shortened("; ".join(lines[_USES_ROWS - 1 :]), size_pt, room)]


def _rows_above(template: Template, window: Window, figures: Figures) -> list[_WordsLine]:
    """What stands above a template too narrow for words, from its edge up."""
    tile = map(_WordsLine, _tile_words(window, figures))
    edge = [_EDGE_LINE] if template.edges else []
    return [*edge, *tile, _WordsLine(_title_and_figures(template), 9.0, bold=True)]


def _rows_below(template: Template, window: Window) -> list[_WordsLine]:
    """What stands below it, from its edge down."""
    edge = [_EDGE_LINE] if template.edges else []
    if window.number > 1:
        return edge
    uses = [_WordsLine(line) for line in _uses(template, WORDS_PT, window.width - 2 * _INSET_MM)]
    return [*edge, *uses, _WordsLine(_PROOF, above_mm=_TO_WRITE_MM)]


def _height(rows: Iterable[_WordsLine]) -> float:
    return sum(row.height_mm for row in rows)


def _draw_up(rows: Iterable[_WordsLine], bottom: float, window: Window) -> Iterator[Shape]:
    for row in rows:
        if row.text:
            yield row.draw(_INSET_MM, bottom, window.width - 2 * _INSET_MM)
        bottom += row.height_mm


def _draw_down(rows: Iterable[_WordsLine], top: float, window: Window) -> Iterator[Shape]:
    for row in rows:
        top -= row.height_mm
        if row.text:
            yield row.draw(_INSET_MM, top, window.width - 2 * _INSET_MM)


def _edges_width(template: Template, size_pt: float) -> float:
    """What the words of the edges take with their arrows."""
    return max(text_width_mm(words, size_pt) for words in template.edges or ("",)) + _AFTER_ARROW_MM


def _edges_on(template: Template, window: Window, style: _Style, column: float) -> Iterator[Shape]:
    """The words of both edges on the template, each with an arrow whose tip is at its edge."""
    if template.edges is None:
        return
    height = template.height_mm
    upper, lower = template.edges
    if style.stacked:
        left = (window.width - _edges_width(template, style.words_pt)) / 2
    else:
        left = window.width - _INSET_MM - column
    yield from _edge_words(upper, style.words_pt, left, height, 1)
    yield from _edge_words(lower, style.words_pt, left, 0.0, -1)


def _edges_beside(template: Template) -> Iterator[Shape]:
    """The same outside it: the arrows stop short of the edges, so that these stay clean."""
    if template.edges is None:
        return
    upper, lower = template.edges
    yield from _edge_words(upper, WORDS_PT, _INSET_MM + 1.0, template.height_mm + _OFF_INK_MM, -1)
    yield from _edge_words(lower, WORDS_PT, _INSET_MM + 1.0, -_OFF_INK_MM, 1)


def _edge_words(words: str, size_pt: float, x: float, tip: float, upward: int) -> Iterator[Shape]:
    """An arrow at ``x`` that points up (1) or down (-1) with its tip at ``tip``, and the words beside its shaft."""
    shoulder, tail = tip - upward * 1.8, tip - upward * (_ARROW_MM + 0.8)
    yield Area(((x, tip), (x + _ARROW_HALF_MM, shoulder), (x - _ARROW_HALF_MM, shoulder)))
    yield Line(x, shoulder, x, tail, 2 * FINE_MM)
    middle = (tip + tail) / 2 - upward * 0.8
    yield Text(x + _AFTER_ARROW_MM, middle - 0.36 * size_pt * POINT_MM, words, size_pt)
