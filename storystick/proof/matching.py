"""Which figure on a page stands for which that was laid out, and how the whole page was enlarged and shifted."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence, Set
from dataclasses import dataclass
from itertools import product
from math import floor, hypot
from statistics import median
from typing import Final

from storystick.proof.figures import Bounds, Figure, Point

TOLERANCE_MM: Final = 0.001
"""What differs by no more is true: the file has its places to 1e-6 of a point, other programs that save it again to
about 1e-3 of a point (0.0004 mm), and a printer at 600 dots an inch has dots of 0.04 mm."""

_NEAR_MM: Final = 2.0
"""A figure that lies farther from its place is another one."""

_ALONG_MM: Final = 0.01
"""What follows the scale and shift of its page is no farther from where that puts it."""

_CROWDED: Final = 3
_CROWD: Final = 1000
"""A page with so many more figures than were laid out was drawn on, not enlarged; to look for a scale takes long."""

_MOST_AT_A_PLACE: Final = 50
_ROUNDS: Final = 4
_QUANTILES: Final = 100
_LARGEST: Final = 20.0
_SCALE_OF_CHANCE: Final = 1e-7
"""Less than this from full size is rounding: 0.0005 mm along the longest page."""


@dataclass(frozen=True, slots=True)
class Fit:
    """What a page was drawn times, to the right and up, and how far it was shifted after that, in mm."""

    scale_x: float = 1.0
    scale_y: float = 1.0
    shift_x: float = 0.0
    shift_y: float = 0.0

    def apply(self, figure: Figure) -> Figure:
        points = tuple((x * self.scale_x + self.shift_x, y * self.scale_y + self.shift_y) for x, y in figure.points)
        width = None if figure.width is None else figure.width * (abs(self.scale_x * self.scale_y) ** 0.5)
        return Figure(points, figure.grey, width, figure.dashed, figure.cap)

    def undo(self, figure: Figure) -> Figure:
        """Where a figure of the page would lie if the page had been left as it was laid out."""
        back = Fit(1 / self.scale_x, 1 / self.scale_y, -self.shift_x / self.scale_x, -self.shift_y / self.scale_y)
        return back.apply(figure)

    def undo_box(self, box: Bounds) -> Bounds:
        """The same for a place."""
        return self.undo(box.area).bounds


@dataclass(frozen=True, slots=True)
class Pair:
    """A figure as it was laid out, and the one on the page that stands for it.

    ``off_mm`` is the most that a corner, an end or an edge of the ink lies away from its place; ``off_after_fit_mm``
    is what of that is left when the fit of the page is taken into account.
    """

    expected: Figure
    found: Figure
    off_mm: float
    off_after_fit_mm: float


@dataclass(frozen=True, slots=True)
class Match:
    """The figures of a page in pairs, and those that have no partner."""

    fit: Fit
    pairs: tuple[Pair, ...]
    missing: tuple[Figure, ...]
    added: tuple[Figure, ...]


def match(expected: Sequence[Figure], found: Sequence[Figure]) -> Match:
    """The pairs of a page; they are looked for by the place that the page's scale and shift give them."""
    fit = Fit()
    pairs = _pair(expected, found, fit)
    away = len(pairs) < len(expected) or any(off > TOLERANCE_MM for _, _, off in pairs)
    if away and len(found) <= _CROWDED * len(expected) + _CROWD:
        fit, pairs = _refined(expected, found)
    fit = _rounded(fit)
    if not _sure(expected, found, fit, pairs):
        fit, pairs = Fit(), _pair(expected, found, Fit())
    taken = {index for _, index, _ in pairs}, {index for index, _, _ in pairs}
    return Match(
        fit,
        tuple(_as_pair(expected[one], found[other], fit) for one, other, _ in pairs),
        tuple(figure for index, figure in enumerate(expected) if index not in taken[1]),
        tuple(figure for index, figure in enumerate(found) if index not in taken[0]),
    )


def _as_pair(expected: Figure, found: Figure, fit: Fit) -> Pair:
    return Pair(expected, found, difference(expected, found), difference(fit.apply(expected), found))


def _refined(expected: Sequence[Figure], found: Sequence[Figure]) -> tuple[Fit, list[_Indices]]:
    """The fit that pairs the most figures, begun from full size and from how the places are spread over the page."""
    tried = []
    for fit in (Fit(), _by_spread(expected, found)):
        pairs = _pair(expected, found, fit)
        for _ in range(_ROUNDS):
            better = _by_pairs([(expected[one], found[other]) for one, other, _ in pairs], fit)
            pairs = _pair(expected, found, better)
            if better == fit:
                break
            fit = better
        tried.append((len(pairs), -sum(off for _, _, off in pairs), fit, pairs))
    _, _, fit, pairs = max(tried, key=lambda each: each[:2])
    return fit, pairs


def _sure(expected: Sequence[Figure], found: Sequence[Figure], fit: Fit, pairs: Sequence[_Indices]) -> bool:
    """Whether most of a page went along with a scale and a shift; else it has other things on it."""
    offs = [difference(fit.apply(expected[one]), found[other]) for one, other, _ in pairs]
    return 2 * len(pairs) >= len(expected) and (not offs or median(offs) <= _ALONG_MM)


def _rounded(fit: Fit) -> Fit:
    """The fit without what is nothing but rounding."""
    scales = (1.0 if abs(scale - 1) < _SCALE_OF_CHANCE else scale for scale in (fit.scale_x, fit.scale_y))
    shifts = (0.0 if abs(shift) < TOLERANCE_MM / 2 else shift for shift in (fit.shift_x, fit.shift_y))
    return Fit(*scales, *shifts)


_Indices = tuple[int, int, float]
"""The place of a figure among those laid out, of its partner among those found, and how far they are apart."""


def _pair(expected: Sequence[Figure], found: Sequence[Figure], fit: Fit) -> list[_Indices]:
    """Each figure with one in its place, the others with the nearest of their kind, the nearest pairs first."""
    placed = [fit.apply(figure) for figure in expected]
    pairs = list(_in_place(placed, found))
    done = {one for one, _, _ in pairs}, {other for _, other, _ in pairs}
    near = _Near(found, done[1])
    candidates = []
    for index, figure in enumerate(placed):
        if index not in done[0]:
            best = [(difference(figure, found[other]), index, other) for other in near.around(figure)]
            candidates += [each for each in best if each[0] <= _NEAR_MM]
    for off, one, other in sorted(candidates):
        if one not in done[0] and other not in done[1]:
            done[0].add(one)
            done[1].add(other)
            pairs.append((one, other, off))
    return pairs


def _in_place(placed: Sequence[Figure], found: Sequence[Figure]) -> Iterator[_Indices]:
    """Most of the figures that lie in their place: those that begin in the same hundredth of a mm."""
    by_start: defaultdict[tuple[object, ...], list[int]] = defaultdict(list)
    for other, figure in enumerate(found):
        by_start[figure.kind, *_start(figure)].append(other)
    for one, figure in enumerate(placed):
        there = by_start[figure.kind, *_start(figure)]
        offs = ((difference(figure, found[other]), other) for other in there[:_MOST_AT_A_PLACE])
        off, other = min(offs, default=(_NEAR_MM, 0))
        if off <= TOLERANCE_MM:
            there.remove(other)
            yield one, other, off


def _start(figure: Figure) -> Point:
    x, y = figure.points[0]
    return round(x, 2), round(y, 2)


class _Near:
    """Figures, less those that are taken, by their kind and by the square that their middle lies in."""

    def __init__(self, figures: Sequence[Figure], taken: Set[int]) -> None:
        self._squares: defaultdict[tuple[object, ...], list[int]] = defaultdict(list)
        for index, figure in enumerate(figures):
            if index not in taken:
                self._squares[figure.kind, *_square(figure)].append(index)

    def around(self, figure: Figure) -> Iterator[int]:
        column, row = _square(figure)
        for right, up in product((-1, 0, 1), repeat=2):
            yield from self._squares.get((figure.kind, column + right, row + up), ())


def _square(figure: Figure) -> tuple[int, int]:
    x, y = figure.middle
    return floor(x / _NEAR_MM), floor(y / _NEAR_MM)


def difference(one: Figure, other: Figure) -> float:
    """The farthest that a corner or an end of one lies from that of the other, or the edge of a stroke, in mm.

    Corners may be named from any one on, and in either direction.
    """
    edges = abs((one.width or 0.0) - (other.width or 0.0)) / 2
    straight = _farthest(one.points, other.points)
    if straight <= TOLERANCE_MM:
        return max(edges, straight)
    turns = (other.points[at:] + other.points[:at] for at in range(len(other.points)))
    return max(edges, min(_farthest(one.points, way) for turn in turns for way in (turn, turn[::-1])))


def _farthest(points: Sequence[Point], others: Sequence[Point]) -> float:
    return max(hypot(x - other_x, y - other_y) for (x, y), (other_x, other_y) in zip(points, others, strict=True))


def _by_spread(expected: Sequence[Figure], found: Sequence[Figure]) -> Fit:
    """A fit from how the middles are spread, whatever their order: it needs no pairs."""
    if not expected or not found:
        return Fit()
    axes = [_line(_quantiles(expected, axis), _quantiles(found, axis)) for axis in (0, 1)]
    return _fit(axes)


def _quantiles(figures: Sequence[Figure], axis: int) -> list[float]:
    places = sorted(figure.middle[axis] for figure in figures)
    return [places[round(step * (len(places) - 1) / _QUANTILES)] for step in range(_QUANTILES + 1)]


def _by_pairs(pairs: Sequence[tuple[Figure, Figure]], otherwise: Fit) -> Fit:
    if not pairs:
        return otherwise
    middles = [(one.middle, other.middle) for one, other in pairs]
    return _fit([_line([one[axis] for one, _ in middles], [other[axis] for _, other in middles]) for axis in (0, 1)])


def _fit(axes: Sequence[tuple[float, float]]) -> Fit:
    (scale_x, shift_x), (scale_y, shift_y) = axes
    return Fit(scale_x, scale_y, shift_x, shift_y)


def _line(places: Sequence[float], found: Sequence[float]) -> tuple[float, float]:
    """Scale and shift that take the places to those found, by least squares without those that do not go along.

    What is off by more than three times the median of all is left out in the end, so that one band that was moved
    does not look like a page that was enlarged.
    """
    kept = list(zip(places, found, strict=True))
    scale, shift = 1.0, 0.0
    for _ in range(_ROUNDS):
        scale, shift = _least_squares(kept)
        offs = [abs(place * scale + shift - at) for place, at in zip(places, found, strict=True)]
        usual = 3 * median(offs) + 1e-9
        kept = [pair for pair, off in zip(zip(places, found, strict=True), offs, strict=True) if off <= usual]
    return scale, shift


def _least_squares(pairs: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Full size where all lie at one place, or where no page could have been enlarged so."""
    mean, mean_found = (sum(values) / len(pairs) for values in zip(*pairs, strict=True))
    spread = sum((place - mean) ** 2 for place, _ in pairs)
    together = sum((place - mean) * (at - mean_found) for place, at in pairs)
    scale = together / spread if spread > 1 else 1.0
    scale = scale if 1 / _LARGEST < scale < _LARGEST else 1.0
    return scale, mean_found - scale * mean
