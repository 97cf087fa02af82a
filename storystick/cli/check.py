"""storystick check: read a job and report every fault at once."""

from __future__ import annotations

from pathlib import Path

import click

from storystick.cli.listing import echo_look, echo_warnings, echo_words
from storystick.cli.options import default_folder, job_argument, load_job, shop_option
from storystick.cli.progress import working
from storystick.wording import counted


@click.command()
@job_argument
@shop_option
def command(job: Path, shop: Path | None) -> None:
    """Report every fault of a job file at once.

    Example: storystick check chest.toml
    """
    from storystick.print_folder import state_of
    from storystick.printing import check_print  # needs the fonts, which --help does not

    with working(f"reading {job.name} and planning its sheets"):
        layout = load_job(job, shop)
        pages = sum(planned.sheets for planned in check_print(layout).values())
    read = layout.job
    boards = f"{counted(len(layout.boards), 'board template')}, " if layout.boards else ""
    rectangles = f"{counted(len(read.rectangles), 'rectangle')}, " if read.rectangles else ""
    size = f"{counted(len(layout.sticks), 'stick')}, {boards}{rectangles}{counted(pages, 'sheet')} of {read.paper.name}"
    echo_words(f"{job.name}: no faults. {read.title}, version {read.digest}: {size}.")
    echo_warnings(layout)
    if words := state_of(default_folder(job)).words:
        echo_look(words)
