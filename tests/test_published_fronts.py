"""Fronts against what is published of them: the 32 mm grid, and a tier of drawers in its space."""

from __future__ import annotations

import tomllib
from fractions import Fraction
from itertools import pairwise
from pathlib import Path

from jobs import read_well

from storystick.cutting.fronts import fronts_of
from storystick.laying_out import lay_out
from storystick.lengths import Units, read_size

PUBLISHED = tomllib.loads((Path(__file__).parent.parent / "shared" / "published_fronts.toml").read_text("utf-8"))


def test_fronts_of_full_overlay_begin_at_every_so_many_times_32_mm() -> None:
    grid = PUBLISHED["grid"]
    high = 32 * sum(times for times, _ in grid["fronts"]) - grid["gap"]
    # Two are given as published; the others share what is left equally, as they should.
    job = read_well(f"""
units = "mm"
stock = {{ ply = 18 }}
[[cabinet]]
height = {high}
width = 600
depth = 500
carcass = "ply"
sizes = "fronts"
between = "nothing"
fronts = {{ kind = "overlay", outside = {{ left = 1.5, right = 1.5, top = 0, bottom = 0 }}, reveal = {grid["gap"]} }}
openings = [{grid["fronts"][0][1]}, {grid["fronts"][1][1]}, "equal", "equal"]
""")
    (layout,) = lay_out(job).cabinets
    fronts = fronts_of(layout, job.figures)
    assert [front.height for front in fronts] == [height for _, height in grid["fronts"]]
    lower = [sum(times for times, _ in grid["fronts"][:number]) for number in range(len(fronts))]
    assert [front.z.start for front in fronts] == [32 * times for times in lower]


def test_three_drawers_of_a_tier_leave_as_much_of_its_space_as_is_published() -> None:
    """Four gaps of the premium grade, 1/32 in (shared/gap_grades.toml): at the foot, at the head, and two between."""
    job = read_well("""
units = "inch"
stock = { ply = "3/4" }
[[cabinet]]
height = "25 1/2"
width = "20"
depth = "18"
carcass = "ply"
sizes = "fronts"
between = "nothing"
fronts = { kind = "inset", grade = "premium" }
openings = [{ graduated = 3, step = "1" }]
""")
    (layout,) = lay_out(job).cabinets
    space, less = Fraction(24) * Fraction(127, 5), read_size(PUBLISHED["tier"]["less"], Units.INCH)
    fronts = fronts_of(layout, job.figures)
    assert sum(front.height for front in fronts) == space - less
    inch = Fraction(127, 5)
    assert [low.height - high.height for low, high in pairwise(fronts)] == [inch, inch]
