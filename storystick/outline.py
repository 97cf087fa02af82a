"""A closed outline of straight sides and arcs, by exact points: x to the right and y up, in mm.

What can be said of an arc without a root is said exactly: its centre, the square of its radius, what lies within it.
Points along it are floats.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import acos, atan2, ceil, cos, hypot, pi, sin, sqrt
from typing import Final, NamedTuple, TypeAlias

CHORD_ERROR_MM: Final = 0.005
"""No chord that is drawn for a piece of an arc lies farther from it."""

_FEWEST_CHORDS: Final = 8
_ROUNDING_MM: Final = Fraction(1, 1_000_000)


class Place(NamedTuple):
    """An exact place on a board."""

    x: Fraction
    y: Fraction


Spot: TypeAlias = tuple[float | Fraction, float | Fraction]
"""A place to draw at; exact where no arc makes it a float."""

Chord: TypeAlias = tuple[Spot, Spot]


@dataclass(frozen=True, slots=True)
class Straight:
    """A straight side."""

    start: Place
    end: Place

    @property
    def spots(self) -> tuple[Spot, ...]:
        return self.start, self.end

    def holds(self, _: Place) -> bool:
        """Whether a place lies between the side and its chord."""
        return False

    def nearest_mm(self, place: Place) -> float:
        """How far the side is from a place."""
        return _distance(place, self.start, self.end)

    def stands_out(self, _width: Fraction, _height: Fraction) -> bool:
        """Whether it leaves the box where its ends do not."""
        return False


@dataclass(frozen=True, slots=True)
class Arc:
    """An arc of a circle through three places that do not lie on a straight line."""

    start: Place
    through: Place
    end: Place

    def __post_init__(self) -> None:
        if not turn(self.start, self.through, self.end):
            raise ValueError(f"no circle runs through {self.start}, {self.through} and {self.end}")

    @property
    def centre(self) -> Place:
        """The circle's centre: equally far from all three, by Cramer's rule for the two perpendicular bisectors."""
        ax, ay = self.through.x - self.start.x, self.through.y - self.start.y
        bx, by = self.end.x - self.start.x, self.end.y - self.start.y
        twice, a, b = 2 * (ax * by - ay * bx), ax * ax + ay * ay, bx * bx + by * by
        return Place(self.start.x + (by * a - ay * b) / twice, self.start.y + (ax * b - bx * a) / twice)

    @property
    def radius_squared(self) -> Fraction:
        return distance_squared(self.centre, self.start)

    @property
    def spots(self) -> tuple[Spot, ...]:
        """Its ends and points between them, so near that their chords keep to the arc."""
        centre, radius = self.centre, sqrt(self.radius_squared)
        angles = [atan2(place.y - centre.y, place.x - centre.x) for place in (self.start, self.end)]
        leftward = turn(self.start, self.through, self.end) > 0
        sweep = (angles[1] - angles[0]) % (2 * pi) if leftward else -((angles[0] - angles[1]) % (2 * pi))
        count = chords(radius, abs(sweep))
        between = (angles[0] + sweep * number / count for number in range(1, count))
        return (
            self.start,
            *((centre.x + radius * cos(angle), centre.y + radius * sin(angle)) for angle in between),
            self.end,
        )

    def holds(self, place: Place) -> bool:
        """Whether a place lies between the arc and its chord."""
        side = turn(self.start, self.end, place) * turn(self.start, self.end, self.through)
        return side > 0 and distance_squared(self.centre, place) < self.radius_squared

    def nearest_mm(self, place: Place) -> float:
        """How far the arc is from a place: on the way from its centre, or at one of its ends."""
        centre, radius = self.centre, sqrt(self.radius_squared)
        away = sqrt(distance_squared(centre, place))
        share = radius / away if away else 0.0
        foot = (centre.x + (place.x - centre.x) * share, centre.y + (place.y - centre.y) * share)
        if not away or turn(self.start, self.end, foot) * turn(self.start, self.end, self.through) > 0:
            return abs(radius - away)
        return sqrt(min(distance_squared(place, self.start), distance_squared(place, self.end)))

    def stands_out(self, width: Fraction, height: Fraction) -> bool:
        """Whether it leaves the box from 0, 0 to ``width``, ``height`` where its ends do not."""
        centre, square = self.centre, self.radius_squared
        reaches = (centre.x, width - centre.x, centre.y, height - centre.y)
        outward = ((-1, 0), (1, 0), (0, -1), (0, 1))
        return any(
            (reach < 0 or reach * reach < square) and self._shows_towards(x, y)
            for reach, (x, y) in zip(reaches, outward, strict=True)
        )

    def _shows_towards(self, x: int, y: int) -> bool:
        """Whether the circle's outermost point in one of the four directions lies on the arc."""
        # That point is on the arc where it is on the side of the chord that "through" is on. Its radius may have no
        # exact root, so the sign of a + b * root is found from the squares.
        chord_x, chord_y = self.end.x - self.start.x, self.end.y - self.start.y
        a = chord_x * (self.centre.y - self.start.y) - chord_y * (self.centre.x - self.start.x)
        b = chord_x * y - chord_y * x
        return _sign_with_root(a, b, self.radius_squared) * turn(self.start, self.end, self.through) > 0


Side: TypeAlias = Straight | Arc


@dataclass(frozen=True, slots=True)
class Outline:
    """Sides, each beginning where the one before ends, the last one ending where the first begins."""

    sides: tuple[Side, ...]

    def __post_init__(self) -> None:
        if any(one.end != other.start for one, other in pairwise((*self.sides, self.sides[0]))):
            raise ValueError("the outline is not closed")

    @property
    def corners(self) -> tuple[Place, ...]:
        return tuple(side.start for side in self.sides)

    @property
    def spots(self) -> tuple[Spot, ...]:
        """Points all the way around, the first again at the end."""
        return (self.sides[0].start, *(spot for side in self.sides for spot in side.spots[1:]))

    def holds(self, place: Place) -> bool:
        """Whether a place lies within; one on the outline itself may or may not."""
        within = sum(_crosses_level(side.start, side.end, place) for side in self.sides)
        return (within + sum(side.holds(place) for side in self.sides)) % 2 == 1

    def spots_within(self, spots: Iterable[tuple[float, float]]) -> Iterator[tuple[float, float]]:
        """Those of some spots that lie within, by floats: of what is not struck, and quicker than :meth:`holds`."""
        chords = [(float(x1), float(y1), float(x2), float(y2)) for (x1, y1), (x2, y2) in self._chords]
        for x, y in spots:
            level = (chord for chord in chords if (chord[1] > y) != (chord[3] > y))
            if sum(x < x1 + (y - y1) * (x2 - x1) / (y2 - y1) for x1, y1, x2, y2 in level) % 2 == 1:
                yield x, y

    def nearest_mm(self, place: Place) -> float:
        """How far from a place the outline runs."""
        return min(side.nearest_mm(place) for side in self.sides)

    def overlaps(self, low: Place, high: Place) -> bool:
        """Whether it and an upright rectangle, by two opposite corners, have more in common than an edge."""
        middle = Place((low.x + high.x) / 2, (low.y + high.y) / 2)
        inner = [Place(low.x + _ROUNDING_MM, low.y + _ROUNDING_MM), Place(high.x - _ROUNDING_MM, high.y - _ROUNDING_MM)]
        return self.holds(middle) or any(_runs_through(chord, *inner) for chord in self._chords)

    @property
    def crosses_itself(self) -> bool:
        """Whether two sides meet anywhere but at the corner that they share."""
        chords = self._chords
        return any(_cross(one, other, chords) for one, other in _above_one_another(chords))

    @property
    def _chords(self) -> tuple[Chord, ...]:
        return tuple(chord for side in self.sides for chord in pairwise(side.spots))


def rectangle(width: Fraction, height: Fraction) -> Outline:
    """A rectangle with its lower left corner at 0, 0."""
    zero = Fraction(0)
    corners = (Place(zero, zero), Place(width, zero), Place(width, height), Place(zero, height))
    return polygon(corners)


def polygon(corners: Iterable[Place]) -> Outline:
    """Straight sides from corner to corner, and back to the first."""
    places = tuple(corners)
    return Outline(tuple(Straight(one, other) for one, other in pairwise((*places, places[0]))))


def circle_spots(centre: Place, radius: Fraction) -> tuple[Spot, ...]:
    """Points around a circle, the first again at the end, so near that their chords keep to it."""
    x, y, size = float(centre.x), float(centre.y), float(radius)
    count = chords(size, 2 * pi)
    angles = (2 * pi * (number % count) / count for number in range(count + 1))
    return tuple((x + size * cos(angle), y + size * sin(angle)) for angle in angles)


def chords(radius: float, sweep: float) -> int:
    """How many chords keep to an arc, whose greatest distance from a chord is radius * (1 - cos(half its angle))."""
    half = acos(max(1 - CHORD_ERROR_MM / radius, 0.0))
    return max(ceil(sweep / (2 * half)), _FEWEST_CHORDS)


def turn(one: Spot, other: Spot, third: Spot) -> float | Fraction:
    """Above 0 where the way from one place over another to a third turns left, 0 where it runs straight."""
    return (other[0] - one[0]) * (third[1] - one[1]) - (other[1] - one[1]) * (third[0] - one[0])


def distance_squared(one: Place, other: Place) -> Fraction:
    return (one.x - other.x) ** 2 + (one.y - other.y) ** 2


def _sign_with_root(a: Fraction, b: Fraction, square: Fraction) -> int:
    """The sign of a + b * root(square)."""
    first, second = (a > 0) - (a < 0), (b > 0) - (b < 0)
    if first * second >= 0:
        return first or second
    rest = a * a - b * b * square
    return first * ((rest > 0) - (rest < 0))


def _crosses_level(start: Place, end: Place, place: Place) -> bool:
    """Whether the chord from start to end runs over the level of a place to its right."""
    if (start.y > place.y) == (end.y > place.y):
        return False
    across = turn(start, end, place)
    return (across > 0) == (end.y > start.y)


def _distance(place: Place, start: Spot, end: Spot) -> float:
    x, y = float(place.x) - float(start[0]), float(place.y) - float(start[1])
    along_x, along_y = float(end[0]) - float(start[0]), float(end[1]) - float(start[1])
    share = (x * along_x + y * along_y) / (along_x**2 + along_y**2)
    share = min(max(share, 0.0), 1.0)
    return hypot(x - share * along_x, y - share * along_y)


def _above_one_another(chords: Sequence[Chord]) -> Iterator[tuple[int, int]]:
    """The numbers of every two chords that have a station of x in common."""
    lefts, rights = ([end(one[0], other[0]) for one, other in chords] for end in (min, max))
    by_left = sorted(range(len(chords)), key=lambda number: float(lefts[number]))
    for place, one in enumerate(by_left, 1):
        for other in by_left[place:]:
            if lefts[other] > rights[one]:
                break
            yield one, other


def _cross(one: int, other: int, chords: Sequence[Chord]) -> bool:
    """Whether two chords of a closed way meet anywhere but at the place that neighbours share."""
    for before, after in ((one, other), (other, one)):
        if after == (before + 1) % len(chords):
            return _fold_back(chords[before], chords[after])
    return _meet(chords[one], chords[other])


def _fold_back(one: Chord, other: Chord) -> bool:
    """Whether a chord runs back along the one before it."""
    if turn(one[0], one[1], other[1]):
        return False
    ahead = sum((one[1][axis] - one[0][axis]) * (other[1][axis] - other[0][axis]) for axis in (0, 1))
    return ahead < 0


def _meet(one: Chord, other: Chord) -> bool:
    """Whether two chords have a point in common."""
    if any(
        max(one[0][axis], one[1][axis]) < min(other[0][axis], other[1][axis])
        or max(other[0][axis], other[1][axis]) < min(one[0][axis], one[1][axis])
        for axis in (0, 1)
    ):
        return False
    apart = turn(*one, other[0]) * turn(*one, other[1])
    return apart <= 0 and turn(*other, one[0]) * turn(*other, one[1]) <= 0


def _runs_through(chord: Chord, low: Place, high: Place) -> bool:
    """Whether a chord has more than a point inside an upright rectangle (Liang and Barsky's way)."""
    first, last = 0.0, 1.0
    for start, end, least, most in zip(*chord, low, high, strict=True):
        if start != end:
            enters, leaves = sorted(float((edge - start) / (end - start)) for edge in (least, most))
            first, last = max(first, enters), min(last, leaves)
        elif not least < start < most:
            return False
    return first < last
