"""The page of one job: its text is held by the browser, sent with every change, and sent back with all that follows."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

from flask import Blueprint, abort, render_template, request

from storystick.bench.asked import posted_text, refuse
from storystick.bench.draft import Draft, read_draft
from storystick.bench.editing.changes import Change, changed
from storystick.bench.fields.forms import Forms
from storystick.bench.fields.outline import outline
from storystick.bench.file_kinds import kind_of_file, tables_of
from storystick.bench.pictures.job import thing_of
from storystick.bench.places import Steps, read_pointer
from storystick.bench.state import the_bench
from storystick.bench.tabs import OF_A_THING, TABS, Tab
from storystick.errors import Fault, StorystickError
from storystick.layout.alike import lettered_sticks
from storystick.layout.boards import board_faces
from storystick.layout.stations import Layout

routes: Final = Blueprint("work", __name__, url_prefix="/job")

_MOST_CHANGES: Final = 200
"""No hand types more between two answers."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What the page sends: its text as it was before the ``changes``, what is chosen (``at``), and the tab in sight.

    ``with_form`` is whether the fields are to be drawn anew, and ``shown`` the tab that the picture in sight is of,
    empty where it is of none; ``drawn`` is what that is of, where it is a drawing.
    """

    text: str = field(repr=False)
    at: Steps = ()
    tab: str = next(iter(TABS))
    changes: Sequence[Change] = ()
    with_form: bool = False
    shown: str = ""
    drawn: Steps = ()


def asked() -> Asked:
    """What the request asks; one that is none of ours ends with 400."""
    form = request.form
    try:
        changes = [_change(each) for each in json.loads(form.get("changes", "[]"))]
        at, drawn = read_pointer(form.get("at", "")), read_pointer(form.get("drawn", ""))
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        refuse()
    if len(changes) > _MOST_CHANGES:
        refuse()
    tab = form.get("tab", "")
    tab = tab if tab in TABS else next(iter(TABS))
    return Asked(posted_text(), at, tab, changes, "form" in form, form.get("shown", ""), drawn)


def _place(pointer: str) -> Steps:
    try:
        return read_pointer(pointer)
    except ValueError:
        abort(400, "There is no such place in a job.")


def _change(each: Mapping[str, str]) -> Change:
    kind, at, value = (_whole(str(each.get(key, ""))) for key in ("kind", "at", "value"))
    return Change(kind, read_pointer(at), value)


def _whole(text: str) -> str:
    """Without halves of signs, which JSON can have and no file."""
    return text.encode("utf-8", "replace").decode()


@routes.get("/<name>")
def page(name: str) -> str:
    """The page of a job."""
    file = the_bench().folder.read(name)
    draft = read_draft(the_bench(), name, file.text)
    chosen = request.args.get("at")
    at = _first_thing(draft) if chosen is None else _place(chosen)
    ask = _fitting(draft, Asked(file.text, at=at, with_form=True))
    return render_template("work/work.html", version=file.version, folder=the_bench().folder.mark, **_views(draft, ask))


@routes.post("/<name>/edit")
def edit(name: str) -> str:
    """The text with its changes, and what follows from it; a change that cannot be is told, and the others too."""
    ask = asked()
    refused: list[Fault] = []
    try:
        text = changed(ask.text, ask.changes, kind_of_file(name, tables_of(ask.text) or {}).keys)
    except StorystickError as error:
        text = ask.text
        refused.extend(error.faults)
    draft = read_draft(the_bench(), name, text)
    return render_template("work/answer.html", refused=refused, **_views(draft, _fitting(draft, ask)))


def _fitting(draft: Draft, ask: Asked) -> Asked:
    """What is asked, with a tab that there is of such a file."""
    tabs = _tabs(draft)
    return ask if ask.tab in tabs else replace(ask, tab=next(iter(tabs)))


def _tabs(draft: Draft) -> Mapping[str, Tab]:
    """A shop file has its text only beside its fields."""
    return {key: tab for key, tab in TABS.items() if key == "text"} if draft.is_shop else TABS


def _views(draft: Draft, ask: Asked) -> Mapping[str, object]:
    """What is shown of a draft: the tab in sight, its outline, and its fields where they are asked for.

    Where that can show nothing now, the last of it stays, and words stand in the place of what is of another tab, or
    a picture of something else.
    """
    try:
        view = TABS[ask.tab].show(draft, ask.at)
    except StorystickError:  # What is found only when it is listed is told by the listing's own command.
        view = ""
    is_shown = bool(view)
    if not view and (ask.shown, ask.drawn) != (ask.tab, thing_of(ask.at) if ask.tab in OF_A_THING else ()):
        view = render_template("work/nothing.html")
    fields = _fields(draft, ask.at, ask.with_form)
    shown = {"view": view, "view_of": ask.tab if is_shown else ""}
    return {"draft": draft, "ask": ask, "tabs": _tabs(draft), **shown, **fields}


def _fields(draft: Draft, at: Steps, with_form: bool) -> Mapping[str, object]:
    """The outline of a draft, and the form of what is chosen where it is asked for.

    Neither where the text is no TOML: the page keeps those that it has.
    """
    forms = _forms(draft)
    if forms is None:
        return {"outline": None, "form": None}
    places = [fault.steps if fault.file == draft.name else () for fault in draft.faults]
    return {"outline": list(outline(forms, places)), "form": forms.at(at) if with_form else None}


def _first_thing(draft: Draft) -> Steps:
    """What is shown of a draft first."""
    forms = _forms(draft)
    return forms.first if forms else ()


def _forms(draft: Draft) -> Forms | None:
    tables = tables_of(draft.text)
    if tables is None:
        return None
    return Forms(kind_of_file(draft.name, tables), tables, names_of(draft.layout) if draft.layout else {})


def names_of(layout: Layout) -> Mapping[str, Sequence[str]]:
    """The boards that templates can be had of, and the sticks that can lie on the faces of a square one."""
    boards = dict.fromkeys(face.board for face in board_faces(layout.cabinets))
    sticks = [name for strip in lettered_sticks(layout) for name in strip.serves]
    return {"board": list(boards), "face": sticks}
