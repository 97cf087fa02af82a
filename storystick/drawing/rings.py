"""Letters in rings on a picture: each beside the line that it stands for, tied to it, and clear of the others."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from math import ceil, cos, hypot, pi, sin
from typing import Final, TypeAlias

from storystick.drawing.lettering import NAME_MM, SIZE_MM, points_of, text_width_mm
from storystick.drawing.shapes import NARROW_MM, Anchor, Area, Line, Rect, Shape, Text

_AROUND_MM: Final = 0.9
_DOT_MM: Final = 0.55
_CORNERS: Final = 48
_APART_MM: Final = 0.4
_WHITE: Final = 1.0


@dataclass(frozen=True, slots=True)
class Tag:
    """A letter for a line on paper, level or upright, in mm; ``dx`` and ``dy`` point to the side that it is read from.

    Where both are 0 it is read from either side.
    """

    letter: str
    line: tuple[float, float, float, float]
    dx: float = 0.0
    dy: float = 0.0

    def at(self, share: float) -> tuple[float, float]:
        """A place on the line, ``share`` of its length from its start."""
        x1, y1, x2, y2 = self.line
        return x1 + (x2 - x1) * share, y1 + (y2 - y1) * share

    @property
    def length(self) -> float:
        x1, y1, x2, y2 = self.line
        return hypot(x2 - x1, y2 - y1)

    @property
    def sides(self) -> tuple[tuple[float, float], ...]:
        """The ways away from the line, the wanted one first."""
        if self.dx or self.dy:
            return ((self.dx, self.dy), (-self.dx, -self.dy))
        upright = self.line[0] == self.line[2]
        return ((1.0, 0.0), (-1.0, 0.0)) if upright else ((0.0, 1.0), (0.0, -1.0))


@dataclass(frozen=True, slots=True)
class Ring:
    """A letter in a ring round ``x``, ``y``, tied to the place ``foot`` that it is for; all in mm."""

    letter: str
    x: float
    y: float
    radius: float
    height_mm: float
    foot: tuple[float, float] | None = None

    @property
    def extent(self) -> Rect:
        """Of the ring alone."""
        return Rect(self.x, self.y, self.x, self.y).wider(self.radius + NARROW_MM / 2)

    def ties_past(self, x: float, y: float) -> float:
        """How far from a place the line from its foot goes by, in mm; it ends in the middle of the ring."""
        foot_x, foot_y = self.foot or (self.x, self.y)
        run, rise = self.x - foot_x, self.y - foot_y
        long = run * run + rise * rise
        share = min(1.0, max(0.0, ((x - foot_x) * run + (y - foot_y) * rise) / long)) if long else 0.0
        return hypot(foot_x + run * share - x, foot_y + rise * share - y)

    def draw(self) -> Iterator[Shape]:
        """The tie with a dot at its foot, then the ring, white inside, and its letter."""
        if self.foot:
            yield Line(*self.foot, self.x, self.y, NARROW_MM)
            yield disc(*self.foot, _DOT_MM)
        yield disc(self.x, self.y, self.radius + NARROW_MM / 2)
        yield disc(self.x, self.y, self.radius - NARROW_MM / 2, _WHITE)
        baseline = self.y - self.height_mm / 2
        yield Text(self.x, baseline, self.letter, points_of(self.height_mm), Anchor.MIDDLE, bold=True)


def ring(letter: str, x: float, y: float, height_mm: float = SIZE_MM, foot: tuple[float, float] | None = None) -> Ring:
    """A ring as large as its letter needs."""
    return Ring(letter, x, y, radius_of(letter, height_mm), height_mm, foot)


def radius_of(letter: str, height_mm: float = SIZE_MM) -> float:
    """Half of how wide a ring is, in mm."""
    width = text_width_mm(letter, points_of(height_mm), bold=True)
    return max(hypot(width, height_mm) / 2 + _AROUND_MM / 2, height_mm / 2 + _AROUND_MM)


def disc(x: float, y: float, radius: float, grey: float = 0.0) -> Area:
    """A filled circle."""
    turns = (2 * pi * corner / _CORNERS for corner in range(_CORNERS))
    return Area(tuple((x + radius * cos(turn), y + radius * sin(turn)) for turn in turns), grey)


_SHARES: Final = (0.5, 0.38, 0.62, 0.26, 0.74, 0.14, 0.86, 0.06, 0.94)
_STEPS_MM: Final = (0.0, 2.5, 5.0, 8.0, 12.0, 17.0, 23.0, 30.0)
_TIE_MM: Final = 1.1


def place_rings(tags: Sequence[Tag], within: Sequence[Rect], taken: Iterable[Rect] = ()) -> tuple[Ring, ...]:
    """A ring for every tag, none on another or on what is ``taken``, in the first room of ``within`` that holds all.

    They are smaller where the larger ones have no room, and tied aslant where they have none straight beside their
    lines. Where not all have room, each letter has one ring; where even those have none, they stand side by side in the
    first room that holds them and are not tied.
    """
    words = list(taken)
    ways = ((SIZE_MM, _STRAIGHT), (NAME_MM, _STRAIGHT), (NAME_MM, _ASLANT))
    tries = [_Try(height_mm, turns, room, order) for height_mm, turns in ways for room in within for order in _ORDERS]
    each_once = tuple({tag.letter: tag for tag in reversed(tags)}.values())[::-1]
    for some, way in product((tags, each_once), tries):
        rings = _place_all(some, words, way)
        if len(rings) == len(some):
            return rings
    rows = [tuple(_side_by_side([tag.letter for tag in tags], room)) for room in within]
    held = (rings for rings, room in zip(rows, within, strict=True) if all(each.extent.lies_in(room) for each in rings))
    return next(held, rows[-1])


def _side_by_side(letters: Sequence[str], room: Rect) -> Iterator[Ring]:
    """Every letter once, in rows."""
    different = list(dict.fromkeys(letters))
    pitch = 2 * max(radius_of(letter, NAME_MM) for letter in different) + 2 * _APART_MM
    across = min(len(different), max(1, int((room.right - room.left) / pitch)))
    x, y = (room.left + room.right) / 2, (room.bottom + room.top) / 2
    rows = ceil(len(different) / across)
    for number, letter in enumerate(different):
        row, column = divmod(number, across)
        place = (x + (column - (across - 1) / 2) * pitch, y - (row - (rows - 1) / 2) * pitch)
        yield ring(letter, *place, NAME_MM)


_STRAIGHT: Final = (0.0,)
_ASLANT: Final = (0.0, pi / 5, -pi / 5, pi / 3, -pi / 3)
"""How ties are turned from straight away from their lines."""

_Order: TypeAlias = Callable[[Tag], float]
_ORDERS: Final[tuple[_Order, ...]] = (lambda tag: tag.length, lambda tag: -tag.length, lambda tag: tag.line[0])
"""Which rings are placed first: those of the shortest lines have the fewest places, but another order may hold more."""


@dataclass(frozen=True, slots=True)
class _Try:
    """A way to place rings: how large, how their ties are turned, in which room and in which order."""

    height_mm: float
    turns: tuple[float, ...]
    room: Rect
    order: _Order

    def places(self, tag: Tag) -> Iterator[Ring]:
        """Where the ring of a tag can stand in the room, the nearest to its line first."""
        near = radius_of(tag.letter, self.height_mm) + _TIE_MM
        for step, turn, (dx, dy), share in product(_STEPS_MM, self.turns, tag.sides, _SHARES):
            x, y = tag.at(share)
            across, up = dx * cos(turn) - dy * sin(turn), dx * sin(turn) + dy * cos(turn)
            place = (x + across * (near + step), y + up * (near + step))
            if (one := ring(tag.letter, *place, self.height_mm, (x, y))).extent.lies_in(self.room):
                yield one


def _place_all(tags: Sequence[Tag], avoided: list[Rect], way: _Try) -> tuple[Ring, ...]:
    """As many rings as find room."""
    placed: dict[int, Ring] = {}
    for number in sorted(range(len(tags)), key=lambda number: way.order(tags[number])):
        free = (each for each in way.places(tags[number]) if _is_clear(each, avoided, placed.values()))
        if (found := next(free, None)) is None:
            break
        placed[number] = found
    return tuple(placed[number] for number in sorted(placed))


def _is_clear(one: Ring, words: Iterable[Rect], rings: Iterable[Ring]) -> bool:
    """Whether a ring stands on no words and on no other ring, and neither of two ties goes through the other's ring."""
    room = one.extent.wider(_APART_MM)
    return not any(map(room.meets, words)) and not any(
        hypot(one.x - other.x, one.y - other.y) < one.radius + other.radius + _APART_MM
        or one.ties_past(other.x, other.y) < other.radius + _APART_MM
        or other.ties_past(one.x, one.y) < one.radius + _APART_MM
        for other in rings
    )
