"""A printed file beside the file that its job gives: the way through everything that is compared."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import ExitStack
from functools import partial
from typing import Any, Final

from pypdf import PageObject, PdfReader
from pypdfium2 import raw

from storystick.errors import Fault, placed_in
from storystick.proof.comparing import Laid, compare_page, laid_page, pages_in_order
from storystick.proof.findings import Check, PageProof, Proof, Region, Row
from storystick.proof.marks import Bounds, Match, PageContent, match
from storystick.proof.opening import DAMAGED, PrintedFile, reading
from storystick.proof.page_objects import label_of, opened, page_of, read_page
from storystick.proof.pictures import differing_places
from storystick.proof.verdict import check_number, checks_of, looks_of, wishes_of
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
    nodes = _pages(printed.reader)
    if len(nodes) > len(document.pages) + _MOST_ADDED:
        return [], [check_number(document, len(nodes))], []
    with opened(printed.data) as theirs, opened(again) as ours:
        if raw.FPDF_GetPageCount(theirs) != len(nodes):
            raise DAMAGED
        found = [_content(theirs, index, node) for index, node in enumerate(nodes)]
        laid = [
            laid_page(_content(ours, index), page, regions.get(index, ())) for index, page in enumerate(document.pages)
        ]
        order = pages_in_order([page.content for page in laid], found)
        proofs = []
        for index, place in enumerate(order):
            if place is not None:
                content, pairs, turned = _upright(laid[place], found[index], theirs, index, nodes[index])
                differing = partial(_differing, (ours, place), (theirs, index), laid[place].content)
                proofs.append(compare_page(laid[place], content, pairs, turned, index + 1, differing))
        labels = [label_of(theirs, index) for index in range(len(nodes))]
    wishes = wishes_of(printed.reader)
    checks = list(checks_of(proofs, document, order, nodes, labels, wishes))
    return proofs, checks, list(looks_of(proofs, wishes, printed.reader, document))


def _pages(reader: PdfReader) -> list[PageObject]:
    """What pypdf says of each page: its boxes, unit and turn."""
    with reading():
        count = reader.get_num_pages()
        if not count:
            raise Fault("the file has no pages", "use the file as it was printed")
        if count > _MOST_PAGES:
            raise Fault(f"the file has more than {_MOST_PAGES} pages, the most that is allowed", "divide it")
        return list(reader.pages)


def _content(document: Any, index: int, node: PageObject | None = None, turn: int | None = None) -> PageContent:
    with placed_in(f"page {index + 1}"), page_of(document, index) as page:
        if turn is not None:
            raw.FPDFPage_SetRotation(page, turn)
        return read_page(page, node.user_unit if node else 1)


def _upright(
    laid: Laid, found: PageContent, document: Any, index: int, node: PageObject
) -> tuple[PageContent, Match, bool]:
    """A page and its marks beside those laid out; turned back where it fits better so, and whether it was."""
    pairs = match(laid.content.marks, found.marks)
    if node.rotation % 360 and pairs.in_place < len(laid.content.marks):
        back = _content(document, index, node, 0)
        pairs_back = match(laid.content.marks, back.marks)
        if pairs_back.in_place > pairs.in_place:
            return back, pairs_back, True
    return found, pairs, False


def _differing(ours: tuple[Any, int], theirs: tuple[Any, int], laid: PageContent, exact: bool) -> list[Bounds]:
    with ExitStack() as stack:
        one, other = (stack.enter_context(page_of(*each)) for each in (ours, theirs))
        return differing_places(one, other, laid.width_mm, laid.height_mm, exact)
