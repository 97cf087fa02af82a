"""Every cut at the table saw that cabinets ask for, in working order, and which saw makes it.

Ends come before edges, so that what breaks out at the edges of a cut across the grain goes with the edge: common
practice, no source.

Parts lie flat, in one pass or a few: nothing comes loose, and no panel stands. Only for more passes does a part
stand, if it is small enough: a flat cut first, then on its end or edge with its whole face on the fence, so that the
waste is never between blade and fence. ``tests/sawing.py`` saws every section and fails where it is, or where a flat
cut frees anything. An end rabbet has one machine: the router, if it has a bit, whose straightedge is clamped to the
longest board.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final, NamedTuple, TypeAlias

from storystick.job.shop import Shop
from storystick.job.tools import Purpose, Saw, Sawing
from storystick.layout.cabinets.pieces import CabinetLayout, Piece
from storystick.layout.cabinets.working import all_works
from storystick.layout.cabinets.works import Work, width_of
from storystick.lengths import Figures
from storystick.tooling.cautions import (
    HIGHEST_ON_END,
    LONGEST_ALONE,
    NARROWEST,
    NARROWEST_AT_END,
    SHORTEST,
    Caution,
    long_parts,
    narrow_parts,
    narrow_routed,
    short_parts,
)
from storystick.tooling.edges import edge_lap, edge_tongue
from storystick.tooling.fence_grooves import FenceGroove, back_groove, edge_groove, frame_groove
from storystick.tooling.grooves import takes_end_rabbet
from storystick.tooling.setups import SawCut, names_of
from storystick.tooling.tongues import CornerWork, back_rabbet, end_rabbet, end_tongue, front_tongue


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
            saw = fitting[0] if widest is None else max(fitting, key=lambda fit: fit.kerf)
            return Choice(saw, _why(shop.saws, able, by_width=widest is not None, by_name=able is named))
    return None


def _why(saws: Sequence[Saw], able: Sequence[Saw], by_width: bool, by_name: bool) -> str:
    if len(saws) == 1:
        return "the only saw in the shop file"
    if by_name and len(able) == 1:
        return "as the shop file says"
    which = "the widest that is not wider than the groove" if by_width else "the first in the shop file"
    return f"{which} of those named for it" if by_name else which


SawWork: TypeAlias = CornerWork | FenceGroove
Gathered: TypeAlias = dict[SawWork, tuple[Piece, ...]]

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
    routed = dict.fromkeys(piece for work, pieces in left.items() if _too_narrow(work, shop) for piece in pieces)
    if thin := [piece for piece in routed if width_of(piece) < least]:
        said.append(narrow_routed(figures(least), names_of(thin)))
    return tuple(said)


def _too_narrow(work: SawWork, shop: Shop) -> FenceGroove | None:
    """A groove that no saw cuts but a router: a saw is for it, but too wide."""
    return work if isinstance(work, FenceGroove) and choose_saw(shop, work.purpose) else None


def _narrowest(sawing: Sawing, figures: Figures) -> Fraction:
    return NARROWEST[figures.units] if sawing.narrow is None else sawing.narrow


def _why_not(work: SawWork, shop: Shop, figures: Figures) -> str:
    groove = _too_narrow(work, shop)
    if groove is None:
        word = work.purpose.value
        return f'no saw of the shop is for {word}, which {work.work} needs: add "{word}" to its for in the shop file'
    able = [saw for saw in shop.saws if not saw.purposes or work.purpose in saw.purposes]
    kerf = figures(min(saw.kerf for saw in able))
    return (
        f"{groove.work} is {figures(groove.width)} wide, less than the kerf of {kerf}; cut it with a router, its fence "
        f"{figures(groove.near)} from the near side of a bit that wide"
    )


def saw_work(cabinets: Sequence[CabinetLayout], shop: Shop, figures: Figures) -> Gathered:
    """The work that is left to the saw, since no router of the shop does it."""
    return {
        work: pieces
        for work, pieces in gather_work(cabinets, figures, shop.sawing).items()
        if not (work.is_end_rabbet and takes_end_rabbet(shop, work.width, figures.units))
    }


_ORDER: Final[tuple[Callable[[Work, Figures], SawWork | None], ...]] = (
    end_tongue,
    end_rabbet,
    front_tongue,
    back_rabbet,
    back_groove,
    frame_groove,
    edge_groove,
    edge_tongue,
    edge_lap,
)
"""What is sawn, in working order: each says whether a work of a board is its own, and how that is cut."""


def gather_work(cabinets: Sequence[CabinetLayout], figures: Figures, sawing: Sawing = USUAL) -> Gathered:
    """All work in working order, each kind and size once, with the parts that have it."""
    highest = HIGHEST_ON_END[figures.units] if sawing.on_end is None else sawing.on_end
    works = all_works(cabinets)
    found: dict[SawWork, dict[Piece, None]] = {}
    for sawn in _ORDER:
        for work in works:
            if own := sawn(work, figures):
                found.setdefault(own.settled(work.board, highest), {})[work.board] = None
    return {work: tuple(pieces) for work, pieces in found.items()}


def _cuts(cabinets: Sequence[CabinetLayout], shop: Shop, figures: Figures) -> Iterator[SawCut]:
    """All cuts; works that differ only in whether the part may stand, and are cut alike with this saw, are one."""
    alike: dict[tuple[SawCut, ...], tuple[SawWork, Choice, list[Piece]]] = {}
    for work, pieces in saw_work(cabinets, shop, figures).items():
        if choice := _choice(work, shop):
            *_, owners = alike.setdefault(tuple(work.cuts("", choice.saw, figures)), (work, choice, []))
            owners += [piece for piece in pieces if piece not in owners]
    for number, (cuts, (work, choice, owners)) in enumerate(alike.items(), start=1):
        cautions, part = tuple(_cautions(work, owners, shop.sawing, figures)), names_of(owners)
        for cut in cuts:
            cautioned = (*cut.cautions, *cautions)
            yield replace(cut, part=part, cautions=cautioned, purpose=work.purpose, why=choice.why, operation=number)


def _choice(work: SawWork, shop: Shop) -> Choice | None:
    return choose_saw(shop, work.purpose, work.widest)


def _cautions(work: SawWork, pieces: Sequence[Piece], sawing: Sawing, figures: Figures) -> Iterator[Caution]:
    """For parts that are too short, too narrow or too long to be fed as they are."""
    units, least = figures.units, _narrowest(sawing, figures)
    short = [piece for piece in pieces if piece.length < SHORTEST[units]]
    thin = [piece for piece in pieces if width_of(piece) < (NARROWEST_AT_END[units] if work.at_end else least)]
    # At an end both want the same cure, a board behind the part, so that they are told as one.
    if work.at_end:
        short, thin = [piece for piece in pieces if piece in short or piece in thin], []
    far = [piece for piece in pieces if piece.length > LONGEST_ALONE[units]]
    if short:
        yield short_parts(work.at_end, figures, _some(short, pieces))
    if thin:
        yield narrow_parts(figures(least), _some(thin, pieces))
    if far:
        yield long_parts(figures, _some(far, pieces))


def _some(found: Sequence[Piece], pieces: Sequence[Piece]) -> str:
    """The names of those that were found; none where that is all of them."""
    return names_of(found) if len(found) < len(pieces) else ""
