"""Bits, spacer bars and shims: how well a bit serves a groove, what a bar has to be, what trial cuts say."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import Final, NamedTuple

from storystick.job.shop import Shop
from storystick.job.tools import BarRecord, BaseEdge, Bit, Router, Routing
from storystick.lengths import INCH_MM, Figures, Units
from storystick.tooling.setups import Bar, GrooveSetup

BIT_UNDER: Final = {Units.INCH: INCH_MM / 64, Units.MM: Fraction(3, 10)}
"""A bit that is narrower than its groove by no more (mm) cuts it at once, where a shop does not say: judgement."""

CUTTER_OVER: Final = 6 * INCH_MM / 1000
"""Nor may a bit or a saw be wider than its groove by more (mm): 0.006 in is the widest gap that white glue bridges, by
a wood scientist's column."""

LEAST_SHIM: Final = {Units.INCH: INCH_MM / 32, Units.MM: Fraction(8, 10)}
"""No shim is made that is thinner (mm), where a shop does not say: common practice, no source."""


class Limits(NamedTuple):
    """By how much a bit may be under or over its groove, and the thinnest shim, in mm."""

    under: Fraction
    over: Fraction
    least_shim: Fraction

    def with_fit(self, fit: Fraction) -> Limits:
        """For a groove that is wider by ``fit`` than what goes into it: a cutter so much narrower lets it in."""
        return self._replace(under=max(self.under, fit))

    def takes_at_once(self, cutter: Fraction, width: Fraction) -> bool:
        """Whether a cutter is near enough to a groove ``width`` wide, both in mm, to cut it in one pass."""
        return -self.under <= cutter - width <= self.over


ANY_SHIM: Final = Limits(Fraction(0), Fraction(0), Fraction(0))
AT_SAW: Final = Limits(Fraction(0), CUTTER_OVER, Fraction(0))
"""At a fence a second pass costs little, so that only a joint's fit lets a narrower cutter do with one."""


def limits_of(routing: Routing, units: Units) -> Limits:
    """What a shop says of fits, or what is usual where it does not."""
    under, least = routing.bit_under, routing.least_shim
    return Limits(
        BIT_UNDER[units] if under is None else under, CUTTER_OVER, LEAST_SHIM[units] if least is None else least
    )


def rank(bit: Fraction, width: Fraction, is_open: bool, limits: Limits) -> tuple[int, Fraction] | None:
    """How well a bit serves a groove, the least best; None where it does not.

    Best is one that takes the groove at once: as wide as it, all but some thousandths, or for an open groove the
    narrowest that has its centre on the board. Then comes the widest that takes it with shims.
    """
    if is_open and width <= bit <= 2 * width:
        return 0, bit - width
    if is_open:
        return (1, -bit) if bit < width else None
    if limits.takes_at_once(bit, width):
        return 0, abs(bit - width)
    if bit > width:
        return None
    return (1 if len(shims(width, bit, limits)) > 1 else 2), -bit


def shims(width: Fraction, bit: Fraction, limits: Limits = ANY_SHIM, is_open: bool = False) -> tuple[Fraction, ...]:
    """The shim of each pass, in mm, for a groove ``width`` wide: groove less bit at first, then evenly down to none.

    Two passes do for a groove of up to twice the bit: arithmetic. One is made where the bit is near enough to the
    groove, or the shim would be too thin; not for an open groove, whose end would be left standing: its first pass may
    run out beyond the end, so that the shim is thick enough.
    """
    out = width - bit
    if out <= 0 or (not is_open and (out <= limits.under or out < limits.least_shim)):
        return (Fraction(0),)
    # Evenly, so that no two passes that follow each other overlap less than others do.
    last, widest = ceil(width / bit) - 1, max(out, limits.least_shim)
    return tuple(place * widest / last for place in range(last, -1, -1))


def fit_to_try(cutter: str, diameter: Fraction, width: Fraction, figures: Figures, where_tight: str) -> str:
    """What is said where one pass of a cutter leaves a groove that is not just ``width`` wide; nothing where it is.

    ``cutter`` is its name and ``where_tight`` what helps where the cutter is the narrower one.
    """
    off = diameter - width
    if not off:
        return ""
    which, cure = ("wider", "") if off > 0 else ("narrower", f", and where it is tight {where_tight}")
    return f"{cutter} is {figures.apart(abs(off))} {which} than the groove: test the fit in scrap{cure}"


_USUAL_DEPTHS: Final = {
    Units.INCH: tuple(Fraction(sixteenths, 16) * INCH_MM for sixteenths in (2, 4, 5, 6, 8, 10, 12, 14, 16)),
    Units.MM: tuple(map(Fraction, (3, 6, 8, 10, 12, 16, 19, 22, 25))),
}
"""What the stops of a plunge router are usually set to, in mm: common practice, no source."""

_FINER_STEPS: Final = {
    Units.INCH: tuple(INCH_MM / parts for parts in (16, 32, 64)),
    Units.MM: (Fraction(1), Fraction(1, 2), Fraction(1, 10)),
}


def depths(depth: Fraction, bit: Bit, units: Units) -> tuple[Fraction, ...]:
    """How deep the bit is set for each pass, in mm: usual depths, as few passes as the bit allows, and ``depth`` last.

    Where the shop says nothing of a bit, half its diameter is the most at once: common practice, no source. A dovetail
    bit cuts its whole depth at once, since it would spoil its own walls.
    """
    if bit.angle:
        return (depth,)
    most = bit.diameter / 2 if bit.pass_depth is None else bit.pass_depth
    passes = ceil(depth / most)
    stops: list[Fraction] = []
    for left in range(passes - 1, 0, -1):
        reached = stops[-1] if stops else Fraction(0)
        stops.append(_stop(depth - left * most, reached + most, units))
    return (*stops, depth)


def _stop(least: Fraction, most: Fraction, units: Units) -> Fraction:
    """A usual depth from ``least`` to ``most``, both in mm; a finer one where there is none, and else ``most``."""
    usual = [depth for depth in _USUAL_DEPTHS[units] if least <= depth <= most]
    finer = (most // step * step for step in _FINER_STEPS[units])
    return max(usual, default=None) or next((depth for depth in finer if depth >= least), most)


MOST_OUT: Final = INCH_MM / 64
"""A measured bar that is farther than this from its computed width (mm) is looked into."""


def bars_of(shop: Shop) -> tuple[Bar, ...]:
    """A bar for every router's edge with every bit that it takes: the recorded ones first, as the shop names them."""
    known = {(bar.router, bar.edge, bar.bit): bar for bar in shop.bars}
    order = {bar.name: place for place, bar in enumerate(shop.bars)}
    bars = [
        _bar(router, edge, bit, known.get((router.name, edge.name, bit.name)))
        for router in shop.routers
        for edge in router.edges
        for bit in shop.bits
        if edge.takes(bit)
    ]
    return tuple(sorted(bars, key=lambda bar: order.get(bar.name, len(order))))


def bars_wanted(shop: Shop, setups: Sequence[GrooveSetup]) -> tuple[Bar, ...]:
    """The bars to have: every recorded one, and those that the setups of grooves use."""
    recorded = {bar.name for bar in shop.bars}
    used = {setup.bar for setup in setups}
    return tuple(bar for bar in bars_of(shop) if bar.name in recorded or bar in used)


def _bar(router: Router, edge: BaseEdge, bit: Bit, record: BarRecord | None) -> Bar:
    near = edge.to_centre - bit.diameter / 2
    which = router.name if len(router.edges) == 1 else f"{router.name} {edge.name}"
    name = record.name if record else f"{which}, {bit.name} bit"
    return Bar(name, router.name, edge.name, bit.name, bit.diameter, near, record.measured if record else None)


def bar_findings(bar: Bar, figures: Figures) -> tuple[str, ...]:
    """Sentences about what a trial cut proved: how far the bar as computed is out, and what to do about it."""
    return tuple(_findings(bar, figures)) if bar.measured is not None else ()


def _findings(bar: Bar, figures: Figures) -> Iterator[str]:
    out = bar.used - bar.near
    proved, computed, by = (figures(length) for length in (bar.used, bar.near, abs(out)))
    if out == 0:
        yield f"Bar {bar.name} is proved: {proved}, as computed from base and bit."
    elif out < 0:
        yield f"Bar {bar.name} is proved: {proved}. Cut to the computed {computed}, it is {by} too wide: take {by} off."
    else:
        yield f"Bar {bar.name} is proved: {proved}. Cut to the computed {computed}, it is {by} too narrow."
    if abs(out) > MOST_OUT:
        limit = figures(MOST_OUT)
        yield (
            f"Bar {bar.name} was measured more than {limit} from its computed width: check the base, the bit's "
            "diameter and the measuring, and whether the base is off centre, by four trial cuts at quarter turns."
        )


def base_findings(shop: Shop, figures: Figures) -> tuple[str, ...]:
    """Sentences about the bits that an edge has no bar for, since its base does not stand out beyond them."""
    return tuple(
        f"Router {router.name} takes no bit {bit.name} on its edge {edge.name}: the base reaches "
        f"{figures(edge.to_centre)} from the centre, and the bit {figures(bit.diameter / 2)}."
        for router in shop.routers
        for edge in router.edges
        for bit in shop.bits
        if not edge.takes(bit)
    )


@dataclass(frozen=True, slots=True)
class RunOut:
    """What the trial cuts show, in mm.

    ``run_out`` is by how much the base's edge wanders; ``mean`` is the distance of a centred base; ``mark`` (1 to 4) is
    the one to keep toward the straightedge, whose cut at ``distance`` is the nearest to the mean, the first of equals.
    ``disagreement`` is how far the means of the two pairs of opposite cuts are apart: nothing for a round base.
    """

    run_out: Fraction
    mean: Fraction
    mark: int
    distance: Fraction
    disagreement: Fraction


def run_out(turns: Sequence[Fraction]) -> RunOut:
    """The run-out from the distances (mm) of four cuts from the straightedge, marks 1 to 4 toward it in turn."""
    first, second, third, fourth = turns
    mean = sum(turns, Fraction(0)) / len(turns)
    mark, distance = min(enumerate(turns, start=1), key=lambda turn: abs(turn[1] - mean))
    apart = abs(first + third - second - fourth) / 2
    return RunOut(max(turns) - min(turns), mean, mark, distance, apart)


def turn_findings(router: Router, figures: Figures) -> tuple[str, ...]:
    """Sentences about a router's trial cuts; none where they were not made."""
    if not router.turns:
        return ()
    found = run_out(router.turns)
    out, distance, mean = (figures(length) for length in (found.run_out, found.distance, found.mean))
    if not found.run_out:
        return (f"The base of router {router.name} is centred: all four cuts are {distance} from the straightedge.",)
    sentence = (
        f"The base of router {router.name} is off centre, with a run-out of {out}. Keep mark {found.mark} toward the "
        f"straightedge, always: its cut, at {distance}, is nearest to the mean of the four, {mean}, which is what a "
        "centred base would give."
    )
    if found.disagreement <= MOST_OUT:
        return (sentence,)
    apart = figures(found.disagreement)
    return (
        sentence,
        f"Opposite cuts of router {router.name} should have the same mean, but their means are {apart} apart: "
        "measure them again, or see whether the base is worn.",
    )


@dataclass(frozen=True, slots=True)
class Shim:
    """A strip laid between straightedge and base, ``width`` mm wide, exact.

    ``serves`` says for which pass of which grooves, a line for each stick and pass.
    """

    width: Fraction
    serves: tuple[str, ...]

    def __post_init__(self) -> None:
        if self.width <= 0:
            raise ValueError(f"a shim is wider than nothing, not {self.width} mm")


def shims_of(setups: Sequence[GrooveSetup]) -> tuple[Shim, ...]:
    """Every shim that the setups ask for, narrowest first."""
    grooves: dict[Fraction, dict[str, list[str]]] = {}
    for width, use, groove in _uses(setups):
        names = grooves.setdefault(width, {}).setdefault(use, [])
        if groove not in names:
            names.append(groove)
    return tuple(
        Shim(width, tuple(f"{use}: {', '.join(names)}" for use, names in uses.items()))
        for width, uses in sorted(grooves.items())
    )


def _uses(setups: Sequence[GrooveSetup]) -> Iterator[tuple[Fraction, str, str]]:
    """Each use of a shim: its width, the stick and the pass, and the groove."""
    for setup in setups:
        for number, width in enumerate(setup.shims, start=1):
            if width:
                yield width, f"{setup.stick}, pass {number} of {len(setup.shims)}", setup.name
