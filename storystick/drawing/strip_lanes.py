"""What lies how high on a strip, and how large its lettering is; in mm above the marking edge, and in points."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from storystick.drawing.window import REGISTER_FROM_EDGE_MM

# From the marking edge up: the band of the parts, with the lettering of the openings between them ...
TICK_TOP: Final = 3.2
POINTER_TOP: Final = 5.4
NUMBER_BASELINE: Final = 2.3
NAME_BASELINE: Final = 7.4
MARK_TOP: Final = 12.0
# ... the grooves, so that a shoulder is seen beside its groove's edge ...
GROOVE_BOTTOM: Final = 12.6
GROOVE_TOP: Final = 15.6
# ... and where there is one the face frame, since its members overlap the parts behind them.
BESIDE_BOTTOM: Final = 16.1
BESIDE_TOP: Final = 19.5

WORDS_PT: Final = 8.0
SIZE_PT: Final = 11.0
NUMBER_PT: Final = 9.5
NAME_PT: Final = 9.0
LIFTED_PT: Final = 8.5

FLAG_MM: Final = 1.8
"""How far the flag of a straightedge's line stands out from it."""

LINE_MM: Final = 3.5
"""What a line of lifted lettering takes, upright or upward."""

FAN_MM: Final = 3.4
"""What leaders take to lean from their marks to labels that had to step aside."""

_FAN_BOTTOM: Final = {False: 16.0, True: 19.9}
_HEADLINE_MM: Final = 4.4
_SCALE_MM: Final = 5.8


@dataclass(frozen=True, slots=True)
class StripLanes:
    """The lanes of a strip whose leaders lean over ``fan`` mm and whose lifted labels are ``lifted`` mm high.

    ``beside`` says whether a lane for a face frame lies above the one for grooves.
    """

    fan: float
    lifted: float
    beside: bool = False

    @property
    def fan_bottom(self) -> float:
        return _FAN_BOTTOM[self.beside]

    @property
    def lifted_bottom(self) -> float:
        return self.fan_bottom + self.fan

    @property
    def headline_bottom(self) -> float:
        return self.lifted_bottom + max(self.lifted, LINE_MM)

    @property
    def headline_baseline(self) -> float:
        return self.headline_bottom + 1.1

    @property
    def scale_bottom(self) -> float:
        return self.headline_bottom + _HEADLINE_MM

    @property
    def height_mm(self) -> float:
        return self.scale_bottom + _SCALE_MM

    @property
    def register_heights(self) -> tuple[float, float]:
        """Where the register marks sit at a seam: among the bands, and in the headline."""
        return REGISTER_FROM_EDGE_MM, self.headline_bottom + 2.0
