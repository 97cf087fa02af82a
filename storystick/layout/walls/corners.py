"""What corners take of both their walls, so that runs on two walls are laid out against each other. Exact, in mm.

A corner is at one end of its own wall and at the other end of the other wall. What stands nearest to it on the other
wall, its front included, takes as much of this wall as it is deep.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from typing import ClassVar, Final, TypeAlias

from storystick.errors import Fault, Where
from storystick.job.cabinets import Cabinet
from storystick.job.corners import Corner, CornerKind
from storystick.job.fronts import FrontFit
from storystick.job.openings import Fixed
from storystick.job.runs import PieceKind, Run, RunItem, RunPiece, Uppers
from storystick.job.sticks import Datum
from storystick.lengths import Figures

Row: TypeAlias = Run | Uppers
"""What stands along a wall on one level: on the floor, or hung over it."""


class RoomKind(Enum):
    """What takes the end of a wall: the depth of the other row, a blind cabinet's pull, or a corner cabinet's leg."""

    ROW = "corner"
    PULL = "blind pull"
    CABINET = "corner cabinet"


@dataclass(frozen=True, slots=True)
class CornerRoom:
    """What a corner takes at the end of a wall; ``other`` is the run on the other wall."""

    cabinet: ClassVar[None] = None
    is_gap: ClassVar[bool] = False
    covered: ClassVar[bool] = True

    corner: Corner
    other: Run
    size: Fixed
    kind: RoomKind

    @property
    def name(self) -> str:
        return f"{self.kind.value} with {self.other.name}" if self.kind is not RoomKind.PULL else self.kind.value

    @property
    def word(self) -> str:
        return "corner"


Stander: TypeAlias = RunItem | CornerRoom


@dataclass(frozen=True, slots=True)
class Meeting:
    """A corner between a row that gives way and the one it meets, with the runs of both."""

    corner: Corner
    giving: Run
    met: Run
    upper: bool

    @property
    def rows(self) -> tuple[Row, Row]:
        """The row that gives way, and the one that it meets."""
        giving, met = (run.uppers if self.upper else run for run in (self.giving, self.met))
        if giving is None or met is None:
            raise Fault(
                f'"{self.met.name}" has no wall units',
                "give it uppers, or leave the corner out",
                Where.keys("corner", "with"),
            )
        return giving, met


def depth_with_front(cabinet: Cabinet) -> Fraction:
    """How far a cabinet and what lies before its case stand out from the wall."""
    fronts = cabinet.fronts
    return cabinet.depth + (fronts.stock.thickness if fronts and fronts.fit is FrontFit.OVERLAY else 0)


def legs_of(corner: Corner) -> tuple[Fraction, Fraction]:
    """What a diagonal cabinet takes of the wall of the run that gives way, and of the other one."""
    leg = corner.leg or Fraction(0)
    return leg, corner.other_leg or leg


def cabinet_at(row: Row, end: Datum, datum: Datum, name: str) -> Cabinet:
    """The cabinet of a row that stands nearest to an end of its wall.

    Raises:
        Fault: it has none.
    """
    order: Sequence[RunItem] = row.order if end is datum else row.order[::-1]
    for item in order:
        if item.cabinet:
            return item.cabinet
    raise Fault(
        f'"{name}" has no cabinet next to the corner', "add one, or leave the corner out", Where.keys("corner", "with")
    )


def meetings(runs: Sequence[Run], upper: bool) -> Iterator[Meeting]:
    """The corners of a job on one level; one with a run that has a fault of its own is left out."""
    named = {run.name: run for run in runs}
    for run in runs:
        row: Row | None = run.uppers if upper else run
        for corner in row.corners if row else ():
            if corner.other in named:
                yield Meeting(corner, run, named[corner.other], upper)


def order_with_corners(run: Run, row: Row, found: Sequence[Meeting], figures: Figures) -> tuple[Stander, ...]:
    """A row in order from the datum, with what corners take at its ends.

    Raises:
        Fault: a corner with a run that has nothing there, with itself, or with no room.
    """
    ends: dict[Datum, tuple[Stander, ...]] = {}
    for meeting in found:
        taken = tuple(_taken(meeting, run, figures))
        for end, items in taken:
            if end in ends:
                raise Fault(f'two corners are at the {end.value} end of "{run.name}"', "leave one out", "corner")
            ends[end] = items
    near, far = run.datum, Datum.RIGHT if run.datum is Datum.LEFT else Datum.LEFT
    return (*ends.get(near, ()), *row.order, *reversed(ends.get(far, ())))


def _taken(meeting: Meeting, run: Run, figures: Figures) -> Iterator[tuple[Datum, tuple[Stander, ...]]]:
    """What a corner takes of a run's wall, from the corner on, and at which end; nothing where it takes none."""
    corner = meeting.corner
    if meeting.giving is meeting.met:
        raise Fault("a run makes no corner with itself", "name the run on the other wall", Where.keys("corner", "with"))
    if run is meeting.giving:
        yield corner.end, _TAKEN[corner.kind](meeting, figures)[0]
    if run is meeting.met:
        with suppress(Fault):  # told of the run that gives way
            _, items = _TAKEN[corner.kind](meeting, figures)
            if items:
                yield corner.other_end, items


_Both: TypeAlias = tuple[tuple[Stander, ...], tuple[Stander, ...]]
"""What is taken of the wall of the run that gives way, and of the other one, each from the corner on."""


def depths(meeting: Meeting) -> tuple[Fraction, Fraction]:
    """How far what is next to the corner stands out: of the row that gives way, and of the one it meets."""
    giving, met = meeting.rows
    corner = meeting.corner
    return (
        depth_with_front(cabinet_at(giving, corner.end, meeting.giving.datum, meeting.giving.name)),
        depth_with_front(cabinet_at(met, corner.other_end, meeting.met.datum, meeting.met.name)),
    )


def _room(meeting: Meeting, size: Fraction, other: Run, kind: RoomKind = RoomKind.ROW) -> CornerRoom:
    return CornerRoom(meeting.corner, other, Fixed(size), kind)


def _filler(size: Fraction) -> tuple[RunPiece, ...]:
    return (RunPiece(PieceKind.FILLER, Fixed(size), "corner filler"),) if size else ()


def _blind(meeting: Meeting, _figures: Figures) -> _Both:
    """The row that gives way begins at the front of the blind cabinet, behind a filler."""
    _, deep = depths(meeting)
    pull = meeting.corner.pull
    there: tuple[Stander, ...] = (_room(meeting, pull, meeting.giving, RoomKind.PULL),) if pull else ()
    return (_room(meeting, deep, meeting.met), *_filler(meeting.corner.filler)), there


def _diagonal(meeting: Meeting, figures: Figures) -> _Both:
    """A corner cabinet takes its legs of both walls, each more than the row beside the other leg is deep."""
    both = legs_of(meeting.corner)
    for leg, deep, key in zip(both, depths(meeting)[::-1], ("leg", "other_leg"), strict=True):
        if leg <= deep:
            what = f"a leg of {figures(leg)} leaves no front: what stands on the other wall is {figures(deep)} deep"
            raise Fault(what, f"make it more than {figures(deep)}", Where.keys("corner", key))
    here, there = both
    across = RoomKind.CABINET
    return (_room(meeting, here, meeting.met, across),), (_room(meeting, there, meeting.giving, across),)


def _dead(meeting: Meeting, _figures: Figures) -> _Both:
    """Both rows stop short of each other, and fillers close the corner."""
    giving, met = depths(meeting)
    filler = _filler(meeting.corner.filler)
    return (_room(meeting, met, meeting.met), *filler), (_room(meeting, giving, meeting.giving), *filler)


_TAKEN: Final = {CornerKind.BLIND: _blind, CornerKind.DIAGONAL: _diagonal, CornerKind.FILLER: _dead}
