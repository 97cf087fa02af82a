"""storystick check: read a job and report every fault at once."""

from __future__ import annotations

from pathlib import Path

import click

from storystick.cli.options import job_argument
from storystick.loading import load


@click.command()
@job_argument
def command(job: Path) -> None:
    """Report every fault of a job file at once.

    Example: storystick check chest.toml
    """
    read = load(job)
    sticks = f"{len(read.sticks)} stick{'s' if len(read.sticks) != 1 else ''}"
    click.echo(f"{job.name}: no faults. {read.title}, version {read.digest}, {sticks}, paper {read.paper.name}.")
