"""How much stock a cutting list takes: areas by stock, and board lengths by the widths of the frame's members."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.cutting.model import CutPart
from storystick.layout.cabinets.model import FRAME_ROLES
from storystick.lengths import INCH_MM

_FRAME_WORDS: Final = frozenset(role.value for role in FRAME_ROLES)
_SQUARE_METRE: Final = Fraction(1000) ** 2
_SQUARE_FOOT: Final = (12 * INCH_MM) ** 2


@dataclass(frozen=True, slots=True)
class StockArea:
    """The finished area of all parts of a stock, without those of face frames and without waste; in square mm."""

    stock: str
    area: Fraction

    @property
    def square_metres(self) -> Fraction:
        return self.area / _SQUARE_METRE

    @property
    def square_feet(self) -> Fraction:
        return self.area / _SQUARE_FOOT


@dataclass(frozen=True, slots=True)
class FrameLength:
    """The finished length of all frame members of a stock and width, without waste; in mm."""

    stock: str
    width: Fraction
    length: Fraction


def areas(parts: Iterable[CutPart]) -> tuple[StockArea, ...]:
    """By stock, in the order in which the list first names them."""
    found: dict[str, Fraction] = {}
    for part in parts:
        if part.role not in _FRAME_WORDS:
            found[part.stock] = found.get(part.stock, Fraction(0)) + part.area
    return tuple(StockArea(stock, area) for stock, area in found.items())


def frame_lengths(parts: Iterable[CutPart]) -> tuple[FrameLength, ...]:
    """By stock and width, in the order in which the list first names them."""
    found: dict[tuple[str, Fraction], Fraction] = {}
    for part in parts:
        if part.role in _FRAME_WORDS:
            key = (part.stock, part.width)
            found[key] = found.get(key, Fraction(0)) + part.length * part.count
    return tuple(FrameLength(stock, width, length) for (stock, width), length in found.items())
