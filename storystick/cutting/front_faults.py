"""Overlay fronts that are too near each other, reach too far, or shrink off their openings. Exact, in mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import islice

from storystick.cutting.front import Front, gap
from storystick.errors import Fault, Where
from storystick.job.fronts import FrontFit, FrontRule
from storystick.job.reaching import FaceEdge
from storystick.layout.cabinets.laps import EdgeLap
from storystick.layout.cabinets.pieces import CabinetLayout
from storystick.lengths import Figures
from storystick.wording import counted, listed

_MOVES_LESS = "use quarter-sawn wood, a frame and panel or sheet goods, which move less"


def check_covers(
    name: str,
    edges: Sequence[EdgeLap],
    sizes: tuple[Fraction, Fraction],
    moving: int,
    rule: FrontRule,
    figures: Figures,
) -> None:
    """Whether a front still lies over all that is at its edges at the driest.

    ``edges`` are both across its grain, ``sizes`` a leaf's at the dampest and at the driest, of which ``moving`` lie
    side by side.

    Raises:
        Fault: it leaves a gap.
    """
    most, driest = sizes
    back = (most - driest) * moving / 2
    gaping = [edge for edge in edges if edge.width and edge.lap <= back]
    if gaping:
        what = f"{name} shrinks to {figures(driest)} across its grain and leaves a gap in the dry season"
        raise _where_said(what, _more_lap(gaping, edges, sizes, moving, rule, figures), rule)


def _more_lap(
    gaping: Sequence[EdgeLap],
    edges: Sequence[EdgeLap],
    sizes: tuple[Fraction, Fraction],
    moving: int,
    rule: FrontRule,
    figures: Figures,
) -> str:
    """How much more the laps have to be; what a front loses grows with them."""
    most, driest = sizes
    half = (1 - driest / most) / 2
    low, high = (edge.lap for edge in edges)
    within = most * moving - low - high
    least = within * half / (1 - 2 * half)
    if len(gaping) == 1:
        (other,) = (edge for edge in edges if edge is not gaping[0])
        alone = (within + other.lap) * half / (1 - half)
        # One lap alone may grow until the other is the less.
        gaping, least = (gaping, alone) if alone <= other.lap else (edges, least)
    names = [rule.reach.said(edge.outer) for edge in gaping]
    if None in names:
        return _MOVES_LESS
    return f"make {listed(list(dict.fromkeys(filter(None, names))))} more than {figures.at_least(least)}"


def _where_said(what: str, cure: str, rule: FrontRule) -> Fault:
    return Fault(what, cure, Where.keys("fronts", "overlay") if rule.reach.is_by_edge else "fronts")


def too_wide(fronts: Sequence[Front], rule: FrontRule, layout: CabinetLayout, figures: Figures) -> Iterator[Fault]:
    """Fronts that stand out beyond the cabinet's sides, where a neighbour or a wall may be."""
    for front in fronts:
        at_edges = ((FaceEdge.LEFT, -front.x.start), (FaceEdge.RIGHT, front.x.end - layout.cabinet.width))
        edge, beyond = max(at_edges, key=lambda each: each[1])
        if beyond > 0:
            most = front.laps[edge].lap - beyond
            yield _where_said(
                f'the front of "{front.name}" stands {figures.apart(beyond)} out beyond the side of the cabinet',
                f"make {rule.reach.said(edge)} {figures.at_most(most)} or less",
                rule,
            )


def too_high(fronts: Sequence[Front], rule: FrontRule, layout: CabinetLayout, figures: Figures) -> Iterator[Fault]:
    """Fronts that stand up or down beyond the face where something reaches out before it, or over an open end."""
    before = [piece for piece in layout.pieces if piece.y.start < 0]
    for front in fronts:
        for edge in (FaceEdge.BOTTOM, FaceEdge.TOP):
            at = front.laps[edge]
            beyond = at.lap - at.width
            met = [piece for piece in before if piece.x.overlaps(front.x) and piece.z.overlaps(front.z)]
            if at.outer is None or beyond <= 0 or not (met or at.width == 0):
                continue
            into = f"into the {met[0].name}" if met else f"beyond the {edge.value}, where the case is open"
            yield _where_said(
                f'the front of "{front.name}" stands {figures.apart(beyond)} {into}',
                f"make {rule.reach.said(edge)} {figures.at_most(at.width)} or less",
                rule,
            )
            return


def too_near(fronts: Sequence[Front], rule: FrontRule, figures: Figures) -> Iterator[Fault]:
    """Overlay fronts that would be nearer to each other than the reveal: the nearest two, and how many more."""
    if rule.fit is not FrontFit.OVERLAY:
        return
    near = [
        (gap((fronts[one].x, fronts[one].z), (fronts[other].x, fronts[other].z)), one, other)
        for one, other in _neighbours(fronts, rule.reveal)
    ]
    near = sorted(found for found in near if found[0] < rule.reveal)
    if not near:
        return
    (least, one, other), *more = near
    stand = f"stand only {figures(least)} apart" if least >= 0 else f"lie over each other by {figures.apart(-least)}"
    others = f"; {counted(len(more), 'other pair')} of fronts {'is' if len(more) == 1 else 'are'} too near as well"
    said = rule.reach.said(None)
    most = rule.reach.shared(rule.reveal, rule.reveal) - (rule.reveal - least) / 2
    yield _where_said(
        f'the fronts of "{fronts[one].name}" and "{fronts[other].name}" would {stand}, where a reveal of '
        f"{figures(rule.reveal)} is wanted{others if more else ''}",
        f"make {said} {figures.at_most(most)} or less" if said and most >= 0 else "make the reveal less",
        rule,
    )


def _neighbours(fronts: Sequence[Front], near: Fraction) -> Iterator[tuple[int, int]]:
    """Every two fronts of which one begins less than ``near`` above the other's end: no others can be too near."""
    rising = sorted(range(len(fronts)), key=lambda place: (fronts[place].z.start, fronts[place].x.start))
    for step, one in enumerate(rising, start=1):
        for other in islice(rising, step, None):
            if fronts[other].z.start >= fronts[one].z.end + near:
                break
            yield min(one, other), max(one, other)
