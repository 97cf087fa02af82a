"""The bench sheet as one HTML file: its style, its script and its pictures are in it, and it asks nothing of anybody.

Its policy allows only that style and that script, by their digests, and no request. Letters are those of the device: a
subset of the printed faces would be 40 to 60 kB, most of a small job's sheet, and a picture's words keep their width in
any face. Ticks are kept by the device, under the job's version, and where it forbids that for as long as the page is
open. The same job gives the same bytes.
"""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Sequence
from functools import cache
from hashlib import sha256
from importlib.resources import files
from typing import Final

from jinja2 import Environment, StrictUndefined
from markupsafe import Markup

from storystick import __version__
from storystick.bench_sheet.built_up import built_up
from storystick.bench_sheet.content import Picture, key_in, keyed
from storystick.bench_sheet.sections import sections_of
from storystick.layout.alike import lettered_sticks
from storystick.layout.stations import Layout
from storystick.sheets.strips import StripSheets
from storystick.wording import capital
from storystick.writers.svg import picture

_POLICY: Final = "default-src 'none'; style-src {style}; script-src {script}; base-uri 'none'; form-action 'none'"


def bench_sheet(layout: Layout, strips: StripSheets, only: Sequence[str] = ()) -> bytes:
    """The file; of a job of which ``only`` some sticks are wanted it has no more than their marks.

    Raises:
        StorystickError: what is said of the job has a fault, or a name has a sign that the font lacks.
    """
    job = layout.job
    sticks = [each for each in lettered_sticks(layout) if not only or not set(only).isdisjoint(each.serves)]
    style, script = _text("sheet.css"), _text("sheet.js")
    page = (
        _environment()
        .from_string(_text("sheet.html"))
        .render(
            job=job,
            sections=list(sections_of(layout, strips, sticks, whole=not only)),
            warnings=[f"{capital(warning)}." for warning in layout.warnings],
            style=Markup(style),
            script=Markup(script),
            policy=_POLICY.format(style=_digest(style), script=_digest(script)),
            kept=f"{job.digest} {__version__}",
        )
    )
    return page.encode()


@cache
def _text(name: str) -> str:
    return files("storystick.bench_sheet").joinpath(name).read_text(encoding="utf-8")


@cache
def _environment() -> Environment:
    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    environment.filters |= {"built_up": _built_up, "picture": _picture, "keyed": keyed, "key_in": key_in}
    return environment


def _built_up(text: str) -> Markup:
    return Markup(built_up(text))


def _picture(shown: Picture) -> Markup:
    return Markup(picture(shown.page, shown.words))


def _digest(text: str) -> str:
    """What a policy knows a style or a script by."""
    return f"'sha256-{b64encode(sha256(text.encode()).digest()).decode()}'"
