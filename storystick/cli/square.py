"""storystick square: the diagonals of a job's rectangles, and what measured ones show."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

import click

from storystick.cli import completing
from storystick.cli.listing import (
    Format,
    Listing,
    echo_heading,
    echo_sentences,
    echo_table,
    echo_words,
    head_of,
    root_twins,
    twins,
)
from storystick.cli.options import format_option, job_argument, load_job, shop_option
from storystick.errors import FaultCollector, Where, placed_in
from storystick.job.job import Job
from storystick.job.sources import Source, load_source
from storystick.lengths import Figures
from storystick.squaring.corners import Quadrilateral, shape_of
from storystick.squaring.findings import (
    DIAGONAL_HEADINGS,
    EQUAL_IS_NOT_ENOUGH,
    EXPECTED_HEADINGS,
    LONG_SHOWS,
    MEASURE,
    NO_RECTANGLE,
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
    told_words,
    tolerance_words,
)
from storystick.squaring.lean import MeasuredBody, Suspect, leans_of
from storystick.squaring.rack import Racked
from storystick.squaring.readings import TAPE_READ_TO, Told, read_read_to, read_readings
from storystick.squaring.rectangles import Target, bodies_of, targets_in
from storystick.squaring.rods import RodPlan, RodUse, rod_words, rods_for

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
    shell_complete=completing.of_job(completing.rectangle_names),
    help="The measured diagonals of a rectangle: rising from lower left to upper right, falling from upper left to "
    "lower right. May be given several times.",
)
@click.option(
    "--sides",
    nargs=5,
    multiple=True,
    metavar="NAME BOTTOM TOP LEFT RIGHT",
    shell_complete=completing.of_job(completing.rectangle_names),
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
    layout = load_job(job, shop)
    bodies, units = bodies_of(layout), layout.job.units
    told = Told(measured, sides, _load(readings) if readings else None)
    with placed_in(Where("--read-to")):
        finely = read_read_to(read_to, units) if read_to is not None else TAPE_READ_TO[units]
    targets = targets_in(bodies)
    rectangles = [target.rectangle for target in targets]
    leans = leans_of(bodies, read_readings(told, units, rectangles), finely, layout.job)
    rods = rods_for(rectangles, layout.job.shop, units)
    _Square(layout.job, layout.job.figures, targets, leans, _shapes(leans), rods).show(shape, units)


def _load(path: Path) -> Source:
    with placed_in(Where.in_file(path.name)):
        return load_source(path)


@dataclass(frozen=True)
class _Square(Listing):
    """``shapes`` are those of the rectangles whose sides were measured, by name."""

    job: Job
    figures: Figures
    targets: tuple[Target, ...]
    leans: tuple[MeasuredBody, ...]
    shapes: dict[str, Quadrilateral]
    rods: RodPlan
    headings = ("name",)

    @property
    def measured(self) -> dict[str, Racked]:
        return {racked.target.name: racked for lean in self.leans for racked in lean.measured}

    def text(self) -> None:
        """What was measured and what it shows first, the table after it."""
        echo_heading(self.job)
        if not self.targets:
            echo_words(NO_RECTANGLE)
            return
        for lean in self.leans:
            self._lean_text(lean)
        if any(racked.reading.sides is None for racked in self.measured.values()):
            click.echo()
            echo_words(SIDES_TOO)
        click.echo()
        echo_table(DIAGONAL_HEADINGS, diagonal_rows(self.targets, self.figures), right=5)
        click.echo()
        echo_sentences(self._explained(), rest="")
        if not self.leans:
            click.echo("\nPinch rods")
            echo_sentences(rod_words(self.rods, self.figures), "  ")

    def _explained(self) -> Iterator[str]:
        """What stands below the table: what it goes by, and before anything is measured how that is done."""
        yield tolerance_words(self.job)
        yield from toe_words(self.targets)
        if self.leans:
            yield error_words(self.leans[0].measured[0], self.figures)
        else:
            yield from (MEASURE, LONG_SHOWS, EQUAL_IS_NOT_ENOUGH, _GIVE)

    def _lean_text(self, lean: MeasuredBody) -> None:
        for racked in lean.measured:
            click.echo()
            echo_words(read_words(racked, self.figures))
            shape = self.shapes.get(racked.target.name)
            echo_sentences(told_words(racked, lean, shape, self.figures), "  ")
        if together := [*lean_words(lean)]:
            click.echo()
            echo_words(lean.body.name)
            echo_sentences(together, "  ")
        if expected := expected_rows(lean, self.figures):
            click.echo()
            echo_table(EXPECTED_HEADINGS, expected, right=2)

    def content(self) -> dict[str, object]:
        return head_of(self.job) | {
            "diagonals": [_target_record(target, self.figures) for target in self.targets],
            "measured": [
                _measured_record(racked, self.figures) | _shape_record(self.shapes.get(name), racked, self.figures)
                for name, racked in self.measured.items()
            ],
            "together": [_lean_record(lean, self.figures) for lean in self.leans],
            "rods": [_rod_record(rod, self.figures) for rod in self.rods.rods],
        }

    def rows(self) -> Iterator[dict[str, object]]:
        """A rectangle as it should be, what was measured of it, and what is expected where nothing was."""
        measured = self.measured
        expected = {each.target.name: each for lean in self.leans for each in lean.expected()}
        for target in self.targets:
            row = _target_record(target, self.figures)
            if racked := measured.get(target.name):
                row |= _measured_record(racked, self.figures)
                del row["findings"]
            if each := expected.get(target.name):
                row |= root_twins("expected_rising", each.rising_squared, self.figures.fine)
                row |= root_twins("expected_falling", each.falling_squared, self.figures.fine)
            yield row


def _shapes(leans: Sequence[MeasuredBody]) -> dict[str, Quadrilateral]:
    faults, shapes = FaultCollector(), {}
    for racked in (racked for lean in leans for racked in lean.measured):
        with faults.at(Where(f"{racked.reading.place}: {racked.target.name}")):
            if shape := shape_of(racked.reading):
                shapes[racked.target.name] = shape
    faults.raise_any()
    return shapes


def _target_record(target: Target, figures: Figures) -> dict[str, object]:
    """A rectangle as it should be."""
    rectangle, units = target.rectangle, figures.units
    return {
        "name": target.name,
        "at": rectangle.edges,
        **twins(units, width=rectangle.width, height=rectangle.height),
        **root_twins("diagonal", rectangle.diagonal_squared, figures),
        "diagonal_label": target_figures(target, figures).diagonal,
        **twins(units, tolerance=target.differ),
        **root_twins("tolerance_rack", target.rack_squared, figures.fine),
    }


def _measured_record(racked: Racked, figures: Figures) -> dict[str, object]:
    """A measured rectangle, as far as its diagonals tell."""
    units = figures.units
    return {
        "name": racked.target.name,
        **twins(units, **racked.reading.lengths),
        **twins(units, difference=racked.difference, rack=racked.rack, rack_within=racked.rack_within),
        "angle_degrees": racked.angle_degrees,
        "longer": racked.long.value if racked.long else "none",
        "move_top": racked.move_top.value,
        "within_tolerance": racked.is_square,
        "sure": racked.is_sure,
        **twins(units, reading_error=racked.error),
        "sides_agree": racked.sides_agree,
        "findings": list(findings(racked, figures)),
    }


def _shape_record(shape: Quadrilateral | None, racked: Racked, figures: Figures) -> dict[str, object]:
    """Where its corners are; nothing of it where its sides were not measured."""
    if shape is None:
        return {}
    fine = figures.fine
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
        "fit": list(fit_words(shape, racked, figures)),
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
    reach = twins(figures.units, closed=rod.closed, open=rod.open)
    return {"name": rod.name, **reach, "serves": list(rod.serves), "to_make": rod.to_make}
