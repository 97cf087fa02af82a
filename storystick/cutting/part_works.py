"""What is worked on a part of the cutting list, from where to where, in the words of its faces and edges.

Left and right ones of a pair are told alike, by inside and outside, since they are images of each other.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from storystick.cutting.model import PartWork
from storystick.layout.cabinets.model import FRAME_ROLES, Axis, CabinetLayout, Piece
from storystick.layout.cabinets.working import holes_of, works_of
from storystick.layout.cabinets.works import END_WORDS, ENDS, Surface, Work, WorkKind

_FACES: Final = {
    Axis.X: {Surface.LOW: "lower", Surface.HIGH: "upper"},
    Axis.Z: {Surface.LOW: "left", Surface.HIGH: "right"},
}
_PAIRED: Final = {Surface.LOW: "outside", Surface.HIGH: "inside"}
_SWAPPED: Final = {Surface.LOW: Surface.HIGH, Surface.HIGH: Surface.LOW}


def part_works(piece: Piece, layout: CabinetLayout) -> tuple[PartWork, ...]:
    """All works of a piece of the case or the frame, in order along it, and its holes after them."""
    found = (_told(work) for work in works_of(layout, piece) if work.kind is not WorkKind.LINE)
    return (*sorted(found, key=lambda work: (work.start, work.kind, work.on)), *_holes(piece, layout))


def surface_words(piece: Piece, on: Surface) -> str:
    """A surface of a piece, as it is called at the bench."""
    if on in ENDS:
        return END_WORDS[piece.axis][on is Surface.HIGH_END]
    framed = piece.role in FRAME_ROLES
    if on in _PAIRED:
        face = _SWAPPED[on] if piece.is_right else on
        word = _FACES[piece.axis][on] if piece.hand is None else _PAIRED[face]
        return f"{word.replace('inside', 'inner').replace('outside', 'outer')} edge" if framed else f"{word} face"
    return f"{on.value} face" if framed else f"{on.value} edge"


def low_end_words(piece: Piece) -> str:
    """The end that stations along a piece count from."""
    return END_WORDS[piece.axis][0]


def _told(work: Work) -> PartWork:
    shoulders = work.shoulders
    return PartWork(
        work.kind.value,
        surface_words(work.board, work.on),
        work.other.name,
        work.edges.start,
        work.edges.end,
        work.run.start,
        work.run.end,
        work.depth,
        stops=work.is_stopped,
        along=work.along_board,
        shoulders=(shoulders[1], shoulders[0]) if work.board.is_right else shoulders,
    )


def _holes(piece: Piece, layout: CabinetLayout) -> Iterator[PartWork]:
    for row in holes_of(layout, piece):
        if row.places:
            yield PartWork(
                *("holes", surface_words(piece, row.on), row.bay.name),
                *(row.across, row.across, row.places[0], row.places[-1]),
                along=True,
                places=row.places,
            )
