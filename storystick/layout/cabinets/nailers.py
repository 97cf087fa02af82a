"""Nailers, or hanging rails: on edge between the sides, before the back, under the top and over the bottom.

Shelves and dividers keep their depth. Where dividers are in the way a nailer goes behind the back, if that stands in
grooves with room for it there, and else it is cut in lengths between them: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, pairwise
from typing import Final

from storystick.errors import Fault
from storystick.job.cabinets import Cabinet
from storystick.job.nailers import NailedAt, NailerRule
from storystick.layout.cabinets.outer import both_ends, case_piece
from storystick.layout.cabinets.pieces import Axis, Case, End, Piece, Range, Role
from storystick.layout.cabinets.skeleton import Skeleton
from storystick.lengths import Figures

_WORDS: Final = {NailedAt.TOP: "upper nailer", NailedAt.BOTTOM: "lower nailer"}


def nailers_of(cabinet: Cabinet, case: Case, skeleton: Skeleton, figures: Figures) -> tuple[Piece, ...]:
    """All nailers of a cabinet, from the top down, those in one line from the left.

    Raises:
        Fault: one stands where something else does; ``figures`` says the lengths.
    """
    maker = _Maker(cabinet, case, skeleton, figures)
    nailers = tuple(
        nailer for rule in cabinet.nailers for at in NailedAt if at in rule.at for nailer in maker.row(rule, at)
    )
    for one, other in combinations(nailers, 2):
        if all(one.along(axis).overlaps(other.along(axis)) for axis in Axis):
            over = min(one.z.end, other.z.end) - max(one.z.start, other.z.start)
            what = f"the {one.name} and the {other.name} run into each other by {figures(over)}"
            raise Fault(what, "make them narrower, or leave one of them out", "nailers")
    return nailers


@dataclass(frozen=True, slots=True)
class _Maker:
    cabinet: Cabinet
    case: Case
    skeleton: Skeleton
    figures: Figures

    def row(self, rule: NailerRule, at: NailedAt) -> Iterator[Piece]:
        """The nailer at one end of the case, in one length or several."""
        z = self._height(rule, at)
        before = Range(self.case.inner_y.end - rule.stock.thickness, self.case.inner_y.end)
        # One that is only partly as high is in the way, and told as that.
        uprights = [
            each
            for each in self._uprights(at)
            if each.y.overlaps(before) and each.z.start <= z.start and z.end <= each.z.end
        ]
        behind = self._behind(rule)
        y, ends = (before, uprights) if behind is None or len(uprights) == 2 else (behind, [uprights[0], uprights[-1]])
        for number, (left, right) in enumerate(pairwise(ends), start=1):
            name = f"{_WORDS[at]} {number}" if len(ends) > 2 else _WORDS[at]
            room = Range(left.x.end, right.x.start), y, z
            joined = both_ends((left, right), rule.joint)
            nailer = case_piece(self.cabinet, Role.NAILER, name, rule.stock, room, joined, None, on_edge=True)
            self._check_room(nailer)
            yield nailer

    def _uprights(self, at: NailedAt) -> tuple[Piece, ...]:
        return self.skeleton.uprights[-1 if at is NailedAt.TOP else 0]

    def _height(self, rule: NailerRule, at: NailedAt) -> Range:
        """Under what is at the back of that end of the case, or over it; at an open end flush with that."""
        end, case = End(at.value), self.case
        closing = [piece for piece in self.skeleton.pieces if piece.closes is end and piece.y.end >= case.inner_y.end]
        if at is NailedAt.TOP:
            top = min((piece.z.start for piece in closing), default=case.box_z.end)
            return Range(top - rule.width, top)
        foot = max((piece.z.end for piece in closing), default=case.box_z.start)
        return Range(foot, foot + rule.width)

    def _behind(self, rule: NailerRule) -> Range | None:
        """The room behind a back in grooves; None where there is none, or too little."""
        back, taken = self.cabinet.back, self.case.y.end - self.case.inner_y.end
        start = self.case.inner_y.end + (back.stock.thickness if back else Fraction(0))
        room = taken - (start - self.case.inner_y.end)
        closed = self.case.end_y.end == self.case.y.end and self.case.inner_y.end < self.case.y.end
        return Range(start, start + rule.stock.thickness) if closed and room >= rule.stock.thickness else None

    def _check_room(self, nailer: Piece) -> None:
        for piece in self.skeleton.pieces:
            if all(piece.along(axis).overlaps(nailer.along(axis)) for axis in Axis):
                over = min(nailer.z.end, piece.z.end) - max(nailer.z.start, piece.z.start)
                raise Fault(
                    f'the {nailer.name} is {self.figures(nailer.z.size)} wide and runs into "{piece.name}" by '
                    f"{self.figures(over)}",
                    f'make the nailer {self.figures.at_most(nailer.z.size - over)} wide or less, or move "{piece.name}"'
                    if over < nailer.z.size
                    else f'make "{piece.name}" less deep, or leave the nailer out there',
                    "nailers",
                )
