"""A printed file beside the file that its job gives: everything that is looked at, and what is found."""

from __future__ import annotations

import ctypes
from collections.abc import Iterator, Mapping, Sequence
from contextlib import ExitStack, contextmanager
from functools import partial
from typing import Any, Final

from pypdf import PageObject, PdfReader
from pypdfium2 import raw

from storystick.errors import Fault, placed_in
from storystick.proof.checks import (
    check_boxes,
    check_ink,
    check_labels,
    check_number,
    check_pages,
    check_pictures,
    check_scale,
    check_shift,
    check_viewer,
    check_words,
    other_title,
)
from storystick.proof.comparing import compare_page, laid_page, pages_in_order
from storystick.proof.figures import Bounds, PageContent
from storystick.proof.model import Check, PageProof, Proof, Region, Row
from storystick.proof.objects import DAMAGED, reading
from storystick.proof.opening import PrintedFile
from storystick.proof.page_objects import read_page
from storystick.proof.pictures import differing_places
from storystick.sheets.document import Document

_MOST_PAGES: Final = 2000
_MOST_ADDED: Final = 100
"""A file with so many pages more than were printed is not compared: each would have to be laid beside all others."""


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
    record = printed.record
    if printed.data == again:
        proofs = tuple(_as_laid_out(document, regions))
        checks, looks = [Check("bytes", True, "all as its job gives them")], []
    else:
        proofs, checks = _compared(printed, document, again, regions)
        looks = [
            f"page {proof.page}, where another program added {', '.join(proof.extra)}"
            for proof in proofs
            if proof.extra
        ]
        looks += filter(None, [other_title(printed.reader, document)])
    return Proof(record.file, document.title, digest, record.program, program, proofs, tuple(checks), tuple(looks))


def _as_laid_out(document: Document, regions: Mapping[int, Sequence[Region]]) -> Iterator[PageProof]:
    for index, page in enumerate(document.pages):
        size = (page.width_mm, page.height_mm)
        rows = (Row(index + 1, page.label, region, 0.0) for region in (*regions.get(index, ()), None))
        yield PageProof(index + 1, page.label, size, size, tuple(rows))


def _compared(
    printed: PrintedFile, document: Document, again: bytes, regions: Mapping[int, Sequence[Region]]
) -> tuple[tuple[PageProof, ...], list[Check]]:
    nodes = _pages(printed.reader)
    if len(nodes) > len(document.pages) + _MOST_ADDED:
        return (), [check_number(document, len(nodes))]
    with _opened(printed.data) as theirs, _opened(again) as ours:
        if raw.FPDF_GetPageCount(theirs) != len(nodes):
            raise DAMAGED
        found = [_content(theirs, index, node.user_unit) for index, node in enumerate(nodes)]
        laid = [
            laid_page(_content(ours, index, 1), page, regions.get(index, ()))
            for index, page in enumerate(document.pages)
        ]
        order = pages_in_order([page.content for page in laid], found)
        proofs = []
        for index, place in enumerate(order):
            if place is not None:
                node, page = nodes[index], laid[place]
                differing = partial(_differing, (ours, place), (theirs, index), page.content)
                turned_back = _content(theirs, index, node.user_unit, turned=False) if node.rotation % 360 else None
                proofs.append(compare_page(page, found[index], turned_back, index + 1, differing))
        labels = [_label(theirs, index) for index in range(len(nodes))]
    return tuple(proofs), list(_checks(printed, document, nodes, labels, order, proofs))


def _checks(
    printed: PrintedFile,
    document: Document,
    nodes: Sequence[PageObject],
    labels: Sequence[str],
    order: Sequence[int | None],
    proofs: Sequence[PageProof],
) -> Iterator[Check]:
    yield check_scale(proofs)
    yield check_shift(proofs)
    yield check_ink(proofs)
    yield check_words(proofs)
    yield check_pictures(proofs)
    yield check_pages(document, order)
    yield check_boxes(nodes, proofs)
    yield check_labels(labels, document, order)
    yield check_viewer(printed.reader)


def _pages(reader: PdfReader) -> list[PageObject]:
    """What pypdf says of each page: its boxes, unit and turn."""
    with reading():
        count = reader.get_num_pages()
        if not count:
            raise Fault("the file has no pages", "use the file as it was printed")
        if count > _MOST_PAGES:
            raise Fault(f"the file has more than {_MOST_PAGES} pages, the most that is allowed", "divide it")
        return list(reader.pages)


@contextmanager
def _opened(data: bytes) -> Iterator[Any]:
    """The file in PDFium, closed at the end of the block."""
    raw.FPDF_InitLibrary()
    document = raw.FPDF_LoadMemDocument64(data, len(data), None)
    if not document:
        raise DAMAGED
    try:
        yield document
    finally:
        raw.FPDF_CloseDocument(document)


@contextmanager
def _page(document: Any, index: int) -> Iterator[Any]:
    page = raw.FPDF_LoadPage(document, index)
    if not page:
        raise DAMAGED
    try:
        yield page
    finally:
        raw.FPDF_ClosePage(page)


def _content(document: Any, index: int, unit: float, turned: bool = True) -> PageContent:
    with placed_in(f"page {index + 1}"), _page(document, index) as page:
        return read_page(page, unit, turned)


def _differing(ours: tuple[Any, int], theirs: tuple[Any, int], laid: PageContent, exact: bool) -> list[Bounds]:
    with ExitStack() as opened:
        one, other = (opened.enter_context(_page(*each)) for each in (ours, theirs))
        return differing_places(one, other, laid.width_mm, laid.height_mm, exact)


def _label(document: Any, index: int) -> str:
    size = raw.FPDF_GetPageLabel(document, index, None, 0)
    text = ctypes.create_string_buffer(size)
    raw.FPDF_GetPageLabel(document, index, text, size)
    return text.raw[: max(0, size - 2)].decode("utf-16-le", errors="replace")
