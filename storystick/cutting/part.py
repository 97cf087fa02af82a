"""A part of the cutting list, and how parts cut alike are gathered. Finished lengths, exact, in mm."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final, NamedTuple

from storystick.wording import by_number


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


LEFT: Final = Hands(1, 0)
RIGHT: Final = Hands(0, 1)

_HAND: Final = re.compile(r"\b(?:left|right) ")


@dataclass(frozen=True, slots=True)
class Blank:
    """A part before it is gathered with its likes; otherwise as :class:`CutPart`.

    ``done`` are the works whose notes name what they are for: in order along the part, each with what is done.
    """

    name: str
    role: str
    stock: str
    length: Fraction
    width: Fraction
    thickness: Fraction
    count: int = 1
    hands: Hands | None = None
    notes: tuple[str, ...] = ()
    works: tuple[PartWork, ...] = ()
    done: tuple[tuple[str, PartWork], ...] = ()

    @property
    def shape(self) -> tuple[object, ...]:
        """All but its name, its number and its hand."""
        sizes = (self.length, self.width, self.thickness)
        work = tuple(work.shape for work in self.works)
        return self.role, self.stock, sizes, self.hands is None, self.notes, work


def gather(cabinet: str, blanks: Iterable[Blank]) -> list[CutPart]:
    """The parts of a cabinet, those alike as one, in the order of the first of each."""
    groups: dict[tuple[object, ...], list[Blank]] = {}
    for blank in blanks:
        groups.setdefault(blank.shape, []).append(blank)
    return [_as_one(cabinet, group) for group in groups.values()]


def join_names(names: Sequence[str]) -> str:
    """Names as one, what they share said once: "shelf 2–4" or "drawer front: letters, drawer 1, 2"."""
    heads = {name.partition(": ")[0] for name in names}
    if len(heads) == 1 and all(": " in name for name in names):
        return f"{heads.pop()}: {join_names([name.partition(': ')[2] for name in names])}"
    return ", ".join(by_number(names))


def _as_one(cabinet: str, group: Sequence[Blank]) -> CutPart:
    one = group[0]
    given = [blank.hands for blank in group if blank.hands]
    hands = Hands(*map(sum, zip(*given, strict=True))) if given else None
    names = [blank.name for blank in group]
    return CutPart(
        name=join_names([_HAND.sub("", name) for name in names] if hands and all(hands) else names),
        cabinet=cabinet,
        role=one.role,
        count=sum(blank.count for blank in group),
        stock=one.stock,
        length=one.length,
        width=one.width,
        thickness=one.thickness,
        hands=hands,
        notes=(*one.notes, *_work_notes(group)),
        works=tuple(_named_by_all(alike) for alike in zip(*(blank.works for blank in group), strict=True)),
    )


def _named_by_all(alike: Sequence[PartWork]) -> PartWork:
    """One for all that are alike, with what different parts have at one place."""
    return replace(alike[0], name="/".join(dict.fromkeys(work.name for work in alike)))


def _work_notes(group: Sequence[Blank]) -> list[str]:
    """What is done for others, in order along the part; "/" stands between what different parts have at one place."""
    notes: dict[str, list[str]] = {}
    for alike in zip(*(blank.done for blank in group), strict=True):
        names = dict.fromkeys(work.name for _, work in alike)
        notes.setdefault(alike[0][0], []).append("/".join(names))
    return [f"{done}: {', '.join(by_number(names))}" for done, names in notes.items()]
