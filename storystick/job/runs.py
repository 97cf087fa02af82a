"""Runs along a wall: what stands there, the wall's features, and heights. Lengths are exact, in mm."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import replace
from enum import Enum
from fractions import Fraction
from typing import Any, Final, TypeAlias

from storystick.errors import Fault, Faults, as_written
from storystick.job.cabinets import Cabinet
from storystick.job.keys import (
    Here,
    Key,
    TableOf,
    counted,
    default_name,
    inner,
    key,
    list_of,
    name_of,
    numbered_place,
    one,
    own_name,
    table,
    table_of,
)
from storystick.job.kinds import DISTANCE, NAME, SIZE, Names, Scope, Table, read_name, word_of
from storystick.job.openings import CLEAR, STOCK, Fixed, Share, Stock, forms
from storystick.job.other_words import unknown
from storystick.job.sticks import Datum
from storystick.lengths import write_figure


class PieceKind(Enum):
    """What stands in a run beside its cabinets and end panels."""

    FILLER = "filler"
    SCRIBE = "scribe"
    GAP = "gap"


@table("A cabinet of the job, which can stand in as many places as there are of it.")
class CabinetPlace:
    """Where a cabinet of the job stands."""

    cabinet: Cabinet = key(name_of("cabinet", None), "a cabinet of this job, by its name", "Press")

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


@table("A panel that stands against the wall on its edge, as wide in the run as its stock is thick.")
class EndPanel:
    """A panel that stands against the wall on its edge, as wide in the run as its stock is thick."""

    stock: Stock = key(STOCK, "the stock of an end panel", "ply", name="panel")
    name: str | None = key(NAME, "what it is called", "end panel", default=None)

    @property
    def size(self) -> Fixed:
        """How much of the wall it takes."""
        return Fixed(self.stock.thickness)

    @property
    def word(self) -> str:
        return "panel"


@table("A filler or a scribe, or a gap for an appliance.")
class RunPiece:
    """A filler or a scribe, or a gap for an appliance."""

    kind: PieceKind
    size: Fixed | Share = key(CLEAR, "how much of the wall it takes", "equal")
    name: str | None = key(NAME, "what it is called", "left filler", default=None)

    @property
    def word(self) -> str:
        return self.kind.value


def _piece(kind: PieceKind, words: str) -> TableOf[RunPiece]:
    """A piece of one kind, whose size stands under its word."""
    of = table_of(RunPiece)
    own = {kind.value: replace(of.keys["size"], words=f"{words}: how much of the wall it takes")}
    size = replace(of.filled["size"], keys=own, read=lambda here: here(kind.value))
    return replace(of, build=lambda **fields: RunPiece(kind, **fields), words=words, filled={**of.filled, "size": size})


RunItem: TypeAlias = CabinetPlace | EndPanel | RunPiece

ORDER_FORMS: Final[Mapping[str, Any]] = {
    "cabinet": CabinetPlace,
    "filler": _piece(PieceKind.FILLER, "a filler"),
    "scribe": _piece(PieceKind.SCRIBE, "a scribe"),
    "gap": _piece(PieceKind.GAP, "a gap, as for an appliance"),
    "panel": EndPanel,
}


_FEATURE: Final = '{ at = …, name = "…" }'


@table("A feature of the wall.", form=_FEATURE)
class Feature:
    """Something that is at one station: a jamb or a pipe along a wall, or a height above the floor."""

    at: Fraction = key(DISTANCE, "how far it is from the datum", "22")
    name: str = key(NAME, "what it is", "outlet")

    def __post_init__(self) -> None:
        if self.at < 0:
            raise ValueError(f"a feature is at 0 or beyond, not {self.at}")


_AT: Final = Key(SIZE, "how far it is above the high point of the floor", "34 1/2")
HEIGHT: Final = replace(
    table_of(Feature), words="A height above the floor.", filled={**table_of(Feature).filled, "at": one("at", _AT)}
)


@table("A row of features of the wall, at one pitch.", form=_FEATURE)
class FeatureRow:
    """Such things at a pitch from a first one, as far as ``until``; None is the end of the wall."""

    first: Fraction = key(DISTANCE, "from the datum to the first", "16", name="from")
    pitch: Fraction = key(
        SIZE,
        "from one mark of a row to the next; what has two edges, as a window has, is two features: "
        '{ at = …, name = "…" } for each',
        "16",
        asked=True,
    )
    name: str = key(NAME, "what they are", "stud")
    until: Fraction | None = key(
        SIZE, "none stands beyond", "96", default=None, otherwise="as far as the end of the wall"
    )

    def __post_init__(self) -> None:
        if self.first < 0 or self.pitch <= 0:
            raise ValueError(f"a row starts at 0 or beyond with a pitch above 0, not {self.first} and {self.pitch}")

    def check(self, here: Here) -> None:
        if self.until is not None and self.until < self.first:
            until, first = (write_figure(station, here.scope.units) for station in (self.until, self.first))
            what = f"{until} is less than from, which is {first}"
            raise Fault(what, "make it more, or leave it out", "until")


_END: Final = word_of((Datum.LEFT, Datum.RIGHT))
_ORDER: Final = list_of(
    forms('{ cabinet = "…" }, { filler = … } or the like', **ORDER_FORMS),
    form='[{ cabinet = "…" }, { filler = … }]',
)


@table("What stands along a wall, in order from the datum, and the features of the wall.")
class Run:
    """What stands along a wall ``length`` long, in order from the datum, and the features of the wall.

    ``heights`` are above the high point of the floor, from which every cabinet is levelled; the floor falls
    ``floor_fall`` below it. ``number`` counts the job's runs from 1.
    """

    number: int
    name: str = own_name("run", "North wall")
    length: Fraction = key(SIZE, "how long the wall is", "200")
    datum: Datum = key(_END, "the end of the wall that zero is on", "left", usual=lambda _: Datum.LEFT)
    order: tuple[RunItem, ...] = key(
        _ORDER,
        "all that stands along the wall",
        [{"filler": "equal"}, {"cabinet": "Press"}, {"scribe": "1/2"}],
        asked=True,
    )
    features: tuple[Feature | FeatureRow, ...] = key(
        list_of(forms(_FEATURE, **{"at": Feature, "from": FeatureRow}), alone=True),
        "features of the wall, by their distance from the datum",
        [{"at": "22", "name": "outlet"}, {"from": "16", "pitch": "16", "until": "96", "name": "stud"}],
        default=(),
    )
    heights: tuple[Feature, ...] = key(
        list_of(inner(HEIGHT), alone=True),
        "heights above the high point of the floor, for a stick of them",
        [{"at": "34 1/2", "name": "base top"}],
        default=(),
    )
    floor_fall: Fraction = key(DISTANCE, "how far the floor falls below its high point", "1/4", default=Fraction(0))

    @property
    def place(self) -> str:
        """Where a fault in this run stands, in the words of a message."""
        return numbered_place("run", self.number, self.name)


class _Cabinets(Names[Cabinet]):
    """The job's cabinets by name, each to be found as often as it is made; None is one whose fault is told already."""

    def __init__(self, by_name: Mapping[str, Cabinet | None]) -> None:
        super().__init__("cabinet", by_name)
        self._by_name = by_name
        self._found: Counter[str] = Counter()

    def find(self, value: object) -> Cabinet:
        name = read_name(value)
        if name not in self._by_name:
            raise unknown(name, "a cabinet of this job", self._by_name, "add it as a [[cabinet]]")
        cabinet = self._by_name[name]
        if cabinet is None:
            raise Faults(())
        self._found[name] += 1
        if self._found[name] > cabinet.count:
            times = "already" if cabinet.count == 1 else f"{cabinet.count} times, as often as it is made"
            raise Fault(f"{as_written(name)} stands in a run {times}", f"give it count = {self._found[name]}")
        return cabinet


def read_runs(job: Table, scope: Scope, cabinets: Iterable[Cabinet]) -> tuple[Run, ...]:
    """The runs in which nothing is at fault; the faults of the others are kept in ``job``.

    ``cabinets`` are those of the job in which nothing is at fault.
    """
    alone = job.has("run") and isinstance(job["run"], dict)
    listed = Table({"run": [job["run"]]}) if alone else job
    scope.named["cabinet"] = _Cabinets(
        dict.fromkeys(_cabinet_names(job)) | {cabinet.name: cabinet for cabinet in cabinets}
    )
    runs: tuple[Run, ...] = counted("run", Run).take(listed, "run", (), scope)
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
