"""The command line: one file a command, each reads, calls and shows."""

from __future__ import annotations

from importlib import import_module
from typing import Final

import click

from storystick import __version__
from storystick.errors import StorystickError

_COMMANDS: Final = (
    "demo",
    "check",
    "marks",
    "print",
    "pages",
    "parts",
    "setups",
    "square",
    "glueup",
    "calibrate",
    "verify",
)


class _FaultsShown(click.ClickException):
    """What a user can mend, said at the one place where the command line ends."""

    def __init__(self, error: StorystickError) -> None:
        super().__init__(str(error))
        self.error = error

    def show(self, file: object = None) -> None:
        faults = self.error.faults
        many = len(faults) > 1
        click.echo(f"storystick: {len(faults)} faults to mend." if many else "storystick: a fault to mend.", err=True)
        for number, fault in enumerate(faults, start=1):
            mark = f"{number}. " if many else "- "
            click.echo(f"\n{mark}{fault.where}" if fault.where else f"\n{mark}", err=True)
            click.echo(_indented(f"{fault.what}."), err=True)
            if fault.cure:
                click.echo(_indented(f"{fault.cure[0].upper()}{fault.cure[1:]}."), err=True)


class _Commands(click.Group):
    """Commands found by name in this package, each loaded when it is wanted."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in _COMMANDS:
            return None
        command: click.Command = import_module(f"storystick.cli.{cmd_name}").command
        return command

    def invoke(self, ctx: click.Context) -> object:
        try:
            return super().invoke(ctx)
        except StorystickError as error:
            raise _FaultsShown(error) from error
        except BrokenPipeError:
            raise
        except OSError as error:
            raise click.ClickException(f"the listing could not be written: {error.strerror}") from error


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="storystick")
def main() -> None:
    """Work out every mark of a cabinet once, and print it full size to glue to a stick.

    Begin with "storystick demo", which needs no file.
    """


def _indented(text: str) -> str:
    return click.wrap_text(text, width=96, initial_indent="   ", subsequent_indent="   ")
