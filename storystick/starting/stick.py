"""A new plain stick: parts that are all alike with openings between them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from storystick.starting.asking import AnswerKind, Answers, Question
from storystick.starting.usual import (
    UNITS,
    YES_NO,
    by_units,
    choice,
    head_lines,
    name_of,
    said,
    stock_length,
    stock_lines,
)

_DATUMS: Final = {
    "bottom": "the bottom",
    "top": "the top",
    "left": "the left end",
    "right": "the right end",
    "front": "the front",
    "back": "the back",
}

STICK_QUESTIONS: Final = (
    UNITS,
    name_of("stick", "Press side", "Side", ("stick", 0, "name")),
    stock_length("part", "ply", "the parts between openings", ("23/32", "18.3")),
    Question(
        "openings",
        "clear sizes of the openings, from the end that zero is on",
        by_units("13, 12, 11 1/2, 10", "330, 305, 290, 255"),
        by_units("13, 12, 11 1/2, 10", "330, 305, 290, 255"),
        AnswerKind.LENGTHS,
        key=("stick", 0, "openings"),
    ),
    choice("datum", "the end that zero is on", _DATUMS, "bottom", ("stick", 0, "datum")),
    choice("pair", "a left and a right strip", YES_NO, "yes", ("stick", 0, "pair")),
)


def stick_lines(answers: Answers) -> Iterator[str]:
    """The job file, line by line."""
    yield from head_lines(answers, "A plain stick: part, opening, part, and so on, from the end that zero is on.")
    yield from stock_lines(answers, STICK_QUESTIONS)
    yield "[[stick]]"
    yield f"name = {answers['name']}"
    yield said(f'datum = "{answers.texts["datum"]}"', "the end that zero is on")
    yield said('part = "ply"', "one between each two openings, and one at both ends")
    openings = ", ".join(map(answers.written, answers.each("openings")))
    yield f"openings = [{openings}]"
    if answers.is_("pair", "yes"):
        yield said("pair = true", "a left and a right strip from the same figures")
