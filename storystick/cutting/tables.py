"""A cutting list as rows of tables, in labels: the same for a listing and for the job sheet."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from storystick.cutting.model import CutPart, Hands
from storystick.cutting.notes import Label
from storystick.cutting.totals import FrameLength, StockArea

PART_HEADINGS = ("part", "stock", "hands", "number", "length", "width", "thickness")
NOTE_HEADINGS = ("part", "notes")
AREA_HEADINGS = ("stock", "square metres", "square feet")
FRAME_HEADINGS = ("frame stock", "width", "board length")


def part_rows(parts: Iterable[CutPart], label: Label) -> list[tuple[str, ...]]:
    """Each part under :data:`PART_HEADINGS`."""
    return [
        (part.name, part.stock, hands_in_words(part.hands), str(part.count), *map(label, _sizes(part)))
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


def _sizes(part: CutPart) -> tuple[Fraction, Fraction, Fraction]:
    return part.length, part.width, part.thickness
