"""What a floor that falls leaves open under all that is levelled from its high point. Exact, in mm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from storystick.job.runs import Run
from storystick.layout.runs import Placed, RunLayout


@dataclass(frozen=True, slots=True)
class Gap:
    """What is open under something that stands: at its end nearest the datum, at the other end, and at the most."""

    placed: Placed
    near: Fraction
    far: Fraction
    most: Fraction

    def from_left(self, run: RunLayout) -> tuple[Fraction, Fraction]:
        """At its left end and at its right one."""
        return (self.near, self.far) if run.left_is_datum else (self.far, self.near)


def falls_at(run: Run, station: Fraction) -> Fraction:
    """How far the floor lies below its high point at a station: straight between two places, level beyond them."""
    places = sorted(run.floor, key=lambda point: point.at)
    if not places or station <= places[0].at:
        return places[0].falls if places else Fraction(0)
    for low, high in pairwise(places):
        if station <= high.at:
            share = (station - low.at) / (high.at - low.at)
            return low.falls + share * (high.falls - low.falls)
    return places[-1].falls


def gaps_under(laid_out: RunLayout) -> Iterator[Gap]:
    """What is open under each that stands on the floor, in order from the datum; nothing where no floor is given."""
    run = laid_out.run
    for placed in laid_out.standing if run.floor else ():
        if placed.z is None:
            continue
        span = placed.span
        inside = (point.at for point in run.floor if span.start < point.at < span.end)
        found = [falls_at(run, station) for station in (span.start, span.end, *inside)]
        yield Gap(placed, found[0], found[1], max(found))
