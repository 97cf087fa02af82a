"""A cabinet on the job sheet: its sizes, its views, what to look at, and what is cut for it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import groupby
from typing import Final

from storystick.cutting.part import CutPart
from storystick.cutting.parts import INCLUDED
from storystick.cutting.totals import area_rows, areas, frame_lengths, frame_rows, note_rows, part_rows
from storystick.drawing.cabinet_views import draw_views
from storystick.drawing.lettering import WORDS_PT, shortened, text_width_mm
from storystick.drawing.shapes import Text
from storystick.layout.cabinets.pieces import CabinetLayout
from storystick.lengths import Figures
from storystick.sheets.document import Page
from storystick.sheets.pages.flow import Block, Column, heading, paginate, paragraph, table
from storystick.wording import capital

_HIGHEST_MM: Final = 185.0
_PAGE_MM: Final = 190.0
_AROUND_MM: Final = 10.0
_GAP_MM: Final = 5.0
_KEY_LINE_MM: Final = 3.8
_FRAMED: Final = (
    "Reduced; not for measuring. At the front: the openings of the face frame, width × height. In section and plan: "
    "what is clear inside the case."
)
_FRAMELESS: Final = "Reduced; not for measuring. At the front: the clear openings, width × height."
_NUMBERED: Final = "Openings with numbers, counted upward and then to the right"


def cabinet_blocks(layout: CabinetLayout, figures: Figures, width: float) -> Iterator[Block]:
    """A cabinet's part of the job sheet."""
    yield from _picture(layout, figures, width)
    for warning in layout.warnings:
        yield from paragraph(f"{capital(warning)}.", width, indent_mm=6.0, sign="!")


def views_page(layout: CabinetLayout, figures: Figures) -> Page:
    """A cabinet's views on a page of their own, as large as they need; its upper left corner is at 0, 0."""
    blocks = list(_picture(layout, figures, _PAGE_MM))
    height = sum(block.height_mm for block in blocks)
    (shapes,) = paginate(blocks, height + 1.0)
    return Page(
        _PAGE_MM + 2 * _AROUND_MM,
        height + 2 * _AROUND_MM,
        shapes,
        label=layout.cabinet.name,
        left_mm=-_AROUND_MM,
        bottom_mm=-height - _AROUND_MM,
    )


def _picture(layout: CabinetLayout, figures: Figures, width: float) -> Iterator[Block]:
    """The heading, the words that say what is shown, the views, and what found no room in them."""
    cabinet = layout.cabinet
    sizes = " × ".join(figures(side) for side in (cabinet.width, cabinet.height, cabinet.depth))
    yield heading(f"{cabinet.name}: {sizes}, width × height × depth", width)
    words = " ".join((_FRAMED if cabinet.frame else _FRAMELESS, *_covered_words(layout, figures)))
    for block in paragraph(words, width):
        yield Block(block.height_mm, block.shapes, keeps_next=True)
    view = draw_views(layout, figures, width, _HIGHEST_MM)
    yield Block(_GAP_MM - view.extent.bottom, view.shapes, keeps_next=bool(view.notes))
    if view.notes:
        yield from _key(view.notes, width)


def _covered_words(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    """What the bottom and the top rail take of the openings behind them, since the fronts are not graduated by that."""
    bottom, top = layout.bottom, layout.top
    if bottom.front is None or top.front is None:
        return
    for name, taken in (("bottom", bottom.front.end - bottom.z.end), ("top", top.z.start - top.front.start)):
        if taken > 0:
            yield f"The {name} rail takes {figures(taken)} of the height of the openings next to it."


def _key(notes: Sequence[str], width: float) -> Iterator[Block]:
    """The notes in as many columns as they fit side by side, read line by line."""
    longest = max(text_width_mm(note, WORDS_PT) for note in notes)
    columns = max(1, int((width + _GAP_MM) // (longest + _GAP_MM)))
    pitch = (width + _GAP_MM) / columns
    title = shortened(_NUMBERED, WORDS_PT, width, bold=True)
    yield Block(_KEY_LINE_MM, (Text(0.0, 1.1 - _KEY_LINE_MM, title, WORDS_PT, bold=True),), keeps_next=True)
    for first in range(0, len(notes), columns):
        row = enumerate(shortened(note, WORDS_PT, width) for note in notes[first : first + columns])
        texts = (Text(place * pitch, 1.1 - _KEY_LINE_MM, note, WORDS_PT) for place, note in row)
        yield Block(_KEY_LINE_MM, tuple(texts))
    yield Block(_GAP_MM, ())


_PART_COLUMNS: Final = (
    Column("part", 7),
    Column("stock", 1.6),
    Column("hands", right=True),
    Column("number", right=True),
    Column("length", right=True),
    Column("width", right=True),
    Column("thickness", right=True),
)
_AREA_COLUMNS: Final = (Column("stock", 1), Column("square metres", right=True), Column("square feet", right=True))
_FRAME_COLUMNS: Final = (Column("frame stock", 1), Column("width", right=True), Column("board length", right=True))


def cutting_blocks(parts: Sequence[CutPart], figures: Figures, width: float) -> Iterator[Block]:
    """The whole list, cabinet by cabinet; nothing for a job without cabinets."""
    if not parts:
        return
    yield heading("Cutting list", width)
    yield from (replace(block, keeps_next=True) for block in paragraph(INCLUDED, width))
    for cabinet, group in groupby(parts, key=lambda part: part.cabinet):
        own = list(group)
        yield heading(cabinet, width)
        yield from table(_PART_COLUMNS, part_rows(own, figures), width)
        for name, notes in note_rows(own):
            yield from paragraph(f"{name}: {notes}.", width, indent_mm=4.0, sign="·")
    yield heading("Altogether, without waste", width)
    yield from table(_AREA_COLUMNS, area_rows(areas(parts)), width)
    if lengths := frame_lengths(parts):
        yield from table(_FRAME_COLUMNS, frame_rows(lengths, figures), width)
