"""Papers and margins, the step of labels, and how a job names them. Sizes are exact, in mm."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from typing import Final

from storystick.errors import Fault, as_written
from storystick.job.other_words import unknown
from storystick.job.tables import LONGEST_NAME, Kind, Table, distance, read_name, size
from storystick.lengths import DEFAULT_STEP, INCH_MM, Units, read_length, read_size, write_exact, write_figure

LONGEST_SIDE: Final = Fraction(5080)
"""No side of a sheet is longer, in mm: 200 in, or 14,400 points of 1/72 in, the page limit that a widely used
reader keeps (PDF Reference 1.6, implementation notes)."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper, in mm, held with its long side running the way the strips run.

    Of a ``roll``, ``short_side`` is the width; sheets are cut off it as long as they need to be, up to ``long_side``.
    """

    name: str
    long_side: Fraction
    short_side: Fraction
    roll: bool = False


@dataclass(frozen=True, slots=True)
class Margins:
    """What the printer cannot reach, in mm, at each side of a sheet as it is looked at."""

    left: Fraction
    right: Fraction
    top: Fraction
    bottom: Fraction


def custom_paper(width: Fraction, height: Fraction, name: str) -> Paper:
    """Paper of any two sides, in mm."""
    return Paper(name, max(width, height), min(width, height))


def roll_paper(width: Fraction, name: str) -> Paper:
    """A roll of paper ``width`` mm wide."""
    return Paper(name, LONGEST_SIDE, width, roll=True)


def _named(name: str, short_side: str, long_side: str, unit: Fraction = Fraction(1)) -> Paper:
    return custom_paper(Fraction(short_side) * unit, Fraction(long_side) * unit, name)


PAPERS: Final = {
    paper.name: paper
    for paper in (
        # ISO 216, A series.
        _named("A4", "210", "297"),
        _named("A3", "297", "420"),
        _named("A2", "420", "594"),
        # North American sizes, in inches.
        _named("Letter", "8.5", "11", INCH_MM),
        _named("Legal", "8.5", "14", INCH_MM),
        _named("Tabloid", "11", "17", INCH_MM),
    )
}

DEFAULT_PAPER: Final = {Units.INCH: PAPERS["Letter"], Units.MM: PAPERS["A4"]}
DEFAULT_MARGIN: Final = {Units.INCH: Fraction(3, 8) * INCH_MM, Units.MM: Fraction(10)}


_BETWEEN_SIDES: Final = re.compile(r"\s*[x×*]\s*", re.IGNORECASE)
_UNIT_AT_END: Final = re.compile(r"\s*[a-zA-Z\"']+$")
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


def names_sides(text: str) -> bool:
    """Whether a paper is named by its two sides, as 13 x 19 is."""
    return len(sides_of(text)) == 2


def read_sides(text: str, units: Units) -> Paper:
    """The paper that is named by its two sides; a unit after both is that of both."""
    first, second = sides_of(text)
    if unit := _UNIT_AT_END.search(second):
        first = first if _UNIT_AT_END.search(first) else first + unit[0]
    return _of_sides(_read_paper_side(first, units), _read_paper_side(second, units), units)


def sides_of(text: str) -> list[str]:
    """The two sides that a paper is named by, as they are written; anything else in one piece."""
    return _BETWEEN_SIDES.split(text.strip())


def _of_sides(width: Fraction, height: Fraction, units: Units) -> Paper:
    """Named by its shorter side first, so that it has one name however it is held."""
    short, long = (write_figure(side, units) for side in sorted((width, height)))
    return custom_paper(width, height, f"{short} x {long} {units.sign}")


def _by_its_sides(value: object, units: Units) -> Fault | None:
    """The fault of a paper that is named by two lengths, as 11x17 is: with what to write for it."""
    if not (isinstance(value, str) and names_sides(value)):
        return None
    try:
        width, height = (read_size(side, units) for side in sides_of(value))
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
    side = Kind(partial(_read_paper_side, units=units), Fraction(1), "…", "a length")
    width, height = table.need("width", side), table.need("height", side)
    table.close()
    return _of_sides(width, height, units)


def read_roll(value: object, units: Units) -> Paper:
    """A roll of paper, by its width."""
    width = _read_paper_side(value, units)
    return roll_paper(width, f"{write_figure(width, units)} {units.sign} roll")


def _read_paper_side(value: object, units: Units) -> Fraction:
    side = size(units)(value)
    if side > LONGEST_SIDE:
        most = f"{write_figure(LONGEST_SIDE, units)} {units.sign}"
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
