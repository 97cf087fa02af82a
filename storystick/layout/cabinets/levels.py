"""A level: what bounds openings from below or from above, whatever it is."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from storystick.layout.cabinets.pieces import Piece, Range


@dataclass(frozen=True, slots=True, eq=False)
class Level:
    """What bounds openings from below or from above: its piece, None where nothing of the case stands.

    ``start`` and ``end`` are what is seen of it from the front, the same where nothing is; ``x`` is how far it reaches
    across. ``rail_on`` are the uprights before which a rail of the face frame ends that has no piece behind it.
    """

    piece: Piece | None
    start: Fraction
    end: Fraction
    x: Range
    rail_on: tuple[Piece, Piece] | None = None
