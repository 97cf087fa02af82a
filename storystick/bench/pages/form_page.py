"""The fields and the outline of a draft, for the page."""

from __future__ import annotations

import re
from collections.abc import Mapping

from storystick.bench.draft import Draft
from storystick.bench.fields.forms import Forms
from storystick.bench.fields.outline import outline
from storystick.bench.file_kinds import file_of, tables_of
from storystick.bench.places import Steps, write_pointer


def fields_of(draft: Draft, at: Steps, with_form: bool) -> Mapping[str, object]:
    """What the templates show: the outline, and the form of what is chosen where it is asked for.

    Neither where the text is no TOML: the page keeps those that it has.
    """
    forms = _forms(draft)
    if forms is None:
        return {"outline": None, "form": None}
    places = [fault.steps if fault.file == draft.name else () for fault in draft.faults]
    return {"outline": list(outline(forms, places)), "form": forms.at(at) if with_form else None}


def first_thing(draft: Draft) -> Steps:
    """What is shown of a draft first."""
    forms = _forms(draft)
    return forms.first if forms else ()


def _forms(draft: Draft) -> Forms | None:
    tables = tables_of(draft.text)
    return None if tables is None else Forms(file_of(draft.name, tables), tables)


def ident(steps: Steps) -> str:
    """An HTML id for a place, which no other place has."""
    return "at" + re.sub(r"[^A-Za-z0-9/]", lambda sign: f"_{ord(sign[0]):x}_", write_pointer(steps)).replace("/", "-")
