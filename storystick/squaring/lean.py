"""The one lean of a whole case from those of its rectangles, and the one reading that the others contradict.

All rectangles of a case lean by one angle, whatever their sizes: each has d₁² − d₂² = 4·w·h·sin of it.

A rectangle that leans by the sine l has the diagonals d² = w² + h² ± 2·w·h·l, rising with plus. So every reading says
between which leans its body stands, with room for what readings may be off by and for what the rectangle may be larger
than in the job. Where no one lean is left for all of them, and there is one for all but a single reading, that reading
is the suspect; where that is so of several, none of them can be named.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import accumulate
from math import asin, degrees
from typing import Final, NamedTuple

from storystick.errors import FaultCollector
from storystick.job.job import Job
from storystick.lengths import root
from storystick.squaring.rack import Diagonal, Racked, check_shape
from storystick.squaring.readings import OPPOSITE, Reading, Sides
from storystick.squaring.rectangles import Body, Target

# A lean to the right, which is positive, makes the rising diagonal longer and the falling one shorter.
_SIGNS: Final = {Diagonal.RISING.value: 1, Diagonal.FALLING.value: -1}
_OPPOSITE: Final = {one: other for pair in OPPOSITE for one, other in (pair, pair[::-1])}
_FEWEST_TO_JUDGE: Final = 2
"""So many others must agree before one alone is called wrong."""


class LeanRange(NamedTuple):
    """All leans from the lowest to the highest; none where the lowest is above the highest."""

    low: Fraction
    high: Fraction

    def meet(self, other: LeanRange) -> LeanRange:
        return LeanRange(max(self.low, other.low), min(self.high, other.high))

    @property
    def has_any(self) -> bool:
        return self.low <= self.high


_ALL: Final = LeanRange(Fraction(-1), Fraction(1))
_NO_LEAN: Final = LeanRange(Fraction(1), Fraction(-1))


@dataclass(frozen=True, slots=True)
class Suspect:
    """The reading ``of`` a rectangle that all the others contradict: a diagonal or a side, by its name.

    ``should`` is about what it reads if all the others are right.
    """

    racked: Racked
    of: str
    should: Fraction

    @property
    def reads(self) -> Fraction:
        """What it was read as."""
        return self.racked.reading.lengths[self.of]

    @property
    def is_clear(self) -> bool:
        """Whether it is so far out that its rectangle's diagonals cannot just have been changed over."""
        return abs(self.reads - self.should) > 2 * (self.racked.error + self.racked.size_room)


def suspect_of(measured: Sequence[Racked]) -> Suspect | None:
    """The one mistaken reading among those of a body; None where nothing is, or where it may be one of several."""
    own = [_leans(racked) for racked in measured]
    before = list(accumulate(own, LeanRange.meet, initial=_ALL))
    if before[-1].has_any:
        return None
    after = list(accumulate(reversed(own), LeanRange.meet, initial=_ALL))[::-1]
    others = [one.meet(other) for one, other in zip(before, after[1:], strict=False)]
    found: list[Suspect] = []
    for racked, rest in zip(measured, others, strict=True):
        for of in racked.reading.lengths if rest.has_any else ():
            left = _leans(racked, of).meet(rest)
            if left.has_any:
                found.append(Suspect(racked, of, _should(racked, of, (left.low + left.high) / 2)))
    if len(found) > 1:
        found = [suspect for suspect in found if not _is_as_in_the_job(suspect)]
    return found[0] if len(found) == 1 else None


def _is_as_in_the_job(suspect: Suspect) -> bool:
    """Whether a side reads as the job has it: its opposite, without which all would agree as well, is likelier out."""
    rectangle, racked = suspect.racked.target.rectangle, suspect.racked
    if suspect.of not in _OPPOSITE:
        return False
    wanted = rectangle.width if suspect.of in ("bottom", "top") else rectangle.height
    return abs(suspect.reads - wanted) <= racked.error + racked.target.differ


def _leans(racked: Racked, without: str = "") -> LeanRange:
    """The leans that a rectangle's readings allow, all of them but one; its opposite stands in for a side."""
    if (sides := racked.reading.sides) and without in _OPPOSITE:
        instead: Sides = sides._replace(**{without: racked.reading.lengths[_OPPOSITE[without]]})
        racked = replace(racked, reading=replace(racked.reading, sides=instead))
    if racked.sides_agree is False:
        return _NO_LEAN
    found = _ALL
    for of, sign in _SIGNS.items():
        if without != of:
            found = found.meet(_of_diagonal(racked, racked.reading.lengths[of], sign))
    if without not in _SIGNS:
        found = found.meet(LeanRange(racked.lean - racked.lean_within, racked.lean + racked.lean_within))
    return found


def _of_diagonal(racked: Racked, length: Fraction, sign: int) -> LeanRange:
    """The leans that one diagonal allows by itself, its sides being right within their room."""
    room = racked.error + racked.size_room
    square, twice = racked.width**2 + racked.height**2, 2 * racked.width * racked.height
    ends = [sign * (reach**2 - square) / twice for reach in (max(length - room, Fraction(0)), length + room)]
    return LeanRange(min(ends), max(ends))


def _should(racked: Racked, of: str, lean: Fraction) -> Fraction:
    if of in _OPPOSITE:
        return racked.reading.lengths[_OPPOSITE[of]]
    return root(racked.width**2 + racked.height**2 + _SIGNS[of] * 2 * racked.width * racked.height * lean)


@dataclass(frozen=True, slots=True)
class Expected:
    """What the diagonals of a rectangle measure that leans with the others: their squares, in mm²."""

    target: Target
    rising_squared: Fraction
    falling_squared: Fraction


@dataclass(frozen=True, slots=True)
class MeasuredBody:
    """A body with what was measured of it.

    ``lean`` is the sine of the angle by which it leans to the right, as nearest to the readings of ``agreeing``, those
    that one lean explains; it may be more or less by ``within``. ``apart`` are those that it does not explain, and
    ``swapped`` those of them that it would explain with rising and falling changed over. ``lean`` is None where no one
    lean explains more of them than not. ``suspect`` is the one reading that all the others contradict.
    """

    body: Body
    measured: tuple[Racked, ...]
    agreeing: tuple[Racked, ...]
    apart: tuple[Racked, ...]
    swapped: tuple[Racked, ...]
    lean: Fraction | None
    within: Fraction
    suspect: Suspect | None = None

    @property
    def angle_degrees(self) -> float | None:
        """The angle by which the body leans to the right."""
        return None if self.lean is None else degrees(asin(self.lean))

    def expected(self) -> tuple[Expected, ...]:
        """The diagonals to be expected of the rectangles that were not measured."""
        done = {racked.target.name for racked in self.measured}
        return tuple(
            _expected(target, self.lean)
            for target in self.body.targets
            if self.lean is not None and target.name not in done
        )


def _expected(target: Target, lean: Fraction) -> Expected:
    rectangle = target.rectangle
    more = 2 * rectangle.width * rectangle.height * lean
    return Expected(target, rectangle.diagonal_squared + more, rectangle.diagonal_squared - more)


def leans_of(
    bodies: Sequence[Body], readings: Sequence[Reading], read_to: Fraction, job: Job
) -> tuple[MeasuredBody, ...]:
    """The bodies of which something was measured, in their order; ``readings`` are of rectangles of theirs.

    What a reading may be off by is what the job's shop says, or the division ``read_to``.

    Raises:
        Faults: readings that no such rectangle can have, all at once.
    """
    targets = {target.name: target for body in bodies for target in body.targets}
    off = job.shop.square.reading_error if job.shop else None
    measured = {reading.name: Racked(targets[reading.name], reading, read_to, off) for reading in readings}
    faults = FaultCollector()
    for racked in measured.values():
        with faults.at():
            check_shape(racked, job.figures.fine)
    faults.raise_any()
    groups = ((body, tuple(measured[each.name] for each in body.targets if each.name in measured)) for body in bodies)
    return tuple(lean_of(body, group) for body, group in groups if group)


def lean_of(body: Body, measured: tuple[Racked, ...]) -> MeasuredBody:
    """The lean that explains the most of what was measured, each reading within what it can be off by.

    Where one reading alone is out, it is that of all the other rectangles.
    """
    # The lean that most readings share is where the range of one of them begins.
    candidates = (racked.lean - racked.lean_within for racked in measured)
    agreeing = max((_explained(lean, measured) for lean in candidates), key=_weight_of)
    found = _lean_by(body, measured, agreeing)
    suspect = suspect_of(measured)
    if suspect is None or (found.swapped and not suspect.is_clear):
        no_lean = MeasuredBody(body, measured, (), measured, (), None, Fraction(0))
        return found if 2 * len(agreeing) > len(measured) else no_lean
    others = tuple(racked for racked in measured if racked is not suspect.racked)
    return replace(_lean_by(body, measured, others or agreeing), swapped=(), suspect=suspect)


def _lean_by(body: Body, measured: tuple[Racked, ...], agreeing: tuple[Racked, ...]) -> MeasuredBody:
    """The lean of those that agree, and what it makes of the others."""
    apart = tuple(racked for racked in measured if racked not in agreeing)
    lean, within = _mean(agreeing)
    judged = apart if len(agreeing) >= _FEWEST_TO_JUDGE and len(agreeing) > len(apart) else ()
    swapped = tuple(racked for racked in judged if _is_swapped(racked, lean, within))
    return MeasuredBody(body, measured, agreeing, apart, swapped, lean, within)


def _explained(lean: Fraction, measured: Iterable[Racked]) -> tuple[Racked, ...]:
    return tuple(racked for racked in measured if abs(racked.lean - lean) <= racked.lean_within)


def _weight_of(group: Sequence[Racked]) -> tuple[int, Fraction]:
    return len(group), sum(map(_weight, group), Fraction(0))


def _weight(racked: Racked) -> Fraction:
    # As Gauss weighs observations: one that may be off by twice as much counts a fourth.
    return 1 / racked.lean_within**2


def _mean(group: Sequence[Racked]) -> tuple[Fraction, Fraction]:
    """The lean with the least sum of weighted squares of what it leaves, and by how much it may be off at most."""
    weights = [_weight(racked) for racked in group]
    mean = sum((weight * racked.lean for weight, racked in zip(weights, group, strict=True)), Fraction(0))
    within = sum((weight * racked.lean_within for weight, racked in zip(weights, group, strict=True)), Fraction(0))
    return mean / sum(weights), within / sum(weights)


def _is_swapped(racked: Racked, lean: Fraction, within: Fraction) -> bool:
    """Whether the reading leans the other way by as much."""
    return racked.lean * lean < 0 and abs(racked.lean + lean) <= racked.lean_within + within
