"""Backs: for each kind how deep it sits, where it lies and what is cut for it. Lengths are exact, in mm."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Final

from storystick.errors import Fault
from storystick.job.cabinets import Cabinet
from storystick.job.cases import GrooveBack, LaidOnBack, RabbetBack
from storystick.job.openings import Stock
from storystick.layout.cabinets.pieces import OUTER_ROLES, Axis, Case, Piece, Range, Role
from storystick.layout.cabinets.works import Work, WorkKind, front_of, inside_of, on_board, width_of, work_along
from storystick.lengths import Figures


class Back:
    """No back at all; each kind below says what is otherwise with it."""

    @property
    def behind(self) -> Fraction:
        """What of it stands behind the case."""
        return Fraction(0)

    @property
    def taken(self) -> Fraction:
        """How far its front face lies before the back edge of the case."""
        return Fraction(0)

    @property
    def stops_ends(self) -> bool:
        """Whether a top and a bottom that stand between the sides end at its front face."""
        return False

    @property
    def gap(self) -> Fraction:
        """By how much it ends short of the bottom of each groove that it stands in."""
        return Fraction(0)

    @property
    def is_fastened(self) -> bool:
        """Whether it is put on the finished case and fastened, and not held in grooves from the case's glue-up on."""
        return False

    @property
    def waits_for_paint(self) -> bool:
        """Whether it is fastened only when all is painted."""
        return False

    def pieces(self, _case: Case, _side: Piece, /) -> Iterator[Piece]:
        """The back in its case, ``side`` being one of that."""
        yield from ()

    def cuts(self, _back: Piece, _board: Piece, /) -> Iterator[Work]:
        """What is cut for the back along a board of the case."""
        yield from ()

    def faults(self, _figures: Figures, /) -> Iterator[Fault]:
        """Why it cannot be built so, whatever the case is made of."""
        yield from ()


@dataclass(frozen=True, slots=True)
class _InRabbet(Back):
    """In rabbets along the back edges of the sides; top and bottom end before it."""

    rule: RabbetBack

    @property
    def taken(self) -> Fraction:
        return self.rule.width

    @property
    def stops_ends(self) -> bool:
        return True

    @property
    def is_fastened(self) -> bool:
        return True

    @property
    def waits_for_paint(self) -> bool:
        return self.rule.after_painting

    def pieces(self, case: Case, side: Piece, /) -> Iterator[Piece]:
        """As high as the sides are, but not into a toe space."""
        z = Range(max(side.z.start, case.bottom_z.start), side.z.end)
        yield _back(self.rule.stock, _widened(case.inside_x, self.rule.depth), z, case, side)

    def cuts(self, back: Piece, board: Piece, /) -> Iterator[Work]:
        """As long as the back is: it stops at a shoulder too, where the groove of the other would be open behind."""
        along = on_board(board, back.z)
        if board.role is Role.SIDE and along:
            across = Range(width_of(board) - self.rule.width, width_of(board))
            yield work_along(WorkKind.RABBET, inside_of(board), board, back, along, across, self.rule.depth)

    def faults(self, figures: Figures, /) -> Iterator[Fault]:
        thick, wide = self.rule.stock.thickness, self.rule.width
        if thick > wide:
            yield Fault(
                f"the back is {figures(thick)} thick and will not enter its rabbet, which is {figures(wide)} wide",
                "make rabbet_width at least as much as the back is thick",
            )


@dataclass(frozen=True, slots=True)
class _InGrooves(Back):
    """In grooves as wide as itself, in sides, top and bottom."""

    rule: GrooveBack

    @property
    def taken(self) -> Fraction:
        return self.rule.inset + self.rule.stock.thickness

    @property
    def gap(self) -> Fraction:
        return self.rule.gap

    def pieces(self, case: Case, side: Piece, /) -> Iterator[Piece]:
        x, z = (_widened(inside, self.rule.depth - self.gap) for inside in (case.inside_x, case.inside_z))
        yield _back(self.rule.stock, x, z, case, side)

    def cuts(self, back: Piece, board: Piece, /) -> Iterator[Work]:
        """To the bottoms of the grooves that it meets; what would be left standing inside a joint is cut as well."""
        length = back.z if board.role is Role.SIDE else back.x
        along = on_board(board, _widened(length, self.gap))
        if board.role not in OUTER_ROLES or along is None:
            return
        along = Range(
            Fraction(0) if along.start <= board.low.beyond else along.start,
            board.length if along.end >= board.length - board.high.beyond else along.end,
        )
        across = Range(back.y.start - front_of(board), back.y.end - front_of(board))
        yield work_along(WorkKind.GROOVE, inside_of(board), board, back, along, across, self.rule.depth)


@dataclass(frozen=True, slots=True)
class _LaidOn(Back):
    """On the back edges of the case, as wide and as high as that."""

    rule: LaidOnBack

    @property
    def behind(self) -> Fraction:
        return self.rule.stock.thickness

    @property
    def is_fastened(self) -> bool:
        return True

    @property
    def waits_for_paint(self) -> bool:
        return self.rule.after_painting

    def pieces(self, case: Case, side: Piece, /) -> Iterator[Piece]:
        yield _back(self.rule.stock, case.x, Range(case.bottom_z.start, case.z.end), case, side)


_KINDS: Final[Mapping[type, Callable[[Any], Back]]] = {
    RabbetBack: _InRabbet,
    GrooveBack: _InGrooves,
    LaidOnBack: _LaidOn,
}


def back_of(cabinet: Cabinet) -> Back:
    """The back of a cabinet as the layout sees it, by what the job says of it."""
    return _KINDS[type(cabinet.back)](cabinet.back) if cabinet.back else Back()


def _back(stock: Stock, x: Range, z: Range, case: Case, side: Piece) -> Piece:
    front = case.inner_y.end
    y = Range(front, front + stock.thickness)
    return Piece(cabinet=side.cabinet, role=Role.BACK, name="back", stock=stock, axis=Axis.Z, x=x, y=y, z=z)


def _widened(inside: Range, by: Fraction) -> Range:
    return Range(inside.start - by, inside.end + by)
