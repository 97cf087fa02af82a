"""Solving a stick's openings: shares, graduated groups, and whether it all makes the length. Exact throughout.

One graduated group at most fills what is left. Two, or one beside a share, could be divided in many ways, and a
silent choice would be a guess.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.errors import Fault
from storystick.job.openings import Fixed, Graduated, Item, Opening, Part, Share, StepRule
from storystick.job.sticks import Stick
from storystick.lengths import LONGEST, Figures

_FINEST_BITS: Final = 512
"""What fits a written exact length, as :mod:`storystick.lengths` reads it back."""


@dataclass(frozen=True, slots=True)
class Solved:
    """One part (``part`` given) or opening (None) of a solved stick, with its size in mm and the name it was given."""

    size: Fraction
    name: str | None
    part: Part | None = None


def solve(stick: Stick, figures: Figures) -> tuple[Solved, ...]:
    """The stick's parts and openings in order from the datum, every size known.

    Raises:
        Fault: they do not come to the stick's length, or something has no room; ``figures`` says the lengths.
    """
    return solve_items(stick.items, stick.length, figures)


def solve_items(items: Sequence[Item], length: Fraction | None, figures: Figures) -> tuple[Solved, ...]:
    """The same for what stands in a line of ``length`` mm, or of whatever it comes to where that is None."""
    fillers = [item for item in items if fills(item)]
    fixed = sum((_fixed_size(item) for item in items), Fraction(0))
    left = _room_left(length, fixed, bool(fillers), figures)
    _check_one_group_fills(fillers)
    shares = sum((_share(item) for item in fillers), Fraction(0))
    solved = tuple(row for item in items for row in _solve_item(item, left, shares, figures))
    _check_total(sum((row.size for row in solved), Fraction(0)))
    return solved


def _check_total(total: Fraction) -> None:
    if total > LONGEST:
        raise Fault("parts and openings come to more than 100 m", "look at the units")
    if total.denominator.bit_length() > _FINEST_BITS:
        raise Fault("the sizes are fractions too fine to be written", "write them in 64ths or in tenths of a mm")


def fills(item: Item) -> bool:
    """Whether the item takes its size from what is left of the length."""
    match item:
        case Opening(size=Share()) | Graduated(first=None):
            return True
    return False


def _fixed_size(item: Item) -> Fraction:
    """What the item takes of the length before anything is shared out."""
    match item:
        case Part(stock=stock):
            return stock.thickness
        case Opening(size=Fixed(size=size)):
            return size
        case Graduated(first=first):
            between = item.between.stock.thickness * (item.count - 1) if item.between else Fraction(0)
            return between + (sum(_descend(item, first)) if first is not None else 0)
    return Fraction(0)


def _room_left(length: Fraction | None, fixed: Fraction, wanted: bool, figures: Figures) -> Fraction:
    """What the length leaves to be shared out, in mm."""
    if length is None:
        if wanted:
            raise Fault("an opening takes what is left, but the stick has no length", "give length = …")
        return Fraction(0)
    left = length - fixed
    total, overall = figures(fixed), figures(length)
    if wanted and left <= 0:
        raise Fault(
            f"no room is left for the openings that share it: the rest comes to {total} of length {overall}",
            "make the length more or the other sizes less",
        )
    if not wanted and left != 0:
        gap = f"{figures.apart(abs(left))} {'less' if left > 0 else 'more'}"
        raise Fault(
            f"parts and openings come to {total}, {gap} than length {overall}",
            'change a size, or let one opening be "equal"',
        )
    return left


def _check_one_group_fills(fillers: list[Item]) -> None:
    if len(fillers) > 1 and any(isinstance(item, Graduated) for item in fillers):
        raise Fault(
            "a graduated group without first takes all that is left, but something else shares it",
            "give the group its first opening",
        )


def _share(item: Item) -> Fraction:
    match item:
        case Opening(size=Share(share=share)):
            return share
    return Fraction(0)


def _solve_item(item: Item, left: Fraction, shares: Fraction, figures: Figures) -> Iterator[Solved]:
    match item:
        case Part(stock=stock, name=name):
            yield Solved(stock.thickness, name, item)
        case Opening(size=Fixed(size=size), name=name):
            yield Solved(size, name)
        case Opening(size=Share(share=share), name=name):
            yield Solved(left * share / shares, name)
        case Graduated():
            yield from _solve_group(item, left, figures)


def _solve_group(group: Graduated, left: Fraction, figures: Figures) -> Iterator[Solved]:
    sizes = _descend(group, _first_that_fills(group, left) if group.first is None else group.first)
    if sizes[-1] <= 0:
        raise Fault(
            f"the last of {group.count} graduated openings comes to {figures(sizes[-1])}",
            "make step less, or first or the length more",
        )
    for number, size in enumerate(sizes, start=1):
        if number > 1 and group.between:
            yield Solved(group.between.stock.thickness, group.between.name, group.between)
        yield Solved(size, f"{group.name} {number}" if group.name else None)


def _first_that_fills(group: Graduated, left: Fraction) -> Fraction:
    """The first opening of a group whose openings come to ``left`` in all.

    From the sums of an arithmetic and of a geometric series; the geometric one is summed term by term.
    """
    if isinstance(group.rule, StepRule):
        return left / group.count + group.rule.step * (group.count - 1) / 2
    return left / sum(1 / group.rule.ratio**place for place in range(group.count))


def _descend(group: Graduated, first: Fraction) -> list[Fraction]:
    """The group's openings from the largest, which is ``first``."""
    if isinstance(group.rule, StepRule):
        return [first - group.rule.step * place for place in range(group.count)]
    return [first / group.rule.ratio**place for place in range(group.count)]
