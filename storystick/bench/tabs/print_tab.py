"""The Print tab: what is printed on what, how many sheets that takes, how far it is, and the files that came of it.

What is printed is what is saved. A print goes into a folder beside the job. What an older print left there is replaced
only when that is asked for, and any other file is never touched.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from io import BytesIO
from pathlib import Path
from typing import Final

from flask import Blueprint, Response, abort, render_template, request, send_file

from storystick.bench.asked import posted_text, refuse
from storystick.bench.draft import Draft
from storystick.bench.guard import PDF_POLICY
from storystick.bench.places import Steps
from storystick.bench.print_plan import names_of, pages_of
from storystick.bench.print_run import Run, RunState, Wish, begin
from storystick.bench.state import the_bench
from storystick.errors import StorystickError
from storystick.job.job import Hands, PrintName
from storystick.job.papers import PAPERS
from storystick.job.shop import Printer
from storystick.layout.stations import Layout
from storystick.print_folder import digest_of, state_of
from storystick.printables import KINDS, plan_print, usual_names
from storystick.sheets.print_choices import ALL, Formats
from storystick.wording import capital, counted

routes: Final = Blueprint("printing", __name__, url_prefix="/job")

FORMATS: Final[Mapping[Formats, str]] = {
    Formats.PDF: "Sheets to print (PDF)",
    Formats.PDF_HTML: "Sheets, and the bench sheet for a phone",
    Formats.SVG: "Each thing in one piece for a cutter (SVG)",
    Formats.BOTH: "Sheets, and each thing in one piece",
    Formats.HTML: "The bench sheet for a phone alone",
    Formats.ALL: "All of them",
}
HANDS: Final[Mapping[Hands, str]] = {
    Hands.BOTH: "Both of a pair",
    Hands.ONE: "One of a pair, for boards struck face to face",
}


@dataclass(frozen=True, slots=True)
class Offered:
    """A kind of thing that the job has: its word, whether it is usual, and what it takes in sheets, in words."""

    name: PrintName
    usual: bool
    takes: str

    @property
    def words(self) -> str:
        return capital(self.name.value)


@dataclass(frozen=True, slots=True)
class Made:
    """A file of a print: its name and in words how long it is."""

    name: str
    pages: str


def show_print(draft: Draft, _at: Steps) -> str:
    """The tab."""
    if draft.faults or draft.layout is None:
        return render_template("tabs/print-faulty.html", draft=draft)
    job = draft.layout.job
    return render_template(
        "tabs/print.html",
        draft=draft,
        kinds=_offered(draft.layout),
        papers=list(PAPERS),
        printers=[(each.name, _correction(each)) for each in job.shop.printers] if job.shop else [],
        own_printer=job.printer,
        formats=FORMATS,
        hands=HANDS,
        folder=_folder(draft.name).name,
        state=_state(draft.name, the_bench().prints.of(draft.name)),
    )


def _offered(layout: Layout) -> list[Offered]:
    usual, strips = usual_names(layout), plan_print(layout)
    offered = []
    for name, kind in KINDS.items():
        planned = kind.plan(layout, ALL, strips)
        if not planned.is_empty:
            sheets = len(planned.plan.sheets) if planned.plan else 0
            offered.append(Offered(name, name in usual, counted(sheets, "sheet") if sheets else "pages to read"))
    return offered


def _correction(printer: Printer) -> str:
    """What everything is drawn times for a printer, and when that was measured."""
    if printer.along == printer.across == 1 and printer.date is None:
        return "not measured: drawn as it is"
    drawn = f"drawn × {float(printer.along):.5f} along the feed, × {float(printer.across):.5f} across"
    measured = ", ".join(filter(None, (printer.date, printer.paper)))
    return f"{drawn}; measured {measured}" if measured else drawn


def _folder(name: str) -> Path:
    """The folder of a job's print, beside the job."""
    place = the_bench().folder.place(name)
    return place.with_name(f"{place.stem}-print")


def _state(name: str, run: Run | None) -> str:
    """How far the print is, and what lies in its folder."""
    folder = _folder(name)
    # While a print is on its way this is asked several times a second, and what lies there may change.
    there = state_of(folder) if not (run and run.is_running) and not folder.is_symlink() else None
    made = [_made(folder, file) for file in there.files if (folder / file).is_file()] if there else []
    look = there.words.replace(there.folder, folder.name) if there else ""
    return render_template("tabs/print-state.html", name=name, run=run, made=made, look=look, left=_left(folder, run))


def _made(folder: Path, file: str) -> Made:
    if not file.endswith(".pdf"):
        return Made(file, "")
    try:
        changed = (folder / file).stat()
        return Made(file, _pages(folder / file, changed.st_mtime_ns, changed.st_size))
    except OSError:
        return Made(file, "cannot be read")


@lru_cache
def _pages(file: Path, _changed_ns: int, _size: int) -> str:
    """How long a PDF is, read anew where it was changed."""
    from pypdf import PdfReader
    from pypdf.errors import PyPdfError

    try:
        return counted(len(PdfReader(file).pages), "page")
    except (PyPdfError, ValueError):
        return "cannot be read"


def _left(folder: Path, run: Run | None) -> list[str]:
    """What an older print left in the folder that the last one did not write again."""
    if run is None or run.state is not RunState.DONE:
        return []
    from storystick.printing import older_files

    return [path.name for path in older_files(folder, [folder / file for file in run.written])]


def _wish() -> Wish:
    """What the page asks for; what it cannot have sent ends with 400."""
    form = request.form
    try:
        names = tuple(map(PrintName, form.getlist("kind")))
        formats = Formats(form.get("format", Formats.PDF.value))
        hands = Hands(form["hands"]).value if form.get("hands") else ""
    except ValueError:
        refuse()
    paper = form.get("paper", "")
    return Wish(names, formats, paper if paper in PAPERS else "", form.get("printer", ""), hands)


def _is_saved(name: str) -> bool:
    return the_bench().folder.read(name).text == posted_text()


@routes.post("/<name>/print/plan")
def plan(name: str) -> str:
    """How many sheets it takes, file by file."""
    bench = the_bench()
    try:
        pages = bench.planner.ask(pages_of, bench.folder.place(name), bench.settings, _wish())
    except StorystickError as error:
        return render_template("tabs/print-ask.html", ask="faults", faults=error.faults)
    return render_template("tabs/print-plan.html", pages=pages, saved=_is_saved(name))


@routes.post("/<name>/print")
def start(name: str) -> str:
    """Begin to print, or ask what has to be asked first."""
    bench, wish, folder = the_bench(), _wish(), _folder(name)
    running = bench.prints.of(name)
    if running and running.is_running:
        return _state(name, running)
    if not _is_saved(name):
        return render_template("tabs/print-ask.html", ask="save")
    try:
        names = bench.planner.ask(names_of, bench.folder.place(name), bench.settings, wish)
    except StorystickError as error:
        return render_template("tabs/print-ask.html", ask="faults", faults=error.faults)
    if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
        return render_template("tabs/print-ask.html", ask="foreign", folder=folder.name, files=[folder.name])
    there, own = {file: digest_of(folder / file) for file in names if os.path.lexists(folder / file)}, state_of(folder)
    if foreign := [file for file in there if file not in own.files]:
        return render_template("tabs/print-ask.html", ask="foreign", folder=folder.name, files=foreign)
    if there and "replace" not in request.form:
        changed = [file for file in there if file in own.others]
        return render_template(
            "tabs/print-ask.html", ask="replace", folder=folder.name, files=[*there], changed=changed
        )
    run = bench.prints.begin(name, lambda: begin(bench.folder.place(name), bench.settings, wish, folder, there))
    return _state(name, run)


@routes.post("/<name>/print/state")
def state(name: str) -> str:
    """How far it is."""
    return _state(name, the_bench().prints.of(name))


@routes.post("/<name>/print/stop")
def stop(name: str) -> str:
    """End a print; what is being written already comes to its end."""
    run = the_bench().prints.of(name)
    return _state(name, run.stop() if run else None)


@routes.get("/<name>/print/file/<file>")
def made(name: str, file: str) -> Response:
    """A file of the print, to be looked at or taken away."""
    folder = _folder(name)
    if folder.is_symlink() or file not in state_of(folder).files or not (folder / file).is_file():
        abort(404)
    if (folder / file).is_symlink():
        abort(404)
    # The whole of it at once: it may be replaced meanwhile.
    data = BytesIO((folder / file).read_bytes())
    response = send_file(data, as_attachment=file.endswith(".html"), download_name=file)
    if file.endswith(".pdf"):
        response.headers["Content-Security-Policy"] = PDF_POLICY
    return response
