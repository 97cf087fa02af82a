"""What is said of clamps: how they stand, what else a line needs, which are missing, and how long they stay on."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from math import ceil
from typing import Final

from storystick.assembly.clamping import ClampLine, Held
from storystick.assembly.glued import Pressing
from storystick.assembly.stage_words import gathered
from storystick.assembly.stages import Clamping, Stage, Total, enough_glue, lacking
from storystick.job.job import Job
from storystick.job.shop import Glue
from storystick.lengths import INCH_MM, Figures, Units
from storystick.wording import counted, listed, unbroken

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
