"""The ink of a pen: its grey, how much of it shows, its letters (ISO 32000-1, 8.4)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import dist
from typing import Any, Final

from storystick.proof.figures import Bounds, Figure, Point
from storystick.proof.fonts import Font
from storystick.proof.matrices import Matrix

SLACK_MM: Final = 0.02
"""What ends as far outside the page or a clipping path still counts as drawn whole: half a dot at 600 dots an inch."""


@dataclass(slots=True)
class State:
    """What a pen draws with: ``place`` leads from its units to mm, ``clip`` is where ink shows, in mm.

    Where it is ``ragged``, ink shows in only a part of that; ``cuts_letters`` tells that it will be, after a text.
    """

    place: Matrix
    clip: Bounds
    fill: float = 0.0
    stroke: float = 0.0
    fill_opacity: float = 1.0
    stroke_opacity: float = 1.0
    width: float = 1.0
    dashed: bool = False
    cap: int = 0
    font: Font = field(default_factory=lambda: Font({}))
    font_size: float = 0.0
    stretch: float = 1.0
    text_mode: int = 0
    leading: float = 0.0
    ragged: bool = False
    cuts_letters: bool = False

    def clip_to(self, path: Sequence[Sequence[Point]], curved: bool) -> None:
        """Nothing is drawn outside the path from now on; an empty one leaves nothing."""
        points = tuple(point for part in path for point in part)
        box = Figure(points, 0.0).bounds if points else Bounds(0.0, 0.0, 0.0, 0.0)
        self.clip = self.clip.common(box)
        self.ragged = self.ragged or curved or not (len(path) <= 1 and _is_upright(points, box))

    @property
    def fill_ink(self) -> float:
        """The grey that shows on white paper."""
        return _on_white(self.fill, self.fill_opacity)

    @property
    def stroke_ink(self) -> float:
        """The same of a stroke."""
        return _on_white(self.stroke, self.stroke_opacity)


def _is_upright(points: Sequence[Point], box: Bounds) -> bool:
    """Whether a path goes once around an upright rectangle, corner by corner."""
    corners = ((box.left, box.bottom), (box.right, box.bottom), (box.right, box.top), (box.left, box.top))
    at = [next((at for at, corner in enumerate(corners) if dist(point, corner) <= SLACK_MM), -1) for point in points]
    around = [one for one, other in pairwise([*at, *at[:1]]) if one != other]
    steps = {(other - one) % 4 for one, other in pairwise([*around, *around[:1]])}
    return sorted(around) == [0, 1, 2, 3] and steps in ({1}, {3})


def _on_white(grey: float, opacity: float) -> float:
    return 1 - (1 - grey) * opacity


def grey_of(operands: Sequence[Any]) -> float:
    """A grey, a mean of red, green and blue, or what four inks leave of white; a pattern counts as black."""
    numbers = [float(number) for number in operands if not isinstance(number, str)]
    match numbers:
        case [grey]:
            return grey
        case [red, green, blue]:
            return (red + green + blue) / 3
        case [cyan, magenta, yellow, black]:
            return max(0.0, 1 - black - (cyan + magenta + yellow) / 3)
    return 0.0
