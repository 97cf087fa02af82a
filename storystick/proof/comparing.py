"""A printed file beside the one that its job gives: the same bytes, or page by page what lies where.

Marks and letters are compared by their places, then the pages as pictures; each difference is told with its place.

No interpreter of our own reads a page: it would always miss some trick. PDFium says where marks are, to a thousandth
of a mm, but not what hides them; its pictures show what is hidden, but only to 0.13 mm (0.25 mm where letters were
set anew). So marks are compared by their objects, in the order of drawing, whatever is drawn otherwise than plainly
is foreign, and pictures have the last word. ``tests/tampers.py`` holds what must be found.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import chain, product
from math import dist, floor
from typing import Final, TypeAlias

from pypdf import PageObject, PdfReader
from pypdfium2 import PdfPage

from storystick.drawing.shapes import Box, Text, moved
from storystick.errors import Fault, Where, as_written, placed_in
from storystick.proof.findings import Check, PageProof, Proof, Region, Row
from storystick.proof.marks import TOLERANCE_MM, Bounds, Letters, Mark, Match, PageContent, Word, match, pair_letters
from storystick.proof.opening import DAMAGED, PrintedFile, reading
from storystick.proof.page_objects import label_of, pages_of, read_page
from storystick.proof.pictures import differing_places
from storystick.proof.verdict import check_number, checks_of, looks_of, wishes_of
from storystick.sheets.bare_sheet import CHECK_WORD
from storystick.sheets.document import Document, Page
from storystick.wording import counted

_MOST_PAGES: Final = 2000
_MOST_ADDED: Final = 100
"""A file with so many pages more than were printed is not compared: each would have to be laid beside all others."""

_SLACK_MM: Final = 1.5
"""Outlines and crop ticks stand out beyond a tile by less."""

_BESIDE_MM: Final = 2.0
"""What was added nearer to ink of ours may be read with it, as a figure more before a number."""

_BAR_MM: Final = 5.0
_MOST_PLACES: Final = 300

_LIKE: Final = 0.3
"""Less than this share of a page's words in common: another page."""

_SURE: Final = 0.9

Differing: TypeAlias = Callable[[bool], Sequence[Bounds]]
"""Gives the places where the pictures of two pages differ, told whether no letter was set anew."""


def prove(
    printed: PrintedFile,
    document: Document,
    again: bytes,
    regions: Mapping[int, Sequence[Region]],
    digest: str,
    program: str,
) -> Proof:
    """Compare a file with the ``document`` that its job gives, of which ``again`` is the PDF.

    The tiles of ``document`` are ``regions`` by the page's index.

    Raises:
        StorystickError: its pages cannot be read.
    """
    record, looks = printed.record, list[str]()
    if printed.data == again:
        proofs = list(_as_laid_out(document, regions))
        checks = [Check("bytes", True, "all as its job gives them")]
    else:
        proofs, checks, looks = _compared(printed, document, again, regions)
    findings = (tuple(proofs), tuple(checks), tuple(looks))
    return Proof(record.file, document.title, digest, record.program, program, *findings)


def _as_laid_out(document: Document, regions: Mapping[int, Sequence[Region]]) -> Iterator[PageProof]:
    for index, page in enumerate(document.pages):
        size = (page.width_mm, page.height_mm)
        rows = tuple(Row(index + 1, page.label, region, 0.0) for region in (*regions.get(index, ()), None))
        yield PageProof(index + 1, page.label, size, size, rows=rows)


def _compared(
    printed: PrintedFile, document: Document, again: bytes, regions: Mapping[int, Sequence[Region]]
) -> tuple[list[PageProof], list[Check], list[str]]:
    nodes = _nodes(printed.reader)
    if len(nodes) > len(document.pages) + _MOST_ADDED:
        return [], [check_number(document, len(nodes))], []
    with pages_of(printed.data) as theirs, pages_of(again) as ours:
        if len(theirs) != len(nodes):
            raise DAMAGED
        found = [
            _content(page, index, node.user_unit) for index, (page, node) in enumerate(zip(theirs, nodes, strict=True))
        ]
        laid = [
            _laid_page(_content(page, index, 1), document.pages[index], regions.get(index, ()))
            for index, page in enumerate(ours)
        ]
        order = _in_order([page.content for page in laid], found)
        proofs = []
        for index, place in enumerate(order):
            if place is not None:
                content, pairs, turned = _upright(laid[place].content, found[index], theirs[index], index, nodes[index])
                size = (laid[place].content.width_mm, laid[place].content.height_mm)
                differing = partial(differing_places, ours[place], theirs[index], *size)
                proofs.append(_compare_page(laid[place], content, pairs, turned, index + 1, differing))
        labels = [label_of(page, index) for index, page in enumerate(theirs)]
    wishes = wishes_of(printed.reader)
    checks = list(checks_of(proofs, document, order, nodes, labels, wishes))
    return proofs, checks, list(looks_of(proofs, wishes, printed.reader, document))


def _nodes(reader: PdfReader) -> list[PageObject]:
    """What pypdf says of each page: its boxes, unit and turn."""
    with reading():
        count = reader.get_num_pages()
        if not count:
            raise Fault("the file has no pages", "use the file as it was printed")
        if count > _MOST_PAGES:
            raise Fault(f"the file has more than {_MOST_PAGES} pages, the most that is allowed", "divide it")
        return list(reader.pages)


def _content(page: PdfPage, index: int, unit: float) -> PageContent:
    with placed_in(Where(f"page {index + 1}")):
        return read_page(page, unit)


def _upright(
    laid: PageContent, found: PageContent, page: PdfPage, index: int, node: PageObject
) -> tuple[PageContent, Match, bool]:
    """A page and its marks beside those laid out; turned back where it fits better so, and whether it was."""
    pairs = match(laid.marks, found.marks)
    if node.rotation % 360 and pairs.in_place < len(laid.marks):
        page.set_rotation(0)
        back = _content(page, index, node.user_unit)
        pairs_back = match(laid.marks, back.marks)
        if pairs_back.in_place > pairs.in_place:
            return back, pairs_back, True
        page.set_rotation(node.rotation)
    return found, pairs, False


def _in_order(expected: Sequence[PageContent], found: Sequence[PageContent]) -> list[int | None]:
    """For each page of the file which of those laid out it is, by its words; None for one that was added."""
    ours, theirs = ([Counter(word.text for word in page.words) for page in pages] for pages in (expected, found))
    guesses = [_best(ours, words, index) for index, words in enumerate(theirs)]
    result: list[int | None] = []
    for index, guess in enumerate(guesses):
        unknown = guess is None and index < len(ours) and index not in guesses
        place = index if unknown else guess
        result.append(None if place in result else place)
    return result


def _best(ours: Sequence[Counter[str]], theirs: Counter[str], index: int) -> int | None:
    """The page that is most alike, that at the same place first."""
    if index < len(ours) and _alike(ours[index], theirs) > _SURE:
        return index
    places = sorted(range(len(ours)), key=lambda place: (-_alike(ours[place], theirs), abs(place - index)))
    return places[0] if places and _alike(ours[places[0]], theirs) > _LIKE else None


def _alike(one: Counter[str], other: Counter[str]) -> float:
    return (one & other).total() / max(1, one.total(), other.total())


@dataclass(frozen=True, slots=True)
class _Laid:
    """A page as it was laid out: its content, its label, and where its tiles and check bars are.

    ``ink`` is every square of the page that is near ink.
    """

    content: PageContent
    sheet: str
    regions: Sequence[Region]
    bars: Sequence[Bounds]
    ink: frozenset[tuple[int, int]]

    def region_of(self, mark: Mark) -> Region | None:
        """The tile that a mark of ours is on."""
        return next((region for region in self.regions if region.bounds.grown(_SLACK_MM).holds(mark.bounds)), None)

    def regions_at(self, place: Bounds) -> list[Region | None]:
        """The tiles that a foreign thing misleads on; None for the page beside them."""
        on = [region for region in self.regions if region.bounds.touches(place)]
        if on:
            return [*on]
        beside = not self.regions or any(bar.touches(place) for bar in self.bars)
        return [None] if beside or not self.ink.isdisjoint(_squares(place, self.content)) else []

    def word_at(self, place: Bounds) -> Word | None:
        """The word of ours that something lies on."""
        word = _nearest(place, self.content.words)
        return word if word and word.bounds.touches(place) else None

    def what(self, place: Bounds, region: Region | None) -> str:
        """What is at a place, in words."""
        if region:
            return region.what(place)
        if any(bar.touches(place) for bar in self.bars):
            return "check bar"
        word = _nearest(place, self.content.words)
        return f"at {as_written(word.text)}" if word else ""


def _laid_page(content: PageContent, page: Page, regions: Sequence[Region]) -> _Laid:
    """A page with what is known of it before any file is looked at; ``content`` is what PDFium says of it."""
    places = (*(mark.bounds for mark in content.marks), *(word.bounds for word in content.words))
    ink = frozenset(square for place in places for square in _squares(place, content))
    return _Laid(content, page.label, regions, list(_check_bars(page)), ink)


def _check_bars(page: Page) -> Iterator[Bounds]:
    """The room of each check bar of a page that is laid out: of the box whose middle its words stand at."""
    shapes = moved(page.shapes, -page.left_mm, -page.bottom_mm)
    said = [shape for shape in shapes if isinstance(shape, Text) and shape.text.startswith(CHECK_WORD)]
    for box in (shape for shape in shapes if isinstance(shape, Box)):
        bounds = Bounds(box.x, box.y, box.x + box.width, box.y + box.height)
        for words in said:
            aside, above = words.x - bounds.middle[0], words.y - bounds.middle[1]
            along, across = (above, aside) if words.upward else (aside, above)
            if abs(along) < TOLERANCE_MM and abs(across) < _BAR_MM:
                yield bounds.grown(_BAR_MM)


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
    x, y = one.middle
    return dist((x, y), (min(max(x, other.left), other.right), min(max(y, other.bottom), other.top)))


def _compare_page(
    laid: _Laid, content: PageContent, pairs: Match, turned: bool, number: int, differing: Differing
) -> PageProof:
    """The proof of a page; ``number`` is its place in the file from 1, ``pairs`` are its marks beside those laid out.

    Letters and pictures are compared only where the page as a whole lies where it was laid out.
    """
    size, found = ((page.width_mm, page.height_mm) for page in (laid.content, content))
    proof = PageProof(number, laid.sheet, size, found, pairs.fit, turned)
    letters = pair_letters(laid.content.words, content.words) if proof.in_place else Letters()
    foreign = _foreign(content, pairs, letters)
    unlike: list[Bounds] = []
    if proof.in_place:
        told = list(_told(pairs, letters, foreign))
        places = differing(letters.exact)[:_MOST_PLACES]
        unlike = [place for place in places if not any(other.touches(place) for other in told)]
    seen = _Seen(laid, pairs, letters, foreign, unlike)
    return replace(
        proof, rows=tuple(seen.rows(number)), words=tuple(dict.fromkeys(seen.words())), extra=tuple(seen.extra())
    )


def _foreign(content: PageContent, pairs: Match, letters: Letters) -> dict[str, list[Bounds]]:
    """What another program added to a page; words in the place of a word of ours are told as that word."""
    lost = [word.bounds for word in letters.lost]
    words, others = (
        [place for place in places if not any(place.touches(one) for one in lost)]
        for places in ([word.bounds for word in letters.added if word.text.isprintable()], content.others)
    )
    drawn = [*(mark.bounds for mark in pairs.added), *others]
    named = {"note or stamp": content.notes, "word": words, "line, area or picture": drawn}
    return {what: list(map(pairs.fit.undone, places)) for what, places in named.items()}


def _told(pairs: Match, letters: Letters, foreign: Mapping[str, Sequence[Bounds]]) -> Iterator[Bounds]:
    """Where marks and letters tell already what differs."""
    yield from (pair.expected.bounds for pair in pairs.pairs if pair.off_after_fit_mm > TOLERANCE_MM)
    yield from (mark.bounds for mark in pairs.missing)
    yield from (word.bounds for word in letters.lost)
    yield from chain(*foreign.values())


@dataclass(frozen=True, slots=True)
class _Seen:
    """Everything that was seen on a page, to be told tile by tile.

    ``foreign`` is what another program added, by what it is, where it would lie if the page had been left as it was
    laid out; ``unlike`` where the pictures differ though all marks and letters are there and nothing was added.
    """

    laid: _Laid
    pairs: Match
    letters: Letters
    foreign: Mapping[str, Sequence[Bounds]]
    unlike: Sequence[Bounds]

    def rows(self, number: int) -> Iterator[Row]:
        """A row a tile, and one for the page beside its tiles."""
        pairs = [(self.laid.region_of(pair.expected), pair) for pair in self.pairs.pairs]
        missing = [(self.laid.region_of(mark), mark.bounds) for mark in self.pairs.missing]
        added, unlike = (
            [(region, place) for place in places for region in self.laid.regions_at(place)]
            for places in (chain(*self.foreign.values()), (at for at in self.unlike if not self.laid.word_at(at)))
        )
        for region in (*self.laid.regions, None):
            here = [pair for on, pair in pairs if on is region]
            parts = [[place for on, place in found if on is region] for found in (missing, added, unlike)]
            if not (region or here or any(parts)):
                continue
            worst = max(here, key=lambda pair: pair.off_mm, default=None)
            places = [*(place for part in parts for place in part), *([worst.expected.bounds] if worst else [])]
            yield Row(
                number,
                self.laid.sheet,
                region,
                worst.off_mm if worst else None,
                max((pair.off_after_fit_mm for pair in here), default=None),
                self.laid.what(places[0], region) if places else "",
                *map(len, parts),
            )

    def words(self) -> Iterator[str]:
        """What is wrong with the words."""
        for word in self.letters.lost:
            there = [other for other in self.letters.added if other.bounds.touches(word.bounds)]
            yield _instead(word, min(there, key=lambda other: dist(other.starts[0], word.starts[0]), default=None))
        for at in filter(None, map(self.laid.word_at, self.unlike)):
            yield _instead(at, at)

    def extra(self) -> Iterator[str]:
        """What another program added where it misleads nobody, in words."""
        for what, places in self.foreign.items():
            number = sum(not self.laid.regions_at(place) for place in places)
            if number:
                yield counted(number, what) if number == 1 else f"{number} × {what}"


def _instead(word: Word, other: Word | None) -> str:
    """What is in the place of a word of ours."""
    if other is None:
        return f"{as_written(word.text)} is missing"
    if other.text != word.text:
        return f"{as_written(other.text)} stands where {as_written(word.text)} belongs"
    return f"{as_written(word.text)} looks otherwise"
