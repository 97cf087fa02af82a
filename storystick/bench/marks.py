"""The tab of marks: every strip with whom it serves, and a row for each thing that is struck."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from flask import render_template

from storystick.bench.draft import Draft
from storystick.bench.places import Steps
from storystick.layout.alike import LetteredStick, lettered_sticks
from storystick.layout.stations import MARK_HEADINGS, Layout, length_words, mark_rows


@dataclass(frozen=True, slots=True)
class StripMarks:
    """A strip by its ``letter``, with what is said of it, and its ``rows`` under the headings of marks."""

    letter: str
    serves: str
    length: str
    rows: tuple[tuple[str, ...], ...]


def strip_marks(layout: Layout) -> Iterator[StripMarks]:
    """Every strip of a job, as they are listed."""
    return (_of(strip, layout) for strip in lettered_sticks(layout))


def _of(strip: LetteredStick, layout: Layout) -> StripMarks:
    stick, figures = strip.drawn, layout.job.figures
    rows = tuple(mark_rows(stick, figures))
    return StripMarks(strip.letter, strip.serves_words, length_words(stick, figures), rows)


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
        "marks.html", draft=draft, strips=[*strip_marks(layout)], headings=MARK_HEADINGS, walls=walls
    )
