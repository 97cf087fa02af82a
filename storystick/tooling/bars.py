"""Spacer bars and shims from the shop's routers and bits, and what trial cuts say of a bar or a base.

A base whose centre is e off the collet's cuts at its true distance plus e times the cosine of the angle. Over two
opposite marks that adds up to nothing, so the mean of the four is the distance that a centred base would have.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.job.shop import Shop
from storystick.job.tools import BarRecord, BaseEdge, Bit, Router
from storystick.lengths import INCH_MM, Figures
from storystick.tooling.setups import Bar, GrooveSetup

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
