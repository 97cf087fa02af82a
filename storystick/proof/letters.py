"""The letters of a page beside those of the page that was laid out, paired by place and sign."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import dist, floor
from typing import Final, TypeAlias

from storystick.proof.figures import Point, Word

LETTER_MM: Final = 0.3
"""A letter that stands within this is in its place: Ghostscript moved those of long lines by up to 0.21 mm."""

EXACT_MM: Final = 0.05
"""Letters within this were not set anew; those of every other program that was tried were within 0.001 mm."""

_TOLD: Final = frozenset(map(chr, range(0x21, 0x7F)))
"""Signs that every program keeps what tells them of."""


@dataclass(frozen=True, slots=True)
class Letters:
    """Words of ours of which a letter is not in its place, and words of the file with a letter that is not ours."""

    lost: tuple[Word, ...]
    added: tuple[Word, ...]


def pair_letters(ours: Sequence[Word], theirs: Sequence[Word]) -> Letters:
    """Letters are paired by their places, and by their signs where these are told; how they look, the pictures tell.

    Ghostscript takes away what tells letters beyond ASCII: those of the file that nothing tells may be spaces.
    """
    lost, added = without_partner(ours, theirs), without_partner(theirs, ours)
    return Letters(tuple(lost), tuple(word for word in added if word.text.isprintable()))


_Placed: TypeAlias = tuple[Point, str]
"""A letter by its start and its sign."""


def without_partner(words: Sequence[Word], others: Sequence[Word], within: float = LETTER_MM) -> Iterator[Word]:
    """Words with a letter that has none ``within`` so many mm among the others that no other letter of theirs took."""
    cells: defaultdict[tuple[int, int], list[_Placed]] = defaultdict(list)
    for other in others:
        for letter in zip(other.starts, other.text, strict=True):
            cells[_cell(letter[0], within)].append(letter)
    for word in words:
        lacking = [letter for letter in zip(word.starts, word.text, strict=True) if not _take(letter, cells, within)]
        if lacking:
            yield word


def _take(letter: _Placed, cells: dict[tuple[int, int], list[_Placed]], within: float) -> bool:
    start, sign = letter
    column, row = _cell(start, within)
    if letter in cells.get((column, row), ()):
        cells[column, row].remove(letter)
        return True
    near = [
        (dist(start, place), key, (place, other))
        for key in ((column + right, row + up) for right in (-1, 0, 1) for up in (-1, 0, 1))
        for place, other in cells.get(key, ())
        if other == sign or not (other in _TOLD and sign in _TOLD)
    ]
    off, key, partner = min(near, default=(within + 1, (0, 0), letter))
    if off > within:
        return False
    cells[key].remove(partner)
    return True


def _cell(point: Point, size: float) -> tuple[int, int]:
    return floor(point[0] / size), floor(point[1] / size)
