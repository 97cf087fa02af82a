"""What a job says, valid at birth and never changed after. Lengths are exact, in mm; nothing here knows a position."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum
from fractions import Fraction
from functools import cached_property
from hashlib import sha256
from typing import TYPE_CHECKING, TypeAlias

from storystick.errors import as_written
from storystick.job.joints import Joint
from storystick.job.papers import Margins, Paper
from storystick.lengths import Figures, Units, write_label

if TYPE_CHECKING:
    from storystick.job.board import Board
    from storystick.job.cabinet import Cabinet
    from storystick.job.rectangles import Rectangle
    from storystick.job.run import Run
    from storystick.job.shop import Printer, Shop
    from storystick.job.square_sticks import SquareStick


class Datum(Enum):
    """The end of a stick that zero is on."""

    BOTTOM = "bottom"
    TOP = "top"
    LEFT = "left"
    RIGHT = "right"
    FRONT = "front"
    BACK = "back"

    @property
    def far_end(self) -> Datum:
        """The word for the other end."""
        return _FAR_ENDS[self]


_FAR_ENDS = {
    Datum.BOTTOM: Datum.TOP,
    Datum.TOP: Datum.BOTTOM,
    Datum.LEFT: Datum.RIGHT,
    Datum.RIGHT: Datum.LEFT,
    Datum.FRONT: Datum.BACK,
    Datum.BACK: Datum.FRONT,
}


def _check(holds: bool, what: str, value: object) -> None:
    if not holds:
        raise ValueError(f"{what}, not {value}")


class Hand(Enum):
    """Which of a pair something is, or is laid like. A strip that is like neither runs as a left one does."""

    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True, slots=True)
class Stock:
    """A named material with its measured thickness in mm."""

    name: str
    thickness: Fraction

    def __post_init__(self) -> None:
        _check(self.thickness > 0, "a thickness is more than 0", self.thickness)


@dataclass(frozen=True, slots=True)
class Part:
    """A part that the stick crosses. ``joint`` is how its end is let into the piece that the stick is struck on."""

    stock: Stock
    name: str | None = None
    joint: Joint | None = None


@dataclass(frozen=True, slots=True)
class Fixed:
    """An opening's clear size as given."""

    size: Fraction

    def __post_init__(self) -> None:
        _check(self.size > 0, "a size is more than 0", self.size)


@dataclass(frozen=True, slots=True)
class Share:
    """An opening's size as ``share`` shares of what is left of the length; ``equal`` is one share."""

    share: Fraction

    def __post_init__(self) -> None:
        _check(self.share > 0, "a share is more than 0", self.share)


@dataclass(frozen=True, slots=True)
class Opening:
    """The clear space between two parts."""

    size: Fixed | Share
    name: str | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """Each next opening of a group is smaller by this many mm."""

    step: Fraction

    def __post_init__(self) -> None:
        _check(self.step > 0, "a step is more than 0", self.step)


@dataclass(frozen=True, slots=True)
class Ratio:
    """Each opening of a group is this many times the next one; more than 1."""

    ratio: Fraction

    def __post_init__(self) -> None:
        _check(self.ratio > 1, "a ratio is more than 1", self.ratio)


@dataclass(frozen=True, slots=True)
class Graduated:
    """``count`` openings that get smaller away from the datum, with ``between`` standing between each two.

    ``first`` is the size of the one nearest the datum; None for a group that fills what is left of the length.
    ``between`` None leaves the openings side by side with no part between.
    """

    count: int
    rule: Step | Ratio
    first: Fraction | None = None
    between: Part | None = None
    name: str | None = None

    def __post_init__(self) -> None:
        _check(self.count > 1, "a group has two openings or more", self.count)


Item: TypeAlias = Part | Opening | Graduated


@dataclass(frozen=True, slots=True)
class Holes:
    """A row of holes: the first at ``first`` from the datum, the others ``pitch`` apart."""

    first: Fraction
    pitch: Fraction
    count: int
    name: str

    def __post_init__(self) -> None:
        _check(self.first >= 0, "a hole is at 0 or beyond", self.first)
        _check(self.count > 0, "a row has one hole or more", self.count)
        _check(self.pitch > 0 or self.count == 1, "a pitch is more than 0", self.pitch)


@dataclass(frozen=True, slots=True)
class Centre:
    """A single centre mark at ``at`` from the datum."""

    at: Fraction
    name: str

    def __post_init__(self) -> None:
        _check(self.at >= 0, "a centre is at 0 or beyond", self.at)


@dataclass(frozen=True, slots=True)
class Stick:
    """One straight layout as the job gives it: ``items`` in order from the datum.

    ``length`` is the overall length, None where parts and openings alone make it. ``pair`` asks for a strip of each
    hand; one that has no pair is of no hand, but ``laid`` as a left or a right one is. ``edge_words`` say which edge
    of the strip goes where, for a stick that does not follow the usual rule. ``wrap`` is how far its strip runs on over
    the stick's edge, in mm; None leaves that to the job. ``number`` counts the job's sticks from 1.
    """

    number: int
    name: str
    datum: Datum
    items: tuple[Item, ...]
    length: Fraction | None = None
    pair: bool = False
    points: tuple[Holes | Centre, ...] = ()
    laid: Hand | None = None
    edge_words: str = ""
    wrap: Fraction | None = None

    def __post_init__(self) -> None:
        _check(self.wrap is None or self.wrap >= 0, "a wrap is 0 or more", self.wrap)

    @property
    def place(self) -> str:
        """Where a fault in this stick stands, in the words of a message."""
        return numbered_place("stick", self.number, self.name)


def numbered_place(word: str, number: int, name: str) -> str:
    """Where a fault in a stick or a cabinet stands; its name is said where it has one of its own."""
    default = default_name(word, number)
    return default if name == default else f"{default} ({as_written(name)})"


def default_name(word: str, number: int) -> str:
    """The name of a stick or a cabinet that was given none."""
    return f"{word} {number}"


@dataclass(frozen=True, slots=True)
class Source:
    """A file that the job was read from: its bare name and its bytes."""

    name: str
    data: bytes = field(repr=False)


@dataclass(frozen=True)
class Job:
    """Everything that a job file says. ``round_to`` (mm) is for labels only.

    ``wrap`` is how far strips run on over the edge of their sticks, in mm, where a stick says nothing else.
    ``printer`` is the one of the shop that it is drawn for, None for one that prints full size by itself.
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
    sources: tuple[Source, ...] = ()

    @property
    def file_name(self) -> str:
        """The bare name of the job file; empty for a job made in Python."""
        return self.sources[0].name if self.sources else ""

    def label(self, length: Fraction) -> str:
        """A length as it is printed: in the job's units, rounded as the job says, with full or scant."""
        return write_label(length, self.units, self.round_to)

    @property
    def figures(self) -> Figures:
        """How lengths are said in this job, on paper and in sentences alike."""
        return Figures(self.units, self.round_to)

    @cached_property
    def digest(self) -> str:
        """Six hex digits that differ between two versions of the job's files."""
        parts = (part for source in self.sources for part in (source.name.encode(), source.data))
        lengths_and_parts = b"".join(len(part).to_bytes(8, "big") + part for part in parts)
        return sha256(lengths_and_parts).hexdigest()[:6]
