"""Reading a cabinet's face frame."""

from __future__ import annotations

from fractions import Fraction
from functools import partial

from storystick.errors import Fault, as_written
from storystick.job.cabinet import Align, FrameRule, PartRule
from storystick.job.openings import ANY_STOCK, Scope
from storystick.job.tables import Table, choice, distance, size
from storystick.lengths import Units, read_distance, read_size

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
