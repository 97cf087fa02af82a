"""Rectangles that a job names to be squared by their diagonals, beside those of its cabinets."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from storystick.job.numbered import read_numbered
from storystick.job.tables import Table, size
from storystick.lengths import Units


@dataclass(frozen=True, slots=True)
class Rectangle:
    """What two diagonals are measured of, as it should be. Exact, in mm.

    ``edges`` are those at which its corners are, where they are not at all of them; empty otherwise.
    """

    name: str
    width: Fraction
    height: Fraction
    edges: str = ""

    @property
    def told(self) -> str:
        """Its name, with the edges that it is measured at."""
        return f"{self.name}, at the {self.edges}" if self.edges else self.name

    @property
    def diagonal_squared(self) -> Fraction:
        """The square of its diagonal, in mm²; the diagonal itself is seldom a fraction."""
        return self.width**2 + self.height**2


def read_rectangles(job: Table, units: Units) -> tuple[Rectangle, ...]:
    """The tables ``[[rectangle]]`` in which nothing is at fault; the faults of the others are kept in ``job``."""
    return read_numbered(job, "rectangle", lambda _number, name, table: _read_rectangle(name, table, units))


def _read_rectangle(name: str, table: Table, units: Units) -> Rectangle:
    rectangle = Rectangle(name, table.need("width", size(units)), table.need("height", size(units)))
    table.close()
    return rectangle
