"""What stands in a drawn opening: its name and its clear size, as far as they have room, or a number."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate
from typing import Final, TypeAlias

from storystick.drawing.dimensions import CAPITAL_MM, FIGURE_PT, LINE_PITCH_MM
from storystick.drawing.lettering import shortened, text_width_mm
from storystick.drawing.shapes import Shape, Text
from storystick.job.model import Job
from storystick.layout.cabinets.model import Bay

_LEAST_NAME_MM: Final = 11.0
_SPACE_MM: Final = 1.8
_INSET_ACROSS_MM: Final = 1.5
_INSET_UP_MM: Final = 0.9
_CLOSE_MM: Final = 0.3

_Line: TypeAlias = tuple[tuple[str, bool], ...]
"""Words side by side, each with whether it is bold."""


@dataclass(frozen=True, slots=True)
class OpeningWords:
    """The lines of an opening, ``width_mm`` by ``height_mm`` with the room round them; no lines where none fit.

    ``keyed`` is whether its name and size have to be told elsewhere.
    """

    lines: tuple[_Line, ...]
    keyed: bool

    @property
    def width_mm(self) -> float:
        return max(map(_line_width, self.lines), default=0.0) + 2 * _INSET_ACROSS_MM

    @property
    def height_mm(self) -> float:
        return LINE_PITCH_MM * len(self.lines) + 2 * _INSET_UP_MM if self.lines else 0.0

    def draw(self, x: float, y: float) -> Iterator[Shape]:
        """The words round a middle."""
        first = y + LINE_PITCH_MM * (len(self.lines) - 1) / 2 - CAPITAL_MM / 2
        for number, line in enumerate(self.lines):
            yield from _draw_line(line, x, first - number * LINE_PITCH_MM)


def opening_size(bay: Bay, job: Job) -> str:
    """The width and height of an opening, of the face frame's where there is one."""
    return f"{job.label(bay.frame_x.size)} × {job.label(bay.frame_z.size)}"


def write_opening(bay: Bay, number: int, job: Job, width_mm: float, height_mm: float) -> OpeningWords:
    """Choose the fullest words that an opening drawn so large can hold."""
    room = width_mm - 2 * _INSET_ACROSS_MM
    names = dict.fromkeys((bay.name, shortened(bay.name, FIGURE_PT, room)))
    forms = (
        OpeningWords(lines, keyed=False)
        for name in names
        if name == bay.name or room >= _LEAST_NAME_MM
        for lines in _forms(name, bay, job)
    )
    fitting = (words for words in forms if words.width_mm <= width_mm and words.height_mm <= height_mm)
    return next(fitting, _numbered(number, width_mm, height_mm))


def _numbered(number: int, width_mm: float, height_mm: float) -> OpeningWords:
    """The number alone, with less room round it, or nothing."""
    line = ((str(number), True),)
    fits = _line_width(line) + 2 * _CLOSE_MM <= width_mm and height_mm >= CAPITAL_MM + 2 * _CLOSE_MM
    return OpeningWords((line,) if fits else (), keyed=True)


def write_key(bays: Sequence[tuple[int, Bay]], job: Job) -> Iterator[str]:
    """Openings with their numbers and sizes; nameless ones of a size that follow each other share a line."""
    first = last = 0
    said = ""
    for number, bay in bays:
        words = f"{_own_name(number, bay)}: {opening_size(bay, job)}"
        if said and words == said and words.startswith(":") and number == last + 1:
            last = number
            continue
        if said:
            yield _key_line(first, last, said)
        first, last, said = number, number, words
    if said:
        yield _key_line(first, last, said)


def _key_line(first: int, last: int, words: str) -> str:
    numbers = str(first) if first == last else f"{first} to {last}"
    return f"{numbers}{words}" if words.startswith(":") else f"{numbers}  {words}"


def _own_name(number: int, bay: Bay) -> str:
    """An opening's name, empty where it is only its number."""
    return "" if bay.name == f"opening {number}" else bay.name


def _forms(name: str, bay: Bay, job: Job) -> Sequence[tuple[_Line, ...]]:
    """The ways to write a name and a size, the most wanted first."""
    width, height = job.label(bay.frame_x.size), job.label(bay.frame_z.size)
    named, size = (name, False), (opening_size(bay, job), True)
    return (
        ((named,), (size,)),
        ((named, size),),
        ((named,), ((f"{width} ×", True),), ((height, True),)),
    )


def _line_width(line: _Line) -> float:
    return sum(text_width_mm(text, FIGURE_PT, bold) for text, bold in line) + _SPACE_MM * (len(line) - 1)


def _draw_line(line: _Line, middle: float, baseline: float) -> Iterator[Shape]:
    widths = (text_width_mm(text, FIGURE_PT, bold) + _SPACE_MM for text, bold in line)
    lefts = accumulate(widths, initial=middle - _line_width(line) / 2)
    for (text, bold), left in zip(line, lefts, strict=False):
        yield Text(left, baseline, text, FIGURE_PT, bold=bold)
