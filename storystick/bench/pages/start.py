"""The first page: the jobs of the folder as cards, and what can be done with each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from storystick.bench.files.file_names import free_among, is_shown
from storystick.bench.pages.cards import card_of, heading_of
from storystick.bench.state import the_bench
from storystick.errors import Fault, StorystickError
from storystick.job.sources import SHOP_FILE
from storystick.lengths import Units
from storystick.starting import STARTS

routes: Final = Blueprint("start", __name__)

_DONE: Final = {
    "copied": "There is a copy now: {name}.",
    "renamed": "It is called {name} now.",
    "deleted": "{name} was moved to the deleted jobs, at the foot of this page.",
    "back": "{name} is back.",
}
"""What is said of what was done, by a word that is in the address for it."""

_SHOP_BEGUN: Final = """\
# What the shop has: routers, bits, bars, saws, glues, clamps, printers. The jobs in this folder read it.
units = "{units}"               # of numbers without a unit
"""


@dataclass(frozen=True, slots=True)
class Refused:
    """What could not be done with a file, and what had been typed for it."""

    name: str
    faults: Sequence[Fault]
    typed: str = ""


@routes.get("/")
def page() -> str:
    """Every file of the folder, those that were changed last before the others."""
    name = request.args.get("name", "")
    words = _DONE.get(request.args.get("done", ""), "") if is_shown(name) else ""  # a link may say anything
    return _page(words.format(name=name))


def _page(done: str = "", refused: Refused | None = None) -> str:
    bench = the_bench()
    files = [heading_of(bench, name) for name in bench.folder.names()]
    files.sort(key=lambda each: (each.is_shop, -each.when.timestamp()))
    taken = {each.casefold() for each in bench.folder.taken()}
    suggested = {each.name: free_among(each.name, taken) for each in files}
    deleted = bench.folder.deleted()
    shown = {"files": files, "suggested": suggested, "deleted": deleted, "starts": STARTS.values()}
    has_shop = SHOP_FILE in taken
    return render_template("start/start.html", done=done, refused=refused, has_shop=has_shop, **shown)


@routes.get("/card/<name>")
def card(name: str) -> str:
    """What takes longer to tell of a file: fetched when its card comes into sight."""
    return render_template("start/card.html", name=name, card=card_of(the_bench(), name))


@routes.post("/shop")
def begin_shop() -> Response:
    """A shop file for the jobs of the folder, in the ``units`` asked for, to be filled at its own page."""
    units = Units.MM if request.form.get("units") == Units.MM.value else Units.INCH
    name = the_bench().folder.put(SHOP_FILE, _SHOP_BEGUN.format(units=units.value).encode())
    return redirect(url_for("work.page", name=name), 303)


@routes.post("/copy/<name>")
def copy(name: str) -> Response:
    """A copy beside it."""
    return _done("copied", the_bench().folder.copy(name))


@routes.post("/rename/<name>")
def rename(name: str) -> Response | tuple[str, int]:
    """Another name."""
    typed = request.form.get("as", "")
    try:
        return _done("renamed", the_bench().folder.rename(name, typed))
    except StorystickError as error:
        return _page(refused=Refused(name, error.faults, typed)), 422


@routes.post("/delete/<name>")
def delete(name: str) -> Response:
    """To the deleted ones."""
    return _done("deleted", the_bench().folder.delete(name))


@routes.post("/put-back/<name>")
def put_back(name: str) -> Response:
    """From the deleted ones."""
    return _done("back", the_bench().folder.put_back(name))


def _done(what: str, name: str) -> Response:
    return redirect(url_for("start.page", done=what, name=name), 303)
