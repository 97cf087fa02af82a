"""Every cut at the table saw that cabinets ask for, in working order, and which saw makes it.

Ends come before edges, so that what breaks out at the edges of a cut across the grain goes with the edge: common
practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final, NamedTuple, TypeAlias

from storystick.job.shop import Shop
from storystick.job.tools import Purpose, Saw, Sawing
from storystick.layout.cabinets.pieces import CabinetLayout, Piece
from storystick.layout.cabinets.works import width_of
from storystick.lengths import Figures
from storystick.tooling.bits import CUTTER_OVER
from storystick.tooling.cautions import (
    HIGHEST_ON_END,
    LONGEST,
    NARROWEST,
    NARROWEST_AT_END,
    SHORTEST,
    Caution,
    long,
    narrow,
    narrow_routed,
    short,
)
from storystick.tooling.corners import END, CornerWork, back_rabbets, end_rabbets, end_tongues, front_tongues, may_stand
from storystick.tooling.fence_grooves import FenceGroove, back_grooves, frame_grooves
from storystick.tooling.grooves import takes_end_rabbet
from storystick.tooling.part_words import Owner, names_of
from storystick.tooling.setups import SawCut


class Choice(NamedTuple):
    """A saw, and the reason in a few words."""

    saw: Saw
    why: str


def choose_saw(shop: Shop, purpose: Purpose, widest: Fraction | None = None) -> Choice | None:
    """The saw for a kind of work, its kerf not over ``widest`` (mm); None where the shop has none.

    Saws that are named for the work come first, then those that are named for nothing; others do not serve. Of equals,
    grooves are cut with the widest that fits, all else with the first of the shop file.
    """
    named = [saw for saw in shop.saws if purpose in saw.purposes]
    for able in (named, [saw for saw in shop.saws if not saw.purposes]):
        fitting = [saw for saw in able if widest is None or saw.kerf <= widest]
        if fitting:
            saw = fitting[0] if widest is None else max(fitting, key=_kerf)
            return Choice(saw, _why(shop.saws, able, by_width=widest is not None, by_name=able is named))
    return None


def _why(saws: Sequence[Saw], able: Sequence[Saw], by_width: bool, by_name: bool) -> str:
    if len(saws) == 1:
        return "the only saw in the shop file"
    if by_name and len(able) == 1:
        return "as the shop file says"
    which = "the widest that is not wider than the groove" if by_width else "the first in the shop file"
    return f"{which} of those named for it" if by_name else which


def _kerf(saw: Saw) -> Fraction:
    return saw.kerf


SawWork: TypeAlias = CornerWork | FenceGroove
Gathered: TypeAlias = dict[SawWork, tuple[Owner, ...]]

USUAL: Final = Sawing()


def saw_cuts(cabinets: Sequence[CabinetLayout], shop: Shop | None, figures: Figures) -> tuple[SawCut, ...]:
    """The cuts, with labels in their sentences; none without a saw, see :func:`saw_needs`.

    A rabbet at an end is left to the router where the shop has one with a bit for it: one machine cuts it, and the
    straightedge can be clamped to a board that no mitre gauge guides well.
    """
    return tuple(_cuts(cabinets, shop, figures)) if shop and shop.saws else ()


def saw_needs(cabinets: Sequence[CabinetLayout], shop: Shop | None, figures: Figures) -> str | None:
    """What is missing for the saw's settings, as a sentence; None where nothing is, or nothing is to be sawn."""
    if (shop and shop.saws) or not saw_work(cabinets, shop or Shop(), figures):
        return None
    return "The saw's settings need the width of its cut: write a table [saw.NAME] with its kerf in the shop file"


def saw_findings(cabinets: Sequence[CabinetLayout], shop: Shop | None, figures: Figures) -> tuple[str, ...]:
    """Sentences about work that no saw of the shop does: none is for it, or every one is too wide."""
    if shop is None or not shop.saws:
        return ()
    left = {work: pieces for work, pieces in saw_work(cabinets, shop, figures).items() if not _choice(work, shop)}
    said = [f"{names_of(pieces)}: {_why_not(work, shop, figures)}" for work, pieces in left.items()]
    least = _narrowest(shop.sawing, figures)
    thin = {
        piece: (layout, piece)
        for work, pieces in left.items()
        for layout, piece in pieces
        if _is_routed(work, shop) and width_of(piece) < least
    }
    if thin:
        said.append(narrow_routed(figures(least), names_of(tuple(thin.values()))))
    return tuple(said)


def _is_routed(work: SawWork, shop: Shop) -> bool:
    """Whether work that no saw does is a router's: a saw is for it, but too wide."""
    return isinstance(work, FenceGroove) and choose_saw(shop, work.purpose) is not None


def _narrowest(sawing: Sawing, figures: Figures) -> Fraction:
    return NARROWEST[figures.units] if sawing.narrow is None else sawing.narrow


def _why_not(work: SawWork, shop: Shop, figures: Figures) -> str:
    if isinstance(work, CornerWork) or not _is_routed(work, shop):
        word = work.purpose.value
        return f'no saw of the shop is for {word}, which {work.work} needs: add "{word}" to its for in the shop file'
    able = [saw for saw in shop.saws if not saw.purposes or work.purpose in saw.purposes]
    kerf = figures(min(saw.kerf for saw in able))
    return (
        f"{work.work} is {figures(work.width)} wide, less than the kerf of {kerf}; cut it with a router, its fence "
        f"{figures(work.near)} from the near side of a bit that wide"
    )


def saw_work(cabinets: Sequence[CabinetLayout], shop: Shop, figures: Figures) -> Gathered:
    """The work that is left to the saw, since no router of the shop does it."""
    return {
        work: pieces
        for work, pieces in gather_work(cabinets, figures, shop.sawing).items()
        if not (_is_end_rabbet(work) and takes_end_rabbet(shop, _width(work), figures.units))
    }


def _is_end_rabbet(work: SawWork) -> bool:
    return isinstance(work, CornerWork) and work.purpose is Purpose.RABBETS and work.edge == END


def _width(work: SawWork) -> Fraction:
    return max(notch.along for notch in work.notches) if isinstance(work, CornerWork) else work.width


def gather_work(cabinets: Sequence[CabinetLayout], figures: Figures, sawing: Sawing = USUAL) -> Gathered:
    """All work in working order, each kind and size once, with the parts that have it."""
    stages = (
        lambda layout: end_tongues(layout, figures),
        lambda layout: end_rabbets(layout, figures),
        lambda layout: front_tongues(layout, figures),
        lambda layout: back_rabbets(layout, figures),
        back_grooves,
        frame_grooves,
    )
    highest = HIGHEST_ON_END[figures.units] if sawing.on_end is None else sawing.on_end
    found: dict[SawWork, dict[Piece, Owner]] = {}
    for stage in stages:
        for layout in cabinets:
            for piece, work in stage(layout):
                settled = _standing_or_not(work, piece, highest)
                found.setdefault(settled, {})[piece] = (layout, piece)
    return {work: tuple(pieces.values()) for work, pieces in found.items()}


def _standing_or_not(work: SawWork, piece: Piece, highest: Fraction) -> SawWork:
    """The work with whether the part may be stood for it; an end rabbet never is, being wide and shallow."""
    if isinstance(work, FenceGroove):
        return work
    tall, base = (piece.length, width_of(piece)) if work.edge == END else (width_of(piece), piece.length)
    return replace(work, stands=not _is_end_rabbet(work) and may_stand(tall, base, highest))


def _cuts(cabinets: Sequence[CabinetLayout], shop: Shop, figures: Figures) -> Iterator[SawCut]:
    """All cuts; works that differ only in whether the part may stand, and are cut alike with this saw, are one."""
    alike: dict[tuple[SawCut, ...], tuple[SawWork, Choice, list[Owner]]] = {}
    for work, pieces in saw_work(cabinets, shop, figures).items():
        if choice := _choice(work, shop):
            *_, owners = alike.setdefault(tuple(work.cuts("", choice.saw, figures)), (work, choice, []))
            owners += [piece for piece in pieces if piece not in owners]
    for cuts, (work, choice, owners) in alike.items():
        cautions, part = tuple(_cautions(work, owners, shop.sawing, figures)), names_of(owners)
        for cut in cuts:
            cautioned = (*cut.cautions, *cautions)
            yield replace(cut, part=part, cautions=cautioned, purpose=work.purpose, why=choice.why)


def _choice(work: SawWork, shop: Shop) -> Choice | None:
    return choose_saw(shop, work.purpose, work.width + CUTTER_OVER if isinstance(work, FenceGroove) else None)


def _cautions(work: SawWork, pieces: Sequence[Owner], sawing: Sawing, figures: Figures) -> Iterator[Caution]:
    """For parts that are too short, too narrow or too long to be fed as they are."""
    units = figures.units
    at_end = isinstance(work, CornerWork) and work.edge == END
    least = _narrowest(sawing, figures)
    little = [one for one in pieces if one[1].length < SHORTEST[units]]
    thin = [one for one in pieces if width_of(one[1]) < (NARROWEST_AT_END[units] if at_end else least)]
    if at_end:
        little, thin = [one for one in pieces if one in little or one in thin], []
    far = [one for one in pieces if one[1].length > LONGEST]
    if little:
        yield short(at_end, units, _some(little, pieces))
    if thin:
        yield narrow(figures(least), _some(thin, pieces))
    if far:
        yield long(units, _some(far, pieces))


def _some(found: Sequence[Owner], pieces: Sequence[Owner]) -> str:
    """The names of those that were found; none where that is all of them."""
    return names_of(found) if len(found) < len(pieces) else ""
