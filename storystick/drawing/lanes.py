"""What lies at which height of a strip, in mm up from the marking edge."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

MARK_TOP: Final = 12.0
NUMBER_BASELINE: Final = 2.3
NAME_BASELINE: Final = 7.4
TICK_TOP: Final = 3.2
POINTER_TOP: Final = 5.4
GROOVE_BOTTOM: Final = 12.6
GROOVE_TOP: Final = 15.6

NUMBER_PT: Final = 9.5
SIZE_PT: Final = 11.0
NAME_PT: Final = 9.0
LIFTED_PT: Final = 8.5
WORDS_PT: Final = 8.0
"""Nothing that is read at the bench is smaller than 8 points."""

WORDS_KEEP_MM: Final = 2.0
"""Nothing that is read stands nearer to a line that is cut along: a knife goes astray by less."""

LINE_MM: Final = 3.5
"""What a line of lifted lettering takes, upright or upward."""

SEAM_KEEP_MM: Final = 3.2
"""Beside a seam, this much is kept clear of words for the register marks."""

REGISTER_FROM_EDGE_MM: Final = 3.2
"""So far from the edge that is marked by, a register mark is centred: its arms stay inside the strip."""

TAB_MM: Final = 7.0
"""Beyond its end, a piece has this much paper for the next one to be laid on: room for a cross and a line of words."""

FAN_MM: Final = 3.4
"""What leaders take to lean from their marks to labels that had to step aside."""

FLAG_MM: Final = 1.8
"""How far the flag of a straightedge's line stands out from it."""

BESIDE_BOTTOM: Final = 16.1
BESIDE_TOP: Final = 19.5

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
