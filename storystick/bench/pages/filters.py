"""Labels and pictures as HTML: figures in line, their fractions built up, and read out as one says them."""

from __future__ import annotations

import re
from typing import Final

from markupsafe import Markup

from storystick.bench_sheet.built_up import built_up
from storystick.bench_sheet.content import Picture
from storystick.writers import svg

_LABEL: Final = re.compile(
    r"(?P<whole>-?[0-9]+)?(?:(?P<decimals>\.[0-9]+)|(?:^| )(?P<over>[0-9]+)/(?P<under>[0-9]+))?"
    r"(?: (?P<rounded>full|scant))?"
)
_FRACTION: Final = '<span class="fraction"><span class="over">{over}</span><span class="under">{under}</span></span>'
_FIGURE: Final = (
    '<span class="figure"><span class="spoken">{label}</span><span class="slots" aria-hidden="true">'
    '<span class="whole">{whole}</span><span class="part">{part}</span><span class="rounded">{rounded}</span>'
    "</span></span>"
)


def figure(label: str) -> Markup:
    """A label of a length, in slots that stand in line in a column; words that are no such label as they are."""
    found = _LABEL.fullmatch(label)
    if not label or not found or not (found["whole"] or found["over"]):
        return words(label)
    fraction = _FRACTION.format(over=found["over"], under=found["under"]) if found["over"] else ""
    part = fraction or found["decimals"] or ""
    return Markup(_FIGURE.format(label=label, whole=found["whole"] or "", part=part, rounded=found["rounded"] or ""))


def drawn(picture: Picture) -> Markup:
    """A picture as an element of the page."""
    return Markup(svg.picture(picture.page, picture.words))


def words(text: str) -> Markup:
    """Words with the figures in them built up."""
    return Markup(built_up(text))
