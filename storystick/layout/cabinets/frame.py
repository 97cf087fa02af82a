"""A face frame's members: each rail and mid stile before the part it covers, its edges where the rule puts them."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.job.cabinets import Cabinet
from storystick.job.fronts import Align, FrameRule
from storystick.layout.cabinets.pieces import Case, Range

_SHARE_BELOW: Final = {Align.BOTTOM: Fraction(0), Align.CENTRE: Fraction(1, 2), Align.TOP: Fraction(1)}
"""How much of the difference between a rail's width and its part's thickness lies below the part."""


@dataclass(frozen=True, slots=True)
class Cover:
    """What a face frame covers of the parts behind it. Without a frame, every part covers itself."""

    rule: FrameRule | None
    cabinet: Cabinet
    case: Case

    @property
    def foot(self) -> Fraction:
        """Where the frame begins, above the toe space or the base."""
        return self.case.bottom_z.start

    def side(self, part: Range) -> Range:
        """Before a side: the stile at that edge of the cabinet."""
        if self.rule is None:
            return part
        if part.start == self.case.x.start:
            return Range(Fraction(0), self.rule.stile)
        return Range(self.cabinet.width - self.rule.stile, self.cabinet.width)

    def bottom(self, part: Range) -> Range:
        return Range(self.foot, self.foot + self.rule.bottom) if self.rule else part

    def top(self, part: Range) -> Range:
        return Range(self.cabinet.height - self.rule.top, self.cabinet.height) if self.rule else part

    def shelf(self, part: Range) -> Range:
        """Before a shelf: a rail that agrees with it as the rule says."""
        if self.rule is None or self.rule.rail is None:
            return part
        low = part.start - (self.rule.rail - part.size) * _SHARE_BELOW[self.rule.align]
        return Range(low, low + self.rule.rail)

    def divider(self, part: Range) -> Range:
        """Before a divider: a mid stile, centred on it."""
        if self.rule is None or self.rule.mid_stile is None:
            return part
        left = part.start - (self.rule.mid_stile - part.size) / 2
        return Range(left, left + self.rule.mid_stile)
