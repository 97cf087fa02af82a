"""A job from the front with the letters of its strips: walls with what stands along them, cabinets side by side.

All to one scale. What is alike is lettered once, and of cabinets that stand in no run only one of a kind is drawn.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from storystick.drawing.lettering import NAME_MM, WORDS_PT, text_width_mm
from storystick.drawing.placing_words import spread
from storystick.drawing.shapes import WIDE_MM, Anchor, Line, Rect, Shape, Text, moved
from storystick.drawing.standing import Lettered, Standing
from storystick.drawing.wall import Wall
from storystick.job.runs import CabinetPlace, EndPanel, PieceKind, RunPiece
from storystick.layout.alike import kinds_of
from storystick.layout.cabinets.pieces import CabinetLayout
from storystick.layout.runs import Placed
from storystick.layout.stations import Layout
from storystick.layout.walls.corners import Stander
from storystick.lengths import Figures
from storystick.wording import by_number, listed

_PITCH_MM: Final = 4.2
_TO_WORDS_MM: Final = 1.6
_WORDS_APART_MM: Final = 2.0

_GAP_MM: Final = 16.0
_BESIDE_MM: Final = _GAP_MM / 2
_ABOVE_MM: Final = 1.0
_BETWEEN_MM: Final = 3.0

_LARGEST: Final = 1 / 4
_LEAST_WHOLE: Final = 1 / 45
"""A wall that would be drawn smaller than this is broken, and goes on below."""

_LEAST: Final = 1e-4
_SHRINKING: Final = 0.85
_HALVINGS: Final = 5

_GREYS: Final = {PieceKind.FILLER: 0.75, PieceKind.SCRIBE: 0.75, PieceKind.GAP: None}
_PANEL_GREY: Final = 0.6


@dataclass(frozen=True, slots=True)
class _Row:
    """Things side by side on one floor: a stretch of a wall, or cabinets with room between them."""

    things: tuple[Standing, ...]
    wall: Wall | None = None
    first: bool = True
    hung: tuple[Standing, ...] = ()

    @property
    def start(self) -> float:
        return self.things[0].start

    @property
    def gap_mm(self) -> float:
        return 0.0 if self.wall else _GAP_MM

    @property
    def beside_mm(self) -> tuple[float, float]:
        """What it needs beside it on paper."""
        return (self.wall.left_mm, self.wall.right_mm) if self.wall else (_BESIDE_MM, _BESIDE_MM)

    @property
    def above_mm(self) -> float:
        return self.wall.above_mm if self.wall else _ABOVE_MM

    @property
    def height(self) -> float:
        """In true size."""
        return self.wall.height if self.wall else max(thing.height for thing in self.things)

    def inside_mm(self, scale: float) -> float:
        """From the left edge of the first thing to the right one of the last."""
        return (self.things[-1].end - self.start) * scale + self.gap_mm * (len(self.things) - 1)

    def width_mm(self, scale: float) -> float:
        return self.inside_mm(scale) + sum(self.beside_mm)

    def floor_mm(self, scale: float) -> float:
        """How far the floor lies below the top."""
        return self.above_mm + self.height * scale

    def height_mm(self, scale: float) -> float:
        """With the words below the floor."""
        lines = max(len(thing.lines(scale, self.gap_mm / 2)) for thing in self.things)
        return self.floor_mm(scale) + _TO_WORDS_MM + _PITCH_MM * lines

    def placed(self, scale: float) -> Iterator[tuple[Standing, float, float]]:
        """All that stands and hangs there, and how far right and up from the floor at its left end."""
        for number, thing in enumerate(self.things):
            yield thing, (thing.start - self.start) * scale + number * self.gap_mm, 0.0
        for thing in self.hung:
            yield thing, (thing.start - self.start) * scale, thing.foot * scale

    def draw(self, figures: Figures, scale: float) -> Iterator[Shape]:
        """From the floor at its left end, what belongs to the wall behind all others."""
        if self.wall:
            yield from self.wall.draw(self.start, self.things[-1].end, figures, scale, self.first)
            yield Line(0.0, 0.0, self.inside_mm(scale), 0.0, WIDE_MM)
        rings: list[Shape] = []
        for number, thing in enumerate(self.things):
            x = (thing.start - self.start) * scale + number * self.gap_mm
            yield from moved(thing.draw(figures, scale), x, 0.0)
            placed = thing.rings(scale, self.gap_mm / 2, self._top_mm(thing, scale))
            rings += (shape for ring in placed for shape in moved(ring.draw(), x, 0.0))
        for thing in self.hung:
            x, y = (thing.start - self.start) * scale, thing.foot * scale
            yield from moved(thing.draw(figures, scale), x, y)
            yield from _told_under(thing, x, y, scale)
            rings += (shape for ring in thing.rings(scale, 0.0, 0.0) for shape in moved(ring.draw(), x, y))
        yield from self._words(scale)
        yield from rings

    def _top_mm(self, thing: Standing, scale: float) -> float:
        """How high over the floor letters of a thing may stand: below what hangs over it and what is told of that."""
        over = (
            other.foot * scale - _ABOVE_MM - _PITCH_MM * len(other.lines(scale, 0.0))
            for other in self.hung
            if other.start < thing.end and other.end > thing.start
        )
        return min(over, default=self.height * scale)

    def _words(self, scale: float) -> Iterator[Text]:
        """What is told of each below it, moved aside where the words are wider than the thing; nothing without room."""
        told = [
            ((thing.middle - self.start) * scale + number * self.gap_mm, lines)
            for number, thing in enumerate(self.things)
            if (lines := thing.lines(scale, self.gap_mm / 2))
        ]
        widths = [max(text_width_mm(line, WORDS_PT) for line in lines) for _, lines in told]
        left, right = self.beside_mm
        places = spread([x for x, _ in told], widths, _WORDS_APART_MM, -left, self.inside_mm(scale) + right)
        for x, (_, lines) in zip(places or (), told, strict=False):
            for number, line in enumerate(lines):
                yield Text(x, -_TO_WORDS_MM - NAME_MM - number * _PITCH_MM, line, WORDS_PT, Anchor.MIDDLE)


def _told_under(thing: Standing, x: float, y: float, scale: float) -> Iterator[Text]:
    """What is told of something that hangs, right under it, as far as it has room there."""
    for number, line in enumerate(thing.lines(scale, 0.0)):
        if text_width_mm(line, WORDS_PT) <= thing.width * scale:
            middle = x + thing.width * scale / 2
            yield Text(middle, y - _ABOVE_MM - NAME_MM - number * _PITCH_MM, line, WORDS_PT, Anchor.MIDDLE)


@dataclass(frozen=True, slots=True)
class FrontView:
    """A reduced picture, arranged in ``width_mm`` and drawn when it is asked for; ``scale`` is mm on paper a mm."""

    rows: tuple[_Row, ...]
    scale: float
    figures: Figures
    width_mm: float

    @property
    def height_mm(self) -> float:
        return sum(row.height_mm(self.scale) for row in self.rows) + _BETWEEN_MM * (len(self.rows) - 1)

    @property
    def shapes(self) -> tuple[Shape, ...]:
        """From 0, 0 at the upper left corner down, each row in the middle of the width."""
        return tuple(self._draw())

    def _draw(self) -> Iterator[Shape]:
        for row, left, floor in self._placed():
            yield from moved(row.draw(self.figures, self.scale), left, floor)

    def _placed(self) -> Iterator[tuple[_Row, float, float]]:
        """Every row, and where its floor begins at the left."""
        top = 0.0
        for row in self.rows:
            left = (self.width_mm - row.width_mm(self.scale)) / 2 + row.beside_mm[0]
            yield row, left, top - row.floor_mm(self.scale)
            top -= row.height_mm(self.scale) + _BETWEEN_MM

    def cabinets(self) -> Iterator[tuple[CabinetLayout, Rect]]:
        """Every cabinet that is drawn, and where."""
        for row, left, floor in self._placed():
            for thing, x, y in row.placed(self.scale):
                if thing.front:
                    size = (thing.width * self.scale, thing.height * self.scale)
                    yield thing.front, Rect(0.0, 0.0, *size).moved(left + x, floor + y)


def arrange_front(
    layout: Layout, lettered: Sequence[Lettered], walls: Sequence[Wall], width_mm: float, height_mm: float
) -> FrontView:
    """All walls and the cabinets that stand at none, as large as they go into a box.

    A wall that would be very small is broken between two cabinets and goes on below.
    """
    groups = [*(_along(wall, layout, lettered) for wall in walls), *_by_themselves(layout, lettered)]
    high = low = _LARGEST
    while not _fits(groups, low, width_mm, height_mm) and low > _LEAST:
        high, low = low, low * _SHRINKING
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if _fits(groups, middle, width_mm, height_mm) else (low, middle)
    return FrontView(_rows_at(groups, low, width_mm), low, layout.job.figures, width_mm)


def _rows_at(groups: Iterable[_Row], scale: float, width_mm: float) -> tuple[_Row, ...]:
    return tuple(row for group in groups for row in _broken(group, width_mm, scale))


def _fits(groups: Iterable[_Row], scale: float, width_mm: float, height_mm: float) -> bool:
    rows = _rows_at(groups, scale, width_mm)
    used = sum(row.height_mm(scale) for row in rows) + _BETWEEN_MM * (len(rows) - 1)
    return used <= height_mm and all(row.width_mm(scale) <= width_mm for row in rows)


def _broken(group: _Row, width_mm: float, scale: float) -> Iterator[_Row]:
    """A group in as many rows as its width asks for; a wall is whole unless it would be very small."""
    if group.wall and scale >= _LEAST_WHOLE:
        yield group
        return
    taken: list[Standing] = []
    first = True
    for thing in group.things:
        gaps = group.gap_mm * len(taken)
        if taken and (thing.end - taken[0].start) * scale + gaps + sum(group.beside_mm) > width_mm:
            yield _stretch(group, taken, first)
            taken, first = [], False
        taken.append(thing)
    yield _stretch(group, taken, first)


def _stretch(group: _Row, things: Sequence[Standing], first: bool) -> _Row:
    """Some things of a row side by side, with what hangs with its middle over them."""
    hung = tuple(thing for thing in group.hung if things[0].start <= thing.middle <= things[-1].end)
    return replace(group, things=tuple(things), first=first, hung=hung)


def _along(wall: Wall, layout: Layout, lettered: Sequence[Lettered]) -> _Row:
    """All that stands in a run, from the left, and what hangs over it."""
    firsts = {each.cabinet.name: kind[0] for kind in kinds_of(layout.cabinets) for each in kind}
    fronts = {each.cabinet.name: each for each in layout.cabinets}

    lettered_once: list[CabinetLayout] = []

    def drawn(placed: Placed) -> Standing:
        start, end = wall.left_of(placed.span)
        foot, height = (float(placed.z.start), float(placed.z.size)) if placed.z else (0.0, wall.height)
        item = placed.item
        front = fronts.get(item.cabinet.name) if isinstance(item, CabinetPlace) else None
        if front is None:
            return Standing(start, end - start, height, (), grey=_grey(item), foot=foot)
        first = firsts[front.cabinet.name]
        told = (placed.span.name,) if first is front else (placed.span.name, f"as {first.cabinet.name}")
        own = () if first is not front or front in lettered_once else _own(front, lettered)
        lettered_once.append(front)
        return Standing(start, end - start, height, told, front, own, foot=foot)

    things = tuple(map(drawn, wall.items))
    return _Row(things, wall, hung=tuple(map(drawn, wall.layout.hanging)))


def _grey(item: Stander) -> float | None:
    """How dark it is drawn that is no cabinet; nothing is drawn of a gap."""
    match item:
        case EndPanel():
            return _PANEL_GREY
        case RunPiece(kind=kind):
            return _GREYS[kind]
        case _:
            return None


def _by_themselves(layout: Layout, lettered: Sequence[Lettered]) -> Iterator[_Row]:
    """One of each kind of the cabinets that stand in no run."""
    placed = {cabinet.name for run in layout.job.runs for cabinet in run.cabinets}
    things, start = [], 0.0
    for kind in kinds_of(each for each in layout.cabinets if each.cabinet.name not in placed):
        cabinet = kind[0].cabinet
        names = listed(by_number(each.cabinet.told for each in kind))
        sizes = map(layout.job.figures, (cabinet.width, cabinet.height, cabinet.depth))
        told = (names, "{} wide, {} high, {} deep".format(*sizes))
        own = _own(kind[0], lettered)
        things.append(Standing(start, float(cabinet.width), float(cabinet.height), told, kind[0], own))
        start = things[-1].end
    if things:
        yield _Row(tuple(things))


def _own(front: CabinetLayout, lettered: Iterable[Lettered]) -> tuple[Lettered, ...]:
    return tuple(each for each in lettered if each.face.cabinet == front.cabinet.name)
