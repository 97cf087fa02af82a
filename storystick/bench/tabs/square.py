"""The tab of squaring: every rectangle with its diagonal, room to type what it measures, and at once what that shows.

What was measured is kept by the browser, and comes with each request beside the draft.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final, TypeAlias

from flask import Blueprint, abort, render_template, request

from storystick.bench.asked import posted_text, refuse
from storystick.bench.draft import Draft, read_draft
from storystick.bench.places import Steps
from storystick.bench.state import the_bench
from storystick.bench_sheet.content import Picture, picture_of
from storystick.drawing.rack_picture import draw_rack
from storystick.errors import StorystickError
from storystick.job.job import Job
from storystick.layout.stations import Layout
from storystick.squaring.corners import shape_of
from storystick.squaring.findings import (
    CAUTION,
    EXPECTED_HEADINGS,
    HOW_TO_MEASURE,
    NO_RECTANGLE,
    error_words,
    expected_rows,
    lean_words,
    move_words,
    target_figures,
    toe_words,
    told_words,
    tolerance_words,
)
from storystick.squaring.lean import MeasuredBody, leans_of
from storystick.squaring.rack import Racked
from storystick.squaring.readings import TAPE_READ_TO, Reading, Sides, read_reading
from storystick.squaring.rectangles import Body, Target, bodies_of, targets_in
from storystick.squaring.rods import rod_words, rods_for
from storystick.wording import about

routes: Final = Blueprint("square", __name__, url_prefix="/job")

Typed: TypeAlias = Mapping[str, Mapping[str, str]]
"""What was typed of each rectangle, by its name: lengths by the words of the listing."""

DIAGONALS: Final = ("rising", "falling")


@dataclass(frozen=True, slots=True)
class Shown:
    """What the readings of one rectangle show: the ``push`` in few words, sentences, and a picture; or its faults."""

    push: str = ""
    is_square: bool = False
    words: Sequence[str] = ()
    picture: Picture | None = None
    picture_words: str = ""
    faults: Sequence[str] = ()


@dataclass(frozen=True, slots=True)
class Together:
    """What the readings of one body show together: sentences, and rows of what to expect where nothing was measured."""

    words: Sequence[str]
    expected: Sequence[Sequence[str]]


def show_square(draft: Draft, _: Steps) -> str:
    """The tab of a draft; empty where that has faults."""
    layout = draft.layout
    if layout is None or draft.faults:
        return ""
    job, bodies = layout.job, bodies_of(layout)
    rods = rods_for([target.rectangle for target in targets_in(bodies)], job.shop, job.units)
    return render_template(
        "tabs/square.html",
        draft=draft,
        bodies=bodies,
        figures_of=lambda target: target_figures(target, job.figures),
        how=HOW_TO_MEASURE,
        caution=CAUTION,
        goes_by=(tolerance_words(job), *toe_words(targets_in(bodies))),
        rods=[*rod_words(rods, job.figures)],
        diagonals=DIAGONALS,
        sides=Sides._fields,
        none_words=NO_RECTANGLE,
    )


@routes.post("/<name>/square")
def read(name: str) -> str:
    """What the readings show of the draft, each in its place on the page."""
    draft = read_draft(the_bench(), name, posted_text())
    typed = _typed(request.form.get("readings", "{}"))
    if draft.layout is None:
        abort(409, "The job as it stands cannot be laid out.")
    shown, together, finely = read_typed(draft.layout, typed)
    return render_template(
        "tabs/squared.html",
        bodies=bodies_of(draft.layout),
        shown=shown,
        together=together,
        headings=EXPECTED_HEADINGS,
        finely=finely,
    )


def _typed(text: str) -> Typed:
    """What the page sends; anything else ends with 400."""
    try:
        return {
            str(name): {str(of): str(length) for of, length in own.items()} for name, own in json.loads(text).items()
        }
    except (ValueError, AttributeError, RecursionError):
        refuse()


def read_typed(layout: Layout, typed: Typed) -> tuple[dict[str, Shown], dict[str, Together], str]:
    """What is shown of each rectangle and of each body, by their names; and how finely it is taken to be read."""
    bodies, job = bodies_of(layout), layout.job
    shown: dict[str, Shown] = {}
    readings = [reading for target in targets_in(bodies) if (reading := _reading(target, bodies, typed, job, shown))]
    leans = leans_of(bodies, readings, TAPE_READ_TO[job.units], job)
    for lean in leans:
        shown |= {racked.target.name: _shown(racked, lean, job) for racked in lean.measured}
    together = {lean.body.name: Together([*lean_words(lean)], expected_rows(lean, job.figures)) for lean in leans}
    return shown, together, error_words(leans[0].measured[0], job.figures) if leans else ""


def _reading(target: Target, bodies: Sequence[Body], typed: Typed, job: Job, shown: dict[str, Shown]) -> Reading | None:
    """What was measured of a rectangle, None where that is not both diagonals yet, or cannot be: that is ``shown``."""
    own = typed.get(target.name, {})
    lengths = {of: own[of] for of in (*DIAGONALS, *Sides._fields) if own.get(of, "").strip()}
    if not all(of in lengths for of in DIAGONALS):
        return None
    if not all(of in lengths for of in Sides._fields):
        # A side is typed after the other, and the diagonals say what they say meanwhile.
        lengths = {of: lengths[of] for of in DIAGONALS}
    try:
        reading = read_reading(target.name, lengths, job.units, [target.rectangle])
        leans_of(bodies, [reading], TAPE_READ_TO[job.units], job)
        shape_of(reading)
    except StorystickError as error:
        shown[target.name] = Shown(faults=[str(fault) for fault in error.faults])
        return None
    return reading


def _shown(racked: Racked, lean: MeasuredBody, job: Job) -> Shown:
    is_suspect = lean.suspect is not None and racked is lean.suspect.racked
    picture = draw_rack(racked, job.figures, pushes=not is_suspect)
    return Shown(
        push="" if is_suspect else move_words(racked, job.figures),
        is_square=racked.is_square and racked.sides_agree is not False,
        words=[*told_words(racked, lean, shape_of(racked.reading), job.figures)],
        picture=picture_of(picture.shapes, f"{racked.target.name}, as it stands"),
        picture_words=_times_words(picture.times),
    )


def _times_words(times: float | None) -> str:
    """How much larger than it is a lean is drawn."""
    if times is None:
        return "It does not lean."
    return f"The lean is drawn about {about(times)} times as large as it is." if times >= 2 else ""
