"""What lies how high on a strip, in mm above its marking edge."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from storystick.drawing.window import REGISTER_FROM_EDGE_MM

# From the marking edge up: the band of the parts, and beside each edge its station ...
FOOT_BOTTOM: Final = 2.1
TICK_TOP: Final = 3.2
POINTER_TOP: Final = 5.4
DIMENSION_Y: Final = 10.6
SIZE_BOTTOM: Final = 11.0
MARK_TOP: Final = 12.0
# ... the grooves, so that a shoulder is seen beside its groove's edge ...
GROOVE_BOTTOM: Final = 12.6
GROOVE_TOP: Final = 15.6
# ... and where there is one the face frame, since its members overlap the parts behind them.
BESIDE_BOTTOM: Final = 17.2
BESIDE_TOP: Final = 21.2

REGISTER_MM: Final = (REGISTER_FROM_EDGE_MM, 24.0)
"""Where the register marks sit at a seam, on every tile: among the bands, and above them."""

FLAG_MM: Final = 1.8
"""How far the flag of a straightedge's line stands out from it."""

FAN_MM: Final = 2.6
"""What leaders take to lean from their marks to labels that had to step aside."""

FEET_MM: Final = 0.85
"""What letters have below their baseline, and a hair."""

NAMES_MM: Final = 3.6
"""What a line of names takes, with a hair above it."""

HEAD_MM: Final = 7.2
"""What the head of a tile takes: its letter, or two lines of words."""

_APART_MM: Final = 0.3
_HEAD_APART_MM: Final = 1.4
_SCALE_MM: Final = 5.6
_SIZES_MM: Final = {False: 3.6, True: 5.8}
"""What the sizes take without and with fractions."""


@dataclass(frozen=True, slots=True)
class StripLanes:
    """The lanes of a tile whose leaders lean over ``fan`` mm and whose lifted labels are ``lifted`` mm high.

    ``beside`` says whether a lane for a face frame lies above the one for grooves, ``built_up`` whether its figures
    have fractions, ``has_scale`` whether there is room for the running scale.
    """

    fan: float
    lifted: float
    beside: bool = False
    built_up: bool = False
    has_scale: bool = True

    @property
    def names_bottom(self) -> float:
        bands = BESIDE_TOP if self.beside else GROOVE_TOP
        return max(bands, SIZE_BOTTOM + _SIZES_MM[self.built_up]) + _APART_MM

    @property
    def names_baseline(self) -> float:
        return self.names_bottom + FEET_MM

    @property
    def fan_bottom(self) -> float:
        return self.names_bottom + NAMES_MM

    @property
    def lifted_bottom(self) -> float:
        return self.fan_bottom + self.fan

    @property
    def head_bottom(self) -> float:
        """So far above the names that none is read as a line of the head, but where there is no room for a scale."""
        return self.lifted_bottom + self.lifted + (_HEAD_APART_MM if self.lifted or self.has_scale else 0.0)

    @property
    def scale_bottom(self) -> float:
        return self.head_bottom + HEAD_MM

    @property
    def height_mm(self) -> float:
        return self.scale_bottom + (_SCALE_MM if self.has_scale else 0.0)
