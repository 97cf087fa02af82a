"""What is looked at: pages, boxes, labels, ink, words, what the file says of itself and asks of a viewer."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from statistics import median
from typing import Final

from pypdf import PageObject, PdfReader
from pypdf.generic import DictionaryObject, RectangleObject

from storystick.drawing.lettering import POINT_MM
from storystick.errors import as_written
from storystick.proof.comparing import BOX_TOLERANCE_MM, has_size
from storystick.proof.matching import TOLERANCE_MM
from storystick.proof.model import Check, PageProof, Row
from storystick.proof.objects import dictionary, entry, reading
from storystick.sheets.document import Document
from storystick.wording import counted

_MOST_TOLD: Final = 4
_PAGE: Final = ("MediaBox", "CropBox")
_ASKED: Final[dict[str, tuple[str, ...]]] = {
    "PrintScaling": ("None",),
    "Duplex": ("Simplex",),
    "PrintArea": ("", *_PAGE),
    "PrintClip": ("", *_PAGE),
    "ViewArea": ("", *_PAGE),
    "ViewClip": ("", *_PAGE),
    "PrintPageRange": ("",),
    "NumCopies": ("", "1"),
}
"""What a file may ask of a viewer, "" for nothing (ISO 32000-1, table 150); the two boxes of our pages are the same."""

_ON_OPENING: Final = ("OpenAction", "AA", "JavaScript")


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


def check_boxes(nodes: Sequence[PageObject], proofs: Sequence[PageProof]) -> Check:
    """Whether every page is as large as it was laid out, whole, upright, and in points."""
    wrong = []
    for proof in proofs:
        faults = "; ".join(_box_faults(nodes[proof.page - 1], proof))
        wrong += [f"page {proof.page} {faults}"] if faults else []
    return Check("page boxes", not wrong, _listed(wrong) or "as laid out")


def _box_faults(node: PageObject, proof: PageProof) -> Iterator[str]:
    if not has_size(proof):
        (width, height), (wanted_width, wanted_height) = proof.found_mm, proof.size_mm
        yield f"is {width:.1f} × {height:.1f} mm, not {wanted_width:.1f} × {wanted_height:.1f} mm"
    others = (node.cropbox, node.bleedbox, node.trimbox, node.artbox)
    if any(_apart(node.mediabox, box) * POINT_MM > BOX_TOLERANCE_MM for box in others):
        yield "is cropped"
    if proof.turned:
        yield f"is turned by {node.rotation % 360} degrees"
    if node.user_unit != 1:
        yield f"has a unit of {node.user_unit:g} points"


def _apart(one: RectangleObject, other: RectangleObject) -> float:
    return max(abs(float(edge) - float(other_edge)) for edge, other_edge in zip(one, other, strict=True))


def check_labels(labels: Sequence[str], document: Document, order: Sequence[int | None]) -> Check:
    """Whether a viewer shows the sheet's own number."""
    wrong = [
        f"page {number} is called {as_written(label)}, not {as_written(document.pages[place].label)}"
        for number, (label, place) in enumerate(zip(labels, order, strict=True), start=1)
        if place is not None and label != document.pages[place].label
    ]
    return Check("page labels", not wrong, _listed(wrong) or "as laid out")


def other_title(reader: PdfReader, document: Document) -> str:
    """What a viewer shows above the file instead of the job's title, in words; empty where it is the job's."""
    with reading():
        title = str(entry(dictionary(reader.trailer.get("/Info")), "/Title") or "")
    return "" if title == document.title else f"the title, which is {as_written(title)}, not the job's"


def check_viewer(reader: PdfReader) -> Check:
    """Whether the file still asks for no scaling, one side, one copy and whole pages, and does nothing by itself."""
    with reading():
        root = dictionary(reader.trailer.get("/Root"))
        read = {key: _written(entry(dictionary(entry(root, "/ViewerPreferences")), f"/{key}")) for key in _ASKED}
        names = dictionary(entry(root, "/Names"))
        acts = [key for key in _ON_OPENING for holder in (root, names) if _acts(entry(holder, f"/{key}"))]
    ok = all(value in _ASKED[key] for key, value in read.items()) and not acts
    told = [f"{key} {value or 'nothing'}" for key, value in read.items() if value or "" not in _ASKED[key]]
    return Check("viewer preferences", ok, ", ".join([*told, *(f"{key} acts by itself" for key in acts)]))


def _acts(value: object) -> bool:
    """Whether something is more than a place to open the file at."""
    return isinstance(value, DictionaryObject) and value.get("/S") != "/GoTo"


def _written(value: object) -> str:
    return "" if value is None else str(value).lstrip("/")


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
    """Whether every mark is there and lies at its place on the page, and nothing was added."""
    wrong = list(filter(None, (_row_words(row) for proof in proofs for row in proof.rows)))
    most = max((row.off_after_fit_mm or 0.0 for proof in proofs for row in proof.rows), default=0.0)
    return Check("ink", not wrong, _listed(wrong) or f"all there, within {decimal(most)} mm of its place on the page")


def check_pictures(proofs: Sequence[PageProof]) -> Check:
    """Whether every page looks as it was laid out, to the eye and on paper, where marks and words do not tell."""
    wrong = [f"{_place_words(row)}: looks otherwise" for proof in proofs for row in proof.rows if row.unlike]
    return Check("pictures", not wrong, _listed(wrong) or "as laid out")


def _place_words(row: Row) -> str:
    return ", ".join(filter(None, (row.sheet, row.name, row.at)))


def _row_words(row: Row) -> str:
    off = row.off_after_fit_mm or 0.0
    told = [
        f"{row.missing} missing" if row.missing else "",
        f"{row.added} added" if row.added else "",
        f"{decimal(off)} mm from its place" if off > TOLERANCE_MM else "",
    ]
    wrong = ", ".join(filter(None, told))
    return f"{_place_words(row)}: {wrong}" if wrong else ""


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
