"""Cases whose parts cannot be brought together in any order: some slide in, and others hold where these go."""

from __future__ import annotations

from collections.abc import Iterator

from storystick.errors import Fault, as_written
from storystick.gluing.joints import case_joints
from storystick.gluing.order import LockedError, closings_of
from storystick.layout.cabinets.pieces import CASE_ROLES, CabinetLayout
from storystick.layout.cabinets.sliding import is_slid
from storystick.wording import by_number, listed


def locked_faults(layout: CabinetLayout) -> Iterator[Fault]:
    """Looked for where something of the case goes on along the depth; all else can be pressed home."""
    if not layout.crossings and not any(map(is_slid, layout.of(*CASE_ROLES))):
        return
    try:
        closings_of(case_joints(layout))
    except LockedError as locked:
        names = listed([as_written(name) for name in by_number(piece.name for piece in locked.pieces)])
        yield Fault(
            f"{names} cannot be brought together in any order: some slide in along "
            "the depth, where dowels or the like hold the others",
            "give what has dowels, biscuits or loose tenons a housing or screws, or let nothing slide in",
        )
