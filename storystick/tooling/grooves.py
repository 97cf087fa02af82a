"""Grooves with a router against a straightedge: which bit and bar, on which side and where, in how many passes.

The base runs along the straightedge, and with no shim the near edge of the cut is at the groove's near edge. A shim
between straightedge and base moves the cut away from the straightedge; with the widest one, groove less bit, its far
edge is at the groove's far edge. The widest shim comes first and none last, so that every later pass cuts on the side
of the straightedge: fed against the bit's turn, it is pulled to the straightedge, where a pass on the other side would
climb and run. A groove that is open at the end of a board may be cut by a wider bit, which then stands out beyond that
end, by less than half, so that its centre and the base stay on the board.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import Final

from storystick.job.shop import Bit, Shop
from storystick.layout.model import Span, StickLayout
from storystick.lengths import INCH_MM, Figures, Units
from storystick.tooling.bars import bars_of
from storystick.tooling.model import Bar, GrooveSetup, Side

CLAMP_ROOM: Final = {Units.INCH: INCH_MM, Units.MM: Fraction(25)}
"""A straightedge wants so much of the board under it, in mm, to be clamped well: common practice, no source."""


def groove_setups(sticks: Sequence[StickLayout], shop: Shop, figures: Figures) -> tuple[GrooveSetup, ...]:
    """A setup for every groove that a joint cuts across a stick's board, stick by stick from the datum.

    A groove without a joint, such as the one for a back, runs along the board and is cut by a fence.
    """
    bench = _Bench(bars_of(shop), {bit.name: bit for bit in shop.bits}, figures)
    return tuple(
        bench.setup(_Groove(stick, placed.groove, placed.part.joint.depth))
        for stick in sticks
        for placed in stick.parts
        if placed.groove and placed.part.joint
    )


@dataclass(frozen=True, slots=True)
class _Groove:
    """A groove in its board; lengths in mm."""

    stick: StickLayout
    span: Span
    depth: Fraction

    @property
    def sides(self) -> tuple[Side, ...]:
        """Where a straightedge may lie: not beyond the end that the groove is open at."""
        at_datum, at_far_end = self.span.start == 0, self.span.end == self.stick.length
        if at_datum == at_far_end:
            return (Side.DATUM, Side.FAR)
        return (Side.FAR,) if at_datum else (Side.DATUM,)

    @property
    def is_open(self) -> bool:
        return len(self.sides) == 1


@dataclass(frozen=True, slots=True)
class _Placing:
    """A bar with the side of a groove that its straightedge lies on; ``at`` is the straightedge's station (mm).

    ``room`` is how much of the board lies under the straightedge, less than 0 where it lies off the board.
    """

    bar: Bar
    side: Side
    at: Fraction
    room: Fraction

    @property
    def off(self) -> Fraction:
        """How far off the board the straightedge would lie."""
        return max(-self.room, Fraction(0))


def _place(bar: Bar, side: Side, groove: _Groove) -> _Placing:
    if side is Side.DATUM:
        at = groove.span.start - bar.used
        return _Placing(bar, side, at, at)
    at = groove.span.end + bar.used
    return _Placing(bar, side, at, groove.stick.length - at)


@dataclass(frozen=True, slots=True)
class _Bench:
    """The bars and bits to choose from, with how lengths are said."""

    bars: tuple[Bar, ...]
    bits: dict[str, Bit]
    figures: Figures

    def setup(self, groove: _Groove) -> GrooveSetup:
        bars = _fitting(self.bars, groove)
        if not bars:
            return self._without_bar(groove)
        placings = (_place(bar, side, groove) for bar in bars for side in groove.sides)
        best = min(placings, key=lambda placing: (placing.off, placing.room < self._clamp_room))
        on_board = not best.off
        return GrooveSetup(
            *(groove.stick.name, groove.span.name, groove.span.start, groove.span.end, groove.depth),
            bar=best.bar,
            side=best.side if on_board else None,
            straightedge=best.at if on_board else None,
            shims=shims(groove.span.size, best.bar.diameter),
            depths=depths(groove.depth, self.bits[best.bar.bit]),
            warnings=tuple(self._warnings(groove, best)),
        )

    @property
    def _clamp_room(self) -> Fraction:
        return CLAMP_ROOM[self.figures.units]

    def _without_bar(self, groove: _Groove) -> GrooveSetup:
        span = groove.span
        warning = self._why_no_bar(span)
        return GrooveSetup(
            groove.stick.name, span.name, span.start, span.end, groove.depth, None, None, None, (), (), (warning,)
        )

    def _why_no_bar(self, groove: Span) -> str:
        if not self.bars:
            return (
                "The shop has no router with a bit: add [router.NAME] with base_diameter or edge_to_centre, and "
                "[bit.NAME] with diameter, to its file."
            )
        width, narrowest = self._labels(groove.size, min(bar.diameter for bar in self.bars))
        return (
            f"Every bit is wider than this groove of {width}, the narrowest {narrowest}: add a bit of {width} or "
            "less, or make the joint's groove as wide as a bit."
        )

    def _warnings(self, groove: _Groove, placing: _Placing) -> Iterator[str]:
        off, room = self._labels(placing.off, placing.room)
        if groove.is_open and placing.bar.diameter > groove.span.size:
            yield "The groove is open at the board's end: clamp a waste board against it, so that the base cannot tip."
        if placing.off:
            end = "datum" if placing.side is Side.DATUM else "far"
            yield (
                f"With bar {placing.bar.name} the straightedge would lie {off} off the board: leave the board so "
                f"much longer at its {end} end until the groove is cut, lay a waste board of the same thickness "
                "against it and clamp to both, or use a base edge that is nearer to the bit."
            )
        elif placing.room < self._clamp_room:
            yield (
                f"Only {room} of the board lies under the straightedge, too little to clamp: lay a waste board of the "
                f"same thickness against the end of the board, and clamp to both."
            )

    def _labels(self, *lengths: Fraction) -> Iterator[str]:
        return (self.figures(length) for length in lengths)


def _fitting(bars: Sequence[Bar], groove: _Groove) -> list[Bar]:
    """The bars with the best bit for a groove, those that are proved first.

    That is the widest bit that is not wider than the groove. For an open groove, it is the narrowest that takes it at
    once with its centre on the board, if there is one.
    """
    width = groove.span.size
    at_once = [bar.diameter for bar in bars if width <= bar.diameter <= 2 * width] if groove.is_open else []
    within = [bar.diameter for bar in bars if bar.diameter <= width]
    best = min(at_once) if at_once else max(within, default=None)
    return sorted((bar for bar in bars if bar.diameter == best), key=lambda bar: bar.measured is None)


def shims(width: Fraction, bit: Fraction) -> tuple[Fraction, ...]:
    """The shim of each pass, in mm, for a groove ``width`` wide: groove less bit at first, then evenly down to none.

    Two passes do for a groove of up to twice the bit: arithmetic.
    """
    if width <= bit:
        return (Fraction(0),)
    last = ceil(width / bit) - 1
    return tuple(place * (width - bit) / last for place in range(last, -1, -1))


def depths(depth: Fraction, bit: Bit) -> tuple[Fraction, ...]:
    """How deep the bit is set for each pass, in mm, evenly down to ``depth``.

    Where the shop says nothing of a bit, half its diameter is the most at once: common practice, no source.
    """
    most = bit.diameter / 2 if bit.pass_depth is None else bit.pass_depth
    passes = ceil(depth / most)
    return tuple(place * depth / passes for place in range(1, passes + 1))
