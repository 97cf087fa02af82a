"""How far fronts reach over the edges of their openings: not at all, by so much, or up to gaps. Exact, in mm."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from typing import Any, Final, Protocol

from storystick.job.keys import Filled, Here, Key, TableOf, inner, one, plain_or
from storystick.job.kinds import DISTANCE, Kind, Schema


class FaceEdge(Enum):
    """An edge of the face of a cabinet, and so of an opening or a front in it."""

    LEFT = "left"
    RIGHT = "right"
    BOTTOM = "bottom"
    TOP = "top"


class Reach(Protocol):
    """How far a front reaches over an edge of its opening, in mm; less than 0 where it stays inside.

    ``width`` is that of what stands at the edge: to the outside of the face, or to the next opening. Between
    neighbours is the ``reveal``.
    """

    def outer(self, edge: FaceEdge, width: Fraction, reveal: Fraction) -> Fraction:
        """Over what stands between the opening and the outside of the face."""
        ...

    def shared(self, width: Fraction, reveal: Fraction) -> Fraction:
        """Over what stands between the opening and the next one, where something does."""
        ...

    def said(self, edge: FaceEdge | None) -> str | None:
        """What says the lap at an edge of the face, or with None at a shared one; None where it follows."""
        ...

    @property
    def is_by_edge(self) -> bool:
        """Whether it is said edge by edge, in a table."""
        ...


@dataclass(frozen=True, slots=True)
class Inset:
    """Fronts inside their openings."""

    def outer(self, edge: FaceEdge, width: Fraction, reveal: Fraction) -> Fraction:
        return -reveal

    def shared(self, width: Fraction, reveal: Fraction) -> Fraction:
        return -reveal

    def said(self, edge: FaceEdge | None) -> str | None:
        return None

    @property
    def is_by_edge(self) -> bool:
        return False


@dataclass(frozen=True, slots=True)
class Over:
    """Fronts over the edges of their openings: by so much at each edge of the face, and over what openings share.

    ``at_shared`` None is half of what stands there less half the reveal: so neighbours keep it between them.
    """

    left: Fraction
    right: Fraction
    bottom: Fraction
    top: Fraction
    at_shared: Fraction | None = None

    @classmethod
    def all_round(cls, lap: Fraction) -> Over:
        return cls(lap, lap, lap, lap, lap)

    def outer(self, edge: FaceEdge, width: Fraction, reveal: Fraction) -> Fraction:
        lap: Fraction = getattr(self, edge.value)
        return lap

    def shared(self, width: Fraction, reveal: Fraction) -> Fraction:
        return (width - reveal) / 2 if self.at_shared is None else self.at_shared

    def said(self, edge: FaceEdge | None) -> str | None:
        if not self.is_by_edge:
            return "the overlay"
        if edge is None:
            return None if self.at_shared is None else "shared"
        return edge.value if len({self.left, self.right, self.bottom, self.top}) > 1 else "outside"

    @property
    def is_by_edge(self) -> bool:
        return self != Over.all_round(self.left)


@dataclass(frozen=True, slots=True)
class UpToGaps:
    """Fronts that end so far inside the outside of the face, and keep the reveal between each other.

    None is half the reveal, so that the fronts of cabinets side by side keep it too.
    """

    left: Fraction | None = None
    right: Fraction | None = None
    bottom: Fraction | None = None
    top: Fraction | None = None

    @classmethod
    def all_round(cls, gap: Fraction) -> UpToGaps:
        return cls(gap, gap, gap, gap)

    def outer(self, edge: FaceEdge, width: Fraction, reveal: Fraction) -> Fraction:
        gap: Fraction | None = getattr(self, edge.value)
        return width - (reveal / 2 if gap is None else gap)

    def shared(self, width: Fraction, reveal: Fraction) -> Fraction:
        return (width - reveal) / 2

    def said(self, edge: FaceEdge | None) -> str | None:
        return None

    @property
    def is_by_edge(self) -> bool:
        return False


def _edge_keys(words: str, otherwise: str) -> dict[str, Key]:
    return {edge.value: Key(DISTANCE, words.format(edge.value), "1/2", None, otherwise=otherwise) for edge in FaceEdge}


_LAPS: Final = _edge_keys("how far a front lies over the {} edge of the face's outer openings", "as outside says")


def _read_laps(here: Here) -> dict[str, Fraction]:
    """The lap at each edge of the face; all of them have to be said."""
    outside: Fraction | None = here("outside")
    laps: dict[str, Fraction | None] = {name: here(name) for name in _LAPS}
    missing = [name for name, lap in laps.items() if lap is None]
    if outside is None and missing and here.table.is_sound:
        here.table.fault(f"the table does not say {', '.join(missing)}", "add outside = …, for every edge left out")
    usual = outside or Fraction(0)
    return {name: usual if lap is None else lap for name, lap in laps.items()}


_ALL_SAID: Final[Schema] = {"anyOf": [{"required": ["outside"]}, {"required": list(_LAPS)}]}
_OVER: Final = TableOf(
    lambda outer, at_shared: Over(**outer, at_shared=at_shared),
    "How far fronts lie over the edges of their openings.",
    {
        "outer": Filled(
            {
                "outside": Key(
                    DISTANCE,
                    "how far a front lies over the edges at the outside of the face",
                    "3/4",
                    None,
                    otherwise="needed unless left, right, bottom and top are all given",
                ),
                **_LAPS,
            },
            _read_laps,
        ),
        "at_shared": one(
            "shared",
            Key(
                DISTANCE,
                "how far over a rail, a shelf, a stile or a divider that two openings share",
                "5/16",
                None,
                otherwise="half of it less half the reveal",
            ),
        ),
    },
    form="{ outside = …, shared = … }",
    shape=_ALL_SAID,
)
_GAPS: Final = _edge_keys("how far inside the {} edge of the face", "half the reveal")
_UP_TO: Final = TableOf(
    UpToGaps,
    "How far inside the outside of the face fronts end.",
    {name: one(name, key) for name, key in _GAPS.items()},
    form="{ left = …, right = …, bottom = …, top = … }",
)

OVERLAY: Final[Kind[Any]] = plain_or(DISTANCE, lambda lap, _: Over.all_round(lap), inner(_OVER), "outside", "shared")
OUTSIDE: Final[Kind[Any]] = plain_or(DISTANCE, lambda gap, _: UpToGaps.all_round(gap), inner(_UP_TO), *_GAPS)
