"""A cabinet from the front, its openings named and dimensioned. Not for measuring."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby
from typing import Final

from storystick.cutting.fronts import front_kind
from storystick.drawing.opening_words import OpeningWords, write_key, write_opening
from storystick.drawing.projection import Projection, View, outline
from storystick.drawing.sections import widest_row
from storystick.drawing.shapes import FINE_MM, Line, Shape
from storystick.job.cabinet import Fit, FrontKind
from storystick.job.model import Job
from storystick.layout.cabinets.model import CASE_ROLES, FRAME_ROLES, Axis, Bay, CabinetLayout, Piece, Range, Role

_SEEN_GREY: Final = 0.92
_BEHIND_GREY: Final = 0.8
_FRONT_MM: Final = 0.1
_LEAST_REVEAL_MM: Final = 0.6
_LEAST_FRONT_MM: Final = 1.5
_DASH_MM: Final = (1.6, 1.0)


def draw_elevation(layout: CabinetLayout, job: Job, scale: float) -> View:
    """The front with the face frame's openings, or the case's where there is no frame."""
    paper = Projection(Axis.X, Axis.Z, layout.cabinet.height, scale)
    bays = [_DrawnBay.of(bay, number, layout, job, paper) for number, bay in enumerate(layout.bays, start=1)]
    columns = list({bay.column: bay.frame_x for bay in widest_row(layout)}.values())
    overall = Range(Fraction(0), layout.cabinet.width)
    shapes = (
        *_face(layout, paper),
        *(shape for bay in bays for shape in bay.draw()),
        *paper.floor(overall),
        *paper.dimensions(columns, _rows(layout.bays), overall, job),
    )
    keyed = [(number, drawn.bay) for number, drawn in enumerate(bays, start=1) if drawn.words.keyed]
    return View(shapes, tuple(write_key(keyed, job)))


def pieces_in_front(layout: CabinetLayout) -> tuple[Piece, ...]:
    """What is seen from the front: the face frame, or the front edges of the case where there is none."""
    return layout.of(*(FRAME_ROLES if layout.cabinet.frame else CASE_ROLES))


def _face(layout: CabinetLayout, paper: Projection) -> Iterator[Shape]:
    """The front, and behind it what is seen under it."""
    plinth = [piece for piece in layout.of(Role.PLINTH) if piece.axis is Axis.X][:1]
    sides = layout.of(Role.SIDE) if layout.cabinet.base else ()
    for piece in (*plinth, *sides):
        yield from paper.piece(piece, _BEHIND_GREY)
    for piece in pieces_in_front(layout):
        yield from paper.piece(piece, _SEEN_GREY)


def _rows(bays: Iterable[Bay]) -> list[Range]:
    """The clear height of each row of openings."""
    rows = [list(row) for _, row in groupby(bays, key=lambda bay: bay.row)]
    return [Range(min(bay.frame_z.start for bay in row), max(bay.frame_z.end for bay in row)) for row in rows]


@dataclass(frozen=True, slots=True)
class _DrawnBay:
    """An opening on paper: its edges in mm, its words, and how far its front lies inside them (outside if less than 0).

    ``front`` is None where it has no front, or is too small to show it.
    """

    bay: Bay
    kind: FrontKind
    left: float
    bottom: float
    right: float
    top: float
    front: float | None
    words: OpeningWords

    @classmethod
    def of(cls, bay: Bay, number: int, layout: CabinetLayout, job: Job, paper: Projection) -> _DrawnBay:
        left, right = paper.x(bay.frame_x.start), paper.x(bay.frame_x.end)
        bottom, top = paper.y(bay.frame_z.start), paper.y(bay.frame_z.end)
        inset = _front_inset(bay, layout, paper.scale, min(right - left, top - bottom))
        words = write_opening(bay, number, job, right - left, top - bottom)
        return cls(bay, front_kind(layout, bay), left, bottom, right, top, inset, words)

    def draw(self) -> Iterator[Shape]:
        """The lines of its front and its adjustable shelves, broken for the words, and the words."""
        x, y = (self.left + self.right) / 2, (self.bottom + self.top) / 2
        if self.front is not None:
            sides = (self.left + self.front, self.bottom + self.front, self.right - self.front, self.top - self.front)
            yield from outline(*sides, _FRONT_MM)
            if self.kind is FrontKind.PAIR:
                yield from _meeting_line(x, sides[1], sides[3], y, self.words.height_mm / 2)
        yield from self._shelves(x, y)
        yield from self.words.draw(x, y)

    def _shelves(self, x: float, y: float) -> Iterator[Shape]:
        """Adjustable shelves, evenly spaced, as broken lines."""
        count = self.bay.compartment.adjustable.count if self.bay.compartment.adjustable else 0
        for number in range(1, count + 1):
            level = self.bottom + (self.top - self.bottom) * number / (count + 1)
            if abs(level - y) >= self.words.height_mm / 2:
                yield Line(self.left, level, self.right, level, FINE_MM, _DASH_MM)
                continue
            for end, toward in ((self.left, x - self.words.width_mm / 2), (self.right, x + self.words.width_mm / 2)):
                yield Line(end, level, toward, level, FINE_MM, _DASH_MM)


def _meeting_line(x: float, bottom: float, top: float, middle: float, half: float) -> Iterator[Shape]:
    """Where two doors meet, with a gap of twice ``half`` for words."""
    for end, toward in ((bottom, middle - half), (top, middle + half)):
        if abs(toward - end) > _LEAST_REVEAL_MM:
            yield Line(x, end, x, toward, _FRONT_MM)


def _front_inset(bay: Bay, layout: CabinetLayout, scale: float, least_side: float) -> float | None:
    """How far a front's edge is drawn inside its opening; a reveal is drawn wide enough to be seen."""
    rule = layout.cabinet.fronts
    if rule is None or front_kind(layout, bay) is FrontKind.NONE:
        return None
    if rule.fit is Fit.OVERLAY:
        return -float(rule.overlay) * scale
    inset = max(float(rule.reveal) * scale, _LEAST_REVEAL_MM)
    return inset if least_side - 2 * inset >= _LEAST_FRONT_MM else None
