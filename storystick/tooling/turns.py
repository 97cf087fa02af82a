"""Whether a router's base is centred: what four trial cuts say, the base turned by a quarter from each to the next.

A base whose centre is e off the collet's cuts at its true distance plus e times the cosine of the angle. Over two
opposite marks that adds up to nothing, so the mean of the four is the distance that a centred base would have.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from storystick.job.shop import Router
from storystick.lengths import Figures
from storystick.tooling.bars import MOST_OUT


@dataclass(frozen=True, slots=True)
class RunOut:
    """What the trial cuts show, in mm.

    ``run_out`` is by how much the base's edge wanders; ``mean`` is the distance of a centred base; ``mark`` (1 to 4) is
    the one to keep toward the straightedge, whose cut at ``distance`` is the nearest to the mean, the first of equals.
    ``disagreement`` is how far the means of the two pairs of opposite cuts are apart: nothing for a round base.
    """

    run_out: Fraction
    mean: Fraction
    mark: int
    distance: Fraction
    disagreement: Fraction


def run_out(turns: Sequence[Fraction]) -> RunOut:
    """The run-out from the distances (mm) of four cuts from the straightedge, marks 1 to 4 toward it in turn."""
    first, second, third, fourth = turns
    mean = sum(turns, Fraction(0)) / len(turns)
    mark, distance = min(enumerate(turns, start=1), key=lambda turn: abs(turn[1] - mean))
    apart = abs(first + third - second - fourth) / 2
    return RunOut(max(turns) - min(turns), mean, mark, distance, apart)


def turn_findings(router: Router, figures: Figures) -> tuple[str, ...]:
    """Sentences about a router's trial cuts; none where they were not made."""
    if not router.turns:
        return ()
    found = run_out(router.turns)
    out, distance, mean = (figures(length) for length in (found.run_out, found.distance, found.mean))
    if not found.run_out:
        return (f"The base of router {router.name} is centred: all four cuts are {distance} from the straightedge.",)
    sentence = (
        f"The base of router {router.name} is off centre, with a run-out of {out}. Keep mark {found.mark} toward the "
        f"straightedge, always: its cut, at {distance}, is nearest to the mean of the four, {mean}, which is what a "
        "centred base would give."
    )
    if found.disagreement <= MOST_OUT:
        return (sentence,)
    apart = figures(found.disagreement)
    return (
        sentence,
        f"Opposite cuts of router {router.name} should have the same mean, but their means are {apart} apart: "
        "measure them again, or see whether the base is worn.",
    )
