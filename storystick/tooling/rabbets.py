"""Rabbets at the table saw: those in the sides for the back, and those at ends for the part that lies in them."""

from __future__ import annotations

from collections.abc import Iterator

from storystick.job.cabinet import RabbetBack
from storystick.layout.cabinets.model import CabinetLayout, Piece, Role
from storystick.lengths import Figures
from storystick.tooling.cautions import EITHER
from storystick.tooling.corners import END, CornerWork, Notch, may_stand_on_end
from storystick.tooling.faces import INSIDE, OUTSIDE, faces_of


def back_rabbets(layout: CabinetLayout, figures: Figures) -> Iterator[tuple[Piece, CornerWork]]:
    """The rabbet along the back edge of each side; both are cut alike, their inside faces down."""
    back = layout.cabinet.back
    if not isinstance(back, RabbetBack):
        return
    for side in layout.of(Role.SIDE):
        thickness = side.stock.thickness
        standing = figures(thickness - back.depth)
        notch = Notch(INSIDE, OUTSIDE, back.width, back.depth)
        check = f"{standing} is left standing outside, and the rabbet is {figures(back.width)} wide"
        yield side, CornerWork("back rabbet", "back edge", thickness, (notch,), check)


def end_rabbets(layout: CabinetLayout, figures: Figures) -> Iterator[tuple[Piece, CornerWork]]:
    """The rabbets at the ends of boards, as wide as the part that lies in each."""
    for board in layout.pieces:
        for piece, ending, high in layout.ends_on(board.name):
            if ending.joint is None or not ending.joint.at_end_only:
                continue
            faces = faces_of(board)
            face, other = (faces.high, faces.low) if high else (faces.low, faces.high)
            width, depth = piece.stock.thickness, ending.joint.depth
            standing = figures(board.stock.thickness - depth)
            check = f"{standing} is left standing, and the rabbet is {figures(width)} wide"
            stands = may_stand_on_end(board, figures)
            notch = Notch(face, other, width, depth)
            yield board, CornerWork("end rabbet", END, board.stock.thickness, (notch,), check, stands, EITHER)
