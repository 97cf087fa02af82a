"""What a cabinet's sizes are sizes of: the case's clear openings, those seen in the face frame, or the fronts.

In each measure openings stand in a line, one gap between each two. A gap is as wide as what the measure sees there, and
says where the part of the case behind it lies; so the case follows from whatever was measured.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import zip_longest
from typing import Final

from storystick.errors import Fault, Where
from storystick.job.cabinets import Sizes
from storystick.job.openings import Graduated, Opening, Part, Stock
from storystick.job.reaching import FaceEdge
from storystick.layout.cabinets.cover import Cover
from storystick.layout.cabinets.laps import Laps, face_of, laps_of
from storystick.layout.cabinets.pieces import Range
from storystick.layout.solving import fills, solve_items
from storystick.lengths import Figures


@dataclass(frozen=True, slots=True)
class Gap:
    """What lies between two openings: ``size`` (mm), the part of the case in it ``thick`` and ``before`` it begins.

    ``before`` is less than 0 where the part begins before the gap does, behind the opening below or to the left.
    """

    size: Fraction
    before: Fraction
    thick: Fraction


@dataclass(frozen=True, slots=True)
class Place:
    """Where openings stand, or one of them: as it is ``measured``, and as the case leaves it ``clear``."""

    measured: Range
    clear: Range


_SAID: Final = {
    Sizes.CASE: "",
    Sizes.FRAME: ", as they are seen in the face frame between its members",
    Sizes.FRONTS: ", as the fronts and the gaps between them are",
}
"""What lengths in a fault are lengths of, where they are not the case's."""


@dataclass(frozen=True, slots=True)
class Measure:
    """A measure of one cabinet, of which ``cover`` knows the frame; ``laps`` are those of its fronts, if it has any."""

    sizes: Sizes
    cover: Cover
    laps: Laps | None
    figures: Figures

    def of_case(self) -> Measure:
        """The measure of what stands behind one front: the case's."""
        return Measure(Sizes.CASE, self.cover, self.laps, self.figures)

    def level(self, thick: Fraction, rail: Fraction | None = None) -> Gap:
        """Of a level part with its rail, which may have a width of its own."""
        width, below = self.cover.rail(thick, rail)
        return self._gap(thick, width, below)

    def upright(self, thick: Fraction) -> Gap:
        """Of a divider with its mid stile."""
        width = self.cover.mid_stile(thick)
        return self._gap(thick, width, (width - thick) / 2)

    def nothing(self) -> Gap:
        """Of nothing at all: fronts keep their reveal there."""
        return self._gap(Fraction(0), Fraction(0), Fraction(0))

    def _gap(self, thick: Fraction, member: Fraction, below: Fraction) -> Gap:
        """``below`` is how far the member reaches below its part, or to the left of it."""
        if self.sizes is Sizes.CASE:
            return Gap(thick, Fraction(0), thick)
        lap = self._laps.shared(member) if self.sizes is Sizes.FRONTS else Fraction(0)
        if 2 * lap > member:
            over = self.figures.apart(2 * lap - member)
            what = f"fronts would lie over each other by {over} where {self.figures(member)} stands between them"
            raise Fault(what, "make the overlay less", "fronts")
        return Gap(member - 2 * lap, below - lap, thick)

    @property
    def _laps(self) -> Laps:
        if self.laps is None:
            raise Fault(
                'sizes = "fronts", but the cabinet has no fronts',
                'give it fronts, or write sizes = "case"',
                Where.unsaid("sizes"),
            )
        return self.laps

    def whole(self) -> tuple[Place, Place]:
        """What all openings share across and upward."""
        cover, case = self.cover, self.cover.case
        if self.sizes is Sizes.CASE:
            return Place(case.inside_x, case.inside_x), Place(case.inside_z, case.inside_z)
        left, right = Range(case.x.start, case.inside_x.start), Range(case.inside_x.end, case.x.end)
        x = cover.side(left).end, cover.side(right).start
        z = cover.bottom()[1], cover.top()[0]
        if self.sizes is Sizes.FRONTS:
            across, up = face_of(cover.cabinet, case)
            x = self._widened(x, across, FaceEdge.LEFT, FaceEdge.RIGHT)
            z = self._widened(z, up, FaceEdge.BOTTOM, FaceEdge.TOP)
        return Place(self._range("width", *x), case.inside_x), Place(self._range("height", *z), case.inside_z)

    def _widened(
        self, opening: tuple[Fraction, Fraction], face: Range, low: FaceEdge, high: FaceEdge
    ) -> tuple[Fraction, Fraction]:
        """An opening with the laps of fronts over both its edges, of a face from its one outside to the other."""
        start, end = opening
        laps = self._laps
        return start - laps.outer(low, start - face.start), end + laps.outer(high, face.end - end)

    def _range(self, word: str, start: Fraction, end: Fraction) -> Range:
        if end <= start:
            what = f"the {word} is taken up by what lies round the openings{_SAID[self.sizes]}: nothing is left"
            raise Fault(what, f"make the {word} more, or the members of the frame narrower")
        return Range(start, end)

    def divide(
        self,
        items: Sequence[Opening | Graduated],
        gaps: Sequence[Gap],
        inside: Sequence[Gap],
        within: Place,
    ) -> list[tuple[Place, str | None]]:
        """Every opening in its place over a stretch, with the name that it was given.

        ``gaps`` lie between the items; ``inside``, where there are graduated groups, is what lies between the openings
        of each item.
        """
        measured = self._measured(items, gaps, inside, within.measured)
        between = [
            gap
            for item, own, over in zip_longest(items, inside, gaps)
            for gap in (*(own for _ in range(count_of(item) - 1)), over)
            if gap
        ]
        starts, ends = [within.clear.start], []
        for gap, (place, _) in zip(between, measured, strict=False):
            ends.append(place.end + gap.before)
            starts.append(place.end + gap.before + gap.thick)
        ends.append(within.clear.end)
        return [
            (Place(place, self._clear(start, end)), name)
            for (place, name), start, end in zip(measured, starts, ends, strict=True)
        ]

    def come_to(
        self, items: Sequence[Opening | Graduated], gaps: Sequence[Gap], inside: Sequence[Gap]
    ) -> Fraction | None:
        """What a line of openings takes as it is measured (mm); None where any of it shares what is left."""
        if any(map(fills, items)):
            return None
        solved = solve_items(self._spaced(items, gaps, inside), None, self.figures)
        return sum((row.size for row in solved), Fraction(0))

    def _measured(
        self, items: Sequence[Opening | Graduated], gaps: Sequence[Gap], inside: Sequence[Gap], within: Range
    ) -> list[tuple[Range, str | None]]:
        spaced = self._spaced(items, gaps, inside)
        places, at = [], within.start
        try:
            solved = solve_items(spaced, within.size, self.figures)
        except Fault as fault:
            raise Fault(fault.what + _SAID[self.sizes], fault.cure, fault.where) from None
        for row in solved:
            if row.part is None:
                places.append((Range(at, at + row.size), row.name))
            at += row.size
        return places

    @staticmethod
    def _spaced(
        items: Sequence[Opening | Graduated], gaps: Sequence[Gap], inside: Sequence[Gap]
    ) -> list[Opening | Graduated | Part]:
        """The items with what lies between them as parts."""
        whole = [
            replace(item, between=_as_part(own)) if own and isinstance(item, Graduated) else item
            for item, own in zip_longest(items, inside)
        ]
        return [thing for item, gap in zip_longest(whole, map(_as_part, gaps)) for thing in (item, gap) if thing]

    def _clear(self, start: Fraction, end: Fraction) -> Range:
        if end <= start:
            over = self.figures.apart(start - end)
            raise Fault(
                f"behind an opening that is so small the parts of the case would overlap by {over}",
                "make the opening larger",
            )
        return Range(start, end)


def measure_of(cover: Cover, figures: Figures) -> Measure:
    """The measure that a cabinet's sizes are in."""
    cabinet = cover.cabinet
    return Measure(cabinet.sizes, cover, laps_of(cabinet), figures)


def count_of(item: Opening | Graduated) -> int:
    """How many openings it is."""
    return item.count if isinstance(item, Graduated) else 1


def _as_part(gap: Gap) -> Part | None:
    """For the solver, to which whatever stands between two openings is a part."""
    return Part(Stock("", gap.size)) if gap.size else None
