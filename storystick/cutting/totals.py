"""A cutting list as rows of labels, and how much stock it takes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.cutting.part import CutPart, Hands
from storystick.layout.cabinets.pieces import FRAME_ROLES
from storystick.lengths import INCH_MM, Label

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


PART_HEADINGS = ("part", "stock", "hands", "number", "length", "width", "thickness")
NOTE_HEADINGS = ("part", "notes")
AREA_HEADINGS = ("stock", "square metres", "square feet")
FRAME_HEADINGS = ("frame stock", "width", "board length")


def part_rows(parts: Iterable[CutPart], label: Label) -> list[tuple[str, ...]]:
    """Each part under :data:`PART_HEADINGS`."""
    return [
        (
            *(part.name, part.stock, hands_in_words(part.hands), str(part.count)),
            *map(label, (part.length, part.width, part.thickness)),
        )
        for part in parts
    ]


def note_rows(parts: Iterable[CutPart]) -> list[tuple[str, ...]]:
    """Each part that has notes, under :data:`NOTE_HEADINGS`."""
    return [(part.name, "; ".join(part.notes)) for part in parts if part.notes]


def area_rows(areas: Iterable[StockArea]) -> list[tuple[str, ...]]:
    """Each stock under :data:`AREA_HEADINGS`, to the hundredth."""
    return [(area.stock, f"{float(area.square_metres):.2f}", f"{float(area.square_feet):.2f}") for area in areas]


def frame_rows(lengths: Iterable[FrameLength], label: Label) -> list[tuple[str, ...]]:
    """Each frame stock and width under :data:`FRAME_HEADINGS`."""
    return [(total.stock, label(total.width), label(total.length)) for total in lengths]


def hands_in_words(hands: Hands | None) -> str:
    """How many are of each hand; empty where there is none."""
    if hands is None:
        return ""
    counts = ((hands.left, "left"), (hands.right, "right"))
    return ", ".join(f"{count} {word}" for count, word in counts if count)
