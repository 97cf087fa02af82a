"""What a cabinet stands on: a toe space or a plinth. Exact, in mm, without positions."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from storystick.job.cases import read_stock, stock_key
from storystick.job.keys import Here, key, keys, table
from storystick.job.kinds import DISTANCE, SIZE
from storystick.job.openings import Stock

_BASE_FORM: Final = "{ height = …, recess = … }"
_RECESS: Final = "how far it stands back from the front edge of the case"


@table("A toe space under the bottom: the sides run to the floor.", form=_BASE_FORM)
class Toe:
    """A toe space under the bottom: the sides run to the floor, cut back over ``height`` by ``recess``
    from the front edge of the case.
    """

    height: Fraction = key(SIZE, "how high it is", "4")
    recess: Fraction = key(DISTANCE, _RECESS, "3", asked=True)


@table("A base that the case stands on.", form=_BASE_FORM)
class Plinth:
    """A base that the case stands on, ``height`` high, set back by ``recess`` from the front edge of the case."""

    stock: Stock = keys(read_stock, stock=stock_key("its stock", "the carcass's"))
    height: Fraction = key(SIZE, "how high it is", "4")
    recess: Fraction = key(DISTANCE, _RECESS, "2", asked=True)


def read_base(here: Here) -> Toe | Plinth | None:
    if len(here.given("toe", "plinth")) > 1:
        here.table.fault("toe stands beside plinth", "give one of them")
        return None
    toe: Toe | None = here("toe")
    return toe or here("plinth")
