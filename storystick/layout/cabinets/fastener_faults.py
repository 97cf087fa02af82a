"""Fasteners that cannot be: too long, too thick, without room on their line, in each other's way or in that of a cut.

All that is cut and bored is taken as blocks in the cabinet, x from the left, y into the depth and z up.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
from typing import Final

from storystick.errors import Fault, Where
from storystick.job.fasteners import Bore
from storystick.layout.cabinets.fastening import FastenerRow, fastener_rows
from storystick.layout.cabinets.pieces import FRAME_ROLES, Axis, CabinetLayout, Piece, Range, Role
from storystick.layout.cabinets.working import holes_of, works_of
from storystick.layout.cabinets.works import CUTS, Surface, Work, WorkKind, front_of
from storystick.lengths import Figures
from storystick.wording import by_number, listed

_PIN_DIAMETER: Final = Fraction(5)
_PIN_DEPTH: Final = Fraction(10)
"""Of the holes for adjustable shelves, whose bit is the shop's: common practice, no source."""

_REMOVED: Final = CUTS | {WorkKind.NOTCH}
_HIGHS: Final = frozenset({Surface.HIGH, Surface.HIGH_END, Surface.BACK})


def fastener_faults(layout: CabinetLayout, figures: Figures) -> Iterator[Fault]:
    """What cannot be made; what is wrong alike at several joints is told once."""
    alike: dict[tuple[str, str], dict[Piece, None]] = {}
    for row in fastener_rows(layout):
        for fault in _row_faults(row, figures):
            alike.setdefault((fault.what, fault.cure), {})[row.piece] = None
    for (what, cure), pieces in alike.items():
        in_frame = all(piece.role in (Role.RAIL, Role.MID_STILE) for piece in pieces)
        where = Where.unsaid("frame", "joints") if in_frame else ""
        yield Fault(f"at the ends of {_names(pieces)}, {what}", cure, where)
    yield from _meetings(layout)
    yield from _undrivable(layout)


def _names(pieces: Iterable[Piece]) -> str:
    return listed([f'"{name}"' for name in by_number(piece.name for piece in pieces)])


def _row_faults(row: FastenerRow, figures: Figures) -> Iterator[Fault]:
    fastener = row.fastener
    if not row.centres:
        yield Fault(
            f"there is no room for {fastener.word} on a joint {figures(row.line.size)} long",
            f"make it {figures.at_least(2 * fastener.clear)} or more, or take another joint there",
        )
    yield from fastener.faults(row.part_thickness, row.board_thickness, figures)


@dataclass(frozen=True, slots=True)
class _Taken:
    """What is cut or bored out of a board: its block, what it is called, and the row of fasteners that it is of."""

    x: Range
    y: Range
    z: Range
    words: str
    row: FastenerRow | None = None

    def meets(self, other: _Taken) -> bool:
        return self.x.overlaps(other.x) and self.y.overlaps(other.y) and self.z.overlaps(other.z)


def _meetings(layout: CabinetLayout) -> Iterator[Fault]:
    """Where a fastener's hole or slot would open into another, or into a groove."""
    bored: dict[Piece, list[_Taken]] = {}
    for row in fastener_rows(layout):
        for piece, taken in _bored(row):
            bored.setdefault(piece, []).append(taken)
    told = set()
    for board, own in bored.items():
        cut = [*_cut(layout, board), *_pins(layout, board)]
        pairs = [*combinations(own, 2), *((one, other) for one in own for other in cut)]
        for one, other in pairs:
            if one.row is not other.row and one.meets(other) and (one.words, other.words, board) not in told:
                told.add((one.words, other.words, board))
                yield Fault(
                    f'{one.words} would open into {other.words} inside "{board.name}"',
                    "make them less deep, or move one of the parts or the first of the centres",
                )


def _undrivable(layout: CabinetLayout) -> Iterator[Fault]:
    """Screws through a board on whose other face something stands over their heads."""
    for row in fastener_rows(layout):
        if not row.fastener.from_outside:
            continue
        for other, _, high in layout.ends_on(row.board):
            behind = high is (row.on is Surface.LOW)
            if behind and other.across.overlaps(row.piece.across) and other.y.overlaps(row.piece.y):
                yield Fault(
                    f'the {row.fastener.word} through "{row.board.name}" into "{row.piece.name}" cannot be driven: '
                    f'"{other.name}" stands over them on its other face',
                    "move one of both, or give one of them dowels or a housing",
                )


def _bored(row: FastenerRow) -> Iterator[tuple[Piece, _Taken]]:
    """What each fastener of a row takes from the board and from the end of the piece."""
    words = f'the {row.fastener.word} of "{row.piece.name}"'
    face = row.board.along(row.piece.axis)
    # The board lies beyond the low end of the piece, or beyond its high one.
    low = row.end is Surface.LOW_END
    meeting = face.end if low else face.start
    for bore, piece, inward in ((row.bored, row.board, low), (row.bored_end, row.piece, not low)):
        for centre in row.centres if bore and bore.depth > 0 else ():
            if bore:
                reach = Range(meeting - bore.depth, meeting) if inward else Range(meeting, meeting + bore.depth)
                yield piece, _block(row, centre, bore, reach, words)


def _block(row: FastenerRow, centre: Fraction, bore: Bore, reach: Range, words: str) -> _Taken:
    line = Range(centre - bore.along / 2, centre + bore.along / 2)
    thick = Range(row.middle - bore.across / 2, row.middle + bore.across / 2)
    y, beside = (thick, line) if row.over_width else (line, thick)
    return _Taken(reach, y, beside, words, row) if row.piece.axis is Axis.X else _Taken(beside, y, reach, words, row)


def _cut(layout: CabinetLayout, board: Piece) -> Iterator[_Taken]:
    for work in works_of(layout, board):
        if work.kind in _REMOVED:
            yield _cut_out(board, work, f'the {work.kind.value} for "{work.other.name}"')


def _cut_out(board: Piece, work: Work, words: str) -> _Taken:
    """A work as a block: what lies across a board of the case runs into the depth, across a member over its face."""
    along = _moved(work.along, board.low_end)
    framed = board.role in FRAME_ROLES
    if framed and work.on in {Surface.FRONT, Surface.BACK}:
        y, beside = _deep(board.y, work), _moved(work.across, board.across.start)
    else:
        y = _moved(work.across, board.y.start if framed else front_of(board))
        beside = board.across if work.kind is WorkKind.NOTCH else _deep(board.across, work)
    return _Taken(beside, y, along, words) if board.axis is Axis.Z else _Taken(along, y, beside, words)


def _deep(face: Range, work: Work) -> Range:
    """From the surface that a work is on, into the board."""
    return Range(face.end - work.depth, face.end) if work.on in _HIGHS else Range(face.start, face.start + work.depth)


def _moved(found: Range, start: Fraction) -> Range:
    return Range(start + found.start, start + found.end)


def _pins(layout: CabinetLayout, board: Piece) -> Iterator[_Taken]:
    """The holes for adjustable shelves."""
    half = _PIN_DIAMETER / 2
    for row in holes_of(layout, board):
        face = board.x
        deep = (
            Range(face.end - _PIN_DEPTH, face.end)
            if row.on is Surface.HIGH
            else Range(face.start, face.start + _PIN_DEPTH)
        )
        y = front_of(board) + row.across
        for place in row.places:
            z = board.low_end + place
            words = f'the holes for the shelves of "{row.bay.name}"'
            yield _Taken(deep, Range(y - half, y + half), Range(z - half, z + half), words)
