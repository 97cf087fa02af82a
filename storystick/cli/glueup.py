"""storystick glueup: the glue-up in stages, with joints, clamps, minutes and what to check."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from itertools import groupby
from math import ceil
from pathlib import Path

import click

from storystick.cli.listing import Format, echo_csv, echo_heading, echo_json, echo_words, root_twins, twins
from storystick.cli.options import format_option, job_argument, load_job, shop_option
from storystick.gluing.cautions import GLUE_CAUTIONS, remarks, tip_over_words
from storystick.gluing.clamps import Block, ClampLine
from storystick.gluing.instructions import (
    DRY_BACK,
    check_words,
    checks,
    clamp_words,
    clamping,
    grouped,
    lack_words,
    pin_words,
    placing,
    slower_glue_words,
    stay_words,
    total_words,
)
from storystick.gluing.plan import glue_for, plan_glue_up
from storystick.gluing.stages import Clamping, Stage, Total, lacking, totals
from storystick.job.job import Job, Rectangle
from storystick.job.shop import Glue
from storystick.laying_out import lay_out
from storystick.layout.cabinets.pieces import CabinetLayout
from storystick.layout.stations import Layout
from storystick.lengths import Units
from storystick.wording import plain, unbroken


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
    layout = lay_out(load_job(job, shop))
    glue = glue_for(layout.job, glue_name)
    _SHOW[shape](layout, glue, plan_glue_up(layout, glue))


def _show_text(layout: Layout, glue: Glue | None, stages: Sequence[Stage]) -> None:
    job = layout.job
    echo_heading(job)
    _echo_sentences(remarks(stages, layout.cabinets, glue))
    layouts = {each.cabinet.name: each for each in layout.cabinets}
    for total, (cabinet, group) in zip(totals(stages), groupby(stages, key=lambda stage: stage.cabinet), strict=True):
        own = list(group)
        click.echo()
        _echo_sentences([f"{cabinet}, {len(own)} stages: {total_words(total)}"])
        for number, stage in enumerate(own, start=1):
            click.echo()
            echo_words(f"{number}. {stage.name}", "  ", "     ")
            for word, text in _parts(stage, layouts[cabinet], job):
                _echo_part(word, text)
    click.echo("\nTake care")
    _echo_sentences([*GLUE_CAUTIONS, *tip_over_words(layout.cabinets, job)])


def _parts(stage: Stage, layout: CabinetLayout, job: Job) -> Iterator[tuple[str, str]]:
    """What is said of a stage, each with the word in front of it."""
    if stage.step:
        glued = f"; {unbroken(job.label(stage.glued_length))} glued" if stage.glued else "; no glue"
        yield "join", f"{'; '.join(grouped(stage.joints))}{glued}"
        yield "place", placing(stage.step, layout)
    if stage.dry_back:
        yield "back", DRY_BACK
    yield "pins" if stage.pins else "clamps", _clamp_words(stage, job)
    spread = f", the glue spread after {ceil(stage.spread)}" if stage.step and stage.glued else ""
    stay = f"; {words}" if (words := stay_words(stage)) else ""
    yield "time", f"about {ceil(stage.minutes)} min{spread}{stay}"
    yield from (("check", text) for text in checks(stage, job))
    if lack := lack_words(stage, job):
        yield "!", lack


def _echo_sentences(sentences: Iterable[str]) -> None:
    for sentence in sentences:
        echo_words(sentence, "", "  ")


def _clamp_words(stage: Stage, job: Job) -> str:
    clamps = f"{clamp_words(stage, job)}, {stage.cauls} cauls"
    return "; ".join((pin_words(stage.pins) if stage.pins else clamps, *clamping(stage.lines, job)))


def _echo_part(word: str, text: str) -> None:
    echo_words(text, f"     {word:<8}", " " * 13)


def _show_json(layout: Layout, glue: Glue | None, stages: Sequence[Stage]) -> None:
    job = layout.job
    echo_json(
        {
            "title": job.title,
            "units": job.units.value,
            "digest": job.digest,
            "glue": _glue_json(glue) if glue else None,
            "slower_glue": slower_glue_words(stages, glue),
            "totals": [_total_json(total) for total in totals(stages)],
            "stages": [_stage_json(stage, job) for stage in stages],
            "notes": [*remarks(stages, layout.cabinets, glue), *GLUE_CAUTIONS, *tip_over_words(layout.cabinets, job)],
        }
    )


def _minutes(minutes: Fraction | None) -> float | None:
    return None if minutes is None else float(minutes)


def _glue_json(glue: Glue) -> dict[str, object]:
    times = {"open": float(glue.open), "closed": float(glue.closed), "clamp_time": _minutes(glue.clamp_time)}
    return {"name": glue.name, **times}


def _total_json(total: Total) -> dict[str, object]:
    return {
        "cabinet": total.cabinet,
        "work_minutes": float(total.work),
        "times_in_clamps": total.in_clamps,
        "clamp_minutes": _minutes(total.clamped),
        "minutes": _minutes(total.minutes),
    }


def _stage_json(stage: Stage, job: Job) -> dict[str, object]:
    return {
        "cabinet": stage.cabinet,
        "name": stage.name,
        "joins": [joint.words for joint in stage.joints],
        **twins("glued_length", stage.glued_length, job.units),
        "clamps": stage.clamps,
        "cauls": stage.cauls,
        "pins": stage.pins,
        **twins("jaws", stage.reach, job.units),
        "lines": [_line_json(line, job.units) for line in stage.lines],
        "spread_minutes": float(stage.spread),
        "minutes": float(stage.minutes),
        "clamp_minutes": _minutes(stage.clamp_time),
        "check": plain(check_words(stage.rectangles, stage.moment, job)),
        "twist": stage.twist,
        "dry_back": stage.dry_back,
        "glued": stage.glued,
        "diagonals": [_diagonal_json(rectangle, job) for rectangle in stage.rectangles],
        "fits": stage.fits,
        "slower_glue": stage.slower_glue,
        "needs": [_clamps_json(need, job.units) for need in stage.needs],
        "short_of": [_clamps_json(lack, job.units) for lack in lacking(stage, job.shop.clamps if job.shop else ())],
    }


def _clamps_json(clamps: Clamping, units: Units) -> dict[str, object]:
    return {"clamps": clamps.clamps, **twins("jaws", clamps.jaws, units)}


def _line_json(line: ClampLine, units: Units) -> dict[str, object]:
    return {
        "joins": [joint.words for joint in line.joints],
        **twins("length", line.length, units),
        "clamps": line.clamps,
        "cauls": line.cauls,
        "pins": line.pins,
        **twins("spacing", line.spacing, units),
        "bowed": line.bowed,
        "set": line.held.value,
        **twins("jaws", line.jaws, units),
        "notched": list(line.notched),
        "blocks": [_block_json(block, units) for block in line.blocks],
    }


def _block_json(block: Block, units: Units) -> dict[str, object]:
    return {"between": list(block.between), **twins("length", block.length, units)}


def _diagonal_json(rectangle: Rectangle, job: Job) -> dict[str, object]:
    return {
        "name": rectangle.name,
        "at": rectangle.edges,
        **root_twins("diagonal", rectangle.diagonal_squared, job.figures),
        "diagonal_label": job.figures.of_root(rectangle.diagonal_squared),
    }


def _show_csv(layout: Layout, _glue: Glue | None, stages: Sequence[Stage]) -> None:
    """A row a stage; lists are joined by semicolons, and lines and diagonals are left to JSON."""
    rows = [_stage_json(stage, layout.job) for stage in stages]
    header = [key for key in rows[0] if key not in ("lines", "diagonals", "needs", "short_of")]
    echo_csv(header, [[_cell(row[key]) for key in header] for row in rows], layout.job.units)


def _cell(value: object) -> object:
    return "; ".join(map(str, value)) if isinstance(value, list) else value


_SHOW = {Format.TEXT: _show_text, Format.JSON: _show_json, Format.CSV: _show_csv}
