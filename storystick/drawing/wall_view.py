"""A job from the front with the letters of its strips: walls with what stands along them, cabinets side by side.

All to one scale. What is alike is lettered once, and of cabinets that stand in no run only one of a kind is drawn.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from storystick.drawing.cabinet_views import draw_elevation
from storystick.drawing.lettering import NAME_MM, points_of, text_width_mm, wrapped
from storystick.drawing.placing_words import spread
from storystick.drawing.rings import Ring, Tag, place_rings
from storystick.drawing.shapes import Anchor, Line, Rect, Shape, Text, moved, outline
from storystick.drawing.wall import Wall
from storystick.job.cabinets import Cabinet
from storystick.job.runs import CabinetPlace, EndPanel, PieceKind, RunItem
from storystick.job.sticks import Hand
from storystick.layout.cabinets.pieces import CabinetLayout
from storystick.layout.stations import Face, Layout
from storystick.lengths import Figures
from storystick.wording import by_number, listed

_WORDS_PT: Final = points_of(NAME_MM)
_PITCH_MM: Final = 4.2
_TO_WORDS_MM: Final = 1.6
_MOST_LINES: Final = 3
_LONGEST_WORD_MM: Final = 40.0
_WORDS_APART_MM: Final = 2.0

_GAP_MM: Final = 16.0
_BESIDE_MM: Final = _GAP_MM / 2
_ABOVE_MM: Final = 1.0
_BETWEEN_MM: Final = 3.0

_LARGEST: Final = 1 / 4
_LEAST_WHOLE: Final = 1 / 45
"""A wall that would be drawn smaller than this is broken, and goes on below."""

_LEAST: Final = 1e-4
_SHRINKING: Final = 0.97

_FLOOR_MM: Final = 0.5
_THIN_MM: Final = 0.25
_DASH_MM: Final = (1.6, 1.0)
_PIECE_GREYS: Final = {PieceKind.FILLER: 0.75, PieceKind.SCRIBE: 0.75, PieceKind.GAP: None}
_PANEL_GREY: Final = 0.6


@dataclass(frozen=True, slots=True)
class Lettered:
    """The letter of a strip at a face that it is laid on."""

    letter: str
    face: Face


@dataclass(frozen=True, slots=True)
class FrontView:
    """A reduced picture in mm, from 0, 0 at its upper left corner down, at so many mm of paper a mm."""

    shapes: tuple[Shape, ...]
    scale: float
    width_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True)
class _Standing:
    """What stands on the floor, with its true sizes in mm; ``told`` are the lines of words below it."""

    start: float
    width: float
    height: float
    told: tuple[str, ...]
    front: CabinetLayout | None = None
    lettered: tuple[Lettered, ...] = ()
    grey: float | None = None

    @property
    def end(self) -> float:
        return self.start + self.width

    def draw(self, figures: Figures, scale: float) -> Iterator[Shape]:
        """From its lower left corner."""
        if self.front is not None:
            yield from moved(
                draw_elevation(self.front, figures, scale, dimensioned=False).shapes, 0.0, self.height * scale
            )
            return
        edges = Rect(0.0, 0.0, self.width * scale, self.height * scale)
        if self.grey is not None:
            yield edges.filled(self.grey)
            yield from outline(edges, _THIN_MM)

    def rings(self, scale: float, beside_mm: float) -> tuple[Ring, ...]:
        """The letters from its lower left corner, inside it where they have room, else also ``beside_mm`` beside it."""
        tags = tags_of(self.lettered, scale)
        inside = Rect(0.0, 0.0, self.width * scale, self.height * scale)
        wider = Rect(inside.left - beside_mm, 0.0, inside.right + beside_mm, inside.top)
        return place_rings(tags, (inside, wider)) if tags else ()

    def lines(self, scale: float, beside_mm: float) -> list[str]:
        """What is told of it, broken to its width, but between words only."""
        words = [word for told in self.told for word in told.split(" ")]
        longest = max((text_width_mm(word, _WORDS_PT) for word in words), default=0.0)
        room = max(self.width * scale + 2 * beside_mm - 2.0, min(longest, _LONGEST_WORD_MM))
        first, *others = ([*wrapped(told, _WORDS_PT, room)] for told in self.told or ("",))
        lines = first[:_MOST_LINES]
        for more in others:
            lines += more if len(lines) + len(more) <= _MOST_LINES else []
        return [line for line in lines if line]


def tags_of(lettered: Iterable[Lettered], scale: float) -> tuple[Tag, ...]:
    """The letters of a cabinet at the lines of their faces, from its lower left corner; one where a board has one."""
    boards: dict[tuple[str, Fraction, Fraction, Fraction, Fraction], list[Lettered]] = {}
    for each in lettered:
        x, z = each.face.x, each.face.z
        boards.setdefault((each.letter, x.start, x.end, z.start, z.end), []).append(each)
    return tuple(_tag(own, scale) for own in boards.values())


def _tag(lettered: Sequence[Lettered], scale: float) -> Tag:
    """Of one letter on one board, at the face that looks to the side where its strip is laid, or at its middle."""
    face = lettered[0].face
    sides = {_SIDES[each.face.laid] for each in lettered}
    side = sides.pop() if len(sides) == 1 else 0.0
    left, right, bottom, top = (float(at) * scale for at in (face.x.start, face.x.end, face.z.start, face.z.end))
    if face.x.size < face.z.size:
        x = {1.0: right, -1.0: left}.get(side, (left + right) / 2)
        return Tag(lettered[0].letter, (x, bottom, x, top), dx=side)
    y = {1.0: top, -1.0: bottom}.get(side, (bottom + top) / 2)
    return Tag(lettered[0].letter, (left, y, right, y), dy=side)


_SIDES: Final = {Hand.LEFT: 1.0, Hand.RIGHT: -1.0, None: 0.0}
"""A face struck as a left hand looks to the right or up, one struck as a right hand to the left or down."""


@dataclass(frozen=True, slots=True)
class _Row:
    """Things side by side on one floor: a stretch of a wall, or cabinets with room between them."""

    things: tuple[_Standing, ...]
    wall: Wall | None = None
    first: bool = True

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
        return max(thing.height for thing in self.things) if self.wall is None else self.wall.height

    def width_mm(self, scale: float) -> float:
        inside = (self.things[-1].end - self.start) * scale + self.gap_mm * (len(self.things) - 1)
        return inside + sum(self.beside_mm)

    def below_mm(self, scale: float) -> float:
        """The room for the words below the floor."""
        return _TO_WORDS_MM + _PITCH_MM * max(len(thing.lines(scale, self.gap_mm / 2)) for thing in self.things)

    def height_mm(self, scale: float) -> float:
        return self.above_mm + self.height * scale + self.below_mm(scale)

    def draw(self, figures: Figures, scale: float) -> Iterator[Shape]:
        """From the floor at its left end, what belongs to the wall behind all others."""
        if self.wall:
            yield from self.wall.draw(self.start, self.things[-1].end, figures, scale, self.first)
        width = self.width_mm(scale) - sum(self.beside_mm)
        rings: list[Shape] = []
        for number, thing in enumerate(self.things):
            x, beside = (thing.start - self.start) * scale + number * self.gap_mm, self.gap_mm / 2
            yield from moved(thing.draw(figures, scale), x, 0.0)
            rings += (shape for each in thing.rings(scale, beside) for shape in moved(each.draw(), x, 0.0))
        if self.wall:
            yield Line(0.0, 0.0, width, 0.0, _FLOOR_MM)
        yield from self._words(width, scale)
        yield from rings

    def _words(self, width: float, scale: float) -> Iterator[Text]:
        """What is told of each below it, moved aside where the words are wider than the thing; nothing without room."""
        told = [(number, thing) for number, thing in enumerate(self.things) if thing.lines(scale, self.gap_mm / 2)]
        lines = [thing.lines(scale, self.gap_mm / 2) for _, thing in told]
        middles = [
            (thing.start + thing.width / 2 - self.start) * scale + number * self.gap_mm for number, thing in told
        ]
        widths = [max(text_width_mm(line, _WORDS_PT) for line in own) for own in lines]
        left, right = self.beside_mm
        places = spread(middles, widths, _WORDS_APART_MM, -left, width + right)
        for x, own in zip(places or (), lines, strict=False):
            for number, line in enumerate(own):
                yield Text(x, -_TO_WORDS_MM - NAME_MM - number * _PITCH_MM, line, _WORDS_PT, Anchor.MIDDLE)


def draw_front(
    layout: Layout, lettered: Sequence[Lettered], walls: Sequence[Wall], width_mm: float, height_mm: float
) -> FrontView:
    """All walls and the cabinets that stand at none, as large as they go into a box.

    A wall that would be very small is broken between two cabinets and goes on below.
    """
    groups = [*(_along(wall, layout, lettered) for wall in walls), *_by_themselves(layout, lettered)]
    scale, rows = _arranged(groups, width_mm, height_mm)
    shapes: list[Shape] = []
    top, widest = 0.0, 0.0
    for row in rows:
        left = (width_mm - row.width_mm(scale)) / 2 + row.beside_mm[0]
        floor = top - row.above_mm - row.height * scale
        shapes += moved(row.draw(layout.job.figures, scale), left, floor)
        top, widest = floor - row.below_mm(scale) - _BETWEEN_MM, max(widest, row.width_mm(scale))
    return FrontView(tuple(shapes), scale, widest, -top - _BETWEEN_MM)


def _arranged(groups: Sequence[_Row], width_mm: float, height_mm: float) -> tuple[float, list[_Row]]:
    """The largest scale at which all have room, and what stands in each row then."""
    scale, rows = _LARGEST, list[_Row]()
    while scale > _LEAST:
        whole = scale >= _LEAST_WHOLE
        rows = [row for group in groups for row in _broken(group, width_mm, scale, whole)]
        used = sum(row.height_mm(scale) for row in rows) + _BETWEEN_MM * (len(rows) - 1)
        if used <= height_mm and all(row.width_mm(scale) <= width_mm for row in rows):
            break
        scale *= _SHRINKING
    return scale, rows


def _broken(group: _Row, width_mm: float, scale: float, whole: bool) -> Iterator[_Row]:
    """A group in as many rows as its width asks for; a wall stays ``whole`` where that is asked."""
    if group.wall and whole:
        yield group
        return
    taken: list[_Standing] = []
    first = True
    for thing in group.things:
        if taken and replace(group, things=(*taken, thing)).width_mm(scale) > width_mm:
            yield replace(group, things=tuple(taken), first=first)
            taken, first = [], False
        taken.append(thing)
    yield replace(group, things=tuple(taken), first=first)


def kinds_of(layouts: Iterable[CabinetLayout]) -> dict[Cabinet, list[CabinetLayout]]:
    """Cabinets that differ in their names alone together, by what they have in common."""
    kinds: dict[Cabinet, list[CabinetLayout]] = {}
    for layout in layouts:
        kinds.setdefault(replace(layout.cabinet, name="", number=1), []).append(layout)
    return kinds


def _along(wall: Wall, layout: Layout, lettered: Sequence[Lettered]) -> _Row:
    """All that stands in a run, from the left; a filler is as high as the higher one beside it."""
    by_name = {each.cabinet.name: each for each in layout.cabinets}
    firsts = {id(kind[0]): kind[0] for kind in kinds_of(layout.cabinets).values()}
    items = wall.items
    heights = [float(item.cabinet.height) if isinstance(item, CabinetPlace) else 0.0 for item, _ in items]
    things = []
    for number, (item, span) in enumerate(items):
        height = heights[number] or max([*heights[max(number - 1, 0) : number + 2]]) or wall.height
        front = by_name.get(item.cabinet.name) if isinstance(item, CabinetPlace) else None
        start, end = wall.left_of(span)
        own = _own(front, lettered) if front and id(front) in firsts else ()
        things.append(_Standing(start, end - start, height, _told(span.name, front, layout), front, own, _grey(item)))
    return _Row(tuple(things), wall)


def _told(name: str, front: CabinetLayout | None, layout: Layout) -> tuple[str, ...]:
    if front is None:
        return ()
    kind = kinds_of(layout.cabinets)[replace(front.cabinet, name="", number=1)]
    return (name,) if kind[0] is front else (name, f"as {kind[0].cabinet.name}")


def _grey(item: RunItem) -> float | None:
    """How dark it is drawn that is no cabinet; nothing is drawn of a gap."""
    match item:
        case EndPanel():
            return _PANEL_GREY
        case CabinetPlace():
            return None
        case _:
            return _PIECE_GREYS[item.kind]


def _by_themselves(layout: Layout, lettered: Sequence[Lettered]) -> Iterator[_Row]:
    """One of each kind of the cabinets that stand in no run."""
    placed = {item.cabinet.name for run in layout.job.runs for item in run.order if isinstance(item, CabinetPlace)}
    loose = [each for each in layout.cabinets if each.cabinet.name not in placed]
    things, start = [], 0.0
    for kind in kinds_of(loose).values():
        first = kind[0]
        width, height = float(first.cabinet.width), float(first.cabinet.height)
        names = listed(by_number(each.cabinet.name for each in kind))
        sizes = [layout.job.figures(size) for size in (first.cabinet.width, first.cabinet.height, first.cabinet.depth)]
        told = (names, "{} wide, {} high, {} deep".format(*sizes))
        things.append(_Standing(start, width, height, told, first, _own(first, lettered)))
        start += width
    if things:
        yield _Row(tuple(things))


def _own(front: CabinetLayout, lettered: Iterable[Lettered]) -> tuple[Lettered, ...]:
    return tuple(each for each in lettered if each.face.cabinet == front.cabinet.name)
