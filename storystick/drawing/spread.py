"""Spreading labels along a strip: each as near to its mark as the others let it be, none over another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import accumulate, pairwise
from typing import Final

GAP_MM: Final = 1.2
"""The least clear space between lettering and what else stands in its lane."""

_ROUNDING_MM: Final = 1e-6


@dataclass(slots=True)
class Lane:
    """One line of lettering along a strip; ``taken`` are its stretches (left, right in mm) already in use."""

    taken: list[tuple[float, float]] = field(default_factory=list)

    def is_free(self, left: float, right: float) -> bool:
        """Whether nothing yet stands within ``GAP_MM`` of this stretch."""
        nearest = GAP_MM - _ROUNDING_MM
        return all(right + nearest <= start or end + nearest <= left for start, end in self.taken)

    def free_near(self, wanted: float, width: float, low: float, high: float) -> float | None:
        """The left of a free stretch ``width`` wide from ``low`` to ``high``, as near to ``wanted`` as can be."""
        beside = (left for start, end in self.taken for left in (start - GAP_MM - width, end + GAP_MM))
        free = (left for left in (wanted, *beside) if low <= left <= high - width and self.is_free(left, left + width))
        return min(free, key=lambda left: abs(left - wanted), default=None)

    def take(self, left: float, right: float) -> None:
        self.taken.append((left, right))


def spread(wanted: Sequence[float], widths: Sequence[float], gap: float, low: float, high: float) -> list[float] | None:
    """The middles of labels that want to be at the rising places ``wanted``, in mm; None where they have no room.

    They keep their order, stand ``gap`` apart and between ``low`` and ``high``, and the sum of their squared shifts is
    the least. With the widths before each taken off, what is left must only rise: isotonic regression, which pooling
    adjacent violators solves exactly (Ayer et al., Annals of Mathematical Statistics 26, 1955).
    """
    if not wanted:
        return []
    pitches = ((near + far) / 2 + gap for near, far in pairwise(widths))
    before = list(accumulate(pitches, initial=0.0))
    least, most = low + widths[0] / 2, high - widths[-1] / 2 - before[-1]
    if least > most:
        return None
    level = rising([place - offset for place, offset in zip(wanted, before, strict=True)])
    return [min(max(value, least), most) + offset for value, offset in zip(level, before, strict=True)]


def rising(values: Sequence[float]) -> list[float]:
    """The rising values nearest to ``values`` by least squares: neighbours that fall are pooled at their mean."""
    pools: list[tuple[float, int]] = []
    for value in values:
        mean, count = value, 1
        while pools and pools[-1][0] > mean:
            earlier, size = pools.pop()
            mean, count = (earlier * size + mean * count) / (size + count), size + count
        pools.append((mean, count))
    return [mean for mean, count in pools for _ in range(count)]
