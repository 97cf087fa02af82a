"""How far fronts reach over the edges of the openings of a cabinet's face. Exact, in mm.

The face is what is seen without fronts: the face frame, or the front edges of a case without one. Its outside is what
fronts may reach to. A solver that knows fronts and wants openings, and what makes fronts from openings, both ask here.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise, product
from typing import TypeAlias

from storystick.job.cabinets import Cabinet
from storystick.job.reaching import FaceEdge, Reach
from storystick.layout.cabinets.closings import Closing, closings_of
from storystick.layout.cabinets.pieces import Bay, CabinetLayout, Case, Range


@dataclass(frozen=True, slots=True)
class Laps:
    """How far fronts reach over each edge of an opening, in mm; less than 0 where they stay inside it.

    A front is its opening and the laps at both its edges: ``front.start == opening.start - low`` and
    ``front.end == opening.end + high``, so ``opening.size == front.size - low - high``.
    """

    reach: Reach
    reveal: Fraction

    def outer(self, edge: FaceEdge, width: Fraction) -> Fraction:
        """At an edge of the face, where ``width`` is from the opening to the outside of the face."""
        return self.reach.outer(edge, width, self.reveal)

    def shared(self, width: Fraction) -> Fraction:
        """At a level or an upright edge that is shared, where ``width`` is that of what stands there.

        Where nothing does, two fronts keep one reveal between them, half of it each.
        """
        return self.reach.shared(width, self.reveal) if width else -self.reveal / 2


def laps_of(cabinet: Cabinet) -> Laps | None:
    """How far the fronts of a cabinet reach; None where it has no fronts."""
    rule = cabinet.fronts
    return Laps(rule.reach, rule.reveal) if rule else None


def face_of(cabinet: Cabinet, case: Case) -> tuple[Range, Range]:
    """The face from its left to its right, and from its foot above a toe space or a base to its head."""
    return Range(Fraction(0), cabinet.width), Range(case.foot, case.head)


@dataclass(frozen=True, slots=True)
class EdgeLap:
    """How far a front reaches over one edge of its opening, in mm; ``width`` is that of what stands there.

    ``outer`` is the edge of the face that it is, None for one that is shared with a neighbour.
    """

    lap: Fraction
    width: Fraction
    outer: FaceEdge | None


OpeningLaps: TypeAlias = Mapping[FaceEdge, EdgeLap]
"""The laps at all four edges of an opening."""


def laps_at(layout: CabinetLayout, laps: Laps) -> dict[Closing, OpeningLaps]:
    """The laps of whatever is closed in a cabinet, by what stands between it and its neighbours or the outside."""
    widths: dict[tuple[Closing, FaceEdge], Fraction] = {}
    for one, other, edges, width in neighbours(layout):
        for key in zip((one, other), edges, strict=True):
            widths[key] = min(width, widths.get(key, width))
    x, z = face_of(layout.cabinet, layout.case)

    def at(closing: Closing, edge: FaceEdge, outside: Fraction) -> EdgeLap:
        width = widths.get((closing, edge))
        if width is None:
            return EdgeLap(laps.outer(edge, outside), outside, edge)
        return EdgeLap(laps.shared(width), width, None)

    return {
        closing: {
            FaceEdge.LEFT: at(closing, FaceEdge.LEFT, closing.frame_x.start - x.start),
            FaceEdge.RIGHT: at(closing, FaceEdge.RIGHT, x.end - closing.frame_x.end),
            FaceEdge.BOTTOM: at(closing, FaceEdge.BOTTOM, closing.frame_z.start - z.start),
            FaceEdge.TOP: at(closing, FaceEdge.TOP, z.end - closing.frame_z.end),
        }
        for closing in closings_of(layout)
    }


def neighbours(layout: CabinetLayout) -> Iterator[tuple[Closing, Closing, tuple[FaceEdge, FaceEdge], Fraction]]:
    """Every two closed places with at most a board or a frame's member between them, the lower or left one first.

    With them the edges that they turn to each other, and how wide that is which stands between.
    """
    closings = {bay: closing for closing in closings_of(layout) for bay in closing.bays}
    told: set[tuple[Closing, Closing]] = set()
    for low, high, upright in _adjoining(layout.bays):
        one, other = closings[low], closings[high]
        if one is other or (one, other) in told:
            continue
        told.add((one, other))
        if upright:
            yield one, other, (FaceEdge.RIGHT, FaceEdge.LEFT), high.frame_x.start - low.frame_x.end
        else:
            yield one, other, (FaceEdge.TOP, FaceEdge.BOTTOM), high.frame_z.start - low.frame_z.end


def _adjoining(bays: Sequence[Bay]) -> Iterator[tuple[Bay, Bay, bool]]:
    """Every two such openings, and whether what is between them stands upright."""
    columns: dict[tuple[int, int], list[Bay]] = {}
    for bay in bays:
        columns.setdefault((bay.row, bay.column), []).append(bay)
    for (row, column), own in columns.items():
        yield from ((one, other, False) for one, other in pairwise(own))
        for one, other in product(own, columns.get((row, column + 1), ())):
            if one.z.overlaps(other.z):
                yield one, other, True
        for (above, _), others in columns.items():
            if above == row + 1 and own[-1].x.overlaps(others[0].x):
                yield own[-1], others[0], False
