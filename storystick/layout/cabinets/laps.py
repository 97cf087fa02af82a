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


def laps_at(layout: CabinetLayout, laps: Laps) -> dict[Bay, OpeningLaps]:
    """The laps of every opening of a cabinet, by what stands between it and its neighbours or the outside."""
    widths: dict[tuple[Bay, FaceEdge], Fraction] = {}
    for one, other, upright in adjoining(layout.bays):
        end, start = (one.frame_x.end, other.frame_x.start) if upright else (one.frame_z.end, other.frame_z.start)
        ends = (FaceEdge.RIGHT, FaceEdge.LEFT) if upright else (FaceEdge.TOP, FaceEdge.BOTTOM)
        for key in zip((one, other), ends, strict=True):
            widths[key] = min(start - end, widths.get(key, start - end))
    x, z = face_of(layout.cabinet, layout.case)

    def at(bay: Bay, edge: FaceEdge, outside: Fraction) -> EdgeLap:
        width = widths.get((bay, edge))
        if width is None:
            return EdgeLap(laps.outer(edge, outside), outside, edge)
        return EdgeLap(laps.shared(width), width, None)

    return {
        bay: {
            FaceEdge.LEFT: at(bay, FaceEdge.LEFT, bay.frame_x.start - x.start),
            FaceEdge.RIGHT: at(bay, FaceEdge.RIGHT, x.end - bay.frame_x.end),
            FaceEdge.BOTTOM: at(bay, FaceEdge.BOTTOM, bay.frame_z.start - z.start),
            FaceEdge.TOP: at(bay, FaceEdge.TOP, z.end - bay.frame_z.end),
        }
        for bay in layout.bays
    }


def adjoining(bays: Sequence[Bay]) -> Iterator[tuple[Bay, Bay, bool]]:
    """Every two openings with at most a board or a frame's member between them, the lower or left one first, and
    whether that stands upright.
    """
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
