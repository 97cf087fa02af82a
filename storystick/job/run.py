"""What a job says of a run along a wall, valid at birth. Lengths are exact, in mm; nothing here knows a position."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from typing import TypeAlias

from storystick.job.cabinet import Cabinet
from storystick.job.model import Datum, Fixed, Share, Stock, numbered_place


class PieceKind(Enum):
    """What stands in a run beside its cabinets and end panels."""

    FILLER = "filler"
    SCRIBE = "scribe"
    GAP = "gap"


@dataclass(frozen=True, slots=True)
class CabinetPlace:
    """Where a cabinet of the job stands."""

    cabinet: Cabinet

    @property
    def size(self) -> Fixed:
        """How much of the wall it takes."""
        return Fixed(self.cabinet.width)

    @property
    def name(self) -> str | None:
        return self.cabinet.name

    @property
    def word(self) -> str:
        return "cabinet"


@dataclass(frozen=True, slots=True)
class EndPanel:
    """A panel that stands against the wall on its edge, as wide in the run as its stock is thick."""

    stock: Stock
    name: str | None = None

    @property
    def size(self) -> Fixed:
        """How much of the wall it takes."""
        return Fixed(self.stock.thickness)

    @property
    def word(self) -> str:
        return "panel"


@dataclass(frozen=True, slots=True)
class Piece:
    """A filler or a scribe, or a gap for an appliance."""

    kind: PieceKind
    size: Fixed | Share
    name: str | None = None

    @property
    def word(self) -> str:
        return self.kind.value


RunItem: TypeAlias = CabinetPlace | EndPanel | Piece


@dataclass(frozen=True, slots=True)
class Feature:
    """Something that is at one station: a jamb or a pipe along a wall, or a height above the floor."""

    at: Fraction
    name: str

    def __post_init__(self) -> None:
        if self.at < 0:
            raise ValueError(f"a feature is at 0 or beyond, not {self.at}")


@dataclass(frozen=True, slots=True)
class FeatureRow:
    """Such things at a pitch from a first one, as far as ``until``; None is the end of the wall."""

    first: Fraction
    pitch: Fraction
    name: str
    until: Fraction | None = None

    def __post_init__(self) -> None:
        if self.first < 0 or self.pitch <= 0:
            raise ValueError(f"a row starts at 0 or beyond with a pitch above 0, not {self.first} and {self.pitch}")


@dataclass(frozen=True, slots=True)
class Run:
    """What stands along a wall ``length`` long, in order from the datum, and the features of the wall.

    ``heights`` are above the high point of the floor, from which every cabinet is levelled; the floor falls
    ``floor_fall`` below it. ``number`` counts the job's runs from 1.
    """

    number: int
    name: str
    length: Fraction
    datum: Datum
    order: tuple[RunItem, ...]
    features: tuple[Feature | FeatureRow, ...] = ()
    heights: tuple[Feature, ...] = ()
    floor_fall: Fraction = Fraction(0)

    @property
    def place(self) -> str:
        """Where a fault in this run stands, in the words of a message."""
        return numbered_place("run", self.number, self.name)
