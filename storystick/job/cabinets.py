"""Cabinets by their overall sizes, what they are made of, and the reading of them. Exact, in mm, without positions."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction
from functools import partial
from typing import Final, TypeAlias

from storystick.errors import Fault, as_written
from storystick.job.compartments import (
    CabinetRow,
    DrawerRule,
    FrontRule,
    need_stock,
    read_bands,
    read_drawers,
    read_fronts,
)
from storystick.job.joints import Joint
from storystick.job.keys import numbered_place, read_numbered
from storystick.job.openings import ANY_STOCK, Scope, Stock
from storystick.job.tables import YES_NO, Table, choice, distance, size
from storystick.lengths import INCH_MM, Figures, Units, read_distance, read_size, write_figure


class EndPlace(Enum):
    """How a top or a bottom meets the sides: between them, or over their ends."""

    BETWEEN = "between"
    OVER = "over"


class Through(Enum):
    """Which parts run through where shelves and dividers cross."""

    SHELVES = "shelves"
    DIVIDERS = "dividers"


@dataclass(frozen=True, slots=True)
class PartRule:
    """What parts of one kind are made of, and how their ends are let into what they end on (None: butted)."""

    stock: Stock
    joint: Joint | None = None


@dataclass(frozen=True, slots=True)
class EndRule:
    """The same for a top or a bottom, with its place at the sides."""

    stock: Stock
    joint: Joint | None = None
    place: EndPlace = EndPlace.BETWEEN


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


@dataclass(frozen=True, slots=True)
class Toe:
    """A toe space under the bottom: the sides run to the floor, cut back over ``height`` by ``recess``
    from the front edge of the case.
    """

    height: Fraction
    recess: Fraction


@dataclass(frozen=True, slots=True)
class Plinth:
    """A base that the case stands on, ``height`` high, set back by ``recess`` from the front edge of the case."""

    stock: Stock
    height: Fraction
    recess: Fraction


class Align(Enum):
    """Which edge of a rail agrees with the part behind it."""

    TOP = "top"
    CENTRE = "centre"
    BOTTOM = "bottom"


@dataclass(frozen=True, slots=True)
class FrameRule:
    """A face frame. ``rail`` and ``mid_stile`` None are as wide as the part behind them is thick.

    The frame stands ``proud_left`` and ``proud_right`` beyond the sides. ``joint`` lets the front edges of the case's
    parts into the back of the frame; ``tenon`` is what each end of a rail or mid stile has beyond its shoulder.
    """

    stock: Stock
    stile: Fraction
    top: Fraction
    bottom: Fraction
    rail: Fraction | None = None
    mid_stile: Fraction | None = None
    align: Align = Align.TOP
    proud_left: Fraction = Fraction(0)
    proud_right: Fraction = Fraction(0)
    joint: Joint | None = None
    tenon: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Cabinet:
    """A cabinet by its overall sizes: with its frame, its laid-on back and its base, but without its fronts.

    ``rows`` are bands from the bottom up. ``edging`` is the thickness of the solid edge that a frameless case has on
    its front edges, within the overall depth. ``number`` counts the job's cabinets from 1.
    """

    number: int
    name: str
    height: Fraction
    width: Fraction
    depth: Fraction
    sides: Stock
    top: EndRule
    bottom: EndRule
    shelves: PartRule
    dividers: PartRule
    rows: tuple[CabinetRow, ...]
    through: Through = Through.SHELVES
    back: Back | None = None
    base: Toe | Plinth | None = None
    frame: FrameRule | None = None
    edging: Fraction = Fraction(0)
    fronts: FrontRule | None = None
    drawers: DrawerRule | None = None

    @property
    def place(self) -> str:
        """Where a fault in this cabinet stands, in the words of a message."""
        return numbered_place("cabinet", self.number, self.name)


def read_back(table: Table, scope: Scope, usual: Stock | None) -> Back:
    """A back in the one form whose keys the table has."""
    stock = need_stock(table, scope, usual)
    given = {form: [key for key in keys if table.has(key)] for form, keys in _BACK_FORMS.items()}
    forms = [form for form, keys in given.items() if keys]
    if len(forms) > 1:
        mixed = " and ".join(keys[0] for keys in given.values() if keys)
        table.fault(f"{mixed} stand in one table", "a back is held in one way: give the keys of one")
    if not forms:
        table.fault("nothing says how the back is held", _BACK_CURE)
    form = forms[0] if len(forms) == 1 else _laid_on
    back = form(table, scope, stock)
    later = table.get("after_painting", YES_NO, False)
    table.close()
    _check_rabbet(back, scope)
    _check_gap(back, scope)
    return _after_painting(back) if later else back


def _rabbet(table: Table, scope: Scope, stock: Stock) -> Back:
    read = size(scope.units)
    return RabbetBack(stock, table.need("rabbet_width", read), table.need("rabbet_depth", read))


def _groove(table: Table, scope: Scope, stock: Stock) -> Back:
    read = size(scope.units)
    depth, inset = table.need("groove_depth", read), table.need("groove_inset", read)
    gap = table.get("bottom_gap", distance(scope.units), min(_BOTTOM_GAP[scope.units], depth / 2))
    return GrooveBack(stock, depth, inset, gap)


def _laid_on(table: Table, _: Scope, stock: Stock) -> Back:
    if not table.get("laid_on", YES_NO, True):
        table.fault("laid_on = false does not say how the back is held", _BACK_CURE)
    return LaidOnBack(stock)


def _after_painting(back: Back) -> Back:
    if isinstance(back, GrooveBack):
        what = "a back in grooves is shut in by the case, and cannot be fastened after painting"
        raise Fault(what, "leave it out, or give the back a rabbet or laid_on = true", "after_painting")
    return replace(back, after_painting=True)


_BOTTOM_GAP: Final = {Units.INCH: INCH_MM / 32, Units.MM: Fraction(1)}
"""What a back has to spare at the bottom of each groove that it stands in (mm), and half the groove at most: common
practice, no source."""

_BACK_CURE: Final = "give rabbet_width and rabbet_depth, or groove_depth and groove_inset, or laid_on = true"
_BACK_FORMS: Final[Mapping[Callable[[Table, Scope, Stock], Back], tuple[str, ...]]] = {
    _rabbet: ("rabbet_width", "rabbet_depth"),
    _groove: ("groove_depth", "groove_inset", "bottom_gap"),
    _laid_on: ("laid_on",),
}


def _check_rabbet(back: Back, scope: Scope) -> None:
    if isinstance(back, RabbetBack) and back.stock.thickness > back.width:
        thickness, width = (write_figure(length, scope.units) for length in (back.stock.thickness, back.width))
        what = f'a back of "{back.stock.name}", {thickness} thick, does not enter a rabbet {width} wide'
        raise Fault(
            what, f"make it {Figures.usual(scope.units).at_least(back.stock.thickness)} or wider", "rabbet_width"
        )


def _check_gap(back: Back, scope: Scope) -> None:
    if isinstance(back, GrooveBack) and back.gap >= back.depth:
        gap, depth = (write_figure(length, scope.units) for length in (back.gap, back.depth))
        what = f"a gap of {gap} leaves nothing of the back in a groove {depth} deep"
        raise Fault(what, "make it less than groove_depth", "bottom_gap")


_RECESS: Final = "how far it stands back from the front edge of the case"


def read_toe(table: Table, scope: Scope) -> Toe:
    """A toe space under the bottom."""
    toe = Toe(table.need("height", size(scope.units)), table.need("recess", distance(scope.units), _RECESS))
    table.close()
    return toe


def read_plinth(table: Table, scope: Scope, usual: Stock | None) -> Plinth:
    """A base that the case stands on."""
    stock = need_stock(table, scope, usual)
    plinth = Plinth(
        stock, table.need("height", size(scope.units)), table.need("recess", distance(scope.units), _RECESS)
    )
    table.close()
    return plinth


_FLUSH = (Fraction(0), Fraction(0))


def read_frame(table: Table, scope: Scope, shelves: PartRule, dividers: PartRule) -> FrameRule:
    """The face frame; its rails stand before ``shelves``, its mid stiles before ``dividers``."""
    width = size(scope.units)
    left, right = table.get("proud", partial(_read_proud, units=scope.units), _FLUSH)
    frame = FrameRule(
        stock=table.need("stock", scope.stock),
        stile=table.need("stile", width),
        top=table.need("top", width),
        bottom=table.need("bottom", width),
        rail=table.get("rail", partial(_read_width, scope=scope, behind=shelves, word="shelves"), None),
        mid_stile=table.get("mid_stile", partial(_read_width, scope=scope, behind=dividers, word="dividers"), None),
        align=table.get("align", choice({align.value: align for align in Align}), Align.TOP),
        proud_left=left,
        proud_right=right,
        joint=table.get("joint", scope.joints.find, None),
        tenon=table.get("tenon", distance(scope.units), Fraction(0)),
    )
    table.close()
    return frame


def _read_width(value: object, scope: Scope, behind: PartRule, word: str) -> Fraction | None:
    """A width; None where it is that of the part behind, said by the name of that part's stock."""
    name = value.strip() if isinstance(value, str) else ""
    if name not in scope.stocks and not name[:1].isalpha():
        return read_size(value, scope.units)
    stock = scope.stocks.find(name)
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


def _read_proud(value: object, units: Units) -> tuple[Fraction, Fraction]:
    """How far the frame stands beyond the left and the right side."""
    if not isinstance(value, dict):
        both = read_distance(value, units)
        return both, both
    table = Table(value)
    left, right = (table.get(side, distance(units), Fraction(0)) for side in ("left", "right"))
    table.close()
    return left, right


_CASE_PARTS: Final = ("sides", "top", "bottom", "shelves", "dividers")
_UNKNOWN: Final = PartRule(ANY_STOCK)
_FRAME: Final = '{ stock = "…", stile = …, top = …, bottom = … }'
_BACK: Final = (
    '{ stock = "…", rabbet_width = …, rabbet_depth = … }, or with groove_depth and groove_inset, or laid_on = true'
)
_DRAWERS: Final = '{ stock = "…", side = …, top = …, back = … }'
_TOE: Final = "{ height = …, recess = … }"
_HOW_MANY: Final = "name the stock of the shelves here: how many there are follows from openings, one less than those"


@dataclass(frozen=True, slots=True)
class _Case:
    """The case's parts. ``usual`` is the stock of those that name none, None where each names its own."""

    usual: Stock | None
    sides: Stock
    top: EndRule
    bottom: EndRule
    shelves: PartRule
    dividers: PartRule


def read_cabinets(job: Table, scope: Scope) -> tuple[Cabinet, ...]:
    """The cabinets in which nothing is at fault; the faults of the others are kept in ``job``."""
    return read_numbered(job, "cabinet", lambda number, name, table: _read_cabinet(number, name, table, scope))


def _read_cabinet(number: int, name: str, table: Table, scope: Scope) -> Cabinet:
    height, width, depth = (table.need(key, size(scope.units)) for key in ("height", "width", "depth"))
    case = _read_case(table, scope)
    frame = table.get(
        "frame", lambda value: read_frame(Table(value, form=_FRAME), scope, case.shelves, case.dividers), None
    )
    cabinet = Cabinet(
        number=number,
        name=name,
        height=height,
        width=width,
        depth=depth,
        sides=case.sides,
        top=case.top,
        bottom=case.bottom,
        shelves=case.shelves,
        dividers=case.dividers,
        through=table.get("through", choice({word.value: word for word in Through}), Through.SHELVES),
        back=table.get("back", lambda value: read_back(Table(value, form=_BACK), scope, case.usual), None),
        base=_read_base(table, scope, case.usual),
        frame=frame,
        edging=_read_edging(table, scope),
        fronts=table.get("fronts", partial(read_fronts, scope=scope, usual=_front_stock(table, frame, case)), None),
        drawers=table.get("drawers", lambda value: read_drawers(Table(value, form=_DRAWERS), scope), None),
        rows=read_bands(table, scope),
    )
    table.close()
    return cabinet


def _read_case(table: Table, scope: Scope) -> _Case:
    joint = table.get("joint", scope.joints.find, None)
    usual = _read_carcass(table, scope)
    rule = PartRule(usual or ANY_STOCK, joint)
    part, end = partial(_read_part, scope=scope, usual=rule), partial(_read_end, scope=scope, usual=rule)
    any_end = EndRule(rule.stock, rule.joint)
    return _Case(
        usual,
        sides=table.get("sides", lambda value: _read_sides(value, scope, rule.stock), rule.stock),
        top=table.get("top", end, any_end),
        bottom=table.get("bottom", end, any_end),
        shelves=table.get("shelves", part, _UNKNOWN) if table.has("shelves") else rule,
        dividers=table.get("dividers", part, _UNKNOWN) if table.has("dividers") else rule,
    )


def _read_carcass(table: Table, scope: Scope) -> Stock | None:
    """The stock of the parts that name none; it may be left out only where there are no such parts."""
    if table.has("carcass"):
        return table.get("carcass", scope.stock, ANY_STOCK)
    bare = [key for key in _CASE_PARTS if not _names_stock(table, key)]
    if not bare:
        return None
    table.fault(
        "carcass is missing", f"add carcass = {scope.stock.form}, {scope.stock.sort}, or a stock for {', '.join(bare)}"
    )
    return ANY_STOCK


def _names_stock(table: Table, key: str) -> bool:
    if not table.has(key):
        return False
    value = table[key]
    return not isinstance(value, dict) or "stock" in value


def _read_sides(value: object, scope: Scope, usual: Stock) -> Stock:
    if not isinstance(value, dict):
        return scope.stocks.find(value)
    table = Table(value)
    stock = table.get("stock", scope.stocks.find, usual)
    table.close()
    return stock


def _read_part(value: object, scope: Scope, usual: PartRule) -> PartRule:
    """A stock's name, or a table; what it does not say is as in ``usual``."""
    if isinstance(value, int):
        raise Fault(f"{as_written(value)} is not the name of a stock", _HOW_MANY)
    if not isinstance(value, dict):
        return PartRule(scope.stocks.find(value), usual.joint)
    table = Table(value)
    rule = _read_rule(table, scope, usual)
    table.close()
    return rule


def _read_end(value: object, scope: Scope, usual: PartRule) -> EndRule:
    """As :func:`_read_part`, with the place at the sides."""
    if not isinstance(value, dict):
        return EndRule(scope.stocks.find(value), usual.joint)
    table = Table(value)
    rule = _read_rule(table, scope, usual)
    place = table.get("place", choice({word.value: word for word in EndPlace}), EndPlace.BETWEEN)
    table.close()
    return EndRule(rule.stock, rule.joint, place)


def _read_rule(table: Table, scope: Scope, usual: PartRule) -> PartRule:
    stock = table.get("stock", scope.stocks.find, usual.stock)
    return PartRule(stock, table.get("joint", scope.joints.find, usual.joint))


def _read_base(table: Table, scope: Scope, usual: Stock | None) -> Toe | Plinth | None:
    if table.has("toe") and table.has("plinth"):
        table.fault("toe stands beside plinth", "give one of them")
        return None
    toe = table.get("toe", lambda value: read_toe(Table(value, form=_TOE), scope), None)
    return toe or table.get("plinth", lambda value: read_plinth(Table(value, form=_TOE), scope, usual), None)


def _read_edging(table: Table, scope: Scope) -> Fraction:
    if table.has("edging") and table.has("frame"):
        table.fault("edging stands beside frame", "give edging only to a cabinet without a frame")
    return table.get("edging", size(scope.units), Fraction(0))


def _front_stock(table: Table, frame: FrameRule | None, case: _Case) -> Stock | None:
    """The stock of fronts that name none: that of the frame, or of the case."""
    if frame:
        return frame.stock
    return ANY_STOCK if table.has("frame") else case.usual
