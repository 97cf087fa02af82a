"""The command line: one file a command, each reads, calls and shows."""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from importlib import import_module
from typing import TYPE_CHECKING, Any, Final

import click

from storystick import __version__
from storystick.errors import StorystickError

if TYPE_CHECKING:
    from click.shell_completion import CompletionItem

COMMANDS: Final = {
    "demo": "Print a built-in drawer bank in both hands.",
    "bench": "Open a page to work at, for the jobs in a folder.",
    "new": "Write a commented job file from a few sizes.",
    "quick": "List the marks of a plain stick at once: part, opening, part.",
    "check": "Report every fault of a job file at once.",
    "marks": "List every mark, cumulative from the datum.",
    "print": "Print strips full size, with a job sheet.",
    "watch": "Print a job again each time it is saved, and say what moved.",
    "pages": "List the tiles in the order of gluing.",
    "parts": "List what is cut for cabinets: parts, fronts, drawer boxes.",
    "setups": "List how the tools are set: bars, straightedges, shims, the saw.",
    "square": "List the diagonals; from measured ones, say which way to push.",
    "glueup": "List the stages of the glue-up in order, from the dry run on.",
    "compare": "Say what moved between two jobs or two printed PDFs.",
    "keys": "List every key of the job and shop files, or those of a table.",
    "calibrate": "Print a test sheet for a printer, and store its correction.",
    "verify": "Compare a printed PDF with the job inside it, every mark in it.",
}
"""Every command in the order of use, with the first line of its help: for the list of them, none need be loaded."""


class _Commands(click.Group):
    """Commands found by name in this package, each loaded when it is wanted."""

    def main(self, *args: Any, **extra: Any) -> Any:
        try:
            return super().main(*args, **extra)
        except OSError as error:  # of a pipe that was closed click has taken care
            if error.filename is not None:
                raise
            click.echo(f"storystick: what it had to say could not be written: {error.strerror}.", err=True)
            _drop_what_is_left()
            sys.exit(1)

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(COMMANDS)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))

    def shell_complete(self, ctx: click.Context, incomplete: str) -> list[CompletionItem]:
        from click.shell_completion import CompletionItem

        named = [CompletionItem(name, help=line) for name, line in COMMANDS.items() if name.startswith(incomplete)]
        return [*named, *click.Command.shell_complete(self, ctx, incomplete)]

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in COMMANDS:
            return None
        command: click.Command = import_module(f"storystick.cli.{cmd_name}").command
        return command

    def invoke(self, ctx: click.Context) -> object:
        try:
            return super().invoke(ctx)
        except StorystickError as error:
            from storystick.cli.faults import FaultsShown  # only for who has faults to mend

            raise FaultsShown(error) from error


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="storystick")
def main() -> None:
    """Work out every mark of a cabinet once, and print it full size to glue to a stick.

    Begin with "storystick demo", which needs no file.
    """


def _drop_what_is_left() -> None:
    """Let standard output lead nowhere: Python writes out what is left of it at its end, which would fail once more."""
    with suppress(OSError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)
