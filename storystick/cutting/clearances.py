"""Whether doors and drawers at the ends of a run clear the wall beside them, and those in a corner each other.

What a filler has to leave is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import pairwise

from storystick.cutting.front import Front
from storystick.cutting.fronts import fronts_of
from storystick.job.corners import CornerKind
from storystick.job.sticks import Datum
from storystick.layout.cabinets.pieces import CabinetLayout
from storystick.layout.runs import Placed, RunLayout
from storystick.layout.walls.corners import Meeting, depths, meetings
from storystick.lengths import Figures


def clearance_warnings(
    run: RunLayout, runs: Sequence[RunLayout], cabinets: Mapping[str, CabinetLayout], figures: Figures
) -> Iterator[str]:
    """Sentences about a run, each without its name; ``cabinets`` are those of the job by their names."""
    for row in (run.standing, run.hanging):
        for end in (Datum.LEFT, Datum.RIGHT):
            yield from _at_the_wall(row if (end is run.run.datum) else row[::-1], end, run, cabinets, figures)
        yield from _side_by_side(row if run.run.datum is Datum.LEFT else row[::-1], cabinets, figures)
    for upper in (False, True):
        for meeting in meetings([each.run for each in runs], upper):
            if meeting.giving is run.run:
                yield from _in_corner(meeting, runs, cabinets, figures)


def _at_the_wall(
    row: Sequence[Placed], end: Datum, run: RunLayout, cabinets: Mapping[str, CabinetLayout], figures: Figures
) -> Iterator[str]:
    """The cabinet next to an end of the wall, ``row`` beginning there, where its fronts come too near to that."""
    between = Fraction(0)
    for placed in row:
        if placed.item.cabinet:
            front = _nearest(_cabinet_at(placed, cabinets), end, figures)
            least = run.run.least_filler
            if front is not None and front + between < least:
                yield (
                    f'the fronts of "{placed.span.name}" come to {figures(front + between)} from the {end.value} wall, '
                    f"less than {figures(least)}: doors and drawers there want room to open; put a filler between"
                )
            return
        if placed.z is None:
            return
        between += placed.span.size


def _side_by_side(row: Sequence[Placed], cabinets: Mapping[str, CabinetLayout], figures: Figures) -> Iterator[str]:
    """Cabinets that touch, ``row`` from the left, whose fronts leave less between them than their reveal."""
    for left, right in pairwise(row):
        one, other = _cabinet_at(left, cabinets), _cabinet_at(right, cabinets)
        first, second = _nearest(one, Datum.RIGHT, figures), _nearest(other, Datum.LEFT, figures)
        if first is None or second is None:
            continue
        rules = [layout.cabinet.fronts for layout in (one, other) if layout]
        reveal = min(rule.reveal for rule in rules if rule)
        if first + second < reveal:
            stand = f"stand {figures(first + second)} apart" if first + second else "touch"
            yield (
                f'the fronts of "{left.span.name}" and "{right.span.name}" {stand} side by side, where a reveal of '
                f"{figures(reveal)} is wanted: let them end half of it inside their cabinets"
            )


def _cabinet_at(placed: Placed, cabinets: Mapping[str, CabinetLayout]) -> CabinetLayout | None:
    return cabinets.get(placed.item.cabinet.name) if placed.item.cabinet else None


def _nearest(layout: CabinetLayout | None, end: Datum, figures: Figures) -> Fraction | None:
    """How far the fronts of a cabinet are from its own end, at the least; None without any."""
    fronts = fronts_of(layout, figures) if layout else ()
    return min((_from_end(front, layout, end) for front in fronts if layout), default=None)


def _from_end(front: Front, layout: CabinetLayout, end: Datum) -> Fraction:
    return front.x.start if end is Datum.LEFT else layout.cabinet.width - front.x.end


def _in_corner(
    meeting: Meeting, runs: Sequence[RunLayout], cabinets: Mapping[str, CabinetLayout], figures: Figures
) -> Iterator[str]:
    """Fronts in a corner stand out with their handles over what opens beside them."""
    corner = meeting.corner
    if corner.kind is CornerKind.DIAGONAL:
        return
    filler, handles = corner.filler, corner.handles
    if filler < handles:
        yield (
            f"the corner with {meeting.met.name} has a filler of {figures(filler)}, where handles stand out "
            f"{figures(handles)}: drawers and doors beside it meet them; make the filler {figures.at_least(handles)}"
        )
    if corner.kind is CornerKind.BLIND:
        yield from _blind(meeting, runs, cabinets, figures)


def hidden_part(meeting: Meeting) -> tuple[Fraction, Fraction]:
    """What of a blind cabinet's width is hidden behind the other row, and with what its fronts have to stay clear of.

    Both from its end in the corner, in mm.
    """
    deep, _ = depths(meeting)
    hidden = max(Fraction(0), deep - meeting.corner.pull)
    return hidden, hidden + meeting.corner.handles


def _blind(
    meeting: Meeting, runs: Sequence[RunLayout], cabinets: Mapping[str, CabinetLayout], figures: Figures
) -> Iterator[str]:
    placed = _next_to_corner(meeting, next(run for run in runs if run.run is meeting.met))
    layout = _cabinet_at(placed, cabinets) if placed else None
    if layout is None or placed is None:
        return
    hidden, clear = hidden_part(meeting)
    width, end = layout.cabinet.width, meeting.corner.other_end
    if clear >= width:
        yield (
            f'"{placed.span.name}" is {figures(width)} wide, and the corner hides {figures(hidden)} of it: with room '
            f"for handles nothing is left to open; make it wider, or pull it farther off the corner"
        )
        return
    for front in fronts_of(layout, figures):
        begins = _from_end(front, layout, end)
        if begins < clear:
            yield (
                f'the front of "{front.name}" of "{placed.span.name}" begins {figures(begins)} from its end in the '
                f"corner, of which {meeting.giving.name} hides {figures(hidden)}: with room for handles it has to "
                f"begin at {figures.at_least(clear)} or beyond"
            )


def _next_to_corner(meeting: Meeting, met: RunLayout) -> Placed | None:
    """The blind cabinet in its place."""
    row = met.hanging if meeting.upper else met.standing
    from_corner = row if meeting.corner.other_end is met.run.datum else row[::-1]
    return next((placed for placed in from_corner if placed.item.cabinet), None)
