"""Whether what is put into a finished cabinet can be got in through its face frame. Exact, in mm."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction

from storystick.layout.cabinets.model import Bay, CabinetLayout
from storystick.lengths import Figures
from storystick.wording import by_number, listed


def passes(length: Fraction, thickness: Fraction, width: Fraction, height: Fraction) -> bool:
    """Whether a board, seen on its edge as ``length`` by ``thickness``, goes through an opening, tilted if need be.

    Two sides fit as they are, or else by Carver's inequality for a rectangle in a rectangle (American Mathematical
    Monthly 64, 1957, p. 114; from memory, proved in the tests by turning one in small steps).
    """
    long, short = max(length, thickness), min(length, thickness)
    wide, narrow = max(width, height), min(width, height)
    if short > narrow:
        return False
    if long <= wide:
        return True
    return ((wide + narrow) / (long + short)) ** 2 + ((wide - narrow) / (long - short)) ** 2 >= 2


def passing_warnings(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    """The adjustable shelves that are longer and thicker than the frame before them lets in, with what would do.

    Backs and drawers are not asked after: a back goes in from behind or at the glue-up, and a drawer is as wide as the
    frame leaves clear.
    """
    thickness = layout.cabinet.shelves.stock.thickness
    alike: dict[tuple[Fraction, Fraction, Fraction], list[Bay]] = {}
    for bay in layout.bays:
        length = bay.shelf_length
        if length is not None and length > 0 and not passes(length, thickness, bay.clear_width, bay.clear_height):
            alike.setdefault((length, bay.clear_width, bay.clear_height), []).append(bay)
    for (length, width, height), bays in alike.items():
        which = listed(by_number(bay.name for bay in bays))
        yield (
            f"the adjustable shelves of {which} cannot be tilted in through the face frame: they are {figures(length)} "
            f"long and {figures(thickness)} thick, and of that thickness {figures(width)} by {figures(height)} clear "
            f"lets in {_longest(thickness, width, height, figures)} at most; let the frame leave "
            f"{_least_width(length, thickness, height, figures)} clear, or put the shelves in before it is fastened"
        )


def _longest(thickness: Fraction, width: Fraction, height: Fraction, figures: Figures) -> str:
    """The longest board in whole steps that passes."""
    steps = _last(lambda count: passes(count * figures.step, thickness, width, height), width + height, figures.step)
    return figures.at_most(steps * figures.step)


def _least_width(length: Fraction, thickness: Fraction, height: Fraction, figures: Figures) -> str:
    """The least clear width in whole steps that lets a board pass; its own length always does."""
    stuck = _last(lambda count: not passes(length, thickness, count * figures.step, height), length, figures.step)
    return figures.at_least((stuck + 1) * figures.step)


def _last(holds: Callable[[int], bool], most: Fraction, step: Fraction) -> int:
    """The last count of steps that something holds for, which holds for none beyond ``most`` and for all below it."""
    low, high = 0, int(most // step) + 2
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if holds(middle) else (low, middle)
    return low
