"""All settings of a job's tools, in the order of work: bars, grooves with a router, cuts at the saw."""

from __future__ import annotations

from dataclasses import dataclass

from storystick.job.shop import Shop
from storystick.layout.model import Layout
from storystick.tooling.bars import bar_findings, bars_of, base_findings
from storystick.tooling.grooves import groove_setups
from storystick.tooling.model import Bar, GrooveSetup, SawCut
from storystick.tooling.turns import turn_findings


@dataclass(frozen=True, slots=True)
class Settings:
    """What the tools of a shop are set to for a job. ``findings`` are sentences about the shop's bars and bases."""

    bars: tuple[Bar, ...]
    grooves: tuple[GrooveSetup, ...]
    saw: tuple[SawCut, ...]
    findings: tuple[str, ...]

    @property
    def grooves_by_bar(self) -> tuple[GrooveSetup, ...]:
        """The grooves in working order: all that one bar serves, then the next one, last those that have none."""
        order = {bar: place for place, bar in enumerate(self.bars)}
        return tuple(sorted(self.grooves, key=lambda setup: order[setup.bar] if setup.bar else len(order)))


def settings_of(layout: Layout) -> Settings:
    """The settings for a job; without a shop they say what they need."""
    shop, units = layout.job.shop or Shop(), layout.job.units
    bars = bars_of(shop)
    findings = (
        *base_findings(shop, units),
        *(finding for router in shop.routers for finding in turn_findings(router, units)),
        *(finding for bar in bars for finding in bar_findings(bar, units)),
    )
    return Settings(bars, groove_setups(layout.sticks, shop, units), (), findings)
