"""Fronts of solid wood that the dry season leaves far from what was asked for.

Sizes are exact, in mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Final

from storystick.cutting.front import Front, gap
from storystick.cutting.fronts import fronts_of
from storystick.job.fronts import FrontFit, FrontRule
from storystick.layout.cabinets.closings import Closing
from storystick.layout.cabinets.laps import neighbours
from storystick.layout.cabinets.pieces import CabinetLayout
from storystick.layout.movement import percent
from storystick.lengths import INCH_MM, Figures
from storystick.wording import by_number, listed

_MANY_TIMES: Final = 4
"""A reveal of more times what was asked is told: judgement, no source."""

_LEAST_ASKED: Final = INCH_MM / 32
"""A reveal is not taken for less than this, the premium grade's gap (shared/gap_grades.toml)."""

_CURE: Final = "quarter-sawn wood, a frame and panel or sheet goods move less"


def season_warnings(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    """Fronts that drying leaves many times the reveal that was asked for, those that are as far out told as one.

    An inset front is told by the reveal in its opening, an overlay front by the gap to its neighbour, if it has one.

    Raises:
        Faults: as :func:`~storystick.cutting.fronts.fronts_of`.
    """
    rule = layout.cabinet.fronts
    if rule is None or rule.wood is None:
        return
    fronts = {front.closing: front for front in fronts_of(layout, figures)}
    if rule.fit is FrontFit.INSET:
        yield from _wide_reveals(tuple(fronts.values()), rule, figures)
    else:
        yield from _wide_gaps(fronts, layout, rule, figures)


def _wide_reveals(fronts: Sequence[Front], rule: FrontRule, figures: Figures) -> Iterator[str]:
    alike: dict[tuple[str, ...], list[Front]] = {}
    for front in fronts:
        season = front.season
        if season and _is_wide(season.dampest, season.driest, rule):
            key = (figures(season.made), figures(season.driest), percent(season.wood.driest))
            alike.setdefault(key, []).append(front)
    for (made, driest, moisture), those in alike.items():
        which = listed(by_number(front.name for front in those))
        yield (
            f"the fronts of {which} move so much across their grain that the reveal of "
            f"{figures(rule.reveal)} is {made} when they are made and {driest} at {moisture}; {_CURE}, and "
            "least_reveal gives up some of the reveal in the damp season"
        )


def _wide_gaps(
    fronts: Mapping[Closing, Front], layout: CabinetLayout, rule: FrontRule, figures: Figures
) -> Iterator[str]:
    alike: dict[tuple[str, ...], list[tuple[Front, Front]]] = {}
    for low, high, _, _ in neighbours(layout):
        one, other = fronts.get(low), fronts.get(high)
        if one is None or other is None or one.season is None or other.season is None:
            continue
        dampest = gap((one.x, one.z), (other.x, other.z))
        driest = gap(one.driest, other.driest)
        if _is_wide(dampest, driest, rule):
            wood = one.season.wood
            widths = map(figures, (dampest, gap(one.made, other.made), driest))
            key = (*widths, percent(wood.dampest), percent(wood.driest))
            alike.setdefault(key, []).append((one, other))
    for (dampest_as, made_as, driest_as, damp, dry), pairs in alike.items():
        which = listed(by_number(front.name for front in dict.fromkeys(front for pair in pairs for front in pair)))
        gaps = "gap between the fronts" if len(pairs) == 1 else "gap between neighbours among the fronts"
        yield (
            f"the {gaps} of {which} is {dampest_as} at {damp}, but {made_as} when they are made and {driest_as} at "
            f"{dry}, since they move so much across their grain; {_CURE}"
        )


def _is_wide(dampest: Fraction, driest: Fraction, rule: FrontRule) -> bool:
    """Whether a gap opens to many times the reveal; of one that is wider by its boards, what drying adds counts."""
    asked = max(rule.reveal, _LEAST_ASKED)
    return driest > max(dampest, asked) + (_MANY_TIMES - 1) * asked
