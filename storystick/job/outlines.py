"""Reading the size, the places and the outline of a board that is drawn free, with every fault."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from storystick.errors import Fault, FaultCollector
from storystick.job.outline import Arc, Outline, Place, Side, Straight, turn
from storystick.job.tables import Kind, Table, distance, read_list, size
from storystick.lengths import Units, write_figure

_ORIGIN: Final = Place(Fraction(0), Fraction(0))
_BOUNDLESS_MM: Final = Fraction(10**9)


@dataclass(frozen=True, slots=True)
class BoardBox:
    """The size of a board, in mm; where that has a fault, so large that no other fault comes of it."""

    width: Fraction
    height: Fraction

    @property
    def has_width(self) -> bool:
        return self.width < _BOUNDLESS_MM

    @property
    def has_height(self) -> bool:
        return self.height < _BOUNDLESS_MM

    def words(self, units: Units) -> str:
        """What is known of it, to come after the word it tells of."""
        sides = (("width", self.width, self.has_width), ("height", self.height, self.has_height))
        known = [f"{word} {write_figure(length, units)}" for word, length, is_known in sides if is_known]
        return f" of {' and '.join(known)}" if known else ""


def read_box(table: Table, units: Units) -> BoardBox:
    """The size of a board; its faults are kept in ``table``."""
    side = replace(size(units), stand_in=_BOUNDLESS_MM)
    return BoardBox(table.need("width", side), table.need("height", side))


def _read_place(value: object, units: Units) -> Place:
    """Two distances: to the right of the lower left corner, and above it."""
    entries = read_list(value)
    if len(entries) != 2:
        raise Fault(
            f"the place has {len(entries)} figures; it has two, to the right and up", 'write it like ["1 1/2", "2"]'
        )
    read = distance(units)
    return Place(read(entries[0]), read(entries[1]))


def place_kind(units: Units) -> Kind[Place]:
    """Places of two distances, from the lower left corner."""
    return Kind(lambda value: _read_place(value, units), _ORIGIN, "[…, …]", "two lengths")


def read_outline(value: object, box: BoardBox, units: Units) -> Outline:
    """An outline from corner to corner, some of them reached by an arc.

    Raises:
        StorystickError: every fault of it.
    """
    entries = read_list(value)
    collector = FaultCollector()
    sides = _read_sides(entries, units, collector)
    collector.raise_any()
    for side in sides:
        with collector.at():
            _check_in_box(side, box, units)
    outline = Outline(tuple(sides))
    if outline.crosses_itself:
        collector.add(
            Fault("the outline crosses or touches itself", "give its corners in order, once around the board")
        )
    collector.raise_any()
    return outline


def _read_sides(entries: Sequence[object], units: Units, collector: FaultCollector) -> list[Side]:
    """The sides from corner to corner and back to the first; the faults of each are kept."""
    first, *others = entries
    if isinstance(first, dict):
        raise Fault("the outline begins with an arc", "begin it with a corner, and close it with the arc")
    at = start = _read_place(first, units)
    sides: list[Side] = []
    for number, entry in enumerate(others, 2):
        with collector.at(f"entry {number}"):
            sides.append(_read_side(at, entry, units))
            at = sides[-1].end
    if at != start:
        sides.append(Straight(at, start))
    too_few = len(sides) < 2 or (len(sides) < 3 and not any(isinstance(side, Arc) for side in sides))
    if too_few and not collector.faults:
        collector.add(Fault("the outline encloses nothing", "give three corners or more, or an arc"))
    return sides


def _read_side(start: Place, entry: object, units: Units) -> Side:
    """A straight side to a corner, or an arc."""
    if not isinstance(entry, dict):
        end = _read_place(entry, units)
        if start == end:
            raise Fault(f"{write_place(end, units)} is the corner before it again", "leave one of them out")
        return Straight(start, end)
    table = Table(entry)
    kind = place_kind(units)
    end, through = table.need("arc_to", kind), table.need("through", kind)
    table.close()
    if start == end:
        raise Fault(f"the arc to {write_place(end, units)} ends where it begins", "give two arcs for a full circle")
    if not turn(start, through, end):
        raise Fault(
            f"the arc to {write_place(end, units)} has its three places on a straight line",
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


def write_place(place: Place, units: Units) -> str:
    """A place in the words of a message."""
    return f"[{write_figure(place.x, units)}, {write_figure(place.y, units)}]"
