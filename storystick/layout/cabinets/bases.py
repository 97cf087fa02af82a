"""Bases: for each kind how high the case stands, its pieces and what it takes of the sides. Exact, in mm."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Final

from storystick.errors import Fault
from storystick.job.cabinets import Cabinet
from storystick.job.cases import EndPlace, Plinth, Toe
from storystick.layout.cabinets.pieces import Axis, CabinetLayout, Case, Piece, Range, Role
from storystick.layout.cabinets.works import Surface, Work, WorkKind
from storystick.lengths import Figures


class Base:
    """No base: the case stands on the floor. Each kind below says what is otherwise with it."""

    @property
    def foot(self) -> Fraction:
        """How high above the floor the case begins."""
        return Fraction(0)

    @property
    def toe(self) -> Fraction:
        """How high above the foot of the case its bottom lies."""
        return Fraction(0)

    def pieces(self, _cabinet: Cabinet, _case: Case, /) -> Iterator[Piece]:
        """Its own pieces, under the case."""
        yield from ()

    def notches(self, _layout: CabinetLayout, _board: Piece, /) -> Iterator[Work]:
        """What it takes of a board of the case."""
        yield from ()

    def faults(self, _layout: CabinetLayout, _figures: Figures, /) -> Iterator[Fault]:
        """Why it cannot be built so."""
        yield from ()


@dataclass(frozen=True, slots=True)
class _ToeSpace(Base):
    """The sides run to the floor, their feet cut back in front."""

    rule: Toe

    @property
    def toe(self) -> Fraction:
        return self.rule.height

    def notches(self, layout: CabinetLayout, board: Piece, /) -> Iterator[Work]:
        """What the foot of a side loses in front, right through its thickness."""
        deep = board.front_tongue + self.rule.recess
        if board.role is Role.SIDE and board.z.start < layout.bottom.z.start and deep:
            across, along = Range(Fraction(0), deep), Range(Fraction(0), self.rule.height)
            yield Work(WorkKind.NOTCH, Surface.FRONT, board, board, along, across, board.stock.thickness)

    def faults(self, layout: CabinetLayout, figures: Figures, /) -> Iterator[Fault]:
        if layout.cabinet.bottom.place is EndPlace.OVER:
            yield Fault(
                "the bottom lies under the sides, so there is no toe space", 'give a plinth, or place = "between"'
            )
        yield from _recess_fits(self.rule.recess, layout.case.y.size, figures)


@dataclass(frozen=True, slots=True)
class _OnPlinth(Base):
    """The case stands on four pieces of its own, the front and the back one as long as the case is wide."""

    rule: Plinth

    @property
    def foot(self) -> Fraction:
        return self.rule.height

    def pieces(self, cabinet: Cabinet, case: Case, /) -> Iterator[Piece]:
        thick = self.rule.stock.thickness
        front, back = (Range(start, start + thick) for start in (case.y.start + self.rule.recess, case.y.end - thick))
        for name, y in (("plinth front", front), ("plinth back", back)):
            yield self._piece(cabinet, name, Axis.X, case.x, y)
        # A recess that leaves no room between them is told as a fault later.
        if front.end < back.start:
            for name, start in (("plinth left end", case.x.start), ("plinth right end", case.x.end - thick)):
                yield self._piece(cabinet, name, Axis.Y, Range(start, start + thick), Range(front.end, back.start))

    def _piece(self, cabinet: Cabinet, name: str, axis: Axis, x: Range, y: Range) -> Piece:
        z, stock = Range(Fraction(0), self.rule.height), self.rule.stock
        return Piece(cabinet=cabinet, role=Role.PLINTH, name=name, stock=stock, axis=axis, x=x, y=y, z=z)

    def faults(self, layout: CabinetLayout, figures: Figures, /) -> Iterator[Fault]:
        yield from _recess_fits(self.rule.recess, layout.case.y.size - 2 * self.rule.stock.thickness, figures)


_KINDS: Final[Mapping[type, Callable[[Any], Base]]] = {Toe: _ToeSpace, Plinth: _OnPlinth}


def base_of(cabinet: Cabinet) -> Base:
    """The base of a cabinet as the layout sees it, by what the job says of it."""
    return _KINDS[type(cabinet.base)](cabinet.base) if cabinet.base else Base()


def _recess_fits(recess: Fraction, room: Fraction, figures: Figures) -> Iterator[Fault]:
    if recess >= room:
        yield Fault(
            f"the recess of {figures(recess)} leaves nothing of the depth, of which {figures(room)} can be had",
            f"make the recess less than {figures.at_most(room)}",
        )
