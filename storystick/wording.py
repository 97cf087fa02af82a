"""Small pieces of English that several pages and listings say."""

from __future__ import annotations

from collections.abc import Sequence


def counted(number: int, word: str) -> str:
    """A number of things, in the singular for one."""
    return f"{number} {word}{'' if number == 1 else 's'}"


def listed(things: Sequence[str]) -> str:
    """Things one after another, with "and" before the last."""
    *others, last = things
    return f"{', '.join(others)} and {last}" if others else last


def unbroken(text: str) -> str:
    """The text with spaces at which no line is broken, so that 3 51/64 is not read as 3 or as 51/64."""
    return text.replace(" ", "\N{NO-BREAK SPACE}")


def plain(text: str) -> str:
    """The text with ordinary spaces again."""
    return text.replace("\N{NO-BREAK SPACE}", " ")
