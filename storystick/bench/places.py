"""Places in a file as a page writes them: JSON Pointers (RFC 6901), keys by name and entries by number from 0."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final, TypeAlias

from storystick import errors

Steps: TypeAlias = errors.Steps
"""From the top of a file to a place in it: ("cabinet", 0, "height"), ("joint", "shelf", "width")."""


_DEEPEST: Final = 40


def write_pointer(steps: Iterable[str | int]) -> str:
    """The steps as a JSON Pointer; empty for the whole file."""
    return "".join(f"/{str(step).replace('~', '~0').replace('/', '~1')}" for step in steps)


def read_pointer(text: str) -> Steps:
    """The steps of a JSON Pointer; what is all figures is a number, as a list's entry has it.

    A table that is called by figures alone is met by its number: whoever follows the steps looks at what stands there.

    Raises:
        ValueError: it does not begin with a slash, or leads deeper than any file.
    """
    if (text and not text.startswith("/")) or text.count("/") > _DEEPEST:
        raise ValueError(f"{text!r} is no place in a file")
    return tuple(_read_step(step.replace("~1", "/").replace("~0", "~")) for step in text.split("/")[1:])


def _read_step(step: str) -> str | int:
    return int(step) if step.isascii() and step.isdigit() and len(step) <= 9 else step


def ident(steps: Steps) -> str:
    """An HTML id for a place, which no other place has."""
    return "at" + re.sub(r"[^A-Za-z0-9/]", lambda sign: f"_{ord(sign[0]):x}_", write_pointer(steps)).replace("/", "-")
