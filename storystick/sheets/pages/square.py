"""The chapter "Square" of the job sheet: diagonals in large figures, room to write, and what to do about them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import groupby
from math import atan, degrees, floor
from typing import Final

from storystick.drawing.lettering import POINT_MM, text_width_mm, wrapped
from storystick.drawing.shapes import Anchor, Area, Line, Shape, Text, closed, moved
from storystick.job.job import Job
from storystick.job.shop import RodStock
from storystick.lengths import Figures
from storystick.sheets.pages.flow import TEXT_PT, Block, Column, Room, heading, paragraph, table, tile_table
from storystick.sheets.print_choices import RODS_FILE
from storystick.sheets.strips import StripSheets
from storystick.squaring.findings import (
    CAUTION,
    CLAMPS_ASKEW,
    EQUAL_IS_NOT_ENOUGH,
    LONG_SHOWS,
    MEASURE,
    SQUARES_LIE,
    target_figures,
    toe_words,
    tolerance_words,
)
from storystick.squaring.rectangles import Body, Target, targets_in
from storystick.squaring.rods import USE_HEADINGS, RodPlan, RodUse, too_short_words, use_rows

_FIGURE_PT: Final = 13.0
_PITCH_MM: Final = TEXT_PT * POINT_MM * 1.35
_ROW_MM: Final = 9.0
_BASE_MM: Final = -5.8
_BOX_MM: Final = 22.0
_BOX_HEIGHT_MM: Final = 7.4
_GAP_MM: Final = 5.0
_FINE_MM: Final = 0.15

_SKETCH_WIDE_MM: Final = 34.0
_SKETCH_HIGH_MM: Final = 24.0
_SKETCH_RACK_MM: Final = 6.0
_SKETCH_ROOM_MM: Final = 34.0
_HEADINGS: Final = ("rectangle", "width", "height", "may differ", "diagonal", "rising", "falling")


def square_blocks(bodies: Sequence[Body], job: Job, room: Room) -> Iterator[Block]:
    """A page at the bench: how to square by diagonals, and every rectangle with room to write what it measures."""
    width = room.width_mm
    yield replace(heading("Square", width), starts_page=True)
    yield _sketches(width)
    for number, words in enumerate((MEASURE, LONG_SHOWS, CLAMPS_ASKEW, EQUAL_IS_NOT_ENOUGH, SQUARES_LIE), start=1):
        yield from paragraph(words, width, indent_mm=6.0, sign=f"{number}.")
    yield from paragraph(CAUTION, width, indent_mm=6.0, sign="!")
    for sentence in (tolerance_words(job), *toe_words(targets_in(bodies))):
        yield from paragraph(sentence, width)
    for title, group in groupby(bodies, key=_title):
        yield heading(title, width)
        yield from _table([target for body in group for target in body.targets], job, width)


def _title(body: Body) -> str:
    """The body's name; rectangles by themselves stand in one table."""
    alone = [target.name for target in body.targets] == [body.name]
    return "Other rectangles" if alone else body.name


def _table(targets: Sequence[Target], job: Job, width: float) -> Iterator[Block]:
    rows = [_figures(target, job.figures) for target in targets]
    rights = _rights(rows, width)
    header = _header(rights, width)
    yield header
    for target, figures in zip(targets, rows, strict=True):
        yield replace(_row(target.rectangle.told, figures, rights), header=header)
    yield Block(2.0, ())


def _figures(target: Target, figures: Figures) -> tuple[str, ...]:
    """In the order of the page: the diagonal, which is read from afar, stands beside the boxes to write in."""
    said = target_figures(target, figures)
    return said.width, said.height, said.may_differ, said.diagonal


def _rights(rows: Sequence[tuple[str, ...]], width: float) -> list[float]:
    """The right edges of the columns of figures and of the two boxes, from the last one back."""
    rights = [width, width - _BOX_MM - 2.0]
    right = rights[-1] - _BOX_MM - _GAP_MM / 2
    for place in range(len(rows[0]) - 1, -1, -1):
        rights.append(right)
        widest = max(text_width_mm(row[place], _size(place), bold=True) for row in rows)
        right -= max(widest, text_width_mm(_HEADINGS[place + 1], TEXT_PT, bold=True)) + _GAP_MM
    return [right, *reversed(rights)]


def _size(place: int) -> float:
    """The letter size of a column of figures: that of the diagonal, the last of them, is large."""
    return _FIGURE_PT if _HEADINGS[place + 1] == "diagonal" else TEXT_PT


def _header(rights: Sequence[float], width: float) -> Block:
    words = [Text(0.0, -4.0, _HEADINGS[0], TEXT_PT, bold=True)]
    words += [
        Text(x, -4.0, word, TEXT_PT, Anchor.END, bold=True) for x, word in zip(rights[1:5], _HEADINGS[1:5], strict=True)
    ]
    words += [
        Text(x - _BOX_MM, -4.0, word, TEXT_PT, bold=True) for x, word in zip(rights[5:], _HEADINGS[5:], strict=True)
    ]
    return Block(5.6, (*words, Line(0.0, -5.4, width, -5.4, 2 * _FINE_MM)), keeps_next=True)


def _row(name: str, figures: Sequence[str], rights: Sequence[float]) -> Block:
    lines = list(wrapped(name, TEXT_PT, rights[0]))
    height = max(_ROW_MM, 1.6 + _PITCH_MM * len(lines))
    first = (_PITCH_MM * (len(lines) - 1) - height) / 2 - 1.2
    texts = [Text(0.0, first - _PITCH_MM * place, line, TEXT_PT) for place, line in enumerate(lines)]
    texts += [
        Text(x, _BASE_MM, figure, _size(place), Anchor.END, bold=_size(place) == _FIGURE_PT)
        for place, (x, figure) in enumerate(zip(rights[1:5], figures, strict=True))
    ]
    boxes = [line for x in rights[5:] for line in _box(x - _BOX_MM)]
    return Block(height, (*texts, *boxes, Line(0.0, -height, rights[4], -height, _FINE_MM)))


def _box(x: float) -> Iterator[Line]:
    """An empty box to write in, with its left edge at x."""
    right, top = x + _BOX_MM, -0.8
    low = top - _BOX_HEIGHT_MM
    yield from closed(((x, low), (right, low), (right, top), (x, top)), 0.25)


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


_WHAT: Final = (
    "Two sliding sticks with pointed ends, set to a diagonal. For each diagonal the table says which rod serves it and "
    "how far that is opened beyond its closed length, give or take half of what the two diagonals may differ by. The "
    "letter is that of the diagonal’s band on a strip for the rod."
)
_BLUNTEST: Final = 45
"""Degrees between a side of a point and its stick: sharp enough for a square corner (common practice, no source)."""

_MAKING: Final = (
    "Cut two straight sticks exactly to the length said. It takes in the points, and is the closed length of the rod.",
    "Point one end of each in the middle of its width, the sides of the point no more than the angle said from the "
    "stick’s own edges: then it enters the corner of the flattest rectangle, and no edge holds it off.",
    "Lay one stick behind the other as you look into the case, points outward, so that both points lie on one line. "
    "Hold them with two small clamps. Never open a rod so far that they overlap by less than said.",
)
_GLUING: Final = (
    "Cut out and join its tiles as those of any strip.",
    "Close the rod to its closed length exactly, from point to point.",
    "Lay the strip on one stick, its marking edge along the line where both sticks meet, its zero where the end of the "
    "other stick lies and its figures rising the way that this end moves as the rod is opened. Where a point is in the "
    "way, lay it farther along, and strike a line on the other stick at zero: read at that line from then on. Glue it, "
    "and fold what stands out round the stick.",
    "Each narrow band is a target: the diagonal of its letter, from half the tolerance below it to half above. A "
    "diagonal is accepted where the end of the other stick, or the line on it, stands within the band. Bands that "
    "would overlap are drawn as one.",
)
_USING: Final = (
    "Compare opposite sides first: equal diagonals prove a rectangle only where opposite sides are equal too.",
    "Set the rod to one diagonal, its points in the two corners, and clamp it. Then try it in the other diagonal: it "
    "must go in as it did in the first, with no force and no play.",
    "Turn it about once, end for end: it must read the same. If not, a point is out of line, or something lies in a "
    "corner.",
    "With a strip, read both diagonals. Both within the band: square, with the diagonal as planned. Alike but outside "
    "the band: square, with sides that are not as planned.",
    "An outside diagonal: lay the rod across the edges, its points over the two corners.",
)
_SHARES: Final = {"rod": 2.2, "band": 1.5, "for": 6.0}
_USES: Final = tuple(Column(word, _SHARES.get(word, 0.0), right=word not in _SHARES) for word in USE_HEADINGS)
_RODS: Final = (Column("rod", 1), Column("closed", right=True), Column("open", right=True))
_NEW_RODS: Final = (
    Column("to make", 1),
    Column("two sticks, each", right=True),
    Column("square", right=True),
    Column("overlap at least", right=True),
    Column("opens to", right=True),
    Column("sides of points", right=True),
)


def rod_blocks(plan: RodPlan, strips: StripSheets | None, tiled: bool, job: Job, room: Room) -> Iterator[Block]:
    """The chapter. ``strips`` is None for a job without a shop, which has none; ``tiled`` is whether their sheets are
    printed."""
    width = room.width_mm
    yield heading("Pinch rods", width)
    yield from paragraph(_WHAT, width)
    if plan.rods:
        yield from table(_USES, use_rows(plan, job.figures), width)
    if too_short := too_short_words(plan, job.figures):
        yield from paragraph(too_short, width, indent_mm=6.0, sign="!")
    yield from _making(plan, job, width)
    if strips:
        yield from _numbered("The strip on a rod", _GLUING, width)
        yield from _strip_blocks(strips, tiled, width)
    elif plan.rods:
        known = "Give the rods in a shop file, by their closed and open lengths, and strips for them are printed too."
        yield from paragraph(known, width)
    if plan.rods:
        yield from _numbered("Using a rod", _USING, width)


def _making(plan: RodPlan, job: Job, width: float) -> Iterator[Block]:
    """The rods that the shop has, and those that it lacks with how to make them."""
    owned = [(rod.name, job.figures(rod.closed), job.figures(rod.open)) for rod in plan.rods if not rod.to_make]
    if owned:
        yield from table(_RODS, owned, width)
    if plan.to_make:
        stock = job.shop.rod_stock if job.shop else RodStock()
        yield from table(_NEW_RODS, [_new_row(rod, stock, job) for rod in plan.to_make], width)
        yield from _numbered("Making a rod", _MAKING, width)


def _new_row(rod: RodUse, stock: RodStock, job: Job) -> tuple[str, ...]:
    lengths = (rod.closed, stock.section, stock.overlap, rod.open)
    most = point_degrees(rod)
    return (rod.name, *map(job.figures, lengths), f"{most}° or less" if most else "less than 1°")


def point_degrees(rod: RodUse) -> int:
    """How far the sides of a point may stand from its stick to reach the corners of every rectangle, in degrees."""
    return min(_BLUNTEST, floor(degrees(atan(rod.flattest))))


def _numbered(title: str, lines: Sequence[str], width: float) -> Iterator[Block]:
    yield heading(title, width)
    for number, line in enumerate(lines, start=1):
        yield from paragraph(line, width, indent_mm=6.0, sign=f"{number}.")


def _strip_blocks(strips: StripSheets, tiled: bool, width: float) -> Iterator[Block]:
    for warning in strips.warnings:
        yield from paragraph(warning, width, indent_mm=6.0, sign="!")
    if tiled:
        yield from paragraph(f"On {strips.paper_words} in {RODS_FILE}, in the order of gluing:", width)
        yield from tile_table("strip", strips.tile_rows(), width)
