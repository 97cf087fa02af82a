"""From a layout to the files of a print: strips, a strip in one piece each, and the job sheet."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from itertools import chain, count
from pathlib import Path
from typing import TYPE_CHECKING

from storystick import __version__
from storystick.drawing.strip import Strip, draw_strip, strips_of
from storystick.errors import Fault, Faults, placed_in
from storystick.files import write_files
from storystick.job.job import Job
from storystick.job.sources import Source
from storystick.layout.stations import Layout
from storystick.print_folder import folder_record
from storystick.sheets.document import Attachment, Document, Page, Planned
from storystick.sheets.pages.job_sheet import Chapter, job_sheet_pages
from storystick.sheets.pages.trust import trust_blocks
from storystick.sheets.print_record import (
    ALL,
    FOLDER_RECORD_FILE,
    FORMER_FILES,
    JOB_SHEET_FILE,
    RECORD_FILE,
    SHEETS_FILES,
    STRIPS_FILE,
    Choices,
    Formats,
    can_be_carried,
    record,
)
from storystick.sheets.strips import StripSheets, left_out_remarks, one_piece, plan_strips, strip_pages
from storystick.writers import writer_for

if TYPE_CHECKING:
    from storystick.supplements import Supplement


def choose_strips(layout: Layout, only: Sequence[str] = ()) -> tuple[Strip, ...]:
    """The strips of a layout, or those of the sticks named in ``only``.

    Raises:
        Fault: a name that no stick has.
    """
    names = [stick.stick.name for stick in layout.sticks]
    for name in only:
        if name not in names:
            raise Fault(f'there is no stick "{name}"', f"the sticks are {', '.join(names)}", where="--only")
    return tuple(strip for strip in strips_of(layout) if not only or strip.layout.stick.name in only)


def plan_print(layout: Layout, only: Sequence[str] = ()) -> StripSheets:
    """Which tile of which strip goes on which sheet.

    Raises:
        StorystickError: the paper is too small, a name cannot be printed, or ``only`` names no stick.
    """
    with placed_in(layout.job.file_name):
        strips = choose_strips(layout, only)
        return plan_strips(strips, layout.job) if strips else StripSheets(layout.job, (), ())


def print_job(
    layout: Layout,
    folder: Path | str,
    choices: Choices = ALL,
    companions: Sequence[Source] = (),
    tell: Callable[[str], object] | None = None,
) -> tuple[Path, ...]:
    """Write a job's files into ``folder``, all of them or none, and return their paths.

    ``companions`` are files to lay beside the print; ``tell`` is told what to look at in it. Last comes the folder's
    record of the print, not among the paths.

    Raises:
        StorystickError: as :func:`plan_print`, a file of the job has a name that a print cannot carry, or the folder
            cannot be written to.
    """
    _check_names(layout.job.sources)
    files = planned_files(layout, choices)
    rendered = {name: writer_for(Path(name).suffix)(planned.document) for name, planned in files.items()}
    _check_apart([*rendered, FOLDER_RECORD_FILE, *(source.name for source in companions)])
    written = rendered | {source.name: source.data for source in companions}
    paths = tuple(write_files(Path(folder), written, folder_record(rendered, layout.job)))
    for remark in dict.fromkeys(remark for planned in files.values() for remark in planned.remarks):
        if tell:
            tell(remark)
    return paths


def _check_names(sources: Sequence[Source]) -> None:
    """Whether the job's files can travel in a print and be taken out of it again."""
    faults = [
        Fault(
            "a print carries this file, and none of such a name is taken out of a print again",
            "rename the file: no dot at its beginning, no slash, colon or control sign, at most 255 bytes",
            source.name,
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
            raise Fault("two files of the print would have this name", "give the job's file another", name)


def documents(layout: Layout, choices: Choices = ALL) -> dict[str, Document]:
    """What :func:`print_job` writes, by file name, all of it drawn.

    Raises:
        StorystickError: as :func:`plan_print`.
    """
    return {name: planned.document for name, planned in planned_files(layout, choices).items()}


def planned_files(layout: Layout, choices: Choices = ALL) -> dict[str, Planned]:
    """What :func:`print_job` writes, by file name: found to fit on its paper, and each drawn when it is asked for.

    Raises:
        StorystickError: as :func:`plan_print`; what cannot be lettered may be told only by drawing.
    """
    job, formats, plan = layout.job, choices.formats, plan_print(layout, choices.only)
    supplements = (*(() if choices.only else _supplements(layout)), *_rods(layout, choices), *_boards(layout, choices))
    drawn = partial(strip_pages, plan)
    sheets = Planned(job.title, f"Full-size strips, {job.digest}", drawn, sheets=len(plan.sheets), remarks=plan.remarks)
    strips = {} if formats is Formats.PDF else _strips_in_one_piece([cut.strip for cut in plan.strips], job)
    files = ({STRIPS_FILE: sheets} if plan.sheets and formats is not Formats.SVG else {}) | strips
    trust: list[Chapter] = [partial(trust_blocks, plan)] if STRIPS_FILE in files else []
    chapters = [*trust, *(chapter for supplement in supplements for chapter in supplement.chapters)]
    pages = partial(job_sheet_pages, plan, list(files), chapters)
    alone = [] if STRIPS_FILE in files else [draw_strip(cut.strip) for cut in plan.strips]
    words = Planned(job.title, f"Job sheet, {job.digest}", pages, remarks=left_out_remarks(alone))
    written = files | _added(supplements, job, formats) | {JOB_SHEET_FILE: words}
    return {name: replace(planned, attachments=_carried(job, choices, name)) for name, planned in written.items()}


def _carried(job: Job, choices: Choices, file: str) -> tuple[Attachment, ...]:
    """All that is needed to print a file again, for the formats that can carry it."""
    if not file.endswith(".pdf"):
        return ()
    if any(source.name == RECORD_FILE for source in job.sources):
        raise Fault(f"a print keeps its own choices in {RECORD_FILE}", "give the file another name", RECORD_FILE)
    asked = Attachment(RECORD_FILE, record(choices, job, file, f"storystick {__version__}"))
    return (*(Attachment(source.name, source.data) for source in job.sources), asked)


def _supplements(layout: Layout) -> tuple[Supplement, ...]:
    job = layout.job
    if not (layout.cabinets or job.shop or job.square_sticks or job.rectangles):
        return ()
    from storystick.supplements import (  # only where wanted
        cabinet_supplement,
        glue_up_supplement,
        square_stick_supplement,
        square_supplement,
        tool_supplement,
    )

    with placed_in(job.file_name):
        return (
            cabinet_supplement(layout),
            tool_supplement(layout),
            glue_up_supplement(layout),
            square_stick_supplement(layout),
            square_supplement(layout),
        )


def _rods(layout: Layout, choices: Choices) -> tuple[Supplement, ...]:
    """Pinch rods, for what is squared by its diagonals."""
    if choices.only or not (layout.cabinets or layout.job.rectangles):
        return ()
    from storystick.supplements import rod_supplement  # only where wanted

    with placed_in(layout.job.file_name):
        return (rod_supplement(layout, choices.formats is not Formats.SVG),)


def _boards(layout: Layout, choices: Choices) -> tuple[Supplement, ...]:
    """Board templates: those that were asked for, and the job's own unless only some sticks are printed."""
    own = () if choices.only else layout.boards
    if not choices.boards and not own:
        return ()
    from storystick.supplements import board_supplement  # only where wanted

    with placed_in(layout.job.file_name):
        return (board_supplement(layout, own, choices.boards, choices.formats is not Formats.SVG),)


def _added(supplements: Sequence[Supplement], job: Job, formats: Formats) -> dict[str, Planned]:
    """The files that supplements add: sheets of their own, and pictures one by one."""
    added: dict[str, Planned] = {}
    for supplement in supplements:
        if formats is not Formats.SVG:
            subject = f"Full-size sheets, {job.digest}"
            added |= {
                file.name: Planned(
                    job.title, subject, _placed(file.draw, job), sheets=file.sheets, remarks=supplement.remarks
                )
                for file in supplement.sheets
            }
        if formats is not Formats.PDF:
            added |= _pictures(supplement, job)
    return added


def _pictures(supplement: Supplement, job: Job) -> dict[str, Planned]:
    names = _file_names([f"{picture.kind} {picture.name}" for picture in supplement.pictures])
    return {
        file: Planned(
            f"{job.title}: {picture.name}",
            f"{picture.subject}, {job.digest}",
            _placed(partial(_alone, picture.draw), job),
        )
        for file, picture in zip(names, supplement.pictures, strict=True)
    }


def _alone(draw: Callable[[], Page]) -> tuple[Page, ...]:
    return (draw(),)


def _placed(draw: Callable[[], tuple[Page, ...]], job: Job) -> Callable[[], tuple[Page, ...]]:
    """The same drawing, whose faults are told as the job file's."""

    def drawn() -> tuple[Page, ...]:
        with placed_in(job.file_name):
            return draw()

    return drawn


def older_files(folder: Path, written: Sequence[Path]) -> tuple[Path, ...]:
    """What an earlier print left in the folder that this one did not write again."""
    kinds = ("strip", "cabinet", "bar", "shim", "square-stick", "rod", "template", "board")
    drawn = (path for kind in kinds for path in folder.glob(f"{kind}-*.svg"))
    ours = {*drawn, *(folder / file for file in (*SHEETS_FILES, *FORMER_FILES))}
    return tuple(sorted(path for path in ours - set(written) if path.exists()))


def _strips_in_one_piece(strips: Sequence[Strip], job: Job) -> dict[str, Planned]:
    return {
        name: Planned(
            f"{job.title}: {strip.name}", f"Full-size strip, {job.digest}", partial(_alone, partial(one_piece, strip))
        )
        for name, strip in zip(_file_names([f"strip {strip.name}" for strip in strips]), strips, strict=True)
    }


def _file_names(names: Sequence[str]) -> list[str]:
    """An SVG file name for each thing by its kind and name, unlike any other even where letter case does not count."""
    found: list[str] = []
    for name in names:
        stem = _plain_stem(name)
        numbered = (f"{stem}-{number}.svg" for number in count(2))
        found.append(next(file for file in chain([f"{stem}.svg"], numbered) if file not in found))
    return found


def _plain_stem(name: str) -> str:
    """Letters and digits of any script in small letters, everything else a hyphen."""
    plain = unicodedata.normalize("NFC", name).casefold()
    return "-".join("".join(c if c.isalnum() else " " for c in plain).split())
