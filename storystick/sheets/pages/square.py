"""Squaring by diagonals: how to measure and push, and each case in large figures with room to write."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Final

from storystick.drawing.built_up import BuiltUp
from storystick.drawing.lettering import NAME_MM, STATION_MM, shortened, text_width_mm
from storystick.drawing.shapes import Anchor, Area, Line, Shape, Text, closed, moved
from storystick.job.job import Job
from storystick.sheets.pages.flow import (
    HEAD_RULE_MM,
    PITCH_MM,
    RULE_MM,
    TEXT_PT,
    TITLE_PT,
    Block,
    Room,
    heading,
    kept_rows,
    lines_of,
    paragraph,
    side_by_side,
    stacked,
    titled,
    write_box,
)
from storystick.squaring.findings import (
    CAUTION,
    HOW_TO_MEASURE,
    target_figures,
    toe_words,
    tolerance_words,
)
from storystick.squaring.rectangles import AlikeBodies, AlikeTargets, Body, alike_bodies, targets_in
from storystick.wording import kinds_alike

_CELL_MM: Final = 20.0
_CELL_HIGH_MM: Final = 7.4
_CELL_GAP_MM: Final = 2.0
_ROW_MM: Final = 10.0
_ALIKE_ROW_MM: Final = 8.8
"""The height of a row of one of several cabinets that are alike."""

_GAP_MM: Final = 6.0

_ALIKE_PAD_MM: Final = 0.5
"""More above and below such rows, between rules."""

_SKETCH_WIDE_MM: Final = 34.0
_SKETCH_HIGH_MM: Final = 24.0
_SKETCH_RACK_MM: Final = 6.0
_SKETCH_ROOM_MM: Final = 32.0
HEADINGS: Final = ("width × height", "apart at most", "diagonal")
BOXES: Final = ("rising", "falling")
_CABINET: Final = "cabinet"
_NAMED_MM: Final = 36.0
"""So much of a row is for the name of one of several cabinets, at most."""

_TOLD_MM: Final = 34.0
"""What a rectangle is called stands above its figures where beside them is less room than this."""


def square_blocks(bodies: Sequence[Body], job: Job, room: Room) -> Iterator[Block]:
    """How to square by diagonals, and what is worth measuring of each case, with room to write what it measures."""
    width = room.width_mm
    yield replace(heading("Square", width, TITLE_PT), starts_page=True)
    yield _sketches(width)
    yield from side_by_side(HOW_TO_MEASURE, width, numbered=True)
    yield from paragraph(CAUTION, width, indent_mm=6.0, sign="!")
    for sentence in (tolerance_words(job), *toe_words(targets_in(bodies))):
        yield from paragraph(sentence, width)
    for alike in alike_bodies(bodies):
        yield from titled(alike_title(alike), _table(alike, job, width), width)


def alike_title(alike: AlikeBodies) -> str:
    """Those that are alike, and how many; rectangles by themselves stand in one table."""
    return kinds_alike(alike.kinds, len(alike.names)) if alike.names else "Other rectangles"


def _table(alike: AlikeBodies, job: Job, width: float) -> list[Block]:
    rows = [alike_figures(own, job) for own in alike.rows]
    several = alike.names if len(alike.names) > 1 else ()
    named = max(text_width_mm(name, TEXT_PT, bold=True) for name in (_CABINET, *several)) + _GAP_MM if several else 0.0
    rights = _rights(rows, width - min(named, _NAMED_MM))
    header = _header(rights, width, bool(several))
    drawn = [_row(own, several, figures, rights, width) for own, figures in zip(alike.rows, rows, strict=True)]
    return [header, *kept_rows(drawn, header), Block(2.0, ())]


def alike_figures(own: AlikeTargets, job: Job) -> tuple[str, str, str]:
    """In the order of the page: the diagonal, which is read from afar, stands beside the boxes to write in."""
    said = target_figures(own.target, job.figures)
    return f"{said.width} × {said.height}", said.may_differ, said.diagonal


def _rights(rows: Iterable[Sequence[str]], width: float) -> list[float]:
    """The right edges of the names and of the columns of figures, where the boxes end at ``width``."""
    right = width - 2 * _CELL_MM - _CELL_GAP_MM - _GAP_MM
    widths = [
        max(text_width_mm(word, TEXT_PT, bold=True), *(_width(place, row[place]) for row in rows)) + _GAP_MM
        for place, word in enumerate(HEADINGS)
    ]
    return [right - sum(widths[place:]) for place in range(len(widths) + 1)]


def _width(place: int, figure: str) -> float:
    """How wide a figure is drawn: the last of a row is the diagonal."""
    return _large(figure).width_mm if place == len(HEADINGS) - 1 else text_width_mm(figure, TEXT_PT)


def _large(figure: str) -> BuiltUp:
    return BuiltUp(figure, STATION_MM, bold=True)


def _header(rights: Sequence[float], width: float, several: bool) -> Block:
    words = [Text(0.0, -4.0, "rectangle", TEXT_PT, bold=True)] if rights[0] >= _TOLD_MM else []
    for x, word in zip(rights[1:], HEADINGS, strict=True):
        words.append(Text(x, -4.0, word, TEXT_PT, Anchor.END, bold=True))
    for x, word in zip(_cells(width), BOXES, strict=True):
        words.append(Text(x, -4.0, word, TEXT_PT, bold=True))
    words += [Text(rights[-1] + _GAP_MM, -4.0, _CABINET, TEXT_PT, bold=True)] if several else []
    return Block(5.6, (*words, Line(0.0, -5.5, width, -5.5, HEAD_RULE_MM)), keeps_next=True)


def _cells(width: float) -> tuple[float, float]:
    """The left edges of both boxes of a row."""
    return width - 2 * _CELL_MM - _CELL_GAP_MM, width - _CELL_MM


def _row(
    own: AlikeTargets, names: Sequence[str], figures: Sequence[str], rights: Sequence[float], width: float
) -> Block:
    """A rectangle with its figures, and two boxes beside them; of the ``names`` of several two for each, in rows."""
    if rights[0] < _TOLD_MM:
        above = stacked(paragraph(own.told, width))
        return stacked([above, _figured_row([], names, figures, rights, width)])
    return _figured_row(list(lines_of(own.told, TEXT_PT, rights[0])), names, figures, rights, width)


def _figured_row(
    lines: Sequence[str], names: Sequence[str], figures: Sequence[str], rights: Sequence[float], width: float
) -> Block:
    """The figures and boxes, with the ``lines`` of what it is called before them."""
    said = 2.4 + PITCH_MM * len(lines)
    pitch = _ALIKE_ROW_MM if names else max(_ROW_MM, said)
    height = max(pitch * max(len(names), 1), said)
    base = -pitch / 2 - NAME_MM / 2
    first = base if names else base + (len(lines) - 1) * PITCH_MM / 2
    shapes: list[Shape] = [Text(0.0, first - PITCH_MM * place, line, TEXT_PT) for place, line in enumerate(lines)]
    shapes += [Text(x, base, words, TEXT_PT, Anchor.END) for x, words in zip(rights[1:3], figures[:2], strict=True)]
    shapes += _large(figures[2]).shapes(rights[3], -pitch / 2 - STATION_MM / 2, Anchor.END)
    shapes += _pair((pitch - _CELL_HIGH_MM) / 2, width)
    left, right = rights[3] + _GAP_MM, _cells(width)[0] - _CELL_GAP_MM
    for place, name in enumerate(names):
        shapes.append(Text(left, base - place * pitch, shortened(name, TEXT_PT, right - left), TEXT_PT))
        shapes += _pair(place * pitch + (pitch - _CELL_HIGH_MM) / 2, width) if place else ()
    if names:
        shapes, height = list(moved(shapes, 0.0, -_ALIKE_PAD_MM)), height + 2 * _ALIKE_PAD_MM
    return Block(height, (*shapes, Line(0.0, -height, width, -height, RULE_MM)))


def _pair(below: float, width: float) -> Iterator[Shape]:
    """Both boxes of a row, so far below the top of its block."""
    for left in _cells(width):
        yield from write_box(left, -below, _CELL_MM, _CELL_HIGH_MM)


def _sketches(width: float) -> Block:
    """Both ways in which a case can be racked, each with its longer diagonal and the push that mends it."""
    half = width / 2
    shapes = (
        *_sketch(1, "rising longer:", "push left"),
        *moved(_sketch(-1, "falling longer:", "push right"), half, 0.0),
    )
    return Block(_SKETCH_ROOM_MM, tuple(shapes), keeps_next=True)


def _sketch(way: int, long: str, push: str) -> tuple[Shape, ...]:
    """A case whose top stands to the right (``way`` 1) or left (-1); dashed, as it should stand."""
    left, bottom = 18.0, 1.5 - _SKETCH_ROOM_MM
    right, top, rack = left + _SKETCH_WIDE_MM, bottom + _SKETCH_HIGH_MM, way * _SKETCH_RACK_MM
    upright = ((left, bottom), (right, bottom), (right, top), (left, top))
    racked = ((left, bottom), (right, bottom), (right + rack, top), (left + rack, top))
    start, end = (racked[0], racked[2]) if way > 0 else (racked[1], racked[3])
    tip, tail = (right + 7.5, right + 16.0) if way > 0 else (left - 7.5, left - 16.0)
    words = right + max(rack, 0.0) + 4.0
    return (
        *closed(upright, 0.2, (1.2, 0.9)),
        *closed(racked, 0.5),
        Line(*start, *end, 0.9),
        *moved(_arrow(tip, tail), 0.0, top - 1.5),
        Text(words, bottom + 8.5, long, TEXT_PT, bold=True),
        Text(words, bottom + 4.0, push, TEXT_PT, bold=True),
    )


def _arrow(tip: float, tail: float) -> tuple[Shape, ...]:
    """A level arrow at y = 0."""
    back = tip + (2.6 if tail > tip else -2.6)
    return Line(back, 0.0, tail, 0.0, 0.7), Area(((tip, 0.0), (back, 1.3), (back, -1.3)))
