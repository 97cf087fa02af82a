"""The names of parts that are worked alike, as few words as will do."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import TypeAlias

from storystick.layout.cabinets.model import CabinetLayout, Piece
from storystick.wording import by_number

Owner: TypeAlias = tuple[CabinetLayout, Piece]


def names_of(owners: Sequence[Owner]) -> str:
    """The parts by their cabinets, with what their names share said once."""
    cabinets: dict[str, list[Piece]] = {}
    for layout, piece in owners:
        cabinets.setdefault(layout.cabinet.name, []).append(piece)
    return "; ".join(f"{cabinet} {_joined(pieces)}" for cabinet, pieces in cabinets.items())


def _joined(pieces: Sequence[Piece]) -> str:
    """ "shelf 1", "shelf 2" as "shelf 1, 2", "left side", "right side" as "both sides"."""
    hands = Counter(piece.role for piece in pieces if piece.hand)
    names = (f"both {piece.role.value}s" if hands[piece.role] == 2 else piece.name for piece in pieces)
    return ", ".join(by_number(names))
