"""The outside and the inside of a cabinet's case: what frame, edging, back and base leave of the overall sizes."""

from __future__ import annotations

from fractions import Fraction

from storystick.errors import Fault
from storystick.job.cabinets import Cabinet
from storystick.job.cases import EndPlace, EndRule
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
