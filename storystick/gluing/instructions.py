"""What is said of a stage of the glue-up: its parts and joints, its checks and its times.

Figures in it have no-break spaces.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from math import ceil
from typing import Final

from storystick.gluing.clamp_words import called
from storystick.gluing.joints import GluedJoint, Held
from storystick.gluing.order import Assembly, Closing
from storystick.gluing.stages import CabinetStages, Stage, enough_glue
from storystick.job.job import Job, Rectangle
from storystick.job.shop import Glue
from storystick.layout.cabinets.pieces import BACK_ROLES, FRAME_ROLES, OUTER_ROLES, Axis, CabinetLayout, Piece, Role
from storystick.squaring.rectangles import differ_words
from storystick.wording import counted, listed, unbroken

TWIST: Final = "before the glue sets, over winding sticks or on a flat bed: diagonals cannot see it"
"""Said once of each case, frame and plinth that is made: common practice, no source."""

BRACE: Final = (
    "since a back of boards does not hold a case square: with its diagonals equal, tack a batten from corner to corner "
    "across its front edges, and leave it on until a face frame is, or until the case is fixed in its place"
)
"""Of a case whose back is of upright boards: common practice, no source."""

DRY_BACK: Final = "lay the back in dry, held by a few screws or tacks: it keeps the case square while the glue sets"
"""Of a back that is fastened after painting: common practice, no source."""

_PLURALS: Final = {Role.SHELF: "shelves", Role.BACK: "back", Role.TOP: "top", Role.BOTTOM: "bottom"}
_FROM: Final = {Axis.X: "from the left", Axis.Y: "from the front", Axis.Z: "from below"}

_MOST_NAMED: Final = 3
"""With glue on his hands nobody reads more: pieces of one assembly by name, or sizes of rectangles."""


def closing_name(closing: Closing, layout: CabinetLayout) -> str:
    """A closing by what it joins to what: the kinds of the parts, or their names where there is one of a kind."""
    pieces, ons = ({joint.piece for joint in closing.joints}, {joint.on for joint in closing.joints})
    if all(piece.role is Role.PLINTH for piece in pieces):
        return "ends to front and back"
    return f"{_kinds(pieces, layout)} to {_kinds(ons, layout)}"


def _kinds(pieces: set[Piece], layout: CabinetLayout) -> str:
    by_role: dict[Role, list[Piece]] = {}
    for piece in layout.pieces:
        if piece in pieces:
            by_role.setdefault(piece.role, []).append(piece)
    return listed(
        [own[0].name if len(own) == 1 else _PLURALS.get(role, f"{role.value}s") for role, own in by_role.items()]
    )


def grouped(joints: Sequence[GluedJoint]) -> Iterator[str]:
    """The joints gathered by what is joined to: a line for each."""
    by_on: dict[Piece, list[Piece]] = {}
    for joint in joints:
        by_on.setdefault(joint.on, []).append(joint.piece)
    if len(joints) > _MOST_NAMED and len({joint.piece for joint in joints}) == len(by_on) == len(joints):
        yield f"{called(joint.piece for joint in joints)}, each to the part at it"
        return
    by_pieces: dict[str, list[Piece]] = {}
    for on, pieces in by_on.items():
        by_pieces.setdefault(called(pieces), []).append(on)
    for words, ons in by_pieces.items():
        yield f"{words} to {called(ons)}"


def placing(closing: Closing, layout: CabinetLayout) -> str:
    """The assemblies in the order in which they are placed; single pieces that follow each other are gathered."""
    words: list[str] = []
    singles: list[Piece] = []
    for assembly in (*closing.assemblies, Assembly()):
        if len(assembly) == 1:
            singles.extend(assembly)
            continue
        words.extend([called(singles)] if singles else [])
        words.extend([_assembly_words(assembly, layout)] if assembly else [])
        singles = []
    return "; ".join((f"{_FROM[closing.axis]}: {', '.join(words)}", *_sliding(closing)))


def _sliding(closing: Closing) -> Iterator[str]:
    """What slides in, and how it is glued: common practice, no source."""
    slid = [joint for joint in closing.joints if joint.held is Held.SOCKET]
    ways = {
        where: called(dict.fromkeys(joint.piece for joint in slid if joint.on_high is front))
        for where, front in (("back", False), ("front", True))
    }
    if slid:
        words = ", and ".join(f"{names} in from the {where}" for where, names in ways.items() if names)
        yield (
            f"slide {words}, glue on the last third of each socket and on the first of each tail, without a stop: a "
            "tail that swells is stuck half way"
        )


def _assembly_words(assembly: Assembly, layout: CabinetLayout) -> str:
    """Several pieces that are one; a whole part of the cabinet by its own word."""
    pieces = [piece for piece in layout.pieces if piece in assembly]
    if assembly >= {*layout.of(*OUTER_ROLES)}:
        return "the case"
    if pieces[0].role in FRAME_ROLES and assembly >= {*layout.of(*FRAME_ROLES)}:
        return "the face frame"
    if pieces[0].role is Role.PLINTH:
        return "the plinth"
    if pieces[0].role is Role.BACK_BOARD:
        return "the boards of the back one by one"
    if pieces[0].role is Role.BACK_STILE and assembly >= {*layout.of(*BACK_ROLES)}:
        return "the framed back"
    if len(pieces) <= _MOST_NAMED:
        return " + ".join(piece.name for piece in pieces)
    return f"{pieces[0].name} with all that is glued to it"


_LOOKED_AT: Final[Mapping[Role, str]] = {
    Role.NOSING: "each nosing flush with the upper face of its shelf all along; tape serves where no clamp reaches",
    Role.CLEAT: "each upper edge on the line of the under face of what lies on it, square to the front edge",
    Role.CORNER_BLOCK: "each corner with a square before its block goes in, which keeps it as it is",
}
"""What is looked at where no rectangle is closed: common practice, no source."""


def looked_at(stage: Stage) -> str:
    """What is looked at in a stage that closes no rectangle but fixes something; empty for any other."""
    roles = {joint.piece.role for joint in stage.joints}
    return _LOOKED_AT[roles.pop()] if roles and roles <= _LOOKED_AT.keys() else ""


def check_words(stage: Stage, job: Job) -> str:
    """Which diagonals are measured at what moment, what they should be, and by how much the two may differ."""
    if words := looked_at(stage):
        return words
    if not stage.rectangles:
        return "hold a square in every corner, and look along the edges: no new rectangle can be measured across"
    found = "; ".join(
        f"{each.told} {unbroken(job.figures.of_root(each.diagonal_squared))}, to differ by "
        f"{unbroken(differ_words(each, job))} at most"
        for each in spread_out(stage.rectangles)
    )
    return f"{stage.moment}, both diagonals of {found}"


def checks(stage: Stage, job: Job) -> Iterator[str]:
    """All that is checked in a stage, each by itself."""
    yield check_words(stage, job)
    if stage.twist:
        yield f"twist, {TWIST}"
    if stage.braced:
        yield f"brace, {BRACE}"


def spread_out(rectangles: Sequence[Rectangle]) -> tuple[Rectangle, ...]:
    """At most three of them that differ in size, the largest first: one that is racked racks all in its body."""
    alike = {(each.width, each.height): each for each in reversed(rectangles)}
    largest = sorted(alike.values(), key=lambda each: each.diagonal_squared, reverse=True)
    return tuple(largest[:_MOST_NAMED])


def slower_glue_words(stages: Sequence[Stage], glue: Glue | None) -> str:
    """Once for a whole plan: which glue would be slow enough for all of it; empty where this one is."""
    if glue is None or (enough := enough_glue(stages)) is None:
        return ""
    first, *others = dict.fromkeys((stage.cabinet, stage.name) for stage in enough.over)
    also = f" and {counted(len(others), 'other stage')}" if others else ""
    return (
        f"A slower glue is needed: one with {enough.words} is enough. Glue {glue.name} sets before {first[0]}, "
        f"{first[1]}{also} can be closed, and smaller stages would shut parts out."
    )


def total_words(own: CabinetStages) -> str:
    """How long a cabinet takes from the dry run on, clamps and all."""
    work = f"about {duration(own.work)} of work"
    if not own.in_clamps:
        return work
    times = "once" if own.in_clamps == 1 else f"{own.in_clamps} times"
    if own.minutes is None or own.clamped is None:
        return f"{work}, and {times} in clamps for as long as the glue's label says"
    return f"{work}, {times} in clamps for {duration(own.clamped / own.in_clamps)}: {duration(own.minutes)} in all"


def duration(minutes: Fraction) -> str:
    """Minutes as one says them: 45 min, 2 h, 2 h 5 min."""
    hours, rest = divmod(ceil(minutes), 60)
    return " ".join(filter(None, (f"{hours} h" if hours else "", f"{rest} min" if rest or not hours else "")))
