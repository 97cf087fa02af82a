"""A cabinet's face frame: its stiles and rails, and how its edges lie to the case. Exact, in mm, without positions."""

from __future__ import annotations

from dataclasses import replace
from enum import Enum
from fractions import Fraction
from typing import Any, Final, NamedTuple, cast

from storystick.errors import Fault, Where, as_written
from storystick.job.cases import PartRule
from storystick.job.frame_joints import MortiseAndTenon
from storystick.job.joints import Joint
from storystick.job.keys import Filled, Here, Key, TableOf, each, inner, key, one, plain_or, table, table_of
from storystick.job.kinds import DISTANCE, SIZE, YES_NO, Kind, Scope, Table, choice, word_of
from storystick.job.openings import ANY_STOCK, FRAME_JOINT, JOINT, STOCK, Stock
from storystick.lengths import Units, read_size


class Align(Enum):
    """Which edge of a rail agrees with the part behind it."""

    TOP = "top"
    CENTRE = "centre"
    BOTTOM = "bottom"


def _behind(word: str) -> Kind[Any]:
    """A width; None where it is that of the ``word`` behind, said by the name of that part's stock."""
    sort = f"a length, or the name of the stock of the {word}"
    read = lambda value, scope: _read_width(value, scope, scope.usual[word], word)  # noqa: E731
    return replace(cast(Any, SIZE), sort=sort, called="", read=read, names="stock")


def _read_width(value: object, scope: Scope, behind: PartRule, word: str) -> Fraction | None:
    stocks = scope.names("stock")
    name = value.strip() if isinstance(value, str) else ""
    if name not in stocks and not name[:1].isalpha():
        return read_size(value, scope.units)
    stock = stocks.find(name)
    if _is_size(name, scope.units):
        cure = "write the length with its unit, or leave the key out for a width like the part behind"
        raise Fault(f"{as_written(name)} is a length as well as the name of a stock", cure)
    if behind.stock not in (stock, ANY_STOCK):
        what = f'{as_written(name)} is not the stock of the {word} behind, "{behind.stock.name}"'
        raise Fault(what, f'try "{behind.stock.name}", or give a width')
    return None


def _is_size(text: str, units: Units) -> bool:
    try:
        read_size(text, units)
    except Fault:
        return False
    return True


@table("The outer stiles, where one is wider than the other.", form="{ left = …, right = … }")
class Stiles:
    """How wide the left and the right stile are (mm)."""

    left: Fraction = key(SIZE, "how wide the left stile is", "1 1/2")
    right: Fraction = key(SIZE, "how wide the right stile is", "2")


def _read_edge(here: Here) -> Fraction:
    """How far a rail's inner edge lies beyond the case's inner face, into the opening; less than 0 short of it."""
    proud: Fraction | None = here("proud")
    short: Fraction | None = here("short")
    if (proud is None) is (short is None):
        here.table.fault("an edge lies proud or short", 'give one of proud and short, or write edge = "flush"')
    return proud if proud is not None else -(short or Fraction(0))


_EDGE: Final = TableOf(
    lambda edge: edge,
    "How the inner edge of a rail lies to the inner face of the case.",
    {
        "edge": Filled(
            {
                "proud": Key(DISTANCE, "how far it stands into the opening, as a lip", "1/8", None, otherwise="not"),
                "short": Key(DISTANCE, "how far it stops before the inner face", "1/8", None, otherwise="not"),
            },
            _read_edge,
        )
    },
    "{ proud = … } or { short = … }",
    {"oneOf": [{"required": ["proud"]}, {"required": ["short"]}]},
)
_FLUSH_EDGE: Final = choice({"flush": Fraction(0)})


@table("The top or the bottom rail of a face frame.", form='{ width = …, edge = "flush" }')
class EndRail:
    """The top or the bottom rail of a frame.

    ``edge`` is how far its inner edge lies beyond the inner face of the case's top or bottom, into the opening (mm):
    the case's part is moved so. None leaves that part at the end of the case.
    """

    width: Fraction = key(SIZE, "how wide it is", "2")
    edge: Fraction | None = key(
        plain_or(_FLUSH_EDGE, lambda edge, _: edge, inner(_EDGE), hint="or write { proud = … } or { short = … }"),
        "how its inner edge lies to the inner face of the case's top or bottom, which is moved so",
        "flush",
        default=None,
        otherwise="the top or bottom is at the end of the case, wherever the edge comes to lie",
    )


_STILES: Final = plain_or(SIZE, lambda width, _: Stiles(width, width), inner(Stiles), "left", "right")
_END_RAIL: Final = plain_or(SIZE, lambda width, _: EndRail(width), inner(EndRail), "width")


@table("A face frame.", form='{ stock = "…", stile = …, top = …, bottom = … }')
class FrameRule:
    """A face frame. ``rail`` and ``mid_stile`` None are as wide as the part behind them is thick.

    The frame stands ``proud_left`` and ``proud_right`` beyond the sides; ``to_floor``, its stiles run down before a toe
    space or a plinth. ``joint`` lets the front edges of the case's parts into the back of the frame. ``joints`` is how
    the ends of rails and mid stiles are let into what they end on; where it is None, each has ``tenon`` beyond its
    shoulder, which is left to the shop.
    """

    stock: Stock = key(STOCK, "the stock of the frame", "frame")
    stile: Stiles = key(_STILES, "how wide the outer stiles are", "1 1/2")
    top: EndRail = key(_END_RAIL, "how wide the top rail is, and how its edge lies", "2")
    bottom: EndRail = key(
        _END_RAIL, "how wide the bottom rail is, and how its edge lies", {"width": "2", "edge": "flush"}
    )
    rail: Fraction | None = key(
        _behind("shelves"),
        "how wide the rails between top and bottom rail are",
        "1 1/2",
        default=None,
        otherwise="as the shelf behind is thick",
    )
    mid_stile: Fraction | None = key(
        _behind("dividers"),
        "how wide the mid stiles are",
        "1 1/2",
        default=None,
        otherwise="as the divider behind is thick",
    )
    align: Align = key(
        word_of(Align), "which edge of a rail agrees with the shelf behind it", "centre", default=Align.TOP
    )
    proud_left: Fraction = Fraction(0)
    proud_right: Fraction = Fraction(0)
    joint: Joint | None = key(
        JOINT,
        "the joint of case and frame: lets the front edges of the case into the back of the frame",
        "shelf",
        default=None,
        otherwise="butted",
    )
    tenon: Fraction = Fraction(0)
    joints: Joint | None = None
    to_floor: bool = key(
        YES_NO, "whether the outer stiles run to the floor over a toe space or a plinth", True, default=False
    )


def _stands_out(side: str) -> Key:
    return Key(DISTANCE, f"how far the frame stands beyond the {side} side", "1/4", Fraction(0))


_PROUD: Final = TableOf(
    lambda left, right: (left, right),
    "How far the frame stands beyond each side.",
    each(left=_stands_out("left"), right=_stands_out("right")),
)
_FLUSH: Final = (Fraction(0), Fraction(0))


_TENON: Final = Kind(
    lambda value, scope: table_of(MortiseAndTenon).read(Table(value), scope, name="tenon"),
    None,
    "{ length = … }",
    "a table",
    MortiseAndTenon,
)


class _Ends(NamedTuple):
    """How rails and mid stiles end: by a joint, or with so much beyond their shoulders."""

    joints: Joint | None
    tenon: Fraction


def _read_ends(here: Here) -> _Ends:
    if len(here.given("joints", "tenon")) > 1:
        here.table.fault("joints stands beside tenon", "give one of them", Where.unsaid("joints"))
    joint, tenon = here("joints"), here("tenon")
    return _Ends(joint, tenon) if isinstance(tenon, Fraction) else _Ends(tenon or joint, Fraction(0))


_ENDS: Final = Filled(
    {
        "joints": Key(
            FRAME_JOINT,
            "the joint of its own members: how the ends of rails and mid stiles are let into what they end on",
            "frame",
            None,
            otherwise="butted, or as tenon says",
        ),
        "tenon": Key(
            plain_or(DISTANCE, lambda length, _: length, _TENON, "length"),
            "what each end of a rail or of a mid stile has beyond its shoulder, the rest left to the shop; or a "
            "table, with the keys of a mortise and tenon",
            "1/2",
            Fraction(0),
        ),
    },
    _read_ends,
)


def _build_frame(proud: tuple[Fraction, Fraction], ends: _Ends, **fields: Any) -> FrameRule:
    return FrameRule(proud_left=proud[0], proud_right=proud[1], joints=ends.joints, tenon=ends.tenon, **fields)


FRAME: Final = replace(
    table_of(FrameRule),
    build=_build_frame,
    filled={
        "proud": one(
            "proud",
            Key(
                plain_or(DISTANCE, lambda both, _: (both, both), inner(_PROUD), "left", "right"),
                "how far the frame stands beyond the sides, for scribing",
                {"left": "1/4"},
                _FLUSH,
                otherwise="flush",
            ),
        ),
        **table_of(FrameRule).filled,
        "ends": _ENDS,
    },
)
