"""From a few sizes in plain words to the text of a commented job that prints at once.

The command line asks these questions and the page at the browser shows them as a form: ``STARTS[word].questions``. What
is typed goes into the text as it was typed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from storystick.errors import Fault, FaultCollector, Faults, StorystickError, Where
from storystick.job.sources import Source
from storystick.laying_out import load_sources
from storystick.starting.asking import AnswerKind, Answers, Question
from storystick.starting.cabinet import CABINET_QUESTIONS, cabinet_lines
from storystick.starting.stick import STICK_QUESTIONS, stick_lines
from storystick.starting.wall import WALL_QUESTIONS, wall_lines

__all__ = ["STARTS", "AnswerKind", "Answers", "Question", "Start"]


@dataclass(frozen=True, slots=True)
class Start:
    """A kind of job to begin with: its word, what it is, what is asked, and the lines that are written.

    ``names_itself`` tells whether its name is the usual one for the file as well.
    """

    word: str
    words: str
    questions: tuple[Question, ...]
    lines: Callable[[Answers], Iterator[str]]
    names_itself: bool = True

    def answers(self, typed: Mapping[str, str]) -> Answers:
        """What was typed, by the names of questions, with what is usual in place of what was not."""
        return Answers(self.questions, typed)

    def text(self, typed: Mapping[str, str]) -> str:
        """The text of a commented job file that prints at once.

        Raises:
            Faults: every answer that cannot be read, under its question's words; or what does not fit of them all.
        """
        collector, answers = FaultCollector(), self.answers(typed)
        collector.add(*answers.faults.values())
        collector.raise_any()
        text = "\n".join((*self.lines(answers), ""))
        try:
            load_sources([Source(f"new {self.word}", text.encode())])
        except StorystickError as error:
            raise Faults(map(self._at_question, error.faults)) from None
        return text

    def _at_question(self, fault: Fault) -> Fault:
        """What does not fit, at the question whose answer stands nearest to its place."""
        near = [
            question for question in self.questions if question.key and fault.steps[: len(question.key)] == question.key
        ]
        if not near:
            return fault
        question = max(near, key=lambda question: len(question.key))
        return Fault(fault.what, fault.cure, Where(question.words, fault.steps))


STARTS: Final[Mapping[str, Start]] = {
    start.word: start
    for start in (
        Start("cabinet", "a cabinet, by its overall sizes", CABINET_QUESTIONS, cabinet_lines),
        Start("stick", "a plain stick: parts and openings along a line", STICK_QUESTIONS, stick_lines),
        Start("wall", "base cabinets along a wall", WALL_QUESTIONS, wall_lines, names_itself=False),
    )
}
"""What there is to begin with, by its word."""
