"""What is worked on a part or a board, as boxes of wood that is taken away. Exact, in mm."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final, NamedTuple

from storystick.cutting.part import CutPart, PartWork
from storystick.layout.cabinets.works import WorkKind
from storystick.layout.stations import PlacedPart, PointKind, StickLayout

_ZERO: Final = Fraction(0)
_IN_EDGES: Final = {kind.value for kind in (WorkKind.MORTISE, WorkKind.HAUNCHING, WorkKind.EDGE_GROOVE)}
"""The kinds that lie in an edge: across, they count in the thickness."""
_THROUGH: Final = "the whole thickness"
_RIGHT_ACROSS: Final = (_ZERO, Fraction(10**6))


class Box(NamedTuple):
    """Wood that is taken away on a face: from where to where along the part and across it, how deep, and for what.

    Of a tongue that is what is taken away beside it. ``in_edge`` is whether ``near`` and ``far`` lie in the thickness.
    """

    on: str
    kind: str
    name: str
    low: Fraction
    high: Fraction
    near: Fraction
    far: Fraction
    depth: Fraction
    in_edge: bool = False

    @property
    def what(self) -> str:
        return f"{self.kind} for {self.name}"

    @property
    def is_bare(self) -> bool:
        """Whether it is an end that goes in as thick as it is, or of which the job leaves the thickness to the shop."""
        return self.kind == WorkKind.TONGUE.value and not self.depth

    def holds(self, other: Box, slack: Fraction) -> bool:
        """Whether the other takes away nothing that this does not, but for ``slack``."""
        along = self.low - slack <= other.low and other.high <= self.high + slack
        across = self.near - slack <= other.near and other.far <= self.far + slack
        return self.on == other.on and along and across and other.depth <= self.depth + slack

    def cut_down(self, off: Fraction, ripped: Fraction, length: Fraction, width: Fraction | None) -> Box | None:
        """What is left of it where so much is cut off before the marks; None where all of it goes."""
        low, high = max(self.low - off, _ZERO), min(self.high - off, length)
        near, far = self.near, self.far
        if width is not None and not self.in_edge:
            near, far = max(near - ripped, _ZERO), min(far - ripped, width)
        gone = low > high or near > far or (low == high and self.low < self.high)
        return (
            None
            if gone or (near == far and self.near < self.far)
            else self._replace(low=low, high=high, near=near, far=far)
        )


class Cut(NamedTuple):
    """A thing of this size with what is worked on it; ``width`` is None of a stick, on which marks only run along."""

    length: Fraction
    width: Fraction | None
    boxes: tuple[Box, ...]

    @property
    def edges_are_worked(self) -> bool:
        return any(box.in_edge for box in self.boxes)


def cut_part(part: CutPart) -> Cut:
    """A part as its list has it."""
    boxes = (box for work in part.works for box in _boxes(work, part))
    return Cut(part.length, part.width, tuple(dict.fromkeys(boxes)))


def _boxes(work: PartWork, part: CutPart) -> Iterator[Box]:
    match work.kind:
        case WorkKind.TONGUE.value:
            yield from _beside_tongue(work, part)
        case WorkKind.CUT_BACK.value:
            yield _box(work, (work.start, work.end), (work.low, work.high), _THROUGH, part.thickness)
        case _:
            half, wide = (size / 2 for size in work.bore)
            sides = work.start - wide, work.end + wide
            for start, end in [(place, place) for place in work.places] or [(work.low, work.high)]:
                yield _box(work, sides, (start - half, end + half), work.on, work.depth)


def _beside_tongue(work: PartWork, part: CutPart) -> Iterator[Box]:
    """Its shoulders, which run right across, and what is cut away of it at either end of its run."""
    reach, whole = (work.start, work.end), part.length if work.along else part.width
    for face, shoulder in zip(("low or outer face", "high or inner face"), work.shoulders, strict=True):
        if shoulder or not any(work.shoulders):
            yield _box(work, reach, (_ZERO, whole), face, shoulder)
    for run in ((_ZERO, work.low), (work.high, whole)):
        if run[0] < run[1]:
            yield _box(work, reach, run, _THROUGH, part.thickness)


def _box(
    work: PartWork, edges: tuple[Fraction, Fraction], run: tuple[Fraction, Fraction], on: str, depth: Fraction
) -> Box:
    along, across = (run, edges) if work.along else (edges, run)
    return Box(on, work.kind, work.name, *along, *across, depth, work.kind in _IN_EDGES)


def cut_stick(stick: StickLayout) -> Cut:
    """A board as a plain stick has it: what is not stopped runs right across, how wide that is being unknown."""
    grooves = (
        Box(
            "", groove.kind.value, groove.name, groove.start, groove.end, *(each.stopped or _RIGHT_ACROSS), _depth(each)
        )
        for each in stick.bands
        if (groove := each.groove)
    )
    holes = (
        Box("", point.kind.value, point.name, point.at, point.at, _ZERO, _ZERO, _ZERO)
        for point in stick.points
        if point.kind is PointKind.HOLE
    )
    return Cut(stick.length, None, (*grooves, *holes))


def _depth(placed: PlacedPart) -> Fraction:
    return placed.part.joint.depth if placed.part.joint else _ZERO


def turned(cut: Cut) -> Cut:
    """The same, counted from its other end."""
    boxes = (box._replace(low=cut.length - box.high, high=cut.length - box.low) for box in cut.boxes)
    return cut._replace(boxes=tuple(boxes))
