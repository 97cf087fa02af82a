"""What is said of a wall below its elevation: corners, countertops, features behind cabinets, the floor, warnings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from storystick.cutting.clearances import hidden_part
from storystick.job.bases import Toe
from storystick.job.corners import CornerKind
from storystick.job.runs import CabinetPlace
from storystick.layout.cabinets.pieces import CabinetLayout
from storystick.layout.runs import RunLayout
from storystick.layout.stations import Layout
from storystick.layout.walls.behind import behind_cabinets
from storystick.layout.walls.corners import Meeting, depths, legs_of, meetings
from storystick.layout.walls.floor import gaps_under
from storystick.layout.walls.tops import tops_of
from storystick.lengths import Figures
from storystick.wording import capital, listed


def wall_notes(run: RunLayout, layout: Layout) -> Iterator[tuple[str, str]]:
    """Sentences, each with the sign before it."""
    figures = layout.job.figures
    for tell in (_corners, _tops, _behind, _floor):
        for words in tell(run, layout, figures):
            yield words, ""
    for warning in run.warnings:
        yield f"{capital(warning)}.", "!"


def _corners(run: RunLayout, layout: Layout, figures: Figures) -> Iterator[str]:
    for upper in (False, True):
        for meeting in meetings([each.run for each in layout.runs], upper):
            if run.run in (meeting.giving, meeting.met):
                level = "Wall units at the" if upper else "The"
                yield f"{level} corner with {_other(run, meeting)}: {_CORNERS[meeting.corner.kind](meeting, figures)}."


def _other(run: RunLayout, meeting: Meeting) -> str:
    return meeting.met.name if run.run is meeting.giving else meeting.giving.name


def _blind(meeting: Meeting, figures: Figures) -> str:
    hidden, clear = hidden_part(meeting)
    pull = f", {figures(meeting.corner.pull)} off the corner" if meeting.corner.pull else ""
    filler = figures(meeting.corner.filler)
    return (
        f"a blind cabinet of {meeting.met.name} goes into it{pull}; {figures(hidden)} of its front are hidden, and its "
        f"doors and drawers begin {figures.at_least(clear)} from its end there or beyond, to clear the handles of "
        f"{meeting.giving.name}, whose first cabinet stands behind a filler of {filler}"
    )


def _diagonal(meeting: Meeting, figures: Figures) -> str:
    here, there = legs_of(meeting.corner)
    giving, met = depths(meeting)
    square = (here - met) ** 2 + (there - giving) ** 2
    return (
        f"a corner cabinet takes {figures(here)} of {meeting.giving.name} and {figures(there)} of {meeting.met.name}; "
        f"its front is {figures.of_root(square)} wide between the cases beside it; its own parts are not made out here"
    )


def _dead(meeting: Meeting, figures: Figures) -> str:
    filler = figures(meeting.corner.filler)
    return f"closed by two fillers of {filler}, one on each wall; what is behind them is left empty"


_CORNERS = {CornerKind.BLIND: _blind, CornerKind.DIAGONAL: _diagonal, CornerKind.FILLER: _dead}


def _tops(run: RunLayout, layout: Layout, figures: Figures) -> Iterator[str]:
    for top in tops_of(run, layout.runs):
        sizes = " × ".join(map(figures, (top.length, top.depth, top.stock.thickness)))
        over = f" It goes on over {listed(list(top.gaps))}." if top.gaps else ""
        near, far = (top.near, top.far) if run.left_is_datum else (top.far, top.near)
        yield (
            f"Countertop {sizes}, its underside {figures(top.z.start)} up; its left end {near.value}, its right end "
            f"{far.value}.{over}"
        )


def _behind(run: RunLayout, layout: Layout, figures: Figures) -> Iterator[str]:
    for found in behind_cabinets(run, layout.cabinets):
        of = "back" if found.has_back else "case, which has no back"
        yield (
            f"{capital(found.feature.name)} behind {found.name(figures)}: {figures(found.left)} from the left edge "
            f"of its {of}, as seen from the front, and {figures(found.up)} above its lower edge."
        )


def back_words(alike: Sequence[CabinetLayout], runs: Sequence[RunLayout], figures: Figures) -> Iterator[str]:
    """What of a wall comes on the backs of cabinets that are built alike, wherever each of them stands."""
    for run in runs:
        for found in behind_cabinets(run, alike):
            of = "back" if found.has_back else "case"
            yield (
                f"On {run.run.name}, {found.feature.name} comes behind {found.name(figures)}: its middle is "
                f"{figures(found.left)} from the left edge of the {of} as seen from the front, {figures(found.right)} "
                f"from its left edge as seen from behind, and {figures(found.up)} above its lower edge."
            )


def _floor(run: RunLayout, _layout: Layout, figures: Figures) -> Iterator[str]:
    """What is open under each, and how wide a board is that closes the toe space and is scribed to the floor."""
    gaps = list(gaps_under(run))
    told = []
    for gap in gaps:
        left, right = gap.from_left(run)
        told.append(f"{gap.placed.span.name} {figures(left)} and {figures(right)}")
    if told:
        yield f"Open under the left and the right end, to be shimmed, and scribed where it shows: {'; '.join(told)}."
    bases = [
        (gap.placed.item.cabinet.base, gap.most)
        for gap in gaps
        if isinstance(gap.placed.item, CabinetPlace) and gap.placed.item.cabinet.base
    ]
    if any(isinstance(base, Toe) and base.board for base, _ in bases):
        yield "Toe boards are cut wider by what is open under them, and scribed to the floor once the cabinets stand."
    elif toes := [base.height + most for base, most in bases]:
        yield f"A toe board along all of it is cut {figures.at_least(max(toes))} wide, and scribed to the floor."
