"""From which edge a part with dovetailed ends slides into its sockets."""

from __future__ import annotations

from storystick.job.usual_joint import Closes
from storystick.layout.cabinets.backs import back_of
from storystick.layout.cabinets.pieces import CabinetLayout, Piece, Role
from storystick.layout.cabinets.working import let_into
from storystick.layout.cabinets.works import Surface


def is_slid(piece: Piece) -> bool:
    """Whether an end of it slides in along a socket."""
    return any(ending.on and ending.joint and ending.joint.closes is Closes.SLID for ending in (piece.low, piece.high))


def is_shut_behind(layout: CabinetLayout) -> bool:
    """Whether a back in grooves is in its place before anything can slide in."""
    return bool(layout.of(Role.BACK)) and not back_of(layout.cabinet).is_fastened


def slides_from(layout: CabinetLayout, piece: Piece) -> Surface | None:
    """The edge of what it ends on that it slides in from: the back one where that is open, else the front one.

    None where its sockets open at neither.
    """
    boards = dict.fromkeys(on for ending in (piece.low, piece.high) for on in ending.ons)
    stops = [
        work.stops
        for board in boards
        for work in let_into(layout, board)
        if work.other is piece and work.joint and work.joint.closes is Closes.SLID
    ]
    if not is_shut_behind(layout) and not any(behind for _, behind in stops):
        return Surface.BACK
    return None if any(before for before, _ in stops) else Surface.FRONT
