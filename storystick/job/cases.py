"""What a cabinet's case is made of: its parts, and how they meet. Exact, in mm."""

from __future__ import annotations

from dataclasses import replace
from enum import Enum
from fractions import Fraction
from typing import Any, Final

from storystick.errors import Fault, as_written
from storystick.job.joints import Joint
from storystick.job.keys import Here, Key, TableOf, each, inner, key, plain_or, table
from storystick.job.kinds import DISTANCE, SIZE, Scope, by_units, word_of
from storystick.job.nosings import Nosing
from storystick.job.openings import JOINT, STOCK, Stock


def stock_key(words: str, otherwise: str) -> Key:
    """The stock of a table, which may be left out where another is usual."""
    return Key(STOCK, words, "ply", usual=lambda scope: scope.usual["stock"], otherwise=otherwise)


def read_stock(here: Here) -> Stock:
    """What :func:`stock_key` says."""
    stock: Stock = here.need("stock") if here.scope.usual["stock"] is None else here("stock")
    return stock


class EndPlace(Enum):
    """How a case ends: in a board between the sides or over their ends, in two stretchers between them, or open."""

    BETWEEN = "between"
    OVER = "over"
    STRETCHERS = "stretchers"
    NONE = "none"


class Turned(Enum):
    """Which of two stretchers stand on edge."""

    NONE = "none"
    FRONT = "front"
    BACK = "back"
    BOTH = "both"

    @property
    def front(self) -> bool:
        return self in (Turned.FRONT, Turned.BOTH)

    @property
    def back(self) -> bool:
        return self in (Turned.BACK, Turned.BOTH)


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
    nosing: Nosing | None = key(
        inner(Nosing),
        "of shelves: a strip before the front edge",
        {"stock": "frame"},
        default=None,
        usual=lambda scope: scope.usual["rule"].nosing,
        otherwise="none",
    )


_STRETCHER_WIDTH: Final = by_units("4", "100")
"""How wide a stretcher is, in mm: common practice, no source."""

_NOT_OVER: Final = Fraction(0)


@table("How far a board lies over what is under it.", form="{ front = …, left = … }")
class Overhang:
    """How far something reaches beyond the cabinet at each edge, in mm."""

    front: Fraction = key(DISTANCE, "beyond the finished front", "1", default=_NOT_OVER)
    back: Fraction = key(DISTANCE, "beyond the back edge", "1", default=_NOT_OVER)
    left: Fraction = key(DISTANCE, "beyond the left side", "1", default=_NOT_OVER)
    right: Fraction = key(DISTANCE, "beyond the right side", "1", default=_NOT_OVER)


FLUSH: Final = Overhang()
OVERHANG: Final = plain_or(
    DISTANCE, lambda all_round, _: Overhang(*[all_round] * 4), inner(Overhang), "front", "back", "left", "right"
)
"""A length for all edges, or each by its own."""


def overhang_key(words: str, usual: Overhang = FLUSH) -> Any:
    """How far something reaches beyond the cabinet."""
    return key(OVERHANG, words, {"front": "1", "left": "1/2", "right": "1/2"}, default=usual, otherwise="none")


@table("A top or a bottom: what is left out is as for the whole case.")
class EndRule:
    """The same for a top or a bottom, with its place at the sides.

    Stretchers are ``width`` wide from front to back, or up where they stand on edge; ``overhang`` is of one that lies
    over the sides.
    """

    stock: Stock = key(_CASE_STOCK)
    joint: Joint | None = key(_CASE_JOINT, default=None)
    place: EndPlace = key(
        word_of(EndPlace),
        "how the case ends there: in a board between the sides or over their ends, in two stretchers, or open",
        "over",
        default=EndPlace.BETWEEN,
    )
    overhang: Overhang = overhang_key("of one over the sides: how far it reaches beyond the overall sizes")
    width: Fraction = key(
        Key(
            SIZE,
            "of stretchers: how wide they are",
            "4",
            usual=_STRETCHER_WIDTH,
        ),
        default=Fraction(100),
    )
    turned: Turned = key(word_of(Turned), "of stretchers: which of them stand on edge", "front", default=Turned.NONE)

    @property
    def takes(self) -> Fraction:
        """What it takes of the case's height in front."""
        if self.place is EndPlace.NONE:
            return Fraction(0)
        on_edge = self.place is EndPlace.STRETCHERS and self.turned.front
        return self.width if on_edge else self.stock.thickness

    @property
    def is_board(self) -> bool:
        """Whether a board closes the case there."""
        return self.place in (EndPlace.BETWEEN, EndPlace.OVER)

    @property
    def reaches_front(self) -> bool:
        """Whether it lies over the finished front, so that frame and fronts end under it."""
        return self.place is EndPlace.OVER and self.overhang.front > 0

    def check(self, here: Here) -> None:
        """That what is said of stretchers, or of one over the sides, is said of such."""
        for place, names in ((EndPlace.STRETCHERS, ("width", "turned")), (EndPlace.OVER, ("overhang",))):
            given = here.given(*names)
            if given and self.place is not place:
                what = f'{given[0]} says nothing of one whose place is "{self.place.value}"'
                raise Fault(what, f'leave it out, or write place = "{place.value}"', given[0])


_SIDES: Final = TableOf(
    lambda stock: stock, "The sides: what is left out is as for the whole case.", each(stock=_CASE_STOCK)
)
_HOW_MANY: Final = "name the stock of the shelves here: how many there are follows from openings, one less than those"


SIDES: Final = plain_or(STOCK, lambda stock, _: stock, inner(_SIDES), "stock")
END: Final = plain_or(
    STOCK,
    lambda stock, scope: EndRule(stock, scope.usual["rule"].joint),
    inner(EndRule),
    "stock",
    hint='or say how the case ends there: { place = "over" }, "stretchers" or "none"',
)
_NAMED: Final = plain_or(
    STOCK, lambda stock, scope: PartRule(stock, scope.usual["rule"].joint), inner(PartRule), "stock"
)


def _read_part(value: object, scope: Scope) -> PartRule:
    if isinstance(value, int):
        raise Fault(f"{as_written(value)} is not the name of a stock", _HOW_MANY)
    rule: PartRule = _NAMED.read(value, scope)
    return rule


PARTS: Final = replace(_NAMED, read=_read_part)
"""A stock's name, or a table; what it does not say is as in the usual rule."""
