"""A proof in words: what is looked at, check by check, and in one sentence what to do with the file."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from statistics import median
from typing import Final

from pypdf import PageObject, PdfReader
from pypdf.generic import DictionaryObject, RectangleObject

from storystick.drawing.lettering import POINT_MM
from storystick.errors import as_written
from storystick.proof.findings import BOX_TOLERANCE_MM, Check, PageProof, Proof, Row
from storystick.proof.marks import TOLERANCE_MM
from storystick.proof.opening import at, reading
from storystick.sheets.document import Document
from storystick.wording import counted

_PAGE: Final = ("", "MediaBox", "CropBox")
_ALLOWED: Final[dict[str, tuple[str, ...]]] = {
    "PrintScaling": ("", "None"),
    "Duplex": ("", "Simplex"),
    "PrintArea": _PAGE,
    "PrintClip": _PAGE,
    "ViewArea": _PAGE,
    "ViewClip": _PAGE,
    "PrintPageRange": ("",),
    "NumCopies": ("", "1"),
}
"""What a file may ask of a viewer, "" for nothing (ISO 32000-1, table 150); the two boxes of our pages are the same."""

_WISHES: Final = {"PrintScaling": "100 % (actual size)", "Duplex": "one side"}
"""What our files ask for, and how a print dialog says it: some programs drop it, and the page stays as it is."""

_ON_OPENING: Final = ("OpenAction", "AA", "JavaScript")

_CAUSES: Final = {
    True: 'as "fit to page" does',
    False: "by another program",
}
_CURE: Final = '"storystick print" makes it anew from the job inside it'
_KEPT: Final = {
    "position": "where it was laid out, though full size",
    "ink": "the job's ink",
    "viewer preferences": "asking for full size any more, though it is full size",
}
"""What a file is not, by the first check that fails."""


def scales_of(proof: Proof) -> tuple[float, float]:
    """What the pages were drawn times, to the right and up: the median of all, 1 where there are none."""
    fits = [page.fit for page in proof.pages]
    if not fits:
        return 1.0, 1.0
    return median(fit.scale_x for fit in fits), median(fit.scale_y for fit in fits)


def verdict_of(proof: Proof) -> str:
    """Whether the file can be struck from, and what is the worst of it if it cannot."""
    if proof.true:
        sheets, tiles = counted(len(proof.pages), "sheet"), len(proof.tiles)
        extent = f"{counted(tiles, 'tile')} on {sheets}" if tiles else sheets
        return f"true: largest difference {decimal(proof.off_mm)} mm in {extent}"
    # Another version of this program may draw otherwise.
    programs = f"it was printed by {proof.written_by}, and this is {proof.read_by}: the difference may come from there"
    return f"NOT {_failing(proof)}" + ("" if proof.written_by == proof.read_by else f"; {programs}")


def _failing(proof: Proof) -> str:
    scaled = [page for page in proof.pages if page.scaled]
    if scaled:
        return f"full size: {_scale_words(scaled)}, {_CAUSES[_as_fitted(scaled)]}; do not use it: {_CURE}"
    first = next(check for check in proof.checks if not check.ok)
    return f"{_KEPT.get(first.name, 'as it was printed')}: {first.name}: {first.read}"


def _as_fitted(pages: Sequence[PageProof]) -> bool:
    """Whether all are smaller, and alike along and across."""
    return all(page.fit.scale_x < 1 and abs(page.fit.scale_x / page.fit.scale_y - 1) < 1e-4 for page in pages)


def checks_of(
    proofs: Sequence[PageProof],
    document: Document,
    order: Sequence[int | None],
    nodes: Sequence[PageObject],
    labels: Sequence[str],
    wishes: Mapping[str, str],
) -> Iterator[Check]:
    """Everything that is looked at, the worst first.

    ``order`` says of each page of the file which one of the ``document`` it is, ``nodes`` its boxes, ``labels`` what a
    viewer calls it; ``wishes`` are what :func:`wishes_of` found.
    """
    scaled = [proof for proof in proofs if proof.scaled]
    pages = f" on {counted(len(scaled), 'page')} of {len(proofs)}" if len(scaled) < len(proofs) else ""
    yield Check("scale", not scaled, f"{_scale_words(scaled)}{pages}" if scaled else "100 %")
    yield _check("position", map(_shift_words, proofs))
    most = max((row.off_after_fit_mm or 0.0 for proof in proofs for row in proof.rows), default=0.0)
    rows = [row for proof in proofs for row in proof.rows]
    yield _check("ink", map(_row_words, rows), f"all there, within {decimal(most)} mm of its place on the page")
    yield _check("words", (f"page {proof.page}: {_listed(proof.words, 3, ', ')}" for proof in proofs if proof.words))
    yield _check("pictures", (f"{row.place}: looks otherwise" for row in rows if row.unlike))
    yield _check_pages(document, order)
    yield _check("page boxes", (_box_words(nodes[proof.page - 1], proof) for proof in proofs))
    yield _check("page labels", map(_label_words, range(len(order)), order, labels, [document] * len(order)))
    asked = ", ".join(f"{key} {value or 'nothing'}" for key, value in wishes.items() if value or key in _WISHES)
    yield Check("viewer preferences", all(value in _ALLOWED.get(key, ()) for key, value in wishes.items()), asked)


def check_number(document: Document, read: int) -> Check:
    """Whether a file with many more pages than were printed can be compared: it cannot, and is false."""
    return Check("pages", False, f"{read} of {len(document.pages)}: too many were added for any to be compared")


def _check(name: str, told: Iterable[str], otherwise: str = "as laid out") -> Check:
    wrong = list(filter(None, told))
    return Check(name, not wrong, _listed(wrong) or otherwise)


def _listed(parts: Sequence[str], most: int = 4, between: str = "; ") -> str:
    """The first few, and how many more there are."""
    more = [f"and {len(parts) - most} more"] if len(parts) > most else []
    return between.join([*parts[:most], *more])


def _scale_words(proofs: Sequence[PageProof]) -> str:
    """The scale along the longer side of the pages and across it, in percent."""
    factors = [
        (proof.fit.scale_x, proof.fit.scale_y)
        if proof.size_mm[0] >= proof.size_mm[1]
        else (proof.fit.scale_y, proof.fit.scale_x)
        for proof in proofs
    ]
    along, across = (_percent(median(values)) for values in zip(*factors, strict=True))
    return f"{along} along, {across} across"


def _percent(factor: float) -> str:
    """With one decimal, and as many more as show that it is not 100 %."""
    digits = next((digits for digits in range(1, 6) if round(100 * factor, digits) != 100 or factor == 1), 6)
    return f"{100 * factor:.{digits}f} %"


def _shift_words(proof: PageProof) -> str:
    """How far a page lies from where it was laid out; one that was enlarged is shifted with that."""
    if proof.scaled or not proof.shifted:
        return ""
    right, up = proof.fit.shift_x, proof.fit.shift_y
    return f"page {proof.page} is shifted by {right:.3f} mm to the right and {up:.3f} mm up"


def _row_words(row: Row) -> str:
    off = row.off_after_fit_mm or 0.0
    told = [
        f"{row.missing} missing" if row.missing else "",
        f"{row.added} added" if row.added else "",
        f"{decimal(off)} mm from its place" if off > TOLERANCE_MM else "",
    ]
    wrong = ", ".join(filter(None, told))
    return f"{row.place}: {wrong}" if wrong else ""


def decimal(length_mm: float) -> str:
    """A length in mm with the first figures that say something: a thousandth may be too much or not."""
    if length_mm > TOLERANCE_MM:
        return f"{length_mm:.{3 if length_mm >= 0.01 else 4}f}"
    return f"{length_mm:.7f}".rstrip("0").rstrip(".")


def _check_pages(document: Document, order: Sequence[int | None]) -> Check:
    """Whether every page is there once, in its place, and no other."""
    labels = [page.label for page in document.pages]
    gone = [label for place, label in enumerate(labels) if place not in order]
    foreign = [str(number) for number, place in enumerate(order, start=1) if place is None]
    places = [place for place in order if place is not None]
    told = [
        f"missing: {_listed(gone)}" if gone else "",
        f"added: page {_listed(foreign)}" if foreign else "",
        f"in another order: {_listed([labels[place] for place in places])}" if places != sorted(places) else "",
    ]
    return Check("pages", not any(told), "; ".join(filter(None, (f"{len(order)} of {len(labels)}", *told))))


def _box_words(node: PageObject, proof: PageProof) -> str:
    """Whether a page is as large as it was laid out, whole, upright, and in points."""
    (width, height), (wanted_width, wanted_height) = proof.found_mm, proof.size_mm
    others = (node.cropbox, node.bleedbox, node.trimbox, node.artbox)
    cropped = any(_apart(node.mediabox, box) * POINT_MM > BOX_TOLERANCE_MM for box in others)
    size = f"is {width:.1f} × {height:.1f} mm, not {wanted_width:.1f} × {wanted_height:.1f} mm"
    told = [
        "" if proof.has_size else size,
        "is cropped" if cropped else "",
        f"is turned by {node.rotation % 360} degrees" if proof.turned else "",
        f"has a unit of {node.user_unit:g} points" if node.user_unit != 1 else "",
    ]
    wrong = "; ".join(filter(None, told))
    return f"page {proof.page} {wrong}" if wrong else ""


def _apart(one: RectangleObject, other: RectangleObject) -> float:
    return max(abs(float(edge) - float(other_edge)) for edge, other_edge in zip(one, other, strict=True))


def _label_words(index: int, place: int | None, label: str, document: Document) -> str:
    """Whether a viewer shows the sheet's own number."""
    if place is None or label == document.pages[place].label:
        return ""
    return f"page {index + 1} is called {as_written(label)}, not {as_written(document.pages[place].label)}"


def wishes_of(reader: PdfReader) -> dict[str, str]:
    """What a file asks of a viewer, by its key, "" for nothing; and what of it acts by itself."""
    with reading():
        root, names = at(reader.trailer, "/Root"), at(reader.trailer, "/Root", "/Names")
        asked = {key: at(root, "/ViewerPreferences", f"/{key}") for key in _ALLOWED}
        acts = [key for key in _ON_OPENING if any(_acts(at(holder, f"/{key}")) for holder in (root, names))]
        wishes = {key: "" if value is None else str(value).lstrip("/") for key, value in asked.items()}
        return wishes | dict.fromkeys(acts, "acts by itself")


def _acts(value: object) -> bool:
    """Whether something is more than a place to open the file at."""
    return isinstance(value, DictionaryObject) and value.get("/S") != "/GoTo"


def looks_of(
    proofs: Sequence[PageProof], wishes: Mapping[str, str], reader: PdfReader, document: Document
) -> Iterator[str]:
    """What should be looked at though no mark or word differs, in words."""
    for proof in proofs:
        if proof.extra:
            yield f"page {proof.page}, where another program added {', '.join(proof.extra)}"
    dropped = [words for key, words in _WISHES.items() if not wishes[key]]
    if dropped:
        yield f"the print dialog, and set {' and '.join(dropped)}: the file does not ask for that any more"
    with reading():
        title = str(at(reader.trailer, "/Info", "/Title") or "")
    if title != document.title:
        yield f"the title, which is {as_written(title)}, not the job's"
