"""Which sticks share a strip, because the same is struck on all of them, and the letter that each strip has.

A stick of the job is the user's own and has its strip in any case. Of the faces of cabinets those that are alike share
one, and a face on which nothing is struck between its ends has none: its length stands in the cutting list.
Cabinets that are built alike are found here too.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import count, product
from typing import TYPE_CHECKING, Final, TypeVar

from storystick.job.sticks import Hand
from storystick.layout.stations import Face, Layout, PlacedPart, Point, Span, StickLayout, hole
from storystick.wording import by_number, listed, without_number

if TYPE_CHECKING:
    # What only cabinets need is loaded by no listing of plain sticks.
    from storystick.job.cabinets import Cabinet
    from storystick.layout.cabinets.pieces import CabinetLayout

_LETTERS: Final = "ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Those that drawings use: I and O are taken for figures (ASME Y14.35 leaves them out for that)."""

_LONGEST_NAME: Final = 24
"""A name gathered from several is not longer than so many letters."""


@dataclass(frozen=True, slots=True)
class LetteredStick:
    """A stick that has a strip, by its ``letter``: ``drawn``, called as the first of the sticks ``served``.

    In that a span or point has the name that all of them give it.
    """

    letter: str
    drawn: StickLayout
    served: tuple[StickLayout, ...]

    @property
    def serves(self) -> tuple[str, ...]:
        """The names of all sticks that it stands for."""
        return tuple(stick.name for stick in self.served)

    @property
    def faces(self) -> tuple[Face, ...]:
        """Where it is laid: of a stick of the job nowhere that is known."""
        return tuple(face for stick in self.served for face in stick.faces)

    @property
    def serves_words(self) -> str:
        """Whom it serves, such as "Chest divider 1–5, both faces"."""
        return _words_of(self.faces) if self.faces else self.drawn.name

    @property
    def fronts(self) -> tuple[tuple[str, bool], ...]:
        """Of one that lies on faces of both hands: their words, and whether it lies there as a left hand does."""
        laid = {stick.stick.laid: stick for stick in self.served}
        if self.drawn.stick.pair or not {Hand.LEFT, Hand.RIGHT} <= laid.keys():
            return ()
        return tuple(
            (
                ", ".join(sorted({face.words or face.board for face in self.faces if face.laid is hand})),
                hand is Hand.LEFT,
            )
            for hand in Hand
        )


def lettered_sticks(layout: Layout) -> tuple[LetteredStick, ...]:
    """Every strip that a job has, in the order of the first face that each serves."""
    groups: dict[object, list[StickLayout]] = {}
    for stick in layout.sticks:
        if not stick.faces:
            groups[stick.name] = [stick]
        elif _is_struck(stick):
            groups.setdefault(_struck(stick), []).append(stick)
    return tuple(
        LetteredStick(letter, _drawn(served), tuple(served))
        for letter, served in zip(_letters(), groups.values(), strict=False)
    )


def _letters() -> Iterator[str]:
    """A, B, C … Z, then AA, AB and so on."""
    for length in count(1):
        for letters in product(_LETTERS, repeat=length):
            yield "".join(letters)


def _is_struck(stick: StickLayout) -> bool:
    """Whether there is more to strike than where the board itself ends; a rabbet at its end is set by a fence."""

    def inside(span: Span) -> bool:
        return span.start > 0 and span.end < stick.length

    bare = (placed.span for placed in stick.parts if placed.groove is None)
    return bool(stick.points) or any(map(inside, (*bare, *stick.grooves)))


def _struck(stick: StickLayout) -> object:
    """All that is struck, and how the strip lies, without the names: but a straightedge's line is of its own bar."""
    points = tuple((point.kind, point.at, point.toward, point.note, point.row is not None) for point in stick.points)
    parts = tuple((placed.stopped, placed.figure) for placed in stick.parts)
    own = stick.stick
    return (own.datum, own.pair, own.edge_words, own.laid is None, stick.notch, positions(stick), parts, points)


def positions(stick: StickLayout) -> tuple[object, ...]:
    """Kind, start and end of every span, groove, and member of the frame beside them, in order."""
    return tuple((span.kind, span.start, span.end) for span in (*stick.spans, *stick.grooves, *stick.beside))


def _drawn(served: Sequence[StickLayout]) -> StickLayout:
    """The first of sticks that are alike, laid like neither hand where they differ in that."""
    hands = {stick.stick.laid for stick in served}
    drawn = common(*served)
    return drawn if len(hands) == 1 else replace(drawn, stick=replace(drawn.stick, laid=None))


def common(*alike: StickLayout) -> StickLayout:
    """The first of sticks with the same positions, with the names that all of them give to each."""
    first = alike[0]
    if len(alike) == 1:
        return first
    spans = tuple(map(_span_of_all, zip(*(each.spans for each in alike), strict=True)))
    named = {span.start: span.name for span in spans}
    return replace(
        first,
        spans=spans,
        # Of two parts in one plane each keeps the name of its own.
        parts=tuple(
            _renamed(placed, named[placed.span.start]) if placed.span in first.spans else placed
            for placed in first.parts
        ),
        points=tuple(map(_point_of_all, zip(*(each.points for each in alike), strict=True))),
        beside=tuple(map(_span_of_all, zip(*(each.beside for each in alike), strict=True))),
    )


def _span_of_all(alike: Sequence[Span]) -> Span:
    return replace(alike[0], name=common_name([span.name for span in alike], alike[0].kind.value))


def _point_of_all(alike: Sequence[Point]) -> Point:
    first = alike[0]
    if first.row is None:
        return replace(first, name=common_name([point.name for point in alike], first.kind.value))
    return hole(common_name([point.row or "" for point in alike], "holes"), first.number, first.at)


def _renamed(placed: PlacedPart, name: str) -> PlacedPart:
    groove = replace(placed.groove, name=name) if placed.groove else None
    return replace(placed, span=replace(placed.span, name=name), groove=groove)


def common_name(names: Sequence[str], otherwise: str) -> str:
    """What things are called together: their one name, all of them where that is short, or the word that they share."""
    different = list(dict.fromkeys(names))
    if len(different) == 1:
        return different[0]
    if len(different) == 2 and len(together := " / ".join(different)) <= 2 * _LONGEST_NAME:
        return together
    gathered = by_number(different)
    if len(gathered) == 1 and len(gathered[0]) <= _LONGEST_NAME:
        return gathered[0]
    words = {without_number(name) for name in different}
    return words.pop() if len(words) == 1 else otherwise


T = TypeVar("T")


def _grouped(things: Iterable[T], by: Callable[[T], object]) -> list[list[T]]:
    """Things with the same key together, in the order of the first of each."""
    groups: dict[object, list[T]] = {}
    for thing in things:
        groups.setdefault(by(thing), []).append(thing)
    return list(groups.values())


def _words_of(faces: Sequence[Face]) -> str:
    """Cabinets on which the same boards are struck together, each with its boards."""
    by_cabinet = _grouped(faces, lambda face: face.cabinet)
    cabinets = [(own[0].told, _boards_of(own)) for own in by_cabinet]
    alike = _grouped(cabinets, lambda pair: pair[1])
    return "; ".join(f"{listed(by_number(name for name, _ in group))} {group[0][1]}" for group in alike)


def _boards_of(faces: Sequence[Face]) -> str:
    """Boards of a cabinet with their faces: "divider 1–5, both faces"."""
    boards = [(own[0].board, _faces_of(own)) for own in _grouped(faces, lambda face: face.board)]
    alike = _grouped(boards, lambda pair: pair[1])
    return "; ".join(f"{listed(by_number(name for name, _ in group))}{group[0][1]}" for group in alike)


def _faces_of(faces: Sequence[Face]) -> str:
    words = list(dict.fromkeys(filter(None, (face.words for face in faces))))
    lasts = {word.rpartition(" ")[2] for word in words}
    if len(words) == 2 and len(lasts) == 1:
        return f", both {lasts.pop()}s"
    return f", {listed(by_number(words))}" if words else ""


def kinds_of(layouts: Iterable[CabinetLayout]) -> tuple[tuple[CabinetLayout, ...], ...]:
    """Cabinets by what they are: those that differ in name and number alone are of one kind, the first one first."""
    kinds: dict[Cabinet, list[CabinetLayout]] = {}
    for layout in layouts:
        kinds.setdefault(replace(layout.cabinet, name="", number=0, count=1), []).append(layout)
    return tuple(map(tuple, kinds.values()))
