"""Whether a job can be printed, and on how much paper: from the plan of its print, with nothing drawn that is right."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from enum import Enum

from storystick.drawing.lettering import check_letters
from storystick.errors import StorystickError
from storystick.job.sources import Source
from storystick.layout.stations import Layout
from storystick.printing import planned_files
from storystick.sheets.document import Planned


def check_print(layout: Layout) -> dict[str, Planned]:
    """The planned files of a print, all of which can be drawn.

    Raises:
        StorystickError: what does not fit on the paper or cannot be lettered.
    """
    files = planned_files(layout)
    try:
        # All that is lettered comes from these words or from ours, which the font has.
        check_letters(*set(_texts(layout.job)))
    except StorystickError:
        for planned in files.values():
            planned.draw()
    return files


def _texts(job: object) -> Iterator[str]:
    """Every word of a job as it was read, whether it is printed or not; its files are left out."""
    waiting, seen = [job], set[int]()
    while waiting:
        thing = waiting.pop()
        match thing:
            case str() if not isinstance(thing, Enum):
                yield thing
            case tuple() | list() | frozenset():
                waiting.extend(thing)
            case dict():
                waiting.extend((*thing.keys(), *thing.values()))
            case Source():
                pass
            case _ if is_dataclass(thing) and id(thing) not in seen:
                seen.add(id(thing))
                waiting.extend(getattr(thing, part.name) for part in fields(thing))
