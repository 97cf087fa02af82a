"""From a job to every stick of it: those of its sticks, cabinets and runs, and those of its cabinets' fronts.

With a shop, the sticks bear the lines that straightedges are clamped to.
"""

from __future__ import annotations

from dataclasses import replace

from storystick.cutting.front_sticks import front_sticks
from storystick.errors import FaultCollector
from storystick.job.model import Job
from storystick.layout.model import Layout
from storystick.layout.sticks import lay_out_sticks
from storystick.tooling.straightedges import with_straightedges


def lay_out(job: Job) -> Layout:
    """Work out every position of a job.

    Raises:
        Faults: what does not fit, for all sticks, cabinets and runs at once.
    """
    layout = lay_out_sticks(job)
    sticks = list(layout.sticks)
    collector = FaultCollector()
    for cabinet in layout.cabinets:
        with collector.at(cabinet.cabinet.place):
            sticks.extend(front_sticks(cabinet, job.units, len(sticks) + 1))
    collector.raise_any()
    return with_straightedges(replace(layout, sticks=tuple(sticks)))
