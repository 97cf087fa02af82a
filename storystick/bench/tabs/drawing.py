"""The tabs that show pictures: the drawing of what is chosen, and its strips in one piece."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from flask import render_template

from storystick.bench.draft import Draft
from storystick.bench.file_kinds import tables_of
from storystick.bench.pictures.job import pictures_of, strip_pictures, thing_of
from storystick.bench.pictures.picture import Picture
from storystick.bench.places import Steps
from storystick.layout.stations import Layout


def show_drawing(draft: Draft, at: Steps) -> str:
    """The pictures of what is chosen; empty where it has a fault.

    Raises:
        StorystickError: it cannot be drawn.
    """
    return _shown(draft, at, "drawing", lambda layout: pictures_of(layout, tables_of(draft.text) or {}, at))


def show_strips(draft: Draft, at: Steps) -> str:
    """The strips of what is chosen.

    Raises:
        StorystickError: one cannot be drawn.
    """
    return _shown(draft, at, "strips", lambda layout: strip_pictures(layout, at))


def _shown(draft: Draft, at: Steps, kind: str, draw: Callable[[Layout], Sequence[Picture]]) -> str:
    if draft.layout is None:
        return ""
    drawn = [(picture, picture.svg()) for picture in draw(draft.layout)]
    if not drawn and kind == "drawing":
        return ""
    return render_template("tabs/drawing.html", drawn=drawn, kind=kind, at=at, of=thing_of(at))
