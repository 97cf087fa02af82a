"""A template drawn whole, or in the pieces that sheets of paper can hold.

Its ink is exactly as wide as the bar: filled areas alone, no stroke on their edges. x runs along it from 0 at a piece's
left, y across it from 0 at its lower edge to its width.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Final

from storystick.drawing.bar import HOLE_MM, Template, place_words
from storystick.drawing.shapes import Box, Line, Shape
from storystick.drawing.window import Window
from storystick.job.job import Job

_GREY: Final = 0.9
_EDGE_MM: Final = 0.35
_CROSS_ARM_MM: Final = 3.0
_CROSS_MM: Final = 0.1
_REGISTER_OUTSIDE_MM: Final = 4.4


@dataclass(frozen=True, slots=True)
class TemplatePiece:
    """What is drawn of one window, from x = 0 at its left."""

    window: Window
    shapes: tuple[Shape, ...]


@dataclass(frozen=True, slots=True)
class TemplateDrawing:
    """A template in its pieces from the left; with their words all reach from ``bottom_mm`` to ``top_mm``.

    ``register_mm`` are the heights at which the pieces are free for register marks at their seams.
    """

    template: Template
    bottom_mm: float
    top_mm: float
    register_mm: tuple[float, float]
    pieces: tuple[TemplatePiece, ...]


def draw_template(template: Template, job: Job, seams: Sequence[Fraction] = ()) -> TemplateDrawing:
    """Draw a template, cut at ``seams``: rising stations in mm from its left end, strictly inside its length.

    Raises:
        Faults: the font has no sign for a character of a name.
    """
    edges = (Fraction(0), *seams, template.length)
    windows = [
        Window(start, end, template.length, None, number, len(edges) - 1)
        for number, (start, end) in enumerate(pairwise(edges), start=1)
    ]
    lettering = place_words(template, windows, job)
    pieces = (
        TemplatePiece(window, (*_strip(template, window), *words))
        for window, words in zip(windows, lettering.pieces, strict=True)
    )
    height = float(template.width)
    beside = lettering.bottom_mm < 0
    register = (-_REGISTER_OUTSIDE_MM, height + _REGISTER_OUTSIDE_MM) if beside else (height / 4, height * 3 / 4)
    return TemplateDrawing(template, lettering.bottom_mm, lettering.top_mm, register, tuple(pieces))


def _strip(template: Template, window: Window) -> Iterator[Shape]:
    """One black area, that all its edges are those of, with a grey one in it where it is wide enough for both.

    With one area for both edges, a device that rounds areas to dots cannot round them apart.
    """
    width, height = window.width, float(template.width)
    yield Box(0.0, 0.0, width, height)
    if height > 3 * _EDGE_MM:
        left = _EDGE_MM if window.start == 0 else 0.0
        right = width - (_EDGE_MM if window.end == window.length else 0.0)
        yield Box(left, _EDGE_MM, right - left, height - 2 * _EDGE_MM, _GREY)
    if template.has_hole and window.number == 1:
        yield from _hole(height / 2)


def _hole(y: float) -> Iterator[Shape]:
    """A fine cross where the punch goes."""
    yield Line(HOLE_MM - _CROSS_ARM_MM, y, HOLE_MM + _CROSS_ARM_MM, y, _CROSS_MM)
    yield Line(HOLE_MM, y - _CROSS_ARM_MM, HOLE_MM, y + _CROSS_ARM_MM, _CROSS_MM)
