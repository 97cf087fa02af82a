"""A job: everything that a job file says. Lengths are exact, in mm; nothing here knows a position."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from enum import Enum
from fractions import Fraction
from functools import cached_property
from hashlib import sha256
from typing import TYPE_CHECKING, Any, Final

from storystick.errors import Fault
from storystick.job.keys import key, own_name, table, table_of
from storystick.job.kinds import SIZE
from storystick.job.other_words import unknown
from storystick.job.papers import Margins, Paper
from storystick.job.sources import Source
from storystick.job.sticks import Stick
from storystick.lengths import Figures, Units

if TYPE_CHECKING:
    from storystick.job.boards import Board
    from storystick.job.cabinets import Cabinet
    from storystick.job.runs import Run
    from storystick.job.shop import Printer, Shop
    from storystick.job.sticks import SquareStick


class Hands(Enum):
    """Which strips of a pair are printed: both, or one, for boards that are laid face to face and struck together."""

    BOTH = "both"
    ONE = "one"


class PrintName(Enum):
    """A kind of thing to print, in the order in which they are used."""

    STRIPS = "strips"
    DRAWINGS = "drawings"
    PARTS = "parts"
    SET_UPS = "set-ups"
    BARS = "bars"
    TEMPLATES = "templates"
    SQUARE_STICKS = "square-sticks"
    GLUE_UP = "glue-up"
    SQUARE = "square"
    RODS = "rods"
    FIGURES = "figures"


@dataclass(frozen=True)
class Job:
    """Everything that a job file says. ``round_to`` (mm) is for labels only.

    ``wrap`` is how far strips run on over the edge of their sticks, in mm, where a stick says nothing else.
    ``printer`` is the one of the shop that it is drawn for, None for one that prints full size by itself.
    ``hands`` says which strips of a pair there are, and ``printed`` what is printed beside the first page of the job
    sheet, None for what is usual.
    ``sources`` are the job file, then every file that it names and that of its ``shop``, so that they can travel
    together.
    """

    title: str
    units: Units
    paper: Paper
    margins: Margins
    round_to: Fraction
    sticks: tuple[Stick, ...]
    cabinets: tuple[Cabinet, ...] = field(default=(), kw_only=True)
    runs: tuple[Run, ...] = field(default=(), kw_only=True)
    boards: tuple[Board, ...] = field(default=(), kw_only=True)
    shop: Shop | None = field(default=None, kw_only=True)
    printer: Printer | None = field(default=None, kw_only=True)
    wrap: Fraction = field(default=Fraction(0), kw_only=True)
    square_sticks: tuple[SquareStick, ...] = field(default=(), kw_only=True)
    rectangles: tuple[Rectangle, ...] = field(default=(), kw_only=True)
    hands: Hands = field(default=Hands.BOTH, kw_only=True)
    printed: tuple[PrintName, ...] | None = field(default=None, kw_only=True)
    sources: tuple[Source, ...] = ()

    @property
    def file_name(self) -> str:
        """The bare name of the job file; empty for a job made in Python."""
        return self.sources[0].name if self.sources else ""

    @property
    def figures(self) -> Figures:
        """How lengths are said in this job, on paper and in sentences alike."""
        return Figures(self.units, self.round_to)

    @property
    def heading(self) -> str:
        """What a listing is of, and the unit of its figures."""
        return f"{self.title}, version {self.digest}, in {self.units.plural}"

    @cached_property
    def digest(self) -> str:
        """Six hex digits that differ between two versions of the job's files."""
        parts = (part for source in self.sources for part in (source.name.encode(), source.data))
        lengths_and_parts = b"".join(len(part).to_bytes(8, "big") + part for part in parts)
        return sha256(lengths_and_parts).hexdigest()[:6]


@table("A rectangle to be squared by its diagonals, beside those of the cabinets.")
class Rectangle:
    """What two diagonals are measured of, as it should be. Exact, in mm.

    ``edges`` are those at which its corners are, where they are not at all of them; empty otherwise.
    """

    name: str = own_name("rectangle", "Door opening")
    width: Fraction = key(SIZE, "how wide it is to be", "30")
    height: Fraction = key(SIZE, "how high it is to be", "80")
    edges: str = ""

    @property
    def told(self) -> str:
        """Its name, with the edges that it is measured at."""
        return f"{self.name}, at the {self.edges}" if self.edges else self.name

    @property
    def diagonal_squared(self) -> Fraction:
        """The square of its diagonal, in mm²; the diagonal itself is seldom a fraction."""
        return self.width**2 + self.height**2


def _rectangle(number: int, **fields: Any) -> Rectangle:  # noqa: ARG001 its number is said in faults only
    return Rectangle(**fields)


RECTANGLE: Final = replace(table_of(Rectangle), build=_rectangle)


def for_printer(job: Job, name: object) -> Job:
    """The job, drawn with the correction of the shop's printer of this name.

    Raises:
        Fault: there is no shop file, or no such printer in it.
    """
    if job.shop is None:
        raise Fault(
            f'there is no shop file to find printer "{name}" in',
            'measure the printer with "storystick calibrate", which writes one, or name one with --shop',
        )
    return replace(job, printer=_find(name, job.shop.printers))


def _find(name: object, printers: Iterable[Printer]) -> Printer:
    by_name = {printer.name: printer for printer in printers}
    if not isinstance(name, str) or name.strip() not in by_name:
        raise unknown(name, "a printer of the shop file", by_name, 'measure it with "storystick calibrate"')
    return by_name[name.strip()]
