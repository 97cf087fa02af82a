"""The sections of a job's bench sheet: each says in the words of the listings and pages what there is to do.

A section that the job has nothing of is left out. What only cabinets and shops need is loaded for them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING, Final

from storystick.bench_sheet.content import Figure, Group, Picture, Room, Row, Section, picture_of
from storystick.drawing.shapes import Shape
from storystick.job.job import Job
from storystick.layout.alike import LetteredStick, kinds_of
from storystick.layout.stations import MARK_HEADINGS, Layout, SpanKind, length_words, mark_rows
from storystick.lengths import Figures
from storystick.sheets.pages.first_picture import arrange_picture
from storystick.sheets.strips import StripSheets
from storystick.wording import capital, kinds_alike

if TYPE_CHECKING:
    # What only cabinets need is loaded by no sheet of plain sticks.
    from storystick.cutting.totals import StockRow
    from storystick.layout.cabinets.pieces import CabinetLayout
    from storystick.squaring.rectangles import AlikeTargets

_PICTURE_MM: Final = (110.0, 140.0)
_DRAWING_MM: Final = (110.0, 420.0)
"""So large are pictures on paper: on a phone of 360 px their letters of 2.5 mm are then 8 px high."""

_MOST_BOXES: Final = 24
"""More parts than this have one box together."""

_SIZE: Final = MARK_HEADINGS[-1]
_OPENING: Final = SpanKind.OPENING.value

NOT_TO_SCALE: Final = "Pictures are reduced: read their figures, and measure nothing on a screen."
WHERE_FROM: Final = "Every figure is from the datum end of its stick: hook the tape there, and never add sizes up."


def sections_of(layout: Layout, strips: StripSheets, sticks: Sequence[LetteredStick], whole: bool) -> Iterator[Section]:
    """All that a job has, in the order of the work: the marks of the ``sticks``, and unless it is ``whole`` no more.

    Raises:
        StorystickError: as the pages of the same.
    """
    makers: list[Callable[[Layout], Section]] = [partial(_marks, sticks=sticks)]
    if whole:
        makers = [partial(_drawings, strips=strips), *makers, *(make for has, make in _OTHERS if has(layout))]
    yield from (section for section in (make(layout) for make in makers) if section.groups)


def _drawings(layout: Layout, strips: StripSheets) -> Section:
    """The picture of page 1 with the strips' letters, then every kind of cabinet as its drawing sheet shows it."""
    first = arrange_picture(layout, strips, *_PICTURE_MM).block()
    groups = [Group(layout.job.title, picture=_picture(first.shapes, "The job from the front, with its letters"))]
    if layout.cabinets:
        groups += _cabinets(layout)
    return Section("drawing", "Drawing", tuple(groups) if first.shapes else (), (NOT_TO_SCALE,))


def _cabinets(layout: Layout) -> Iterator[Group]:
    from storystick.drawing.cabinet_sheet import CabinetSheet
    from storystick.sheets.pages.cabinets import construction_words, hangs, on_back

    job, runs = layout.job, layout.runs
    for alike in kinds_of(layout.cabinets):
        own, title = alike[0], _told(alike)
        sheet = CabinetSheet(own, job.figures, on_back(alike, runs), hangs(alike, runs))
        drawing = next(sheet.drawings(*_DRAWING_MM))
        yield Group(
            title,
            words=(*drawing.notes, *construction_words(own, job.figures)),
            picture=_picture(drawing.shapes, f"{title}: its elevation, plan and section"),
        )


def _told(alike: Sequence[CabinetLayout]) -> str:
    return kinds_alike([own.cabinet.told for own in alike], sum(own.cabinet.count for own in alike))


def _picture(shapes: Sequence[Shape], words: str) -> Picture | None:
    return picture_of(shapes, words) if shapes else None


def _marks(layout: Layout, sticks: Sequence[LetteredStick]) -> Section:
    """Every stick with a row for each mark, and what follows along walls."""
    groups = [_stick(lettered, layout.job.figures) for lettered in sticks]
    if layout.runs:
        groups += _walls(layout)
    return Section("marks", "Marks", tuple(groups), (WHERE_FROM,))


def _stick(lettered: LetteredStick, figures: Figures) -> Group:
    stick = lettered.drawn
    rows = (_mark(row, bool(stick.parts)) for row in mark_rows(stick, figures))
    return Group(lettered.serves_words, tuple(rows), (length_words(stick, figures),), letter=lettered.letter)


def _mark(cells: Sequence[str], has_parts: bool) -> Row:
    """A row of the listing; between parts an opening is struck by their edges."""
    kind, name, *labels = cells
    said = zip(MARK_HEADINGS[2:], labels, strict=True)
    figures = tuple(Figure(word, label, word != _SIZE) for word, label in said if label)
    return Row(name, figures, kind=kind, quiet=has_parts and kind == _OPENING)


def _walls(layout: Layout) -> Iterator[Group]:
    from storystick.layout.walls.rows import wall_tables

    for table in wall_tables(layout):
        words = len(table.headings) - table.right
        rows = tuple(_of_wall(table.headings, row, words) for row in table.rows)
        yield Group(f"{table.wall}: {table.headings[0]}", rows)


def _of_wall(headings: Sequence[str], cells: Sequence[str], words: int) -> Row:
    """A row of a table of which the first so many columns are words."""
    said = (" ".join(pair) for pair in zip(headings[1:words], cells[1:words], strict=True))
    figures = zip(headings[words:], cells[words:], strict=True)
    return Row(cells[0], tuple(Figure(*pair) for pair in figures), tuple(said))


def parts(layout: Layout) -> Section:
    """The cutting list by stock, a box for each part."""
    from storystick.cutting.fastened import hardware_of
    from storystick.cutting.parts import INCLUDED
    from storystick.cutting.run_parts import all_parts
    from storystick.cutting.totals import by_stock
    from storystick.sheets.pages.cutting import SUMS_TITLE, sums

    figures = layout.job.figures
    own = all_parts(layout, figures)
    several = len({part.cabinet for part in own}) > 1
    stocks = (
        Group(stock.title(figures), tuple(_part(row, figures, several) for row in stock.rows), _sentence(stock.notes))
        for stock in by_stock(own)
    )
    told = sums(own, figures, hardware_of(layout.cabinets, figures))
    return Section("parts", "Parts", (*stocks, Group(SUMS_TITLE, words=tuple(told))), (INCLUDED,))


def _part(row: StockRow, figures: Figures, several: bool) -> Row:
    """It says of which cabinets it is where the job has ``several``."""
    from storystick.cutting.totals import hands_in_words

    sizes = (Figure("long", figures(row.length)), Figure("wide", figures(row.width)))
    whose = filter(None, (", ".join(row.cabinets) if several else "", hands_in_words(row.hands)))
    words = ("; ".join(whose), *_sentence(row.notes))
    return Row(", ".join(row.names), sizes, words, f"{row.count} ×", row.count if row.count <= _MOST_BOXES else 1)


def _sentence(notes: Sequence[str]) -> tuple[str, ...]:
    return (capital("; ".join(notes)),) if notes else ()


def _square(layout: Layout) -> Section:
    """Every rectangle with its diagonal, and room for both readings of each cabinet."""
    from storystick.sheets.pages.square import alike_title
    from storystick.squaring.findings import (
        CAUTION,
        HOW_TO_MEASURE,
        toe_words,
        tolerance_words,
    )
    from storystick.squaring.rectangles import alike_bodies, bodies_of, targets_in

    job, bodies = layout.job, bodies_of(layout)
    groups = (
        Group(alike_title(alike), tuple(_rectangle(own, alike.names, job) for own in alike.rows))
        for alike in alike_bodies(bodies)
    )
    how = HOW_TO_MEASURE
    words = (*how, tolerance_words(job), *toe_words(targets_in(bodies)))
    return Section("square", "Square", tuple(groups), words, (CAUTION,))


def _rectangle(own: AlikeTargets, names: Sequence[str], job: Job) -> Row:
    from storystick.sheets.pages.square import BOXES, HEADINGS, alike_figures

    *others, diagonal = zip(HEADINGS, alike_figures(own, job), strict=True)
    figures = (Figure(*diagonal), *(Figure(*pair, large=False) for pair in reversed(others)))
    rooms = (Room(name, readings=BOXES) for name in (names if len(names) > 1 else ("",)))
    return Row(own.told, figures, rooms=tuple(rooms))


def _set_ups(layout: Layout) -> Section:
    from storystick.bench_sheet.set_ups import set_ups

    return set_ups(layout)


def _glue_up(layout: Layout) -> Section:
    from storystick.bench_sheet.glue_up import glue_up

    return glue_up(layout)


_OTHERS: Final[tuple[tuple[Callable[[Layout], object], Callable[[Layout], Section]], ...]] = (
    (lambda layout: layout.cabinets, parts),
    (lambda layout: layout.job.shop, _set_ups),
    (lambda layout: layout.cabinets or layout.job.rectangles, _square),
    (lambda layout: layout.cabinets, _glue_up),
)
"""What else there is to do, and whether a job has any of it."""
