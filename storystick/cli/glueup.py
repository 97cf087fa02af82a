"""storystick glueup: the glue-up in stages, with joints, clamps, minutes and what to check."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from pathlib import Path
from typing import Final

import click

from storystick.cli.listing import Format, Listing, echo_heading, echo_sentences, echo_words, head_of, root_twins, twins
from storystick.cli.options import format_option, job_argument, load_job, shop_option
from storystick.gluing.cautions import GLUE_CAUTIONS, remarks, tip_over_words
from storystick.gluing.clamp_words import holder_words, lack_words, line_words, short_of
from storystick.gluing.clamps import ClampLine, ClampSet
from storystick.gluing.instructions import (
    DRY_BACK,
    check_words,
    checks,
    duration,
    grouped,
    placing,
    slower_glue_words,
    total_words,
)
from storystick.gluing.plan import glue_for, plan_glue_up
from storystick.gluing.stages import CabinetStages, Stage, by_cabinet
from storystick.job.job import Job, Rectangle
from storystick.job.shop import Glue
from storystick.layout.stations import Layout
from storystick.lengths import Figures, Units
from storystick.wording import plain, unbroken

_OF_PARTS: Final = ("lines", "diagonals", "needs", "short_of")


@click.command()
@job_argument
@shop_option
@click.option("--glue", "glue_name", metavar="NAME", help="Glue of the shop file to keep to, instead of its first.")
@format_option
def command(job: Path, shop: Path | None, glue_name: str | None, shape: Format) -> None:
    """List the stages of the glue-up in order, from the dry run on.

    Each says which joints it closes, how many clamps and cauls they take, how many minutes, and which diagonals to
    check. A stage that does not fit the glue's times is divided as far as the joints allow.

    Example: storystick glueup chest.toml --glue hide
    """
    layout = load_job(job, shop)
    glue = glue_for(layout.job, glue_name)
    _GlueUp(layout, glue, plan_glue_up(layout, glue)).show(shape, layout.job.units)


@dataclass(frozen=True)
class _GlueUp(Listing):
    layout: Layout
    glue: Glue | None
    stages: Sequence[Stage]

    def text(self) -> None:
        job, cabinets = self.layout.job, self.layout.cabinets
        echo_heading(job)
        echo_sentences(remarks(self.stages, cabinets, self.glue))
        for own in by_cabinet(self.stages):
            click.echo()
            echo_words(f"{own.layout.cabinet.told}, {len(own.stages)} stages: {total_words(own)}", rest="  ")
            for number, stage in enumerate(own.stages, start=1):
                click.echo()
                echo_words(f"{number}. {stage.name}", "  ", "     ")
                for word, text in _parts(stage, job):
                    echo_words(text, f"     {word:<8}", " " * 13)
        click.echo("\nTake care")
        echo_sentences(self._cautions)

    @property
    def _cautions(self) -> list[str]:
        return [*GLUE_CAUTIONS, *tip_over_words(self.layout.cabinets, self.layout.job.figures)]

    def content(self) -> dict[str, object]:
        return head_of(self.layout.job) | {
            "glue": _glue_record(self.glue) if self.glue else None,
            "slower_glue": slower_glue_words(self.stages, self.glue),
            "totals": [_total_record(own) for own in by_cabinet(self.stages)],
            "stages": [_stage_record(stage, self.layout.job) for stage in self.stages],
            "notes": [*remarks(self.stages, self.layout.cabinets, self.glue), *self._cautions],
        }

    def rows(self) -> Iterator[dict[str, object]]:
        """A row a stage; what has parts of its own is left to JSON."""
        for stage in self.stages:
            record = _stage_record(stage, self.layout.job)
            yield {key: value for key, value in record.items() if key not in _OF_PARTS}


def _parts(stage: Stage, job: Job) -> Iterator[tuple[str, str]]:
    """What is said of a stage, each with the word in front of it."""
    spread = ""
    if stage.closing:
        glued = f"; {unbroken(job.figures(stage.glued_length))} glued" if stage.glued else "; no glue"
        spread = f", the glue spread after {ceil(stage.spread)}" if stage.glued else ""
        yield "join", f"{'; '.join(grouped(stage.joints))}{glued}"
        yield "place", placing(stage.closing, stage.layout)
    if stage.dry_back:
        yield "back", DRY_BACK
    holders = (holder_words(stage, job.units), *line_words(stage.lines, job.figures))
    yield stage.fastened_by, "; ".join(holders)
    stay = f"; the clamps stay on for {duration(stage.clamp_time)}" if stage.clamp_time else ""
    yield "time", f"about {ceil(stage.minutes)} min{spread}{stay}"
    yield from (("check", text) for text in checks(stage, job))
    if lack := lack_words(stage, job):
        yield "!", lack


def _minutes(minutes: Fraction | None) -> float | None:
    return None if minutes is None else float(minutes)


def _glue_record(glue: Glue) -> dict[str, object]:
    times = {"open": float(glue.open), "closed": float(glue.closed), "clamp_time": _minutes(glue.clamp_time)}
    return {"name": glue.name, **times}


def _total_record(own: CabinetStages) -> dict[str, object]:
    return {
        "cabinet": own.cabinet,
        "work_minutes": float(own.work),
        "times_in_clamps": own.in_clamps,
        "clamp_minutes": _minutes(own.clamped),
        "minutes": _minutes(own.minutes),
        "count": own.layout.cabinet.count,
    }


def _stage_record(stage: Stage, job: Job) -> dict[str, object]:
    return {
        "cabinet": stage.cabinet,
        "name": stage.name,
        "joins": [joint.words for joint in stage.joints],
        **twins(job.units, glued_length=stage.glued_length),
        "clamps": stage.clamps,
        "cauls": stage.cauls,
        "pins": stage.pins,
        "screws": stage.screws,
        **twins(job.units, jaws=stage.jaws),
        "lines": [_line_record(line, job.units) for line in stage.lines],
        "spread_minutes": float(stage.spread),
        "minutes": float(stage.minutes),
        "clamp_minutes": _minutes(stage.clamp_time),
        "check": plain(check_words(stage, job)),
        "twist": stage.twist,
        "dry_back": stage.dry_back,
        "glued": stage.glued,
        "diagonals": [_diagonal_record(rectangle, job.figures) for rectangle in stage.rectangles],
        "fits": stage.fits,
        "slower_glue": stage.slower_glue,
        "needs": [_clamps_record(need, job.units) for need in stage.needs],
        "short_of": [_clamps_record(lack, job.units) for lack in short_of(stage, job.shop)],
    }


def _clamps_record(clamps: ClampSet, units: Units) -> dict[str, object]:
    return {"clamps": clamps.clamps, **twins(units, jaws=clamps.jaws)}


def _line_record(line: ClampLine, units: Units) -> dict[str, object]:
    return {
        "joins": [joint.words for joint in line.joints],
        **twins(units, length=line.length),
        "clamps": line.clamps,
        "cauls": line.cauls,
        "pins": line.pins,
        "screws": line.screws,
        # Screws stand where they are struck.
        **twins(units, spacing=None if line.screws else line.spacing),
        "bowed": line.bowed,
        "set": line.held.value,
        **twins(units, jaws=line.jaws),
        "notched": [piece.name for piece in line.notched],
        "blocks": [
            {"between": [piece.name for piece in place.between], **twins(units, length=place.length)}
            for place in line.empty
        ],
    }


def _diagonal_record(rectangle: Rectangle, figures: Figures) -> dict[str, object]:
    return {
        "name": rectangle.name,
        "at": rectangle.edges,
        **root_twins("diagonal", rectangle.diagonal_squared, figures),
        "diagonal_label": figures.of_root(rectangle.diagonal_squared),
    }
