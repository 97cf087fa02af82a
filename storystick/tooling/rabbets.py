"""Rabbets at the table saw: those in the sides for the back, and those at ends for the part that lies in them.

One that stops is not for the saw: see ``guided``.
"""

from __future__ import annotations

from collections.abc import Iterator

from storystick.job.shop import Purpose
from storystick.layout.cabinets.model import CabinetLayout, Piece
from storystick.layout.cabinets.working import works_of
from storystick.layout.cabinets.works import Surface, Work, WorkKind
from storystick.lengths import Figures
from storystick.tooling.corners import END, CornerWork, Notch
from storystick.tooling.faces import INSIDE, OUTSIDE, faces_of


def back_rabbets(layout: CabinetLayout, figures: Figures) -> Iterator[tuple[Piece, CornerWork]]:
    """The rabbet along the back edge of each side; both are cut alike, their inside faces down."""
    for side, rabbet in _rabbets(layout, along_board=True):
        standing = figures(side.stock.thickness - rabbet.depth)
        notch = Notch(INSIDE, OUTSIDE, rabbet.width, rabbet.depth)
        check = f"{standing} is left standing outside, and the rabbet is {figures(rabbet.width)} wide"
        thickness = side.stock.thickness
        yield side, CornerWork("back rabbet", "back edge", thickness, (notch,), check, purpose=Purpose.RABBETS)


def end_rabbets(layout: CabinetLayout, figures: Figures) -> Iterator[tuple[Piece, CornerWork]]:
    """The rabbets at the ends of boards, as wide as the part that lies in each."""
    for board, rabbet in _rabbets(layout, along_board=False):
        faces = faces_of(board)
        face, other = (faces.high, faces.low) if rabbet.on is Surface.HIGH else (faces.low, faces.high)
        standing = figures(board.stock.thickness - rabbet.depth)
        check = f"{standing} is left standing, and the rabbet is {figures(rabbet.width)} wide"
        notch = Notch(face, other, rabbet.width, rabbet.depth)
        yield board, CornerWork("end rabbet", END, board.stock.thickness, (notch,), check, purpose=Purpose.RABBETS)


def _rabbets(layout: CabinetLayout, along_board: bool) -> Iterator[tuple[Piece, Work]]:
    for board in layout.pieces:
        for work in works_of(layout, board):
            if work.kind is WorkKind.RABBET and work.along_board is along_board and not work.is_stopped:
                yield board, work
