"""A measured rectangle from the front, its lean drawn larger than it is: dashed, as it should stand."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from storystick.drawing.built_up import BuiltUp
from storystick.drawing.lettering import SIZE_MM
from storystick.drawing.shapes import Anchor, Area, Line, Shape, closed
from storystick.lengths import Figures
from storystick.squaring.rack import Diagonal, Move, Racked

_WIDE_MM: Final = 60.0
_HIGH_MM: Final = 46.0
_LEAST_MM: Final = 14.0
_LEAN_MM: Final = 7.0
"""How far the top is drawn aside where it must be moved."""

_SLIGHT_MM: Final = 1.5
"""The same where it leans and may: it is seen, and looks like nothing to mend."""

_ARROW_MM: Final = 11.0
_CLEAR_MM: Final = 3.0
_ROOM_MM: Final = _LEAN_MM + _CLEAR_MM + _ARROW_MM


@dataclass(frozen=True, slots=True)
class RackPicture:
    """The ``shapes``, their lower left corner near 0, 0, and how many ``times`` the lean is drawn larger than it is.

    That is None where nothing leans.
    """

    shapes: tuple[Shape, ...]
    times: float | None


def draw_rack(racked: Racked, figures: Figures, pushes: bool = True) -> RackPicture:
    """A rectangle in its own shape, with the longer diagonal bold; with an arrow where it is to be pushed."""
    rectangle = racked.target.rectangle
    scale = min(_WIDE_MM / float(rectangle.width), _HIGH_MM / float(rectangle.height))
    wide, high = (max(float(side) * scale, _LEAST_MM) for side in (rectangle.width, rectangle.height))
    aside = _LEAN_MM if racked.move_top is not Move.NONE else _SLIGHT_MM
    lean = 0.0 if not racked.rack else aside if racked.rack > 0 else -aside
    shapes = [*_frames(wide, high, lean), *_diagonals(racked, wide, high, lean)]
    if pushes and racked.move_top is not Move.NONE:
        shapes += _push(racked, wide, high, figures)
    return RackPicture(tuple(shapes), abs(lean / (float(racked.rack) * scale)) if lean else None)


def _frames(wide: float, high: float, lean: float) -> Iterator[Shape]:
    left = _ROOM_MM
    right = left + wide
    if lean:
        yield from closed(((left, 0.0), (right, 0.0), (right, high), (left, high)), 0.25, (1.4, 1.0))
    yield from closed(((left, 0.0), (right, 0.0), (right + lean, high), (left + lean, high)), 0.6)


def _diagonals(racked: Racked, wide: float, high: float, lean: float) -> Iterator[Shape]:
    left, right = _ROOM_MM, _ROOM_MM + wide
    ends = {
        Diagonal.RISING: ((left, 0.0), (right + lean, high)),
        Diagonal.FALLING: ((right, 0.0), (left + lean, high)),
    }
    for diagonal, (start, end) in ends.items():
        yield Line(*start, *end, 1.1 if diagonal is racked.long else 0.3)


def _push(racked: Racked, wide: float, high: float, figures: Figures) -> Iterator[Shape]:
    """An arrow at the top, on the side that is pushed, and above it by how much."""
    way = 1.0 if racked.move_top is Move.RIGHT else -1.0
    edge = _ROOM_MM - _LEAN_MM if way > 0 else _ROOM_MM + wide + _LEAN_MM
    tip, level = edge - way * _CLEAR_MM, high - 2.5
    back, tail = tip - way * 4.0, tip - way * _ARROW_MM
    yield Line(tail, level, back, level, 1.4)
    yield Area(((tip, level), (back, level + 2.4), (back, level - 2.4)))
    words = BuiltUp(figures.fine(abs(racked.rack)), SIZE_MM, bold=True)
    yield from words.shapes(tail, level + 3.2 + words.below_mm, Anchor.START if way > 0 else Anchor.END)
