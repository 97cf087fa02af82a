"""All settings of a job's tools, in the order of work: bars, grooves with a router, cuts at the saw."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from storystick.job.shop import Purpose, Shop
from storystick.layout.model import Layout
from storystick.lengths import Figures
from storystick.tooling.bars import bar_findings, bars_of, base_findings
from storystick.tooling.grooves import groove_setups
from storystick.tooling.guided import GuidedCut, guided_cuts, tongue_ends
from storystick.tooling.model import Bar, GrooveSetup, SawCut
from storystick.tooling.saw import saw_cuts, saw_findings, saw_needs
from storystick.tooling.saws import choose_saw
from storystick.tooling.turns import turn_findings


@dataclass(frozen=True, slots=True)
class Settings:
    """What the tools of a shop are set to for a job.

    ``findings`` are sentences about the shop's bars and bases, ``saw_findings`` about what its saws lack. ``guided``
    are the cuts along parts that stop, and ``by_hand`` what is sawn away by hand after the saw.
    """

    bars: tuple[Bar, ...]
    grooves: tuple[GrooveSetup, ...]
    saw: tuple[SawCut, ...]
    findings: tuple[str, ...]
    saw_findings: tuple[str, ...]
    guided: tuple[GuidedCut, ...] = ()
    by_hand: tuple[str, ...] = ()

    @property
    def grooves_by_bar(self) -> tuple[GrooveSetup, ...]:
        """The grooves in working order: all that one bar serves, then the next one, last those that have none."""
        order = {bar: place for place, bar in enumerate(self.bars)}
        return tuple(sorted(self.grooves, key=lambda setup: order[setup.bar] if setup.bar else len(order)))


def settings_of(layout: Layout) -> Settings:
    """The settings for a job; without a shop they say what they need."""
    shop, figures = layout.job.shop or Shop(), layout.job.figures
    bars = bars_of(shop)
    return Settings(
        bars,
        tuple(_at_router(layout, shop)),
        saw_cuts(layout.cabinets, shop, figures),
        tuple(_findings(bars, shop, figures)),
        tuple(f"{finding}." for finding in _saw_findings(layout, shop)),
        guided_cuts(layout.cabinets, shop, figures),
        tongue_ends(layout.cabinets, figures),
    )


def _at_router(layout: Layout, shop: Shop) -> Iterator[GrooveSetup]:
    """The grooves for the router; an end rabbet of a cabinet that it has no bit for is left to the saw."""
    own = {stick.name for stick in layout.job.sticks}
    sawn = choose_saw(shop, Purpose.RABBETS) is not None
    for setup in groove_setups(layout.sticks, shop, layout.job.figures):
        is_sawn = sawn and setup.is_rabbet and setup.stick not in own and setup.stopped is None
        if setup.bar or not is_sawn:
            yield setup


def _findings(bars: Iterable[Bar], shop: Shop, figures: Figures) -> Iterator[str]:
    yield from base_findings(shop, figures)
    for router in shop.routers:
        yield from turn_findings(router, figures)
    for bar in bars:
        yield from bar_findings(bar, figures)


def _saw_findings(layout: Layout, shop: Shop) -> Iterator[str]:
    figures = layout.job.figures
    if needs := saw_needs(layout.cabinets, shop, figures):
        yield needs
    yield from saw_findings(layout.cabinets, shop, figures)
