"""Questions that a new job is made from, and what is answered: read, with what is usual where nothing is said."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum
from fractions import Fraction
from typing import Final

from storystick.errors import Fault, FaultCollector, Where, as_written
from storystick.job.kinds import read_name
from storystick.job.other_words import unknown
from storystick.lengths import Units, read_length, read_size, write_exact

MOST_OPENINGS: Final = 60
UNITS: Final = "units"
"""The name of the question for the units, which every start asks first."""


class AnswerKind(Enum):
    """What an answer is: one length above 0, several, a whole number, a name, or one of a few words."""

    LENGTH = "length"
    LENGTHS = "lengths"
    COUNT = "count"
    NAME = "name"
    CHOICE = "choice"


@dataclass(frozen=True, slots=True)
class Question:
    """One thing that is asked: in the text's ``words``, with an ``example`` and what is usual, for inch and for mm.

    ``only_if`` names another question and the answers to it for which this one is asked at all. ``key`` leads to where
    the answer stands in the job that is written: the steps from the head of the file.
    """

    name: str
    words: str
    example: Mapping[Units, str]
    default: Mapping[Units, str]
    kind: AnswerKind
    choices: Mapping[str, str] = field(default_factory=dict)
    only_if: tuple[str, tuple[str, ...]] | None = None
    key: tuple[str | int, ...] = ()

    @property
    def option(self) -> str:
        """As the command line spells it."""
        return f"--{self.name.replace('_', '-')}"

    def read(self, text: str, units: Units) -> object:
        """What the answer says: lengths in mm.

        Raises:
            Fault: it is not an answer to this.
        """
        return _READERS[self.kind](self, text, units)


class Answers:
    """What was answered to the questions of a start, what is usual where nothing was; every fault of it at once."""

    def __init__(self, questions: Sequence[Question], typed: Mapping[str, str]) -> None:
        """Faults of what was ``typed`` are those of :attr:`faults`, by the question's name."""
        self.faults: dict[str, Fault] = {}
        self.texts: dict[str, str] = {}
        self.values: dict[str, object] = {}
        self.units = Units.INCH
        for question in questions:
            if not self.asks(question):
                continue
            text = typed.get(question.name, "").strip() or question.default[self.units]
            try:
                self.values[question.name] = question.read(text, self.units)
                self.texts[question.name] = text
            except Fault as fault:
                self.faults[question.name] = fault.at(Where(question.words, question.key))
            self.units = Units(self.texts.get(UNITS, self.units))
        known = {question.name for question in questions}
        for name in typed.keys() - known:
            self.faults[name] = unknown(name, "a question", known).at(Where(name))

    def asks(self, question: Question) -> bool:
        """Whether the question is asked, after the answers so far."""
        if question.only_if is None:
            return True
        name, answers = question.only_if
        return self.texts.get(name) in answers

    def __contains__(self, name: str) -> bool:
        return name in self.texts

    def __getitem__(self, name: str) -> str:
        """The answer in the job file's language, as it was typed."""
        return self.written(self.texts[name])

    def written(self, text: str) -> str:
        """Text in the job file's language: figures of a job in mm without quotes, where they are plain."""
        return text if self.units is Units.MM and _PLAIN_NUMBER.fullmatch(text) else _quoted(text)

    def mm(self, name: str) -> Fraction:
        """A length that was answered, in mm."""
        length = self.values[name]
        assert isinstance(length, Fraction)
        return length

    def count(self, name: str) -> int:
        """A whole number that was answered."""
        count = self.values[name]
        assert isinstance(count, int)
        return count

    def each(self, name: str) -> tuple[str, ...]:
        """Several lengths that were answered, each as it was typed."""
        return _split(self.texts[name])

    def is_(self, name: str, *words: str) -> bool:
        """Whether one of these was answered."""
        return self.texts.get(name) in words

    def near(self, length: Fraction) -> str:
        """A length of our own, in mm, to the nearest 1/16 in or 1 mm but not nothing."""
        return self._steps(max(round(length / self._step), 1))

    def at_least(self, length: Fraction) -> str:
        """The same, but not less than the length."""
        return self._steps(-(-length // self._step))

    @property
    def _step(self) -> Fraction:
        return Units.INCH.in_mm / 16 if self.units is Units.INCH else Fraction(1)

    def _steps(self, number: int) -> str:
        return self.written(write_exact(number * self._step, self.units))

    def by_units(self, inch: str, mm: str) -> str:
        """What is usual in each of the units."""
        return self.written(inch if self.units is Units.INCH else mm)


_PLAIN_NUMBER: Final = re.compile(r"(?:0|[1-9][0-9]*)(?:\.[0-9]+)?")


def _quoted(text: str) -> str:
    """Text in the quotes of the job file's language."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'


def _split(text: str) -> tuple[str, ...]:
    """Lengths that stand one after another, with a semicolon, a comma and a space, or a line's end between them."""
    return tuple(part for piece in re.split(r";|,(?=\s|$)|\n", text) if (part := piece.strip()))


def _read_length(_: Question, text: str, units: Units) -> object:
    return read_size(text, units)


def _read_lengths(_: Question, text: str, units: Units) -> object:
    if not (parts := _split(text)):
        raise Fault("no size is given", "write one or more, with a comma and a space between each two")
    if len(parts) > MOST_OPENINGS:
        raise Fault(f"these are {len(parts)} sizes; at most {MOST_OPENINGS} are allowed here", "write fewer")
    collector = FaultCollector()
    for number, part in enumerate(parts, 1):
        with collector.at(Where(str(number))):
            if part.count(",") > 1:
                raise Fault(f"{as_written(part)} is not one length", "put a space after each comma")
            read_size(part, units)
    if collector.faults:
        raise collector.faults[0]
    return tuple(read_length(part, units) for part in parts)


def _read_count(_: Question, text: str, __: Units) -> object:
    if not re.fullmatch("[0-9]{1,3}", text) or not 1 <= int(text) <= MOST_OPENINGS:
        raise Fault(f"{as_written(text)} is not a whole number from 1 to {MOST_OPENINGS}")
    return int(text)


def _read_name(_: Question, text: str, __: Units) -> object:
    return read_name(text)


def _read_choice(question: Question, text: str, _: Units) -> object:
    if text not in question.choices:
        raise unknown(text, "an answer here", question.choices)
    return text


_READERS: Final[Mapping[AnswerKind, Callable[[Question, str, Units], object]]] = {
    AnswerKind.LENGTH: _read_length,
    AnswerKind.LENGTHS: _read_lengths,
    AnswerKind.COUNT: _read_count,
    AnswerKind.NAME: _read_name,
    AnswerKind.CHOICE: _read_choice,
}
