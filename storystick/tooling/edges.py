"""Tongues and laps along the edges of what a back is made of, at the saw or a router table."""

from __future__ import annotations

from typing import Final

from storystick.job.tools import Purpose
from storystick.layout.cabinets.works import Work, WorkKind
from storystick.lengths import Figures
from storystick.tooling.tongues import EACH_FACE, Corner, CornerWork, Notch

_AWAY: Final = "front face for the right edge, back face for the left"
_KEPT: Final = "back face for the right edge, front face for the left"
"""Of a lap: the faces that the rabbets are cut into, and those that stay whole."""


def edge_tongue(work: Work, figures: Figures) -> CornerWork | None:
    """A tongue along an edge, cut from each face in turn; None for any other work."""
    low, high = work.shoulders
    if not work.at_edge or work.kind is not WorkKind.TONGUE or low != high:
        return None
    thick = work.board.stock.thickness
    check = f"the tongue is {figures(thick - 2 * low)} thick and {figures(work.depth)} long"
    return CornerWork("edge tongue", Corner.EDGE, thick, (Notch(EACH_FACE, EACH_FACE, work.depth, low),), check)


def edge_lap(work: Work, figures: Figures) -> CornerWork | None:
    """The rabbets of a shiplap, the same at both edges: the board is turned over between them, not end for end.

    None for any other work.
    """
    if not work.at_edge or work.kind not in (WorkKind.TONGUE, WorkKind.RABBET) or not _is_lap(work):
        return None
    thick = work.board.stock.thickness
    wide = work.across.size
    check = f"{figures(thick / 2)} is left standing, half the thickness, and the rabbet is {figures(wide)} wide"
    notch = Notch(_AWAY, _KEPT, wide, thick / 2)
    return CornerWork("shiplap", Corner.EDGE, thick, (notch,), check, purpose=Purpose.RABBETS)


def _is_lap(work: Work) -> bool:
    """Whether half the thickness is cut away, from one face."""
    return work.kind is WorkKind.RABBET or 0 in work.shoulders
