"""What is planned to be printed and not drawn yet: the files of a print, and what each kind of thing adds to them."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import partial
from itertools import chain, count
from typing import Any

from storystick.errors import Where, placed_in
from storystick.job.job import Job
from storystick.sheets.document import AS_INK, Attachment, Document, Look, Page, with_notes
from storystick.sheets.pages.flow import Chapter
from storystick.sheets.print_choices import JOB_SHEET_FILE, Choices
from storystick.sheets.tile_plan import TilePlan


@dataclass(frozen=True, slots=True)
class Planned:
    """A file: how its pages are drawn, and how many ``sheets`` for tiles it has.

    What is not of sheets, such as reading matter and a strip in one piece, has none.
    ``remarks`` are what whoever prints it should look at.
    """

    title: str
    subject: str
    draw: Callable[[], tuple[Page, ...]] = field(repr=False)
    sheets: int = 0
    attachments: tuple[Attachment, ...] = ()
    remarks: tuple[str, ...] = ()
    look: Look = AS_INK

    @property
    def document(self) -> Document:
        """The file, drawn anew each time."""
        return Document(self.title, self.subject, self.draw(), self.attachments, self.look)


@dataclass(frozen=True, slots=True)
class Picture:
    """A page to write as a file of its own, called after its ``kind`` and ``name``, and how it is drawn."""

    kind: str
    name: str
    subject: str
    draw: Callable[[], Page]


@dataclass(frozen=True, slots=True)
class Printable:
    """One kind of thing to print: ``chapters`` of words, a ``file`` of the sheets of a ``plan``, and ``pictures``.

    All is found to fit on the paper. The chapters stand in the job sheet or in a ``words_file`` of their own.
    """

    chapters: tuple[Chapter, ...] = ()
    file: str = ""
    plan: TilePlan[Any, Any] | None = None
    pictures: tuple[Picture, ...] = ()
    subject: str = "Full-size sheets"
    words_file: str = JOB_SHEET_FILE

    @property
    def is_empty(self) -> bool:
        """Whether the job has nothing of this kind."""
        return not self.chapters and not self.plan

    def files(self, job: Job, choices: Choices) -> dict[str, Planned]:
        """Its files by name: the sheets, then picture by picture; their faults are told as the job file's."""

        def planned(title: str, subject: str, draw: Callable[[], tuple[Page, ...]], sheets: int = 0) -> Planned:
            def drawn() -> tuple[Page, ...]:
                with placed_in(Where.in_file(job.file_name)):
                    return draw()

            remarks = self.plan.remarks if self.plan and sheets else ()
            return Planned(title, f"{subject}, {job.digest}", drawn, sheets, remarks=remarks, look=choices.look)

        formats, look = choices.formats, choices.look
        sheets = self.plan.sheets if self.plan else ()
        tiled = {self.file: planned(job.title, self.subject, self.plan.pages, len(sheets))} if self.plan else {}
        names = file_names([f"{picture.kind} {picture.name}" for picture in self.pictures], formats.ending)
        whole = {
            name: planned(f"{job.title}: {picture.name}", picture.subject, partial(_alone, picture, job, look))
            for name, picture in zip(names, self.pictures, strict=True)
        }
        return (tiled if formats.tiled and sheets else {}) | (whole if formats.ending else {})


def _alone(picture: Picture, job: Job, look: Look) -> tuple[Page, ...]:
    return (with_notes(picture.draw(), job.figures, look.check_square),)


def file_names(names: Sequence[str], ending: str) -> list[str]:
    """A file name for each thing by its kind and name, unlike any other even where letter case does not count."""
    taken: list[str] = []
    for name in names:
        stem = _plain_stem(name)
        numbered = (f"{stem}-{number}{ending}" for number in count(2))
        taken.append(next(file for file in chain([f"{stem}{ending}"], numbered) if file not in taken))
    return taken


def _plain_stem(name: str) -> str:
    """Letters and digits of any script in small letters, everything else a hyphen."""
    plain = unicodedata.normalize("NFC", name).casefold()
    return "-".join("".join(c if c.isalnum() else " " for c in plain).split())
