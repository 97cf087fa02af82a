"""Tongues on the ends of the case's parts, and on the front edges that enter a face frame."""

from __future__ import annotations

from collections.abc import Iterator

from storystick.layout.cabinets.model import CASE_ROLES, CabinetLayout, Piece
from storystick.layout.cabinets.working import works_of
from storystick.layout.cabinets.works import ENDS, Surface, Work, WorkKind
from storystick.lengths import Figures
from storystick.tooling.corners import EACH_FACE, END, CornerWork, Notch
from storystick.tooling.faces import faces_of


def end_tongues(layout: CabinetLayout, figures: Figures) -> Iterator[tuple[Piece, CornerWork]]:
    """The tongues on the ends of each part, alike ones once."""
    for piece in layout.of(*CASE_ROLES):
        tongues = [work for work in works_of(layout, piece) if work.kind is WorkKind.TONGUE and work.on in ENDS]
        for found in dict.fromkeys(_tongue(tongue, "end tongue", END, figures) for tongue in tongues):
            if found:
                yield piece, found


def front_tongues(layout: CabinetLayout, figures: Figures) -> Iterator[tuple[Piece, CornerWork]]:
    """The tongues on the front edges, into the back of the face frame.

    They are sawn along the whole edge; what of a tongue stands behind a stile is sawn away by hand afterwards.
    """
    for piece in layout.of(*CASE_ROLES):
        for work in works_of(layout, piece):
            tongue = _tongue(work, "front tongue", "front edge", figures) if work.on is Surface.FRONT else None
            if tongue:
                yield piece, tongue


def _tongue(tongue: Work, word: str, edge: str, figures: Figures) -> CornerWork | None:
    """The notches that leave a tongue; None where the part enters whole."""
    piece, thick = tongue.board, tongue.thick
    if thick is None or not any(tongue.shoulders):
        return None
    check = f"the tongue is {figures(thick.size)} thick and {figures(tongue.depth)} long"
    return CornerWork(word, edge, piece.stock.thickness, _notches(tongue), check)


def _notches(tongue: Work) -> tuple[Notch, ...]:
    """A notch in each face that has a shoulder; one for both where they are alike. A right side has the left one's."""
    low, high = tongue.shoulders
    if low == high:
        return (Notch(EACH_FACE, EACH_FACE, tongue.depth, low),)
    faces = faces_of(tongue.board)
    both = (Notch(faces.low, faces.high, tongue.depth, low), Notch(faces.high, faces.low, tongue.depth, high))
    return tuple(notch for notch in (reversed(both) if tongue.board.is_right else both) if notch.deep)
