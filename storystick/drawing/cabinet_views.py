"""A cabinet from the front, from the side and from above, its openings named. Not for measuring.

First the three views together, then the front, then the words in its openings.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate, groupby
from typing import Final, TypeAlias

from storystick.cutting.fronts import front_kind
from storystick.drawing.cabinet_sections import Projection, View, draw_plan, draw_side_section, widest_row
from storystick.drawing.lettering import CAPITAL_MM, WORDS_PT, shortened, text_width_mm
from storystick.drawing.shapes import FINE_MM, Line, Rect, Shape, Text, extent, moved, outline
from storystick.job.fronts import FrontFit, FrontKind
from storystick.layout.cabinets.pieces import CASE_ROLES, FRAME_ROLES, Axis, Bay, CabinetLayout, Piece, Range, Role
from storystick.lengths import Figures
from storystick.wording import ranges

_GAP_MM: Final = 7.0
_TITLE_MM: Final = 1.8
_SHRINKING: Final = 0.97
_LEAST_SCALE: Final = 1e-4


def draw_views(layout: CabinetLayout, figures: Figures, width_mm: float, height_mm: float) -> View:
    """All three as large as they go into a box; from 0, 0 at the upper left corner.

    A box too small for the figures alone is left on its right and lower sides.
    """
    cabinet = layout.cabinet
    scale = min(width_mm / float(cabinet.width + cabinet.depth), height_mm / float(cabinet.height))
    while True:
        views = _draw_each(layout, figures, scale)
        for picture in (_plan_below(*views), _plan_beside(*views)):
            if picture.extent.right <= width_mm and -picture.extent.bottom <= height_mm:
                return picture
        if scale < _LEAST_SCALE:
            return _plan_below(*views)
        scale *= _SHRINKING


def _draw_each(layout: CabinetLayout, figures: Figures, scale: float) -> tuple[View, View, View]:
    front, section, plan = (draw(layout, figures, scale) for draw in (draw_elevation, draw_side_section, draw_plan))
    return _titled(front, "front"), _titled(section, "section"), _titled(plan, "plan")


def _plan_below(front: View, section: View, plan: View) -> View:
    """The plan under the front, so that what is the same in two views stands in line."""
    beside = front.extent.right + _GAP_MM - section.extent.left
    below = min(front.extent.bottom, section.extent.bottom) - _GAP_MM - plan.extent.top
    return _together(front, moved(section.shapes, beside, 0.0), moved(plan.shapes, 0.0, below))


def _plan_beside(front: View, section: View, plan: View) -> View:
    """All in one row, for a cabinet that is high and narrow."""
    second = front.extent.right + _GAP_MM - section.extent.left
    third = second + section.extent.right + _GAP_MM - plan.extent.left
    return _together(front, moved(section.shapes, second, 0.0), moved(plan.shapes, third, 0.0))


def _together(front: View, *others: tuple[Shape, ...]) -> View:
    """The front and the others, moved so that they begin at 0, 0."""
    shapes = (*front.shapes, *(shape for other in others for shape in other))
    reach = extent(shapes)
    return View(moved(shapes, -reach.left, -reach.top), front.notes)


def _titled(view: View, title: str) -> View:
    """The view with its name above it."""
    return View((*view.shapes, Text(0.0, _TITLE_MM, title, WORDS_PT, bold=True)), view.notes)


_SEEN_GREY: Final = 0.92
_BEHIND_GREY: Final = 0.8
_FRONT_MM: Final = 0.1
_LEAST_REVEAL_MM: Final = 0.6
_LEAST_FRONT_MM: Final = 1.5
_DASH_MM: Final = (1.6, 1.0)


def front_projection(layout: CabinetLayout, scale: float) -> Projection:
    """From a cabinet's stations across and up to the elevation on paper."""
    return Projection(Axis.X, Axis.Z, layout.cabinet.height, scale)


def draw_elevation(layout: CabinetLayout, figures: Figures, scale: float, dimensioned: bool = True) -> View:
    """The front with the face frame's openings, or the case's where there is no frame.

    One that is not ``dimensioned`` has no words and figures, for what is laid on it.
    """
    paper = front_projection(layout, scale)
    if not dimensioned:
        bays = [_DrawnBay.of(bay, None, layout, figures, paper) for bay in layout.bays]
        return View((*_face(layout, paper), *(shape for bay in bays for shape in bay.draw()), *_floor(layout, paper)))
    bays = [_DrawnBay.of(bay, number, layout, figures, paper) for number, bay in enumerate(layout.bays, start=1)]
    columns = list({bay.column: bay.frame_x for bay in widest_row(layout)}.values())
    overall = Range(Fraction(0), layout.cabinet.width)
    shapes = (
        *_face(layout, paper),
        *(shape for bay in bays for shape in bay.draw()),
        *_floor(layout, paper),
        *paper.dimensions(columns, _rows(layout.bays), overall, figures),
    )
    keyed = [(number, drawn.bay) for number, drawn in enumerate(bays, start=1) if drawn.words.keyed]
    return View(shapes, tuple(write_key(keyed, figures)))


def _floor(layout: CabinetLayout, paper: Projection) -> Iterator[Shape]:
    return paper.floor(Range(Fraction(0), layout.cabinet.width))


def pieces_in_front(layout: CabinetLayout) -> tuple[Piece, ...]:
    """What is seen from the front: the face frame, or the front edges of the case where there is none."""
    return layout.of(*(FRAME_ROLES if layout.cabinet.frame else CASE_ROLES))


def _face(layout: CabinetLayout, paper: Projection) -> Iterator[Shape]:
    """The front, and behind it what is seen under it."""
    plinth = [piece for piece in layout.of(Role.PLINTH) if piece.axis is Axis.X][:1]
    sides = layout.sides if layout.bottom.z.start else ()
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
    def of(cls, bay: Bay, number: int | None, layout: CabinetLayout, figures: Figures, paper: Projection) -> _DrawnBay:
        left, right = paper.x(bay.frame_x.start), paper.x(bay.frame_x.end)
        bottom, top = paper.y(bay.frame_z.start), paper.y(bay.frame_z.end)
        inset = _front_inset(bay, layout, paper.scale, min(right - left, top - bottom))
        words = write_opening(bay, number, figures, right - left, top - bottom) if number else _WORDLESS
        return cls(bay, front_kind(layout, bay), left, bottom, right, top, inset, words)

    def draw(self) -> Iterator[Shape]:
        """The lines of its front and its adjustable shelves, broken for the words, and the words."""
        x, y = (self.left + self.right) / 2, (self.bottom + self.top) / 2
        if self.front is not None:
            front = Rect(self.left, self.bottom, self.right, self.top).wider(-self.front)
            yield from outline(front, _FRONT_MM)
            if self.kind is FrontKind.PAIR:
                yield from _meeting_line(x, front.bottom, front.top, y, self.words.height_mm / 2)
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
    if rule.fit is FrontFit.OVERLAY:
        return -float(rule.overlay) * scale
    inset = max(float(rule.reveal) * scale, _LEAST_REVEAL_MM)
    return inset if least_side - 2 * inset >= _LEAST_FRONT_MM else None


_LINE_PITCH_MM: Final = 3.5
_LEAST_NAME_MM: Final = 11.0
_SPACE_MM: Final = 1.8
_INSET_ACROSS_MM: Final = 1.5
_INSET_UP_MM: Final = 0.9
_CLOSE_MM: Final = 0.3

_SideBySide: TypeAlias = tuple[tuple[str, bool], ...]
"""Words side by side, each with whether it is bold."""


@dataclass(frozen=True, slots=True)
class OpeningWords:
    """The lines of an opening, ``width_mm`` by ``height_mm`` with the room round them; no lines where none fit.

    ``keyed`` is whether its name and size have to be told elsewhere.
    """

    lines: tuple[_SideBySide, ...]
    keyed: bool

    @property
    def width_mm(self) -> float:
        return max(map(_line_width, self.lines), default=0.0) + 2 * _INSET_ACROSS_MM

    @property
    def height_mm(self) -> float:
        return _LINE_PITCH_MM * len(self.lines) + 2 * _INSET_UP_MM if self.lines else 0.0

    def draw(self, x: float, y: float) -> Iterator[Shape]:
        """The words round a middle."""
        first = y + _LINE_PITCH_MM * (len(self.lines) - 1) / 2 - CAPITAL_MM / 2
        for number, line in enumerate(self.lines):
            yield from _draw_line(line, x, first - number * _LINE_PITCH_MM)


_WORDLESS: Final = OpeningWords((), keyed=False)


def opening_size(bay: Bay, figures: Figures) -> str:
    """The width and height of an opening, of the face frame's where there is one."""
    return f"{figures(bay.frame_x.size)} × {figures(bay.frame_z.size)}"


def write_opening(bay: Bay, number: int, figures: Figures, width_mm: float, height_mm: float) -> OpeningWords:
    """Choose the fullest words that an opening drawn so large can hold."""
    room = width_mm - 2 * _INSET_ACROSS_MM
    names = dict.fromkeys((bay.name, shortened(bay.name, WORDS_PT, room)))
    forms = (
        OpeningWords(lines, keyed=False)
        for name in names
        if name == bay.name or room >= _LEAST_NAME_MM
        for lines in _forms(name, bay, figures)
    )
    fitting = (words for words in forms if words.width_mm <= width_mm and words.height_mm <= height_mm)
    return next(fitting, _numbered(number, width_mm, height_mm))


def _numbered(number: int, width_mm: float, height_mm: float) -> OpeningWords:
    """The number alone, with less room round it, or nothing."""
    line = ((str(number), True),)
    fits = _line_width(line) + 2 * _CLOSE_MM <= width_mm and height_mm >= CAPITAL_MM + 2 * _CLOSE_MM
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
