"""What is looked at: pages, boxes, labels, ink, words, what the file says of itself and asks of a viewer."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from statistics import median
from typing import Final

from pypdf import PdfReader

from storystick.errors import as_written
from storystick.proof.figures import Bounds
from storystick.proof.matching import TOLERANCE_MM
from storystick.proof.model import Check, PageProof
from storystick.proof.objects import dictionary, entry, reading
from storystick.proof.pages import ReadPage
from storystick.sheets.document import Document
from storystick.wording import counted

BOX_TOLERANCE_MM: Final = 0.05
"""The box of a page may be off by this: some programs round it to a tenth of a point, and it moves no mark."""

_MOST_TOLD: Final = 4
_WANTED: Final = {"/PrintScaling": "/None", "/Duplex": "/Simplex"}


def check_pages(document: Document, order: Sequence[int | None]) -> Check:
    """Whether every page is there once, in its place, and no other."""
    labels = [page.label for page in document.pages]
    gone = [label for place, label in enumerate(labels) if place not in order]
    foreign = [str(number) for number, place in enumerate(order, start=1) if place is None]
    places = [place for place in order if place is not None]
    told = [
        f"missing: {_listed(gone)}" if gone else "",
        f"added: page {_listed(foreign)}" if foreign else "",
        f"in another order: {_listed(labels[place] for place in places)}" if places != sorted(places) else "",
    ]
    wrong = "; ".join(filter(None, told))
    read = f"{len(order)} of {len(labels)}"
    return Check("pages", not wrong, f"{read}; {wrong}" if wrong else read)


def check_number(document: Document, read: int) -> Check:
    """Whether a file with many more pages than were printed can be compared: it cannot, and is false."""
    return Check("pages", False, f"{read} of {len(document.pages)}: too many were added for any to be compared")


def check_boxes(pages: Sequence[ReadPage], proofs: Sequence[PageProof]) -> Check:
    """Whether every page is as large as it was laid out, whole, upright, and in points."""
    wrong = []
    for proof in proofs:
        faults = "; ".join(_box_faults(pages[proof.page - 1], proof))
        wrong += [f"page {proof.page} {faults}"] if faults else []
    return Check("page boxes", not wrong, _listed(wrong) or "as laid out")


def _box_faults(page: ReadPage, proof: PageProof) -> Iterator[str]:
    width, height = page.unturned.width_mm, page.unturned.height_mm
    if page.turn % 180 and not proof.turned:
        width, height = height, width
    wanted_width, wanted_height = proof.size_mm
    if max(abs(width - wanted_width), abs(height - wanted_height)) > BOX_TOLERANCE_MM:
        yield f"is {width:.1f} × {height:.1f} mm, not {wanted_width:.1f} × {wanted_height:.1f} mm"
    if _apart(page.media, page.crop) > BOX_TOLERANCE_MM:
        yield "is cropped"
    if proof.turned:
        yield f"is turned by {page.turn} degrees"
    if page.unit != 1:
        yield f"has a unit of {page.unit:g} points"


def _apart(one: Bounds, other: Bounds) -> float:
    return max(abs(edge - other_edge) for edge, other_edge in zip(one, other, strict=True))


def check_labels(pages: Sequence[ReadPage], document: Document, order: Sequence[int | None]) -> Check:
    """Whether a viewer shows the sheet's own number."""
    wrong = [
        f"page {number} is called {as_written(page.label or '')}, not {as_written(document.pages[place].label)}"
        for number, (page, place) in enumerate(zip(pages, order, strict=True), start=1)
        if place is not None and page.label != document.pages[place].label
    ]
    return Check("page labels", not wrong, _listed(wrong) or "as laid out")


def check_description(reader: PdfReader, document: Document) -> Check:
    """Whether title and subject are those of the job inside."""
    with reading():
        info = dictionary(reader.trailer.get("/Info"))
        read = {key: str(entry(info, f"/{key}") or "") for key in ("Title", "Subject")}
    wanted = {"Title": document.title, "Subject": document.subject}
    wrong = [
        f"{key} is {as_written(read[key])}, not {as_written(wanted[key])}" for key in read if read[key] != wanted[key]
    ]
    return Check("title and subject", not wrong, _listed(wrong) or document.subject)


def check_viewer(reader: PdfReader) -> Check:
    """Whether the file still asks for no scaling and one side only (ISO 32000-1, table 150)."""
    with reading():
        asked = dictionary(entry(dictionary(reader.trailer.get("/Root")), "/ViewerPreferences"))
        read = {key: str(entry(asked, key) or "nothing").lstrip("/") for key in _WANTED}
    ok = all(read[key] == value.lstrip("/") for key, value in _WANTED.items())
    said = ", ".join(f"{key.lstrip('/')} {value}" for key, value in read.items())
    return Check("viewer preferences", ok, said)


def check_digest(proofs: Sequence[PageProof], digest: str) -> Check:
    """Whether every page says that it is of this version of the job."""
    wrong = [str(proof.page) for proof in proofs if not proof.digest]
    return Check(
        "digest", not wrong, f"{digest} is not on page {_listed(wrong)}" if wrong else f"{digest} on every page"
    )


def check_words(proofs: Sequence[PageProof]) -> Check:
    """Whether the words that are read at the bench are those of the job inside."""
    wrong = [f"page {proof.page}: {', '.join(proof.words)}" for proof in proofs if proof.words]
    return Check("words", not wrong, _listed(wrong) or "as laid out")


def check_scale(proofs: Sequence[PageProof]) -> Check:
    """Whether every page is as large as it was laid out."""
    scaled = [proof for proof in proofs if proof.scaled]
    if not scaled:
        return Check("scale", True, "100 %")
    pages = "" if len(scaled) == len(proofs) else f" on {counted(len(scaled), 'page')} of {len(proofs)}"
    return Check("scale", False, f"{scale_words(scaled)}{pages}")


def scale_words(proofs: Sequence[PageProof]) -> str:
    """The scale along the longer side of the pages and across it, in percent."""
    factors = [
        (proof.fit.scale_x, proof.fit.scale_y)
        if proof.size_mm[0] >= proof.size_mm[1]
        else (proof.fit.scale_y, proof.fit.scale_x)
        for proof in proofs
    ]
    along, across = (percent(median(values)) for values in zip(*factors, strict=True))
    return f"{along} along, {across} across"


def percent(factor: float) -> str:
    """With one decimal, and as many more as show that it is not 100 %."""
    digits = next((digits for digits in range(1, 6) if round(100 * factor, digits) != 100 or factor == 1), 6)
    return f"{100 * factor:.{digits}f} %"


def check_shift(proofs: Sequence[PageProof]) -> Check:
    """Whether every page lies where it was laid out; a page that was enlarged is shifted with that."""
    wrong = [
        f"page {proof.page} is shifted by {proof.fit.shift_x:.3f} mm to the right and {proof.fit.shift_y:.3f} mm up"
        for proof in proofs
        if proof.shifted and not proof.scaled
    ]
    return Check("position", not wrong, _listed(wrong) or "as laid out")


def check_ink(proofs: Sequence[PageProof]) -> Check:
    """Whether every mark is there and lies at its place on the page, and none was added."""
    crowds = [
        f"{proof.sheet} has {proof.crowd} lines, areas and words, too many to be compared"
        for proof in proofs
        if proof.crowd
    ]
    wrong = [_row_words(proof, place) for proof in proofs for place in range(len(proof.rows))]
    told = [*crowds, *filter(None, wrong)]
    most = max((row.off_after_fit_mm or 0.0 for proof in proofs for row in proof.rows), default=0.0)
    return Check("ink", not told, _listed(told) or f"all there, within {decimal(most)} mm of its place on the page")


def _row_words(proof: PageProof, place: int) -> str:
    row = proof.rows[place]
    at = f", {row.at}" if row.at else ""
    off = row.off_after_fit_mm or 0.0
    told = [
        f"{row.missing} missing" if row.missing else "",
        f"{row.added} added" if row.added else "",
        f"{decimal(off)} mm from its place" if off > TOLERANCE_MM else "",
    ]
    wrong = ", ".join(filter(None, told))
    return f"{row.sheet}, {row.name}{at}: {wrong}" if wrong else ""


def decimal(length_mm: float) -> str:
    """A length in mm with the first figures that say something."""
    if length_mm >= 0.001:
        return f"{length_mm:.3f}"
    return f"{length_mm:.7f}".rstrip("0").rstrip(".")


def _listed(parts: Iterable[str]) -> str:
    """The first few, and how many more there are."""
    everything = list(parts)
    more = len(everything) - _MOST_TOLD
    return "; ".join(everything[:_MOST_TOLD]) + (f"; and {more} more" if more > 0 else "")
