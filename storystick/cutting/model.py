"""A part of the cutting list. Lengths are finished, exact, in mm, with tongues and what joints add."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple


class Hands(NamedTuple):
    """How many of a part are left hands, and how many right."""

    left: int
    right: int


@dataclass(frozen=True, slots=True)
class PartWork:
    """One thing worked on a part: its ``kind``, the face or edge it is ``on``, and the ``name`` of what it is for.

    Lengths in mm. ``start`` and ``end`` are its two edges, ``low`` and ``high`` from where to where it runs. Where it
    runs ``along`` the part, the run counts from the part's low end and the edges across it; else the other way round.
    Across, a board of the case counts from its front edge, tongue and all. ``stops`` is whether it ends where wood is
    left standing. ``shoulders`` are cut away beside a tongue, from the outside or low face and from the other one.
    ``places`` are the holes of a row.
    """

    kind: str
    on: str
    name: str
    start: Fraction
    end: Fraction
    low: Fraction
    high: Fraction
    depth: Fraction = Fraction(0)
    stops: bool = False
    along: bool = False
    shoulders: tuple[Fraction, Fraction] = (Fraction(0), Fraction(0))
    places: tuple[Fraction, ...] = ()

    @property
    def shape(self) -> tuple[object, ...]:
        """All but what it is for."""
        where = (self.start, self.end, self.low, self.high, self.depth)
        return self.kind, self.on, where, self.stops, self.shoulders, self.places


@dataclass(frozen=True, slots=True)
class CutPart:
    """A part, and how many are made alike.

    ``length`` runs with the grain or along the part, ``width`` across it. ``hands`` is None where a part has no hand.
    ``notes`` say in words what is cut into it and what its ends and edges carry; ``works`` say it in figures.
    """

    name: str
    cabinet: str
    role: str
    count: int
    stock: str
    length: Fraction
    width: Fraction
    thickness: Fraction
    hands: Hands | None = None
    notes: tuple[str, ...] = ()
    works: tuple[PartWork, ...] = ()

    def __post_init__(self) -> None:
        if self.count <= 0 or min(self.length, self.width, self.thickness) <= 0:
            raise ValueError(f"{self.name} is {self.length} x {self.width} x {self.thickness}, {self.count} of it")
        if self.hands and sum(self.hands) != self.count:
            raise ValueError(f"{self.name} has {self.hands} of {self.count}")

    @property
    def area(self) -> Fraction:
        """Of all of them together, in square mm."""
        return self.length * self.width * self.count
