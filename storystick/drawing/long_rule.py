"""The rules of a test sheet: graduated lines that a steel rule is laid on, measured between their end lines."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.drawing.shapes import Anchor, Line, Shape, Text
from storystick.lengths import INCH_MM, Units, write_exact

HAIRLINE_MM: Final = 0.1
_BELOW_MM: Final = 4.5
"""How far an end line goes beyond the rule's line on the side where the steel rule lies."""

_ABOVE_MM: Final = 7.5
_TICKS_MM: Final = (1.3, 2.0, 3.0)
_NUMBER_PT: Final = 8.0
_KEEP_MM: Final = 7.0
_STEPS: Final = {Units.INCH: (INCH_MM / 8, 4, 8), Units.MM: (Fraction(5), 2, 4)}
"""The finest graduation in mm, and after how many of them a longer one and a number come."""


@dataclass(frozen=True, slots=True)
class LongRule:
    """A rule from (``x``, ``y``) to the right, or ``upward``: the middles of its end lines are ``length`` mm apart.

    ``crossed_at`` is how far from its beginning another rule crosses it, in mm: no number stands there.
    """

    x: float
    y: float
    length: Fraction
    units: Units
    upward: bool = False
    crossed_at: float = 0.0

    def draw(self) -> Iterator[Shape]:
        """Its line, end lines, graduations and numbers."""
        end = float(self.length)
        yield self._line(0.0, 0.0, end, 0.0)
        for along in (0.0, end):
            yield self._line(along, -_BELOW_MM, along, _ABOVE_MM)
        step, longer, numbered = _STEPS[self.units]
        for count in range(1, -int(-self.length // step)):
            along = float(count * step)
            yield self._line(along, 0.0, along, _TICKS_MM[(count % longer == 0) + (count % numbered == 0)])
            taken = min(along, end - along, abs(along - self.crossed_at)) < _KEEP_MM
            if count % numbered == 0 and not taken:
                yield self._number(along, write_exact(count * step, self.units))

    def words(self, text: str, size_pt: float, start: float, aside: float) -> Text:
        """Words that run along the rule, from ``start`` on, their baseline ``aside`` mm beside it."""
        x, y = self._place(start, aside)
        return Text(x, y, text, size_pt, bold=True, upward=self.upward)

    def _number(self, along: float, figure: str) -> Text:
        if self.upward:
            return Text(self.x + _TICKS_MM[-1] + 0.8, self.y + along - 1.0, figure, _NUMBER_PT)
        return Text(self.x + along, self.y + _TICKS_MM[-1] + 0.8, figure, _NUMBER_PT, Anchor.MIDDLE)

    def _line(self, along: float, aside: float, to: float, aside_to: float) -> Line:
        return Line(*self._place(along, aside), *self._place(to, aside_to), HAIRLINE_MM)

    def _place(self, along: float, aside: float) -> tuple[float, float]:
        return (self.x + aside, self.y + along) if self.upward else (self.x + along, self.y + aside)
