"""A cabinet from the front, reduced: its face, its fronts with what they are, its openings named, its dimensions."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.cutting.fronts import Front, front_kind, fronts_of
from storystick.drawing.cut_faces import broken
from storystick.drawing.dimensions import level_chain, upright_chain, upright_measure
from storystick.drawing.opening_words import OpeningWords, write_key, write_opening
from storystick.drawing.projection import HIDDEN_DASH_MM, Projection, View, hidden, seen
from storystick.drawing.shapes import NARROW_MM, WIDE_MM, Line, Rect, Shape, extent, outline
from storystick.job.fronts import FrontFit, FrontKind
from storystick.job.sticks import Hand
from storystick.layout.cabinets.pieces import CASE_ROLES, FRAME_ROLES, Axis, Bay, CabinetLayout, Piece, Range, Role
from storystick.lengths import Figures

LEAST_GAP_MM: Final = 0.5
"""A reveal is drawn so wide, where it is less, that both its edges are seen."""

_LEAST_FRONT_MM: Final = 1.5
_PULL_MM: Final = 8.0
_ROUND_PULL_MM: Final = 1.6


def front_projection(layout: CabinetLayout, scale: float) -> Projection:
    """From a cabinet's stations across and up to the elevation on paper."""
    return Projection(Axis.X, Axis.Z, layout.cabinet.height, scale)


def draw_elevation(
    layout: CabinetLayout, figures: Figures, scale: float, dimensioned: bool = True, band_mm: float = 0.0
) -> View:
    """The front with the face frame's openings, or the case's where there is no frame.

    One that is not ``dimensioned`` has no words and figures, for what is laid on it. ``band_mm`` is kept free round it
    inside of the dimensions.

    Raises:
        Faults: as :func:`~storystick.cutting.fronts.fronts_of`.
    """
    paper = front_projection(layout, scale)
    fronts = {front.bay: front for front in fronts_of(layout, figures)}
    bays = [
        _DrawnBay.of(bay, number if dimensioned else None, fronts.get(bay), layout, figures, paper)
        for number, bay in enumerate(layout.bays, start=1)
    ]
    overall = Range(Fraction(0), layout.cabinet.width)
    shapes = (
        *_face(layout, paper),
        *(shape for bay in bays for shape in bay.draw()),
        *_contour(layout, paper),
        *paper.floor(overall),
        *(_dimensions(layout, figures, paper, band_mm) if dimensioned else ()),
    )
    keyed = [(number, drawn.bay) for number, drawn in enumerate(bays, start=1) if drawn.words.keyed]
    return View(shapes, tuple(write_key(keyed, figures)))


def pieces_in_front(layout: CabinetLayout) -> tuple[Piece, ...]:
    """What is seen from the front: the face frame, or the front edges of the case where there is none."""
    return layout.of(*(FRAME_ROLES if layout.cabinet.frame else CASE_ROLES))


def _face(layout: CabinetLayout, paper: Projection) -> Iterator[Shape]:
    """The front, and behind it what is seen under it."""
    plinth = [piece for piece in layout.of(Role.PLINTH) if piece.axis is Axis.X][:1]
    sides = layout.sides if layout.bottom.z.start else ()
    for piece in (*plinth, *sides, *pieces_in_front(layout)):
        yield from paper.piece(piece)


def _contour(layout: CabinetLayout, paper: Projection) -> Iterator[Shape]:
    """Round all that stands in front."""
    pieces = pieces_in_front(layout)
    x, z = (Range.over(piece.along(axis) for piece in pieces) for axis in (Axis.X, Axis.Z))
    yield from outline(paper.rect(x, z), WIDE_MM)


def _dimensions(layout: CabinetLayout, figures: Figures, paper: Projection, band: float) -> Iterator[Shape]:
    """Chains of what is seen, member by member: widths below, heights at the left; the overall sizes outside them."""
    width, height = (Range(Fraction(0), size) for size in (layout.cabinet.width, layout.cabinet.height))
    across = list({bay.column: bay.frame_x for bay in widest_row(layout)}.values())
    up = [bay.frame_z for bay in layout.bays if bay.column == 1]
    floor = paper.y(Fraction(0))
    chain = tuple(level_chain(paper.chain_x(across, width, figures), floor, band=band))
    yield from chain
    edge = extent(chain).bottom + 1.0 if chain else floor - band
    yield from level_chain([paper.measure_x(width, figures)], edge)
    yield from upright_chain(paper.chain_y(up, layout.bottom.z.start, figures), 0.0, band=band)
    yield from upright_measure(paper.measure_y(height, figures), paper.x(width.end), right=True, band=band)


def widest_row(layout: CabinetLayout) -> list[Bay]:
    """The openings of the first row that has the most columns."""
    columns = max(bay.column for bay in layout.bays)
    row = next(bay.row for bay in layout.bays if bay.column == columns)
    return [bay for bay in layout.bays if bay.row == row]


@dataclass(frozen=True, slots=True)
class _DrawnBay:
    """An opening on paper: ``edges`` in mm, ``leaves`` of its front (none without one), and its words."""

    bay: Bay
    kind: FrontKind
    fit: FrontFit | None
    edges: Rect
    leaves: tuple[Rect, ...]
    words: OpeningWords

    @classmethod
    def of(
        cls,
        bay: Bay,
        number: int | None,
        front: Front | None,
        layout: CabinetLayout,
        figures: Figures,
        paper: Projection,
    ) -> _DrawnBay:
        edges = paper.rect(bay.frame_x, bay.frame_z)
        leaves = tuple(_leaves(front, layout, paper)) if front else ()
        words = OpeningWords()
        if number:
            room = _room(edges, leaves)
            words = write_opening(bay, number, figures, room.right - room.left, room.top - room.bottom)
        rule = layout.cabinet.fronts
        return cls(bay, front_kind(layout, bay), rule.fit if rule else None, edges, leaves, words)

    def draw(self) -> Iterator[Shape]:
        """The front over its opening, what it is, its adjustable shelves, and the words."""
        x, y = (self.edges.left + self.edges.right) / 2, (self.edges.bottom + self.edges.top) / 2
        place = self.words.place(x, y)
        for leaf in self.leaves:
            yield from seen(leaf)
        yield from (piece for line in self._lines(place) for piece in broken(line, [place]))
        yield from self.words.draw(x, y)

    def _lines(self, words: Rect) -> Iterator[Line]:
        if self.leaves and self.fit is FrontFit.OVERLAY:
            # The opening is hidden by the front that lies over it.
            yield from hidden(self.edges)
        if self.leaves:
            yield from _SIGNS[self.kind](self, words)
        rule = self.bay.compartment.adjustable
        yield from self._shelves(rule.count if rule else 0)

    def _shelves(self, count: int) -> Iterator[Line]:
        """Adjustable shelves, evenly spaced, as broken lines."""
        for number in range(1, count + 1):
            level = self.edges.bottom + (self.edges.top - self.edges.bottom) * number / (count + 1)
            yield Line(self.edges.left, level, self.edges.right, level, NARROW_MM, HIDDEN_DASH_MM)


def _room(edges: Rect, leaves: Sequence[Rect]) -> Rect:
    """What words have of an opening: they stand within its front."""
    if not leaves:
        return edges
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


def _pull(drawn: _DrawnBay, words: Rect) -> Iterator[Line]:
    """A short bar over the words of a drawer, where it has room there."""
    (leaf,) = drawn.leaves
    if leaf.top - words.top >= _ROUND_PULL_MM:
        middle, half = (leaf.left + leaf.right) / 2, min(_PULL_MM, (leaf.right - leaf.left) / 3) / 2
        level = (leaf.top + words.top) / 2
        yield Line(middle - half, level, middle + half, level, WIDE_MM)


def _hinged(leaf: Rect, hand: Hand) -> Iterator[Line]:
    """Two lines that meet at the middle of the hinges' side."""
    hinges, other = (leaf.left, leaf.right) if hand is Hand.LEFT else (leaf.right, leaf.left)
    for corner in (leaf.bottom, leaf.top):
        yield Line(hinges, (leaf.bottom + leaf.top) / 2, other, corner, NARROW_MM)


def _door(drawn: _DrawnBay, _words: Rect) -> Iterator[Line]:
    hand = drawn.bay.compartment.hinge
    return _hinged(drawn.leaves[0], hand) if hand else iter(())


def _pair(drawn: _DrawnBay, _words: Rect) -> Iterator[Line]:
    for leaf, hand in zip(drawn.leaves, Hand, strict=True):
        yield from _hinged(leaf, hand)


_SIGNS: Final[Mapping[FrontKind, Callable[[_DrawnBay, Rect], Iterator[Line]]]] = {
    FrontKind.DRAWER: _pull,
    FrontKind.DOOR: _door,
    FrontKind.PAIR: _pair,
}
