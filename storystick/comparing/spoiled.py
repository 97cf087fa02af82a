"""What is already cut by an old job, held against the new one: good as it is, to be cut down, or spoiled.

A part may be cut down at either end and at either edge; then what is worked on it must lie where the new job has it,
as wide and as deep or less. Its ends are worked anew. Exact, in mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from itertools import product
from typing import Final, NamedTuple

from storystick.comparing.marks import StickChange
from storystick.comparing.parts import PartChange
from storystick.cutting.part import CutPart, PartWork
from storystick.layout.stations import StickLayout
from storystick.lengths import Figures

_MADE_ANEW: Final = frozenset({"tongue", "haunching", "cut back"})
"""What is worked on ends and edges, which are worked anew where a part is cut down."""


class Verdict(Enum):
    """What becomes of what is cut; the word is the one that people read."""

    GOOD = "good as it is"
    LOOK = "to be looked at"
    CUT_DOWN = "to be cut down"
    NOT_WANTED = "not wanted any more"
    SPOILED = "spoiled"


@dataclass(frozen=True, slots=True)
class Judged:
    """One thing that is cut, what becomes of it, and why, in sentences without a full stop."""

    name: str
    verdict: Verdict
    sentences: tuple[str, ...] = ()


class _Box(NamedTuple):
    """What is worked on a face: from where to where along the part and across it, how deep, and what it is for."""

    on: str
    kind: str
    name: str
    low: Fraction
    high: Fraction
    near: Fraction
    far: Fraction
    depth: Fraction


class _Cut(NamedTuple):
    """A thing of this size with what is worked on it; ``width`` is None of a stick, on which marks only run along."""

    length: Fraction
    width: Fraction | None
    boxes: tuple[_Box, ...]


def judge_part(change: PartChange, figures: Figures) -> Judged:
    """A part that was cut and worked."""
    if change.was is None or change.now is None:
        return Judged(change.name, Verdict.NOT_WANTED)
    was, now = change.was, change.now
    if was.stock != now.stock:
        return Judged(change.name, Verdict.SPOILED, (f"it is of {was.stock}, and {now.stock} is wanted",))
    judged = _judge(change.name, _of_part(was), _of_part(now), figures)
    if was.thickness == now.thickness or judged.verdict is Verdict.SPOILED:
        return judged
    thicker = (
        f"the job said {figures(was.thickness)} for {was.stock} and says {figures(now.thickness)} now; measure it, and "
        f"the joints at its ends"
    )
    verdict = Verdict.LOOK if judged.verdict is Verdict.GOOD else judged.verdict
    return Judged(judged.name, verdict, (*judged.sentences, thicker))


def judge_stick(change: StickChange, figures: Figures) -> Judged:
    """A board that was cut and grooved by a plain stick."""
    if change.was is None or change.now is None:
        return Judged(change.stick.name, Verdict.NOT_WANTED)
    return _judge(change.now.name, _of_stick(change.was), _of_stick(change.now), figures)


def _of_part(part: CutPart) -> _Cut:
    boxes = [box for work in part.works if work.kind not in _MADE_ANEW for box in _boxes(work)]
    return _Cut(part.length, part.width, tuple(boxes))


def _boxes(work: PartWork) -> Iterator[_Box]:
    runs = [(place, place) for place in work.places] or [(work.low, work.high)]
    for run in runs:
        along, across = (run, (work.start, work.end)) if work.along else ((work.start, work.end), run)
        yield _Box(work.on, work.kind, work.name, *along, *across, work.depth)


def _of_stick(stick: StickLayout) -> _Cut:
    zero = Fraction(0)
    grooves = (_Box("", each.kind.value, each.name, each.start, each.end, zero, zero, zero) for each in stick.grooves)
    points = (
        _Box("", each.kind.value, each.name, each.at, each.at, zero, zero, zero)
        for each in stick.points
        if each.kind.value == "hole"
    )
    return _Cut(stick.length, None, (*grooves, *points))


def _judge(name: str, was: _Cut, now: _Cut, figures: Figures) -> Judged:
    short = list(_too_small(was, now, figures))
    if short:
        return Judged(name, Verdict.SPOILED, tuple(short))
    spare = was.length - now.length, (was.width or Fraction(0)) - (now.width or Fraction(0))
    # What is over comes off at the far end or edge, or at the one that marks are counted from.
    ways = list(product(sorted({Fraction(0), spare[0]}), sorted({Fraction(0), spare[1]})))
    wrong, (low, near) = min(((_elsewhere(was, now, way), way) for way in ways), key=lambda found: len(found[0]))
    if wrong:
        return Judged(name, Verdict.SPOILED, tuple(_lies(box, now, figures) for box in wrong))
    cuts = tuple(_to_cut(spare, (low, near), now, figures))
    todo = _still_to_do(was, now, (low, near))
    more = (f"still to be worked: {', '.join(dict.fromkeys(todo))}",) if todo else ()
    return Judged(name, Verdict.CUT_DOWN if cuts else Verdict.GOOD, (*cuts, *more))


def _too_small(was: _Cut, now: _Cut, figures: Figures) -> Iterator[str]:
    if was.length < now.length:
        yield f"{figures.apart(now.length - was.length)} too short: {figures(now.length)} is wanted"
    if was.width is not None and now.width is not None and was.width < now.width:
        yield f"{figures.apart(now.width - was.width)} too narrow: {figures(now.width)} is wanted"


def _to_cut(
    spare: tuple[Fraction, Fraction], first: tuple[Fraction, Fraction], now: _Cut, figures: Figures
) -> Iterator[str]:
    """What comes off, and at which end; the first ones are those that marks are counted from."""
    if spare[0]:
        end = "the end that its marks are counted from" if first[0] else "the end far from where its marks are counted"
        where = end if now.boxes else "either end"
        yield f"cut {figures.apart(spare[0])} off its length, to {figures(now.length)}, at {where}"
    if spare[1] and now.width is not None:
        edge = "front or lower" if first[1] else "back or upper"
        where = f"its {edge} edge" if now.boxes else "either edge"
        yield f"rip {figures.apart(spare[1])} off its width, to {figures(now.width)}, at {where}"


def _elsewhere(was: _Cut, now: _Cut, off: tuple[Fraction, Fraction]) -> list[_Box]:
    """What is worked where the new job leaves wood standing, with so much cut ``off`` before the marks."""
    moved = [(box, _clipped(box, off, now)) for box in was.boxes]
    return [box for box, left in moved if left and not any(_takes(other, left) for other in now.boxes)]


def _clipped(box: _Box, off: tuple[Fraction, Fraction], now: _Cut) -> _Box | None:
    """What is left of it on the part as it is cut down; None where all of it goes."""
    low, high = max(box.low - off[0], Fraction(0)), min(box.high - off[0], now.length)
    far = box.far - off[1]
    near = box.near - off[1]
    if now.width is not None:
        near, far = max(near, Fraction(0)), min(far, now.width)
    gone = low > high or near > far or (low == high and box.low < box.high) or (near == far and box.near < box.far)
    return None if gone else box._replace(low=low, high=high, near=near, far=far)


def _takes(new: _Box, old: _Box) -> bool:
    """Whether what is worked already is within what is wanted."""
    along = new.low <= old.low and old.high <= new.high
    across = new.near <= old.near and old.far <= new.far
    return new.on == old.on and along and across and old.depth <= new.depth


def _lies(box: _Box, now: _Cut, figures: Figures) -> str:
    """Where something is worked, and where the new job has it."""
    same = [new for new in now.boxes if (new.on, new.kind, new.name) == (box.on, box.kind, box.name)]
    is_at = f"the job now has it {_place(same[0], figures)}" if same else "the job has none there now"
    deep = f", {figures(box.depth)} deep" if same and same[0].depth < box.depth else ""
    face = f" in the {box.on}" if box.on else ""
    return f"the {box.kind} for {box.name}{face} lies {_place(box, figures)}{deep}; {is_at}{_off(box, same, figures)}"


def _off(box: _Box, same: Sequence[_Box], figures: Figures) -> str:
    """How far off it lies at its worse end, along the part."""
    farthest = max(
        (abs(end) for new in same[:1] for end in (new.low - box.low, new.high - box.high)), default=Fraction(0)
    )
    return f", {figures.apart(farthest)} off" if farthest else ""


def _place(box: _Box, figures: Figures) -> str:
    if box.low == box.high:
        return f"at {figures(box.low)}"
    return f"from {figures(box.low)} to {figures(box.high)}"


def _still_to_do(was: _Cut, now: _Cut, off: tuple[Fraction, Fraction]) -> list[str]:
    """What the new job has that is not worked yet, or is worked narrower or less deep, by what it is for."""
    worked = {left._replace(kind="", name="") for box in was.boxes if (left := _clipped(box, off, now))}
    todo = (box for box in now.boxes if box._replace(kind="", name="") not in worked)
    return [f"{box.kind} for {box.name}" for box in todo]
