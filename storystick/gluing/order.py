"""In which order parts can be brought together, from their joints alone, and what that closes.

Whatever is closed last is closed along one direction. Parts that are let into each other across that direction have to
be one assembly by then, and so has what is caught between two parts of one; every other joint can be left until then.
The assemblies that remain are taken apart in the same way along another direction, until single pieces are left.

A stage is cut only along its direction, so that a cut never shuts a part out.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from graphlib import CycleError, TopologicalSorter
from itertools import pairwise
from typing import Final, TypeAlias

from storystick.gluing.joints import GluedJoint, Held
from storystick.job.job import Rectangle
from storystick.layout.cabinets.holes import case_holes, frame_holes
from storystick.layout.cabinets.pieces import (
    BACK_ROLES,
    BASE_ROLES,
    FIXED_IN_ROLES,
    FRAME_ROLES,
    OUTER_ROLES,
    Axis,
    CabinetLayout,
    Piece,
    Range,
    Role,
)
from storystick.layout.cabinets.works import width_of
from storystick.squaring.rectangles import case_rectangles, frame_rectangles

Assembly: TypeAlias = frozenset[Piece]
"""Pieces that are one by then."""

# Sides close a case last, as they do in the shop, wherever parts are not let in across that.
_LAST_FIRST: Final = (Axis.X, Axis.Z, Axis.Y)


class LockedError(ValueError):
    """Pieces that are locked into each other, so that they cannot be brought together at all."""

    def __init__(self, pieces: Sequence[Piece]) -> None:
        super().__init__(", ".join(piece.name for piece in pieces))
        self.pieces = pieces


@dataclass(frozen=True, slots=True)
class Closing:
    """Joints that are closed together along ``axis``, between ``assemblies`` in the order in which they are placed.

    That is from the left, the front or below: none comes before one that lies on its low side.
    """

    axis: Axis
    assemblies: tuple[Assembly, ...]
    joints: tuple[GluedJoint, ...]

    @property
    def pieces(self) -> Assembly:
        return frozenset[Piece]().union(*self.assemblies)


def closings_of(joints: Sequence[GluedJoint]) -> tuple[Closing, ...]:
    """All the joints in the order in which they are closed, sub-assemblies first.

    Raises:
        LockedError: the parts are locked into each other.
    """
    if not joints:
        return ()
    axis, assemblies = _last_assemblies(joints)
    home = {piece: assembly for assembly in assemblies for piece in assembly}
    inner = [
        closing
        for assembly in assemblies
        for closing in closings_of([j for j in joints if home[j.piece] is home[j.on] is assembly])
    ]
    outer = [joint for joint in joints if home[joint.piece] is not home[joint.on]]
    return (*inner, *_connected(axis, assemblies, outer))


def split(closing: Closing, strain: Callable[[Sequence[GluedJoint]], Fraction], most: Fraction) -> tuple[Closing, ...]:
    """The closing in smaller ones, where its strain is over ``most`` and cutting it in two lowers the greatest strain.

    A cut joins what comes before it along the closing's direction, and what comes after, before it joins the two: so no
    part is caught between two that are one assembly already.
    """
    whole = strain(closing.joints)
    if whole <= most:
        return (closing,)
    greatest, _, parts = min(
        ((max(strain(part.joints) for part in parts), len(parts), parts) for parts in _cuts(closing)),
        key=lambda found: found[:2],
        default=(whole, 1, (closing,)),
    )
    if greatest >= whole:
        return (closing,)
    return tuple(smaller for part in parts for smaller in split(part, strain, most))


def _last_assemblies(joints: Sequence[GluedJoint]) -> tuple[Axis, tuple[Assembly, ...]]:
    for axis in _LAST_FIRST:
        across = [joint for joint in joints if axis not in (joint.axis, joint.slides)]
        assemblies = _assemblies_along(axis, joints, across)
        if len(assemblies) > 1:
            return axis, _pressed_first(joints, across, assemblies) if axis is Axis.Y else assemblies
    raise LockedError(_pieces(joints))


def _pressed_first(
    joints: Sequence[GluedJoint], across: Sequence[GluedJoint], found: tuple[Assembly, ...]
) -> tuple[Assembly, ...]:
    """The assemblies of a closing along Y with all those made one that can be pressed home before: what could slide in
    does so only where it has to; a panel slides in its grooves in any case.
    """
    kept, apart = list(across), [joint for joint in joints if joint.axis is Axis.Y and _parts(joint, found)]
    for joint in joints:
        if joint.axis is Axis.Y or joint.held is Held.GROOVE or not _parts(joint, found):
            continue
        tried = _assemblies_along(Axis.Y, joints, [*kept, joint])
        if len(tried) > 1 and all(_parts(other, tried) for other in apart):
            kept, found = [*kept, joint], tried
    return found


def _parts(joint: GluedJoint, assemblies: Iterable[Assembly]) -> bool:
    """Whether the two of a joint are in different assemblies."""
    return not any(joint.piece in assembly and joint.on in assembly for assembly in assemblies)


def _assemblies_along(axis: Axis, joints: Sequence[GluedJoint], across: Iterable[GluedJoint]) -> tuple[Assembly, ...]:
    """What must be one before the rest can be closed along ``axis``, in the order of placing; all ``across`` must."""
    assemblies = _merged([frozenset([piece]) for piece in _pieces(joints)], [(j.piece, j.on) for j in across])
    while True:
        home = {piece: assembly for assembly in assemblies for piece in assembly}
        above: dict[Assembly, list[Assembly]] = {assembly: [] for assembly in assemblies}
        for joint in joints:
            if joint.axis is axis and home[joint.low] is not home[joint.high]:
                above[home[joint.low]].append(home[joint.high])
        try:
            depths = _depths(above)
        except CycleError as error:
            # Each of these lies beyond the one before it, and the last before the first: all are caught in each other.
            caught = [next(iter(assembly)) for assembly in error.args[1]]
            assemblies = _merged(assemblies, list(pairwise(caught)))
        else:
            return tuple(sorted(assemblies, key=lambda assembly: -depths[assembly]))


def _depths(above: dict[Assembly, list[Assembly]]) -> dict[Assembly, int]:
    """How many assemblies at most lie one beyond the other after each.

    Raises:
        CycleError: some lie beyond each other.
    """
    sorter = TopologicalSorter(above)
    sorter.prepare()
    levels: list[tuple[Assembly, ...]] = []
    while sorter.is_active():
        levels.append(sorter.get_ready())
        sorter.done(*levels[-1])
    return {assembly: depth for depth, level in enumerate(levels) for assembly in level}


def _connected(axis: Axis, assemblies: Sequence[Assembly], joints: Sequence[GluedJoint]) -> Iterator[Closing]:
    """The joints between assemblies: one closing for all that hang together."""
    rank = {piece: number for number, assembly in enumerate(assemblies) for piece in assembly}
    together = _merged(assemblies, [(joint.piece, joint.on) for joint in joints])
    for whole in together:
        own = tuple(assembly for assembly in assemblies if assembly <= whole)
        if len(own) > 1:
            found = [joint for joint in joints if joint.piece in whole]
            found.sort(key=lambda joint: max(rank[joint.piece], rank[joint.on]))
            yield Closing(axis, own, tuple(found))


def _cuts(closing: Closing) -> Iterator[tuple[Closing, ...]]:
    """Every way to cut the order of placing in two, as closings: both halves, then what joins them."""
    for place in range(1, len(closing.assemblies)):
        early = frozenset[Piece]().union(*closing.assemblies[:place])
        sides = [(joint.piece in early, joint.on in early) for joint in closing.joints]
        halves = [joint for joint, (one, other) in zip(closing.joints, sides, strict=True) if one is other]
        crossing = [joint for joint, (one, other) in zip(closing.joints, sides, strict=True) if one is not other]
        first = tuple(_connected(closing.axis, closing.assemblies, halves))
        merged = _merged(closing.assemblies, [(joint.piece, joint.on) for joint in halves])
        ordered = sorted(merged, key=lambda assembly: not assembly <= early)
        yield (*first, *_connected(closing.axis, ordered, crossing))


def _merged(assemblies: Iterable[Assembly], pairs: Iterable[tuple[Piece, Piece]]) -> list[Assembly]:
    """The assemblies with those made one that a pair names a piece of each of, in their order."""
    home = {piece: assembly for assembly in assemblies for piece in assembly}
    for one, other in pairs:
        if home[one] is not home[other]:
            joined = home[one] | home[other]
            home |= dict.fromkeys(joined, joined)
    return list(dict.fromkeys(home.values()))


def _pieces(joints: Iterable[GluedJoint]) -> list[Piece]:
    return list(dict.fromkeys(piece for joint in joints for piece in (joint.low, joint.high)))


def closed_rectangles(closing: Closing, layout: CabinetLayout) -> tuple[Rectangle, ...]:
    """What the closing makes whole: case, face frame or plinth; before that, every opening that it closes.

    None where no opening is closed yet, or where a whole case is set on a plinth.
    """
    pieces = closing.pieces
    if not pieces - {*layout.of(*BACK_ROLES)}:
        return (_back_frame(layout),)
    if pieces & {*layout.of(*FIXED_IN_ROLES)}:
        # What they are fixed to is square by then, or is to be.
        return ()
    if pieces & {*layout.of(*BASE_ROLES)}:
        return () if pieces & {*layout.sides} else (_plinth(layout),)
    if pieces >= {*layout.of(*OUTER_ROLES)}:
        # What is laid on a case, along Y, closes nothing inside it.
        return whole_case(layout)[: 1 if closing.axis is Axis.Y else 2]
    if web := next(iter(pieces)).part_of:
        return (Rectangle(f"{layout.cabinet.name} {web.name}", web.length, width_of(web)),)
    frame = {*layout.of(*FRAME_ROLES)}
    framed = bool(pieces & frame)
    whole, *openings = frame_rectangles(layout) if framed else tuple(case_rectangles(layout))[1:]
    if framed and pieces >= frame:
        return (whole,)
    holes = frame_holes(layout.bays) if framed else case_holes(layout.bays)
    closed = (_newly_closed(hole.bounds.pieces, closing) for hole in holes)
    return tuple(opening for opening, new in zip(openings, closed, strict=True) if new)


def whole_case(layout: CabinetLayout) -> tuple[Rectangle, ...]:
    """A case outside and inside."""
    return tuple(case_rectangles(layout))[:2]


def _newly_closed(bounds: Iterable[Piece], closing: Closing) -> bool:
    around = frozenset(bounds)
    return around <= closing.pieces and not any(around <= assembly for assembly in closing.assemblies)


def _back_frame(layout: CabinetLayout) -> Rectangle:
    stiles = layout.of(Role.BACK_STILE)
    width, height = (Range.over(piece.along(axis) for piece in stiles).size for axis in (Axis.X, Axis.Z))
    return Rectangle(f"{layout.cabinet.name} back frame", width, height)


def _plinth(layout: CabinetLayout) -> Rectangle:
    """The plinth from above: its width and its depth."""
    pieces = layout.of(Role.PLINTH)
    width, depth = (Range.over(piece.along(axis) for piece in pieces).size for axis in (Axis.X, Axis.Y))
    return Rectangle(f"{layout.cabinet.name} plinth", width, depth)
