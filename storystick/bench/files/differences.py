"""Two texts line by line: what only one of them has, with a little around it of what both have."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from typing import Final

_AROUND: Final = 2
_MOST_LINES: Final = 3_000
"""Of so many lines that differ the comparison takes about a second; of more it is not made."""


@dataclass(frozen=True, slots=True)
class Line:
    """A line of ``side`` "mine", "theirs" or "both", by its ``number`` there; or with "gap" how many are left out."""

    side: str
    number: int
    text: str = ""


def compared(mine: str, theirs: str) -> list[Line]:
    """What the two have differently, mine first; empty where there is nothing, or too much to be shown."""
    left, right = mine.split("\n"), theirs.split("\n")
    head = same_at_head(left, right)
    foot = same_at_head(left[head:][::-1], right[head:][::-1])
    middle = left[head : len(left) - foot], right[head : len(right) - foot]
    if sum(map(len, middle)) > _MOST_LINES:
        return []
    return _shortened([*_both(left[:head], 1), *_differing(*middle, head), *_both(left[len(left) - foot :], 0, left)])


def same_at_head(left: Sequence[str], right: Sequence[str]) -> int:
    """How many lines at the beginning are the same."""
    pairs = enumerate(zip(left, right, strict=False))
    return next((number for number, (one, other) in pairs if one != other), min(len(left), len(right)))


def _differing(left: Sequence[str], right: Sequence[str], before: int) -> Iterator[Line]:
    for what, start, end, begin, stop in SequenceMatcher(None, left, right, autojunk=False).get_opcodes():
        if what == "equal":
            yield from _both(left[start:end], before + start + 1)
        else:
            yield from (Line("mine", before + at + 1, left[at]) for at in range(start, end))
            yield from (Line("theirs", before + at + 1, right[at]) for at in range(begin, stop))


def _both(lines: Sequence[str], first: int, whole: Sequence[str] = ()) -> Iterator[Line]:
    """Lines of both, the first by its number, or those at the end of a ``whole`` text."""
    first = len(whole) - len(lines) + 1 if whole else first
    yield from (Line("both", number, text) for number, text in enumerate(lines, start=first))


def _shortened(lines: Sequence[Line]) -> list[Line]:
    """Without what both have far from any difference."""
    near = {at + off for at, line in enumerate(lines) if line.side != "both" for off in range(-_AROUND, _AROUND + 1)}
    shown: list[Line] = []
    left_out = 0
    for at, line in enumerate(lines):
        if at not in near:
            left_out += 1
            continue
        if left_out:
            shown.append(Line("gap", left_out))
        left_out = 0
        shown.append(line)
    return [*shown, Line("gap", left_out)] if shown and left_out else shown
