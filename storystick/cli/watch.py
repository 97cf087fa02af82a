"""storystick watch: a job printed again each time it is saved, and what moved since the last print."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

import click

from storystick.cli.faults import echo_faults
from storystick.cli.listing import echo_look, echo_warnings, echo_words
from storystick.cli.options import (
    default_folder,
    job_argument,
    load_to_print,
    output_option,
    sheet_options,
    shop_option,
)
from storystick.cli.progress import drawing_progress
from storystick.errors import Fault, StorystickError, Where
from storystick.job.sources import SHOP_FILE
from storystick.wording import counted

if TYPE_CHECKING:
    from watchfiles import Change

    from storystick.job.papers import Paper
    from storystick.layout.stations import Layout

_SPREADSHEET = ".csv"


@click.command()
@job_argument
@shop_option
@output_option(help="Where to write.  [default: JOB-print]")
@sheet_options
def command(
    job: Path,
    shop: Path | None,
    output: Path | None,
    paper: Paper | str | None,
    roll: str | None,
    printer: str | None,
    hands: str | None,
) -> None:
    """Print a job again each time it is saved, and say what moved.

    Its spreadsheets and its shop file are watched too. Faults are told and it goes on; Ctrl-C ends it.

    Example: storystick watch chest.toml
    """
    if not job.is_file():
        raise Fault("there is no such file to watch", "look at its name and its folder", Where(str(job)))

    def read() -> Layout:
        return load_to_print(job, shop, paper, roll, printer, hands)[0]

    watch = _Watch(read, output or default_folder(job))
    try:
        _each_change(job, shop, watch.saved)
    except KeyboardInterrupt:
        click.echo("\nNo longer watching.", err=True)


@dataclass
class _Watch:
    """What was printed last, which the next print is held against."""

    read: Callable[[], Layout]
    folder: Path
    printed: Layout | None = field(default=None)

    def saved(self) -> None:
        """Print what is new; what it has of faults is told, and the last print stays."""
        try:
            layout = self.read()
            if self.printed and self.printed.job.digest == layout.job.digest:
                return
            self._print(layout)
        except StorystickError as error:
            echo_faults(error)
            still = f"the last print stands in {self.folder}; " if self.printed else ""
            click.echo(f"\n{still}waiting for the next time it is saved", err=True)

    def _print(self, layout: Layout) -> None:
        from storystick.printing import print_job

        with drawing_progress() as progress:
            written = print_job(layout, self.folder, tell=echo_look, progress=progress)
        if self.printed:
            from storystick.cli.compare import echo_comparison
            from storystick.comparing import compare

            echo_comparison(compare(self.printed, layout))
        self.printed = layout
        echo_warnings(layout)
        echo_words(f"version {layout.job.digest}: {counted(len(written), 'file')} in {self.folder}")


def _each_change(job: Path, shop: Path | None, saved: Callable[[], None]) -> None:
    """Tell once it is watched, and of each time that the job or what it is read from is saved, until Ctrl-C."""
    from watchfiles import watch

    folders = {job.absolute().parent, Path(click.get_app_dir("storystick"))}
    if shop:
        folders.add(shop.absolute().parent)
    names = {job.name, SHOP_FILE, shop.name if shop else SHOP_FILE}

    def concerns(_: Change, path: str) -> bool:
        place = Path(path)
        # A shop file may have any name that the job gives it, and lies beside it.
        return place.name in names or place.suffix in (_SPREADSHEET, job.suffix)

    there = [folder for folder in folders if folder.is_dir()]
    # The first answer comes when all is watched, so that nothing that is saved from then on goes by unseen.
    answers = watch(
        *there, watch_filter=concerns, recursive=False, debounce=400, rust_timeout=300, yield_on_timeout=True
    )
    for number, changes in enumerate(answers):
        if changes or not number:
            saved()
