"""What a cabinet's face frame covers of the parts behind it, and how it moves the ends of the case. Exact, in mm."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.errors import Fault, Where
from storystick.job.cabinets import Cabinet
from storystick.job.cases import EndPlace, EndRule
from storystick.job.frames import Align, EndRail, FrameRule
from storystick.layout.cabinets.pieces import Case, Range
from storystick.lengths import Figures

_SHARE_BELOW: Final = {Align.BOTTOM: Fraction(0), Align.CENTRE: Fraction(1, 2), Align.TOP: Fraction(1)}
"""How much of the difference between a rail's width and its part's thickness lies below the part."""
_NO_FRAME: Final = 'give it a frame, or write "rail" or "nothing"'


def end_levels(
    cabinet: Cabinet, foot: Fraction, figures: Figures
) -> tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction]]:
    """From where to where the bottom and the top take the height of the case, over a ``foot`` that a frame begins at.

    They stand at the ends of the case, or where the edge of the frame's rail before each wants its inner face.

    Raises:
        Fault: one would reach out of the case; ``figures`` says the lengths.
    """
    frame = cabinet.frame
    low = _set_back(cabinet.bottom, frame.bottom if frame else None, "bottom", figures)
    high = _set_back(cabinet.top, frame.top if frame else None, "top", figures)
    start, end = foot + low, cabinet.height - high
    return (start, start + cabinet.bottom.takes), (end - cabinet.top.takes, end)


def _set_back(rule: EndRule, rail: EndRail | None, word: str, figures: Figures) -> Fraction:
    """How far a bottom or a top lies inside of its end of the case."""
    if rail is None or rail.edge is None:
        return Fraction(0)
    thick, place = rule.takes, Where.keys("frame", word)
    if not thick or rule.reaches_front:
        why = f"the {word} lies over the frame as well" if thick else f"the case has no {word}"
        raise Fault(f"{why}, so that edge moves nothing", "leave edge out", place)
    back = rail.width - rail.edge - thick
    if back < 0:
        raise Fault(
            f"the {word} is {figures(thick)} thick, and the edge of its rail leaves only "
            f"{figures(rail.width - rail.edge)} for it before the end of the case",
            f"make the rail {figures.at_least(thick + rail.edge)} wide or wider, or leave out edge",
            place,
        )
    if back and rule.place is EndPlace.OVER:
        wide = figures(thick + rail.edge)
        raise Fault(
            f"the {word} lies over the ends of the sides and cannot be moved by the {figures(back)} that edge asks for",
            f'leave out edge, make the rail {wide} wide, or write place = "between" for the {word}',
            place,
        )
    return back


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
        """Where the rails of the frame begin, above the toe space or the base."""
        return self.case.foot

    def side(self, part: Range) -> Range:
        """Before a side: the stile at that edge of the cabinet."""
        if self.rule is None:
            return part
        if part.start == self.case.x.start:
            return Range(Fraction(0), self.rule.stile.left)
        return Range(self.cabinet.width - self.rule.stile.right, self.cabinet.width)

    def bottom(self) -> tuple[Fraction, Fraction]:
        """What is seen at the bottom: its rail, or else what closes the case there; nothing has no height."""
        if self.rule:
            return self.foot, self.foot + self.rule.bottom.width
        return self.case.box_z.start, self.case.inside_z.start

    def top(self) -> tuple[Fraction, Fraction]:
        """What is seen at the top, likewise."""
        if self.rule:
            return self.case.head - self.rule.top.width, self.case.head
        return self.case.inside_z.end, self.case.box_z.end

    def rail(self, thick: Fraction, own: Fraction | None = None) -> tuple[Fraction, Fraction]:
        """How wide the rail before a level part is, and how far it reaches below the part, as align says.

        ``own`` is the width of just this rail, None where it is as the frame's rails are.
        """
        width = own or (self.rule.rail if self.rule else None)
        if self.rule is None or width is None:
            return thick, Fraction(0)
        return width, (width - thick) * _SHARE_BELOW[self.rule.align]

    def shelf(self, part: Range, own: Fraction | None = None) -> Range:
        """Before a shelf: its rail."""
        width, below = self.rail(part.size, own)
        return Range(part.start - below, part.start - below + width)

    def mid_stile(self, thick: Fraction) -> Fraction:
        """How wide the mid stile before a divider is."""
        return (self.rule.mid_stile if self.rule else None) or thick

    def rail_at(self, at: Fraction, own: Fraction | None = None) -> tuple[Fraction, Fraction]:
        """A rail with no part behind it, at a station between two openings: from where to where.

        Raises:
            Fault: nothing says how wide it is.
        """
        if self.rule is None:
            raise Fault("a frame rail stands between two openings, but the cabinet has no face frame", _NO_FRAME)
        if not (own or self.rule.rail):
            what = "a frame rail has no shelf behind it that would say how wide it is"
            raise Fault(what, "give rail = …, a length, in the frame", "frame")
        width, below = self.rail(Fraction(0), own)
        return at - below, at - below + width

    def divider(self, part: Range) -> Range:
        """Before a divider: a mid stile, centred on it."""
        width = self.mid_stile(part.size)
        left = part.start - (width - part.size) / 2
        return Range(left, left + width)
