"""From a layout to the files of a print: strips, a strip in one piece each, and the job sheet."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from enum import Enum
from itertools import chain, count
from pathlib import Path

from storystick.cutting.parts import cutting_list
from storystick.drawing.strip import Strip, draw_strip, strips_of
from storystick.errors import Fault, placed_in
from storystick.files import write_files
from storystick.job.model import Job, Source
from storystick.layout.cabinets.model import CabinetLayout
from storystick.layout.model import Layout
from storystick.sheets.cabinet_blocks import views_page
from storystick.sheets.document import Attachment, Document, Page
from storystick.sheets.job_sheet import job_sheet_pages
from storystick.sheets.strips import STRIPS_FILE, StripSheets, outline, plan_strips, strip_pages
from storystick.sheets.templates import TEMPLATES_FILE, plan_templates, template_of, template_page, template_pages
from storystick.tooling.bars import bars_wanted
from storystick.tooling.grooves import groove_setups
from storystick.tooling.model import Bar
from storystick.tooling.settings import settings_of
from storystick.tooling.shims import Shim, shims_of
from storystick.writers import writer_for

JOB_SHEET_FILE = "job-sheet.pdf"
_AROUND_MM = 10.0


class Formats(Enum):
    """Which files to write."""

    PDF = "pdf"
    SVG = "svg"
    BOTH = "both"


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
        return plan_strips(choose_strips(layout, only), layout.job)


def print_job(
    layout: Layout,
    folder: Path | str,
    only: Sequence[str] = (),
    formats: Formats = Formats.BOTH,
    companions: Sequence[Source] = (),
) -> tuple[Path, ...]:
    """Write a job's files into ``folder``, all of them or none, and return their paths.

    ``only`` names the sticks to print, all where it is empty; ``companions`` are files to lay beside the print.

    Raises:
        StorystickError: as :func:`plan_print`, or the folder cannot be written to.
    """
    rendered = {
        name: writer_for(Path(name).suffix)(document) for name, document in documents(layout, only, formats).items()
    }
    return tuple(write_files(Path(folder), rendered | {source.name: source.data for source in companions}))


def documents(layout: Layout, only: Sequence[str] = (), formats: Formats = Formats.BOTH) -> dict[str, Document]:
    """What :func:`print_job` writes, by file name.

    Raises:
        StorystickError: as :func:`plan_print`.
    """
    job, plan = layout.job, plan_print(layout, only)
    cabinets = () if only else layout.cabinets
    with placed_in(job.file_name):
        parts = cutting_list(cabinets, job.units, job.label)
    attachments = tuple(Attachment(source.name, source.data) for source in job.sources)
    sheets = Document(job.title, f"Full-size strips, {job.digest}", strip_pages(plan), attachments)
    strips = {} if formats is Formats.PDF else _strips_in_one_piece([cut.strip for cut in plan.strips], job)
    files = ({} if formats is Formats.SVG else {STRIPS_FILE: sheets}) | strips
    settings = settings_of(layout) if job.shop and not only else None
    pages = job_sheet_pages(plan, list(files), cabinets, parts, settings)
    words = Document(job.title, f"Job sheet, {job.digest}", pages, attachments)
    views = {} if formats is Formats.PDF else _views(cabinets, job)
    return files | views | _templates(layout, formats) | {JOB_SHEET_FILE: words}


def _templates(layout: Layout, formats: Formats) -> dict[str, Document]:
    """The bars and shims that the job's grooves want: all of them on sheets, and each in a file of its own."""
    job = layout.job
    if job.shop is None:
        return {}
    setups = groove_setups(layout.sticks, job.shop, job.units)
    bars, shims = bars_wanted(job.shop, setups), shims_of(setups)
    with placed_in(job.file_name):
        pages = template_pages(plan_templates(bars, shims, job))
    subject = f"Full-size templates, {job.digest}"
    sheets = {TEMPLATES_FILE: Document(job.title, subject, pages)} if pages and formats is not Formats.SVG else {}
    pieces = {} if formats is Formats.PDF else _templates_in_one_piece((*bars, *shims), job)
    return sheets | pieces


def _templates_in_one_piece(wanted: Sequence[Bar | Shim], job: Job) -> dict[str, Document]:
    names = _file_names("template", [template_of(one, job).name for one in wanted])
    return {
        file: Document(f"{job.title}: {file}", f"Full-size template, {job.digest}", (template_page(one, job),))
        for file, one in zip(names, wanted, strict=True)
    }


def _views(cabinets: Sequence[CabinetLayout], job: Job) -> dict[str, Document]:
    """Each cabinet's reduced views in a file of their own."""
    names = _file_names("cabinet", [layout.cabinet.name for layout in cabinets])
    return {
        name: Document(
            f"{job.title}: {layout.cabinet.name}", f"Reduced views, {job.digest}", (views_page(layout, job),)
        )
        for name, layout in zip(names, cabinets, strict=True)
    }


def older_files(folder: Path, written: Sequence[Path]) -> tuple[Path, ...]:
    """What an earlier print left in the folder that this one did not write again."""
    drawn = (path for kind in ("strip", "cabinet", "template") for path in folder.glob(f"{kind}-*.svg"))
    ours = {*drawn, folder / STRIPS_FILE, folder / TEMPLATES_FILE}
    return tuple(sorted(path for path in ours - set(written) if path.exists()))


def _strips_in_one_piece(strips: Sequence[Strip], job: Job) -> dict[str, Document]:
    return {
        name: Document(f"{job.title}: {strip.name}", f"Full-size strip, {job.digest}", (_one_piece(strip),))
        for name, strip in zip(_file_names("strip", [strip.name for strip in strips]), strips, strict=True)
    }


def _one_piece(strip: Strip) -> Page:
    """A strip whole, with x = 0 at its left end and y = 0 at its marking edge, and some room around it."""
    drawing = draw_strip(strip)
    (piece,) = drawing.pieces
    return Page(
        piece.right_mm + 2 * _AROUND_MM,
        drawing.height_mm + 2 * _AROUND_MM,
        (*piece.shapes, *outline(piece.window, drawing.height_mm)),
        label=strip.name,
        left_mm=-_AROUND_MM,
        bottom_mm=-_AROUND_MM,
    )


def _file_names(kind: str, names: Sequence[str]) -> list[str]:
    """An SVG file name for each thing of a kind, unlike any other even where letter case does not count."""
    found: list[str] = []
    for name in names:
        stem = f"{kind}-{_plain_stem(name)}"
        numbered = (f"{stem}-{number}.svg" for number in count(2))
        found.append(next(file for file in chain([f"{stem}.svg"], numbered) if file not in found))
    return found


def _plain_stem(name: str) -> str:
    """Letters and digits of any script in small letters, everything else a hyphen."""
    plain = unicodedata.normalize("NFC", name).casefold()
    return "-".join("".join(c if c.isalnum() else " " for c in plain).split()) or "unnamed"
