"""Transformations of the plane, as a PDF writes them (ISO 32000-1, 8.3.3): six numbers, rows first."""

from __future__ import annotations

from math import sqrt
from typing import NamedTuple

from storystick.proof.figures import Bounds, Point


class Matrix(NamedTuple):
    """x' = a·x + c·y + e, y' = b·x + d·y + f."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def place(self, x: float, y: float) -> Point:
        """Where a point comes to lie."""
        return self.a * x + self.c * y + self.e, self.b * x + self.d * y + self.f

    def then(self, after: Matrix) -> Matrix:
        """This transformation, and ``after`` upon it."""
        a, b = self.a * after.a + self.b * after.c, self.a * after.b + self.b * after.d
        c, d = self.c * after.a + self.d * after.c, self.c * after.b + self.d * after.d
        return Matrix(a, b, c, d, *after.place(self.e, self.f))

    def around(self, box: Bounds) -> Bounds:
        """The smallest upright rectangle around what a rectangle becomes."""
        ends = [self.place(x, y) for x in (box.left, box.right) for y in (box.bottom, box.top)]
        xs, ys = zip(*ends, strict=True)
        return Bounds(min(xs), min(ys), max(xs), max(ys))

    @property
    def size(self) -> float:
        """How many times as long a line becomes, in the mean of all directions."""
        return sqrt(abs(self.a * self.d - self.b * self.c))


def quarter_turns(degrees: int, width: float, height: float) -> Matrix:
    """A page of ``width`` by ``height`` turned clockwise as it is looked at, its lower left corner at 0 again."""
    return {
        0: Matrix(),
        90: Matrix(0, -1, 1, 0, 0, width),
        180: Matrix(-1, 0, 0, -1, width, height),
        270: Matrix(0, 1, -1, 0, height, 0),
    }[degrees % 360]
