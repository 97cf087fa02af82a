"""What is closed by one front: an opening, or several of a row, a column or behind fixed shelves. Exact, in mm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import islice
from typing import Final
from weakref import WeakKeyDictionary

from storystick.job.cabinets import Cabinet
from storystick.job.compartments import Compartment
from storystick.job.fronts import FrontFit, FrontKind
from storystick.job.keys import default_name
from storystick.job.rows import CabinetColumn
from storystick.job.sticks import Hand
from storystick.layout.cabinets.pieces import Bay, CabinetLayout, Piece, Range
from storystick.wording import ranges


@dataclass(frozen=True, slots=True, eq=False)
class Closing:
    """Openings that one front closes, from the bottom left, with no member of the face between them.

    ``kind`` NONE leaves them open. ``hinge`` is the side of a door's hinges, None where nothing is said. Equal to no
    other.
    """

    bays: tuple[Bay, ...]
    kind: FrontKind
    hinge: Hand | None
    name: str

    @property
    def is_open(self) -> bool:
        return self.kind is FrontKind.NONE

    @property
    def frame_x(self) -> Range:
        """Across, what the face leaves open for the front."""
        return Range.over(bay.frame_x for bay in self.bays)

    @property
    def frame_z(self) -> Range:
        """Upward, what the face leaves open for the front."""
        return Range.over(bay.frame_z for bay in self.bays)

    @property
    def inside(self) -> tuple[Piece, ...]:
        """The parts of the case that stand between these openings."""
        low = [piece for bay in self.bays for piece in (bay.around.left, bay.around.below)]
        high = {piece for bay in self.bays for piece in (bay.around.right, bay.around.above)}
        return tuple(dict.fromkeys(piece for piece in low if piece and piece in high))


def closings_of(layout: CabinetLayout) -> tuple[Closing, ...]:
    """Every opening of a cabinet with those that share its front, from the bottom left."""
    if layout not in _FOUND:
        _FOUND[layout] = tuple(_closings(layout))
    return _FOUND[layout]


_FOUND: Final[WeakKeyDictionary[CabinetLayout, tuple[Closing, ...]]] = WeakKeyDictionary()
"""Those that have been asked for: fronts, list and drawings mean the same ones."""


def closing_of(layout: CabinetLayout, bay: Bay) -> Closing:
    """What an opening is closed with."""
    return next(closing for closing in closings_of(layout) if bay in closing.bays)


def _closings(layout: CabinetLayout) -> Iterator[Closing]:
    rows = layout.cabinet.rows
    bays = iter(layout.bays)
    for number, row in enumerate(rows, start=1):
        word = row.name or default_name("row", number)
        if row.front:
            count = sum(map(_openings_in, row.columns))
            yield Closing(tuple(islice(bays, count)), row.front, row.hinge, word)
            continue
        for place, column in enumerate(row.columns, start=1):
            if column.front:
                name = default_name("column", place)
                names = ([word] if len(rows) > 1 else []) + ([name] if len(row.columns) > 1 else [])
                behind = tuple(islice(bays, _openings_in(column)))
                yield Closing(behind, column.front, column.hinge, ", ".join(names) or name)
            else:
                yield from _of_compartments(layout, column, bays)


def _openings_in(column: CabinetColumn) -> int:
    return sum(compartment.count for compartment in column.compartments)


def _of_compartments(layout: CabinetLayout, column: CabinetColumn, bays: Iterator[Bay]) -> Iterator[Closing]:
    """What closes a column that has no one front, from the next of the cabinet's openings."""
    for compartment in column.compartments:
        kind, own = kind_of(layout.cabinet, compartment), tuple(islice(bays, compartment.count))
        if compartment.inside:
            name = compartment.item.name or f"opening {ranges(bay.number for bay in own)}"
            yield Closing(own, kind, compartment.hinge, name)
        else:
            yield from (Closing((bay,), kind, compartment.hinge, bay.name) for bay in own)


def kind_of(cabinet: Cabinet, compartment: Compartment) -> FrontKind:
    """What closes an opening: its own kind of front, or the cabinet's usual one.

    An opening with shelves that names no front takes the usual door, but no drawer.
    """
    if compartment.front:
        return compartment.front
    without = FrontKind.DRAWER if cabinet.drawers else FrontKind.NONE
    usual = cabinet.fronts.kind if cabinet.fronts else without
    has_shelves = compartment.adjustable or compartment.inside
    return FrontKind.NONE if has_shelves and usual is FrontKind.DRAWER else usual


def front_depth(cabinet: Cabinet, kind: FrontKind) -> Fraction:
    """How far from the cabinet's front the back face of an inset front is; 0 where it is overlaid, or none at all."""
    fronts = cabinet.fronts
    if fronts is None or fronts.fit is not FrontFit.INSET or kind is FrontKind.NONE:
        return Fraction(0)
    return fronts.stock.thickness


def setback_behind(cabinet: Cabinet, kind: FrontKind) -> Fraction:
    """How far what stands behind a front is set back from the front edge of the case: as far as that reaches in."""
    frame = cabinet.frame.stock.thickness if cabinet.frame else Fraction(0)
    return max(Fraction(0), front_depth(cabinet, kind) - frame)


def set_behind(piece: Piece) -> Piece:
    """A part of the case that stands between openings behind one front: no member of the face lies before it."""
    return replace(piece, front_tongue=Fraction(0), front=piece.across, is_behind=True)
