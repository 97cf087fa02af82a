"""A front in its place, what a solid one leaves through the year, and how far two stand apart. Exact, in mm.

A drawer front's grain runs across the cabinet and a door's upward, so that a drawer front of solid wood moves in its
height and a door in its width.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from storystick.job.fronts import FrontKind, SolidWood
from storystick.job.openings import Stock
from storystick.layout.cabinets.closings import Closing
from storystick.layout.cabinets.laps import OpeningLaps
from storystick.layout.cabinets.pieces import Range


@dataclass(frozen=True, slots=True)
class Season:
    """What a solid-wood front leaves at an edge across its grain, in mm: the reveal inset, the lap overlaid.

    At the moisture it is made at, and at the two ends of a year. Of two laps the less is said, and where it meets other
    fronts at both edges, the gap to them. ``back_made`` and ``back_driest`` are how far each edge draws back from its
    place at the dampest. Where two doors meet, the reveals are all alike.
    """

    wood: SolidWood
    word: str
    made: Fraction
    driest: Fraction
    dampest: Fraction
    back_made: Fraction
    back_driest: Fraction


@dataclass(frozen=True, slots=True, eq=False)
class Front:
    """What closes an opening, or several with nothing of the face between.

    It has ``count`` leaves, each ``height`` by ``width`` when it is made.
    ``x`` and ``z`` are what the leaves cover together at the dampest, from the cabinet's left and floor; ``laps`` are
    how far that reaches over the edges of the opening. Equal to no other.
    """

    closing: Closing
    count: int
    height: Fraction
    width: Fraction
    stock: Stock
    x: Range
    z: Range
    laps: OpeningLaps
    season: Season | None = None

    @property
    def name(self) -> str:
        """That of what it closes."""
        return self.closing.name

    @property
    def kind(self) -> FrontKind:
        return self.closing.kind

    def _covered(self, back: Fraction) -> tuple[Range, Range]:
        """What the leaves cover in ``x`` and in ``z`` when each moving edge has drawn back by so much."""
        if self.kind.lies:
            return self.x, _within(self.z, back)
        return _within(self.x, back), self.z

    @property
    def made(self) -> tuple[Range, Range]:
        """What the leaves cover in ``x`` and in ``z`` when they are made."""
        return self._covered(self.season.back_made) if self.season else (self.x, self.z)

    @property
    def driest(self) -> tuple[Range, Range]:
        """What the leaves cover in ``x`` and in ``z`` at the driest."""
        return self._covered(self.season.back_driest) if self.season else (self.x, self.z)

    @property
    def leaves(self) -> tuple[tuple[Range, Range], ...]:
        """What each leaf covers in ``x`` and in ``z`` when it is made, from the left."""
        x, z = self.made
        pitch = (x.size - self.width) / (self.count - 1) if self.count > 1 else Fraction(0)
        lefts = (x.start + number * pitch for number in range(self.count))
        return tuple((Range(left, left + self.width), z) for left in lefts)


def gap(one: tuple[Range, Range], other: tuple[Range, Range]) -> Fraction:
    """How far two fronts stand apart by what they cover in ``x`` and in ``z``; less than 0 where they overlap."""
    return max(
        max(second.start - first.end, first.start - second.end) for first, second in zip(one, other, strict=True)
    )


def _within(place: Range, back: Fraction) -> Range:
    return Range(place.start + back, place.end - back)
