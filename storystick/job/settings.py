"""Reading what holds for a whole job: its title, its paper and margins, and the rounding of its labels."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from functools import partial
from typing import Final

from storystick.errors import Fault, as_written
from storystick.job.papers import (
    DEFAULT_MARGIN,
    DEFAULT_PAPER,
    LONGEST_SIDE,
    PAPERS,
    Margins,
    Paper,
    custom_paper,
    roll_paper,
)
from storystick.job.tables import LONGEST_NAME, Kind, Table, distance, read_name, size, unknown
from storystick.lengths import DEFAULT_STEP, Units, read_length, read_size, write_exact, write_figure

_UNIT_WORDS: Final = {Units.INCH: "in", Units.MM: "mm"}
_BETWEEN_SIDES: Final = re.compile(r"\s*[x×*]\s*", re.IGNORECASE)
_OTHER_PAPER: Final = "give its sides, as in { width = 13, height = 19 }, or the width of a roll, as in { roll = 24 }"
_STEPS: Final[Mapping[Units, tuple[str, ...]]] = {
    Units.INCH: ("1/8", "1/16", "1/32", "1/64", "1/128"),
    Units.MM: ("1", "0.5", "0.2", "0.1"),
}


def read_title(job: Table, file_name: str) -> str:
    """The job's title; the file's name without its ending where it is left out."""
    stem = file_name.rpartition(".")[0] or file_name
    default = "".join(character if character.isprintable() else " " for character in stem)
    return job.get("title", read_name, default.strip()[:LONGEST_NAME] or "job")


def read_paper(job: Table, units: Units) -> Paper:
    """The paper, named or given by its two sides."""
    return job.get("paper", partial(_read_paper, units=units), DEFAULT_PAPER[units])


def _read_paper(value: object, units: Units) -> Paper:
    if isinstance(value, dict):
        return _read_custom_paper(Table(value), units)
    papers = {name.casefold(): paper for name, paper in PAPERS.items()}
    paper = papers.get(value.strip().casefold()) if isinstance(value, str) else None
    if paper is None:
        raise _by_its_sides(value, units) or unknown(value, "a paper known here", PAPERS, _OTHER_PAPER)
    return paper


def _by_its_sides(value: object, units: Units) -> Fault | None:
    """The fault of a paper that is named by two lengths, as 11x17 is: with what to write for it."""
    sides = _BETWEEN_SIDES.split(value.strip()) if isinstance(value, str) else []
    if len(sides) != 2:
        return None
    try:
        width, height = (read_size(side, units) for side in sides)
    except Fault:
        return None
    named = [paper.name for paper in PAPERS.values() if {paper.short_side, paper.long_side} == {width, height}]
    exact = (f'"{write_exact(side, units)}"' for side in (width, height))
    cure = f'write "{named[0]}"' if named else "write {{ width = {}, height = {} }}".format(*exact)
    return Fault(f"{as_written(value)} is not the name of a paper", cure)


def _read_custom_paper(table: Table, units: Units) -> Paper:
    if table.has("roll"):
        paper = table.get("roll", partial(read_roll, units=units), DEFAULT_PAPER[units])
        table.close()
        return paper
    side = Kind(partial(_read_side, units=units), Fraction(1), "…", "a length")
    width, height = table.need("width", side), table.need("height", side)
    table.close()
    name = f"{write_figure(width, units)} x {write_figure(height, units)} {_UNIT_WORDS[units]}"
    return custom_paper(width, height, name)


def read_roll(value: object, units: Units) -> Paper:
    """A roll of paper, by its width."""
    width = _read_side(value, units)
    return roll_paper(width, f"{write_figure(width, units)} {_UNIT_WORDS[units]} roll")


def _read_side(value: object, units: Units) -> Fraction:
    side = size(units)(value)
    if side > LONGEST_SIDE:
        most = f"{write_figure(LONGEST_SIDE, units)} {_UNIT_WORDS[units]}"
        raise Fault(f"{as_written(value)} is longer than {most}, the most that a side may be", "give a shorter sheet")
    return side


def read_margins(job: Table, units: Units) -> Margins:
    """The margins: one for all sides, or those of some sides."""
    default = DEFAULT_MARGIN[units]
    return job.get("margins", partial(_read_margins, units=units), Margins(default, default, default, default))


def _read_margins(value: object, units: Units) -> Margins:
    read = distance(units)
    if not isinstance(value, dict):
        margin = read(value)
        return Margins(margin, margin, margin, margin)
    table = Table(value)
    sides = {side: table.get(side, read, DEFAULT_MARGIN[units]) for side in ("left", "right", "top", "bottom")}
    table.close()
    return Margins(**sides)


def read_wrap(job: Table, units: Units) -> Fraction:
    """How far strips run on over the edge of their sticks, in mm; 0 where it is left out."""
    return job.get("wrap", distance(units), Fraction(0))


def read_step(job: Table, units: Units) -> Fraction:
    """What labels are rounded to, in mm."""
    return job.get("round_to", partial(_read_step, units=units), DEFAULT_STEP[units])


def _read_step(value: object, units: Units) -> Fraction:
    step = size(units)(value)
    if step not in (read_length(allowed, units) for allowed in _STEPS[units]):
        raise unknown(value, "a step that labels are rounded to", _STEPS[units])
    return step
