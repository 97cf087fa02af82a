"""storystick keys: every key of the job and shop files, what it says, and an example."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

import click

from storystick.cli import completing
from storystick.cli.listing import Format, Listing, echo_words
from storystick.cli.options import format_option
from storystick.errors import Where, placed_in

if TYPE_CHECKING:
    from storystick.job.key_reference import TablePage


@click.command()
@click.argument("table", default="", shell_complete=completing.table_names)
@format_option
def command(table: str, shape: Format) -> None:
    """List every key of the job and shop files, or those of a table.

    Example: storystick keys cabinet.frame
    """
    from storystick.job.key_reference import find_pages  # walks through all declarations, which --help does not

    with placed_in(Where("TABLE")):
        pages = find_pages(table)
    _Keys(pages).show(shape)


@dataclass(frozen=True)
class _Keys(Listing):
    pages: tuple[TablePage, ...]

    headings = ("table", "key", "says", "reads", "left_out", "needed", "example")

    def text(self) -> None:
        for number, page in enumerate(self.pages):
            if number:
                click.echo()
            echo_words(page.title)
            echo_words(page.words, "  ", "  ")
            for record in page.records():
                click.echo(f"\n  {record['key']}")
                echo_words(f"{record['says']}.", "    ", "    ")
                echo_words(f"reads: {record['reads']}; left out: {record['left_out']}", "    ", "      ")
                if record["example"]:
                    echo_words(str(record["example"]), "    ", "      ")

    def content(self) -> dict[str, object]:
        tables = (
            {
                "table": page.name,
                "file": page.file,
                "heading": page.heading,
                "says": page.words,
                "keys": list(page.records()),
            }
            for page in self.pages
        )
        return {"tables": list(tables)}

    def rows(self) -> Iterator[dict[str, object]]:
        for page in self.pages:
            for record in page.records():
                yield {"table": page.name, **record}
