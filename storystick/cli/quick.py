"""storystick quick: the marks of a plain stick from the command line alone."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from pathlib import Path
from typing import Final

import click

from storystick.cli.listing import Format
from storystick.cli.marks import Marks
from storystick.cli.options import format_option, output_option
from storystick.errors import Fault, FaultCollector, Where, as_written
from storystick.job.sources import Source
from storystick.job.sticks import Datum
from storystick.laying_out import load_sources
from storystick.lengths import Units

_WHOLE: Final = re.compile("[0-9]+")
_FRACTION: Final = re.compile("[0-9]+/[0-9]+")


@click.command()
@click.option("--part", metavar="THICKNESS", required=True, help="Measured thickness of the parts between openings.")
@click.option("--units", type=click.Choice([units.value for units in Units]), default="inch", show_default=True)
@click.option("--datum", type=click.Choice([end.value for end in Datum]), default="bottom", show_default=True)
@click.option("--pair", is_flag=True, help="A left and a right strip.")
@click.option("--name", default="Side", show_default=True, help="What the stick is called.")
@output_option(help="Also print, into this folder.")
@format_option
@click.argument("openings", nargs=-1, required=True)
def command(
    part: str,
    units: str,
    datum: str,
    pair: bool,
    name: str,
    output: Path | None,
    shape: Format,
    openings: tuple[str, ...],
) -> None:
    """List the marks of a plain stick at once: part, opening, part.

    OPENINGS are clear sizes from the datum; write 5-1/2, or "5 1/2" in quotes.

    Example: storystick quick --part 23/32 8 7 6 5-1/2
    """
    from storystick.starting import STARTS

    _check_said({"--part": (part,), "--name": (name,), "OPENINGS": openings})
    _check_whole(openings)
    answers = {"part": part, "units": units, "datum": datum, "name": name, "pair": "yes" if pair else "no"}
    source = Source("quick.toml", STARTS["stick"].text(answers | {"openings": ";".join(openings)}).encode())
    layout = load_sources([source])
    Marks(layout).show(shape, layout.job.units)
    if output:
        _print(source, output)


def _check_said(typed: Mapping[str, Sequence[str]]) -> None:
    """Whether nothing is empty, as from a shell's variable that is not set: the usual would stand for it unsaid."""
    for option, texts in typed.items():
        if not all(text.strip() for text in texts):
            raise Fault("it is empty", "write what it is", Where(option))


def _check_whole(openings: tuple[str, ...]) -> None:
    """Whether no figure was torn apart at its space, which would make two openings of one."""
    collector = FaultCollector()
    collector.add(*_torn(openings))
    collector.raise_any()


def _torn(openings: tuple[str, ...]) -> Iterator[Fault]:
    for whole, fraction in pairwise(openings):
        if _WHOLE.fullmatch(whole) and _FRACTION.fullmatch(fraction):
            what = f"{as_written(whole)} and {as_written(fraction)} stand apart, and may be one length or two"
            cure = f"write {whole}-{fraction} for one; for two, {whole}in {fraction}in with their unit, or mm"
            yield Fault(what, cure, Where("OPENINGS"))


def _print(source: Source, folder: Path) -> None:
    from storystick.print_folder import check_beside
    from storystick.printing import print_job  # needs the PDF library, which a listing does not

    check_beside(folder, [source])
    for path in print_job(load_sources([source]), folder, companions=[source]):
        click.echo(path, err=True)
