"""Reading the cabinets of a job: overall sizes, what the case is made of, and what is set in it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from typing import Final

from storystick.errors import Fault, as_written
from storystick.job.cabinet import Cabinet, EndRule, FrameRule, PartRule, Place, Plinth, Through, Toe
from storystick.job.cabinet_parts import read_back, read_drawers, read_plinth, read_toe
from storystick.job.face_frame import read_frame
from storystick.job.fronts import read_fronts
from storystick.job.model import Stock
from storystick.job.numbered import read_numbered
from storystick.job.openings import ANY_STOCK, Scope
from storystick.job.rows import read_rows
from storystick.job.tables import Table, choice, size

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
        rows=read_rows(table, scope),
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
    place = table.get("place", choice({word.value: word for word in Place}), Place.BETWEEN)
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
