"""Cleats: strips that shelves lie on, that a top is screwed to from below, or that a wall unit hangs on. In mm."""

from __future__ import annotations

from enum import Enum
from fractions import Fraction
from typing import Final

from storystick.job.keys import Key, inner, key, list_of, table
from storystick.job.kinds import DISTANCE, SIZE, by_units, word_of
from storystick.job.openings import STOCK, Stock

_WIDTH: Final = by_units("1 1/2", "40")
"""How wide a cleat is, in mm: common practice, no source."""


class CleatAt(Enum):
    """Where cleats are: under the ends of shelves, along the sides under the top, or on the wall behind the back."""

    SHELVES = "shelves"
    TOP = "top"
    WALL = "wall"


@table(
    "Cleats: square-edged strips under shelves or a top, or on the wall.", form='{ width = …, at = ["shelves", "top"] }'
)
class CleatRule:
    """Cleats of one kind, ``width`` high as they stand on edge; those along sides begin ``setback`` behind the front
    of what lies on them.
    """

    at: tuple[CleatAt, ...] = key(
        list_of(word_of(CleatAt), alone=True, most=3, form='["shelves", "top", "wall"]'),
        "under the ends of every fixed shelf, along the sides under the top, or on the wall behind the back, where "
        "the top of a wall unit lies on it",
        ["shelves"],
    )
    stock: Stock = key(
        Key(STOCK, "their stock", "ply", usual=lambda scope: scope.usual["rule"].stock, otherwise="the carcass's")
    )
    width: Fraction = key(
        Key(
            SIZE,
            "how wide they are",
            "1 1/2",
            usual=_WIDTH,
        ),
        default=Fraction(40),
    )
    setback: Fraction = key(
        DISTANCE,
        "how far those along the sides begin behind the front edge of what lies on them",
        "1",
        default=Fraction(0),
        otherwise="0",
    )


CLEATS: Final = list_of(inner(CleatRule), alone=True, form="{ … }, or a list of such tables")
