"""What is worked on a part of the cutting list, from where to where, in the words of its faces and edges."""

from __future__ import annotations

from collections.abc import Iterator

from storystick.cutting.model import PartWork
from storystick.layout.cabinets.model import CabinetLayout, Piece
from storystick.layout.cabinets.working import holes_of, works_of
from storystick.layout.cabinets.works import Work, WorkKind, surface_words


def part_works(piece: Piece, layout: CabinetLayout) -> tuple[PartWork, ...]:
    """All works of a piece of the case or the frame, in order along it, and its holes after them."""
    found = (_told(work) for work in works_of(layout, piece) if work.kind is not WorkKind.LINE)
    return (*sorted(found, key=lambda work: (work.start, work.kind, work.on)), *_holes(piece, layout))


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
