"""Spacer bars from the shop's routers and bits, and what a trial cut says of one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from storystick.job.shop import BarRecord, Bit, Edge, Router, Shop
from storystick.lengths import INCH_MM, Figures
from storystick.tooling.model import Bar, GrooveSetup

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


def _bar(router: Router, edge: Edge, bit: Bit, record: BarRecord | None) -> Bar:
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
