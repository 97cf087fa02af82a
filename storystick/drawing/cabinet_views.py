"""A cabinet from the front, reduced: its face, its fronts with what they are, its openings named, its dimensions."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate, groupby
from typing import Final, TypeAlias

from storystick.cutting.front import Front
from storystick.cutting.fronts import front_kind, fronts_of
from storystick.drawing.cut_faces import broken
from storystick.drawing.dimensions import level_chain, upright_chain, upright_measure
from storystick.drawing.lettering import NAME_MM, WORDS_PT, shortened, text_width_mm
from storystick.drawing.projection import HIDDEN_DASH_MM, Projection, View, hidden, seen
from storystick.drawing.shapes import NARROW_MM, WIDE_MM, Line, Rect, Shape, Text, closed, extent, outline
from storystick.job.fronts import FrontFit, FrontKind
from storystick.job.sticks import Hand
from storystick.layout.cabinets.pieces import (
    CASE_ROLES,
    FRAME_ROLES,
    Axis,
    Bay,
    CabinetLayout,
    End,
    Piece,
    Range,
    Role,
)
from storystick.lengths import Figures
from storystick.wording import ranges

_LINE_PITCH_MM: Final = 4.2
_LEAST_NAME_MM: Final = 11.0
_SPACE_MM: Final = 1.8
_INSET_ACROSS_MM: Final = 1.2
_INSET_UP_MM: Final = 0.85
_CLOSE_MM: Final = 0.35

_SideBySide: TypeAlias = tuple[tuple[str, bool], ...]
"""Words side by side, each with whether it is bold."""


@dataclass(frozen=True, slots=True)
class OpeningWords:
    """The lines of an opening, ``width_mm`` by ``height_mm`` with the room round them; no lines where none fit.

    ``keyed`` is whether its name and size have to be told elsewhere.
    """

    lines: tuple[_SideBySide, ...] = ()
    keyed: bool = False

    @property
    def width_mm(self) -> float:
        return max(map(_line_width, self.lines), default=0.0) + 2 * _INSET_ACROSS_MM

    @property
    def height_mm(self) -> float:
        lines = len(self.lines)
        return _LINE_PITCH_MM * (lines - 1) + NAME_MM + 2 * _INSET_UP_MM if lines else 0.0

    def place(self, x: float, y: float) -> Rect:
        """What it takes round a middle."""
        across, up = (self.width_mm / 2, self.height_mm / 2) if self.lines else (0.0, 0.0)
        return Rect(x - across, y - up, x + across, y + up)

    def draw(self, x: float, y: float) -> Iterator[Shape]:
        """The words round a middle."""
        first = y + _LINE_PITCH_MM * (len(self.lines) - 1) / 2 - NAME_MM / 2
        for number, line in enumerate(self.lines):
            yield from _draw_line(line, x, first - number * _LINE_PITCH_MM)


def opening_size(bay: Bay, figures: Figures) -> str:
    """The width and height of an opening, of the face frame's where there is one."""
    return f"{figures(bay.frame_x.size)} × {figures(bay.frame_z.size)}"


def write_opening(bay: Bay, number: int, figures: Figures, width_mm: float, height_mm: float) -> OpeningWords:
    """Choose the fullest words that an opening drawn so large can hold."""
    room = width_mm - 2 * _INSET_ACROSS_MM
    names = dict.fromkeys((bay.name, shortened(bay.name, WORDS_PT, room)))
    forms = (
        OpeningWords(lines)
        for name in names
        if name == bay.name or room >= _LEAST_NAME_MM
        for lines in _forms(name, bay, figures)
    )
    fitting = (words for words in forms if words.width_mm <= width_mm and words.height_mm <= height_mm)
    return next(fitting, _numbered(number, width_mm, height_mm))


def _numbered(number: int, width_mm: float, height_mm: float) -> OpeningWords:
    """The number alone, with less room round it, or nothing."""
    line = ((str(number), True),)
    fits = _line_width(line) + 2 * _CLOSE_MM <= width_mm and height_mm >= NAME_MM + 2 * _CLOSE_MM
    return OpeningWords((line,) if fits else (), keyed=True)


def write_key(bays: Sequence[tuple[int, Bay]], figures: Figures) -> Iterator[str]:
    """Openings with their numbers and sizes; nameless ones of a size that follow each other share a line."""

    def words(numbered: tuple[int, Bay]) -> tuple[str, str]:
        number, bay = numbered
        return f"{number}  {bay.own_name}" if bay.own_name else "", opening_size(bay, figures)

    for (named, size), alike in groupby(bays, key=words):
        yield f"{named or ranges(number for number, _ in alike)}: {size}"


def _forms(name: str, bay: Bay, figures: Figures) -> Sequence[tuple[_SideBySide, ...]]:
    """The ways to write a name and a size, the most wanted first."""
    width, height = figures(bay.frame_x.size), figures(bay.frame_z.size)
    named, size = (name, False), (opening_size(bay, figures), True)
    return (
        ((named,), (size,)),
        ((named, size),),
        ((named,), ((f"{width} ×", True),), ((height, True),)),
    )


def _line_width(line: _SideBySide) -> float:
    return sum(text_width_mm(text, WORDS_PT, bold) for text, bold in line) + _SPACE_MM * (len(line) - 1)


def _draw_line(line: _SideBySide, middle: float, baseline: float) -> Iterator[Shape]:
    widths = (text_width_mm(text, WORDS_PT, bold) + _SPACE_MM for text, bold in line)
    lefts = accumulate(widths, initial=middle - _line_width(line) / 2)
    for (text, bold), left in zip(line, lefts, strict=False):
        yield Text(left, baseline, text, WORDS_PT, bold=bold)


LEAST_GAP_MM: Final = 0.5
"""A reveal is drawn so wide, where it is less, that both its edges are seen."""

_LEAST_FRONT_MM: Final = 1.5
_PULL_MM: Final = 8.0
_ROUND_PULL_MM: Final = 1.6


def front_projection(layout: CabinetLayout, scale: float) -> Projection:
    """From a cabinet's stations across and up to the elevation on paper."""
    return Projection(Axis.X, Axis.Z, layout.cabinet.height, scale)


def draw_elevation(
    layout: CabinetLayout,
    figures: Figures,
    scale: float,
    dimensioned: bool = True,
    band_mm: float = 0.0,
    on_floor: bool = True,
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
        *(paper.floor(overall) if on_floor else ()),
        *(_dimensions(layout, figures, paper, band_mm) if dimensioned else ()),
    )
    keyed = [(number, drawn.bay) for number, drawn in enumerate(bays, start=1) if drawn.words.keyed]
    return View(shapes, tuple(write_key(keyed, figures)))


def pieces_in_front(layout: CabinetLayout) -> tuple[Piece, ...]:
    """What is seen from the front: the face frame, or the front edges of the case where there is none.

    What overhangs a frame is seen too.
    """
    if layout.cabinet.frame is None:
        return layout.of(*CASE_ROLES)
    over = (piece for end in End for piece in layout.at_end(end) if piece.y.start < 0)
    return (*layout.of(*FRAME_ROLES), *over)


def _face(layout: CabinetLayout, paper: Projection) -> Iterator[Shape]:
    """The front, and behind it what is seen under it."""
    plinth = [piece for piece in layout.of(Role.PLINTH) if piece.axis is Axis.X][:1]
    sides = layout.sides if layout.case.foot else ()
    toe = [piece for piece in layout.of(Role.TOE_BOARD) if piece.axis is Axis.X]
    # Where shelves and dividers are half-lapped, the shelves run through in front.
    laps = {shelf for shelf, _ in layout.crossings}
    front = sorted(pieces_in_front(layout), key=lambda piece: piece in laps)
    # A toe board stands before the feet of the sides, but behind stiles that run to the floor.
    # Where a member of a frame is narrower than its part, or stops short of it, an edge of the part is seen beside it.
    beside = [piece for piece in layout.of(*CASE_ROLES) if (member := layout.before(piece)) and _peeps(piece, member)]
    for piece in (*plinth, *sides, *((*toe, *beside, *front) if layout.cabinet.frame else (*front, *toe))):
        yield from paper.piece(piece)


def _peeps(part: Piece, member: Piece) -> bool:
    """Whether the member of the frame before a level part leaves some of its front edge to be seen."""
    across, over = part.across, member.across
    return part.axis is Axis.X and (across.start < over.start or across.end > over.end)


def _contour(layout: CabinetLayout, paper: Projection) -> Iterator[Shape]:
    """Round all that stands in front; below its rails round the legs of a frame whose stiles run on to the floor."""
    pieces = pieces_in_front(layout)
    x, z = (Range.over(piece.along(axis) for piece in pieces) for axis in (Axis.X, Axis.Z))
    feet = {piece.z.start for piece in pieces if piece.role is Role.SIDE}
    # Where one side ends above the other, what of the longer goes farther down is by itself.
    whole = paper.rect(x, Range(max(feet), z.end) if len(feet) > 1 else z)
    if z.start == layout.case.foot or layout.cabinet.frame is None:
        yield from outline(whole, WIDE_MM)
        return
    left, right = (paper.rect(stile.x, stile.z) for stile in layout.of(Role.STILE))
    foot = paper.y(layout.case.foot)
    under = (left.right, whole.bottom), (left.right, foot), (right.left, foot), (right.left, whole.bottom)
    low = (whole.left, whole.bottom), *under, (whole.right, whole.bottom)
    yield from closed((*low, (whole.right, whole.top), (whole.left, whole.top)), WIDE_MM)


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
    yield from upright_chain(
        paper.chain_y(up, layout.case.foot, figures, layout.case.head if layout.cabinet.frame else None), 0.0, band=band
    )
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
