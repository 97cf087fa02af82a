"""Runs along a wall: what stands there, the wall's features, and heights.."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from functools import partial
from typing import Final, TypeAlias

from storystick.errors import Fault, Faults, as_written
from storystick.job.cabinets import Cabinet
from storystick.job.keys import default_name, numbered_place, read_numbered
from storystick.job.openings import ANY_STOCK, Fixed, Scope, Share, Stock, choose_form, read_clear
from storystick.job.other_words import unknown
from storystick.job.sticks import Datum
from storystick.job.tables import NAME, Kind, Table, choice, distance, read_name, size
from storystick.lengths import Units, write_figure


class PieceKind(Enum):
    """What stands in a run beside its cabinets and end panels."""

    FILLER = "filler"
    SCRIBE = "scribe"
    GAP = "gap"


@dataclass(frozen=True, slots=True)
class CabinetPlace:
    """Where a cabinet of the job stands."""

    cabinet: Cabinet

    @property
    def size(self) -> Fixed:
        """How much of the wall it takes."""
        return Fixed(self.cabinet.width)

    @property
    def name(self) -> str | None:
        return self.cabinet.name

    @property
    def word(self) -> str:
        return "cabinet"


@dataclass(frozen=True, slots=True)
class EndPanel:
    """A panel that stands against the wall on its edge, as wide in the run as its stock is thick."""

    stock: Stock
    name: str | None = None

    @property
    def size(self) -> Fixed:
        """How much of the wall it takes."""
        return Fixed(self.stock.thickness)

    @property
    def word(self) -> str:
        return "panel"


@dataclass(frozen=True, slots=True)
class RunPiece:
    """A filler or a scribe, or a gap for an appliance."""

    kind: PieceKind
    size: Fixed | Share
    name: str | None = None

    @property
    def word(self) -> str:
        return self.kind.value


RunItem: TypeAlias = CabinetPlace | EndPanel | RunPiece


@dataclass(frozen=True, slots=True)
class Feature:
    """Something that is at one station: a jamb or a pipe along a wall, or a height above the floor."""

    at: Fraction
    name: str

    def __post_init__(self) -> None:
        if self.at < 0:
            raise ValueError(f"a feature is at 0 or beyond, not {self.at}")


@dataclass(frozen=True, slots=True)
class FeatureRow:
    """Such things at a pitch from a first one, as far as ``until``; None is the end of the wall."""

    first: Fraction
    pitch: Fraction
    name: str
    until: Fraction | None = None

    def __post_init__(self) -> None:
        if self.first < 0 or self.pitch <= 0:
            raise ValueError(f"a row starts at 0 or beyond with a pitch above 0, not {self.first} and {self.pitch}")


@dataclass(frozen=True, slots=True)
class Run:
    """What stands along a wall ``length`` long, in order from the datum, and the features of the wall.

    ``heights`` are above the high point of the floor, from which every cabinet is levelled; the floor falls
    ``floor_fall`` below it. ``number`` counts the job's runs from 1.
    """

    number: int
    name: str
    length: Fraction
    datum: Datum
    order: tuple[RunItem, ...]
    features: tuple[Feature | FeatureRow, ...] = ()
    heights: tuple[Feature, ...] = ()
    floor_fall: Fraction = Fraction(0)

    @property
    def place(self) -> str:
        """Where a fault in this run stands, in the words of a message."""
        return numbered_place("run", self.number, self.name)


_ENDS: Final = {end.value: end for end in (Datum.LEFT, Datum.RIGHT)}
_ANY_PLACE: Final = EndPanel(ANY_STOCK)
_FEATURE: Final = '{ at = …, name = "…" }'
_ORDER: Final = '{ cabinet = "…" }, { filler = … } or the like'
_PITCH: Final = (
    "from one mark of a row to the next; what has two edges, as a window has, is two features: "
    '{ at = …, name = "…" } for each'
)

Form = Callable[[Table, Scope], RunItem]


class _Cabinets:
    """The job's cabinets by name, each to be found once; None is a cabinet whose own fault is told already."""

    def __init__(self, by_name: Mapping[str, Cabinet | None]) -> None:
        self._by_name = by_name
        self._found: set[str] = set()

    def find(self, value: object) -> CabinetPlace:
        name = read_name(value)
        if name not in self._by_name:
            raise unknown(name, "a cabinet of this job", self._by_name, "add it as a [[cabinet]]")
        if name in self._found:
            cure = "let each [[cabinet]] stand once, and add another for one more like it"
            raise Fault(f"{as_written(name)} stands in a run already", cure)
        self._found.add(name)
        cabinet = self._by_name[name]
        if cabinet is None:
            raise Faults(())
        return CabinetPlace(cabinet)


def read_runs(job: Table, scope: Scope, cabinets: Iterable[Cabinet]) -> tuple[Run, ...]:
    """The runs in which nothing is at fault; the faults of the others are kept in ``job``.

    ``cabinets`` are those of the job in which nothing is at fault.
    """
    alone = job.has("run") and isinstance(job["run"], dict)
    listed = Table({"run": [job["run"]]}) if alone else job
    by_name = _Cabinets(dict.fromkeys(_cabinet_names(job)) | {cabinet.name: cabinet for cabinet in cabinets})
    runs = read_numbered(listed, "run", lambda number, name, table: _read_run(number, name, table, scope, by_name))
    if alone:
        with job.at():
            listed.close()
    return runs


def _cabinet_names(job: Table) -> Iterable[str]:
    """The names of all tables of cabinets, whatever is at fault in them."""
    written = job["cabinet"] if job.has("cabinet") else []
    for number, value in enumerate(written if isinstance(written, list) else [written], 1):
        name = value.get("name") if isinstance(value, dict) else None
        yield name.strip() if isinstance(name, str) else default_name("cabinet", number)


def _read_run(number: int, name: str, table: Table, scope: Scope, cabinets: _Cabinets) -> Run:
    run = Run(
        number=number,
        name=name,
        length=table.need("length", size(scope.units)),
        datum=table.get("datum", choice(_ENDS), Datum.LEFT),
        order=_read_order(table, scope, cabinets),
        features=table.one_or_each("features", lambda value: _read_features(value, scope.units)),
        heights=table.one_or_each("heights", lambda value: _read_height(value, scope.units)),
        floor_fall=table.get("floor_fall", distance(scope.units), Fraction(0)),
    )
    table.close()
    return run


def _read_order(table: Table, scope: Scope, cabinets: _Cabinets) -> tuple[RunItem, ...]:
    table.require("order", '[{ cabinet = "…" }, { filler = … }]', "all that stands along the wall")
    forms: Mapping[str, Form] = {"cabinet": partial(_read_cabinet, cabinets=cabinets), **_FORMS}
    return table.each("order", lambda value: _read_item(Table(value, form=_ORDER), forms, scope))


def _read_item(table: Table, forms: Mapping[str, Form], scope: Scope) -> RunItem:
    item = forms[choose_form(table, forms)](table, scope)
    table.close()
    return item


def _read_cabinet(table: Table, _: Scope, cabinets: _Cabinets) -> RunItem:
    return table.get("cabinet", cabinets.find, _ANY_PLACE)


def _read_panel(table: Table, scope: Scope) -> RunItem:
    return EndPanel(table.need("panel", scope.stock), table.get("name", NAME, None))


def _read_piece(table: Table, scope: Scope, kind: PieceKind) -> RunItem:
    taken = table.get(kind.value, lambda value: read_clear(value, scope), Fixed(Fraction(1)))
    return RunPiece(kind, taken, table.get("name", NAME, None))


_FORMS: Final[Mapping[str, Form]] = {
    **{kind.value: partial(_read_piece, kind=kind) for kind in PieceKind},
    "panel": _read_panel,
}


def _read_features(value: object, units: Units) -> Feature | FeatureRow:
    table = Table(value, form=_FEATURE)
    if choose_form(table, ("at", "from")) == "at":
        return _read_feature(table, distance(units))
    row = FeatureRow(
        first=table.need("from", distance(units)),
        pitch=table.need("pitch", size(units), _PITCH),
        name=table.need("name", NAME),
        until=table.get("until", size(units), None),
    )
    if row.until is not None and row.until < row.first:
        until, first = (write_figure(station, units) for station in (row.until, row.first))
        table.fault(f"{until} is less than from, which is {first}", "make it more, or leave it out", "until")
    table.close()
    return row


def _read_height(value: object, units: Units) -> Feature:
    return _read_feature(Table(value, form=_FEATURE), size(units))


def _read_feature(table: Table, station: Kind[Fraction]) -> Feature:
    feature = Feature(table.need("at", station), table.need("name", NAME))
    table.close()
    return feature
