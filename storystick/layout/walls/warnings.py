"""What along a wall can be built but should be looked at: things before windows, fillers, parts before pipes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from storystick.job.features import WallOpening
from storystick.job.runs import PieceKind, Run, RunPiece
from storystick.layout.cabinets.pieces import CabinetLayout, Range
from storystick.layout.runs import Placed, RunLayout
from storystick.layout.walls.behind import Behind, behind_cabinets
from storystick.lengths import Figures
from storystick.wording import listed


def run_warnings(run: RunLayout, cabinets: Iterable[CabinetLayout], figures: Figures) -> Iterator[str]:
    """Sentences, each without the name of the run."""
    yield from _before_openings(run, figures)
    yield from _fillers(run, figures)
    for found in behind_cabinets(run, cabinets):
        yield from _in_the_way(found, figures)


def _before_openings(run: RunLayout, figures: Figures) -> Iterator[str]:
    for opening in run.run.features:
        if not isinstance(opening, WallOpening):
            continue
        x = Range(opening.start, opening.end)
        for placed in run.placed:
            if placed.z and placed.x.overlaps(x) and _overlaps(placed.z, opening):
                does = "hangs" if placed.upper else "stands"
                shared = min(placed.x.end, x.end) - max(placed.x.start, x.start)
                yield (
                    f"{_said(placed)} {does} before {opening.name} by {figures.apart(shared)}: that goes from "
                    f"{figures(x.start)} to {figures(x.end)} along the wall and from {figures(opening.bottom)} up"
                )


def _overlaps(z: Range, opening: WallOpening) -> bool:
    return z.end > opening.bottom and (opening.top is None or z.start < opening.top)


def _said(placed: Placed) -> str:
    return f'{placed.item.word} "{placed.span.name}"' if placed.item.name else placed.span.name


def _fillers(run: RunLayout, figures: Figures) -> Iterator[str]:
    for placed in run.placed:
        item = placed.item
        if isinstance(item, RunPiece) and not item.is_gap:
            more = [other for other in run.placed if other.upper is placed.upper and _is_filler(other)]
            yield from _width(placed, item.kind, run.run, figures, alone=len(more) == 1)


def _is_filler(placed: Placed) -> bool:
    return isinstance(placed.item, RunPiece) and placed.item.kind is PieceKind.FILLER


def _width(placed: Placed, kind: PieceKind, run: Run, figures: Figures, alone: bool) -> Iterator[str]:
    """Whether a filler or a scribe came out narrower or wider than is usual; ``alone`` in its row it may be two."""
    size, most = placed.span.size, run.most_filler
    least = run.least_filler if kind is PieceKind.FILLER else run.least_scribe
    if size < least:
        yield f"{_said(placed)} comes out {figures(size)} wide, less than {figures(least)}: {_NARROW[kind]}"
    if kind is PieceKind.FILLER and size > most:
        both = ", or fillers at both ends," if alone else ""
        yield (
            f"{_said(placed)} comes out {figures(size)} wide, more than {figures(most)}: a wider cabinet{both} would "
            "use the wall better"
        )


_NARROW: Final = {
    PieceKind.FILLER: "it is hard to fasten and to scribe; make it wider, or give its width to a cabinet",
    PieceKind.SCRIBE: "it takes up little of a wall that is out of true; leave it more",
}


def _in_the_way(found: Behind, figures: Figures) -> Iterator[str]:
    """A feature that comes behind a part of a cabinet, where no hole in the back gives room for it."""
    if found.meets:
        parts = listed([f"the {piece.name}" for piece in found.meets])
        yield (
            f"{found.feature.name}, {figures(found.feature.at)} along the wall and "
            f"{figures(found.z + (found.placed.z.start if found.placed.z else 0))} up, comes behind {parts} of "
            f"{found.placed.span.name}: move one of them, or notch what is before it"
        )
