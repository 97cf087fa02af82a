"""The page as a web app: its rooms joined, and what all of them share."""

from __future__ import annotations

import sys
import traceback
from typing import Final

from flask import Flask, Response, abort, render_template, request, send_file
from werkzeug.exceptions import HTTPException

from storystick.bench.guard import guard
from storystick.bench.pages import beginning, saving, start, work
from storystick.bench.pages.filters import drawn, figure, words
from storystick.bench.places import ident, write_pointer
from storystick.bench.state import Bench, the_bench
from storystick.bench.tabs import calibrate, print_tab, square
from storystick.bench_sheet.content import key_in, keyed
from storystick.drawing.lettering import font_file
from storystick.errors import StorystickError
from storystick.wording import about, capital

_ROOMS: Final = (
    start.routes,
    beginning.routes,
    work.routes,
    saving.routes,
    square.routes,
    print_tab.routes,
    calibrate.routes,
)
_FONTS: Final = {path.name: path for path in map(font_file, (False, True))}


def create_app(bench: Bench, token: str, port: int) -> Flask:
    """The app of a bench that answers to a ``token`` at a ``port`` of this machine."""
    app = Flask(__name__)
    app.extensions["bench"] = bench
    app.jinja_env.trim_blocks = app.jinja_env.lstrip_blocks = True
    app.jinja_env.filters |= {
        "pointer": write_pointer,
        "ident": ident,
        "figure": figure,
        "words": words,
        "keyed": keyed,
        "key_in": key_in,
        "drawn": drawn,
        "about": about,
        "capital": capital,
    }
    guard(app, token, port)
    for routes in _ROOMS:
        app.register_blueprint(routes)
    app.add_url_rule("/font/<name>", view_func=_font)
    app.add_url_rule("/end", "end", _end, methods=["POST"])
    app.register_error_handler(StorystickError, _faulty)
    app.register_error_handler(HTTPException, _refused)
    app.register_error_handler(Exception, _broken)
    return app


def _font(name: str) -> Response:
    """One of the two faces that are printed with."""
    if name not in _FONTS:
        abort(404)
    return send_file(_FONTS[name], mimetype="font/ttf")


def _end() -> str:
    the_bench().end()
    return render_template("ended.html")


def _sorry(**said: object) -> str:
    """Words for a page that is there, or a page of its own with the way back; that has styles where it may have any."""
    return render_template("sorry.html" if "HX-Request" in request.headers else "sorry-page.html", **said)


def _faulty(error: StorystickError) -> tuple[str, int]:
    """What the user can mend, in the sentences of the faults."""
    return _sorry(faults=error.faults), 422


def _refused(error: HTTPException) -> tuple[str, int]:
    return _sorry(words=_REFUSALS.get(error.code or 0, error.description)), error.code or 500


def _broken(error: Exception) -> tuple[str, int]:
    """A fault of our own: told where the program was started, not on the page."""
    traceback.print_exception(error, file=sys.stderr)
    return _sorry(words=_REFUSALS[500]), 500


_REFUSALS: Final = {
    404: "There is nothing here. Go back to all jobs.",
    405: "That cannot be done here.",
    413: "That is larger than anything that belongs here.",
    500: "Something went wrong in the program itself. What you typed is kept on this page: try the last step again.",
}
