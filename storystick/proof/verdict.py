"""A proof in one sentence: what to do with the file."""

from __future__ import annotations

from statistics import median
from typing import Final

from storystick.proof.checks import decimal, scale_words
from storystick.proof.model import PageProof, Proof
from storystick.wording import counted

_CAUSES: Final = {
    True: 'as "fit to page" does',
    False: "by another program",
}

_CURE: Final = '"storystick print" makes it anew from the job inside it'


def scales_of(proof: Proof) -> tuple[float, float]:
    """What the pages were drawn times, to the right and up: the median of all, 1 where there are none."""
    fits = [page.fit for page in proof.pages]
    if not fits:
        return 1.0, 1.0
    return median(fit.scale_x for fit in fits), median(fit.scale_y for fit in fits)


def verdict_of(proof: Proof) -> str:
    """Whether the file can be struck from, and what is the worst of it if it cannot."""
    if proof.true:
        return f"true: largest difference {decimal(proof.off_mm)} mm in {_extent(proof)}"
    words = "; ".join(filter(None, (_failing(proof), _other_program(proof))))
    return f"NOT {words}"


def _extent(proof: Proof) -> str:
    sheets = counted(len(proof.pages), "sheet")
    return f"{counted(len(proof.tiles), 'tile')} on {sheets}" if proof.tiles else sheets


def _failing(proof: Proof) -> str:
    scaled = [page for page in proof.pages if page.scaled]
    if scaled:
        cause = _CAUSES[_alike_and_smaller(scaled)]
        return f"full size: {scale_words(scaled)}, {cause}; do not use it: {_CURE}"
    first = next(check for check in proof.checks if not check.ok)
    kept = {
        "position": "where it was laid out, though full size",
        "ink": "the job's ink",
        "viewer preferences": "asking for full size any more, though it is full size",
    }
    return f"{kept.get(first.name, 'as it was printed')}: {first.name}: {first.read}"


def _alike_and_smaller(pages: list[PageProof]) -> bool:
    return all(page.fit.scale_x < 1 and abs(page.fit.scale_x / page.fit.scale_y - 1) < 1e-4 for page in pages)


def _other_program(proof: Proof) -> str:
    """Another version of this program may draw otherwise."""
    if proof.written_by == proof.read_by:
        return ""
    return f"it was printed by {proof.written_by}, and this is {proof.read_by}: the difference may come from there"
