"""The outside and the inside of a cabinet's case: what frame, edging, back and base leave of the overall sizes."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from storystick.errors import Fault
from storystick.job.cabinets import Cabinet, EndPlace, EndRule, GrooveBack, LaidOnBack, Plinth, RabbetBack, Toe
from storystick.layout.cabinets.pieces import Range
from storystick.lengths import Figures


@dataclass(frozen=True, slots=True)
class Case:
    """A case by its ranges, in mm from the cabinet's left, front and floor.

    ``x``, ``y``, ``z`` are its outside; ``inside_x`` and ``inside_z`` lie between its sides, top and bottom.
    ``toe`` is how far the bottom stands above the case's foot. ``inner_y`` is what shelves and dividers have of the
    depth, ``end_y`` what the top and the bottom have.
    """

    x: Range
    y: Range
    z: Range
    inside_x: Range
    inside_z: Range
    toe: Fraction
    inner_y: Range
    end_y: Range

    @property
    def bottom_z(self) -> Range:
        return Range(self.z.start + self.toe, self.inside_z.start)

    @property
    def top_z(self) -> Range:
        return Range(self.inside_z.end, self.z.end)


def outline_case(cabinet: Cabinet, figures: Figures) -> Case:
    """Work out a cabinet's case.

    Raises:
        Fault: its parts leave nothing of an overall size; ``figures`` says the lengths.
    """
    frame = cabinet.frame
    left, right = (frame.proud_left, frame.proud_right) if frame else (Fraction(0), Fraction(0))
    front = frame.stock.thickness if frame else cabinet.edging
    x = _range("width", left, cabinet.width - right, cabinet.width, figures)
    y = _range("depth", front, cabinet.depth - _behind(cabinet), cabinet.depth, figures)
    foot = cabinet.base.height if isinstance(cabinet.base, Plinth) else Fraction(0)
    toe = cabinet.base.height if isinstance(cabinet.base, Toe) else Fraction(0)
    side = cabinet.sides.thickness
    inside_x = _range("width", x.start + side, x.end - side, cabinet.width, figures)
    low = foot + toe + cabinet.bottom.stock.thickness
    inside_z = _range("height", low, cabinet.height - cabinet.top.stock.thickness, cabinet.height, figures)
    inner_y = _range("depth", y.start, y.end - _taken_by_back(cabinet), cabinet.depth, figures)
    end_y = inner_y if isinstance(cabinet.back, RabbetBack) else y
    return Case(x, y, Range(foot, cabinet.height), inside_x, inside_z, toe, inner_y, end_y)


def stands_between(rule: EndRule) -> bool:
    """Whether a top or bottom stands between the sides."""
    return rule.place is EndPlace.BETWEEN


def _behind(cabinet: Cabinet) -> Fraction:
    """What stands behind the case."""
    return cabinet.back.stock.thickness if isinstance(cabinet.back, LaidOnBack) else Fraction(0)


def _taken_by_back(cabinet: Cabinet) -> Fraction:
    """How far the front face of the back lies before the back edge of the case."""
    match cabinet.back:
        case RabbetBack(width=width):
            return width
        case GrooveBack(stock=stock, inset=inset):
            return inset + stock.thickness
    return Fraction(0)


def _range(word: str, start: Fraction, end: Fraction, overall: Fraction, figures: Figures) -> Range:
    if end <= start:
        raise Fault(
            f"{word} {figures(overall)} is taken up by the parts: nothing is left inside",
            f"make the {word} more, or the parts thinner",
        )
    return Range(start, end)
