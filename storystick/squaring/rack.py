"""From two measured diagonals to the rack of a rectangle: how far its top stands aside of its bottom.

With d₁ the rising diagonal (lower left to upper right) and d₂ the falling one, of a rectangle w wide and h high whose
top has moved to the right by s, d₁² − d₂² = 4·w·s. That is exact for a case whose sides keep their lengths and turn at
the corners, and for one that shears at its height: put the corners at 0, (w, 0), (w + s, v) and (s, v), whatever v is.
For any other four-sided shape it is exact of the lines that join the middles of opposite sides: with m from left to
right and n upward, the diagonals are m + n and m − n, so d₁² − d₂² = 4·m·n. Lengths are exact, in mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from math import asin, degrees, prod
from typing import Final

from storystick.errors import Fault, FaultCollector
from storystick.lengths import INCH_MM, Figures, root
from storystick.squaring.readings import Reading
from storystick.squaring.rectangles import Target

_GROSS: Final = INCH_MM
"""What a measured shape may differ by from the job's, in mm; beyond it something else was measured, or read wrongly."""

_STEEPEST: Final = Fraction(1, 4)
"""The largest rack, as a share of the height: beyond it nobody needs diagonals to see it."""


class Move(Enum):
    """Which way the top must be pushed."""

    LEFT = "left"
    RIGHT = "right"
    NONE = "none"


class Diagonal(Enum):
    """A diagonal by its way from left to right."""

    RISING = "rising"
    FALLING = "falling"


@dataclass(frozen=True, slots=True)
class Racked:
    """A measured rectangle. ``read_to`` is how finely it was read, ``off`` what each reading may be off by.

    ``off`` None is one division: half of it from rounding, and the rest from tape, hook, eye and hand.
    """

    target: Target
    reading: Reading
    read_to: Fraction
    off: Fraction | None = None

    @property
    def error(self) -> Fraction:
        """What each reading may be off by, never less than rounding it makes it."""
        return self.read_to if self.off is None else max(self.off, self.read_to / 2)

    @property
    def width(self) -> Fraction:
        """The mean of bottom and top where they were measured, else as the job has it."""
        sides = self.reading.sides
        return (sides.bottom + sides.top) / 2 if sides else self.target.rectangle.width

    @property
    def height(self) -> Fraction:
        """The mean of left and right where they were measured, else as the job has it."""
        sides = self.reading.sides
        return (sides.left + sides.right) / 2 if sides else self.target.rectangle.height

    @property
    def sizes(self) -> tuple[tuple[str, Fraction, Fraction], ...]:
        """Its width and its height as measured, each with what it is in the job."""
        rectangle = self.target.rectangle
        return ("width", self.width, rectangle.width), ("height", self.height, rectangle.height)

    @property
    def difference(self) -> Fraction:
        """Rising less falling: more than nothing where the top stands too far right."""
        return self.reading.rising - self.reading.falling

    @property
    def rack(self) -> Fraction:
        """How far the top stands too far right; less than nothing where it stands too far left."""
        return self.difference * (self.reading.rising + self.reading.falling) / (4 * self.width)

    @property
    def rack_within(self) -> Fraction:
        """By how much the rack may be more or less, from what the diagonals may be off by."""
        return self.error * (self.reading.rising + self.reading.falling) / (2 * self.width)

    @property
    def lean(self) -> Fraction:
        """The rack as a share of the height: the sine of the angle by which the sides lean to the right."""
        return self.rack / self.height

    @property
    def lean_within(self) -> Fraction:
        """By how much the lean may be more or less, the sides being off as well where they were measured."""
        if self.reading.sides is None:
            return self.rack_within / self.height
        shares = (side / max(side - self.error, side / 2) for side in (self.width, self.height))
        larger = prod(shares, start=Fraction(1))
        return self.rack_within / self.height * larger + abs(self.lean) * (larger - 1)

    @property
    def size_room(self) -> Fraction:
        """By how much a diagonal may be longer or shorter because the rectangle is not just as large as it is said."""
        if self.reading.sides is None:
            return self.target.differ
        share = (self.width + self.height) / root(self.width**2 + self.height**2)
        return self.target.differ + (1 + _STEEPEST) * self.error * share

    @property
    def angle_degrees(self) -> float:
        """By how much the sides lean to the right."""
        return degrees(asin(self.lean))

    @property
    def long(self) -> Diagonal | None:
        """The longer diagonal, if there is one."""
        if not self.difference:
            return None
        return Diagonal.RISING if self.difference > 0 else Diagonal.FALLING

    @property
    def is_square(self) -> bool:
        """Whether the diagonals as read differ by no more than they may."""
        return abs(self.difference) <= self.target.differ

    @property
    def is_sure(self) -> bool:
        """Whether a division more or less between the two, read with one tape, would leave it so."""
        room = self.target.differ - abs(self.difference)
        return room >= self.read_to or room < -self.read_to

    @property
    def sides_agree(self) -> bool | None:
        """Whether opposite sides differ by no more than diagonals and readings may; None where none were measured."""
        if (sides := self.reading.sides) is None:
            return None
        return max(abs(sides.bottom - sides.top), abs(sides.left - sides.right)) <= self.sides_differ

    @property
    def sides_differ(self) -> Fraction:
        """By how much opposite sides may differ before one of them is called longer."""
        return self.target.differ + 2 * self.error

    @property
    def move_top(self) -> Move:
        """Which way the top must move; none for what counts as square."""
        if self.is_square:
            return Move.NONE
        return Move.LEFT if self.rack > 0 else Move.RIGHT

    @property
    def mean_square(self) -> Fraction:
        """Of the diagonals, in mm²: the square of both when they are equal, since a rack does not change it."""
        return (self.reading.rising**2 + self.reading.falling**2) / 2

    @property
    def too_long(self) -> Fraction:
        """By how much both diagonals together are longer than those of these sides, as a root mean square.

        By the parallelogram law d₁² + d₂² = 2·(w² + h²), whatever the rack is.
        Less than nothing where they are shorter.
        """
        return root(self.mean_square) - root(self.width**2 + self.height**2)

    @property
    def is_too_long(self) -> bool:
        """Whether the diagonals together are longer or shorter than readings and what is allowed can explain."""
        return self.reading.sides is None and abs(self.too_long) > self.error + self.target.differ


def too_long_words(racked: Racked, figures: Figures) -> str:
    """By how much the diagonals together are longer or shorter than the sides allow."""
    longer = "longer" if racked.too_long > 0 else "shorter"
    width, height = figures(racked.width), figures(racked.height)
    return f"{figures(abs(racked.too_long))} {longer} than sides of {width} and {height} allow"


def check_shape(racked: Racked, figures: Figures) -> None:
    """Whether a rectangle of the job can have been measured so.

    Raises:
        Faults: no shape has such diagonals, or it is far from the job's.
    """
    faults = FaultCollector()
    with faults.at(racked.reading.place):
        with_sides, without = _check_closed_triangles, _check_reach
        (with_sides if racked.reading.sides else without)(racked, figures)
        _check_likeness(racked, figures)
    faults.raise_any()


def _check_reach(racked: Racked, figures: Figures) -> None:
    """Sides that keep their lengths: a diagonal is shortest and longest where the shape is flat."""
    width, height = racked.width, racked.height
    for diagonal, length in ((Diagonal.RISING, racked.reading.rising), (Diagonal.FALLING, racked.reading.falling)):
        if not abs(width - height) < length < width + height:
            reach = " and ".join(figures(end) for end in (abs(width - height), width + height))
            raise Fault(
                f"{racked.target.name}: a {diagonal.value} diagonal of {figures(length)} is impossible: "
                f"with sides of {figures(width)} and {figures(height)} it lies between {reach}",
                "look at its unit, and at which rectangle was measured",
            )


def _check_closed_triangles(racked: Racked, figures: Figures) -> None:
    reading, sides = racked.reading, racked.reading.sides
    assert sides is not None
    for names, lengths in (
        ("bottom, right and rising", (sides.bottom, sides.right, reading.rising)),
        ("left, top and rising", (sides.left, sides.top, reading.rising)),
        ("left, bottom and falling", (sides.left, sides.bottom, reading.falling)),
        ("top, right and falling", (sides.top, sides.right, reading.falling)),
    ):
        if 2 * max(lengths) >= sum(lengths):
            sizes = ", ".join(map(figures, lengths))
            raise Fault(f"{racked.target.name}: {names} close no triangle: {sizes}", "measure these three again")


def _check_likeness(racked: Racked, figures: Figures) -> None:
    name = racked.target.name
    again = "look at the readings, and at which rectangle was measured"
    for word, measured, wanted in racked.sizes:
        if abs(measured - wanted) > _GROSS:
            what = f"{name}: its {word} measures {figures(measured)}, and is {figures(wanted)} in the job"
            raise Fault(what, again)
    if abs(racked.too_long) > _GROSS:
        raise Fault(f"{name}: the diagonals together are {too_long_words(racked, figures)}", again)
    if abs(racked.lean) > _STEEPEST:
        rack = figures(abs(racked.rack))
        raise Fault(f"{name}: its top would stand {rack} aside, more than a quarter of its height", again)
