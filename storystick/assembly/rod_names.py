"""Names of many rectangles in few words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from itertools import pairwise, takewhile
from typing import Final

_NUMBERED: Final = re.compile(r"(.*\D)([1-9][0-9]{0,5})(\D*)")


def gathered(names: Sequence[str]) -> str:
    """Names in order, those that differ by a number together, and words that they begin alike with said once."""
    groups: dict[tuple[str, str], list[int]] = {}
    for name in names:
        found = _NUMBERED.fullmatch(name)
        group = groups.setdefault((found[1], found[3]) if found else (name, ""), [])
        group.extend([int(found[2])] if found else [])
    said = [f"{before}{_numbers(numbers)}{after}" for (before, after), numbers in groups.items()]
    shared = len(_shared_words(said))
    return "; ".join([said[0], *(name[shared:] for name in said[1:])])


def _shared_words(names: Iterable[str]) -> str:
    """The words that all of two names or more begin with, each with its space after it; never the last of a name."""
    several = [name.split(" ")[:-1] for name in dict.fromkeys(names)]
    alike = takewhile(lambda words: len(set(words)) == 1, zip(*several, strict=False))
    return "".join(f"{words[0]} " for words in alike) if len(several) > 1 else ""


def _numbers(numbers: Sequence[int]) -> str:
    """1–4, 6 for 1, 2, 3, 4 and 6; nothing for none."""
    rising = sorted(set(numbers))
    breaks = [place for place, (low, high) in enumerate(pairwise(rising), 1) if high != low + 1]
    runs = [rising[start:end] for start, end in pairwise([0, *breaks, len(rising)])]
    return ", ".join(str(run[0]) if len(run) == 1 else f"{run[0]}–{run[-1]}" for run in runs if run)
