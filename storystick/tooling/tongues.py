"""Tongues on the ends of the case's parts, and on the front edges that enter a face frame."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from storystick.job.joints import Joint
from storystick.layout.cabinets.model import CabinetLayout, Piece, Role
from storystick.lengths import Figures
from storystick.tooling.corners import EACH_FACE, END, CornerWork, Notch, may_stand_on_end
from storystick.tooling.faces import faces_of

CASE_ROLES = frozenset({Role.SIDE, Role.TOP, Role.BOTTOM, Role.SHELF, Role.DIVIDER})


def end_tongues(layout: CabinetLayout, figures: Figures) -> Iterator[tuple[Piece, CornerWork]]:
    """The tongues on the ends of each part, alike ones once."""
    for piece in layout.of(*CASE_ROLES):
        endings = (piece.low, piece.high) if piece.low != piece.high else (piece.low,)
        works = (_tongue(piece, ending.joint, ending.beyond, "end tongue", END, figures) for ending in endings)
        for work in dict.fromkeys(works):
            if work:
                yield piece, work


def front_tongues(layout: CabinetLayout, figures: Figures) -> Iterator[tuple[Piece, CornerWork]]:
    """The tongues on the front edges, into the back of the face frame."""
    joint = layout.cabinet.frame.joint if layout.cabinet.frame else None
    for piece in layout.of(*CASE_ROLES):
        work = _tongue(piece, joint, piece.front_tongue, "front tongue", "front edge", figures)
        if work:
            yield piece, work


def _tongue(
    piece: Piece, joint: Joint | None, length: Fraction, work: str, edge: str, figures: Figures
) -> CornerWork | None:
    """The notches that leave the tongue of a joint; None where the part enters whole, or not at all."""
    thickness = piece.stock.thickness
    groove = joint.groove(thickness) if joint else None
    if groove is None or not length or groove[1] - groove[0] == thickness:
        return None
    width = figures(groove[1] - groove[0])
    check = f"the tongue is {width} thick and {figures(length)} long"
    stands = edge != END or may_stand_on_end(piece, figures)
    return CornerWork(work, edge, thickness, _notches(piece, groove, length), check, stands)


def _notches(piece: Piece, groove: tuple[Fraction, Fraction], length: Fraction) -> tuple[Notch, ...]:
    """A notch in each face that has a shoulder; one for both where they are alike."""
    low, high = groove[0], piece.stock.thickness - groove[1]
    if low == high:
        return (Notch(EACH_FACE, EACH_FACE, length, low),)
    faces = faces_of(piece)
    both = (Notch(faces.low, faces.high, length, low), Notch(faces.high, faces.low, length, high))
    return tuple(notch for notch in both if notch.deep)
