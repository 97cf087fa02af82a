"""The whole list of a job: its cabinets' parts, and a run's panels, fillers, scribes and countertop. Exact, in mm.

Each is as high as the run has it: as what stands beside it. A filler or a scribe is of the stock that is seen there.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from storystick.cutting.notes import FIXED_FROM_BELOW
from storystick.cutting.part import Blank, CutPart, Gathering, gather, one_by_one
from storystick.cutting.parts import cutting_list
from storystick.job.cabinets import Cabinet
from storystick.job.openings import Stock
from storystick.job.runs import EndPanel, PieceKind, RunPiece
from storystick.layout.cabinets.pieces import Role
from storystick.layout.runs import Placed, RunLayout
from storystick.layout.stations import Layout
from storystick.layout.walls.corners import depth_with_front
from storystick.layout.walls.floor import gaps_under
from storystick.layout.walls.tops import tops_of
from storystick.lengths import Figures


def all_parts(layout: Layout, figures: Figures) -> tuple[CutPart, ...]:
    """The cutting list of a job: of its cabinets as they stand on its floors, and of its runs."""
    return _listed(layout, figures, gather)


def single_parts(layout: Layout, figures: Figures) -> tuple[CutPart, ...]:
    """The same with nothing gathered: each part under its own name."""
    return _listed(layout, figures, one_by_one)


def _listed(layout: Layout, figures: Figures, gathered: Gathering) -> tuple[CutPart, ...]:
    falls = _falls(layout.runs)
    own = (_to_the_floor(part, falls, figures) for part in cutting_list(layout.cabinets, figures, gathered))
    return (*own, *run_parts(layout.runs, figures, gathered))


def _falls(runs: Iterable[RunLayout]) -> dict[str, Fraction]:
    """By the names of cabinets, how much is open at most under any that is made of each."""
    found: dict[str, Fraction] = {}
    for gap in (gap for run in runs for gap in gaps_under(run)):
        if cabinet := gap.placed.item.cabinet:
            name = cabinet.name
            found[name] = max(found.get(name, Fraction(0)), gap.most)
    return found


def _to_the_floor(part: CutPart, falls: Mapping[str, Fraction], figures: Figures) -> CutPart:
    """A toe board is scribed to the floor, so it is cut as much wider as that falls under its cabinet."""
    wider = falls.get(part.cabinet, Fraction(0)) if part.role == Role.TOE_BOARD.value else Fraction(0)
    if not wider:
        return part
    note = (
        f"{figures(wider)} of the width is for the floor, which falls there: scribed and fixed once the cabinet stands"
    )
    return replace(part, width=part.width + wider, notes=(note, *part.notes))


def run_parts(runs: Sequence[RunLayout], figures: Figures, gathered: Gathering = gather) -> tuple[CutPart, ...]:
    """The parts of all runs, run by run, those that are alike gathered; ``figures`` writes the lengths in notes."""
    return tuple(part for run in runs for part in gathered(run.run.name, _blanks(run, runs, figures), 1))


def _blanks(run: RunLayout, runs: Sequence[RunLayout], figures: Figures) -> Iterator[Blank]:
    falls = {gap.placed.span: gap.most for gap in gaps_under(run)}
    for row in (run.standing, run.hanging):
        for place, placed in enumerate(row):
            beside = _beside(row, place)
            if placed.z is None or not beside:
                continue
            longer = Fraction(0) if placed.upper else falls.get(placed.span, Fraction(0))
            notes = [f"{figures(longer)} of the length is for the floor, which falls there"] if longer else []
            for stock, width, note in _made(placed, beside):
                yield Blank(
                    name=placed.span.name,
                    role=placed.item.word,
                    stock=stock.name,
                    length=placed.z.size + longer,
                    width=width,
                    thickness=stock.thickness,
                    notes=("as high as what stands beside it", *note, *notes),
                )
    for top in tops_of(run, runs):
        yield Blank(
            name="countertop",
            role="countertop",
            stock=top.stock.name,
            length=top.length,
            width=top.depth,
            thickness=top.stock.thickness,
            notes=(FIXED_FROM_BELOW,),
        )


def _beside(row: Sequence[Placed], place: int) -> list[Cabinet]:
    """The cabinets of a row, the nearest first."""
    cabinets = [(abs(number - place), placed.item.cabinet) for number, placed in enumerate(row) if placed.item.cabinet]
    return [cabinet for _, cabinet in sorted(cabinets, key=lambda found: found[0])]


def _made(placed: Placed, beside: Sequence[Cabinet]) -> Iterator[tuple[Stock, Fraction, tuple[str, ...]]]:
    """Of what, how wide and with what said of it; nothing for what is listed elsewhere."""
    match placed.item:
        case EndPanel(stock=stock):
            yield stock, depth_with_front(beside[0]), ("as deep as the cabinet beside it with its fronts",)
        case RunPiece(kind=PieceKind.FILLER):
            yield _seen(beside[0]), placed.span.size, ()
        case RunPiece(kind=PieceKind.SCRIBE):
            yield _seen(beside[0]), placed.span.size, ("scribed to the wall: leave it wider until then",)


def _seen(cabinet: Cabinet) -> Stock:
    """What is seen of a cabinet in front: its frame, its fronts, or its sides."""
    if cabinet.frame:
        return cabinet.frame.stock
    return cabinet.fronts.stock if cabinet.fronts else cabinet.sides
