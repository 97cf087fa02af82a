"""Small pieces of English that several pages and listings say."""

from __future__ import annotations


def counted(number: int, word: str) -> str:
    """A number of things, in the singular for one."""
    return f"{number} {word}{'' if number == 1 else 's'}"
