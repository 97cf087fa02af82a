"""A new wall: base cabinets along it, with doors, on a toe space, and fillers that take up what is left."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from storystick.lengths import Units, read_size
from storystick.starting.asking import AnswerKind, Answers, Question
from storystick.starting.usual import (
    UNITS,
    back_line,
    by_units,
    head_lines,
    joint_lines,
    length,
    name_of,
    said,
    stock_length,
    stock_lines,
)

WALL_QUESTIONS: Final = (
    UNITS,
    name_of("wall", "North wall", "North wall", ("run", 0, "name")),
    length("length", "how long the wall is", ("88", "2050"), ("run", 0, "length")),
    Question(
        "cabinets",
        "how wide each cabinet is, from the left",
        by_units("30, 18, 36", "600, 450, 900"),
        by_units("30, 18, 36", "600, 450, 900"),
        AnswerKind.LENGTHS,
        key=("cabinet",),
    ),
    length("height", "overall height of the cabinets", ("34 1/2", "870"), ("cabinet", 0, "height")),
    length("depth", "overall depth of the cabinets, without doors", ("23 1/4", "560"), ("cabinet", 0, "depth")),
    length("toe", "how high the toe space is", ("4", "100"), ("cabinet", 0, "toe", "height")),
    stock_length("ply", "ply", "the case's parts", ("23/32", "18.3")),
    stock_length("front", "front", "the doors", ("3/4", "19")),
    stock_length("back", "back", "the back", ("7/32", "5.5")),
)
_WIDEST_DOOR: Final = {Units.INCH: 24 * Units.INCH.in_mm, Units.MM: Fraction(600)}
"""A cabinet wider than this has a pair of doors: common practice, no source."""


def wall_lines(answers: Answers) -> Iterator[str]:
    """The job file, line by line."""
    yield from head_lines(answers, "Base cabinets along a wall; two fillers take up what they leave of it.")
    yield from stock_lines(answers, WALL_QUESTIONS)
    yield from joint_lines(answers)
    for number, width in enumerate(answers.each("cabinets"), 1):
        yield "[[cabinet]]"
        yield f'name = "Base {number}"'
        yield from _first_lines(answers) if number == 1 else [said('like = "Base 1"', "but for what is said here")]
        yield f"width = {answers.written(width)}"
        yield f"openings = [{_doors(answers, width)}]"
        yield ""
    yield from _run_lines(answers)


def _first_lines(answers: Answers) -> Iterator[str]:
    yield said(f"height = {answers['height']}", "overall, with the toe space")
    yield f"depth = {answers['depth']}"
    yield said('carcass = "ply"', "sides, top, bottom and shelves; each may have its own")
    yield 'joint = "case"'
    yield back_line(answers)
    yield f'toe = {{ height = {answers["toe"]}, recess = {answers.by_units("3", "60")}, board = "ply" }}'
    gap = answers.by_units("1/8", "3")
    half = answers.by_units("1/16", "1.5")
    yield f'fronts = {{ kind = "overlay", stock = "front", reveal = {gap}, outside = {half} }}'


def _doors(answers: Answers, width: str) -> str:
    if read_size(width, answers.units) > _WIDEST_DOOR[answers.units]:
        return '{ opening = "equal", front = "pair" }'
    return '{ opening = "equal", front = "door", hinge = "left" }'


def _run_lines(answers: Answers) -> Iterator[str]:
    yield said("[[run]]", "what stands along the wall, from its left end")
    yield f"name = {answers['name']}"
    yield f"length = {answers['length']}"
    yield "order = ["
    yield said('  { filler = "equal" },', "half of what is left; the other half at the other end")
    for number, _ in enumerate(answers.each("cabinets"), 1):
        yield f'  {{ cabinet = "Base {number}" }},'
    yield '  { filler = "equal" },'
    yield "]"
