"""Jobs that begin: from a few sizes in plain words, or out of a printed PDF."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

from flask import Blueprint, abort, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from storystick.bench.files.file_names import ENDING, free_name, name_of
from storystick.bench.files.folder import Folder
from storystick.bench.guard import MOST_PRINT_BYTES
from storystick.bench.state import the_bench
from storystick.errors import Fault, StorystickError
from storystick.job.sources import Source
from storystick.prints import files_of_print
from storystick.starting import STARTS, Start

routes: Final = Blueprint("beginning", __name__)
_OF_A_JOB: Final = (ENDING, ".csv")


@routes.get("/new/<word>")
def page(word: str) -> str:
    """What is asked for a new job."""
    return _page("start/new.html", word, {})


@routes.post("/new/<word>/questions")
def questions(word: str) -> str:
    """The questions anew, where an answer changes which are asked or what is usual."""
    return _page("start/questions.html", word, request.form.to_dict())


@routes.post("/new/<word>")
def begin(word: str) -> str | tuple[str, int] | Response:
    """Write the new job, or say at which question something is to be mended."""
    typed = request.form.to_dict()
    answered = {name: text for name, text in typed.items() if name != "file"}
    start = _start(word)
    try:
        text = start.text(answered)
    except StorystickError as error:
        at_questions = start.answers(answered).faults
        return _page("start/new.html", word, typed, () if at_questions else error.faults), 422
    try:
        name = the_bench().folder.put(typed.get("file", "").strip() or _file_name(start, typed), text.encode())
    except StorystickError as error:
        return _page("start/new.html", word, typed, file_faults=error.faults), 422
    return redirect(url_for("work.page", name=name), 303)


def _start(word: str) -> Start:
    return STARTS[word] if word in STARTS else abort(404)


def _page(
    template: str,
    word: str,
    typed: dict[str, str],
    faults: tuple[Fault, ...] = (),
    file_faults: tuple[Fault, ...] = (),
) -> str:
    start = _start(word)
    answers = start.answers({name: text for name, text in typed.items() if name != "file"})
    # What was not sent to be taken is not judged while it is typed.
    said = {name: str(fault) for name, fault in answers.faults.items()} if typed else {}
    shown = {"start": start, "answers": answers, "typed": typed, "said": said, "file": _file_name(start, typed)}
    return render_template(template, faults=faults, file_faults=file_faults, **shown)


def _file_name(start: Start, typed: dict[str, str]) -> str:
    """The file's name, from what the job is called, with a number behind it where that is taken."""
    usual = next((each.default for each in start.questions if each.name == "name"), {})
    words = typed.get("name", "").strip() or next(iter(usual.values()), start.word)
    return free_name(name_of(words), the_bench().folder.taken())


@routes.post("/open-print")
def open_print() -> Response:
    """Put the files of the job that a printed PDF carries into the folder, and go to it."""
    request.max_content_length = MOST_PRINT_BYTES
    given = request.files.get("print")
    if given is None or not given.filename:
        raise Fault("no file was chosen", "choose a PDF that was printed from a job")
    with TemporaryDirectory() as place:
        path = Path(place) / "the file"
        given.save(path)
        sources = files_of_print(path)
    return redirect(url_for("work.page", name=_put(the_bench().folder, sources)), 303)


def _put(folder: Folder, sources: tuple[Source, ...]) -> str:
    """Write what is not there yet, and give the job's name; a shop file of the folder stays as it is.

    Raises:
        Fault: a spreadsheet of the job would go over another of the same name.
    """
    job, *others = sources
    files: dict[str, bytes] = {}
    for source in others:
        there = folder.beside(source.name)
        is_table = not source.name.lower().endswith(ENDING)
        if not source.name.lower().endswith(_OF_A_JOB):
            raise Fault("the print carries a file that no job has", "use the file as it was printed")
        if there is not None and there != source.data and is_table:
            what = f'the job needs its "{source.name}", and there is another of that name here'
            raise Fault(what, "open the print in an empty folder")
        if there is None:
            files[source.name] = source.data
    name = job.name if job.name.lower().endswith(ENDING) else f"{job.name}{ENDING}"
    if folder.beside(name) == job.data:
        new = name
    else:
        new = free_name(name, folder.taken())
        files[new] = job.data
    if files:
        folder.put_all(files)
    return new
