"""What is worked on every board of a cabinet: said here once, and read by strips, templates, list, set-ups and checks.

Joints, backs, toe notches and frames each bring their own works, in a table; stations are as in ``works``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from typing import Any, Final, TypeAlias

from storystick.job.cabinets import GrooveBack, RabbetBack, Toe
from storystick.job.joints import Joint
from storystick.layout.cabinets.pieces import (
    CASE_ROLES,
    FRAME_ROLES,
    OUTER_ROLES,
    CabinetLayout,
    Ending,
    Piece,
    Range,
    Role,
)
from storystick.layout.cabinets.works import CUTS, HoleRow, Surface, Work, WorkKind, front_of, width_of


def works_of(layout: CabinetLayout, board: Piece) -> tuple[Work, ...]:
    """All that is worked on a board but for its holes: what is let into it, its own tongues, and its toe notch."""
    makers = _MEMBER if board.role in FRAME_ROLES else _CASE if board.role in CASE_ROLES else ()
    return tuple(work for maker in makers for work in maker(layout, board))


def let_into(layout: CabinetLayout, board: Piece) -> Iterator[Work]:
    """What is cut across a board's faces, or into a member's edges, for the pieces that end there."""
    entries = _mortises if board.role in FRAME_ROLES else _entries
    return (work for work in entries(layout, board) if work.kind in CUTS)


def holes_of(layout: CabinetLayout, board: Piece) -> tuple[HoleRow, ...]:
    """The rows of holes of every opening that an upright is a side of, the front row of each before the back one."""
    if board.role not in {Role.SIDE, Role.DIVIDER}:
        return ()
    return tuple(
        HoleRow(
            surface,
            board,
            bay,
            name,
            into - front_of(board),
            tuple(height - board.low_end for height in bay.hole_heights()),
        )
        for bay in layout.bays
        for surface in (Surface.LOW, Surface.HIGH)
        if bay.is_bounded_by(board, surface is Surface.HIGH)
        for name, into in layout.hole_rows(bay)
    )


def _from(start: Fraction, found: Range) -> Range:
    return Range(found.start - start, found.end - start)


def _whole(board: Piece) -> Range:
    return Range(Fraction(0), width_of(board))


def _entries(layout: CabinetLayout, board: Piece) -> Iterator[Work]:
    """For every piece that ends on a board of the case: its groove or rabbet, or the line of its edges."""
    back_cuts = tuple(_back_cuts(layout, board))
    for piece, ending, high in layout.ends_on(board):
        on = Surface.HIGH if high else Surface.LOW
        across = _from(front_of(board), Range(front_of(piece), piece.y.end))
        taken = piece.within(ending.joint)
        if ending.joint is None or taken is None:
            edges = _from(board.low_end, piece.across)
            yield Work(WorkKind.LINE, on, board, piece, edges, across, Fraction(0), ending.joint)
            continue
        start = piece.across.start
        along = _on_board(board, Range(start + taken.start, start + taken.end))
        if along is None:
            continue
        kind = WorkKind.RABBET if ending.joint.at_end_only else WorkKind.GROOVE
        runs_out = any(_opens_into(cut, on, along, across, ending.joint.depth) for cut in back_cuts)
        stops = (across.start > 0, across.end < width_of(board) and not runs_out)
        yield Work(kind, on, board, piece, along, across, ending.joint.depth, ending.joint, stops=stops)


def _opens_into(cut: Work, on: Surface, along: Range, across: Range, depth: Fraction) -> bool:
    """Whether what lies so on a board runs out into a rabbet for the back that is at least as deep."""
    beside = cut.along.start <= along.start and along.end <= cut.along.end and across.end >= cut.across.start
    return cut.kind is WorkKind.RABBET and cut.on is on and beside and cut.depth >= depth


def _mortises(layout: CabinetLayout, board: Piece) -> Iterator[Work]:
    """The mortises in a member's edges; how a tenon lies in the thickness is left to the shop."""
    across = Range(Fraction(0), board.stock.thickness)
    for piece, ending, high in layout.ends_on(board):
        kind = WorkKind.MORTISE if ending.beyond else WorkKind.LINE
        on = Surface.HIGH if high else Surface.LOW
        yield Work(kind, on, board, piece, _from(board.low_end, piece.across), across, ending.beyond)


def _back_cuts(layout: CabinetLayout, board: Piece) -> Iterator[Work]:
    rule = layout.cabinet.back
    maker = _BACKS.get(type(rule))
    for back in layout.of(Role.BACK) if maker else ():
        if maker:
            yield from maker(rule, back, board)


def _back_rabbet(rule: RabbetBack, back: Piece, board: Piece) -> Iterator[Work]:
    """As long as the back is: it stops at a shoulder too, where the groove of the other would be left open behind."""
    along = _on_board(board, back.z)
    if board.role is Role.SIDE and along:
        across = Range(width_of(board) - rule.width, width_of(board))
        yield _along(WorkKind.RABBET, inside_of(board), board, back, along, across, rule.depth)


def _back_groove(rule: GrooveBack, back: Piece, board: Piece) -> Iterator[Work]:
    """To the bottoms of the grooves that it meets; what would be left standing inside a joint is cut as well."""
    length = back.z if board.role is Role.SIDE else back.x
    along = _on_board(board, Range(length.start - rule.gap, length.end + rule.gap))
    if board.role not in OUTER_ROLES or along is None:
        return
    along = Range(
        Fraction(0) if along.start <= board.low.beyond else along.start,
        board.length if along.end >= board.length - board.high.beyond else along.end,
    )
    across = _from(front_of(board), back.y)
    yield _along(WorkKind.GROOVE, inside_of(board), board, back, along, across, rule.depth)


def _along(
    kind: WorkKind,
    on: Surface,
    board: Piece,
    other: Piece,
    along: Range,
    across: Range,
    depth: Fraction,
    joint: Joint | None = None,
) -> Work:
    stops = (along.start > 0, along.end < board.length)
    return Work(kind, on, board, other, along, across, depth, joint, along_board=True, stops=stops)


def _on_board(board: Piece, stretch: Range) -> Range | None:
    """A stretch of the cabinet as it lies along the board; None where the board is not there."""
    low, high = max(stretch.start - board.low_end, Fraction(0)), min(stretch.end - board.low_end, board.length)
    return Range(low, high) if low < high else None


def inside_of(board: Piece) -> Surface:
    """The face of an outer board that looks into the case."""
    return Surface.LOW if board.role is Role.TOP or board.is_right else Surface.HIGH


def _end_tongues(_layout: CabinetLayout, board: Piece) -> Iterator[Work]:
    """What enters others at the board's own ends: tongues, tenons, or the whole of it."""
    ends: tuple[tuple[Surface, Ending, Fraction], ...] = (
        (Surface.LOW_END, board.low, Fraction(0)),
        (Surface.HIGH_END, board.high, board.length - board.high.beyond),
    )
    for on, ending, start in ends:
        if ending.on and ending.beyond:
            along = Range(start, start + ending.beyond)
            thick = board.entering(ending.joint)
            yield Work(WorkKind.TONGUE, on, board, ending.on, along, _whole(board), ending.beyond, ending.joint, thick)


def _front_tongue(layout: CabinetLayout, board: Piece) -> Iterator[Work]:
    """Where a member of the frame lies before the board; over a toe notch there is no edge to carry it."""
    frame, member = layout.cabinet.frame, layout.before(board)
    if frame is None or member is None or not board.front_tongue:
        return
    along = _on_board(board, member.along(member.axis))
    if along is None:
        return
    notched = next((notch.along.end for notch in _toe_notch(layout, board)), Fraction(0))
    yield Work(
        *(WorkKind.TONGUE, Surface.FRONT, board, member, along, Range(Fraction(0), board.front_tongue)),
        *(board.front_tongue, frame.joint, board.entering(frame.joint)),
        along_board=True,
        stops=(along.start > notched, along.end < board.length),
    )


def _frame_groove(layout: CabinetLayout, member: Piece) -> Iterator[Work]:
    """The groove in a member's back. It runs out at ends that lie on other members, where nobody sees it."""
    joint = layout.cabinet.frame.joint if layout.cabinet.frame else None
    board = member.covers
    taken = board.within(joint) if board else None
    if joint is None or board is None or taken is None:
        return
    shift, start = board.low_end - member.low_end, board.across.start - member.across.start
    for tongue in _front_tongue(layout, board):
        along = Range(
            Fraction(0) if member.low.on else tongue.along.start + shift,
            member.length if member.high.on else tongue.along.end + shift,
        )
        across = Range(start + taken.start, start + taken.end)
        yield _along(WorkKind.GROOVE, Surface.BACK, member, board, along, across, joint.depth, joint)


def _toe_notch(layout: CabinetLayout, board: Piece) -> Iterator[Work]:
    """What the foot of a side loses in front, right through its thickness."""
    toe = layout.cabinet.base
    if not isinstance(toe, Toe) or board.role is not Role.SIDE or board.z.start >= layout.bottom.z.start:
        return
    deep = board.front_tongue + toe.recess
    if deep:
        across, along = Range(Fraction(0), deep), Range(Fraction(0), toe.height)
        yield Work(WorkKind.NOTCH, Surface.FRONT, board, board, along, across, board.stock.thickness)


_Maker: TypeAlias = Callable[[CabinetLayout, Piece], Iterator[Work]]
_BACKS: Final[Mapping[type, Callable[[Any, Piece, Piece], Iterator[Work]]]] = {
    RabbetBack: _back_rabbet,
    GrooveBack: _back_groove,
}
_CASE: Final[tuple[_Maker, ...]] = (_back_cuts, _entries, _end_tongues, _front_tongue, _toe_notch)
_MEMBER: Final[tuple[_Maker, ...]] = (_mortises, _end_tongues, _frame_groove)
