"""The cutting list of a job."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import groupby
from typing import Final

from storystick.cutting.part import CutPart
from storystick.cutting.parts import INCLUDED
from storystick.cutting.totals import area_rows, areas, frame_lengths, frame_rows, note_rows, part_rows
from storystick.lengths import Figures
from storystick.sheets.pages.flow import Block, Column, heading, paragraph, table

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
