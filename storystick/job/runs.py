"""Runs along a wall: what stands and hangs there, the wall's features, and heights. Lengths are exact, in mm."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import field, replace
from enum import Enum
from fractions import Fraction
from typing import Any, ClassVar, Final, TypeAlias

from storystick.errors import Fault, Faults, Where, as_written
from storystick.job.cabinets import Cabinet
from storystick.job.corners import Corner, check_corners
from storystick.job.features import FEATURE, FLOOR_POINT, HEIGHT, Feature, Features, FloorPoint
from storystick.job.keys import (
    Here,
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
from storystick.job.kinds import DISTANCE, NAME, SIZE, YES_NO, Names, Scope, Table, by_units, read_name, word_of
from storystick.job.openings import CLEAR, STOCK, Fixed, Share, Stock, forms
from storystick.job.other_words import unknown
from storystick.job.sticks import Datum


class PieceKind(Enum):
    """What stands in a run beside its cabinets and end panels."""

    FILLER = "filler"
    SCRIBE = "scribe"
    GAP = "gap"


@table("A cabinet of the job, which can stand in as many places as there are of it.")
class CabinetPlace:
    """Where a cabinet of the job stands."""

    is_gap: ClassVar[bool] = False
    covered: ClassVar[bool] = True

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

    cabinet: ClassVar[None] = None
    is_gap: ClassVar[bool] = False
    covered: ClassVar[bool] = True

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
    """A filler or a scribe, or a gap for an appliance; ``covered`` is one that the run's countertop goes on over."""

    cabinet: ClassVar[None] = None

    kind: PieceKind
    size: Fixed | Share = key(CLEAR, "how much of the wall it takes", "equal")
    name: str | None = key(NAME, "what it is called", "left filler", default=None)
    covered: bool = key(
        YES_NO,
        "whether the run's countertop goes on over it, as over a dishwasher and not over a range",
        False,
        name="countertop",
        default=True,
    )

    @property
    def word(self) -> str:
        return self.kind.value

    @property
    def is_gap(self) -> bool:
        """Whether it is left open."""
        return self.kind is PieceKind.GAP


def _piece(kind: PieceKind, words: str, called: str) -> TableOf[RunPiece]:
    """A piece of one kind, whose size stands under its word; ``called`` is an example of its name."""
    of = table_of(RunPiece)
    own = {kind.value: replace(of.keys["size"], words=f"{words}: how much of the wall it takes")}
    size = replace(of.filled["size"], keys=own, read=lambda here: here(kind.value))
    filled = {**of.filled, "size": size, "name": one("name", replace(of.keys["name"], example=called))}
    return replace(
        of, build=lambda **fields: RunPiece(kind, **fields), words=f"{words[0].upper()}{words[1:]}.", filled=filled
    )


RunItem: TypeAlias = CabinetPlace | EndPanel | RunPiece
"""What stands or hangs in a row; only a cabinet's place has a ``cabinet``, and only a gap ``is_gap``."""

ORDER_FORMS: Final[Mapping[str, Any]] = {
    "cabinet": CabinetPlace,
    "filler": _piece(PieceKind.FILLER, "a filler", "left filler"),
    "scribe": _piece(PieceKind.SCRIBE, "a scribe", "left scribe"),
    "gap": _piece(PieceKind.GAP, "a gap, as for an appliance", "dishwasher"),
    "panel": EndPanel,
}


_END: Final = word_of((Datum.LEFT, Datum.RIGHT))
_ORDER: Final = list_of(
    forms('{ cabinet = "…" }, { filler = … } or the like', **ORDER_FORMS),
    form='[{ cabinet = "…" }, { filler = … }]',
)
_CORNERS: Final = list_of(inner(Corner), alone=True)


_ONE_LEVEL: Final = "bottom or top, one of them"


@table("What hangs on a wall over a run, in order from the datum, all to one height.")
class Uppers:
    """What hangs on a wall over a run, in order from the datum.

    The undersides of all lie ``bottom`` above the high point of the floor, or else the tops of all lie at ``top``.
    """

    order: tuple[RunItem, ...] = key(
        _ORDER, "all that hangs along the wall", [{"filler": "equal"}, {"cabinet": "Wall unit"}], asked=True
    )
    bottom: Fraction | None = key(
        SIZE, "how high the undersides are above the high point of the floor", "54", default=None, otherwise=_ONE_LEVEL
    )
    top: Fraction | None = key(
        SIZE, "how high the tops are, instead of the undersides", "84", default=None, otherwise=_ONE_LEVEL
    )
    corners: tuple[Corner, ...] = key(
        _CORNERS,
        "a corner with the wall units of another run, or one at each end",
        {"with": "North wall", "kind": "filler"},
        name="corner",
        default=(),
    )

    def __post_init__(self) -> None:
        if (self.bottom is None) == (self.top is None):
            raise Fault("wall units hang by one level", f"give {_ONE_LEVEL}")
        check_corners(self.corners)


_OVERHANG: Final = by_units("1", "25")
"""Common practice, no source."""


@table("A countertop over the base cabinets of a run.")
class RunTop:
    """A countertop over all of a run that is no higher than it.

    ``front`` is how far it reaches before the deepest front below it, ``end`` how far beyond an end that stands free.
    ``height`` is that of its underside, None for that of the lowest cabinet.
    """

    stock: Stock = key(STOCK, "its stock", "ply")
    front: Fraction = key(
        DISTANCE,
        "how far it reaches before the fronts",
        "1",
        usual=_OVERHANG,
        name="overhang",
    )
    end: Fraction = key(
        DISTANCE, "how far it reaches beyond an end that no wall and no taller unit stands at", "1", default=Fraction(0)
    )
    height: Fraction | None = key(
        SIZE,
        "how high its underside is above the high point of the floor",
        "34 1/2",
        default=None,
        otherwise="as high as the lowest cabinet",
    )


@table("What stands along a wall, in order from the datum, and the features of the wall.")
class Run:
    """What stands along a wall ``length`` long, in order from the datum, and the features of the wall.

    ``heights`` are above the high point of the floor, from which every cabinet is levelled; the floor falls
    ``floor_fall`` below it somewhere, or as ``floor`` says at stations. ``number`` counts the job's runs from 1.
    A narrower filler than ``least_filler`` is hard to fasten and to scribe, a wider one than ``most_filler`` wastes
    what a cabinet could have, and a scribe has to take up how far a wall is out: their usual limits are common
    practice, no source.
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
    features: Features = key(
        list_of(FEATURE, alone=True),
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
    floor: tuple[FloorPoint, ...] = key(
        list_of(FLOOR_POINT),
        "how far the floor lies below its high point, place by place: straight between them, level beyond",
        [{"at": 0, "falls": 0}, {"at": "120", "falls": "5/8"}],
        default=(),
    )
    uppers: Uppers | None = key(
        inner(Uppers),
        "what hangs on the wall over it",
        {"bottom": "54", "order": [{"filler": "equal"}, {"cabinet": "Wall unit"}]},
        default=None,
        otherwise="nothing",
    )
    corners: tuple[Corner, ...] = key(
        _CORNERS,
        "a corner with another run, or one at each end",
        {"with": "North wall", "kind": "blind"},
        name="corner",
        default=(),
    )
    countertop: RunTop | None = key(
        inner(RunTop), "a countertop over its base cabinets", {"stock": "ply"}, default=None, otherwise="none"
    )
    least_filler: Fraction = key(
        DISTANCE,
        "a filler that comes out narrower is warned of",
        "3/4",
        default=Fraction(20),
        usual=by_units("3/4", "20"),
    )
    most_filler: Fraction = key(
        SIZE, "a filler that comes out wider is warned of", "6", default=Fraction(150), usual=by_units("6", "150")
    )
    least_scribe: Fraction = key(
        DISTANCE,
        "a scribe that comes out narrower is warned of",
        "1/2",
        default=Fraction(12),
        usual=by_units("1/2", "12"),
    )
    is_alone: bool = field(default=False, compare=False)

    @property
    def place(self) -> Where:
        """Where a fault in this run stands."""
        return numbered_place("run", self.number, self.name, self.is_alone)

    @property
    def cabinets(self) -> tuple[Cabinet, ...]:
        """All that stand or hang along it."""
        order = (*self.order, *(self.uppers.order if self.uppers else ()))
        return tuple(item.cabinet for item in order if item.cabinet)

    def check(self, here: Here) -> None:
        _check_floor(self)
        check_corners(self.corners)


def _check_floor(run: Run) -> None:
    """That the floor is said once, and from its high point."""
    if run.floor and run.floor_fall:
        raise Fault("floor_fall stands beside floor", "leave floor_fall out: floor says it place by place")
    if run.floor and all(point.falls for point in run.floor):
        raise Fault("nowhere does the floor fall 0", "take the least off each: all is from the high point", "floor")
    if len({point.at for point in run.floor}) < len(run.floor):
        raise Fault("two places of the floor are at one station", "give one of them", "floor")


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
            raise Fault(
                f"{as_written(name)} stands in a run {times}",
                f"put another there, or give it count = {self._found[name]}",
            )
        return cabinet


RUNS: Final = counted("run", Run, alone=True)


def read_runs(job: Table, scope: Scope, cabinets: Iterable[Cabinet]) -> tuple[Run, ...]:
    """The runs in which nothing is at fault; the faults of the others are kept in ``job``.

    ``cabinets`` are those of the job in which nothing is at fault.
    """
    scope.named["cabinet"] = _Cabinets(
        dict.fromkeys(_names_of(job, "cabinet")) | {cabinet.name: cabinet for cabinet in cabinets}
    )
    scope.named["run"] = Names("run", {name: name for name in _names_of(job, "run")})
    runs: tuple[Run, ...] = RUNS.take(job, "run", (), scope)
    is_alone = job.has("run") and isinstance(job["run"], dict)
    return tuple(replace(run, is_alone=True) for run in runs) if is_alone else runs


def _names_of(job: Table, word: str) -> Iterable[str]:
    """The names of all tables of cabinets or runs, whatever is at fault in them."""
    written = job[word] if job.has(word) else []
    for number, value in enumerate(written if isinstance(written, list) else [written], 1):
        name = value.get("name") if isinstance(value, dict) else None
        yield name.strip() if isinstance(name, str) else default_name(word, number)
