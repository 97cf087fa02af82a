"""The words for a part's faces at the machine."""

from __future__ import annotations

from typing import Final, NamedTuple

from storystick.layout.cabinets.model import Piece
from storystick.layout.cabinets.works import Surface, surface_words

INSIDE: Final = "inside face"
OUTSIDE: Final = "outside face"
"""What both of a pair have, whichever of them it is."""


class Faces(NamedTuple):
    """The faces of a part: the one toward the datum, lower or left, and the one opposite."""

    low: str
    high: str


def faces_of(piece: Piece) -> Faces:
    """The faces of a part of the case; a side's are its outside and its inside."""
    return Faces(surface_words(piece, Surface.LOW), surface_words(piece, Surface.HIGH))
