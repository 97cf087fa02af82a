"""storystick demo: print a built-in job, needing no file."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

import click

from storystick.cli.options import output_option
from storystick.errors import Fault, Where
from storystick.job.sources import Source
from storystick.laying_out import load_sources


@click.command()
@output_option(default="storystick-demo", show_default=True, help="Where to write.")
def command(output: Path) -> None:
    """Print a built-in drawer bank in both hands.

    It needs no file of yours, and writes its own job file beside the print.

    Example: storystick demo
    """
    from storystick.printing import print_job  # needs the PDF library, which --help does not

    source = Source("drawer-bank.toml", (files("storystick") / "demo" / "drawer-bank.toml").read_bytes())
    _check_unchanged(output / source.name, source.data)
    for path in print_job(load_sources([source]), output, companions=[source]):
        click.echo(path)
    click.echo("\nRead job-sheet.pdf first. To go on: change drawer-bank.toml and run")
    click.echo(f"  storystick print {output / source.name}")


def _check_unchanged(job_file: Path, data: bytes) -> None:
    if job_file.is_file() and job_file.read_bytes() != data:
        raise Fault(
            "this job file has been changed, and the demo would write over it",
            f'print it with "storystick print {job_file}", or choose another folder with -o',
            where=Where(str(job_file)),
        )
