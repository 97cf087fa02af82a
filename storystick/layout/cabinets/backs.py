"""Backs: what each kind is for the layout, a row a kind: how deep it sits, its pieces, works and faults."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Final

from storystick.errors import Fault
from storystick.job.backs import GrooveBack, LaidOnBack, RabbetBack
from storystick.job.cabinets import Cabinet
from storystick.layout.cabinets.pieces import OUTER_ROLES, Axis, Case, Piece, Range, Role
from storystick.layout.cabinets.works import Work, WorkKind, front_of, inside_of, on_board, width_of, work_along
from storystick.lengths import Figures

_NOTHING: Final = Fraction(0)


def _no_back(*_: object) -> Iterator[Any]:
    return iter(())


@dataclass(frozen=True, slots=True)
class Back:
    """A back as the layout sees it; what is said of none is the default.

    ``pieces`` gives it in its case, one side of which is known, and ``cuts`` what is cut for it along a board.
    ``behind`` is what of it stands behind the case, ``taken`` how far its front face lies before the case's back edge;
    ``stops_ends`` is whether a top and a bottom between the sides end at that. It ends short of the bottom of each
    groove by ``gap``. ``is_fastened`` is whether it is put on the finished case, and not held in grooves from the
    case's glue-up on; ``waits_for_paint`` whether that is when all is painted. ``faults`` says why it
    cannot be built so, whatever the case is made of.
    """

    pieces: Callable[[Case, Piece], Iterator[Piece]] = _no_back
    cuts: Callable[[Piece, Piece], Iterator[Work]] = _no_back
    behind: Fraction = _NOTHING
    taken: Fraction = _NOTHING
    stops_ends: bool = False
    gap: Fraction = _NOTHING
    is_fastened: bool = False
    waits_for_paint: bool = False
    faults: Callable[[Figures], Iterator[Fault]] = _no_back


def _in_rabbet(rule: RabbetBack) -> Back:
    """In rabbets along the back edges of the sides; top and bottom end before it."""

    def pieces(case: Case, side: Piece) -> Iterator[Piece]:
        """As high as the sides are, but not into a toe space."""
        z = Range(max(side.z.start, case.box_z.start), side.z.end)
        yield _back(rule, _widened(case.inside_x, rule.depth), z, case, side)

    def cuts(back: Piece, board: Piece) -> Iterator[Work]:
        """As long as the back is: it stops at a shoulder too, where the groove of the other would be open behind."""
        along = on_board(board, back.z)
        if board.role is Role.SIDE and along:
            across = Range(width_of(board) - rule.width, width_of(board))
            yield work_along(WorkKind.RABBET, inside_of(board), board, back, along, across, rule.depth)

    def faults(figures: Figures) -> Iterator[Fault]:
        thick, wide = rule.stock.thickness, rule.width
        if thick > wide:
            yield Fault(
                f"the back is {figures(thick)} thick and will not enter its rabbet, which is {figures(wide)} wide",
                "make rabbet_width at least as much as the back is thick",
            )

    return Back(
        pieces,
        cuts,
        taken=rule.width,
        stops_ends=True,
        is_fastened=True,
        waits_for_paint=rule.after_painting,
        faults=faults,
    )


def _in_grooves(rule: GrooveBack) -> Back:
    """In grooves as wide as itself, in sides, top and bottom."""

    def pieces(case: Case, side: Piece) -> Iterator[Piece]:
        """Where no board closes the case it goes on to that end of it, past the stretchers."""
        ends = side.cabinet
        x, z = (_widened(inside, rule.depth - rule.gap) for inside in (case.inside_x, case.inside_z))
        start = z.start if ends.bottom.is_board else case.box_z.start
        end = z.end if ends.top.is_board else case.box_z.end
        yield _back(rule, x, Range(start, end), case, side)

    def cuts(back: Piece, board: Piece) -> Iterator[Work]:
        """To the bottoms of the grooves that it meets; what would be left standing inside a joint is cut as well."""
        along = on_board(board, _widened(back.z if board.role is Role.SIDE else back.x, rule.gap))
        if board.role not in OUTER_ROLES or along is None or not board.y.overlaps(back.y):
            return
        along = Range(
            _NOTHING if along.start <= board.low.beyond else along.start,
            board.length if along.end >= board.length - board.high.beyond else along.end,
        )
        across = Range(back.y.start - front_of(board), back.y.end - front_of(board))
        yield work_along(WorkKind.GROOVE, inside_of(board), board, back, along, across, rule.depth)

    return Back(pieces, cuts, taken=rule.inset + rule.stock.thickness, gap=rule.gap)


def _laid_on(rule: LaidOnBack) -> Back:
    """On the back edges of the case, as wide and as high as that."""

    def pieces(case: Case, side: Piece) -> Iterator[Piece]:
        yield _back(rule, case.x, Range(case.box_z.start, case.z.end), case, side)

    return Back(pieces, behind=rule.stock.thickness, is_fastened=True, waits_for_paint=rule.after_painting)


_BACKS: Final[Mapping[type, Callable[[Any], Back]]] = {
    RabbetBack: _in_rabbet,
    GrooveBack: _in_grooves,
    LaidOnBack: _laid_on,
}


def back_of(cabinet: Cabinet) -> Back:
    """The back of a cabinet, by what the job says of it."""
    return _BACKS[type(cabinet.back)](cabinet.back) if cabinet.back else Back()


def _back(rule: RabbetBack | GrooveBack | LaidOnBack, x: Range, z: Range, case: Case, side: Piece) -> Piece:
    """The piece itself, from its front face on."""
    y = Range(case.inner_y.end, case.inner_y.end + rule.stock.thickness)
    return Piece(cabinet=side.cabinet, role=Role.BACK, name="back", stock=rule.stock, axis=Axis.Z, x=x, y=y, z=z)


def _widened(inside: Range, by: Fraction) -> Range:
    return Range(inside.start - by, inside.end + by)
