"""Where the fasteners of a cabinet stand: in the ends of its pieces, and on the boards that those end on.

Their centres lie along the middle of the piece's thickness. In a case the line runs into its depth, from the finished
front edge (edging and all) to the inner face of the back, or the back edge of what both have there: so all parts of a
case have theirs alike, and clear of what is cut for the back. On a face frame, and at what stands on edge, it runs over
the piece's width.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final
from weakref import WeakKeyDictionary

from storystick.job.fasteners import Bore, Fastener
from storystick.layout.cabinets.pieces import FRAME_ROLES, CabinetLayout, Ending, Piece, Range, Role
from storystick.layout.cabinets.works import Surface, front_of, inside_of


@dataclass(frozen=True, slots=True, eq=False)
class FastenerRow:
    """The fasteners at one ``end`` of a piece: ``on`` a face of a ``board``, or an edge of a frame's member.

    ``line`` is the stretch of the cabinet that both have there, along which they stand: into the depth, or along the
    board of a frame. ``centres`` are their stations in the cabinet, and ``middle`` is theirs across that line.
    ``opposed`` are those of a frame that share the width of a member with others opposite.
    """

    fastener: Fastener
    piece: Piece
    end: Surface
    board: Piece
    on: Surface
    line: Range
    centres: tuple[Fraction, ...]
    opposed: bool = False

    @property
    def framed(self) -> bool:
        """Whether it is one of the face frame."""
        return self.piece.role in FRAME_ROLES

    @property
    def over_width(self) -> bool:
        """Whether they stand over the width of the piece: a member of a frame, or what stands on edge in a case."""
        return _over_width(self.piece)

    @property
    def part_thickness(self) -> Fraction:
        return self.piece.stock.thickness

    @property
    def board_thickness(self) -> Fraction:
        """How much of the board there is behind its face or edge."""
        return self.board.along(self.piece.axis).size

    @property
    def _room(self) -> Fraction:
        """What of the board's thickness they may have."""
        return (self.board_thickness + self.fastener.behind) / 2 if self.opposed else self.board_thickness

    @property
    def middle(self) -> Fraction:
        """The station of the middle of the piece's thickness: in a case upward or to the right, else into the depth."""
        thick = self.piece.y if self.over_width else self.piece.across
        return (thick.start + thick.end) / 2

    @property
    def along(self) -> tuple[Fraction, ...]:
        """The centres along the board, from its own low end: in a case all of them at one place."""
        stations = self.centres if self.over_width else (self.middle,)
        return tuple(station - self.board.low_end for station in stations)

    @property
    def across(self) -> tuple[Fraction, ...]:
        """The centres across the board, from its front edge: in a frame the middle of its thickness."""
        stations = (self.middle,) if self.over_width else self.centres
        return tuple(station - front_of(self.board) for station in stations)

    @property
    def across_end(self) -> tuple[Fraction, ...]:
        """The centres across the piece's end: from its front edge, or from its lower or left one in a frame."""
        start = self.piece.across.start if self.over_width else front_of(self.piece)
        return tuple(station - start for station in self.centres)

    @property
    def bored(self) -> Bore | None:
        """What is bored into the board."""
        return self.fastener.in_board(self.part_thickness, self._room)

    @property
    def bored_end(self) -> Bore | None:
        """What is bored into the end of the piece."""
        return self.fastener.in_end(self.part_thickness, self._room)

    @property
    def pocket_face(self) -> Surface:
        """The face of the piece that pockets are bored from: the one that is seen least."""
        if self.over_width:
            return Surface.BACK
        return inside_of(self.piece) if self.piece.role is Role.SIDE else _HIDDEN.get(self.piece.role, Surface.HIGH)


_HIDDEN: Final = {Role.BOTTOM: Surface.LOW, Role.SHELF: Surface.LOW}
"""From below where people look down on a part, else from above or from the right: common practice, no source."""


def fastener_rows(layout: CabinetLayout) -> tuple[FastenerRow, ...]:
    """Those of all pieces, piece by piece, the low end first."""
    if layout not in _FOUND:
        rows = tuple(row for piece in layout.pieces for row in _rows_of(layout, piece))
        _FOUND[layout] = tuple(_beside_others(row, rows) for row in rows)
    return _FOUND[layout]


_FOUND: Final[WeakKeyDictionary[CabinetLayout, tuple[FastenerRow, ...]]] = WeakKeyDictionary()
"""The rows of cabinets that have been asked for: strips, list, set-ups and checks ask many times for the same."""


def rows_on(layout: CabinetLayout, board: Piece) -> tuple[FastenerRow, ...]:
    """Those whose pieces end on a board."""
    return tuple(row for row in fastener_rows(layout) if row.board is board)


def rows_at_ends(layout: CabinetLayout, piece: Piece) -> tuple[FastenerRow, ...]:
    """Those at the ends of a piece."""
    return tuple(row for row in fastener_rows(layout) if row.piece is piece)


def _rows_of(layout: CabinetLayout, piece: Piece) -> Iterator[FastenerRow]:
    ends: tuple[tuple[Surface, Ending, Surface], ...] = (
        (Surface.LOW_END, piece.low, Surface.HIGH),
        (Surface.HIGH_END, piece.high, Surface.LOW),
    )
    for end, ending, on in ends:
        fastener = ending.joint.fasteners if ending.joint else None
        for board in ending.ons if fastener else ():
            if fastener:
                line = line_of(layout, piece, board)
                centres = tuple(line.start + place for place in fastener.places(line.size))
                yield FastenerRow(fastener, piece, end, board, on, line, centres)


def _over_width(piece: Piece) -> bool:
    return piece.role in FRAME_ROLES or piece.on_edge


def _beside_others(row: FastenerRow, rows: Sequence[FastenerRow]) -> FastenerRow:
    """The row as it is where others stand opposite on the same board, and both would meet inside it.

    In a case those on the high face stand farther back, by what one takes of the line and its thickness beside it, as
    far as there is room; in a frame both go less deep. Common practice, no source.
    """
    own = row.bored
    if own is None or row.fastener.from_outside or not any(_meets(row, other) for other in rows):
        return row
    if row.framed:
        return replace(row, opposed=True)
    back = tuple(centre + own.along + own.across for centre in row.centres)
    if row.on is Surface.LOW or not back or row.line.end - back[-1] < row.fastener.clear:
        return row
    return replace(row, centres=back)


def _meets(row: FastenerRow, other: FastenerRow) -> bool:
    """Whether another row is bored into the other face of the same board, opposite, and as deep as to meet."""
    if other.board is not row.board or other.on is row.on or not (row.bored and other.bored):
        return False
    thick, line = _thick(row).overlaps(_thick(other)), row.line.overlaps(other.line)
    return thick and line and row.bored.depth + other.bored.depth >= row.board_thickness


def _thick(row: FastenerRow) -> Range:
    return row.piece.y if row.over_width else row.piece.across


def line_of(layout: CabinetLayout, piece: Piece, board: Piece) -> Range:
    """What a piece and the board that it ends on have in common, along which fasteners stand."""
    if _over_width(piece):
        return piece.across
    # The front edge as it is when done: what is glued on later is measured from as well.
    front, back = max(piece.finished_front, board.finished_front), min(piece.y.end, board.y.end)
    if front < layout.inner_back:
        back = min(back, layout.inner_back)
    return Range(front, back)
