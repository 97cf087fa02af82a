"""The tab of marks: every strip with whom it serves, and a row for each thing that is struck."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import zip_longest

from flask import render_template

from storystick.bench.draft import Draft
from storystick.bench.file_kinds import tables_of
from storystick.bench.places import Steps
from storystick.bench.said import CabinetSaid, Table, items_said
from storystick.layout.alike import LetteredStick, lettered_sticks
from storystick.layout.stations import MARK_HEADINGS, Layout, Span, length_words, mark_rows


@dataclass(frozen=True, slots=True)
class StripMarks:
    """A strip by its ``letter``, with what is said of it, and its ``rows`` under the headings of marks.

    Each row has the place in the job that says it, None where that is not known.
    """

    letter: str
    serves: str
    length: str
    rows: tuple[tuple[str, ...], ...]
    places: tuple[Steps | None, ...]


def strip_marks(layout: Layout, document: Table) -> Iterator[StripMarks]:
    """Every strip of a job, as they are listed; ``document`` are the tables of its file."""
    return (_of(strip, layout, document) for strip in lettered_sticks(layout))


def _of(strip: LetteredStick, layout: Layout, document: Table) -> StripMarks:
    stick, figures = strip.drawn, layout.job.figures
    rows = tuple(mark_rows(stick, figures))
    return StripMarks(
        strip.letter, strip.serves_words, length_words(stick, figures), rows, _places(strip, layout, document)
    )


def _places(strip: LetteredStick, layout: Layout, document: Table) -> tuple[Steps | None, ...]:
    """Where each mark is said: of a cabinet's face by what crosses it, of a stick of the job by its parts in order."""
    own = strip.served[0]
    cabinets = (each for face in own.faces for each in layout.cabinets if each.cabinet.name == face.cabinet)
    if found := next(cabinets, None):
        said = CabinetSaid(found, document)
        return tuple(said.on_strip(own, mark) if isinstance(mark, Span) else None for mark in own.struck)
    is_own = own in layout.sticks[: len(layout.job.sticks)] and own.stick.items
    spans = items_said(own.stick, document) if is_own else ()
    return tuple(at for _, at in zip_longest(own.struck, spans))


def show_marks(draft: Draft, _: Steps) -> str:
    """The tab of a draft; empty where it has faults: a list that lacks something would be taken for the whole."""
    layout = draft.layout
    if layout is None or draft.faults:
        return ""
    walls: tuple[object, ...] = ()
    if layout.runs:
        from storystick.layout.walls.rows import wall_tables  # only for a job with runs

        walls = tuple(wall_tables(layout))
    return render_template(
        "tabs/marks.html",
        draft=draft,
        strips=[*strip_marks(layout, tables_of(draft.text) or {})],
        headings=MARK_HEADINGS,
        walls=walls,
    )
