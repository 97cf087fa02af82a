"""Grooves with a router against a straightedge: which bit and bar, and where the straightedge lies.

The base runs along the straightedge, and with no shim the near edge of the cut is at the groove's near edge. A shim
between straightedge and base moves the cut away from the straightedge; with the widest one, groove less bit, its far
edge is at the groove's far edge. The widest shim comes first and none last, so that every later pass cuts on the side
of the straightedge: fed against the bit's turn, it is pulled to the straightedge, where a pass on the other side would
climb and run. A groove that is open at the end of a board may be cut by a wider bit, which then stands out beyond that
end, by less than half, so that its centre and the base stay on the board. A bit that is within some thousandths of its
groove cuts it at once, and the fit is tried in scrap: no shim is made that is too thin to be handled.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from storystick.job.joints import Joint
from storystick.job.shop import Shop
from storystick.job.tools import Bit
from storystick.layout.stations import PlacedPart, Point, PointKind, Span, SpanKind, StickLayout
from storystick.lengths import INCH_MM, Figures, Units
from storystick.tooling.bars import Limits, bars_of, depths, fit_to_try, limits_of, rank, shims
from storystick.tooling.setups import Bar, GrooveSetup, Side

CLAMP_ROOM: Final = {Units.INCH: INCH_MM, Units.MM: Fraction(25)}
"""A straightedge wants so much of the board under it, in mm, to be clamped well: common practice, no source."""

_WITH_A_SLIP: Final = "run a pass before this one with a slip of card or paper so thick between straightedge and base"


def groove_setups(sticks: Sequence[StickLayout], shop: Shop, figures: Figures) -> tuple[GrooveSetup, ...]:
    """A setup for every groove that a joint cuts across a stick's board, stick by stick from the datum.

    A groove without a joint, such as the one for a back, runs along the board and is cut by a fence.
    """
    bench = _bench_of(shop, figures)
    return tuple(
        bench.setup(_CrossGroove(stick, placed.groove, placed.part.joint, placed.stopped))
        for stick, placed in _once(sticks)
        if placed.groove and placed.part.joint
    )


def _once(sticks: Iterable[StickLayout]) -> Iterator[tuple[StickLayout, PlacedPart]]:
    """What is cut across each stick's board; a slot goes right through, so that it is cut from one face only."""
    slots: set[tuple[object, ...]] = set()
    for stick in sticks:
        for placed in stick.parts:
            if placed.groove and placed.groove.kind is SpanKind.SLOT:
                slot = (*((face.cabinet, face.board) for face in stick.faces), placed.groove)
                if slot not in slots:
                    slots.add(slot)
                    yield stick, placed
            elif placed.groove and placed.groove.kind is SpanKind.GROOVE:
                yield stick, placed


def takes_end_rabbet(shop: Shop, width: Fraction, units: Units) -> bool:
    """Whether a router of the shop has a bit for a rabbet ``width`` mm wide at the end of a board."""
    straight, limits = {bit.name for bit in shop.bits if not bit.angle}, limits_of(shop.routing, units)
    bars = (bar for bar in bars_of(shop) if bar.bit in straight)
    return any(rank(bar.diameter, width, True, limits) is not None for bar in bars)


def _bench_of(shop: Shop, figures: Figures) -> _Bench:
    bits = {bit.name: bit for bit in shop.bits}
    return _Bench(bars_of(shop), bits, figures, limits_of(shop.routing, figures.units))


@dataclass(frozen=True, slots=True)
class _CrossGroove:
    """A groove in its board; lengths in mm. ``stopped`` is as in :class:`GrooveSetup`."""

    stick: StickLayout
    span: Span
    joint: Joint
    stopped: tuple[Fraction, Fraction] | None = None

    @property
    def depth(self) -> Fraction:
        return self.joint.depth

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


def _place(bar: Bar, side: Side, groove: _CrossGroove) -> _Placing:
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
    limits: Limits

    def setup(self, groove: _CrossGroove) -> GrooveSetup:
        bars, span = self._fitting(groove), groove.span
        plain = GrooveSetup(
            stick=groove.stick.name,
            name=span.name,
            start=span.start,
            end=span.end,
            depth=groove.depth,
            is_rabbet=groove.joint.at_end_only,
            stopped=groove.stopped,
            face=next(iter(groove.stick.faces), None),
        )
        if not bars:
            return replace(plain, warnings=(self._why_no_bar(groove), *self._stops(groove)))
        placings = (_place(bar, side, groove) for bar in bars for side in groove.sides)
        # On the board comes before clamping well, and of equals the first: a proved bar, its straightedge at the datum.
        best = min(placings, key=lambda placing: (placing.off, placing.room < self._clamp_room))
        on_board = not best.off
        return replace(
            plain,
            bar=best.bar,
            side=best.side if on_board else None,
            straightedge=best.at if on_board else None,
            shims=shims(groove.span.size, best.bar.diameter, self._limits_for(groove), groove.is_open),
            depths=depths(groove.depth, self.bits[best.bar.bit], self.figures.units),
            warnings=tuple(self._warnings(groove, best)),
        )

    @property
    def _clamp_room(self) -> Fraction:
        return CLAMP_ROOM[self.figures.units]

    def _why_no_bar(self, groove: _CrossGroove) -> str:
        if not self.bars:
            return (
                "The shop has no router with a bit: add [router.NAME] with base_diameter or edge_to_centre, and "
                "[bit.NAME] with diameter, to its file."
            )
        width, angle = self.figures(groove.span.size), groove.joint.bit_angle
        able = [bar.diameter for bar in self.bars if self._is_for(bar, groove)]
        if angle:
            return (
                f"The shop has no dovetail bit of {float(angle):g} degrees that is {width} wide or less: add "
                '[bit.NAME] with kind = "dovetail", its diameter and its angle to its file, or make the joint as a '
                "bit is."
            )
        if not able:
            return "Every bit of the shop is a dovetail bit: add [bit.NAME] with its diameter to its file."
        return (
            f"Every bit is wider than this groove of {width}, the narrowest {self.figures(min(able))}: add a bit of "
            f"{width} or less, or make the joint's groove as wide as a bit."
        )

    def _is_for(self, bar: Bar, groove: _CrossGroove) -> bool:
        """Whether a bar's bit leans as the groove's walls do."""
        return self.bits[bar.bit].angle == groove.joint.bit_angle

    def _warnings(self, groove: _CrossGroove, placing: _Placing) -> Iterator[str]:
        yield from self._stops(groove)
        if groove.joint.bit_angle:
            mouth = self.figures(groove.span.size - 2 * groove.joint.lean)
            yield (
                f"It is {mouth} wide at the face and {self.figures(groove.span.size)} at its bottom: rout the middle "
                f"out first with a straight bit narrower than {mouth}, a little less deep, then the dovetail bit at "
                "its whole depth; never lift it out of the socket, but run it out at the edge that it came in by."
            )
        if self._over_notch(groove, placing):
            yield (
                "The straightedge or the router's base lies where the toe notch will be: cut the toe notch after this "
                "groove."
            )
        off, room = self._labels(placing.off, placing.room)
        if groove.is_open and placing.bar.diameter > groove.span.size:
            yield "The groove is open at the board's end: clamp a waste board against it, so that the base cannot tip."
        elif not groove.is_open:
            yield from self._fit(groove, placing.bar)
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

    def _over_notch(self, groove: _CrossGroove, placing: _Placing) -> bool:
        """Whether a straightedge, or a base that reaches as far on both sides of the bit, would hang over a notch."""
        reach = placing.bar.used + (self._clamp_room if placing.side is Side.DATUM else 0)
        return groove.stick.notch > 0 and groove.span.start - reach < groove.stick.notch

    def _limits_for(self, groove: _CrossGroove) -> Limits:
        return self.limits.with_fit(groove.joint.fit)

    def _stops(self, groove: _CrossGroove) -> Iterator[str]:
        """Where a groove ends that does not run right across."""
        if groove.stopped and groove.span.kind is SpanKind.SLOT:
            start, end = self._labels(*groove.stopped)
            yield (
                f"It is a slot right through the board, from {start} to {end} from the front edge, half of a lap: saw "
                "most of it away first, lay a board to be cut into under it, and square its end with a chisel. Boards "
                "that are slotted alike may be cut together on edge, on a sled at the saw, where a dado head reaches "
                "so high. Try it with a piece of the other board: that has to slide in by hand."
            )
        elif groove.stopped:
            start, end = self._labels(*groove.stopped)
            done = "round the end of the tail to it" if groove.joint.lean else "square its end with a chisel"
            yield (
                f"It stops: run it from {start} to {end} from the front edge, with a line across the face there, and "
                f"{done}."
            )

    def _fit(self, groove: _CrossGroove, bar: Bar) -> Iterator[str]:
        """What to try where one pass of a bit leaves a groove that is not just as wide as it should be."""
        width = groove.span.size
        if len(shims(width, bar.diameter, self._limits_for(groove))) > 1:
            return
        if words := fit_to_try(f"Bit {bar.bit}", bar.diameter, width, self.figures, _WITH_A_SLIP):
            yield f"{words}."

    def _fitting(self, groove: _CrossGroove) -> list[Bar]:
        """The bars with the best bit for a groove, those that are proved first."""
        limits = self._limits_for(groove)
        able = (bar for bar in self.bars if self._is_for(bar, groove))
        ranks = {bar: rank(bar.diameter, groove.span.size, groove.is_open, limits) for bar in able}
        best = min(filter(None, ranks.values()), default=None)
        fitting = [bar for bar, found in ranks.items() if found and found == best]
        return sorted(fitting, key=lambda bar: bar.measured is None)

    def _labels(self, *lengths: Fraction) -> Iterator[str]:
        return (self.figures(length) for length in lengths)


_TOWARD = {Side.DATUM: 1, Side.FAR: -1}


def with_straightedges(stick: StickLayout, shop: Shop, figures: Figures) -> StickLayout:
    """The stick with a line for every groove that the shop has a router and a bit for."""
    return replace(stick, points=(*stick.points, *_lines(groove_setups([stick], shop, figures))))


def _lines(setups: Iterable[GrooveSetup]) -> Iterator[Point]:
    for setup in setups:
        if setup.bar and setup.side and setup.straightedge is not None:
            note, toward = f"bar {setup.bar.name}", _TOWARD[setup.side]
            yield Point(PointKind.STRAIGHTEDGE, setup.name, setup.straightedge, note=note, toward=toward)
