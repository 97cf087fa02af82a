"""A draft: a job's text as it stands on the page, read with the files that lie beside it in its folder."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

from storystick.bench.file_kinds import is_shop, title_of
from storystick.bench.lines import line_of
from storystick.bench.state import Bench
from storystick.errors import Fault, StorystickError
from storystick.job.shop import read_shop
from storystick.job.sources import Source
from storystick.laying_out import lay_out_draft
from storystick.layout.stations import Layout

_MOST_KEPT: Final = 8
"""Of so many files what was laid out is kept, those used last."""


@dataclass(frozen=True, slots=True)
class Draft:
    """The text of the file ``name``, and all of its faults.

    ``layout`` is what is laid out of it: all that has no fault, and None where nothing of it can be read.
    """

    name: str
    text: str = field(repr=False)
    layout: Layout | None
    faults: tuple[Fault, ...]

    @property
    def is_shop(self) -> bool:
        """Whether it is a shop file, of which nothing is laid out."""
        return is_shop(self.name, self.text)

    @property
    def title(self) -> str:
        """What it is called on the page."""
        return title_of(self.name, self.text)

    def line_of(self, fault: Fault) -> int:
        """The line of the text, from 1, at which one of its faults stands."""
        return line_of(self.text, fault.steps)


def read_draft(bench: Bench, name: str, text: str) -> Draft:
    """Read a text in the place of a file of the folder; what is as it was the last time is not worked out again."""
    if is_shop(name, text):
        return Draft(name, text, None, _faults_of_shop(name, text))
    laid = lay_out_draft(text, bench.folder.where(name), bench.settings, bench.earlier.pop(name, None))
    bench.earlier[name] = laid
    while len(bench.earlier) > _MOST_KEPT:
        bench.earlier.pop(next(iter(bench.earlier)), None)
    return Draft(name, text, laid.layout, laid.faults)


def _faults_of_shop(name: str, text: str) -> tuple[Fault, ...]:
    try:
        return read_shop(Source(name, text.encode()))[1]
    except StorystickError as error:
        return error.faults
