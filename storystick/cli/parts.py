"""storystick parts: the cutting list, fronts and drawer boxes of a job's cabinets."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from pathlib import Path

import click

from storystick.cli.listing import (
    Format,
    echo_csv,
    echo_heading,
    echo_json,
    echo_table,
    echo_warnings,
    echo_words,
    twins,
)
from storystick.cli.options import format_option, job_argument, load_job, shop_option
from storystick.cutting.part import CutPart, PartWork
from storystick.cutting.parts import INCLUDED, cutting_list
from storystick.cutting.totals import (
    AREA_HEADINGS,
    FRAME_HEADINGS,
    NOTE_HEADINGS,
    PART_HEADINGS,
    area_rows,
    areas,
    frame_lengths,
    frame_rows,
    note_rows,
    part_rows,
)
from storystick.errors import placed_in
from storystick.job.job import Job
from storystick.laying_out import lay_out
from storystick.lengths import Units, write_exact

_SIZES = ("length", "width", "thickness")


@click.command()
@job_argument
@shop_option
@format_option
def command(job: Path, shop: Path | None, shape: Format) -> None:
    """List what is cut for cabinets: parts, fronts, drawer boxes.

    Sizes are finished, with tongues and what joints add. Text is rounded for reading, with "full" or "scant" where it
    is not exact; JSON and CSV are exact.

    Example: storystick parts chest.toml --format csv
    """
    layout = lay_out(load_job(job, shop))
    with placed_in(layout.job.file_name):
        parts = cutting_list(layout.cabinets, layout.job.figures)
    _SHOW[shape](layout.job, parts)
    echo_warnings(layout)


def _show_text(job: Job, parts: Sequence[CutPart]) -> None:
    echo_heading(job)
    if not parts:
        click.echo("\nThe job has no cabinet, and a plain stick says nothing of parts.")
        return
    echo_words(INCLUDED)
    for cabinet, group in groupby(parts, key=lambda part: part.cabinet):
        own = list(group)
        click.echo(f"\n{cabinet}")
        echo_table(PART_HEADINGS, part_rows(own, job.label), right=4)
        click.echo()
        echo_table(NOTE_HEADINGS, note_rows(own), right=0)
    click.echo("\nAltogether, without waste")
    echo_table(AREA_HEADINGS, area_rows(areas(parts)), right=2)
    if lengths := frame_lengths(parts):
        click.echo()
        echo_table(FRAME_HEADINGS, frame_rows(lengths, job.label), right=2)


def _show_json(job: Job, parts: Sequence[CutPart]) -> None:
    echo_json(
        {
            "title": job.title,
            "units": job.units.value,
            "digest": job.digest,
            "parts": [_part_json(part, job.units) for part in parts],
            "areas": [
                {
                    "stock": area.stock,
                    "square_metres": float(area.square_metres),
                    "square_feet": float(area.square_feet),
                }
                for area in areas(parts)
            ],
            "frame_lengths": [
                {
                    "stock": total.stock,
                    **twins("width", total.width, job.units),
                    **twins("length", total.length, job.units),
                }
                for total in frame_lengths(parts)
            ],
        }
    )


def _part_json(part: CutPart, units: Units) -> dict[str, object]:
    sizes = zip(_SIZES, (part.length, part.width, part.thickness), strict=True)
    return {
        "name": part.name,
        "cabinet": part.cabinet,
        "role": part.role,
        "count": part.count,
        "stock": part.stock,
        **{key: value for word, size in sizes for key, value in twins(word, size, units).items()},
        "hands": part.hands._asdict() if part.hands else None,
        "notes": list(part.notes),
        "works": [_work_json(work, units) for work in part.works],
    }


def _work_json(work: PartWork, units: Units) -> dict[str, object]:
    """Its edges, and from where to where it runs, which is along the part or across it."""
    lengths = {"start": work.start, "end": work.end, "from": work.low, "to": work.high, "depth": work.depth}
    return {
        "kind": work.kind,
        "on": work.on,
        "name": work.name,
        "runs": "along" if work.along else "across",
        **{key: value for word, length in lengths.items() for key, value in twins(word, length, units).items()},
        "stops": work.stops,
        **({"places": [write_exact(place, units) for place in work.places]} if work.places else {}),
    }


def _show_csv(job: Job, parts: Sequence[CutPart]) -> None:
    in_mm = tuple(f"{word}_mm" for word in _SIZES)
    header = ("cabinet", "name", "role", "count", "stock", *_SIZES, *in_mm, "left", "right", "notes")
    echo_csv(header, [_csv_row(part, job.units) for part in parts], job.units)


def _csv_row(part: CutPart, units: Units) -> tuple[object, ...]:
    sizes = (part.length, part.width, part.thickness)
    exact = (write_exact(size, units) for size in sizes)
    hands = part.hands or ("", "")
    return (
        *(part.cabinet, part.name, part.role, part.count, part.stock),
        *(*exact, *map(float, sizes)),
        *(*hands, "; ".join(part.notes)),
    )


_SHOW = {Format.TEXT: _show_text, Format.JSON: _show_json, Format.CSV: _show_csv}
