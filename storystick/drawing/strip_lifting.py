"""Figures lifted above their marks, with leaders; and what is left out where marks are too close.

A leader never leans past the next mark, and lands so that a figure is at least twice as near to its own mark as to any
other. What cannot stand so is left out: sizes first, then every other figure, until the rest can.

Figures never get small and rather go than mislead; what goes is said on the sheet, on the job sheet and by ``print``.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections import Counter, deque
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import IntEnum
from itertools import accumulate, pairwise
from math import inf
from typing import ClassVar, Final

from storystick.drawing.built_up import BuiltUp
from storystick.drawing.placing_words import rising
from storystick.drawing.shapes import FINE_MM, Anchor, Line, Shape
from storystick.drawing.strip_lanes import FAN_MM, StripLanes
from storystick.drawing.window import Window
from storystick.wording import counted, listed


@dataclass(frozen=True, slots=True)
class LeftOut:
    """How many sizes of openings, names, and figures found no room."""

    sizes: int = 0
    names: int = 0
    figures: int = 0

    def __add__(self, other: LeftOut) -> LeftOut:
        return LeftOut(self.sizes + other.sizes, self.names + other.names, self.figures + other.figures)

    def __bool__(self) -> bool:
        return bool(self.sizes or self.names or self.figures)

    @property
    def sentence(self) -> str:
        """That, as the end of what is said of a strip."""
        return f"has its marks so close that {self.words} found no room"

    @property
    def words(self) -> str:
        """Such as "3 sizes, 1 name and 12 figures"; empty for nothing."""
        counts = ((self.sizes, "size"), (self.names, "name"), (self.figures, "figure"))
        return listed([counted(number, word) for number, word in counts if number] or [""])


FARTHEST_MM: Final = 18.0
"""No leader leans over by more."""

_UPWARD_START_MM: Final = 0.5
_END_MM: Final = 1.0
_LEG_MM: Final = 0.3
_ROUND_MM: Final = 0.1
"""So far round figures go beyond the height of a capital, and a hair."""

_STROKE_MM: Final = 0.02
"""So much farther the strokes of "full" go."""

_BUILT_UP_APART_MM: Final = 0.4
_ROUNDING_MM: Final = 1e-9


class Rank(IntEnum):
    """What a label says; the lowest is left out first."""

    SIZE = 0
    FIGURE = 1


@dataclass(frozen=True, slots=True)
class Lifted:
    """A figure that found no room beside its mark at ``x``, from where its leader comes up from the height ``foot``.

    The leader may land from ``low`` to ``high``. All in mm from the window's left.
    """

    x: float
    low: float
    high: float
    figure: BuiltUp
    foot: float
    rank: Rank

    @property
    def in_line(self) -> Lifted:
        """The same with its fraction in one line, which is less high."""
        return replace(self, figure=replace(self.figure, in_line=True))

    def mirrored(self, width: float) -> Lifted:
        return replace(self, x=width - self.x, low=width - self.high, high=width - self.low)


class Form(ABC):
    """How lifted figures stand; the place of one is its middle."""

    gap_mm: ClassVar[float]

    @abstractmethod
    def half(self, label: Lifted) -> float:
        """How far a label reaches left and right of its place."""

    @abstractmethod
    def play(self, label: Lifted) -> float:
        """How far from its place its leader may land and still be below what it leads to."""

    @abstractmethod
    def height_mm(self, labels: Iterable[Lifted]) -> float:
        """The height that labels need."""

    @abstractmethod
    def shapes(self, label: Lifted, place: float, bottom: float) -> Iterator[Shape]:
        """A label at its place above ``bottom``."""

    def landing(self, label: Lifted, place: float) -> float:
        """Where the leader lands: straight above its foot if it can."""
        play = self.play(label)
        return min(max(label.x, place - play), place + play)

    def bounds(self, label: Lifted, limits: tuple[float, float]) -> tuple[float, float]:
        """From where to where a label's place may lie between the ``limits`` of a window."""
        play, half = self.play(label), self.half(label) + _STROKE_MM
        return max(label.low - play, limits[0] + half), min(label.high + play, limits[1] - half)

    def pitch(self, left: Lifted, right: Lifted) -> float:
        """How far the place of a label must at least be from that of one left of it."""
        return self.half(left) + self.gap_mm + self.half(right)


class InRow(Form):
    """Figures that read to the right, side by side in one line."""

    gap_mm = 2.4

    def half(self, label: Lifted) -> float:
        return label.figure.width_mm / 2

    def play(self, label: Lifted) -> float:
        return max(self.half(label) - _END_MM, 0.0)

    def height_mm(self, labels: Iterable[Lifted]) -> float:
        figures = [label.figure for label in labels]
        above = max((figure.above_mm for figure in figures), default=0.0)
        return above + max((figure.below_mm for figure in figures), default=0.0) + (_LEG_MM if figures else 0.0)

    def shapes(self, label: Lifted, place: float, bottom: float) -> Iterator[Shape]:
        return label.figure.shapes(place, bottom + _LEG_MM + label.figure.below_mm, Anchor.MIDDLE)


class Upward(Form):
    """Figures that read upward, for marks too close for a row."""

    gap_mm = 0.4

    def pitch(self, left: Lifted, right: Lifted) -> float:
        """More beside a fraction that is built up: its figures would be read with those of the next one."""
        built_up = any(label.figure.below_mm and not label.figure.in_line for label in (left, right))
        return super().pitch(left, right) + (_BUILT_UP_APART_MM if built_up else 0.0)

    def half(self, label: Lifted) -> float:
        return (label.figure.above_mm + label.figure.below_mm) / 2 + _ROUND_MM

    def play(self, _: Lifted) -> float:
        return 0.0

    def height_mm(self, labels: Iterable[Lifted]) -> float:
        return max((label.figure.width_mm for label in labels), default=0.0) + _UPWARD_START_MM

    def shapes(self, label: Lifted, place: float, bottom: float) -> Iterator[Shape]:
        baseline = place + (label.figure.above_mm - label.figure.below_mm) / 2
        return label.figure.shapes(baseline, bottom + _UPWARD_START_MM, upward=True)


class Close(Upward):
    """The same nearer to each other, where one of them would have no room else."""

    gap_mm = 0.2


@dataclass(frozen=True, slots=True)
class _Standing:
    """A label with the least place that those before it leave it; whether one of them pushed it there."""

    label: Lifted
    place: float
    pushed: bool


@dataclass(frozen=True, slots=True)
class LiftedLabels:
    """Labels with their places, and what is left out."""

    labels: tuple[tuple[Lifted, float], ...]
    form: Form
    left_out: LeftOut

    @property
    def fan_mm(self) -> float:
        """The height that leaning leaders need."""
        leans = (abs(self.form.landing(label, place) - label.x) for label, place in self.labels)
        return FAN_MM if any(lean > FINE_MM for lean in leans) else 0.0

    @property
    def height_mm(self) -> float:
        return self.form.height_mm(label for label, _ in self.labels) if self.labels else 0.0

    def draw(self, lanes: StripLanes) -> Iterator[Shape]:
        """The labels, with a leader from each down to its mark."""
        for label, place in self.labels:
            yield from self.form.shapes(label, place, lanes.lifted_bottom)
            yield from _leader(label, self.form.landing(label, place), lanes)


def lift(labels: Iterable[Lifted], window: Window) -> LiftedLabels:
    """Places for lifted labels along a window.

    They are sought from the datum on, so that both strips of a pair leave the same ones out.
    """
    width, mirrored = window.width, window.direction < 0
    low, high = window.words_limits
    limits = (width - high, width - low) if mirrored else (low, high)
    ordered = sorted((label.mirrored(width) if mirrored else label for label in labels), key=lambda label: label.x)
    form: Form = InRow()
    standing, dropped = _stand(ordered, form, limits)
    if dropped:
        form = Upward()
        standing, dropped = _stand(ordered, form, limits)
    if dropped:
        standing, dropped = _stand([label.in_line for label in ordered], form, limits)
    if dropped:
        form = Close()
        standing, dropped = _stand([label.in_line for label in ordered], form, limits)
    placed = list(zip((stood.label for stood in standing), _evened(standing, form, limits), strict=True))
    if mirrored:
        placed = [(label.mirrored(width), width - place) for label, place in reversed(placed)]
    counts = Counter(label.rank for label in dropped)
    left_out = LeftOut(sizes=counts[Rank.SIZE], figures=counts[Rank.FIGURE])
    return LiftedLabels(tuple(placed), form, left_out)


def _stand(labels: Sequence[Lifted], form: Form, limits: tuple[float, float]) -> tuple[list[_Standing], list[Lifted]]:
    """As many of the labels, rising, as can stand; each as far left as it may. And those that are left out."""
    standing: list[_Standing] = []
    dropped: list[Lifted] = []
    waiting = deque(labels)
    # A label that finds no room is thinned out together with those before it that pushed each other up to it; those
    # that are kept of the crowd are placed again.
    while waiting:
        label = waiting.popleft()
        low, high = form.bounds(label, limits)
        after = standing[-1].place + form.pitch(standing[-1].label, label) if standing else -inf
        place = max(low, after)
        if place <= high + _ROUNDING_MM:
            standing.append(_Standing(label, place, after > low))
            continue
        crowd = [label]
        while low <= high and standing:
            crowd.append(standing[-1].label)
            if not standing.pop().pushed:
                break
        kept, without = _thinned(crowd[::-1])
        dropped += without
        waiting.extendleft(reversed(kept))
    return standing, dropped


def _thinned(crowd: Sequence[Lifted]) -> tuple[Sequence[Lifted], Sequence[Lifted]]:
    """Of labels that push each other those that are kept, all but the lowest in rank or every other figure; and the
    others."""
    if len(crowd) == 1:
        return [], crowd
    least = min(label.rank for label in crowd)
    if least is Rank.FIGURE:
        return crowd[::2], crowd[1::2]
    return [label for label in crowd if label.rank > least], [label for label in crowd if label.rank is least]


def _evened(standing: Sequence[_Standing], form: Form, limits: tuple[float, float]) -> list[float]:
    """The places as near to the marks as they can be, by least squares, held within what each label may."""
    if not standing:
        return []
    labels = [stood.label for stood in standing]
    before = list(accumulate((form.pitch(*pair) for pair in pairwise(labels)), initial=0.0))
    level = rising([label.x - offset for label, offset in zip(labels, before, strict=True)])
    # What those after it leave to each label, as the places of the standing are what those before it do.
    highest_each = [form.bounds(label, limits)[1] - offset for label, offset in zip(labels, before, strict=True)]
    highest = list(accumulate(reversed(highest_each), min))[::-1]
    return [
        max(min(value, high) + offset, stood.place)
        for stood, value, high, offset in zip(standing, level, highest, before, strict=True)
    ]


def _leader(label: Lifted, landing: float, lanes: StripLanes) -> Iterator[Shape]:
    """Straight up from the mark, then leaning over to the label if that had to step aside."""
    yield Line(label.x, label.foot, label.x, lanes.fan_bottom, FINE_MM)
    if lanes.fan:
        yield Line(label.x, lanes.fan_bottom, landing, lanes.lifted_bottom, FINE_MM)
