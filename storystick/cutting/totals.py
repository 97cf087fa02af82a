"""A cutting list as rows of labels, by stock with what is alike in one row, and how much stock it takes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.cutting.part import CutPart, Edge, HandCounts
from storystick.layout.cabinets.pieces import FRAME_ROLES, Role
from storystick.lengths import INCH_MM, Label
from storystick.wording import by_number

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


def edging_lengths(parts: Iterable[CutPart]) -> tuple[Edge, ...]:
    """How much edging of each thickness and stock all parts take, without waste, the thinnest first."""
    found: dict[tuple[Fraction, str], Fraction] = {}
    for part in parts:
        for edge in part.edges:
            key = (edge.thickness, edge.stock)
            found[key] = found.get(key, Fraction(0)) + edge.length * part.count
    return tuple(Edge(thickness, length, stock) for (thickness, stock), length in sorted(found.items()))


PART_HEADINGS = ("part", "stock", "hands", "number", "length", "width", "thickness")
NOTE_HEADINGS = ("part", "notes")
EDGING_HEADINGS = ("edging, thick", "net length")
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


def edging_rows(lengths: Iterable[Edge], label: Label) -> list[tuple[str, ...]]:
    """Each edging under :data:`EDGING_HEADINGS`."""
    return [(edging_words(edge, label), label(edge.length)) for edge in lengths]


def edging_words(edge: Edge, label: Label) -> str:
    """How thick an edging is, and of what, where that is said."""
    return ", ".join(filter(None, (label(edge.thickness), edge.stock)))


def hands_in_words(hands: HandCounts | None) -> str:
    """How many are of each hand; empty where there is none."""
    if hands is None:
        return ""
    counts = ((hands.left, "left"), (hands.right, "right"))
    return ", ".join(f"{count} {word}" for count, word in counts if count)


_PIECES: Final = frozenset(role.value for role in Role)


@dataclass(frozen=True, slots=True)
class StockRow:
    """Parts of one size, made alike, of any cabinets. ``notes`` are those that not all parts of the stock have."""

    names: tuple[str, ...]
    cabinets: tuple[str, ...]
    count: int
    length: Fraction
    width: Fraction
    hands: HandCounts | None
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StockList:
    """What is cut of a stock, the widest first and of one width the longest. ``notes`` are those of every row."""

    stock: str
    thickness: Fraction
    rows: tuple[StockRow, ...]
    notes: tuple[str, ...] = ()

    def title(self, label: Label) -> str:
        """What stands over its rows."""
        return f"{self.stock}, {label(self.thickness)} thick"


def by_stock(parts: Iterable[CutPart]) -> tuple[StockList, ...]:
    """The list by stock, in the order in which the parts first name each."""
    found: dict[str, list[CutPart]] = {}
    for part in parts:
        found.setdefault(part.stock, []).append(part)
    return tuple(_of_stock(own) for own in found.values())


def _of_stock(parts: Sequence[CutPart]) -> StockList:
    shared = _shared_notes(parts)
    in_cabinets: dict[tuple[object, ...], list[CutPart]] = {}
    for part in parts:
        in_cabinets.setdefault((part.cabinet, _made(part)), []).append(part)
    groups: dict[tuple[object, ...], list[list[CutPart]]] = {}
    for own in in_cabinets.values():
        # Numbers of pieces say little outside of their cabinet, but those of openings say where a front goes.
        where = () if own[0].role in _PIECES else _names(own)
        groups.setdefault((_made(own[0]), where), []).append(own)
    rows = sorted((_row(group, shared) for group in groups.values()), key=lambda row: (-row.width, -row.length))
    return StockList(parts[0].stock, parts[0].thickness, tuple(rows), shared)


def _made(part: CutPart) -> tuple[object, ...]:
    """What parts of one row have in common; on which face they are worked is not asked, since most can be turned."""
    works = tuple(
        (work.kind, work.start, work.end, work.low, work.high, work.depth, work.places) for work in part.works
    )
    return part.width, part.length, part.hands is None, _notes(part), works


def _names(parts: Iterable[CutPart]) -> tuple[str, ...]:
    return tuple(by_number(dict.fromkeys(part.name for part in parts)))


def _notes(part: CutPart) -> tuple[str, ...]:
    """What is done to it, and in how many places instead of the names of what comes there: those are on its strips.

    Of holes and slots in rows every one counts.
    """
    places: Counter[str] = Counter()
    for work in part.works:
        places[work.done] += len(work.places) or 1
    del places[""]
    # A part's own notes come first, then one for each thing done.
    own = part.notes[: len(part.notes) - len(places)]
    return (*own, *(f"{done} {number}×" if number > 1 else done for done, number in places.items()))


def _shared_notes(parts: Sequence[CutPart]) -> tuple[str, ...]:
    """The notes that all have, where there are several parts."""
    first, *others = map(_notes, parts)
    return tuple(note for note in first if others and all(note in notes for notes in others))


def _row(cabinets: Sequence[Sequence[CutPart]], shared: Sequence[str]) -> StockRow:
    parts = [part for own in cabinets for part in own]
    first, names = parts[0], {_names(own) for own in cabinets}
    return StockRow(
        names=names.pop() if len(names) == 1 else tuple(dict.fromkeys(part.role for part in parts)),
        cabinets=tuple(by_number(own[0].cabinet for own in cabinets)),
        count=sum(part.count for part in parts),
        length=first.length,
        width=first.width,
        hands=HandCounts.over(part.hands for part in parts),
        notes=tuple(note for note in _notes(first) if note not in shared),
    )
