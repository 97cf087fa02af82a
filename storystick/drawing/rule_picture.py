"""Rules of a printer's test sheet as they came out, beside what they were drawn as: the difference is drawn larger."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.drawing.built_up import BuiltUp
from storystick.drawing.lettering import SIZE_MM, WORDS_PT
from storystick.drawing.shapes import Anchor, Line, Shape, Text

_LONGEST_MM: Final = 80.0
_DIFFERENCE_MM: Final = 10.0
_TICK_MM: Final = 2.5
_ROW_MM: Final = 11.0
_BETWEEN_MM: Final = 8.0
_WORDS_MM: Final = 24.0
_GAP_MM: Final = 3.0


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule with its ``name``, its ``nominal`` length in mm and the ``measured`` one, both also as labels."""

    name: str
    nominal: Fraction
    measured: Fraction
    nominal_label: str
    measured_label: str


@dataclass(frozen=True, slots=True)
class RulePicture:
    """The ``shapes``, and how many ``times`` each difference is drawn larger than its rule; None if there is none."""

    shapes: tuple[Shape, ...]
    times: float | None


def draw_rules(rules: Sequence[Rule]) -> RulePicture:
    """Each rule dashed as it was drawn, and below it bold as it came out; the first on top."""
    scale = _LONGEST_MM / float(max(rule.nominal for rule in rules))
    most = float(max(abs(rule.measured - rule.nominal) for rule in rules)) * scale
    times = _DIFFERENCE_MM / most if most else None
    shapes: list[Shape] = []
    for number, rule in enumerate(rules):
        shapes += _pair(rule, -number * (2 * _ROW_MM + _BETWEEN_MM), scale, times or 0.0)
    return RulePicture(tuple(shapes), times)


def _pair(rule: Rule, top: float, scale: float, times: float) -> Iterator[Shape]:
    drawn = float(rule.nominal) * scale
    out = drawn + float(rule.measured - rule.nominal) * scale * times
    yield Text(0.0, top + _TICK_MM + _GAP_MM, rule.name, WORDS_PT, bold=True)
    yield from _line(drawn, top, "as drawn", rule.nominal_label, 0.25, (1.4, 1.0))
    yield from _line(out, top - _ROW_MM, "as it came out", rule.measured_label, 0.6)


def _line(
    length: float, level: float, words: str, label: str, width: float, dashes: tuple[float, ...] = ()
) -> Iterator[Shape]:
    """From a common beginning, with what it is before it and its figure at its end."""
    left = _WORDS_MM
    yield Text(0.0, level - 1.0, words, WORDS_PT)
    yield Line(left, level, left + length, level, width, dashes)
    for end in (left, left + length):
        yield Line(end, level - _TICK_MM, end, level + _TICK_MM, width)
    figure = BuiltUp(label, SIZE_MM, bold=not dashes)
    yield from figure.shapes(left + length + _GAP_MM, level - 1.0, Anchor.START)
