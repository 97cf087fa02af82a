"""What a fault says to try, done to the letter, takes the fault away; its figures are labels in the job's own step."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

import pytest

from storystick.errors import Faults
from storystick.job.sources import Source
from storystick.laying_out import load_sources
from storystick.lengths import Units, read_length, write_exact

# The calipers' figures are such that no limit comes out in the job's step.
INCH: Final = 'units = "inch"\nround_to = "1/32"\n[stock]\nply = "0.7051"\nback = "0.2583"\n'
CASE: Final = "[[cabinet]]\nheight = 30\nwidth = 24\ndepth = 12\ncarcass = 'ply'\n"
WOOD: Final = 'wood = { species = "Maple, sugar", cut = "flat", made_at = 8, driest = 6, dampest = 12 }'
WALL: Final = INCH + "[run]\nlength = 100\norder = "

CURED: Final[dict[str, tuple[str, str]]] = {
    "fronts too near each other": (
        INCH + CASE + 'fronts = { kind = "overlay", overlay = VALUE, reveal = "1/16" }\nopenings = ["equal", "equal"]',
        '"17/32"',
    ),
    "fronts out beyond the side": (INCH + CASE + 'fronts = { kind = "overlay", overlay = VALUE }', '"3/4"'),
    "a front that shrinks off its opening": (
        INCH + CASE + 'fronts = { kind = "overlay", overlay = VALUE, ' + WOOD + " }",
        '"1/16"',
    ),
    "fronts too near each other over what they share": (
        INCH
        + CASE
        + 'fronts = { kind = "overlay", overlay = { outside = "1/4", shared = VALUE }, reveal = "1/16" }\n'
        + 'openings = ["equal", "equal"]',
        '"17/32"',
    ),
    "fronts out beyond the left side alone": (
        INCH + CASE + 'fronts = { kind = "overlay", overlay = { outside = "1/4", left = VALUE } }',
        '"3/4"',
    ),
    "a front that shrinks off the bottom of its opening": (
        INCH + CASE + 'fronts = { kind = "overlay", overlay = { outside = "1/2", bottom = VALUE }, ' + WOOD + " }",
        '"1/16"',
    ),
    "a back too thick for its rabbet": (
        INCH + CASE + 'back = { stock = "back", rabbet_width = VALUE, rabbet_depth = "1/4" }',
        '"1/4"',
    ),
    "a toe recess as deep as the case": (
        INCH + CASE + 'back = { stock = "back", laid_on = true }\ntoe = { height = 4, recess = VALUE }',
        "20",
    ),
    "holes behind an inset front": (
        INCH
        + CASE
        + 'fronts = { kind = "inset", front = "door" }\n'
        + "openings = [{ opening = 'equal', adjustable = { shelves = 2, first = 4, front = VALUE, back = 2 } }]",
        '"1/2"',
    ),
    "a run that is too long": (WALL + "[{ filler = VALUE, name = 'left' }, { gap = '99 1/3' }]", "1"),
    "a run that is too short": (WALL + "[{ filler = VALUE, name = 'left' }, { gap = '98 1/4' }]", "1"),
    "a run with nothing left to share": (
        WALL + "[{ filler = VALUE, name = 'left' }, { gap = '90.123' }, { filler = 'equal' }]",
        "11",
    ),
}
_LIMIT: Final = re.compile(r"(more than |less than )?([0-9][0-9 /.]*|\"equal\")")


def faults_of(text: str, value: str) -> list[str]:
    try:
        load_sources([Source("job.toml", text.replace("VALUE", value).encode())])
    except Faults as error:
        return list(map(str, error.faults))
    return []


def followed(fault: str) -> str:
    """The value that the cure of a fault asks for; a sixty-fourth past it where it must be more or less."""
    found = _LIMIT.search(fault.rpartition("; ")[2].partition("make ")[2])
    assert found, fault
    if found[2].startswith('"'):
        return found[2]
    past = {"more than ": Fraction(1), "less than ": Fraction(-1), None: Fraction(0)}[found[1]]
    return f'"{write_exact(read_length(found[2].rstrip(" ."), Units.INCH) + past * Fraction(127, 320), Units.INCH)}"'


@pytest.mark.parametrize("name", CURED)
def test_a_cure_that_is_followed_takes_the_fault_away(name: str) -> None:
    text, wrong = CURED[name]
    (fault,) = faults_of(text, wrong)
    assert faults_of(text, followed(fault)) == []


@pytest.mark.parametrize("name", CURED)
def test_figures_of_a_fault_are_in_the_step_of_the_job(name: str) -> None:
    """All but the program's own, in whole inches: no 141/200, and nothing finer than the 32nds that the job asks for.

    What is read before the step is known is in 64ths.
    """
    text, wrong = CURED[name]
    (fault,) = faults_of(text, wrong)
    finest = 64 if "rabbet" in name else 32
    for under in map(int, re.findall(r"[0-9]+/([0-9]+)", fault)):
        assert finest % under == 0, fault


def test_a_difference_that_is_less_than_a_step_is_not_said_to_be_nothing() -> None:
    (fault,) = faults_of(WALL + "[{ filler = 1 }, { gap = '99.001' }]", "")
    assert "under 1/32 more than the wall of 100" in fault
