"""Labels lifted above their marks, with leaders; and what is left out where marks are too close.

A leader never leans past the next mark, and lands so that a figure is at least twice as near to its own mark as to any
other. What cannot stand so is left out: sizes first, then names, then every other figure,
until the rest can.

Labels never get small and rather go than mislead; what goes is said on the sheet, on the job sheet and by ``print``.
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

from storystick.drawing.lettering import shortened, text_width_mm
from storystick.drawing.placing_words import rising
from storystick.drawing.shapes import FINE_MM, Line, Shape, Text
from storystick.drawing.strip_lanes import FAN_MM, GROOVE_TOP, LIFTED_PT, LINE_MM, StripLanes
from storystick.drawing.window import WORDS_KEEP_MM, Window
from storystick.wording import counted, listed


@dataclass(frozen=True, slots=True)
class LeftOut:
    """How many sizes of openings, names, and figures found no room; what bears a figure is counted as that."""

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

_SPACE_MM: Final = 1.6
_LONGEST_UPWARD_NAME_MM: Final = 16.0
_UPWARD_START_MM: Final = 0.5
_CAPITAL_MM: Final = 2.2
"""The height of a capital or a figure of ``LIFTED_PT``."""

_END_MM: Final = 1.0
_ROUNDING_MM: Final = 1e-9


class Rank(IntEnum):
    """What a label says; the lowest is left out first."""

    SIZE = 0
    NAME = 1
    FIGURE = 2


@dataclass(frozen=True, slots=True)
class Wording:
    """A label's name in the regular face and its figure in the bold one; either may be empty.

    The name stands before the figure, or in a row behind it where that is first.
    """

    name: str
    figure: str
    name_pt: float = LIFTED_PT
    figure_pt: float = LIFTED_PT
    figure_first: bool = False

    @property
    def name_width(self) -> float:
        """With the space between it and the figure."""
        gap = _SPACE_MM if self.name and self.figure else 0.0
        return text_width_mm(self.name, self.name_pt) + gap

    @property
    def figure_width(self) -> float:
        return text_width_mm(self.figure, self.figure_pt, bold=True)

    @property
    def width(self) -> float:
        return self.name_width + self.figure_width

    def in_row(self, x: float, y: float) -> Iterator[Text]:
        """The label with its beginning at ``x`` and ``y``, reading to the right."""
        name_x = x + (self.width - text_width_mm(self.name, self.name_pt) if self.figure_first else 0.0)
        figure_x = x + (0.0 if self.figure_first else self.name_width)
        return _texts(
            Text(name_x, y, self.name, self.name_pt), Text(figure_x, y, self.figure, self.figure_pt, bold=True)
        )

    def upward(self, x: float, y: float) -> Iterator[Text]:
        """The label with its beginning at ``x`` and ``y``, reading upward, its name always first."""
        return _texts(
            Text(x, y, self.name, self.name_pt, upward=True),
            Text(x, y + self.name_width, self.figure, self.figure_pt, bold=True, upward=True),
        )


def _texts(*texts: Text) -> Iterator[Text]:
    return (text for text in texts if text.text)


@dataclass(frozen=True, slots=True)
class Lifted:
    """A label that found no room beside its mark at ``x``, from where its leader comes up from the height ``foot``.

    The leader may land from ``low`` to ``high``. All in mm from the window's left.
    """

    x: float
    low: float
    high: float
    wording: Wording
    foot: float
    rank: Rank

    def mirrored(self, width: float) -> Lifted:
        wording = replace(self.wording, figure_first=not self.wording.figure_first)
        return replace(self, x=width - self.x, low=width - self.high, high=width - self.low, wording=wording)


class Form(ABC):
    """How labels stand. The place of a label is the middle of its figure, or of its words where it bears none."""

    gap_mm: ClassVar[float]

    @abstractmethod
    def sides(self, label: Lifted) -> tuple[float, float]:
        """How far a label reaches left and right of its place."""

    @abstractmethod
    def play(self, label: Lifted) -> float:
        """How far from its place its leader may land and still be below what it leads to."""

    @abstractmethod
    def height_mm(self, labels: Iterable[Lifted]) -> float:
        """The height that labels need."""

    @abstractmethod
    def texts(self, label: Lifted, place: float, bottom: float) -> Iterator[Text]:
        """A label at its place above ``bottom``."""

    def landing(self, label: Lifted, place: float) -> float:
        """Where the leader lands: straight above its foot if it can."""
        play = self.play(label)
        return min(max(label.x, place - play), place + play)

    def bounds(self, label: Lifted, width: float) -> tuple[float, float]:
        """From where to where a label's place may lie in a window ``width`` mm wide."""
        play, (left, right) = self.play(label), self.sides(label)
        return max(label.low - play, WORDS_KEEP_MM + left), min(label.high + play, width - WORDS_KEEP_MM - right)

    def pitch(self, left: Lifted, right: Lifted) -> float:
        """How far the place of a label must at least be from that of one left of it."""
        return self.sides(left)[1] + self.gap_mm + self.sides(right)[0]


class InRow(Form):
    """Labels that read to the right, side by side in one line."""

    gap_mm = 2.4

    def sides(self, label: Lifted) -> tuple[float, float]:
        wording = label.wording
        if label.rank is not Rank.FIGURE:
            return wording.width / 2, wording.width / 2
        near, far = wording.figure_width / 2, wording.figure_width / 2 + wording.name_width
        return (near, far) if wording.figure_first else (far, near)

    def play(self, label: Lifted) -> float:
        return max(min(self.sides(label)) - _END_MM, 0.0)

    def height_mm(self, _: Iterable[Lifted]) -> float:
        return LINE_MM

    def texts(self, label: Lifted, place: float, bottom: float) -> Iterator[Text]:
        return label.wording.in_row(place - self.sides(label)[0], bottom + 0.7)


class Upward(Form):
    """Labels that read upward, for marks too close for a row."""

    gap_mm = 0.2

    def sides(self, _: Lifted) -> tuple[float, float]:
        return LINE_MM / 2, LINE_MM / 2

    def play(self, _: Lifted) -> float:
        return 0.0

    def height_mm(self, labels: Iterable[Lifted]) -> float:
        return max((label.wording.width for label in labels), default=0.0) + _UPWARD_START_MM

    def texts(self, label: Lifted, place: float, bottom: float) -> Iterator[Text]:
        return label.wording.upward(place + _CAPITAL_MM / 2, bottom + _UPWARD_START_MM)


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
        return self.form.height_mm(label for label, _ in self.labels)

    def draw(self, lanes: StripLanes) -> Iterator[Shape]:
        """The labels, with a leader from each down to its mark."""
        for label, place in self.labels:
            yield from self.form.texts(label, place, lanes.lifted_bottom)
            yield from _leader(label, self.form.landing(label, place), lanes)


def lift(labels: Iterable[Lifted], window: Window) -> LiftedLabels:
    """Places for lifted labels along a window.

    They are sought from the datum on, so that both strips of a pair leave the same ones out. Names stand on that side
    of their figures where the window goes on farther.
    """
    width, mirrored = window.width, window.direction < 0
    sided = (replace(label, wording=replace(label.wording, figure_first=label.x < width / 2)) for label in labels)
    ordered = sorted((label.mirrored(width) if mirrored else label for label in sided), key=lambda label: label.x)
    form: Form = InRow()
    standing, dropped = _stand(ordered, form, width)
    if dropped:
        form = Upward()
        standing, dropped = _stand([_shortened(label) for label in ordered], form, width)
    placed = list(zip((stood.label for stood in standing), _evened(standing, form, width), strict=True))
    if mirrored:
        placed = [(label.mirrored(width), width - place) for label, place in reversed(placed)]
    counts = Counter(label.rank for label in dropped)
    return LiftedLabels(tuple(placed), form, LeftOut(*(counts[rank] for rank in Rank)))


def _shortened(label: Lifted) -> Lifted:
    name = shortened(label.wording.name, LIFTED_PT, _LONGEST_UPWARD_NAME_MM)
    return replace(label, wording=Wording(name, label.wording.figure))


def _stand(labels: Sequence[Lifted], form: Form, width: float) -> tuple[list[_Standing], list[Lifted]]:
    """As many of the labels, rising, as can stand; each as far left as it may. And those that are left out."""
    standing: list[_Standing] = []
    dropped: list[Lifted] = []
    waiting = deque(labels)
    # A label that finds no room is thinned out together with those before it that pushed each other up to it; those
    # that are kept of the crowd are placed again.
    while waiting:
        label = waiting.popleft()
        low, high = form.bounds(label, width)
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


def _evened(standing: Sequence[_Standing], form: Form, width: float) -> list[float]:
    """The places as near to the marks as they can be, by least squares, held within what each label may."""
    if not standing:
        return []
    labels = [stood.label for stood in standing]
    before = list(accumulate((form.pitch(*pair) for pair in pairwise(labels)), initial=0.0))
    level = rising([label.x - offset for label, offset in zip(labels, before, strict=True)])
    # What those after it leave to each label, as the places of the standing are what those before it do.
    limits = [form.bounds(label, width)[1] - offset for label, offset in zip(labels, before, strict=True)]
    highest = list(accumulate(reversed(limits), min))[::-1]
    return [
        max(min(value, high) + offset, stood.place)
        for stood, value, high, offset in zip(standing, level, highest, before, strict=True)
    ]


def _leader(label: Lifted, landing: float, lanes: StripLanes) -> Iterator[Shape]:
    """Straight up from the mark, then leaning over to the label if that had to step aside."""
    if label.foot < lanes.fan_bottom and (lanes.fan or label.foot < GROOVE_TOP):
        yield Line(label.x, label.foot, label.x, lanes.fan_bottom, FINE_MM)
    if lanes.fan:
        yield Line(label.x, lanes.fan_bottom, landing, lanes.lifted_bottom, FINE_MM)
