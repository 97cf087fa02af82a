"""What a cabinet's case is made of: its parts, and how they meet. Exact, in mm."""

from __future__ import annotations

from dataclasses import replace
from enum import Enum
from fractions import Fraction
from typing import Final

from storystick.errors import Fault, as_written
from storystick.job.joints import Joint
from storystick.job.keys import Here, Key, TableOf, each, inner, key, plain_or, table
from storystick.job.kinds import DISTANCE, SIZE, Scope, word_of
from storystick.job.openings import JOINT, STOCK, Stock


def stock_key(words: str, otherwise: str) -> Key:
    """The stock of a table, which may be left out where another is usual."""
    return Key(STOCK, words, "ply", usual=lambda scope: scope.usual["stock"], otherwise=otherwise)


def read_stock(here: Here) -> Stock:
    """What :func:`stock_key` says."""
    stock: Stock = here.need("stock") if here.scope.usual["stock"] is None else here("stock")
    return stock


class EndPlace(Enum):
    """How a top or a bottom meets the sides: between them, or over their ends."""

    BETWEEN = "between"
    OVER = "over"


_CASE_STOCK: Final = Key(
    STOCK, "their stock", "ply", usual=lambda scope: scope.usual["rule"].stock, otherwise="the carcass's"
)
_CASE_JOINT: Final = Key(
    JOINT,
    "how their ends are let into what they end on",
    "shelf",
    usual=lambda scope: scope.usual["rule"].joint,
    otherwise="the cabinet's joint",
)


@table("Parts of the case of one kind: what is left out is as for the whole case.")
class PartRule:
    """What parts of one kind are made of, and how their ends are let into what they end on (None: butted).

    They begin ``setback`` behind the front edge of the case, and go to the back where they have no ``depth``.
    """

    stock: Stock = key(_CASE_STOCK)
    joint: Joint | None = key(_CASE_JOINT, default=None)
    depth: Fraction | None = key(
        SIZE,
        "how deep they are",
        "11",
        default=None,
        usual=lambda scope: scope.usual["rule"].depth,
        otherwise="to the back",
    )
    setback: Fraction = key(
        DISTANCE,
        "how far their front edges stand behind that of the case",
        "1",
        default=Fraction(0),
        usual=lambda scope: scope.usual["rule"].setback,
        otherwise="0",
    )


@table("A top or a bottom: what is left out is as for the whole case.")
class EndRule:
    """The same for a top or a bottom, with its place at the sides."""

    stock: Stock = key(_CASE_STOCK)
    joint: Joint | None = key(_CASE_JOINT, default=None)
    place: EndPlace = key(
        word_of(EndPlace), "how it meets the sides: between them, or over their ends", "over", default=EndPlace.BETWEEN
    )

    @property
    def takes(self) -> Fraction:
        """What it takes of the case's height."""
        return self.stock.thickness


_SIDES: Final = TableOf(
    lambda stock: stock, "The sides: what is left out is as for the whole case.", each(stock=_CASE_STOCK)
)
_HOW_MANY: Final = "name the stock of the shelves here: how many there are follows from openings, one less than those"


SIDES: Final = plain_or(STOCK, lambda stock, _: stock, inner(_SIDES))
END: Final = plain_or(STOCK, lambda stock, scope: EndRule(stock, scope.usual["rule"].joint), inner(EndRule))
_NAMED: Final = plain_or(STOCK, lambda stock, scope: PartRule(stock, scope.usual["rule"].joint), inner(PartRule))


def _read_part(value: object, scope: Scope) -> PartRule:
    if isinstance(value, int):
        raise Fault(f"{as_written(value)} is not the name of a stock", _HOW_MANY)
    rule: PartRule = _NAMED.read(value, scope)
    return rule


PARTS: Final = replace(_NAMED, read=_read_part)
"""A stock's name, or a table; what it does not say is as in the usual rule."""
