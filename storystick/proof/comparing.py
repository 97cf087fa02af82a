"""A page of a file beside the page that was laid out: each tile with its largest difference."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final, TypeVar

from storystick.proof.figures import Drawn, Figure
from storystick.proof.matching import Fit, Match, Pair, match
from storystick.proof.model import PageProof, Region, Row
from storystick.proof.pages import ReadPage
from storystick.proof.words import compare_words, joined_text
from storystick.wording import counted

_LIKE: Final = 0.3
"""Less than this share of a page's words in common: another page."""

_SURE: Final = 0.9
_CROWD: Final = 100_000
"""A page with more on it is none of ours, of which the fullest has a fifth of that; to compare it takes long."""

_SLACK_MM: Final = 1.5
"""Outlines and crop ticks stand out beyond a tile by less."""


def pages_in_order(expected: Sequence[Drawn], found: Sequence[ReadPage]) -> list[int | None]:
    """For each page of the file which of those laid out it is, by its words; None for one that was added."""
    ours = [_counted_words(page) for page in expected]
    guesses = [_best(ours, _counted_words(page.drawn), index) for index, page in enumerate(found)]
    claimed: set[int] = set()
    result: list[int | None] = []
    for index, guess in enumerate(guesses):
        unknown = guess is None and index < len(ours) and index not in guesses
        place = index if unknown else guess
        result.append(place if place not in claimed else None)
        claimed |= {place} if place is not None else set()
    return result


def _counted_words(page: Drawn) -> Counter[str]:
    return Counter(words.text for words in page.words)


def _best(ours: Sequence[Counter[str]], theirs: Counter[str], index: int) -> int | None:
    """The page that is most alike, that at the same place first."""
    if index < len(ours) and _alike(ours[index], theirs) > _SURE:
        return index
    places = sorted(range(len(ours)), key=lambda place: (-_alike(ours[place], theirs), abs(place - index)))
    return places[0] if places and _alike(ours[places[0]], theirs) > _LIKE else None


def _alike(one: Counter[str], other: Counter[str]) -> float:
    return (one & other).total() / max(1, one.total(), other.total())


def compare_page(
    expected: Drawn, found: ReadPage, number: int, sheet: str, regions: Sequence[Region], digest: str
) -> PageProof:
    """The proof of one page; ``number`` is its place in the file from 1, ``sheet`` its label as laid out."""
    if (crowd := _things_on(found.drawn)) > max(_CROWD, _things_on(expected)):
        size = (expected.width_mm, expected.height_mm)
        return PageProof(number, sheet, size, Fit(), (), (), True, (), turned=False, crowd=crowd)
    turned, drawn, pairs = _turn(expected, found)
    pairs = replace(pairs, added=(*pairs.added, *(blot.area for blot in drawn.blots)))
    wrong, words = compare_words(expected.words, drawn.words, pairs.fit)
    added = _Added(
        tuple(map(pairs.fit.undo, pairs.added)),
        tuple(pairs.fit.undo_box(each.bounds).area for each in words),
        tuple(pairs.fit.undo_box(note).area for note in drawn.notes),
    )
    return PageProof(
        number,
        sheet,
        (expected.width_mm, expected.height_mm),
        pairs.fit,
        tuple(_rows(pairs, added, regions, number, sheet)),
        tuple(wrong),
        joined_text(drawn.words).count(digest) >= joined_text(expected.words).count(digest),
        tuple(_extra(added, regions)),
        turned,
    )


def _things_on(page: Drawn) -> int:
    return len(page.figures) + len(page.blots) + len(page.words) + len(page.notes)


def _turn(expected: Drawn, found: ReadPage) -> tuple[bool, Drawn, Match]:
    """Whether the page is turned from how it was laid out, and then the page turned back."""
    as_seen = match(expected.figures, found.drawn.figures)
    if not found.turn or (not as_seen.missing and not as_seen.added):
        return False, found.drawn, as_seen
    turned_back = match(expected.figures, found.unturned.figures)
    if len(turned_back.pairs) < len(as_seen.pairs):
        return True, found.drawn, as_seen
    return True, found.unturned, turned_back


@dataclass(frozen=True, slots=True)
class _Added:
    """What was added to a page, where it would lie if the page had been left as it was laid out."""

    ink: tuple[Figure, ...]
    words: tuple[Figure, ...]
    notes: tuple[Figure, ...]

    def mistakable(self, region: Region | None, regions: Sequence[Region]) -> list[Figure]:
        """What may be taken for a mark: all that is on a tile, and any ink on a page without tiles."""
        if region:
            return [figure for figure in (*self.ink, *self.words, *self.notes) if _is_on(figure, region)]
        return [] if regions else list(self.ink)


def _is_on(figure: Figure, region: Region) -> bool:
    return region.bounds.touches(figure.bounds)


def _rows(pairs: Match, everything_added: _Added, regions: Sequence[Region], number: int, sheet: str) -> Iterator[Row]:
    """A row a tile, and one for the page beside its tiles; what was added off the tiles is told elsewhere."""
    here_by_region = _by_region(pairs.pairs, [pair.expected for pair in pairs.pairs], regions)
    missing_by_region = _by_region(pairs.missing, pairs.missing, regions)
    for region in (*regions, None):
        here, missing = here_by_region[id(region)], missing_by_region[id(region)]
        added = everything_added.mistakable(region, regions)
        if region or here or missing or added:
            yield _row(here, missing, added, region, number, sheet)


def _row(
    here: Sequence[Pair],
    missing: Sequence[Figure],
    added: Sequence[Figure],
    region: Region | None,
    number: int,
    sheet: str,
) -> Row:
    worst = max(here, key=lambda pair: pair.off_mm, default=None)
    told = missing[0] if missing else added[0] if added else worst.expected if worst else None
    return Row(
        number,
        sheet,
        region,
        worst.off_mm if worst else None,
        max((pair.off_after_fit_mm for pair in here), default=None),
        region.what(told) if region and told else "",
        len(missing),
        len(added),
    )


T = TypeVar("T")


def _by_region(things: Iterable[T], figures: Iterable[Figure], regions: Sequence[Region]) -> defaultdict[int, list[T]]:
    """Things by the tile that their figures lie on."""
    found: defaultdict[int, list[T]] = defaultdict(list)
    for thing, figure in zip(things, figures, strict=True):
        found[id(_region_of(figure, regions))].append(thing)
    return found


def _region_of(figure: Figure, regions: Sequence[Region]) -> Region | None:
    bounds = figure.bounds
    return next((region for region in regions if region.bounds.holds(bounds, _SLACK_MM)), None)


def _extra(added: _Added, regions: Sequence[Region]) -> Iterator[str]:
    """What another program added beside the tiles, in words."""
    for figures, word in (
        (added.notes, "note or stamp"),
        (added.words, "line of words"),
        (added.ink if regions else (), "line, area or picture beside the tiles"),
    ):
        number = sum(not any(_is_on(figure, region) for region in regions) for figure in figures)
        if number:
            yield counted(number, word) if number == 1 else f"{number} × {word}"
