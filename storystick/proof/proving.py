"""A printed file beside the document that its job gives: everything that is looked at, and what is found."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final

from storystick.proof.checks import (
    check_boxes,
    check_description,
    check_digest,
    check_ink,
    check_labels,
    check_number,
    check_pages,
    check_scale,
    check_shift,
    check_viewer,
    check_words,
)
from storystick.proof.comparing import compare_page, pages_in_order
from storystick.proof.figures import drawn_page
from storystick.proof.model import Check, PageProof, Proof, Region
from storystick.proof.opening import PrintedFile
from storystick.proof.pages import ReadPage, page_count, read_pages
from storystick.sheets.document import Document

_MOST_ADDED: Final = 100
"""A file with so many pages more than were printed is not compared: each would have to be laid beside all others."""


def prove(
    printed: PrintedFile,
    document: Document,
    regions: Mapping[int, Sequence[Region]],
    digest: str,
    program: str,
) -> Proof:
    """Compare a file with the ``document`` that its job gives, whose tiles are ``regions`` by the page's index.

    Raises:
        StorystickError: its pages cannot be read.
    """
    count = page_count(printed.reader)
    if count > len(document.pages) + _MOST_ADDED:
        return _proof(printed, document, digest, program, (), [check_number(document, count)])
    pages = read_pages(printed.reader)
    expected = [drawn_page(page) for page in document.pages]
    order = pages_in_order(expected, pages)
    proofs = [
        compare_page(
            expected[place], pages[index], index + 1, document.pages[place].label, regions.get(place, ()), digest
        )
        for index, place in enumerate(order)
        if place is not None
    ]
    checks = _checks(printed, document, pages, order, proofs, digest)
    return _proof(printed, document, digest, program, proofs, checks)


def _proof(
    printed: PrintedFile,
    document: Document,
    digest: str,
    program: str,
    proofs: Sequence[PageProof],
    checks: Iterable[Check],
) -> Proof:
    record = printed.record
    looks = tuple(_looks(proofs))
    return Proof(record.file, document.title, digest, record.program, program, tuple(proofs), tuple(checks), looks)


def _checks(
    printed: PrintedFile,
    document: Document,
    pages: Sequence[ReadPage],
    order: Sequence[int | None],
    proofs: Sequence[PageProof],
    digest: str,
) -> Iterator[Check]:
    yield check_scale(proofs)
    yield check_shift(proofs)
    yield check_ink(proofs)
    yield check_words(proofs)
    yield check_digest(proofs, digest)
    yield check_pages(document, order)
    yield check_boxes(pages, proofs)
    yield check_labels(pages, document, order)
    yield check_description(printed.reader, document)
    yield check_viewer(printed.reader)


def _looks(proofs: Sequence[PageProof]) -> Iterator[str]:
    for proof in proofs:
        if proof.extra:
            yield f"page {proof.page}, where another program added {', '.join(proof.extra)}"
