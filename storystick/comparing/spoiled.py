"""What is already cut by an old job, held against the new one: good as it is, to be cut down, or spoiled.

A part may be cut down at either end and at either edge; then no wood may be gone that the new job leaves standing: what
is worked lies where the new job has it, as wide and as deep or less, tongues are as thick or thicker. Exact, in mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction
from itertools import product
from typing import Final, NamedTuple

from storystick.comparing.marks import StickChange
from storystick.comparing.parts import PartChange
from storystick.comparing.worked import Box, Cut, cut_part, cut_stick, turned
from storystick.cutting.part import CutPart
from storystick.lengths import Figures

_ZERO: Final = Fraction(0)


class Verdict(Enum):
    """What becomes of what is cut; the word is the one that people read."""

    GOOD = "good as it is"
    TO_WORK = "good, with more to be worked"
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

    def doubted(self, doubts: Sequence[str]) -> Judged:
        """The same with what only a look at it can settle."""
        if not doubts or self.verdict is Verdict.SPOILED:
            return self
        verdict = Verdict.CUT_DOWN if self.verdict is Verdict.CUT_DOWN else Verdict.LOOK
        return replace(self, verdict=verdict, sentences=(*self.sentences, *doubts))


class _Way(NamedTuple):
    """How much is cut off at the end, and ripped off at the edge, that places are counted from."""

    off: Fraction
    ripped: Fraction


def judge_part(change: PartChange, figures: Figures) -> Judged:
    """A part that was cut and worked."""
    if change.was is None or change.now is None:
        return Judged(change.name, Verdict.NOT_WANTED)
    was, now = change.was, change.now
    if was.stock != now.stock:
        return Judged(change.name, Verdict.SPOILED, (f"it is of {was.stock}, and {now.stock} is wanted",))
    judged = _judge(change.name, cut_part(was), cut_part(now), figures)
    judged = judged.doubted(tuple(_doubts(was, now, figures)))
    return replace(judged, sentences=(*judged.sentences, *_numbers(was, now)))


def _doubts(was: CutPart, now: CutPart, figures: Figures) -> Iterator[str]:
    """What the figures of its works do not say."""
    if was.thickness != now.thickness:
        yield (
            f"the job said {figures(was.thickness)} for {was.stock} and says {figures(now.thickness)} now; measure it, "
            f"and the joints at its ends"
        )
    if now.width < was.width and cut_part(was).edges_are_worked:
        yield "its edges are worked, so rip the one that is not, or work them anew"
    before, after = _said(was), _said(now)
    if new := [note for note in after if note not in before]:
        yield f"the cutting list says of it now: {'; '.join(new)}"
    elif gone := [note for note in before if note not in after]:
        yield f"the cutting list says of it no more: {'; '.join(gone)}"


def _said(part: CutPart) -> list[str]:
    """Its notes but those that name what is worked for which other part, which may only be called otherwise."""
    done = tuple(f"{work.done}: " for work in part.works if work.done)
    return [note for note in part.notes if not note.startswith(done)]


def _numbers(was: CutPart, now: CutPart) -> Iterator[str]:
    if now.count > was.count:
        yield f"{now.count - was.count} more of it to be cut"
    elif now.count < was.count:
        yield f"only {now.count} of {was.count} are wanted"


def judge_stick(change: StickChange, figures: Figures) -> Judged:
    """A board that was cut and grooved by a plain stick."""
    if change.was is None or change.now is None:
        return Judged(change.one.name, Verdict.NOT_WANTED)
    was, ends = cut_stick(change.was), [stick.stick.datum for stick in (change.was, change.now)]
    if ends[0] is ends[1]:
        return _judge(change.now.name, was, cut_stick(change.now), figures)
    doubt = f"it was struck from the {ends[0].value}, and counts from the {ends[1].value} now"
    return _judge(change.now.name, turned(was), cut_stick(change.now), figures).doubted((doubt,))


def _judge(name: str, was: Cut, now: Cut, figures: Figures) -> Judged:
    """What becomes of it; what is off by less than a label can say is to be looked at."""
    judged = _judge_within(_ZERO, name, was, now, figures)
    if judged.verdict is not Verdict.SPOILED:
        return judged
    near = _judge_within(figures.step / 2, name, was, now, figures)
    return judged if near.verdict is Verdict.SPOILED else near.doubted(judged.sentences)


def _judge_within(slack: Fraction, name: str, was: Cut, now: Cut, figures: Figures) -> Judged:
    if short := tuple(_too_small(was, now, slack, figures)):
        return Judged(name, Verdict.SPOILED, short)
    found = [(_elsewhere(was, now, way, slack), way) for way in _ways(was, now)]
    wrong, way = min(found, key=lambda each: (len(_gone(each[0])), len(each[0])))
    if _gone(wrong):
        plain = (_gone(wrong) for wrong, way in found if way.off in (_ZERO, _over(was.length, now.length)))
        said = dict.fromkeys(_lies(box, now, figures) for box in min(plain, key=len))
        return Judged(name, Verdict.SPOILED, tuple(said))
    cuts = tuple(_to_cut(was, now, way, figures))
    todo = tuple(_still_to_do(was, now, way, slack))
    return Judged(name, _fits(was, now, bool(todo), figures), (*cuts, *todo))


def _fits(was: Cut, now: Cut, has_more: bool, figures: Figures) -> Verdict:
    """What becomes of what is not spoiled; what a label cannot say need not be cut off, but it may pinch."""
    over = max(_over(was.length, now.length), _over(was.width, now.width))
    if over:
        return Verdict.CUT_DOWN if figures.is_seen(over) else Verdict.LOOK
    return Verdict.TO_WORK if has_more else Verdict.GOOD


def _gone(wrong: Sequence[Box]) -> list[Box]:
    """Those that took wood away for certain."""
    return [box for box in wrong if not box.is_bare]


def _too_small(was: Cut, now: Cut, slack: Fraction, figures: Figures) -> Iterator[str]:
    for had, wanted, word in ((was.length, now.length, "short"), (was.width, now.width, "narrow")):
        if had is not None and wanted is not None and had + slack < wanted:
            yield f"{figures.apart(wanted - had)} too {word}: {figures(wanted)} is wanted"


def _over(had: Fraction | None, wanted: Fraction | None) -> Fraction:
    """How much there is more of it than is wanted."""
    return max(had - wanted, _ZERO) if had is not None and wanted is not None else _ZERO


def _ways(was: Cut, now: Cut) -> Iterator[_Way]:
    """The ways to cut it down: at the far end or the near one, or so that something worked comes to its new place."""
    spare, edge = _over(was.length, now.length), _over(was.width, now.width)
    ends = {box.high for box in was.boxes if not box.low} | {
        spare - was.length + box.low for box in was.boxes if box.high == was.length
    }
    met = {
        off
        for box in was.boxes
        for new in now.boxes
        if (box.on, box.kind) == (new.on, new.kind)
        for off in (box.low - new.low, box.high - new.high)
    }
    between = sorted(off for off in ends | met if 0 < off < spare)
    yield from map(_Way._make, product(dict.fromkeys((_ZERO, spare, *between)), dict.fromkeys((_ZERO, edge))))


def _to_cut(was: Cut, now: Cut, way: _Way, figures: Figures) -> Iterator[str]:
    """What comes off, and at which end."""
    if spare := _over(was.length, now.length):
        where = _end(was, way.off, spare, figures)
        yield f"cut {figures.apart(spare)} off its length, to {figures(now.length)}, {where}"
    if (edge := _over(was.width, now.width)) and now.width is not None:
        named = "front, lower or outer" if way.ripped else "back, upper or inner"
        where = f"its {named} edge" if was.boxes else "either edge"
        yield f"rip {figures.apart(edge)} off its width, to {figures(now.width)}, at {where}"


def _end(was: Cut, off: Fraction, spare: Fraction, figures: Figures) -> str:
    if not was.boxes:
        return "at either end"
    if not off:
        return "at the end far from where its marks are counted"
    if off == spare:
        return "at the end that its marks are counted from"
    return (
        f"{figures.apart(off)} at the end that its marks are counted from and {figures.apart(spare - off)} at the other"
    )


def _left(was: Cut, now: Cut, way: _Way) -> Iterator[tuple[Box, Box]]:
    """What is worked, and what of it is left once it is cut down."""
    for box in was.boxes:
        if left := box.cut_down(*way, now.length, now.width):
            yield box, left


def _elsewhere(was: Cut, now: Cut, way: _Way, slack: Fraction) -> list[Box]:
    """What is worked where the new job leaves wood standing."""
    return [box for box, left in _left(was, now, way) if not any(new.holds(left, slack) for new in now.boxes)]


def _still_to_do(was: Cut, now: Cut, way: _Way, slack: Fraction) -> Iterator[str]:
    """What the new job has that is not worked yet, or is worked narrower or less deep."""
    worked = [left for _, left in _left(was, now, way)]
    todo = dict.fromkeys(box.what for box in now.boxes if not any(left.holds(box, slack) for left in worked))
    if todo:
        yield f"still to be worked: {', '.join(todo)}"


def _lies(box: Box, now: Cut, figures: Figures) -> str:
    """Where something is worked, and where the new job has it."""
    same = [new for new in now.boxes if (new.on, new.kind, new.name) == (box.on, box.kind, box.name)]
    face = f" in the {box.on}" if box.on else ""
    if not same:
        return f"the {box.what}{face} lies {_along(box, figures)}; the job has none there now"
    new = min(same, key=lambda new: abs(new.low - box.low) + abs(new.high - box.high))
    says = [_along]
    if (box.near, box.far) != (new.near, new.far):
        says.append(_across)
    if box.depth != new.depth:
        says.append(_deep)
    lies, wanted = (", ".join(say(each, figures) for say in says) for each in (box, new))
    return f"the {box.what}{face} lies {lies}; the job now has it {wanted}{_off(box, new, figures)}"


def _off(box: Box, new: Box, figures: Figures) -> str:
    """How far off it lies at its worse end, along the part."""
    farthest = max(abs(new.low - box.low), abs(new.high - box.high))
    return f", {figures.apart(farthest)} off" if farthest else ""


def _along(box: Box, figures: Figures) -> str:
    if box.low == box.high:
        return f"at {figures(box.low)}"
    return f"from {figures(box.low)} to {figures(box.high)}"


def _across(box: Box, figures: Figures) -> str:
    return f"{figures(box.near)} to {figures(box.far)} across"


def _deep(box: Box, figures: Figures) -> str:
    return f"{figures(box.depth)} deep"
