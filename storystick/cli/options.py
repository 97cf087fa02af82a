"""Arguments and options that several commands share."""

from __future__ import annotations

from pathlib import Path

import click

from storystick.cli.listing import Format
from storystick.job.papers import PAPERS

job_argument = click.argument("job", type=click.Path(path_type=Path))
format_option = click.option(
    "--format",
    "shape",
    type=click.Choice([shape.value for shape in Format]),
    default=Format.TEXT.value,
    show_default=True,
    callback=lambda _context, _option, value: Format(value),
    help="How to write the listing.",
)
paper_option = click.option(
    "--paper",
    type=click.Choice(list(PAPERS), case_sensitive=False),
    callback=lambda _context, _option, value: PAPERS[value] if value else None,
    help="Paper to use instead of the job's own.",
)
only_option = click.option(
    "--only", metavar="NAME", multiple=True, help="Only the stick of this name; may be given several times."
)
