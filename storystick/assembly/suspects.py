"""Which one reading is mistaken, where all the others agree without it. Exact; lengths in mm.

A rectangle that leans by the sine l has the diagonals d² = w² + h² ± 2·w·h·l, rising with plus. So every reading says
between which leans its body stands, with room for what readings may be off by and for what the rectangle may be larger
than in the job. Where no one lean is left for all of them, and there is one for all but a single reading, that reading
is the suspect; where that is so of several, none of them can be named.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import accumulate
from typing import Final, NamedTuple

from storystick.assembly.rack import Racked
from storystick.assembly.readings import Sides
from storystick.assembly.roots import root

RISING: Final = "rising"
FALLING: Final = "falling"
_OPPOSITE: Final = {"bottom": "top", "top": "bottom", "left": "right", "right": "left"}


class Leans(NamedTuple):
    """All leans from the lowest to the highest; none where the lowest is above the highest."""

    low: Fraction
    high: Fraction

    def meet(self, other: Leans) -> Leans:
        return Leans(max(self.low, other.low), min(self.high, other.high))

    @property
    def any(self) -> bool:
        return self.low <= self.high


_ALL: Final = Leans(Fraction(-1), Fraction(1))
_NO_LEAN: Final = Leans(Fraction(1), Fraction(-1))


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
        reading = self.racked.reading
        value: Fraction = getattr(reading.sides if self.of in _OPPOSITE else reading, self.of)
        return value

    @property
    def is_clear(self) -> bool:
        """Whether it is so far out that its rectangle's diagonals cannot just have been changed over."""
        return abs(self.reads - self.should) > 2 * (self.racked.error + self.racked.size_room)


def suspect_of(measured: Sequence[Racked]) -> Suspect | None:
    """The one mistaken reading among those of a body; None where nothing is, or where it may be one of several."""
    own = [_leans(racked) for racked in measured]
    before = list(accumulate(own, Leans.meet, initial=_ALL))
    if before[-1].any:
        return None
    after = list(accumulate(reversed(own), Leans.meet, initial=_ALL))[::-1]
    others = [one.meet(other) for one, other in zip(before, after[1:], strict=False)]
    found: list[Suspect] = []
    for racked, rest in zip(measured, others, strict=True):
        for of in _readings(racked) if rest.any else ():
            left = _leans(racked, of).meet(rest)
            if left.any:
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


def _readings(racked: Racked) -> Iterator[str]:
    yield from (RISING, FALLING)
    yield from _OPPOSITE if racked.reading.sides else ()


def _leans(racked: Racked, without: str = "") -> Leans:
    """The leans that a rectangle's readings allow, all of them but one; its opposite stands in for a side."""
    if (sides := racked.reading.sides) and without in _OPPOSITE:
        instead: Sides = sides._replace(**{without: getattr(sides, _OPPOSITE[without])})
        racked = replace(racked, reading=replace(racked.reading, sides=instead))
    if racked.sides_agree is False:
        return _NO_LEAN
    found = _ALL
    if without != RISING:
        found = found.meet(_of_diagonal(racked, racked.reading.rising, 1))
    if without != FALLING:
        found = found.meet(_of_diagonal(racked, racked.reading.falling, -1))
    if without not in (RISING, FALLING):
        found = found.meet(Leans(racked.lean - racked.lean_within, racked.lean + racked.lean_within))
    return found


def _of_diagonal(racked: Racked, length: Fraction, sign: int) -> Leans:
    """The leans that one diagonal allows by itself, its sides being right within their room."""
    room = racked.error + racked.size_room
    square, twice = racked.width**2 + racked.height**2, 2 * racked.width * racked.height
    ends = [sign * (reach**2 - square) / twice for reach in (max(length - room, Fraction(0)), length + room)]
    return Leans(min(ends), max(ends))


def _should(racked: Racked, of: str, lean: Fraction) -> Fraction:
    if of in _OPPOSITE:
        value: Fraction = getattr(racked.reading.sides, _OPPOSITE[of])
        return value
    sign = 1 if of == RISING else -1
    return root(racked.width**2 + racked.height**2 + sign * 2 * racked.width * racked.height * lean)
