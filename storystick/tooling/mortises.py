"""Mortises in the members of a face frame, cut with a router whose edge guide runs on the front face."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from storystick.job.shop import Shop
from storystick.layout.cabinets.pieces import CabinetLayout
from storystick.layout.cabinets.working import all_works
from storystick.layout.cabinets.works import Work, WorkKind, end_words, surface_words
from storystick.lengths import Figures
from storystick.tooling.bars import depths, limits_of, shims
from storystick.tooling.cautions import ABOVE_ALL, CLAMP, PROTECT, UNPLUG
from storystick.tooling.fence_grooves import FenceGroove
from storystick.tooling.guided import GuidedCut, bit_for, no_bit
from storystick.tooling.setups import names_of

MORTISES_TITLE: Final = "Mortises, with a router and its edge guide"
MORTISES: Final = (
    "Square the mortise's ends across the edge from the strip; figures are from the member's lower or left end. "
    "Stand the member on its other edge, clamped between two waste boards that are flush with it, so that the "
    "router does not tip, and run the guide on the front face: then all members are flush in front. Let the bit "
    "down a little at a time, and square the ends with a chisel, or round the tenon's edges. A mortising machine, "
    "or a brace and chisels, wants the same figures."
)
MORTISE_CAUTIONS: Final = (ABOVE_ALL, UNPLUG, CLAMP, PROTECT)


def mortise_cuts(cabinets: Sequence[CabinetLayout], shop: Shop, figures: Figures) -> tuple[GuidedCut, ...]:
    """Every mortise whose walls the job says, those that are cut alike as one."""
    found: dict[tuple[object, ...], list[Work]] = {}
    for work in all_works(cabinets):
        if work.kind is WorkKind.MORTISE and work.joint:
            found.setdefault(_shape(work), []).append(work)
    return tuple(_cut(works, shop, figures) for works in found.values())


def mortise_operations(cuts: Sequence[GuidedCut]) -> list[list[GuidedCut]]:
    """Those together for which guide and bit are set alike."""
    alike: dict[tuple[object, ...], list[GuidedCut]] = {}
    for cut in cuts:
        alike.setdefault((cut.width, cut.near, cut.depth, cut.bit, cut.settings), []).append(cut)
    return list(alike.values())


def mortise_rows(cuts: Sequence[GuidedCut], figures: Figures) -> list[tuple[str, str]]:
    """Where each of an operation's mortises is, and its ends from the lower or left end of its member."""
    return [(cut.title, f"{figures(cut.low)} to {figures(cut.high)}") for cut in cuts]


def mortise_figures(cut: GuidedCut, figures: Figures) -> list[str]:
    """What is the same for all mortises of an operation."""
    size, _, *settings = cut.figures(figures)
    return [size, *settings]


def _shape(work: Work) -> tuple[object, ...]:
    return (surface_words(work.board, work.on), end_words(work.board), work.along, work.across, work.depth)


def _cut(alike: Sequence[Work], shop: Shop, figures: Figures) -> GuidedCut:
    work, boards = alike[0], [work.board for work in alike]
    limits = limits_of(shop.routing, figures.units)
    width = work.across.size
    bit = bit_for(width, shop, limits)
    fence = FenceGroove("mortise", width, work.across.start, width, work.depth, "", "front face")
    names = " / ".join(dict.fromkeys(work.other.name for work in alike))
    at_once = bit and len(shims(width, bit.diameter, limits)) == 1
    settings = (fence.near,) if at_once else fence.settings(bit.diameter)[::-1] if bit else ()
    return GuidedCut(
        parts=tuple(board.full_name for board in boards),
        words=names_of(boards),
        cut=f"{surface_words(work.board, work.on)}, {names}",
        name=names,
        start=work.across.start,
        end=work.across.end,
        near=work.across.start,
        depth=work.depth,
        against=fence.against,
        low=work.along.start,
        high=work.along.end,
        datum=end_words(work.board)[0],
        stops=(work.along.start > 0, work.along.end < work.board.length),
        bit=bit,
        settings=settings,
        depths=depths(work.depth, bit, figures.units) if bit else (),
        lack=no_bit(bit, shop),
    )
