"""What storystick square says to other programs: the same records for JSON and for CSV."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from storystick.cli.listing import twins
from storystick.job.job import Job
from storystick.lengths import nearest_root, root, write_exact
from storystick.squaring.corners import Quadrilateral
from storystick.squaring.findings import diagonal_label, findings, fit_words, suspect_words
from storystick.squaring.lean import Expected, Lean, Suspect
from storystick.squaring.rack import Racked
from storystick.squaring.rectangles import Target, reading_figures
from storystick.squaring.rods import RodUse

Fits = dict[str, Quadrilateral]
"""The nearest shapes of the rectangles whose sides were measured, by their names."""


def target_record(target: Target, job: Job) -> dict[str, object]:
    """A rectangle as it should be."""
    return {
        "name": target.name,
        "at": target.rectangle.edges,
        **twins("width", target.rectangle.width, job.units),
        **twins("height", target.rectangle.height, job.units),
        **root_twins("diagonal", target.rectangle.diagonal_squared, job, job.round_to),
        "diagonal_label": diagonal_label(target, job),
        **twins("tolerance", target.differ, job.units),
        **root_twins("tolerance_rack", target.rack_squared, job, reading_figures(job).step),
    }


def root_twins(key: str, square: Fraction, job: Job, step: Fraction) -> dict[str, object]:
    """A square root of mm² as the nearest multiple of a rounding step (mm), and the nearest number of mm."""
    rounded = nearest_root(square, step)
    return {key: write_exact(rounded, job.units), f"{key}_mm": float(root(square))}


def measured_record(racked: Racked, fits: Fits, job: Job) -> dict[str, object]:
    """A measured rectangle, with its corners where its sides were measured too."""
    reading, units = racked.reading, job.units
    sides = reading.sides._asdict() if reading.sides else {}
    record: dict[str, object] = {
        "name": racked.target.name,
        **twins("rising", reading.rising, units),
        **twins("falling", reading.falling, units),
        **{key: value for name, length in sides.items() for key, value in twins(name, length, units).items()},
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
        "findings": list(findings(racked, job)),
    }
    fitted = fits.get(racked.target.name)
    return record | _fit_record(fitted, racked, job) if fitted else record


def _fit_record(fitted: Quadrilateral, racked: Racked, job: Job) -> dict[str, object]:
    step = reading_figures(job).step

    def both(key: str, length: float) -> dict[str, object]:
        rounded = round(Fraction(length) / step) * step
        return {key: write_exact(rounded, job.units), f"{key}_mm": length}

    return {
        "corners": [
            {"corner": name.replace("_", " "), **both("x", x), **both("y", y)}
            for name, (x, y) in fitted.corners._asdict().items()
        ],
        "corrections": [
            {"of": name, **both("correction", length), **both("alone", getattr(fitted.alone, name))}
            for name, length in fitted.corrections._asdict().items()
        ],
        **both("unfit", fitted.unfit),
        "fit": list(fit_words(fitted, racked, job)),
    }


def lean_record(lean: Lean, job: Job) -> dict[str, object]:
    """What the measured rectangles of one body show together."""
    return {
        "name": lean.body.name,
        "angle_degrees": lean.angle_degrees,
        "agree": [racked.target.name for racked in lean.agreeing],
        "disagree": [racked.target.name for racked in lean.apart],
        "swapped": [racked.target.name for racked in lean.swapped],
        "suspect": _suspect_record(lean.suspect, job) if lean.suspect else None,
        "expected": [_expected_record(each, job) for each in lean.expected()],
    }


def _suspect_record(suspect: Suspect, job: Job) -> dict[str, object]:
    step = reading_figures(job).step
    about = {"should": write_exact(round(suspect.should / step) * step, job.units), "should_mm": float(suspect.should)}
    return {"name": suspect.racked.target.name, "reading": suspect.of, **about, "words": suspect_words(suspect, job)}


def _expected_record(expected: Expected, job: Job) -> dict[str, object]:
    return {
        "name": expected.target.name,
        **root_twins("rising", expected.rising_squared, job, reading_figures(job).step),
        **root_twins("falling", expected.falling_squared, job, reading_figures(job).step),
    }


def rod_record(rod: RodUse, job: Job) -> dict[str, object]:
    """A pinch rod with the rectangles that it serves."""
    reach = twins("closed", rod.closed, job.units) | twins("open", rod.open, job.units)
    return {"name": rod.name, **reach, "serves": list(rod.serves), "to_make": rod.to_make}


def csv_records(targets: Sequence[Target], leans: Sequence[Lean], job: Job) -> Iterator[dict[str, object]]:
    """A row for each rectangle: as it should be, what was measured of it, and what is expected where nothing was."""
    measured = {racked.target.name: racked for lean in leans for racked in lean.measured}
    expected = {each.target.name: each for lean in leans for each in lean.expected()}
    for target in targets:
        row = target_record(target, job)
        if racked := measured.get(target.name):
            row |= {key: value for key, value in measured_record(racked, {}, job).items() if key != "findings"}
        if each := expected.get(target.name):
            row |= root_twins("expected_rising", each.rising_squared, job, reading_figures(job).step)
            row |= root_twins("expected_falling", each.falling_squared, job, reading_figures(job).step)
        yield row
