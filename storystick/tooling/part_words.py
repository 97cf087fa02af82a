"""Parts and their faces in the words of whoever stands at the machine."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Final, NamedTuple

from storystick.layout.cabinets.pieces import Piece
from storystick.layout.cabinets.works import Surface, surface_words
from storystick.wording import by_number

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


def names_of(pieces: Iterable[Piece]) -> str:
    """The parts by their cabinets, with what their names share said once."""
    cabinets: dict[int, list[Piece]] = {}
    for piece in pieces:
        cabinets.setdefault(piece.cabinet.number, []).append(piece)
    return "; ".join(f"{own[0].cabinet.name} {_joined(own)}" for own in cabinets.values())


def _joined(pieces: Sequence[Piece]) -> str:
    """ "shelf 1", "shelf 2" as "shelf 1, 2", "left side", "right side" as "both sides"."""
    hands = Counter(piece.role for piece in pieces if piece.hand)
    names = (f"both {piece.role.value}s" if hands[piece.role] == 2 else piece.name for piece in pieces)
    return ", ".join(by_number(names))
