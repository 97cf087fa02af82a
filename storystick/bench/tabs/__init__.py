"""The tabs: what is shown in the middle of the page of a job, a module a tab, and the table of them all."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

from flask import render_template

from storystick.bench.draft import Draft
from storystick.bench.places import Steps
from storystick.bench.tabs.drawing import show_drawing, show_strips
from storystick.bench.tabs.marks import show_marks
from storystick.bench.tabs.print_tab import show_print
from storystick.bench.tabs.sections import show_glue_up, show_parts, show_set_ups
from storystick.bench.tabs.square import show_square


@dataclass(frozen=True, slots=True)
class Tab:
    """A tab with its ``label``, and what it shows of a draft, in which a place is chosen: HTML, empty where nothing
    can be shown of it now, and the last that could be stays."""

    label: str
    show: Callable[[Draft, Steps], str]


def _text(draft: Draft, at: Steps) -> str:
    return render_template("tabs/text.html", draft=draft, at=at)


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

OF_A_THING: Final = ("drawing", "strips")
"""The tabs whose pictures are of what is chosen."""
