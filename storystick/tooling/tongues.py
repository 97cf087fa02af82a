"""Tongues and rabbets at the table saw: the notches at an end or an edge that make them.

A notch is cut with the part flat on the table, its end or edge on the fence. A cutter as wide as the notch takes it in
one pass, what is too much of it buried in a facing; a narrower one takes it in passes side by side, the first at the
shoulder. Nothing comes loose: what is cut away hangs on what is left standing above it, until it is dust.

Only where that takes many passes is the part stood on its end or edge, and only if it is small both ways and stands
safely; a larger one lies flat for as many passes as it takes. The first cut is then made flat and frees nothing, and
the second standing, with the whole face on the fence, so that the waste is on the open side of the blade and falls
free.

One that stops is not for the saw: see ``guided``.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction
from math import ceil
from typing import ClassVar, Final

from storystick.job.tools import Purpose, Saw
from storystick.job.usual_joint import UsualJoint
from storystick.layout.cabinets.pieces import Piece
from storystick.layout.cabinets.works import ENDS, Surface, Work, WorkKind, width_of
from storystick.lengths import Figures
from storystick.tooling.cautions import ACROSS, FACING, IN_PASSES, ON_EDGE, ON_END, TALLEST_ON_END, Caution
from storystick.tooling.setups import INSIDE, OUTSIDE, Posture, Removed, SawCut, faces_of

EACH_FACE: Final = "each face in turn"
MOST_AT_END: Final = 6
MOST_AT_EDGE: Final = 3
"""A notch that takes more passes than these is cut standing, where the part may stand: judgement, no source. At an end,
all passes are run from one setting of the fence; at an edge, each has its own."""

_NOTHING: Final = Fraction(0)


class Corner(Enum):
    """Where a part loses something at the saw."""

    END = "end"
    FRONT = "front edge"
    BACK = "back edge"
    EDGE = "edge"


@dataclass(frozen=True, slots=True)
class Notch:
    """What ``face`` loses at an end or edge: ``along`` mm of its length or width, ``deep`` mm of the thickness.

    ``other`` is the face opposite; for a notch that both have, cut in each face in turn, both say so.
    """

    face: str
    other: str
    along: Fraction
    deep: Fraction

    @property
    def in_each(self) -> bool:
        """Whether both faces have it."""
        return self.face == self.other

    def passes(self, kerf: Fraction) -> int:
        """In how many passes a cutter ``kerf`` mm wide takes it, flat and side by side."""
        return ceil(self.along / kerf)


def may_stand(tall: Fraction, base: Fraction, highest: Fraction) -> bool:
    """Whether a part that would stand ``tall`` on ``base`` of its end or edge (mm) is small enough, and stands safely.

    Neither its height nor its length along the fence is more than ``highest``.
    """
    return max(tall, base) <= highest and tall <= TALLEST_ON_END * base


@dataclass(frozen=True, slots=True)
class CornerWork:
    """The notches at an end or edge of parts ``thickness`` mm thick, and what to measure when all are cut.

    ``edge`` is the end or edge. ``stands`` is whether the part may be stood on it.
    """

    widest: ClassVar[Fraction | None] = None

    work: str
    edge: Corner
    thickness: Fraction
    notches: tuple[Notch, ...]
    check: str
    stands: bool = True
    purpose: Purpose = Purpose.TONGUES

    @property
    def at_end(self) -> bool:
        return self.edge is Corner.END

    @property
    def is_end_rabbet(self) -> bool:
        return self.at_end and self.purpose is Purpose.RABBETS

    @property
    def width(self) -> Fraction:
        """How far along the part it reaches."""
        return max(notch.along for notch in self.notches)

    def settled(self, board: Piece, highest: Fraction, /) -> CornerWork:
        """As it is cut in a board: standing where that may be; an end rabbet never, being wide and shallow."""
        tall, base = (board.length, width_of(board)) if self.at_end else (width_of(board), board.length)
        return replace(self, stands=not self.is_end_rabbet and may_stand(tall, base, highest))

    def cuts(self, part: str, saw: Saw, figures: Figures) -> Iterator[SawCut]:
        """The cuts in working order: all that are made flat, then those that free the waste."""
        standing = [notch for notch in self.notches if self.needs_standing(notch, saw.kerf)]
        last = (standing or self.notches)[-1]
        for notch in self.notches:
            if notch in standing:
                yield self._slot(notch, part, saw, figures)
            else:
                yield from self._flat_cuts(notch, part, saw, figures, self.check if notch is last else "")
        for notch in standing:
            yield self._standing_cut(notch, part, saw, self.check if notch is last else "")

    def needs_standing(self, notch: Notch, kerf: Fraction) -> bool:
        """Whether a notch is cut with the part standing: it may stand, and flat it would be many passes."""
        return self.stands and notch.passes(kerf) > (MOST_AT_END if self.at_end else MOST_AT_EDGE)

    def _flat_cuts(self, notch: Notch, part: str, saw: Saw, figures: Figures, check: str) -> Iterator[SawCut]:
        """The whole of a notch: at an end from one setting, at an edge from one a pass, its far side evenly nearer."""
        passes = notch.passes(saw.kerf)
        settings = 1 if self.at_end else passes
        for number in range(settings):
            far = notch.along * (passes - number) / passes
            words = f"pass {number + 1} of {settings}" if settings > 1 else "in passes" if passes > 1 else "in one pass"
            measured = self._measure(notch, figures) if number == 0 else ""
            taken = (Removed(far, _NOTHING, notch.along, notch.deep),) if number else ()
            yield SawCut(
                part,
                self.work,
                words,
                saw.name,
                height=notch.deep,
                fence_near=far - saw.kerf,
                fence_far=far,
                down=notch.face,
                against=self.edge.value,
                check="; ".join(filter(None, (measured, check if number == settings - 1 else ""))),
                posture=Posture.FLAT,
                thickness=self.thickness,
                cautions=self._flat_cautions(far - saw.kerf, passes if settings == 1 else 1),
                passes=passes if settings == 1 else 1,
                gone=(*self._gone_above(notch), *taken),
            )

    def _slot(self, notch: Notch, part: str, saw: Saw, figures: Figures) -> SawCut:
        """The shoulder of a notch whose waste a standing cut will free."""
        near = notch.along - saw.kerf
        return SawCut(
            part,
            self.work,
            "flat",
            saw.name,
            height=notch.deep,
            fence_near=near,
            fence_far=notch.along,
            down=notch.face,
            against=self.edge.value,
            check=self._measure(notch, figures),
            posture=Posture.FLAT,
            thickness=self.thickness,
            cautions=self._flat_cautions(near, 1),
            gone=tuple(self._gone_above(notch)),
        )

    def _measure(self, notch: Notch, figures: Figures) -> str:
        return f"{figures(notch.deep)} deep, {figures(notch.along)} from the {self.edge.value}"

    def _flat_cautions(self, near: Fraction, passes: int) -> tuple[Caution, ...]:
        wanted = {ACROSS: self.at_end, IN_PASSES: passes > 1, FACING: near <= 0}
        return tuple(caution for caution, is_wanted in wanted.items() if is_wanted)

    def _standing_cut(self, notch: Notch, part: str, saw: Saw, check: str) -> SawCut:
        near = self.thickness - notch.deep
        return SawCut(
            part,
            self.work,
            "standing",
            saw.name,
            height=notch.along,
            fence_near=near,
            fence_far=near + saw.kerf,
            down=self.edge.value,
            against=notch.other,
            check=check,
            posture=Posture.STANDING,
            thickness=self.thickness,
            cautions=(ON_END if self.at_end else ON_EDGE,),
            gone=tuple(self._gone_before_standing(notch, saw)),
            waste=self._waste(notch, saw),
        )

    def _gone_above(self, notch: Notch) -> Iterator[Removed]:
        """What the other face has lost, seen with the notch's face on the table."""
        for other in self.notches[: self.notches.index(notch)]:
            yield Removed(_NOTHING, self.thickness - other.deep, other.along, self.thickness)

    def _gone_before_standing(self, notch: Notch, saw: Saw) -> Iterator[Removed]:
        """What the flat cuts took, seen with the notch's face away from the fence."""
        for other in self.notches:
            left = self.thickness - other.deep if other is notch else _NOTHING
            yield Removed(left, self._low(other, saw), left + other.deep, other.along)
        if notch.in_each:
            yield Removed(_NOTHING, self._low(notch, saw), notch.deep, notch.along)

    def _low(self, notch: Notch, saw: Saw) -> Fraction:
        return notch.along - saw.kerf if self.needs_standing(notch, saw.kerf) else _NOTHING

    def _waste(self, notch: Notch, saw: Saw) -> Removed | None:
        left, top = self.thickness - notch.deep + saw.kerf, notch.along - saw.kerf
        if left >= self.thickness:
            return None
        return Removed(left, _NOTHING, self.thickness, top)


def end_tongue(work: Work, figures: Figures) -> CornerWork | None:
    """The tongue on an end of a part, the tenon or the lap on one of a frame's members."""
    words = work.joint.sawn_end if work.joint else UsualJoint.sawn_end
    return _tongue(work, words, Corner.END, figures) if work.on in ENDS else None


def front_tongue(work: Work, figures: Figures) -> CornerWork | None:
    """The tongue on a front edge, into the back of the face frame.

    It is sawn along the whole edge; what of it stands behind a stile is sawn away by hand afterwards.
    """
    return _tongue(work, "front tongue", Corner.FRONT, figures) if work.on is Surface.FRONT else None


def _tongue(tongue: Work, words: str, edge: Corner, figures: Figures) -> CornerWork | None:
    """The notches that leave a tongue; None where the part enters whole, or what enters is none that a saw leaves."""
    if tongue.kind is not WorkKind.TONGUE or tongue.thick is None or not any(tongue.shoulders):
        return None
    if not (tongue.joint and tongue.joint.is_sawn):
        return None
    return CornerWork(
        words,
        edge,
        tongue.board.stock.thickness,
        _notches(tongue),
        check=f"the {words.split()[-1]} is {figures(tongue.thick.size)} thick and {figures(tongue.depth)} long",
    )


def _notches(tongue: Work) -> tuple[Notch, ...]:
    """A notch in each face that has a shoulder; one for both where they are alike. A right side has the left one's."""
    low, high = tongue.shoulders
    if low == high:
        return (Notch(EACH_FACE, EACH_FACE, tongue.depth, low),)
    faces = faces_of(tongue.board)
    both = (Notch(faces.low, faces.high, tongue.depth, low), Notch(faces.high, faces.low, tongue.depth, high))
    return tuple(notch for notch in (reversed(both) if tongue.board.is_right else both) if notch.deep)


def back_rabbet(work: Work, figures: Figures) -> CornerWork | None:
    """The rabbet along the back edge of a side; both are cut alike, their inside faces down."""
    if not _is_through(work) or not work.along_board or work.at_edge:
        return None
    notch, standing = Notch(INSIDE, OUTSIDE, work.width, work.depth), "left standing outside"
    return _rabbet(work, "back rabbet", Corner.BACK, notch, standing, figures)


def end_rabbet(work: Work, figures: Figures) -> CornerWork | None:
    """The rabbet at an end of a board, as wide as the part that lies in it."""
    if not _is_through(work) or work.along_board:
        return None
    low, high = faces_of(work.board)
    face, other = (high, low) if work.on is Surface.HIGH else (low, high)
    return _rabbet(work, "end rabbet", Corner.END, Notch(face, other, work.width, work.depth), "left standing", figures)


def _is_through(work: Work) -> bool:
    return work.kind is WorkKind.RABBET and not work.is_stopped


def _rabbet(work: Work, words: str, edge: Corner, notch: Notch, standing: str, figures: Figures) -> CornerWork:
    thickness = work.board.stock.thickness
    check = f"{figures(thickness - work.depth)} is {standing}, and the rabbet is {figures(work.width)} wide"
    return CornerWork(words, edge, thickness, (notch,), check, purpose=Purpose.RABBETS)
