"""A drawing's title block: labelled fields on one grid of cells, the outer rule twice as wide as the inner ones."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate
from typing import Final

from storystick.drawing.lettering import NAME_MM, WORDS_PT, points_of, shortened, text_width_mm, wrapped
from storystick.drawing.shapes import NARROW_MM, WIDE_MM, Line, Rect, Shape, Text, moved, outline
from storystick.sheets.pages.flow import Block

_INSET_MM: Final = 1.6
_ABOVE_MM: Final = 1.5
_TO_VALUE_MM: Final = 1.9
_BELOW_MM: Final = 1.9
_LINE_SPACING: Final = 1.75
_MOST_LINES: Final = 3
_CLEAR_MM: Final = 0.1


@dataclass(frozen=True, slots=True)
class Field:
    """A cell with its ``label`` and its ``value``, whose capitals are ``height_mm`` high: 2.5, 3.5 or 5 mm.

    It is ``columns`` of its row's grid wide. One without a value is left open to be written in.
    """

    label: str
    value: str = ""
    columns: int = 1
    height_mm: float = NAME_MM


def title_block(rows: Sequence[Sequence[Field]], width_mm: float) -> Block:
    """Rows of fields from the top, each row ``width_mm`` wide over all with the rules at its edges.

    The columns of all rows lie on one grid where their fields have as many columns together. A value that is too long
    for one line goes on below it.
    """
    shapes: list[Shape] = []
    top = 0.0
    for fields in rows:
        widths = _widths(fields, width_mm)
        height = max(map(_height, fields, widths))
        shapes.extend(moved(_row(fields, widths, height), 0.0, top))
        top -= height
        shapes.append(Line(WIDE_MM, top, width_mm - WIDE_MM, top, NARROW_MM))
    # The last inner rule lies under the outer one.
    half = WIDE_MM / 2
    outer = outline(Rect(half, top + half, width_mm - half, -half), WIDE_MM)
    return Block(-top, (*shapes[:-1], *outer))


def _row(fields: Sequence[Field], widths: Sequence[float], height_mm: float) -> Iterator[Shape]:
    for field, left, width in zip(fields, accumulate(widths, initial=0.0), widths, strict=False):
        if left:
            yield Line(left, -NARROW_MM, left, NARROW_MM - height_mm, NARROW_MM)
        baseline = -_ABOVE_MM - NAME_MM
        label = shortened(field.label, WORDS_PT, width - 2 * _INSET_MM)
        yield Text(left + _INSET_MM, baseline, label, WORDS_PT)
        lines = _lines(field, width)
        pitch = _LINE_SPACING * field.height_mm
        baseline -= _TO_VALUE_MM + field.height_mm
        for number, line in enumerate(lines):
            yield Text(left + _INSET_MM, baseline - number * pitch, line, points_of(field.height_mm), bold=True)


def _widths(row: Sequence[Field], width_mm: float) -> list[float]:
    """Of each field by its columns; one whose longest word has no room in these takes some of what others can spare."""
    columns = sum(field.columns for field in row)
    widths = [width_mm * field.columns / columns for field in row]
    spare = [width - _least(field) for field, width in zip(row, widths, strict=True)]
    short, free = (sum(max(0.0, sign * each) for each in spare) for sign in (-1, 1))
    if not 0.0 < short <= free:
        return widths
    return [width - (left * short / free if left > 0.0 else left) for width, left in zip(widths, spare, strict=True)]


def _least(field: Field) -> float:
    """So wide that no word of its value is shortened."""
    size = points_of(field.height_mm)
    longest = max((text_width_mm(word, size, bold=True) for word in field.value.split(" ")), default=0.0)
    return longest + 2 * _INSET_MM + _CLEAR_MM


def _lines(field: Field, width_mm: float) -> list[str]:
    if not field.value:
        return []
    room, size = width_mm - 2 * _INSET_MM, points_of(field.height_mm)
    lines = list(wrapped(field.value, size, room, bold=True))
    rest = " ".join(lines[_MOST_LINES - 1 :])
    return [*lines[: _MOST_LINES - 1], shortened(rest, size, room, bold=True)] if len(lines) > _MOST_LINES else lines


def _height(field: Field, width_mm: float) -> float:
    more = max(0, len(_lines(field, width_mm)) - 1) * _LINE_SPACING * field.height_mm
    return _ABOVE_MM + NAME_MM + _TO_VALUE_MM + field.height_mm + more + _BELOW_MM
