"""How the cabinets of a text come out, for changes of their openings: what stands between them, and what cannot be.

Lengths are exact, in mm.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from storystick.bench.editing.open_text import OpenText
from storystick.bench.places import Steps
from storystick.errors import Fault, StorystickError
from storystick.job.cabinets import Cabinet
from storystick.job.job import Job
from storystick.job.reading import read_sources
from storystick.job.rows import CabinetColumn, CabinetRow
from storystick.job.sources import Source
from storystick.laying_out import lay_out
from storystick.layout.cabinets.between import between_bands, between_openings, dividers_of, shelves_of
from storystick.layout.cabinets.case import outline_case, solve_grid
from storystick.layout.cabinets.cover import Cover
from storystick.layout.cabinets.measures import Measure, measure_of
from storystick.layout.stations import SpanKind
from storystick.lengths import Units


def first_fault(text: OpenText, at: Steps) -> Fault | None:
    """The first fault of the cabinet or the stick that a place is of; None where it can be made."""
    job, faults = _read(text)
    word, number = at[0], at[1]
    own = [fault for fault in faults if fault.steps[:2] == at[:2]]
    if own:
        return own[0]
    try:
        lay_out(_alone(job, str(word), int(number)))
    except StorystickError as error:
        return error.faults[0]
    return None


def _read(text: OpenText) -> tuple[Job, tuple[Fault, ...]]:
    return read_sources([Source("job.toml", text.document.as_string().encode())])


def _alone(job: Job, word: str, number: int) -> Job:
    """A job that is nothing but one cabinet or one stick of it."""
    cabinets = tuple(each for each in job.cabinets if (word, each.number) == ("cabinet", number + 1))
    sticks = tuple(each for each in job.sticks if (word, each.number) == ("stick", number + 1))
    return replace(job, cabinets=cabinets, sticks=sticks, runs=(), boards=(), square_sticks=(), rectangles=())


def sizes_on_stick(text: OpenText, at: Steps) -> list[Fraction]:
    """The sizes of the openings of the plain stick that a place is of, in order from its datum (mm)."""
    job, _ = _read(text)
    stick = lay_out(_alone(job, "stick", int(at[1]))).sticks[0]
    return [span.size for span in stick.spans if span.kind is SpanKind.OPENING]


class Solved:
    """A cabinet of a draft as it comes out."""

    def __init__(self, text: OpenText, at: Steps) -> None:
        """Of the cabinet that a place is of. Raises Fault where it has faults of its own: they come first."""
        job, _ = _read(text)
        found = next((each for each in job.cabinets if each.number == int(at[1]) + 1), None)
        if found is None:
            raise Fault("the cabinet is not without faults", "mend those first")
        self.cabinet: Cabinet = found
        self._figures = job.figures
        self._cover = Cover(found, outline_case(found, self._figures))

    def _row(self, at: Steps) -> CabinetRow:
        return self.cabinet.rows[_number(at, "row")]

    def _column(self, at: Steps) -> CabinetColumn:
        return self._row(at).columns[_number(at, "column")]

    def _measure(self, at: Steps) -> Measure:
        measure = measure_of(self._cover, self._figures)
        return measure.of_case() if self._row(at).front or self._column(at).front else measure

    def between_openings(self, at: Steps) -> Fraction:
        """What stands between two openings of a column, as it is measured."""
        return between_openings(self.cabinet, self._row(at), self._column(at)).gap(self._measure(at)).size

    def between_columns(self, at: Steps) -> Fraction:
        """What stands between two columns."""
        row = self._row(at)
        measure = measure_of(self._cover, self._figures)
        measure = measure.of_case() if row.front else measure
        return measure.upright(dividers_of(self.cabinet, row).stock.thickness).size

    def between_rows(self, at: Steps) -> Fraction:
        """What stands above a row where it says nothing of that."""
        row = _number(at, "row")
        rows = (*self.cabinet.rows[: row + 1], self.cabinet.rows[row])
        cabinet = replace(self.cabinet, rows=rows)
        return between_bands(cabinet)[row].gap(measure_of(self._cover, self._figures)).size

    def sizes(self, at: Steps) -> list[Fraction]:
        """The sizes of a column's openings from the bottom up, as the cabinet's sizes are measured."""
        stack = solve_grid(self._cover, self._figures).bands[_number(at, "row")].stacks[_number(at, "column")]
        return [cell.measured.size for cell in stack.cells]

    def shelf(self, at: Steps) -> Fraction:
        """What stands between two openings that are inside another."""
        return shelves_of(self.cabinet, self._row(at)).stock.thickness


def units_of(text: OpenText) -> Units:
    """The units of a job. Raises Fault where it has none."""
    try:
        return Units(text.value(("units",)))
    except ValueError:
        raise Fault("the job says no units", 'give it units = "inch" or units = "mm"') from None


def _number(at: Steps, word: str) -> int:
    """Which row or column a place is in; the only one where it says none."""
    return int(at[at.index(word) + 1]) if word in at[:-1] else 0
