"""storystick print: everything to print, into a folder."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import click

from storystick.cli.options import job_argument, only_option, paper_option
from storystick.job.papers import Paper
from storystick.layout.sticks import lay_out
from storystick.loading import load


@click.command()
@job_argument
@click.option(
    "-o", "--output", metavar="FOLDER", type=click.Path(path_type=Path), help="Where to write.  [default: JOB-print]"
)
@only_option
@paper_option
@click.option(
    "--format",
    "formats",
    type=click.Choice(["pdf", "svg", "both"]),
    default="both",
    show_default=True,
    help="Tiled PDF sheets, one SVG a strip in one piece, or both.",
)
def command(job: Path, output: Path | None, only: tuple[str, ...], paper: Paper | None, formats: str) -> None:
    """Print strips full size, with a job sheet.

    Example: storystick print chest.toml -o chest-print
    """
    from storystick.printing import Formats, print_job  # needs the PDF library, which --help does not

    read = load(job)
    layout = lay_out(replace(read, paper=paper or read.paper))
    for path in print_job(layout, output or Path(f"{job.stem}-print"), only, Formats(formats)):
        click.echo(path)
