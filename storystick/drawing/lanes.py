"""What lies at which height of a strip, in mm up from the marking edge."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

MARK_TOP: Final = 12.0
NUMBER_BASELINE: Final = 1.6
NAME_BASELINE: Final = 7.4
TICK_TOP: Final = 3.2
POINTER_TOP: Final = 5.4
GROOVE_BOTTOM: Final = 12.6
GROOVE_TOP: Final = 15.6

NUMBER_PT: Final = 9.5
SIZE_PT: Final = 11.0
NAME_PT: Final = 9.0
ROW_PT: Final = 8.5
WORDS_PT: Final = 8.0
"""Nothing that is read at the bench is smaller than 8 points."""

SEAM_KEEP_MM: Final = 3.2
"""Beside a seam, this much is kept clear of words for the register marks."""

TAB_MM: Final = 7.0
"""Beyond its end, a piece has this much paper for the next one to be laid on."""

_FIRST_ROW: Final = 16.2
_ROW_PITCH: Final = 3.5
_HEADLINE: Final = 4.4
_SCALE: Final = 5.8


@dataclass(frozen=True, slots=True)
class StripLanes:
    """The lanes of a strip with so many rows of lifted labels; at least one row is kept."""

    rows: int

    def row_bottom(self, row: int) -> float:
        return _FIRST_ROW + row * _ROW_PITCH

    def row_baseline(self, row: int) -> float:
        return self.row_bottom(row) + 0.7

    @property
    def headline_bottom(self) -> float:
        return self.row_bottom(max(self.rows, 1))

    @property
    def headline_baseline(self) -> float:
        return self.headline_bottom + 1.1

    @property
    def scale_bottom(self) -> float:
        return self.headline_bottom + _HEADLINE

    @property
    def height_mm(self) -> float:
        return self.scale_bottom + _SCALE

    @property
    def register_heights(self) -> tuple[float, float]:
        """Where the register marks sit at a seam."""
        return 3.2, self.headline_bottom + 2.0
