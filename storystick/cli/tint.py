"""Colour on a terminal: sparing, never the only bearer of a meaning, and none where it is not wanted."""

from __future__ import annotations

import os
from enum import Enum

import click


class Tint(Enum):
    """What a colour stands beside, and its name on a terminal."""

    FAULT = "red"
    LOOK = "yellow"


def tinted(words: str, tint: Tint) -> str:
    """Words in a colour; what is printed to no terminal loses it on the way out (``click.echo`` takes it away)."""
    if os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb":
        return words
    return click.style(words, fg=tint.value)
