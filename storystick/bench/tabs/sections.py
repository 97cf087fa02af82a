"""The tabs of parts, set-ups and glue-up: the sections of the bench sheet, to tick and to time on the page."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Final

from flask import render_template

from storystick.bench.draft import Draft
from storystick.bench.places import Steps
from storystick.bench_sheet.content import Group, Section
from storystick.bench_sheet.glue_up import glue_up
from storystick.bench_sheet.sections import parts
from storystick.bench_sheet.set_ups import set_ups
from storystick.cutting.parts import NO_PARTS
from storystick.errors import StorystickError
from storystick.layout.stations import Layout
from storystick.tooling.settings import NO_SET_UP

TICKED: Final = {"parts": "cut", "set-ups": "done", "glue-up": "done"}
"""What a tick says in each section, by its key."""


def show_parts(draft: Draft, _: Steps) -> str:
    """The cutting list by stock."""
    return _shown(draft, _parts)


def show_set_ups(draft: Draft, _: Steps) -> str:
    """The settings of the shop's tools; without a shop, what they would have to do."""
    return _shown(draft, _set_ups)


def show_glue_up(draft: Draft, _: Steps) -> str:
    """The stages of the glue-up, each with its clock."""
    return _shown(draft, lambda layout: (glue_up(layout), ()))


_NO_SHOP: Final = (
    "The shop is not known yet: its routers, bits and saws. Go to all jobs, press New shop, and fill in what you have."
)
"""The listing's own words for this speak of files and of the command line."""


def _parts(layout: Layout) -> tuple[Section | None, tuple[str, ...]]:
    return (parts(layout), ()) if layout.cabinets else (None, (NO_PARTS,))


def _set_ups(layout: Layout) -> tuple[Section | None, tuple[str, ...]]:
    section, remarks = set_ups(layout), () if layout.job.shop else (_NO_SHOP,)
    return (section, remarks) if section.groups else (None, (*remarks, NO_SET_UP))


def _shown(draft: Draft, make: Callable[[Layout], tuple[Section | None, tuple[str, ...]]]) -> str:
    """The tab of a draft; empty where that has faults. What the job has nothing of is said."""
    layout = draft.layout
    if layout is None or draft.faults:
        return ""
    try:
        section, remarks = make(layout)
    except StorystickError as error:
        section, remarks = None, tuple(map(str, error.faults))
    return render_template(
        "tabs/section.html", draft=draft, section=section, remarks=remarks, ticked=TICKED, clocks=clocks_of
    )


def clocks_of(group: Group) -> list[tuple[str, str]]:
    """The clocks of a stage, one for each cabinet that goes through it: whose it is, and what the page's script reads.

    That is JSON: by each word that starts it, what is due then, each by its word and after how many minutes.
    """
    phases = ((room.whose, [[clock.words, clock.then] for clock in room.clocks if clock.then]) for room in group.rooms)
    return [(whose, json.dumps(own)) for whose, own in phases if own]
