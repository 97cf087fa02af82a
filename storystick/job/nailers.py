"""Nailers, or hanging rails: strips on edge between the sides, which a cabinet is hung by. Exact, in mm."""

from __future__ import annotations

from enum import Enum
from fractions import Fraction
from typing import Final

from storystick.job.joints import Joint
from storystick.job.keys import Key, inner, key, list_of, table
from storystick.job.kinds import SIZE, by_units, word_of
from storystick.job.openings import JOINT, STOCK, Stock

_WIDTH: Final = by_units("4", "100")
"""How wide a nailer is, in mm: common practice, no source."""


class NailedAt(Enum):
    """Where a nailer stands: under what closes the case above, or over what closes it below."""

    TOP = "top"
    BOTTOM = "bottom"


_AT_TOP: Final = (NailedAt.TOP,)


@table("Nailers, or hanging rails: between the sides, before the back.", form='{ width = …, at = ["top", "bottom"] }')
class NailerRule:
    """Nailers of one kind, ``width`` high as they stand on edge; without a joint they are butted and screwed."""

    stock: Stock = key(
        Key(
            STOCK,
            "their stock",
            "ply",
            usual=lambda scope: scope.usual["rule"].stock,
            otherwise="the carcass's",
        )
    )
    joint: Joint | None = key(JOINT, "how their ends are let into the sides", "shelf", default=None, otherwise="butted")
    width: Fraction = key(
        Key(
            SIZE,
            "how wide they are",
            "4",
            usual=_WIDTH,
        ),
        default=Fraction(100),
    )
    at: tuple[NailedAt, ...] = key(
        list_of(word_of(NailedAt), alone=True, most=2, form='["top", "bottom"]'),
        "under the top, over the bottom, or both",
        ["top", "bottom"],
        default=_AT_TOP,
        otherwise="top",
    )


NAILERS: Final = list_of(inner(NailerRule), alone=True, form="{ … }, or a list of such tables")
