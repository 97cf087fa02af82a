"""Which mark of a file stands for which that was laid out, and how the whole page was enlarged and shifted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from math import hypot
from statistics import median
from typing import Final

from storystick.proof.figures import Mark, Point

TOLERANCE_MM: Final = 0.001
"""What differs by no more is true: the file has its places to 1e-6 of a point, other programs that save it again to
about 1e-3 of a point (0.0004 mm), and a printer at 600 dots an inch has dots of 0.04 mm."""

_ALONG_MM: Final = 0.01
"""What follows the scale and shift of its page is no farther from where that puts it."""

_ROUNDS: Final = 4
_LARGEST: Final = 20.0
_CHANCE: Final = 4e-7
"""Less than this from full size is the rounding of single precision."""


@dataclass(frozen=True, slots=True)
class Fit:
    """What a page was drawn times, to the right and up, and how far it was shifted after that, in mm."""

    scale_x: float = 1.0
    scale_y: float = 1.0
    shift_x: float = 0.0
    shift_y: float = 0.0

    def apply(self, mark: Mark) -> Mark:
        if self == FULL_SIZE:
            return mark
        points = tuple((x * self.scale_x + self.shift_x, y * self.scale_y + self.shift_y) for x, y in mark.points)
        return Mark(points, mark.kind, mark.width * (abs(self.scale_x * self.scale_y) ** 0.5))


FULL_SIZE: Final = Fit()


@dataclass(frozen=True, slots=True)
class Pair:
    """A mark as it was laid out, and the one in the file that stands for it.

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


def match(expected: Sequence[Mark], found: Sequence[Mark]) -> Match:
    """The marks of a page in pairs, in the order of drawing, which every program keeps that saves a file again."""
    if [mark.kind for mark in expected] == [mark.kind for mark in found]:
        together = list(zip(expected, found, strict=True))
        fit = _fit(together)
        return Match(fit, tuple(_paired(*each, fit) for each in together), (), ())
    pairs, missing, added = [], list[Mark](), list[Mark]()
    in_turn = SequenceMatcher(None, _keys(expected), _keys(found), autojunk=False)
    for tag, start, end, other_start, other_end in in_turn.get_opcodes():
        ours, theirs = expected[start:end], found[other_start:other_end]
        if tag == "equal" or [mark.kind for mark in ours] == [mark.kind for mark in theirs]:
            pairs += [_paired(one, other, FULL_SIZE) for one, other in zip(ours, theirs, strict=True)]
        else:
            missing += ours
            added += theirs
    return Match(FULL_SIZE, tuple(pairs), tuple(missing), tuple(added))


def _keys(marks: Sequence[Mark]) -> list[tuple[object, ...]]:
    """What marks are, and where, to a tenth of a mm."""
    return [(mark.kind, *(round(at, 1) for at in mark.middle)) for mark in marks]


def _paired(one: Mark, other: Mark, fit: Fit) -> Pair:
    off = difference(one, other)
    return Pair(one, off, off if fit == FULL_SIZE else difference(fit.apply(one), other))


def difference(one: Mark, other: Mark) -> float:
    """The farthest that a corner or an end of one lies from that of the other, or the edge of a line, in mm.

    Corners may be named from any one on, and in either direction.
    """
    edges = abs(one.width - other.width) / 2
    off = _farthest(one.points, other.points)
    if off > TOLERANCE_MM:
        x, y = one.points[0]
        start = min(range(len(other.points)), key=lambda at: hypot(other.points[at][0] - x, other.points[at][1] - y))
        turned = other.points[start:] + other.points[:start]
        off = min(off, _farthest(one.points, turned), _farthest(one.points, turned[:1] + turned[:0:-1]))
    return max(edges, off)


def _farthest(points: Sequence[Point], others: Sequence[Point]) -> float:
    return max(hypot(x - other_x, y - other_y) for (x, y), (other_x, other_y) in zip(points, others, strict=True))


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
    kept = list(pairs)
    scale, shift = 1.0, median(found - place for place, found in pairs)
    for _ in range(_ROUNDS):
        offs = [abs(place * scale + shift - found) for place, found in pairs]
        usual = 3 * median(offs) + 1e-9
        kept = [pair for pair, off in zip(pairs, offs, strict=True) if off <= usual]
        scale, shift = _least_squares(kept)
    scale = 1.0 if abs(scale - 1) < _CHANCE else scale
    return scale, 0.0 if scale == 1 and abs(shift) < TOLERANCE_MM / 2 else shift


def _least_squares(pairs: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Full size where all lie at one place, or where no page could have been enlarged so."""
    mean, mean_found = (sum(values) / len(pairs) for values in zip(*pairs, strict=True))
    spread = sum((place - mean) ** 2 for place, _ in pairs)
    together = sum((place - mean) * (found - mean_found) for place, found in pairs)
    scale = together / spread if spread > 1 else 1.0
    scale = scale if 1 / _LARGEST < scale < _LARGEST else 1.0
    return scale, mean_found - scale * mean
