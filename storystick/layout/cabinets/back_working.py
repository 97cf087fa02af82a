"""What is worked on the pieces that a back is made of: tongues, grooves and laps along edges of boards and frame.

Across a board stations count from its left edge as seen from the front, and through its thickness from its front face.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from itertools import pairwise
from typing import Final

from storystick.job.back_makes import BoardJoint, Boards, Framed
from storystick.layout.cabinets.back_making import frame_joint, make_of
from storystick.layout.cabinets.pieces import Axis, CabinetLayout, Piece, Range, Role
from storystick.layout.cabinets.works import Surface, Work, WorkKind, width_of

_NOTHING: Final = Fraction(0)


def board_edges(layout: CabinetLayout, board: Piece) -> Iterator[Work]:
    """The tongue or lap of a back's board into the next one, and what it has for that of the one before it."""
    make = make_of(layout.cabinet)
    if not isinstance(make, Boards):
        return
    for low, high in pairwise(layout.of(Role.BACK_BOARD)):
        if board is low:
            yield _tongue(make, board, high)
        if board is high:
            yield _NEXT[make.joint](make, board, low)


def panel_grooves(layout: CabinetLayout, board: Piece) -> Iterator[Work]:
    """The groove in every edge of a framed back's member that a panel, and where it is a stile a rail, enters."""
    make = make_of(layout.cabinet)
    if not isinstance(make, Framed):
        return
    joint = frame_joint(make)
    across, along = joint.groove(board.stock.thickness), Range(_NOTHING, board.length)
    for surface, panel in _grooved_edges(layout, board):
        yield Work(
            WorkKind.EDGE_GROOVE, surface, board, panel, along, Range(*across), joint.depth, joint, along_board=True
        )


def _grooved_edges(layout: CabinetLayout, board: Piece) -> Iterator[tuple[Surface, Piece]]:
    """Each edge that a panel stands in, low before high, with the first such panel."""
    axis = Axis.X if board.axis is Axis.Z else Axis.Z
    own, panels = board.along(axis), layout.of(Role.BACK_PANEL)
    for surface, edge in ((Surface.LOW, own.start), (Surface.HIGH, own.end)):
        at_low = surface is Surface.LOW
        found = next((panel for panel in panels if _stands_in(panel.along(axis), edge, at_low, own)), None)
        if found:
            yield surface, found


def _stands_in(panel: Range, edge: Fraction, at_low: bool, board: Range) -> bool:
    """Whether a panel reaches over an edge into a board."""
    return panel.start < edge < panel.end and (panel.start < board.start if at_low else panel.end > board.end)


def _tongue(make: Boards, board: Piece, other: Piece) -> Work:
    """What stands out at the right: a third of the thickness in the middle, or the half at the back."""
    thick, wide = board.stock.thickness, width_of(board)
    kept = {
        BoardJoint.TONGUE: Range(thick / 3, 2 * thick / 3),
        BoardJoint.SHIPLAP: Range(thick / 2, thick),
    }[make.joint]
    across = Range(wide - board.edge_tongue, wide)
    return _along(WorkKind.TONGUE, Surface.HIGH, board, other, across, board.edge_tongue, kept)


def _groove(make: Boards, board: Piece, other: Piece) -> Work:
    thick, along = board.stock.thickness, Range(_NOTHING, board.length)
    across, depth = Range(thick / 3, 2 * thick / 3), make.lap + make.bottom_gap
    return Work(WorkKind.EDGE_GROOVE, Surface.LOW, board, other, along, across, depth, along_board=True)


def _lap(make: Boards, board: Piece, other: Piece) -> Work:
    """The rabbet at the back, half as deep as the board is thick."""
    across, thick = Range(_NOTHING, make.lap), board.stock.thickness
    return _along(WorkKind.RABBET, Surface.LOW, board, other, across, thick / 2, Range(_NOTHING, thick / 2))


_NEXT: Final[Mapping[BoardJoint, Callable[[Boards, Piece, Piece], Work]]] = {
    BoardJoint.TONGUE: _groove,
    BoardJoint.SHIPLAP: _lap,
}


def _along(
    kind: WorkKind, on: Surface, board: Piece, other: Piece, across: Range, depth: Fraction, thick: Range
) -> Work:
    """A work along the whole of an edge; ``thick`` is where it lies in the thickness, or what it leaves of that."""
    along = Range(_NOTHING, board.length)
    return Work(kind, on, board, other, along, across, depth, thick=thick, along_board=True)
