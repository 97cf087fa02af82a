"""Changes of a job's text, one by one, that leave its comments, its order and all else as they were.

A place is met by its steps from the top of the file (``places.py``); what stands shorter there becomes a table where
more is said of it, and short again where that goes.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from storystick.bench.editing.arranging import add, duplicate, insert, move, name_new, remove
from storystick.bench.editing.banding import add_column, add_row
from storystick.bench.editing.dividing import equal, graduated, split
from storystick.bench.editing.open_text import OpenText
from storystick.bench.editing.putting import set_value, take_out
from storystick.bench.editing.renaming import rename
from storystick.bench.editing.setting import say_more, set_typed
from storystick.bench.editing.taking_over import take_over
from storystick.bench.editing.toml_items import read_value
from storystick.bench.places import Steps
from storystick.errors import Fault
from storystick.job.keys import Key
from storystick.job.reading import JOB_FILE


@dataclass(frozen=True, slots=True)
class Change:
    """A change of a ``kind`` of what stands ``at`` a place; ``value`` is what it needs beside that.

    "text" puts a whole text in the place of all.
    """

    kind: str
    at: Steps
    value: str = ""


def changed(text: str, changes: Sequence[Change], keys: Mapping[str, Key] = JOB_FILE) -> str:
    """A text with its changes, one after the other; ``keys`` are those at the top of such a file.

    Raises:
        Fault: one of them cannot be, or the text is not TOML.
    """
    for whole in [number for number, change in enumerate(changes) if change.kind == _WHOLE][-1:]:
        text, changes = changes[whole].value, changes[whole + 1 :]
    if not changes:
        return text
    opened = OpenText(text, keys)
    for change in changes:
        if change.kind not in KINDS:
            raise Fault(f'"{change.kind}" is no change', "load the page again")
        kind = KINDS[change.kind]
        take_over(opened, change.at, whole=kind.whole, divides=kind.divides)
        kind.make(opened, change.at, change.value)
    return opened.text()


def _raw(text: OpenText, at: Steps, value: str) -> None:
    if value.strip():
        set_value(text, at, read_value(value))
    else:
        take_out(text, at)


_WHOLE: Final = "text"


@dataclass(frozen=True, slots=True)
class Kind:
    """How a kind of change is made: by the text, the place and the value.

    ``whole``: it is of all that stands at the place, not just of the value there; ``divides``: of how the cabinet is
    divided that the place is of.
    """

    make: Callable[[OpenText, Steps, str], None]
    whole: bool = True
    divides: bool = False


KINDS: Final[Mapping[str, Kind]] = {
    "set": Kind(set_typed, whole=False),
    "raw": Kind(_raw, whole=False),
    "more": Kind(say_more, whole=False),
    "remove": Kind(remove, whole=False),
    "new": Kind(name_new, whole=False),
    "add": Kind(add),
    "insert": Kind(insert),
    "move": Kind(move),
    "duplicate": Kind(duplicate),
    "rename": Kind(rename),
    "split": Kind(split, divides=True),
    "equal": Kind(equal, divides=True),
    "graduated": Kind(graduated, divides=True),
    "row": Kind(add_row, divides=True),
    "column": Kind(add_column, divides=True),
}
"""Every kind of change of a part of a text."""
