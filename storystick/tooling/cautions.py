"""What the set-up pages say of safety. The machine's manual and the local rules stand above all of it.

Where no source is named, it is common practice, no source.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from storystick.lengths import INCH_MM, Units

ABOVE_ALL: Final = "The machine's manual and your local rules stand above this sheet."
UNPLUG: Final = "Unplug the machine before a cutter, a bit or a blade is changed or touched."
PROTECT: Final = "Wear eye and ear protection, and draw off the dust or wear a mask against it."
GUARDS: Final = (
    "Keep the guard on. For grooving and rabbeting, where it cannot be used, hold and guide the work with "
    "featherboards or jigs, as OSHA 29 CFR 1910.213(a)(15) or your local rule asks, and put the guard back afterwards."
)
PUSH: Final = "Use a push stick or a push block; keep hands out of the blade's line and off what hangs over it."
NOT_TRAPPED: Final = (
    "Let no off-cut be trapped between blade and fence: keep to the order of the cuts and to the face named for the "
    "fence, so that the waste falls on the open side."
)
FEED: Final = (
    "Feed the router so that the cutter pulls its base against the straightedge: with the straightedge at your left, "
    "push the router away from you; with it at your right, draw it toward you. Where there are shims, begin with the "
    "widest and end with none: never widen a groove on the side away from the straightedge, or the router climbs and "
    "runs."
)
TRIAL: Final = "Make each cut in a trial piece of the same thickness first, and measure what is named as its check."

ROUTER_CAUTIONS: Final = (ABOVE_ALL, UNPLUG, FEED, PROTECT)
SAW_CAUTIONS: Final = (ABOVE_ALL, UNPLUG, GUARDS, NOT_TRAPPED, PUSH, TRIAL, PROTECT)

SHORTEST: Final = {Units.INCH: 12 * INCH_MM, Units.MM: Fraction(300)}
"""A part shorter than this (mm) is not run by itself."""

LONGEST_ON_END: Final = {Units.INCH: 48 * INCH_MM, Units.MM: Fraction(1200)}
"""A part longer than this (mm) is not stood on its end."""

NARROWEST_ON_END: Final = {Units.INCH: 6 * INCH_MM, Units.MM: Fraction(150)}
"""Nor is a part narrower than this (mm) along the fence."""

TALLEST_ON_END: Final = 4
"""Nor one that is more than so many times as long as it is wide."""

SHORT: Final = {
    units: (
        f"shorter than {length}: run it backed by a larger squared board, or cut the joint in a long blank and then "
        "cut that to length"
    )
    for units, length in ((Units.INCH, "12 in"), (Units.MM, "300 mm"))
}
ACROSS: Final = "Guide it with the mitre gauge or a sled; nothing comes off in this cut."
EITHER: Final = "Where a router cuts it against a straightedge, leave it out here."
ON_END: Final = "Give the fence a tall facing, and hold the part upright in a jig that runs along it."
IN_PASSES: Final = (
    "Too long or too narrow to stand on its end: guide it with the mitre gauge or a sled, the first pass against the "
    "fence, and draw it away from the fence by less than a kerf for each of the others."
)
FACING: Final = "Screw a wooden facing to the fence, and measure from that: the blade runs along it or into it."
