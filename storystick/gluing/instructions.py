"""What is said of a stage of the glue-up: its parts and joints, its clamps, its checks and its times."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from math import ceil
from typing import Final

from storystick.gluing.clamps import ClampLine, Held
from storystick.gluing.joints import GluedJoint, Pressing
from storystick.gluing.order import Body, Step
from storystick.gluing.stages import Clamping, Stage, Total, enough_glue, lacking
from storystick.job.job import Job, Rectangle
from storystick.job.shop import Glue
from storystick.layout.cabinets.pieces import FRAME_ROLES, OUTER_ROLES, Axis, CabinetLayout, Role
from storystick.lengths import INCH_MM, Figures, Units
from storystick.squaring.rectangles import differ_words
from storystick.wording import counted, listed, ranges, unbroken

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
    return f"{unbroken(job.figures.of_root(rectangle.diagonal_squared))}, to differ by {differ} at most"


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


FEWER: Final = "or fewer with stiffer cauls, or pins or pocket screws from inside; it goes on in one piece and at once"
"""Of a face frame, which is laid on and clamped along its edges: common practice, no source."""

CROSSING: Final = "where cauls cross, pack up under the upper one"
"""Of a face frame as well: common practice, no source."""

_COARSE: Final = {Units.INCH: INCH_MM / 4, Units.MM: Fraction(5)}
"""What the eye sets clamps to, in mm: common practice, no source."""

_MOST_BLOCKS: Final = 4
"""So many kinds of blocks are said one by one; more of them nobody reads with glue on his hands."""

_MOST_CLASSES: Final = 4
"""So many sizes of clamps are said one by one; of more, those nearest to each other are one class."""

_LEAST_STEPS: Final = 4
"""Fewer such steps from clamp to clamp are said exactly."""


def clamping(lines: Sequence[ClampLine], job: Job) -> Iterator[str]:
    """How many clamps or pins go on each line, how they stand, and what else it needs: lines treated alike gathered.

    Figures in it have no-break spaces.
    """
    alike = Counter((line.length, _holders(line), _WHERE[line.held](line, job)) for line in lines)
    for (length, holders, where), number in alike.items():
        each = " on each" if number > 1 else ""
        yield f"{counted(number, 'line')} of {unbroken(job.label(length))}: {holders}{each}, {where}"
    yield from _notches(lines)
    yield from _blocks(lines, job)
    if len({(line.held, line.joints[0].runs) for line in lines if line.held in (Held.STIFF, Held.BOWED)}) > 1:
        yield CROSSING
    if any(joint.pressing is Pressing.ALONG for line in lines for joint in line.joints):
        yield FEWER


def clamp_words(stage: Stage, job: Job) -> str:
    """How many clamps, and how far each of them must open; of many kinds, in a few classes by the widest of each."""
    if not (classes := _classes(stage.needs, job)):
        return f"{stage.clamps} clamps"
    first, *others = classes
    if not others:
        return f"{stage.clamps} clamps that open to {_opening(first.jaws, job)} or more"
    kinds = [f"{first.clamps} that open to {_opening(first.jaws, job)} or more"]
    kinds += [f"{need.clamps} to {_opening(need.jaws, job)}" for need in others]
    return f"{stage.clamps} clamps ({listed(kinds)})"


def _classes(needs: Sequence[Clamping], job: Job) -> list[Clamping]:
    """The needs, widest first, those in one step of the rack as one, and the others so few that they are read.

    Two neighbours become one where that asks for the least length of bars over what the clamps must open to.
    """
    step = _COARSE[job.units]
    classes: list[Clamping] = []
    for need in needs:
        _add(classes, Clamping(need.clamps, ceil(need.jaws / step) * step))
    while len(classes) > _MOST_CLASSES:
        over = [low.clamps * (high.jaws - low.jaws) for high, low in pairwise(classes)]
        place = over.index(min(over))
        high, low = classes[place : place + 2]
        classes[place : place + 2] = [Clamping(high.clamps + low.clamps, high.jaws)]
    return classes


def _add(classes: list[Clamping], need: Clamping) -> None:
    """Put it to the last class where it is as wide, and behind it otherwise."""
    if classes and classes[-1].jaws == need.jaws:
        need = Clamping(classes.pop().clamps + need.clamps, need.jaws)
    classes.append(need)


def _opening(jaws: Fraction, job: Job) -> str:
    """How far a clamp must open, in steps that one looks for at the rack; never less than it must."""
    return unbroken(Figures(job.units, _COARSE[job.units]).at_least(jaws))


def pin_words(pins: int) -> str:
    return f"{pins} pins or screws, one edge first"


def _holders(line: ClampLine) -> str:
    return f"{line.pins} pins" if line.pins else f"{line.clamps} clamps"


def _spaced(line: ClampLine, job: Job) -> str:
    return f"{_about(line.spacing, job)} apart, half of that from the ends"


def _pinned(line: ClampLine, job: Job) -> str:
    return f"{_spaced(line, job)}, along the middle of a lap of {unbroken(job.label(line.lap))}"


_WHERE: Final[dict[Held, Callable[[ClampLine, Job], str]]] = {
    Held.EDGES: lambda _line, _job: "at the front and back edges, over bowed cauls",
    Held.FACES: lambda _line, _job: "one on each face",
    Held.SPACED: lambda line, job: f"{_spaced(line, job)}, by turns on either face",
    Held.STIFF: lambda line, job: f"{_spaced(line, job)}, on a stiff caul along it",
    Held.BOWED: lambda _line, _job: "at the ends of a bowed caul",
    Held.PINNED: _pinned,
}


def _about(spacing: Fraction, job: Job) -> str:
    """A distance that is set by eye, unless it is so small that rounding would tell."""
    steps = round(spacing / _COARSE[job.units])
    if steps < _LEAST_STEPS:
        return unbroken(job.label(spacing))
    return f"about {unbroken(job.label(steps * _COARSE[job.units]))}"


def _notches(lines: Iterable[ClampLine]) -> Iterator[str]:
    """The cauls that come over tongues that are free by then, or over the tenons of a frame."""
    for word, framed in (("tongue", False), ("tenon", True)):
        if parts := dict.fromkeys(name for line in lines if line.framed is framed for name in line.notched):
            yield f"notch the caul over the free {word} of {gathered(parts)}, so that it bears on the shoulders"


def _blocks(lines: Sequence[ClampLine], job: Job) -> Iterator[str]:
    """What is put into empty places, by its length and by what it stands between; counted where that is much."""
    alike: dict[tuple[Fraction, tuple[str, str]], list[str]] = {}
    for line in lines:
        for block in line.blocks:
            alike.setdefault((block.length, block.between), []).extend(joint.piece for joint in line.joints)
    if len(alike) > _MOST_BLOCKS:
        sizes = [unbroken(job.label(length)) for length in sorted({length for length, _ in alike})]
        size = f"of {sizes[0]}" if len(sizes) == 1 else f"from {sizes[0]} to {sizes[-1]}"
        places = sum(len(line.blocks) for line in lines)
        yield f"blocks {size}, dry, in {places} empty places: wherever a line meets no part in an opening"
        return
    for (length, (low, high)), opposite in alike.items():
        parts = gathered(dict.fromkeys(opposite))
        yield f"blocks of {unbroken(job.label(length))}, dry, between {low} and {high} in line with {parts}"


def lack_words(stage: Stage, job: Job) -> str:
    """Which clamps the shop has not got for a stage, and what would do; empty where it has enough."""
    if not (lacks := lacking(stage, job.shop.clamps if job.shop else ())):
        return ""
    more = listed([_missing(lack, job) for lack in lacks])
    framed = any(line.held in (Held.STIFF, Held.BOWED) for line in stage.lines)
    return f"the shop is short of clamps: get or borrow {more}, or {_FRAME_CURE if framed else _CASE_CURE}"


def _missing(lack: Clamping, job: Job) -> str:
    opens = "opens" if lack.clamps == 1 else "open"
    return f"{counted(lack.clamps, 'more clamp')} that {opens} to {_opening(lack.jaws, job)}"


_FRAME_CURE: Final = "fasten the frame with pins or pocket screws from inside"
_CASE_CURE: Final = "draw some of the joints home with screws, where they will not show"
"""What serves in place of clamps: common practice, no source."""


def slower_glue_words(stages: Sequence[Stage], glue: Glue | None) -> str:
    """Once for a whole plan: which glue would be slow enough for all of it; empty where this one is."""
    if glue is None or (enough := enough_glue(stages)) is None:
        return ""
    first, *others = dict.fromkeys((stage.cabinet, stage.name) for stage in enough.over)
    also = f" and {counted(len(others), 'other stage')}" if others else ""
    return (
        f"A slower glue is needed: one with at least {enough.open} min open and {enough.closed} min closed is enough. "
        f"Glue {glue.name} sets before {first[0]}, {first[1]}{also} can be closed, and smaller stages would shut parts "
        "out."
    )


def total_words(total: Total) -> str:
    """How long a cabinet takes from the dry run on, clamps and all."""
    work = f"about {duration(total.work)} of work"
    if not total.in_clamps:
        return work
    times = "once" if total.in_clamps == 1 else f"{total.in_clamps} times"
    if total.minutes is None or total.clamped is None:
        return f"{work}, and {times} in clamps for as long as the glue's label says"
    return (
        f"{work}, {times} in clamps for {duration(total.clamped / total.in_clamps)}: {duration(total.minutes)} in all"
    )


def duration(minutes: Fraction) -> str:
    """Minutes as one says them: 45 min, 2 h, 2 h 5 min."""
    hours, rest = divmod(ceil(minutes), 60)
    return " ".join(filter(None, (f"{hours} h" if hours else "", f"{rest} min" if rest or not hours else "")))


def stay_words(stage: Stage) -> str:
    """How long the clamps of a stage stay on; empty where it has none, or where the shop does not say."""
    return f"the clamps stay on for {duration(stage.clamp_time)}" if stage.clamp_time else ""
