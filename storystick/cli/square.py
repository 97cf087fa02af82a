"""storystick square: the diagonals of a job's rectangles, and what measured ones show."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import click

from storystick.cli.listing import Format, echo_csv, echo_heading, echo_json, echo_table, echo_words
from storystick.cli.options import format_option, job_argument, load_job, shop_option
from storystick.cli.square_records import Fits, csv_records, lean_record, measured_record, rod_record, target_record
from storystick.errors import FaultCollector, placed_in
from storystick.job.job import Job
from storystick.job.sources import Source, load_source
from storystick.laying_out import lay_out
from storystick.squaring.corners import fit, six_of
from storystick.squaring.findings import (
    DIAGONAL_HEADINGS,
    EQUAL_IS_NOT_ENOUGH,
    EXPECTED_HEADINGS,
    LONG_SHOWS,
    MEASURE,
    SIDES_TOO,
    diagonal_rows,
    error_words,
    expected_rows,
    findings,
    fit_words,
    lean_words,
    read_words,
    suspect_words,
    toe_words,
    tolerance_words,
    verdict,
)
from storystick.squaring.lean import Lean, leans_of
from storystick.squaring.rack import Racked
from storystick.squaring.readings import TAPE_READ_TO, Told, read_read_to, read_readings
from storystick.squaring.rectangles import Target, bodies_of, rectangles_of, targets_in
from storystick.squaring.rods import RodPlan, rod_words, rods_for

_NONE = (
    "The job has no cabinet and no [[rectangle]] with name, width and height, and a plain stick says nothing of "
    "diagonals."
)
_GIVE = "Give what you read with --measured NAME RISING FALLING, or all of it in a file with --readings."


@click.command()
@job_argument
@shop_option
@format_option
@click.option(
    "--measured",
    nargs=3,
    multiple=True,
    metavar="NAME RISING FALLING",
    help="The measured diagonals of a rectangle: rising from lower left to upper right, falling from upper left to "
    "lower right. May be given several times.",
)
@click.option(
    "--sides",
    nargs=5,
    multiple=True,
    metavar="NAME BOTTOM TOP LEFT RIGHT",
    help="The measured sides of a rectangle whose diagonals are given too. May be given several times.",
)
@click.option(
    "--readings",
    metavar="FILE.csv",
    type=click.Path(path_type=Path),
    help="The same from a spreadsheet: columns name, rising, falling, and bottom, top, left, right where measured.",
)
@click.option("--read-to", metavar="LENGTH", help="How finely it was read; 1/32 in or 0.5 mm where left out.")
def command(
    job: Path,
    shop: Path | None,
    shape: Format,
    measured: Sequence[Sequence[str]],
    sides: Sequence[Sequence[str]],
    readings: Path | None,
    read_to: str | None,
) -> None:
    """List the diagonals; from measured ones, say which way to push.

    Rack is how far the top stands too far right of the bottom. What counts as square is left alone: the top is to
    move left or right only where the diagonals differ by more than they may. Text is rounded for reading; the rack in
    JSON and CSV is exact, and a diagonal, which no fraction is, the nearest to what labels are rounded to.

    Example: storystick square press.toml --measured "Press case, outside" "82 1/2" "82 1/4"
    """
    layout = lay_out(load_job(job, shop))
    bodies, units = bodies_of(layout), layout.job.units
    told = Told(measured, sides, _load(readings) if readings else None)
    with placed_in("--read-to"):
        finely = read_read_to(read_to, units) if read_to is not None else TAPE_READ_TO[units]
    targets = targets_in(bodies)
    found = read_readings(told, units, [target.rectangle for target in targets])
    leans = leans_of(bodies, found, finely, layout.job)
    rods = rods_for(rectangles_of(layout), layout.job.shop, units)
    _SHOW[shape](_Shown(layout.job, targets, leans, _fits(leans), rods))


def _load(path: Path) -> Source:
    with placed_in(path.name):
        return load_source(path)


@dataclass(frozen=True, slots=True)
class _Shown:
    """What there is to show. ``fits`` are the nearest shapes of the rectangles whose sides were measured, by name."""

    job: Job
    targets: tuple[Target, ...]
    leans: tuple[Lean, ...]
    fits: Fits
    rods: RodPlan

    @property
    def measured(self) -> list[Racked]:
        return [racked for lean in self.leans for racked in lean.measured]


def _fits(leans: Sequence[Lean]) -> Fits:
    faults, fits = FaultCollector(), {}
    for lean in leans:
        for racked in lean.measured:
            if racked.reading.sides:
                with faults.at(f"{racked.reading.place}: {racked.target.name}"):
                    fits[racked.target.name] = fit(six_of(racked.reading))
    faults.raise_any()
    return fits


def _show_text(shown: _Shown) -> None:
    """What was measured and what it shows first, the table after it."""
    job = shown.job
    echo_heading(job)
    if not shown.targets:
        echo_words(_NONE)
        return
    for lean in shown.leans:
        _show_lean(lean, shown)
    if any(racked.reading.sides is None for racked in shown.measured):
        click.echo()
        echo_words(SIDES_TOO)
    click.echo()
    echo_table(DIAGONAL_HEADINGS, diagonal_rows(shown.targets, job), right=5)
    click.echo()
    for sentence in _explained(shown):
        echo_words(sentence)
    if not shown.leans:
        click.echo("\nPinch rods")
        for sentence in rod_words(shown.rods, job):
            echo_words(sentence, "  ", "  ")


def _explained(shown: _Shown) -> Iterator[str]:
    """What stands below the table: what it goes by, and before anything is measured how that is done."""
    yield tolerance_words(shown.job)
    yield from toe_words(shown.targets)
    if shown.leans:
        yield error_words(shown.measured[0], shown.job)
    else:
        yield from (MEASURE, LONG_SHOWS, EQUAL_IS_NOT_ENOUGH, _GIVE)


def _show_lean(lean: Lean, shown: _Shown) -> None:
    job = shown.job
    for racked in lean.measured:
        click.echo()
        echo_words(read_words(racked, job))
        for sentence in _told(racked, lean, shown):
            echo_words(sentence, "  ", "  ")
    together = [*lean_words(lean)]
    if together:
        click.echo()
        echo_words(lean.body.name)
    for sentence in together:
        echo_words(sentence, "  ", "  ")
    if expected := expected_rows(lean, job):
        click.echo()
        echo_table(EXPECTED_HEADINGS, expected, right=2)


def _told(racked: Racked, lean: Lean, shown: _Shown) -> Iterator[str]:
    """What is said of one rectangle; nothing is made of it where a reading of it is the suspect."""
    if lean.suspect and racked is lean.suspect.racked:
        yield suspect_words(lean.suspect, shown.job)
        return
    yield verdict(racked, shown.job)
    yield from (f"! {finding}" for finding in findings(racked, shown.job))
    if fitted := shown.fits.get(racked.target.name):
        yield from fit_words(fitted, racked, shown.job)


def _show_json(shown: _Shown) -> None:
    job = shown.job
    echo_json(
        {
            "title": job.title,
            "units": job.units.value,
            "digest": job.digest,
            "diagonals": [target_record(target, job) for target in shown.targets],
            "measured": [measured_record(racked, shown.fits, job) for racked in shown.measured],
            "together": [lean_record(lean, job) for lean in shown.leans],
            "rods": [rod_record(rod, job) for rod in shown.rods.rods],
        }
    )


def _show_csv(shown: _Shown) -> None:
    """A row for each rectangle: what was not measured of it stays empty."""
    rows = list(csv_records(shown.targets, shown.leans, shown.job))
    header = list(dict.fromkeys(key for row in rows for key in row)) or ["name"]
    echo_csv(header, [[row.get(key) for key in header] for row in rows], shown.job.units)


_SHOW = {Format.TEXT: _show_text, Format.JSON: _show_json, Format.CSV: _show_csv}
