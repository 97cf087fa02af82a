"""Every cut at the table saw that cabinets ask for, in working order, the parts that are cut alike gathered.

Ends come before edges, so that what breaks out at the edges of a cut across the grain goes with the edge: common
practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import TypeAlias

from storystick.job.shop import Saw, Shop
from storystick.layout.cabinets.model import CabinetLayout, Piece
from storystick.lengths import Figures
from storystick.tooling.cautions import SHORT, SHORTEST
from storystick.tooling.corners import CornerWork
from storystick.tooling.fence_grooves import FenceGroove, back_grooves, frame_grooves
from storystick.tooling.model import SawCut
from storystick.tooling.rabbets import back_rabbets, end_rabbets
from storystick.tooling.tongues import end_tongues, front_tongues
from storystick.wording import by_number

SawWork: TypeAlias = CornerWork | FenceGroove


def saw_cuts(cabinets: Sequence[CabinetLayout], shop: Shop | None, figures: Figures) -> tuple[SawCut, ...]:
    """The cuts, with labels in their sentences; none without a saw, see :func:`saw_needs`.

    Grooves are cut with the widest of the shop's saws that is not wider than they are, all else with the first.
    """
    return tuple(_cuts(cabinets, shop, figures)) if shop and shop.saws else ()


def saw_needs(shop: Shop | None) -> str | None:
    """What is missing for the saw's settings, as a sentence; None where nothing is."""
    if shop and shop.saws:
        return None
    return "The saw's settings need the width of its cut: write a table [saw.NAME] with its kerf in the shop file"


def saw_findings(cabinets: Sequence[CabinetLayout], shop: Shop | None, figures: Figures) -> tuple[str, ...]:
    """Sentences about grooves that every saw of the shop is too wide for."""
    if shop is None or not shop.saws:
        return ()
    kerf = figures(min(saw.kerf for saw in shop.saws))
    return tuple(
        f"{_names(pieces)}: {work.work} is {figures(work.width)} wide, less than the kerf of {kerf}; "
        f"cut it with a router, its fence {figures(work.near)} from the near side of a bit that wide"
        for work, pieces in gather_work(cabinets, figures).items()
        if isinstance(work, FenceGroove) and not _saw_for(work, shop)
    )


def gather_work(
    cabinets: Sequence[CabinetLayout], figures: Figures
) -> dict[SawWork, tuple[tuple[CabinetLayout, Piece], ...]]:
    """All work in working order, each kind and size once, with the parts that have it."""
    stages = (
        lambda layout: end_tongues(layout, figures),
        lambda layout: end_rabbets(layout, figures),
        lambda layout: front_tongues(layout, figures),
        lambda layout: back_rabbets(layout, figures),
        back_grooves,
        frame_grooves,
    )
    found: dict[SawWork, dict[tuple[str, str], tuple[CabinetLayout, Piece]]] = {}
    for stage in stages:
        for layout in cabinets:
            for piece, work in stage(layout):
                found.setdefault(work, {})[layout.cabinet.place, piece.name] = (layout, piece)
    return {work: tuple(pieces.values()) for work, pieces in found.items()}


def _cuts(cabinets: Sequence[CabinetLayout], shop: Shop, figures: Figures) -> Iterator[SawCut]:
    for work, pieces in gather_work(cabinets, figures).items():
        saw = _saw_for(work, shop)
        short = [(layout, piece) for layout, piece in pieces if piece.length < SHORTEST[figures.units]]
        caution = f"{_names(short)}: {SHORT[figures.units]}." if short else ""
        for cut in work.cuts(_names(pieces), saw, figures) if saw else ():
            yield replace(cut, caution=f"{cut.caution} {caution}".strip())


def _saw_for(work: SawWork, shop: Shop) -> Saw | None:
    if isinstance(work, CornerWork):
        return shop.saws[0]
    fitting = [saw for saw in shop.saws if saw.kerf <= work.width]
    return max(fitting, key=_kerf, default=None)


def _kerf(saw: Saw) -> Fraction:
    return saw.kerf


def _names(pieces: Sequence[tuple[CabinetLayout, Piece]]) -> str:
    """The parts by their cabinets, with what their names share said once."""
    cabinets: dict[str, list[str]] = {}
    for layout, piece in pieces:
        cabinets.setdefault(layout.cabinet.name, []).append(piece.name)
    return "; ".join(f"{cabinet} {_joined(names)}" for cabinet, names in cabinets.items())


def _joined(names: Sequence[str]) -> str:
    """ "shelf 1", "shelf 2" as "shelf 1, 2", "left side", "right side" as "both sides"."""
    return ", ".join(by_number(_pair_of(name, names) for name in names))


def _pair_of(name: str, names: Sequence[str]) -> str:
    hand, _, rest = name.partition(" ")
    paired = hand in {"left", "right"} and {f"left {rest}", f"right {rest}"} <= set(names)
    return f"both {rest}s" if paired else name
