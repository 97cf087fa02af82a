"""Names of many rectangles in few words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from itertools import takewhile
from typing import Final

from storystick.wording import ranges

_NUMBERED: Final = re.compile(r"(.*\D)([1-9][0-9]{0,5})(\D*)")


def gathered(names: Sequence[str]) -> str:
    """Names in order, those that differ by a number together, and words that they begin alike with said once."""
    groups: dict[tuple[str, str], list[int]] = {}
    for name in names:
        found = _NUMBERED.fullmatch(name)
        group = groups.setdefault((found[1], found[3]) if found else (name, ""), [])
        group.extend([int(found[2])] if found else [])
    said = [f"{before}{ranges(numbers)}{after}" for (before, after), numbers in groups.items()]
    shared = len(_shared_words(said))
    return "; ".join([said[0], *(name[shared:] for name in said[1:])])


def _shared_words(names: Iterable[str]) -> str:
    """The words that all of two names or more begin with, each with its space after it; never the last of a name."""
    several = [name.split(" ")[:-1] for name in dict.fromkeys(names)]
    alike = takewhile(lambda words: len(set(words)) == 1, zip(*several, strict=False))
    return "".join(f"{words[0]} " for words in alike) if len(several) > 1 else ""
