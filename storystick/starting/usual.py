"""Questions that several kinds of new jobs ask, the short ways to declare one, and lines that several of them write.

What stands for an answer that is left out is common practice in small shops, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final, TypeAlias

from storystick.lengths import Units
from storystick.starting.asking import AnswerKind, Answers, Question

When: TypeAlias = tuple[str, tuple[str, ...]] | None
Key: TypeAlias = tuple[str | int, ...]

YES_NO: Final[Mapping[str, str]] = {"yes": "yes", "no": "no"}


def by_units(inch: str, mm: str) -> Mapping[Units, str]:
    """A text for a job in inches, and one for a job in mm."""
    return {Units.INCH: inch, Units.MM: mm}


def length(name: str, words: str, usual: tuple[str, str], key: Key, only_if: When = None) -> Question:
    """A question for a length, with what is ``usual`` in inches and in mm, which is its example too."""
    same = by_units(*usual)
    return Question(name, words, same, same, AnswerKind.LENGTH, key=key, only_if=only_if)


def choice(name: str, words: str, choices: Mapping[str, str], usual: str, key: Key, only_if: When = None) -> Question:
    """A question for one of a few words, each with what it means."""
    same = by_units(usual, usual)
    return Question(name, words, same, same, AnswerKind.CHOICE, choices, only_if, key)


def name_of(what: str, example: str, usual: str, key: Key) -> Question:
    """The question for the name of ``what``."""
    default = by_units(usual, usual)
    return Question("name", f"what the {what} is called", by_units(example, example), default, AnswerKind.NAME, key=key)


UNITS: Final = choice("units", "units", {"inch": "inches", "mm": "millimetres"}, "inch", ("units",))


def stock_length(name: str, stock: str, what: str, usual: tuple[str, str], only_if: When = None) -> Question:
    """The question for what the calipers say of a stock."""
    return length(name, f"thickness of {what}, as measured", usual, ("stock", stock), only_if)


def said(line: str, comment: str) -> str:
    """A line with a comment behind it, the comments of short lines in one column."""
    return f"{line:<27} # {comment}"


def stock_lines(answers: Answers, questions: Sequence[Question]) -> Iterator[str]:
    """The table of what was measured."""
    yield said("[stock]", "what the calipers say of each material")
    for question in questions:
        if question.key[0] == "stock" and question.name in answers:
            yield f"{question.key[1]} = {answers[question.name]}"
    yield ""


def head_lines(answers: Answers, comment: str) -> Iterator[str]:
    """What every new job begins with."""
    yield f"# {comment}"
    yield f"title = {answers['name']}"
    units = answers.units.value
    other = next(unit.value for unit in Units if unit is not answers.units)
    yield said(f'units = "{units}"', f'what a number without a unit means; "{other}" is the other')
    yield ""


def joint_lines(answers: Answers) -> Iterator[str]:
    """The joint of a case: a tongue about a third as thick as its parts, in a groove of that depth."""
    third = answers.near(answers.mm("ply") / 3)
    yield said("[joint.case]", "how shelves, top and bottom end on the sides")
    yield said('kind = "tongue"', 'a tongue in a groove; "housing" takes the whole part, "butt" cuts nothing')
    yield f"width = {third}"
    yield f"depth = {third}"
    gap = answers.by_units("1/64", "0.5")
    yield said(f"bottom_gap = {gap}", "the tongue is this much shorter than the groove is deep")
    yield ""


def back_line(answers: Answers) -> str:
    """The back, in a rabbet that takes it and goes into half of the sides."""
    width, depth = answers.at_least(answers.mm("back")), answers.near(answers.mm("ply") / 2)
    return f'back = {{ stock = "back", rabbet_width = {width}, rabbet_depth = {depth} }}'
