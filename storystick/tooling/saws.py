"""Which of a shop's saws does what, and why."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from storystick.job.shop import Purpose, Saw, Shop


class Choice(NamedTuple):
    """A saw, and the reason in a few words."""

    saw: Saw
    why: str


def choose_saw(shop: Shop, purpose: Purpose, widest: Fraction | None = None) -> Choice | None:
    """The saw for a kind of work, its kerf not over ``widest`` (mm); None where the shop has none.

    Saws that are named for the work come first, then those that are named for nothing; others do not serve. Of equals,
    grooves are cut with the widest that fits, all else with the first of the shop file.
    """
    named = [saw for saw in shop.saws if purpose in saw.purposes]
    for able in (named, [saw for saw in shop.saws if not saw.purposes]):
        fitting = [saw for saw in able if widest is None or saw.kerf <= widest]
        if fitting:
            saw = fitting[0] if widest is None else max(fitting, key=_kerf)
            return Choice(saw, _why(shop.saws, able, by_width=widest is not None, by_name=able is named))
    return None


def _why(saws: Sequence[Saw], able: Sequence[Saw], by_width: bool, by_name: bool) -> str:
    if len(saws) == 1:
        return "the only saw in the shop file"
    if by_name and len(able) == 1:
        return "as the shop file says"
    which = "the widest that is not wider than the groove" if by_width else "the first in the shop file"
    return f"{which} of those named for it" if by_name else which


def _kerf(saw: Saw) -> Fraction:
    return saw.kerf
