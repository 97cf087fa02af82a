"""What stands along a stick: parts, openings and graduated groups, and all that they refer to."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final, TypeAlias, TypeVar

from storystick.errors import Fault, FaultCollector, Faults, as_written
from storystick.job.joints import Joint
from storystick.job.keys import check, read_named
from storystick.job.other_words import nearest
from storystick.job.sources import Companions, Source, read_file_name, read_rows
from storystick.job.tables import MOST_ENTRIES, NAME, NUMBER, Kind, Names, Table, size, whole, word_or
from storystick.lengths import Units, read_size


@dataclass(frozen=True, slots=True)
class Stock:
    """A named material with its measured thickness in mm."""

    name: str
    thickness: Fraction

    def __post_init__(self) -> None:
        check(self.thickness > 0, "a thickness is more than 0", self.thickness)


@dataclass(frozen=True, slots=True)
class Part:
    """A part that the stick crosses. ``joint`` is how its end is let into the piece that the stick is struck on."""

    stock: Stock
    name: str | None = None
    joint: Joint | None = None


@dataclass(frozen=True, slots=True)
class Fixed:
    """An opening's clear size as given."""

    size: Fraction

    def __post_init__(self) -> None:
        check(self.size > 0, "a size is more than 0", self.size)


@dataclass(frozen=True, slots=True)
class Share:
    """An opening's size as ``share`` shares of what is left of the length; ``equal`` is one share."""

    share: Fraction

    def __post_init__(self) -> None:
        check(self.share > 0, "a share is more than 0", self.share)


@dataclass(frozen=True, slots=True)
class Opening:
    """The clear space between two parts."""

    size: Fixed | Share
    name: str | None = None


@dataclass(frozen=True, slots=True)
class StepRule:
    """Each next opening of a group is smaller by this many mm."""

    step: Fraction

    def __post_init__(self) -> None:
        check(self.step > 0, "a step is more than 0", self.step)


@dataclass(frozen=True, slots=True)
class RatioRule:
    """Each opening of a group is this many times the next one; more than 1."""

    ratio: Fraction

    def __post_init__(self) -> None:
        check(self.ratio > 1, "a ratio is more than 1", self.ratio)


@dataclass(frozen=True, slots=True)
class Graduated:
    """``count`` openings that get smaller away from the datum, with ``between`` standing between each two.

    ``first`` is the size of the one nearest the datum; None for a group that fills what is left of the length.
    ``between`` None leaves the openings side by side with no part between.
    """

    count: int
    rule: StepRule | RatioRule
    first: Fraction | None = None
    between: Part | None = None
    name: str | None = None

    def __post_init__(self) -> None:
        check(self.count > 1, "a group has two openings or more", self.count)


Item: TypeAlias = Part | Opening | Graduated


_MOST_GRADUATED: Final = 60
_ORDER: Final = '{ part = "…" } or { opening = … }'
_ONE_OPENING: Final = (
    "keep one of them: opening = … is a clear size, share = … takes that many parts of what is left, and graduated = … "
    "is a group with its own first, step or ratio"
)
T = TypeVar("T")
ANY_STOCK: Final = Stock("", Fraction(1))


@dataclass(frozen=True, slots=True)
class Scope:
    """What a stick may refer to while it is read."""

    units: Units
    stocks: Names[Stock]
    joints: Names[Joint]
    companions: Companions

    @property
    def stock(self) -> Kind[Stock]:
        return Kind(self.stocks.find, ANY_STOCK, '"…"', "the name of a stock")


def read_items(stick: Table, scope: Scope) -> tuple[Item, ...]:
    """All that stands along the stick, from its datum."""
    plain = [key for key in ("part", "joint", "openings") if stick.has(key)]
    if not stick.has("order") and not plain:
        stick.fault("the stick has neither openings nor an order", "give part and openings, or order")
        return ()
    if stick.has("order") and plain:
        stick.fault(f"order stands beside {' and '.join(plain)}", "give either order, or part and openings")
        return ()
    items = _read_plain(stick, scope) if plain else _read_order(stick, scope)
    count = sum(item.count if isinstance(item, Graduated) else 1 for item in items)
    if count > MOST_ENTRIES:
        stick.fault(f"the stick has {count} parts and openings; at most {MOST_ENTRIES} are allowed", "divide it")
    return items


def _read_order(stick: Table, scope: Scope) -> tuple[Item, ...]:
    return stick.each("order", lambda value: _read_form(Table(value, form=_ORDER), _ORDER_FORMS, scope, None))


def _read_plain(stick: Table, scope: Scope) -> tuple[Item, ...]:
    """The same part between the openings and at both ends."""
    part = Part(stick.need("part", scope.stock), joint=stick.get("joint", scope.joints.find, None))
    items: list[Item] = [part]
    for opening in _read_openings(stick, scope, part):
        items += [opening, part]
    return tuple(items)


def _read_openings(stick: Table, scope: Scope, part: Part) -> tuple[Item, ...]:
    def read_entry(value: object) -> Item:
        if isinstance(value, dict):
            return _read_form(Table(value), _OPENING_FORMS, scope, part)
        return Opening(read_clear(value, scope))

    stick.require("openings", "[…, …]", "their clear sizes from the datum")
    if names_file(stick):
        return read_opening_file(stick, scope)
    return read_each_opening(stick, read_entry)


def read_each_opening(table: Table, read: Callable[[object], T]) -> tuple[T, ...]:
    """The openings of a list; a number alone does not say how many there are."""
    if table.has("openings") and isinstance(table["openings"], int):
        number = as_written(table["openings"])
        table.fault(f"{number} is not a list", 'give each its size, as in ["equal", "equal"] for two', "openings")
        return ()
    return table.each("openings", read)


def names_file(table: Table) -> bool:
    """Whether its openings come from a spreadsheet."""
    return table.has("openings") and isinstance(table["openings"], str)


def read_opening_file(table: Table, scope: Scope) -> tuple[Opening, ...]:
    """The openings of the spreadsheet that it names."""

    def read_file(value: object) -> tuple[Opening, ...]:
        name = read_file_name(value)
        faults = FaultCollector()
        with faults.at(name):
            return read_openings(scope.companions[name], lambda cell: read_clear(cell, scope))
        raise Faults(faults.faults)

    return table.get("openings", read_file, ())


Form = Callable[[Table, Scope, Part | None], Item]


def _read_form(table: Table, forms: Mapping[str, Form], scope: Scope, between: Part | None) -> Item:
    """The item of the one form whose key the table has."""
    item = forms[choose_form(table, forms)](table, scope, between)
    table.close()
    return item


def choose_form(table: Table, forms: Collection[str]) -> str:
    """The one key of these that the table has."""
    given = [key for key in forms if table.has(key)]
    if len(given) > 1:
        apart = "part" in given or "opening" not in forms
        cure = "give each a table of its own" if apart else _ONE_OPENING
        raise Fault(f"{' and '.join(given)} stand in one table", cure)
    if not given:
        raise _formless(table, forms)
    return given[0]


def _formless(table: Table, forms: Collection[str]) -> Fault:
    near = ((key, nearest(key, forms)) for key in table)
    cure = next((f'try "{form}" for "{key}"' for key, form in near if form), "give one of them")
    return Fault(f"the table has none of the keys {', '.join(forms)}", cure)


def _part(table: Table, scope: Scope, _: Part | None) -> Part:
    stock = table.need("part", scope.stock)
    return Part(stock, table.get("name", NAME, None), table.get("joint", scope.joints.find, None))


def read_sized(table: Table, scope: Scope, _: Part | None = None) -> Opening:
    """An opening by its size."""
    clear = table.get("opening", lambda value: read_clear(value, scope), Share(Fraction(1)))
    return Opening(clear, table.get("name", NAME, None))


def read_shared(table: Table, _: Scope, __: Part | None = None) -> Opening:
    """An opening by its share of what is left."""
    return Opening(Share(table.need("share", NUMBER)), table.get("name", NAME, None))


def _graduated(table: Table, scope: Scope, between: Part | None) -> Graduated:
    return replace(read_group(table, scope), between=_read_between(table, scope, between))


def read_group(table: Table, scope: Scope) -> Graduated:
    """A graduated group, but for what stands between its openings."""
    return Graduated(
        count=table.need("graduated", whole(2, _MOST_GRADUATED)),
        rule=_read_rule(table, scope),
        first=table.get("first", size(scope.units), None),
        name=table.get("name", NAME, None),
    )


_OPENING_FORMS: Final[Mapping[str, Form]] = {"opening": read_sized, "share": read_shared, "graduated": _graduated}
_ORDER_FORMS: Final[Mapping[str, Form]] = {"part": _part, **_OPENING_FORMS}


def read_clear(value: object, scope: Scope) -> Fixed | Share:
    """An opening's size: a length, "equal", or a table with its share."""
    if isinstance(value, dict):
        table = Table(value)
        share = Share(table.need("share", NUMBER))
        table.close()
        return share
    return word_or("equal", Share(Fraction(1)), lambda length: Fixed(read_size(length, scope.units)))(value)


def _read_rule(table: Table, scope: Scope) -> StepRule | RatioRule:
    if table.has("step") == table.has("ratio"):
        given = "both step and ratio" if table.has("step") else "neither step nor ratio"
        table.fault(f"the graduated group has {given}", 'give one of them, as in step = "1/2" or ratio = "6/5"')
    if table.has("step"):
        return StepRule(table.need("step", size(scope.units)))
    return RatioRule(table.get("ratio", _read_ratio, Fraction(2)))


def _read_ratio(value: object) -> Fraction:
    ratio = NUMBER(value)
    if ratio == 1:
        raise Fault("a ratio of 1 makes every opening the same", 'write "equal" for each opening instead')
    if ratio < 1:
        cure = "turn it over: the opening nearest the datum is the largest"
        raise Fault(f"{as_written(value)} is not a ratio above 1", cure)
    return ratio


def _read_between(table: Table, scope: Scope, default: Part | None) -> Part | None:
    """The parts inside a group; what it does not say is as in ``default``."""
    if table.has("joint") and not table.has("between") and default is None:
        table.fault("joint is given without between", "name the stock of the parts inside the group with between")
    stock = table.get("between", scope.stocks.find, default.stock if default else None)
    joint = table.get("joint", scope.joints.find, default.joint if default else None)
    return Part(stock, joint=joint) if stock else None


def read_stocks(job: Table, units: Units) -> Names[Stock]:
    """The stocks under ``[stock]``."""
    return read_named(job, "stock", "[stock], {}", lambda name, value: _read_stock(name, value, units))


def _read_stock(name: str, value: object, units: Units) -> Stock:
    if isinstance(value, dict):
        raise Fault("a table is not a thickness", f"write the thickness itself below [stock], as in {name} = …")
    return Stock(name, size(units)(value))


_COLUMNS: Final = ("name", "size")


def read_openings(source: Source, read_clear: Callable[[object], Fixed | Share]) -> tuple[Opening, ...]:
    """The openings of the file, row by row; a fault says its line and column."""
    clear: Kind[Fixed | Share] = Kind(read_clear, Share(Fraction(1)), "…", "a length")

    def read_row(_line: int, row: Table) -> Opening:
        return Opening(row.need("size", clear), row.get("name", NAME, None))

    openings = read_rows(source, _COLUMNS, {"size": "write size over the column of the openings"}, read_row)
    if not 0 < len(openings) <= MOST_ENTRIES:
        raise Fault(f"the file holds {len(openings)} openings", f"give 1 to {MOST_ENTRIES} of them, each in a row")
    return openings
