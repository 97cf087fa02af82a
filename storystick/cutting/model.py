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
class CutPart:
    """A part, and how many are made alike.

    ``length`` runs with the grain or along the part, ``width`` across it. ``hands`` is None where a part has no hand.
    ``notes`` say in words what is cut into it and what its ends and edges carry.
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

    def __post_init__(self) -> None:
        if self.count <= 0 or min(self.length, self.width, self.thickness) <= 0:
            raise ValueError(f"{self.name} is {self.length} x {self.width} x {self.thickness}, {self.count} of it")
        if self.hands and sum(self.hands) != self.count:
            raise ValueError(f"{self.name} has {self.hands} of {self.count}")

    @property
    def area(self) -> Fraction:
        """Of all of them together, in square mm."""
        return self.length * self.width * self.count
