"""Names of files in the folder: which are shown, and which a new file may have on any machine."""

from __future__ import annotations

import re
from collections.abc import Iterable, Set
from pathlib import PureWindowsPath
from typing import Final

from storystick.errors import Fault, as_written

ENDING: Final = ".toml"
_LONGEST: Final = 120
"""In bytes: there is room for a number behind it, and for the folder of its prints."""

_LONGEST_MADE: Final = 30
_NOT_EVERYWHERE: Final = frozenset('<>:"/\\|?*')
_DEVICES: Final = frozenset(
    ("con", "prn", "aux", "nul", *(f"{port}{number}" for port in ("com", "lpt") for number in "0123456789¹²³"))
)
"""Names of devices on Windows, whatever ending follows (Microsoft: "Naming Files, Paths, and Namespaces")."""


def is_shown(name: str, ending: str = ENDING) -> bool:
    """Whether a file of this name can be a job that is shown: bare, in sight, and without signs that nobody sees."""
    plain = name.isprintable() and not name.startswith(".") and PureWindowsPath(f"/{name}").name == name
    return plain and name.lower().endswith(ending)


def name_of(words: str) -> str:
    """A file's name for what is called so: "Tall case" gives tall-case.toml."""
    stem = "-".join(re.findall(r"\w+", words.lower()))[:_LONGEST_MADE]
    return f"{stem or 'job'}{ENDING}"


def new_name(typed: str, taken: Iterable[str], ending: str = ENDING) -> str:
    """The name of a new file as it was typed, with its ending, where none of the ``taken`` is the same but for case.

    Raises:
        Fault: it cannot be a file's name, or is taken.
    """
    name = typed.strip()
    if not name.lower().endswith(ending):
        name += ending
    stem = name[: -len(ending)]
    if not stem.strip(" ."):
        raise Fault("the file has no name", 'type one, such as "tall-case"')
    wrong = sorted(_NOT_EVERYWHERE & set(name))
    if wrong or not is_shown(name, ending) or stem.endswith((" ", ".")):
        what = f"a file cannot be called {as_written(name)} on every machine"
        raise Fault(what, "use letters, figures, spaces and hyphens")
    if stem.partition(".")[0].strip().casefold() in _DEVICES:
        raise Fault(f"{as_written(name)} is the name of a device on some machines", "give another name")
    if len(name.encode()) > _LONGEST:
        raise Fault("the name is too long", f"give one of at most {_LONGEST - len(ending)} letters")
    if other := next((each for each in taken if each.casefold() == name.casefold()), ""):
        raise Fault(f"there is a file {as_written(other)} here already", "give another name")
    return name


def free_name(name: str, taken: Iterable[str]) -> str:
    """The name of a file, or with the first number behind it that is free."""
    return free_among(name, {each.casefold() for each in taken})


def free_among(name: str, others: Set[str]) -> str:
    """The same, where the others are given in small letters."""
    stem = name[: -len(ENDING)]
    number = 1
    while name.casefold() in others:
        number += 1
        name = f"{stem}-{number}{ENDING}"
    return name
