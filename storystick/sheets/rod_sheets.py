"""The strips to glue on pinch rods: cut, packed and printed as those of any stick."""

from __future__ import annotations

from storystick.assembly.rod_sticks import rod_stick
from storystick.assembly.rods import RodPlan
from storystick.drawing.lettering import check_letters
from storystick.drawing.strip import Strip
from storystick.errors import placed_in
from storystick.job.model import Job


def rod_strips(plan: RodPlan, job: Job) -> tuple[Strip, ...]:
    """A strip for every rod, in the order of the plan.

    Raises:
        Faults: the font has no sign for a character of a rod's name.
    """
    with placed_in("pinch rods"):
        check_letters(*(rod.name for rod in plan.rods))
    return tuple(Strip(rod_stick(rod, number, job), None, job) for number, rod in enumerate(plan.rods, 1))
