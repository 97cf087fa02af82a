"""Saving: the draft goes into its file only where that is still the version that it began from."""

from __future__ import annotations

from typing import Final

from flask import Blueprint, render_template, request

from storystick.bench.asked import posted_text
from storystick.bench.files.differences import compared
from storystick.bench.files.file_names import free_name
from storystick.bench.files.folder import NOTHING, Meanwhile, Text
from storystick.bench.state import the_bench
from storystick.errors import Fault, StorystickError

routes: Final = Blueprint("saving", __name__, url_prefix="/job")


@routes.post("/<name>/save")
def save(name: str) -> str:
    """Write the draft into its file, or show what that has become meanwhile."""
    text = posted_text()
    try:
        return _saved(the_bench().folder.save(name, text, request.form.get("version", NOTHING)))
    except Meanwhile as now:
        return _both(name, text, now)
    except StorystickError as error:
        return render_template("saving/not-saved.html", faults=error.faults, text=text)


@routes.post("/<name>/save-as")
def save_as(name: str) -> str:
    """Write the draft into a new file; the page goes on there."""
    text, typed = posted_text(), request.form.get("as", "")
    try:
        new = the_bench().folder.put(typed, text.encode())
    except StorystickError as error:
        now = Meanwhile(*_now(name))
        return _both(name, text, now, typed, error.faults)
    return render_template("saving/saved.html", file=the_bench().folder.read(new), elsewhere=True)


@routes.post("/<name>/compare")
def compare(name: str) -> str:
    """The draft beside the file as it is now."""
    return _both(name, posted_text(), Meanwhile(*_now(name)))


@routes.get("/<name>/version")
def version(name: str) -> dict[str, str]:
    """The version of the file as it is now, asked for every few seconds."""
    return {"version": the_bench().folder.version(name)}


def _now(name: str) -> tuple[str, str | None]:
    folder = the_bench().folder
    try:
        file = folder.read(name)
    except StorystickError:
        return folder.version(name), None
    return file.version, file.text


def _saved(file: Text) -> str:
    return render_template("saving/saved.html", file=file, elsewhere=False)


def _both(name: str, text: str, now: Meanwhile, typed: str = "", faults: tuple[Fault, ...] = ()) -> str:
    suggested = typed or free_name(name, [name, *the_bench().folder.names()])
    lines = [] if now.text is None else compared(text, now.text)
    return render_template("saving/meanwhile.html", now=now, lines=lines, text=text, suggested=suggested, faults=faults)
