"""A page of a file beside the page that was laid out: marks, letters and pictures, each difference with its place."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from math import dist, floor
from typing import Final, TypeVar

from storystick.drawing.shapes import Box, Text, moved
from storystick.errors import as_written
from storystick.proof.figures import Bounds, Mark, PageContent, Word
from storystick.proof.letters import EXACT_MM, LETTER_MM, Letters, pair_letters, without_partner
from storystick.proof.matching import TOLERANCE_MM, Fit, Match, Pair, match
from storystick.proof.model import PageProof, Region, Row
from storystick.sheets.document import Page
from storystick.sheets.frame import CHECK_WORD
from storystick.wording import counted

BOX_TOLERANCE_MM: Final = 0.05
"""The box of a page may be off by this: some programs round it to a tenth of a point, and it moves no mark."""

_SLACK_MM: Final = 1.5
"""Outlines and crop ticks stand out beyond a tile by less."""

_BESIDE_MM: Final = 2.0
"""What was added nearer to ink of ours may be read with it, as a figure more before a number."""

_BAR_MM: Final = 5.0
_MOST_TOLD: Final = 3
_MOST_PLACES: Final = 300

_LIKE: Final = 0.3
"""Less than this share of a page's words in common: another page."""

_SURE: Final = 0.9


def pages_in_order(expected: Sequence[PageContent], found: Sequence[PageContent]) -> list[int | None]:
    """For each page of the file which of those laid out it is, by its words; None for one that was added."""
    ours, theirs = ([Counter(word.text for word in page.words) for page in pages] for pages in (expected, found))
    guesses = [_best(ours, words, index) for index, words in enumerate(theirs)]
    claimed: set[int] = set()
    result: list[int | None] = []
    for index, guess in enumerate(guesses):
        unknown = guess is None and index < len(ours) and index not in guesses
        place = index if unknown else guess
        result.append(place if place not in claimed else None)
        claimed |= {place} if place is not None else set()
    return result


def _best(ours: Sequence[Counter[str]], theirs: Counter[str], index: int) -> int | None:
    """The page that is most alike, that at the same place first."""
    if index < len(ours) and _alike(ours[index], theirs) > _SURE:
        return index
    places = sorted(range(len(ours)), key=lambda place: (-_alike(ours[place], theirs), abs(place - index)))
    return places[0] if places and _alike(ours[places[0]], theirs) > _LIKE else None


def _alike(one: Counter[str], other: Counter[str]) -> float:
    return (one & other).total() / max(1, one.total(), other.total())


def check_bars(page: Page) -> list[Bounds]:
    """The room of each check bar of a page that is laid out: of the box whose middle its words stand at."""
    shapes = moved(page.shapes, -page.left_mm, -page.bottom_mm)
    said = [shape for shape in shapes if isinstance(shape, Text) and shape.text.startswith(CHECK_WORD)]
    boxes = (shape for shape in shapes if isinstance(shape, Box))
    return [
        Bounds(box.x, box.y, box.x + box.width, box.y + box.height).grown(_BAR_MM)
        for box in boxes
        for words in said
        if _belongs(box, words)
    ]


def _belongs(box: Box, words: Text) -> bool:
    aside, above = words.x - box.x - box.width / 2, words.y - box.y - box.height / 2
    along, across = (above, aside) if words.upward else (aside, above)
    return abs(along) < TOLERANCE_MM and abs(across) < _BAR_MM


@dataclass(frozen=True, slots=True)
class Laid:
    """A page as it was laid out: its content, its label, and where its tiles and check bars are.

    ``ink`` is every square of the page that is near ink.
    """

    content: PageContent
    sheet: str
    regions: Sequence[Region]
    bars: Sequence[Bounds]
    ink: frozenset[tuple[int, int]]

    def region_of(self, place: Bounds) -> Region | None:
        """The tile that a thing of ours is on."""
        return next((region for region in self.regions if region.bounds.grown(_SLACK_MM).holds(place)), None)

    def regions_at(self, place: Bounds) -> list[Region | None]:
        """The tiles that a foreign thing misleads on; None for the page beside them."""
        on = [region for region in self.regions if region.bounds.touches(place)]
        if on:
            return [*on]
        beside = not self.regions or any(bar.touches(place) for bar in self.bars)
        return [None] if beside or not self.ink.isdisjoint(_squares(place, self.content)) else []

    def what(self, place: Bounds, region: Region | None) -> str:
        """What is at a place, in words."""
        if region:
            return region.what(place)
        if any(bar.touches(place) for bar in self.bars):
            return "check bar"
        word = _nearest(place, self.content.words)
        return f"at {as_written(word.text)}" if word else ""


def laid_page(content: PageContent, page: Page, regions: Sequence[Region]) -> Laid:
    """A page with what is known of it before any file is looked at; ``content`` is what PDFium says of it."""
    things: tuple[Mark | Word, ...] = (*content.marks, *content.words)
    ink = (square for thing in things for square in _squares(thing.bounds, content))
    return Laid(content, page.label, regions, check_bars(page), frozenset(ink))


def _squares(place: Bounds, page: PageContent) -> Iterator[tuple[int, int]]:
    """The squares that a place is on or near, as far as they are on the page."""
    left, bottom, right, top = place.grown(_BESIDE_MM / 2)
    columns = range(floor(max(left, 0) / _BESIDE_MM), floor(min(right, page.width_mm) / _BESIDE_MM) + 1)
    rows = range(floor(max(bottom, 0) / _BESIDE_MM), floor(min(top, page.height_mm) / _BESIDE_MM) + 1)
    return product(columns, rows)


def _nearest(place: Bounds, words: Iterable[Word]) -> Word | None:
    return min(words, key=lambda word: _apart(place, word.bounds), default=None)


def _apart(one: Bounds, other: Bounds) -> float:
    """From the middle of one place to the nearest of another."""
    x, y = (one.left + one.right) / 2, (one.bottom + one.top) / 2
    return dist((x, y), (min(max(x, other.left), other.right), min(max(y, other.bottom), other.top)))


def compare_page(
    laid: Laid,
    found: PageContent,
    unturned: PageContent | None,
    number: int,
    differing: Callable[[bool], Sequence[Bounds]],
) -> PageProof:
    """The proof of a page; ``number`` is its place in the file from 1.

    ``unturned`` is the page without its turn, if it has one; ``differing`` gives the places where the two pictures
    differ, is asked only where the page is whole, and is told whether its letters were not set anew.
    """
    turned, content, pairs = _turn(laid.content, found, unturned)
    proof = PageProof(
        number,
        laid.sheet,
        (laid.content.width_mm, laid.content.height_mm),
        (content.width_mm, content.height_mm),
        (),
        pairs.fit,
        turned=turned,
    )
    whole = not (proof.scaled or proof.shifted or turned) and has_size(proof)
    letters = pair_letters(laid.content.words, content.words) if whole else Letters((), ())
    foreign = _foreign(content, pairs, letters)
    told = _told(pairs, letters, foreign)
    places: Sequence[Bounds] = ()
    if whole:
        set_anew = any(without_partner(laid.content.words, content.words, EXACT_MM))
        places = differing(not set_anew)[:_MOST_PLACES]
    unlike = tuple(place for place in places if not any(other.touches(place) for other in told))
    seen = _Seen(laid, content, pairs, letters, foreign, unlike)
    rows, words = tuple(seen.rows(number)), tuple(seen.words())
    return PageProof(
        number, laid.sheet, proof.size_mm, proof.found_mm, rows, pairs.fit, words, tuple(seen.extra()), turned
    )


def has_size(proof: PageProof) -> bool:
    """Whether a page is as large as it was laid out."""
    pairs = zip(proof.size_mm, proof.found_mm, strict=True)
    return all(abs(one - other) <= BOX_TOLERANCE_MM for one, other in pairs)


def _turn(expected: PageContent, found: PageContent, unturned: PageContent | None) -> tuple[bool, PageContent, Match]:
    """Whether the page is turned from how it was laid out, and then the page turned back."""
    as_seen = match(expected.marks, found.marks)
    if unturned is None or _in_place(as_seen) == len(expected.marks):
        return False, found, as_seen
    turned_back = match(expected.marks, unturned.marks)
    if _in_place(turned_back) < _in_place(as_seen):
        return True, found, as_seen
    return True, unturned, turned_back


def _in_place(pairs: Match) -> int:
    return sum(pair.off_mm <= TOLERANCE_MM for pair in pairs.pairs)


@dataclass(frozen=True, slots=True)
class _Seen:
    """Everything that was seen on a page, to be told tile by tile.

    ``foreign`` is what another program added, by what it is, where it would lie if the page had been left as it was
    laid out; ``unlike`` where the pictures differ though all marks and letters are there and nothing was added.
    """

    laid: Laid
    content: PageContent
    pairs: Match
    letters: Letters
    foreign: Mapping[str, Sequence[Bounds]]
    unlike: Sequence[Bounds]

    @property
    def added(self) -> list[Bounds]:
        return [place for places in self.foreign.values() for place in places]

    def rows(self, number: int) -> Iterator[Row]:
        """A row a tile, and one for the page beside its tiles."""
        here = _by_region((self._home(pair.expected), pair) for pair in self.pairs.pairs)
        missing = _by_region((self._home(mark), mark.bounds) for mark in self.pairs.missing)
        added, unlike = (
            _by_region((region, place) for place in places for region in self.laid.regions_at(place))
            for places in (self.added, [place for place in self.unlike if not self._word_at(place)])
        )
        for region in (*self.laid.regions, None):
            parts = [found[id(region)] for found in (missing, added, unlike)]
            if region or here[id(None)] or any(parts):
                yield self._row(number, region, here[id(region)], parts)

    def _home(self, mark: Mark) -> Region | None:
        return self.laid.region_of(mark.bounds)

    def _row(self, number: int, region: Region | None, here: Sequence[Pair], parts: Sequence[Sequence[Bounds]]) -> Row:
        worst = max(here, key=lambda pair: pair.off_mm, default=None)
        places = [place for part in parts for place in part] + ([worst.expected.bounds] if worst else [])
        return Row(
            number,
            self.laid.sheet,
            region,
            worst.off_mm if worst else None,
            max((pair.off_after_fit_mm for pair in here), default=None),
            self.laid.what(places[0], region) if places else "",
            *map(len, parts),
        )

    def _word_at(self, place: Bounds) -> Word | None:
        word = _nearest(place, self.laid.content.words)
        return word if word and word.bounds.touches(place) else None

    def words(self) -> Iterator[str]:
        """What is wrong with the words, the first few of them."""
        told = list(dict.fromkeys(filter(None, self._all_words())))
        yield from told[:_MOST_TOLD]
        if len(told) > _MOST_TOLD:
            yield f"and {len(told) - _MOST_TOLD} more"

    def _all_words(self) -> Iterator[str]:
        for word in self.letters.lost:
            there = [other for other in self.letters.added if other.bounds.touches(word.bounds)]
            yield _instead(word, min(there, key=lambda other: _away(other, word), default=None))
        for place in self.unlike:
            at = self._word_at(place)
            if at:
                yield _instead(at, next((other for other in self.content.words if _away(other, at) <= LETTER_MM), at))

    def extra(self) -> Iterator[str]:
        """What another program added where it misleads nobody, in words."""
        for what, places in self.foreign.items():
            number = sum(not self.laid.regions_at(place) for place in places)
            if number:
                yield counted(number, what) if number == 1 else f"{number} × {what}"


def _foreign(content: PageContent, pairs: Match, letters: Letters) -> dict[str, list[Bounds]]:
    """What another program added to a page; words in the place of a word of ours are told as that word."""
    lost = [word.bounds for word in letters.lost]
    words = [word.bounds for word in letters.added if not any(word.bounds.touches(one) for one in lost)]
    others = (place for place in content.others if not any(place.touches(one) for one in lost))
    drawn = [*(mark.bounds for mark in pairs.added), *others]
    named = {"note or stamp": content.notes, "word": words, "line, area or picture": drawn}
    return {what: [_undone(pairs.fit, place) for place in places] for what, places in named.items()}


def _undone(fit: Fit, place: Bounds) -> Bounds:
    """Where a place would be if the page had been left as it was laid out."""
    xs = sorted((x - fit.shift_x) / fit.scale_x for x in (place.left, place.right))
    ys = sorted((y - fit.shift_y) / fit.scale_y for y in (place.bottom, place.top))
    return Bounds(xs[0], ys[0], xs[1], ys[1])


def _told(pairs: Match, letters: Letters, foreign: Mapping[str, Sequence[Bounds]]) -> list[Bounds]:
    """Where marks and letters tell already what differs."""
    off = [pair.expected.bounds for pair in pairs.pairs if pair.off_after_fit_mm > TOLERANCE_MM]
    lost = [*(mark.bounds for mark in pairs.missing), *(word.bounds for word in letters.lost)]
    return [*off, *lost, *(place for places in foreign.values() for place in places)]


T = TypeVar("T")


def _by_region(things: Iterable[tuple[Region | None, T]]) -> defaultdict[int, list[T]]:
    found: defaultdict[int, list[T]] = defaultdict(list)
    for region, thing in things:
        found[id(region)].append(thing)
    return found


def _away(one: Word, other: Word) -> float:
    return dist(one.starts[0], other.starts[0])


def _instead(word: Word, other: Word | None) -> str:
    """What is in the place of a word of ours."""
    if other is None:
        return f"{as_written(word.text)} is missing"
    if other.text != word.text:
        return f"{as_written(other.text)} stands where {as_written(word.text)} belongs"
    return f"{as_written(word.text)} looks otherwise"
