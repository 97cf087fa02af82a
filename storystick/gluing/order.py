"""In which order parts can be brought together, from their joints alone, and what that closes.

Whatever is closed last is closed along one direction. Parts that are let into each other across that direction have to
be one body by then, and so has what is caught between two parts of one body; every other joint can be left until then.
The bodies that remain are taken apart in the same way along another direction, until single pieces are left.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, TypeAlias

from storystick.gluing.joints import GluedJoint
from storystick.job.job import Rectangle
from storystick.layout.cabinets.pieces import CASE_ROLES, FRAME_ROLES, Axis, Bay, CabinetLayout, Role
from storystick.squaring.rectangles import case_rectangles, frame_rectangles

Body: TypeAlias = frozenset[str]
"""Pieces that are one by then, by their names."""

_LAST_FIRST: Final = (Axis.X, Axis.Z, Axis.Y)


@dataclass(frozen=True, slots=True)
class Step:
    """Joints that are closed together along ``axis``, between ``bodies`` in the order in which they are placed.

    That is from the left, the front or below: no body comes before one that lies on its low side.
    """

    axis: Axis
    bodies: tuple[Body, ...]
    joints: tuple[GluedJoint, ...]

    @property
    def pieces(self) -> Body:
        return frozenset[str]().union(*self.bodies)


def steps_of(joints: Sequence[GluedJoint]) -> tuple[Step, ...]:
    """The steps in which all the joints are closed, sub-assemblies first.

    Raises:
        ValueError: the parts are locked into each other, so that they cannot be brought together at all.
    """
    if not joints:
        return ()
    axis, bodies = _last_bodies(joints)
    home = {name: body for body in bodies for name in body}
    inner = [step for body in bodies for step in steps_of([j for j in joints if home[j.piece] is home[j.on] is body])]
    outer = [joint for joint in joints if home[joint.piece] is not home[joint.on]]
    return (*inner, *_connected_steps(axis, bodies, outer))


def split(step: Step, strain: Callable[[Sequence[GluedJoint]], Fraction], most: Fraction) -> tuple[Step, ...]:
    """The step in smaller ones, where its strain is over ``most`` and cutting it in two lowers the greatest strain.

    A cut joins what comes before it along the step's direction, and what comes after, before it joins the two: so no
    part is caught between two that are one body already.
    """
    whole = strain(step.joints)
    if whole <= most:
        return (step,)
    greatest, _, parts = min(
        ((max(strain(part.joints) for part in parts), len(parts), parts) for parts in _cuts(step)),
        key=lambda found: found[:2],
        default=(whole, 1, (step,)),
    )
    if greatest >= whole:
        return (step,)
    return tuple(smaller for part in parts for smaller in split(part, strain, most))


def _last_bodies(joints: Sequence[GluedJoint]) -> tuple[Axis, tuple[Body, ...]]:
    for axis in _LAST_FIRST:
        bodies = _bodies_along(axis, joints)
        if len(bodies) > 1:
            return axis, bodies
    raise ValueError(f"{sorted(_names(joints))} are locked into each other")


def _bodies_along(axis: Axis, joints: Sequence[GluedJoint]) -> tuple[Body, ...]:
    """What must be one before the rest can be closed along ``axis``, in the order of placing."""
    across = [joint for joint in joints if axis not in (joint.axis, joint.slides)]
    bodies = _merged([frozenset([name]) for name in _names(joints)], [(j.piece, j.on) for j in across])
    while True:
        home = {name: body for body in bodies for name in body}
        above: dict[Body, list[Body]] = {body: [] for body in bodies}
        for joint in joints:
            if joint.axis is axis and home[joint.low] is not home[joint.high]:
                above[home[joint.low]].append(home[joint.high])
        reach = {body: _reached(body, above) for body in bodies}
        caught = [(min(a), min(b)) for a in bodies for b in reach[a] if a is not b and a in reach[b]]
        if not caught:
            depths: dict[Body, int] = {}
            return tuple(sorted(bodies, key=lambda body: -_depth(body, above, depths)))
        bodies = _merged(bodies, caught)


def _reached(start: Body, above: dict[Body, list[Body]]) -> set[Body]:
    """Every body that lies beyond ``start`` in the direction, itself if the way leads back to it."""
    found: set[Body] = set()
    waiting = list(above[start])
    while waiting:
        body = waiting.pop()
        if body not in found:
            found.add(body)
            waiting.extend(above[body])
    return found


def _depth(body: Body, above: dict[Body, list[Body]], known: dict[Body, int]) -> int:
    """How many bodies at most lie one beyond the other after it."""
    if body not in known:
        known[body] = max((1 + _depth(each, above, known) for each in above[body]), default=0)
    return known[body]


def _connected_steps(axis: Axis, bodies: Sequence[Body], joints: Sequence[GluedJoint]) -> Iterator[Step]:
    """The joints between bodies, a step for all that hang together."""
    rank = {name: number for number, body in enumerate(bodies) for name in body}
    together = _merged(bodies, [(joint.piece, joint.on) for joint in joints])
    for whole in together:
        own = tuple(body for body in bodies if body <= whole)
        if len(own) > 1:
            found = [joint for joint in joints if joint.piece in whole]
            found.sort(key=lambda joint: max(rank[joint.piece], rank[joint.on]))
            yield Step(axis, own, tuple(found))


def _cuts(step: Step) -> Iterator[tuple[Step, ...]]:
    """Every way to cut the order of placing in two, as steps: both halves, then what joins them."""
    for place in range(1, len(step.bodies)):
        early = frozenset[str]().union(*step.bodies[:place])
        sides = [(joint.piece in early, joint.on in early) for joint in step.joints]
        halves = [joint for joint, (one, other) in zip(step.joints, sides, strict=True) if one is other]
        crossing = [joint for joint, (one, other) in zip(step.joints, sides, strict=True) if one is not other]
        first = tuple(_connected_steps(step.axis, step.bodies, halves))
        merged = _merged(step.bodies, [(joint.piece, joint.on) for joint in halves])
        ordered = sorted(merged, key=lambda body: not body <= early)
        yield (*first, *_connected_steps(step.axis, ordered, crossing))


def _merged(bodies: Iterable[Body], pairs: Iterable[tuple[str, str]]) -> list[Body]:
    """The bodies with those made one that a pair names a piece of each of, in their order."""
    home = {name: body for body in bodies for name in body}
    for one, other in pairs:
        if home[one] is not home[other]:
            joined = home[one] | home[other]
            home |= dict.fromkeys(joined, joined)
    return list(dict.fromkeys(home.values()))


def _names(joints: Iterable[GluedJoint]) -> list[str]:
    return list(dict.fromkeys(name for joint in joints for name in (joint.low, joint.high)))


def closed_rectangles(step: Step, layout: CabinetLayout) -> tuple[Rectangle, ...]:
    """What the step makes whole: case, face frame or plinth; before that, every opening that it closes.

    None where no opening is closed yet, or where a whole case is set on a plinth.
    """
    pieces = step.pieces
    frame, plinth = _names_of_rectangle(layout, *FRAME_ROLES), _names_of_rectangle(layout, Role.PLINTH)
    if pieces & plinth:
        return () if "bottom" in pieces else (_plinth(layout),)
    case = tuple(case_rectangles(layout))
    if pieces >= _names_of_rectangle(layout, Role.SIDE, Role.TOP, Role.BOTTOM):
        return case[:1] if step.axis is Axis.Y else case[:2]
    whole, *openings = frame_rectangles(layout) if pieces & frame else case[1:]
    if pieces >= frame and pieces & frame:
        return (whole,)
    closed = (_newly_closed(_around(bay, layout, bool(pieces & frame)), step) for bay in layout.bays)
    return tuple(opening for opening, new in zip(openings, closed, strict=True) if new)


def whole_case(layout: CabinetLayout) -> tuple[Rectangle, ...]:
    """A case outside and inside."""
    return tuple(case_rectangles(layout))[:2]


def _newly_closed(around: Body, step: Step) -> bool:
    return around <= step.pieces and not any(around <= body for body in step.bodies)


def _around(bay: Bay, layout: CabinetLayout, framed: bool) -> Body:
    """The pieces that bound an opening of the case, or the members of the frame that do before it."""
    found = [piece for piece in layout.of(*CASE_ROLES) if any(bay.is_bounded_by(piece, high) for high in (False, True))]
    bounds = [layout.before(piece) if framed else piece for piece in found]
    return frozenset(piece.name for piece in bounds if piece)


def _plinth(layout: CabinetLayout) -> Rectangle:
    """The plinth from above: its width and its depth."""
    pieces = layout.of(Role.PLINTH)
    width = max(piece.x.end for piece in pieces) - min(piece.x.start for piece in pieces)
    depth = max(piece.y.end for piece in pieces) - min(piece.y.start for piece in pieces)
    return Rectangle(f"{layout.cabinet.name} plinth", width, depth)


def _names_of_rectangle(layout: CabinetLayout, *roles: Role) -> Body:
    return frozenset(piece.name for piece in layout.of(*roles))
