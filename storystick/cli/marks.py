"""storystick marks: the cumulative positions of every stick."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import click

from storystick.cli.listing import Format, echo_csv, echo_heading, echo_json, echo_table, echo_words, twins
from storystick.cli.options import format_option, job_argument, load_job, shop_option
from storystick.laying_out import lay_out
from storystick.layout.stations import MARK_HEADINGS, Layout, Point, Span, StickLayout, mark_rows
from storystick.lengths import Units, write_exact


@click.command()
@job_argument
@shop_option
@format_option
def command(job: Path, shop: Path | None, shape: Format) -> None:
    """List every mark, cumulative from the datum.

    Text is rounded for reading, with "full" or "scant" where it is not exact; JSON and CSV are exact.

    Example: storystick marks chest.toml --format csv
    """
    _SHOW[shape](lay_out(load_job(job, shop)))


def _show_text(layout: Layout) -> None:
    job = layout.job
    echo_heading(job)
    for stick in layout.sticks:
        pair = ", a pair" if stick.stick.pair else ""
        click.echo()
        echo_words(f"{stick.name}: {job.label(stick.length)} from the {stick.stick.datum.value}{pair}")
        echo_table(MARK_HEADINGS, mark_rows(stick, job), right=3)


def _show_json(layout: Layout) -> None:
    job = layout.job
    sticks = [_stick_json(stick, job.units) for stick in layout.sticks]
    echo_json({"title": job.title, "units": job.units.value, "digest": job.digest, "sticks": sticks})


def _stick_json(stick: StickLayout, units: Units) -> dict[str, object]:
    return {
        "name": stick.stick.name,
        "datum": stick.stick.datum.value,
        "pair": stick.stick.pair,
        **twins("length", stick.length, units),
        "spans": [
            *(_span_json(span, units) for span in stick.spans),
            *(_groove_json(placed.groove, placed.stopped, units) for placed in stick.parts if placed.groove),
        ],
        "points": [_point_json(point, units) for point in stick.points],
        "beside": [_span_json(span, units) for span in stick.beside],
    }


def _span_json(span: Span, units: Units) -> dict[str, object]:
    exact = {"start": write_exact(span.start, units), "end": write_exact(span.end, units)}
    return {
        "kind": span.kind.value,
        "name": span.name,
        **exact,
        "start_mm": float(span.start),
        "end_mm": float(span.end),
    }


def _groove_json(groove: Span, stopped: tuple[Fraction, Fraction] | None, units: Units) -> dict[str, object]:
    """A groove, with from where to where it runs from the front edge if it does not run right across the board."""
    run = zip(("from", "to"), stopped, strict=True) if stopped else ()
    return _span_json(groove, units) | {key: value for word, at in run for key, value in twins(word, at, units).items()}


def _point_json(point: Point, units: Units) -> dict[str, object]:
    return {"kind": point.kind.value, "name": point.name, **twins("at", point.at, units)}


def _show_csv(layout: Layout) -> None:
    rows = [row for stick in layout.sticks for row in _csv_rows(stick, layout.job.units)]
    echo_csv(("stick", "kind", "name", "start", "end", "start_mm", "end_mm"), rows, layout.job.units)


def _csv_rows(stick: StickLayout, units: Units) -> Iterator[tuple[object, ...]]:
    name = stick.stick.name
    for span in (*stick.spans, *stick.grooves):
        exact = (write_exact(span.start, units), write_exact(span.end, units))
        yield (name, span.kind.value, span.name, *exact, float(span.start), float(span.end))
    for point in stick.points:
        yield (name, point.kind.value, point.name, write_exact(point.at, units), "", float(point.at), "")


_SHOW = {Format.TEXT: _show_text, Format.JSON: _show_json, Format.CSV: _show_csv}
