"""A part of the cutting list, and how parts cut alike are gathered. Finished lengths, exact, in mm.

Alike is what is worked alike: parts are gathered by sizes and by the places of their grooves, mortises and holes, not
by the names of what ends on them; left and right sides that differ only in hand are one row.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final, NamedTuple, TypeAlias

from storystick.layout.cabinets.closings import Closing
from storystick.layout.cabinets.pieces import Bay
from storystick.wording import by_number


class HandCounts(NamedTuple):
    """How many of a part are left hands, and how many right."""

    left: int
    right: int

    @classmethod
    def over(cls, some: Iterable[HandCounts | None]) -> HandCounts | None:
        """Those of several parts together; None where no part has a hand."""
        given = [counts for counts in some if counts]
        return cls(*map(sum, zip(*given, strict=True))) if given else None


@dataclass(frozen=True, slots=True)
class PartWork:
    """One thing worked on a part: its ``kind``, the face or edge it is ``on``, and the ``name`` of what it is for.

    Lengths in mm. ``start`` and ``end`` are its two edges, ``low`` and ``high`` from where to where it runs. Where it
    runs ``along`` the part, the run counts from the part's low end and the edges across it; else the other way round.
    Across, a board of the case counts from its front edge, tongue and all. ``stops`` is whether it ends where wood is
    left standing. ``shoulders`` are cut away beside a tongue, from the outside or low face and from the other one.
    ``places`` are the holes or slots of a row, ``bore`` how large each is along the row and across it, where that is
    known. ``done`` is what is done, for a note that names what it is for; else empty.
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
    bore: tuple[Fraction, Fraction] = (Fraction(0), Fraction(0))
    done: str = ""

    @property
    def shape(self) -> tuple[object, ...]:
        """All but what it is for."""
        where = (self.start, self.end, self.low, self.high, self.depth)
        return self.kind, self.on, where, self.stops, self.shoulders, self.places, self.bore


class Edge(NamedTuple):
    """The edging that an edge of a part gets: how thick it is, and how long on one of them, in mm; and its stock, empty
    where that is not said.
    """

    thickness: Fraction
    length: Fraction
    stock: str = ""


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
    hands: HandCounts | None = None
    notes: tuple[str, ...] = ()
    works: tuple[PartWork, ...] = ()
    edges: tuple[Edge, ...] = ()

    def __post_init__(self) -> None:
        if self.count <= 0 or min(self.length, self.width, self.thickness) <= 0:
            raise ValueError(f"{self.name} is {self.length} x {self.width} x {self.thickness}, {self.count} of it")
        if self.hands and sum(self.hands) != self.count:
            raise ValueError(f"{self.name} has {self.hands} of {self.count}")

    @property
    def area(self) -> Fraction:
        """Of all of them together, in square mm."""
        return self.length * self.width * self.count


LEFT: Final = HandCounts(1, 0)
RIGHT: Final = HandCounts(0, 1)


@dataclass(frozen=True, slots=True)
class Blank:
    """A part before it is gathered with its likes, with a ``name`` of its own or for what it closes, its ``bay``.

    Otherwise as :class:`CutPart`.
    """

    role: str
    stock: str
    length: Fraction
    width: Fraction
    thickness: Fraction
    count: int = 1
    hands: HandCounts | None = None
    notes: tuple[str, ...] = ()
    works: tuple[PartWork, ...] = ()
    name: str = ""
    bay: Bay | Closing | None = None
    edges: tuple[Edge, ...] = ()

    @property
    def shape(self) -> tuple[object, ...]:
        """All but its name, its number and its hand."""
        sizes = (self.length, self.width, self.thickness)
        work = tuple(work.shape for work in self.works)
        return self.role, self.stock, sizes, self.hands is None, self.notes, work, self.edges


def gather(cabinet: str, blanks: Iterable[Blank], many: int = 1) -> list[CutPart]:
    """The parts of a cabinet, made ``many`` times, those alike as one, in the order of the first of each."""
    groups: dict[tuple[object, ...], list[Blank]] = {}
    for blank in blanks:
        groups.setdefault(blank.shape, []).append(blank)
    return [_as_one(cabinet, tuple(group), many) for group in groups.values()]


def one_by_one(cabinet: str, blanks: Iterable[Blank], many: int = 1) -> list[CutPart]:
    """The same with nothing gathered: each part under its own name."""
    return [_as_one(cabinet, (blank,), many) for blank in blanks]


Gathering: TypeAlias = Callable[[str, Iterable[Blank], int], list[CutPart]]
"""What makes a list of a cabinet's parts: :func:`gather` or :func:`one_by_one`."""


def _as_one(cabinet: str, group: tuple[Blank, ...], many: int) -> CutPart:
    one = group[0]
    hands = HandCounts.over(blank.hands for blank in group * many)
    return CutPart(
        name=_joined_name(group, hands),
        cabinet=cabinet,
        role=one.role,
        count=many * sum(blank.count for blank in group),
        stock=one.stock,
        length=one.length,
        width=one.width,
        thickness=one.thickness,
        hands=hands,
        notes=(*one.notes, *_work_notes(group)),
        edges=one.edges,
        works=tuple(_named_by_all(alike) for alike in zip(*(blank.works for blank in group), strict=True)),
    )


def _joined_name(group: Sequence[Blank], hands: HandCounts | None) -> str:
    """What they share said once: "shelf 2–4", "door: letters, bay 1, 2", or "side" for a left and a right one."""
    if all(blank.bay for blank in group):
        return f"{group[0].role}: {', '.join(by_number(blank.bay.name for blank in group if blank.bay))}"
    return group[0].role if hands and all(hands) else ", ".join(by_number(blank.name for blank in group))


def _named_by_all(alike: Sequence[PartWork]) -> PartWork:
    """One for all that are alike, with what different parts have at one place."""
    return replace(alike[0], name="/".join(dict.fromkeys(work.name for work in alike)))


def _work_notes(group: Sequence[Blank]) -> list[str]:
    """What is done for others, in order along the part; "/" stands between what different parts have at one place."""
    notes: dict[str, list[str]] = {}
    for alike in zip(*(blank.works for blank in group), strict=True):
        if alike[0].done:
            notes.setdefault(alike[0].done, []).append(_named_by_all(alike).name)
    return [f"{done}: {', '.join(by_number(names))}" for done, names in notes.items()]
