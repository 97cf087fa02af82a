"""Countertops over the base cabinets of a run, stretch by stretch, and how they meet in corners. Exact, in mm.

A top lies over cabinets of one height and what stands between them; a taller cabinet ends it, and so does a gap that
says so. In a corner the top of the run that is met goes through to the wall, and that of the run which gives way butts
against its front edge; over a diagonal cabinet both are mitred.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from itertools import groupby

from storystick.job.corners import CornerKind
from storystick.job.openings import Stock
from storystick.job.runs import CabinetPlace, PieceKind, Run, RunPiece, RunTop
from storystick.layout.cabinets.pieces import Range
from storystick.layout.runs import Placed, RunLayout
from storystick.layout.walls.corners import CornerRoom, Meeting, depth_with_front, depths, meetings


class TopEnd(Enum):
    """What a top ends at."""

    WALL = "the wall"
    TALLER = "what stands higher"
    APPLIANCE = "a gap"
    FREE = "a free end"
    BUTTED = "butted against the front edge of the other top"
    MITRED = "mitred in the corner"


@dataclass(frozen=True, slots=True)
class Top:
    """A stretch of countertop: ``x`` along the wall from the datum, overhang and all, and ``z`` above the high point.

    ``near`` and ``far`` are its ends from the datum on; ``over`` is what it lies over.
    """

    rule: RunTop
    x: Range
    z: Range
    depth: Fraction
    near: TopEnd
    far: TopEnd
    over: tuple[Placed, ...]

    @property
    def stock(self) -> Stock:
        return self.rule.stock

    @property
    def length(self) -> Fraction:
        return self.x.size

    @property
    def gaps(self) -> tuple[str, ...]:
        """The names of the gaps that it bridges."""
        return tuple(each.span.name for each in self.over if _is_gap(each))


def underside_of(run: Run) -> Fraction | None:
    """How high a run's countertop lies, without its thickness; None where there is none."""
    rule = run.countertop
    if rule is None or rule.height is not None:
        return rule.height if rule else None
    return min((item.cabinet.height for item in run.order if isinstance(item, CabinetPlace)), default=None)


def tops_of(run: RunLayout, runs: Sequence[RunLayout]) -> Iterator[Top]:
    """The stretches of a run's countertop, from the datum; ``runs`` are all of the job."""
    rule, height = run.run.countertop, underside_of(run.run)
    if rule is None or height is None:
        return
    met = tuple(meetings([each.run for each in runs], False))
    places = list(enumerate(run.standing))
    for is_under, group in groupby(places, key=lambda place: _is_under(place[1], height)):
        under = list(group)
        if is_under and any(isinstance(placed.item, CabinetPlace) for _, placed in under):
            first, last = under[0][0], under[-1][0]
            over = run.standing[first : last + 1]
            near, start = _end(run, first, -1, rule, met)
            far, end = _end(run, last, 1, rule, met)
            deep = max(depth_with_front(each.item.cabinet) for each in over if isinstance(each.item, CabinetPlace))
            z = Range(height, height + rule.stock.thickness)
            yield Top(rule, Range(start, end), z, deep + rule.front, near, far, over)


def _is_under(placed: Placed, height: Fraction) -> bool:
    item = placed.item
    if isinstance(item, CabinetPlace):
        return item.cabinet.height == height
    return item.covered if isinstance(item, RunPiece) else True


def _is_gap(placed: Placed) -> bool:
    return isinstance(placed.item, RunPiece) and placed.item.kind is PieceKind.GAP


def _end(run: RunLayout, place: int, step: int, rule: RunTop, met: Sequence[Meeting]) -> tuple[TopEnd, Fraction]:
    """What a stretch ends at whose last place this is, going on by ``step``, and where."""
    placed = run.standing[place]
    edge = placed.span.end if step > 0 else placed.span.start
    beyond = place + step
    if isinstance(placed.item, CornerRoom):
        return _in_corner(run, placed.item, edge, step, met)
    if not 0 <= beyond < len(run.standing):
        return TopEnd.WALL, edge
    if isinstance(run.standing[beyond].item, CabinetPlace):
        return TopEnd.TALLER, edge
    # A gap at an end of the wall is the way past the run, one inside it an appliance that the top comes up to.
    if not 0 <= beyond + step < len(run.standing):
        return TopEnd.FREE, edge + step * rule.end
    return TopEnd.APPLIANCE, edge


def _in_corner(
    run: RunLayout, room: CornerRoom, edge: Fraction, step: int, met: Sequence[Meeting]
) -> tuple[TopEnd, Fraction]:
    """Into a corner, as far as the other top leaves."""
    meeting = next(each for each in met if each.corner is room.corner)
    if room.corner.kind is CornerKind.DIAGONAL:
        return TopEnd.MITRED, edge
    other = room.other.countertop
    if run.run is meeting.met or other is None:
        return TopEnd.WALL, edge
    _, deep = depths(meeting)
    return TopEnd.BUTTED, edge - step * (deep + other.front)
