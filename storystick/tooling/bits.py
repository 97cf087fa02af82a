"""How well a bit serves a groove, with which shims, and to which depths it is set."""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import Final, NamedTuple

from storystick.job.tools import Bit, Routing
from storystick.lengths import INCH_MM, Figures, Units

BIT_UNDER: Final = {Units.INCH: INCH_MM / 64, Units.MM: Fraction(3, 10)}
"""A bit that is narrower than its groove by no more (mm) cuts it at once, where a shop does not say: judgement."""

CUTTER_OVER: Final = 6 * INCH_MM / 1000
"""Nor may a bit or a saw be wider than its groove by more (mm): 0.006 in is the widest gap that white glue bridges, by
a wood scientist's column."""

LEAST_SHIM: Final = {Units.INCH: INCH_MM / 32, Units.MM: Fraction(8, 10)}
"""No shim is made that is thinner (mm), where a shop does not say: common practice, no source."""


class Limits(NamedTuple):
    """By how much a bit may be under or over its groove, and the thinnest shim, in mm."""

    under: Fraction
    over: Fraction
    least_shim: Fraction

    def with_fit(self, fit: Fraction) -> Limits:
        """For a groove that is wider by ``fit`` than what goes into it: a cutter so much narrower lets it in."""
        return self._replace(under=max(self.under, fit))

    def takes_at_once(self, cutter: Fraction, width: Fraction) -> bool:
        """Whether a cutter is near enough to a groove ``width`` wide, both in mm, to cut it in one pass."""
        return -self.under <= cutter - width <= self.over


ANY_SHIM: Final = Limits(Fraction(0), Fraction(0), Fraction(0))
AT_SAW: Final = Limits(Fraction(0), CUTTER_OVER, Fraction(0))
"""At a fence a second pass costs little, so that only a joint's fit lets a narrower cutter do with one."""


def limits_of(routing: Routing, units: Units) -> Limits:
    """What a shop says of fits, or what is usual where it does not."""
    under, least = routing.bit_under, routing.least_shim
    return Limits(
        BIT_UNDER[units] if under is None else under, CUTTER_OVER, LEAST_SHIM[units] if least is None else least
    )


def rank(bit: Fraction, width: Fraction, is_open: bool, limits: Limits) -> tuple[int, Fraction] | None:
    """How well a bit serves a groove, the least best; None where it does not.

    Best is one that takes the groove at once: as wide as it, all but some thousandths, or for an open groove the
    narrowest that has its centre on the board. Then comes the widest that takes it with shims.
    """
    if is_open and width <= bit <= 2 * width:
        return 0, bit - width
    if is_open:
        return (1, -bit) if bit < width else None
    if limits.takes_at_once(bit, width):
        return 0, abs(bit - width)
    if bit > width:
        return None
    return (1 if len(shims(width, bit, limits)) > 1 else 2), -bit


def shims(width: Fraction, bit: Fraction, limits: Limits = ANY_SHIM, is_open: bool = False) -> tuple[Fraction, ...]:
    """The shim of each pass, in mm, for a groove ``width`` wide: groove less bit at first, then evenly down to none.

    Two passes do for a groove of up to twice the bit: arithmetic. One is made where the bit is near enough to the
    groove, or the shim would be too thin; not for an open groove, whose end would be left standing: its first pass may
    run out beyond the end, so that the shim is thick enough.
    """
    out = width - bit
    if out <= 0 or (not is_open and (out <= limits.under or out < limits.least_shim)):
        return (Fraction(0),)
    # Evenly, so that no two passes that follow each other overlap less than others do.
    last, widest = ceil(width / bit) - 1, max(out, limits.least_shim)
    return tuple(place * widest / last for place in range(last, -1, -1))


def fit_to_try(cutter: str, diameter: Fraction, width: Fraction, figures: Figures, where_tight: str) -> str:
    """What is said where one pass of a cutter leaves a groove that is not just ``width`` wide; nothing where it is.

    ``cutter`` is its name and ``where_tight`` what helps where the cutter is the narrower one.
    """
    off = diameter - width
    if not off:
        return ""
    which, cure = ("wider", "") if off > 0 else ("narrower", f", and where it is tight {where_tight}")
    return f"{cutter} is {figures.apart(abs(off))} {which} than the groove: test the fit in scrap{cure}"


_USUAL_DEPTHS: Final = {
    Units.INCH: tuple(Fraction(sixteenths, 16) * INCH_MM for sixteenths in (2, 4, 5, 6, 8, 10, 12, 14, 16)),
    Units.MM: tuple(map(Fraction, (3, 6, 8, 10, 12, 16, 19, 22, 25))),
}
"""What the stops of a plunge router are usually set to, in mm: common practice, no source."""

_FINER_STEPS: Final = {
    Units.INCH: tuple(INCH_MM / parts for parts in (16, 32, 64)),
    Units.MM: (Fraction(1), Fraction(1, 2), Fraction(1, 10)),
}


def depths(depth: Fraction, bit: Bit, units: Units) -> tuple[Fraction, ...]:
    """How deep the bit is set for each pass, in mm: usual depths, as few passes as the bit allows, and ``depth`` last.

    Where the shop says nothing of a bit, half its diameter is the most at once: common practice, no source.
    """
    most = bit.diameter / 2 if bit.pass_depth is None else bit.pass_depth
    passes = ceil(depth / most)
    stops: list[Fraction] = []
    for left in range(passes - 1, 0, -1):
        reached = stops[-1] if stops else Fraction(0)
        stops.append(_stop(depth - left * most, reached + most, units))
    return (*stops, depth)


def _stop(least: Fraction, most: Fraction, units: Units) -> Fraction:
    """A usual depth from ``least`` to ``most``, both in mm; a finer one where there is none, and else ``most``."""
    usual = [depth for depth in _USUAL_DEPTHS[units] if least <= depth <= most]
    finer = (most // step * step for step in _FINER_STEPS[units])
    return max(usual, default=None) or next((depth for depth in finer if depth >= least), most)
