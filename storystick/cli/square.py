"""storystick square: the diagonals of a job's rectangles, and what measured ones show."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

import click

from storystick.cli.listing import Format, echo_csv, echo_heading, echo_json, echo_table, echo_words, root_twins, twins
from storystick.cli.options import format_option, job_argument, load_job, shop_option
from storystick.errors import FaultCollector, placed_in
from storystick.job.job import Job
from storystick.job.sources import Source, load_source
from storystick.laying_out import lay_out
from storystick.lengths import Figures
from storystick.squaring.corners import Quadrilateral, nearest_shape, six_of
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
    target_figures,
    toe_words,
    tolerance_words,
    verdict,
)
from storystick.squaring.lean import MeasuredBody, Suspect, leans_of
from storystick.squaring.rack import Racked
from storystick.squaring.readings import TAPE_READ_TO, Told, read_read_to, read_readings
from storystick.squaring.rectangles import Target, bodies_of, targets_in
from storystick.squaring.rods import RodPlan, RodUse, rod_words, rods_for

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
    rectangles = [target.rectangle for target in targets]
    leans = leans_of(bodies, read_readings(told, units, rectangles), finely, layout.job)
    rods = rods_for(rectangles, layout.job.shop, units)
    _SHOW[shape](_Shown(layout.job, layout.job.figures, targets, leans, _shapes(leans), rods))


def _load(path: Path) -> Source:
    with placed_in(path.name):
        return load_source(path)


@dataclass(frozen=True, slots=True)
class _Shown:
    """What there is to show. ``shapes`` are those of the rectangles whose sides were measured, by name."""

    job: Job
    figures: Figures
    targets: tuple[Target, ...]
    leans: tuple[MeasuredBody, ...]
    shapes: dict[str, Quadrilateral]
    rods: RodPlan

    @property
    def measured(self) -> dict[str, Racked]:
        return {racked.target.name: racked for lean in self.leans for racked in lean.measured}


def _shapes(leans: Sequence[MeasuredBody]) -> dict[str, Quadrilateral]:
    faults, shapes = FaultCollector(), {}
    for racked in (racked for lean in leans for racked in lean.measured if racked.reading.sides):
        with faults.at(f"{racked.reading.place}: {racked.target.name}"):
            shapes[racked.target.name] = nearest_shape(six_of(racked.reading))
    faults.raise_any()
    return shapes


def _show_text(shown: _Shown) -> None:
    """What was measured and what it shows first, the table after it."""
    echo_heading(shown.job)
    if not shown.targets:
        echo_words(_NONE)
        return
    for lean in shown.leans:
        _show_lean(lean, shown)
    if any(racked.reading.sides is None for racked in shown.measured.values()):
        click.echo()
        echo_words(SIDES_TOO)
    click.echo()
    echo_table(DIAGONAL_HEADINGS, diagonal_rows(shown.targets, shown.figures), right=5)
    click.echo()
    for sentence in _explained(shown):
        echo_words(sentence)
    if not shown.leans:
        click.echo("\nPinch rods")
        for sentence in rod_words(shown.rods, shown.figures):
            echo_words(sentence, "  ", "  ")


def _explained(shown: _Shown) -> Iterator[str]:
    """What stands below the table: what it goes by, and before anything is measured how that is done."""
    yield tolerance_words(shown.job)
    yield from toe_words(shown.targets)
    if shown.leans:
        yield error_words(shown.leans[0].measured[0], shown.figures)
    else:
        yield from (MEASURE, LONG_SHOWS, EQUAL_IS_NOT_ENOUGH, _GIVE)


def _show_lean(lean: MeasuredBody, shown: _Shown) -> None:
    for racked in lean.measured:
        click.echo()
        echo_words(read_words(racked, shown.figures))
        for sentence in _told(racked, lean, shown):
            echo_words(sentence, "  ", "  ")
    if together := [*lean_words(lean)]:
        click.echo()
        echo_words(lean.body.name)
        for sentence in together:
            echo_words(sentence, "  ", "  ")
    if expected := expected_rows(lean, shown.figures):
        click.echo()
        echo_table(EXPECTED_HEADINGS, expected, right=2)


def _told(racked: Racked, lean: MeasuredBody, shown: _Shown) -> Iterator[str]:
    """What is said of one rectangle; nothing is made of it where a reading of it is the suspect."""
    if lean.suspect and racked is lean.suspect.racked:
        yield suspect_words(lean.suspect, shown.figures)
        return
    yield verdict(racked, shown.figures)
    yield from (f"! {finding}" for finding in findings(racked, shown.figures))
    if shape := shown.shapes.get(racked.target.name):
        yield from fit_words(shape, racked, shown.figures)


def _show_json(shown: _Shown) -> None:
    job = shown.job
    echo_json(
        {
            "title": job.title,
            "units": job.units.value,
            "digest": job.digest,
            "diagonals": [_target_record(target, shown.figures) for target in shown.targets],
            "measured": [
                _measured_record(racked, shown.figures) | _shape_record(racked, shown)
                for racked in shown.measured.values()
            ],
            "together": [_lean_record(lean, shown.figures) for lean in shown.leans],
            "rods": [_rod_record(rod, shown.figures) for rod in shown.rods.rods],
        }
    )


def _show_csv(shown: _Shown) -> None:
    """A row for each rectangle; what was not measured of it stays empty."""
    rows = list(_rows(shown))
    header = list(dict.fromkeys(key for row in rows for key in row)) or ["name"]
    echo_csv(header, [[row.get(key) for key in header] for row in rows], shown.job.units)


def _rows(shown: _Shown) -> Iterator[dict[str, object]]:
    """A rectangle as it should be, what was measured of it, and what is expected where nothing was."""
    measured, fine = shown.measured, shown.figures.fine
    expected = {each.target.name: each for lean in shown.leans for each in lean.expected()}
    for target in shown.targets:
        row = _target_record(target, shown.figures)
        if racked := measured.get(target.name):
            row |= _measured_record(racked, shown.figures)
            del row["findings"]
        if each := expected.get(target.name):
            row |= root_twins("expected_rising", each.rising_squared, fine)
            row |= root_twins("expected_falling", each.falling_squared, fine)
        yield row


def _target_record(target: Target, figures: Figures) -> dict[str, object]:
    """A rectangle as it should be."""
    rectangle, units = target.rectangle, figures.units
    return {
        "name": target.name,
        "at": rectangle.edges,
        **twins("width", rectangle.width, units),
        **twins("height", rectangle.height, units),
        **root_twins("diagonal", rectangle.diagonal_squared, figures),
        "diagonal_label": target_figures(target, figures).diagonal,
        **twins("tolerance", target.differ, units),
        **root_twins("tolerance_rack", target.rack_squared, figures.fine),
    }


def _measured_record(racked: Racked, figures: Figures) -> dict[str, object]:
    """A measured rectangle, as far as its diagonals tell."""
    units = figures.units
    record: dict[str, object] = {"name": racked.target.name}
    for name, length in racked.reading.lengths.items():
        record |= twins(name, length, units)
    return record | {
        **twins("difference", racked.difference, units),
        **twins("rack", racked.rack, units),
        **twins("rack_within", racked.rack_within, units),
        "angle_degrees": racked.angle_degrees,
        "longer": racked.long.value if racked.long else "none",
        "move_top": racked.move_top.value,
        "within_tolerance": racked.is_square,
        "sure": racked.is_sure,
        **twins("reading_error", racked.error, units),
        "sides_agree": racked.sides_agree,
        "findings": list(findings(racked, figures)),
    }


def _shape_record(racked: Racked, shown: _Shown) -> dict[str, object]:
    """Where its corners are; nothing of it where its sides were not measured."""
    if (shape := shown.shapes.get(racked.target.name)) is None:
        return {}
    fine = shown.figures.fine
    return {
        "corners": [
            {"corner": name.replace("_", " "), **_near_twins("x", x, fine), **_near_twins("y", y, fine)}
            for name, (x, y) in shape.corners._asdict().items()
        ],
        "corrections": [
            {
                "of": of,
                **_near_twins("correction", length, fine),
                **_near_twins("alone", getattr(shape.alone, of), fine),
            }
            for of, length in shape.corrections._asdict().items()
        ],
        **_near_twins("unfit", shape.unfit, fine),
        "fit": list(fit_words(shape, racked, shown.figures)),
    }


def _near_twins(key: str, length: Fraction | float, figures: Figures) -> dict[str, object]:
    """The same as twins, of what is not known so finely that its exact text would mean anything."""
    return {key: figures.nearest(length), f"{key}_mm": float(length)}


def _lean_record(lean: MeasuredBody, figures: Figures) -> dict[str, object]:
    """What the measured rectangles of one body show together."""
    return {
        "name": lean.body.name,
        "angle_degrees": lean.angle_degrees,
        "agree": [racked.target.name for racked in lean.agreeing],
        "disagree": [racked.target.name for racked in lean.apart],
        "swapped": [racked.target.name for racked in lean.swapped],
        "suspect": _suspect_record(lean.suspect, figures) if lean.suspect else None,
        "expected": [
            {
                "name": each.target.name,
                **root_twins("rising", each.rising_squared, figures.fine),
                **root_twins("falling", each.falling_squared, figures.fine),
            }
            for each in lean.expected()
        ],
    }


def _suspect_record(suspect: Suspect, figures: Figures) -> dict[str, object]:
    return {
        "name": suspect.racked.target.name,
        "reading": suspect.of,
        **_near_twins("should", suspect.should, figures.fine),
        "words": suspect_words(suspect, figures),
    }


def _rod_record(rod: RodUse, figures: Figures) -> dict[str, object]:
    """A pinch rod with the rectangles that it serves."""
    reach = twins("closed", rod.closed, figures.units) | twins("open", rod.open, figures.units)
    return {"name": rod.name, **reach, "serves": list(rod.serves), "to_make": rod.to_make}


_SHOW = {Format.TEXT: _show_text, Format.JSON: _show_json, Format.CSV: _show_csv}
