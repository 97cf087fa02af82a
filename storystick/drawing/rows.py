"""Finding free places for labels: boxes kept clear of one another, and rows that labels are lifted into."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

GAP_MM: Final = 1.2
"""The least clear space between lettering and what else stands in its lane."""

ROW_GAP_MM: Final = 2.4
"""The same between two labels of a row, wider so that they are not read as one."""


@dataclass(slots=True)
class Lane:
    """One line of lettering along a strip; ``taken`` are its stretches (left, right in mm) already in use."""

    gap: float = GAP_MM
    taken: list[tuple[float, float]] = field(default_factory=list)

    def is_free(self, left: float, right: float) -> bool:
        """Whether nothing yet stands within ``gap`` of this stretch."""
        return all(right + self.gap <= start or end + self.gap <= left for start, end in self.taken)

    def take(self, left: float, right: float) -> None:
        self.taken.append((left, right))

    def covers(self, x: float) -> bool:
        """Whether lettering stands at ``x``."""
        return any(left - self.gap / 4 < x < right + self.gap / 4 for left, right in self.taken)


INSET_MM: Final = 0.6
"""Lettering in rows stays this far inside the ends of its window."""


def within(left: float, width: float, limit: float) -> float:
    """``left`` shifted as little as keeps the label inside 0 to ``limit``; at the left where it is too wide."""
    return max(INSET_MM, min(left, limit - INSET_MM - width))


@dataclass(slots=True)
class Rows:
    """Lanes one above another, as many as the labels need, over a width of ``limit`` mm."""

    limit: float
    lanes: list[Lane] = field(default_factory=list)

    def place(self, x: float, width: float) -> tuple[int, float]:
        """Put a label over ``x``, in the lowest row that has room: the row, and the label's left.

        It is centred over ``x``, or shifted as far as keeps it within the width and still above ``x``.
        """
        left = within(x - width / 2, width, self.limit)
        row = next((n for n, lane in enumerate(self.lanes) if lane.is_free(left, left + width)), len(self.lanes))
        if row == len(self.lanes):
            self.lanes.append(Lane(ROW_GAP_MM))
        self.lanes[row].take(left, left + width)
        return row, left

    def rows_open_at(self, x: float, below: int) -> list[int]:
        """The rows under row ``below`` that a line going up at ``x`` does not cross any lettering in."""
        return [row for row in range(below) if not self.lanes[row].covers(x)]
