"""Reading the size, the places and the outline of a board that is drawn free, with every fault."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.errors import Fault, FaultCollector, Where
from storystick.job.keys import Here, Key, TableOf, array_of, one
from storystick.job.kinds import DISTANCE, MOST_ENTRIES, Kind, Scope, Table, read_list
from storystick.lengths import Units, write_figure
from storystick.outline import Arc, Outline, Place, Side, Straight, rectangle, turn

_ORIGIN: Final = Place(Fraction(0), Fraction(0))
BOUNDLESS_MM: Final = Fraction(10**9)


@dataclass(frozen=True, slots=True)
class BoardBox:
    """The size of a board, in mm; where that has a fault, so large that no other fault comes of it."""

    width: Fraction
    height: Fraction

    @property
    def has_width(self) -> bool:
        return self.width < BOUNDLESS_MM

    @property
    def has_height(self) -> bool:
        return self.height < BOUNDLESS_MM

    def words(self, units: Units) -> str:
        """What is known of it, to come after the word it tells of."""
        sides = (("width", self.width, self.has_width), ("height", self.height, self.has_height))
        known = [f"{word} {write_figure(length, units)}" for word, length, is_known in sides if is_known]
        return f" of {' and '.join(known)}" if known else ""


def _read_place(value: object, scope: Scope) -> Place:
    entries = read_list(value)
    if len(entries) != 2:
        what = f"the place has {len(entries)} figures; it has two, to the right and up"
        raise Fault(what, 'write it like ["1 1/2", "2"]')
    return Place(*map(DISTANCE.within(scope), entries))


PLACE: Final = Kind(_read_place, _ORIGIN, "[…, …]", "two lengths", array_of(DISTANCE, 2, 2), "place")
"""Places of two distances, to the right of a board's lower left corner, and above it."""


def write_place(place: Place, units: Units) -> str:
    """A place in the words of a message."""
    return f"[{write_figure(place.x, units)}, {write_figure(place.y, units)}]"


ARC: Final = TableOf(
    Arc,
    "A side of an outline that is an arc of a circle.",
    {
        "end": one("arc_to", Key(PLACE, "where the arc ends", ["0", "9"])),
        "through": one("through", Key(PLACE, "a place that it runs through", ["3", "6"])),
    },
)


def _read_outline(value: object, scope: Scope) -> Outline:
    """An outline from corner to corner; raises every fault of it."""
    box: BoardBox = scope.usual["box"]
    entries = read_list(value)
    collector = FaultCollector()
    sides = _read_sides(entries, scope, collector)
    collector.raise_any()
    for side in sides:
        with collector.at():
            _check_in_box(side, box, scope.units)
    outline = Outline(tuple(sides))
    if outline.crosses_itself:
        collector.add(
            Fault("the outline crosses or touches itself", "give its corners in order, once around the board")
        )
    collector.raise_any()
    return outline


OUTLINE: Final = Kind(
    _read_outline,
    rectangle(Fraction(1), Fraction(1)),
    "[[…, …], …]",
    "a list of corners and arcs",
    {
        "type": "array",
        "minItems": 2,
        "maxItems": MOST_ENTRIES,
        "prefixItems": [PLACE],
        "items": {"oneOf": [PLACE, ARC]},
    },
)
"""An outline from corner to corner, some of them reached by an arc."""


def _read_sides(entries: Sequence[object], scope: Scope, collector: FaultCollector) -> list[Side]:
    """The sides from corner to corner and back to the first; the faults of each are kept."""
    first, *others = entries
    if isinstance(first, dict):
        raise Fault("the outline begins with an arc", "begin it with a corner, and close it with the arc")
    at = start = _read_place(first, scope)
    sides: list[Side] = []
    for number, entry in enumerate(others, 2):
        with collector.at(Where(f"entry {number}", (number - 1,))):
            sides.append(_read_side(at, entry, scope))
            at = sides[-1].end
    if at != start:
        sides.append(Straight(at, start))
    too_few = len(sides) < 2 or (len(sides) < 3 and not any(isinstance(side, Arc) for side in sides))
    if too_few and not collector.faults:
        collector.add(Fault("the outline encloses nothing", "give three corners or more, or an arc"))
    return sides


def _read_side(start: Place, entry: object, scope: Scope) -> Side:
    """A straight side to a corner, or an arc."""
    if not isinstance(entry, dict):
        end = _read_place(entry, scope)
        if start == end:
            raise Fault(f"{write_place(end, scope.units)} is the corner before it again", "leave one of them out")
        return Straight(start, end)
    table = Table(entry)
    given = ARC.values(Here(table, scope, ARC.keys))
    table.close()
    end, through = given["end"], given["through"]
    if start == end:
        raise Fault(
            f"the arc to {write_place(end, scope.units)} ends where it begins", "give two arcs for a full circle"
        )
    if not turn(start, through, end):
        raise Fault(
            f"the arc to {write_place(end, scope.units)} has its three places on a straight line",
            "move the place that it runs through aside, or give the corner alone",
        )
    return Arc(start, through, end)


def _check_in_box(side: Side, box: BoardBox, units: Units) -> None:
    if side.start.x > box.width or side.start.y > box.height:
        raise Fault(
            f"the corner at {write_place(side.start, units)} lies outside the board{box.words(units)}",
            "move it, or make the board larger",
        )
    if side.stands_out(box.width, box.height):
        raise Fault(
            f"the arc to {write_place(side.end, units)} stands out beyond the board{box.words(units)}",
            "make it flatter, or the board larger",
        )
