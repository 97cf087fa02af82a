"""The words of a page beside those that were laid out: figures are read from them, so they must be the job's."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from math import dist, hypot
from typing import Final

from storystick.errors import as_written
from storystick.proof.figures import Words
from storystick.proof.fonts import UNREAD
from storystick.proof.matching import Fit

_NEAR_MM: Final = 0.5
"""Words are read, not struck from: within this they lie where they were put."""

_SIZE_SHARE: Final = 0.05
"""Letters may be larger or smaller by this share: some programs round the size of a font."""

_BESIDE_MM: Final = 5.0
_MOST_TOLD: Final = 3


def compare_words(expected: Sequence[Words], found: Sequence[Words], fit: Fit) -> tuple[list[str], list[Words]]:
    """What is wrong with the words of a page, and the words that were added by others."""
    lacking, others = _unpaired(_placed(expected, fit), found)
    if not lacking or _only_divided(lacking, others):
        return [], others if not lacking else []
    told = [_tell(words, others) for words in lacking[:_MOST_TOLD]]
    more = len(lacking) - len(told)
    return [*told, *([f"and {more} more"] if more else [])], []


def _placed(words: Iterable[Words], fit: Fit) -> list[Words]:
    return [
        Words(
            each.text,
            (each.start[0] * fit.scale_x + fit.shift_x, each.start[1] * fit.scale_y + fit.shift_y),
            (each.rise[0] * fit.scale_x, each.rise[1] * fit.scale_y),
            (each.run[0] * fit.scale_x, each.run[1] * fit.scale_y),
        )
        for each in words
    ]


def _unpaired(expected: Iterable[Words], found: Sequence[Words]) -> tuple[list[Words], list[Words]]:
    """What has no partner of the same words and size at the same place, in the order of drawing."""
    by_text: dict[str, list[Words]] = {}
    for words in found:
        by_text.setdefault(plain(words.text), []).append(words)
    lacking, paired = [], set()
    for words in expected:
        same = by_text.get(plain(words.text), [])
        nearest = min(same, key=lambda other: dist(other.start, words.start), default=None)
        if nearest and dist(nearest.start, words.start) <= _NEAR_MM and _letters_alike(nearest, words):
            same.remove(nearest)
            paired.add(id(nearest))
        else:
            lacking.append(words)
    return lacking, [words for words in found if id(words) not in paired]


def _letters_alike(one: Words, other: Words) -> bool:
    return all(
        dist(way, other_way) <= _SIZE_SHARE * hypot(*other_way)
        for way, other_way in ((one.rise, other.rise), (one.run, other.run))
    )


def _only_divided(lacking: Sequence[Words], others: Sequence[Words]) -> bool:
    """Whether another program has merely cut the same words into other pieces, or taken away what tells its letters.

    Letters that nothing tells can then not be compared; they are never those of a figure.
    """
    joined = joined_text(others)
    read = _known if UNREAD in joined else plain
    ours, theirs = (Counter(read(words.text) for words in each) for each in (lacking, others))
    if UNREAD not in joined and ours == theirs:
        return False
    letters = [Counter("".join(texts.elements())) for texts in (ours, theirs)]
    return letters[0] == letters[1] and all(text in read(joined) for text in ours)


def _known(text: str) -> str:
    return "".join(letter for letter in plain(text) if letter.isascii())


def _tell(words: Words, others: Sequence[Words]) -> str:
    same = [other for other in others if plain(other.text) == plain(words.text)]
    if same:
        closest = min(same, key=lambda other: dist(other.start, words.start))
        away = dist(closest.start, words.start)
        if away <= _NEAR_MM:
            return f"{as_written(words.text)} is lettered {_tell_letters(closest, words)} as laid out"
        return f"{as_written(words.text)} stands {away:.1f} mm from its place"
    nearest = min(others, key=lambda other: dist(other.start, words.start), default=None)
    if nearest and dist(nearest.start, words.start) <= _BESIDE_MM:
        return f"{as_written(nearest.text)} stands where {as_written(words.text)} belongs"
    return f"{as_written(words.text)} is missing"


def _tell_letters(found: Words, expected: Words) -> str:
    size, wanted = hypot(*found.rise), hypot(*expected.rise)
    if abs(size - wanted) > _SIZE_SHARE * wanted:
        return f"{size:.1f} mm high, not {wanted:.1f} mm"
    stretch = hypot(*found.run) / (hypot(*expected.run) or 1)
    if abs(stretch - 1) > _SIZE_SHARE:
        return f"{stretch:.2g} times as wide"
    return f"{size:.1f} mm high but turned, not {wanted:.1f} mm"


def plain(text: str) -> str:
    """A text without its spaces, which some programs make of gaps."""
    return "".join(text.split())


def joined_text(words: Iterable[Words]) -> str:
    """All words in the order of drawing, without spaces."""
    return "".join(plain(each.text) for each in words)
