"""storystick parts: the cutting list, fronts and drawer boxes of a job's cabinets."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path
from typing import Final

import click

from storystick.cli.listing import Format, Listing, echo_heading, echo_table, echo_warnings, echo_words, head_of, twins
from storystick.cli.options import format_option, job_argument, load_job, shop_option
from storystick.cutting.fastened import HARDWARE_HEADINGS, Hardware, hardware_of, hardware_rows
from storystick.cutting.part import CutPart, PartWork
from storystick.cutting.parts import INCLUDED, NO_PARTS
from storystick.cutting.run_parts import all_parts
from storystick.cutting.totals import (
    AREA_HEADINGS,
    EDGING_HEADINGS,
    FRAME_HEADINGS,
    NOTE_HEADINGS,
    PART_HEADINGS,
    area_rows,
    areas,
    edging_lengths,
    edging_rows,
    frame_lengths,
    frame_rows,
    note_rows,
    part_rows,
)
from storystick.errors import Where, placed_in
from storystick.job.job import Job
from storystick.lengths import Units, write_exact

_SIZES: Final = ("length", "width", "thickness")
NET: Final = "net length of all of it, without waste"
_IN_MM: Final = tuple(f"{word}_mm" for word in _SIZES)


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
    layout = load_job(job, shop)
    with placed_in(Where.in_file(layout.job.file_name)):
        figures = layout.job.figures
        parts = all_parts(layout, figures)
    _Parts(layout.job, parts, hardware_of(layout.cabinets, layout.job.figures)).show(shape, layout.job.units)
    echo_warnings(layout)


@dataclass(frozen=True)
class _Parts(Listing):
    job: Job
    parts: Sequence[CutPart]
    hardware: Sequence[Hardware]
    headings = ("cabinet", "name", "role", "count", "stock", *_SIZES, *_IN_MM, "left", "right", "notes")

    def text(self) -> None:
        echo_heading(self.job)
        if not self.parts:
            click.echo(f"\n{NO_PARTS}")
            return
        echo_words(INCLUDED)
        told = {cabinet.name: cabinet.told for cabinet in self.job.cabinets}
        for cabinet, group in groupby(self.parts, key=lambda part: part.cabinet):
            own = list(group)
            click.echo(f"\n{told.get(cabinet, cabinet)}")
            echo_table(PART_HEADINGS, part_rows(own, self.job.figures), right=4)
            click.echo()
            echo_table(NOTE_HEADINGS, note_rows(own), right=0)
        click.echo("\nAltogether, without waste")
        echo_table(AREA_HEADINGS, area_rows(areas(self.parts)), right=2)
        if lengths := frame_lengths(self.parts):
            click.echo()
            echo_table(FRAME_HEADINGS, frame_rows(lengths, self.job.figures), right=2)
        if edging := edging_lengths(self.parts):
            click.echo()
            echo_table(EDGING_HEADINGS, edging_rows(edging, self.job.figures), right=2)
        if self.hardware:
            click.echo()
            echo_table(HARDWARE_HEADINGS, hardware_rows(self.hardware), right=1)

    def content(self) -> dict[str, object]:
        units = self.job.units
        return head_of(self.job) | {
            "parts": [_part_record(part, units) for part in self.parts],
            "areas": [
                {
                    "stock": area.stock,
                    "square_metres": float(area.square_metres),
                    "square_feet": float(area.square_feet),
                }
                for area in areas(self.parts)
            ],
            "frame_lengths": [
                {"stock": total.stock, **twins(units, width=total.width, length=total.length)}
                for total in frame_lengths(self.parts)
            ],
            "edging_lengths": [
                {
                    **({"stock": edge.stock} if edge.stock else {}),
                    **twins(units, thickness=edge.thickness, length=edge.length),
                }
                for edge in edging_lengths(self.parts)
            ],
            "hardware": [{"name": each.name, "size": each.sizes, "count": each.count} for each in self.hardware],
        }

    def rows(self) -> Iterator[dict[str, object]]:
        for part in self.parts:
            record = _part_record(part, self.job.units)
            hands = part.hands._asdict() if part.hands else {}
            yield {key: record[key] for key in self.headings if key in record} | hands
        for edge in edging_lengths(self.parts):
            sizes = twins(self.job.units, length=edge.length, thickness=edge.thickness)
            words = {"name": "edging", "role": "edging", "count": 1, "stock": edge.stock, "notes": [NET]}
            yield {**words, **sizes}


def _part_record(part: CutPart, units: Units) -> dict[str, object]:
    return {
        "name": part.name,
        "cabinet": part.cabinet,
        "role": part.role,
        "count": part.count,
        "stock": part.stock,
        **twins(units, length=part.length, width=part.width, thickness=part.thickness),
        "hands": part.hands._asdict() if part.hands else None,
        "notes": list(part.notes),
        "works": [_work_record(work, units) for work in part.works],
    }


def _work_record(work: PartWork, units: Units) -> dict[str, object]:
    """Its edges, and from where to where it runs, which is along the part or across it."""
    lengths = {"start": work.start, "end": work.end, "from": work.low, "to": work.high, "depth": work.depth}
    return {
        "kind": work.kind,
        "on": work.on,
        "name": work.name,
        "runs": "along" if work.along else "across",
        **twins(units, **lengths),
        "stops": work.stops,
        **({"places": [write_exact(place, units) for place in work.places]} if work.places else {}),
    }
