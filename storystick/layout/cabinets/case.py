"""A cabinet's case, outside and inside, and what the members of its face frame cover of it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.errors import Fault
from storystick.job.cabinets import Cabinet
from storystick.job.cases import EndPlace, EndRule
from storystick.job.fronts import Align, FrameRule
from storystick.layout.cabinets.backs import back_of
from storystick.layout.cabinets.bases import base_of
from storystick.layout.cabinets.pieces import Case, Range
from storystick.lengths import Figures


def outline_case(cabinet: Cabinet, figures: Figures) -> Case:
    """Work out a cabinet's case.

    Raises:
        Fault: its parts leave nothing of an overall size; ``figures`` says the lengths.
    """
    frame, back, base = cabinet.frame, back_of(cabinet), base_of(cabinet)
    # What a frame stands out beyond the sides is within the overall width.
    left, right = (frame.proud_left, frame.proud_right) if frame else (Fraction(0), Fraction(0))
    front = frame.stock.thickness if frame else cabinet.edging
    x = _range("width", left, cabinet.width - right, cabinet.width, figures)
    y = _range("depth", front, cabinet.depth - back.behind, cabinet.depth, figures)
    side = cabinet.sides.thickness
    inside_x = _range("width", x.start + side, x.end - side, cabinet.width, figures)
    low = base.foot + base.toe + cabinet.bottom.stock.thickness
    inside_z = _range("height", low, cabinet.height - cabinet.top.stock.thickness, cabinet.height, figures)
    inner_y = _range("depth", y.start, y.end - back.taken, cabinet.depth, figures)
    # A rabbet is cut in the sides alone, so a top and a bottom between them have to stop before the back.
    end_y = inner_y if back.stops_ends else y
    return Case(x, y, Range(base.foot, cabinet.height), inside_x, inside_z, base.toe, inner_y, end_y)


def stands_between(rule: EndRule) -> bool:
    """Whether a top or bottom stands between the sides."""
    return rule.place is EndPlace.BETWEEN


def _range(word: str, start: Fraction, end: Fraction, overall: Fraction, figures: Figures) -> Range:
    if end <= start:
        raise Fault(
            f"{word} {figures(overall)} is taken up by the parts: nothing is left inside",
            f"make the {word} more, or the parts thinner",
        )
    return Range(start, end)


_SHARE_BELOW: Final = {Align.BOTTOM: Fraction(0), Align.CENTRE: Fraction(1, 2), Align.TOP: Fraction(1)}
"""How much of the difference between a rail's width and its part's thickness lies below the part."""


@dataclass(frozen=True, slots=True)
class Cover:
    """What a face frame covers of the parts behind it. Without a frame, every part covers itself."""

    cabinet: Cabinet
    case: Case

    @property
    def rule(self) -> FrameRule | None:
        return self.cabinet.frame

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
