"""The words in an opening of a reduced drawing: its name and size as they fit, or its number. All in mm on paper."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate, groupby
from typing import Final, TypeAlias

from storystick.drawing.lettering import NAME_MM, WORDS_PT, shortened, text_width_mm
from storystick.drawing.shapes import Rect, Shape, Text
from storystick.layout.cabinets.pieces import Bay
from storystick.lengths import Figures
from storystick.wording import by_number, ranges, without_number

_LINE_PITCH_MM: Final = 4.2
_LEAST_NAME_MM: Final = 11.0
_SPACE_MM: Final = 1.8
_INSET_ACROSS_MM: Final = 1.2
_INSET_UP_MM: Final = 0.85
_CLOSE_MM: Final = 0.35

_SideBySide: TypeAlias = tuple[tuple[str, bool], ...]
"""Words side by side, each with whether it is bold."""


@dataclass(frozen=True, slots=True)
class OpeningWords:
    """The lines of an opening, ``width_mm`` by ``height_mm`` with the room round them; no lines where none fit.

    ``keyed`` is whether its name and size have to be told elsewhere.
    """

    lines: tuple[_SideBySide, ...] = ()
    keyed: bool = False

    @property
    def width_mm(self) -> float:
        return max(map(_line_width, self.lines), default=0.0) + 2 * _INSET_ACROSS_MM

    @property
    def height_mm(self) -> float:
        lines = len(self.lines)
        return _LINE_PITCH_MM * (lines - 1) + NAME_MM + 2 * _INSET_UP_MM if lines else 0.0

    def place(self, x: float, y: float) -> Rect:
        """What it takes round a middle."""
        across, up = (self.width_mm / 2, self.height_mm / 2) if self.lines else (0.0, 0.0)
        return Rect(x - across, y - up, x + across, y + up)

    def draw(self, x: float, y: float) -> Iterator[Shape]:
        """The words round a middle."""
        first = y + _LINE_PITCH_MM * (len(self.lines) - 1) / 2 - NAME_MM / 2
        for number, line in enumerate(self.lines):
            yield from _draw_line(line, x, first - number * _LINE_PITCH_MM)


def opening_size(bay: Bay, figures: Figures) -> str:
    """The width and height of an opening, of the face frame's where there is one."""
    return f"{figures(bay.frame_x.size)} × {figures(bay.frame_z.size)}"


def write_opening(bay: Bay, number: int, figures: Figures, width_mm: float, height_mm: float) -> OpeningWords:
    """Choose the fullest words that an opening drawn so large can hold."""
    room = width_mm - 2 * _INSET_ACROSS_MM
    names = dict.fromkeys((bay.name, shortened(bay.name, WORDS_PT, room)))
    forms = (
        OpeningWords(lines)
        for name in names
        if name == bay.name or room >= _LEAST_NAME_MM
        for lines in _forms(name, bay, figures)
    )
    fitting = (words for words in forms if words.width_mm <= width_mm and words.height_mm <= height_mm)
    return next(fitting, _numbered(number, width_mm, height_mm))


def _numbered(number: int, width_mm: float, height_mm: float) -> OpeningWords:
    """The number alone, with less room round it, or nothing."""
    line = ((str(number), True),)
    fits = _line_width(line) + 2 * _CLOSE_MM <= width_mm and height_mm >= NAME_MM + 2 * _CLOSE_MM
    return OpeningWords((line,) if fits else (), keyed=True)


def write_key(bays: Sequence[tuple[int, Bay]], figures: Figures) -> Iterator[str]:
    """Openings with their numbers and sizes; those of a size and a name that follow each other share a line."""

    def words(numbered: tuple[int, Bay]) -> tuple[str, str]:
        return without_number(numbered[1].own_name or ""), opening_size(numbered[1], figures)

    for (named, size), alike in groupby(bays, key=words):
        numbers, own = zip(*alike, strict=True)
        names = f"  {', '.join(by_number(bay.own_name for bay in own))}" if named else ""
        yield f"{ranges(numbers)}{names}: {size}"


def _forms(name: str, bay: Bay, figures: Figures) -> Sequence[tuple[_SideBySide, ...]]:
    """The ways to write a name and a size, the most wanted first."""
    width, height = figures(bay.frame_x.size), figures(bay.frame_z.size)
    named, size = (name, False), (opening_size(bay, figures), True)
    return (
        ((named,), (size,)),
        ((named, size),),
        ((named,), ((f"{width} ×", True),), ((height, True),)),
    )


def _line_width(line: _SideBySide) -> float:
    return sum(text_width_mm(text, WORDS_PT, bold) for text, bold in line) + _SPACE_MM * (len(line) - 1)


def _draw_line(line: _SideBySide, middle: float, baseline: float) -> Iterator[Shape]:
    widths = (text_width_mm(text, WORDS_PT, bold) + _SPACE_MM for text, bold in line)
    lefts = accumulate(widths, initial=middle - _line_width(line) / 2)
    for (text, bold), left in zip(line, lefts, strict=False):
        yield Text(left, baseline, text, WORDS_PT, bold=bold)
