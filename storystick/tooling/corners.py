"""Notches at an end or an edge of a part, cut at the table saw: the corners that a tongue or a rabbet loses.

A notch takes two cuts. The first is made flat, with the end or edge on the fence, and frees nothing. The second is made
with the part standing on that end or edge and the whole face on the fence, so that the waste is on the open side of the
blade and falls free.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.job.shop import Saw
from storystick.layout.cabinets.model import Piece
from storystick.lengths import Figures
from storystick.tooling.cautions import (
    ACROSS,
    FACING,
    IN_PASSES,
    LONGEST_ON_END,
    NARROWEST_ON_END,
    ON_END,
    TALLEST_ON_END,
)
from storystick.tooling.model import Cutout, Posture, SawCut

EACH_FACE: Final = "each face in turn"
END: Final = "end"
_NOTHING: Final = Fraction(0)


@dataclass(frozen=True, slots=True)
class Notch:
    """What ``face`` loses at an end or edge: ``along`` mm of its length or width, ``deep`` mm of the thickness.

    ``other`` is the face opposite.
    """

    face: str
    other: str
    along: Fraction
    deep: Fraction


def may_stand_on_end(piece: Piece, figures: Figures) -> bool:
    """Whether a part is short and wide enough to be stood on its end at the fence: common practice, no source."""
    return (
        piece.length <= LONGEST_ON_END[figures.units]
        and piece.y.size >= NARROWEST_ON_END[figures.units]
        and piece.length <= TALLEST_ON_END * piece.y.size
    )


@dataclass(frozen=True, slots=True)
class CornerWork:
    """The notches at an end or edge of parts ``thickness`` mm thick, and what to measure when they are cut.

    ``edge`` is the end or edge. ``stands`` is whether the part can be stood on it; ``caution`` goes with each cut.
    """

    work: str
    edge: str
    thickness: Fraction
    notches: tuple[Notch, ...]
    check: str
    stands: bool = True
    caution: str = ""

    def cuts(self, part: str, saw: Saw, figures: Figures) -> Iterator[SawCut]:
        """The cuts in working order: all that are made flat, then those that free the waste."""
        flat = [notch for notch in self.notches if not self.takes_at_once(notch, saw)]
        for notch in flat:
            yield self._flat_cut(notch, part, saw, figures)
        for notch in self.notches:
            if notch not in flat or (self.stands and notch.along > saw.kerf):
                yield self._standing_cut(notch, part, saw, flat)

    def takes_at_once(self, notch: Notch, saw: Saw) -> bool:
        """Whether the standing cut takes the whole notch, where the flat one would run into the fence."""
        return self.stands and notch.deep <= saw.kerf and notch.along <= saw.kerf

    def _flat_cut(self, notch: Notch, part: str, saw: Saw, figures: Figures) -> SawCut:
        near = notch.along - saw.kerf
        passes = 1 if self.stands or notch.along <= saw.kerf else notch.along // saw.kerf + 1
        words = "in passes" if passes > 1 else "flat" if near > 0 else "at once"
        measure = f"{figures(notch.deep)} deep, {figures(notch.along)} from the {self.edge}"
        cautions = [
            IN_PASSES if passes > 1 else ACROSS if self.edge == END else "",
            FACING if near <= 0 else "",
            self.caution,
        ]
        return SawCut(
            part,
            f"{self.work}, {words}",
            saw.name,
            height=notch.deep,
            fence_near=near,
            fence_far=notch.along,
            down=notch.face,
            against=self.edge,
            check=measure if self.stands and near > 0 else f"{measure}; {self.check}",
            posture=Posture.FLAT,
            thickness=self.thickness,
            caution=" ".join(filter(None, cautions)),
            passes=passes,
        )

    def _standing_cut(self, notch: Notch, part: str, saw: Saw, flat: list[Notch]) -> SawCut:
        near = self.thickness - notch.deep
        return SawCut(
            part,
            f"{self.work}, standing",
            saw.name,
            height=notch.along,
            fence_near=near,
            fence_far=near + saw.kerf,
            down=self.edge,
            against=notch.other,
            check=self.check,
            posture=Posture.STANDING,
            thickness=self.thickness,
            caution=" ".join(filter(None, (ON_END if self.edge == END else "", self.caution))),
            gone=tuple(self._gone(notch, saw, flat)),
            waste=self._waste(notch, saw),
        )

    def _gone(self, notch: Notch, saw: Saw, flat: list[Notch]) -> Iterator[Cutout]:
        """The slots of the flat cuts, seen with the notch's face away from the fence."""
        for other in flat:
            left = self.thickness - other.deep if other.face == notch.face else _NOTHING
            yield Cutout(left, max(other.along - saw.kerf, _NOTHING), left + other.deep, other.along)
        if notch.face == EACH_FACE and notch in flat:
            yield Cutout(_NOTHING, notch.along - saw.kerf, notch.deep, notch.along)

    def _waste(self, notch: Notch, saw: Saw) -> Cutout | None:
        left, top = self.thickness - notch.deep + saw.kerf, notch.along - saw.kerf
        if left >= self.thickness or top <= 0:
            return None
        return Cutout(left, _NOTHING, self.thickness, top)
