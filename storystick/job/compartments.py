"""What a cabinet is divided into, and what its openings are closed and fitted with. Exact, in mm, without positions."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from typing import Final, TypeVar

from storystick.errors import Fault, as_written
from storystick.job.openings import (
    Fixed,
    Graduated,
    Opening,
    Scope,
    Share,
    Stock,
    choose_form,
    names_file,
    read_clear,
    read_each_opening,
    read_group,
    read_opening_file,
    read_shared,
    read_sized,
)
from storystick.job.tables import MOST_ENTRIES, NAME, Kind, Table, choice, distance, plain_number, size, tables, whole
from storystick.lengths import INCH_MM, Figures, Units

T = TypeVar("T")


class FrontKind(Enum):
    """What closes an opening."""

    DRAWER = "drawer"
    DOOR = "door"
    PAIR = "pair of doors"
    NONE = "none"


class FrontFit(Enum):
    """How fronts sit: inside their openings, or over what is round them."""

    INSET = "inset"
    OVERLAY = "overlay"


class Sawn(Enum):
    """How a board was sawn: which of the two coefficients its width moves by."""

    FLAT = "flat"
    QUARTER = "quarter"


@dataclass(frozen=True, slots=True)
class SolidWood:
    """Solid-wood fronts: the ``species`` of the Wood Handbook's table, and moisture contents in per cent.

    ``made_at`` is the content when the front is cut to size; ``driest`` and ``dampest`` are the range of a year.
    ``least_reveal`` is what an inset front keeps across its grain at the dampest (mm); None keeps the whole reveal.
    """

    species: str
    cut: Sawn
    made_at: Fraction
    driest: Fraction
    dampest: Fraction
    least_reveal: Fraction | None = None


@dataclass(frozen=True, slots=True)
class FrontRule:
    """Fronts. Inset: ``reveal`` all round and between a pair. Overlay: ``overlay`` beyond the opening at each edge,
    and ``reveal`` between neighbours.
    """

    fit: FrontFit
    stock: Stock
    reveal: Fraction
    overlay: Fraction = Fraction(0)
    kind: FrontKind = FrontKind.DRAWER
    wood: SolidWood | None = None


@dataclass(frozen=True, slots=True)
class DrawerRule:
    """Drawer boxes: ``stock`` of their sides, and the clear space that each leaves in its opening."""

    stock: Stock
    side: Fraction
    top: Fraction
    bottom: Fraction
    back: Fraction


@dataclass(frozen=True, slots=True)
class Adjustable:
    """Adjustable shelves in an opening: how many, on rows of holes ``pitch`` apart.

    The rows stand ``front`` from the finished front edge of the case, its edging included (behind a face frame from the
    back of the frame), and ``back`` from its back edge. The lowest hole is ``first`` above the bottom of the opening,
    and the highest at least as far below its top. Shelves are ``play`` shorter than the opening is wide,
    and ``depth_play`` less deep than the case is inside.
    """

    count: int
    pitch: Fraction
    first: Fraction
    front: Fraction
    back: Fraction
    play: Fraction
    depth_play: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Compartment:
    """An opening of a column, or a graduated group of them, and what it is fitted with.

    ``front`` None is the cabinet's usual kind.
    """

    item: Opening | Graduated
    front: FrontKind | None = None
    adjustable: Adjustable | None = None


@dataclass(frozen=True, slots=True)
class CabinetColumn:
    """A column of openings, from the bottom up, ``width`` wide in the clear."""

    width: Fixed | Share
    compartments: tuple[Compartment, ...]


@dataclass(frozen=True, slots=True)
class CabinetRow:
    """A band across the cabinet, ``height`` high in the clear, its columns from left to right."""

    height: Fixed | Share
    columns: tuple[CabinetColumn, ...]


GAP_GRADES: Final[Mapping[str, Fraction]] = {
    "premium": INCH_MM / 32,
    "custom": INCH_MM / 16,
    "economy": INCH_MM * 3 / 32,
}
"""Reveals in mm by the gap grades of architectural woodwork (shared/gap_grades.toml)."""


FRONT_KIND: Final = choice(
    {"drawer": FrontKind.DRAWER, "door": FrontKind.DOOR, "pair": FrontKind.PAIR, "none": FrontKind.NONE}
)


_MOST_MOISTURE: Final = 30


def read_fronts(value: object, scope: Scope, usual: Stock | None) -> FrontRule:
    """The fronts; ``usual`` is their stock where they name none."""
    table = Table(value, form='{ kind = "inset", reveal = … } or { kind = "overlay", overlay = … }')
    fit = table.need("kind", choice({fit.value: fit for fit in FrontFit}))
    fronts = FrontRule(
        fit=fit,
        stock=need_stock(table, scope, usual),
        reveal=_read_reveal(table, scope),
        overlay=_read_overlay(table, fit, scope),
        kind=table.get("front", FRONT_KIND, FrontKind.DRAWER),
        wood=table.get("wood", lambda value: _read_wood(value, scope), None),
    )
    table.close()
    _check_least(fronts, scope)
    return fronts


def _check_least(fronts: FrontRule, scope: Scope) -> None:
    least = fronts.wood.least_reveal if fronts.wood else None
    if least is None:
        return
    if fronts.fit is FrontFit.OVERLAY:
        raise Fault("least_reveal is given to overlay fronts", "leave it out", "wood, least_reveal")
    if least > fronts.reveal:
        figures = Figures.usual(scope.units)
        what = f"{figures(least)} is more than the reveal of {figures(fronts.reveal)}"
        raise Fault(what, f"make it {figures.at_most(fronts.reveal)} or less", "wood, least_reveal")


def _read_reveal(table: Table, scope: Scope) -> Fraction:
    """The reveal as given, or that of the grade."""
    if table.has("reveal") and table.has("grade"):
        table.fault("reveal stands beside grade", "give one of them")
    by_grade = table.get("grade", choice(GAP_GRADES), GAP_GRADES["custom"])
    return table.get("reveal", distance(scope.units), by_grade)


def _read_overlay(table: Table, fit: FrontFit, scope: Scope) -> Fraction:
    if fit is FrontFit.OVERLAY:
        return table.need("overlay", distance(scope.units), "how far a front lies over each edge of its opening")
    if table.has("overlay") and table.has("kind") and table["kind"] == FrontFit.INSET.value:
        table.fault("overlay is given to inset fronts", 'leave it out, or write kind = "overlay"')
    return Fraction(0)


def _read_wood(value: object, scope: Scope) -> SolidWood:
    form = '{ species = "…", cut = "flat" or "quarter", made_at = …, driest = …, dampest = … }'
    table = Table(value, form=form)
    percent = Kind(_read_percent, Fraction(8), "…", "a moisture content in per cent")
    wood = SolidWood(
        species=table.need("species", Kind(NAME, "", '"…"', "a wood by its name in the table of movements")),
        cut=table.need("cut", choice({cut.value: cut for cut in Sawn})),
        made_at=table.need("made_at", percent),
        driest=table.need("driest", percent),
        dampest=table.need("dampest", percent),
        least_reveal=table.get("least_reveal", distance(scope.units), None),
    )
    table.close()
    if not wood.driest <= wood.made_at <= wood.dampest:
        figures = ", ".join(f"{key} {as_written(table[key])}" for key in ("driest", "made_at", "dampest"))
        raise Fault(f"the moisture contents do not rise: {figures}", "let made_at lie between driest and dampest")
    return wood


def _read_percent(value: object) -> Fraction:
    """A moisture content in per cent."""
    content = plain_number(value)
    if content is None or content > _MOST_MOISTURE:
        what = f"{as_written(value)} is not a moisture content from 0 to {_MOST_MOISTURE} per cent"
        raise Fault(what, "write it like 8 or 8.5, without a sign")
    return content


def need_stock(table: Table, scope: Scope, usual: Stock | None = None) -> Stock:
    """The table's stock; it may be left out where there is a ``usual`` one."""
    if usual is None:
        return table.need("stock", scope.stock)
    return table.get("stock", scope.stocks.find, usual)


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


_EQUAL: Final = Share(Fraction(1))


_ONE_OPENING: Final = (Compartment(Opening(_EQUAL)),)


_MOST_SHELVES: Final = 60


_PITCH_MM: Final = Fraction(32)


_LEAST_PITCH: Final = {Units.INCH: (INCH_MM / 8, "1/8 in"), Units.MM: (Fraction(3), "3 mm")}
"""Holes that are closer run into each other: no pin is thinner; common practice, no source."""


_PLAY: Final = {Units.INCH: INCH_MM / 16, Units.MM: Fraction(2)}
"""What adjustable shelves have to spare, in length and in depth (mm): common practice, no source."""


def read_bands(cabinet: Table, scope: Scope) -> tuple[CabinetRow, ...]:
    """The bands. Without bands, columns or openings stand in one; with none of the three it is one opening."""
    given = [key for key in ("row", "column", "openings") if cabinet.has(key)]
    if len(given) > 1:
        cabinet.fault(f"{' and '.join(given)} stand side by side", "give one of them, and the others inside it")
        return ()
    if given == ["row"]:
        rows = _each(cabinet, "row", "[[cabinet.row]]", lambda row: _read_row(row, scope))
    else:
        rows = (CabinetRow(_EQUAL, _read_columns(cabinet, scope, "[[cabinet.column]]")),)
    count = sum(map(_count, rows))
    if count > MOST_ENTRIES:
        cabinet.fault(f"the cabinet has {count} openings; at most {MOST_ENTRIES} are allowed", "divide it")
    return rows


def _count(row: CabinetRow) -> int:
    items = (compartment.item for column in row.columns for compartment in column.compartments)
    return sum(item.count if isinstance(item, Graduated) else 1 for item in items)


def _each(table: Table, key: str, heading: str, read: Callable[[Table], T]) -> tuple[T, ...]:
    things: list[T] = []
    for number, value in enumerate(table.get(key, tables(heading), ()), 1):
        with table.at(f"{key} {number}"):
            things.append(read(Table(value)))
    return tuple(things)


def _read_row(table: Table, scope: Scope) -> CabinetRow:
    height = _read_share(table, "height", scope)
    if table.has("column") and table.has("openings"):
        table.fault("column and openings stand side by side", "give openings to each column instead")
    row = CabinetRow(height, _read_columns(table, scope, "[[cabinet.row.column]]"))
    table.close()
    return row


def _read_share(table: Table, key: str, scope: Scope) -> Fixed | Share:
    return table.get(key, lambda value: read_clear(value, scope), _EQUAL)


def _read_columns(table: Table, scope: Scope, heading: str) -> tuple[CabinetColumn, ...]:
    """The columns of a band, or its openings in one column."""
    if table.has("column"):
        return _each(table, "column", heading, lambda column: _read_column(column, scope))
    return (CabinetColumn(_EQUAL, _read_compartments(table, scope)),)


def _read_column(table: Table, scope: Scope) -> CabinetColumn:
    column = CabinetColumn(_read_share(table, "width", scope), _read_compartments(table, scope))
    table.close()
    return column


def _read_compartments(table: Table, scope: Scope) -> tuple[Compartment, ...]:
    if not table.has("openings"):
        return _ONE_OPENING
    if names_file(table):
        return tuple(map(Compartment, read_opening_file(table, scope)))
    return read_each_opening(table, lambda value: _read_compartment(value, scope))


def _read_compartment(value: object, scope: Scope) -> Compartment:
    if not isinstance(value, dict):
        return Compartment(Opening(read_clear(value, scope)))
    table = Table(value)
    compartment = _FORMS[choose_form(table, _FORMS)](table, scope)
    table.close()
    return compartment


def _sized(table: Table, scope: Scope) -> Compartment:
    return _fitted(read_sized(table, scope), table, scope)


def _shared(table: Table, scope: Scope) -> Compartment:
    return _fitted(read_shared(table, scope), table, scope)


def _fitted(opening: Opening, table: Table, scope: Scope) -> Compartment:
    front = table.get("front", FRONT_KIND, None)
    return Compartment(opening, front, table.get("adjustable", lambda value: _read_adjustable(value, scope), None))


def _group(table: Table, scope: Scope) -> Compartment:
    return Compartment(read_group(table, scope), table.get("front", FRONT_KIND, None))


_FORMS: Final[Mapping[str, Callable[[Table, Scope], Compartment]]] = {
    "opening": _sized,
    "share": _shared,
    "graduated": _group,
}


def _read_pitch(value: object, scope: Scope) -> Fraction:
    pitch = size(scope.units)(value)
    least, words = _LEAST_PITCH[scope.units]
    if pitch < least:
        raise Fault(
            f"{as_written(value)} is less than {words}, which the thinnest pin's hole takes",
            "look at its unit; 32 mm is usual",
        )
    return pitch


def _read_adjustable(value: object, scope: Scope) -> Adjustable:
    """Adjustable shelves. Holes 32 mm apart are common practice, without a source to name."""
    table = Table(value, form="{ shelves = …, first = …, front = …, back = … }")
    length = size(scope.units)
    shelves = Adjustable(
        count=table.need("shelves", whole(1, _MOST_SHELVES)),
        pitch=table.get("pitch", lambda value: _read_pitch(value, scope), _PITCH_MM),
        first=table.need("first", length, "from the bottom of the opening to its lowest hole"),
        front=table.need("front", length, "from the finished front edge, edging included, to the front row of holes"),
        back=table.need("back", length, "from the back edge of the case to the back row of holes"),
        play=table.get("play", distance(scope.units), _PLAY[scope.units]),
        depth_play=table.get("depth_play", distance(scope.units), _PLAY[scope.units]),
    )
    table.close()
    return shelves
