"""What stands between two openings of a cabinet, one above the other. Exact, in mm, without positions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from enum import Enum
from fractions import Fraction
from typing import Any, Final

from storystick.errors import Fault
from storystick.job.joints import Joint
from storystick.job.keys import Here, Key, inner, key, plain_or, table
from storystick.job.kinds import DISTANCE, SIZE, Kind, Scope, by_units, word_of
from storystick.job.openings import JOINT, STOCK, Stock


class BetweenKind(Enum):
    """What stands between two openings."""

    SHELF = "shelf"
    RAIL = "rail"
    WEB_FRAME = "web frame"
    DUST_PANEL = "dust panel"
    FRAME_RAIL = "frame rail"
    NOTHING = "nothing"


_ITS_OWN: Final = ("stock", "joint", "setback")
_MEANT: Final[Mapping[BetweenKind, tuple[str, ...]]] = {
    BetweenKind.SHELF: (*_ITS_OWN, "depth"),
    BetweenKind.RAIL: (*_ITS_OWN, "width"),
    BetweenKind.WEB_FRAME: (*_ITS_OWN, "width", "depth", "groove"),
    BetweenKind.DUST_PANEL: (*_ITS_OWN, "width", "depth", "groove", "panel"),
    BetweenKind.FRAME_RAIL: (),
    BetweenKind.NOTHING: (),
}
"""The keys that say something of each kind."""

_RAIL_WIDTH: Final = by_units("3", "75")
"""How wide a rail is from front to back, and a member of a web frame, in mm: common practice, no source."""

_GROOVE: Final = by_units("3/8", "10")
"""How deep the grooves in the members of a web frame are, in mm: common practice, no source."""


@table("What stands between two openings.", form='{ kind = "…", key = … }')
class Between:
    """What stands between two openings; what is None is as in the shelves of its band.

    A shelf goes from ``setback`` behind the front edge of the case to the back, or ``depth`` deep; a rail is ``width``
    wide from front to back. A web frame is a front and a back rail with runners between them, all ``width`` wide, in
    grooves ``groove`` deep; a dust panel has a ``panel`` in its grooves, None being of the back's stock. A rail of the
    face frame has nothing behind it.
    """

    kind: BetweenKind = key(
        word_of(BetweenKind),
        "what it is: in the case a shelf, a rail at the front, a web frame or one with a dust panel; or just a rail of "
        "the face frame; or nothing at all",
        "rail",
    )
    width: Fraction = key(
        SIZE,
        "how wide a rail is from front to back, or a member of a web frame",
        "3",
        usual=_RAIL_WIDTH,
    )
    groove: Fraction = key(
        SIZE,
        "of a web frame: how deep the grooves in its members are",
        "3/8",
        usual=_GROOVE,
    )
    stock: Stock | None = key(STOCK, "its stock", "ply", default=None, otherwise="the shelves'")
    joint: Joint | None = key(
        JOINT, "how its ends are let into what they end on", "shelf", default=None, otherwise="the shelves'"
    )
    depth: Fraction | None = key(
        SIZE, "of a shelf or a web frame: how deep it is", "10", default=None, otherwise="the shelves', or to the back"
    )
    panel: Stock | None = key(
        STOCK, "of a dust panel: the stock of what lies in its grooves", "back", default=None, otherwise="the back's"
    )
    setback: Fraction | None = key(
        DISTANCE,
        "how far its front edge stands behind that of the case",
        "1",
        default=None,
        otherwise="of a shelf as the shelves say, else none",
    )

    def check(self, here: Here) -> None:
        """That every key says something of its kind."""
        names = [own.name for own in fields(self) if own.name not in ("kind", *_MEANT[self.kind])]
        if given := here.given(*names):
            what = f'{" and ".join(given)} {"says" if len(given) == 1 else "say"} nothing of "{self.kind.value}"'
            raise Fault(what, "leave it out, or write another kind")


def _plain(kind: BetweenKind, scope: Scope) -> Between:
    return Between(kind, _RAIL_WIDTH(scope), _GROOVE(scope))


BETWEEN: Final[Kind[Any]] = plain_or(word_of(BetweenKind), _plain, inner(Between), "kind")


def between_key(where: str, otherwise: str) -> Key:
    """What stands between openings ``where``, in words."""
    return Key(BETWEEN, f"what stands between {where}", {"kind": "rail", "width": "3"}, None, otherwise=otherwise)


def above_key(of: str) -> Key:
    """What stands above one thing."""
    return Key(
        BETWEEN,
        f"what stands above {of}, where that is not what between says",
        "shelf",
        None,
        otherwise="as between says",
    )
