"""What pages of set-ups are built of: operations with large figures beside their picture, and rows of figures."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Final

from storystick.drawing.built_up import BuiltUp
from storystick.drawing.cut_pictures import PICTURE_HEIGHT_MM, PICTURE_WIDTH_MM
from storystick.drawing.lettering import POINT_MM, STATION_MM
from storystick.drawing.shapes import Anchor, Line, Shape, Text, moved
from storystick.sheets.pages.flow import (
    HEADING_PT,
    PITCH_MM,
    RULE_MM,
    TEXT_PT,
    Block,
    heading,
    lines_of,
    paragraph,
    side_by_side,
    stacked,
)
from storystick.wording import plain, whole_figures

GAP_MM: Final = 3.0
LEFT_MM: Final = PICTURE_WIDTH_MM + GAP_MM
"""Where what stands beside the column of pictures begins."""

_COLUMNS_MM: Final = 8.0
_COMMA_AFTER_FIGURE: Final = re.compile(r"(?<=[0-9]),")


def operation_title(words: str, width: float) -> Block:
    """The title of an operation, in as many lines as it needs."""
    height = HEADING_PT * POINT_MM * 1.3
    lines = list(lines_of(words, HEADING_PT, width, bold=True))
    blocks = (Block(height, (Text(0.0, 1.6 - height, line, HEADING_PT, bold=True),)) for line in lines)
    return stacked(list(blocks))


def abreast(blocks: Sequence[Block], pitch: float) -> Block:
    """Blocks side by side, each as far from the last as ``pitch`` and the gap (mm)."""
    shapes = [
        shape for place, block in enumerate(blocks) for shape in moved(block.shapes, place * (pitch + GAP_MM), 0.0)
    ]
    return Block(max(block.height_mm for block in blocks), tuple(shapes))


def operation_block(
    title: str, large: Sequence[str], words: Sequence[str], picture: Sequence[Shape], width: float
) -> Block:
    """A picture, and to the right of it a title, lines with large figures, and words."""
    room = width - LEFT_MM
    blocks = [operation_title(title, room), *(block for sentence in large for block in _large(sentence, room))]
    blocks += [block for sentence in words for block in paragraph(sentence, room)]
    return stacked(
        [abreast([Block(PICTURE_HEIGHT_MM if picture else 0.0, tuple(picture)), stacked(blocks)], PICTURE_WIDTH_MM)]
    )


def _large(words: str, room: float) -> Iterator[Block]:
    """Words whose figures are large, in lines that fit, none of them broken inside a figure; bold without a figure."""
    if not any(map(str.isdigit, words)):
        yield operation_title(words, room)
        return
    line = ""
    for word in whole_figures(_COMMA_AFTER_FIGURE.sub(" ,", words)).split(" "):
        longer = f"{line} {word}".strip()
        if line and BuiltUp(plain(longer), STATION_MM, bold=True).width_mm > room:
            yield _large_line(plain(line))
            longer = word
        line = longer
    yield _large_line(plain(line))


def _large_line(words: str) -> Block:
    line = BuiltUp(words, STATION_MM, bold=True)
    high = line.above_mm + line.below_mm + 2.4
    return Block(high, tuple(line.shapes(0.0, -1.2 - line.above_mm)))


def figure_row(rows: Sequence[tuple[str, str]], width: float, left: float = 0.0, columns: int = 1) -> Block:
    """Names with their large figures at the right, above a rule, in so many columns side by side."""
    room = (width - left - (columns - 1) * _COLUMNS_MM) / columns
    cells = [_cell(name, figure, room) for name, figure in rows]
    height = max(cell.height_mm for cell in cells)
    shapes: list[Shape] = []
    for place, cell in enumerate(cells):
        start = left + place * (room + _COLUMNS_MM)
        shapes += (*moved(cell.shapes, start, -height / 2), Line(start, -height, start + room, -height, RULE_MM))
    return Block(height, tuple(shapes))


def _cell(name: str, figure: str, room: float) -> Block:
    """A name in as many lines as it needs and its figure, about the middle of the height."""
    large = BuiltUp(figure, STATION_MM, bold=True)
    lines = list(lines_of(name, TEXT_PT, room - large.width_mm - 2 * GAP_MM))
    first = len(lines) * PITCH_MM / 2 - 0.72 * PITCH_MM
    texts = (Text(0.0, first - place * PITCH_MM, line, TEXT_PT) for place, line in enumerate(lines))
    figures = large.shapes(room, -STATION_MM / 2, Anchor.END)
    height = max(large.above_mm + large.below_mm + 3.0, STATION_MM + 4.0, len(lines) * PITCH_MM + 2.0)
    return Block(height, (*texts, *figures))


def cautions_block(cautions: Sequence[str], width: float) -> Iterator[Block]:
    """All of them together, on one page."""
    yield heading("Take care first", width)
    yield from side_by_side(cautions, width, sign="!")
