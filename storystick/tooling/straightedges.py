"""The lines that straightedges are clamped to, as points of the sticks whose grooves they serve."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from storystick.job.shop import Shop
from storystick.layout.model import Layout, Point, PointKind, StickLayout
from storystick.lengths import Figures
from storystick.tooling.grooves import groove_setups
from storystick.tooling.model import GrooveSetup, Side

_TOWARD = {Side.DATUM: 1, Side.FAR: -1}


def with_straightedges(layout: Layout) -> Layout:
    """The layout with a line for every groove that the job's shop has a router and a bit for."""
    shop, figures = layout.job.shop, layout.job.figures
    if shop is None:
        return layout
    return replace(layout, sticks=tuple(_with_lines(stick, shop, figures) for stick in layout.sticks))


def _with_lines(stick: StickLayout, shop: Shop, figures: Figures) -> StickLayout:
    return replace(stick, points=(*stick.points, *_lines(groove_setups([stick], shop, figures))))


def _lines(setups: Iterable[GrooveSetup]) -> Iterator[Point]:
    for setup in setups:
        if setup.bar and setup.side and setup.straightedge is not None:
            note, toward = f"bar {setup.bar.name}", _TOWARD[setup.side]
            yield Point(PointKind.STRAIGHTEDGE, setup.name, setup.straightedge, note=note, toward=toward)
