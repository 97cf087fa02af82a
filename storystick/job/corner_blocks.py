"""Corner blocks: triangles glued into the corners of a case under its top, or of a plinth. Exact, in mm."""

from __future__ import annotations

from enum import Enum
from fractions import Fraction
from typing import Final

from storystick.job.keys import Key, inner, key, list_of, table
from storystick.job.kinds import SIZE, by_units, word_of
from storystick.job.openings import STOCK, Stock

_SIZE: Final = by_units("3", "75")
"""How long the legs of a corner block are, in mm: common practice, no source."""


class BlockedAt(Enum):
    """Where corner blocks stand: under the top of the case, or at the upper edge of the plinth."""

    TOP = "top"
    PLINTH = "plinth"


_AT_TOP: Final = (BlockedAt.TOP,)


@table("Corner blocks: triangles that lie flat in four corners, and are glued there.", form="{ size = … }")
class CornerBlocks:
    """Right-angled triangles with legs of ``size``, four at each place."""

    stock: Stock = key(
        Key(STOCK, "their stock", "ply", usual=lambda scope: scope.usual["rule"].stock, otherwise="the carcass's")
    )
    size: Fraction = key(
        Key(
            SIZE,
            "how long their legs are",
            "3",
            usual=_SIZE,
        ),
        default=Fraction(75),
    )
    at: tuple[BlockedAt, ...] = key(
        list_of(word_of(BlockedAt), alone=True, most=2, form='["top", "plinth"]'),
        "in the corners of the case under its top, of the plinth, or both",
        ["top", "plinth"],
        default=_AT_TOP,
        otherwise="top",
    )


CORNER_BLOCKS: Final = inner(CornerBlocks)
