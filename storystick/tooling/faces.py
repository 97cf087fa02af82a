"""The words for a part's faces at the machine."""

from __future__ import annotations

from typing import Final, NamedTuple

from storystick.layout.cabinets.model import Piece, Role


class Faces(NamedTuple):
    """The faces of a part: the one toward the datum, lower or left, and the one opposite."""

    low: str
    high: str


INSIDE: Final = "inside face"
OUTSIDE: Final = "outside face"
_LEVEL: Final = Faces("lower face", "upper face")
_UPRIGHT: Final = Faces("left face", "right face")


def faces_of(piece: Piece) -> Faces:
    """The faces of a part of the case; a side's are its outside and its inside."""
    if piece.role is Role.SIDE:
        return Faces(INSIDE, OUTSIDE) if piece.is_right else Faces(OUTSIDE, INSIDE)
    return _UPRIGHT if piece.role is Role.DIVIDER else _LEVEL
