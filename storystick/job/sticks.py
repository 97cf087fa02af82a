"""Sticks with the points that are marked on them, and square sticks of several. Exact, in mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from enum import Enum
from fractions import Fraction
from typing import Any, Final, TypeVar

from storystick.errors import Fault, Where
from storystick.job.keys import (
    Here,
    Key,
    default_name,
    inner,
    insist,
    key,
    keys,
    list_of,
    numbered_place,
    own_name,
    plain_or,
    table,
    table_of,
)
from storystick.job.kinds import DISTANCE, NAME, SIZE, YES_NO, Kind, Scope, read_list, read_name, whole, word_of
from storystick.job.openings import ITEM_KEYS, Item, read_items

SIDES: Final = 4
_MOST_HOLES: Final = 1000
_SQUARE_STICK: Final = "square_stick"


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


@table(
    "A row of holes at one pitch.",
    form="{ first = …, pitch = …, count = … }",
    shape={"if": {"properties": {"count": {"minimum": 2}}}, "then": {"required": ["pitch"]}},
)
class Holes:
    """A row of holes: the first at ``first`` from the datum, the others ``pitch`` apart."""

    first: Fraction = key(DISTANCE, "from the datum to the middle of the first hole", "3")
    pitch: Fraction = key(
        SIZE,
        "from the middle of a hole to that of the next",
        "1 1/4",
        usual=lambda _: None,
        otherwise="not needed for a single hole",
    )
    count: int = key(whole(1, _MOST_HOLES), "how many holes there are", 6)
    name: str = key(NAME, "what they are called", "shelf pins", usual=lambda _: "", otherwise="holes, counted")

    def __post_init__(self) -> None:
        insist(self.first >= 0, "a hole is at 0 or beyond", self.first)
        insist(self.count > 0, "a row has one hole or more", self.count)
        insist(self.pitch > 0 or self.count == 1, "a pitch is more than 0", self.pitch)

    @staticmethod
    def fill(here: Here) -> dict[str, Any]:
        """The count is read first: a single hole needs no pitch."""
        count: int = here("count")
        if count > 1:
            here.table.require("pitch", "…", "a length, from the middle of a hole to that of the next")
        first, pitch = here("first"), here("pitch") or Fraction(0 if count == 1 else 1)
        return {"first": first, "pitch": pitch, "count": count, "name": here("name")}


@table("A single centre mark.")
class Centre:
    """A single centre mark at ``at`` from the datum."""

    at: Fraction = key(DISTANCE, "from the datum to the mark", "4")
    name: str = key(NAME, "what it is called", "handle", usual=lambda _: "", otherwise="centre, counted")

    def __post_init__(self) -> None:
        insist(self.at >= 0, "a centre is at 0 or beyond", self.at)


P = TypeVar("P", Holes, Centre)


def _read_points(here: Here) -> tuple[Holes | Centre, ...]:
    return _with_names(here("holes"), "holes") + _with_names(here("centre"), "centre")


def _with_names(points: Sequence[P], word: str) -> tuple[P, ...]:
    """The points, those without a name called after their key, and counted where there are several."""
    names = [word] if len(points) == 1 else [f"{word} {number}" for number, _ in enumerate(points, 1)]
    return tuple(point if point.name else replace(point, name=name) for point, name in zip(points, names, strict=True))


@table(
    "A stick: one straight layout, cumulative from its datum. Openings stand between parts that are all alike, or "
    "everything is written out in order.",
    shape={
        "oneOf": [
            {"required": ["part", "openings"], "properties": {"order": False}},
            {"required": ["order"], "properties": {"part": False, "joint": False, "openings": False}},
        ]
    },
)
class Stick:
    """One straight layout as the job gives it: ``items`` in order from the datum.

    ``length`` is the overall length, None where parts and openings alone make it. ``pair`` asks for a strip of each
    hand; one that has no pair is of no hand, but ``laid`` as a left or a right one is. ``edge_words`` say which edge
    of the strip goes where, for a stick that does not follow the usual rule. ``wrap`` is how far its strip runs on over
    the stick's edge, in mm; None leaves that to the job. ``number`` counts the job's sticks from 1.
    """

    number: int
    name: str = own_name("stick", "Press side")
    datum: Datum = key(word_of(Datum), "the end that zero is on", "bottom", usual=lambda _: Datum.BOTTOM)
    items: tuple[Item, ...] = keys(read_items, ITEM_KEYS)
    length: Fraction | None = key(
        SIZE, "its overall length", "36", default=None, otherwise="what parts and openings come to"
    )
    pair: bool = key(YES_NO, "whether a strip of each hand is printed", True, default=False)
    points: tuple[Holes | Centre, ...] = keys(
        _read_points,
        default=(),
        holes=Key(list_of(inner(Holes), alone=True), "rows of holes", {"first": "3", "pitch": "1 1/4", "count": 6}, ()),
        centre=Key(
            list_of(plain_or(DISTANCE, lambda at, _: Centre(at, ""), inner(Centre), "at"), alone=True),
            "centre marks, by their distance from the datum",
            {"at": "4", "name": "handle"},
            (),
        ),
    )
    laid: Hand | None = None
    edge_words: str = ""
    wrap: Fraction | None = key(
        DISTANCE,
        "how far its strip runs on over the stick's edge",
        "3/4",
        default=None,
        otherwise="as the job's own wrap says",
    )

    def __post_init__(self) -> None:
        insist(self.wrap is None or self.wrap >= 0, "a wrap is 0 or more", self.wrap)

    @property
    def place(self) -> Where:
        """Where a fault in this stick stands."""
        return numbered_place("stick", self.number, self.name)


STICK: Final = table_of(Stick).only("name", "datum", "length", "pair", "items", "points", "wrap")
"""A stick's keys in the order in which they are told."""


def _read_girth(here: Here) -> Fraction:
    """The girth, given itself or as four times the side."""
    given = here.given("side", "girth")
    if len(given) != 1:
        what = "both side and girth are given" if given else "neither side nor girth is given"
        here.table.fault(what, "give one of them: the width of a side, or the distance round the stick")
    side, girth = here("side"), here("girth")
    return girth or SIDES * (side or Fraction(1))


def _read_faces(value: object, _: Scope) -> tuple[str, ...]:
    names = [read_name(name) for name in read_list(value)]
    if len(names) > SIDES:
        raise Fault(f"{len(names)} faces are given; a square stick has {SIDES}", "leave some out, or add another stick")
    return tuple(names)


_ANY_FACE: Final[tuple[str, ...]] = ("",)
_FACES: Final = Kind(
    _read_faces,
    _ANY_FACE,
    '["…", "…"]',
    "the names of sticks",
    {"type": "array", "minItems": 1, "maxItems": SIDES, "items": replace(NAME, names="face")},
)


@table(
    "A square stick with up to four sticks round it, printed as one sheet that is folded.",
    shape={"oneOf": [{"required": ["side"]}, {"required": ["girth"]}]},
)
class SquareStick:
    """A square stick as the job gives it: ``faces`` are names of sticks, in order round it; none has more than four.

    ``girth`` is the distance round it in mm. ``hand`` is that of the faces which are of a pair, and the way all run.
    """

    number: int
    name: str = own_name(_SQUARE_STICK, "Press stick")
    girth: Fraction = keys(
        _read_girth,
        side=Key(SIZE, "the width of a side, instead of the girth", "1 1/2", None),
        girth=Key(SIZE, "the distance round it, measured with a strip of the paper", "6 1/16", None),
    )
    faces: tuple[str, ...] = key(_FACES, "the sticks on its faces, in order round it", ["Press side", "Press width"])
    hand: Hand = key(
        word_of(Hand), "the hand of faces that are of a pair, and the way all run", "left", default=Hand.LEFT
    )

    def __post_init__(self) -> None:
        if self.girth <= 0 or not 1 <= len(self.faces) <= SIDES:
            raise ValueError(f"a square stick of {len(self.faces)} faces, {self.girth} mm round")

    @property
    def side(self) -> Fraction:
        """The width of a face in mm."""
        return self.girth / SIDES

    @property
    def place(self) -> Where:
        """Where a fault in this square stick stands."""
        return numbered_place(_SQUARE_STICK, self.number, self.name)


def _square_stick(number: int, name: str, **fields: Any) -> SquareStick:
    """One that was given no name is called by words."""
    own = name.replace("_", " ") if name == default_name(_SQUARE_STICK, number) else name
    return SquareStick(number, own, **fields)


SQUARE_STICK: Final = replace(table_of(SquareStick), build=_square_stick)
