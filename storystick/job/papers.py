"""Papers and margins, the step of labels, and how a job names them. Sizes are exact, in mm."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from fractions import Fraction
from typing import Any, Final, cast

from storystick.errors import Fault, as_written
from storystick.job.keys import Key, TableOf, each, key, table
from storystick.job.kinds import DISTANCE, SIZE, Kind, Scope, Table
from storystick.job.other_words import unknown
from storystick.lengths import INCH_MM, Units, read_length, read_size, write_exact, write_figure

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


_ANY_CASE: Final = "|".join(
    "".join(f"[{sign}{sign.lower()}]" if sign.isalpha() else sign for sign in name.upper()) for name in PAPERS
)


def _margin(side: str) -> Any:
    return key(
        DISTANCE,
        f"what the printer cannot reach at the {side} of a sheet that lies with its long side level",
        "1/2",
        usual=lambda scope: DEFAULT_MARGIN[scope.units],
    )


@table("Margins, at some sides or all.")
class Margins:
    """What the printer cannot reach, in mm, at each side of a sheet as it is looked at."""

    left: Fraction = _margin("left")
    right: Fraction = _margin("right")
    top: Fraction = _margin("top")
    bottom: Fraction = _margin("bottom")


def same_margins(margin: Fraction, _: Scope | None = None) -> Margins:
    """The same at all sides."""
    return Margins(margin, margin, margin, margin)


def _read_paper(value: object, scope: Scope) -> Paper:
    if isinstance(value, dict):
        table = Table(value)
        return (ROLL if table.has("roll") else SHEET).read(table, scope)
    papers = {name.casefold(): paper for name, paper in PAPERS.items()}
    paper = papers.get(value.strip().casefold()) if isinstance(value, str) else None
    if paper is None:
        raise _by_its_sides(value, scope.units) or unknown(value, "a paper known here", PAPERS, _OTHER_PAPER)
    return paper


def names_sides(text: str) -> bool:
    """Whether a paper is named by its two sides, as 13 x 19 is."""
    return len(sides_of(text)) == 2


def read_sides(text: str, units: Units) -> Paper:
    """The paper that is named by its two sides; a unit after both is that of both."""
    first, second = sides_of(text)
    if unit := _UNIT_AT_END.search(second):
        first = first if _UNIT_AT_END.search(first) else first + unit[0]
    return _of_sides(_read_side(first, units), _read_side(second, units), units)


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


def read_roll(value: object, units: Units) -> Paper:
    """A roll of paper, by its width."""
    width = _read_side(value, units)
    return roll_paper(width, f"{write_figure(width, units)} {units.sign} roll")


def _read_side(value: object, units: Units) -> Fraction:
    side = read_size(value, units)
    if side > LONGEST_SIDE:
        most = f"{write_figure(LONGEST_SIDE, units)} {units.sign}"
        raise Fault(f"{as_written(value)} is longer than {most}, the most that a side may be", "give a shorter sheet")
    return side


_SIDE: Final = replace(SIZE, read=lambda value, scope: _read_side(value, scope.units))
SHEET: Final = TableOf(
    Paper,
    "A sheet of any size, by its two sides.",
    each(width=Key(_SIDE, "one side of the sheet", 13), height=Key(_SIDE, "its other side", 19)),
    fill=lambda here: asdict(_of_sides(here("width"), here("height"), here.scope.units)),
)


_ROLL: Final = replace(cast(Any, SIZE), read=lambda value, scope: read_roll(value, scope.units))
ROLL: Final = TableOf(
    Paper,
    "A roll, by its width.",
    each(roll=Key(_ROLL, "the width of the roll", 24)),
    fill=lambda here: asdict(here("roll")),
)

PAPER: Final = Kind(
    _read_paper,
    PAPERS["Letter"],
    '"…"',
    f"{', '.join(PAPERS)}, or a table of its sides",
    {"oneOf": [{"type": "string", "pattern": rf"^\s*({_ANY_CASE})\s*$"}, SHEET, ROLL]},
)
"""A paper, named or given by its two sides, or a roll by its width."""


def _check_step(step: Fraction, value: object, scope: Scope) -> None:
    steps = _STEPS[scope.units]
    if step not in (read_length(allowed, scope.units) for allowed in steps):
        raise unknown(value, "a step that labels are rounded to", steps)


STEP: Final = replace(
    SIZE.limited(_check_step), sort="1/8, 1/16, 1/32, 1/64 or 1/128 in inches; 1, 0.5, 0.2 or 0.1 in mm"
)
"""What labels are rounded to, in mm."""
