"""What a user can mend, as the command line says it, at its end or while it goes on."""

from __future__ import annotations

import click

from storystick.cli.tint import Tint, tinted
from storystick.errors import StorystickError


class FaultsShown(click.ClickException):
    """What a user can mend, said at the one place where the command line ends."""

    def __init__(self, error: StorystickError) -> None:
        super().__init__(str(error))
        self.error = error

    def show(self, file: object = None) -> None:
        echo_faults(self.error)


def echo_faults(error: StorystickError) -> None:
    """Say every fault beside what is listed: where it is, what was read, what to try."""
    faults = error.faults
    many = len(faults) > 1
    head = f"storystick: {len(faults)} faults to mend." if many else "storystick: a fault to mend."
    click.echo(tinted(head, Tint.FAULT), err=True)
    for number, fault in enumerate(faults, start=1):
        mark = f"{number}. " if many else "- "
        click.echo(f"\n{mark}{fault.where}" if fault.where else f"\n{mark}", err=True)
        click.echo(_indented(f"{fault.what}."), err=True)
        if fault.cure:
            click.echo(_indented(f"{fault.cure[0].upper()}{fault.cure[1:]}."), err=True)


def _indented(text: str) -> str:
    return click.wrap_text(text, width=96, initial_indent="   ", subsequent_indent="   ")
