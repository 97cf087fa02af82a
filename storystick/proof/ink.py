"""The ink of a pen: its grey, how much of it shows, its letters (ISO 32000-1, 8.4)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from storystick.proof.figures import Bounds
from storystick.proof.fonts import Font
from storystick.proof.matrices import Matrix


@dataclass(slots=True)
class State:
    """What a pen draws with: ``place`` leads from its units to mm, ``clip`` is where ink shows, in mm."""

    place: Matrix
    clip: Bounds
    fill: float = 0.0
    stroke: float = 0.0
    fill_opacity: float = 1.0
    stroke_opacity: float = 1.0
    width: float = 1.0
    dashed: bool = False
    font: Font = field(default_factory=lambda: Font({}))
    font_size: float = 0.0
    text_mode: int = 0
    leading: float = 0.0

    @property
    def fill_ink(self) -> float:
        """The grey that shows on white paper."""
        return _on_white(self.fill, self.fill_opacity)

    @property
    def stroke_ink(self) -> float:
        """The same of a stroke."""
        return _on_white(self.stroke, self.stroke_opacity)


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
