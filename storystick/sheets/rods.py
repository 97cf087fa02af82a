"""The strips to glue on pinch rods: a narrow part for every band of acceptance."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import Final

from storystick.drawing.lettering import check_letters
from storystick.drawing.strip import Strip
from storystick.errors import Where, placed_in
from storystick.job.job import Job
from storystick.job.openings import Part, Stock
from storystick.job.sticks import Datum, Stick
from storystick.layout.stations import PlacedPart, Span, SpanKind, StickLayout
from storystick.squaring.rods import ROUND, RodPlan, RodTarget, RodUse

_BEYOND: Final = Fraction(25)
"""A strip runs on beyond its last band by this or more, in mm, as far as its rod opens."""


@dataclass(frozen=True, slots=True)
class Band:
    """Where the end of the other stick may stand, in mm from where it stands when the rod is closed.

    ``targets`` are more than one where their bands overlap or touch.
    """

    start: Fraction
    end: Fraction
    targets: tuple[RodTarget, ...]


def bands_of(rod: RodUse) -> tuple[Band, ...]:
    """The bands of a rod, rising, with room between each two."""
    bands: list[Band] = []
    for target in rod.targets:
        low, high = target.band
        # A band may begin just where the rod is closed, and a root be the least bit short.
        band = Band(max(low - rod.closed, Fraction(0)), high - rod.closed, (target,))
        if bands and band.start <= bands[-1].end:
            last = bands.pop()
            band = Band(min(last.start, band.start), max(last.end, band.end), (*last.targets, target))
        bands.append(band)
    return tuple(bands)


def rod_stick(rod: RodUse, number: int, job: Job) -> StickLayout:
    """A rod's strip: station 0 where the end of the other stick lies when it is closed.

    Each diagonal lies at what it is longer than that. On its band stand its figure and its letter, by which the table
    of rods tells whose it is.
    """
    bands, step = bands_of(rod), ROUND[job.units]
    letters = dict(zip(rod.targets, rod.letters, strict=True))
    length = min(rod.open - rod.closed, ceil((bands[-1].end + _BEYOND) / step) * step)
    parts = []
    for band in bands:
        figures = (job.figures.of_root(target.squared) for target in band.targets)
        parts.append(_placed(band, ", ".join(letters[target] for target in band.targets), "; ".join(figures)))
    stick = Stick(number, f"Rod {rod.name}", Datum.LEFT, ())
    return StickLayout(stick, tuple(_with_blanks(parts, length)), tuple(parts), ())


def _placed(band: Band, name: str, figure: str) -> PlacedPart:
    span = Span(SpanKind.PART, name, band.start, band.end)
    return PlacedPart(Part(Stock(name, span.size), name), span, None, figure)


def _with_blanks(parts: Sequence[PlacedPart], length: Fraction) -> Iterator[Span]:
    at = Fraction(0)
    for placed in parts:
        if at < placed.span.start:
            yield Span(SpanKind.BLANK, "", at, placed.span.start)
        yield placed.span
        at = placed.span.end
    if at < length:
        yield Span(SpanKind.BLANK, "", at, length)


def rod_strips(plan: RodPlan, job: Job) -> tuple[Strip, ...]:
    """A strip for every rod, in the order of the plan.

    Raises:
        Faults: the font has no sign for a character of a rod's name.
    """
    with placed_in(Where("pinch rods")):
        check_letters(*(rod.name for rod in plan.rods))
    return tuple(Strip(rod_stick(rod, number, job), None, job) for number, rod in enumerate(plan.rods, 1))
