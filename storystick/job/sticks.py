"""Sticks with the points that are marked on them, square sticks of several, and the reading of them. Exact, in mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction
from typing import Final, TypeVar

from storystick.errors import Fault
from storystick.job.keys import check, default_name, numbered_place, read_numbered
from storystick.job.openings import Item, Scope, read_items
from storystick.job.tables import NAME, YES_NO, Kind, Table, choice, distance, read_list, read_name, size, whole
from storystick.lengths import Units


class Datum(Enum):
    """The end of a stick that zero is on."""

    BOTTOM = "bottom"
    TOP = "top"
    LEFT = "left"
    RIGHT = "right"
    FRONT = "front"
    BACK = "back"

    @property
    def far_end(self) -> Datum:
        """The word for the other end."""
        return _FAR_ENDS[self]


_FAR_ENDS = {
    Datum.BOTTOM: Datum.TOP,
    Datum.TOP: Datum.BOTTOM,
    Datum.LEFT: Datum.RIGHT,
    Datum.RIGHT: Datum.LEFT,
    Datum.FRONT: Datum.BACK,
    Datum.BACK: Datum.FRONT,
}


class Hand(Enum):
    """Which of a pair something is, or is laid like. A strip that is like neither runs as a left one does."""

    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True, slots=True)
class Holes:
    """A row of holes: the first at ``first`` from the datum, the others ``pitch`` apart."""

    first: Fraction
    pitch: Fraction
    count: int
    name: str

    def __post_init__(self) -> None:
        check(self.first >= 0, "a hole is at 0 or beyond", self.first)
        check(self.count > 0, "a row has one hole or more", self.count)
        check(self.pitch > 0 or self.count == 1, "a pitch is more than 0", self.pitch)


@dataclass(frozen=True, slots=True)
class Centre:
    """A single centre mark at ``at`` from the datum."""

    at: Fraction
    name: str

    def __post_init__(self) -> None:
        check(self.at >= 0, "a centre is at 0 or beyond", self.at)


@dataclass(frozen=True, slots=True)
class Stick:
    """One straight layout as the job gives it: ``items`` in order from the datum.

    ``length`` is the overall length, None where parts and openings alone make it. ``pair`` asks for a strip of each
    hand; one that has no pair is of no hand, but ``laid`` as a left or a right one is. ``edge_words`` say which edge
    of the strip goes where, for a stick that does not follow the usual rule. ``wrap`` is how far its strip runs on over
    the stick's edge, in mm; None leaves that to the job. ``number`` counts the job's sticks from 1.
    """

    number: int
    name: str
    datum: Datum
    items: tuple[Item, ...]
    length: Fraction | None = None
    pair: bool = False
    points: tuple[Holes | Centre, ...] = ()
    laid: Hand | None = None
    edge_words: str = ""
    wrap: Fraction | None = None

    def __post_init__(self) -> None:
        check(self.wrap is None or self.wrap >= 0, "a wrap is 0 or more", self.wrap)

    @property
    def place(self) -> str:
        """Where a fault in this stick stands, in the words of a message."""
        return numbered_place("stick", self.number, self.name)


_MOST_HOLES: Final = 1000
_UNNAMED: Final = ""
_HOLES: Final = "{ first = …, pitch = …, count = … }"

P = TypeVar("P", Holes, Centre)


def read_sticks(job: Table, scope: Scope) -> tuple[Stick, ...]:
    """The sticks in which nothing is at fault; the faults of the others are kept in ``job``."""
    return read_numbered(job, "stick", lambda number, name, table: _read_stick(number, name, table, scope))


def _read_stick(number: int, name: str, table: Table, scope: Scope) -> Stick:
    stick = Stick(
        number=number,
        name=name,
        datum=table.get("datum", choice({datum.value: datum for datum in Datum}), Datum.BOTTOM),
        length=table.get("length", size(scope.units), None),
        pair=table.get("pair", YES_NO, False),
        items=read_items(table, scope),
        points=_read_points(table, scope.units),
        wrap=table.get("wrap", distance(scope.units), None),
    )
    table.close()
    return stick


def _read_points(table: Table, units: Units) -> tuple[Holes | Centre, ...]:
    holes = table.one_or_each("holes", lambda value: _read_holes(Table(value, form=_HOLES), units))
    centres = table.one_or_each("centre", lambda value: _read_centre(value, units))
    return _with_names(holes, "holes") + _with_names(centres, "centre")


def _read_holes(table: Table, units: Units) -> Holes:
    count = table.need("count", whole(1, _MOST_HOLES))
    if count > 1:
        table.require("pitch", "…", "a length, from the middle of a hole to that of the next")
    holes = Holes(
        first=table.need("first", distance(units)),
        pitch=table.get("pitch", size(units), Fraction(0 if count == 1 else 1)),
        count=count,
        name=table.get("name", NAME, _UNNAMED),
    )
    table.close()
    return holes


def _read_centre(value: object, units: Units) -> Centre:
    if not isinstance(value, dict):
        return Centre(distance(units)(value), _UNNAMED)
    table = Table(value)
    centre = Centre(table.need("at", distance(units)), table.get("name", NAME, _UNNAMED))
    table.close()
    return centre


def _with_names(points: Sequence[P], word: str) -> tuple[P, ...]:
    """The points, those without a name called after their key, and counted where there are several."""
    names = [word] if len(points) == 1 else [f"{word} {number}" for number, _ in enumerate(points, 1)]
    return tuple(point if point.name else replace(point, name=name) for point, name in zip(points, names, strict=True))


SIDES: Final = 4
_WORD: Final = "square_stick"


@dataclass(frozen=True, slots=True)
class SquareStick:
    """A square stick as the job gives it: ``faces`` are names of sticks, in order round it; none has more than four.

    ``girth`` is the distance round it in mm. ``hand`` is that of the faces which are of a pair, and the way all run.
    """

    number: int
    name: str
    girth: Fraction
    faces: tuple[str, ...]
    hand: Hand = Hand.LEFT

    def __post_init__(self) -> None:
        if self.girth <= 0 or not 1 <= len(self.faces) <= SIDES:
            raise ValueError(f"a square stick of {len(self.faces)} faces, {self.girth} mm round")

    @property
    def side(self) -> Fraction:
        """The width of a face in mm."""
        return self.girth / SIDES

    @property
    def place(self) -> str:
        """Where a fault in this square stick stands, in the words of a message."""
        return numbered_place(_WORD, self.number, self.name)


def read_square_sticks(job: Table, units: Units) -> tuple[SquareStick, ...]:
    """The square sticks in which nothing is at fault; the faults of the others are kept in ``job``."""
    return read_numbered(job, _WORD, lambda number, name, table: _read_square_stick(number, name, table, units))


def _read_square_stick(number: int, name: str, table: Table, units: Units) -> SquareStick:
    hands = {hand.value: hand for hand in Hand}
    girth = _read_girth(table, units)
    faces = table.need("faces", _FACES)
    hand = table.get("hand", choice(hands), Hand.LEFT)
    table.close()
    own_name = name.replace("_", " ") if name == default_name(_WORD, number) else name
    return SquareStick(number, own_name, girth, faces, hand)


def _read_girth(table: Table, units: Units) -> Fraction:
    """The girth, given itself or as four times the side."""
    given = [key for key in ("side", "girth") if table.has(key)]
    if len(given) != 1:
        what = "both side and girth are given" if given else "neither side nor girth is given"
        table.fault(what, "give one of them: the width of a side, or the distance round the stick")
    side, girth = table.get("side", size(units), None), table.get("girth", size(units), None)
    return girth or SIDES * (side or Fraction(1))


def _read_faces(value: object) -> tuple[str, ...]:
    names = [read_name(name) for name in read_list(value)]
    if len(names) > SIDES:
        raise Fault(f"{len(names)} faces are given; a square stick has {SIDES}", "leave some out, or add another stick")
    return tuple(names)


_STAND_IN: Final[tuple[str, ...]] = ("",)
_FACES: Final = Kind(_read_faces, _STAND_IN, '["…", "…"]', "the names of sticks")
