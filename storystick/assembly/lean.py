"""The one lean of a whole case, from those of its rectangles that were measured. Exact; lengths in mm.

All rectangles of a case lean by one angle, whatever their sizes: each has d₁² − d₂² = 4·w·h·sin of it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import asin, degrees
from typing import Final

from storystick.assembly.rack import Racked, check_shape
from storystick.assembly.readings import Reading
from storystick.assembly.squareness import Body, Target
from storystick.assembly.suspects import Suspect, suspect_of
from storystick.assembly.tolerance import reading_figures
from storystick.errors import FaultCollector
from storystick.job.model import Job

_FEWEST_TO_JUDGE: Final = 2
"""So many others must agree before one alone is called wrong."""


@dataclass(frozen=True, slots=True)
class Expected:
    """What the diagonals of a rectangle measure that leans with the others: their squares, in mm²."""

    target: Target
    rising_squared: Fraction
    falling_squared: Fraction


@dataclass(frozen=True, slots=True)
class Lean:
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


def leans_of(bodies: Sequence[Body], readings: Sequence[Reading], read_to: Fraction, job: Job) -> tuple[Lean, ...]:
    """The bodies of which something was measured, in their order; ``readings`` are of rectangles of theirs.

    What a reading may be off by is what the job's shop says, or the division ``read_to``.

    Raises:
        Faults: readings that no such rectangle can have, all at once.
    """
    targets = {target.name: target for body in bodies for target in body.targets}
    off = job.shop.reading_error if job.shop else None
    measured = {reading.name: Racked(targets[reading.name], reading, read_to, off) for reading in readings}
    faults = FaultCollector()
    for racked in measured.values():
        with faults.at():
            check_shape(racked, reading_figures(job))
    faults.raise_any()
    groups = ((body, _measured_of(body, measured)) for body in bodies)
    return tuple(lean_of(body, group) for body, group in groups if group)


def _measured_of(body: Body, measured: Mapping[str, Racked]) -> tuple[Racked, ...]:
    return tuple(measured[target.name] for target in body.targets if target.name in measured)


def lean_of(body: Body, measured: tuple[Racked, ...]) -> Lean:
    """The lean that explains the most of what was measured, each reading within what it can be off by.

    Where one reading alone is out, it is that of all the other rectangles.
    """
    agreeing = max((_explained(lean, measured) for lean in _candidates(measured)), key=_weight_of)
    found = _lean_by(body, measured, agreeing)
    suspect = suspect_of(measured)
    if suspect is None or (found.swapped and not suspect.is_clear):
        return found if 2 * len(agreeing) > len(measured) else Lean(body, measured, (), measured, (), None, Fraction(0))
    others = tuple(racked for racked in measured if racked is not suspect.racked)
    return replace(_lean_by(body, measured, others or agreeing), swapped=(), suspect=suspect)


def _lean_by(body: Body, measured: tuple[Racked, ...], agreeing: tuple[Racked, ...]) -> Lean:
    """The lean of those that agree, and what it makes of the others."""
    apart = tuple(racked for racked in measured if racked not in agreeing)
    lean, within = _mean(agreeing)
    judged = apart if len(agreeing) >= _FEWEST_TO_JUDGE and len(agreeing) > len(apart) else ()
    swapped = tuple(racked for racked in judged if _is_swapped(racked, lean, within))
    return Lean(body, measured, agreeing, apart, swapped, lean, within)


def _candidates(measured: Sequence[Racked]) -> tuple[Fraction, ...]:
    """Where a reading's leans begin: the lean that most readings share is one of these."""
    return tuple(racked.lean - racked.lean_within for racked in measured)


def _explained(lean: Fraction, measured: Iterable[Racked]) -> tuple[Racked, ...]:
    return tuple(racked for racked in measured if abs(racked.lean - lean) <= racked.lean_within)


def _weight_of(group: Sequence[Racked]) -> tuple[int, Fraction]:
    return len(group), sum(map(_weight, group), Fraction(0))


def _weight(racked: Racked) -> Fraction:
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
