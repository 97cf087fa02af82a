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
from storystick.layout.cabinets.pieces import Piece, Role
from storystick.layout.cabinets.works import Surface, Work, WorkKind, edge_set_by
from storystick.lengths import Figures
from storystick.tooling.bars import AT_SAW, fit_to_try
from storystick.tooling.cautions import GROOVED_ON_EDGE
from storystick.tooling.setups import INSIDE, Posture, Removed, SawCut

_FENCE_FARTHER: Final = "run another pass with the fence so much farther off"


@dataclass(frozen=True, slots=True)
class FenceGroove:
    """A groove along a part, in mm: ``near`` is from the fence to the groove's near edge.

    ``fit`` is by how much it is wider than what goes into it. A groove in an edge is cut with the part standing.
    """

    purpose: ClassVar[Purpose] = Purpose.GROOVES
    at_end: ClassVar[bool] = False
    is_end_rabbet: ClassVar[bool] = False

    work: str
    thickness: Fraction
    near: Fraction
    width: Fraction
    depth: Fraction
    down: str
    against: str
    fit: Fraction = Fraction(0)
    posture: Posture = Posture.FLAT

    @property
    def widest(self) -> Fraction:
        """The widest cutter (mm) that cuts it."""
        return self.width + AT_SAW.over

    def settled(self, _board: Piece, _highest: Fraction, /) -> FenceGroove:
        """As it is cut in a board: flat, whatever that is."""
        return self

    def settings(self, cutter: Fraction) -> tuple[Fraction, ...]:
        """From the fence to the near side of a cutter this wide, pass by pass; empty where it is wider than the groove.

        The first pass cuts the near edge and the last one the far edge, evenly, and each overlaps the one before it, or
        touches it. A cutter that is some thousandths wider than the groove cuts it at once, and so does one that is
        narrower by no more than the fit.
        """
        if cutter > self.widest:
            return ()
        if AT_SAW.with_fit(self.fit).takes_at_once(cutter, self.width):
            return (self.near,)
        # The last pass ends at the far edge whatever the kerf, so that the passes differ and the width does not.
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
            gone = (Removed(self.near, Fraction(0), setting, self.depth),) if number > 1 else ()
            yield SawCut(
                part,
                self.work,
                f"pass {number} of {len(settings)}" if len(settings) > 1 else "",
                saw.name,
                height=self.depth,
                fence_near=setting,
                fence_far=setting + saw.kerf,
                down=self.down,
                against=self.against,
                check=check if number == len(settings) else "",
                posture=self.posture,
                cautions=(GROOVED_ON_EDGE,) if self.posture is Posture.STANDING else (),
                thickness=self.thickness,
                gone=gone,
            )


def back_groove(work: Work, _figures: Figures) -> FenceGroove | None:
    """The groove for the back in sides, top and bottom, inside faces down and back edges on the fence."""
    return at_fence(work, INSIDE) if _is_through(work) and work.on is not Surface.BACK else None


def frame_groove(work: Work, _figures: Figures) -> FenceGroove | None:
    """The groove in the back of the frame, for what enters it in front; the outer edges of stiles are on the fence."""
    return at_fence(work, "back face") if _is_through(work) and work.on is Surface.BACK else None


def edge_groove(work: Work, _figures: Figures) -> FenceGroove | None:
    """A groove in an edge of a board of a back or a member of a frame, which stands on it, one face on the fence."""
    if work.kind is not WorkKind.EDGE_GROOVE:
        return None
    return FenceGroove(
        work="edge groove",
        thickness=work.board.stock.thickness,
        near=work.across.start,
        width=work.width,
        depth=work.depth,
        down="edge that is grooved",
        against="front face" if work.at_edge else "upper face",
        posture=Posture.STANDING,
    )


def _is_through(work: Work) -> bool:
    """Whether it is a groove along its board that runs right through, since the saw cuts no others."""
    return work.kind is WorkKind.GROOVE and work.along_board and not work.is_stopped


def edge_of(board: Piece) -> str:
    """The edge of a board that runs on the fence, told for a member of the frame that lies on its face."""
    edge = edge_set_by(board)
    return f"{edge}, seen from the front" if board.role is Role.MID_STILE else edge


def at_fence(work: Work, down: str = "") -> FenceGroove:
    """A groove along a board as a fence guides it."""
    return FenceGroove(
        work=work.words,
        thickness=work.board.stock.thickness,
        near=work.inset,
        width=work.width,
        depth=work.depth,
        down=down,
        against=edge_of(work.board),
        fit=work.joint.fit if work.joint else Fraction(0),
    )
