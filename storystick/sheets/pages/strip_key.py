"""The key of the strips: letter, whom each serves, hand, length, tiles, and the sheets that those are on."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

from storystick.drawing.lettering import NAME_MM, text_width_mm, wrapped
from storystick.drawing.shapes import Anchor, Line, Shape, Text
from storystick.sheets.pages.flow import HEAD_RULE_MM, RULE_MM, TEXT_PT, Block, Column, stacked, table
from storystick.sheets.strips import CutStrip, StripSheets
from storystick.wording import ranges

_LINE_MM: Final = 4.4
_COLUMN_GAP_MM: Final = 4.0
_LETTER_MM: Final = 9.0
_ABOVE_MM: Final = 1.0
_BELOW_MM: Final = 1.2


class KeyRow(NamedTuple):
    """A letter's row, as it is read; ``sheets`` is empty where its strips are in one piece."""

    letter: str
    strip: str
    hand: str
    length: str
    tiles: str
    sheets: str


_HEADS: Final = KeyRow("", "strip", "hand", "length", "tiles", "sheets")


def key_rows(plan: StripSheets, tiled: bool) -> list[KeyRow]:
    """One row a letter, of a pair both hands together."""
    by_letter: dict[str, list[CutStrip]] = {}
    for cut_strip in plan.things:
        by_letter.setdefault(cut_strip.strip.letter, []).append(cut_strip)
    return [_key_row(hands, plan, tiled) for hands in by_letter.values()]


def _key_row(hands: Sequence[CutStrip], plan: StripSheets, tiled: bool) -> KeyRow:
    strip = hands[0].strip
    laid = [each.strip.hand.value for each in hands if each.strip.hand]
    sheets = (sheet.number for each in hands for sheet, _ in plan.placed(each))
    return KeyRow(
        strip.letter,
        strip.serves_words,
        "both" if len(laid) > 1 else "".join(laid),
        plan.job.figures(strip.layout.length),
        " + ".join(str(len(each.seams) + 1) for each in hands) if tiled else "",
        ranges(sheets) if tiled else "",
    )


def key_block(rows: Sequence[KeyRow], width: float) -> Block:
    """The key close together, as one block."""
    columns = list(zip(_HEADS, *rows, strict=True))[2:]
    wide = [max(text_width_mm(text, TEXT_PT, bold=True) for text in column) for column in columns]
    rights = [width - sum(each + _COLUMN_GAP_MM for each in wide[place:]) for place in range(1, len(wide) + 1)]
    room = rights[0] - wide[0] - _COLUMN_GAP_MM - _LETTER_MM
    return stacked([_line(_HEADS, rights, room, width, bold=True), *(_line(row, rights, room, width) for row in rows)])


def _line(row: KeyRow, rights: Sequence[float], room: float, width: float, bold: bool = False) -> Block:
    """A row whose words go on below where they have no room; its other cells end at ``rights``."""
    first = -_ABOVE_MM - NAME_MM
    shapes: list[Shape] = [Text(0.0, first, row.letter, TEXT_PT, bold=True)] if row.letter else []
    height = _ABOVE_MM + NAME_MM + _BELOW_MM - _LINE_MM
    for line in wrapped(row.strip, TEXT_PT, room, bold):
        height += _LINE_MM
        shapes.append(Text(_LETTER_MM, _BELOW_MM - height, line, TEXT_PT, bold=bold))
    cells = zip(rights, row[2:], strict=True)
    shapes += [Text(right, first, cell, TEXT_PT, Anchor.END, bold) for right, cell in cells if cell]
    return Block(height, (*shapes, Line(0.0, -height, width, -height, HEAD_RULE_MM if bold else RULE_MM)))


_COLUMNS: Final = (Column("", 0.8), Column(_HEADS.strip, 8), *(Column(head, right=True) for head in _HEADS[2:]))


def key_table(rows: Sequence[KeyRow], width: float) -> list[Block]:
    """The key on pages of its own."""
    return table(_COLUMNS, rows, width)
