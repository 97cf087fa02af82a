"""Where paper is folded over an edge of the stick: a dashed level line over openings, and ticks beyond both ends.

No band is crossed by it, so that it is never in the way of an edge that is struck from.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise
from typing import Final

from storystick.drawing.lanes import TAB_MM
from storystick.drawing.shapes import FINE_MM, Line
from storystick.drawing.window import Window
from storystick.layout.model import SpanKind, StickLayout

TICK_MM: Final = 3.0
"""So far beyond the end of a tile its fold ticks reach."""

_DASH_MM: Final = (2.0, 1.2)
OFF_INK_MM: Final = 0.8
"""A fold keeps so far from whatever is struck from."""


def white_stretches(layout: StickLayout, window: Window) -> list[tuple[float, float]]:
    """From where to where, in mm from the window's left, nothing that is struck from stands on the marking edge."""
    positions = (*layout.bare_edges, *(point.at for point in layout.points))
    lines = sorted(window.x(station) for station in positions if window.start <= station <= window.end)
    openings = (window.stretch(span.start, span.end) for span in layout.spans if span.kind is SpanKind.OPENING)
    found: list[tuple[float, float]] = []
    for left, right in sorted(filter(None, openings)):
        edges = [left, *(x for x in lines if left < x < right), right]
        found.extend((near + OFF_INK_MM, far - OFF_INK_MM) for near, far in pairwise(edges))
    return [(left, right) for left, right in found if right - left >= _DASH_MM[0]]


def draw_fold(stretches: Iterable[tuple[float, float]], y: float) -> Iterator[Line]:
    """The fold at the height ``y``, dashed over the stretches."""
    for left, right in stretches:
        yield Line(left, y, right, y, FINE_MM, _DASH_MM)


def fold_ticks(window: Window, y: float) -> Iterator[Line]:
    """The fold beyond both ends of a window: a short tick to lay a straightedge on, or dashes across its tab."""
    for station in (window.start, window.end):
        x, outward = window.x(station), window.direction * (1 if station == window.end else -1)
        near = x + outward * OFF_INK_MM
        if station == window.end and window.has_tab:
            yield Line(near, y, x + outward * (TAB_MM - OFF_INK_MM), y, FINE_MM, _DASH_MM)
        else:
            yield Line(near, y, x + outward * TICK_MM, y, FINE_MM)
