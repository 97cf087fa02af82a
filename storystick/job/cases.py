"""What a cabinet's case is made of, closed with and stands on: its parts, back and base. Exact, in mm."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction
from typing import Any, Final, TypeAlias

from storystick.errors import Fault, as_written
from storystick.job.joints import Joint
from storystick.job.keys import Here, Key, TableOf, each, inner, key, keys, plain_or, table
from storystick.job.kinds import DISTANCE, SIZE, YES_NO, Scope, word_of
from storystick.job.openings import JOINT, STOCK, Stock
from storystick.lengths import INCH_MM, Figures, Units, write_figure


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
    """What parts of one kind are made of, and how their ends are let into what they end on (None: butted)."""

    stock: Stock = key(_CASE_STOCK)
    joint: Joint | None = key(_CASE_JOINT, default=None)


@table("A top or a bottom: what is left out is as for the whole case.")
class EndRule:
    """The same for a top or a bottom, with its place at the sides."""

    stock: Stock = key(_CASE_STOCK)
    joint: Joint | None = key(_CASE_JOINT, default=None)
    place: EndPlace = key(
        word_of(EndPlace), "how it meets the sides: between them, or over their ends", "over", default=EndPlace.BETWEEN
    )


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


@dataclass(frozen=True, slots=True)
class RabbetBack:
    """A back in a rabbet: ``width`` along the face of the side from its back edge, ``depth`` into its thickness.

    ``after_painting``: it is fitted dry to square the case, and fastened when all is painted.
    """

    stock: Stock
    width: Fraction
    depth: Fraction
    after_painting: bool = False


@dataclass(frozen=True, slots=True)
class GrooveBack:
    """A back in a groove as wide as itself, ``depth`` deep, ``inset`` from the back edge to the groove's near edge.

    It ends ``gap`` short of the bottom of every groove that it stands in.
    """

    stock: Stock
    depth: Fraction
    inset: Fraction
    gap: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class LaidOnBack:
    """A back laid on the back edges of the case, as wide and as high as the case; ``after_painting`` as in a rabbet."""

    stock: Stock
    after_painting: bool = False


Back: TypeAlias = RabbetBack | GrooveBack | LaidOnBack

_BOTTOM_GAP: Final = {Units.INCH: INCH_MM / 32, Units.MM: Fraction(1)}
"""What a back has to spare at the bottom of each groove that it stands in (mm), and half the groove at most: common
practice, no source."""

_BACK_CURE: Final = "give rabbet_width and rabbet_depth, or groove_depth and groove_inset, or laid_on = true"


def _rabbet(here: Here, stock: Stock) -> Back:
    return RabbetBack(stock, here.need("rabbet_width"), here.need("rabbet_depth"))


def _groove(here: Here, stock: Stock) -> Back:
    depth, inset = here.need("groove_depth"), here.need("groove_inset")
    gap: Fraction | None = here("bottom_gap")
    return GrooveBack(stock, depth, inset, min(_BOTTOM_GAP[here.scope.units], depth / 2) if gap is None else gap)


def _laid_on(here: Here, stock: Stock) -> Back:
    if not here("laid_on"):
        here.table.fault("laid_on = false does not say how the back is held", _BACK_CURE)
    return LaidOnBack(stock)


_HELD: Final[dict[Callable[[Here, Stock], Back], tuple[str, ...]]] = {
    _rabbet: ("rabbet_width", "rabbet_depth"),
    _groove: ("groove_depth", "groove_inset", "bottom_gap"),
    _laid_on: ("laid_on",),
}


def _fill_back(here: Here) -> dict[str, Any]:
    """A back in the one form whose keys the table has."""
    stock = read_stock(here)
    given = {held: here.given(*names) for held, names in _HELD.items()}
    ways = [held for held, names in given.items() if names]
    if len(ways) > 1:
        mixed = " and ".join(names[0] for names in given.values() if names)
        here.table.fault(f"{mixed} stand in one table", "a back is held in one way: give the keys of one")
    if not ways:
        here.table.fault("nothing says how the back is held", _BACK_CURE)
    back = (ways[0] if len(ways) == 1 else _laid_on)(here, stock)
    return {"back": back, "later": here("after_painting")}


def _build_back(back: Back, later: bool) -> Back:
    return replace(back, after_painting=True) if later and not isinstance(back, GrooveBack) else back


def _check_back(back: Back, here: Here) -> None:
    units = here.scope.units
    if isinstance(back, RabbetBack) and back.stock.thickness > back.width:
        thickness, width = (write_figure(length, units) for length in (back.stock.thickness, back.width))
        what = f'a back of "{back.stock.name}", {thickness} thick, does not enter a rabbet {width} wide'
        raise Fault(what, f"make it {Figures.usual(units).at_least(back.stock.thickness)} or wider", "rabbet_width")
    if isinstance(back, GrooveBack) and back.gap >= back.depth:
        gap, depth = (write_figure(length, units) for length in (back.gap, back.depth))
        what = f"a gap of {gap} leaves nothing of the back in a groove {depth} deep"
        raise Fault(what, "make it less than groove_depth", "bottom_gap")
    if isinstance(back, GrooveBack) and here("after_painting"):
        what = "a back in grooves is shut in by the case, and cannot be fastened after painting"
        raise Fault(what, "leave it out, or give the back a rabbet or laid_on = true", "after_painting")


def _held_by(needed: tuple[str, ...], **more: Any) -> dict[str, Any]:
    """The shape of a back that is held in one way: it has the keys of no other."""
    others = {name: False for names in _HELD.values() if needed[0] not in names for name in names}
    return {"required": list(needed), "properties": {**others, **more}}


_OPTIONAL: Final = "only where the back is held so"
BACK: Final = TableOf(
    _build_back,
    "The back: in a rabbet, in a groove, or laid on the back edges.",
    each(
        stock=stock_key("the stock of the back", "the carcass's"),
        rabbet_width=Key(
            SIZE,
            "in a rabbet: its width along the face of the side from its back edge",
            "1/4",
            None,
            otherwise=_OPTIONAL,
        ),
        rabbet_depth=Key(
            SIZE, "in a rabbet: its depth into the thickness of the side", "3/8", None, otherwise=_OPTIONAL
        ),
        groove_depth=Key(SIZE, "in a groove: how deep it is", "1/4", None, otherwise=_OPTIONAL),
        groove_inset=Key(SIZE, "in a groove: from the back edge to its near edge", "1/2", None, otherwise=_OPTIONAL),
        bottom_gap=Key(
            DISTANCE,
            "in a groove: how far the back is short of its bottom",
            "1/32",
            None,
            otherwise="1/32 in, or 1 mm in a job in mm, and half the groove at most",
        ),
        laid_on=Key(YES_NO, "true: laid on the back edges of the case", True, True, otherwise=_OPTIONAL),
        after_painting=Key(
            YES_NO,
            "whether it is fitted dry to square the case, and fastened when all is painted; not in a groove",
            True,
            False,
        ),
    ),
    '{ stock = "…", rabbet_width = …, rabbet_depth = … }, or with groove_depth and groove_inset, or laid_on = true',
    {
        "oneOf": [
            _held_by(("rabbet_width", "rabbet_depth")),
            _held_by(("groove_depth", "groove_inset"), after_painting={"const": False}),
            _held_by(("laid_on",), laid_on={"const": True}),
        ]
    },
    _check_back,
    _fill_back,
)

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
