"""Marks and letters of a page, and which of a file's stand for which that were laid out.

Everything is in mm of the page as it is looked at, x to the right and y up from its lower left corner.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from math import dist, floor
from statistics import fmean, median
from typing import Final, NamedTuple, TypeAlias

TOLERANCE_MM: Final = 0.0009
"""What differs by no more is true. The file has its places to 1e-6 of a point, other programs that save it again to
about 1e-3 of a point (0.0004 mm), and a printer at 600 dots an inch has dots of 0.04 mm: 0.0005 mm is true, and 0.001
mm is false however single precision rounds it."""

LETTER_MM: Final = 0.3
"""A letter that stands within this is in its place: Ghostscript moved those of long lines by up to 0.21 mm."""

EXACT_MM: Final = 0.05
"""Letters within this were not set anew; those of every other program that was tried were within 0.001 mm."""

_ALONG_MM: Final = 0.01
"""What follows the scale and shift of its page is no farther from where that puts it."""

_ROUNDS: Final = 4
_LARGEST: Final = 20.0
_CHANCE: Final = 4e-7
"""Less than this from full size is the rounding of single precision."""

Point: TypeAlias = tuple[float, float]


class Bounds(NamedTuple):
    """An upright rectangle, by its edges in mm."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def middle(self) -> Point:
        return (self.left + self.right) / 2, (self.bottom + self.top) / 2

    def grown(self, by: float) -> Bounds:
        return Bounds(self.left - by, self.bottom - by, self.right + by, self.top + by)

    def holds(self, other: Bounds) -> bool:
        """Whether the other lies inside."""
        along = self.left <= other.left and other.right <= self.right
        return along and self.bottom <= other.bottom and other.top <= self.top

    def touches(self, other: Bounds) -> bool:
        along = self.left <= other.right and other.left <= self.right
        return along and self.bottom <= other.top and other.bottom <= self.top


def around(points: Iterable[Point]) -> Bounds:
    """The rectangle that holds all of some points."""
    xs, ys = zip(*points, strict=True)
    return Bounds(min(xs), min(ys), max(xs), max(ys))


@dataclass(frozen=True, slots=True)
class Mark:
    """A filled polygon by its corners, or a line by its points.

    Marks of one ``kind`` can be taken for one another: it says number of corners, colour, dashes and caps. ``width`` is
    the line's, 0 for an area. What another thing cuts off, even in part, or lets shine through, is of no kind of ours.
    """

    points: tuple[Point, ...]
    kind: tuple[object, ...]
    width: float = 0.0

    @property
    def bounds(self) -> Bounds:
        return around(self.points)


@dataclass(frozen=True, slots=True)
class Word:
    """Letters without a space between them: where each stands on its baseline, and the room of all."""

    text: str
    starts: tuple[Point, ...]
    bounds: Bounds


@dataclass(frozen=True, slots=True)
class PageContent:
    """A page as it is looked at: its size, its marks and words in the order of drawing.

    ``others`` are the places of pictures, of shades, and of what lies on the page without being drawn plainly;
    ``notes`` those of annotations.
    """

    width_mm: float
    height_mm: float
    marks: tuple[Mark, ...]
    words: tuple[Word, ...]
    others: tuple[Bounds, ...] = ()
    notes: tuple[Bounds, ...] = ()


@dataclass(frozen=True, slots=True)
class Fit:
    """What a page was drawn times, to the right and up, and how far it was shifted after that, in mm."""

    scale_x: float = 1.0
    scale_y: float = 1.0
    shift_x: float = 0.0
    shift_y: float = 0.0

    def apply(self, mark: Mark) -> Mark:
        points = tuple((x * self.scale_x + self.shift_x, y * self.scale_y + self.shift_y) for x, y in mark.points)
        return Mark(points, mark.kind, mark.width * (abs(self.scale_x * self.scale_y) ** 0.5))

    def undone(self, place: Bounds) -> Bounds:
        """Where a place would be if the page had been left as it was laid out."""
        xs = ((x - self.shift_x) / self.scale_x for x in (place.left, place.right))
        ys = ((y - self.shift_y) / self.scale_y for y in (place.bottom, place.top))
        return around(zip(xs, ys, strict=True))


FULL_SIZE: Final = Fit()


@dataclass(frozen=True, slots=True)
class Pair:
    """A mark as it was laid out, and how far the one in the file that stands for it is off.

    ``off_mm`` is the most that a corner, an end or an edge of its ink lies away from its place; ``off_after_fit_mm`` is
    what of that is left when the fit of the page is taken into account.
    """

    expected: Mark
    off_mm: float
    off_after_fit_mm: float


@dataclass(frozen=True, slots=True)
class Match:
    """The marks of a page in pairs, and those that have no partner."""

    fit: Fit
    pairs: tuple[Pair, ...]
    missing: tuple[Mark, ...]
    added: tuple[Mark, ...]

    @property
    def in_place(self) -> int:
        """How many marks are where they belong."""
        return sum(pair.off_mm <= TOLERANCE_MM for pair in self.pairs)


def match(expected: Sequence[Mark], found: Sequence[Mark]) -> Match:
    """The marks of a page in pairs, in the order of drawing, which every program keeps that saves a file again."""
    if _kinds(expected) == _kinds(found):
        fit = _fit(list(zip(expected, found, strict=True)))
        return Match(fit, tuple(_pairs(expected, found, fit)), (), ())
    pairs, missing, added = list[Pair](), list[Mark](), list[Mark]()
    in_turn = SequenceMatcher(None, _keys(expected), _keys(found), autojunk=False)
    for _, start, end, other_start, other_end in in_turn.get_opcodes():
        ours, theirs = expected[start:end], found[other_start:other_end]
        if _kinds(ours) == _kinds(theirs):
            pairs += _pairs(ours, theirs, FULL_SIZE)
        else:
            missing += ours
            added += theirs
    return Match(FULL_SIZE, tuple(pairs), tuple(missing), tuple(added))


def _kinds(marks: Sequence[Mark]) -> list[tuple[object, ...]]:
    return [mark.kind for mark in marks]


def _keys(marks: Sequence[Mark]) -> list[tuple[object, ...]]:
    """What marks are, and where, to a tenth of a mm."""
    return [(mark.kind, *(round(at, 1) for at in mark.bounds.middle)) for mark in marks]


def _pairs(ours: Sequence[Mark], theirs: Sequence[Mark], fit: Fit) -> Iterator[Pair]:
    for one, other in zip(ours, theirs, strict=True):
        off = difference(one, other)
        yield Pair(one, off, off if fit == FULL_SIZE else difference(fit.apply(one), other))


def difference(one: Mark, other: Mark) -> float:
    """The farthest that a corner or an end of one lies from that of the other, or the edge of a line, in mm.

    Corners may be named from any one on, and in either direction.
    """
    off = _farthest(one.points, other.points)
    if off > TOLERANCE_MM:
        start = min(range(len(other.points)), key=lambda at: dist(other.points[at], one.points[0]))
        turned = other.points[start:] + other.points[:start]
        off = min(off, _farthest(one.points, turned), _farthest(one.points, turned[:1] + turned[:0:-1]))
    return max(abs(one.width - other.width) / 2, off)


def _farthest(points: Sequence[Point], others: Sequence[Point]) -> float:
    return max(map(dist, points, others))


def _fit(pairs: Sequence[tuple[Mark, Mark]]) -> Fit:
    """How a page was enlarged and shifted, if most of its marks went along with that."""
    if all(difference(one, other) <= TOLERANCE_MM for one, other in pairs):
        return FULL_SIZE
    places = [ends for one, other in pairs for ends in zip(one.points, other.points, strict=True)]
    (scale_x, shift_x), (scale_y, shift_y) = (_line([(a[axis], b[axis]) for a, b in places]) for axis in (0, 1))
    fit = Fit(scale_x, scale_y, shift_x, shift_y)
    along = sum(difference(fit.apply(one), other) <= _ALONG_MM for one, other in pairs)
    return fit if 2 * along >= len(pairs) else FULL_SIZE


def _line(pairs: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Scale and shift that take places to those found, by least squares without those that do not go along.

    What is off by more than three times the median of all is left out in the end, so that one band that was moved
    does not look like a page that was enlarged.
    """
    scale, shift = 1.0, median(found - place for place, found in pairs)
    for _ in range(_ROUNDS):
        offs = [abs(place * scale + shift - found) for place, found in pairs]
        usual = 3 * median(offs) + 1e-9
        scale, shift = _least_squares([pair for pair, off in zip(pairs, offs, strict=True) if off <= usual])
    scale = 1.0 if abs(scale - 1) < _CHANCE else scale
    return scale, 0.0 if scale == 1 and abs(shift) < TOLERANCE_MM / 2 else shift


def _least_squares(pairs: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Full size where all lie at one place, or where no page could have been enlarged so."""
    mean, mean_found = map(fmean, zip(*pairs, strict=True))
    spread = sum((place - mean) ** 2 for place, _ in pairs)
    together = sum((place - mean) * (found - mean_found) for place, found in pairs)
    scale = together / spread if spread > 1 else 1.0
    scale = scale if 1 / _LARGEST < scale < _LARGEST else 1.0
    return scale, mean_found - scale * mean


@dataclass(frozen=True, slots=True)
class Letters:
    """Words of ours with a letter that is not in its place, words of the file with one that is not ours.

    ``exact`` is whether no letter was set anew.
    """

    lost: tuple[Word, ...] = ()
    added: tuple[Word, ...] = ()
    exact: bool = True


def pair_letters(ours: Sequence[Word], theirs: Sequence[Word]) -> Letters:
    """Letters are paired by sign and place; how they look, the pictures tell."""
    (lost, off), (added, _) = _without_partner(ours, theirs), _without_partner(theirs, ours)
    # Ghostscript takes away what tells letters beyond ASCII: those that nothing tells may be spaces.
    return Letters(tuple(lost), tuple(word for word in added if word.text.isprintable()), off <= EXACT_MM)


def _without_partner(words: Sequence[Word], others: Sequence[Word]) -> tuple[list[Word], float]:
    """Words with a letter that no other is near to which none before it took, and how far from theirs the rest are."""
    cells: defaultdict[tuple[str, int, int], list[Point]] = defaultdict(list)
    for other in others:
        for letter in zip(other.text, other.starts, strict=True):
            cells[_cell(*letter)].append(letter[1])
    lost, most = [], 0.0
    for word in words:
        offs = [_taken(cells, *letter) for letter in zip(word.text, word.starts, strict=True)]
        most = max(most, *(off for off in offs if off is not None), 0.0)
        if None in offs:
            lost.append(word)
    return lost, most


def _taken(cells: dict[tuple[str, int, int], list[Point]], sign: str, start: Point) -> float | None:
    """How far the nearest of the same letters lies, which is then taken; None where it is too far."""
    known, column, row = _cell(sign, start)
    keys = [(known, column + right, row + up) for right in (-1, 0, 1) for up in (-1, 0, 1)]
    near = [(dist(start, place), key, place) for key in keys for place in cells.get(key, ())]
    off, key, place = min(near, default=(LETTER_MM + 1, keys[0], start))
    if off > LETTER_MM:
        return None
    cells[key].remove(place)
    return off


def _cell(sign: str, start: Point) -> tuple[str, int, int]:
    """All signs beyond ASCII are one."""
    return sign if "!" <= sign <= "~" else "", floor(start[0] / LETTER_MM), floor(start[1] / LETTER_MM)
