"""What closes the openings of a cabinet as it is drawn from the front: its leaves with a sign of what they are.

Behind a front parts of the case and adjustable shelves are broken lines; what stays open shows its edges. All in mm on
paper.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from storystick.cutting.front import Front
from storystick.drawing.cut_faces import broken
from storystick.drawing.opening_words import OpeningWords, write_opening
from storystick.drawing.projection import HIDDEN_DASH_MM, Projection, hidden, seen
from storystick.drawing.shapes import NARROW_MM, WIDE_MM, Line, Rect, Shape
from storystick.job.fronts import FrontFit, FrontKind
from storystick.job.sticks import Hand
from storystick.layout.cabinets.closings import Closing
from storystick.layout.cabinets.pieces import Bay, CabinetLayout, Piece, Range
from storystick.lengths import Figures

LEAST_GAP_MM: Final = 0.5
"""A reveal is drawn so wide, where it is less, that both its edges are seen."""

_LEAST_FRONT_MM: Final = 1.5
_PULL_MM: Final = 8.0
_ROUND_PULL_MM: Final = 1.6
_CROSS_MM: Final = 1.6


@dataclass(frozen=True, slots=True)
class DrawnClosing:
    """What one front closes, on paper: its ``edges``, the front's ``leaves`` (none without one) and the ``parts`` of
    the case inside; ``words`` are each opening's, with the middle that they stand round.
    """

    closing: Closing
    fit: FrontFit | None
    edges: Rect
    leaves: tuple[Rect, ...]
    parts: tuple[Rect, ...]
    words: tuple[tuple[Bay, OpeningWords, Rect], ...]

    @classmethod
    def of(
        cls, closing: Closing, front: Front | None, layout: CabinetLayout, paper: Projection, figures: Figures | None
    ) -> DrawnClosing:
        """``figures`` None leaves out the words."""
        edges = paper.rect(closing.frame_x, closing.frame_z)
        leaves = tuple(_leaves(front, layout, paper)) if front else ()
        parts = tuple(paper.rect(*_seen_of(piece, closing)) for piece in closing.inside)
        words = []
        for bay in closing.bays:
            place = paper.rect(bay.frame_x, bay.frame_z)
            room = _room(leaves) if leaves and len(closing.bays) == 1 else place
            fitting = (
                write_opening(bay, bay.number, figures, room.right - room.left, room.top - room.bottom)
                if figures
                else OpeningWords()
            )
            words.append((bay, fitting, place))
        rule = layout.cabinet.fronts
        return cls(closing, rule.fit if rule else None, edges, leaves, parts, tuple(words))

    def draw(self) -> Iterator[Shape]:
        """The front over its openings, what it is, what is behind it, and the words."""
        places = [words.place(*_middle(place)) for _, words, place in self.words]
        if not self.leaves:
            for part in self.parts:
                yield from seen(part)
        for leaf in self.leaves:
            yield from seen(leaf)
        yield from (piece for line in self._lines(places) for piece in broken(line, places))
        for _, words, place in self.words:
            yield from words.draw(*_middle(place))

    def _lines(self, words: list[Rect]) -> Iterator[Line]:
        if self.leaves and self.fit is FrontFit.OVERLAY:
            # The opening is hidden by the front that lies over it.
            yield from hidden(self.edges)
        if self.leaves:
            for part in self.parts:
                yield from hidden(part)
            yield from _SIGNS[self.closing.kind](self, max(place.top for place in words))
        for bay, _, place in self.words:
            rule = bay.compartment.adjustable
            yield from _shelves(place, rule.count if rule else 0)


def _seen_of(piece: Piece, closing: Closing) -> tuple[Range, Range]:
    """What the face leaves of a part behind it."""
    return piece.x.shared(closing.frame_x), piece.z.shared(closing.frame_z)


def _middle(place: Rect) -> tuple[float, float]:
    return (place.left + place.right) / 2, (place.bottom + place.top) / 2


def _shelves(place: Rect, count: int) -> Iterator[Line]:
    """Adjustable shelves, evenly spaced, as broken lines."""
    for number in range(1, count + 1):
        level = place.bottom + (place.top - place.bottom) * number / (count + 1)
        yield Line(place.left, level, place.right, level, NARROW_MM, HIDDEN_DASH_MM)


def _room(leaves: tuple[Rect, ...]) -> Rect:
    """What words have of an opening: they stand within its front."""
    left, bottom, _, top = leaves[0]
    return Rect(left, bottom, leaves[-1].right, top)


def _leaves(front: Front, layout: CabinetLayout, paper: Projection) -> Iterator[Rect]:
    """The leaves of a front as they are made, from the left; none where one is too small to be shown.

    A reveal too narrow for two lines is drawn wider.
    """
    rule = layout.cabinet.fronts
    if rule is None:
        return
    short = max(0.0, LEAST_GAP_MM - float(rule.reveal) * paper.scale)
    at_edge = short if rule.fit is FrontFit.INSET else short / 2
    leaves = [paper.rect(*leaf).wider(-at_edge) for leaf in front.leaves]
    if all(min(leaf.right - leaf.left, leaf.top - leaf.bottom) >= _LEAST_FRONT_MM for leaf in leaves):
        yield from leaves


def _pull(drawn: DrawnClosing, words: float) -> Iterator[Line]:
    """A short bar over the words of a drawer, where it has room there."""
    (leaf,) = drawn.leaves
    if leaf.top - words >= _ROUND_PULL_MM:
        middle, half = (leaf.left + leaf.right) / 2, min(_PULL_MM, (leaf.right - leaf.left) / 3) / 2
        level = (leaf.top + words) / 2
        yield Line(middle - half, level, middle + half, level, WIDE_MM)


def _false(drawn: DrawnClosing, words: float) -> Iterator[Line]:
    """A small cross in place of a pull."""
    (leaf,) = drawn.leaves
    half = min(_CROSS_MM, leaf.right - leaf.left, leaf.top - words) / 2
    if 2 * half >= _LEAST_FRONT_MM / 2:
        middle, level = (leaf.left + leaf.right) / 2, (leaf.top + words) / 2
        for up in (-half, half):
            yield Line(middle - half, level - up, middle + half, level + up, NARROW_MM)


def _hinged(leaf: Rect, hand: Hand) -> Iterator[Line]:
    """Two lines that meet at the middle of the hinges' side."""
    hinges, other = (leaf.left, leaf.right) if hand is Hand.LEFT else (leaf.right, leaf.left)
    for corner in (leaf.bottom, leaf.top):
        yield Line(hinges, (leaf.bottom + leaf.top) / 2, other, corner, NARROW_MM)


def _door(drawn: DrawnClosing, _words: float) -> Iterator[Line]:
    hand = drawn.closing.hinge
    return _hinged(drawn.leaves[0], hand) if hand else iter(())


def _pair(drawn: DrawnClosing, _words: float) -> Iterator[Line]:
    for leaf, hand in zip(drawn.leaves, Hand, strict=True):
        yield from _hinged(leaf, hand)


_SIGNS: Final[Mapping[FrontKind, Callable[[DrawnClosing, float], Iterator[Line]]]] = {
    FrontKind.DRAWER: _pull,
    FrontKind.DOOR: _door,
    FrontKind.PAIR: _pair,
    FrontKind.FALSE: _false,
}
