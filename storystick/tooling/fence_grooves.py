"""Grooves guided by a fence, at a saw or a router table: those for the back, and those in the back of a frame.

Only those that run right through: what stops is in ``guided``. Both of a pair have the same edge on the fence, the back
edge of sides and the outer edge of stiles, so that they come out mirrored from one setting.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import ClassVar, Final

from storystick.job.tools import Purpose, Saw
from storystick.layout.cabinets.pieces import CASE_ROLES, FRAME_ROLES, CabinetLayout, Piece, Role
from storystick.layout.cabinets.working import works_of
from storystick.layout.cabinets.works import Work, WorkKind
from storystick.lengths import Figures
from storystick.tooling.bits import AT_SAW, fit_to_try
from storystick.tooling.part_words import INSIDE
from storystick.tooling.setups import Cutout, Posture, SawCut

_FENCE_FARTHER: Final = "run another pass with the fence so much farther off"
_EDGE: Final = {
    Role.STILE: "outer edge",
    Role.RAIL: "lower edge",
    Role.MID_STILE: "left edge, seen from the front",
}


@dataclass(frozen=True, slots=True)
class FenceGroove:
    """A groove along a part, in mm: ``near`` is from the fence to the groove's near edge.

    ``fit`` is by how much it is wider than what goes into it.
    """

    purpose: ClassVar[Purpose] = Purpose.GROOVES

    work: str
    thickness: Fraction
    near: Fraction
    width: Fraction
    depth: Fraction
    down: str
    against: str
    fit: Fraction = Fraction(0)

    def settings(self, cutter: Fraction) -> tuple[Fraction, ...]:
        """From the fence to the near side of a cutter this wide, pass by pass; empty where it is wider than the groove.

        The first pass cuts the near edge and the last one the far edge, evenly, and each overlaps the one before it, or
        touches it. A cutter that is some thousandths wider than the groove cuts it at once, and so does one that is
        narrower by no more than the fit.
        """
        limits = AT_SAW.with_fit(self.fit)
        if cutter > self.width + limits.over:
            return ()
        if limits.takes_at_once(cutter, self.width):
            return (self.near,)
        last, steps = self.near + self.width - cutter, ceil(self.width / cutter) - 1
        return tuple(self.near + number * (last - self.near) / steps for number in range(steps + 1))

    def cuts(self, part: str, saw: Saw, figures: Figures) -> Iterator[SawCut]:
        """The passes, in order; none where the saw's kerf is wider than the groove."""
        near, far = (figures(at) for at in (self.near, self.near + self.width))
        check = (
            f"the groove is {figures(self.width)} wide and {figures(self.depth)} deep, "
            f"from {near} to {far} from the {self.against}"
        )
        settings = self.settings(saw.kerf)
        if len(settings) == 1 and (words := fit_to_try("the cutter", saw.kerf, self.width, figures, _FENCE_FARTHER)):
            check += f"; {words}"
        for number, setting in enumerate(settings, start=1):
            gone = (Cutout(self.near, Fraction(0), setting, self.depth),) if number > 1 else ()
            yield SawCut(
                part,
                f"{self.work}, pass {number} of {len(settings)}" if len(settings) > 1 else self.work,
                saw.name,
                height=self.depth,
                fence_near=setting,
                fence_far=setting + saw.kerf,
                down=self.down,
                against=self.against,
                check=check if number == len(settings) else "",
                posture=Posture.FLAT,
                thickness=self.thickness,
                gone=gone,
            )


def back_grooves(layout: CabinetLayout) -> Iterator[tuple[Piece, FenceGroove]]:
    """The groove for the back in sides, top and bottom, inside faces down and back edges on the fence."""
    for board, work in _grooves(layout, CASE_ROLES):
        yield board, at_fence(work, INSIDE, edge_of(board))


def frame_grooves(layout: CabinetLayout) -> Iterator[tuple[Piece, FenceGroove]]:
    """The grooves in the back of the frame, for what enters it in front; the outer edges of stiles are on the fence."""
    for member, work in _grooves(layout, FRAME_ROLES):
        yield member, at_fence(work, "back face", edge_of(member))


def edge_of(board: Piece) -> str:
    """The edge that cuts along a board are set by, and that runs on the fence."""
    return _EDGE.get(board.role, "back edge")


def _grooves(layout: CabinetLayout, roles: frozenset[Role]) -> Iterator[tuple[Piece, Work]]:
    """The grooves along boards of some roles that run right through, since the saw cuts no others."""
    for board in layout.of(*roles):
        for work in works_of(layout, board):
            if work.kind is WorkKind.GROOVE and work.along_board and not work.is_stopped:
                yield board, work


def at_fence(work: Work, down: str, against: str) -> FenceGroove:
    """A groove along a board as a fence guides it."""
    fit = work.joint.fit if work.joint else Fraction(0)
    return FenceGroove(work.words, work.board.stock.thickness, work.inset, work.width, work.depth, down, against, fit)
