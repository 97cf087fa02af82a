"""What is done by hand after the machines, or needs no setting of its own: a section a sort of work, in words.

All of it is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from storystick.layout.cabinets.pieces import CabinetLayout, Piece
from storystick.layout.cabinets.working import all_works
from storystick.layout.cabinets.works import Work, WorkKind, corner_of, end_words, surface_words
from storystick.lengths import Figures
from storystick.tooling.setups import names_of


@dataclass(frozen=True, slots=True)
class Section:
    """A sort of work: its ``title``, how it is done in ``words``, and a row for all parts that have it alike."""

    title: str
    words: str
    rows: tuple[str, ...]


def hand_sections(cabinets: Sequence[CabinetLayout], figures: Figures) -> tuple[Section, ...]:
    """All sorts of which the cabinets have any."""
    works = all_works(cabinets)
    found = (
        Section(title, words, tuple(_rows((work for work in works if work.kind is kind), told, figures)))
        for title, words, kind, told in _SORTS
    )
    return tuple(section for section in found if section.rows)


_Told = Callable[[Work, Figures], str]


def _rows(works: Iterator[Work], told: _Told, figures: Figures) -> Iterator[str]:
    alike: dict[str, dict[Piece, None]] = {}
    for work in works:
        alike.setdefault(told(work, figures), {})[work.board] = None
    return (f"{names_of(boards)}: {words}" for words, boards in alike.items())


def _lap(work: Work, figures: Figures) -> str:
    along, datum = work.along, end_words(work.board)[0]
    return (
        f"{surface_words(work.board, work.on)}, {figures(along.start)} to {figures(along.end)} from the {datum}, "
        f"{figures(work.depth)} deep, for {work.other.name}"
    )


def _haunching(work: Work, figures: Figures) -> str:
    along, datum = work.along, end_words(work.board)[0]
    return (
        f"{surface_words(work.board, work.on)}, {figures(along.start)} to {figures(along.end)} from the {datum}, "
        f"{figures(work.depth)} deep, {figures(work.across.start)} to {figures(work.across.end)} from the front face"
    )


def _cut_back(work: Work, figures: Figures) -> str:
    return (
        f"{surface_words(work.board, work.on)}, {figures(work.depth)} off its length over "
        f"{figures(work.across.size)} at the {corner_of(work)}"
    )


_SORTS: Final[tuple[tuple[str, str, WorkKind, _Told], ...]] = (
    (
        "Half laps across members of the frame",
        "Lay members that have the same lap side by side, their ends flush, and square both lines across them. Cut at "
        "the saw with the mitre gauge, the blade as high as the lap is deep, first inside both lines and then what is "
        "between, or with a router between two straightedges. Try the depth in scrap: two laps on each other are as "
        "thick as the stock.",
        WorkKind.LAP,
        _lap,
    ),
    (
        "Haunchings, by hand",
        "Saw both walls down to the depth from the member's end, in line with the mortise's walls, and chisel out "
        "between them:",
        WorkKind.HAUNCHING,
        _haunching,
    ),
    (
        "Corners cut back, by hand",
        "With a fine saw, first along, then across at the line, and pare to the line with a chisel. Where a router has left the end of a groove round, square that, or cut back by half the bit more:",
        WorkKind.CUT_BACK,
        _cut_back,
    ),
)
