"""What is done by hand after the machines, or needs no setting of its own: a section a sort of work, in words.

All of it is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from storystick.job.usual_joint import Closes
from storystick.layout.cabinets.pieces import CabinetLayout, Piece
from storystick.layout.cabinets.working import all_works
from storystick.layout.cabinets.works import ENDS, Work, WorkKind, corner_of, end_words, surface_words
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
        Section(title, words, tuple(_rows(filter(is_own, works), told, figures)))
        for title, words, is_own, told in _SORTS
    )
    return tuple(section for section in found if section.rows)


_Told = Callable[[Work, Figures], str]


def _rows(works: Iterable[Work], told: _Told, figures: Figures) -> Iterator[str]:
    """What is told of each, for the parts that have it alike; of both ends alike it is told once."""
    alike: dict[str, dict[Piece, list[str]]] = {}
    for work in works:
        alike.setdefault(told(work, figures), {}).setdefault(work.board, []).append(surface_words(work.board, work.on))
    for words, boards in alike.items():
        by_where: dict[str, list[Piece]] = {}
        for board, where in boards.items():
            by_where.setdefault("both ends" if len(where) == len(ENDS) else where[0], []).append(board)
        yield from (f"{names_of(own)}: {where}, {words}" for where, own in by_where.items())


def _lap(work: Work, figures: Figures) -> str:
    along, datum = work.along, end_words(work.board)[0]
    return (
        f"{figures(along.start)} to {figures(along.end)} from the {datum}, "
        f"{figures(work.depth)} deep, for {work.other.name}"
    )


def _haunching(work: Work, figures: Figures) -> str:
    along, datum = work.along, end_words(work.board)[0]
    return (
        f"{figures(along.start)} to {figures(along.end)} from the {datum}, "
        f"{figures(work.depth)} deep, {figures(work.across.start)} to {figures(work.across.end)} from the front face"
    )


def _cut_back(work: Work, figures: Figures) -> str:
    return f"{figures(work.depth)} off the length over {figures(work.across.size)} at the {corner_of(work)}"


def _tail(work: Work, figures: Figures) -> str:
    """A dovetail bit is widest at its tip, at the height of the shoulder, where the tail is narrowest."""
    joint, thickness = work.joint, work.board.stock.thickness
    if joint is None or work.thick is None:
        raise ValueError(f"{work.board.name} has no tail")
    neck = work.thick.size - 2 * work.depth * joint.lean / joint.depth
    return (
        f"dovetail bit of {float(joint.bit_angle):g} degrees {figures(work.depth)} "
        f"above the table, its tip {figures((thickness - neck) / 2)} out of the fence; the tail is then "
        f"{figures(work.thick.size)} thick at its end and {figures(neck)} at its shoulder"
    )


def _of_kind(kind: WorkKind) -> Callable[[Work], bool]:
    return lambda work: work.kind is kind


def _is_tail(work: Work) -> bool:
    return work.kind is WorkKind.TONGUE and work.joint is not None and work.joint.closes is Closes.SLID


_SORTS: Final[tuple[tuple[str, str, Callable[[Work], bool], _Told], ...]] = (
    (
        "Tails of sliding dovetails, at a router table",
        "Stand the part on its end against a high fence whose opening is closed up to the bit, with a square block "
        "behind it as a push block and against tear-out, and run both faces past the bit, one after the other. Feed it "
        "against the turn of the bit, and never between bit and fence. Set the fence for too thick a tail first, try "
        "it in a socket in scrap, and move the fence by half of what is too much. The machine's manual and your local "
        "rules stand above this sheet:",
        _is_tail,
        _tail,
    ),
    (
        "Half laps across members of the frame",
        "Lay members that have the same lap side by side, their ends flush, and square both lines across them. Cut at "
        "the saw with the mitre gauge, the blade as high as the lap is deep, first inside both lines and then what is "
        "between, or with a router between two straightedges. Try the depth in scrap: two laps on each other are as "
        "thick as the stock.",
        _of_kind(WorkKind.LAP),
        _lap,
    ),
    (
        "Haunchings, by hand",
        "Saw both walls down to the depth from the member's end, in line with the mortise's walls, and chisel out "
        "between them:",
        _of_kind(WorkKind.HAUNCHING),
        _haunching,
    ),
    (
        "Corners cut back, by hand",
        "With a fine saw, first along, then across at the line, and pare to the line with a chisel. Where a router has "
        "left the end of a groove round, square that, or cut back by half the bit more:",
        _of_kind(WorkKind.CUT_BACK),
        _cut_back,
    ),
)
