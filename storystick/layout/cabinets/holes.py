"""Holes: openings with nothing between them are one hole, of the case or of the face frame before it."""

from __future__ import annotations

from collections.abc import Sequence
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
    return _joined_up([Hole((bay,), bay.x, bay.z, bay.around) for bay in bays])


def frame_holes(bays: Sequence[Bay]) -> tuple[Hole, ...]:
    """Those of the face frame: openings behind one front are one, since no member stands before what parts them."""
    return _joined_up([_in_frame(together) for together in _behind_one_front(bays)])


def _in_frame(bays: Sequence[Bay]) -> Hole:
    x, z = Range.over(bay.frame_x for bay in bays), Range.over(bay.frame_z for bay in bays)
    first, last = bays[0].framed, bays[-1].framed
    return Hole(tuple(bays), x, z, Around(first.left, last.right, first.below, last.above))


def _behind_one_front(bays: Sequence[Bay]) -> list[list[Bay]]:
    """Openings from the bottom left, those together that are parted only by what stands behind one front."""
    found: list[list[Bay]] = []
    at: dict[Piece, list[Bay]] = {}
    for bay in bays:
        behind = [piece for piece in (bay.around.below, bay.around.left) if piece and piece.is_behind]
        together = next((at[piece] for piece in behind), None)
        if together is None:
            together = []
            found.append(together)
        together.append(bay)
        at |= {piece: together for piece in (bay.around.above, bay.around.right) if piece}
    return found


def holes_at(board: Piece, bays: Sequence[Bay]) -> tuple[Hole, ...]:
    """Those of the frame for one of its members, of the case for another board."""
    return frame_holes(bays) if board.role in FRAME_ROLES else case_holes(bays)


def _joined_up(holes: Sequence[Hole]) -> tuple[Hole, ...]:
    """Holes with those that have nothing between them as one."""
    found: list[Hole] = []
    # Holes with nothing above them yet, by where they end: what begins there belongs to them.
    open_above: dict[tuple[Range, Fraction], int] = {}
    for hole in holes:
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
