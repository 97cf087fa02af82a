"""The files of a print: planned and found to fit, drawn, written all or none; or only checked for that."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import fields, is_dataclass, replace
from enum import Enum
from functools import partial
from pathlib import Path
from typing import TypeAlias

from storystick import __version__
from storystick.drawing.lettering import check_letters
from storystick.drawing.strip import draw_strip
from storystick.errors import Fault, Faults, StorystickError, Where, placed_in
from storystick.files import write_files
from storystick.job.job import Job
from storystick.job.sources import Source
from storystick.layout.stations import Layout
from storystick.print_folder import folder_record
from storystick.printables import plan_print, printables
from storystick.sheets.document import Attachment
from storystick.sheets.pages.flow import Chapter, words_pages
from storystick.sheets.pages.job_sheet import job_sheet_pages
from storystick.sheets.planned import Planned, Printable
from storystick.sheets.print_choices import (
    ALL,
    BENCH_SHEET_FILE,
    ENDINGS,
    FOLDER_RECORD_FILE,
    FORMER_FILES,
    FORMER_PICTURES,
    JOB_SHEET_FILE,
    PICTURES,
    RECORD_FILE,
    SHEETS_FILES,
    STRIPS_FILE,
    WORDS_FILES,
    Choices,
    can_be_carried,
    record,
)
from storystick.sheets.strips import StripSheets, lacking_in
from storystick.sheets.tile_plan import remarks_on
from storystick.wording import capital
from storystick.writers import writer_for

Progress: TypeAlias = Callable[[int, int, str], object]
"""Is told how many files are drawn, of how many, and which one is drawn next; at last none."""


def print_job(
    layout: Layout,
    folder: Path | str,
    choices: Choices = ALL,
    companions: Sequence[Source] = (),
    tell: Callable[[str], object] | None = None,
    progress: Progress | None = None,
) -> tuple[Path, ...]:
    """Write a job's files into ``folder``, all of them or none, and return their paths.

    ``companions`` are files to lay beside the print; ``tell`` is told what to look at in it. Last comes the folder's
    record of the print, not among the paths. ``progress`` may raise to end it, and then nothing is written.

    Raises:
        StorystickError: as :func:`plan_print`, a file of the job has a name that a print cannot carry, or the folder
            cannot be written to.
    """
    _check_names(layout.job.sources)
    files = planned_files(layout, choices)
    rendered = dict(_rendered(_writing(layout, choices, files), progress or _unseen))
    _check_apart([*rendered, FOLDER_RECORD_FILE, *(source.name for source in companions)])
    written = rendered | {source.name: source.data for source in companions}
    paths = tuple(write_files(Path(folder), written, folder_record(rendered, layout.job)))
    for remark in dict.fromkeys(remark for planned in files.values() for remark in planned.remarks):
        if tell:
            tell(remark)
    return paths


def names_written(layout: Layout, choices: Choices = ALL) -> tuple[str, ...]:
    """The files that :func:`print_job` would write of a job, by bare name.

    Raises:
        StorystickError: as :func:`planned_files`.
    """
    return tuple(_writing(layout, choices, planned_files(layout, choices)))


def _writing(layout: Layout, choices: Choices, files: Mapping[str, Planned]) -> dict[str, Callable[[], bytes]]:
    """How each file is made."""
    writing: dict[str, Callable[[], bytes]] = {
        name: partial(_written, name, planned) for name, planned in files.items()
    }
    if choices.formats.at_bench:
        writing[BENCH_SHEET_FILE] = partial(_bench_sheet, layout, choices)
    return writing


def _rendered(files: Mapping[str, Callable[[], bytes]], progress: Progress) -> Iterator[tuple[str, bytes]]:
    """Each file as it will lie in the folder, in order."""
    for done, (name, write) in enumerate(files.items()):
        progress(done, len(files), name)
        yield name, write()
    progress(len(files), len(files), "")


def _written(name: str, planned: Planned) -> bytes:
    return writer_for(Path(name).suffix)(planned.document)


def _bench_sheet(layout: Layout, choices: Choices) -> bytes:
    from storystick.bench_sheet.page import bench_sheet  # needs the template library, which no other file does

    with placed_in(layout.job.file_name):
        return bench_sheet(layout, plan_print(layout, choices.only), choices.only)


def _unseen(_done: int, _of: int, _file: str) -> None:
    """Nobody watches."""


def _check_names(sources: Sequence[Source]) -> None:
    """Whether the job's files can travel in a print and be taken out of it again."""
    faults = [
        Fault(
            "a print carries this file, and none of such a name is taken out of a print again",
            "rename the file: no dot at its beginning, no slash, colon or control sign, at most 255 bytes",
            Where.in_file(source.name),
        )
        for source in sources
        if not can_be_carried(source.name)
    ]
    if faults:
        raise Faults(faults)


def _check_apart(names: Sequence[str]) -> None:
    """Whether the files can lie in one folder, even where letter case does not count."""
    folded = [name.casefold() for name in names]
    for name, fold in zip(names, folded, strict=True):
        if folded.count(fold) > 1:
            raise Fault("two files of the print would have this name", "give the job's file another", Where(name))


def planned_files(layout: Layout, choices: Choices = ALL) -> dict[str, Planned]:
    """What :func:`print_job` writes, by file name: found to fit on its paper, and each drawn when it is asked for.

    Raises:
        StorystickError: as :func:`~storystick.printables.plan_print`; what cannot be lettered may be told only by
            drawing.
    """
    if not choices.formats.on_paper:
        return {}
    job, plan = layout.job, plan_print(layout, choices.only)
    with placed_in(Where.in_file(job.file_name)):
        kinds = printables(layout, choices, plan)
    sheets: dict[str, Planned] = {}
    for kind in kinds:
        sheets |= kind.files(job, choices)
    files = _words(layout, plan, kinds, list(sheets)) | sheets
    return {name: replace(planned, attachments=_carried(job, choices, name)) for name, planned in files.items()}


def _words(layout: Layout, plan: StripSheets, kinds: Sequence[Printable], sheets: Sequence[str]) -> dict[str, Planned]:
    """The job sheet, and the other files of words with their chapters."""
    job, chapters = layout.job, _chapters(kinds)
    after = chapters.pop(JOB_SHEET_FILE, ())
    pages = partial(job_sheet_pages, layout, plan, (*sheets, *chapters), after)
    # Strips that no sheet has are drawn in one piece only, and whole they may lack room for other labels.
    alone = [] if STRIPS_FILE in sheets else [draw_strip(cut.strip) for cut in plan.things]
    remarks = remarks_on(lacking for drawing in alone for lacking in lacking_in(drawing))
    words = {JOB_SHEET_FILE: Planned(job.title, f"Job sheet, {job.digest}", pages, remarks=remarks)}
    for file, own in chapters.items():
        name = file.removesuffix(".pdf")
        words[file] = Planned(job.title, f"{capital(name)}, {job.digest}", partial(words_pages, job, name, own))
    return words


def _chapters(kinds: Sequence[Printable]) -> dict[str, tuple[Chapter, ...]]:
    """By the file that they stand in."""
    found: dict[str, tuple[Chapter, ...]] = {}
    for kind in kinds:
        if kind.chapters:
            found[kind.words_file] = (*found.get(kind.words_file, ()), *kind.chapters)
    return found


def _carried(job: Job, choices: Choices, file: str) -> tuple[Attachment, ...]:
    """All that is needed to print a file again, for the formats that can carry it."""
    if not file.endswith(".pdf"):
        return ()
    if any(source.name == RECORD_FILE for source in job.sources):
        raise Fault(f"a print keeps its own choices in {RECORD_FILE}", "give the file another name", Where(RECORD_FILE))
    asked = Attachment(RECORD_FILE, record(choices, job, file, f"storystick {__version__}"))
    return (*(Attachment(source.name, source.data) for source in job.sources), asked)


def older_files(folder: Path, written: Sequence[Path]) -> tuple[Path, ...]:
    """What an earlier print left in the folder that this one did not write again."""
    stems = (*PICTURES, *FORMER_PICTURES)
    drawn = (path for stem in stems for ending in ENDINGS for path in folder.glob(f"{stem}-*{ending}"))
    ours = {*drawn, *(folder / file for file in (*SHEETS_FILES, *WORDS_FILES, *FORMER_FILES, BENCH_SHEET_FILE))}
    return tuple(sorted(path for path in ours - set(written) if path.exists()))


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
            for page in planned.draw():
                list(page.shapes)
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
