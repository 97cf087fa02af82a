"""What is on a wall: windows and doors, sockets and pipes, rows of studs, heights, and how its floor falls. In mm."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any, Final, TypeAlias

from storystick.errors import Fault
from storystick.job.keys import Here, Key, inner, key, one, table, table_of
from storystick.job.kinds import DISTANCE, NAME, SIZE, Kind, Scope, Table
from storystick.job.openings import forms
from storystick.lengths import write_figure

_FEATURE: Final = '{ at = …, name = "…" }'


@table("A feature of the wall.", form=_FEATURE)
class Feature:
    """Something that is at one station: a jamb or a pipe along a wall, or a height above the floor.

    ``height`` is how high its middle is above the high point of the floor, None for what runs up the wall; ``across``
    what it takes round its middle, both ways.
    """

    at: Fraction = key(DISTANCE, "how far it is from the datum", "22")
    name: str = key(NAME, "what it is", "outlet")
    height: Fraction | None = key(
        SIZE,
        "how high its middle is above the high point of the floor: behind a cabinet, its place on the back is told",
        "12",
        default=None,
        otherwise="it runs up the wall",
    )
    across: Fraction = key(DISTANCE, "how large it is across, for a box or a pipe", "4", default=Fraction(0))

    def __post_init__(self) -> None:
        if self.at < 0:
            raise ValueError(f"a feature is at 0 or beyond, not {self.at}")


_AT: Final = Key(SIZE, "how far it is above the high point of the floor", "34 1/2")
HEIGHT: Final = replace(
    table_of(Feature).only("at", "name"),
    words="A height above the floor.",
    filled={**table_of(Feature).only("at", "name").filled, "at": one("at", _AT)},
)


@table("A row of features of the wall, at one pitch.", form=_FEATURE)
class FeatureRow:
    """Such things at a pitch from a first one, as far as ``until``; None is the end of the wall."""

    first: Fraction = key(DISTANCE, "from the datum to the first", "16", name="from")
    pitch: Fraction = key(
        SIZE,
        "from one mark of a row to the next; what has two edges, as a window has, is "
        '{ from = …, to = …, name = "…" } instead',
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


@table("A window, a door or another opening of the wall, by its edges.", form='{ from = …, to = …, name = "…" }')
class WallOpening:
    """What nothing may stand before, by its edges along the wall, and its heights above the high point of the floor.

    ``top`` None is as high as the wall.
    """

    end: Fraction = key(SIZE, "from the datum to its farther edge, its casing included", "66", name="to")
    start: Fraction = key(DISTANCE, "from the datum to its nearer edge", "30", name="from")
    name: str = key(NAME, "what it is", "window")
    bottom: Fraction = key(
        DISTANCE, "how high its lower edge is above the high point of the floor", "36", default=Fraction(0)
    )
    top: Fraction | None = key(SIZE, "how high its upper edge is", "80", default=None, otherwise="as high as the wall")

    def __post_init__(self) -> None:
        if not 0 <= self.start < self.end:
            raise Fault("to is not beyond from", "give the edge that is nearer the datum as from", "to")
        if self.top is not None and self.top <= self.bottom:
            raise Fault(
                "top is not above bottom", "give both from the high point of the floor, or leave out top", "top"
            )


Features: TypeAlias = tuple[Feature | FeatureRow | WallOpening, ...]

_ONE_PLACE: Final = forms(_FEATURE, **{"at": Feature, "from": FeatureRow})


def _read_feature(value: object, scope: Scope) -> Feature | FeatureRow | WallOpening:
    """One of the three: what says ``to`` has two edges."""
    if isinstance(value, dict) and "to" in value:
        if "at" in value:
            raise Fault("at and to stand in one table", 'what has two edges is { from = …, to = …, name = "…" }')
        return table_of(WallOpening).read(Table(value), scope)
    found: Feature | FeatureRow = _ONE_PLACE.read(value, scope)
    return found


FEATURE: Final[Kind[Any]] = Kind(
    _read_feature, None, _FEATURE, "a table", {"oneOf": [Feature, FeatureRow, WallOpening]}
)


@table("How far the floor lies below its high point at one place.", form="{ at = …, falls = … }")
class FloorPoint:
    """How far the floor lies below its high point at a station; between two such places it is straight."""

    at: Fraction = key(DISTANCE, "how far the place is from the datum", "96")
    falls: Fraction = key(DISTANCE, "how far the floor lies below its high point there, 0 at that itself", "3/8")


FLOOR_POINT: Final = inner(FloorPoint)
