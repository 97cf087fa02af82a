"""What stands on the floor in a picture of a job: cabinets with the letters of their strips, fillers, end panels."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Final

from storystick.drawing.cabinet_views import draw_elevation
from storystick.drawing.lettering import WORDS_PT, text_width_mm, wrapped
from storystick.drawing.rings import Ring, Tag, place_rings
from storystick.drawing.shapes import NARROW_MM, Rect, Shape, moved, outline
from storystick.job.sticks import Hand
from storystick.layout.cabinets.pieces import CabinetLayout
from storystick.layout.stations import Face
from storystick.lengths import Figures

_MOST_LINES: Final = 3
_LONGEST_WORD_MM: Final = 40.0


@dataclass(frozen=True, slots=True)
class Lettered:
    """The letter of a strip at a face that it is laid on."""

    letter: str
    face: Face


@dataclass(frozen=True, slots=True)
class Standing:
    """What stands on the floor, or hangs ``foot`` above it, with its true sizes in mm.

    ``told`` are the lines of words below it.
    """

    start: float
    width: float
    height: float
    told: tuple[str, ...]
    front: CabinetLayout | None = None
    lettered: tuple[Lettered, ...] = ()
    grey: float | None = None
    foot: float = 0.0

    @property
    def end(self) -> float:
        return self.start + self.width

    @property
    def middle(self) -> float:
        return self.start + self.width / 2

    def draw(self, figures: Figures, scale: float) -> Iterator[Shape]:
        """From its lower left corner."""
        if self.front is not None:
            face = draw_elevation(self.front, figures, scale, dimensioned=False, on_floor=not self.foot)
            yield from moved(face.shapes, 0.0, self.height * scale)
            return
        edges = Rect(0.0, 0.0, self.width * scale, self.height * scale)
        if self.grey is not None:
            yield edges.filled(self.grey)
            yield from outline(edges, NARROW_MM)

    def rings(self, scale: float, beside_mm: float, top_mm: float) -> tuple[Ring, ...]:
        """The letters from its lower left corner, inside it where they have room.

        Else they also stand ``beside_mm`` beside it, and above it up to ``top_mm``.
        """
        tags = tags_of(self.lettered, scale)
        inside = Rect(0.0, 0.0, self.width * scale, self.height * scale)
        around = Rect(inside.left - beside_mm, 0.0, inside.right + beside_mm, max(inside.top, top_mm))
        return place_rings(tags, (inside, around)) if tags else ()

    def lines(self, scale: float, beside_mm: float) -> tuple[str, ...]:
        """What is told of it, broken to its width, but between words only."""
        return _lines(self.told, self.width * scale + 2 * beside_mm - 2.0)


@cache
def _lines(told: tuple[str, ...], room_mm: float) -> tuple[str, ...]:
    """As many of the things told as have room, the first as far as it has."""
    longest = max((text_width_mm(word, WORDS_PT) for words in told for word in words.split(" ")), default=0.0)
    room = max(room_mm, min(longest, _LONGEST_WORD_MM))
    lines: list[str] = []
    for words in told:
        more = list(wrapped(words, WORDS_PT, room))[:_MOST_LINES]
        lines += more if len(lines) + len(more) <= _MOST_LINES else []
    return tuple(lines)


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
