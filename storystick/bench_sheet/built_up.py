"""Words for a web page in which fractions are built up, numerator over denominator, and read out as one says them.

What is seen is hidden from screen readers, and what they read is hidden from sight: a stack of two figures would be
read as two numbers.
"""

from __future__ import annotations

import re
from html import escape
from typing import Final

from storystick.wording import whole_figures

_FRACTION: Final = re.compile(
    r"(?<![\w/.])(?P<whole>[0-9]+[ \N{NO-BREAK SPACE}])?(?P<over>[0-9]+)/(?P<under>[0-9]+)(?![\w/])"
)
_ROUNDED: Final = re.compile(r"(?<=[0-9])\N{NO-BREAK SPACE}(full|scant)\b")
_SMALL: Final = '\N{NO-BREAK SPACE}<span class="rounded">\\1</span>'
_BUILT: Final = (
    '<span class="figure"><span class="spoken">{spoken}</span><span class="seen" aria-hidden="true">{whole}'
    '<span class="fraction"><span class="over">{over}</span><span class="under">{under}</span></span></span></span>'
)


def built_up(text: str) -> str:
    """The text as HTML, escaped, with no line broken inside a figure."""
    return _FRACTION.sub(_built, _ROUNDED.sub(_SMALL, escape(whole_figures(text))))


def _built(found: re.Match[str]) -> str:
    whole = (found["whole"] or "").strip()
    spoken = " ".join(filter(None, (whole, f"{found['over']}/{found['under']}")))
    return _BUILT.format(spoken=spoken, whole=whole, over=found["over"], under=found["under"])
