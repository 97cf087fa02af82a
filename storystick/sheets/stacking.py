"""Lanes stacked on sheets: on how few, and as near to their own order as so few sheets allow.

A stack is filled with what is worth most in its room. After each pass over all lanes, those that stood in wasteful
stacks are worth more, so that the next pass sees to them first: sequential value correction, as G. Belov,
G. Scheithauer and E. A. Mukhacheva use it ("One-dimensional heuristics adapted for two-dimensional rectangular strip
packing", Journal of the Operational Research Society 59, 2008).
"""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate, islice
from math import ceil
from typing import Final, TypeAlias

ROUNDING_MM: Final = 1e-6
"""So much more than its room something may seem to take, since floats are rounded."""

Stack: TypeAlias = tuple[float, ...]
"""The heights of the lanes on one sheet, in mm, each with the gap above it."""

_PASSES: Final = 60
_STEPS_A_STACK: Final = range(40, 300)
_STEPS_A_PASS: Final = 20_000
_AHEAD: Final = 24
"""So many lanes that do not fit are passed over for later ones that do."""


@dataclass(slots=True)
class Effort:
    """How many steps may still be taken in search of something better: counted, so that any machine finds the same."""

    steps: int


def fewest_stacks(heights: Collection[float], room: float, effort: Effort, enough: int = 0) -> list[Stack]:
    """The lanes of some ``heights`` in stacks no higher than ``room``: no more than ``enough``, or few."""
    counts = Counter(heights)
    enough = max(enough, ceil(sum(heights) / room - ROUNDING_MM))
    worth = {height: height for height in sorted(counts, reverse=True)}
    best = _one_pass(counts, worth, room, effort)
    for _ in range(_PASSES):
        if len(best) <= enough or effort.steps <= 0:
            break
        best = min(best, _one_pass(counts, worth, room, effort), key=len)
    return best


def _one_pass(counts: Mapping[float, int], worth: dict[float, float], room: float, effort: Effort) -> list[Stack]:
    """All lanes in stacks, one after another; changes what each height is worth."""
    left, stacks = dict(counts), list[Stack]()
    wanted = ceil(sum(height * number for height, number in counts.items()) / room)
    steps = min(max(_STEPS_A_PASS // max(wanted, 1), _STEPS_A_STACK.start), _STEPS_A_STACK.stop)
    while left:
        stack = _fullest(left, worth, room, steps)
        effort.steps -= steps + len(left)
        each = Counter(stack)
        times = min(left[height] // number for height, number in each.items())
        full = sum(stack)
        for height, number in each.items():
            share = number * times / (counts[height] + left[height])
            worth[height] += share * (height * room / full - worth[height])
            left[height] -= number * times
            if not left[height]:
                del left[height]
        stacks += [stack] * times
    return stacks


def _fullest(left: Mapping[float, int], worth: Mapping[float, float], room: float, steps: int) -> Stack:
    """Of what is ``left``, the stack that is worth most, as far as a short search finds it."""
    heights = sorted(left, key=lambda height: (-worth[height] / height, -height))
    lowest = [*accumulate(reversed(heights), min)][::-1]
    best: Stack = (heights[0],)
    most = 0.0
    waiting: list[tuple[int, float, float, Stack]] = [(0, room + ROUNDING_MM, 0.0, ())]
    for _ in range(steps):
        if not waiting:
            break
        place, free, value, stack = waiting.pop()
        if value > most:
            best, most = stack, value
        if place == len(heights) or lowest[place] > free:
            continue
        while heights[place] > free:
            place += 1
        # What comes later is worth no more for its height, so no more than this could still be won.
        if value + free * worth[heights[place]] / heights[place] > most + ROUNDING_MM:
            height = heights[place]
            for number in range(min(left[height], int(free / height)) + 1):
                more = (free - number * height, value + number * worth[height], stack + (height,) * number)
                waiting.append((place + 1, *more))
    return best


def in_order(heights: Sequence[float], stacks: Sequence[Stack], room: float, effort: Effort) -> Iterator[list[int]]:
    """The lanes of a job, given by their ``heights`` in its order, on as many sheets as there are ``stacks`` of them.

    Sheet by sheet the places of its lanes in that order: each has the first that no sheet has yet, and those after it
    where the rest still fits on the sheets that are left; else what one of the stacks holds.
    """
    order = _Order(heights)
    known = list(stacks)
    while known:
        following, rest = order.following(room)
        others = fewest_stacks(rest, room, effort, len(known) - 1) if effort.steps > 0 else known
        if len(others) < len(known):
            known = others
            yield order.take(following)
        else:
            stack = min((stack for stack in dict.fromkeys(known) if order.first in stack), key=order.far_on)
            known.remove(stack)
            yield order.take(order.earliest(stack))


class _Order:
    """Lanes that wait in the order of the job, by their places in it."""

    def __init__(self, heights: Sequence[float]) -> None:
        self._heights = heights
        self._waiting = dict.fromkeys(range(len(heights)))
        self._alike: dict[float, deque[int]] = {}
        for place, height in enumerate(heights):
            self._alike.setdefault(height, deque()).append(place)

    @property
    def first(self) -> float:
        """The height of the first one."""
        return self._heights[next(iter(self._waiting))]

    def following(self, room: float) -> tuple[list[int], list[float]]:
        """The first ones that a stack has room for, and the heights of all the others."""
        taken, free = [], room + ROUNDING_MM
        for place in islice(self._waiting, _AHEAD):
            if self._heights[place] <= free:
                taken.append(place)
                free -= self._heights[place]
        chosen = set(taken)
        return taken, [self._heights[place] for place in self._waiting if place not in chosen]

    def earliest(self, stack: Stack) -> list[int]:
        """The first ones that have the heights of a stack."""
        return [place for height, number in Counter(stack).items() for place in islice(self._alike[height], number)]

    def far_on(self, stack: Stack) -> float:
        """How far on in the order those are on the whole."""
        places = self.earliest(stack)
        return sum(places) / len(places)

    def take(self, places: Sequence[int]) -> list[int]:
        """Those, rising, which wait no longer."""
        for place in places:
            del self._waiting[place]
            self._alike[self._heights[place]].remove(place)
        return sorted(places)
