"""storystick print: everything to print, into a folder."""

from __future__ import annotations

from pathlib import Path

import click

from storystick.cli.listing import echo_warnings
from storystick.cli.options import (
    job_argument,
    load_to_print,
    only_option,
    output_option,
    sheet_options,
    shop_option,
)
from storystick.job.papers import Paper
from storystick.laying_out import lay_out


@click.command()
@job_argument
@shop_option
@output_option(help="Where to write.  [default: JOB-print]")
@only_option
@sheet_options
@click.option(
    "--format",
    "formats",
    type=click.Choice(["pdf", "svg", "both"]),
    default="both",
    show_default=True,
    help="Tiled PDF sheets, one SVG a strip in one piece, or both.",
)
def command(
    job: Path,
    shop: Path | None,
    output: Path | None,
    only: tuple[str, ...],
    paper: Paper | None,
    roll: str | None,
    printer: str | None,
    formats: str,
) -> None:
    """Print strips full size, with a job sheet.

    Example: storystick print chest.toml -o chest-print
    """
    from storystick.printing import older_files, print_job  # needs the PDF library, which --help does not
    from storystick.sheets.choices import Choices, Formats

    layout = lay_out(load_to_print(job, shop, paper, roll, printer))
    folder = output or Path(f"{job.stem}-print")
    written = print_job(layout, folder, Choices(only, Formats(formats)))
    for path in written:
        click.echo(path)
    for path in older_files(folder, written):
        click.echo(f"still there from an earlier print: {path}", err=True)
    echo_warnings(layout)
