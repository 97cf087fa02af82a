"""What the set-up pages say of safety. The machine's manual and the local rules stand above all of it.

Where no source is named, it is common practice, no source. HSE is the United Kingdom's Health and Safety Executive: its
page on rip saws has the riving knife, the push stick and the take-off table, its sheet WIS16 (rev 2) that a guarded
spindle moulder or a router is better for grooving than the saw bench.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final

from storystick.lengths import INCH_MM, Figures, Units
from storystick.wording import capital, small

ABOVE_ALL: Final = "The machine's manual and your local rules stand above this sheet."
UNPLUG: Final = "Unplug the machine before a cutter, a bit or a blade is changed or touched."
PROTECT: Final = "Wear eye and ear protection, and draw off the dust or wear a mask against it."
SAFER: Final = (
    "A groove or a rabbet is safer with a router or a guarded spindle moulder than at the saw bench (HSE, WIS16): "
    "where you have one, cut it there, the fence at the same figures."
)
GUARDS: Final = (
    "Keep the guard on, and the riving knife within 8 mm (5/16 in) of the blade (HSE), wherever the cut allows them. "
    "For grooving and rabbeting, where the guard cannot be used, hold and guide the work with featherboards or jigs, "
    "as OSHA 29 CFR 1910.213(a)(15) or your local rule asks. Put guard and knife back afterwards."
)
PUSH: Final = (
    "Use a push stick for the last 300 mm (12 in) of every cut, one of 450 mm (18 in) or longer (HSE), and a push "
    "block on wide work. No hand goes over the blade, or behind it where it comes out of the wood."
)
STAND: Final = (
    "Stand beside the line of the blade, and out of the line of a strip that comes loose: it can be thrown back."
)
NOT_TRAPPED: Final = (
    "Let no off-cut be trapped between blade and fence: keep to the order of the cuts and to the face named for the "
    "fence, so that the waste falls on the open side."
)
CLAMP: Final = (
    "Clamp the work down, and a back-up strip to the edge where the bit comes out of cross grain. Keep both hands on "
    "the router, and let the bit stop before you lift it off."
)
FEED: Final = (
    "Feed the router so that the cutter pulls its base against the straightedge: with the straightedge at your left, "
    "push the router away from you; with it at your right, draw it toward you. Where there are shims, begin with the "
    "widest and end with none: never widen a groove on the side away from the straightedge, or the router climbs and "
    "runs."
)
TRIAL: Final = "Make each cut in a trial piece of the same thickness first, and measure what is named as its check."

ROUTER_CAUTIONS: Final = (ABOVE_ALL, UNPLUG, CLAMP, FEED, PROTECT)
SAW_CAUTIONS: Final = (ABOVE_ALL, UNPLUG, SAFER, GUARDS, PUSH, STAND, NOT_TRAPPED, TRIAL, PROTECT)

WIDE_BLANK: Final = "make this cut in a wide blank and rip the part off it afterwards"
FEATHERBOARDS: Final = (
    "press it down and to the fence with featherboards, one above and one at the side, and feed it with a push block"
)

SHORTEST: Final = {Units.INCH: 12 * INCH_MM, Units.MM: Fraction(300)}
"""A part shorter than this (mm) is not run by itself."""

NARROWEST: Final = {Units.INCH: 3 * INCH_MM, Units.MM: Fraction(75)}
"""Nor is one narrower than this (mm) along its length, where a shop does not say: judgement, no source."""

NARROWEST_AT_END: Final = {Units.INCH: 6 * INCH_MM, Units.MM: Fraction(150)}
"""A part narrower than this (mm) does not keep square by itself with its end on the fence."""

LONGEST_ALONE: Final = {Units.INCH: 47 * INCH_MM, Units.MM: Fraction(1200)}
"""A part longer than this (mm) is held up beyond the table: the HSE's length of a take-off table, 1200 mm."""

HIGHEST_ON_END: Final = {Units.INCH: 24 * INCH_MM, Units.MM: Fraction(600)}
"""Nothing taller, or longer along the fence (mm), is stood on its end or edge, where a shop does not say: judgement, no
source."""

TALLEST_ON_END: Final = 4
"""Nor is what would stand more than so many times as tall as it is long on the table."""


@dataclass(frozen=True, slots=True)
class Caution:
    """What to mind at a cut: a short ``name`` to come back to it by, and all that is to be said.

    ``parts`` are those that it is about; empty for all that are cut so. Cautions that differ in them alone are equal.
    """

    name: str
    words: str
    parts: str = field(default="", compare=False)

    def __str__(self) -> str:
        return f"{self.parts}: {small(self.words)}" if self.parts else self.words

    def again(self, number: int) -> str:
        """The short form, with the number of the cut that it was said at."""
        words = f"{self.name} as at {number}."
        return f"{self.parts}: {words}" if self.parts else capital(words)


FACING: Final = Caution(
    "wooden facing",
    "Screw a wooden facing to the fence, thicker than what of the cutter goes into it, lock the fence, and raise the "
    "turning cutter into the facing. Figures are from the facing.",
)
ACROSS: Final = Caution(
    "mitre gauge and back-up block",
    "Guide it with the mitre gauge or a sled, a back-up block behind it where the cutter comes out of cross grain.",
)
IN_PASSES: Final = Caution(
    "passes away from the fence",
    "Run the first pass with the end on the fence, then draw the part away from the fence by a kerf or a little less "
    "for each of the others, until the cutter has passed the end.",
)
ON_END: Final = Caution(
    "standing",
    "Give the fence a tall facing, and hold the part upright in a jig that runs along it: both hands on the jig, and "
    "none behind the blade.",
)
GROOVED_ON_EDGE: Final = Caution(
    "on edge",
    "Give the fence a tall facing, hold the part against it with a featherboard, and keep the same face of all parts "
    "on it.",
)
ON_EDGE: Final = Caution(
    "standing",
    "Give the fence a tall facing, and hold the part against it with a featherboard above the strip that comes loose.",
)


def short_parts(at_end: bool, figures: Figures, parts: str = "") -> Caution:
    """For parts that are too short to be run by themselves, or too narrow with their end on the fence."""
    shortest = f"{figures(SHORTEST[figures.units])} {figures.units.sign}"
    cure = (
        "put a wider, square board behind it, which keeps it square, and feed both"
        if at_end
        else f"cut it in a blank over {shortest} long, and the blank to length afterwards"
    )
    return Caution("small parts", f"Too small to be fed alone: {cure}.", parts)


def narrow_parts(below: str, parts: str = "") -> Caution:
    """For parts that are narrower than the label ``below``."""
    return Caution("narrow parts", f"Narrower than {below}: {WIDE_BLANK}, or {FEATHERBOARDS}.", parts)


def narrow_routed(below: str, parts: str) -> str:
    """For parts that are narrower than the label ``below`` and are cut with a router, without a full stop."""
    return (
        f"{parts}: narrower than {below}, so that a router would tip: {WIDE_BLANK}, or take the part to a router "
        f"table, where you {FEATHERBOARDS}"
    )


def long_parts(figures: Figures, parts: str = "") -> Caution:
    """For parts that reach beyond the table."""
    longest = f"{figures(LONGEST_ALONE[figures.units])} {figures.units.sign}"
    words = f"Longer than {longest}: use take-off support, or have a second person hold it up."
    return Caution("long parts", words, parts)
