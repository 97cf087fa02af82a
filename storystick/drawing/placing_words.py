"""Finding places for words: spread along a strip, or where what is drawn leaves room."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import accumulate, pairwise, product
from math import ceil, floor
from typing import Final

from storystick.drawing.shapes import Box, Line, Rect, Text

GAP_MM: Final = 1.2
"""The least clear space between lettering and what else stands in its lane."""

_ROUNDING_MM: Final = 1e-6


@dataclass(slots=True)
class Lane:
    """One line of lettering along a strip; ``taken`` are its stretches (left, right in mm) already in use."""

    taken: list[tuple[float, float]] = field(default_factory=list)

    def is_free(self, left: float, right: float) -> bool:
        """Whether nothing yet stands within ``GAP_MM`` of this stretch."""
        nearest = GAP_MM - _ROUNDING_MM
        return all(right + nearest <= start or end + nearest <= left for start, end in self.taken)

    def free_near(self, wanted: float, width: float, low: float, high: float) -> float | None:
        """The left of a free stretch ``width`` wide from ``low`` to ``high``, as near to ``wanted`` as can be."""
        beside = (left for start, end in self.taken for left in (start - GAP_MM - width, end + GAP_MM))
        nearest = min(max(wanted, low), high - width)
        free = (left for left in (nearest, *beside) if low <= left <= high - width and self.is_free(left, left + width))
        return min(free, key=lambda left: abs(left - wanted), default=None)

    def take(self, left: float, right: float) -> None:
        self.taken.append((left, right))


def gaps(taken: Iterable[tuple[float, float]], start: float, end: float) -> Iterator[tuple[float, float]]:
    """What some stretches leave free from ``start`` to ``end``."""
    for left, right in sorted(taken):
        if left > start:
            yield start, min(left, end)
        start = max(start, right)
        if start >= end:
            return
    yield start, end


def spread(wanted: Sequence[float], widths: Sequence[float], gap: float, low: float, high: float) -> list[float] | None:
    """The middles of labels that want to be at the rising places ``wanted``, in mm; None where they have no room.

    They keep their order, stand ``gap`` apart and between ``low`` and ``high``, and the sum of their squared shifts is
    the least. With the widths before each taken off, what is left must only rise: isotonic regression, which pooling
    adjacent violators solves exactly (Ayer et al., Annals of Mathematical Statistics 26, 1955).
    """
    if not wanted:
        return []
    pitches = ((near + far) / 2 + gap for near, far in pairwise(widths))
    before = list(accumulate(pitches, initial=0.0))
    least, most = low + widths[0] / 2, high - widths[-1] / 2 - before[-1]
    if least > most:
        return None
    level = rising([place - offset for place, offset in zip(wanted, before, strict=True)])
    return [min(max(value, least), most) + offset for value, offset in zip(level, before, strict=True)]


def rising(values: Sequence[float]) -> list[float]:
    """The rising values nearest to ``values`` by least squares: neighbours that fall are pooled at their mean."""
    pools: list[tuple[float, int]] = []
    for value in values:
        mean, count = value, 1
        while pools and pools[-1][0] > mean:
            earlier, size = pools.pop()
            mean, count = (earlier * size + mean * count) / (size + count), size + count
        pools.append((mean, count))
    return [mean for mean, count in pools for _ in range(count)]


_PIECE_MM: Final = 4.0
_SQUARE_MM: Final = 8.0


@dataclass(slots=True)
class FreePlaces:
    """A rectangle that words may stand in, less what is taken of it: that is kept by the squares that it reaches."""

    bounds: Rect
    _taken: defaultdict[tuple[int, int], list[Rect]] = field(default_factory=lambda: defaultdict(list), init=False)

    def is_free(self, place: Rect, within: Box | None = None) -> bool:
        """Whether nothing is there; a box that it may lie within is no hindrance."""
        own = within.extent if within else None
        near = (other for square in _squares(place) for other in self._taken.get(square, ()))
        return place.lies_in(self.bounds) and not any(place.meets(other) for other in near if other != own)

    def first(self, choices: Iterable[Text], within: Box | None = None) -> Text | None:
        """The first of some texts that has its place free, which is then taken; None where none has."""
        for text in choices:
            if self.is_free(place := text.reach(), within):
                self.take_place(place)
                return text
        return None

    def take(self, shapes: Iterable[Box | Line], around: float) -> None:
        """Keep words off some shapes; a slanting line is kept off in short pieces."""
        for shape in shapes:
            if isinstance(shape, Box):
                self.take_place(shape.extent)
            else:
                for piece in _pieces(shape):
                    self.take_place(piece.wider(around))

    def take_place(self, place: Rect) -> None:
        """Keep words off a rectangle."""
        for square in _squares(place):
            self._taken[square].append(place)

    def corner_for(self, width: float, height: float, step: float) -> tuple[float, float] | None:
        """The lowest free place for a rectangle, the leftmost of those, by its lower left corner."""
        across = int((self.bounds.right - self.bounds.left - width) / step)
        up = int((self.bounds.top - self.bounds.bottom - height) / step)
        for row in range(up + 1):
            for column in range(across + 1):
                left, bottom = self.bounds.left + column * step, self.bounds.bottom + row * step
                if self.is_free(place := Rect(left, bottom, left + width, bottom + height)):
                    self.take_place(place)
                    return left, bottom
        return None


def _squares(place: Rect) -> Iterator[tuple[int, int]]:
    """The squares that a rectangle reaches, each by its column and its row."""
    columns, rows = (
        range(floor(low / _SQUARE_MM), floor(high / _SQUARE_MM) + 1)
        for low, high in ((place.left, place.right), (place.bottom, place.top))
    )
    return product(columns, rows)


def _pieces(line: Line) -> Iterator[Rect]:
    run, rise = line.x2 - line.x1, line.y2 - line.y1
    count = ceil(max(abs(run), abs(rise)) / _PIECE_MM) if run and rise else 1
    for number in range(count):
        xs = sorted(line.x1 + run * (number + end) / count for end in (0, 1))
        ys = sorted(line.y1 + rise * (number + end) / count for end in (0, 1))
        yield Rect(xs[0], ys[0], xs[1], ys[1])
