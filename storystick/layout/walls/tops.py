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
from storystick.job.runs import Run, RunTop
from storystick.job.sticks import Datum
from storystick.layout.cabinets.pieces import Range
from storystick.layout.runs import Placed, RunLayout
from storystick.layout.walls.corners import CornerRoom, depth_with_front


class TopEnd(Enum):
    """How a top ends."""

    WALL = "at the wall"
    TALLER = "at what stands higher"
    APPLIANCE = "at a gap"
    FREE = "free"
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
        return tuple(each.span.name for each in self.over if each.item.is_gap)


def underside_of(run: Run) -> Fraction | None:
    """How high a run's countertop lies, without its thickness; None where there is none."""
    rule = run.countertop
    if rule is None or rule.height is not None:
        return rule.height if rule else None
    return min((item.cabinet.height for item in run.order if item.cabinet), default=None)


def tops_of(run: RunLayout, runs: Sequence[RunLayout]) -> Iterator[Top]:
    """The stretches of a run's countertop, from the datum; ``runs`` are all of the job."""
    rule, height = run.run.countertop, underside_of(run.run)
    if rule is None or height is None:
        return
    for stretch in _stretches(run, height):
        near, start = _end(run, stretch[0], -1, runs)
        far, end = _end(run, stretch[-1], 1, runs)
        z = Range(height, height + rule.stock.thickness)
        over = run.standing[stretch[0] : stretch[-1] + 1]
        yield Top(rule, Range(start, end), z, _depth(run, stretch, rule), near, far, over)


def _stretches(run: RunLayout, height: Fraction) -> Iterator[Sequence[int]]:
    """The places of what a top at a height lies over, stretch by stretch, each with a cabinet at least."""
    places = range(len(run.standing))
    for is_under, group in groupby(places, key=lambda place: _is_under(run.standing[place], height)):
        stretch = list(group)
        if is_under and any(run.standing[place].item.cabinet for place in stretch):
            yield stretch


def _depth(run: RunLayout, stretch: Sequence[int], rule: RunTop) -> Fraction:
    items = (run.standing[place].item for place in stretch)
    return rule.front + max(depth_with_front(item.cabinet) for item in items if item.cabinet)


def _is_under(placed: Placed, height: Fraction) -> bool:
    item = placed.item
    return item.cabinet.height == height if item.cabinet else item.covered


def _end(run: RunLayout, place: int, step: int, runs: Sequence[RunLayout]) -> tuple[TopEnd, Fraction]:
    """What a stretch ends at whose last place this is, going on by ``step``, and where."""
    placed, rule = run.standing[place], run.run.countertop
    edge = placed.span.end if step > 0 else placed.span.start
    beyond = place + step
    if isinstance(placed.item, CornerRoom):
        return _in_corner(run, placed, step, runs)
    if not 0 <= beyond < len(run.standing):
        return TopEnd.WALL, edge
    if run.standing[beyond].item.cabinet:
        return TopEnd.TALLER, edge
    # A gap at an end of the wall is the way past the run, one inside it an appliance that the top comes up to.
    if rule and not 0 <= beyond + step < len(run.standing):
        return TopEnd.FREE, edge + step * rule.end
    return TopEnd.APPLIANCE, edge


def _in_corner(run: RunLayout, placed: Placed, step: int, runs: Sequence[RunLayout]) -> tuple[TopEnd, Fraction]:
    """Into a corner, as far as the other top leaves."""
    room = placed.item
    if not isinstance(room, CornerRoom):
        raise TypeError(f"no corner: {room}")
    wall, inner = (placed.span.end, placed.span.start) if step > 0 else (placed.span.start, placed.span.end)
    if room.corner.kind is CornerKind.DIAGONAL:
        return TopEnd.MITRED, wall
    if room.corner not in run.run.corners:
        return TopEnd.WALL, wall
    other = next(each for each in runs if each.run is room.other)
    deep = _depth_at(other, room.corner.other_end)
    return (TopEnd.TALLER, inner) if deep is None else (TopEnd.BUTTED, wall - step * deep)


def _depth_at(run: RunLayout, end: Datum) -> Fraction | None:
    """How deep a run's countertop is at an end of its wall; None where none comes there."""
    rule, height = run.run.countertop, underside_of(run.run)
    place = 0 if run.run.datum is end else len(run.standing) - 1
    stretches = _stretches(run, height) if rule and height is not None else iter(())
    return next((_depth(run, stretch, rule) for stretch in stretches if rule and place in stretch), None)
