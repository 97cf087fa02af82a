"""What a stage of the glue-up says of its parts, its joints and its checks."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from storystick.assembly.glued import GluedJoint
from storystick.assembly.order import Body, Step
from storystick.assembly.squareness import differ_words
from storystick.assembly.stages import Stage
from storystick.job.job import Job, Rectangle
from storystick.layout.cabinets.pieces import FRAME_ROLES, OUTER_ROLES, Axis, CabinetLayout, Role
from storystick.lengths import write_root
from storystick.wording import ranges, unbroken

_PLURALS: Final = {Role.SHELF: "shelves", Role.BACK: "back", Role.TOP: "top", Role.BOTTOM: "bottom"}
_FROM: Final = {Axis.X: "from the left", Axis.Y: "from the front", Axis.Z: "from below"}
_MOST_NAMED: Final = 3

TWIST: Final = "before the glue sets, over winding sticks or on a flat bed: diagonals cannot see it"
"""Said once of each case, frame and plinth that is made: common practice, no source."""

DRY_BACK: Final = "lay the back in dry, held by a few screws or tacks: it keeps the case square while the glue sets"
"""Of a back that is fastened after painting: common practice, no source."""


def name_of(step: Step, layout: CabinetLayout) -> str:
    """A step by what it joins to what: the kinds of the parts, or their names where there is one of a kind."""
    pieces = {joint.piece for joint in step.joints}
    if pieces <= {piece.name for piece in layout.of(Role.PLINTH)}:
        return "ends to front and back"
    return f"{_kinds(pieces, layout)} to {_kinds({joint.on for joint in step.joints}, layout)}"


def gathered(names: Iterable[str]) -> str:
    """Names in a row, those that are numbered one after another as one: "bottom, shelf 1–4, top"."""
    runs: list[tuple[str, int, int]] = []
    for name in names:
        match = re.fullmatch(r"(.*?)(?: (\d+))?", name)
        stem, number = (match[1], int(match[2] or -1)) if match else (name, -1)
        if runs and number >= 0 and runs[-1][0] == stem and runs[-1][2] + 1 == number:
            runs[-1] = (stem, runs[-1][1], number)
        else:
            runs.append((stem, number, number))
    return ", ".join(_run(*run) for run in runs)


def grouped(joints: Sequence[GluedJoint]) -> Iterator[str]:
    """The joints gathered by what is joined to: a line for each."""
    if len(joints) > _MOST_NAMED and _one_to_one(joints):
        yield f"{gathered(joint.piece for joint in joints)}, each to the part at it"
        return
    by_on: dict[str, list[str]] = {}
    for joint in joints:
        by_on.setdefault(joint.on, []).append(joint.piece)
    by_pieces: dict[str, list[str]] = {}
    for on, pieces in by_on.items():
        by_pieces.setdefault(gathered(pieces), []).append(on)
    for pieces_words, ons in by_pieces.items():
        yield f"{pieces_words} to {gathered(ons)}"


def _one_to_one(joints: Sequence[GluedJoint]) -> bool:
    pieces, ons = {joint.piece for joint in joints}, {joint.on for joint in joints}
    return len(pieces) == len(ons) == len(joints)


def placing(step: Step, layout: CabinetLayout) -> str:
    """The bodies in the order in which they are placed."""
    words: list[str] = []
    singles: list[str] = []
    for body in (*step.bodies, frozenset[str]()):
        if len(body) == 1:
            singles.extend(body)
            continue
        words.extend([gathered(singles)] if singles else [])
        words.extend([_body_words(body, layout)] if body else [])
        singles = []
    return f"{_FROM[step.axis]}: {', '.join(words)}"


def check_words(rectangles: Sequence[Rectangle], moment: str, job: Job) -> str:
    """Which diagonals are measured at what moment, what they should be, and by how much the two may differ."""
    if not rectangles:
        return "hold a square in every corner, and look along the edges: no new rectangle can be measured across"
    found = "; ".join(f"{each.told} {_diagonal(each, job)}" for each in spread_out(rectangles))
    return f"{moment}, both diagonals of {found}"


def checks(stage: Stage, job: Job) -> Iterator[str]:
    """All that is checked in a stage, each by itself."""
    yield check_words(stage.rectangles, stage.moment, job)
    if stage.twist:
        yield f"twist, {TWIST}"


def spread_out(rectangles: Sequence[Rectangle]) -> tuple[Rectangle, ...]:
    """At most three of them that differ in size, the largest first: one that is racked racks all in its body."""
    alike = {(each.width, each.height): each for each in reversed(rectangles)}
    largest = sorted(alike.values(), key=lambda each: each.diagonal_squared, reverse=True)
    return tuple(largest[:_MOST_NAMED])


def _diagonal(rectangle: Rectangle, job: Job) -> str:
    differ = unbroken(differ_words(rectangle, job))
    return f"{unbroken(write_root(rectangle.diagonal_squared, job.units, job.round_to))}, to differ by {differ} at most"


def _body_words(body: Body, layout: CabinetLayout) -> str:
    """A body of several pieces; a whole part of the cabinet by its own word."""
    pieces = [piece for piece in layout.pieces if piece.name in body]
    if body >= {piece.name for piece in layout.of(*OUTER_ROLES)}:
        return "the case"
    if body >= {piece.name for piece in layout.of(*FRAME_ROLES)} and pieces[0].role in FRAME_ROLES:
        return "the face frame"
    if pieces[0].role is Role.PLINTH:
        return "the plinth"
    if len(pieces) <= _MOST_NAMED:
        return " + ".join(piece.name for piece in pieces)
    return f"{pieces[0].name} with all that is glued to it"


def _kinds(names: set[str], layout: CabinetLayout) -> str:
    by_role: dict[Role, list[str]] = {}
    for piece in layout.pieces:
        if piece.name in names:
            by_role.setdefault(piece.role, []).append(piece.name)
    words = [own[0] if len(own) == 1 else _plural(role) for role, own in by_role.items()]
    return " and ".join(filter(None, (", ".join(words[:-1]), words[-1])))


def _plural(role: Role) -> str:
    return _PLURALS.get(role, f"{role.value}s")


def _run(stem: str, first: int, last: int) -> str:
    return stem if first < 0 else f"{stem} {ranges(range(first, last + 1))}"
