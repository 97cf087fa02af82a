"""What is shown in the middle of the page, a row a tab."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

from flask import render_template

from storystick.bench.draft import Draft
from storystick.bench.drawings import show_drawing, show_strips
from storystick.bench.marks import show_marks
from storystick.bench.places import Steps
from storystick.bench.print_page import show_print
from storystick.bench.square import show_square
from storystick.bench.work_lists import show_glue_up, show_parts, show_set_ups


@dataclass(frozen=True, slots=True)
class Tab:
    """A tab with its ``label``, and what it shows of a draft, in which a place is chosen: HTML, empty where nothing
    can be shown of it now, and the last that could be stays."""

    label: str
    show: Callable[[Draft, Steps], str]


def _text(draft: Draft, at: Steps) -> str:
    return render_template("text.html", draft=draft, at=at)


TABS: Final[Mapping[str, Tab]] = {
    "drawing": Tab("Drawing", show_drawing),
    "strips": Tab("Strips", show_strips),
    "marks": Tab("Marks", show_marks),
    "parts": Tab("Parts", show_parts),
    "set-ups": Tab("Set-ups", show_set_ups),
    "square": Tab("Square", show_square),
    "glue-up": Tab("Glue-up", show_glue_up),
    "print": Tab("Print", show_print),
    "text": Tab("Text", _text),
}
