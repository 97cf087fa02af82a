"""What a cabinet stands on: a toe space or a plinth. Exact, in mm, without positions."""

from __future__ import annotations

from enum import Enum
from fractions import Fraction
from typing import Final

from storystick.errors import Fault, Where
from storystick.job.cases import read_stock, stock_key
from storystick.job.keys import Here, Key, inner, key, keys, plain_or, table
from storystick.job.kinds import DISTANCE, SIZE, YES_NO, choice, word_of
from storystick.job.openings import STOCK, Stock
from storystick.job.sticks import Hand

_BASE_FORM: Final = "{ height = …, recess = … }"
_RECESS: Final = "how far it stands back from the front edge of the case"


class From(Enum):
    """What the recess of a base is told from: the front edge of the case, or the front of the face frame on it."""

    CASE = "case"
    FRAME = "frame"


_ENDS: Final = Key(
    choice({"left": (Hand.LEFT,), "right": (Hand.RIGHT,), "both": (Hand.LEFT, Hand.RIGHT)}),
    "at which ends, where they are seen, it stands back by the recess as well",
    "left",
    (),
    otherwise="at none",
)
_FROM: Final = Key(
    word_of(From),
    "what the recess in front is told from: the front edge of the case, or the front of its face frame",
    "frame",
    From.CASE,
)


class BoardPlace(Enum):
    """How a toe board stands: between the sides, or over the heels of their notches."""

    BETWEEN = "between"
    OVER = "over"


@table("A toe board.", form='{ stock = "…" }')
class ToeBoard:
    """A board before the toe space: between the sides, or as wide as the case over the heels of their notches."""

    stock: Stock = keys(read_stock, stock=stock_key("its stock", "the carcass's"))
    place: BoardPlace = key(
        word_of(BoardPlace),
        "whether it stands between the sides, or over the heels of their notches",
        "over",
        default=BoardPlace.BETWEEN,
    )


@table("A toe space under the bottom: the sides run to the floor.", form=_BASE_FORM)
class Toe:
    """A toe space under the bottom: the sides run to the floor, cut back over ``height``, so that its ``board``, or
    without one the heel of the notch, stands ``recess`` behind the front edge of the case or the front of its frame.

    At ``ends``, which are seen, the side ends at the bottom, and a board stands as far back under it.
    """

    height: Fraction = key(SIZE, "how high it is", "4")
    recess: Fraction = key(DISTANCE, _RECESS, "3", asked=True)
    board: ToeBoard | None = key(
        plain_or(STOCK, lambda stock, _: ToeBoard(stock), inner(ToeBoard), "stock"),
        "the toe board before it: its stock, or more",
        "ply",
        default=None,
        otherwise="none: it is left to the shop",
    )
    ends: tuple[Hand, ...] = key(_ENDS, default=())
    recess_from: From = key(_FROM, default=From.CASE)

    def check(self, _: Here) -> None:
        if self.ends and self.board is None:
            raise Fault("ends needs a board to stand back there", 'add board = "…", the name of a stock', "ends")


@table("A base that the case stands on.", form=_BASE_FORM)
class Plinth:
    """A base that the case stands on, ``height`` high, set back by ``recess`` in front, and at the ``ends`` given.

    A ``loose`` one is set and levelled in its place first; the case is set on it and screwed.
    """

    stock: Stock = keys(read_stock, stock=stock_key("its stock", "the carcass's"))
    height: Fraction = key(SIZE, "how high it is", "4")
    recess: Fraction = key(DISTANCE, _RECESS, "2", asked=True)
    ends: tuple[Hand, ...] = key(_ENDS, default=())
    recess_from: From = key(_FROM, default=From.CASE)
    loose: bool = key(
        YES_NO, "true: set and levelled in its place first, the case then screwed onto it", True, default=False
    )


def read_base(here: Here) -> Toe | Plinth | None:
    if len(here.given("toe", "plinth")) > 1:
        here.table.fault("toe stands beside plinth", "give one of them", Where.unsaid("toe"))
        return None
    toe: Toe | None = here("toe")
    return toe or here("plinth")
