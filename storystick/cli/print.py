"""storystick print: everything to print, into a folder."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any, Final

import click

from storystick.cli import completing
from storystick.cli.listing import echo_look, echo_warnings
from storystick.cli.options import (
    default_folder,
    is_print,
    job_argument,
    load_to_print,
    look_from,
    look_options,
    only_option,
    output_option,
    sheet_options,
    shop_option,
)
from storystick.cli.progress import drawing_progress
from storystick.job.job import Job, PrintName
from storystick.job.papers import Paper
from storystick.job.sources import Source
from storystick.sheets.print_choices import Choices, Formats
from storystick.wording import listed

_NAMES: Final = listed([name.value for name in PrintName])


@click.command()
@job_argument
@shop_option
@output_option(help="Where to write.  [default: JOB-print]")
@only_option
@sheet_options
@click.option(
    "--format",
    "formats",
    type=click.Choice([formats.value for formats in Formats]),
    show_default="both",
    help="Tiled PDF sheets, one SVG a strip in one piece, or both; html is one page for a phone at the bench, alone or "
    "with the sheets; or all.",
)
@click.option(
    "--with",
    "added",
    metavar="NAME",
    multiple=True,
    type=click.Choice([name.value for name in PrintName]),
    help=f"Also print these: {_NAMES}. May be given several times.",
)
@click.option(
    "--without",
    metavar="NAME",
    multiple=True,
    type=click.Choice([name.value for name in PrintName]),
    help="Leave these out, by the same names.",
)
@click.option(
    "--board",
    "boards",
    metavar="NAME",
    multiple=True,
    shell_complete=completing.of_job(completing.board_names),
    help="Also a full-size template of this board of a cabinet; may be given several times.",
)
@look_options
def command(
    job: Path,
    shop: Path | None,
    output: Path | None,
    only: tuple[str, ...],
    paper: Paper | str | None,
    roll: str | None,
    printer: str | None,
    hands: str | None,
    formats: str | None,
    added: tuple[str, ...],
    without: tuple[str, ...],
    boards: tuple[str, ...],
    **look: Any,
) -> None:
    """Print strips full size, with a job sheet.

    Of glue-up, square, rods and the rest what the job and its shop have use for is printed too.

    A printed PDF in the job's place is printed again as it was, with the job's own files beside it.

    Example: storystick print chest.toml -o chest-print
    """
    from storystick.print_folder import state_of
    from storystick.printables import has_any, with_names
    from storystick.printing import older_files, print_job  # needs the PDF library, which --help does not

    layout, asked = load_to_print(job, shop, paper, roll, printer, hands)
    folder = output or default_folder(job)
    before = state_of(folder)
    choices = Choices(
        only or asked.only,
        Formats(formats) if formats else asked.formats,
        boards or asked.boards,
        asked.names,
        look_from(asked.look, **look),
    )
    left_out = tuple(map(PrintName, without))
    other_bars = before.has_other_shop(layout.job) and not is_print(job) and PrintName.BARS not in left_out
    bars = [PrintName.BARS] if other_bars and has_any(layout, choices, PrintName.BARS) else []
    choices = with_names(layout, choices, (*map(PrintName, added), *bars), left_out)
    with drawing_progress() as progress:
        written = print_job(layout, folder, choices, _files_of(job, layout.job, folder), echo_look, progress)
    for path in written:
        click.echo(path)
    if before.unfinished:
        click.echo(f"the print before this one had been stopped half way; all {len(written)} files are new", err=True)
    for path in older_files(folder, written):
        click.echo(f"still there from an earlier print: {path}", err=True)
    echo_warnings(layout)


def _files_of(job: Path, read: Job, folder: Path) -> Sequence[Source]:
    """The job's own files, where they are in no other place than the print that was given."""
    if not is_print(job):
        return ()
    from storystick.print_folder import check_beside

    check_beside(folder, read.sources)
    return read.sources
