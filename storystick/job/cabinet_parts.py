"""Reading what a cabinet's case is closed and fitted with: its back, its base, and its drawer boxes."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Final

from storystick.errors import Fault
from storystick.job.cabinet import Back, DrawerRule, GrooveBack, LaidOnBack, Plinth, RabbetBack, Toe
from storystick.job.model import Stock
from storystick.job.openings import Scope
from storystick.job.tables import YES_NO, Table, distance, size
from storystick.lengths import INCH_MM, Figures, Units, write_figure


def need_stock(table: Table, scope: Scope, usual: Stock | None = None) -> Stock:
    """The table's stock; it may be left out where there is a ``usual`` one."""
    if usual is None:
        return table.need("stock", scope.stock)
    return table.get("stock", scope.stocks.find, usual)


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


def read_drawers(table: Table, scope: Scope) -> DrawerRule:
    """Drawer boxes, by the clear space round each."""
    clear = distance(scope.units)
    drawers = DrawerRule(
        stock=table.need("stock", scope.stock),
        side=table.need("side", clear, "the clear space at each side of a box, as its slide needs"),
        top=table.need("top", clear, "the clear space above a box"),
        bottom=table.get("bottom", clear, Fraction(0)),
        back=table.need("back", clear, "the clear space behind a box"),
    )
    table.close()
    return drawers
