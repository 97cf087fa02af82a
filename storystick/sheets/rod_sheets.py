"""The strips to glue on pinch rods: cut, packed and printed as those of any stick."""

from __future__ import annotations

from storystick.assembly.rod_names import shared_words
from storystick.assembly.rod_sticks import rod_stick
from storystick.assembly.rods import RodPlan
from storystick.drawing.lettering import check_letters
from storystick.drawing.strip import Strip
from storystick.job.model import Job


def rod_strips(plan: RodPlan, job: Job) -> tuple[Strip, ...]:
    """A strip for every rod, in the order of the plan.

    Raises:
        Faults: the font has no sign for a character of a rod's or a rectangle's name.
    """
    names = [name for rod in plan.rods for name in rod.serves]
    check_letters(*names, *(rod.name for rod in plan.rods))
    unsaid = shared_words(names)
    return tuple(Strip(rod_stick(rod, number, job, unsaid), None, job) for number, rod in enumerate(plan.rods, 1))
