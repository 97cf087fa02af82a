"""storystick marks: the cumulative positions of every stick."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

import click

from storystick.cli.listing import Format, Listing, echo_heading, echo_table, echo_words, head_of, twins
from storystick.cli.options import format_option, job_argument, load_job, shop_option
from storystick.layout.alike import LetteredStick, lettered_sticks
from storystick.layout.stations import MARK_HEADINGS, Layout, Point, Span, StickLayout, length_words, mark_rows
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
    layout = load_job(job, shop)
    Marks(layout).show(shape, layout.job.units)


@dataclass(frozen=True)
class Marks(Listing):
    """The list of marks of a layout."""

    layout: Layout
    headings = ("stick", "kind", "name", "start", "end", "start_mm", "end_mm")

    def text(self) -> None:
        job = self.layout.job
        echo_heading(job)
        for lettered in lettered_sticks(self.layout):
            stick = lettered.drawn
            click.echo()
            echo_words(f"{lettered.letter}  {lettered.serves_words}: {length_words(stick, job.figures)}")
            echo_table(MARK_HEADINGS, mark_rows(stick, job.figures), right=3)
        if self.layout.runs:
            from storystick.cli.wall_marks import echo_walls  # only for a job with runs

            echo_walls(self.layout)

    def content(self) -> dict[str, object]:
        """The sticks that have a strip, each as the first face that it serves; then the other faces of cabinets."""
        job, strips = self.layout.job, lettered_sticks(self.layout)
        sticks = [_stick_record(strip.served[0], strip, job.units) for strip in strips]
        by_name = {name: strip for strip in strips for name in strip.serves[1:]}
        first = {strip.drawn.name for strip in strips}
        faces = [
            _stick_record(stick, by_name.get(stick.name), job.units)
            for stick in self.layout.sticks
            if stick.name not in first
        ]
        return head_of(job) | {"sticks": sticks, "faces": faces} | self._walls()

    def _walls(self) -> dict[str, object]:
        if not self.layout.runs:
            return {}
        from storystick.cli.wall_marks import wall_records  # only for a job with runs

        return wall_records(self.layout)

    def rows(self) -> Iterator[dict[str, object]]:
        units = self.layout.job.units
        for stick in (strip.served[0] for strip in lettered_sticks(self.layout)):
            of = {"stick": stick.stick.name}
            yield from (of | _span_record(span, units) for span in (*stick.spans, *stick.grooves))
            for point in stick.points:
                at = {"start": write_exact(point.at, units), "start_mm": float(point.at)}
                yield of | {"kind": point.kind.value, "name": point.name, **at}


def _stick_record(stick: StickLayout, strip: LetteredStick | None, units: Units) -> dict[str, object]:
    """A stick with its own names, the letter of its strip, and whom that serves; one with no strip has no letter."""
    return {
        "letter": strip.letter if strip else None,
        "name": stick.stick.name,
        "serves": list(strip.serves) if strip else [],
        "datum": stick.stick.datum.value,
        "pair": stick.stick.pair,
        **twins(units, length=stick.length),
        "spans": [
            *(_span_record(span, units) for span in stick.spans),
            *(_groove_record(placed.groove, placed.stopped, units) for placed in stick.parts if placed.groove),
        ],
        "points": [_point_record(point, units) for point in stick.points],
        "beside": [_span_record(span, units) for span in stick.beside],
    }


def _span_record(span: Span, units: Units) -> dict[str, object]:
    return {
        "kind": span.kind.value,
        "name": span.name,
        "start": write_exact(span.start, units),
        "end": write_exact(span.end, units),
        "start_mm": float(span.start),
        "end_mm": float(span.end),
    }


def _groove_record(groove: Span, stopped: tuple[Fraction, Fraction] | None, units: Units) -> dict[str, object]:
    """A groove, with from where to where it runs from the front edge if it does not run right across the board."""
    run = dict(zip(("from", "to"), stopped, strict=True)) if stopped else {}
    return _span_record(groove, units) | twins(units, **run)


def _point_record(point: Point, units: Units) -> dict[str, object]:
    return {"kind": point.kind.value, "name": point.name, **twins(units, at=point.at)}
