"""Holes: openings with nothing between them are one hole, of the case or of the face frame before it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from storystick.layout.cabinets.pieces import FRAME_ROLES, Around, Bay, Piece, Range


@dataclass(frozen=True, slots=True)
class Hole:
    """One opening, or several one above another with nothing between them: from the lowest, in the case or the frame.

    ``x`` and ``z`` are its clear sizes from the cabinet's left and floor, ``bounds`` the pieces around it.
    """

    bays: tuple[Bay, ...]
    x: Range
    z: Range
    bounds: Around

    @property
    def name(self) -> str:
        """What people call it: by the first and the last of its openings."""
        first, last = self.bays[0], self.bays[-1]
        return first.name if first is last else f"{first.name} to {last.name}"

    @property
    def column(self) -> int:
        return self.bays[0].column

    def is_bounded_by(self, board: Piece, high: bool) -> bool:
        """Whether a face of a board, its high or its low one, is a side of it."""
        around = self.bounds
        return board in ((around.left, around.below) if high else (around.right, around.above))


def case_holes(bays: Sequence[Bay]) -> tuple[Hole, ...]:
    """Those of the case, in the order of their lowest openings."""
    return _holes(bays, lambda bay: Hole((bay,), bay.x, bay.z, bay.around))


def frame_holes(bays: Sequence[Bay]) -> tuple[Hole, ...]:
    """Those of the face frame."""
    return _holes(bays, lambda bay: Hole((bay,), bay.frame_x, bay.frame_z, bay.framed))


def holes_at(board: Piece, bays: Sequence[Bay]) -> tuple[Hole, ...]:
    """Those of the frame for one of its members, of the case for another board."""
    return frame_holes(bays) if board.role in FRAME_ROLES else case_holes(bays)


def _holes(bays: Sequence[Bay], hole_of: Callable[[Bay], Hole]) -> tuple[Hole, ...]:
    found: list[Hole] = []
    # Holes with nothing above them yet, by where they end: what begins there belongs to them.
    open_above: dict[tuple[Range, Fraction], int] = {}
    for bay in bays:
        hole = hole_of(bay)
        place = open_above.pop((hole.x, hole.z.start), None) if hole.bounds.below is None else None
        if place is None:
            place = len(found)
            found.append(hole)
        else:
            found[place] = _joined(found[place], hole)
        if hole.bounds.above is None:
            open_above[hole.x, hole.z.end] = place
    return tuple(found)


def _joined(low: Hole, high: Hole) -> Hole:
    around, above = low.bounds, high.bounds.above
    bounds = Around(around.left, around.right, around.below, above)
    return Hole((*low.bays, *high.bays), low.x, Range(low.z.start, high.z.end), bounds)
