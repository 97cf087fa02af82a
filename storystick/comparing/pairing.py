"""Which thing of a job is which of another: by what it is called first, then by where it is."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Pair(Generic[T]):
    """A thing before and after; one of them is missing where it came or went."""

    was: T | None
    now: T | None

    @property
    def one(self) -> T:
        """As it is now, or as it was before it went."""
        one = self.now or self.was
        assert one
        return one

    @property
    def word(self) -> str:
        """What happened to it."""
        if self.was is None:
            return "came"
        return "went" if self.now is None else self._changed(self.was, self.now)

    def _changed(self, _was: T, _now: T) -> str:
        return "changed"


def paired(old: Sequence[T], new: Sequence[T], *alike: Callable[[T], Hashable]) -> list[tuple[T | None, T | None]]:
    """Each thing before and after, in the order of ``new``; what went stands behind what it followed.

    Things are the same where the first of ``alike`` says the same of them, then, of those left over, the next; several
    of which it says the same go together in their order.
    """
    partner: dict[int, int] = {}
    for say in alike:
        waiting: dict[Hashable, list[int]] = {}
        for place, thing in enumerate(old):
            if place not in partner.values():
                waiting.setdefault(say(thing), []).append(place)
        for place, thing in enumerate(new):
            if place not in partner and waiting.get(say(thing)):
                partner[place] = waiting[say(thing)].pop(0)
    pairs: list[tuple[T | None, T | None]] = [
        (old[partner[place]] if place in partner else None, thing) for place, thing in enumerate(new)
    ]
    at = {partner[place]: place for place in partner}
    gone = [place for place in range(len(old)) if place not in at]
    for place in reversed(gone):
        before = [at[other] for other in range(place) if other in at]
        pairs.insert(before[-1] + 1 if before else 0, (old[place], None))
    return pairs


def renamed(
    old: Sequence[T], new: Sequence[T], name: Callable[[T], str], *like: Callable[[T], Hashable]
) -> dict[str, str]:
    """The former names of what is only called otherwise: the first of ``like`` says the same of it, or the next."""
    before, after = set(map(name, old)), set(map(name, new))
    left = [thing for thing in old if name(thing) not in after]
    came = [thing for thing in new if name(thing) not in before]
    return {name(now): name(was) for was, now in paired(left, came, *like) if was and now}
