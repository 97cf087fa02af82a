"""Cabinets by their overall sizes, and what they are made of.."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction
from typing import Any, Final, TypeAlias

from storystick.errors import Fault, as_written
from storystick.job.compartments import BAND_KEYS, CabinetRow, DrawerRule, FrontRule, read_bands, read_stock, stock_key
from storystick.job.joints import Joint
from storystick.job.keys import (
    Here,
    Key,
    TableOf,
    inner,
    key,
    keys,
    numbered_place,
    one,
    own_name,
    plain_or,
    table,
    table_of,
)
from storystick.job.kinds import YES_NO, Kind, Scope, distance, kind_in, size, word_of
from storystick.job.openings import ANY_STOCK, JOINT, STOCK, Stock
from storystick.lengths import INCH_MM, Figures, Units, read_size, write_figure


class EndPlace(Enum):
    """How a top or a bottom meets the sides: between them, or over their ends."""

    BETWEEN = "between"
    OVER = "over"


class Through(Enum):
    """Which parts run through where shelves and dividers cross."""

    SHELVES = "shelves"
    DIVIDERS = "dividers"


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

    stock: Stock = keys(lambda here: here("stock"), stock=_CASE_STOCK)
    joint: Joint | None = keys(lambda here: here("joint"), default=None, joint=_CASE_JOINT)


@table("A top or a bottom: what is left out is as for the whole case.")
class EndRule:
    """The same for a top or a bottom, with its place at the sides."""

    stock: Stock = keys(lambda here: here("stock"), stock=_CASE_STOCK)
    joint: Joint | None = keys(lambda here: here("joint"), default=None, joint=_CASE_JOINT)
    place: EndPlace = key(
        word_of(EndPlace), "how it meets the sides: between them, or over their ends", "over", default=EndPlace.BETWEEN
    )


_SIDES: Final = TableOf(
    lambda stock: stock, "The sides: what is left out is as for the whole case.", {"stock": one("stock", _CASE_STOCK)}
)
_HOW_MANY: Final = "name the stock of the shelves here: how many there are follows from openings, one less than those"


def _sides(scope: Scope) -> Kind[Stock]:
    return plain_or(STOCK, lambda stock: stock, inner(_SIDES))(scope)


def _end(scope: Scope) -> Kind[EndRule]:
    return plain_or(STOCK, lambda stock: EndRule(stock, scope.usual["rule"].joint), inner(EndRule))(scope)


def _part(scope: Scope) -> Kind[PartRule]:
    """A stock's name, or a table; what it does not say is as in the usual rule."""
    kind = plain_or(STOCK, lambda stock: PartRule(stock, scope.usual["rule"].joint), inner(PartRule))(scope)

    def read(value: object) -> PartRule:
        if isinstance(value, int):
            raise Fault(f"{as_written(value)} is not the name of a stock", _HOW_MANY)
        rule: PartRule = kind(value)
        return rule

    return replace(kind, read=read)


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
    {
        name: one(name, key)
        for name, key in {
            "stock": stock_key("the stock of the back", "the carcass's"),
            "rabbet_width": Key(
                size,
                "in a rabbet: its width along the face of the side from its back edge",
                "1/4",
                None,
                otherwise=_OPTIONAL,
            ),
            "rabbet_depth": Key(
                size, "in a rabbet: its depth into the thickness of the side", "3/8", None, otherwise=_OPTIONAL
            ),
            "groove_depth": Key(size, "in a groove: how deep it is", "1/4", None, otherwise=_OPTIONAL),
            "groove_inset": Key(
                size, "in a groove: from the back edge to its near edge", "1/2", None, otherwise=_OPTIONAL
            ),
            "bottom_gap": Key(
                distance,
                "in a groove: how far the back is short of its bottom",
                "1/32",
                None,
                otherwise="1/32 in, or 1 mm in a job in mm, and half the groove at most",
            ),
            "laid_on": Key(YES_NO, "true: laid on the back edges of the case", True, True, otherwise=_OPTIONAL),
            "after_painting": Key(
                YES_NO,
                "whether it is fitted dry to square the case, and fastened when all is painted; not in a groove",
                True,
                False,
            ),
        }.items()
    },
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

    height: Fraction = key(size, "how high it is", "4")
    recess: Fraction = key(distance, _RECESS, "3", asked=True)


@table("A base that the case stands on.", form=_BASE_FORM)
class Plinth:
    """A base that the case stands on, ``height`` high, set back by ``recess`` from the front edge of the case."""

    stock: Stock = keys(read_stock, stock=stock_key("its stock", "the carcass's"))
    height: Fraction = key(size, "how high it is", "4")
    recess: Fraction = key(distance, _RECESS, "2", asked=True)


def _read_base(here: Here) -> Toe | Plinth | None:
    if len(here.given("toe", "plinth")) > 1:
        here.table.fault("toe stands beside plinth", "give one of them")
        return None
    toe: Toe | None = here("toe")
    return toe or here("plinth")


class Align(Enum):
    """Which edge of a rail agrees with the part behind it."""

    TOP = "top"
    CENTRE = "centre"
    BOTTOM = "bottom"


def _behind(word: str) -> Callable[[Scope], Kind[Fraction | None]]:
    """A width; None where it is that of the ``word`` behind, said by the name of that part's stock."""

    def kind(scope: Scope) -> Kind[Fraction | None]:
        sort = f"a length, or the name of the stock of the {word}"
        own = replace(size(scope), sort=sort, called="")
        return own.made(lambda value: _read_width(value, scope, scope.usual[word], word), Fraction(1))

    return kind


def _read_width(value: object, scope: Scope, behind: PartRule, word: str) -> Fraction | None:
    stocks = scope.named["stock"]
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


@table("A face frame.", form='{ stock = "…", stile = …, top = …, bottom = … }')
class FrameRule:
    """A face frame. ``rail`` and ``mid_stile`` None are as wide as the part behind them is thick.

    The frame stands ``proud_left`` and ``proud_right`` beyond the sides. ``joint`` lets the front edges of the case's
    parts into the back of the frame; ``tenon`` is what each end of a rail or mid stile has beyond its shoulder.
    """

    stock: Stock = key(STOCK, "the stock of the frame", "frame")
    stile: Fraction = key(size, "how wide the outer stiles are", "1 1/2")
    top: Fraction = key(size, "how wide the top rail is", "2")
    bottom: Fraction = key(size, "how wide the bottom rail is", "2")
    rail: Fraction | None = key(
        _behind("shelves"),
        "how wide the rails between are",
        "1 1/2",
        default=None,
        otherwise="as the shelf behind is thick",
    )
    mid_stile: Fraction | None = key(
        _behind("dividers"),
        "how wide the stiles between are",
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
        JOINT, "lets the front edges of the case into the back of the frame", "shelf", default=None, otherwise="butted"
    )
    tenon: Fraction = key(
        distance, "what each end of a rail or of a stile between has beyond its shoulder", "1/2", default=Fraction(0)
    )


def _stands_out(side: str) -> Key:
    return Key(distance, f"how far the frame stands beyond the {side} side", "1/4", Fraction(0))


_PROUD: Final = TableOf(
    lambda left, right: (left, right),
    "How far the frame stands beyond each side.",
    {side: one(side, _stands_out(side)) for side in ("left", "right")},
)
_FLUSH: Final = (Fraction(0), Fraction(0))


def _build_frame(proud: tuple[Fraction, Fraction], **fields: Any) -> FrameRule:
    return FrameRule(proud_left=proud[0], proud_right=proud[1], **fields)


FRAME: Final = replace(
    table_of(FrameRule),
    build=_build_frame,
    filled={
        "proud": one(
            "proud",
            Key(
                plain_or(distance, lambda both: (both, both), inner(_PROUD)),
                "how far the frame stands beyond the sides, for scribing",
                {"left": "1/4"},
                _FLUSH,
                otherwise="flush",
            ),
        ),
        **table_of(FrameRule).filled,
    },
)

_CASE_PARTS: Final = ("sides", "top", "bottom", "shelves", "dividers")
_UNKNOWN: Final = PartRule(ANY_STOCK)
_AS_CASE: Final = "as carcass and joint say"


def _any_end(scope: Scope) -> EndRule:
    rule: PartRule = scope.usual["rule"]
    return EndRule(rule.stock, rule.joint)


def _read_carcass(here: Here) -> Stock | None:
    """The stock of the parts that name none; it may be left out only where there are no such parts."""
    if here.given("carcass"):
        stock: Stock = here("carcass")
        return stock
    bare = [name for name in _CASE_PARTS if not _names_stock(here.table, name)]
    if not bare:
        return None
    kind = kind_in(STOCK, here.scope)
    cure = f"add carcass = {kind.form}, {kind.sort}, or a stock for {', '.join(bare)}"
    here.table.fault("carcass is missing", cure)
    return ANY_STOCK


def _names_stock(table: Any, name: str) -> bool:
    if not table.has(name):
        return False
    value = table[name]
    return not isinstance(value, dict) or "stock" in value


@table(
    "A cabinet, by its overall sizes: with its frame, its laid-on back and its base, but without its fronts.",
    shape={
        "allOf": [
            *({"not": {"required": list(two)}} for two in (("toe", "plinth"), ("frame", "edging"))),
            *(
                {"not": {"required": list(two)}}
                for two in (("openings", "column"), ("openings", "row"), ("column", "row"))
            ),
            {"anyOf": [{"required": ["carcass"]}, {"required": list(_CASE_PARTS)}]},
        ]
    },
)
class Cabinet:
    """A cabinet by its overall sizes: with its frame, its laid-on back and its base, but without its fronts.

    ``rows`` are bands from the bottom up. ``edging`` is the thickness of the solid edge that a frameless case has on
    its front edges, within the overall depth. ``number`` counts the job's cabinets from 1.
    """

    number: int
    name: str = own_name("cabinet", "Press")
    height: Fraction = key(size, "its overall height", "72")
    width: Fraction = key(size, "its overall width", "40")
    depth: Fraction = key(size, "its overall depth", "22")
    sides: Stock = keys(
        lambda here: here("sides"),
        joint=Key(JOINT, "the joint of every part that ends on another", "shelf", None, otherwise="butted"),
        carcass=Key(
            STOCK,
            "the stock of every part that names none",
            "ply",
            ANY_STOCK,
            otherwise="needed unless sides, top, bottom, shelves and dividers each name their own",
        ),
        sides=Key(
            _sides, "the stock of the sides", "ply", usual=lambda scope: scope.usual["rule"].stock, otherwise=_AS_CASE
        ),
    )
    top: EndRule = keys(
        lambda here: here("top"),
        top=Key(_end, "the top: its stock, or more", {"place": "over"}, usual=_any_end, otherwise=_AS_CASE),
    )
    bottom: EndRule = keys(
        lambda here: here("bottom"),
        bottom=Key(_end, "the bottom: its stock, or more", "ply", usual=_any_end, otherwise=_AS_CASE),
    )
    shelves: PartRule = keys(
        lambda here: here("shelves"),
        shelves=Key(_part, "the shelves: their stock, or more", "ply", _UNKNOWN, otherwise=_AS_CASE),
    )
    dividers: PartRule = keys(
        lambda here: here("dividers"),
        dividers=Key(_part, "the dividers: their stock, or more", "ply", _UNKNOWN, otherwise=_AS_CASE),
    )
    rows: tuple[CabinetRow, ...] = keys(read_bands, BAND_KEYS)
    through: Through = key(
        word_of(Through),
        "which parts run through where shelves and dividers cross",
        "dividers",
        default=Through.SHELVES,
    )
    back: Back | None = key(
        inner(BACK),
        "the back",
        {"stock": "back", "rabbet_width": "1/4", "rabbet_depth": "3/8"},
        default=None,
        otherwise="none",
    )
    base: Toe | Plinth | None = keys(
        _read_base,
        default=None,
        toe=Key(inner(Toe), "a toe space under the bottom", {"height": "4", "recess": "3"}, None, otherwise="none"),
        plinth=Key(
            inner(Plinth), "a base that the case stands on", {"height": "4", "recess": "2"}, None, otherwise="none"
        ),
    )
    frame: FrameRule | None = key(
        inner(FRAME),
        "a face frame",
        {"stock": "frame", "stile": "1 1/2", "top": "2", "bottom": "2"},
        default=None,
        otherwise="none",
    )
    edging: Fraction = key(
        size,
        "how thick the solid edge of a case without a frame is, within the overall depth",
        "1/8",
        default=Fraction(0),
        otherwise="none",
    )
    fronts: FrontRule | None = key(
        inner(FrontRule),
        "drawer fronts and doors",
        {"kind": "inset", "stock": "front", "reveal": "1/16"},
        default=None,
        otherwise="none",
    )
    drawers: DrawerRule | None = key(
        inner(DrawerRule),
        "drawer boxes",
        {"stock": "box", "side": "3/16", "top": "1/4", "back": "1"},
        default=None,
        otherwise="none",
    )

    @staticmethod
    def fill(here: Here) -> dict[str, Any]:
        """What is left out of a part is as the case says, and the frame looks at the parts behind it."""
        values = {name: here(name) for name in ("height", "width", "depth")}
        joint, usual = here("joint"), _read_carcass(here)
        rule = PartRule(usual or ANY_STOCK, joint)
        case = here.where(rule=rule, stock=usual)
        values |= {name: case(name) for name in ("sides", "top", "bottom")}
        values |= {name: case(name) if here.given(name) else rule for name in ("shelves", "dividers")}
        frame = case.where(shelves=values["shelves"], dividers=values["dividers"])("frame")
        values |= {"frame": frame, "through": here("through"), "back": case("back"), "base": _read_base(case)}
        if len(here.given("edging", "frame")) > 1:
            here.table.fault("edging stands beside frame", "give edging only to a cabinet without a frame")
        of_frame = frame.stock if frame else ANY_STOCK if here.given("frame") else usual
        fronts = case.where(stock=of_frame)
        values |= {"edging": here("edging"), "fronts": fronts("fronts"), "drawers": here("drawers")}
        return {**values, "rows": read_bands(here)}

    @property
    def place(self) -> str:
        """Where a fault in this cabinet stands, in the words of a message."""
        return numbered_place("cabinet", self.number, self.name)
