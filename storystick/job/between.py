"""What stands between two openings of a cabinet, one above the other. Exact, in mm, without positions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from enum import Enum
from typing import Any, Final

from storystick.errors import Fault
from storystick.job.joints import Joint
from storystick.job.keys import Here, Key, inner, key, plain_or, table
from storystick.job.kinds import Kind, word_of
from storystick.job.openings import JOINT, STOCK, Stock


class BetweenKind(Enum):
    """What stands between two openings."""

    SHELF = "shelf"
    NOTHING = "nothing"


_MEANT: Final[Mapping[BetweenKind, frozenset[str]]] = {
    BetweenKind.SHELF: frozenset({"stock", "joint"}),
    BetweenKind.NOTHING: frozenset(),
}
"""The keys that say something of each kind."""


@table("What stands between two openings.", form='{ kind = "…", key = … }')
class Between:
    """What stands between two openings; None is as in the shelves of its band."""

    kind: BetweenKind = key(word_of(BetweenKind), "what it is", "nothing")
    stock: Stock | None = key(STOCK, "its stock", "ply", default=None, otherwise="the shelves'")
    joint: Joint | None = key(
        JOINT, "how its ends are let into what they end on", "shelf", default=None, otherwise="the shelves'"
    )

    def check(self, here: Here) -> None:
        """That every key says something of its kind."""
        names = [own.name for own in fields(self) if own.name not in ("kind", *_MEANT[self.kind])]
        if given := here.given(*names):
            what = f'{" and ".join(given)} {"says" if len(given) == 1 else "say"} nothing of "{self.kind.value}"'
            raise Fault(what, "leave it out, or write another kind")


BETWEEN: Final[Kind[Any]] = plain_or(word_of(BetweenKind), lambda kind, _: Between(kind), inner(Between))


def between_key(where: str, otherwise: str) -> Key:
    """What stands between openings ``where``, in words."""
    return Key(BETWEEN, f"what stands between {where}", "nothing", None, otherwise=otherwise)


def above_key(of: str) -> Key:
    """What stands above one thing."""
    return Key(
        BETWEEN,
        f"what stands above {of}, where that is not what between says",
        "shelf",
        None,
        otherwise="as between says",
    )
